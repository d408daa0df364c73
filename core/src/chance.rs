//! What chance alone does: where residuals become suspicious, what passes unseen, and how far the
//! scatter of all may be from the stated one.

use crate::units::float::{ln, powf, sqrt};
use std::f64::consts::{E, PI};

/// With a redundancy number below this nothing checks a reading: of an error in it no more than a
/// fiftieth shows in its residual, the rest moves points. Common practice, no source.
pub const UNCHECKED: f64 = 0.02;
/// A clean survey is accused of a misread by chance once in five hundred times, however many readings
/// it has. The choice is ours: of surveys with misreads, each is looked at again and again until none
/// is left, and a right reading struck is worse than a small misread kept.
const FAMILY: f64 = 0.002;
/// Never less: two-sided normal quantile at 0.1 % (W. Baarda, A Testing Procedure for Use in
/// Geodetic Networks, 1968; figure from the normal distribution).
pub const LEAST_LIMIT: f64 = 3.290_526_731_491_926;
/// Readings of a large yard.
const LARGE_YARD: usize = 1000;
/// Normal quantile of 2.5 % (from the normal distribution).
const TAIL: f64 = 1.959_963_984_540_054;
/// With more spare readings than this the approximation of the χ² distribution serves.
const FEW: usize = 100;
/// Normal quantile of a power of 80 %: so much larger than the limit, in standard deviations, an
/// error is that shows four times of five (Baarda 1968, who has 4.13 = 3.29 + 0.84).
const POWER: f64 = 0.841_621_233_572_914;

/// Beyond this a standardised residual is suspect, where this many readings are tested at a time:
/// the largest of so many exceeds it by chance with a probability of 0.2 % at most (Bonferroni's
/// inequality, which needs no independence).
#[must_use]
pub fn suspect_limit(tested: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a count of readings is far below 2^52")]
    let each = FAMILY / tested.max(1) as f64;
    normal_quantile(0.5 * each).max(LEAST_LIMIT)
}

/// How large the smallest detectable error is at this limit, in standard deviations over √r.
#[must_use]
pub const fn detectable(limit: f64) -> f64 {
    limit + POWER
}

/// What may pass unseen, in standard deviations over √r, where states are judged: as in a yard of a
/// thousand readings, unless there are more. With the limit of the readings there are now, a reading
/// more would make others a little less checked.
pub(super) fn unseen(tested: usize) -> f64 {
    detectable(suspect_limit(tested.max(LARGE_YARD)))
}

/// The normal variable exceeded with this probability, above 0 and not above a half: good to 0.00045
/// (M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 1964, 26.2.23).
fn normal_quantile(p: f64) -> f64 {
    let t = sqrt(-2.0 * ln(p));
    let above = 2.515_517 + t * (0.802_853 + t * 0.010_328);
    let below = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    t - above / below
}

/// Between which bounds the variance factor lies with 95 % probability: the sum of squares over the
/// quantiles of χ² (C. Ghilani and P. Wolf, Adjustment Computations, confidence interval for a
/// population variance). None without spare readings.
#[must_use]
pub fn variance_interval(chi_square: f64, spare: usize) -> Option<[f64; 2]> {
    let bound = |z: f64, below: f64| chi_square / chi_square_quantile(spare, z, below);
    (spare > 0).then(|| [bound(TAIL, 0.975), bound(-TAIL, 0.025)])
}

/// The χ² variable of so many degrees of freedom, above 0, that is not reached with the probability
/// `below`; `z` is the normal variable of which that is true.
///
/// E. Wilson and M. Hilferty's approximation (1931: a cube root of χ² is nearly normal), improved for
/// few degrees of freedom by Newton's steps on the distribution itself.
fn chi_square_quantile(freedom: usize, z: f64, below: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a count of readings is far below 2^52")]
    let k = freedom as f64;
    let part = 2.0 / (9.0 * k);
    let root = 1.0 - part + z * sqrt(part);
    let near = k * root * root * root;
    if freedom > FEW {
        return near;
    }
    let a = 0.5 * k;
    let log_gamma = log_gamma_above(freedom);
    // Where nearly nothing is below, χ² is about this, and not less.
    let mut x = (0.5 * near).max(powf(E, (ln(below) + log_gamma) / a));
    for _ in 0..8 {
        // Density times x, and the series of the incomplete gamma function (Abramowitz and Stegun 6.5.29).
        let head = powf(E, a * ln(x) - x - log_gamma);
        let (mut sum, mut term, mut n) = (1.0, 1.0, a);
        while term > 1e-16 * sum {
            n += 1.0;
            term *= x / n;
            sum += term;
        }
        x -= (head * sum - below) * x / (a * head);
    }
    2.0 * x
}

/// ln Γ(k/2 + 1), from Γ(1/2) = √π and Γ(1) = 1.
fn log_gamma_above(k: usize) -> f64 {
    let start = if k.is_multiple_of(2) { 0.0 } else { 0.5 * ln(PI) };
    #[expect(clippy::cast_precision_loss, reason = "a hundred at most")]
    let halves = (1..=k).rev().step_by(2).map(|n| ln(0.5 * n as f64));
    start + halves.sum::<f64>()
}
