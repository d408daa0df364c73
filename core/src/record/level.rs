//! What is read with a level: how far points lie below one level line.

use super::{EntryId, PointId, Reading, Record};
use crate::units::Length;
use serde::Serialize;
use swingtie_derive::Told;

/// What makes the level line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LevelWith {
    /// A builder's level or a rotating laser on a tripod.
    #[default]
    BuildersLevel,
    /// A hand level at eye height or on a stick.
    HandLevel,
    /// A tight string with a line level at its middle.
    StringLevel,
    /// Water in a clear hose.
    WaterLevel,
    /// A tape held upright from a lower point to a higher one right above it: the line lies at the higher one, whose
    /// reading is nothing.
    Tape,
}

impl LevelWith {
    /// Standard deviation of one reading. Common practice, no source: half a graduation of a rod for the builder's
    /// level, a quarter of an inch for short sights of a hand level, a quarter over some ten metres of string, a
    /// sixteenth for water and for each end of an upright tape.
    #[must_use]
    pub const fn sd(self) -> Length {
        Length::from_metres(match self {
            Self::BuildersLevel => 0.002,
            Self::HandLevel | Self::StringLevel => 0.006,
            Self::WaterLevel | Self::Tape => 0.0016,
        })
    }
}

/// What the rod stood on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Stood {
    /// Ground or paving: its height is the ground's.
    Ground,
    /// Something over it: a threshold, a deck, a sill, the top of a wall.
    Above,
}

/// One reading: how far a point lies below the level line of a set-up. Everything read without moving the level
/// (the hose, the string) is one set-up: its first reading is the backsight, its last the foresight.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LevelReading {
    /// The entry of the set-up's first reading; none for the first itself, which starts the set-up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub setup: Option<EntryId>,
    /// What the rod stood on.
    pub point: PointId,
    /// From the point up to the level line.
    pub reading: Reading,
    /// The rod was held upside down: the point is above the level line.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub overhead: bool,
    /// What the rod stood on; none goes by what is recorded of the point ([`Record::stood`]).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stood: Option<Stood>,
    /// What made the line. The first reading of a set-up says it for all.
    #[serde(default)]
    pub with: LevelWith,
    /// The recorder's own standard deviation, replacing the instrument's.
    #[serde(default, skip_serializing_if = "Option::is_none", rename = "sd_metres")]
    pub sd: Option<Length>,
}

impl LevelReading {
    /// Height of the level line above the point; below it, negative.
    #[must_use]
    pub fn below_line(&self) -> Length {
        if self.overhead { -self.reading.value } else { self.reading.value }
    }

    /// How well it is read.
    #[must_use]
    pub fn spread(&self) -> Length {
        self.sd.unwrap_or(self.with.sd())
    }
}

/// Kinds of things whose points are not on the ground: sills, floors, gutters.
const RAISED: &[&str] = &["door", "window", "deck", "roof_edge"];

impl Record {
    /// What a rod on this point stands on where the reading does not say: something over the ground when the point
    /// belongs to a door, a window, a deck or a roof edge. Common practice, no source.
    #[must_use]
    pub fn usually_stood(&self, point: &PointId) -> Stood {
        let raised = |f: &&super::Recorded<super::Feature>| {
            RAISED.contains(&f.what.kind.as_str()) && f.what.points.contains(point)
        };
        if self.features.iter().any(|f| raised(&f)) { Stood::Above } else { Stood::Ground }
    }

    /// What the rod of this reading stood on.
    #[must_use]
    pub fn stood(&self, reading: &LevelReading) -> Stood {
        match reading.stood {
            Some(stood) => stood,
            None if reading.overhead => Stood::Above,
            None => self.usually_stood(&reading.point),
        }
    }
}

/// The height that one point is said to have: all others count from it.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BenchMark {
    /// The point, something that will still be there: a threshold, a slab corner.
    pub point: PointId,
    /// Its height as stated.
    #[serde(rename = "height_metres")]
    pub height: Length,
    /// Where the height comes from: "assumed", "from the plat".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
}
