//! What to measure next.
//!
//! Greedy optimal design: among the ties a person could take, the one that most improves the state
//! of the points worst known, and of such the one that takes most from their uncertainty; then the
//! next as if that had been taken. A tie changes the covariance by a matrix of rank one, so nothing is
//! solved anew: Q' = Q − c·cᵀ/s with c = Q·Jᵀ and s = σ² + J·c (the update of a least-squares
//! solution by one observation). Loose points take part at the place guessed for them, with an
//! uncertainty of [`LOOSE_SD`] each way besides what their readings say: so a group that holds
//! together moves as one. Between points that are determined a line may be taped once more: where nothing else
//! in sight would check it, that does.
//!
//! States are judged in the plan as a whole, which changes with every tie. So the few best ties are tried with
//! the equation added, and the one is said that makes the fewest other points worse.
//!
//! Called when the advice is shown, not with every adjustment.

#![expect(clippy::indexing_slicing, reason = "point and equation numbers index lists made together")]

mod gain;
mod sight;

use super::block::{Sym, eigen};
use super::equation::{Equation, Place, Shape, ray};
use super::exposure::Exposed;
use super::judge::read;
use super::observe::Observed;
use super::relative::{nodes, placed};
use super::result::{Adjustment, Ellipse, Finding, PointState};
use super::solve::{Network, ellipse};
use crate::record::{How, Measurement, PointId, Record};
use crate::units::float::hypot;
use crate::units::{Angle, Length, sort_by};
use gain::{FIXED_SD, Field, Gain, Tie, Weak};
use serde::Serialize;
use std::collections::BTreeSet;

/// How well the place of a loose point is guessed (metres). Common practice, no source.
const LOOSE_SD: f64 = 10.0;
/// Weak points looked at; the worst come first.
const MOST_WEAK: usize = 24;
/// Points looked at for ties to them.
const MOST_ENDS: usize = 80;
/// Ties tried for the first choice, whether they make another point worse.
const MOST_TRIED: usize = 8;
/// Candidates kept for the second and later choices.
const MOST_KEPT: usize = 200;
/// So far (metres) a guessed place may be off, as tapes are concerned. Common practice, no source.
const GUESSED: f64 = 3.0;
/// Nearer than this (metres) two points say little about each other.
const NEAREST: f64 = 0.5;

/// What a person can do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// The longest tape.
    pub tape: Length,
    /// Pieces of advice wanted.
    pub most: usize,
}

impl Default for Reach {
    fn default() -> Self {
        Self { tape: Length::from_metres(30.0), most: 5 }
    }
}

/// A tie worth taking.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Advice {
    /// Where to hold the tape's end: the better known point.
    pub from: PointId,
    /// Where to read it.
    pub to: PointId,
    /// What it is.
    pub kind: AdviceKind,
    /// What it is for.
    pub purpose: Purpose,
    /// About how long it will be.
    pub length: Length,
    /// Points whose state it changes.
    pub turns: Vec<Turned>,
    /// The 95 % ellipse of `to` then.
    pub ellipse: Ellipse,
}

/// What a tie is in the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AdviceKind {
    /// From one thing to another.
    Tie,
    /// Across one thing, from corner to corner.
    Diagonal,
    /// A line that was taped before, once more.
    Again,
}

/// What a tie is taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// To fix a loose point, or to leave it less free.
    Fix,
    /// To tell which of the readings that contradict each other is wrong.
    Tell,
    /// To check points that nothing checks.
    Check,
}

/// A point whose state changes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Turned {
    /// The point.
    pub point: PointId,
    /// What it is now.
    pub from: PointState,
    /// What it will be.
    pub to: PointState,
}

/// The next few ties worth taking, best first; none when every point is checked, or nothing that could
/// be taped helps.
#[must_use]
pub fn advice(record: &Record, adjustment: &Adjustment, reach: &Reach) -> Vec<Advice> {
    let seen = Observed::of(record);
    let Some(yard) = Yard::new(record, adjustment, &seen) else { return Vec::new() };
    let mut field = Field::new(&yard);
    let mut candidates = yard.candidates(&field, reach);
    let mut out = Vec::new();
    while out.len() < reach.most && !field.weak.is_empty() {
        let gain = |tie: &Tie| Some((field.gain(*tie)?, *tie));
        let mut gains: Vec<(Gain, Tie)> = candidates.iter().filter_map(gain).collect();
        sort_by(&mut gains, |a, b| b.0.better(&a.0));
        // What stands first is what will be taped: it must make no other point worse.
        let tried = if out.is_empty() { MOST_TRIED } else { 1 };
        let purpose = gains.first().map(|(gain, _)| gain.purpose);
        let good = |(gain, _): &&(Gain, Tie)| gain.helps() && Some(gain.purpose) == purpose;
        let helping = gains.iter().take_while(good).take(tried).enumerate();
        let mut least: Option<(usize, usize)> = None;
        for (index, (_, tie)) in helping {
            let worse = if tried > 1 { yard.worsens(*tie) } else { 0 };
            if least.is_none_or(|(fewest, _)| worse < fewest) {
                least = Some((worse, index));
            }
            if worse == 0 {
                break;
            }
        }
        let Some((_, index)) = least else { break };
        gains.truncate(MOST_KEPT);
        let (gain, tie) = gains.remove(index);
        candidates = gains.into_iter().map(|(_, tie)| tie).collect();
        let then = field.take(tie, &gain);
        out.push(yard.say(tie, &gain, then));
    }
    out
}

