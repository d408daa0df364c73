//! What a tie would change, from columns of the covariance.

#![expect(clippy::indexing_slicing, reason = "point and equation numbers index lists made together")]

use super::super::block::{Sym, eigen};
use super::super::equation::{Place, dot, ray, sub};
use super::super::exposure::{Hidden, UNSEEN_SHIFT, exposure, whole};
use super::super::inner::Inner;
use super::super::result::PointState;
use super::super::solve::{Network, Statistics};
use super::{LOOSE_SD, Purpose, Yard};
use std::cmp::Ordering;

/// A loose point counts as fixed when its place is known better than this (metres, one standard
/// deviation): a tenth of what it is guessed to.
pub(super) const FIXED_SD: f64 = 0.1 * LOOSE_SD;
/// Less than this share of what is wanted is no help.
const LEAST_HELP: f64 = 0.1;
/// A misread that moves a point by less (metres) is none of its dangers.
const NOTICEABLE: f64 = 0.01;
/// A line taped again counts for this share of a new one: who errs once may err so again. Common
/// practice, no source.
const AGAIN: f64 = 0.5;

/// A point worth improving.
#[derive(Clone, Copy, Debug)]
pub(super) struct Weak {
    pub point: usize,
    pub purpose: Purpose,
}

/// A tie that could be taken, from a known point to a weak one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tie {
    pub from: usize,
    pub to: usize,
    pub sd: f64,
    /// The same was measured before.
    pub again: bool,
}

/// A reading whose misread could pass unseen and leave a weak point too far off.
struct Danger {
    /// Q·Jᵀ of the reading.
    column: Vec<Place>,
    sd: f64,
    redundancy: f64,
    /// The weak points it endangers.
    moves: Vec<usize>,
}

/// What a tie would change.
#[derive(Clone, Debug)]
pub(super) struct Gain {
    pub purpose: Purpose,
    /// Points whose state changes.
    pub turns: Vec<(usize, PointState)>,
    /// How much of what is wanted it does for all weak points, and how much there was at the one for which
    /// it does most: of the variance, or of the exposure beyond the limit (m²).
    done: f64,
    wanted: f64,
}

impl Gain {
    /// The better gain is the greater: what is for the worst state first, then how many points it
    /// changes, then how much it does.
    pub(super) fn better(&self, other: &Self) -> Ordering {
        let purpose = other.purpose.cmp(&self.purpose);
        purpose.then(self.turns.len().cmp(&other.turns.len())).then(self.done.total_cmp(&other.done))
    }

    pub(super) fn helps(&self) -> bool {
        !self.turns.is_empty() || self.done > LEAST_HELP * self.wanted
    }
}

/// A tie taken: Q·Jᵀ by point before it, the same with the held pair held, and σ² + J·Q·Jᵀ.
struct Update {
    c: Vec<Place>,
    plain: Vec<Place>,
    s: f64,
}

/// Columns of the covariance for the weak points and for what endangers them. But for what is said of
/// ellipses it is that of the plan without its held pair, as states are judged.
pub(super) struct Field<'a> {
    network: &'a Network,
    x: &'a [Place],
    statistics: Statistics,
    inner: Inner,
    points: usize,
    pub weak: Vec<Weak>,
    /// For each point its own block; and with the held pair held.
    own: Vec<Sym>,
    held: Vec<Sym>,
    /// Points a tie could end at: the weak ones first, then those that weak ones hang on.
    pub ends: Vec<usize>,
    /// For each end the covariance of all points with its x and its y.
    columns: Vec<[Vec<Place>; 2]>,
    dangers: Vec<Danger>,
    taken: Vec<Update>,
}

impl<'a> Field<'a> {
    pub(super) fn new(yard: &'a Yard) -> Self {
        let (network, x, points) = (&yard.network, yard.x.as_slice(), yard.points());
        let statistics = network.statistics_with(x, &yard.loose, 1.0 / (LOOSE_SD * LOOSE_SD));
        let fitted: Vec<bool> = (0..points).map(|p| yard.there[p] && !yard.loose.contains(&p)).collect();
        let inner = whole(network, &statistics, x, &fitted);
        let own = inner.covariance.clone();
        let held = statistics.covariance.iter().take(points).copied().collect();
        let weak = yard.weak();
        let ends = yard.ends(&weak);
        let (columns, dangers, taken) = (Vec::new(), Vec::new(), Vec::new());
        let mut field =
            Self { network, x, statistics, inner, points, weak, own, held, ends, columns, dangers, taken };
        field.columns = field.ends.iter().map(|p| [0, 1].map(|axis| field.of_point(*p, axis))).collect();
        field.look_for_dangers(&yard.read);
        field
    }

