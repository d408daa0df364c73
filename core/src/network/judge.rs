//! How well each point is known, and what the user should know about the survey.

#![expect(clippy::indexing_slicing, reason = "point and equation numbers index lists made together")]

use super::choose::Chosen;
use super::observe::{Observation, Observed};
use super::result::{Finding, PointState, ReadingRole};
use super::solve::{SUSPECT_LIMIT, Statistics};
use crate::record::{Record, SideOf};
use crate::units::float::hypot;
use crate::units::sort_by;

/// A point is checked when no misread that passes unseen moves it further than this: 1 ft.
const UNSEEN_SHIFT: f64 = 0.3048;
/// The largest misread reckoned with, a 6 taken for a 9 in the feet and some: 1 m.
const LARGEST_MISREAD: f64 = 1.0;
/// Suspects named at a time.
const MOST_SUSPECTS: usize = 5;
/// A reading is named beside the worst when its standardised residual is at least this share of it.
const NAMED_SHARE: f64 = 0.5;

/// The readings with the largest standardised residuals beyond the limit, worst first.
pub(super) fn suspects(seen: &Observed, chosen: &Chosen, statistics: &Statistics) -> Vec<usize> {
    let w = |i: usize| statistics.readings[i].standardised.unwrap_or(0.0).abs();
    let mut beyond: Vec<usize> = (0..chosen.active.len())
        .filter(|&i| w(i) > SUSPECT_LIMIT && read(&seen.observations[chosen.active[i]]))
        .collect();
    sort_by(&mut beyond, |&a, &b| w(b).total_cmp(&w(a)));
    beyond
}

/// Whether somebody read it off something: a misread can hide only there.
fn read(o: &Observation) -> bool {
    use ReadingRole::{InLine, OnRun, Parallel, SameLength, Square};
    !matches!(o.role, OnRun | InLine | Square | Parallel | SameLength)
}

/// The state of every point, by one rule:
///
/// * loose: not determined;
/// * disputed: of the points of a suspect reading, the one on which most readings beyond the limit meet;
/// * checked: no single misread (up to 1 m) that the other readings would let pass moves it by
///   more than 1 ft;
/// * fixed: all others.
pub(super) fn states(
    seen: &Observed,
    chosen: &Chosen,
    statistics: &Statistics,
    beyond: &[usize],
) -> Vec<PointState> {
    let shift = unseen_shifts(seen, chosen, statistics);
    let mut states: Vec<PointState> = (chosen.known.iter().zip(&shift))
        .map(|(known, shift)| match known {
            false => PointState::Loose,
            true if *shift > UNSEEN_SHIFT => PointState::Fixed,
            true => PointState::Checked,
        })
        .collect();
    let mut meeting = vec![0usize; states.len()];
    for p in beyond.iter().flat_map(|&i| chosen.network.equations[i].each()) {
        meeting[p] += 1;
    }
    for &i in named(statistics, beyond) {
        let most = chosen.network.equations[i].each().map(|p| meeting[p]).max().unwrap_or(0);
        for p in chosen.network.equations[i].each().filter(|&p| meeting[p] == most) {
            states[p] = PointState::Disputed;
        }
    }
    states
}

/// For every point the largest shift that a misread could cause without being noticed (external
/// reliability: dx = Q·Jᵀ·∇/σ² with ∇ the smallest detectable error).
fn unseen_shifts(seen: &Observed, chosen: &Chosen, statistics: &Statistics) -> Vec<f64> {
    let mut shifts = vec![0.0_f64; chosen.known.len()];
    for (i, reading) in statistics.readings.iter().enumerate() {
        if !read(&seen.observations[chosen.active[i]]) {
            continue;
        }
        let error = reading.detectable.unwrap_or(LARGEST_MISREAD).min(LARGEST_MISREAD);
        let moved = statistics.displacements(&chosen.network, &chosen.solved.x, i, error);
        for (shift, [x, y]) in shifts.iter_mut().zip(moved) {
            *shift = shift.max(hypot(x, y));
        }
    }
    shifts
}

fn named<'a>(statistics: &Statistics, beyond: &'a [usize]) -> &'a [usize] {
    let w = |i: usize| statistics.readings[i].standardised.unwrap_or(0.0).abs();
    let worst = beyond.first().map_or(0.0, |&i| w(i));
    let count = beyond.iter().take_while(|&&i| w(i) >= NAMED_SHARE * worst).count().min(MOST_SUSPECTS);
    &beyond[..count]
}

/// Everything the user should be told.
pub(super) fn findings(
    record: &Record,
    seen: &Observed,
    chosen: &Chosen,
    statistics: &Statistics,
    beyond: &[usize],
) -> Vec<Finding> {
    let mut findings = Vec::new();
    for &i in named(statistics, beyond) {
        let o = &seen.observations[chosen.active[i]];
        findings.push(Finding::Suspect {
            entry: record.measurements[o.measurement].entry.clone(),
            part: o.part,
            standardised: statistics.readings[i].standardised.unwrap_or(0.0),
        });
    }
    findings.extend(contradicted(seen, chosen, statistics));
    findings.extend(impossible(record, seen, chosen));
    if !chosen.network.equations.is_empty() && !chosen.solved.settled {
        findings.push(Finding::NotSettled);
    }
    findings
}

/// Sides said that the plan does not keep, by more than three standard deviations of the point.
fn contradicted(seen: &Observed, chosen: &Chosen, statistics: &Statistics) -> Vec<Finding> {
    let mut out: Vec<Finding> = Vec::new();
    for said in &seen.said {
        let Some(h) = chosen.stands(said.a, said.b, said.p) else { continue };
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
fn impossible(record: &Record, seen: &Observed, chosen: &Chosen) -> Vec<Finding> {
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
        let far =
            ties.iter().enumerate().any(|(i, a)| ties.iter().skip(i + 1).any(|b| miss(chosen, p, a, b)));
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
fn miss(chosen: &Chosen, p: usize, one: &Observation, two: &Observation) -> bool {
    let end = |o: &Observation| o.equation.each().find(|&q| q != p).unwrap_or(p);
    let (a, b) = (chosen.solved.x[end(one)], chosen.solved.x[end(two)]);
    let distance = hypot(b[0] - a[0], b[1] - a[1]);
    let (r, s) = (one.equation.value, two.equation.value);
    let gap = (distance - r - s).max(r - s - distance).max(s - r - distance);
    gap > 4.0 * hypot(one.equation.sd, two.equation.sd)
}
