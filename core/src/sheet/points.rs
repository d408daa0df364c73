//! Point marks: how well each point is known, told by shape alone.

use super::geometry::{Frame, Spot};
use super::svg::{Dash, Face, Hang, INK, Pen, Svg, num};
use super::view::View;
use crate::network::{Freedom, PointState};
use crate::plan::{PlacedPoint, Plan};

/// Radius of a mark, mm.
pub(super) const RADIUS: f64 = 0.85;

/// Draws the mark of a state: full, half, hollow, or with an exclamation mark.
pub(super) fn mark(svg: &mut Svg, at: Spot, state: PointState) {
    let r = RADIUS;
    let rim = Pen::line(0.25).filled("#ffffff");
    match state {
        PointState::Checked => svg.circle(at, r, Pen::line(0.25).coloured("#ffffff").filled(INK)),
        PointState::Fixed => {
            svg.circle(at, r, rim);
            let (x, up, down) = (num(at.x), num(at.y - r), num(at.y + r));
            svg.path(&format!("M{x} {up}A{r} {r} 0 0 1 {x} {down}Z"), Pen::fill(INK));
        }
        PointState::Loose => svg.circle(at, r, rim.dashed(Dash::Solid)),
        PointState::Disputed => {
            let r = 1.5;
            svg.circle(at, r, rim);
            svg.line(at.plus(0.0, -1.05), at.plus(0.0, 0.25), Pen::line(0.45));
            svg.circle(at.plus(0.0, 0.8), 0.27, Pen::fill(INK));
        }
    }
}

/// The room a mark takes.
pub(super) fn reach(at: Spot, state: PointState) -> Frame {
    let r = if state == PointState::Disputed { 1.6 } else { RADIUS + 0.1 };
    Frame::around(at, r, r)
}

/// Where a loose point may stand: a dashed circle or a dashed double arrow.
pub(super) fn freedom(svg: &mut Svg, plan: &Plan, view: &View, point: &PlacedPoint) {
    let at = view.place(point.at);
    let pen = Pen::line(0.25).dashed(Dash::Doubt);
    match &point.freedom {
        Some(Freedom::OnCircle { centre, radius }) => {
            let centre = plan.points.iter().find(|p| &p.id == centre).filter(|p| p.at.is_finite());
            if let (Some(centre), true) = (centre, radius.is_finite()) {
                let (centre, r) = (view.place(centre.at), view.length(radius.abs()));
                svg.circle(centre, r, pen);
                for (x, y) in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)] {
                    let at = centre.plus(x * r, y * r);
                    svg.circle(at, 1.3, Pen::fill("#ffffff"));
                    svg.text(at.plus(0.0, 0.9), Face::of(2.5).bold().hang(Hang::Middle), "?");
                }
            }
        }
        Some(Freedom::Along { direction }) => {
            let (ux, uy) = view.direction(*direction);
            for way in [6.0, -6.0] {
                let tip = at.plus(ux * way, uy * way);
                svg.line(at, tip, pen);
                let back = |s: f64| tip.plus(-ux * way / 5.0 - uy * s, -uy * way / 5.0 + ux * s);
                svg.polyline(&[back(0.6), tip, back(-0.6)], false, Pen::line(0.18));
            }
        }
        _ => {}
    }
}
