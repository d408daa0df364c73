//! Dimensions along walls and taped lines across the yard. Only what was read is written, in the
//! words it was read in: a dimension is never worked out from the drawing.

use super::furniture::TEXT;
use super::geometry::{Spot, clockwise};
use super::labels::{Board, Candidate, Far, Group, Kind, Owner, Pose, Thin, Words, along_box, write_along};
use super::pen::{Face, PALE, Pen};
use super::picture::Picture;
use super::symbols::upright;
use super::text::width;
use super::view::View;
use crate::levels::written_in;
use crate::plan::{Outline, Plan, Shape, Taped, What};
use crate::record::UnitSystem;
use crate::units::{PlanPoint, format_length};

/// Distances of a dimension line from the wall that are tried, mm outwards: at worst within the house;
/// where even that has no room, the words go on a leader.
const OFFS: [f64; 10] = [5.5, 8.5, 11.5, 14.5, 18.0, 22.0, -5.5, -8.5, -12.0, -16.0];
/// What leaving a dimension, or the reading of a tie, out costs.
const WORTH: f64 = 50.0;
const TIE: f64 = 12.0;

/// A wall with the reading taken along the whole of it.
struct Wall {
    a: Spot,
    b: Spot,
    text: String,
    /// Outwards.
    out: (f64, f64),
}

fn building(shape: &Shape) -> Option<&[PlanPoint]> {
    match (&shape.what, &shape.outline) {
        (What::Feature(kind), Outline::Area(places)) if matches!(kind.as_str(), "house" | "outbuilding") => {
            Some(places)
        }
        _ => None,
    }
}

/// Whether the sheet will carry any dimension.
pub(super) fn any(plan: &Plan) -> bool {
    plan.shapes.iter().filter_map(building).any(|outline| !edges(outline, plan).is_empty())
}

/// The edges of an outline that were taped whole, with the first reading of each.
fn edges<'a>(outline: &[PlanPoint], plan: &'a Plan) -> Vec<(PlanPoint, PlanPoint, &'a Taped)> {
    let ends = outline.iter().copied().zip(outline.iter().copied().cycle().skip(1));
    ends.filter_map(|(a, b)| {
        let whole = |t: &&Taped| (t.from_at, t.to_at) == (a, b) || (t.from_at, t.to_at) == (b, a);
        plan.taped.iter().find(whole).map(|taped| (a, b, taped))
    })
    .collect()
}

/// A reading as it was written, unless that says units other than the sheet's: then its length in these, so that
/// nobody mixes them up.
fn words(taped: &Taped, units: UnitSystem) -> String {
    let others = written_in(&taped.text)
        .is_some_and(|own| (own == UnitSystem::Metres) != (units == UnitSystem::Metres));
    if others { format_length(taped.length, units.into()) } else { taped.text.clone() }
}

/// Whether any reading drawn is given in units other than it was written in.
pub(super) fn any_other_units(plan: &Plan, units: UnitSystem) -> bool {
    plan.taped.iter().any(|taped| words(taped, units) != taped.text)
}

/// Takes in the dimensions outside the walls of buildings.
pub(super) fn walls(board: &mut Board<'_>, plan: &Plan, view: &View, units: UnitSystem) {
    for outline in plan.shapes.iter().filter_map(building) {
        let on_sheet: Vec<Spot> = outline.iter().map(|at| view.place(*at)).collect();
        let way = if clockwise(&on_sheet) { 1.0 } else { -1.0 };
        for (a, b, taped) in edges(outline, plan) {
            let (a, b) = (view.place(a), view.place(b));
            if let Some((ux, uy, _)) = a.direction(b).filter(|(.., length)| *length >= 3.0) {
                // Walking a clockwise outline on the sheet, outside is to the left.
                let wall = Wall { a, b, text: words(taped, units), out: (uy * way, -ux * way) };
                let half = (width(&wall.text, TEXT, false) / 2.0 + 0.2, TEXT * 0.5);
                // A leader does not show from where to where: the last resort.
                let own = Owner::bare(a.toward(b, 0.5));
                let far = Far { own, half: vec![half], cost: 20.0 };
                let all = candidates(&wall);
                let name = wall.text.clone();
                let about = (Group::Dimensions, Kind::Dimension, name.as_str(), WORTH);
                board.add(about, (all, Some(far)), move |picture, pose| draw(picture, &wall, pose));
            }
        }
    }
}

/// The lines of a dimension whose words stand at `middle`.
struct Strokes {
    from: Spot,
    to: Spot,
    /// The dimension line itself: where the words stand beyond an end, it runs on below them.
    line: (Spot, Spot),
    /// From the wall to it.
    extensions: [(Spot, Spot); 2],
}

