//! Dimensions along walls and taped lines across the yard. Only what was read is written, in the
//! words it was read in: a dimension is never worked out from the drawing.

use super::geometry::{Spot, clockwise};
use super::labels::Board;
use super::svg::{Face, INK, PALE, Pen, Svg};
use super::symbols::upright;
use super::text::width;
use super::view::View;
use crate::plan::{Outline, Plan, Shape, Taped, What};
use crate::units::PlanPoint;

/// Distances of a dimension line from the wall that are tried, mm.
const OFFS: [f64; 3] = [5.5, 8.5, 11.5];
const SIZE: f64 = 2.3;

/// A wall with the reading taken along the whole of it.
struct Wall<'a> {
    a: Spot,
    b: Spot,
    text: &'a str,
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

/// Draws the dimensions outside the walls of buildings.
pub(super) fn walls(svg: &mut Svg, board: &mut Board, plan: &Plan, view: &View) {
    for outline in plan.shapes.iter().filter_map(building) {
        let on_sheet: Vec<Spot> = outline.iter().map(|at| view.place(*at)).collect();
        let way = if clockwise(&on_sheet) { 1.0 } else { -1.0 };
        for (a, b, taped) in edges(outline, plan) {
            let (a, b) = (view.place(a), view.place(b));
            if let Some((ux, uy, _)) = a.direction(b) {
                // Walking a clockwise outline on the sheet, outside is to the left.
                let wall = Wall { a, b, text: &taped.text, out: (uy * way, -ux * way) };
                dimension(svg, board, &wall);
            }
        }
    }
}

fn dimension(svg: &mut Svg, board: &mut Board, wall: &Wall<'_>) {
    let best = OFFS
        .iter()
        .filter_map(|off| Some((*off, place(board, wall, *off)?)))
        .min_by(|a, b| (a.1.0 + a.0).total_cmp(&(b.1.0 + b.0)));
    let Some((off, (_, middle))) = best else { return };
    let (ox, oy) = wall.out;
    let from = wall.a.plus(ox * off, oy * off);
    let to = wall.b.plus(ox * off, oy * off);
    let Some((ux, uy, length)) = from.direction(to) else { return };
    let thin = Pen::line(0.18);
    for (wall_end, end) in [(wall.a, from), (wall.b, to)] {
        let extension = (wall_end.plus(ox * 1.6, oy * 1.6), end.plus(ox * 1.2, oy * 1.2));
        svg.line(extension.0, extension.1, thin);
        board.avoid(&[extension.0, extension.1], false);
        // The oblique stroke of architectural drawings.
        let (x, y) = ((ux - uy) * 0.7, (uy + ux) * 0.7);
        svg.line(end.plus(-x, -y), end.plus(x, y), Pen::line(0.35));
    }
    // Where the words stand beyond an end, the line runs on below them.
    let half = width(wall.text, SIZE, false) / 2.0;
    let at = (middle.x - from.x) * ux + (middle.y - from.y) * uy;
    let (start, end) = ((at - half).min(0.0), (at + half).max(length));
    let line = (from.plus(ux * start, uy * start), from.plus(ux * end, uy * end));
    svg.line(line.0, line.1, thin);
    board.avoid(&[line.0, line.1], false);
    board.write_along(svg, middle, (ux, uy), wall.text, Face::of(SIZE));
}

/// The best middle for the words of a dimension line this far from the wall, and its cost.
fn place(board: &Board, wall: &Wall<'_>, off: f64) -> Option<(f64, Spot)> {
    let (ox, oy) = wall.out;
    let (from, to) = (wall.a.plus(ox * off, oy * off), wall.b.plus(ox * off, oy * off));
    let (ux, uy, length) = from.direction(to)?;
    if length < 3.0 {
        return None;
    }
    // Above the line as the words are read.
    let (_, flip) = upright(ux, uy);
    let lift = (SIZE * 0.5 + 0.55) * flip;
    let long = width(wall.text, SIZE, false);
    let shares = if long < length - 1.0 {
        vec![0.5, 0.36, 0.64]
    } else {
        let beyond = (long / 2.0 + 1.5) / length;
        vec![1.0 + beyond, -beyond]
    };
    let middles: Vec<Spot> =
        shares.into_iter().map(|share| from.toward(to, share).plus(uy * lift, -ux * lift)).collect();
    board.find_along(&middles, (ux, uy), wall.text, Face::of(SIZE))
}

/// Draws every taped tie as a thin line with its reading, where the reading finds room.
pub(super) fn ties(svg: &mut Svg, board: &mut Board, plan: &Plan, view: &View) {
    for taped in plan.taped.iter().filter(|t| !t.along && t.from_at.is_finite() && t.to_at.is_finite()) {
        let (a, b) = (view.place(taped.from_at), view.place(taped.to_at));
        let Some((ux, uy, _)) = a.direction(b) else { continue };
        svg.line(a, b, Pen::line(0.13).coloured(PALE));
        for (end, way) in [(a, 1.0), (b, -1.0)] {
            let tip = end.plus(ux * way * 1.0, uy * way * 1.0);
            let wing = |s: f64| tip.plus(ux * way * 1.6 - uy * s, uy * way * 1.6 + ux * s);
            svg.polyline(&[wing(0.4), tip, wing(-0.4)], false, Pen::line(0.13).coloured(PALE));
        }
        board.along(svg, (a, b), &taped.text, Face::of(1.8).coloured(INK), &[0.0]);
    }
}
