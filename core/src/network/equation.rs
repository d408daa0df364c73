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

/// What is measured between which nodes (numbers into the coordinate list).
///
/// A node is a point of the plan, or a number that several readings share, such as the direction
/// of magnetic north: that number is the node's first coordinate, and its second is held. It is
/// always the last node of its shape.
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
    /// Bearing of `b` from `a`, clockwise from north: θ − atan2(yb − ya, xb − xa), where θ is the
    /// direction of that north in the plan, counter-clockwise from x (C. Ghilani and P. Wolf,
    /// Adjustment Computations, the azimuth equation, with the plan's orientation unknown).
    Bearing {
        /// Where the compass is held.
        a: u32,
        /// What is sighted.
        b: u32,
        /// The number θ.
        north: u32,
    },
    /// Reading of `p` on a tape along the line from `a` to `b` whose zero is somewhere: the
    /// station of `p` plus the number `zero`, which all readings of the tape share.
    Shifted {
        /// Start of the line.
        a: u32,
        /// Gives its direction.
        b: u32,
        /// The point; may be `a` or `b`.
        p: u32,
        /// What the tape reads at `a`.
        zero: u32,
    },
    /// Two lines are parallel: the sine between them, which near 0° and 180° is the departure in
    /// radians. The observed value is 0, whichever way the lines are named.
    Parallel {
        /// One line's end.
        a: u32,
        /// Its other end.
        b: u32,
        /// The other line's end.
        c: u32,
        /// Its other end.
        d: u32,
    },
    /// How much longer `a` to `b` is than `c` to `d`.
    Difference {
        /// One length's end.
        a: u32,
        /// Its other end.
        b: u32,
        /// The other length's end.
        c: u32,
        /// Its other end.
        d: u32,
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
    /// Derivative by the coordinates of each of [`Equation::points`]. Of a point that stands there
    /// twice the first place has all of it.
    pub gradient: [Place; 4],
}

impl Shape {
    /// Gives its points and its shared number other numbers.
    pub(crate) fn renumber(&mut self, new: impl Fn(u32) -> u32) {
        let renumber = |p: &mut u32| *p = new(*p);
        match self {
            Self::Distance { a, b } => [a, b].into_iter().for_each(renumber),
            Self::Station { a, b, p }
            | Self::Offset { a, b, p }
            | Self::Square { at: a, a: b, c: p }
            | Self::Angle { at: a, from: b, to: p }
            | Self::Bearing { a, b, north: p } => [a, b, p].into_iter().for_each(renumber),
            Self::Shifted { a, b, p: c, zero: d }
            | Self::Parallel { a, b, c, d }
            | Self::Difference { a, b, c, d } => [a, b, c, d].into_iter().for_each(renumber),
        }
    }
}

impl Equation {
    /// The nodes involved; the last repeats where there are fewer, see [`Self::count`].
    #[must_use]
    pub const fn points(&self) -> [u32; 4] {
        match self.shape {
            Shape::Distance { a, b } => [a, b, b, b],
            Shape::Station { a, b, p } | Shape::Offset { a, b, p } => [a, b, p, p],
            Shape::Square { at, a, c } => [at, a, c, c],
            Shape::Angle { at, from, to } => [at, from, to, to],
            Shape::Bearing { a, b, north } => [a, b, north, north],
            Shape::Shifted { a, b, p, zero } => [a, b, p, zero],
            Shape::Parallel { a, b, c, d } | Shape::Difference { a, b, c, d } => [a, b, c, d],
        }
    }

    /// How many of [`Self::points`] count.
    #[must_use]
    pub const fn count(&self) -> usize {
        match self.shape {
            Shape::Distance { .. } => 2,
            Shape::Shifted { .. } | Shape::Parallel { .. } | Shape::Difference { .. } => 4,
            _ => 3,
        }
    }

    /// The number it shares with other readings.
    pub(crate) const fn shared(&self) -> Option<u32> {
        match self.shape {
            Shape::Bearing { north, .. } => Some(north),
            Shape::Shifted { zero, .. } => Some(zero),
            _ => None,
        }
    }

    /// The points of the plan involved.
    pub(crate) fn each(&self) -> impl Iterator<Item = usize> {
        let (points, places) = self.places();
        points.into_iter().take(places).map(|p| p as usize)
    }

    /// One copy for all who look at points out of the inner loops.
    #[inline(never)]
    fn places(&self) -> ([u32; 4], usize) {
        (self.points(), self.count() - usize::from(self.shared().is_some()))
    }

