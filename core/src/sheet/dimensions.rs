//! Dimensions along walls, fences and taped lines across the yard. Only what was read is written, in the
//! words it was read in: a dimension is never worked out from the drawing.

use super::furniture::TEXT;
use super::geometry::{Frame, Spot, clockwise};
use super::labels::{Board, Candidate, Group, Kind, Pose, Slab, Thin, Words, along_box, write_along};
use super::pen::{Face, PALE, Pen};
use super::picture::Picture;
use super::symbols::upright;
use super::text::width;
use super::view::View;
use crate::levels::written_in;
use crate::plan::{Outline, Plan, Shape, Taped, What};
use crate::record::UnitSystem;
use crate::units::{PlanPoint, float, format_length};

/// Distances of a dimension line from the wall that are tried, mm outwards: at worst within the house.
const OFFS: [f64; 10] = [5.5, 8.5, 11.5, 14.5, 18.0, 22.0, -5.5, -8.5, -12.0, -16.0];
/// What leaving a dimension, or the reading of a tie, out costs.
const WORTH: f64 = 50.0;
const TIE: f64 = 12.0;
/// What standing within the house costs, and beyond a tick, and aside on a leader.
const WITHIN: f64 = 12.0;
const BEYOND: f64 = 2.0;
const ASIDE: f64 = 4.0;
/// At so many of the distances other words may break the lines from the wall, and what that costs: nearly as much as a
/// leader of theirs.
const BROKEN: usize = 4;
/// At the others so many places along the line are tried.
const FEWER: usize = 5;
/// A line has so many.
const TICKS: usize = 2;
const BREAKS: f64 = 8.0;
/// So many of the distances are tried with words aside.
const ASIDES: usize = 3;
/// How far a dimension line ends from the edge of its part of the plan, mm: its break must not lie on the match line.
const SHORT_OF: f64 = 2.5;

/// How much of a length a sheet has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Span {
    Whole,
    /// Another sheet has it whole, or more of it.
    Elsewhere,
    /// Only its first end, in this part of the plan; the other is on another sheet.
    Cut(Frame, usize),
}

/// A wall with the reading taken along the whole of it.
struct Wall {
    a: Spot,
    b: Spot,
    text: String,
    /// Outwards.
    out: (f64, f64),
    /// Where its line is broken off.
    cut: Option<Frame>,
}

/// What is dimensioned when it was taped from end to end.
const DIMENSIONED: [&str; 6] = ["house", "outbuilding", "fence", "wall", "hedge", "lot_line"];

/// An edge that was taped whole.
struct Side<'a> {
    ends: (PlanPoint, PlanPoint),
    /// The first reading of it.
    taped: &'a Taped,
    /// The outline it belongs to; none where it is a part of a line, which has no inside.
    of: Option<&'a [PlanPoint]>,
}

/// Every edge of what is dimensioned that was taped whole, once: of buildings, then of fences and lines.
fn sides(plan: &Plan) -> Vec<Side<'_>> {
    let mut all: Vec<Side<'_>> = Vec::new();
    for closed in [true, false] {
        let kept = |shape: &&Shape| match &shape.what {
            What::Feature(kind) => DIMENSIONED.contains(&kind.as_str()),
            _ => false,
        };
        for shape in plan.shapes.iter().filter(kept) {
            let (places, of) = match &shape.outline {
                Outline::Area(places) if closed => (places, Some(places.as_slice())),
                Outline::Line(places) if !closed => (places, None),
                _ => continue,
            };
            let next = places.iter().copied().cycle().skip(1);
            let edges = if closed { places.len() } else { places.len().saturating_sub(1) };
            for ends @ (a, b) in places.iter().copied().zip(next).take(edges) {
                let whole = |from: PlanPoint, to: PlanPoint| (from, to) == (a, b) || (from, to) == (b, a);
                let taped = plan.taped.iter().find(|taped| whole(taped.from_at, taped.to_at));
                let new = all.iter().all(|side| !whole(side.ends.0, side.ends.1));
                all.extend(taped.filter(|_| new).map(|taped| Side { ends, taped, of }));
            }
        }
    }
    all
}

