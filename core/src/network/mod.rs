//! The adjustment: from readings to the most likely places of all points, and how well each is known.
//!
//! Public face: [`adjust`] takes the record and returns an [`Adjustment`]. It never fails: what
//! cannot be determined is named as loose and left out without disturbing the rest.
//!
//! ```text
//! record -> observe -> first positions -> choose (solve each way) -> statistics -> states, findings
//! ```
//! * `observe`: the record's measurements as scalar equations, said sides, and bonds to build from;
//! * `first`: first positions from the readings, never from the sketch;
//! * `choose`: the way of standing that the readings like best; loose points taken out by rank;
//! * [`kernel`]: equations, sparse factorisation, Gauss-Newton, statistics;
//! * `suspects`: which reading is wrong where they contradict, and what may have happened;
//! * `judge`, `loose`, `groups`: the results in words;
//! * `advice`: what to measure next;
//! * `relative`: how well points are known against each other.

mod advice;
mod block;
mod choose;
mod compass;
mod discern;
mod equation;
mod exposure;
mod factor;
mod first;
mod groups;
mod inner;
mod judge;
mod loose;
mod observe;
mod ordering;
mod relative;
mod result;
mod shared;
mod solve;
mod suspects;

pub use crate::chance::UNCHECKED;
pub use crate::slips::Slip;
pub use advice::{Advice, AdviceKind, Purpose, Reach, Turned, advice};
pub use discern::{Discern, discern};
pub use relative::{Joint, Relative, relative};
pub use result::{
    AdjustedReading, Adjustment, Agreement, Cause, Correction, Doubt, Ellipse, Finding, Fix, FoundNorth,
    Freedom, PointState, Quantity, ReadingRole, Rival, SideQuestion,
};

/// The least-squares kernel in bare numbers (one unit of length throughout, radians), open for
/// checks against published networks. The product itself calls [`adjust`].
pub mod kernel {
    pub use super::equation::{Equation, Place, Row, Shape};
    pub use super::solve::{ELLIPSE_95, Network, ReadingStatistics, Solved, Statistics, ellipse};
    pub use crate::chance::{detectable, suspect_limit, variance_interval};
}

use crate::record::{PointId, Record, Side, SideOf};
use crate::units::{Angle, Length, PlanPoint};
use choose::{Chosen, choose};
use equation::{Equation, Place, Shape};
use first::Field;
use groups::Group;
use litemap::LiteMap;
use observe::{Observation, Observed, Said};
use solve::{ReadingStatistics, Statistics, ellipse};
use suspects::{Case, Look, Suspicion};

/// Adjusts everything the record holds.
#[must_use]
pub fn adjust(record: &Record) -> Adjustment {
    adjusted(record, suspects::look)
}

/// As [`adjust`], but where readings contradict none is suspected and no point disputed: all that a phone knows
/// before the rest of its program has come.
#[must_use]
pub fn adjust_unsuspecting(record: &Record) -> Adjustment {
    adjusted(record, |_, _, _, _| Suspicion::default())
}

// One copy, whoever looks for suspects.
#[inline(never)]
fn adjusted(record: &Record, look: Look) -> Adjustment {
    let seen = Observed::of(record);
    let sketch = sketched(record, &seen);
    let chosen = match Field::new(&seen, &sketch).ways().filter(|ways| !ways.drafts.is_empty()) {
        Some(ways) => choose(&seen, &ways),
        None => Chosen {
            known: vec![false; seen.points.len()],
            drafted: vec![None; seen.points.len()],
            solved: solve::Solved { x: vec![[0.0; 2]; seen.nodes()], settled: true, ..Default::default() },
            network: kernel::Network { equations: Vec::new(), held: vec![[true; 2]; seen.nodes()] },
            ..Chosen::default()
        },
    };
    Report { record, seen: &seen, chosen: &chosen, sketch: &sketch, look }.write()
}

/// Where each point was drawn.
fn sketched(record: &Record, seen: &Observed) -> Vec<Option<Place>> {
    let drawn = |p| record.sketch.get(p).filter(|at| at.is_finite()).map(|at| at.metres().into());
    seen.points.iter().map(drawn).collect()
}

struct Report<'a> {
    record: &'a Record,
    seen: &'a Observed,
    chosen: &'a Chosen,
    sketch: &'a [Option<Place>],
    look: Look,
}

