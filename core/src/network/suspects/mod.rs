//! Which reading is wrong where readings contradict.
//!
//! Data snooping (W. Baarda, *A Testing Procedure for Use in Geodetic Networks*, 1968), one reading
//! at a time: of the readings whose standardised residual is near the largest beyond the limit, the
//! one whose removal lowers the sum of squares most when the network is solved without it. Then the
//! next, with the earlier ones left out; one left out that fits the rest after all is taken back.
//! Nothing is removed for the user: the reported places still follow from all readings, and a
//! reading goes when a person strikes or corrects it.

#![expect(clippy::indexing_slicing, reason = "equation numbers index lists made beside the equations")]

mod anew;
mod causes;
mod gross;
mod without;

use super::choose::Chosen;
use super::equation::{Equation, Place, Shape};
use super::first::WRONG_SIDE;
use super::judge::read;
use super::observe::{Observation, Observed};
use super::result::{Doubt, Finding, Rival};
use super::solve::Statistics;
use super::{difference, quantity};
use crate::chance::{LEAST_LIMIT, UNCHECKED};
use crate::record::{EntryId, Record};
use crate::units::float::{asin, sqrt};
use crate::units::sort_by;
use anew::Anew;
use without::Without;

/// Suspects named at a time.
const MOST: usize = 5;
/// Turns of the search, takings back included.
const MOST_TURNS: usize = 12;
/// A reading is tried when its standardised residual is at least this share of the largest.
const NEAR: f64 = 0.25;
/// Readings tried for one suspect.
const MOST_TRIED: usize = 10;
/// A further suspect must explain this much (squared standard deviations), or fewer suspects do.
const EACH: f64 = 12.0;
/// Misfit at which a reading counts a quarter, in the end, for the robust solution (standard deviations).
const SOFT: f64 = 2.5;
const MOST_SOFTENED: usize = 40;
/// Two readings are not told apart when the sums of squares without them differ by less (two
/// standard deviations).
const TOLD_APART: f64 = 4.0;
/// A stated relation is accused instead of a number only when that explains more, by this (three
/// standard deviations).
const STATED: f64 = 9.0;
/// A stated relation is accused beyond this only: how well things are built is known less well than
/// tapes are. Common practice, no source.
const STATED_LIMIT: f64 = 5.0;
/// Of readings as good as equal the one that a usual slip explains is named first.
const EQUAL: f64 = 1.0;

/// A reading accused.
#[derive(Clone, Debug)]
pub(super) struct Case {
    /// Number of its equation among the chosen.
    pub index: usize,
    /// Its standardised residual when it was found.
    pub standardised: f64,
    /// Looked at again and kept by the user: left out of the search for others, not accused.
    pub kept: bool,
    /// Equations that cannot be told apart from it, with their standardised residuals.
    pub rivals: Vec<(usize, f64)>,
    /// Equations that the same slip spoilt.
    pub also: Vec<usize>,
}

impl Case {
    /// It, and all that might be wrong in its place or with it.
    pub(super) fn accused(&self) -> impl Iterator<Item = usize> {
        self.out().chain(self.rivals.iter().map(|(index, _)| *index))
    }

    /// All equations left out for it.
    fn out(&self) -> impl Iterator<Item = usize> {
        std::iter::once(self.index).chain(self.also.iter().copied())
    }
}

/// An accusation with what speaks for it.
struct Accused {
    rival: Rival,
    /// Sum of squares without it.
    chi_square: f64,
    /// How unlikely its likeliest cause is, squared standard deviations.
    likely: f64,
}

/// The network with what was found so far left out.
struct Search<'a> {
    record: &'a Record,
    seen: &'a Observed,
    chosen: &'a Chosen,
    /// Where to solve from.
    x: &'a [Place],
    /// Equations that do not count.
    out: Vec<usize>,
    /// Beyond this a standardised residual is suspect.
    limit: f64,
}

/// What a look for wrong readings came to.
#[derive(Default)]
pub(super) struct Suspicion {
    /// The readings accused.
    pub cases: Vec<Case>,
    /// The same in the user's words.
    pub findings: Vec<Finding>,
    /// Places of all nodes without them, where everything else agrees then.
    pub without: Option<Vec<Place>>,
}

/// A look for wrong readings.
pub(super) type Look = fn(&Record, &Observed, &Chosen, &Statistics) -> Suspicion;

/// Looks for the readings that are wrong.
pub(super) fn look(record: &Record, seen: &Observed, chosen: &Chosen, first: &Statistics) -> Suspicion {
    let found = snoop(record, seen, chosen, first);
    let findings = findings(record, seen, chosen, first.limit, &found);
    let explained = found.clean && !found.cases.is_empty();
    Suspicion { cases: found.cases, findings, without: explained.then_some(found.x) }
}

