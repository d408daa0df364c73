//! How far off each point may stand though nothing shows.

#![expect(clippy::indexing_slicing, reason = "point and equation numbers index lists made together")]

use super::block::Sym;
use super::equation::{Place, dot};
use super::inner::Inner;
use super::solve::{Network, Statistics};
use crate::chance::UNCHECKED;
use crate::units::float::sqrt;

/// A point is checked when it stands no further off than this though nothing shows: 1 ft.
pub(super) const UNSEEN_SHIFT: f64 = 0.3048;
/// The largest misread reckoned with, a 6 taken for a 9 in the feet and some: 1 m.
const LARGEST_MISREAD: f64 = 1.0;

/// How far off a point may stand though nothing shows, squared (m²): by chance, with the variance `own`
/// and as many standard deviations as a misread has that passes unseen, and by that misread in a reading
/// with which the point shares the covariance `shared`.
///
/// Chance is counted in because a reading more then makes no point worse: where the misread is the smallest
/// detectable, this is δ² times the variance that the point has with the reading left out. The misread
/// alone may move a point further than before that has come to rest on more readings, and stands the better.
pub(super) fn exposure(own: Sym, shared: Place, reading: Hidden) -> f64 {
    let part = dot(shared, shared) / (reading.variance * reading.variance);
    reading.unseen * reading.unseen * (own[0] + own[2]).max(0.0) + part * reading.misread * reading.misread
}

/// What may be wrong with a reading though nothing shows.
#[derive(Clone, Copy)]
pub(super) struct Hidden {
    variance: f64,
    /// Standard deviations over √r that pass unseen.
    unseen: f64,
    /// The largest misread that passes unseen (metres).
    misread: f64,
}

impl Hidden {
    /// Of a reading of this redundancy and standard deviation, where one of `unseen` standard deviations over
    /// √r passes. In a reading that nothing checks any does, though it be sharp.
    pub(super) fn new(redundancy: f64, sd: f64, unseen: f64) -> Self {
        let shown = if redundancy >= UNCHECKED { unseen * sd / sqrt(redundancy) } else { LARGEST_MISREAD };
        Self { variance: sd * sd, unseen, misread: shown.min(LARGEST_MISREAD) }
    }

    /// By chance alone.
    pub(super) const fn none(unseen: f64) -> Self {
        Self { variance: 1.0, unseen, misread: 0.0 }
    }
}

/// The plan as a whole, and how far off its points may stand in it.
pub(super) struct Exposed {
    /// The plan without its held pair.
    pub inner: Inner,
    /// For each point its largest [`exposure`] to any reading.
    pub most: Vec<f64>,
}

impl Exposed {
    /// Of the determined points among all. `read` says which equations somebody read off something: a misread
    /// can hide only there.
    pub(super) fn new(
        network: &Network,
        statistics: &Statistics,
        x: &[Place],
        known: &[bool],
        read: &[bool],
    ) -> Self {
        let spare = spare(network, statistics, known);
        let inner = Inner::new(network, statistics, &x[..known.len()], &spare);
        let most = exposures(network, statistics, x, known, read, &inner);
        Self { inner, most }
    }
}

/// What a point counts that nothing checks.
const HANGING: f64 = 1e-6;

/// How well each point is checked, as a weight.
fn spare(network: &Network, statistics: &Statistics, known: &[bool]) -> Vec<f64> {
    let mut spare = vec![0.0; network.held.len()];
    for (e, s) in network.equations.iter().zip(&statistics.readings) {
        for p in e.each() {
            spare[p] += s.redundancy;
        }
    }
    let weight = |(spare, known): (&f64, &bool)| match known {
        true => (spare * spare).max(HANGING),
        false => 0.0,
    };
    spare.iter().zip(known).map(weight).collect()
}

/// For every point its largest exposure. By the inequality of Cauchy and Schwarz no point shares more with a
/// reading than the root of both variances' product, so that columns of Q are needed only for readings that
/// little checks.
fn exposures(
    network: &Network,
    statistics: &Statistics,
    x: &[Place],
    known: &[bool],
    read: &[bool],
    inner: &Inner,
) -> Vec<f64> {
    let limit = UNSEEN_SHIFT * UNSEEN_SHIFT;
    let chance = |q: &Sym| exposure(*q, [0.0; 2], Hidden::none(statistics.unseen));
    let mut most: Vec<f64> = inner.covariance.iter().map(chance).collect();
    let sure =
        most.iter().zip(known).zip(&inner.covariance).filter(|((most, known), _)| **known && **most <= limit);
    let share = sure.map(|((most, _), q)| (q[0] + q[2]) / (limit - most).max(f64::MIN_POSITIVE));
    let worst = share.fold(0.0, f64::max);
    let own = most.clone();
    let mut column = Vec::new();
    let readings = network.equations.iter().zip(&statistics.readings).zip(read);
    for ((e, s), _) in readings.filter(|(_, read)| **read) {
        let reading = Hidden::new(s.redundancy, e.sd, statistics.unseen);
        let part = s.variance.max(0.0) / (reading.variance * reading.variance);
        if worst * part * reading.misread * reading.misread <= 1.0 {
            continue;
        }
        statistics.measured_into(network, x, e, &mut column);
        let without = inner.without(&column);
        for (p, _) in known.iter().enumerate().filter(|(_, known)| **known) {
            let here = own[p] + exposure([0.0; 3], without(p), reading);
            most[p] = most[p].max(here);
        }
    }
    most
}
