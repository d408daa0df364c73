//! What can be recorded in a yard: the vocabulary of the field book, as types.
//!
//! A [`Statement`] is one thing said; the book wraps it into an entry. The fold of a book yields a
//! [`Record`]: everything as it stands, struck and corrected statements left out.
//!
//! Nothing here computes; ranges and meanings are stated, geometry is the network's business.

mod angle;
mod catalogue;
mod feature;
mod ids;
mod measurement;
mod site;
mod statement;
mod tape;
pub(crate) mod told;
mod trunk;

pub use crate::units::UnitSystem;
pub use angle::{AngleHow, AngleInstrument, AngleReading, Rotation};
pub use catalogue::{CATALOGUE, Geometry, Kind, kind};
pub use feature::{At, Attribute, Fate, Feature, MarkColour, Photo, PhotoId, Problem, Severity, UtilityMark};
pub use ids::{AuthorId, EntryId, PointId};
pub use measurement::{
    How, Instrument, Leg, Measurement, OffsetRow, Reading, RunReading, Side, SideOf, Target, Turn,
};
pub use site::{Anchor, North, NorthKind, Point, Site};
pub use statement::{Record, Recorded, Statement};
pub use tape::{Slope, Tape};
pub use trunk::{TapedTo, diameter_of};