/// Whether the sheet will carry any dimension.
pub(super) fn any(plan: &Plan) -> bool {
    !sides(plan).is_empty()
}

/// A reading as it was written, unless that says units other than the sheet's: then its length in these, so that
/// nobody mixes them up.
fn words(taped: &Taped, units: UnitSystem) -> String {
    let others = written_in(&taped.text)
        .is_some_and(|own| (own == UnitSystem::Metres) != (units == UnitSystem::Metres));
    if others { format_length(taped.length, units.into()) } else { taped.text.clone() }
}

/// Whether any dimension is broken off where its sheet ends.
pub(super) fn any_broken(plan: &Plan, span: &dyn Fn(PlanPoint, PlanPoint) -> Span) -> bool {
    let cut = |(a, b)| matches!(span(a, b), Span::Cut(..));
    sides(plan).iter().any(|Side { ends: (a, b), .. }| cut((*a, *b)) || cut((*b, *a)))
}

/// Whether any reading drawn is given in units other than it was written in.
pub(super) fn any_other_units(plan: &Plan, units: UnitSystem) -> bool {
    plan.taped.iter().any(|taped| words(taped, units) != taped.text)
}

/// Takes in the dimensions outside the walls of buildings, and beside fences and lines on the side where less of the plan
/// is; `span` says how much of a length is on the sheet.
pub(super) fn walls(
    board: &mut Board<'_>,
    (plan, view): (&Plan, &View),
    units: UnitSystem,
    span: &dyn Fn(PlanPoint, PlanPoint) -> Span,
) {
    let points: Vec<Spot> = plan.points.iter().map(|point| view.place(point.at)).collect();
    for Side { ends: (start, end), taped, of } in sides(plan) {
        let (a, b) = (view.place(start), view.place(end));
        let Some((ux, uy, _)) = a.direction(b).filter(|(.., length)| *length >= 3.0) else { continue };
        let left = match of {
            // Walking a clockwise outline on the sheet, outside is to the left.
            Some(outline) => clockwise(&outline.iter().map(|at| view.place(*at)).collect::<Vec<_>>()),
            None => {
                let lie = |at: &&Spot| (at.x - a.x) * uy - (at.y - a.y) * ux > 0.1;
                2 * points.iter().filter(lie).count() < points.len()
            }
        };
        let way = if left { 1.0 } else { -1.0 };
        let whole = words(taped, units);
        let out = (uy * way, -ux * way);
        // A length in two parts has an end in each.
        for (from, to, first) in [(start, end, true), (end, start, false)] {
            let (text, cut) = match span(from, to) {
                Span::Whole if first => (whole.clone(), None),
                Span::Cut(part, sheet) => {
                    let label = plan.points.iter().find(|p| p.at == to).map_or("", |p| p.label.as_str());
                    (say!("{whole} to {label}, sheet {sheet}"), Some(part.grown(-SHORT_OF)))
                }
                Span::Whole | Span::Elsewhere => continue,
            };
            let wall = Wall { a: view.place(from), b: view.place(to), text, out, cut };
            let name = wall.text.clone();
            let about = (Group::Dimensions, Kind::Dimension, name.as_str(), WORTH);
            board.add(about, (candidates(&wall), None), move |picture, pose| draw(picture, &wall, pose));
        }
    }
}

/// The lines of a dimension at one distance from its wall.
struct Strokes {
    from: Spot,
    /// Its other end, or where it is broken off.
    to: Spot,
    /// From the wall to it.
    extensions: Vec<(Spot, Spot)>,
}

impl Strokes {
    /// None where nothing of the line is on the sheet.
    fn of(wall: &Wall, off: f64) -> Option<Self> {
        let ((ox, oy), way) = (wall.out, off.signum());
        let end = |at: Spot| at.plus(ox * off, oy * off);
        let (from, mut to) = (end(wall.a), end(wall.b));
        if let Some(part) = &wall.cut {
            let (start, stop) = part.clipped(from, to)?;
            if start.distance(from) > 0.01 {
                return None;
            }
            to = stop;
        }
        let ends = if wall.cut.is_some() { vec![wall.a] } else { vec![wall.a, wall.b] };
        let extension = |at: Spot| {
            let over = end(at).plus(ox * 1.2 * way, oy * 1.2 * way);
            (at.plus(ox * 1.6 * way, oy * 1.6 * way), over)
        };
        Some(Self { from, to, extensions: ends.into_iter().map(extension).collect() })
    }

