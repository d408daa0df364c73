//! The only place that computes trigonometry, roots and powers.
//!
//! The platform's mathematics library gives other last bits in a phone's browser than on a desk.
//! These wrappers use `libm` on both, so that the same book gives the same plan everywhere.
//! Clippy's `disallowed-methods` (see `.clippy.toml`) sends every caller here.

/// Square root. `f64::sqrt` is exactly rounded by IEEE 754 and WebAssembly alike, but one door for all is simpler to check.
#[must_use]
pub fn sqrt(x: f64) -> f64 {
    libm::sqrt(x)
}

/// Length of the vector (x, y) without overflow.
#[must_use]
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
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
