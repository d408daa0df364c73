//! Heights on the plan: spot heights, contours, falls, and where water stands.
//!
//! General drafting practice: what exists is contoured with dashed lines, every fifth heavier and with its
//! figure; a spot height is a cross with its figure beside, underlined where it is not the ground's; arrows
//! point downhill. All of it in one dark brown, which prints as a dark grey.

use super::drawing::Scene;
use super::fittings::fitting;
use super::furniture::{Subject, TEXT};
use super::geometry::{Frame, Spot, along};
use super::labels::{Beside, Board, Candidate, Group, Kind, Pose, Slab, Words, along_box, write_along};
use super::svg::{Dash, Face, PALE, Pen, Svg};
use super::symbols::upright;
use super::text::width;
use crate::levels::{Contour, LevelFinding, NoSurface};
use crate::plan::{Fall, Ground, SpotHeight};
use crate::record::{PointId, Record, Stood, UnitSystem};
use crate::units::{Length, LengthStyle, PlanPoint, format_length};

/// Contrast on white 9.6 : 1.
pub(super) const EARTH: &str = "#5c3d1e";
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
fn decimals(interval: Length, units: UnitSystem) -> usize {
    let unit = if units == UnitSystem::Metres { 1.0 } else { Length::from_feet(1.0).metres() };
    match interval.metres() / unit {
        step if step > 0.99 => 0,
        step if step > 0.099 => 1,
        _ => 2,
    }
}

// ---- contours --------------------------------------------------------------------------------------

pub(super) fn contour_pen(index: bool, far: bool) -> Pen {
    Pen::line(if index { 0.35 } else { 0.18 }).dashed(Dash::Contour).coloured(if far { PALE } else { EARTH })
}

/// Draws the contours and takes in their figures.
pub(super) fn contours<'a>(svg: &mut Svg, board: &mut Board<'a>, scene: &Scene<'a>, ground: &Ground) {
    let (Ok(surface), Some(interval)) = (&ground.surface, ground.interval) else { return };
    let far: Vec<[PlanPoint; 3]> = (0..surface.triangles.len())
        .filter(|t| surface.is_far(*t))
        .filter_map(|t| {
            let [a, b, c] = surface.triangles.get(t)?.map(|spot| surface.spots.get(spot).map(|s| s.at));
            Some([a?, b?, c?])
        })
        .collect();
    let decimals = decimals(interval, scene.units);
    // With few lines every one has its figure.
    let every = ground.contours.iter().filter(|c| c.index).count() < 2;
    for contour in &ground.contours {
        for line in &contour.lines {
            let places: Vec<Spot> = line.iter().map(|at| scene.view.place(*at)).collect();
            for (run, far) in runs(line, &far) {
                let places: Vec<Spot> = run.iter().map(|at| scene.view.place(*at)).collect();
                svg.polyline(&places, false, contour_pen(contour.index, far));
            }
            board.avoid(&places, false, 0.7);
            if contour.index || every {
                // None in a house, under which no ground is known.
                figures(board, scene, contour, (&places, figure(contour.height, scene.units, decimals)));
            }
        }
    }
}

/// A line in runs near to readings and far from them.
fn runs(line: &[PlanPoint], far: &[[PlanPoint; 3]]) -> Vec<(Vec<PlanPoint>, bool)> {
    let mut runs: Vec<(Vec<PlanPoint>, bool)> = Vec::new();
    for (a, b) in line.iter().zip(line.iter().skip(1)) {
        let ((ax, ay), (bx, by)) = (a.metres(), b.metres());
        let middle = PlanPoint::from_metres(f64::midpoint(ax, bx), f64::midpoint(ay, by));
        let guess = far.iter().any(|triangle| holds(triangle, middle));
        match runs.last_mut().filter(|(_, far)| *far == guess) {
            Some((run, _)) => run.push(*b),
            None => runs.push((vec![*a, *b], guess)),
        }
    }
    runs
}

/// Whether a triangle, counterclockwise, holds a place.
fn holds(&[a, b, c]: &[PlanPoint; 3], at: PlanPoint) -> bool {
    let left = |p: PlanPoint, q: PlanPoint| {
        let ((px, py), (qx, qy), (x, y)) = (p.metres(), q.metres(), at.metres());
        (qx - px) * (y - py) - (qy - py) * (x - px) >= 0.0
    };
    left(a, b) && left(b, c) && left(c, a)
}

