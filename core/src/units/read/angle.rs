//! Reading an angle or a bearing from the ways a person writes it.

use super::read_number;
use crate::units::Angle;

/// Why a text is not an angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadAngleError {
    /// No number, or words that mean nothing here.
    #[error("{}", say!("this is no angle: write degrees such as 84.5, 84° 30' or 84-30-00"))]
    NotAnAngle,
    /// Sixty minutes or seconds and more, or decimals before them.
    #[error("{}", say!("minutes and seconds go from 0 to 59, after whole degrees"))]
    MinutesTooBig,
    /// More than a turn, or below nothing.
    #[error("{}", say!("an angle goes from 0 to 360 degrees"))]
    OutOfRange,
    /// More than a quarter turn from north or south.
    #[error("{}", say!("a bearing from north or south toward east or west goes from 0 to 90 degrees"))]
    QuadrantTooBig,
}

/// Reads an angle in degrees: `84.5`, `84.5°`, `84° 30'`, `84-30-15`, `84 deg 30 min`.
///
/// # Errors
/// When the text is no angle between 0 and 360 degrees.
///
/// # Examples
/// ```
/// use swingtie_core::units::read_angle;
/// assert_eq!(read_angle("84° 30'").unwrap().degrees(), 84.5);
/// ```
pub fn read_angle(text: &str) -> Result<Angle, ReadAngleError> {
    let degrees = degrees(text)?;
    if degrees > 360.0 { Err(ReadAngleError::OutOfRange) } else { Ok(Angle::from_degrees(degrees)) }
}

/// Reads a bearing, clockwise from north: degrees as for [`read_angle`], or from north or south
/// toward east or west: `S 68° 05' 35" W`.
///
/// # Errors
/// When the text is no bearing.
///
/// # Examples
/// ```
/// use swingtie_core::units::read_bearing;
/// assert_eq!(read_bearing("N 45 W").unwrap().degrees(), 315.0);
/// ```
pub fn read_bearing(text: &str) -> Result<Angle, ReadAngleError> {
    let text = text.trim();
    let (first, last) = (letter(text.chars().next()), letter(text.chars().next_back()));
    let from_north = match first {
        Some('n') => true,
        Some('s') => false,
        _ => return read_angle(text),
    };
    let east = match last {
        Some('e') => true,
        Some('w') => false,
        _ => return Err(ReadAngleError::NotAnAngle),
    };
    // Both ends are letters of one byte.
    let turned = degrees(text.get(1..text.len().saturating_sub(1)).unwrap_or_default())?;
    if turned > 90.0 {
        return Err(ReadAngleError::QuadrantTooBig);
    }
    Ok(Angle::from_degrees(match (from_north, east) {
        (true, true) => turned,
        (false, true) => 180.0 - turned,
        (false, false) => 180.0 + turned,
        (true, false) => 360.0 - turned,
    }))
}

fn letter(c: Option<char>) -> Option<char> {
    c.map(|c| c.to_ascii_lowercase())
}

/// Degrees, minutes and seconds, or some of them.
fn degrees(text: &str) -> Result<f64, ReadAngleError> {
    let mark = |c: char| c.is_whitespace() || "-°º'′’\"″”".contains(c) || c.is_ascii_alphabetic();
    let words = text.split(|c: char| !c.is_ascii_alphabetic()).filter(|word| !word.is_empty());
    let known = |word: &str| {
        ["deg", "degree", "degrees", "d", "min", "minutes", "m", "sec", "seconds", "s"]
            .iter()
            .any(|k| word.eq_ignore_ascii_case(k))
    };
    let text = text.trim();
    if text.starts_with('-') || !words.into_iter().all(known) {
        return Err(ReadAngleError::NotAnAngle);
    }
    let mut parts = text.split(mark).filter(|part| !part.is_empty()).map(|part| {
        let number = read_number(part).filter(|number| *number >= 0.0);
        number.map(|value| (value, part.contains(['.', ',']))).ok_or(ReadAngleError::NotAnAngle)
    });
    let (mut sum, mut decimals) = parts.next().ok_or(ReadAngleError::NotAnAngle)??;
    for (unit, part) in [60.0, 3600.0].into_iter().zip(parts.by_ref()) {
        let (value, point) = part?;
        if value >= 60.0 || decimals {
            return Err(ReadAngleError::MinutesTooBig);
        }
        sum += value / unit;
        decimals = point;
    }
    if parts.next().is_some() { Err(ReadAngleError::NotAnAngle) } else { Ok(sum) }
}
