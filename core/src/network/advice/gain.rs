//! What a tie would change, from columns of the covariance.

#![expect(clippy::indexing_slicing, reason = "point and equation numbers index lists made together")]

use super::super::block::{Sym, eigen};
use super::super::equation::{Place, dot, ray, sub};
use super::super::judge::{LARGEST_MISREAD, UNSEEN_SHIFT, hidden};
use super::super::result::PointState;
use super::super::solve::{Network, Statistics};
use super::{LOOSE_SD, Purpose};
use crate::units::float::{hypot, sqrt};
use std::cmp::Ordering;

/// A loose point counts as fixed when its place is known better than this (metres, one standard
/// deviation): a tenth of what it is guessed to.
const FIXED_SD: f64 = 0.1 * LOOSE_SD;
/// Less than this share of a weak point's uncertainty is no help.
const LEAST_HELP: f64 = 0.02;

/// A point worth improving.
#[derive(Clone, Copy, Debug)]
pub(super) struct Weak {
    pub point: usize,
    pub purpose: Purpose,
}

/// A reading whose misread passes unseen and moves a weak point too far.
struct Danger {
    /// Q·Jᵀ of the reading.
    column: Vec<Place>,
    sd: f64,
    redundancy: f64,
    /// The weak points it moves.
    moves: Vec<usize>,
}

/// What a tie would change.
#[derive(Clone, Debug)]
pub(super) struct Gain {
    pub purpose: Purpose,
    /// Points whose state changes.
    pub turns: Vec<(usize, PointState)>,
    /// Variance taken from the weak points (m²), and what they had.
    taken: f64,
    had: f64,
    /// Covariance of the tie's weak end then.
    pub then: Sym,
}

impl Gain {
    /// The better gain is the greater: what is for the worst state first, then how many points it
    /// changes, then the variance it takes.
    pub(super) fn better(&self, other: &Self) -> Ordering {
        let purpose = other.purpose.cmp(&self.purpose);
        purpose.then(self.turns.len().cmp(&other.turns.len())).then(self.taken.total_cmp(&other.taken))
    }

    pub(super) fn helps(&self) -> bool {
        !self.turns.is_empty() || self.taken > LEAST_HELP * self.had
    }
}

/// A tie taken: Q·Jᵀ by point before it, and σ² + J·Q·Jᵀ.
struct Update {
    c: Vec<Place>,
    s: f64,
}

/// Columns of the covariance for the weak points and for what endangers them.
pub(super) struct Field<'a> {
    network: &'a Network,
    x: &'a [Place],
    statistics: Statistics,
    points: usize,
    pub weak: Vec<Weak>,
    /// For each point its own block.
    own: Vec<Sym>,
    /// For each weak point the covariance of all points with its x and its y.
    columns: Vec<[Vec<Place>; 2]>,
    dangers: Vec<Danger>,
    taken: Vec<Update>,
}

impl<'a> Field<'a> {
    pub(super) fn new(
        network: &'a Network,
        x: &'a [Place],
        loose: &[usize],
        weak: Vec<Weak>,
        points: usize,
    ) -> Self {
        let statistics = network.statistics_with(x, loose, 1.0 / (LOOSE_SD * LOOSE_SD));
        let own = statistics.covariance.iter().take(points).copied().collect();
        let (columns, dangers, taken) = (Vec::new(), Vec::new(), Vec::new());
        let mut field = Self { network, x, statistics, points, weak, own, columns, dangers, taken };
        let columns = field
            .weak
            .iter()
            .map(|w| [[1.0, 0.0], [0.0, 1.0]].map(|axis| field.column(&[number(w.point)], &[axis])));
        field.columns = columns.collect();
        field.look_for_dangers();
        field
    }

    /// Q·gᵀ by point, before any tie was taken; blind to held coordinates.
    fn column(&self, of: &[u32], gradient: &[Place]) -> Vec<Place> {
        let blind = |(p, g): (&u32, &Place)| {
            let held = self.network.held[*p as usize];
            [if held[0] { 0.0 } else { g[0] }, if held[1] { 0.0 } else { g[1] }]
        };
        let gradient: Vec<Place> = of.iter().zip(gradient).map(blind).collect();
        let column = self.statistics.column(of, &gradient);
        (0..self.points).map(|p| column.at(p)).collect()
    }

    /// The readings that make weak points unchecked.
    fn look_for_dangers(&mut self) {
        for (e, s) in self.network.equations.iter().zip(&self.statistics.readings) {
            let row = self.network.row(e, self.x);
            let factor = hidden(s.redundancy, e.sd, self.statistics.unseen) / (e.sd * e.sd);
            let part = |c: &Vec<Place>| e.each().zip(row.gradient).map(|(p, g)| dot(g, c[p])).sum::<f64>();
            let moved = |c: &[Vec<Place>; 2]| hypot(part(&c[0]), part(&c[1])) * factor;
            let weak = self.weak.iter().zip(&self.columns).filter(|(w, _)| w.purpose == Purpose::Check);
            let moves: Vec<usize> =
                weak.filter(|(_, c)| moved(c) > UNSEEN_SHIFT).map(|(w, _)| w.point).collect();
            if !moves.is_empty() {
                let points = e.points();
                let column = self.column(&points[..e.count()], &row.gradient);
                self.dangers.push(Danger { column, sd: e.sd, redundancy: s.redundancy, moves });
            }
        }
    }

