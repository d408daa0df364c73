//! The quantity types. A bare number has no unit, so none crosses a public function's border.

use serde::{Deserialize, Serialize};
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// Metres in an international foot, exactly (National Bureau of Standards and partners, 1959).
pub const METRES_PER_FOOT: f64 = 0.3048;
/// Metres in an inch, exactly: a twelfth of the international foot.
pub const METRES_PER_INCH: f64 = 0.0254;

/// A length or a signed distance; held in metres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(!transparent))]
#[serde(transparent)]
pub struct Length(f64);

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0.0);

    /// From metres.
    #[must_use]
    pub const fn from_metres(metres: f64) -> Self {
        Self(metres)
    }
    /// From millimetres.
    #[must_use]
    pub const fn from_millimetres(millimetres: f64) -> Self {
        Self(millimetres / 1000.0)
    }
    /// From international feet.
    #[must_use]
    pub const fn from_feet(feet: f64) -> Self {
        Self(feet * METRES_PER_FOOT)
    }
    /// From inches.
    #[must_use]
    pub const fn from_inches(inches: f64) -> Self {
        Self(inches * METRES_PER_INCH)
    }
    /// In metres.
    #[must_use]
    pub const fn metres(self) -> f64 {
        self.0
    }
    /// In millimetres.
    #[must_use]
    pub const fn millimetres(self) -> f64 {
        self.0 * 1000.0
    }
    /// In international feet.
    #[must_use]
    pub const fn feet(self) -> f64 {
        self.0 / METRES_PER_FOOT
    }
    /// In inches.
    #[must_use]
    pub const fn inches(self) -> f64 {
        self.0 / METRES_PER_INCH
    }
    /// Without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }
    /// Whether this is a number at all: reading from outside must refuse the others.
    #[must_use]
    pub const fn is_finite(self) -> bool {
        self.0.is_finite()
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}
impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}
impl Div<f64> for Length {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}
impl Div for Length {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}
impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}

/// An angle; held in radians, counter-clockwise positive in the plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(!transparent))]
#[serde(transparent)]
pub struct Angle(f64);

impl Angle {
    /// No angle.
    pub const ZERO: Self = Self(0.0);
    /// A quarter turn.
    pub const RIGHT: Self = Self(std::f64::consts::FRAC_PI_2);

    /// From radians.
    #[must_use]
    pub const fn from_radians(radians: f64) -> Self {
        Self(radians)
    }
    /// From degrees.
    #[must_use]
    pub const fn from_degrees(degrees: f64) -> Self {
        Self(degrees * (std::f64::consts::PI / 180.0))
    }
    /// In radians.
    #[must_use]
    pub const fn radians(self) -> f64 {
        self.0
    }
    /// In degrees.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0 * (180.0 / std::f64::consts::PI)
    }
}

/// An area; held in square metres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Area(f64);

impl Area {
    /// From square metres.
    #[must_use]
    pub const fn from_square_metres(square_metres: f64) -> Self {
        Self(square_metres)
    }
    /// In square metres.
    #[must_use]
    pub const fn square_metres(self) -> f64 {
        self.0
    }
    /// In square feet (international foot).
    #[must_use]
    pub const fn square_feet(self) -> f64 {
        self.0 / (METRES_PER_FOOT * METRES_PER_FOOT)
    }
}

/// A volume; held in cubic metres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Volume(f64);

impl Volume {
    /// From cubic metres.
    #[must_use]
    pub const fn from_cubic_metres(cubic_metres: f64) -> Self {
        Self(cubic_metres)
    }
    /// In cubic metres.
    #[must_use]
    pub const fn cubic_metres(self) -> f64 {
        self.0
    }
    /// In cubic yards (of three international feet).
    #[must_use]
    pub const fn cubic_yards(self) -> f64 {
        self.0 / (27.0 * METRES_PER_FOOT * METRES_PER_FOOT * METRES_PER_FOOT)
    }
}
