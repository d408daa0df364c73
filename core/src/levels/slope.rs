//! Rise over run, in every way the trade writes it.

use crate::units::float::{atan2, tan};
use crate::units::{Angle, Length};

/// A slope: rise over horizontal run, falling where negative.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Slope(f64);

impl Slope {
    /// Of a rise over a horizontal run; none where the run is nothing.
    #[must_use]
    pub fn of(rise: Length, run: Length) -> Option<Self> {
        let slope = rise / run;
        (run.metres() > 0.0 && slope.is_finite()).then_some(Self(slope))
    }

    /// Of an angle above the horizontal; none where it is upright or more.
    #[must_use]
    pub fn of_angle(angle: Angle) -> Option<Self> {
        (angle.degrees().abs() < 90.0).then(|| Self(tan(angle.radians())))
    }

    /// In per cent: 2 is a rise of 2 in 100.
    #[must_use]
    pub const fn percent(self) -> f64 {
        self.0 * 100.0
    }

    /// Inches of rise in a foot of run.
    #[must_use]
    pub const fn inches_per_foot(self) -> f64 {
        self.0 * 12.0
    }

    /// The n of "1 in n"; none on the level.
    #[must_use]
    pub fn one_in(self) -> Option<f64> {
        (self.0 != 0.0).then(|| 1.0 / self.0)
    }

    /// The angle above the horizontal.
    #[must_use]
    pub fn angle(self) -> Angle {
        Angle::from_radians(atan2(self.0, 1.0))
    }
}
