//! Which point a finger means.

use super::view::View;
use swingtie_core::record::PointId;
use swingtie_core::units::{PlanPoint, float};

/// A place on the glass, CSS pixels from the drawing's top left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spot {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Spot {
    /// How far apart, CSS pixels.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        float::hypot(self.x - other.x, self.y - other.y)
    }
}

/// What a finger covers: half of a 56 px target.
pub const REACH: f64 = 28.0;
/// Two candidates whose distances from the finger differ by less than this are both offered.
const DOUBT: f64 = 14.0;

/// The points a tap may mean, nearest first: none, one, or several to choose from.
#[must_use]
pub fn pick<'a>(
    points: impl IntoIterator<Item = (&'a PointId, PlanPoint)>,
    view: View,
    finger: Spot,
) -> Vec<PointId> {
    let mut near: Vec<(f64, &PointId)> = points
        .into_iter()
        .map(|(id, at)| (view.glass_from_plan(at).distance(finger), id))
        .filter(|(distance, _)| *distance <= REACH)
        .collect();
    swingtie_core::units::sort_by(&mut near, |a, b| a.0.total_cmp(&b.0));
    let limit = near.first().map_or(0.0, |(distance, _)| distance + DOUBT);
    near.into_iter().filter(|(distance, _)| *distance < limit).map(|(_, id)| id.clone()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nearest_within_reach_and_both_when_close() {
        let view = View { scale: 10.0, left: 0.0, top: 0.0 };
        let points = [
            (PointId::from("a"), PlanPoint::from_metres(10.0, -10.0)),
            (PointId::from("b"), PlanPoint::from_metres(11.0, -10.0)),
            (PointId::from("c"), PlanPoint::from_metres(30.0, -10.0)),
        ];
        let at = |x, y| pick(points.iter().map(|(id, at)| (id, *at)), view, Spot { x, y });
        assert_eq!(at(320.0, 100.0), [PointId::from("c")]);
        assert_eq!(at(329.0, 100.0), []);
        // 4 px from b, 6 px from a: nobody can tell which was meant.
        assert_eq!(at(106.0, 100.0), [PointId::from("b"), PointId::from("a")]);
        // 2 px left of a, 12 px from b: still too close to call; 20 px left of a, 30 from b is not in reach.
        assert_eq!(at(80.0, 100.0), [PointId::from("a")]);
    }
}
