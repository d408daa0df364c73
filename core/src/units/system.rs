//! The ways lengths are written on a site.

use serde::{Deserialize, Serialize};

/// How lengths are written on this site.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// Feet, inches and fractions: `12' 6 1/2"`.
    #[default]
    FeetInches,
    /// Feet with decimals: `12.54 ft`.
    DecimalFeet,
    /// Metres: `3.82 m`.
    Metres,
}
