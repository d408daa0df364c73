//! What bearings tell beside places: where north is, and where a needle was pulled aside.

use super::choose::Chosen;
use super::equation::{Shape, wrapped};
use super::observe::{Observation, Observed};
use super::result::{Finding, FoundNorth, ReadingRole};
use super::shared::What;
use super::solve::{SUSPECT_LIMIT, Statistics};
use crate::record::Record;
use crate::units::Angle;
use crate::units::float::{hypot, sqrt};
use std::f64::consts::PI;

/// Where each north is, as far as bearings between determined points tell.
pub(super) fn norths(seen: &Observed, chosen: &Chosen, statistics: &Statistics) -> Vec<FoundNorth> {
    let one = |(shared, node): (&super::shared::Shared, usize)| {
        let What::North(kind) = shared.what else { return None };
        let held = chosen.network.held.get(node)?;
        let ([direction, _], [variance, ..]) = (chosen.solved.x.get(node)?, statistics.covariance.get(node)?);
        (!held[0]).then(|| FoundNorth {
            direction: Angle::from_radians(wrapped(*direction)),
            sd: Angle::from_radians(sqrt(variance.max(0.0))),
            kind,
        })
    };
    seen.shared.iter().zip(seen.points.len()..).filter_map(one).collect()
}

/// Where a needle seems to have been pulled aside: a bearing far from what all readings agree on,
/// or a bearing and its back bearing that do not differ by half a turn. Beyond 3.29 standard
/// deviations, as for any suspect. That bearings taken at one spot are off alike, and that fore and
/// back bearing show it, is the textbook's test for local attraction.
pub(super) fn attractions(
    record: &Record,
    seen: &Observed,
    chosen: &Chosen,
    statistics: &Statistics,
) -> Vec<Finding> {
    let bearing = |o: &Observation| match o.equation.shape {
        Shape::Bearing { a, b, north } if o.role == ReadingRole::Bearing => Some((a, b, north)),
        _ => None,
    };
    let entry = |o: &Observation| record.measurements.get(o.measurement).map(|m| m.entry.clone());
    let mut out = Vec::new();
    let mut told = Vec::new();
    for (number, s) in chosen.active.iter().zip(&statistics.readings) {
        let Some(o) = seen.observations.get(*number) else { continue };
        let far = s.standardised.is_some_and(|w| w.abs() > SUSPECT_LIMIT);
        if let (Some((a, ..)), Some(entry), true) = (bearing(o), entry(o), far) {
            // The reading minus what it should be.
            let by = Angle::from_radians(wrapped(-s.residual));
            out.push(Finding::LocalAttraction { at: vec![seen.id(a)], entries: vec![entry], by });
            told.push(*number);
        }
    }
    let all: Vec<(usize, &Observation, (u32, u32, u32))> =
        seen.observations.iter().enumerate().filter_map(|(n, o)| Some((n, o, bearing(o)?))).collect();
    for (i, (n, fore, (a, b, north))) in all.iter().enumerate() {
        for (m, back, ends) in all.iter().skip(i + 1) {
            let by = wrapped(fore.equation.value - back.equation.value - PI);
            let far = by.abs() > SUSPECT_LIMIT * hypot(fore.equation.sd, back.equation.sd);
            let news = !told.contains(n) && !told.contains(m);
            if *ends == (*b, *a, *north) && far && news {
                out.push(Finding::LocalAttraction {
                    at: vec![seen.id(*a), seen.id(*b)],
                    entries: entry(fore).into_iter().chain(entry(back)).collect(),
                    by: Angle::from_radians(by),
                });
            }
        }
    }
    out
}