/// Figures in a contour, one for each 150 mm of it, where it is straightest and freest.
fn figures(board: &mut Board<'_>, scene: &Scene<'_>, contour: &Contour, (places, words): (&[Spot], String)) {
    let face = Face::of(TEXT).coloured(EARTH);
    let long = width(&words, TEXT, false) + 1.0;
    let spots = along(places, false, 4.0);
    // A line hardly longer than its figure would be hidden by it.
    if spots.len() < 4 {
        return;
    }
    for part in spots.chunks(38) {
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
        let about = (
            Group::Contours,
            Kind::Contour,
            words.as_str(),
            if contour.index { CONTOUR } else { CONTOUR / 2.0 },
        );
        let words = words.clone();
        board.add(about, (candidates, None), move |svg, pose| {
            write_along(svg, pose.middle, pose.along, &words, face);
        });
    }
}

// ---- spot heights ----------------------------------------------------------------------------------

/// Half the side of a spot height's cross, mm.
pub(super) const CROSS: f64 = 1.3;

/// The cross of a spot height around a point's mark.
pub(super) fn cross(svg: &mut Svg, at: Spot) {
    let corners = [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
    let strokes = corners.map(|(x, y)| (at.plus(x * 0.55, y * 0.55), at.plus(x * CROSS, y * CROSS)));
    svg.lines(&strokes, Pen::line(0.25).coloured(EARTH));
}

pub(super) fn height_face(spot: Stood) -> Face {
    let face = Face::of(TEXT).coloured(EARTH);
    if spot == Stood::Above { face.underlined() } else { face }
}

/// Draws the crosses of the spot heights and takes in their figures.
pub(super) fn spots<'a>(svg: &mut Svg, board: &mut Board<'a>, scene: &Scene<'a>, ground: &Ground) {
    for spot in &ground.spots {
        cross(svg, scene.view.place(spot.at));
        let line = Words { text: figure(spot.height, scene.units, 2), face: height_face(spot.stood) };
        let beside = Beside { sign: scene.sign(spot.at), favour: (0.7, 0.5) };
        board.label((Group::Heights, Kind::Height, SPOT), beside, vec![vec![line]]);
    }
}

// ---- falls and low points --------------------------------------------------------------------------

/// Draws where water stands, takes in what it says there and the arrows of fall.
pub(super) fn falls<'a>(svg: &mut Svg, board: &mut Board<'a>, scene: &Scene<'a>, ground: &Ground) {
    let style = match LengthStyle::from(scene.units) {
        LengthStyle::FeetInches { .. } => LengthStyle::FeetInches { finest: 2 },
        other => other,
    };
    for low in &ground.low {
        let (at, over) = (scene.view.place(low.at), scene.view.place(low.over));
        fitting(svg, "low_point", at);
        if let Some((ux, uy, _)) = at.direction(over).filter(|(.., length)| *length > 4.0) {
            spill(svg, over, (ux, uy));
            board.take(Slab::upright(over, 1.4, 1.4));
        }
        let words = format!(
            "Water stands {} deep, runs over at {}",
            format_length(low.depth(), style),
            figure(low.spills, scene.units, 2)
        );
        let face = Face::of(TEXT).coloured(EARTH).bold();
        let wraps = [27.0, 34.0, 70.0].map(|room| Words::wrapped(&words, face, room, 3)).to_vec();
        let beside = Beside { sign: scene.sign(low.at), favour: (-0.7, 0.7) };
        board.label((Group::Falls, Kind::Height, LOW), beside, wraps);
    }
    for fall in &ground.falls {
        arrow(board, scene, fall);
    }
}

/// Where a hollow runs over: a short bar across the way out and a point beyond it.
pub(super) fn spill(svg: &mut Svg, at: Spot, (ux, uy): (f64, f64)) {
    let place = |l: f64, s: f64| at.plus(ux * l - uy * s, uy * l + ux * s);
    let pen = Pen::line(0.25).coloured(EARTH);
    svg.lines(&[(place(-0.6, -1.2), place(-0.6, 1.2))], pen);
    svg.polyline(&[place(0.0, -0.8), place(1.4, 0.0), place(0.0, 0.8)], true, pen.filled(EARTH));
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
    board.add(about, (candidates, None), move |svg, pose| {
        let middle = pose.middle;
        fall_arrow(svg, middle, pose.along, colour);
        let lift = (TEXT * 0.5 + 0.6) * flip;
        write_along(
            svg,
            middle.plus(uy * lift, -ux * lift),
            pose.along,
            &words,
            Face::of(TEXT).coloured(colour),
        );
    });
}

