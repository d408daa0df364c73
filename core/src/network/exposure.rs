//! How far off each point may stand though nothing shows.

#![expect(clippy::indexing_slicing, reason = "point and equation numbers index lists made together")]

use super::block::Sym;
use super::equation::{Place, dot};
use super::inner::Inner;
use super::solve::{Network, Statistics};
use crate::chance::UNCHECKED;
use crate::units::float::sqrt;
use crate::units::sort_by;

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

/// The plan as a whole, and which of its points may stand too far off though nothing shows.
pub(super) struct Exposed {
    /// The plan without its held pair.
    pub inner: Inner,
    /// For each point whether its [`exposure`] to every reading stays below [`UNSEEN_SHIFT`].
    pub checked: Vec<bool>,
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
        let inner = whole(network, statistics, x, known);
        let checked = checked(network, statistics, x, known, read, &inner);
        Self { inner, checked }
    }
}

/// The plan as a whole, without its held pair.
pub(super) fn whole(network: &Network, statistics: &Statistics, x: &[Place], known: &[bool]) -> Inner {
    Inner::new(network, statistics, &x[..known.len()], &spare(network, statistics, known))
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

/// A determined point that no reading looked at so far leaves too far off.
struct Standing {
    point: usize,
    /// Its own variance, in both directions together.
    variance: f64,
    /// Of that what does not come from the readings looked at (each gives |Q·Jᵀ|²/σ², all together the variance).
    rest: f64,
    /// How much larger its exposure may be than by chance alone.
    room: f64,
}

/// Which points are checked. A column of Q is needed only for a reading that could leave a point too far off: by the
/// inequality of Cauchy and Schwarz none shares more with a point than the root of both variances' product allows, nor
/// more than the readings before it left. Those that could do most come first, since a point found wanting need not be
/// looked at again.
fn checked(
    network: &Network,
    statistics: &Statistics,
    x: &[Place],
    known: &[bool],
    read: &[bool],
    inner: &Inner,
) -> Vec<bool> {
    let chance = Hidden::none(statistics.unseen);
    let stands = |(point, q): (usize, &Sym)| {
        let (variance, room) = (q[0] + q[2], UNSEEN_SHIFT * UNSEEN_SHIFT - exposure(*q, [0.0; 2], chance));
        (known[point] && room >= 0.0).then_some(Standing { point, variance, rest: variance, room })
    };
    let mut standing: Vec<Standing> = inner.covariance.iter().enumerate().filter_map(stands).collect();
    // For each reading what a misread does per share of a point's variance, at the most, and of what it gives.
    let load = |number: usize| {
        let (e, s) = (&network.equations[number], &statistics.readings[number]);
        let reading = Hidden::new(s.redundancy, e.sd, statistics.unseen);
        let misread = reading.misread * reading.misread / reading.variance;
        (number, s.variance.max(0.0) / reading.variance * misread, misread, reading)
    };
    let mut loads: Vec<_> = (0..read.len()).filter(|number| read[*number]).map(load).collect();
    sort_by(&mut loads, |a, b| b.1.total_cmp(&a.1));
    let mut column = Vec::new();
    for (number, most, misread, reading) in loads {
        if !standing.iter().any(|p| (p.variance * most).min(p.rest * misread) > p.room) {
            continue;
        }
        let e = &network.equations[number];
        let gradient = statistics.measured_into(network, x, e, &mut column);
        let motion = inner.fit_of(statistics, &e.points()[..e.count()], &gradient);
        let without = inner.without(&column, motion);
        standing.retain_mut(|p| {
            let shared = without(p.point);
            p.rest -= dot(shared, shared) / reading.variance;
            exposure([0.0; 3], shared, reading) <= p.room
        });
    }
    let mut checked = vec![false; known.len()];
    standing.iter().for_each(|p| checked[p.point] = true);
    checked
}
