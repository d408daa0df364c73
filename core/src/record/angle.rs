//! Angles and bearings as they are read, and what with.

use crate::units::{Angle, ReadAngleError, read_angle, read_bearing};
use serde::Serialize;
use swingtie_derive::Told;

/// An angle or bearing, kept as it was written beside what it means.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AngleReading {
    /// As typed or said, for instance `84° 30'`.
    pub text: String,
    /// What it means.
    #[serde(rename = "radians")]
    pub value: Angle,
}

impl AngleReading {
    /// Reads an angle in degrees, and keeps the words.
    ///
    /// # Errors
    /// When the text is no angle.
    pub fn read(text: &str) -> Result<Self, ReadAngleError> {
        Ok(Self { text: text.trim().to_owned(), value: read_angle(text)? })
    }

    /// Reads a bearing, and keeps the words.
    ///
    /// # Errors
    /// When the text is no bearing.
    pub fn bearing(text: &str) -> Result<Self, ReadAngleError> {
        Ok(Self { text: text.trim().to_owned(), value: read_bearing(text)? })
    }
}

/// Which way an angle is turned, seen from above.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Rotation {
    /// As the hands of a clock.
    Clockwise,
    /// Against them.
    CounterClockwise,
}

/// What an angle was read with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum AngleInstrument {
    /// A hand-held sighting compass.
    #[default]
    Compass,
    /// The compass of a phone.
    Phone,
    /// A board or large protractor, sighted along.
    Protractor,
    /// A theodolite or transit on its tripod.
    Theodolite,
    /// Estimated by eye.
    Guess,
}

/// How an angle was taken: decides how far it is trusted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AngleHow {
    /// The instrument.
    #[serde(default)]
    pub instrument: AngleInstrument,
    /// The recorder's own standard deviation, replacing the instrument's.
    #[serde(default, skip_serializing_if = "Option::is_none", rename = "sd_radians")]
    pub sd: Option<Angle>,
}

impl AngleHow {
    /// Standard deviation of an angle or bearing taken this way (one standard deviation, not a
    /// limit). Common practice, no source: a sighting compass 1°, a phone 3°, a protractor 1°, a
    /// theodolite with its centring over a peg 0.05°, by eye 10°.
    #[must_use]
    pub fn sd(&self) -> Angle {
        self.sd.unwrap_or(Angle::from_degrees(match self.instrument {
            AngleInstrument::Compass | AngleInstrument::Protractor => 1.0,
            AngleInstrument::Phone => 3.0,
            AngleInstrument::Theodolite => 0.05,
            AngleInstrument::Guess => 10.0,
        }))
    }
}