    /// The lines that no words stand on: its own, as far as it is drawn, its ticks, and those from the wall to it.
    fn work(&self, (start, end): (Spot, Spot)) -> Vec<(Spot, Spot, Thin)> {
        let ticks: [_; TICKS] = [self.from, self.to].map(|end| self.tick(end).unwrap_or((end, end)));
        let beside =
            ticks.into_iter().chain(self.extensions.iter().copied()).map(|(a, b)| (a, b, Thin::Side));
        std::iter::once((start, end, Thin::Work)).chain(beside).collect()
    }

    /// The oblique stroke of architectural drawings at an end.
    fn tick(&self, end: Spot) -> Option<(Spot, Spot)> {
        let (ux, uy, _) = self.from.direction(self.to)?;
        let (x, y) = ((ux - uy) * 0.7, (uy + ux) * 0.7);
        Some((end.plus(-x, -y), end.plus(x, y)))
    }

    /// The dimension line: where the words stand beyond an end, it runs on below them.
    fn line(&self, middle: Spot, long: f64) -> (Spot, Spot) {
        let Some((ux, uy, length)) = self.from.direction(self.to) else { return (self.from, self.to) };
        let at = (middle.x - self.from.x) * ux + (middle.y - self.from.y) * uy;
        let (start, end) = ((at - long / 2.0).min(0.0), (at + long / 2.0).max(length));
        (self.from.plus(ux * start, uy * start), self.from.plus(ux * end, uy * end))
    }
}

/// Where the words of a wall's dimension may stand: above lines at several distances from the wall. Where they are
/// longer than the line they stand right beyond a tick, or aside on a leader from the line's middle, as ISO 129-1 has
/// it (from memory); aside also where others take all room above it.
fn candidates(wall: &Wall) -> Vec<Candidate> {
    let mut all = Vec::new();
    let long = width(&wall.text, TEXT, false);
    for (variant, off) in OFFS.into_iter().enumerate() {
        let Some(strokes) = Strokes::of(wall, off) else { continue };
        let Some((ux, uy, length)) = strokes.from.direction(strokes.to) else { continue };
        let base = (off.abs() - 5.5) * 0.8 + if off < 0.0 { WITHIN } else { 0.0 };
        // Above the line as the words are read.
        let (_, flip) = upright(ux, uy);
        let lift = (TEXT * 0.5 + 0.45) * flip;
        // Far from the wall there is mostly room.
        let tried = if variant < BROKEN { usize::MAX } else { FEWER };
        for (share, cost) in shares(long, length, wall.cut.is_some()).into_iter().take(tried) {
            let middle = strokes.from.toward(strokes.to, share).plus(uy * lift, -ux * lift);
            let slab = along_box(middle, (ux, uy), &wall.text, Face::of(TEXT));
            let candidate = Candidate::words(slab, base + cost);
            let (start, end) = strokes.line(middle, long);
            let thin = strokes.work((start, end));
            let whole = Candidate { thin, pose: Pose { variant, ..candidate.pose }, ..candidate };
            // Where all room is taken other words may break the lines from the wall.
            if variant < BROKEN && !(0.25..BEYOND).contains(&cost) {
                let thin = whole.thin.iter().copied().take(1 + TICKS).collect();
                all.push(Candidate { thin, cost: whole.cost + BREAKS, ..whole.clone() });
            }
            all.push(whole);
        }
        // Where the words fit, one distance tells whether there is room aside.
        if variant >= if long < length - 1.0 { 1 } else { ASIDES } {
            continue;
        }
        let cost = base + if long < length - 1.0 { ASIDE * 2.0 } else { ASIDE };
        all.extend(aside(&strokes, (long / 2.0 + 0.2, TEXT * 0.5), cost).map(|candidate| {
            let mut thin = candidate.thin;
            thin.extend(strokes.work((strokes.from, strokes.to)));
            Candidate { thin, pose: Pose { variant, ..candidate.pose }, ..candidate }
        }));
    }
    all
}