/// An arrow downhill.
pub(super) fn fall_arrow(svg: &mut Svg, middle: Spot, (ux, uy): (f64, f64), colour: &'static str) {
    let place = |l: f64, s: f64| middle.plus(ux * l - uy * s, uy * l + ux * s);
    let pen = Pen::line(0.25).coloured(colour);
    svg.line(place(-ARROW, 0.0), place(ARROW, 0.0), pen);
    svg.polyline(&[place(ARROW - 1.8, 0.6), place(ARROW, 0.0), place(ARROW - 1.8, -0.6)], false, pen);
}

// ---- words -----------------------------------------------------------------------------------------

/// What the notes say of the heights; nothing where none were read.
pub(super) fn sentences(subject: &Subject<'_>) -> Vec<String> {
    let (record, ground) = (subject.record, subject.ground);
    let (units, layers) = (record.site.units, &subject.options.layers);
    if ground.spots.is_empty() {
        return Vec::new();
    }
    let unit = if units == UnitSystem::Metres { "metres" } else { "feet and decimals" };
    let mut all = vec![format!("Heights in {unit}, {}.", datum(record, ground))];
    all.push(known(&ground.spots, units));
    if layers.contours {
        all.push(match (&ground.surface, ground.interval) {
            (Err(NoSurface::TooFew), _) => "No contours: they need the heights of three points on the ground.".to_owned(),
            (Err(NoSurface::InLine), _) => "No contours: all heights on the ground lie on one line.".to_owned(),
            (Ok(_), None) => "No contours: the ground is flat within the doubt of the readings.".to_owned(),
            (Ok(_), Some(interval)) => {
                let decimals = decimals(interval, units);
                let unit = if units == UnitSystem::Metres { "m" } else { "ft" };
                format!(
                    "Contours every {} {unit}, straight between readings and nowhere else; grey where the next reading is far.",
                    figure(interval, units, decimals)
                )
            }
        });
    }
    for finding in &ground.levels.findings {
        match finding {
            LevelFinding::Apart { points } => {
                let names: Vec<&str> = points.iter().map(|p| record.label(p)).collect();
                all.push(format!(
                    "Levelled, but joined to no known height and left out: {}.",
                    names.join(", ")
                ));
            }
            LevelFinding::Suspect { point, .. } => {
                all.push(format!(
                    "A rod reading on {} does not fit the others: read it again.",
                    record.label(point)
                ));
            }
            LevelFinding::DatumAssumed { .. } | LevelFinding::MixedUnits { .. } => {}
        }
    }
    all
}

/// `above H1, front door threshold, taken as 100.00 (assumed)`.
fn datum(record: &Record, ground: &Ground) -> String {
    let units = record.site.units;
    let assumed = ground.levels.findings.iter().find_map(|finding| match finding {
        LevelFinding::DatumAssumed { point } => Some(point),
        _ => None,
    });
    let named = |id: &PointId| {
        let note = record.points.iter().find(|p| p.id == *id).map_or("", |p| p.note.trim());
        let label = record.label(id);
        if note.is_empty() { label.to_owned() } else { format!("{label} ({note})") }
    };
    match (&record.bench_mark, assumed) {
        (_, Some(point)) => format!("{} taken as 100, since nobody stated a height", named(point)),
        (Some(mark), None) => {
            let source = mark.source.trim();
            let source = if source.is_empty() { "source not said" } else { source };
            format!("{} taken as {} ({source})", named(&mark.point), figure(mark.height, units, 2))
        }
        (None, None) => "datum not stated".to_owned(),
    }
}

/// How well the heights are known.
fn known(spots: &[SpotHeight], units: UnitSystem) -> String {
    let mut spreads: Vec<f64> = spots.iter().map(|s| s.sd.metres()).filter(|sd| sd.is_finite()).collect();
    spreads.sort_by(f64::total_cmp);
    let middle = spreads.get(spreads.len() / 2).copied().unwrap_or_default();
    let checked = spots.iter().filter(|s| s.checked).count();
    let spread = Length::from_metres(middle.max(Length::from_feet(0.01).metres()));
    format!(
        "{} heights, {checked} of them checked by a second reading; half of them good to ± {} or better (standard deviation).",
        spots.len(),
        figure(spread, units, 2)
    )
}

/// The room of what stands on a place because of its height.
pub(super) fn room(ground: &Ground, at: PlanPoint, here: Spot) -> Option<Frame> {
    if ground.low.iter().any(|low| low.at == at) {
        return Some(super::fittings::reach("low_point", here));
    }
    ground.spots.iter().any(|s| s.at == at).then(|| Frame::around(here, CROSS, CROSS))
}
