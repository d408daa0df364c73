//! The kinds of measurement, as the trade takes them.

use super::PointId;
use crate::units::{BareUnit, Length, ReadLengthError, read_length};
use serde::{Deserialize, Serialize};

/// One number read off a tape, kept as it was written beside the length it means.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
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
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SideOf {
    /// Where the walker starts.
    pub from: PointId,
    /// Where the walker goes.
    pub to: PointId,
    /// The side the point stands on.
    pub side: Side,
}

/// What the length was taken with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
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
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Target {
    /// A corner, a jamb, a peg, a nail.
    #[default]
    Hard,
    /// A trunk, a bed edge, the rim of a wet spot, a paint mark.
    Soft,
}

/// How a measurement was taken: decides how far it is trusted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
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
}

impl How {
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
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RunReading {
    /// The point read at.
    pub point: PointId,
    /// The reading from the run's zero.
    pub reading: Reading,
}

/// One station and offset from a baseline.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
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
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
}
