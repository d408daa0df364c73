//! The kinds of measurement, what each is made of, and the points meant in it.

use swingtie_core::record::{PointId, Record};
use swingtie_core::units::PlanPoint;

/// The kinds of measurement offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A taped distance between two points.
    Tie,
    /// Readings along a tape from its zero.
    Run,
    /// Station along a baseline and offset square to it.
    Offsets,
    /// Offsets from a string at a fixed interval.
    Ordinates,
    /// Walls with turns.
    Walk,
    /// A square corner.
    Square,
    /// Points on one straight line.
    InLine,
    /// Only a side, no number.
    SideOnly,
}

impl Kind {
    /// All, in the order offered.
    pub const ALL: [Self; 8] = [
        Self::Tie,
        Self::Run,
        Self::Offsets,
        Self::Ordinates,
        Self::Walk,
        Self::Square,
        Self::InLine,
        Self::SideOnly,
    ];

    /// Whether the panel stays open after a save, for the next reading.
    #[must_use]
    pub const fn stays_open(self) -> bool {
        matches!(self, Self::Tie | Self::Run | Self::Offsets | Self::Ordinates | Self::Walk)
    }
}

/// One thing a measurement needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Slot {
    /// The point it starts from: tie's from, run's zero, baseline's start, first corner, the square corner.
    First,
    /// The second point: toward, baseline's end, one leg.
    Second,
    /// The third point: the other leg.
    Third,
    /// How far apart ordinates stand.
    Interval,
    /// How the wall turns before this leg.
    Turn,
    /// The point this reading fixes.
    Target,
    /// Distance along the baseline.
    Station,
    /// The reading itself: distance, reading on the run, offset, wall length.
    Length,
    /// Left or right.
    Side,
    /// Any number of points, in order.
    Many,
}

impl Slot {
    /// Whether a point goes in.
    #[must_use]
    pub const fn takes_point(self) -> bool {
        matches!(self, Self::First | Self::Second | Self::Third | Self::Target | Self::Many)
    }
    /// Whether a length goes in.
    #[must_use]
    pub const fn takes_length(self) -> bool {
        matches!(self, Self::Interval | Self::Station | Self::Length)
    }
}

/// A point meant: one of the record, or one to be made when the reading is saved.
#[derive(Clone, Debug, PartialEq)]
pub enum Meant {
    /// Known.
    Known(PointId),
    /// New, with its label and, when it was tapped on the drawing, its place on the sketch.
    New {
        /// The label it will get.
        label: String,
        /// Where the finger put it, in the sketch's frame.
        at: Option<PlanPoint>,
    },
}

impl Meant {
    /// The id, when the point is known.
    #[must_use]
    pub fn known(&self) -> Option<&PointId> {
        match self {
            Self::Known(id) => Some(id),
            Self::New { .. } => None,
        }
    }

    /// What it is or will be called.
    #[must_use]
    pub fn label<'a>(&'a self, record: &'a Record) -> &'a str {
        match self {
            Self::Known(id) => record.label(id),
            Self::New { label, .. } => label,
        }
    }
}
