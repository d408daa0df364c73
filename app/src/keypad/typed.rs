//! What has been typed on the keypad so far: a list of keys, and what they mean.
//!
//! Deleting takes back the last key, whatever it was. A key that makes no sense where it stands is
//! refused with a sentence and changes nothing; a number that is complete but hardly meant is
//! questioned, with a better one offered. The text goes through `core`'s own reader, so the pad and
//! a typed sheet of notes can never disagree about what a number means.

use super::text::{Parts, feet_inches, fraction_at, spoken_feet, with_unit};
use swingtie_core::record::{Reading, UnitSystem};
use swingtie_core::units::{BareUnit, Length, read_length};

/// One key of the pad.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// 0 … 9.
    Digit(u8),
    /// The decimal point.
    Point,
    /// What was typed is feet.
    Feet,
    /// What was typed is inches.
    Inches,
    /// So many sixteenths of an inch, 1 … 15.
    Sixteenths(u8),
    /// What was typed is metres.
    Metres,
    /// What was typed is centimetres.
    Centimetres,
    /// What was typed is millimetres.
    Millimetres,
    /// Behind the zero instead of ahead of it.
    Sign,
}

/// Why what was typed is not (yet) taken as it stands.
#[derive(Clone, Debug, PartialEq)]
pub enum Doubt {
    /// Nothing typed.
    Empty,
    /// A number without a unit.
    NeedsUnit,
    /// It cannot be read; the sentence says why.
    Unreadable(String),
    /// Twelve inches or more beside feet; the same length written the usual way.
    OverAFoot(Box<Typed>),
    /// Longer than tapes are.
    Long,
}

/// What has been typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Typed {
    units: UnitSystem,
    keys: Vec<Key>,
    negative: bool,
}

/// A taped length beyond this is questioned: common practice, no source; long tapes are 200 ft or 60 m.
const LONG: Length = Length::from_feet(200.0);
/// More figures than this in a row are a stuck key.
const FIGURES: usize = 6;

/// Two readings of one text differ by less.
const SAME: Length = Length::from_millimetres(0.001);

impl Typed {
    /// Nothing typed, on a pad with these units.
    #[must_use]
    pub fn new(units: UnitSystem) -> Self {
        Self { units, ..Self::default() }
    }

    /// What stands in the book, to be typed over: the reading as written when this pad could have
    /// typed it, else nothing.
    #[must_use]
    pub fn from_reading(reading: &Reading, units: UnitSystem) -> Self {
        let mut typed = Self::new(units);
        let text = reading.text.replace(" ft", "f").replace("cm", "c").replace("mm", "k");
        let mut rest = text.trim();
        while let Some(first) = rest.chars().next() {
            let (key, taken) = match first {
                '0'..='9' => match fraction_at(rest) {
                    Some((sixteenths, taken)) => (Some(Key::Sixteenths(sixteenths)), taken),
                    None => (first.to_digit(10).and_then(|d| u8::try_from(d).ok()).map(Key::Digit), 1),
                },
                '.' => (Some(Key::Point), 1),
                '-' => (Some(Key::Sign), 1),
                '\'' | 'f' => (Some(Key::Feet), 1),
                'm' => (Some(Key::Metres), 1),
                'c' => (Some(Key::Centimetres), 1),
                'k' => (Some(Key::Millimetres), 1),
                '"' if typed.parts().sixteenths.is_none() && typed.parts().feet.is_none() => {
                    (Some(Key::Inches), 1)
                }
                _ => (None, first.len_utf8()),
            };
            if key.is_some_and(|key| typed.press(key).is_err()) {
                return Self::new(units);
            }
            rest = rest.get(taken..).unwrap_or_default();
        }
        let same = typed.reading().is_some_and(|r| (r.value - reading.value).abs() < SAME);
        if same { typed } else { Self::new(units) }
    }

    /// The pad's units.
    #[must_use]
    pub fn units(&self) -> UnitSystem {
        self.units
    }

