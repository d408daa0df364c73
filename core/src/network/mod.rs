//! The adjustment: from readings to the most likely places of all points, and how well each is known.
//!
//! Public face: [`adjust`] takes the record and returns an [`Adjustment`]. It never fails: what
//! cannot be determined is named as loose and left out without disturbing the rest.

mod result;

pub use result::{
    AdjustedReading, Adjustment, Ellipse, Finding, Fix, Freedom, PointState, Quantity, ReadingRole,
    SideQuestion,
};

use crate::record::Record;

/// Adjusts everything the record holds.
#[must_use]
pub fn adjust(_record: &Record) -> Adjustment {
    Adjustment::default()
}
