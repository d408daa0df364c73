//! How far computed places are from the true ones, wherever the frame lies.

use swingtie_core::units::PlanPoint;
use swingtie_core::units::float::{hypot, sqrt};

/// What is left after the best turn and shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The distance left at each point, metres, in the order given.
    pub errors: Vec<f64>,
    /// Their root mean square, metres.
    pub rms: f64,
    /// The largest, metres.
    pub worst: f64,
}

/// Distances from the truth after the turn and shift (no mirroring, no scale) that fit best in the
/// least-squares sense; each pair is a computed and a true place.
#[must_use]
pub fn errors_after_fit(pairs: &[(PlanPoint, PlanPoint)]) -> Fit {
    let here = centred(pairs.iter().map(|(here, _)| here.metres()).collect());
    let there = centred(pairs.iter().map(|(_, there)| there.metres()).collect());
    let both = || here.iter().zip(&there);
    // The turn that fits best, in closed form: the argument of the sum of conj(a)·t.
    let (c, s) = both()
        .fold((0.0, 0.0), |(c, s), ((ax, ay), (tx, ty))| (c + ax * tx + ay * ty, s + ax * ty - ay * tx));
    let size = hypot(c, s);
    let (c, s) = (c / size, s / size);
    let errors: Vec<f64> =
        both().map(|((ax, ay), (tx, ty))| hypot(c * ax - s * ay - tx, s * ax + c * ay - ty)).collect();
    let rms = sqrt(errors.iter().map(|e| e * e).sum::<f64>() / errors.len() as f64);
    let worst = errors.iter().copied().fold(0.0, f64::max);
    Fit { errors, rms, worst }
}

fn centred(places: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    let n = places.len() as f64;
    let (x, y) = places.iter().fold((0.0, 0.0), |(x, y), p| (x + p.0 / n, y + p.1 / n));
    places.into_iter().map(|p| (p.0 - x, p.1 - y)).collect()
}
