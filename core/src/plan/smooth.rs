//! Smooth lines through points, as a hose laid along pegs lies.
//!
//! Each leg is a cubic with the tangents of Bessel's scheme: at a point, the direction of the parabola
//! through it and its two neighbours, the distances along the chords as parameter (C. de Boor, *A
//! Practical Guide to Splines*, 1978, chapter IV). It passes through every point, and moving one
//! changes two legs on each side at most.

use crate::units::PlanPoint;

/// Places drawn between two neighbours: enough that the eye sees no corner.
const BETWEEN: i32 = 8;

type Pair = (f64, f64);

/// The smooth line's places between each point and the next; for a closed one also from the last to
/// the first. Straight where there are too few points to bend.
pub(super) struct Smooth {
    at: Vec<Pair>,
    /// Direction at each point, per unit of chord.
    along: Vec<Pair>,
}

impl Smooth {
    pub(super) fn through(places: &[PlanPoint], closed: bool) -> Self {
        let at: Vec<Pair> = places.iter().map(|place| place.metres()).collect();
        let n = at.len();
        let get = |i: usize| at.get(i).copied();
        let slope = |i: usize, j: usize| {
            let ((ax, ay), (bx, by)) = (get(i)?, get(j)?);
            let h = PlanPoint::from_metres(ax, ay).distance(PlanPoint::from_metres(bx, by)).metres();
            (h > 0.0).then(|| (((bx - ax) / h, (by - ay) / h), h))
        };
        let inner = |before: usize, i: usize, after: usize| {
            let (((ux, uy), g), ((vx, vy), h)) = (slope(before, i)?, slope(i, after)?);
            Some(((h * ux + g * vx) / (g + h), (h * uy + g * vy) / (g + h)))
        };
        let direction = |i: usize| {
            let ring = closed && n > 2;
            let before = i.checked_sub(1).or_else(|| ring.then(|| n - 1));
            let after = Some(i + 1).filter(|next| *next < n).or_else(|| ring.then_some(0));
            match (before, after) {
                (Some(before), Some(after)) => {
                    inner(before, i, after).or_else(|| Some(slope(before, i).or_else(|| slope(i, after))?.0))
                }
                // At an end the parabola through the last three points goes on.
                (None, Some(next)) => end(slope(i, next)?.0, inner(i, next, next + 1)),
                (Some(last), None) => {
                    end(slope(last, i)?.0, last.checked_sub(1).and_then(|b| inner(b, last, i)))
                }
                (None, None) => None,
            }
        };
        let along = (0..n).map(|i| direction(i).unwrap_or((0.0, 0.0))).collect();
        Self { at, along }
    }

    /// The places between two of the points, by their numbers.
    pub(super) fn between(&self, from: usize, to: usize) -> Vec<PlanPoint> {
        let ends =
            || Some((self.at.get(from)?, self.along.get(from)?, self.at.get(to)?, self.along.get(to)?));
        let Some(((ax, ay), (ux, uy), (bx, by), (vx, vy))) = ends() else { return Vec::new() };
        let h = PlanPoint::from_metres(*ax, *ay).distance(PlanPoint::from_metres(*bx, *by)).metres();
        let place = |step: i32| {
            let t = f64::from(step) / f64::from(BETWEEN);
            let (t2, t3) = (t * t, t * t * t);
            // Hermite's four cubics: 1 at one end and 0 at the other, with the two directions.
            let (a, b) = (2.0 * t3 - 3.0 * t2 + 1.0, 3.0 * t2 - 2.0 * t3);
            let (u, v) = ((t3 - 2.0 * t2 + t) * h, (t3 - t2) * h);
            PlanPoint::from_metres(a * ax + b * bx + u * ux + v * vx, a * ay + b * by + u * uy + v * vy)
        };
        (1..BETWEEN).map(place).collect()
    }
}

/// The direction at an end: as much beyond the chord's as the neighbour's lies before it.
fn end(chord: Pair, neighbour: Option<Pair>) -> Option<Pair> {
    let (mx, my) = neighbour.unwrap_or(chord);
    Some((2.0 * chord.0 - mx, 2.0 * chord.1 - my))
}

#[cfg(test)]
mod tests {
    use super::*;

    // Against the circle itself: twelve pegs, a twelfth of a turn apart (their places are the sines and
    // cosines of 30 degrees and its multiples, from any table).
    #[test]
    fn a_ring_of_pegs_lies_on_the_circle() {
        let half = crate::units::float::sqrt(3.0) / 2.0;
        let quarter = [(1.0, 0.0), (half, 0.5), (0.5, half)];
        let turned = |(x, y): (f64, f64), times: usize| (0..times).fold((x, y), |(x, y), _| (-y, x));
        let pegs: Vec<PlanPoint> = (0..4)
            .flat_map(|times| quarter.map(|at| turned(at, times)))
            .map(|(x, y)| PlanPoint::from_metres(10.0 * x, 10.0 * y))
            .collect();
        let ring = Smooth::through(&pegs, true);
        for i in 0..12 {
            for place in ring.between(i, (i + 1) % 12) {
                let off = place.distance(PlanPoint::default()).metres() - 10.0;
                assert!(off.abs() < 0.02, "{off} m off a circle of 10 m");
            }
        }
    }

    #[test]
    fn two_points_and_points_on_a_line_stay_straight() {
        let line = [(0.0, 0.0), (1.0, 0.0), (5.0, 0.0)].map(|(x, y)| PlanPoint::from_metres(x, y));
        let smooth = Smooth::through(&line, false);
        let all: Vec<_> = smooth.between(0, 1).into_iter().chain(smooth.between(1, 2)).collect();
        assert_eq!(all.len(), 14);
        assert!(all.iter().all(|at| at.y.metres() == 0.0));
        assert!(all.windows(2).all(|pair| pair[0].x.metres() < pair[1].x.metres()), "it goes back: {all:?}");
    }

    #[test]
    fn points_on_one_spot_break_nothing() {
        let spot = [PlanPoint::from_metres(2.0, 3.0); 3];
        let smooth = Smooth::through(&spot, true);
        assert!(smooth.between(0, 1).iter().all(|at| *at == spot[0]));
        assert!(Smooth::through(&[], true).between(0, 1).is_empty());
    }
}
