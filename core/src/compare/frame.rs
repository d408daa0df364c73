//! Lays an earlier plan on a later one.
//!
//! Both are drawn from a held point along a held line. Mostly these are the same, and what is drawn elsewhere moved. But
//! where the held line is another one, or its far end was corrected, the whole yard swings, and all of it would be said to have
//! moved. Then the earlier plan is shifted and turned to where most of its points find themselves again: the motion of
//! least summed distance, which a few points that did move pull at no harder the further they went (least absolute
//! deviations by weights found in turns; the motion for given weights is the closed one for two dimensions, from the sums
//! of products about the means).

use super::Laid;
use crate::units::float::hypot;
use crate::units::{Length, PlanPoint, sort_by};

/// A point in both plans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pair {
    /// Where it stood.
    pub from: PlanPoint,
    /// Where it stands.
    pub to: PlanPoint,
    /// How well it is said to be known.
    pub accuracy: Length,
}

/// So many turns settle the weights far below what is told; a fixed number, so that all machines do the same.
const TURNS: usize = 60;
/// Below this a distance gets no more weight (metres).
const FINE: f64 = 0.001;

/// Moves the earlier places to where they are to be compared, where they are not yet.
pub(super) fn lay(pairs: &mut [Pair], least: Length) -> Laid {
    let stay = |pairs: &[Pair]| {
        let stays = |pair: &&Pair| {
            let off = pair.from.distance(pair.to);
            off <= pair.accuracy || off <= least
        };
        pairs.iter().filter(stays).count()
    };
    let most_stay = |pairs: &[Pair]| stay(pairs) * 2 >= pairs.len();
    if most_stay(pairs) {
        return Laid::AsDrawn;
    }
    let mut turned = best(pairs);
    // The held point has no error of its own against itself. Against the yard as a whole it has that of the others.
    let mut sizes: Vec<f64> = pairs.iter().map(|pair| pair.accuracy.metres()).collect();
    sort_by(&mut sizes, f64::total_cmp);
    let usual = Length::from_metres(sizes.get(sizes.len() / 2).copied().unwrap_or_default());
    for pair in &mut turned {
        if pair.accuracy < usual {
            pair.accuracy = usual;
        }
    }
    if !most_stay(&turned) {
        return Laid::AsDrawn;
    }
    pairs.copy_from_slice(&turned);
    Laid::Turned
}

/// The pairs after the motion of least summed distance.
fn best(pairs: &[Pair]) -> Vec<Pair> {
    let mut laid: Vec<Pair> = pairs.to_vec();
    let mut weights = vec![1.0; pairs.len()];
    for _ in 0..TURNS {
        let motion = Motion::of(pairs, &weights);
        for ((slot, pair), weight) in laid.iter_mut().zip(pairs).zip(&mut weights) {
            slot.from = motion.moves(pair.from);
            let off = slot.from.distance(slot.to).metres();
            *weight = 1.0 / if off > FINE { off } else { FINE };
        }
    }
    laid
}

/// A turn and a shift.
struct Motion {
    cos: f64,
    sin: f64,
    /// What is turned about, and where it goes.
    about: (f64, f64),
    to: (f64, f64),
}

impl Motion {
    /// The one of least weighted squares; a mere shift where all lie on one place.
    fn of(pairs: &[Pair], weights: &[f64]) -> Self {
        let all = || pairs.iter().zip(weights).map(|(pair, w)| (pair.from.metres(), pair.to.metres(), *w));
        let whole: f64 = all().map(|(.., w)| w).sum();
        let mean = |of: fn((f64, f64), (f64, f64)) -> f64| {
            all().map(|(from, to, w)| of(from, to) * w).sum::<f64>() / whole
        };
        let about = (mean(|(x, _), _| x), mean(|(_, y), _| y));
        let to = (mean(|_, (x, _)| x), mean(|_, (_, y)| y));
        let (mut along, mut across) = (0.0, 0.0);
        for (from, there, w) in all() {
            let (ax, ay) = (from.0 - about.0, from.1 - about.1);
            let (bx, by) = (there.0 - to.0, there.1 - to.1);
            along += w * (ax * bx + ay * by);
            across += w * (ax * by - ay * bx);
        }
        let size = hypot(along, across);
        let (cos, sin) = if size > 0.0 { (along / size, across / size) } else { (1.0, 0.0) };
        Self { cos, sin, about, to }
    }

    fn moves(&self, place: PlanPoint) -> PlanPoint {
        let (x, y) = place.metres();
        let (x, y) = (x - self.about.0, y - self.about.1);
        let (cos, sin) = (self.cos, self.sin);
        PlanPoint::from_metres(self.to.0 + cos * x - sin * y, self.to.1 + sin * x + cos * y)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::float::{cos, sin};

    // Worked by hand: a yard of nine points turned by 3° about a corner and shifted, one of them moved by 2 m besides.
    #[test]
    fn a_swung_yard_lies_on_itself_and_what_moved_shows() {
        let (c, s) = (cos(3.0_f64.to_radians()), sin(3.0_f64.to_radians()));
        let accuracy = Length::from_metres(0.02);
        let mut pairs: Vec<Pair> = (0..9)
            .map(|n| {
                let (x, y) = (f64::from(n % 3) * 8.0, f64::from(n / 3) * 11.0);
                let (mut to_x, to_y) = (c * x - s * y + 0.7, s * x + c * y - 1.2);
                if n == 4 {
                    to_x += 2.0;
                }
                let (from, to) = (PlanPoint::from_metres(x, y), PlanPoint::from_metres(to_x, to_y));
                Pair { from, to, accuracy }
            })
            .collect();
        let least = Length::from_metres(0.0016);
        assert_eq!(lay(&mut pairs, least), Laid::Turned);
        for (n, pair) in pairs.iter().enumerate() {
            let off = pair.from.distance(pair.to).metres();
            let expected = if n == 4 { 2.0 } else { 0.0 };
            assert!((off - expected).abs() < 1e-3, "{n} is {off} off");
        }
        // Laid, it lies; and what lies is left as it is.
        let before = pairs.clone();
        assert_eq!(lay(&mut pairs, least), Laid::AsDrawn);
        assert_eq!(pairs, before);
    }

    #[test]
    fn what_no_motion_explains_is_left_as_drawn() {
        let accuracy = Length::from_metres(0.01);
        // Turned over: a yard of five corners, mirrored; no more than a line of it, two points, can be laid on itself.
        let places = [(0.0, 0.0), (9.0, 2.0), (4.0, 7.0), (1.0, 12.0), (8.0, 10.0)];
        let mut pairs = places.map(|(x, y)| Pair {
            from: PlanPoint::from_metres(x, y),
            to: PlanPoint::from_metres(x, -y),
            accuracy,
        });
        let before = pairs;
        assert_eq!(lay(&mut pairs, accuracy), Laid::AsDrawn);
        assert_eq!(pairs, before);
        assert_eq!(lay(&mut [], accuracy), Laid::AsDrawn);
    }
}
