//! Lengths, angles and areas as types, the exact reading of what a person writes, and formatting.
//!
//! Inside the crate a length is metres and an angle radians; other units exist only at the edge,
//! in [`read`] and [`format`].

pub mod float;
mod point;
mod quantity;

pub use point::{PlanPoint, PlanVec};
pub use quantity::{Angle, Area, Length, METRES_PER_FOOT, METRES_PER_INCH};
