//! The kinds of measurement, as the trade takes them.

use super::{AngleHow, AngleReading, NorthKind, PointId, Rotation, Slope, Tape, TapedTo};
use crate::units::{Angle, BareUnit, Length, ReadLengthError, read_length};
use serde::Serialize;
use swingtie_derive::Told;

/// One number read off a tape, kept as it was written beside the length it means.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reading {
    /// As typed or said, for instance `12' 6 1/2"`.
    pub text: String,
    /// What it means.
    #[serde(rename = "metres")]
    pub value: Length,
}

impl Reading {
    /// Reads what a person wrote, and keeps the words. `bare` says what a number without a unit means.
    ///
    /// # Errors
    /// When the text is no length or could mean two.
    pub fn read(text: &str, bare: BareUnit) -> Result<Self, ReadLengthError> {
        Ok(Self { text: text.trim().to_owned(), value: read_length(text, bare)? })
    }
}

/// Which side of a line, walking from its first to its second point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// To the left of the walker.
    Left,
    /// To the right of the walker.
    Right,
}

impl Side {
    /// The opposite side.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// On which side of the line from `from` to `to` a point stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SideOf {
    /// Where the walker starts.
    pub from: PointId,
    /// Where the walker goes.
    pub to: PointId,
    /// The side the point stands on.
    pub side: Side,
}

/// What the length was taken with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Instrument {
    /// A steel tape or pocket tape.
    #[default]
    SteelTape,
    /// A fibreglass tape, which stretches.
    FibreglassTape,
    /// A hand-held laser.
    Laser,
    /// A measuring wheel.
    Wheel,
    /// Paced out.
    Pacing,
    /// Estimated by eye.
    Guess,
}

/// How sharply the thing measured to can be found.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Target {
    /// A corner, a jamb, a peg, a nail.
    #[default]
    Hard,
    /// A trunk, a bed edge, the rim of a wet spot, a paint mark.
    Soft,
}

/// How a measurement was taken: decides how far it is trusted.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct How {
    /// The instrument.
    #[serde(default)]
    pub instrument: Instrument,
    /// What was measured to.
    #[serde(default)]
    pub target: Target,
    /// The recorder's own standard deviation, replacing the one that follows from the two above.
    #[serde(default, skip_serializing_if = "Option::is_none", rename = "sd_metres")]
    pub sd: Option<Length>,
    /// What is known of the tape, when its corrections are wanted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tape: Option<Box<Tape>>,
    /// How the tape lay, when it was not level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slope: Option<Slope>,
}

impl How {
    /// A reading with its tape's corrections.
    #[must_use]
    pub fn corrected(&self, read: Length) -> Length {
        self.tape.as_ref().map_or(read, |tape| read + tape.correction(read))
    }

    /// The level, corrected length of a reading; `longest` is the longest of its measurement.
    /// None when the slope said cannot be.
    #[must_use]
    pub fn level(&self, read: Length, longest: Length) -> Option<Length> {
        match self.slope {
            None => Some(self.corrected(read)),
            Some(slope) => slope.level(self.corrected(read), self.corrected(longest)),
        }
    }

    /// Standard deviation of a length taken this way (one standard deviation, not a limit).
    ///
    /// a + b·length. The figures are common practice, no source: steel 1/4 in + 1/4 in per 50 ft,
    /// fibreglass 1/2 in + 1 in per 100 ft, soft targets 1 in more (added in quadrature), paced
    /// and guessed lengths feet.
    #[must_use]
    pub fn sd_of(&self, length: Length) -> Length {
        if let Some(sd) = self.sd {
            return sd;
        }
        let (a, b) = match self.instrument {
            Instrument::SteelTape => (0.005, 0.0004),
            Instrument::FibreglassTape => (0.010, 0.0008),
            Instrument::Laser => (0.004, 0.0001),
            Instrument::Wheel => (0.10, 0.005),
            Instrument::Pacing => (0.30, 0.03),
            Instrument::Guess => (0.50, 0.10),
        };
        let tape = a + b * length.abs().metres();
        let soft = match self.target {
            Target::Hard => 0.0,
            Target::Soft => 0.025,
        };
        Length::from_metres(crate::units::float::hypot(tape, soft))
    }
}

/// One number read on a run.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RunReading {
    /// The point read at.
    pub point: PointId,
    /// The reading from the run's zero.
    pub reading: Reading,
}

/// One station and offset from a baseline.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct OffsetRow {
    /// The point fixed.
    pub point: PointId,
    /// Distance along the baseline from its first point; negative behind it.
    pub station: Reading,
    /// Perpendicular distance from the baseline, never negative.
    pub offset: Reading,
    /// On which side, walking the baseline.
    pub side: Side,
}

/// How a wall walk turns at the start of a leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Turn {
    /// A square corner to the left (a weighted observation, not an assumption).
    Left,
    /// A square corner to the right.
    Right,
    /// To the left by an unknown angle: only the side is said.
    LeftNotSquare,
    /// To the right by an unknown angle.
    RightNotSquare,
    /// Straight on.
    Straight,
}

/// One wall of a wall walk.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Leg {
    /// The turn made before walking this leg; not used on the first leg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn: Option<Turn>,
    /// The corner reached.
    pub to: PointId,
    /// Its length, when it was taken in this walk.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<Reading>,
}

