//! The kinds of measurement, what each is made of, and the points meant in it.

use crate::keypad::Pad;
use swingtie_core::record::{AngleHow, How, NorthKind, PointId, Record, Rotation, TapedTo, Turn, UnitSystem};
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
    /// An angle turned at a point.
    Angle,
    /// A bearing by the compass.
    Bearing,
    /// Two parallel lines.
    Parallel,
    /// Two equal lengths.
    SameLength,
    /// An arc by its ends and its rise.
    Arc,
    /// An arc through three points.
    ArcThrough,
    /// The girth of a trunk.
    Girth,
}

impl Kind {
    /// Those most yards are measured with, in the order offered.
    pub const OFTEN: [Self; 8] = [
        Self::Tie,
        Self::Run,
        Self::Offsets,
        Self::Ordinates,
        Self::Walk,
        Self::Square,
        Self::InLine,
        Self::SideOnly,
    ];
    /// The others, in the order offered.
    pub const SELDOM: [Self; 7] = [
        Self::Angle,
        Self::Bearing,
        Self::Parallel,
        Self::SameLength,
        Self::Arc,
        Self::ArcThrough,
        Self::Girth,
    ];

    /// Whether the panel stays open after a save, for the next reading.
    #[must_use]
    pub const fn stays_open(self) -> bool {
        self.taped() || self.sighted()
    }

    /// Whether a length is read off a tape, so that how it is taken matters.
    #[must_use]
    pub const fn taped(self) -> bool {
        matches!(self, Self::Tie | Self::Run | Self::Offsets | Self::Ordinates | Self::Walk | Self::Girth)
    }

    /// Whether an angle is read off a compass, a protractor or the like.
    #[must_use]
    pub const fn sighted(self) -> bool {
        matches!(self, Self::Angle | Self::Bearing)
    }

    /// Whether the slope of the tape can be said with a reading: only where it is the one length.
    #[must_use]
    pub const fn slopes(self) -> bool {
        matches!(self, Self::Tie | Self::Run)
    }
}

/// How the slope of a tape is known that was not level.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lay {
    /// One end was so much higher.
    Rise,
    /// It lay at an angle.
    Incline,
    /// Its ends are levelled, now or later.
    Heights,
}

impl Lay {
    const ALL: [Self; 3] = [Self::Rise, Self::Incline, Self::Heights];

    /// What then has to be typed.
    #[must_use]
    pub const fn slot(self) -> Option<Slot> {
        match self {
            Self::Rise => Some(Slot::Rise),
            Self::Incline => Some(Slot::Incline),
            Self::Heights => None,
        }
    }

    /// Its name where it is kept.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Rise => "rise",
            Self::Incline => "incline",
            Self::Heights => "heights",
        }
    }

    /// The one that is kept by this name.
    #[must_use]
    pub fn of(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|lay| lay.key() == key)
    }
}

/// One thing a measurement needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Slot {
    /// The point it starts from: tie's from, run's zero, baseline's start, first corner, the square
    /// corner, where an angle is turned.
    First,
    /// The second point: toward, baseline's end, one leg, where an angle starts.
    Second,
    /// The third point: the other leg, where another line starts.
    Third,
    /// The fourth point: where another line ends.
    Fourth,
    /// How far apart ordinates stand.
    Interval,
    /// How the wall turns before this leg.
    Turn,
    /// The point this reading fixes.
    Target,
    /// What of a round thing is taped to.
    TapedTo,
    /// Which way an angle is turned.
    Rotation,
    /// Which north a bearing counts from.
    North,
    /// An angle or a bearing.
    Angle,
    /// Distance along the baseline.
    Station,
    /// The reading itself: distance, reading on the run, offset, wall length, rise of an arc, girth.
    Length,
    /// How much higher one end of the tape was.
    Rise,
    /// How steep the tape lay.
    Incline,
    /// Left or right.
    Side,
    /// Any number of points, in order.
    Many,
}

impl Slot {
    /// Whether a point goes in.
    #[must_use]
    pub const fn takes_point(self) -> bool {
        matches!(self, Self::First | Self::Second | Self::Third | Self::Fourth | Self::Target | Self::Many)
    }
    /// The pad a number for it is typed on, where lengths are typed in these units; none when no
    /// number goes in.
    #[must_use]
    pub const fn pad(self, units: UnitSystem) -> Option<Pad> {
        match self {
            Self::Interval | Self::Station | Self::Length | Self::Rise => Some(Pad::Length(units)),
            Self::Angle => Some(Pad::Turn),
            Self::Incline => Some(Pad::Slope),
            _ => None,
        }
    }
    /// Whether a number goes in.
    #[must_use]
    pub const fn takes_number(self) -> bool {
        self.pad(UnitSystem::Metres).is_some()
    }
    /// The few things it can hold, when it is chosen from a few.
    #[must_use]
    pub const fn choices(self) -> &'static [Choice] {
        match self {
            Self::Turn => &[
                Choice::Turn(Turn::Left),
                Choice::Turn(Turn::Right),
                Choice::Turn(Turn::LeftNotSquare),
                Choice::Turn(Turn::RightNotSquare),
                Choice::Turn(Turn::Straight),
            ],
            Self::TapedTo => &[
                Choice::TapedTo(TapedTo::NearSide),
                Choice::TapedTo(TapedTo::FarSide),
                Choice::TapedTo(TapedTo::Middle),
            ],
            Self::Rotation => {
                &[Choice::Rotation(Rotation::CounterClockwise), Choice::Rotation(Rotation::Clockwise)]
            }
            Self::North => &[Choice::North(NorthKind::Magnetic), Choice::North(NorthKind::True)],
            _ => &[],
        }
    }
}

/// One of the few things a slot can hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// How a wall turns.
    Turn(Turn),
    /// What of a round thing is taped to.
    TapedTo(TapedTo),
    /// Which way an angle is turned.
    Rotation(Rotation),
    /// Which north.
    North(NorthKind),
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

/// What is in the hand: how a reading is taken, by its kind.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InHand {
    /// Lengths.
    pub how: How,
    /// Angles and bearings.
    pub sight: AngleHow,
}