    /// The covariance of all points with one coordinate of a point.
    fn of_point(&self, point: usize, axis: usize) -> Vec<Place> {
        let mut unit = [0.0; 2];
        unit[axis] = 1.0;
        let mut column = Vec::new();
        let unit = self.network.blind(point, unit);
        self.statistics.column_into(&[number(point)], &[unit], &mut column);
        self.inner.free(point, axis, &mut column);
        self.by_point(&column)
    }

    /// Q·gᵀ in the order of elimination, the held pair held.
    fn of_gradient(&self, of: &[u32], gradient: &[Place]) -> Vec<Place> {
        let gradient: Vec<Place> =
            of.iter().zip(gradient).map(|(p, g)| self.network.blind(*p as usize, *g)).collect();
        let mut column = Vec::new();
        self.statistics.column_into(of, &gradient, &mut column);
        column
    }

    fn by_point(&self, column: &[Place]) -> Vec<Place> {
        (0..self.points).map(|p| column[self.statistics.position(p)]).collect()
    }

    /// The readings that make weak points unchecked.
    fn look_for_dangers(&mut self, read: &[bool]) {
        let readings = self.network.equations.iter().zip(&self.statistics.readings).zip(read);
        for ((e, s), _) in readings.filter(|(_, read)| **read) {
            let row = self.network.row(e, self.x);
            let part = |c: &Vec<Place>| e.each().zip(row.gradient).map(|(p, g)| dot(g, c[p])).sum::<f64>();
            let weak = self.weak_columns().filter(|(w, _)| w.purpose == Purpose::Check);
            let endangered = weak.filter(|(w, c)| {
                self.endangers([part(&c[0]), part(&c[1])], self.own[w.point], s.redundancy, e.sd)
            });
            let moves: Vec<usize> = endangered.map(|(w, _)| w.point).collect();
            if !moves.is_empty() {
                let column = self.inner.moved(self.network, &self.statistics, self.x, e);
                let column = self.by_point(&column);
                self.dangers.push(Danger { column, sd: e.sd, redundancy: s.redundancy, moves });
            }
        }
    }

    /// Whether a reading leaves a point too far off, and has a noticeable part in that.
    fn endangers(&self, shared: Place, own: Sym, redundancy: f64, sd: f64) -> bool {
        let moved = exposure([0.0; 3], shared, Hidden::new(redundancy, sd, self.statistics.unseen));
        moved > NOTICEABLE * NOTICEABLE && self.excess(own, shared, redundancy, sd) > 0.0
    }

    /// How much larger the exposure of a point to a reading is than it may be.
    fn excess(&self, own: Sym, shared: Place, redundancy: f64, sd: f64) -> f64 {
        let reading = Hidden::new(redundancy, sd, self.statistics.unseen);
        (exposure(own, shared, reading) - UNSEEN_SHIFT * UNSEEN_SHIFT).max(0.0)
    }

    fn column(&self, point: usize) -> Option<&[Vec<Place>; 2]> {
        self.columns.get(self.ends.iter().position(|p| *p == point)?)
    }

    fn weak_columns(&self) -> impl Iterator<Item = (&Weak, &[Vec<Place>; 2])> {
        self.weak.iter().filter_map(|w| Some((w, self.column(w.point)?)))
    }

    /// What a tie would change: for its end, when that is weak, or else for the points that hang on it.
    pub(super) fn gain(&self, tie: Tie) -> Option<Gain> {
        let (q, p) = (tie.from, tie.to);
        let (g, _) = ray(self.x[q], self.x[p]);
        // J·v for a column v.
        let along = |v: &[Place]| dot(g, sub(v[p], v[q]));
        let [mine_x, mine_y] = self.column(p)?;
        let qp = g[0] * dot(g, mine_x[q]) + g[1] * dot(g, mine_y[q]);
        let s = tie.sd * tie.sd + square(self.own[p], g) - 2.0 * qp + square(self.own[q], g);
        let purpose = self.weak.iter().find(|w| w.point == p).map_or(Purpose::Check, |w| w.purpose);
        let mut gain = Gain { purpose, turns: Vec::new(), done: 0.0, wanted: 0.0 };
        let mut most = 0.0;
        for (w, columns) in self.weak_columns().filter(|(w, _)| w.purpose == purpose) {
            let c = [along(&columns[0]), along(&columns[1])];
            let (own, then) = (self.own[w.point], less(self.own[w.point], c, s));
            let (before, after) = match purpose {
                Purpose::Check => {
                    // The tie's own misread must not pass unseen either: it shares c·σ²/s with the point.
                    let rest = tie.sd * tie.sd / s;
                    let tie_itself = self.excess(then, c.map(|c| c * rest), rest, tie.sd);
                    (self.exposed(w.point, own), self.exposed_then(w.point, then, c, s, along) + tie_itself)
                }
                _ => (own[0] + own[2], then[0] + then[2]),
            };
            gain.done += before - after;
            if before - after > most {
                (most, gain.wanted) = (before - after, before);
            }
            match purpose {
                Purpose::Fix if eigen(then).0 < FIXED_SD * FIXED_SD => {
                    gain.turns.push((w.point, PointState::Fixed));
                }
                Purpose::Check if after <= 0.0 => gain.turns.push((w.point, PointState::Checked)),
                _ => {}
            }
        }
        gain.done *= if tie.again { AGAIN } else { 1.0 };
        Some(gain)
    }