impl Strokes {
    fn of(wall: &Wall, off: f64, middle: Spot) -> Option<Self> {
        let ((ox, oy), way) = (wall.out, off.signum());
        let from = wall.a.plus(ox * off, oy * off);
        let to = wall.b.plus(ox * off, oy * off);
        let (ux, uy, length) = from.direction(to)?;
        let half = width(&wall.text, TEXT, false) / 2.0;
        let at = (middle.x - from.x) * ux + (middle.y - from.y) * uy;
        let (start, end) = ((at - half).min(0.0), (at + half).max(length));
        Some(Self {
            from,
            to,
            line: (from.plus(ux * start, uy * start), from.plus(ux * end, uy * end)),
            extensions: [(wall.a, from), (wall.b, to)].map(|(wall, end)| {
                (wall.plus(ox * 1.6 * way, oy * 1.6 * way), end.plus(ox * 1.2 * way, oy * 1.2 * way))
            }),
        })
    }
}

/// Where the words of a wall's dimension may stand: above lines at several distances from the wall, and
/// beyond their ends where the wall is short.
fn candidates(wall: &Wall) -> Vec<Candidate> {
    let mut all = Vec::new();
    let (ox, oy) = wall.out;
    for (variant, off) in OFFS.into_iter().enumerate() {
        let (from, to) = (wall.a.plus(ox * off, oy * off), wall.b.plus(ox * off, oy * off));
        let Some((ux, uy, length)) = from.direction(to) else { continue };
        // Above the line as the words are read.
        let (_, flip) = upright(ux, uy);
        let lift = (TEXT * 0.5 + 0.45) * flip;
        let long = width(&wall.text, TEXT, false);
        let beyond = (long / 2.0 + 1.5) / length;
        let mut shares = vec![1.0 + beyond, -beyond];
        if long < length - 1.0 {
            let edge = (long / 2.0 + 0.5) / length;
            shares.extend(
                [0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.24, 0.76, 0.18, 0.82]
                    .map(|share: f64| share.clamp(edge, 1.0 - edge)),
            );
        }
        for share in shares {
            let middle = from.toward(to, share).plus(uy * lift, -ux * lift);
            let Some(strokes) = Strokes::of(wall, off, middle) else { continue };
            let outside = if (0.0..=1.0).contains(&share) { 0.0 } else { 2.0 };
            let within = if off < 0.0 { 7.0 } else { 0.0 };
            let cost = (off.abs() - 5.5) * 0.8 + within + (share - 0.5).abs() * 2.0 + outside;
            let candidate = Candidate::plain(along_box(middle, (ux, uy), &wall.text, Face::of(TEXT)), cost);
            // Words may stand over the thin lines from the wall to it, on their white ground, not over it.
            let mut thin = vec![(strokes.line.0, strokes.line.1, Thin::Work)];
            // A word right before or behind would be read as one with it.
            for way in [1.0, -1.0] {
                let (near, far) = (long / 2.0 * way, (long / 2.0 + TEXT) * way);
                let end = |by: f64| middle.plus(ux * by, uy * by);
                thin.push((end(near), end(far), Thin::Work));
            }
            all.push(Candidate { thin, pose: Pose { variant, ..candidate.pose }, ..candidate });
        }
    }
    all
}

fn draw(picture: &mut Picture, wall: &Wall, pose: &Pose) {
    if pose.leader.is_some() {
        write_along(picture, pose.middle, pose.along, &wall.text, Face::of(TEXT));
        return;
    }
    let off = OFFS.get(pose.variant).copied().unwrap_or_default();
    let Some(strokes) = Strokes::of(wall, off, pose.middle) else { return };
    let thin = Pen::line(0.18);
    let (ux, uy) = pose.along;
    picture.lines(&strokes.extensions, thin);
    picture.line(strokes.line.0, strokes.line.1, thin);
    // The oblique strokes of architectural drawings.
    let (x, y) = ((ux - uy) * 0.7, (uy + ux) * 0.7);
    for end in [strokes.from, strokes.to] {
        picture.line(end.plus(-x, -y), end.plus(x, y), Pen::line(0.35));
    }
    write_along(picture, pose.middle, pose.along, &wall.text, Face::of(TEXT));
}

/// Draws every taped tie as a thin line with its reading, where the reading finds room.
pub(super) fn ties(
    picture: &mut Picture,
    board: &mut Board<'_>,
    plan: &Plan,
    view: &View,
    units: UnitSystem,
) {
    for taped in plan.taped.iter().filter(|t| !t.along && t.from_at.is_finite() && t.to_at.is_finite()) {
        let (a, b) = (view.place(taped.from_at), view.place(taped.to_at));
        let Some((ux, uy, _)) = a.direction(b) else { continue };
        picture.line(a, b, Pen::line(0.13).coloured(PALE));
        for (end, way) in [(a, 1.0), (b, -1.0)] {
            let tip = end.plus(ux * way * 1.0, uy * way * 1.0);
            let wing = |s: f64| tip.plus(ux * way * 1.6 - uy * s, uy * way * 1.6 + ux * s);
            picture.polyline(&[wing(0.4), tip, wing(-0.4)], false, Pen::line(0.13).coloured(PALE));
        }
        board.avoid(&[a, b], false, 0.15);
        let line = Words { text: words(taped, units), face: Face::of(TEXT) };
        board.along((Group::Ties, Kind::Tie, TIE), &[(a, b)], line, (&[0.0], false));
    }
}
