//! What a designer asks next: how long, how large, how much, and how sure that is.
//!
//! Standard deviations follow from the points' ellipses by the first derivatives (propagation of variances, C. Ghilani
//! and P. Wolf, *Adjustment Computations*), each point by itself: what the plan as a whole is turned or shifted by
//! changes no length and no area, and neighbours that err together make them surer than said here, not less.

use super::{Outline, Plan};
use crate::network::Ellipse;
use crate::network::kernel::ELLIPSE_95;
use crate::record::PointId;
use crate::units::float::{cos, hypot, sin, sqrt};
use crate::units::outline::twice_area;
use crate::units::{Area, Length, PlanPoint, Volume};

/// A quantity with its standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount<T> {
    /// Its value.
    pub value: T,
    /// Its standard deviation; none where a point's own is not known.
    pub sd: Option<T>,
}

/// A corner of an outline: its place, and its ellipse where there is one.
pub type Corner = (PlanPoint, Option<Ellipse>);

/// How long and how large a drawn thing is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Extent {
    /// Along a line, or once round an outline.
    pub length: Option<Amount<Length>>,
    /// Inside an outline.
    pub area: Option<Amount<Area>>,
}

/// Of a line its length, of an outline the way round it and its area, nothing of a spot. What bows between its points
/// counts as drawn; how sure that is follows from the points alone.
#[must_use]
pub fn extent(plan: &Plan, points: &[PointId], outline: &Outline) -> Extent {
    let corner = |id: &PointId| plan.points.iter().find(|p| p.id == *id).map(|p| (p.at, p.ellipse));
    let corners: Vec<Corner> = points.iter().filter_map(corner).collect();
    let drawn = |at: &[PlanPoint]| at.iter().map(|at| (*at, None)).collect::<Vec<Corner>>();
    match outline {
        Outline::Line(at) => {
            let (value, sd) = (length(&drawn(at), false).value, length(&corners, false).sd);
            Extent { length: Some(Amount { value, sd }), area: None }
        }
        Outline::Area(at) => {
            let (value, sd) = (length(&drawn(at), true).value, length(&corners, true).sd);
            let round = Amount { value, sd };
            let inside = Amount { value: area(&drawn(at)).value, sd: area(&corners).sd };
            Extent { length: Some(round), area: Some(inside) }
        }
        Outline::Spot(_) | Outline::Circle { .. } => Extent::default(),
    }
}

/// The length of a line through its corners; of a closed one back to its first.
#[must_use]
pub fn length(corners: &[Corner], closed: bool) -> Amount<Length> {
    let n = corners.len();
    let sides = if closed { n } else { n.saturating_sub(1) };
    let mut gradient = vec![[0.0; 2]; n];
    let mut sum = 0.0;
    for (i, j) in (0..sides).map(|i| (i, (i + 1) % n)) {
        let Some(((a, _), (b, _))) = corners.get(i).zip(corners.get(j)) else { continue };
        let (dx, dy) = (*b - *a).metres();
        let length = hypot(dx, dy);
        sum += length;
        if length > 0.0 {
            add(&mut gradient, i, [-dx / length, -dy / length]);
            add(&mut gradient, j, [dx / length, dy / length]);
        }
    }
    Amount { value: Length::from_metres(sum), sd: spread(corners, &gradient).map(Length::from_metres) }
}

/// The area inside a closed outline that does not cross itself.
#[must_use]
pub fn area(corners: &[Corner]) -> Amount<Area> {
    let n = corners.len();
    let mut gradient = vec![[0.0; 2]; n];
    let outline: Vec<PlanPoint> = corners.iter().map(|(at, _)| *at).collect();
    let at = |i: usize| outline.get(i % n).map_or((0.0, 0.0), |at| at.metres());
    for i in 0..n {
        let ((ax, ay), (cx, cy)) = (at(i + n - 1), at(i + 1));
        add(&mut gradient, i, [0.5 * (cy - ay), 0.5 * (ax - cx)]);
    }
    let value = Area::from_square_metres(0.5 * twice_area(&outline).abs());
    Amount { value, sd: spread(corners, &gradient).map(Area::from_square_metres) }
}

/// What fills an area to a depth, with so much more for waste and settling (0.1 is a tenth).
#[must_use]
pub fn volume(area: Amount<Area>, depth: Length, waste: f64) -> Amount<Volume> {
    let factor = depth.metres() * (1.0 + waste);
    let of = |area: Area| Volume::from_cubic_metres(area.square_metres() * factor);
    Amount { value: of(area.value), sd: area.sd.map(of) }
}

