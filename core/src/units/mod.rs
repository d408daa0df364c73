//! Lengths, angles and areas as types, the exact reading of what a person writes, and formatting.
//!
//! Inside the crate a length is metres and an angle radians; other units exist only at the edge,
//! in [`mod@read`] and [`mod@format`].

mod day;
pub mod float;
pub mod format;
pub mod outline;
mod point;
mod quantity;
pub mod read;
mod sort;
mod system;
pub mod tape;

/// So many standard deviations either way hold 95 of 100 (normal distribution, to two decimals).
pub const SURE: f64 = 1.96;

pub use day::day;
pub use format::{
    LengthStyle, format_angle, format_area, format_bearing, format_depth, format_height, format_length,
};
pub use point::{PlanPoint, PlanVec};
pub use quantity::{Angle, Area, Length, METRES_PER_FOOT, METRES_PER_INCH, Volume};
pub use read::{
    BareUnit, ReadAngleError, ReadLengthError, read_angle, read_bearing, read_length, read_number,
};
pub(crate) use sort::ascending;
pub use sort::sort_by;
pub use system::UnitSystem;
