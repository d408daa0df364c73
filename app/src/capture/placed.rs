//! A point of a plan made by hand, for tests.

use swingtie_core::network::PointState;
use swingtie_core::plan::PlacedPoint;
use swingtie_core::units::PlanPoint;

/// At these metres.
pub fn placed(id: &str, x: f64, y: f64) -> PlacedPoint {
    PlacedPoint {
        id: id.into(),
        label: id.to_uppercase(),
        note: String::new(),
        at: PlanPoint::from_metres(x, y),
        state: PointState::Fixed,
        ellipse: None,
        freedom: None,
    }
}