    fn index(&self, point: usize) -> Option<usize> {
        self.weak.iter().position(|w| w.point == point)
    }

    /// What a tie from q to the weak point p would change; none when p is not weak any more.
    pub(super) fn gain(&self, q: usize, p: usize, sd: f64) -> Option<Gain> {
        let at = self.index(p)?;
        let (g, _) = ray(self.x[q], self.x[p]);
        // J·v for a column v.
        let along = |v: &[Place]| dot(g, sub(v[p], v[q]));
        let [mine_x, mine_y] = &self.columns[at];
        let qp = g[0] * dot(g, mine_x[q]) + g[1] * dot(g, mine_y[q]);
        let s = sd * sd + square(self.own[p], g) - 2.0 * qp + square(self.own[q], g);
        let purpose = self.weak[at].purpose;
        let mut gain = Gain { purpose, turns: Vec::new(), taken: 0.0, had: 0.0, then: self.own[p] };
        for (w, columns) in self.weak.iter().zip(&self.columns) {
            let c = [along(&columns[0]), along(&columns[1])];
            let own = self.own[w.point];
            let then = less(own, c, s);
            if w.point == p {
                (gain.then, gain.had) = (then, own[0] + own[2]);
            }
            if w.purpose != purpose {
                continue;
            }
            gain.taken += dot(c, c) / s;
            // The tie's own misread must not pass unseen either.
            let own_shift = hypot(c[0], c[1]) * (self.statistics.unseen * sqrt(s)).min(LARGEST_MISREAD) / s;
            match purpose {
                Purpose::Fix if eigen(then).0 < FIXED_SD * FIXED_SD => {
                    gain.turns.push((w.point, PointState::Fixed));
                }
                Purpose::Check if own_shift <= UNSEEN_SHIFT && self.checked(w.point, c, s, along) => {
                    gain.turns.push((w.point, PointState::Checked));
                }
                _ => {}
            }
        }
        Some(gain)
    }

    /// Whether nothing that passes unseen would move a weak point too far, with a tie taken.
    fn checked(&self, point: usize, c: Place, s: f64, along: impl Fn(&[Place]) -> f64) -> bool {
        self.dangers.iter().filter(|d| d.moves.contains(&point)).all(|d| {
            let k = along(&d.column);
            let redundancy = d.redundancy + k * k / (s * d.sd * d.sd);
            let moved = sub(d.column[point], [c[0] * k / s, c[1] * k / s]);
            hypot(moved[0], moved[1]) * hidden(redundancy, d.sd, self.statistics.unseen) / (d.sd * d.sd)
                <= UNSEEN_SHIFT
        })
    }

    /// Goes on as if a tie had been taken and agreed.
    pub(super) fn take(&mut self, q: usize, p: usize, sd: f64, gain: &Gain) {
        let (g, _) = ray(self.x[q], self.x[p]);
        let along = |v: &[Place]| dot(g, sub(v[p], v[q]));
        let mut c = self.column(&[number(q), number(p)], &[[-g[0], -g[1]], g]);
        for update in &self.taken {
            lessen(&mut c, &update.c, along(&update.c) / update.s);
        }
        let s = sd * sd + along(&c);
        for (own, c) in self.own.iter_mut().zip(&c) {
            *own = less(*own, *c, s);
        }
        for (w, columns) in self.weak.iter().zip(&mut self.columns) {
            for (column, cw) in columns.iter_mut().zip(c[w.point]) {
                lessen(column, &c, cw / s);
            }
        }
        for d in &mut self.dangers {
            let k = along(&d.column);
            d.redundancy += k * k / (s * d.sd * d.sd);
            lessen(&mut d.column, &c, k / s);
        }
        self.taken.push(Update { c, s });
        let done = |w: &Weak| {
            gain.turns.iter().any(|(point, _)| *point == w.point)
                || (w.purpose == Purpose::Tell && w.point == p)
        };
        let mut left = self.weak.iter().map(|w| !done(w));
        self.columns.retain(|_| left.next().unwrap_or(true));
        self.weak.retain(|w| !done(w));
    }
}

fn number(point: usize) -> u32 {
    u32::try_from(point).unwrap_or(u32::MAX)
}

/// gᵀ·Q·g.
fn square(q: Sym, [x, y]: Place) -> f64 {
    q[0] * x * x + 2.0 * q[1] * x * y + q[2] * y * y
}

/// Q − c·cᵀ/s.
fn less(q: Sym, c: Place, s: f64) -> Sym {
    [q[0] - c[0] * c[0] / s, q[1] - c[0] * c[1] / s, q[2] - c[1] * c[1] / s]
}

/// v − c·factor, point by point.
fn lessen(v: &mut [Place], c: &[Place], factor: f64) {
    for (v, c) in v.iter_mut().zip(c) {
        *v = [v[0] - c[0] * factor, v[1] - c[1] * factor];
    }
}
