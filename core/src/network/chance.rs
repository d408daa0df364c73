//! What chance alone does: where residuals become suspicious, and what passes unseen.

use crate::units::float::{ln, sqrt};

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
