//! Weighted least squares by Gauss-Newton, and the statistics that follow.
//!
//! Works in bare numbers: one unit of length throughout (metres in the product), radians.
//! [`Network`] is open to reference checks; everything else talks to [`super::adjust`].

#![expect(clippy::indexing_slicing, reason = "equation numbers index lists made beside the equations")]

use super::block::{Sym, eigen};
use super::equation::{Equation, Place, Row};
use super::factor::{Factor, Pattern};
use crate::chance::{detectable, suspect_limit, unseen};
use crate::units::float::sqrt;

/// Half axes of a 95 % ellipse in standard deviations: √χ²(2; 0.95), exactly √(−2 ln 0.05).
pub const ELLIPSE_95: f64 = 2.447_746_830_680_816;
/// Below this redundancy number nothing useful checks the reading.
pub const NO_REDUNDANCY: f64 = 1e-3;

/// A step shorter than this ends the iteration (metres): a thousandth of a micrometre's tenth.
const SETTLED: f64 = 1e-10;
/// A sum of squares that differs by less than this share is the same sum, rounded otherwise.
const ROUNDING: f64 = 1e-13;
const MOST_ITERATIONS: usize = 60;
const MOST_HALVINGS: usize = 10;

/// Equations between points, some coordinates of which are held.
#[derive(Clone, Debug, Default)]
pub struct Network {
    /// The readings.
    pub equations: Vec<Equation>,
    /// For each point whether x and y are held at their start.
    pub held: Vec<[bool; 2]>,
}

/// What the iteration came to.
#[derive(Clone, Debug, Default)]
pub struct Solved {
    /// Coordinates of all points.
    pub x: Vec<Place>,
    /// Sum of squared weighted misclosures.
    pub chi_square: f64,
    /// Whether the last step was short enough.
    pub settled: bool,
    /// Steps taken.
    pub iterations: usize,
}

/// Statistics of one reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadingStatistics {
    /// Adjusted minus observed.
    pub residual: f64,
    /// Variance of the adjusted value.
    pub variance: f64,
    /// Redundancy number.
    pub redundancy: f64,
    /// Standardised residual; none where the redundancy means nothing.
    pub standardised: Option<f64>,
    /// Smallest error that shows with a power of 80 %; none where the redundancy means nothing.
    pub detectable: Option<f64>,
}

/// A-priori statistics of a solution.
pub struct Statistics {
    /// Covariance (xx, xy, yy) of each point; zero in held coordinates.
    pub covariance: Vec<Sym>,
    /// One for each equation.
    pub readings: Vec<ReadingStatistics>,
    /// Beyond this a standardised residual is suspect; it grows with the number of readings tested.
    pub limit: f64,
    /// What may pass unseen, in standard deviations over √r, wherever states are judged.
    pub(crate) unseen: f64,
    pattern: Pattern,
    factor: Factor,
}

impl Network {
    /// Solves from `start`, which gives the held coordinates too.
    #[must_use]
    pub fn solve(&self, start: &[Place]) -> Solved {
        self.iterate(start, SETTLED, MOST_ITERATIONS)
    }

    /// Some steps only, good to a millimetre where that was near enough.
    #[must_use]
    pub(crate) fn approach(&self, start: &[Place], most: usize) -> Solved {
        self.iterate(start, 1e-3, most)
    }

    fn iterate(&self, start: &[Place], close: f64, most: usize) -> Solved {
        let pattern = Pattern::new(self.held.len(), &self.equations);
        Iteration::new(self, &pattern, start).run(close, most)
    }

    /// Statistics at a solution.
    #[must_use]
    pub fn statistics(&self, x: &[Place]) -> Statistics {
        self.statistics_with(x, &[], 0.0)
    }

    /// The same when these points are known with this weight besides, each coordinate for itself.
    pub(crate) fn statistics_with(&self, x: &[Place], guessed: &[usize], weight: f64) -> Statistics {
        let pattern = Pattern::new(self.held.len(), &self.equations);
        let mut factor = self.sum_at(&pattern, x);
        for &p in guessed {
            factor.know(&pattern, p, weight);
        }
        factor.factorise(&pattern);
        let inverse = factor.selected_inverse(&pattern);
        let own = |(p, held): (usize, &[bool; 2])| {
            let q = inverse.own(&pattern, p);
            let keep = held.map(|h| f64::from(u8::from(!h)));
            [q[0] * keep[0], q[1] * keep[0] * keep[1], q[2] * keep[1]]
        };
        let covariance = self.held.iter().enumerate().map(own).collect();
        let reading = |(number, e): (usize, &Equation)| {
            let row = self.row(e, x);
            let points = e.points();
            let q = inverse.variance(&pattern, number, &points[..e.count()], &row.gradient);
            statistics_of(row.misclosure, q, e.sd)
        };
        let mut readings: Vec<ReadingStatistics> = self.equations.iter().enumerate().map(reading).collect();
        let tested = readings.iter().filter(|s| s.standardised.is_some()).count();
        let limit = suspect_limit(tested);
        for (s, e) in readings.iter_mut().zip(&self.equations) {
            s.detectable = s.standardised.map(|_| detectable(limit) * e.sd / sqrt(s.redundancy));
        }
        Statistics { covariance, readings, limit, unseen: unseen(tested), pattern, factor }
    }

