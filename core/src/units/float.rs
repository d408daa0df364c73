//! The only place that computes trigonometry, roots and powers.
//!
//! The platform's mathematics library gives other last bits in a phone's browser than on a desk.
//! These wrappers use `libm` on both, so that the same book gives the same plan everywhere.
//! Clippy's `disallowed-methods` (see `.clippy.toml`) sends every caller here.

/// Square root: an instruction of its own on every machine, exactly rounded by IEEE 754 and WebAssembly alike.
#[must_use]
#[expect(
    clippy::disallowed_methods,
    reason = "the same to the last bit everywhere, and many times as fast as libm's"
)]
pub fn sqrt(x: f64) -> f64 {
    x.sqrt()
}

/// Length of the vector (x, y) without overflow, right to two units in the last place. `libm` goes to the last one with
/// numbers split in two: a seventh of what a large site took to open.
#[must_use]
pub fn hypot(x: f64, y: f64) -> f64 {
    let square = x * x + y * y;
    if (1e-280..1e280).contains(&square) {
        return sqrt(square);
    }
    // The squares overflow or vanish: of a size between.
    let size = x.abs().max(y.abs());
    match size {
        size if size.is_infinite() => size,
        size if size > 0.0 => size * sqrt((x / size) * (x / size) + (y / size) * (y / size)),
        _ => square,
    }
}

/// Sine of an angle in radians.
#[must_use]
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}

/// Cosine of an angle in radians.
#[must_use]
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}

/// Tangent of an angle in radians.
#[must_use]
pub fn tan(x: f64) -> f64 {
    libm::tan(x)
}

/// Arc sine, radians.
#[must_use]
pub fn asin(x: f64) -> f64 {
    libm::asin(x)
}

/// Arc cosine, radians.
#[must_use]
pub fn acos(x: f64) -> f64 {
    libm::acos(x)
}

/// Angle of the vector (x, y), counter-clockwise from x, radians in −π … π.
#[must_use]
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}

/// x to the power y.
#[must_use]
pub fn powf(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}

/// Natural logarithm.
#[must_use]
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// Decimal logarithm.
#[must_use]
pub fn log10(x: f64) -> f64 {
    libm::log10(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hypot_is_right_to_two_units_in_the_last_place() {
        // Pythagorean triples are exact; for the rest the reference is `libm`, right to less than one unit.
        for [a, b, c] in [[3.0, 4.0, 5.0], [20.0, 21.0, 29.0], [0.0, 7.5, 7.5], [-119.0, 120.0, 169.0]] {
            assert_eq!(hypot(a, b), c);
        }
        let mut state = 1_u64;
        let mut some = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            f64::from_bits((state >> 12) | 0x3FF0_0000_0000_0000) - 1.5
        };
        for n in 0..100_000 {
            let size = libm::pow(10.0, f64::from(n % 13 - 6));
            let (x, y) = (some() * size, some());
            let (ours, theirs) = (hypot(x, y), libm::hypot(x, y));
            assert!(ours.to_bits().abs_diff(theirs.to_bits()) <= 2, "{x} {y}: {ours} {theirs}");
        }
        for size in [1e300, 1e-300] {
            assert!((hypot(3.0 * size, 4.0 * size) / (5.0 * size) - 1.0).abs() < 1e-15, "{size}");
        }
        assert_eq!((hypot(0.0, 0.0), hypot(f64::INFINITY, 1.0)), (0.0, f64::INFINITY));
        assert!(hypot(f64::NAN, 1.0).is_nan() && hypot(0.0, f64::NAN).is_nan());
    }
}
