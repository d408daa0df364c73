//! What may have happened to a reading: usual slips, each tried by solving the network with the
//! measurement written as it should then have been.

use super::super::equation::{Place, sub};
use super::super::observe::Observation;
use super::super::result::{Cause, Correction, ReadingRole};
use super::super::solve::Network;
use super::Search;
use super::without::{STEPS, Without};
use crate::record::{EntryId, Measurement, PointId, Reading, Recorded};
use crate::slips::{Off, Slip, Written};
use crate::units::float::{hypot, ln, sqrt};
use crate::units::{BareUnit, Length, UnitSystem, sort_by};

/// A corrected reading agrees when it is no further from what the others expect (standard deviations).
const AGREES: f64 = 2.5;
/// Causes offered for one reading.
const MOST: usize = 3;
/// Two ties noted in each other's place stand this near in the book.
const SAME_PAGE: usize = 3;
/// Points so near that the tape may have gone to them instead: this many.
const NEIGHBOURS: usize = 2;
/// A neighbour's place is known this well at least (metres), when a tie is tried on it.
const NEIGHBOUR_SD: f64 = 0.02;
/// A hook or a ring is no longer than this (metres). Common practice, no source.
const LONGEST_HOOK: f64 = 0.3;
/// What is predicted no better than this (metres) says nothing about a hook.
const SHARP: f64 = 0.05;

/// A misread that no usual slip explains is this unlikely. Common practice, no source.
const NO_CAUSE: f64 = 12.0;
/// Spread (metres) of a sharp comparison, against which others are held.
const BLUR: f64 = 0.01;
/// Larger misreads (metres) are rarer still without such a slip. Common practice, no source.
const LARGE: f64 = 3.5;

/// What the others expect of a reading.
#[derive(Clone, Copy)]
pub(super) struct Expected {
    pub value: f64,
    pub sd: f64,
}

/// A slip with the measurements as they should have been written.
struct Idea {
    slip: Slip,
    reading: Option<Reading>,
    now: Vec<(usize, Measurement)>,
    /// What to try instead where the corrected measurement has more unknowns than the network.
    trial: Option<Measurement>,
}

impl Idea {
    /// What to try.
    fn tried(&self) -> Vec<(usize, &Measurement)> {
        match (&self.trial, self.now.first()) {
            (Some(trial), Some((number, _))) => vec![(*number, trial)],
            _ => self.now.iter().map(|(number, m)| (*number, m)).collect(),
        }
    }
}

/// How much less likely a slip is than the commonest, in squared standard deviations. Common
/// practice, no source.
fn cost(slip: &Slip, units: UnitSystem) -> f64 {
    let metric = units == UnitSystem::Metres;
    match slip {
        Slip::LookAlike { .. } => 0.0,
        Slip::OneFoot => {
            if metric {
                3.0
            } else {
                0.0
            }
        }
        Slip::TenFeet => {
            if metric {
                4.0
            } else {
                0.5
            }
        }
        Slip::OneMetre => {
            if metric {
                0.0
            } else {
                3.0
            }
        }
        // A rod's marks, never tried on a tape, stand with the other small ones.
        Slip::OneInch | Slip::TenCentimetres => 1.0,
        Slip::Transposed | Slip::OtherSide => 0.5,
        Slip::InchesAsTenths | Slip::TenthsAsInches | Slip::OtherEnd | Slip::OtherCorner => 1.0,
        Slip::Point => 1.0,
        Slip::OtherUnit => 1.5,
        Slip::Swapped { .. } => 2.0,
        Slip::Zero { .. } => 4.0,
        Slip::OtherPoint { .. } => 5.0,
    }
}

/// The other reading that a slip spoilt together with the first.
pub(super) fn also_explains(slip: &Slip) -> Option<(EntryId, usize)> {
    match slip {
        Slip::Swapped { entry, part } => Some((entry.clone(), *part)),
        _ => None,
    }
}

