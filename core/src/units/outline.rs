//! Closed outlines: which way round they go, what is inside, what is out.

use super::PlanPoint;
use super::float::hypot;

/// The sides, each from one corner to the next, the last back to the first.
fn sides(outline: &[PlanPoint]) -> impl Iterator<Item = (&PlanPoint, &PlanPoint)> {
    outline.iter().zip(outline.iter().cycle().skip(1))
}

/// Twice the area inside, in square metres; positive when the outline goes round counterclockwise.
#[must_use]
pub fn twice_area(outline: &[PlanPoint]) -> f64 {
    let origin = outline.first().copied().unwrap_or_default();
    // Seen from the first corner, so that large coordinates do not swallow a small area.
    let seen = |at: &PlanPoint| (*at - origin).metres();
    sides(outline).map(|(a, b)| (seen(a), seen(b))).map(|((ax, ay), (bx, by))| ax * by - bx * ay).sum()
}

/// Whether a place lies inside (crossings of a ray).
#[must_use]
pub fn inside(outline: &[PlanPoint], at: PlanPoint) -> bool {
    let (x, y) = at.metres();
    let crosses = |(a, b): &(&PlanPoint, &PlanPoint)| {
        let ((ax, ay), (bx, by)) = (a.metres(), b.metres());
        (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax)
    };
    sides(outline).filter(crosses).count() % 2 == 1
}

/// For each side, from one corner to the next, the direction of length 1 out of the outline; none for a side
/// without length.
#[must_use]
pub fn outward(outline: &[PlanPoint]) -> Vec<Option<(f64, f64)>> {
    // Counterclockwise round it, out is to the right.
    let turn = if twice_area(outline) > 0.0 { 1.0 } else { -1.0 };
    let out = |(start, end): (&PlanPoint, &PlanPoint)| {
        let (x, y) = (*end - *start).metres();
        let long = hypot(x, y);
        (long > 0.0).then(|| (y / long * turn, -x / long * turn))
    };
    sides(outline).map(out).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An L of 3 × 2 m with a square metre out of it, by hand, walked either way.
    #[test]
    fn an_l_has_its_area_its_inside_and_its_outside() {
        let corners = [(0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (2.0, 1.0), (2.0, 2.0), (0.0, 2.0)];
        let mut l = corners.map(|(x, y)| PlanPoint::from_metres(x, y));
        assert_eq!((twice_area(&l), twice_area(&[])), (10.0, 0.0));
        let holds = |l: &[PlanPoint], x, y| inside(l, PlanPoint::from_metres(x, y));
        assert!(holds(&l, 1.0, 1.5) && !holds(&l, 2.5, 1.5) && !holds(&l, -1.0, 0.5));
        assert_eq!(outward(&l)[0], Some((0.0, -1.0)));
        l.reverse();
        assert_eq!(twice_area(&l), -10.0);
        assert!(holds(&l, 1.0, 1.5) && !holds(&l, 2.5, 1.5));
        // Now the last side but one is the front, walked the other way.
        assert_eq!(outward(&l)[4], Some((0.0, -1.0)));
        assert_eq!(outward(&[l[0], l[0]]), [None, None]);
    }
}