/// The yard as adjusted, loose points where they are drawn.
struct Yard<'a> {
    record: &'a Record,
    adjustment: &'a Adjustment,
    seen: &'a Observed,
    network: Network,
    x: Vec<Place>,
    /// Which points have a place.
    there: Vec<bool>,
    /// Which of these are only guessed.
    loose: Vec<usize>,
    /// Which of the network's equations somebody read.
    read: Vec<bool>,
}

impl<'a> Yard<'a> {
    fn new(record: &'a Record, adjustment: &'a Adjustment, seen: &'a Observed) -> Option<Self> {
        let (a, b) = adjustment.held.as_ref()?;
        let (a, b) = (seen.number(a)? as usize, seen.number(b)? as usize);
        let fix = |p: &PointId| adjustment.points.get(p);
        let place = |p: &PointId| fix(p).and_then(|f| f.at.or(f.guess)).map(|at| at.metres().into());
        let places: Vec<Option<Place>> = seen.points.iter().map(place).collect();
        let there: Vec<bool> = places.iter().map(Option::is_some).collect();
        let loose =
            (0..there.len()).filter(|&p| there[p] && fix(&seen.points[p]).is_some_and(|f| f.at.is_none()));
        let network = placed(seen, (a, b), &places);
        let x = nodes(seen, &places);
        let loose = loose.collect();
        let whole = |e: &Equation| e.each().all(|p| there[p]);
        let taken = seen.observations.iter().filter(|o| whole(&o.equation));
        let read = taken.map(read).collect();
        Some(Self { record, adjustment, seen, network, x, there, loose, read })
    }

    /// How many checked points would be checked no more. What the plan as a whole is changes a little with each
    /// tie: where one makes a house count that hung loosely before, the others stand less surely in it.
    fn worsens(&self, tie: Tie) -> usize {
        let mut network = self.network.clone();
        let number = |p: usize| u32::try_from(p).unwrap_or(u32::MAX);
        let shape = Shape::Distance { a: number(tie.from), b: number(tie.to) };
        network.equations.push(Equation { shape, value: self.far(tie.from, tie.to), sd: tie.sd });
        let statistics = network.statistics_with(&self.x, &self.loose, 1.0 / (LOOSE_SD * LOOSE_SD));
        let sure = |p: usize| {
            self.there[p]
                && (!self.loose.contains(&p) || eigen(statistics.covariance[p]).0 < FIXED_SD * FIXED_SD)
        };
        let known: Vec<bool> = (0..self.points()).map(sure).collect();
        let mut read = self.read.clone();
        read.push(true);
        let Exposed { checked, .. } = Exposed::new(&network, &statistics, &self.x, &known, &read);
        let falls = |p: &usize| self.state(*p) == PointState::Checked && !checked[*p];
        (0..self.points()).filter(falls).count()
    }

    fn state(&self, p: usize) -> PointState {
        self.adjustment.points.get(&self.seen.points[p]).map_or(PointState::Loose, |f| f.state)
    }

    fn points(&self) -> usize {
        self.seen.points.len()
    }

    /// Points in dispute among readings that cannot be told apart.
    fn undecided(&self) -> BTreeSet<&PointId> {
        let mut all = BTreeSet::new();
        for finding in &self.adjustment.findings {
            let Finding::Suspect { entry, part, rivals, .. } = finding else { continue };
            if rivals.is_empty() {
                continue;
            }
            let mine = self.adjustment.readings.iter().filter(|r| r.entry == *entry && r.part == *part);
            all.extend(mine.flat_map(|r| &r.points));
        }
        all
    }

