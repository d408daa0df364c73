//! Writing lengths, areas and angles for people. Computation never goes through these texts.

use super::{Angle, Area, Length, UnitSystem};

/// How a length is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthStyle {
    /// Feet, inches and a reduced fraction: `12' 6 1/2"`.
    FeetInches {
        /// The finest fraction: 16 for sixteenths, 1 for whole inches. Nothing is read as 1.
        finest: u16,
    },
    /// `12.54 ft`.
    DecimalFeet {
        /// Digits after the point.
        decimals: u8,
    },
    /// `3.82 m`.
    Metres {
        /// Digits after the point.
        decimals: u8,
    },
}

impl LengthStyle {
    /// Feet and inches to the nearest sixteenth.
    pub const SIXTEENTHS: Self = Self::FeetInches { finest: 16 };
}

/// As fine as a tape of these units is read: a sixteenth, a hundredth of a foot, a millimetre.
impl From<UnitSystem> for LengthStyle {
    fn from(units: UnitSystem) -> Self {
        match units {
            UnitSystem::FeetInches => Self::SIXTEENTHS,
            UnitSystem::DecimalFeet => Self::DecimalFeet { decimals: 2 },
            UnitSystem::Metres => Self::Metres { decimals: 3 },
        }
    }
}

/// Writes a length. What is not a number is written `?`.
///
/// ```
/// use swingtie_core::units::{Length, LengthStyle, format_length};
/// let length = Length::from_inches(150.5);
/// assert_eq!(format_length(length, LengthStyle::SIXTEENTHS), "12' 6 1/2\"");
/// assert_eq!(format_length(length, LengthStyle::DecimalFeet { decimals: 2 }), "12.54 ft");
/// assert_eq!(format_length(length, LengthStyle::Metres { decimals: 3 }), "3.823 m");
/// ```
#[must_use]
pub fn format_length(length: Length, style: LengthStyle) -> String {
    if !length.is_finite() {
        return "?".to_owned();
    }
    match style {
        LengthStyle::FeetInches { finest } => feet_inches(length, finest.max(1)),
        LengthStyle::DecimalFeet { decimals } => say!("{} ft", format_number(length.feet(), decimals)),
        LengthStyle::Metres { decimals } => format!("{} m", format_number(length.metres(), decimals)),
    }
}

fn feet_inches(length: Length, finest: u16) -> String {
    let finest = i64::from(finest);
    #[allow(clippy::cast_precision_loss, reason = "a denominator of a few hundred at most")]
    let steps = (length.abs().inches() * finest as f64).round();
    #[allow(clippy::cast_possible_truncation, reason = "the cast saturates, far beyond any yard")]
    let steps = steps as i64;
    let (feet, rest) = (steps / (12 * finest), steps % (12 * finest));
    let (inches, over) = (rest / finest, rest % finest);
    let common = gcd(over, finest);
    let (over, under) = (over / common, finest / common);
    let inches = match (inches, over) {
        (inches, 0) => format!("{inches}\""),
        (0, over) if feet == 0 => format!("{over}/{under}\""),
        (inches, over) => format!("{inches} {over}/{under}\""),
    };
    let sign = if length.metres() < 0.0 && steps > 0 { "-" } else { "" };
    if feet > 0 { format!("{sign}{feet}' {inches}") } else { format!("{sign}{inches}") }
}

const fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// A number with fixed decimals, without the minus of a nothing (`-0.00`). What is not a number is
/// written `?`, so that no file ever carries one.
#[must_use]
pub fn fixed(number: f64, decimals: u8) -> String {
    if !number.is_finite() {
        return "?".to_owned();
    }
    let text = format!("{number:.*}", usize::from(decimals));
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| matches!(c, '0' | '.')) => rest.to_owned(),
        _ => text,
    }
}

/// As [`fixed`], for people: with the sign before decimals that the reader's language has.
#[must_use]
pub fn format_number(number: f64, decimals: u8) -> String {
    crate::language::number(fixed(number, decimals))
}

/// As [`fixed`], halves away from nothing: 4.125 is 4.13. A half that went through metres and back counts as one.
#[must_use]
pub fn half_up(number: f64, decimals: u8) -> String {
    let unit = powi10(decimals);
    let rounded = (number.abs() * unit + 1e-6).round() / unit;
    format_number(if number < 0.0 { -rounded } else { rounded }, decimals)
}

fn powi10(decimals: u8) -> f64 {
    (0..decimals).fold(1.0, |unit, _| unit * 10.0)
}

/// Writes a height above the datum as plans do, in decimal feet or metres without the unit: `98.49`, `30.02`.
#[must_use]
pub fn format_height(height: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metres => half_up(height.metres(), 2),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => half_up(height.feet(), 2),
    }
}

/// Writes a depth of water, no surer than levels are read: whole inches, tenths of a foot, centimetres, halves up.
#[must_use]
pub fn format_depth(depth: Length, units: UnitSystem) -> String {
    let (step, style) = match units {
        UnitSystem::FeetInches => (Length::from_inches(1.0), LengthStyle::FeetInches { finest: 1 }),
        UnitSystem::DecimalFeet => (Length::from_feet(0.1), LengthStyle::DecimalFeet { decimals: 1 }),
        UnitSystem::Metres => (Length::from_metres(0.01), LengthStyle::Metres { decimals: 2 }),
    };
    // What only a rounding keeps under a half counts as one.
    let steps = (depth.metres() / step.metres() + 0.5 + 1e-6).floor();
    format_length(step * steps, style)
}

/// Writes an area: `1240 sq ft`, `115.2 m²`.
#[must_use]
pub fn format_area(area: Area, units: UnitSystem) -> String {
    match units {
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => {
            say!("{} sq ft", format_number(area.square_feet(), 0))
        }
        UnitSystem::Metres => format!("{} m²", format_number(area.square_metres(), 1)),
    }
}

/// Writes an angle in degrees: `82.4°`.
#[must_use]
pub fn format_angle(angle: Angle, decimals: u8) -> String {
    format!("{}°", format_number(angle.degrees(), decimals))
}

/// Writes a bearing, clockwise from north, in 0° … 360° (360 itself is written 0): `348.0°`.
#[must_use]
pub fn format_bearing(bearing: Angle, decimals: u8) -> String {
    let text = format_number(bearing.degrees().rem_euclid(360.0), decimals);
    if text.starts_with("360") { format!("{}°", format_number(0.0, decimals)) } else { format!("{text}°") }
}
