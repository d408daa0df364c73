//! Features, problems and utility marks: what is recorded besides measurements and photos.

use super::{PhotoId, PointId, Reading, told};
use crate::units::PlanPoint;
use litemap::LiteMap;
use serde::Serialize;
use swingtie_derive::Told;

/// What shall become of a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Fate {
    /// Stays.
    Keep,
    /// To be moved.
    Move,
    /// To be removed.
    Remove,
    /// Not decided: ask.
    Ask,
}

/// One attribute of a feature: a length with its reading, or words.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Attribute {
    /// A taped or told length.
    Length(Reading),
    /// Anything else.
    Text(String),
}

impl At {
    /// The points it was said to be at; none where it is a place or the whole site.
    #[must_use]
    pub fn points(&self) -> &[PointId] {
        match self {
            Self::Points(points) => points,
            _ => &[],
        }
    }
}

/// Attributes by the keys of the table of rows.
pub type Attributes = LiteMap<String, Attribute>;

/// A thing in the yard, drawn through points.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Feature {
    /// A key of the catalogue (`house`, `fence`, `tree`); unknown keys are kept and drawn plainly.
    pub kind: String,
    /// The points it is drawn through, in order; one for a point or circle.
    pub points: Vec<PointId>,
    /// A name beside the catalogue's: "maple".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// What shall become of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fate: Option<Fate>,
    /// Attributes by the catalogue's keys (`trunk_diameter`, `canopy_spread`, `height`).
    #[serde(default, skip_serializing_if = "LiteMap::is_empty", deserialize_with = "told::named")]
    #[cfg_attr(feature = "schema", schemars(with = "std::collections::BTreeMap<String, Attribute>"))]
    pub attributes: Attributes,
    /// Its line or outline is smooth through its points, as of a bed dug by eye.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub curved: bool,
    /// Told by somebody, not seen or measured: drawn dotted.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub told: bool,
    /// Anything else.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// Where a problem or photo belongs.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum At {
    /// At one or along or around several points.
    Points(Vec<PointId>),
    /// Tapped on the drawing: only roughly there.
    Near(PlanPoint),
    /// The whole site.
    #[default]
    Site,
}

/// How bad a problem is in the recorder's eyes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// Worth a note.
    Note,
    /// Needs work.
    #[default]
    Fix,
    /// Could hurt someone, or gets worse by waiting.
    Danger,
}

impl Severity {
    /// In words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Note => "Worth a note",
            Self::Fix => "Needs work",
            Self::Danger => "Danger, or getting worse",
        }
    }
}

/// How a problem lies at its points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Spread {
    /// Along a line through them.
    Line,
    /// Over the area they go round.
    Area,
}

/// Something wrong in the yard.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Problem {
    /// A key such as `wet_spot`, `stump`, `undersized_post`, `other`.
    pub kind: String,
    /// How bad.
    #[serde(default)]
    pub severity: Severity,
    /// Where.
    #[serde(default)]
    pub at: At,
    /// How it lies at its points; at each of them when it is not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread: Option<Spread>,
    /// What was measured of it, by the keys of its kind's rows.
    #[serde(default, skip_serializing_if = "LiteMap::is_empty", deserialize_with = "told::named")]
    #[cfg_attr(feature = "schema", schemars(with = "std::collections::BTreeMap<String, Attribute>"))]
    pub attributes: Attributes,
    /// What was seen.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Photos of it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<PhotoId>,
    /// Told, not seen.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub told: bool,
}

/// The colour a utility mark was seen in. What a colour means is the place's convention, so it is
/// stored as seen; the uniform colour code of American locators is only the usual reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum MarkColour {
    /// Electric power, cables, conduit, lighting.
    Red,
    /// Gas, oil, steam, petroleum.
    Yellow,
    /// Communication, alarm, signal.
    Orange,
    /// Drinking water.
    Blue,
    /// Reclaimed water, irrigation, slurry.
    Purple,
    /// Sewers and drains.
    Green,
    /// Temporary survey, or unknown.
    Pink,
    /// Proposed excavation.
    White,
}

impl MarkColour {
    /// The letters drawn along a mark of this colour where nobody read others on it (common practice, no source).
    #[must_use]
    pub const fn usual_letters(self) -> &'static str {
        match self {
            Self::Red => "E",
            Self::Yellow => "G",
            Self::Orange => "T/C",
            Self::Blue => "W",
            Self::Purple => "I/RW",
            Self::Green => "S/D",
            Self::Pink => "SV",
            Self::White => "DIG",
        }
    }
}

/// Paint or flags that show a buried line.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UtilityMark {
    /// As seen.
    pub colour: MarkColour,
    /// The points along it.
    pub points: Vec<PointId>,
    /// Letters painted or written on the flag: "GAS 3/4 PL".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub letters: String,
    /// Ticket, days, widths, by the keys of the marks' rows.
    #[serde(default, skip_serializing_if = "LiteMap::is_empty", deserialize_with = "told::named")]
    #[cfg_attr(feature = "schema", schemars(with = "std::collections::BTreeMap<String, Attribute>"))]
    pub attributes: Attributes,
    /// Told by somebody, not marked.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub told: bool,
    /// Anything else: operator, date painted, ticket.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}
