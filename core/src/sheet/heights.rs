//! Heights on the plan: spot heights, contours, falls, and where water stands.
//!
//! General drafting practice: contours are thin lines, every fifth heavier and with its figure. Here they are
//! solid, since dashes tell of doubt on this sheet: dashed and grey is what lies far from readings; a spot height is a cross with its figure beside, underlined where it is not the ground's; arrows
//! point downhill. All of it in one dark brown, which prints as a dark grey.

use super::contours::Contours;
use super::drawing::{Item, Scene};
use super::fittings::fitting;
use super::furniture::TEXT;
use super::geometry::{Frame, Spot, along};
use super::labels::{
    Beside, Board, Candidate, Group, Kind, Owner, Pose, Slab, Words, along_box, tied, write_along,
};
use super::pen::{Colour, Dash, Face, PALE, Pen};
use super::picture::Picture;
use super::symbols::upright;
use super::text::width;
use crate::levels::LowPoint;
use crate::plan::{Fall, Ground, What};
use crate::record::{Stood, UnitSystem};
use crate::units::{Length, LengthStyle, PlanPoint, format_length};

/// Contrast on white 9.6 : 1.
pub(super) const EARTH: Colour = Colour(0x5c_3d_1e);
/// What leaving these out costs.
const SPOT: f64 = 60.0;
const LOW: f64 = 80.0;
const CONTOUR: f64 = 40.0;
const FALL: f64 = 7.0;
/// Half the length of an arrow of fall, mm.
const ARROW: f64 = 4.2;

/// A height in figures, without its unit: `99.42`.
pub(super) fn figure(height: Length, units: UnitSystem, decimals: usize) -> String {
    let value = if units == UnitSystem::Metres { height.metres() } else { height.feet() };
    format!("{value:.decimals$}")
}

/// Decimals that an interval needs.
pub(super) fn decimals(interval: Length, units: UnitSystem) -> usize {
    let unit = if units == UnitSystem::Metres { 1.0 } else { Length::from_feet(1.0).metres() };
    match interval.metres() / unit {
        step if step > 0.99 => 0,
        step if step > 0.099 => 1,
        _ => 2,
    }
}

// ---- contours --------------------------------------------------------------------------------------

/// A contour's pen. Far from readings it is told by shape as well as by colour, since prints go grey.
pub(super) fn contour_pen(index: bool, far: bool) -> Pen {
    let width = if index { 0.35 } else { 0.18 };
    if far {
        Pen::line(width * 0.7).dashed(Dash::Far).coloured(PALE)
    } else {
        Pen::line(width).coloured(EARTH)
    }
}

/// Draws the contours and takes in their figures.
pub(super) fn contours<'a>(
    picture: &mut Picture,
    board: &mut Board<'a>,
    scene: &Scene<'a>,
    (ground, contours): (&Ground, &Contours),
) {
    let (Ok(surface), Some(interval)) = (&ground.surface, ground.interval) else { return };
    let decimals = decimals(interval, scene.units);
    // With few lines every one has its figure.
    let mut heavy: Vec<Length> = contours.lines.iter().filter(|l| l.index).map(|l| l.height).collect();
    heavy.dedup();
    for line in &contours.lines {
        let places: Vec<Spot> = line.places.iter().map(|at| scene.view.place(*at)).collect();
        for (run, far) in surface.near_and_far(&line.places) {
            let places: Vec<Spot> = run.iter().map(|at| scene.view.place(*at)).collect();
            picture.polyline(&places, false, contour_pen(line.index, far));
        }
        board.avoid(&places, false, 0.7);
        if line.index || heavy.len() < 2 {
            // None in a house, under which no ground is known.
            figures(board, scene, line.index, (&places, figure(line.height, scene.units, decimals)));
        }
    }
}

/// Whether any contour runs far from readings.
pub(super) fn any_far(ground: &Ground, contours: &Contours) -> bool {
    let Ok(surface) = &ground.surface else { return false };
    contours.lines.iter().any(|line| surface.near_and_far(&line.places).iter().any(|(_, far)| *far))
}