/// The readings most likely to be wrong, in the order found.
fn snoop(record: &Record, seen: &Observed, chosen: &Chosen, first: &Statistics) -> Found {
    let mut search =
        Search { record, seen, chosen, x: &chosen.solved.x, out: Vec::new(), limit: first.limit };
    let mut best = Found::nothing();
    let gross = search.is_gross(first);
    if gross {
        best = search.gross(first);
        if best.is_one() || (best.clean && search.one_slip(first, best.cost).is_none()) {
            return best;
        }
    }
    let Some(case) = search.next(first, &chosen.solved.x) else { return Found::default() };
    best = best.or(search.go_on(vec![case], &chosen.solved.x));
    if best.is_one() {
        return best;
    }
    // Several: the first may have been named for what the others did. Look from a place they pull at less.
    for start in [chosen.solved.x.clone(), search.drafted()] {
        if let Some((cases, x)) = search.softened(start) {
            best = best.or(search.go_on(cases, &x));
        }
    }
    if best.cases.len() > 1
        && let Some(case) = search.one_slip(first, best.cost)
    {
        best = best.or(search.go_on(vec![case], &chosen.solved.x));
    }
    let tried: Vec<usize> = best.cases.iter().map(|c| c.index).collect();
    let how = if gross { Anew::Thoroughly } else { Anew::Widely };
    if !best.clean
        && let Some((case, x)) = search.drafted_anew(first, &tried, how)
    {
        best = best.or(search.go_on(vec![case], &x));
    }
    best
}

/// What a search came to.
#[derive(Default)]
struct Found {
    cases: Vec<Case>,
    /// Places of all nodes with the cases left out; none without cases.
    x: Vec<Place>,
    /// How little it explains: the sum of squares that is left, and what each case costs.
    cost: f64,
    /// Whether what is left agrees, sides included.
    clean: bool,
}

impl Found {
    /// Explains less than anything found.
    fn nothing() -> Self {
        Self { cost: f64::INFINITY, ..Self::default() }
    }

    /// Whether one reading explains everything.
    fn is_one(&self) -> bool {
        self.cases.len() < 2 && self.clean
    }

    /// This, or the other where that explains more.
    fn or(self, other: Self) -> Self {
        if other.cost < self.cost { other } else { self }
    }
}