/// The number read for one part of a measurement.
pub(super) fn reading_at(m: &mut Measurement, part: usize, role: ReadingRole) -> Option<&mut Reading> {
    match (m, role) {
        (Measurement::Tie { reading, .. }, ReadingRole::Tie) => Some(reading),
        (Measurement::Run { readings, .. }, ReadingRole::Run) => {
            readings.get_mut(part).map(|r| &mut r.reading)
        }
        (Measurement::Offsets { rows, .. }, ReadingRole::Station) => {
            rows.get_mut(part).map(|r| &mut r.station)
        }
        (Measurement::Offsets { rows, .. }, ReadingRole::Offset) => rows.get_mut(part).map(|r| &mut r.offset),
        (Measurement::Walk { legs, .. }, ReadingRole::Wall) => {
            legs.get_mut(part).and_then(|l| l.length.as_mut())
        }
        _ => None,
    }
}

impl Search<'_> {
    /// The slips that would make a reading agree, likeliest first, and how unlikely the first is.
    pub(super) fn causes(&self, index: usize, without: &Without, expected: Expected) -> (Vec<Cause>, f64) {
        let mut found: Vec<(f64, Cause)> = Vec::new();
        let ideas = self.misread(index, without, expected).into_iter();
        let ideas = ideas.chain(self.misplaced(index, without, expected));
        for idea in ideas.chain(self.several(index)) {
            let Some(more) = self.agreeing(index, without, &idea) else { continue };
            let entry = |n: usize| self.record.measurements.get(n).map(|m| m.entry.clone());
            let cost = more + cost(&idea.slip, self.record.site.units);
            let corrections = idea.now.into_iter();
            let corrections = corrections.filter_map(|(n, now)| Some(Correction { entry: entry(n)?, now }));
            let cause = Cause { slip: idea.slip, reading: idea.reading, corrections: corrections.collect() };
            found.push((cost, cause));
        }
        sort_by(&mut found, |a, b| a.0.total_cmp(&b.0));
        let size = (self.observation(index).equation.value - expected.value).abs();
        let odd = if size > LARGE { 2.0 * NO_CAUSE } else { NO_CAUSE };
        // What is expected less sharply agrees with a slip more easily by chance.
        let blur = 2.0 * ln(hypot(self.observation(index).equation.sd, expected.sd) / BLUR);
        let least = found.first().map_or(odd, |(cost, _)| (*cost + blur).min(odd));
        let mut causes: Vec<Cause> = Vec::new();
        for (_, cause) in found {
            if causes.len() < MOST
                && causes.iter().all(|c| cause.reading.is_none() || c.reading != cause.reading)
            {
                causes.push(cause);
            }
        }
        (causes, least)
    }

    /// The slip over several readings, among those of the readings given, that leaves the least: the
    /// reading, all others it spoilt, and the sum of squares with the slip's cost.
    pub(super) fn slip_over_several(&self, of: &[usize]) -> Option<(usize, Vec<usize>, f64)> {
        let mut best: Option<(usize, Vec<usize>, f64)> = None;
        for &index in of {
            for idea in self.several(index) {
                let Some((network, changed)) = self.anew(&self.chosen.network, &idea) else { continue };
                let solved = network.approach(&self.chosen.solved.x, STEPS);
                let total = solved.chi_square + self.sides(&solved.x);
                let total = total + cost(&idea.slip, self.record.site.units);
                if changed.contains(&index) && best.as_ref().is_none_or(|(.., least)| total < *least) {
                    best = Some((index, changed.into_iter().filter(|&i| i != index).collect(), total));
                }
            }
        }
        best
    }

    fn of(&self, index: usize) -> Option<(&Observation, &Recorded<Measurement>)> {
        let o = self.observation(index);
        Some((o, self.record.measurements.get(o.measurement)?))
    }

    /// The value that part of a measurement would have in its equation, written so.
    fn value(&self, o: &Observation, m: &Recorded<Measurement>, what: Measurement) -> Option<f64> {
        let anew = self.seen.instead(self.record, o.measurement, &Recorded { what, ..m.clone() });
        anew.iter().find(|b| b.part == o.part && b.role == o.role).map(|b| b.equation.value)
    }

    fn agrees(&self, o: &Observation, value: f64, expected: Expected) -> bool {
        (value - expected.value).abs() < AGREES * hypot(o.equation.sd, expected.sd)
    }

    /// Slips in the number: what was written, corrected, agrees with what the others expect.
    fn misread(&self, index: usize, without: &Without, expected: Expected) -> Vec<Idea> {
        let Some((o, m)) = self.of(index) else { return Vec::new() };
        let mut old = m.what.clone();
        let Some(reading) = reading_at(&mut old, o.part, o.role) else { return Vec::new() };
        let written = Written::of(reading, BareUnit::from(self.record.site.units));
        let mut all = written.without_slips(Off::Tape);
        if let Some(total) = self.line(&m.what, &without.x).filter(|_| o.role != ReadingRole::Offset) {
            all.extend(written.write(total - reading.value.metres()).map(|r| (Slip::OtherEnd, r)));
        }
        let mut ideas = Vec::new();
        for (slip, r) in all {
            let mut now = m.what.clone();
            if let Some(reading) = reading_at(&mut now, o.part, o.role) {
                *reading = r.clone();
            }
            if self.value(o, m, now.clone()).is_some_and(|v| self.agrees(o, v, expected)) {
                ideas.push(Idea { slip, reading: Some(r), now: vec![(o.measurement, now)], trial: None });
            }
        }
        ideas
    }

    /// Length of the line a run or a baseline is taken along, in the plan.
    fn line(&self, m: &Measurement, x: &[Place]) -> Option<f64> {
        let (Measurement::Run { zero: a, toward: b, .. } | Measurement::Offsets { from: a, to: b, .. }) = m
        else {
            return None;
        };
        let place = |p| x.get(self.seen.number(p)? as usize).copied();
        Some(far(place(a)?, place(b)?))
    }

    /// Slips in where one number was taken: the other side, a neighbouring point.
    fn misplaced(&self, index: usize, without: &Without, expected: Expected) -> Vec<Idea> {
        let Some((o, m)) = self.of(index) else { return Vec::new() };
        let mut ideas = Vec::new();
        let mut add = |slip, now| {
            ideas.push(Idea { slip, reading: None, now: vec![(o.measurement, now)], trial: None });
        };
        if o.role == ReadingRole::Offset && self.agrees(o, -o.equation.value, expected) {
            let mut now = m.what.clone();
            if let Measurement::Offsets { rows, .. } = &mut now
                && let Some(row) = rows.get_mut(o.part)
            {
                row.side = row.side.other();
                add(Slip::OtherSide, now);
            }
        }
        if let Measurement::Tie { from, to, .. } = &m.what {
            for (end, stays) in [(to, from), (from, to)] {
                for q in self.neighbours(end, stays, without) {
                    let Some(s) = self.seen.number(stays) else { continue };
                    let there = [s, q].map(|p| without.x.get(p as usize).copied().unwrap_or_default());
                    let off = (far(there[0], there[1]) - o.equation.value).abs();
                    if off < AGREES * hypot(o.equation.sd, NEIGHBOUR_SD) {
                        let mut now = m.what.clone();
                        if let Measurement::Tie { from: f, to: t, .. } = &mut now {
                            *(if end == to { t } else { f }) = self.seen.id(q);
                        }
                        add(Slip::OtherPoint { point: self.seen.id(q) }, now);
                    }
                }
            }
        }
        ideas
    }

    /// Slips that spoil several readings at once: a run or baseline from the other corner, the tape's
    /// zero, two readings in each other's place.
    fn several(&self, index: usize) -> Vec<Idea> {
        let Some((o, m)) = self.of(index) else { return Vec::new() };
        let mut ideas = self.exchanged(o, m);
        let mut turned = m.what.clone();
        let rows = match &mut turned {
            Measurement::Run { zero, toward, readings, .. } => {
                for r in readings.iter_mut().filter(|r| r.point == *toward) {
                    r.point = zero.clone();
                }
                std::mem::swap(zero, toward);
                readings.len()
            }
            Measurement::Offsets { from, to, rows, .. } => {
                rows.iter_mut().for_each(|row| row.side = row.side.other());
                std::mem::swap(from, to);
                rows.len()
            }
            _ => 0,
        };
        if rows > 1 && o.role != ReadingRole::Offset {
            let now = vec![(o.measurement, turned)];
            ideas.push(Idea { slip: Slip::OtherCorner, reading: None, now, trial: None });
        }
        ideas.extend(self.hook(o, m));
        ideas
    }

    /// Two numbers changed places: in one entry, or of two ties near each other in the book.
    fn exchanged(&self, o: &Observation, m: &Recorded<Measurement>) -> Vec<Idea> {
        let mut ideas = Vec::new();
        let alone = matches!(o.role, ReadingRole::Station | ReadingRole::Offset);
        let others = self.chosen.active.iter().filter_map(|&n| self.seen.observations.get(n));
        for other in others.filter(|b| b.role == o.role) {
            let here = other.measurement == o.measurement;
            let near = other.measurement.abs_diff(o.measurement) <= SAME_PAGE && o.role == ReadingRole::Tie;
            let shares = other.equation.each().any(|p| o.equation.each().any(|q| p == q));
            if (here && other.part == o.part) || !(here || near && shares) {
                continue;
            }
            let Some(theirs) = self.record.measurements.get(other.measurement) else { continue };
            let mut a = m.what.clone();
            let mut now = Vec::new();
            if let Measurement::Offsets { rows, .. } = &mut a {
                // Whose row is whose: station and offset go together.
                let points = [o.part, other.part].map(|k| rows.get(k).map(|r| r.point.clone()));
                for (k, point) in [other.part, o.part].into_iter().zip(points).filter(|_| here) {
                    if let (Some(row), Some(point)) = (rows.get_mut(k), point) {
                        row.point = point;
                    }
                }
            } else {
                let mut b = theirs.what.clone();
                let (Some(mine), Some(their)) = (
                    reading_at(&mut a, o.part, o.role).cloned(),
                    reading_at(&mut b, other.part, other.role).cloned(),
                ) else {
                    continue;
                };
                let put = |m: &mut Measurement, part, reading: &Reading| {
                    if let Some(r) = reading_at(m, part, o.role) {
                        *r = reading.clone();
                    }
                };
                put(&mut a, o.part, &their);
                put(if here { &mut a } else { &mut b }, other.part, &mine);
                if !here {
                    now.push((other.measurement, b));
                }
            }
            let reading = reading_at(&mut a, o.part, o.role).filter(|_| !alone).cloned();
            now.insert(0, (o.measurement, a));
            let slip = Slip::Swapped { entry: theirs.entry.clone(), part: other.part };
            ideas.push(Idea { slip, reading, now, trial: None });
        }
        ideas
    }

    /// The points nearest to `end`, without the tie's other end.
    fn neighbours(&self, end: &PointId, stays: &PointId, without: &Without) -> Vec<u32> {
        let (Some(end), Some(stays)) = (self.seen.number(end), self.seen.number(stays)) else {
            return Vec::new();
        };
        let place = |p: u32| without.x.get(p as usize).copied().unwrap_or_default();
        let known = (0u32..).zip(&self.chosen.known).filter(|(p, known)| **known && *p != end && *p != stays);
        let mut near: Vec<(f64, u32)> = known.map(|(p, _)| (far(place(end), place(p)), p)).collect();
        sort_by(&mut near, |a, b| a.0.total_cmp(&b.0));
        near.into_iter().take(NEIGHBOURS).map(|(_, p)| p).collect()
    }

    /// What all checked readings of a run have too much in common, when that is as short as a hook:
    /// the run with an unknown zero.
    fn hook(&self, o: &Observation, m: &Recorded<Measurement>) -> Option<Idea> {
        let mut now = m.what.clone();
        let mut trial = m.what.clone();
        let Measurement::Run { zero_unknown: unknown @ false, .. } = &mut now else { return None };
        *unknown = true;
        let mine = |(_, n): &(usize, &usize)| {
            let b = self.seen.observations.get(**n);
            b.is_some_and(|b| b.measurement == o.measurement && b.role == ReadingRole::Run)
        };
        let all: Vec<usize> = self.chosen.active.iter().enumerate().filter(mine).map(|(i, _)| i).collect();
        let without = self.without(&all, &self.chosen.solved.x, false);
        let statistics = without.network.statistics(&without.x);
        let sharp = |&i: &usize| {
            let (e, s) = (self.chosen.network.equations.get(i)?, statistics.readings.get(i)?);
            let sd = hypot(e.sd, sqrt(s.variance));
            (sd < SHARP).then_some((-s.residual, sd))
        };
        let off: Vec<(f64, f64)> = all.iter().filter_map(sharp).collect();
        let (sum, weight) =
            off.iter().fold((0.0, 0.0), |(s, w), (d, sd)| (s + d / (sd * sd), w + 1.0 / (sd * sd)));
        let common = sum / weight;
        let agree = off.len() > 1
            && common.abs() < LONGEST_HOOK
            && common.abs() * sqrt(weight) > AGREES
            && off.iter().all(|(d, sd)| (d - common).abs() < AGREES * sd);
        if let Measurement::Run { readings, .. } = &mut trial {
            let off = Length::from_metres(common);
            readings.iter_mut().for_each(|r| r.reading.value -= off);
        }
        let slip = Slip::Zero { off: Length::from_metres(common) };
        agree.then(|| Idea { slip, reading: None, now: vec![(o.measurement, now)], trial: Some(trial) })
    }

    /// A network with measurements written anew, and the equations that changed.
    fn anew(&self, network: &Network, idea: &Idea) -> Option<(Network, Vec<usize>)> {
        let mut network = network.clone();
        let mut changed = Vec::new();
        for (number, what) in idea.tried() {
            let old = self.record.measurements.get(number)?;
            let m = Recorded { what: what.clone(), ..old.clone() };
            let anew = self.seen.instead(self.record, number, &m);
            for (i, &n) in self.chosen.active.iter().enumerate() {
                let Some(o) = self.seen.observations.get(n).filter(|o| o.measurement == number) else {
                    continue;
                };
                let mut e = anew.iter().find(|b| b.part == o.part && b.role == o.role)?.equation;
                e.share_as(&o.equation);
                let known = e.each().all(|p| self.chosen.known.get(p) == Some(&true));
                if known && e != o.equation {
                    *network.equations.get_mut(i)? = e;
                    changed.push(i);
                }
            }
        }
        Some((network, changed))
    }

    /// Solves with measurements written anew and the rest as found so far: how much the sum of squares
    /// then is above that without the reading; none when the corrected readings do not agree.
    fn agreeing(&self, index: usize, without: &Without, idea: &Idea) -> Option<f64> {
        let (network, changed) = self.anew(&without.network, idea)?;
        let back = changed.iter().filter(|i| **i == index || self.out.contains(i));
        let limit = back.fold(0.0, |sum, _| sum + AGREES * AGREES);
        let solved = network.approach(&without.x, STEPS);
        let more = solved.chi_square - without.chi_square;
        (changed.contains(&index) && more < limit).then_some(more)
    }
}

fn far(a: Place, b: Place) -> f64 {
    let [x, y] = sub(b, a);
    hypot(x, y)
}
