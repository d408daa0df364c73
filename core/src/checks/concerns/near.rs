//! How near two things lie to each other in the plan.

use crate::plan::Outline;
use crate::units::outline::inside;
use crate::units::{Length, PlanPoint};

/// The ground a thing covers: a spot, a line or an outline, widened by a radius.
#[derive(Clone, Debug)]
pub(super) struct Body {
    at: Vec<PlanPoint>,
    closed: bool,
    radius: Length,
}

impl Body {
    /// A round spot.
    pub(super) fn spot(at: PlanPoint, radius: Length) -> Self {
        Self { at: vec![at], closed: false, radius }
    }

    /// What a drawn thing covers at the ground: of a circle its trunk.
    pub(super) fn of(outline: &Outline) -> Self {
        match outline {
            Outline::Spot(at) => Self::spot(*at, Length::ZERO),
            Outline::Line(at) => Self { at: at.clone(), closed: false, radius: Length::ZERO },
            Outline::Area(at) => Self { at: at.clone(), closed: true, radius: Length::ZERO },
            Outline::Circle { centre, inner, .. } => Self::spot(*centre, inner.unwrap_or(Length::ZERO)),
        }
    }

    /// Its middle.
    pub(super) fn middle(&self) -> Option<PlanPoint> {
        let (mut x, mut y, mut n) = (0.0, 0.0, 0.0);
        for (px, py) in self.at.iter().map(|at| at.metres()) {
            (x, y, n) = (x + px, y + py, n + 1.0);
        }
        (n > 0.0).then(|| PlanPoint::from_metres(x / n, y / n))
    }

    /// The free ground between two bodies; nothing where they touch or cross. None where one has no place.
    pub(super) fn gap(&self, other: &Self) -> Option<Length> {
        let holds = |a: &Self, b: &Self| a.closed && b.at.first().is_some_and(|at| inside(&a.at, *at));
        if holds(self, other) || holds(other, self) {
            return Some(Length::ZERO);
        }
        let mut nearest: Option<f64> = None;
        let own = other.sides();
        for a in self.sides() {
            for b in &own {
                let gap = if cross(a, *b) { 0.0 } else { apart(a, *b) };
                nearest = Some(nearest.map_or(gap, |least| least.min(gap)));
            }
        }
        let free = nearest? - self.radius.metres() - other.radius.metres();
        Some(Length::from_metres(free.max(0.0)))
    }

    /// Its sides; a spot is a side without length.
    fn sides(&self) -> Vec<[PlanPoint; 2]> {
        if let [only] = self.at.as_slice() {
            return vec![[*only, *only]];
        }
        let after = self.at.iter().skip(1).chain(self.at.first().filter(|_| self.closed));
        self.at.iter().zip(after).map(|(a, b)| [*a, *b]).collect()
    }
}

/// From a place to a side.
pub(super) fn to_side(at: PlanPoint, [a, b]: [PlanPoint; 2]) -> f64 {
    let ((x, y), (dx, dy)) = ((at - a).metres(), (b - a).metres());
    let square = dx * dx + dy * dy;
    let share = if square > 0.0 { ((x * dx + y * dy) / square).clamp(0.0, 1.0) } else { 0.0 };
    crate::units::float::hypot(x - share * dx, y - share * dy)
}

fn apart(a: [PlanPoint; 2], b: [PlanPoint; 2]) -> f64 {
    let ends = [to_side(a[0], b), to_side(a[1], b), to_side(b[0], a), to_side(b[1], a)];
    ends.into_iter().fold(f64::INFINITY, f64::min)
}

fn cross(a: [PlanPoint; 2], b: [PlanPoint; 2]) -> bool {
    let turn = |p: PlanPoint, q: PlanPoint, r: PlanPoint| {
        let ((ax, ay), (bx, by)) = ((q - p).metres(), (r - p).metres());
        ax * by - ay * bx
    };
    let parts = |s: [PlanPoint; 2], o: [PlanPoint; 2]| turn(s[0], s[1], o[0]) * turn(s[0], s[1], o[1]) < 0.0;
    parts(a, b) && parts(b, a)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(closed: bool, at: &[(f64, f64)]) -> Body {
        let at = at.iter().map(|(x, y)| PlanPoint::from_metres(*x, *y)).collect();
        Body { at, closed, radius: Length::ZERO }
    }

    /// By hand: a 3-4-5 triangle, a square, a line through it.
    #[test]
    fn gaps_of_known_figures() {
        let gap = |a: &Body, b: &Body| a.gap(b).unwrap().metres();
        let square = line(true, &[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]);
        let spot = |x, y, r| Body::spot(PlanPoint::from_metres(x, y), Length::from_metres(r));
        assert_eq!(gap(&square, &spot(7.0, 8.0, 0.0)), 5.0);
        assert_eq!(gap(&square, &spot(7.0, 8.0, 2.0)), 3.0);
        assert_eq!(gap(&square, &spot(2.0, 2.0, 0.0)), 0.0, "inside");
        assert_eq!(gap(&spot(7.0, 8.0, 4.0), &spot(7.0, 9.0, 0.0)), 0.0, "one in the other");
        assert_eq!(gap(&line(false, &[(-1.0, 2.0), (9.0, 2.0)]), &square), 0.0, "through it");
        assert_eq!(gap(&line(false, &[(-1.0, 6.0), (9.0, 6.0)]), &square), 2.0);
        // An open line round the same corners lets one in at its open side.
        let open = line(false, &[(0.0, 4.0), (0.0, 0.0), (4.0, 0.0), (4.0, 4.0)]);
        assert_eq!(gap(&open, &spot(2.0, 3.0, 0.0)), 2.0);
        assert!(line(true, &[]).gap(&square).is_none());
    }
}
