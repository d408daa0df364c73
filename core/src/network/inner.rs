//! The plan without its held pair: places relative to the best fit of all determined points.
//!
//! Which wall is held is nobody's reading, yet seen from it everything far away is uncertain by the
//! wall's direction, and a misread near it turns the whole yard. What is asked of a point is how well
//! it stands in the plan. So states and advice are judged with the rigid motion that fits best taken
//! out: the covariance of a free network with inner constraints (W. Baarda, S-Transformations and
//! Criterion Matrices, 1973).

#![expect(clippy::indexing_slicing, reason = "positions index columns made for the same network")]

use super::block::Sym;
use super::equation::{Equation, Place, dot, sub};
use super::solve::{Network, Statistics};

/// The motion that fits best, as a part of the adjustment.
pub(super) struct Inner {
    /// Each point's place from the middle, where it stands in a column, and its weight.
    members: Vec<(Place, usize, f64)>,
    /// Sum of the weights (for either shift), and of the squared distances with them (for the turn).
    size: [f64; 3],
    /// Covariance of all coordinates with the shifts and the turn.
    columns: [Vec<Place>; 3],
    /// The points' own covariances, the motion taken out.
    pub covariance: Vec<Sym>,
}

/// What shifts and turn do to a point at this place from the middle.
const fn moves([x, y]: Place) -> [Place; 3] {
    [[1.0, 0.0], [0.0, 1.0], [-y, x]]
}

impl Inner {
    /// With the points fitted at their places, each counting its weight: a point that hangs on two ties may
    /// stand anywhere without shaking the others.
    pub(super) fn new(network: &Network, statistics: &Statistics, x: &[Place], weights: &[f64]) -> Self {
        let (mut sum, mut whole) = ([0.0; 2], 0.0);
        for ([x, y], w) in x.iter().zip(weights) {
            (sum, whole) = ([sum[0] + w * x, sum[1] + w * y], whole + w);
        }
        let whole = f64::max(whole, f64::MIN_POSITIVE);
        let middle = sum.map(|s| s / whole);
        let member =
            |(p, (at, weight)): (usize, (&Place, &f64))| (sub(*at, middle), statistics.position(p), *weight);
        let members: Vec<(Place, usize, f64)> = x.iter().zip(weights).enumerate().map(member).collect();
        let turn = members.iter().fold(0.0, |sum, (at, _, w)| sum + w * dot(*at, *at));
        let size = [whole, whole, turn.max(f64::MIN_POSITIVE)];
        let mut inner = Self { members, size, columns: Default::default(), covariance: Vec::new() };
        inner.columns = [0, 1, 2].map(|k| inner.column(network, statistics, k));
        inner.covariance = inner.own(statistics);
        inner
    }

    /// The covariance of all coordinates with a shift or the turn.
    fn column(&self, network: &Network, statistics: &Statistics, k: usize) -> Vec<Place> {
        let (mut points, mut gradient, mut column) = (Vec::new(), Vec::new(), Vec::new());
        for (p, (from, _, weight)) in self.members.iter().enumerate().filter(|(_, m)| m.2 > 0.0) {
            points.extend(u32::try_from(p));
            gradient.push(network.blind(p, moves(*from)[k].map(|v| weight * v / self.size[k])));
        }
        statistics.column_into(&points, &gradient, &mut column);
        column
    }

    /// Shifts and turn that fit a column best.
    fn fit(&self, column: &[Place]) -> [f64; 3] {
        let mut sums = [0.0; 3];
        for (from, position, weight) in self.members.iter().filter(|m| m.2 > 0.0) {
            for (sum, moved) in sums.iter_mut().zip(moves(*from)) {
                *sum += weight * dot(moved, column[*position]);
            }
        }
        [0, 1, 2].map(|k| sums[k] / self.size[k])
    }

    /// Shifts and turn that fit best what a reading shares with all points. Since Q is symmetric they follow from the few
    /// points it touches.
    pub(super) fn fit_of(&self, statistics: &Statistics, points: &[u32], gradient: &[Place]) -> [f64; 3] {
        self.columns.each_ref().map(|column| {
            let one = |(p, g): (&u32, &Place)| dot(*g, column[statistics.position(*p as usize)]);
            points.iter().zip(gradient).map(one).sum()
        })
    }

    /// The part of a column for each point, the motion that fits best taken out.
    pub(super) fn without<'a>(
        &'a self,
        column: &'a [Place],
        [x, y, turn]: [f64; 3],
    ) -> impl Fn(usize) -> Place + 'a {
        move |p| {
            let ([u, v], position, _) = self.members[p];
            sub(column[position], [x - turn * v, y + turn * u])
        }
    }

    /// Takes the motion that fits best out of a column.
    pub(super) fn remove(&self, column: &mut [Place]) {
        let [x, y, turn] = self.fit(column);
        for ([u, v], position, _) in &self.members {
            column[*position] = sub(column[*position], [x - turn * v, y + turn * u]);
        }
    }

    /// The covariance of all points with what a reading measures, in the order of elimination.
    pub(super) fn moved(
        &self,
        network: &Network,
        statistics: &Statistics,
        x: &[Place],
        e: &Equation,
    ) -> Vec<Place> {
        let mut column = Vec::new();
        statistics.measured_into(network, x, e, &mut column);
        self.remove(&mut column);
        column
    }

    /// Makes of the column of one coordinate of a point what it is with the motion taken out of both.
    pub(super) fn free(&self, point: usize, axis: usize, column: &mut [Place]) {
        let own = moves(self.members[point].0);
        for (k, motion) in self.columns.iter().enumerate() {
            for (c, m) in column.iter_mut().zip(motion) {
                *c = sub(*c, m.map(|v| v * own[k][axis]));
            }
        }
        self.remove(column);
    }

    /// Q − A − Aᵀ + B, with A from the covariance of a point and the motion, B from that of the motion.
    fn own(&self, statistics: &Statistics) -> Vec<Sym> {
        let between = self.columns.each_ref().map(|column| self.fit(column));
        let own = |((from, position, _), q): (&(Place, usize, f64), &Sym)| {
            let g = moves(*from);
            let part = |i: usize, j: usize| {
                let mut sum = 0.0;
                for k in 0..3 {
                    let with = self.columns[k][*position];
                    sum -= g[k][i] * with[j] + g[k][j] * with[i];
                    for l in 0..3 {
                        sum += g[k][i] * between[k][l] * g[l][j];
                    }
                }
                sum
            };
            [q[0] + part(0, 0), q[1] + part(0, 1), q[2] + part(1, 1)]
        };
        self.members.iter().zip(&statistics.covariance).map(own).collect()
    }
}
