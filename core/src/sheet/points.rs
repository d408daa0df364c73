//! Point marks: how well each point is known, told by shape alone.

use super::fittings::ring;
use super::geometry::{Frame, Spot};
use super::labels::{Board, Slab};
use super::pen::{Dash, Face, Hang, INK, PAPER, Pen};
use super::picture::{Picture, Step};
use super::view::View;
use crate::network::{Freedom, PointState};
use crate::plan::{PlacedPoint, Plan};
use crate::record::PointId;
use crate::units::Length;

/// Radius of a mark, mm.
pub(super) const RADIUS: f64 = 0.85;

/// Draws the mark of a state: full, half, hollow, or with an exclamation mark.
pub(super) fn mark(picture: &mut Picture, at: Spot, state: PointState) {
    let r = RADIUS;
    let rim = Pen::line(0.25).filled(PAPER);
    match state {
        PointState::Checked => picture.circle(at, r, Pen::line(0.25).coloured(PAPER).filled(INK)),
        PointState::Fixed => {
            picture.circle(at, r, rim);
            let bow = Step::Arc { radius: r, clockwise: true, to: at.plus(0.0, r) };
            picture.path(vec![Step::Move(at.plus(0.0, -r)), bow, Step::Close], Pen::fill(INK));
        }
        PointState::Loose => picture.circle(at, r, rim.dashed(Dash::Solid)),
        PointState::Disputed => {
            let r = 1.5;
            picture.circle(at, r, rim);
            picture.line(at.plus(0.0, -1.05), at.plus(0.0, 0.25), Pen::line(0.45));
            picture.circle(at.plus(0.0, 0.8), 0.27, Pen::fill(INK));
        }
    }
}

/// The room a mark takes.
pub(super) fn reach(at: Spot, state: PointState) -> Frame {
    let r = if state == PointState::Disputed { 1.6 } else { RADIUS + 0.1 };
    Frame::around(at, r, r)
}

/// Keeps free the signs of where a loose point may stand, and its circle where that is possible.
pub(super) fn keep_free(board: &mut Board<'_>, plan: &Plan, view: &View, point: &PlacedPoint) {
    let at = view.place(point.at);
    match &point.freedom {
        Some(Freedom::OnCircle { centre, radius }) => {
            if let Some((centre, r)) = circle(plan, view, centre, *radius) {
                board.avoid(&ring(centre, r, 64), true, 0.8);
                ring(centre, r, 4).into_iter().for_each(|at| board.take(Slab::upright(at, 1.3, 1.3)));
            }
        }
        Some(Freedom::Along { direction }) => {
            let (ux, uy) = view.direction(*direction);
            board.avoid(&[at.plus(-ux * 6.0, -uy * 6.0), at.plus(ux * 6.0, uy * 6.0)], false, 1.6);
        }
        _ => {}
    }
}

/// The circle of a loose point's possible places on the sheet.
fn circle(plan: &Plan, view: &View, centre: &PointId, radius: Length) -> Option<(Spot, f64)> {
    let centre = plan.points.iter().find(|p| &p.id == centre).filter(|p| p.at.is_finite())?;
    radius.is_finite().then(|| (view.place(centre.at), view.length(radius.abs())))
}

/// Where a loose point may stand: a dashed circle or a dashed double arrow.
pub(super) fn freedom(picture: &mut Picture, plan: &Plan, view: &View, point: &PlacedPoint) {
    let at = view.place(point.at);
    let pen = Pen::line(0.25).dashed(Dash::Doubt);
    match &point.freedom {
        Some(Freedom::OnCircle { centre, radius }) => {
            if let Some((centre, r)) = circle(plan, view, centre, *radius) {
                picture.circle(centre, r, pen);
                for at in ring(centre, r, 4) {
                    picture.circle(at, 1.3, Pen::fill(PAPER));
                    picture.text(at.plus(0.0, 0.9), Face::of(2.5).bold().hang(Hang::Middle), "?");
                }
            }
        }
        Some(Freedom::Along { direction }) => {
            let (ux, uy) = view.direction(*direction);
            for way in [6.0, -6.0] {
                let tip = at.plus(ux * way, uy * way);
                picture.line(at, tip, pen);
                let back = |s: f64| tip.plus(-ux * way / 5.0 - uy * s, -uy * way / 5.0 + ux * s);
                picture.polyline(&[back(0.6), tip, back(-0.6)], false, Pen::line(0.18));
            }
        }
        _ => {}
    }
}
