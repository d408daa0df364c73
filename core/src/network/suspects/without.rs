//! The network solved without some of its readings.

#![expect(clippy::indexing_slicing, reason = "point and equation numbers index lists made together")]

use super::super::block::invert;
use super::super::equation::{Equation, Place, ray};
use super::super::first::{side, side_cost};
use super::super::solve::{Network, Solved};
use super::Search;
use crate::units::float::hypot;

/// A reading left out keeps its place in the network with a standard deviation this much larger.
const LEFT_OUT: f64 = 1e6;
/// Steps of a trial.
pub(super) const STEPS: usize = 25;
/// A misclosure beyond this (standard deviations) may have pulled a point across a line.
const FAR: f64 = 15.0;
/// A place is left only for one better by more (squared standard deviations).
const AS_GOOD: f64 = 4.0;
/// A longer step (metres) leads nowhere.
const LONGEST_STEP: f64 = 100.0;
/// Lines a point is mirrored on, to see whether it stands better there.
const MIRRORS: usize = 4;

/// A network solved without some readings.
pub(super) struct Without {
    pub network: Network,
    pub x: Vec<Place>,
    pub chi_square: f64,
}

impl Search<'_> {
    /// Solves without what was found and `more`; exactly, or good to a millimetre.
    pub(super) fn without(&self, more: &[usize], start: &[Place], exactly: bool) -> Without {
        let mut network = self.chosen.network.clone();
        let gone = || self.out.iter().chain(more).copied();
        for index in gone() {
            network.equations[index].sd *= LEFT_OUT;
        }
        // A large misread may have pulled its points over to the mirror side of their other readings.
        let mut x = start.to_vec();
        for index in gone() {
            let e = &self.chosen.network.equations[index];
            if e.at(start).misclosure.abs() > FAR * e.sd {
                for p in e.each() {
                    self.settle_alone(&network, &mut x, p);
                }
            }
        }
        let solve = |start: &[Place]| match exactly {
            true => network.solve(start),
            false => network.approach(start, STEPS),
        };
        let mut solved = solve(start);
        if x != start {
            let other = solve(&x);
            let cost = |s: &Solved| s.chi_square + self.sides(&s.x);
            if cost(&other) < cost(&solved) - AS_GOOD {
                solved = other;
            }
        }
        Without { network, x: solved.x, chi_square: solved.chi_square }
    }

    /// What contradicting said sides costs at `x`.
    pub(super) fn sides(&self, x: &[Place]) -> f64 {
        let known = |p: u32| self.chosen.known[p as usize].then(|| x[p as usize]);
        self.seen.said.iter().map(|said| side_cost(said, known, 0.0)).sum()
    }

    /// Puts one point where its readings like it best, all others held: from where it is, from where
    /// the first positions had it, and from the mirror places on lines between its neighbours.
    fn settle_alone(&self, network: &Network, x: &mut [Place], p: usize) {
        if network.held[p] != [false; 2] {
            return;
        }
        let weighs = |e: &&Equation| e.each().any(|q| q == p);
        let touching: Vec<Equation> = network.equations.iter().filter(weighs).copied().collect();
        let mut near: Vec<usize> = Vec::new();
        for q in touching.iter().flat_map(Equation::each).filter(|&q| q != p) {
            if !near.contains(&q) {
                near.push(q);
            }
        }
        let mut starts = vec![x[p]];
        starts.extend(self.chosen.drafted[p]);
        let pairs = near.iter().enumerate().flat_map(|(i, &a)| near.iter().skip(i + 1).map(move |&b| (a, b)));
        for (a, b) in pairs.take(MIRRORS) {
            let ([ux, uy], h) = (ray(x[a], x[b]).0, 2.0 * side(x[a], x[b], x[p]));
            starts.push([x[p][0] + h * uy, x[p][1] - h * ux]);
        }
        let mut best: Option<(f64, Place)> = None;
        let mut trial = x.to_vec();
        for start in starts {
            trial[p] = start;
            descend(&touching, &mut trial, p);
            let square = |t: f64| t * t;
            let cost = touching.iter().map(|e| square(e.at(&trial).misclosure / e.sd)).sum::<f64>();
            let cost = cost + self.sides(&trial);
            if best.is_none_or(|(least, _)| cost < least - AS_GOOD) {
                best = Some((cost, trial[p]));
            }
        }
        if let Some((_, at)) = best {
            x[p] = at;
        }
    }
}

/// Newton's steps for one point, all others held.
fn descend(touching: &[Equation], x: &mut [Place], p: usize) {
    for _ in 0..STEPS {
        let (mut n, mut right) = ([0.0; 3], [0.0; 2]);
        for e in touching {
            let row = e.at(x);
            let w = 1.0 / (e.sd * e.sd);
            for (_, [gx, gy]) in e.each().zip(row.gradient).filter(|(q, _)| *q == p) {
                n = [n[0] + w * gx * gx, n[1] + w * gx * gy, n[2] + w * gy * gy];
                right = [right[0] - w * row.misclosure * gx, right[1] - w * row.misclosure * gy];
            }
        }
        let i = invert(n);
        let step = [i[0] * right[0] + i[1] * right[1], i[1] * right[0] + i[2] * right[1]];
        if !step.iter().all(|v| v.is_finite() && v.abs() < LONGEST_STEP) {
            return;
        }
        x[p] = [x[p][0] + step[0], x[p][1] + step[1]];
        if hypot(step[0], step[1]) < 1e-3 {
            return;
        }
    }
}
