//! The site itself, its points, and where on earth it is.

use super::PointId;
use crate::units::{Angle, Length, UnitSystem};
use serde::Serialize;
use swingtie_derive::Told;

/// One yard, one book.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Site {
    /// What the recorder calls it.
    pub name: String,
    /// For whom; may be empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub client: String,
    /// Who measures; may be empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub surveyor: String,
    /// How lengths are written.
    #[serde(default)]
    pub units: UnitSystem,
    /// The day of the visit, `YYYY-MM-DD`, as handed in; may be empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub date: String,
    /// Anything else.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A place on the ground with a short label.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Point {
    /// The point itself.
    pub id: PointId,
    /// A, B, H1, T3.
    pub label: String,
    /// What it is: "front left corner".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// Where one point of the site is on earth (WGS 84).
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Anchor {
    /// The point.
    pub point: PointId,
    /// Degrees north of the equator.
    pub latitude: f64,
    /// Degrees east of Greenwich.
    pub longitude: f64,
    /// Where it comes from: "phone, averaged", "typed".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
    /// Its accuracy as told by the source: a radius that holds the true place in 95 of 100 cases, as phones tell
    /// it (W3C Geolocation).
    #[serde(default, skip_serializing_if = "Option::is_none", rename = "accuracy_metres")]
    pub accuracy: Option<Length>,
}

/// Which north a bearing counts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum NorthKind {
    /// The meridian.
    True,
    /// The compass needle.
    Magnetic,
}

/// The bearing of a line of the site: says where north is.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct North {
    /// Start of the line.
    pub from: PointId,
    /// End of the line.
    pub to: PointId,
    /// Clockwise from north, radians.
    #[serde(rename = "bearing_radians")]
    pub bearing: Angle,
    /// From which north.
    pub kind: NorthKind,
    /// Magnetic declination, east positive, when it is known: turns a compass bearing into a true
    /// one and lets compass and true bearings be taken side by side.
    #[serde(default, skip_serializing_if = "Option::is_none", rename = "declination_radians")]
    pub declination: Option<Angle>,
    /// Where it comes from: "compass", "from the plat".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
    /// Standard deviation of the bearing, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none", rename = "sd_radians")]
    pub sd: Option<Angle>,
}