    /// All exposure of a weak point beyond what may be.
    fn exposed(&self, point: usize, own: Sym) -> f64 {
        let mine = self.dangers.iter().filter(|d| d.moves.contains(&point));
        let chance = self.excess(own, [0.0; 2], 1.0, 1.0);
        chance + mine.map(|d| self.excess(own, d.column[point], d.redundancy, d.sd)).sum::<f64>()
    }

    /// The same with a tie taken.
    fn exposed_then(
        &self,
        point: usize,
        then: Sym,
        c: Place,
        s: f64,
        along: impl Fn(&[Place]) -> f64,
    ) -> f64 {
        let mine = self.dangers.iter().filter(|d| d.moves.contains(&point));
        let one = |d: &Danger| {
            let k = along(&d.column);
            let redundancy = d.redundancy + k * k / (s * d.sd * d.sd);
            let shared = sub(d.column[point], [c[0] * k / s, c[1] * k / s]);
            self.excess(then, shared, redundancy, d.sd)
        };
        self.excess(then, [0.0; 2], 1.0, 1.0) + mine.map(one).sum::<f64>()
    }

    /// Goes on as if a tie had been taken and agreed; the covariance of its end then, the held pair held.
    pub(super) fn take(&mut self, tie: Tie, gain: &Gain) -> Sym {
        let (q, p) = (tie.from, tie.to);
        let (g, _) = ray(self.x[q], self.x[p]);
        let along = |v: &[Place]| dot(g, sub(v[p], v[q]));
        let whole = self.of_gradient(&[number(q), number(p)], &[[-g[0], -g[1]], g]);
        let mut free = whole.clone();
        self.inner.remove(&mut free);
        let [mut plain, mut c] = [self.by_point(&whole), self.by_point(&free)];
        for update in &self.taken {
            let share = along(&update.plain) / update.s;
            lessen(&mut plain, &update.plain, share);
            lessen(&mut c, &update.c, share);
        }
        let s = tie.sd * tie.sd + along(&c);
        for (own, c) in self.own.iter_mut().zip(&c).chain(self.held.iter_mut().zip(&plain)) {
            *own = less(*own, *c, s);
        }
        for (end, columns) in self.ends.iter().zip(&mut self.columns) {
            for (column, cw) in columns.iter_mut().zip(c[*end]) {
                lessen(column, &c, cw / s);
            }
        }
        for d in &mut self.dangers {
            let k = along(&d.column);
            d.redundancy += k * k / (s * d.sd * d.sd);
            lessen(&mut d.column, &c, k / s);
        }
        let rest = tie.sd * tie.sd / s;
        let column = c.iter().map(|c| c.map(|c| c * rest)).collect();
        let own = Danger { column, sd: tie.sd, redundancy: rest, moves: Vec::new() };
        self.taken.push(Update { c, plain, s });
        self.leave(own, p, gain);
        self.held[p]
    }

    /// Leaves out the points that are well now; the tie itself may endanger the others.
    fn leave(&mut self, mut tie: Danger, p: usize, gain: &Gain) {
        let done = |w: &Weak| {
            gain.turns.iter().any(|(point, _)| *point == w.point)
                || (w.purpose == Purpose::Tell && w.point == p)
        };
        self.weak.retain(|w| !done(w));
        let endangered =
            |w: &&Weak| self.endangers(tie.column[w.point], self.own[w.point], tie.redundancy, tie.sd);
        tie.moves = self.weak.iter().filter(endangered).map(|w| w.point).collect();
        self.dangers.push(tie);
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
