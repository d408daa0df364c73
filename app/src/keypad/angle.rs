//! Angles on the keypad: degrees with decimals, or degrees and minutes.

use super::text::Parts;
use super::typed::{Key, Pad};
use swingtie_core::language::tr;
use swingtie_core::record::AngleReading;

/// As it is written: `84.5°`, `84° 30'`.
pub fn text(parts: Parts) -> String {
    match (parts.feet, parts.inches) {
        (Some(degrees), Some(minutes)) => format!("{degrees}° {minutes}'"),
        (degrees, _) => {
            let degrees = degrees.unwrap_or(parts.pending);
            if degrees.is_empty() { degrees } else { format!("{degrees}°") }
        }
    }
}

/// As people say it: "84 degrees 30".
pub fn spoken(parts: Parts) -> String {
    let degrees = parts.feet.unwrap_or(parts.pending);
    say!("{degrees} degrees {}", parts.inches.unwrap_or_default()).trim_end().to_owned()
}

/// What it means, on a pad of this sort.
///
/// # Errors
/// A sentence for the user when it is no angle, or one that cannot be here.
pub fn read(text: &str, pad: Pad) -> Result<AngleReading, String> {
    let (below, why) = match pad {
        Pad::Slope => (90.0, "A tape at 90° hangs straight down. Type less."),
        _ => (360.0, "A full turn is 360°. Type less."),
    };
    match AngleReading::read(text) {
        Ok(reading) if reading.value.degrees() < below => Ok(reading),
        Ok(_) => Err(tr(why).to_owned()),
        // The reader knows the full turn as well, and nothing of this pad.
        Err(swingtie_core::units::ReadAngleError::OutOfRange) => Err(tr(why).to_owned()),
        Err(error) => Err(error.to_string()),
    }
}

/// The keys that type such a text; a sign of another notation ends them.
pub fn keys(text: &str) -> Vec<Key> {
    let key = |sign: char| match sign {
        '.' => Some(Key::Point),
        '°' => Some(Key::Degrees),
        _ => sign.to_digit(10).and_then(|digit| u8::try_from(digit).ok()).map(Key::Digit),
    };
    text.chars().filter(|sign| !matches!(sign, ' ' | '\'')).map_while(key).collect()
}

#[cfg(test)]
mod tests {
    use super::super::typed::{Doubt, Typed};
    use super::*;

    fn typed(pad: Pad, text: &str) -> Typed {
        let mut typed = Typed::new(pad);
        for key in keys(text) {
            typed.press(key).unwrap();
        }
        typed
    }

    // 30 minutes are half a degree: sixty minutes make one (any dictionary).
    #[test]
    fn degrees_with_decimals_or_with_minutes() {
        for (keys, text, spoken, degrees) in [
            ("84", "84°", "84 degrees", 84.0),
            ("84.5", "84.5°", "84.5 degrees", 84.5),
            ("84.5°", "84.5°", "84.5 degrees", 84.5),
            ("84°30", "84° 30'", "84 degrees 30", 84.5),
            ("0°6", "0° 6'", "0 degrees 6", 0.1),
            ("359.9", "359.9°", "359.9 degrees", 359.9),
        ] {
            let typed = typed(Pad::Turn, keys);
            let angle = typed.angle().unwrap();
            assert_eq!((angle.text.as_str(), typed.spoken().as_str()), (text, spoken));
            assert!((angle.value.degrees() - degrees).abs() < 1e-12, "{keys}: {angle:?}");
            assert_eq!(typed.doubt(), None);
            assert_eq!(Typed::from_angle(&angle, Pad::Turn).angle(), Some(angle));
        }
    }

    #[test]
    fn what_cannot_be_says_why() {
        for (pad, keys, word) in [
            (Pad::Turn, "360", "full turn"),
            (Pad::Turn, "512", "full turn"),
            (Pad::Slope, "90", "straight down"),
            (Pad::Slope, "400", "straight down"),
            (Pad::Turn, "84°75", "minutes"),
            (Pad::Turn, "84.5°30", "minutes"),
        ] {
            let typed = typed(pad, keys);
            assert_eq!(typed.angle(), None, "{keys}");
            assert!(matches!(typed.doubt(), Some(Doubt::Unreadable(why)) if why.contains(word)), "{keys}");
        }
        assert_eq!(typed(Pad::Slope, "89.9").doubt(), None);
    }

    #[test]
    fn an_angle_is_no_length_and_keys_that_make_no_sense_change_nothing() {
        let mut pad = typed(Pad::Turn, "84°30");
        assert!(pad.reading().is_none() && pad.is_read());
        let before = pad.clone();
        assert!(pad.press(Key::Degrees).is_err());
        assert_eq!(pad, before);
        assert_eq!(Typed::new(Pad::Turn).angle(), None);
        assert!(Typed::new(Pad::Turn).press(Key::Degrees).is_err());
    }

    #[test]
    fn a_bearing_by_quarters_is_typed_anew() {
        let quarter = AngleReading::bearing("N 45 W").unwrap();
        assert!(Typed::from_angle(&quarter, Pad::Turn).is_empty());
    }
}
