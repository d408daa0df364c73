//! Sparse LDLᵀ of the normal equations in 2×2 blocks, one block row a point, and the elements of
//! the inverse that lie in its pattern.

#![expect(
    clippy::indexing_slicing,
    reason = "rows, columns and slots come from one analysis and are in range"
)]

use super::block::{Block, Sym, add_product, full, invert, smaller_eigen, times_sym, transposed};
use super::equation::{Equation, Place};
use super::ordering::eliminate;
use crate::units::ascending;

const NONE: u32 = u32::MAX;

/// A pivot this much smaller than the point's own information is no pivot: the point's standard
/// deviation would be ten thousand times that of its readings.
const NO_PIVOT: f64 = 1e-8;

/// Where everything goes; depends on which points the equations join, not on their values.
pub(crate) struct Pattern {
    /// Position in the elimination order of each point.
    place: Vec<u32>,
    order: Vec<u32>,
    start: Vec<usize>,
    rows: Vec<u32>,
    /// The slots of the equations' pairs, in the order of [`PAIRS`], one equation after the other.
    slots: Vec<u32>,
    /// Where those of each equation begin.
    first: Vec<usize>,
}

/// A direction in which a point may move without any equation noticing.
pub(crate) struct Free {
    position: u32,
    direction: Place,
}

/// The factorised normal equations.
pub(crate) struct Factor {
    diagonal: Vec<Sym>,
    held: Vec<[bool; 2]>,
    inverse: Vec<Sym>,
    lower: Vec<Block>,
    scale: Vec<f64>,
    cursor: Vec<usize>,
    head: Vec<u32>,
    link: Vec<u32>,
    map: Vec<u32>,
    /// Pivots that were not there.
    pub free: Vec<Free>,
}

/// Pairs of an equation's nodes, such that n nodes have the first n·(n − 1)/2.
const PAIRS: [(usize, usize); 6] = [(0, 1), (0, 2), (1, 2), (0, 3), (1, 3), (2, 3)];

/// The pairs of an equation of so many nodes.
fn pairs(nodes: usize) -> &'static [(usize, usize)] {
    &PAIRS[..nodes * (nodes - 1) / 2]
}

impl Pattern {
    /// Orders the points and lays out the factor.
    pub(crate) fn new(points: usize, equations: &[Equation]) -> Self {
        let edges = equations.iter().flat_map(|e| {
            let p = e.points();
            pairs(e.count()).iter().map(move |&(i, j)| (p[i], p[j]))
        });
        let elimination = eliminate(points, edges);
        let mut place = vec![0; points];
        for (position, &node) in (0u32..).zip(&elimination.order) {
            place[node as usize] = position;
        }
        let mut start = vec![0];
        let mut rows = Vec::new();
        for &node in &elimination.order {
            let from = rows.len();
            rows.extend(elimination.column[node as usize].iter().map(|&k| place[k as usize]));
            ascending(&mut rows[from..]);
            start.push(rows.len());
        }
        let order = elimination.order;
        let mut pattern = Self { place, order, start, rows, slots: Vec::new(), first: Vec::new() };
        for e in equations {
            pattern.first.push(pattern.slots.len());
            let p = e.points();
            for &(i, j) in pairs(e.count()) {
                pattern.slots.push(pattern.slot(p[i], p[j]).unwrap_or(NONE));
            }
        }
        pattern
    }

    /// An equation's pairs of nodes that are joined, with their slots.
    fn slots_of(&self, number: usize, nodes: usize) -> impl Iterator<Item = (u32, (usize, usize))> {
        let (pairs, from) = (pairs(nodes), self.first[number]);
        let slots = self.slots[from..from + pairs.len()].iter().copied();
        slots.zip(pairs.iter().copied()).filter(|(slot, _)| *slot != NONE)
    }

    /// Index of the block that joins two points; none when they are not joined, or the same.
    fn slot(&self, a: u32, b: u32) -> Option<u32> {
        let (a, b) = (self.place[a as usize], self.place[b as usize]);
        let (column, row) = (a.min(b) as usize, a.max(b));
        let from = self.start[column];
        let found = self.rows[from..self.start[column + 1]].binary_search(&row).ok()?;
        u32::try_from(from + found).ok()
    }

    fn len(&self) -> usize {
        self.order.len()
    }

    /// Where a point comes in the order of elimination.
    pub(crate) fn position(&self, point: usize) -> usize {
        self.place[point] as usize
    }
}

