//! Which heights cannot be trusted while readings contradict each other, and how far all scatter beyond what was said.
//!
//! The worst reading beyond the limit is set aside, the rest adjusted again, until none is left: two misreads do not
//! hide each other. In doubt is every point that a suspect, or a reading that fits as badly, moves beyond its own ±.
//! What then still scatters more than chance explains makes every standard deviation larger in that measure
//! (C. Ghilani and P. Wolf, *Adjustment Computations*: a posteriori reference variance).

#![expect(clippy::indexing_slicing, reason = "set-up and point numbers index lists made together")]

use super::adjust::{LevelFinding, Levels, Network};
use super::setups::SetUp;
use crate::chance::variance_interval;
use crate::record::{EntryId, PointId};
use crate::units::Length;
use crate::units::float::sqrt;

/// A height that moves by more standard deviations is noticeably another: nineteen of twenty lie within.
const NOTICED: f64 = 1.96;

/// What contradictions do to the heights.
#[derive(Debug, Default)]
pub(super) struct Contradicted {
    /// The points whose height depends on which reading is wrong.
    pub points: Vec<PointId>,
    /// The readings that may be wrong.
    pub entries: Vec<EntryId>,
    /// What the standard deviations are to be multiplied by, 1 at least.
    pub scatter: f64,
}

/// Looks for contradictions among set-ups joined to the datum, whose heights as they stand are `levels`.
pub(super) fn contradicted(tied: &[&SetUp], datum: &(PointId, Length), levels: &Levels) -> Contradicted {
    let mut left: Vec<SetUp> = tied.iter().map(|s| (*s).clone()).collect();
    let mut all = Contradicted { scatter: 1.0, ..Contradicted::default() };
    let mut without: Option<Levels> = None;
    loop {
        let levels = without.as_ref().unwrap_or(levels);
        let Some((suspect, accused)) = levels.findings.iter().find_map(accused) else {
            all.scatter = scatter(levels);
            return all;
        };
        let now: Vec<&SetUp> = left.iter().collect();
        let network = Network::of(&now, datum.clone());
        for entry in accused {
            network.moved_by(&entry, levels, &mut all.points);
            if !all.entries.contains(&entry) {
                all.entries.push(entry);
            }
        }
        // Each turn takes one reading away.
        for setup in &mut left {
            setup.rods.retain(|rod| rod.entry != suspect);
        }
        let now: Vec<&SetUp> = left.iter().collect();
        without = Some(Network::of(&now, datum.clone()).solve());
    }
}

/// A suspect, and with it all that may be wrong in its place.
fn accused(finding: &LevelFinding) -> Option<(EntryId, Vec<EntryId>)> {
    match finding {
        LevelFinding::Suspect { entry, rivals, .. } => {
            Some((entry.clone(), std::iter::once(entry).chain(rivals).cloned().collect()))
        }
        _ => None,
    }
}

/// How much more readings scatter than was said of them, where chance does not explain it; else 1.
fn scatter(levels: &Levels) -> f64 {
    let Some(factor) = levels.variance_factor else { return 1.0 };
    #[expect(clippy::cast_precision_loss, reason = "a count of readings is far below 2^52")]
    let square = factor * levels.redundancy as f64;
    match variance_interval(square, levels.redundancy) {
        Some([least, _]) if least > 1.0 => sqrt(factor),
        _ => 1.0,
    }
}

impl Network<'_> {
    /// Adds the points that would lie noticeably elsewhere without this reading. Leaving a reading of weight w,
    /// residual v and redundancy r out moves what is adjusted by (its covariance with the adjusted reading)·w·v/r.
    fn moved_by(&self, entry: &EntryId, levels: &Levels, points: &mut Vec<PointId>) {
        let Some(read) = levels.readings.iter().find(|r| r.entry == *entry) else { return };
        let at = self.setups.iter().enumerate().find_map(|(s, setup)| {
            let r = setup.rods.iter().position(|rod| rod.entry == *entry)?;
            Some((s, r))
        });
        let Some(at) = at else { return };
        let weight = self.reading(at).1;
        let Some((_, own)) = levels.covariance.of.get(&read.point) else { return };
        for point in &self.points {
            let (Some((shares, _)), Some(height)) =
                (levels.covariance.of.get(point), levels.points.get(point))
            else {
                continue;
            };
            let with_line: f64 = shares.iter().map(|&(i, f)| f * levels.covariance.lines[i][at.0]).sum();
            let own = if *point == read.point { *own } else { 0.0 };
            let with_point = own + levels.covariance.between(point, &read.point);
            let moved = (with_line - with_point) * weight * read.residual.metres() / read.redundancy;
            if moved.abs() > NOTICED * height.sd.metres() && moved.abs() > 1e-9 && !points.contains(point) {
                points.push(point.clone());
            }
        }
    }
}