    /// The points worst known, worst first.
    fn weak(&self) -> Vec<Weak> {
        let undecided = self.undecided();
        let size = |p: usize| {
            let fix = self.adjustment.points.get(&self.seen.points[p]);
            fix.and_then(|f| f.ellipse).map_or(0.0, |e| e.semi_major.metres())
        };
        let mut weak: Vec<(Purpose, f64, usize)> = Vec::new();
        for p in (0..self.points()).filter(|&p| self.there[p]) {
            let purpose = match self.state(p) {
                PointState::Loose => Purpose::Fix,
                PointState::Disputed if undecided.contains(&self.seen.points[p]) => Purpose::Tell,
                PointState::Fixed => Purpose::Check,
                _ => continue,
            };
            weak.push((purpose, size(p), p));
        }
        sort_by(&mut weak, |a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)));
        weak.truncate(MOST_WEAK);
        weak.into_iter().map(|(purpose, _, point)| Weak { point, purpose }).collect()
    }

    /// Points a tie could end at: the weak ones, then those on which points hang that nothing checks.
    fn ends(&self, weak: &[Weak]) -> Vec<usize> {
        let mut ends: Vec<usize> = weak.iter().map(|w| w.point).collect();
        for w in weak.iter().filter(|w| w.purpose == Purpose::Check) {
            let mine = self.network.equations.iter().filter(|e| e.each().any(|p| p == w.point));
            for p in mine.flat_map(Equation::each) {
                if !ends.contains(&p) && !self.loose.contains(&p) && ends.len() < MOST_ENDS {
                    ends.push(p);
                }
            }
        }
        ends
    }

    /// Ties a person could take from a known point to a weak one. Two determined points may be taped again:
    /// where nothing else in sight would check a tie, that does.
    fn candidates(&self, field: &Field, reach: &Reach) -> Vec<Tie> {
        let measured: BTreeSet<(u32, u32)> = self
            .network
            .equations
            .iter()
            .filter_map(|e| match e.shape {
                Shape::Distance { a, b } => Some((a.min(b), a.max(b))),
                _ => None,
            })
            .collect();
        let outlines = sight::outlines(self.record, self.seen, |p| self.there[p].then(|| self.x[p]));
        let mut out = Vec::new();
        for (number, &p) in field.ends.iter().enumerate() {
            let purpose = field.weak.iter().find(|w| w.point == p).map_or(Purpose::Check, |w| w.purpose);
            let known = (0..self.points()).filter(|&q| self.there[q] && q != p && !self.loose.contains(&q));
            for q in known {
                let length = self.far(q, p);
                let pair = [p, q].map(|p| u32::try_from(p).unwrap_or(u32::MAX));
                let again = measured.contains(&(pair[0].min(pair[1]), pair[0].max(pair[1])));
                let news = !again || purpose == Purpose::Check;
                // Each pair once, though both its points be ends.
                let once = !field.ends.iter().take(number).any(|end| *end == q);
                let near = (NEAREST..=reach.tape.metres()).contains(&length);
                let seen_from = |end| !sight::blocked(&outlines, self.x[q], end);
                if news && once && near && seen_from(self.before(q, p)) {
                    let sd = How::default().sd_of(Length::from_metres(length)).metres();
                    out.push(Tie { from: q, to: p, sd, again });
                }
            }
        }
        out
    }

    /// The end of a tape to p as far as its place is known: whether a corner hides the last metres to a
    /// point that is only guessed, one sees there.
    fn before(&self, q: usize, p: usize) -> Place {
        let ([x, y], length) = ray(self.x[q], self.x[p]);
        let back = if self.loose.contains(&p) { GUESSED.min(length) } else { 0.0 };
        [self.x[p][0] - back * x, self.x[p][1] - back * y]
    }

    fn far(&self, a: usize, b: usize) -> f64 {
        hypot(self.x[b][0] - self.x[a][0], self.x[b][1] - self.x[a][1])
    }

    fn say(&self, Tie { from: q, to: p, again, .. }: Tie, gain: &Gain, then: Sym) -> Advice {
        let id = |p: usize| self.seen.points[p].clone();
        let turned = |&(p, to): &(usize, PointState)| Turned { point: id(p), from: self.state(p), to };
        let (major, minor, direction) = ellipse(then);
        Advice {
            from: id(q),
            to: id(p),
            kind: match self.across(&id(q), &id(p)) {
                _ if again => AdviceKind::Again,
                true => AdviceKind::Diagonal,
                false => AdviceKind::Tie,
            },
            purpose: gain.purpose,
            length: Length::from_metres(self.far(q, p)),
            turns: gain.turns.iter().map(turned).collect(),
            ellipse: Ellipse {
                semi_major: Length::from_metres(major),
                semi_minor: Length::from_metres(minor),
                direction: Angle::from_radians(direction),
            },
        }
    }

    /// Whether both are corners of one thing.
    fn across(&self, a: &PointId, b: &PointId) -> bool {
        let things = self.record.features.iter().map(|f| f.what.points.iter().collect::<Vec<_>>());
        let walks = self.record.measurements.iter().filter_map(|m| match &m.what {
            Measurement::Walk { start, legs, .. } => {
                Some(std::iter::once(start).chain(legs.iter().map(|l| &l.to)).collect::<Vec<_>>())
            }
            _ => None,
        });
        things.chain(walks).any(|points| points.contains(&a) && points.contains(&b))
    }
}