impl Factor {
    pub(crate) fn new(pattern: &Pattern) -> Self {
        let n = pattern.len();
        Self {
            diagonal: vec![[0.0; 3]; n],
            held: vec![[false; 2]; n],
            inverse: vec![[0.0; 3]; n],
            lower: vec![[0.0; 4]; pattern.rows.len()],
            scale: vec![0.0; n],
            cursor: vec![0; n],
            head: vec![NONE; n],
            link: vec![NONE; n],
            map: vec![0; n],
            free: Vec::new(),
        }
    }

    /// Empties the matrix.
    pub(crate) fn clear(&mut self, pattern: &Pattern, held: &[[bool; 2]]) {
        self.lower.fill([0.0; 4]);
        self.diagonal.fill([0.0; 3]);
        for (h, &node) in self.held.iter_mut().zip(&pattern.order) {
            *h = held[node as usize];
        }
    }

    /// Puts a pivot on the diagonal of what is held, as large as the other coordinate's, so that it
    /// is not taken for a missing one beside that.
    fn hold(&mut self) {
        for (d, held) in self.diagonal.iter_mut().zip(&self.held) {
            let one = |other: f64| if other > 0.0 && other.is_finite() { other } else { 1.0 };
            match held {
                [false, false] => {}
                [true, true] => *d = [1.0, 0.0, 1.0],
                [true, false] => d[0] = one(d[2]),
                [false, true] => d[2] = one(d[0]),
            }
        }
    }

    /// Adds the weighted square of an equation's gradient.
    pub(crate) fn add(
        &mut self,
        pattern: &Pattern,
        number: usize,
        points: &[u32],
        g: &[Place; 4],
        weight: f64,
    ) {
        for (i, &p) in points.iter().enumerate() {
            let d = &mut self.diagonal[pattern.place[p as usize] as usize];
            let [x, y] = g[i];
            d[0] += weight * x * x;
            d[1] += weight * x * y;
            d[2] += weight * y * y;
        }
        for (slot, (i, j)) in pattern.slots_of(number, points.len()) {
            // The later point is the row.
            let (r, c) = if pattern.place[points[i] as usize] > pattern.place[points[j] as usize] {
                (g[i], g[j])
            } else {
                (g[j], g[i])
            };
            let b = &mut self.lower[slot as usize];
            b[0] += weight * r[0] * c[0];
            b[1] += weight * r[0] * c[1];
            b[2] += weight * r[1] * c[0];
            b[3] += weight * r[1] * c[1];
        }
    }

    /// Adds a weight to both coordinates of a point.
    pub(crate) fn know(&mut self, pattern: &Pattern, point: usize, weight: f64) {
        let d = &mut self.diagonal[pattern.position(point)];
        *d = [d[0] + weight, d[1], d[2] + weight];
    }

    /// Adds to every diagonal element this share of it (damping).
    pub(crate) fn damp(&mut self, share: f64) {
        for d in &mut self.diagonal {
            d[0] += share * d[0];
            d[2] += share * d[2];
        }
    }

    /// Factorises in place, column by column, each taking what the earlier ones owe it.
    pub(crate) fn factorise(&mut self, pattern: &Pattern) {
        self.free.clear();
        self.hold();
        self.head.fill(NONE);
        for (s, d) in self.scale.iter_mut().zip(&self.diagonal) {
            *s = d[0] + d[2];
        }
        for j in 0..pattern.len() {
            self.gather(pattern, j);
            self.pivot(j);
            let inverse = self.inverse[j];
            let (from, to) = (pattern.start[j], pattern.start[j + 1]);
            for b in &mut self.lower[from..to] {
                *b = times_sym(*b, inverse);
            }
            self.queue(pattern, j, from, to);
        }
    }

