//! How well two points are known against each other.

#![expect(clippy::indexing_slicing, reason = "point numbers index lists made with the point count")]

use super::equation::{Equation, Place, dot, ray, sub};
use super::observe::Observed;
use super::result::{Adjustment, Ellipse};
use super::solve::{Network, Statistics, ellipse};
use crate::record::{PointId, Record};
use crate::units::float::{hypot, sqrt};
use crate::units::{Angle, Length};
use serde::Serialize;

/// One point as seen from another.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Relative {
    /// Their distance in the plan.
    pub distance: Length,
    /// Its standard deviation (a priori).
    pub distance_sd: Length,
    /// The 95 % ellipse of where the one stands, the other taken as given: what counts for a thing
    /// built between the two, whatever the held point's distance.
    pub ellipse: Ellipse,
}

/// How well two points are known against each other: from the covariance of their difference,
/// Q = Qa + Qb − Qab − Qabᵀ (C. Ghilani and P. Wolf, Adjustment Computations, relative error ellipses).
/// None where one of them is loose, or both are one.
///
/// `adjustment` must be of this record. Factorises once more: for figures asked for, not for every entry.
#[must_use]
pub fn relative(record: &Record, adjustment: &Adjustment, a: &PointId, b: &PointId) -> Option<Relative> {
    let place = |p| adjustment.points.get(p)?.at.map(|at| at.metres().into());
    let (from, to): (Place, Place) = (place(a)?, place(b)?);
    let Again { seen, network, statistics, .. } = Again::new(record, adjustment)?;
    let (one, two) = (seen.number(a)?, seen.number(b)?);
    // Each coordinate of the difference is a reading nobody took. What is held does not move.
    let axis = |k: usize| {
        let ends = [(one, -1.0), (two, 1.0)];
        let gradient = ends.map(|(p, sign)| {
            let mut g = [0.0; 2];
            g[k] = if network.held[p as usize][k] { 0.0 } else { sign };
            g
        });
        let column = statistics.column(&[one, two], &gradient);
        sub(column.at(two as usize), column.at(one as usize))
    };
    let (rows, [u, v]) = ([axis(0), axis(1)], ray(from, to).0);
    let covariance = [rows[0][0], rows[0][1], rows[1][1]];
    let along = dot([u, v], [dot(rows[0], [u, v]), dot(rows[1], [u, v])]);
    let (major, minor, direction) = ellipse(covariance);
    let [dx, dy] = sub(to, from);
    (one != two).then(|| Relative {
        distance: Length::from_metres(hypot(dx, dy)),
        distance_sd: Length::from_metres(sqrt(along.max(0.0))),
        ellipse: Ellipse {
            semi_major: Length::from_metres(major),
            semi_minor: Length::from_metres(minor),
            direction: Angle::from_radians(direction),
        },
    })
}

/// How well all points are known together: for what depends on several of them.
pub struct Joint(Again);

impl Joint {
    /// Of all determined points. None where nothing is held.
    ///
    /// `adjustment` must be of this record. Factorises once more: for figures asked for, not for every entry.
    #[must_use]
    pub fn new(record: &Record, adjustment: &Adjustment) -> Option<Self> {
        Again::new(record, adjustment).map(Self)
    }

    /// The standard deviation of what changes with these points by this gradient (to x and to y, one for each
    /// point), from the full covariance of the points: √(g·Q·gᵀ) (C. Ghilani and P. Wolf, Adjustment Computations,
    /// propagation of errors). In the gradient's unit times metres. None where a point is loose, or unknown here.
    #[must_use]
    pub fn sd(&self, points: &[PointId], gradient: &[[f64; 2]]) -> Option<f64> {
        let Again { seen, network, statistics, places, .. } = &self.0;
        if points.len() != gradient.len() {
            return None;
        }
        let known = |id| seen.number(id).filter(|p| places[*p as usize].is_some());
        let numbers: Vec<u32> = points.iter().map(known).collect::<Option<_>>()?;
        // What is held does not move.
        let moves = |(p, g): (&u32, &[f64; 2])| network.blind(*p as usize, *g);
        let gradient: Vec<Place> = numbers.iter().zip(gradient).map(moves).collect();
        let column = statistics.column(&numbers, &gradient);
        let variance: f64 = numbers.iter().zip(&gradient).map(|(p, g)| dot(*g, column.at(*p as usize))).sum();
        Some(sqrt(variance.max(0.0)))
    }
}

/// An adjustment's network at its places, factorised once more.
pub(super) struct Again {
    pub seen: Observed,
    /// The places of the determined points.
    pub places: Vec<Option<Place>>,
    pub network: Network,
    /// The places of all nodes.
    pub x: Vec<Place>,
    pub statistics: Statistics,
}

impl Again {
    /// None where nothing is held.
    pub(super) fn new(record: &Record, adjustment: &Adjustment) -> Option<Self> {
        let seen = Observed::of(record);
        let place = |p| adjustment.points.get(p)?.at.map(|at| at.metres().into());
        let places: Vec<Option<Place>> = seen.points.iter().map(place).collect();
        let (base, toward) = adjustment.held.as_ref()?;
        let held = (seen.number(base)? as usize, seen.number(toward)? as usize);
        let network = placed(&seen, held, &places);
        let x = nodes(&seen, &places);
        let statistics = network.statistics(&x);
        Some(Self { seen, places, network, x, statistics })
    }
}

/// The equations all of whose points have a place, with this pair held.
pub(super) fn placed(seen: &Observed, (a, b): (usize, usize), places: &[Option<Place>]) -> Network {
    let whole = |e: &Equation| e.each().all(|p| places[p].is_some());
    let equations: Vec<Equation> = seen.observations.iter().map(|o| o.equation).filter(whole).collect();
    let mut held: Vec<[bool; 2]> = places.iter().map(|p| [p.is_none(); 2]).collect();
    held[a] = [true; 2];
    held[b][1] = true;
    held.extend(seen.held_values(&equations));
    Network { equations, held }
}

/// The places of all nodes: of the points, and what follows from them for shared numbers.
pub(super) fn nodes(seen: &Observed, places: &[Option<Place>]) -> Vec<Place> {
    let mut x: Vec<Place> = places.iter().map(|p| p.unwrap_or_default()).collect();
    x.extend(seen.first_values(&|p| places.get(p as usize).copied().flatten()));
    x
}
