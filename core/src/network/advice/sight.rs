//! What stands in a tape's way.

use super::super::equation::{Place, cross, dot, ray, sub};
use super::super::observe::Observed;
use crate::record::{Measurement, PointId, Record};
use crate::units::float::hypot;
use crate::units::sort_by;

/// Kinds of features that a tape cannot go through.
const SOLID: [&str; 2] = ["house", "outbuilding"];
/// So far inside an outline a tape touches the wall (metres).
const TOUCHES: f64 = 0.05;

/// The outlines of buildings, where all their corners have a place.
pub(super) fn outlines(
    record: &Record,
    seen: &Observed,
    place: impl Fn(usize) -> Option<Place>,
) -> Vec<Vec<Place>> {
    let buildings = record.features.iter().filter(|f| SOLID.contains(&f.what.kind.as_str()));
    let mut corners: Vec<Vec<&PointId>> = buildings.map(|f| f.what.points.iter().collect()).collect();
    if corners.is_empty() {
        // Nobody has said yet what the walls belong to: a walk that closes goes round a building.
        corners.extend(record.measurements.iter().filter_map(|m| match &m.what {
            Measurement::Walk { start, legs, .. } if legs.last().is_some_and(|l| l.to == *start) => {
                Some(legs.iter().map(|l| &l.to).collect())
            }
            _ => None,
        }));
    }
    let places = |points: &Vec<&PointId>| {
        let all: Option<Vec<Place>> = points.iter().map(|p| place(seen.number(p)? as usize)).collect();
        all.filter(|all| all.len() > 2)
    };
    corners.iter().filter_map(places).collect()
}

/// Whether a straight tape from a to b would go through a building. Along a wall, or from a corner
/// away from it, it does not.
pub(super) fn blocked(outlines: &[Vec<Place>], a: Place, b: Place) -> bool {
    outlines.iter().any(|outline| through(outline, a, b))
}

fn edges(outline: &[Place]) -> impl Iterator<Item = (Place, Place)> {
    outline.iter().copied().zip(outline.iter().copied().cycle().skip(1))
}

/// Whether some stretch between two crossings of the outline lies inside it.
fn through(outline: &[Place], a: Place, b: Place) -> bool {
    let along = sub(b, a);
    let mut cuts = vec![0.0, 1.0];
    for (c, d) in edges(outline) {
        let wall = sub(d, c);
        let slope = cross(along, wall);
        let (t, s) = (cross(sub(c, a), wall) / slope, cross(sub(c, a), along) / slope);
        if (0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&s) {
            cuts.push(t);
        }
    }
    sort_by(&mut cuts, f64::total_cmp);
    let middles = cuts.iter().zip(cuts.iter().skip(1)).map(|(t, u)| 0.5 * (t + u));
    middles.map(|t| [a[0] + t * along[0], a[1] + t * along[1]]).any(|p| inside(outline, p))
}

/// Inside, and not merely touching a wall.
fn inside(outline: &[Place], p: Place) -> bool {
    let mut odd = false;
    for (c, d) in edges(outline) {
        if (c[1] > p[1]) != (d[1] > p[1]) && p[0] < c[0] + (p[1] - c[1]) / (d[1] - c[1]) * (d[0] - c[0]) {
            odd = !odd;
        }
        let (u, length) = ray(c, d);
        let t = dot(sub(p, c), u).clamp(0.0, length);
        let foot = [c[0] + t * u[0], c[1] + t * u[1]];
        if hypot(p[0] - foot[0], p[1] - foot[1]) < TOUCHES {
            return false;
        }
    }
    odd
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An L of 10 × 8 m with the inside corner at (6, 4); answers from a drawing of it.
    #[test]
    fn a_tape_goes_round_corners_not_through_walls() {
        let house = vec![vec![[0.0, 0.0], [10.0, 0.0], [10.0, 4.0], [6.0, 4.0], [6.0, 8.0], [0.0, 8.0]]];
        for (a, b, want) in [
            ([0.0, 0.0], [10.0, 0.0], false),
            ([0.0, 0.0], [10.0, 4.0], true),
            ([6.0, 8.0], [10.0, 4.0], false),
            ([12.0, -1.0], [12.0, 9.0], false),
            ([-2.0, 4.0], [12.0, 3.0], true),
            ([7.0, 6.0], [12.0, 2.0], true),
            ([7.0, 6.0], [12.0, 4.5], false),
            ([6.0, 4.0], [12.0, 4.0], false),
            ([6.0, 6.0], [10.0, 2.0], true),
            ([3.0, 0.01], [8.0, -0.01], false),
        ] {
            assert_eq!(blocked(&house, a, b), want, "{a:?} to {b:?}");
            assert_eq!(blocked(&house, b, a), want, "{b:?} to {a:?}");
        }
    }
}