    /// Motions of the points that no equation notices, found by missing pivots at `x`.
    #[must_use]
    pub fn motions(&self, x: &[Place]) -> Vec<Vec<Place>> {
        let pattern = Pattern::new(self.held.len(), &self.equations);
        self.factor_at(&pattern, x).motions(&pattern)
    }

    /// Sum of squared weighted misclosures at `x`.
    #[must_use]
    pub fn chi_square(&self, x: &[Place]) -> f64 {
        self.equations.iter().map(|e| square(e.at(x).misclosure / e.sd)).sum()
    }

    fn factor_at(&self, pattern: &Pattern, x: &[Place]) -> Factor {
        let mut factor = self.sum_at(pattern, x);
        factor.factorise(pattern);
        factor
    }

    /// The normal equations.
    fn sum_at(&self, pattern: &Pattern, x: &[Place]) -> Factor {
        let mut factor = Factor::new(pattern);
        factor.clear(pattern, &self.held);
        for (number, e) in self.equations.iter().enumerate() {
            let row = self.row(e, x);
            factor.add(pattern, number, &e.points()[..e.count()], &row.gradient, 1.0 / square(e.sd));
        }
        factor
    }

    /// A derivative by the coordinates of a point, blind to held ones.
    pub(crate) fn blind(&self, point: usize, [x, y]: Place) -> Place {
        let [held_x, held_y] = self.held[point];
        [if held_x { 0.0 } else { x }, if held_y { 0.0 } else { y }]
    }

    /// An equation at `x`, blind to held coordinates.
    pub(crate) fn row(&self, e: &Equation, x: &[Place]) -> Row {
        let mut row = e.at(x);
        for (g, p) in row.gradient.iter_mut().zip(e.points()).take(e.count()) {
            for (part, held) in g.iter_mut().zip(self.held[p as usize]) {
                if held {
                    *part = 0.0;
                }
            }
        }
        row
    }
}

impl Statistics {
    /// Q·gᵀ for a gradient g by some points: the covariance of all coordinates with what it measures.
    pub(crate) fn column(&self, points: &[u32], gradient: &[Place]) -> Column<'_> {
        let mut values = Vec::new();
        self.column_into(points, gradient, &mut values);
        Column { pattern: &self.pattern, values }
    }

    /// The same, in the order of [`Self::position`], into a list used again and again.
    pub(crate) fn column_into(&self, points: &[u32], gradient: &[Place], values: &mut Vec<Place>) {
        self.factor.column(&self.pattern, points, gradient, values);
    }

    /// Q·Jᵀ of an equation, likewise; gives its gradient.
    pub(crate) fn measured_into(
        &self,
        network: &Network,
        x: &[Place],
        e: &Equation,
        values: &mut Vec<Place>,
    ) -> [Place; 4] {
        let gradient = network.row(e, x).gradient;
        self.column_into(&e.points()[..e.count()], &gradient, values);
        gradient
    }

    /// Where a point stands in a column.
    pub(crate) fn position(&self, point: usize) -> usize {
        self.pattern.position(point)
    }
}

/// A column of the covariance matrix, or a combination of some.
pub(crate) struct Column<'a> {
    pattern: &'a Pattern,
    values: Vec<Place>,
}

impl Column<'_> {
    /// Its part for one point.
    pub(crate) fn at(&self, point: usize) -> Place {
        self.values[self.pattern.position(point)]
    }
}

/// Half axes of the 95 % ellipse of a covariance, and the direction of the larger, 0 … π.
#[must_use]
pub fn ellipse(covariance: Sym) -> (f64, f64, f64) {
    let (large, small, [x, y]) = eigen(covariance);
    let mut direction = crate::units::float::atan2(y, x);
    if direction < 0.0 {
        direction += std::f64::consts::PI;
    }
    if direction >= std::f64::consts::PI {
        direction = 0.0;
    }
    (ELLIPSE_95 * sqrt(large.max(0.0)), ELLIPSE_95 * sqrt(small.max(0.0)), direction)
}

