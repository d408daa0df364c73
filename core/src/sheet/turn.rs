//! Which way up the plan lies on the sheet.

use crate::plan::{Outline, Plan, What};
use crate::units::{Angle, float};
use std::f64::consts::FRAC_PI_2;

/// Which way up the plan lies on the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Turn {
    /// The longest wall parallel to an edge of the sheet, north within an eighth of a turn of its
    /// top where it is known. Designers work along house and lot lines, and a larger scale fits.
    #[default]
    Squared,
    /// North at the top where it is known, else as measured.
    NorthUp,
    /// The held direction of the survey runs to the right.
    AsMeasured,
    /// Turned counter-clockwise from as measured.
    By(Angle),
}

impl Turn {
    /// How far the plan is turned, counter-clockwise from as measured.
    pub(super) fn of(self, plan: &Plan) -> Angle {
        let north_up = plan.north.as_ref().map(|north| FRAC_PI_2 - north.direction.radians());
        match self {
            Self::NorthUp => Angle::from_radians(north_up.unwrap_or(0.0)),
            Self::AsMeasured => Angle::ZERO,
            Self::By(angle) => angle,
            Self::Squared => {
                let wall = longest_wall(plan).unwrap_or(0.0);
                let wanted = north_up.unwrap_or(0.0);
                // The quarter turn that lays the wall square and comes nearest to what is wanted.
                let quarters = ((wanted + wall) / FRAC_PI_2).round();
                Angle::from_radians(quarters * FRAC_PI_2 - wall)
            }
        }
    }
}

/// Direction of the longest wall of any building, counter-clockwise from the plan's x.
fn longest_wall(plan: &Plan) -> Option<f64> {
    let outlines = plan.shapes.iter().filter_map(|shape| match (&shape.what, &shape.outline) {
        (What::Feature(kind), Outline::Area(all)) if matches!(kind.as_str(), "house" | "outbuilding") => {
            Some(all)
        }
        _ => None,
    });
    let walls = outlines.flat_map(|all| all.iter().zip(all.iter().cycle().skip(1)));
    let longest = walls.max_by(|a, b| a.0.distance(*a.1).metres().total_cmp(&b.0.distance(*b.1).metres()))?;
    let (x, y) = (*longest.1 - *longest.0).metres();
    Some(float::atan2(y, x))
}
