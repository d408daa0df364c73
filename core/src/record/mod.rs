//! What can be recorded in a yard: the vocabulary of the field book, as types.
//!
//! A [`Statement`] is one thing said; the book wraps it into an entry. The fold of a book yields a
//! [`Record`]: everything as it stands, struck and corrected statements left out.
//!
//! Nothing here computes; ranges and meanings are stated, geometry is the network's business.

mod angle;
mod attribute;
mod catalogue;
mod feature;
mod ids;
mod laid;
mod level;
mod located;
mod measurement;
mod note;
mod photo;
mod question;
mod rows;
#[cfg(feature = "schema")]
mod schema;
mod site;
mod statement;
mod tape;
pub(crate) mod told;
mod troubles;
mod trunk;

#[cfg(test)]
mod tests;

pub use crate::units::UnitSystem;
pub use angle::{AngleHow, AngleInstrument, AngleReading, Rotation};
pub use attribute::{Form, NO, Row, Sort, YES};
pub use catalogue::{CATALOGUE, Geometry, Kind, asked, groups, kind, usually_told};
pub use feature::{
    At, Attribute, Attributes, Fate, Feature, MarkColour, Problem, Severity, Spread, UtilityMark,
};
pub use ids::{AuthorId, EntryId, PointId};
pub use level::{BenchMark, LevelReading, LevelWith, Stood};
pub use located::{MARK_FORM, TOLERANCE_EACH_SIDE};
pub use measurement::{
    How, Instrument, Leg, Measurement, OffsetRow, Reading, RunReading, Side, SideOf, Target, Turn,
};
pub use note::{LEFT_OPEN, Note, TOPICS, Topic, WrittenNote, topic_of};
pub use photo::{Facing, Original, Photo, PhotoId, PhotoMark, PhotoMarks, PictureSpot};
pub use question::{ANSWER, Answers, AskFor, Asks, QUESTION};
pub use site::{Anchor, North, NorthKind, Point, Site};
pub use statement::{Record, Recorded, Statement};
pub use tape::{Slope, Tape};
pub use troubles::{TROUBLES, Trouble, caution, evidence, trouble, what_next};
pub use trunk::{TapedTo, diameter_of};

/// The row with this key, whatever it is asked about: a key means the same sort of value everywhere.
#[must_use]
pub fn row(key: &str) -> Option<&'static Row> {
    catalogue::rows().chain(troubles::rows()).chain(MARK_FORM.rows()).find(|row| row.key == key)
}
