//! What was taped once may stand anywhere on a circle, but hardly in a house.

use super::PlacedPoint;
use crate::network::{Freedom, PointState};
use crate::record::{PointId, Record};
use crate::units::outline::inside;
use crate::units::{PlanPoint, float};

/// How many places of a circle are tried.
const STEPS: u32 = 72;
/// How many steps farther than the wall at most, so that it stands in no door.
const CLEAR: u32 = 6;

/// A point that one tape reading leaves anywhere on a circle, drawn in a building whose walls are determined, is drawn
/// a little beyond the nearest place of its circle outside, or amid what is outside where that is short. Corners of
/// buildings stay, and so does a circle all of which lies inside.
pub(super) fn out_of_buildings(record: &Record, points: &mut [PlacedPoint]) {
    let walls = walls(record, points);
    let indoors = |at: PlanPoint| walls.iter().any(|(_, outline)| inside(outline, at));
    let centre = |id: &PointId| points.iter().find(|p| p.id == *id).map(|p| p.at);
    let moved: Vec<Option<PlanPoint>> = points
        .iter()
        .map(|point| {
            let Some(Freedom::OnCircle { centre: id, .. }) = &point.freedom else { return None };
            let corner = walls.iter().any(|(corners, _)| corners.contains(&point.id));
            if corner || !indoors(point.at) {
                return None;
            }
            let centre = centre(id)?;
            let (x, y) = (point.at - centre).metres();
            let (radius, from) = (float::hypot(x, y), float::atan2(y, x));
            let at = |step: f64| {
                let angle = from + step * std::f64::consts::TAU / f64::from(STEPS);
                let (cx, cy) = centre.metres();
                PlanPoint::from_metres(cx + radius * float::cos(angle), cy + radius * float::sin(angle))
            };
            let ways = (1..=STEPS / 2).flat_map(|n| [f64::from(n), -f64::from(n)]);
            let clear = |step: &f64| !indoors(at(*step)) && !indoors(at(step + step.signum()));
            let first = ways.into_iter().find(clear)?;
            let farther = |n: u32| first + f64::from(n) * first.signum();
            let open = (1..=2 * CLEAR).take_while(|n| !indoors(at(farther(*n)))).count();
            let half = u32::try_from(open / 2).unwrap_or(CLEAR).max(1);
            Some(at(farther(half)))
        })
        .collect();
    for (point, at) in points.iter_mut().zip(moved) {
        point.at = at.unwrap_or(point.at);
    }
}

/// The corners of each building, and their places, where all are determined.
fn walls<'a>(record: &'a Record, points: &[PlacedPoint]) -> Vec<(&'a [PointId], Vec<PlanPoint>)> {
    let place =
        |id: &PointId| points.iter().find(|p| p.id == *id && p.state != PointState::Loose).map(|p| p.at);
    let buildings = record.features.iter().map(|f| &f.what);
    buildings
        .filter(|f| matches!(f.kind.as_str(), "house" | "outbuilding"))
        .filter_map(|f| Some((f.points.as_slice(), f.points.iter().map(place).collect::<Option<Vec<_>>>()?)))
        .collect()
}
