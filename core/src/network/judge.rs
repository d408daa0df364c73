//! How well each point is known, and what the user should know about the survey.

#![expect(clippy::indexing_slicing, reason = "point and equation numbers index lists made together")]

use super::block::eigen;
use super::choose::Chosen;
use super::equation::Place;
use super::exposure::Exposed;
use super::inner::Inner;
use super::observe::{Observation, Observed};
use super::result::{Finding, PointState, ReadingRole};
use super::solve::{ELLIPSE_95, NO_REDUNDANCY, Statistics};
use super::suspects::Case;
use crate::record::{Record, SideOf};
use crate::units::float::{hypot, sqrt};

/// Whether somebody read it off something: a misread can hide only there.
pub(super) fn read(o: &Observation) -> bool {
    use ReadingRole::{InLine, OnRun, Parallel, SameLength, Square};
    !matches!(o.role, OnRun | InLine | Square | Parallel | SameLength)
}

/// The state of every point, by one rule:
///
/// * loose: not determined;
/// * disputed: of the points of a suspect reading (kept or not), the ones on which most readings beyond
///   the limit meet; and every point that would move out of its own 95 % ellipse if the suspect, or
///   one that cannot be told from it, were put right;
/// * checked: whichever single reading is misread so that the others let it pass, the point stands within
///   1 ft of where it should, as seen from the plan as a whole; and it does not rest on a reading whose
///   redundancy is below [`UNCHECKED`];
/// * fixed: all others.
pub(super) fn states(
    seen: &Observed,
    chosen: &Chosen,
    statistics: &Statistics,
    cases: &[Case],
) -> Vec<PointState> {
    let read: Vec<bool> = chosen.active.iter().map(|&number| read(&seen.observations[number])).collect();
    let Exposed { inner, checked } =
        Exposed::new(&chosen.network, statistics, &chosen.solved.x, &chosen.known, &read);
    let mut states: Vec<PointState> = (chosen.known.iter().zip(checked))
        .map(|(known, checked)| match known {
            false => PointState::Loose,
            true if checked => PointState::Checked,
            true => PointState::Fixed,
        })
        .collect();
    let beyond = |i: &usize| statistics.readings[*i].standardised.is_some_and(|w| w.abs() > statistics.limit);
    let mut meeting = vec![0usize; states.len()];
    for p in (0..chosen.active.len()).filter(beyond).flat_map(|i| chosen.network.equations[i].each()) {
        meeting[p] += 1;
    }
    for case in cases {
        let mine = || chosen.network.equations[case.index].each();
        let most = mine().map(|p| meeting[p]).max().unwrap_or(0);
        for p in mine().filter(|&p| meeting[p] == most) {
            states[p] = PointState::Disputed;
        }
        for index in case.accused() {
            for (p, _) in
                displaced(chosen, statistics, &inner, index).iter().enumerate().filter(|(_, far)| **far)
            {
                states[p] = PointState::Disputed;
            }
        }
    }
    states
}

/// For every point whether it would leave its own 95 % ellipse if this reading were what the others
/// make of it (the error −v/r moves all places by Q·Jᵀ·error/σ²).
fn displaced(chosen: &Chosen, statistics: &Statistics, inner: &Inner, index: usize) -> Vec<bool> {
    let (s, e) = (&statistics.readings[index], &chosen.network.equations[index]);
    if s.redundancy <= NO_REDUNDANCY {
        return vec![false; chosen.known.len()];
    }
    let factor = s.residual / s.redundancy / (e.sd * e.sd);
    let column = inner.moved(&chosen.network, statistics, &chosen.solved.x, e);
    let far = |p: usize| {
        let most = ELLIPSE_95 * sqrt(eigen(inner.covariance[p]).0.max(0.0));
        let [x, y] = column[statistics.position(p)];
        chosen.known[p] && hypot(x, y) * factor.abs() > most
    };
    (0..chosen.known.len()).map(far).collect()
}

/// What the user should be told besides suspects. Where the suspects explain everything that disagrees, `without` is
/// where all nodes stand without them: what they twist besides is no finding of its own.
pub(super) fn findings(
    record: &Record,
    seen: &Observed,
    chosen: &Chosen,
    statistics: &Statistics,
    without: Option<&[Place]>,
) -> Vec<Finding> {
    let x = without.unwrap_or(&chosen.solved.x);
    let mut findings = contradicted(seen, chosen, statistics, x);
    findings.extend(impossible(record, seen, chosen, x));
    if !chosen.network.equations.is_empty() && !chosen.solved.settled && without.is_none() {
        findings.push(Finding::NotSettled);
    }
    findings
}

/// Sides said that the plan does not keep, by more than three standard deviations of the point.
fn contradicted(seen: &Observed, chosen: &Chosen, statistics: &Statistics, x: &[Place]) -> Vec<Finding> {
    let mut out: Vec<Finding> = Vec::new();
    for said in &seen.said {
        let Some(h) = chosen.stands_at(x, said.a, said.b, said.p) else { continue };
        let [xx, _, yy] = statistics.covariance[said.p as usize];
        let limit = 0.02 + 3.0 * crate::units::float::sqrt(xx + yy);
        if (h > 0.0) != said.left && h.abs() > limit {
            let said_side: SideOf = seen.side(said);
            let finding = Finding::SideContradicted { point: seen.id(said.p), said: said_side };
            if !out.contains(&finding) {
                out.push(finding);
            }
        }
    }
    out
}

/// Loose points between placed ones with two distances or more: the distances do not meet.
fn impossible(record: &Record, seen: &Observed, chosen: &Chosen, x: &[Place]) -> Vec<Finding> {
    let mut out = Vec::new();
    for (p, _) in chosen.known.iter().enumerate().filter(|(_, known)| !**known) {
        let others_known = |o: &&Observation| o.equation.each().all(|q| q == p || chosen.known[q]);
        let mine = |o: &&Observation| o.equation.each().any(|q| q == p);
        let ties: Vec<&Observation> = seen
            .observations
            .iter()
            .filter(mine)
            .filter(others_known)
            .filter(|o| o.equation.count() == 2)
            .collect();
        if chosen.drafted[p].is_some() || ties.len() < 2 {
            continue;
        }
        let far = ties.iter().enumerate().any(|(i, a)| ties.iter().skip(i + 1).any(|b| miss(x, p, a, b)));
        if far {
            let mut entries: Vec<_> =
                ties.iter().map(|o| record.measurements[o.measurement].entry.clone()).collect();
            entries.dedup();
            out.push(Finding::Impossible { point: seen.points[p].clone(), entries });
        }
    }
    out
}

/// Whether the circles of two ties to p neither cross nor touch, by more than four standard deviations.
fn miss(x: &[Place], p: usize, one: &Observation, two: &Observation) -> bool {
    let end = |o: &Observation| o.equation.each().find(|&q| q != p).unwrap_or(p);
    let (a, b) = (x[end(one)], x[end(two)]);
    let distance = hypot(b[0] - a[0], b[1] - a[1]);
    let (r, s) = (one.equation.value, two.equation.value);
    let gap = (distance - r - s).max(r - s - distance).max(s - r - distance);
    gap > 4.0 * hypot(one.equation.sd, two.equation.sd)
}
