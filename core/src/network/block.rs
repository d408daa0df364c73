//! Arithmetic of 2×2 blocks, and the eigenvalues of a symmetric one.

use super::equation::Place;
use crate::units::float::{hypot, sqrt};

/// A 2×2 block, row by row.
pub(crate) type Block = [f64; 4];
/// A symmetric 2×2 block: xx, xy, yy.
pub(crate) type Sym = [f64; 3];

pub(crate) const fn full(s: Sym) -> Block {
    [s[0], s[1], s[1], s[2]]
}

pub(crate) const fn transposed(b: Block) -> Block {
    [b[0], b[2], b[1], b[3]]
}

pub(crate) fn add_product(sum: &mut Block, a: Block, b: Block) {
    sum[0] += a[0] * b[0] + a[1] * b[2];
    sum[1] += a[0] * b[1] + a[1] * b[3];
    sum[2] += a[2] * b[0] + a[3] * b[2];
    sum[3] += a[2] * b[1] + a[3] * b[3];
}

pub(crate) fn times_sym(b: Block, s: Sym) -> Block {
    [
        b[0] * s[0] + b[1] * s[1],
        b[0] * s[1] + b[1] * s[2],
        b[2] * s[0] + b[3] * s[1],
        b[2] * s[1] + b[3] * s[2],
    ]
}

pub(crate) fn invert(s: Sym) -> Sym {
    let det = s[0] * s[2] - s[1] * s[1];
    [s[2] / det, -s[1] / det, s[0] / det]
}

/// Eigenvalues of a symmetric block, larger first, and the direction of the larger.
pub(crate) fn eigen(s: Sym) -> (f64, f64, Place) {
    let (mean, half) = (0.5 * (s[0] + s[2]), 0.5 * (s[0] - s[2]));
    let root = hypot(half, s[1]);
    // (root + half, s1) and (s1, root − half) are both along it; take the longer, against cancellation.
    let (x, y) = if half >= 0.0 { (root + half, s[1]) } else { (s[1], root - half) };
    let length = sqrt(x * x + y * y);
    let direction = if length > 0.0 { [x / length, y / length] } else { [1.0, 0.0] };
    let large = mean + root;
    // The product of both is the determinant: exact where mean − root would cancel.
    let small = if large > 0.0 { (s[0] * s[2] - s[1] * s[1]) / large } else { mean - root };
    (large, small, direction)
}

pub(crate) fn smaller_eigen(s: Sym) -> (f64, Place) {
    let (_, small, [x, y]) = eigen(s);
    (small, [-y, x])
}
