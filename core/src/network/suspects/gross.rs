//! Misreads of metres: a point set wrong, feet for metres.
//!
//! They twist the whole network, so that the solution of all readings says little about which one is wrong, and
//! nothing settles from it quickly. The search goes from the first positions, where a reading that fits nothing
//! pulls at nothing.

use super::super::discern::correlations;
use super::super::equation::Place;
use super::super::solve::Statistics;
use super::anew::Anew;
use super::{Case, Found, MOST, MOST_TRIED, Search};
use crate::units::sort_by;

/// Beyond this a standardised residual is a misread of metres, or the mark of one.
const GROSS: f64 = 50.0;
/// Readings whose residuals have less in common (1 is everything) are told apart by a misread of metres.
const ALIKE: f64 = 0.9;
/// More readings that fit nowhere than these are rather one that led the first positions astray.
const FEW: usize = 4;

impl Search<'_> {
    /// Whether some reading is off by so much.
    pub(super) fn is_gross(&self, first: &Statistics) -> bool {
        first.readings.iter().filter_map(|s| s.standardised).any(|w| w.abs() > GROSS)
    }

    /// The readings that fit nowhere near the first positions; where these are many, one reading led the first
    /// positions astray: the same without that one.
    pub(super) fn gross(&mut self, first: &Statistics) -> Found {
        let (mut off, x) = self.softly(self.drafted());
        let few = off.len() <= FEW;
        off.truncate(MOST);
        let mut best = Found::nothing();
        for anew in [!few, few] {
            let other = match anew {
                true => {
                    self.drafted_anew(first, &off, Anew::Widely).map(|(case, x)| self.go_on(vec![case], &x))
                }
                false => self.named(&off, first, &x),
            };
            best = other.into_iter().fold(best, Found::or);
            if best.is_one() {
                break;
            }
        }
        best
    }

    /// Each of these readings as a case, the others left out.
    fn named(&mut self, off: &[usize], first: &Statistics, x: &[Place]) -> Option<Found> {
        let mut cases: Vec<Case> = Vec::new();
        for &index in off {
            self.out = off.iter().copied().filter(|&i| i != index).collect();
            let case = self.decide(self.alike(index, x), first, x);
            cases.extend(case.filter(|case| cases.iter().all(|other| other.index != case.index)));
        }
        (!cases.is_empty()).then(|| self.go_on(cases, x))
    }

    /// A reading, and those that a misread of metres may not be told from, with the sum of squares without each.
    pub(super) fn alike(&self, index: usize, x: &[Place]) -> Vec<(f64, usize)> {
        let without = self.without(&[], x, false);
        let statistics = without.network.statistics(x);
        let mut alike: Vec<(f64, usize)> =
            correlations(&without.network, &statistics, x, index).into_iter().zip(0..).collect();
        alike.retain(|&(much, i)| much > ALIKE && i != index && !self.out.contains(&i));
        sort_by(&mut alike, |a, b| b.0.total_cmp(&a.0));
        let all = std::iter::once(index).chain(alike.into_iter().map(|(_, i)| i).take(MOST_TRIED));
        all.map(|i| (self.cost_without(i, x), i)).collect()
    }
}