    /// Subtracts from column j what the columns that reach it owe.
    fn gather(&mut self, pattern: &Pattern, j: usize) {
        for t in pattern.start[j]..pattern.start[j + 1] {
            self.map[pattern.rows[t] as usize] = u32::try_from(t).unwrap_or(NONE);
        }
        let mut next = self.head[j];
        while next != NONE {
            let k = next as usize;
            next = self.link[k];
            let (at, to) = (self.cursor[k], pattern.start[k + 1]);
            let l = self.lower[at];
            // M = D_k · L_jkᵀ
            let d = self.diagonal[k];
            let m = [
                d[0] * l[0] + d[1] * l[1],
                d[0] * l[2] + d[1] * l[3],
                d[1] * l[0] + d[2] * l[1],
                d[1] * l[2] + d[2] * l[3],
            ];
            let dj = &mut self.diagonal[j];
            dj[0] -= l[0] * m[0] + l[1] * m[2];
            dj[1] -= l[0] * m[1] + l[1] * m[3];
            dj[2] -= l[2] * m[1] + l[3] * m[3];
            for t in at + 1..to {
                let b = self.lower[t];
                let w = &mut self.lower[self.map[pattern.rows[t] as usize] as usize];
                w[0] -= b[0] * m[0] + b[1] * m[2];
                w[1] -= b[0] * m[1] + b[1] * m[3];
                w[2] -= b[2] * m[0] + b[3] * m[2];
                w[3] -= b[2] * m[1] + b[3] * m[3];
            }
            self.queue(pattern, k, at + 1, to);
        }
    }

    /// Column k next owes something to the row at `at`.
    fn queue(&mut self, pattern: &Pattern, k: usize, at: usize, to: usize) {
        self.cursor[k] = at;
        if at < to {
            let row = pattern.rows[at] as usize;
            self.link[k] = self.head[row];
            self.head[row] = u32::try_from(k).unwrap_or(NONE);
        }
    }

    /// Inverts the pivot of column j; a direction without information is noted and held.
    fn pivot(&mut self, j: usize) {
        let limit = NO_PIVOT * self.scale[j];
        let mut d = self.diagonal[j];
        // Both eigenvalues are above the limit, told without roots: nearly every pivot.
        let (x, y) = (d[0] - limit, d[2] - limit);
        let both = x * y - d[1] * d[1];
        let sound = x > 0.0 && both > 0.0 && both.is_finite();
        for _ in 0..if sound { 0 } else { 2 } {
            let (small, direction) = smaller_eigen(d);
            if small > limit && small.is_finite() {
                break;
            }
            let position = u32::try_from(j).unwrap_or(NONE);
            self.free.push(Free { position, direction });
            let add = if self.scale[j] > 0.0 && self.scale[j].is_finite() { self.scale[j] } else { 1.0 };
            if !small.is_finite() {
                d = [add, 0.0, add];
                break;
            }
            let [x, y] = direction;
            let add = add - small;
            d = [d[0] + add * x * x, d[1] + add * x * y, d[2] + add * y * y];
        }
        self.diagonal[j] = d;
        self.inverse[j] = invert(d);
    }

    /// Solves for the right-hand side, given and returned by point.
    pub(crate) fn solve(&self, pattern: &Pattern, right: &[Place], out: &mut Vec<Place>) {
        let n = pattern.len();
        let mut y: Vec<Place> = pattern.order.iter().map(|&node| right[node as usize]).collect();
        self.forward(pattern, 0, &mut y);
        self.back(pattern, &mut y);
        out.clear();
        out.resize(n, [0.0; 2]);
        for (v, &node) in y.iter().zip(&pattern.order) {
            out[node as usize] = *v;
        }
    }

    /// Solves for a right-hand side that is zero but for a few points; the answer is in the order of
    /// elimination, see [`Pattern::position`]. Going forward only what these reach is touched.
    pub(crate) fn column(&self, pattern: &Pattern, points: &[u32], right: &[Place], y: &mut Vec<Place>) {
        y.clear();
        y.resize(pattern.len(), [0.0; 2]);
        let mut first = pattern.len();
        for (p, [gx, gy]) in points.iter().zip(right) {
            let at = pattern.position(*p as usize);
            y[at][0] += gx;
            y[at][1] += gy;
            first = first.min(at);
        }
        self.forward(pattern, first, y);
        self.back(pattern, y);
    }

    /// Forward substitution and division by the pivots; nothing stands before `first`.
    fn forward(&self, pattern: &Pattern, first: usize, y: &mut [Place]) {
        for j in first..pattern.len() {
            let v = y[j];
            if v == [0.0; 2] {
                continue;
            }
            for t in pattern.start[j]..pattern.start[j + 1] {
                let b = self.lower[t];
                let w = &mut y[pattern.rows[t] as usize];
                w[0] -= b[0] * v[0] + b[1] * v[1];
                w[1] -= b[2] * v[0] + b[3] * v[1];
            }
            let i = self.inverse[j];
            y[j] = [i[0] * v[0] + i[1] * v[1], i[1] * v[0] + i[2] * v[1]];
        }
    }

