//! How thick trunks are: ties to the bark are reduced to the middle.

use super::{Attribute, Measurement, PointId, Record};
use crate::units::Length;
use litemap::LiteMap;
use serde::Serialize;
use swingtie_derive::Told;

/// What of a round thing, such as a trunk, a tie was taped to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum TapedTo {
    /// To its middle, held beside the trunk; also every thing that is not round.
    #[default]
    Middle,
    /// To the bark nearest to the other end.
    NearSide,
    /// To the bark furthest from the other end.
    FarSide,
}

impl TapedTo {
    /// Whether nothing need be said.
    #[must_use]
    pub fn is_middle(&self) -> bool {
        *self == Self::Middle
    }

    /// The distance to the middle: half the diameter more than to the near side, half less than
    /// to the far side.
    #[must_use]
    pub fn to_middle(self, read: Length, diameter: Length) -> Length {
        match self {
            Self::Middle => read,
            Self::NearSide => read + diameter / 2.0,
            Self::FarSide => read - diameter / 2.0,
        }
    }
}

/// The diameter of a round trunk by its girth: d = girth / π (forestry extension texts give it so).
#[must_use]
pub fn diameter_of(girth: Length) -> Length {
    girth / std::f64::consts::PI
}

impl Record {
    /// The diameters of round things, by their point: from the last girth taped, else from a
    /// feature there (`trunk_diameter`, `diameter`, else its `girth`).
    #[must_use]
    pub fn diameters(&self) -> LiteMap<&PointId, Length> {
        let mut diameters = LiteMap::new();
        for feature in self.features.iter().map(|f| &f.what) {
            let said = |key: &str| match feature.attributes.get(key) {
                Some(Attribute::Length(reading)) => Some(reading.value),
                _ => None,
            };
            let said = said("trunk_diameter")
                .or_else(|| said("diameter"))
                .or_else(|| said("girth").map(diameter_of));
            if let (Some(point), Some(diameter)) = (feature.points.first(), said) {
                diameters.insert(point, diameter);
            }
        }
        for m in &self.measurements {
            if let Measurement::Girth { point, reading, .. } = &m.what {
                diameters.insert(point, diameter_of(reading.value));
            }
        }
        diameters.retain(|_, d| d.is_finite() && *d > Length::ZERO);
        diameters
    }
}