impl Search<'_> {
    /// Takes back what fits after all, and looks for the next, until nothing is beyond the limit.
    fn go_on(&mut self, mut cases: Vec<Case>, start: &[Place]) -> Found {
        let mut taken_back = Vec::new();
        let mut clean = false;
        let mut turn = 0;
        let mut x = start.to_vec();
        loop {
            self.out = cases.iter().flat_map(Case::out).collect();
            let without = self.without(&[], &x, true);
            let statistics = without.network.statistics(&without.x);
            x = without.x;
            let fits = |case: &Case| {
                !taken_back.contains(&case.index) && self.misfit(&statistics, case.index).abs() < self.limit
            };
            turn += 1;
            if turn > MOST_TURNS {
                break;
            } else if let Some(at) = cases.iter().position(fits) {
                taken_back.push(cases.remove(at).index);
            } else if cases.len() >= MOST {
                break;
            } else if let Some(case) = self.next(&statistics, &x) {
                cases.push(case);
            } else {
                clean = true;
                break;
            }
        }
        let sides = self.sides(&x);
        let chi_square = self.without(&[], &x, true).chi_square;
        #[expect(clippy::cast_precision_loss, reason = "a handful")]
        let cost = chi_square + sides + EACH * cases.len() as f64;
        Found { cases, x, cost, clean: clean && sides < WRONG_SIDE }
    }

    /// Where the first positions had the points.
    fn drafted(&self) -> Vec<Place> {
        let drafted = self.chosen.drafted.iter().copied().chain(std::iter::repeat(None));
        self.chosen.solved.x.iter().zip(drafted).map(|(x, drafted)| drafted.unwrap_or(*x)).collect()
    }

    /// A solution in which each reading counts the less the worse it fits (weights after S. Geman and D. McClure
    /// 1987, from nearly equal ones on), and the readings that disagree with it, the worst first.
    fn softly(&self, mut x: Vec<Place>) -> (Vec<usize>, Vec<Place>) {
        let sound = &self.chosen.network;
        let mut network = sound.clone();
        let misfit = |e: &Equation, x: &[Place]| e.at(x).misclosure / e.sd;
        let square = |t: f64| t * t;
        let worst = sound.equations.iter().map(|e| square(misfit(e, &x))).fold(1.0, f64::max);
        let mut scale = worst;
        for _ in 0..MOST_SOFTENED {
            for (soft, e) in network.equations.iter_mut().zip(&sound.equations) {
                soft.sd = e.sd * (1.0 + square(misfit(e, &x)) / scale);
            }
            x = network.approach(&x, 2).x;
            if scale <= square(SOFT) {
                break;
            }
            scale = (0.5 * scale).max(square(SOFT));
        }
        let mut off: Vec<(f64, usize)> =
            sound.equations.iter().enumerate().map(|(i, e)| (misfit(e, &x).abs(), i)).collect();
        off.retain(|(t, _)| *t > LEAST_LIMIT);
        sort_by(&mut off, |a, b| b.0.total_cmp(&a.0));
        (off.into_iter().map(|(_, i)| i).collect(), x)
    }

    /// The readings that disagree with such a solution, each looked at with the others left out, and that solution.
    fn softened(&mut self, start: Vec<Place>) -> Option<(Vec<Case>, Vec<Place>)> {
        let (mut all, x) = self.softly(start);
        all.truncate(MOST);
        let mut cases: Vec<Case> = Vec::new();
        for (n, &index) in all.iter().enumerate() {
            // With all others out, this one or what is like it.
            let others = cases.iter().map(|c| c.index).chain(all.iter().skip(n + 1).copied());
            self.out = others.filter(|&i| i != index).collect();
            let with = self.without(&[], &x, true);
            let statistics = with.network.statistics(&with.x);
            if let Some(case) = self.next(&statistics, &x).filter(|c| !self.out.contains(&c.index)) {
                cases.push(case);
            }
        }
        (!cases.is_empty()).then_some((cases, x))
    }

    fn observation(&self, index: usize) -> &Observation {
        &self.seen.observations[self.chosen.active[index]]
    }

    fn entry(&self, index: usize) -> (EntryId, usize) {
        let o = self.observation(index);
        (self.record.measurements[o.measurement].entry.clone(), o.part)
    }

    fn kept(&self, index: usize) -> bool {
        self.record.kept.contains_key(&self.entry(index))
    }

    /// A reading's distance from what the others predict, in standard deviations of that difference,
    /// in a network in which it is left out.
    fn misfit(&self, statistics: &Statistics, index: usize) -> f64 {
        let (s, sd) = (&statistics.readings[index], self.chosen.network.equations[index].sd);
        s.residual / sqrt(sd * sd + s.variance)
    }

    fn next(&self, statistics: &Statistics, x: &[Place]) -> Option<Case> {
        let w = |i: usize| match &statistics.readings[i] {
            _ if self.out.contains(&i) => 0.0,
            s => s.standardised.unwrap_or(0.0),
        };
        let limit =
            |i: usize| if read(self.observation(i)) { self.limit } else { self.limit.max(STATED_LIMIT) };
        let mut beyond: Vec<usize> =
            (0..statistics.readings.len()).filter(|&i| w(i).abs() > limit(i)).collect();
        sort_by(&mut beyond, |&a, &b| w(b).abs().total_cmp(&w(a).abs()));
        let least = NEAR * beyond.first().map(|&i| w(i).abs())?;
        let near = beyond.into_iter().take_while(|&i| w(i).abs() >= least).take(MOST_TRIED);
        let tried = near.map(|i| (self.cost_without(i, x), i)).collect();
        self.decide(tried, statistics, x)
    }

    /// Of readings tried, with the sum of squares without each, the best, with those that cannot be
    /// told from it.
    fn decide(&self, mut tried: Vec<(f64, usize)>, statistics: &Statistics, x: &[Place]) -> Option<Case> {
        let w = |i: usize| statistics.readings[i].standardised.unwrap_or(0.0);
        let order = |tried: &mut Vec<(f64, usize)>| sort_by(tried, |a, b| a.0.total_cmp(&b.0));
        order(&mut tried);
        // What nothing checks once the best is gone was checked through it alone: the two cannot be
        // told apart, though far from the truth their residuals may look unlike.
        let best = tried.first()?.1;
        let without = self.without(&[best], x, true);
        let left = without.network.statistics(&without.x);
        let e = &self.chosen.network.equations[best];
        for (j, s) in left.readings.iter().enumerate() {
            let other = &self.chosen.network.equations[j];
            let new = j != best && !self.out.contains(&j) && tried.iter().all(|(_, i)| *i != j);
            if new && s.redundancy < UNCHECKED && other.each().any(|p| e.each().any(|q| p == q)) {
                tried.push((self.cost_without(j, &without.x), j));
            }
        }
        order(&mut tried);
        let limit = tried.first()?.0 + TOLD_APART;
        let alike: Vec<usize> = tried.iter().take_while(|(c, _)| *c < limit).map(|(_, i)| *i).collect();
        // What the user vouches for is right: then one of the others is wrong, where there is one.
        let free: Vec<usize> = alike.iter().copied().filter(|&i| !self.kept(i)).collect();
        let (&index, rivals) = free.split_first().or_else(|| alike.split_first())?;
        let (kept, rivals) = (self.kept(index), rivals.iter().filter(|_| !free.is_empty()));
        Some(Case {
            index,
            standardised: w(index),
            kept,
            rivals: rivals.map(|&i| (i, w(i))).collect(),
            also: Vec::new(),
        })
    }

    /// One slip over several readings, where that explains more than the cases so far.
    fn one_slip(&mut self, first: &Statistics, cost: f64) -> Option<Case> {
        self.out.clear();
        let w = |i: usize| first.readings[i].standardised.unwrap_or(0.0);
        let mut beyond: Vec<usize> =
            (0..first.readings.len()).filter(|&i| w(i).abs() > self.limit && !self.kept(i)).collect();
        sort_by(&mut beyond, |&a, &b| w(b).abs().total_cmp(&w(a).abs()));
        beyond.truncate(MOST_TRIED);
        let (index, also, total) = self.slip_over_several(&beyond)?;
        let case = Case { index, standardised: w(index), kept: false, rivals: Vec::new(), also };
        (total + EACH < cost).then_some(case)
    }

    /// The sum of squares without a reading too; more for a stated relation.
    fn cost_without(&self, index: usize, x: &[Place]) -> f64 {
        let stated = if read(self.observation(index)) { 0.0 } else { STATED };
        self.without(&[index], x, false).chi_square + stated
    }

    /// What the others say about a reading when it and the cases beside its own are left out: `sure` where the
    /// places are known to be the best without it.
    fn doubt(&self, index: usize, sure: bool) -> (Doubt, f64, f64) {
        let mut without = self.without(&[index], self.x, true);
        // What a rival would have pulled away stands elsewhere.
        if !sure {
            let other = self.without(&[index], &self.chosen.solved.x, true);
            let cost = |w: &Without| w.chi_square + self.sides(&w.x);
            if cost(&other) < cost(&without) - EQUAL {
                without = other;
            }
        }
        let statistics = without.network.statistics(&without.x);
        let (e, s) = (&self.chosen.network.equations[index], &statistics.readings[index]);
        let expected = causes::Expected { value: e.value + s.residual, sd: sqrt(s.variance) };
        let (causes, likely) = self.causes(index, &without, expected);
        let doubt = Doubt {
            role: self.observation(index).role,
            observed: quantity(e, e.value),
            expected: quantity(e, angle_of(e, expected.value)),
            expected_sd: difference(e, expected.sd),
            causes,
        };
        (doubt, without.chi_square, likely)
    }

    fn accused(&self, index: usize, standardised: f64, sure: bool) -> Accused {
        let (entry, part) = self.entry(index);
        let (doubt, chi_square, likely) = self.doubt(index, sure);
        Accused { rival: Rival { entry, part, standardised, doubt }, chi_square, likely }
    }
}