impl Report<'_> {
    fn write(&self) -> Adjustment {
        let Self { record, seen, chosen, .. } = *self;
        let statistics = chosen.network.statistics(&chosen.solved.x);
        let Suspicion { cases, mut findings, without } = (self.look)(record, seen, chosen, &statistics);
        let groups = groups::groups(seen, chosen, self.sketch);
        let unknowns = chosen.network.held.iter().flatten().filter(|held| !**held).count();
        let redundancy = chosen.network.equations.len().saturating_sub(unknowns);
        let chi_square = chosen.solved.chi_square;
        findings.extend(judge::findings(record, seen, chosen, &statistics, without.as_deref()));
        findings.extend(groups::findings(record, seen, &groups));
        findings.extend(compass::attractions(record, seen, chosen, &statistics));
        findings.extend(observe::unknown_thickness(record));
        Adjustment {
            points: self.points(&statistics, &cases, &groups),
            readings: self.readings(&statistics),
            held: chosen.held.map(|(a, b)| (seen.id(a), seen.id(b))),
            chi_square,
            redundancy,
            suspect_limit: statistics.limit,
            #[expect(clippy::cast_precision_loss, reason = "a count of readings is far below 2^52")]
            variance_factor: (redundancy > 0).then(|| chi_square / redundancy as f64),
            variance_interval: crate::chance::variance_interval(chi_square, redundancy),
            questions: chosen.open.iter().filter_map(|open| self.question(open)).collect(),
            norths: compass::norths(seen, chosen, &statistics),
            findings,
        }
    }

    fn points(&self, statistics: &Statistics, cases: &[Case], groups: &[Group]) -> LiteMap<PointId, Fix> {
        let states = judge::states(self.seen, self.chosen, statistics, cases);
        let loose = loose::loose(self.seen, self.chosen, self.sketch, groups);
        let mut points = LiteMap::new();
        for ((p, id), (state, loose)) in
            self.seen.points.iter().enumerate().zip(states.into_iter().zip(loose))
        {
            let at = self.chosen.solved.x.get(p).copied().unwrap_or_default();
            let covariance = statistics.covariance.get(p).copied().unwrap_or_default();
            points.insert(id.clone(), fix(at, covariance, state, loose));
        }
        points
    }

    fn readings(&self, statistics: &Statistics) -> Vec<AdjustedReading> {
        let mut active = self.chosen.active.iter().zip(&statistics.readings).peekable();
        let one = |(number, o): (usize, &Observation)| {
            let mine = active.next_if(|(n, _)| **n == number).map(|(_, s)| *s);
            self.reading(o, mine)
        };
        self.seen.observations.iter().enumerate().map(one).collect()
    }

    fn reading(&self, o: &Observation, s: Option<ReadingStatistics>) -> AdjustedReading {
        let e = &o.equation;
        let sign = sense(e);
        AdjustedReading {
            entry: self.record.measurements.get(o.measurement).map_or_else(|| "".into(), |m| m.entry.clone()),
            part: o.part,
            role: o.role,
            points: e.each().filter_map(|p| self.seen.points.get(p).cloned()).collect(),
            observed: quantity(e, e.value),
            adjusted: s.map(|s| quantity(e, e.value + s.residual)),
            residual: s.map(|s| difference(e, sign * s.residual)),
            sd: difference(e, e.sd),
            redundancy: s.map(|s| s.redundancy),
            standardised: s.and_then(|s| s.standardised).map(|w| sign * w),
            smallest_detectable: s.and_then(|s| s.detectable).map(|d| difference(e, d)),
        }
    }

    fn question(&self, open: &choose::Open) -> Option<SideQuestion> {
        let [a, b] = open.base;
        let h = self.chosen.stands(a, b, open.point)?;
        let assumed = if h >= 0.0 { Side::Left } else { Side::Right };
        let mut x = self.chosen.solved.x.clone();
        let mut against = |at: Place| {
            if let Some(place) = x.get_mut(open.point as usize) {
                *place = at;
            }
            let mine = self.seen.said.iter().filter(|said| said.p == open.point);
            let stands = |said: &Said| self.chosen.stands_at(&x, said.a, said.b, said.p);
            mine.filter_map(|said| Some((stands(said)? > 0.0) != said.left)).any(|against| against)
        };
        let here = *self.chosen.solved.x.get(open.point as usize)?;
        Some(SideQuestion {
            contradicted: against(here) && against(open.other),
            point: self.seen.id(open.point),
            assumed: SideOf { from: self.seen.id(a), to: self.seen.id(b), side: assumed },
            other: plan(open.other),
        })
    }
}

/// A difference of values of an equation, or its spread.
fn difference(e: &Equation, value: f64) -> Quantity {
    match e.shape {
        Shape::Square { .. } | Shape::Angle { .. } | Shape::Bearing { .. } | Shape::Parallel { .. } => {
            Quantity::Angle(Angle::from_radians(value))
        }
        _ => Quantity::Length(Length::from_metres(value)),
    }
}

/// A value of an equation as people think of it.
fn quantity(e: &Equation, value: f64) -> Quantity {
    let zero = if matches!(e.shape, Shape::Square { .. }) { std::f64::consts::FRAC_PI_2 } else { 0.0 };
    difference(e, zero + sense(e) * value)
}

/// A square corner's equation is the cosine, which falls as the angle grows; people think of the angle.
const fn sense(e: &Equation) -> f64 {
    if matches!(e.shape, Shape::Square { .. }) { -1.0 } else { 1.0 }
}

fn fix(at: Place, covariance: [f64; 3], state: PointState, loose: Option<loose::Loose>) -> Fix {
    let (freedom, guess) = loose.map_or((None, None), |l| (Some(l.freedom), l.guess));
    let known = freedom.is_none();
    let (major, minor, direction) = ellipse(covariance);
    let ellipse = Ellipse {
        semi_major: Length::from_metres(major),
        semi_minor: Length::from_metres(minor),
        direction: Angle::from_radians(direction),
    };
    Fix {
        at: known.then_some(plan(at)),
        guess: guess.map(plan).filter(|at| at.is_finite()),
        state,
        ellipse: known.then_some(ellipse),
        freedom,
    }
}

fn plan([x, y]: Place) -> PlanPoint {
    PlanPoint::from_metres(x, y)
}
