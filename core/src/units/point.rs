//! Places and displacements in the plan. Adding two places means nothing, so it does not compile.

use super::{Length, float};
use serde::{Deserialize, Serialize};
use std::ops::{Add, Sub};

/// A place in the plan's local frame: metres, x along the held direction, y to its left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlanPoint {
    /// Along the held direction.
    pub x: Length,
    /// To the left of the held direction.
    pub y: Length,
}

/// A displacement between two places.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlanVec {
    /// Along the held direction.
    pub x: Length,
    /// To the left of the held direction.
    pub y: Length,
}

impl PlanPoint {
    /// From metres.
    #[must_use]
    pub const fn from_metres(x: f64, y: f64) -> Self {
        Self { x: Length::from_metres(x), y: Length::from_metres(y) }
    }
    /// The two coordinates in metres.
    #[must_use]
    pub const fn metres(self) -> (f64, f64) {
        (self.x.metres(), self.y.metres())
    }
    /// Distance to another place.
    #[must_use]
    pub fn distance(self, other: Self) -> Length {
        (other - self).length()
    }
    /// Half way to another place.
    #[must_use]
    pub const fn midway(self, other: Self) -> Self {
        let ((ax, ay), (bx, by)) = (self.metres(), other.metres());
        Self::from_metres(f64::midpoint(ax, bx), f64::midpoint(ay, by))
    }
    /// Whether both coordinates are numbers.
    #[must_use]
    pub const fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl PlanVec {
    /// From metres.
    #[must_use]
    pub const fn from_metres(x: f64, y: f64) -> Self {
        Self { x: Length::from_metres(x), y: Length::from_metres(y) }
    }
    /// The two components in metres.
    #[must_use]
    pub const fn metres(self) -> (f64, f64) {
        (self.x.metres(), self.y.metres())
    }
    /// Its length.
    #[must_use]
    pub fn length(self) -> Length {
        Length::from_metres(float::hypot(self.x.metres(), self.y.metres()))
    }
}

impl Sub for PlanPoint {
    type Output = PlanVec;
    fn sub(self, other: Self) -> PlanVec {
        PlanVec { x: self.x - other.x, y: self.y - other.y }
    }
}
impl Add<PlanVec> for PlanPoint {
    type Output = Self;
    fn add(self, by: PlanVec) -> Self {
        Self { x: self.x + by.x, y: self.y + by.y }
    }
}