fn statistics_of(residual: f64, variance: f64, sd: f64) -> ReadingStatistics {
    let redundancy = (1.0 - variance / square(sd)).clamp(0.0, 1.0);
    let root = (redundancy > NO_REDUNDANCY).then(|| sqrt(redundancy));
    ReadingStatistics {
        residual,
        variance,
        redundancy,
        standardised: root.map(|root| residual / (sd * root)),
        detectable: None,
    }
}

const fn square(x: f64) -> f64 {
    x * x
}

struct Iteration<'a> {
    network: &'a Network,
    pattern: &'a Pattern,
    factor: Factor,
    x: Vec<Place>,
    rows: Vec<Row>,
    trial: Vec<Place>,
    trial_rows: Vec<Row>,
    right: Vec<Place>,
    step: Vec<Place>,
    cost: f64,
}

impl<'a> Iteration<'a> {
    fn new(network: &'a Network, pattern: &'a Pattern, start: &[Place]) -> Self {
        let mut x = start.to_vec();
        x.resize(network.held.len(), [0.0; 2]);
        let mut rows = Vec::with_capacity(network.equations.len());
        let cost = fill(network, &x, &mut rows);
        let trial = x.clone();
        let right = vec![[0.0; 2]; x.len()];
        Self {
            network,
            pattern,
            factor: Factor::new(pattern),
            x,
            rows,
            trial,
            trial_rows: Vec::with_capacity(network.equations.len()),
            right,
            step: Vec::new(),
            cost,
        }
    }

    fn run(mut self, close: f64, most: usize) -> Solved {
        let mut damping = 0.0;
        let mut settled = self.network.equations.is_empty();
        let mut iterations = 0;
        while !settled && iterations < most {
            iterations += 1;
            self.direction(damping);
            let longest = self.step.iter().flatten().fold(0.0_f64, |most, v| most.max(v.abs()));
            if self.advance() {
                damping *= 0.1;
                if damping < 1e-6 {
                    damping = 0.0;
                }
                settled = longest < close && damping == 0.0;
            } else if longest < close * 1e3 {
                // As low as rounding lets it go.
                settled = true;
            } else if damping > 1e6 {
                break;
            } else {
                damping = if damping == 0.0 { 1e-3 } else { damping * 10.0 };
            }
        }
        Solved { x: self.x, chi_square: self.cost, settled, iterations }
    }

    /// Solves the normal equations for the step.
    fn direction(&mut self, damping: f64) {
        self.factor.clear(self.pattern, &self.network.held);
        self.right.fill([0.0; 2]);
        for (number, (e, row)) in self.network.equations.iter().zip(&self.rows).enumerate() {
            let weight = 1.0 / square(e.sd);
            let points = e.points();
            self.factor.add(self.pattern, number, &points[..e.count()], &row.gradient, weight);
            for (p, g) in points.into_iter().take(e.count()).zip(row.gradient) {
                let r = &mut self.right[p as usize];
                r[0] -= weight * row.misclosure * g[0];
                r[1] -= weight * row.misclosure * g[1];
            }
        }
        if damping > 0.0 {
            self.factor.damp(damping);
        }
        self.factor.factorise(self.pattern);
        self.factor.solve(self.pattern, &self.right, &mut self.step);
    }

    /// Goes along the step, half as far each time it does not help. False when nothing helped.
    fn advance(&mut self) -> bool {
        let mut share = 1.0;
        for _ in 0..MOST_HALVINGS {
            for ((t, x), s) in self.trial.iter_mut().zip(&self.x).zip(&self.step) {
                *t = [x[0] + share * s[0], x[1] + share * s[1]];
            }
            let cost = fill(self.network, &self.trial, &mut self.trial_rows);
            if cost <= self.cost * (1.0 + ROUNDING) {
                std::mem::swap(&mut self.x, &mut self.trial);
                std::mem::swap(&mut self.rows, &mut self.trial_rows);
                self.cost = cost;
                return true;
            }
            share *= 0.5;
        }
        false
    }
}

fn fill(network: &Network, x: &[Place], rows: &mut Vec<Row>) -> f64 {
    rows.clear();
    rows.extend(network.equations.iter().map(|e| network.row(e, x)));
    rows.iter().zip(&network.equations).map(|(row, e)| square(row.misclosure / e.sd)).sum()
}
