//! The places a point could have, and how well its readings and sides agree with each.

use super::super::equation::{Place, sub};
use super::super::observe::Bond;
use super::draft::Draft;
use super::loci::{Form, Locus, loci_of, meet};
use super::{CAP, CERTAIN, Field, WRONG_SIDE, side_cost};
use crate::units::float::{hypot, sqrt};
use crate::units::sort_by;

/// Loci of a point that are looked at; more only cost time.
const MOST_LOCI: usize = 8;

/// No wall is shorter (metres).
const SHORTEST_LEG: f64 = 0.05;

/// A place a point could have.
#[derive(Clone, Copy, Debug)]
pub(super) struct Candidate {
    pub at: Place,
    pub spread: f64,
    pub score: f64,
    pub base: [u32; 2],
}

impl Field<'_> {
    pub(super) fn loci(&self, draft: &Draft, p: u32) -> Vec<Locus> {
        let mut loci = Vec::new();
        for &number in self.bonds_of.get(p as usize).into_iter().flatten() {
            if let Some(bond) = self.seen.bonds.get(number as usize) {
                loci_of(self.seen, bond, p, draft, &mut loci);
            }
        }
        loci
    }

    /// The places a point could have, best first, none near another.
    pub(super) fn candidates(&self, draft: &Draft, p: u32) -> Vec<Candidate> {
        let mut loci = self.loci(draft, p);
        sort_by(&mut loci, |a, b| a.spread.total_cmp(&b.spread));
        if loci.len() > MOST_LOCI {
            // A line taped again and again must not crowd out what crosses it.
            let circle = |l: &Locus| matches!(l.form, Form::Circle { .. });
            let before = |i: usize, l: &Locus| loci.iter().take(i).any(|m| circle(m) && m.from == l.from);
            let again = loci.iter().enumerate().map(|(i, l)| circle(l) && before(i, l));
            let mut ranked: Vec<(bool, Locus)> = again.zip(loci.iter().copied()).collect();
            sort_by(&mut ranked, |a, b| a.0.cmp(&b.0));
            loci = ranked.into_iter().map(|(_, locus)| locus).take(MOST_LOCI).collect();
        }
        let mut found: Vec<Candidate> = Vec::new();
        for (i, one) in loci.iter().enumerate() {
            for two in loci.iter().skip(i + 1) {
                for at in meet(one, two).into_iter().flatten() {
                    found.extend(self.judge(draft, p, &loci, at, base(one, two)));
                }
            }
        }
        sort_by(&mut found, |a, b| a.score.total_cmp(&b.score));
        let mut distinct: Vec<Candidate> = Vec::new();
        for c in found {
            let same = |d: &Candidate| {
                let [x, y] = sub(c.at, d.at);
                hypot(x, y) < 3.0 * c.spread.min(d.spread).min(0.1) + 1e-6
            };
            if !distinct.iter().any(same) {
                distinct.push(c);
            }
        }
        distinct
    }

    /// Moves a place to where all loci agree best and says how well they do.
    fn judge(&self, draft: &Draft, p: u32, loci: &[Locus], at: Place, base: [u32; 2]) -> Option<Candidate> {
        let at = settle(loci, at);
        if !(at[0].is_finite() && at[1].is_finite()) {
            return None;
        }
        let mut score = 0.0;
        let mut weight = [0.0; 3];
        for locus in loci {
            let (misfit, [x, y]) = locus.misfit(at);
            let (t, w) = (misfit / locus.spread, 1.0 / (locus.spread * locus.spread));
            score += (t * t).min(CAP);
            if t * t < CAP {
                weight = [weight[0] + w * x * x, weight[1] + w * x * y, weight[2] + w * y * y];
            }
            if locus.behind(at) {
                score += WRONG_SIDE;
            }
        }
        if self.folded(draft, p, at) {
            score += WRONG_SIDE;
        }
        let [a, b, c] = weight;
        let det = a * c - b * b;
        // Two loci that cross at under a tenth of a degree fix nothing.
        let spread = if det > 1e-6 * a.max(c) * a.max(c) { sqrt((a + c) / det) } else { 1e3 };
        for &number in self.said_of.get(p as usize).into_iter().flatten() {
            if let Some(said) = self.seen.said.get(number as usize) {
                score +=
                    side_cost(said, |q| if q == p { Some(at) } else { draft.place(q) }, spread.min(0.05));
            }
        }
        Some(Candidate { at, spread, score, base })
    }

    /// Whether a place makes the leg of a square corner nothing: the circle on which the corner would
    /// stand goes through its neighbours, so that they seem to be places for it.
    fn folded(&self, draft: &Draft, p: u32, at: Place) -> bool {
        let mut bonds = self.bonds_of.get(p as usize).into_iter().flatten();
        bonds.any(|&number| match self.seen.bonds.get(number as usize) {
            Some(Bond::Square { at: corner, a, c }) => {
                let legs = if p == *corner { [*a, *c] } else { [*corner; 2] };
                legs.iter().filter_map(|q| draft.place(*q)).any(|q| {
                    let [x, y] = sub(at, q);
                    hypot(x, y) < SHORTEST_LEG
                })
            }
            _ => false,
        })
    }
}

/// The candidates that cannot be told apart from the best: one when it is certain.
pub(super) fn certain(candidates: &[Candidate]) -> &[Candidate] {
    let Some(best) = candidates.first() else { return candidates };
    let count = candidates.iter().take_while(|c| c.score < best.score + CERTAIN).count();
    candidates.get(..count).unwrap_or(candidates)
}

/// A few Gauss-Newton steps of one point, readings far off weighted down (P. J. Huber's weights, limit 3).
fn settle(loci: &[Locus], mut at: Place) -> Place {
    for _ in 0..4 {
        let (mut n, mut g) = ([0.0; 3], [0.0; 2]);
        for locus in loci {
            let (misfit, [x, y]) = locus.misfit(at);
            let t = misfit / locus.spread;
            let w = (3.0 / t.abs()).min(1.0) / (locus.spread * locus.spread);
            n = [n[0] + w * x * x, n[1] + w * x * y, n[2] + w * y * y];
            g = [g[0] + w * misfit * x, g[1] + w * misfit * y];
        }
        let det = n[0] * n[2] - n[1] * n[1];
        if det <= 1e-6 * n[0].max(n[2]) * n[0].max(n[2]) || !det.is_finite() {
            break;
        }
        at = [at[0] - (n[2] * g[0] - n[1] * g[1]) / det, at[1] - (n[0] * g[1] - n[1] * g[0]) / det];
    }
    at
}

/// The line between two of the points that define the loci.
fn base(one: &Locus, two: &Locus) -> [u32; 2] {
    let a = one.from[0];
    let b = [one.from[1], two.from[0], two.from[1]].into_iter().find(|&b| b != a).unwrap_or(a);
    [a.min(b), a.max(b)]
}
