//! Corrections of taped lengths: pure formulas, each with its equation and source.
//!
//! A correction is what must be added to the length read. The formulas stand in every surveying
//! textbook; the words "standard length, temperature, sag, tension" are theirs.

use super::{Angle, Length, float};
use serde::{Deserialize, Serialize};

/// A temperature in degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(!transparent))]
#[serde(transparent)]
pub struct Celsius(pub f64);

impl Celsius {
    /// What tapes are made true at: 20 °C (68 °F).
    pub const STANDARD: Self = Self(20.0);

    /// From degrees Fahrenheit.
    #[must_use]
    pub const fn from_fahrenheit(degrees: f64) -> Self {
        Self((degrees - 32.0) / 1.8)
    }
}

/// A force in newtons: the pull on a tape.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(!transparent))]
#[serde(transparent)]
pub struct Newtons(pub f64);

impl Newtons {
    /// From pounds-force: 0.45359237 kg (exact) under standard gravity, 9.80665 m/s² (exact).
    #[must_use]
    pub const fn from_pounds(pounds: f64) -> Self {
        Self(pounds * 0.453_592_37 * 9.806_65)
    }
}

/// Linear expansion of steel in a degree Celsius: 11.6 millionths (6.45 millionths in a degree
/// Fahrenheit; from memory the figure of most American texts, some say 6.5).
pub const STEEL_EXPANSION: f64 = 11.6e-6;
/// Elasticity of steel in pascals: 29,000,000 psi.
pub const STEEL_ELASTICITY: f64 = 29.0e6 * 6_894.757_293_168_36;

/// For a tape that is not as long as its marks say: C = (l' − l)/l · L, with l' its true and l its
/// marked length.
#[must_use]
pub fn standard_length(read: Length, marked: Length, true_length: Length) -> Length {
    read * ((true_length - marked) / marked)
}

/// For a tape warmer than at its trial: C = α · (T − T₀) · L, α its expansion in a degree Celsius.
#[must_use]
pub fn temperature(read: Length, expansion: f64, at: Celsius, standard: Celsius) -> Length {
    read * (expansion * (at.0 - standard.0))
}

/// For a tape pulled harder than at its trial: C = (P − P₀) · L / (A · E), A the ribbon's section in
/// square metres, E its elasticity in pascals.
#[must_use]
pub fn pull(read: Length, pulled: Newtons, standard: Newtons, section: f64, elasticity: f64) -> Length {
    read * ((pulled.0 - standard.0) / (section * elasticity))
}

/// For a span held at its ends only: C = −w² · L³ / (24 · P²), w the ribbon's weight in newtons a metre.
#[must_use]
pub fn sag(span: Length, weight: f64, pulled: Newtons) -> Length {
    let load = weight * span.metres() / pulled.0;
    span * (-load * load / 24.0)
}

/// The horizontal length under a slope length whose ends differ in height: H = √(S² − h²). None
/// when the height is as large as the length.
#[must_use]
pub fn level_by_rise(slope: Length, rise: Length) -> Option<Length> {
    let sine = rise / slope;
    // (S − h)(S + h), so that a small height does not cancel.
    (sine.abs() < 1.0).then(|| slope * float::sqrt((1.0 - sine) * (1.0 + sine)))
}

/// The horizontal length under a slope length at an angle to the horizontal: H = S · cos θ. None
/// when the angle is a right angle or more.
#[must_use]
pub fn level_by_angle(slope: Length, angle: Angle) -> Option<Length> {
    (angle.radians().abs() < std::f64::consts::FRAC_PI_2).then(|| slope * float::cos(angle.radians()))
}