    /// Whether nothing was typed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.keys.is_empty()
    }

    /// Presses a key.
    ///
    /// # Errors
    /// A sentence for the user when the key makes no sense here; nothing is changed then.
    pub fn press(&mut self, key: Key) -> Result<(), &'static str> {
        if key == Key::Sign {
            self.negative = !self.negative;
            return Ok(());
        }
        let parts = self.parts();
        let closed = parts.closed;
        let figures = if parts.feet.is_some() { parts.inches.as_ref() } else { Some(&parts.pending) };
        let figures = figures.map_or("", String::as_str);
        match key {
            Key::Digit(_) if closed => return Err("The number is complete. Delete to change it."),
            Key::Digit(_) if figures.len() >= FIGURES => return Err("That is too many figures."),
            Key::Point if closed => return Err("The number is complete. Delete to change it."),
            Key::Point if figures.contains('.') => return Err("There is a point already."),
            Key::Feet if parts.feet.is_some() => return Err("The feet are typed already."),
            Key::Feet if closed => return Err("Feet come before inches."),
            // "6 and a half … inches": said already by the fraction.
            Key::Inches if parts.sixteenths.is_some() => return Ok(()),
            Key::Feet | Key::Inches | Key::Metres | Key::Centimetres | Key::Millimetres
                if closed || !has_figure(figures) =>
            {
                return Err("Type the number first, then its unit.");
            }
            Key::Sixteenths(_) if figures.contains('.') => {
                return Err("A point and a fraction do not go together.");
            }
            // A second fraction takes the place of the first: the thumb slipped.
            Key::Sixteenths(_) if parts.sixteenths.is_some() => {
                self.keys.pop();
            }
            _ => {}
        }
        self.keys.push(key);
        Ok(())
    }

    /// Takes back the last key.
    pub fn delete(&mut self) {
        if self.keys.pop().is_none() {
            self.negative = false;
        }
    }

    /// Takes back everything.
    pub fn clear(&mut self) {
        self.keys.clear();
        self.negative = false;
    }

    fn parts(&self) -> Parts {
        let mut parts = Parts::default();
        for key in &self.keys {
            match key {
                Key::Digit(d) => parts.pending.push(char::from(b'0' + d % 10)),
                Key::Point => parts.pending.push('.'),
                Key::Feet => {
                    parts.feet = Some(std::mem::take(&mut parts.pending));
                    parts.closed = self.units == UnitSystem::DecimalFeet;
                }
                Key::Inches => {
                    parts.inches = Some(std::mem::take(&mut parts.pending));
                    parts.closed = true;
                }
                Key::Sixteenths(n) => {
                    if !parts.pending.is_empty() {
                        parts.inches = Some(std::mem::take(&mut parts.pending));
                    }
                    parts.sixteenths = Some(*n);
                    parts.closed = true;
                }
                Key::Metres | Key::Centimetres | Key::Millimetres => {
                    parts.unit = Some(*key);
                    parts.closed = true;
                }
                Key::Sign => {}
            }
        }
        // Whatever follows the feet is inches, said or not.
        if parts.feet.is_some() && !parts.pending.is_empty() {
            parts.inches = Some(std::mem::take(&mut parts.pending));
        }
        parts
    }

    /// The number as it will be written in the book, for instance `42' 7 1/2"`, complete or not.
    #[must_use]
    pub fn text(&self) -> String {
        let parts = self.parts();
        let number = match self.units {
            UnitSystem::FeetInches => feet_inches(&parts),
            UnitSystem::DecimalFeet => with_unit(&parts.feet.unwrap_or(parts.pending), "ft"),
            UnitSystem::Metres => with_unit(
                &parts.pending,
                match parts.unit {
                    Some(Key::Centimetres) => "cm",
                    Some(Key::Millimetres) => "mm",
                    _ => "m",
                },
            ),
        };
        if self.negative { format!("-{number}") } else { number }
    }

    /// What is doubtful about it; none when it can be taken as it stands.
    #[must_use]
    pub fn doubt(&self) -> Option<Doubt> {
        if self.keys.is_empty() {
            return Some(Doubt::Empty);
        }
        let parts = self.parts();
        if self.units == UnitSystem::FeetInches
            && parts.feet.is_none()
            && parts.inches.is_none()
            && parts.sixteenths.is_none()
        {
            return Some(Doubt::NeedsUnit);
        }
        if let Some(better) = self.carried(&parts) {
            return Some(Doubt::OverAFoot(Box::new(better)));
        }
        match self.read() {
            Err(why) => Some(Doubt::Unreadable(why)),
            Ok(length) if length.abs() > LONG => Some(Doubt::Long),
            Ok(_) => None,
        }
    }

    /// The reading, when it is one: complete and readable, though it may be questioned.
    #[must_use]
    pub fn reading(&self) -> Option<Reading> {
        match self.doubt() {
            None | Some(Doubt::Long) => Some(Reading { text: self.text(), value: self.read().ok()? }),
            Some(_) => None,
        }
    }

    fn read(&self) -> Result<Length, String> {
        read_length(&self.text(), BareUnit::from(self.units)).map_err(|error| error.to_string())
    }

    /// The same length with at most eleven inches beside the feet, when there are more.
    fn carried(&self, parts: &Parts) -> Option<Self> {
        let feet: u32 = parts.feet.as_ref()?.parse().ok()?;
        let inches: u32 = parts.inches.as_ref()?.parse().ok()?;
        if inches < 12 {
            return None;
        }
        let mut keys = digits(feet.checked_add(inches / 12)?);
        keys.push(Key::Feet);
        if !inches.is_multiple_of(12) || parts.sixteenths.is_none() {
            keys.extend(digits(inches % 12));
        }
        keys.extend(parts.sixteenths.map(Key::Sixteenths));
        Some(Self { units: self.units, keys, negative: self.negative })
    }

    /// The number in spoken words, for reading back: "42 feet 7 and a half".
    #[must_use]
    pub fn spoken(&self) -> String {
        let parts = self.parts();
        let words = match (self.units, parts.unit) {
            (UnitSystem::FeetInches, _) => spoken_feet(&parts),
            (UnitSystem::DecimalFeet, _) => {
                format!("{} feet", parts.feet.as_deref().unwrap_or(&parts.pending))
            }
            (UnitSystem::Metres, Some(Key::Centimetres)) => format!("{} centimetres", parts.pending),
            (UnitSystem::Metres, Some(Key::Millimetres)) => format!("{} millimetres", parts.pending),
            (UnitSystem::Metres, _) => format!("{} metres", parts.pending),
        };
        if self.negative { format!("minus {words}") } else { words }
    }
}

