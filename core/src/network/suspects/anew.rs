//! First positions made anew without a reading: a large misread may have led them astray from the
//! start, and no solution near them shows it.

#![expect(clippy::indexing_slicing, reason = "point and equation numbers index lists made together")]

use super::super::choose::{CAP, capped};
use super::super::equation::{Place, cross, dot, ray, sub};
use super::super::first::{Draft, Field};
use super::super::observe::Observed;
use super::super::sketched;
use super::super::solve::Statistics;
use super::causes::reading_at;
use super::{Case, Search};
use crate::units::{Length, sort_by};

/// Readings tried.
const MOST: usize = 20;
/// First positions with so many times the misfit are not worth adjusting.
const FAR: f64 = 5.0;
/// So much misfit a right reading leaves at most, on average (squared standard deviations): one at which nothing is
/// adjusted.
const MISFIT: f64 = 1.0;

/// Which readings first positions are made anew without.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Anew {
    /// Those suspected, then those that started the first positions and those that disagree most; only as far as
    /// everything falls straight into place.
    Widely,
    /// Those suspected alone, whatever comes of it: where several are wrong, nothing falls into place without one.
    Thoroughly,
}

impl Search<'_> {
    /// The reading without which first positions made anew are the best, where one does better than
    /// the present ones, and the places then.
    pub(super) fn drafted_anew(
        &mut self,
        first: &Statistics,
        suspected: &[usize],
        how: Anew,
    ) -> Option<(Case, Vec<Place>)> {
        self.out.clear();
        let w = |i: usize| first.readings[i].standardised.unwrap_or(0.0);
        let mut worst: Vec<usize> = (0..first.readings.len()).collect();
        sort_by(&mut worst, |&a, &b| w(b).abs().total_cmp(&w(a).abs()));
        let held = self.chosen.held.map(|(a, b)| [a as usize, b as usize]);
        // A misread that first positions started from spoils them all, and shows nowhere more than elsewhere.
        let base = |i: &usize| {
            let mut points = self.chosen.network.equations[*i].each();
            held.is_some_and(|held| points.all(|p| held.contains(&p)))
        };
        let widely = how == Anew::Widely;
        let mut tried = suspected.to_vec();
        tried.extend(worst.iter().copied().filter(|i| widely && base(i)));
        let more = if widely { MOST } else { 0 };
        let others: Vec<usize> = worst.iter().copied().filter(|i| !tried.contains(i)).take(more).collect();
        tried.extend(others);
        let mut best = (self.score(&self.chosen.solved.x), None);
        #[expect(clippy::cast_precision_loss, reason = "a count of readings is far below 2^52")]
        let enough = CAP + MISFIT * self.chosen.network.equations.len() as f64;
        for index in tried.into_iter().filter(|&i| !self.kept(i)) {
            let Some(x) = self.placed_without(index, widely.then_some(enough)) else { continue };
            if widely && self.score(&x) > FAR * enough {
                continue;
            }
            let x = self.without(&[index], &x, false).x;
            let score = self.score(&x);
            if score < best.0 {
                best = (score, Some((index, x)));
                // As few misfits as right readings leave.
                if score < enough {
                    break;
                }
            }
        }
        let (index, x) = best.1?;
        // What touches the same points may be the wrong one instead.
        let equations = &self.chosen.network.equations;
        let near = |i: &usize| equations[*i].each().any(|p| equations[index].each().any(|q| p == q));
        worst.retain(|i| *i != index && w(*i).abs() > self.limit && near(i));
        let mut tried = vec![(self.cost_without(index, &x), index)];
        tried.extend(worst.into_iter().take(MOST).map(|i| (self.cost_without(i, &x), i)));
        Some((self.decide(tried, first, &x)?, x))
    }

    fn score(&self, x: &[Place]) -> f64 {
        self.chosen.network.equations.iter().map(|e| capped(e, x)).sum::<f64>() + self.sides(x)
    }

    /// The places of all nodes when first positions are made without this reading; none where it is
    /// no number, or where they shall fall straight into place, with no more misfit than this, and do not.
    fn placed_without(&self, index: usize, straight: Option<f64>) -> Option<Vec<Place>> {
        let o = self.observation(index);
        let mut record = self.record.clone();
        let m = &mut record.measurements.get_mut(o.measurement)?.what;
        reading_at(m, o.part, o.role)?.value = Length::from_metres(f64::NAN);
        let seen = Observed::of(&record);
        let sketch = sketched(&record, &seen);
        let field = Field::new(&seen, &sketch);
        let draft = match straight {
            Some(most) => field.straight(most),
            None => field.ways()?.drafts.into_iter().next(),
        };
        let places = self.framed(&draft?)?;
        let mut x: Vec<Place> =
            places.iter().zip(&self.chosen.solved.x).map(|(p, x)| p.unwrap_or(*x)).collect();
        x.extend(self.seen.first_values(&|p| places.get(p as usize).copied().flatten()));
        Some(x)
    }

    /// Its places in the frame of the present held pair.
    fn framed(&self, draft: &Draft) -> Option<Vec<Option<Place>>> {
        let (a, b) = self.chosen.held?;
        let from = draft.place(a)?;
        let (along, _) = ray(from, draft.place(b)?);
        let turned = |at: Place| {
            let v = sub(at, from);
            [dot(along, v), cross(along, v)]
        };
        Some((0u32..).take(self.seen.points.len()).map(|p| draft.place(p).map(turned)).collect())
    }
}