    fn back(&self, pattern: &Pattern, y: &mut [Place]) {
        for j in (0..pattern.len()).rev() {
            let mut v = y[j];
            let column = pattern.start[j]..pattern.start[j + 1];
            for (b, row) in self.lower[column.clone()].iter().zip(&pattern.rows[column]) {
                let w = y[*row as usize];
                v[0] -= b[0] * w[0] + b[2] * w[1];
                v[1] -= b[1] * w[0] + b[3] * w[1];
            }
            y[j] = v;
        }
    }

    /// For each missing pivot, the motion of all points that no equation notices.
    pub(crate) fn motions(&self, pattern: &Pattern) -> Vec<Vec<Place>> {
        let motion = |free: &Free| {
            let mut y = vec![[0.0; 2]; pattern.len()];
            y[free.position as usize] = free.direction;
            self.back(pattern, &mut y);
            let mut by_point = y.clone();
            for (v, &node) in y.iter().zip(&pattern.order) {
                by_point[node as usize] = *v;
            }
            by_point
        };
        self.free.iter().map(motion).collect()
    }

    /// The inverse inside the factor's pattern (K. Takahashi, J. Fagan, M. Chin 1973): from the
    /// last column back, Z = D⁻¹ − Z·L.
    pub(crate) fn selected_inverse(&self, pattern: &Pattern) -> Selected {
        let n = pattern.len();
        let mut diagonal = self.inverse.clone();
        let mut lower = vec![[0.0; 4]; self.lower.len()];
        let mut local = vec![NONE; n];
        let mut sums: Vec<Block> = Vec::new();
        for j in (0..n).rev() {
            let (from, to) = (pattern.start[j], pattern.start[j + 1]);
            sums.clear();
            sums.resize(to - from, [0.0; 4]);
            for (t, i) in (from..to).zip(0u32..) {
                local[pattern.rows[t] as usize] = i;
            }
            for (a, t) in (from..to).enumerate() {
                let (k, l) = (pattern.rows[t] as usize, self.lower[t]);
                add_product(&mut sums[a], full(diagonal[k]), l);
                for s in pattern.start[k]..pattern.start[k + 1] {
                    let other = local[pattern.rows[s] as usize];
                    if other != NONE {
                        let b = other as usize;
                        add_product(&mut sums[b], lower[s], l);
                        add_product(&mut sums[a], transposed(lower[s]), self.lower[from + b]);
                    }
                }
            }
            let mut d = self.inverse[j];
            for (a, t) in (from..to).enumerate() {
                let z = sums[a].map(|v| -v);
                lower[t] = z;
                let l = self.lower[t];
                // Z_jj = D⁻¹ − Σ L_kjᵀ Z_kj
                d[0] -= l[0] * z[0] + l[2] * z[2];
                d[1] -= l[0] * z[1] + l[2] * z[3];
                d[2] -= l[1] * z[1] + l[3] * z[3];
                local[pattern.rows[t] as usize] = NONE;
            }
            diagonal[j] = d;
        }
        Selected { diagonal, lower }
    }
}

/// Blocks of the covariance matrix: each point's own, and those of points an equation joins.
pub(crate) struct Selected {
    diagonal: Vec<Sym>,
    lower: Vec<Block>,
}

impl Selected {
    /// Covariance of a point's coordinates.
    pub(crate) fn own(&self, pattern: &Pattern, point: usize) -> Sym {
        self.diagonal[pattern.place[point] as usize]
    }

    /// gᵀ Q g for an equation's gradient: the variance of its adjusted value.
    pub(crate) fn variance(&self, pattern: &Pattern, number: usize, points: &[u32], g: &[Place; 4]) -> f64 {
        let mut sum = 0.0;
        for (&p, [x, y]) in points.iter().zip(g) {
            let q = self.own(pattern, p as usize);
            sum += q[0] * x * x + 2.0 * q[1] * x * y + q[2] * y * y;
        }
        for (slot, (i, j)) in pattern.slots_of(number, points.len()) {
            let (r, c) = if pattern.place[points[i] as usize] > pattern.place[points[j] as usize] {
                (g[i], g[j])
            } else {
                (g[j], g[i])
            };
            let b = self.lower[slot as usize];
            sum += 2.0 * (r[0] * (b[0] * c[0] + b[1] * c[1]) + r[1] * (b[2] * c[0] + b[3] * c[1]));
        }
        sum
    }
}
