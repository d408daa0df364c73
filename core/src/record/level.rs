//! What is read with a level: how far points lie below one level line.

use super::{EntryId, PointId, Reading};
use crate::units::Length;
use serde::Serialize;
use swingtie_derive::Told;

/// What makes the level line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Told)]
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
}

impl LevelWith {
    /// Standard deviation of one reading. Common practice, no source: half a graduation of a rod for the builder's
    /// level, a quarter of an inch for short sights of a hand level, a quarter over some ten metres of string, a
    /// sixteenth for water.
    #[must_use]
    pub const fn sd(self) -> Length {
        Length::from_metres(match self {
            Self::BuildersLevel => 0.002,
            Self::HandLevel | Self::StringLevel => 0.006,
            Self::WaterLevel => 0.0016,
        })
    }
}

/// One reading: how far a point lies below the level line of a set-up. Everything read without moving the level
/// (the hose, the string) is one set-up: its first reading is the backsight, its last the foresight.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
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

/// The height that one point is said to have: all others count from it.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
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