/// A measurement, or a relation stated as one.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Measurement {
    /// A taped horizontal distance between two points. Two ties fix a point (a swing tie) up to
    /// the side of the line between their anchors, which is why `side` can be said with it.
    Tie {
        /// The point taped from.
        from: PointId,
        /// The point taped to.
        to: PointId,
        /// The distance.
        reading: Reading,
        /// Which side of a line `to` stands on.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        side: Option<SideOf>,
        /// What of a round `to` was taped to; counts once its diameter is known.
        #[serde(default, skip_serializing_if = "TapedTo::is_middle")]
        taped_to: TapedTo,
        /// How it was taken.
        #[serde(default)]
        how: How,
    },
    /// A tape laid along a line from a zero; several points read off it, all on the line.
    Run {
        /// Where the tape's zero is held.
        zero: PointId,
        /// A point that shows the direction; often itself read.
        toward: PointId,
        /// The readings, all from the same zero.
        readings: Vec<RunReading>,
        /// The tape's zero was hooked somewhere else on the line: all readings are off by one
        /// unknown, and only their differences count.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        zero_unknown: bool,
        /// How it was taken.
        #[serde(default)]
        how: How,
    },
    /// Stations and offsets from a baseline; also the ordinates of a curve from a string.
    Offsets {
        /// The baseline's zero.
        from: PointId,
        /// The baseline's other end.
        to: PointId,
        /// The points fixed.
        rows: Vec<OffsetRow>,
        /// How the stations and offsets were taken.
        #[serde(default)]
        how: How,
    },
    /// A walk along walls: lengths with turns.
    Walk {
        /// The first corner.
        start: PointId,
        /// The walls in order; the last may come back to the first corner.
        legs: Vec<Leg>,
        /// How the lengths were taken.
        #[serde(default)]
        how: How,
    },
    /// The corner at `at`, between `from` and `to`, is square.
    Square {
        /// The corner.
        at: PointId,
        /// One leg.
        from: PointId,
        /// The other leg.
        to: PointId,
    },
    /// The points lie on the straight line from the first to the last.
    InLine {
        /// Three points or more.
        points: Vec<PointId>,
    },
    /// No number, only a side: settles which of two mirror places a point stands on.
    SideIs {
        /// The point.
        point: PointId,
        /// The side.
        side: SideOf,
    },
    /// An angle turned at a point, from one point to another.
    Angle {
        /// Where it is turned.
        at: PointId,
        /// The point sighted first.
        from: PointId,
        /// The point sighted last.
        to: PointId,
        /// The angle.
        reading: AngleReading,
        /// Which way it is turned.
        turn: Rotation,
        /// How it was taken.
        #[serde(default)]
        how: AngleHow,
    },
    /// The bearing of a point from another, clockwise from north.
    Bearing {
        /// Where the compass is held.
        from: PointId,
        /// The point sighted.
        to: PointId,
        /// The bearing.
        reading: AngleReading,
        /// From which north.
        north: NorthKind,
        /// How it was taken.
        #[serde(default)]
        how: AngleHow,
    },
    /// Two lines are parallel; which way each is named does not matter.
    Parallel {
        /// One line.
        one: [PointId; 2],
        /// The other.
        other: [PointId; 2],
        /// How well (one standard deviation); as for a square corner when not said.
        #[serde(default, skip_serializing_if = "Option::is_none", rename = "tolerance_radians")]
        tolerance: Option<Angle>,
    },
    /// Two lengths are the same.
    SameLength {
        /// One length's ends.
        one: [PointId; 2],
        /// The other's.
        other: [PointId; 2],
        /// How well (one standard deviation).
        #[serde(default, skip_serializing_if = "Option::is_none", rename = "tolerance_metres")]
        tolerance: Option<Length>,
    },
    /// The edge between two points is an arc of a circle, by its rise. Says nothing about where
    /// points stand; features drawn through both follow the arc.
    Arc {
        /// Where it begins.
        from: PointId,
        /// Where it ends.
        to: PointId,
        /// The rise: from the middle of the chord square out to the arc.
        rise: Reading,
        /// To which side it bows, walking from the first point to the second.
        side: Side,
    },
    /// The edge between two points is an arc of a circle through a third.
    ArcThrough {
        /// Where it begins.
        from: PointId,
        /// A point on it.
        through: PointId,
        /// Where it ends.
        to: PointId,
    },
    /// The girth of a trunk, taped round it: gives its diameter, see [`super::diameter_of`].
    Girth {
        /// The trunk's middle.
        point: PointId,
        /// Round the trunk.
        reading: Reading,
        /// How it was taken.
        #[serde(default)]
        how: How,
    },
}

impl Measurement {
    /// Every point it names, in the order named; some may stand there twice.
    #[must_use]
    pub fn points(&self) -> Vec<&PointId> {
        match self {
            Self::Tie { from, to, side, .. } => {
                let mut all = vec![from, to];
                all.extend(side.iter().flat_map(|s| [&s.from, &s.to]));
                all
            }
            Self::Run { zero, toward, readings, .. } => {
                [zero, toward].into_iter().chain(readings.iter().map(|r| &r.point)).collect()
            }
            Self::Offsets { from, to, rows, .. } => {
                [from, to].into_iter().chain(rows.iter().map(|r| &r.point)).collect()
            }
            Self::Walk { start, legs, .. } => {
                std::iter::once(start).chain(legs.iter().map(|l| &l.to)).collect()
            }
            Self::Square { at, from, to } | Self::Angle { at, from, to, .. } => vec![at, from, to],
            Self::InLine { points } => points.iter().collect(),
            Self::SideIs { point, side } => vec![point, &side.from, &side.to],
            Self::Bearing { from, to, .. } | Self::Arc { from, to, .. } => vec![from, to],
            Self::Parallel { one, other, .. } | Self::SameLength { one, other, .. } => {
                one.iter().chain(other).collect()
            }
            Self::ArcThrough { from, through, to } => vec![from, through, to],
            Self::Girth { point, .. } => vec![point],
        }
    }
}
