//! What is known of a tape, so that its corrections can be repeated from the book.

use crate::units::tape::{self, Celsius, Newtons, STEEL_ELASTICITY, STEEL_EXPANSION};
use crate::units::{Angle, Length};
use serde::Serialize;
use swingtie_derive::Told;

/// A tape's own figures and how it hung. Each correction needs its figures; one that lacks some, or
/// has one that cannot be, adds nothing. Readings stay in the book as read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default)]
pub struct Tape {
    /// The length its marks say.
    #[serde(skip_serializing_if = "Option::is_none", rename = "marked_metres")]
    pub marked: Option<Length>,
    /// The length found when it was compared.
    #[serde(skip_serializing_if = "Option::is_none", rename = "true_metres")]
    pub true_length: Option<Length>,
    /// How warm the tape was.
    #[serde(skip_serializing_if = "Option::is_none", rename = "celsius")]
    pub temperature: Option<Celsius>,
    /// How warm it was when compared; 20 °C when not said.
    #[serde(skip_serializing_if = "Option::is_none", rename = "standard_celsius")]
    pub standard_temperature: Option<Celsius>,
    /// Its expansion in a degree Celsius; that of steel when not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expansion: Option<f64>,
    /// How hard it was pulled.
    #[serde(skip_serializing_if = "Option::is_none", rename = "pull_newtons")]
    pub pull: Option<Newtons>,
    /// How hard it was pulled when compared.
    #[serde(skip_serializing_if = "Option::is_none", rename = "standard_pull_newtons")]
    pub standard_pull: Option<Newtons>,
    /// The ribbon's section, square metres.
    #[serde(skip_serializing_if = "Option::is_none", rename = "section_square_metres")]
    pub section: Option<f64>,
    /// Its elasticity, pascals; that of steel when not said.
    #[serde(skip_serializing_if = "Option::is_none", rename = "elasticity_pascals")]
    pub elasticity: Option<f64>,
    /// The ribbon's weight, newtons a metre.
    #[serde(skip_serializing_if = "Option::is_none", rename = "newtons_per_metre")]
    pub weight: Option<f64>,
    /// The length hung between two supports; the rest of a reading hangs as one shorter span.
    #[serde(skip_serializing_if = "Option::is_none", rename = "span_metres")]
    pub span: Option<Length>,
    /// How much of the reading lay on the ground.
    #[serde(skip_serializing_if = "Option::is_none", rename = "supported_metres")]
    pub supported: Option<Length>,
}

impl Tape {
    /// What to add to a length read, of all corrections that have their figures. Each is reckoned
    /// from the length as read.
    #[must_use]
    pub fn correction(&self, read: Length) -> Length {
        let parts = [self.standard_length(read), self.warmth(read), self.stretch(read), self.sag(read)];
        let usable = parts.into_iter().flatten().filter(|part| part.is_finite());
        usable.fold(Length::ZERO, |sum, part| sum + part)
    }

    /// For its true length, when it was compared.
    #[must_use]
    pub fn standard_length(&self, read: Length) -> Option<Length> {
        Some(tape::standard_length(read, self.marked.filter(positive)?, self.true_length.filter(positive)?))
    }

    /// For warmth.
    #[must_use]
    pub fn warmth(&self, read: Length) -> Option<Length> {
        let standard = self.standard_temperature.unwrap_or(Celsius::STANDARD);
        Some(tape::temperature(read, self.expansion.unwrap_or(STEEL_EXPANSION), self.temperature?, standard))
    }

    /// For the pull.
    #[must_use]
    pub fn stretch(&self, read: Length) -> Option<Length> {
        let elasticity = self.elasticity.unwrap_or(STEEL_ELASTICITY);
        let section = self.section.filter(|a| *a > 0.0)?;
        Some(tape::pull(read, self.pull?, self.standard_pull?, section, elasticity))
    }

    /// For sag: whole spans of what hung, and the rest as one more.
    #[must_use]
    pub fn sag(&self, read: Length) -> Option<Length> {
        let (weight, pull) = (self.weight?, self.pull.filter(|p| p.0 > 0.0)?);
        let hung = (read.abs() - self.supported.unwrap_or(Length::ZERO)).metres().max(0.0);
        let span = self.span.filter(positive).map_or(hung, |span| span.metres().min(hung));
        let whole = if span > 0.0 { (hung / span).floor() } else { 0.0 };
        let each = tape::sag(Length::from_metres(span), weight, pull);
        let rest = tape::sag(Length::from_metres(hung - whole * span), weight, pull);
        let sum = each * whole + rest;
        Some(if read < Length::ZERO { -sum } else { sum })
    }
}

fn positive(length: &Length) -> bool {
    *length > Length::ZERO
}

/// How the tape lay when it was not level: reduces a measurement's readings to the horizontal.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Slope {
    /// One end was this much higher than the other, over the longest reading of the measurement;
    /// shorter readings lie on the same even slope.
    RiseMetres(Length),
    /// At this angle to the horizontal.
    AngleRadians(Angle),
    /// By the heights of its two ends, which are levelled ([`super::Record::laid`]).
    Heights,
}

impl Slope {
    /// The horizontal length under a slope length; `longest` is the measurement's longest reading.
    /// None when such a slope cannot be.
    #[must_use]
    pub fn level(self, slope: Length, longest: Length) -> Option<Length> {
        match self {
            Self::AngleRadians(angle) => tape::level_by_angle(slope, angle),
            // Without them it is taken as level.
            Self::Heights => Some(slope),
            Self::RiseMetres(rise) => Some(slope * (tape::level_by_rise(longest, rise)? / longest)),
        }
    }
}