    /// Shares its number as another equation of the same kind does.
    pub(crate) const fn share_as(&mut self, other: &Self) {
        match (&mut self.shape, other.shape) {
            (Shape::Shifted { zero, .. }, Shape::Shifted { zero: same, .. }) => *zero = same,
            (Shape::Bearing { north, .. }, Shape::Bearing { north: same, .. }) => *north = same,
            _ => {}
        }
    }

    /// Misclosure and derivative at `x`.
    #[must_use]
    pub fn at(&self, x: &[Place]) -> Row {
        let x = |p: u32| x[p as usize];
        let three = |(computed, [i, j, k]): (f64, [Place; 3])| (computed, [i, j, k, [0.0; 2]]);
        let (computed, gradient) = match self.shape {
            Shape::Distance { a, b } => distance(x(a), x(b)),
            Shape::Station { a, b, p } => three(station(x(a), x(b), x(p))),
            Shape::Offset { a, b, p } => three(offset(x(a), x(b), x(p))),
            Shape::Square { at, a, c } => three(cosine(x(at), x(a), x(c))),
            Shape::Angle { at, from, to } => three(angle(x(at), x(from), x(to))),
            Shape::Bearing { a, b, north } => bearing(x(a), x(b), x(north)),
            Shape::Shifted { a, b, p, zero } => {
                let (t, [i, j, k]) = station(x(a), x(b), x(p));
                (t + x(zero)[0], self.merged([i, j, k, [1.0, 0.0]]))
            }
            Shape::Parallel { a, b, c, d } => {
                let (sine, gradient) = sine(x(a), x(b), x(c), x(d));
                (sine, self.merged(gradient))
            }
            Shape::Difference { a, b, c, d } => {
                let ((one, [i, j, ..]), (two, [k, l, ..])) = (distance(x(a), x(b)), distance(x(c), x(d)));
                (one - two, self.merged([i, j, [-k[0], -k[1]], [-l[0], -l[1]]]))
            }
        };
        let mut misclosure = computed - self.value;
        if matches!(self.shape, Shape::Angle { .. } | Shape::Bearing { .. }) {
            misclosure = wrapped(misclosure);
        }
        Row { misclosure, gradient }
    }

    /// Gives the first place of a point that stands there twice the derivative of both.
    fn merged(&self, mut gradient: [Place; 4]) -> [Place; 4] {
        let points = self.points();
        for later in 1..4 {
            if let Some(first) = points[..later].iter().position(|p| *p == points[later]) {
                let [x, y] = std::mem::take(&mut gradient[later]);
                gradient[first] = [gradient[first][0] + x, gradient[first][1] + y];
            }
        }
        gradient
    }
}

/// Into −π … π, so that an angle read as 359° and computed as −1° agree.
pub(crate) fn wrapped(angle: f64) -> f64 {
    let turn = std::f64::consts::TAU;
    angle - turn * (angle / turn).round()
}

/// Unit vector and length from `a` to `b`; a zero vector where there is no length.
pub(crate) fn ray(a: Place, b: Place) -> (Place, f64) {
    let (x, y) = (b[0] - a[0], b[1] - a[1]);
    let length = hypot(x, y);
    if length < NO_LENGTH { ([0.0, 0.0], length) } else { ([x / length, y / length], length) }
}

fn distance(a: Place, b: Place) -> (f64, [Place; 4]) {
    let ([x, y], length) = ray(a, b);
    (length, [[-x, -y], [x, y], [0.0; 2], [0.0; 2]])
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

fn bearing(a: Place, b: Place, north: Place) -> (f64, [Place; 4]) {
    let ([x, y], length) = ray(a, b);
    if length < NO_LENGTH {
        return (0.0, [[0.0; 2]; 4]);
    }
    // The ray turns by n·dB/L, and a bearing falls as it turns left.
    let [gx, gy] = [y / length, -x / length];
    (north[0] - atan2(y, x), [[-gx, -gy], [gx, gy], [1.0, 0.0], [0.0; 2]])
}

/// The sine between two lines; d sin = cos · (dφ' − dφ), each line turning by n·(dB − dA)/L.
fn sine(a: Place, b: Place, c: Place, d: Place) -> (f64, [Place; 4]) {
    let ((u, one), (v, two)) = (ray(a, b), ray(c, d));
    if one < NO_LENGTH || two < NO_LENGTH {
        return (0.0, [[0.0; 2]; 4]);
    }
    let k = dot(u, v);
    let (g, h) = ([k * u[1] / one, -k * u[0] / one], [-k * v[1] / two, k * v[0] / two]);
    (cross(u, v), [[-g[0], -g[1]], g, [-h[0], -h[1]], h])
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
