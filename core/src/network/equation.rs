//! Observation equations: what a reading says about the coordinates of its points, and the derivative.
//!
//! Lengths are in one unit throughout (metres in the product), angles in radians. A misclosure is
//! computed minus observed.

#![expect(clippy::indexing_slicing, reason = "point numbers are made by the caller below the point count")]

use crate::units::float::{atan2, hypot};

/// A place as bare numbers, for the inner loops.
pub type Place = [f64; 2];

/// Below this length a direction has no meaning; its derivative is taken as zero.
const NO_LENGTH: f64 = 1e-9;

/// What is measured between which points (numbers into the coordinate list).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// Distance from `a` to `b`.
    Distance {
        /// One end.
        a: u32,
        /// Other end.
        b: u32,
    },
    /// Distance along the line from `a` to `b` of the foot of `p`, from `a`.
    Station {
        /// Zero of the line.
        a: u32,
        /// Gives its direction.
        b: u32,
        /// The point.
        p: u32,
    },
    /// Distance of `p` from the line from `a` to `b`, positive to the left.
    Offset {
        /// Zero of the line.
        a: u32,
        /// Gives its direction.
        b: u32,
        /// The point.
        p: u32,
    },
    /// The corner at `at` is square: the cosine between its legs, which near 90° is the angle's
    /// departure from it in radians. The observed value is 0, whichever way the corner turns.
    Square {
        /// The corner.
        at: u32,
        /// One leg's end.
        a: u32,
        /// The other leg's end.
        c: u32,
    },
    /// Angle at `at`, counter-clockwise from the ray to `from` to the ray to `to`.
    Angle {
        /// The vertex.
        at: u32,
        /// First ray.
        from: u32,
        /// Second ray.
        to: u32,
    },
}

/// One scalar reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Equation {
    /// What it measures.
    pub shape: Shape,
    /// The value observed.
    pub value: f64,
    /// Its standard deviation, above zero.
    pub sd: f64,
}

/// Misclosure and derivative of an equation at some coordinates.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// Computed minus observed, not weighted.
    pub misclosure: f64,
    /// Derivative by the coordinates of each of [`Equation::points`].
    pub gradient: [Place; 3],
}

impl Equation {
    /// The points involved; the third repeats the second for a distance, see [`Self::count`].
    #[must_use]
    pub const fn points(&self) -> [u32; 3] {
        match self.shape {
            Shape::Distance { a, b } => [a, b, b],
            Shape::Station { a, b, p } | Shape::Offset { a, b, p } => [a, b, p],
            Shape::Square { at, a, c } => [at, a, c],
            Shape::Angle { at, from, to } => [at, from, to],
        }
    }

    /// How many of [`Self::points`] count.
    #[must_use]
    pub const fn count(&self) -> usize {
        if matches!(self.shape, Shape::Distance { .. }) { 2 } else { 3 }
    }

    /// The points involved, as a slice of the array given.
    pub(crate) fn each(&self) -> impl Iterator<Item = usize> {
        self.points().into_iter().take(self.count()).map(|p| p as usize)
    }

    /// Misclosure and derivative at `x`.
    #[must_use]
    pub fn at(&self, x: &[Place]) -> Row {
        let [i, j, k] = self.points().map(|p| x[p as usize]);
        let (computed, gradient) = match self.shape {
            Shape::Distance { .. } => distance(i, j),
            Shape::Station { .. } => station(i, j, k),
            Shape::Offset { .. } => offset(i, j, k),
            Shape::Square { .. } => cosine(i, j, k),
            Shape::Angle { .. } => angle(i, j, k),
        };
        let mut misclosure = computed - self.value;
        if matches!(self.shape, Shape::Angle { .. }) {
            misclosure = wrapped(misclosure);
        }
        Row { misclosure, gradient }
    }
}

/// Into −π … π, so that an angle read as 359° and computed as −1° agree.
fn wrapped(angle: f64) -> f64 {
    let turn = std::f64::consts::TAU;
    angle - turn * (angle / turn).round()
}

/// Unit vector and length from `a` to `b`; a zero vector where there is no length.
pub(crate) fn ray(a: Place, b: Place) -> (Place, f64) {
    let (x, y) = (b[0] - a[0], b[1] - a[1]);
    let length = hypot(x, y);
    if length < NO_LENGTH { ([0.0, 0.0], length) } else { ([x / length, y / length], length) }
}

fn distance(a: Place, b: Place) -> (f64, [Place; 3]) {
    let ([x, y], length) = ray(a, b);
    (length, [[-x, -y], [x, y], [0.0, 0.0]])
}

/// Station t = (P−A)·u and offset o = (P−A)·n with u along A→B and n to its left. Turning the line
/// by dB·n/L about A changes t by o and o by −t: hence the terms in o/L and t/L.
fn station(a: Place, b: Place, p: Place) -> (f64, [Place; 3]) {
    let ([ux, uy], length) = ray(a, b);
    let (t, o) = (dot(sub(p, a), [ux, uy]), dot(sub(p, a), [-uy, ux]));
    let r = if length < NO_LENGTH { 0.0 } else { o / length };
    (t, [[-ux + r * uy, -uy - r * ux], [-r * uy, r * ux], [ux, uy]])
}

fn offset(a: Place, b: Place, p: Place) -> (f64, [Place; 3]) {
    let ([ux, uy], length) = ray(a, b);
    let (t, o) = (dot(sub(p, a), [ux, uy]), dot(sub(p, a), [-uy, ux]));
    let r = if length < NO_LENGTH { 0.0 } else { t / length };
    (o, [[(1.0 - r) * uy, (r - 1.0) * ux], [r * uy, -r * ux], [-uy, ux]])
}

fn cosine(at: Place, a: Place, c: Place) -> (f64, [Place; 3]) {
    let (ua, la) = ray(at, a);
    let (uc, lc) = ray(at, c);
    let k = dot(ua, uc);
    if la < NO_LENGTH || lc < NO_LENGTH {
        return (0.0, [[0.0; 2]; 3]);
    }
    let ga = [(uc[0] - k * ua[0]) / la, (uc[1] - k * ua[1]) / la];
    let gc = [(ua[0] - k * uc[0]) / lc, (ua[1] - k * uc[1]) / lc];
    (k, [[-ga[0] - gc[0], -ga[1] - gc[1]], ga, gc])
}

fn angle(at: Place, from: Place, to: Place) -> (f64, [Place; 3]) {
    let (uf, lf) = ray(at, from);
    let (ut, lt) = ray(at, to);
    if lf < NO_LENGTH || lt < NO_LENGTH {
        return (0.0, [[0.0; 2]; 3]);
    }
    // A ray turns by n·dP/L, n to the left of it.
    let gf = [uf[1] / lf, -uf[0] / lf];
    let gt = [-ut[1] / lt, ut[0] / lt];
    let value = atan2(cross(uf, ut), dot(uf, ut));
    (value, [[-gf[0] - gt[0], -gf[1] - gt[1]], gf, gt])
}

pub(crate) fn sub(a: Place, b: Place) -> Place {
    [a[0] - b[0], a[1] - b[1]]
}

pub(crate) fn dot(a: Place, b: Place) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

pub(crate) fn cross(a: Place, b: Place) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}