/// Figures in a contour, one for each 150 mm of it, where it is straightest and freest.
fn figures(board: &mut Board<'_>, scene: &Scene<'_>, index: bool, (places, words): (&[Spot], String)) {
    let face = Face::of(TEXT).coloured(EARTH);
    let long = width(&words, TEXT, false) + 1.0;
    let spots = along(places, false, 2.0);
    // A line hardly longer than its figure would be hidden by it.
    if spots.len() < 12 {
        return;
    }
    for part in spots.chunks(76) {
        let open = part.iter().filter(|(at, ..)| !scene.in_building(*at));
        let candidates: Vec<Candidate> = open
            .map(|(at, ux, uy)| {
                let slab = along_box(*at, (*ux, *uy), &words, face);
                let covered: f64 = places
                    .windows(2)
                    .map(|leg| match leg {
                        [a, b] => slab.covered(*a, *b),
                        _ => 0.0,
                    })
                    .sum();
                Candidate::plain(slab, (long - covered).abs() * 1.5)
            })
            .collect();
        if candidates.is_empty() {
            continue;
        }
        let about =
            (Group::Contours, Kind::Contour, words.as_str(), if index { CONTOUR } else { CONTOUR / 2.0 });
        let words = words.clone();
        board.add(about, (candidates, None), move |picture, pose| {
            write_along(picture, pose.middle, pose.along, &words, face);
        });
    }
}

// ---- spot heights ----------------------------------------------------------------------------------

/// How much a height of the ground at a wall belongs on the side where the ground is, in costs of places.
const OUTDOORS: f64 = 5.0;

/// Half the side of a spot height's cross, mm.
pub(super) const CROSS: f64 = 1.3;

/// The cross of a spot height around a point's mark.
pub(super) fn cross(picture: &mut Picture, at: Spot) {
    let corners = [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
    let strokes = corners.map(|(x, y)| (at.plus(x * 0.55, y * 0.55), at.plus(x * CROSS, y * CROSS)));
    picture.lines(&strokes, Pen::line(0.25).coloured(EARTH));
}

pub(super) fn height_face(spot: Stood) -> Face {
    let face = Face::of(TEXT).coloured(EARTH);
    if spot == Stood::Above { face.underlined() } else { face }
}

/// Draws the crosses of the spot heights and takes in their figures.
pub(super) fn spots<'a>(picture: &mut Picture, board: &mut Board<'a>, scene: &Scene<'a>, ground: &Ground) {
    for spot in &ground.spots {
        cross(picture, scene.view.place(spot.at));
        let line = Words { text: figure(spot.height, scene.units, 2), face: height_face(spot.stood) };
        // Ground is out of doors, a floor within.
        let favour = match (scene.outward(spot.at), spot.stood) {
            (Some((ux, uy)), Stood::Ground) => (OUTDOORS * ux, OUTDOORS * uy),
            (Some((ux, uy)), Stood::Above) => (-ux, -uy),
            (None, _) => (0.7, 0.5),
        };
        let beside = Beside { own: scene.owner(spot.at), favour };
        board.label((Group::Heights, Kind::Height, SPOT), beside, vec![vec![line]]);
    }
}

// ---- falls and low points --------------------------------------------------------------------------

/// Takes in where water stands, what is said of it, and the arrows of fall.
pub(super) fn falls<'a>(board: &mut Board<'a>, scene: &Scene<'a>, ground: &Ground) {
    for low in &ground.low {
        let (at, over) = (scene.view.place(low.at), scene.view.place(low.over));
        // Where somebody recorded a low point its sign stands already.
        let recorded =
            |item: &Item<'_>| matches!(&item.shape.what, What::Feature(kind) if kind == "low_point");
        if !scene.items_at(low.at).any(recorded) {
            sink(board, scene.owner(low.at));
        }
        if let Some((ux, uy, _)) = at.direction(over).filter(|(.., length)| *length > 4.0) {
            way_out(board, over, (ux, uy));
        }
        let words = water(low, ground, scene.units);
        let face = Face::of(TEXT).coloured(EARTH).bold();
        let wraps = [27.0, 34.0, 46.0, 70.0].map(|room| Words::wrapped(&words, face, room, 6)).to_vec();
        let beside = Beside { own: scene.owner(low.at), favour: (-0.7, 0.7) };
        board.label((Group::Falls, Kind::Height, LOW), beside, wraps);
    }
    for fall in &ground.falls {
        arrow(board, scene, fall);
    }
}

/// How deep water could stand, no surer than the readings it is worked out from.
fn water(low: &LowPoint, ground: &Ground, units: UnitSystem) -> String {
    let style = match LengthStyle::from(units) {
        LengthStyle::FeetInches { .. } => LengthStyle::FeetInches { finest: 2 },
        other => other,
    };
    let edge = ground.surface.as_ref().is_ok_and(|surface| surface.on_rim(low.over));
    say!(
        "Up to {} of water could stand (from these readings); runs over at {}{}",
        format_length(low.depth(), style),
        figure(low.spills, units, 2),
        if edge { ", rim at the edge of what was read" } else { "" }
    )
}

