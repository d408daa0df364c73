//! Which way a view goes and where a wind blows to, on the live drawing.

use crate::capture::Capture;
use crate::markup::live;
use leptos::prelude::*;
use std::fmt::Write as _;
use swingtie_core::plan::{Outline, pointing};
use swingtie_core::units::{Angle, PlanPoint, float};

/// Where an arrow begins and ends, in CSS pixels from the middle of its sign.
const NEAR: f64 = 16.0;
const FAR: f64 = 46.0;

/// The layer, in the drawing's own frame.
#[component]
pub fn Arrows() -> impl IntoView {
    let capture = Capture::here();
    live(move || {
        let (fold, plan) = (capture.site.fold.get(), capture.plan.get());
        let arrow = |shape: &swingtie_core::plan::Shape| {
            let Outline::Spot(at) = &shape.outline else { return None };
            let feature = fold.record.features.iter().find(|f| f.entry == shape.entry)?;
            let way = pointing(&feature.what, plan.north.as_ref())?;
            Some(sign(*at, way, feature.what.kind == "view"))
        };
        plan.shapes.iter().filter_map(arrow).collect_view()
    })
}

/// A view leaves its sign, wind and noise come to it.
fn path(way: Angle, leaves: bool) -> String {
    let (tail, head) = if leaves { (NEAR, FAR) } else { (-FAR, -NEAR) };
    shaft(way, tail, head)
}

/// An arrow along a direction of the plan, from tail to head, in CSS pixels from where it is put.
pub fn shaft(way: Angle, tail: f64, head: f64) -> String {
    // On the glass y counts downwards.
    let (ux, uy) = (float::cos(way.radians()), -float::sin(way.radians()));
    let place = |along: f64, across: f64| (along * ux - across * uy, along * uy + across * ux);
    let mut d = String::new();
    for (sign, along, across) in [
        ('M', tail, 0.0),
        ('L', head, 0.0),
        ('M', head - 9.0, 5.0),
        ('L', head, 0.0),
        ('L', head - 9.0, -5.0),
    ] {
        let (x, y) = place(along, across);
        // Writing to a String cannot fail.
        let _ = write!(d, "{sign}{x:.1} {y:.1}");
    }
    d
}

fn sign(at: PlanPoint, way: Angle, leaves: bool) -> AnyView {
    let (x, y) = at.metres();
    markup! {
        <g transform=format!("translate({x:.4} {y:.4})")><g class="upright arrow">
            <path d=path(way, leaves) fill="none" stroke="currentColor" stroke-width="2.5" />
        </g></g>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Worked by hand: up on the plan is up on the glass, where y counts downwards.
    #[test]
    fn a_view_leaves_its_sign_and_a_wind_comes_to_it() {
        assert!(path(Angle::RIGHT, true).starts_with("M0.0 -16.0L0.0 -46.0"), "{}", path(Angle::RIGHT, true));
        assert!(path(Angle::ZERO, false).starts_with("M-46.0 "), "{}", path(Angle::ZERO, false));
    }
}