fn has_figure(text: &str) -> bool {
    text.chars().any(|c| c.is_ascii_digit())
}

fn digits(number: u32) -> Vec<Key> {
    number.to_string().bytes().map(|b| Key::Digit(b - b'0')).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAD: [(char, Key); 7] = [
        ('f', Key::Feet),
        ('i', Key::Inches),
        ('.', Key::Point),
        ('-', Key::Sign),
        ('m', Key::Metres),
        ('c', Key::Centimetres),
        ('k', Key::Millimetres),
    ];

    /// Digits as they are, `f` feet, `i` inches, `h` a half, `q` a quarter, `s` five sixteenths.
    fn typed(units: UnitSystem, keys: &str) -> Typed {
        let mut typed = Typed::new(units);
        for c in keys.chars() {
            let key = match c {
                'h' => Key::Sixteenths(8),
                'q' => Key::Sixteenths(4),
                's' => Key::Sixteenths(5),
                c => PAD
                    .iter()
                    .find(|(name, _)| *name == c)
                    .map_or_else(|| Key::Digit(c.to_digit(10).unwrap() as u8), |(_, key)| *key),
            };
            typed.press(key).unwrap();
        }
        typed
    }

    // Expected metres: the foot is 0.3048 m and the inch 0.0254 m exactly (international agreement of 1959).
    #[test]
    fn a_number_takes_no_more_taps_than_it_has_parts() {
        for (keys, text, inches) in [
            ("12f6h", "12' 6 1/2\"", 150.5),
            ("26f", "26'", 312.0),
            ("42f7h", "42' 7 1/2\"", 511.5),
            ("150h", "150 1/2\"", 150.5),
            ("9i", "9\"", 9.0),
            ("3f0s", "3' 0 5/16\"", 36.3125),
            ("12fq", "12' 1/4\"", 144.25),
            ("q", "1/4\"", 0.25),
            ("6ih", "6 1/2\"", 6.5),
            ("12f6.5", "12' 6.5\"", 150.5),
            ("12.5f", "12.5 ft", 150.0),
        ] {
            let reading = typed(UnitSystem::FeetInches, keys).reading().unwrap();
            assert_eq!(reading.text, text);
            assert!((reading.value.metres() - inches * 0.0254).abs() < 1e-12, "{keys}: {reading:?}");
        }
    }

    #[test]
    fn metric_and_decimal_feet() {
        for (units, keys, text, metres) in [
            (UnitSystem::Metres, "3.81", "3.81 m", 3.81),
            (UnitSystem::Metres, "381c", "381 cm", 3.81),
            (UnitSystem::Metres, "3810k", "3810 mm", 3.81),
            (UnitSystem::DecimalFeet, "12.54", "12.54 ft", 3.822_192),
            (UnitSystem::DecimalFeet, "12.54f", "12.54 ft", 3.822_192),
        ] {
            let reading = typed(units, keys).reading().unwrap();
            assert_eq!(reading.text, text);
            assert!((reading.value.metres() - metres).abs() < 1e-9);
        }
    }

    #[test]
    fn a_bare_number_on_a_feet_pad_is_not_guessed() {
        let bare = typed(UnitSystem::FeetInches, "42");
        assert_eq!(bare.doubt(), Some(Doubt::NeedsUnit));
        assert_eq!(bare.reading(), None);
    }

    #[test]
    fn fourteen_inches_beside_feet_are_questioned() {
        let Some(Doubt::OverAFoot(better)) = typed(UnitSystem::FeetInches, "12f14h").doubt() else {
            panic!("not questioned")
        };
        assert_eq!(better.text(), "13' 2 1/2\"");
        assert_eq!(better.doubt(), None);
        // Inches alone may be as many as they like: tapes are marked so.
        assert_eq!(typed(UnitSystem::FeetInches, "150i").doubt(), None);
    }

    #[test]
    fn a_station_may_lie_behind_the_zero() {
        let behind = typed(UnitSystem::FeetInches, "3f6-");
        let reading = behind.reading().unwrap();
        assert_eq!(reading.text, "-3' 6\"");
        assert!((reading.value.feet() + 3.5).abs() < 1e-12);
    }

    #[test]
    fn keys_that_make_no_sense_change_nothing() {
        let mut pad = typed(UnitSystem::FeetInches, "12f6h");
        let before = pad.clone();
        for key in [Key::Feet, Key::Digit(3), Key::Point] {
            assert!(pad.press(key).is_err());
            assert_eq!(pad, before);
        }
        pad.press(Key::Sixteenths(12)).unwrap();
        assert_eq!(pad.text(), "12' 6 3/4\"");
        pad.delete();
        assert_eq!(pad.text(), "12' 6\"");
        pad.delete();
        pad.delete();
        pad.delete();
        assert_eq!(pad.text(), "1");
    }

    #[test]
    fn a_reading_of_the_book_comes_back_on_the_pad() {
        for (units, keys) in [
            (UnitSystem::FeetInches, "12f6h"),
            (UnitSystem::FeetInches, "12fq"),
            (UnitSystem::FeetInches, "26f"),
            (UnitSystem::FeetInches, "9i"),
            (UnitSystem::FeetInches, "12.5f"),
            (UnitSystem::FeetInches, "3f0s-"),
            (UnitSystem::Metres, "381c"),
            (UnitSystem::DecimalFeet, "12.54"),
        ] {
            let reading = typed(units, keys).reading().unwrap();
            assert_eq!(Typed::from_reading(&reading, units).reading(), Some(reading), "{keys}");
        }
        let metric = typed(UnitSystem::Metres, "3.81").reading().unwrap();
        assert!(Typed::from_reading(&metric, UnitSystem::FeetInches).is_empty(), "typed anew in feet");
    }

    #[test]
    fn longer_than_any_tape_is_questioned_but_can_be_kept() {
        let long = typed(UnitSystem::FeetInches, "426f");
        assert_eq!(long.doubt(), Some(Doubt::Long));
        assert!(long.reading().is_some());
    }

    #[test]
    fn read_back_as_people_say_it() {
        for (units, keys, words) in [
            (UnitSystem::FeetInches, "42f7h", "42 feet 7 and a half"),
            (UnitSystem::FeetInches, "1f", "1 foot"),
            (UnitSystem::FeetInches, "9i", "9 inches"),
            (UnitSystem::FeetInches, "12fq", "12 feet and a quarter inch"),
            (UnitSystem::FeetInches, "3f0s", "3 feet 0 and five sixteenths"),
            (UnitSystem::DecimalFeet, "12.54", "12.54 feet"),
            (UnitSystem::Metres, "3.81", "3.81 metres"),
            (UnitSystem::FeetInches, "3f6-", "minus 3 feet 6"),
        ] {
            assert_eq!(typed(units, keys).spoken(), words);
        }
    }
}