/// The sign of a low point beside its place, whose own signs it would hide.
fn sink(board: &mut Board<'_>, own: Owner) {
    if board.shows(own.at) {
        let clear = own.sign.width().max(own.sign.height()) / 2.0 + 0.8;
        let candidates: Vec<_> = tied(own, 2.0, clear).collect();
        let about = (Group::Falls, Kind::Height, "low point", LOW);
        board.add(about, (candidates, None), |picture, pose| fitting(picture, "low_point", pose.middle));
    }
}

/// The arrow where a hollow runs over, beyond its place, where fences and points often stand.
fn way_out(board: &mut Board<'_>, over: Spot, (ux, uy): (f64, f64)) {
    let candidates = [3.4, 4.6, 6.0, 8.0, -3.4, -5.0].map(|by: f64| {
        let slab = Slab { centre: over.plus(ux * by, uy * by), along: (ux, uy), half: (1.9, 1.9) };
        Candidate::plain(slab, by.abs())
    });
    let about = (Group::Falls, Kind::Fall, "", LOW / 2.0);
    board.add(about, (candidates, None), move |picture, pose| spill(picture, pose.middle, (ux, uy)));
}

/// Where a hollow runs over: a short bar across the way out and a point beyond it.
pub(super) fn spill(picture: &mut Picture, at: Spot, (ux, uy): (f64, f64)) {
    let place = |l: f64, s: f64| at.plus(ux * l - uy * s, uy * l + ux * s);
    let pen = Pen::line(0.35).coloured(EARTH);
    picture.lines(&[(place(-1.3, -1.8), place(-1.3, 1.8))], pen);
    picture.polyline(&[place(-0.7, -1.4), place(1.8, 0.0), place(-0.7, 1.4)], true, pen.filled(EARTH));
}

fn percent(fall: &Fall) -> String {
    let steep = fall.slope.percent();
    if steep < 10.0 { format!("{steep:.1} %") } else { format!("{steep:.0} %") }
}

/// An arrow with its per cent, as one label: a shift of a few millimetres tells nothing wrong.
fn arrow<'a>(board: &mut Board<'a>, scene: &Scene<'a>, fall: &Fall) {
    let (at, (ux, uy)) = (scene.view.place(fall.at), scene.view.direction(fall.toward));
    if scene.in_building(at) {
        return;
    }
    let (_, flip) = upright(ux, uy);
    let words = percent(fall);
    let half = (ARROW.max(width(&words, TEXT, false) / 2.0) + 0.2, TEXT * 0.5 + 0.7);
    let rise = (TEXT * 0.5) * flip;
    let candidates = [(0.0, 0.0), (2.0, 0.0), (-2.0, 0.0), (0.0, 2.0), (0.0, -2.0), (4.0, 0.0), (-4.0, 0.0)]
        .map(|(l, s)| {
            let middle = at.plus(ux * l - uy * s, uy * l + ux * s);
            // Its box holds the arrow and the words above it.
            let slab = Slab { centre: middle.plus(uy * rise, -ux * rise), along: (ux, uy), half };
            let plain = Candidate::plain(slab, (l.abs() + s.abs()) * 0.3);
            Candidate { pose: Pose { middle, ..plain.pose }, ..plain }
        });
    let colour = if fall.far { PALE } else { EARTH };
    let about = (Group::Falls, Kind::Fall, "", FALL);
    board.add(about, (candidates, None), move |picture, pose| {
        let middle = pose.middle;
        fall_arrow(picture, middle, pose.along, colour);
        let lift = (TEXT * 0.5 + 0.6) * flip;
        write_along(
            picture,
            middle.plus(uy * lift, -ux * lift),
            pose.along,
            &words,
            Face::of(TEXT).coloured(colour),
        );
    });
}

/// An arrow downhill.
pub(super) fn fall_arrow(picture: &mut Picture, middle: Spot, (ux, uy): (f64, f64), colour: Colour) {
    let place = |l: f64, s: f64| middle.plus(ux * l - uy * s, uy * l + ux * s);
    let pen = Pen::line(0.25).coloured(colour);
    picture.line(place(-ARROW, 0.0), place(ARROW, 0.0), pen);
    picture.polyline(&[place(ARROW - 1.8, 0.6), place(ARROW, 0.0), place(ARROW - 1.8, -0.6)], false, pen);
}

/// The room of what stands on a place because of its height.
pub(super) fn room(ground: &Ground, at: PlanPoint, here: Spot) -> Option<Frame> {
    ground.spots.iter().any(|s| s.at == at).then(|| Frame::around(here, CROSS, CROSS))
}
