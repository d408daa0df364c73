//! What a designer asks next: how long, how large, how much, and how sure that is.
//!
//! Standard deviations follow by the first derivatives (propagation of variances, C. Ghilani and P. Wolf, *Adjustment
//! Computations*) from the covariance of all points together ([`Joint`]). Neighbours err together: two jambs taped along
//! one wall are known to half an inch against each other though each may stand three off in the plan.

use super::{Outline, Plan};
use crate::network::Joint;
use crate::record::PointId;
use crate::units::float::{hypot, sqrt};
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

/// By how much something changes with the x and the y of each corner.
pub type Gradient = [[f64; 2]];

/// How long and how large a drawn thing is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Extent {
    /// Along a line, or once round an outline.
    pub length: Option<Amount<Length>>,
    /// Inside an outline.
    pub area: Option<Amount<Area>>,
}

/// Of a line its length, of an outline the way round it and its area, nothing of a spot. What bows between its points
/// counts as drawn; how sure that is follows from the points alone, and stays open where one of them is loose or no
/// joint covariance is given.
#[must_use]
pub fn extent(plan: &Plan, points: &[PointId], outline: &Outline, joint: Option<&Joint>) -> Extent {
    let place = |id: &PointId| plan.points.iter().find(|p| p.id == *id).map(|p| p.at);
    let corners: Vec<PlanPoint> = points.iter().filter_map(place).collect();
    let spread = |gradient: &Gradient| joint?.sd(points, gradient);
    let open = |_: &Gradient| None;
    let around = |at: &[PlanPoint], closed| Amount {
        value: length(at, closed, open).value,
        sd: length(&corners, closed, spread).sd,
    };
    match outline {
        Outline::Line(at) => Extent { length: Some(around(at, false)), area: None },
        Outline::Area(at) => {
            let inside = Amount { value: area(at, open).value, sd: area(&corners, spread).sd };
            Extent { length: Some(around(at, true)), area: Some(inside) }
        }
        Outline::Spot(_) | Outline::Circle { .. } => Extent::default(),
    }
}

/// The length of a line through its corners; of a closed one back to its first. `spread` tells the standard deviation
/// (metres) of what changes with the corners by a gradient, where it is known.
#[must_use]
pub fn length(
    corners: &[PlanPoint],
    closed: bool,
    spread: impl Fn(&Gradient) -> Option<f64>,
) -> Amount<Length> {
    let n = corners.len();
    let sides = if closed { n } else { n.saturating_sub(1) };
    let mut gradient = vec![[0.0; 2]; n];
    let mut sum = 0.0;
    for (i, j) in (0..sides).map(|i| (i, (i + 1) % n)) {
        let Some((a, b)) = corners.get(i).zip(corners.get(j)) else { continue };
        let (dx, dy) = (*b - *a).metres();
        let length = hypot(dx, dy);
        sum += length;
        if length > 0.0 {
            add(&mut gradient, i, [-dx / length, -dy / length]);
            add(&mut gradient, j, [dx / length, dy / length]);
        }
    }
    Amount { value: Length::from_metres(sum), sd: spread(&gradient).map(Length::from_metres) }
}

/// The area inside a closed outline that does not cross itself; `spread` as for a [`length`], in square metres.
#[must_use]
pub fn area(corners: &[PlanPoint], spread: impl Fn(&Gradient) -> Option<f64>) -> Amount<Area> {
    let n = corners.len();
    let mut gradient = vec![[0.0; 2]; n];
    let at = |i: usize| corners.get(i % n).map_or((0.0, 0.0), |at| at.metres());
    for i in 0..n {
        let ((ax, ay), (cx, cy)) = (at(i + n - 1), at(i + 1));
        add(&mut gradient, i, [0.5 * (cy - ay), 0.5 * (ax - cx)]);
    }
    let value = Area::from_square_metres(0.5 * twice_area(corners).abs());
    Amount { value, sd: spread(&gradient).map(Area::from_square_metres) }
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
    fn what_nobody_knows_the_spread_of_stays_open() {
        let corners =
            [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)].map(|(x, y)| PlanPoint::from_metres(x, y));
        let none = |_: &Gradient| None;
        let (inside, round, open) =
            (area(&corners, none), length(&corners, true, none), length(&corners, false, none));
        assert!((inside.value.square_metres() - 4.0).abs() < 1e-12 && inside.sd.is_none());
        assert!((round.value.metres() - 8.0).abs() < 1e-12 && (open.value.metres() - 6.0).abs() < 1e-12);
        assert_eq!(area(&[], none).value, Area::from_square_metres(0.0));
    }
}