/// What corners and parallels measure is the sine of how far they are off, not the angle: far off that matters.
fn angle_of(e: &Equation, value: f64) -> f64 {
    match e.shape {
        Shape::Square { .. } | Shape::Parallel { .. } => asin(value.clamp(-1.0, 1.0)),
        _ => value,
    }
}

/// The cases in the user's words. A case that the first cause of an earlier one explains as well (two
/// readings noted in each other's place) is not named again.
fn findings(record: &Record, seen: &Observed, chosen: &Chosen, limit: f64, found: &Found) -> Vec<Finding> {
    let cases = &found.cases;
    let mut findings = Vec::new();
    let mut explained: Vec<(EntryId, usize)> = Vec::new();
    for case in cases {
        let others = cases.iter().flat_map(Case::out).filter(|&i| i != case.index).collect();
        let search = Search { record, seen, chosen, x: &found.x, out: others, limit };
        let (entry, part) = search.entry(case.index);
        if explained.contains(&(entry.clone(), part)) {
            continue;
        }
        if case.kept {
            findings.push(Finding::Kept { entry, part, standardised: case.standardised });
            continue;
        }
        let own = [(case.index, case.standardised)];
        let mut all: Vec<Accused> = own
            .iter()
            .chain(&case.rivals)
            .map(|&(i, w)| search.accused(i, w, found.clean && i == case.index))
            .collect();
        let least = all.iter().map(|a| a.chi_square).fold(f64::INFINITY, f64::min);
        sort_by(&mut all, |a, b| {
            (a.chi_square > least + EQUAL)
                .cmp(&(b.chi_square > least + EQUAL))
                .then(a.likely.total_cmp(&b.likely))
        });
        let mut all = all.into_iter().map(|a| a.rival);
        let Some(Rival { entry, part, standardised, doubt }) = all.next() else { continue };
        explained.extend(doubt.causes.first().and_then(|c| causes::also_explains(&c.slip)));
        let rivals = all.collect();
        findings.push(Finding::Suspect { entry, part, standardised, doubt, rivals });
    }
    findings
}
