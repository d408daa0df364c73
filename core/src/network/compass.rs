//! What bearings tell beside places: where north is, and where a needle was pulled aside.

use super::choose::Chosen;
use super::equation::{Shape, wrapped};
use super::observe::{Observation, Observed};
use super::result::{Finding, FoundNorth};
use super::shared::{Shared, What};
use super::solve::Statistics;
use crate::chance::suspect_limit;
use crate::record::{EntryId, Record};
use crate::units::Angle;
use crate::units::float::{hypot, sqrt};
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
/// half a turn within the limit of chance) both ends are free, and from a free end the other
/// end's error follows along the line: the textbook's way. Where that tells nothing, a bearing
/// whose standardised residual is beyond the limit says the same of its own end.
pub(super) fn attractions(
    record: &Record,
    seen: &Observed,
    chosen: &Chosen,
    statistics: &Statistics,
) -> Vec<Finding> {
    let observations = seen.observations.iter().enumerate();
    let bearings: Vec<Taken> = observations.filter_map(|(n, o)| Taken::of(seen, n, o)).collect();
    let sighted = Sighted::new(&bearings, seen.points.len());
    let entries = |taken: &[&Taken]| -> Vec<EntryId> {
        let entry = |t: &&Taken| record.measurements.get(t.observation.measurement).map(|m| m.entry.clone());
        taken.iter().filter_map(entry).collect()
    };
    let mut out = Vec::new();
    for (place, error) in sighted.errors.iter().enumerate() {
        let Some((by, _)) = error.filter(|(by, limit)| by.abs() > *limit) else { continue };
        let here: Vec<&Taken> = bearings.iter().filter(|t| t.place == place).collect();
        let Some(at) = here.first().map(|t| t.at) else { continue };
        let by = Angle::from_radians(by);
        out.push(Finding::LocalAttraction { at: vec![seen.id(at)], entries: entries(&here), by });
    }
    for (fore, back, by, _) in sighted.pairs.iter().filter(|p| sighted.open(p)) {
        let at = vec![seen.id(fore.at), seen.id(back.at)];
        let by = Angle::from_radians(*by);
        out.push(Finding::LocalAttraction { at, entries: entries(&[*fore, *back]), by });
    }
    for (number, s) in chosen.active.iter().zip(&statistics.readings) {
        let far = s.standardised.is_some_and(|w| w.abs() > statistics.limit);
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
    /// Number of its end and north: what lies near deflects all bearings there alike.
    place: usize,
}

impl<'a> Taken<'a> {
    fn of(seen: &Observed, number: usize, observation: &'a Observation) -> Option<Self> {
        let Shape::Bearing { a, b, north } = observation.equation.shape else { return None };
        // The norths, two at most, are the first of the shared numbers.
        let place = 2 * a as usize + (north as usize).saturating_sub(seen.points.len()).min(1);
        Some(Self { number, observation, at: a, to: b, place })
    }

    /// Whether it is the other's back bearing.
    fn faces(&self, other: &Self) -> bool {
        self.at == other.to && self.to == other.at && self.place % 2 == other.place % 2
    }
}

/// A bearing, its back bearing, by how much they miss half a turn, and how much they may.
type Pair<'a> = (&'a Taken<'a>, &'a Taken<'a>, f64, f64);

/// Bearings with their back bearings, and what follows for their ends.
struct Sighted<'a> {
    pairs: Vec<Pair<'a>>,
    /// By place the error of all bearings taken there, and how large it may be, where it is known.
    errors: Vec<Option<(f64, f64)>>,
}

impl<'a> Sighted<'a> {
    fn new(bearings: &'a [Taken<'a>], points: usize) -> Self {
        let mut pairs: Vec<Pair> = Vec::new();
        for (number, back) in bearings.iter().enumerate() {
            let alone = |t: &&Taken| !pairs.iter().any(|(_, taken, ..)| taken.number == t.number);
            let Some(fore) = bearings.iter().take(number).rfind(|fore| fore.faces(back)).filter(alone) else {
                continue;
            };
            let (f, b) = (fore.observation.equation, back.observation.equation);
            let by = wrapped(f.value - b.value - PI);
            pairs.push((fore, back, by, hypot(f.sd, b.sd)));
        }
        let limit = suspect_limit(pairs.len());
        pairs.iter_mut().for_each(|(.., most)| *most *= limit);
        let mut sighted = Self { pairs, errors: vec![None; 2 * points] };
        sighted.spread();
        sighted
    }

    fn error(&self, place: usize) -> Option<(f64, f64)> {
        self.errors.get(place).copied().flatten()
    }

    /// From lines whose bearings agree along all others: fore − back − 180° is the error at the
    /// one end less that at the other.
    fn spread(&mut self) {
        let mut known: Vec<(usize, f64, f64)> = Vec::new();
        for (fore, back, by, limit) in &self.pairs {
            if by.abs() <= *limit {
                known.extend([(fore.place, 0.0, *limit), (back.place, 0.0, *limit)]);
            }
        }
        while !known.is_empty() {
            for (place, error, limit) in known.drain(..) {
                if let Some(none @ None) = self.errors.get_mut(place) {
                    *none = Some((error, limit));
                }
            }
            for (fore, back, by, limit) in &self.pairs {
                match (self.error(fore.place), self.error(back.place)) {
                    (Some((error, _)), None) => known.push((back.place, error - by, *limit)),
                    (None, Some((error, _))) => known.push((fore.place, error + by, *limit)),
                    _ => {}
                }
            }
        }
    }

    /// Whether the ends' errors stay unknown: nothing near agrees.
    fn open(&self, (fore, _, by, limit): &Pair) -> bool {
        by.abs() > *limit && self.error(fore.place).is_none()
    }

    fn in_pairs(&self, taken: &Taken) -> bool {
        self.pairs.iter().any(|(fore, back, ..)| [fore.number, back.number].contains(&taken.number))
    }
}