/// Where along a line of some length words so long may stand, in shares of it, and what that costs.
fn shares(long: f64, length: f64, cut: bool) -> Vec<(f64, f64)> {
    let middles = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82];
    if long < length - 1.0 {
        let edge = (long / 2.0 + 0.5) / length;
        let clear = middles.map(|share: f64| share.clamp(edge, 1.0 - edge));
        clear.map(|share| (share, (share - 0.5).abs() * 2.0)).to_vec()
    } else {
        // Clear of the tick's oblique stroke.
        let beyond = (long / 2.0 + 1.1) / length;
        let before = (-beyond, BEYOND);
        // Beyond a break there is nothing.
        if cut { vec![before] } else { vec![before, (1.0 + beyond, BEYOND)] }
    }
}

/// Words as wide as `half` says on a short leader from the middle of a dimension line.
fn aside(strokes: &Strokes, half: (f64, f64), cost: f64) -> impl Iterator<Item = Candidate> {
    let from = strokes.from.toward(strokes.to, 0.5);
    [3.0, 6.0].into_iter().flat_map(move |away| {
        (0..8_u32).map(move |n| {
            let angle = std::f64::consts::TAU * f64::from(n) / 8.0;
            let (x, y) = (float::cos(angle), float::sin(angle));
            let slab = Slab::upright(from.plus(x * (away + half.0), y * (away + half.1)), half.0, half.1);
            let to = slab.nearest(from);
            Candidate::words(slab, cost + from.distance(to) * 0.5).with_leader(from, to)
        })
    })
}

fn draw(picture: &mut Picture, wall: &Wall, pose: &Pose) {
    let off = OFFS.get(pose.variant).copied().unwrap_or_default();
    let Some(strokes) = Strokes::of(wall, off) else { return };
    let Some((ux, uy, _)) = strokes.from.direction(strokes.to) else { return };
    let thin = Pen::line(0.18);
    picture.lines(&strokes.extensions, thin);
    let (start, end) = match pose.leader {
        Some(_) => (strokes.from, strokes.to),
        None => strokes.line(pose.middle, width(&wall.text, TEXT, false)),
    };
    picture.line(start, end, thin);
    let tick = |end: Spot| strokes.tick(end).into_iter().collect::<Vec<_>>();
    picture.lines(&tick(strokes.from), Pen::line(0.35));
    if wall.cut.is_some() {
        end_break(picture, strokes.to, (ux, uy));
    } else {
        picture.lines(&tick(strokes.to), Pen::line(0.35));
    }
    write_along(picture, pose.middle, pose.along, &wall.text, Face::of(TEXT));
}

/// A break line with its zigzag, at the end of a line with some direction.
pub(super) fn end_break(picture: &mut Picture, end: Spot, (ux, uy): (f64, f64)) {
    let place = |l: f64, s: f64| end.plus(ux * l - uy * s, uy * l + ux * s);
    let zigzag = [(0.0, -2.0), (0.0, -0.6), (0.8, -0.3), (-0.8, 0.3), (0.0, 0.6), (0.0, 2.0)];
    picture.polyline(&zigzag.map(|(l, s)| place(l, s)), false, Pen::line(0.18));
}

/// Draws every taped tie as a thin line with its reading, where the reading finds room, unless it is `dimensioned`.
pub(super) fn ties(
    picture: &mut Picture,
    board: &mut Board<'_>,
    (plan, view): (&Plan, &View),
    units: UnitSystem,
    dimensioned: bool,
) {
    let sides = if dimensioned { sides(plan) } else { Vec::new() };
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
        if sides.iter().any(|side| std::ptr::eq(side.taped, taped)) {
            continue;
        }
        let line = Words { text: words(taped, units), face: Face::of(TEXT) };
        board.along((Group::Ties, Kind::Tie, TIE), &[(a, b)], line, (&[0.0], false));
    }
}
