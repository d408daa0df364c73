//! What bearings tell beside places: where north is, and where a needle was pulled aside.

use super::choose::Chosen;
use super::equation::{Shape, wrapped};
use super::observe::{Observation, Observed};
use super::result::{Finding, FoundNorth};
use super::shared::{Shared, What};
use super::solve::{SUSPECT_LIMIT, Statistics};
use crate::record::{EntryId, Record};
use crate::units::Angle;
use crate::units::float::{hypot, sqrt};
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// Where each north is, as far as bearings between determined points tell.
pub(super) fn norths(seen: &Observed, chosen: &Chosen, statistics: &Statistics) -> Vec<FoundNorth> {
    let one = |(shared, node): (&Shared, usize)| {
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

/// Where a needle seems to have been pulled aside.
///
/// Fore and back bearings come first, since they need no other reading: where they agree (differ by
/// half a turn within 3.29 standard deviations) both ends are free, and from a free end the other
/// end's error follows along the line: the textbook's way. Where that tells nothing, a bearing
/// whose standardised residual is beyond 3.29 says the same of its own end.
pub(super) fn attractions(
    record: &Record,
    seen: &Observed,
    chosen: &Chosen,
    statistics: &Statistics,
) -> Vec<Finding> {
    let bearings: Vec<Taken> = seen.observations.iter().enumerate().filter_map(Taken::of).collect();
    let sighted = Sighted::new(&bearings);
    let entries = |taken: &[&Taken]| -> Vec<EntryId> {
        let entry = |t: &&Taken| record.measurements.get(t.observation.measurement).map(|m| m.entry.clone());
        taken.iter().filter_map(entry).collect()
    };
    let mut out = Vec::new();
    for (&(at, north), &(by, limit)) in &sighted.errors {
        if by.abs() <= limit {
            continue;
        }
        let here: Vec<&Taken> = bearings.iter().filter(|t| (t.at, t.north) == (at, north)).collect();
        let by = Angle::from_radians(by);
        out.push(Finding::LocalAttraction { at: vec![seen.id(at)], entries: entries(&here), by });
    }
    for (fore, back, by, _) in sighted.pairs.iter().filter(|p| sighted.open(p)) {
        let at = vec![seen.id(fore.at), seen.id(back.at)];
        let by = Angle::from_radians(*by);
        out.push(Finding::LocalAttraction { at, entries: entries(&[*fore, *back]), by });
    }
    for (number, s) in chosen.active.iter().zip(&statistics.readings) {
        let far = s.standardised.is_some_and(|w| w.abs() > SUSPECT_LIMIT);
        let Some(taken) = bearings.iter().find(|t| t.number == *number && far) else { continue };
        if sighted.in_pairs(taken) {
            continue;
        }
        // The reading minus what it should be.
        let by = Angle::from_radians(wrapped(-s.residual));
        out.push(Finding::LocalAttraction { at: vec![seen.id(taken.at)], entries: entries(&[taken]), by });
    }
    out
}

/// A bearing as it was taken.
struct Taken<'a> {
    number: usize,
    observation: &'a Observation,
    at: u32,
    to: u32,
    north: u32,
}

impl<'a> Taken<'a> {
    fn of((number, observation): (usize, &'a Observation)) -> Option<Self> {
        match observation.equation.shape {
            Shape::Bearing { a, b, north } => Some(Self { number, observation, at: a, to: b, north }),
            _ => None,
        }
    }
}

/// A bearing, its back bearing, by how much they miss half a turn, and how much they may.
type Pair<'a> = (&'a Taken<'a>, &'a Taken<'a>, f64, f64);

/// Bearings with their back bearings, and what follows for their ends.
struct Sighted<'a> {
    pairs: Vec<Pair<'a>>,
    /// For each place and north the error of all bearings taken there, and how large it may be.
    errors: BTreeMap<(u32, u32), (f64, f64)>,
}

impl<'a> Sighted<'a> {
    fn new(bearings: &'a [Taken<'a>]) -> Self {
        let mut first: BTreeMap<(u32, u32, u32), &Taken> = BTreeMap::new();
        let mut pairs = Vec::new();
        for back in bearings {
            if let Some(fore) = first.remove(&(back.to, back.at, back.north)) {
                let (f, b) = (fore.observation.equation, back.observation.equation);
                let by = wrapped(f.value - b.value - PI);
                pairs.push((fore, back, by, SUSPECT_LIMIT * hypot(f.sd, b.sd)));
            } else {
                first.insert((back.at, back.to, back.north), back);
            }
        }
        let mut sighted = Self { pairs, errors: BTreeMap::new() };
        sighted.spread();
        sighted
    }

    /// From lines whose bearings agree along all others: fore − back − 180° is the error at the
    /// one end less that at the other.
    fn spread(&mut self) {
        for (fore, back, by, limit) in &self.pairs {
            if by.abs() <= *limit {
                self.errors.insert((fore.at, fore.north), (0.0, *limit));
                self.errors.insert((back.at, back.north), (0.0, *limit));
            }
        }
        loop {
            let before = self.errors.len();
            for (fore, back, by, limit) in &self.pairs {
                let (one, other) = ((fore.at, fore.north), (back.at, back.north));
                match (self.errors.get(&one).copied(), self.errors.get(&other).copied()) {
                    (Some((error, _)), None) => {
                        self.errors.insert(other, (error - by, *limit));
                    }
                    (None, Some((error, _))) => {
                        self.errors.insert(one, (error + by, *limit));
                    }
                    _ => {}
                }
            }
            if self.errors.len() == before {
                return;
            }
        }
    }

    /// Whether the ends' errors stay unknown: nothing near agrees.
    fn open(&self, (fore, _, by, limit): &Pair) -> bool {
        by.abs() > *limit && !self.errors.contains_key(&(fore.at, fore.north))
    }

    fn in_pairs(&self, taken: &Taken) -> bool {
        self.pairs.iter().any(|(fore, back, ..)| [fore.number, back.number].contains(&taken.number))
    }
}