/// What fills a pit of this rim whose floor is this share of it, with so much more for waste; as sure as its rim.
#[must_use]
pub fn pit_of(rim: Amount<Area>, floor: f64, depth: Length, waste: f64) -> Amount<Volume> {
    let of = |area: Area| {
        let floor = Area::from_square_metres(area.square_metres() * floor);
        Volume::from_cubic_metres(pit(area, floor, depth).cubic_metres() * (1.0 + waste))
    };
    // A frustum of similar ends grows as its rim does.
    Amount { value: of(rim.value), sd: rim.sd.map(of) }
}

/// What a pit with sloping sides holds: a frustum between its rim and its floor, d/3·(A + B + √(A·B)) (any handbook of
/// mensuration).
#[must_use]
pub fn pit(rim: Area, floor: Area, depth: Length) -> Volume {
    let (a, b) = (rim.square_metres().max(0.0), floor.square_metres().max(0.0));
    Volume::from_cubic_metres(depth.metres() / 3.0 * (a + b + sqrt(a * b)))
}

fn add(gradient: &mut [[f64; 2]], at: usize, [x, y]: [f64; 2]) {
    if let Some([gx, gy]) = gradient.get_mut(at) {
        *gx += x;
        *gy += y;
    }
}

/// The standard deviation of what changes with its corners by this gradient.
fn spread(corners: &[Corner], gradient: &[[f64; 2]]) -> Option<f64> {
    let mut variance = 0.0;
    for ((_, ellipse), [gx, gy]) in corners.iter().zip(gradient) {
        let Ellipse { semi_major, semi_minor, direction } = ellipse.as_ref()?;
        let (c, s) = (cos(direction.radians()), sin(direction.radians()));
        let along = (gx * c + gy * s) * semi_major.metres() / ELLIPSE_95;
        let across = (gy * c - gx * s) * semi_minor.metres() / ELLIPSE_95;
        variance += along * along + across * across;
    }
    Some(sqrt(variance))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 100 sq ft at 3 in is 25 cu ft, 0.926 cu yd, as mulch tables have it (27 cu ft to the yard).
    #[test]
    fn mulch_for_a_hundred_square_feet() {
        let hundred = Length::from_feet(10.0) * Length::from_feet(10.0);
        let bed = Amount { value: hundred, sd: None };
        let found = volume(bed, Length::from_inches(3.0), 0.0);
        assert!((found.value.cubic_yards() - 25.0 / 27.0).abs() < 1e-12);
        assert!((volume(bed, Length::from_inches(3.0), 0.1).value.cubic_yards() - 27.5 / 27.0).abs() < 1e-12);
        assert_eq!(found.sd, None);
    }

    /// A prism, and a pyramid: a third of it.
    #[test]
    fn pits_of_known_shape() {
        let (four, none, deep) =
            (Area::from_square_metres(4.0), Area::from_square_metres(0.0), Length::from_metres(1.5));
        assert!((pit(four, four, deep).cubic_metres() - 6.0).abs() < 1e-12);
        assert!((pit(four, none, deep).cubic_metres() - 2.0).abs() < 1e-12);
    }

    /// A pit whose floor is its rim is what fills an area to a depth; 12 by 20 ft at 4 in are 80 cu ft, 2.963 cu yd
    /// (any table of concrete).
    #[test]
    fn a_pit_with_upright_sides_is_a_slab() {
        let slab = Amount {
            value: Length::from_feet(12.0) * Length::from_feet(20.0),
            sd: Some(Length::from_feet(1.0) * Length::from_feet(2.4)),
        };
        let (found, same) =
            (pit_of(slab, 1.0, Length::from_inches(4.0), 0.1), volume(slab, Length::from_inches(4.0), 0.1));
        assert!((found.value.cubic_yards() - 1.1 * 80.0 / 27.0).abs() < 1e-9);
        assert!((same.value.cubic_yards() - found.value.cubic_yards()).abs() < 1e-9);
        let percent = found.sd.unwrap().cubic_yards() / found.value.cubic_yards();
        assert!((percent - 0.01).abs() < 1e-12, "a hundredth of the area is a hundredth of the volume");
        // Half the floor: (1 + 1/2 + √1/2)/3 of it.
        let sloping = pit_of(slab, 0.5, Length::from_inches(4.0), 0.0).value.cubic_yards();
        assert!((sloping / (80.0 / 27.0) - (1.5 + sqrt(0.5)) / 3.0).abs() < 1e-12);
    }

    #[test]
    fn a_corner_of_unknown_place_leaves_the_doubt_open() {
        let square = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)];
        let corners = square.map(|(x, y)| (PlanPoint::from_metres(x, y), None));
        let (inside, round, open) = (area(&corners), length(&corners, true), length(&corners, false));
        assert!((inside.value.square_metres() - 4.0).abs() < 1e-12 && inside.sd.is_none());
        assert!((round.value.metres() - 8.0).abs() < 1e-12 && (open.value.metres() - 6.0).abs() < 1e-12);
        assert_eq!(area(&[]).value, Area::from_square_metres(0.0));
    }
}
