//! What has been typed on the keypad so far: a list of keys, and what they mean.
//!
//! Deleting takes back the last key, whatever it was. A key that makes no sense where it stands is
//! refused with a sentence and changes nothing; a number that is complete but hardly meant is
//! questioned, with a better one offered. The text goes through `core`'s own reader, so the pad and
//! a typed sheet of notes can never disagree about what a number means.

use super::angle;
use super::text::{Parts, feet_inches, fraction_at, spoken_feet, with_unit};
use swingtie_core::record::{AngleReading, Reading, UnitSystem};
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
    /// What was typed is degrees; what follows is minutes.
    Degrees,
    /// Behind the zero instead of ahead of it.
    Sign,
}

/// What a pad is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pad {
    /// Lengths, in these units.
    Length(UnitSystem),
    /// Angles and bearings: less than a full turn.
    Turn,
    /// How steep something is: less than straight up.
    Slope,
}

impl From<UnitSystem> for Pad {
    fn from(units: UnitSystem) -> Self {
        Self::Length(units)
    }
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
#[derive(Clone, Debug, PartialEq)]
pub struct Typed {
    pad: Pad,
    keys: Vec<Key>,
    negative: bool,
}

/// A taped length beyond this is questioned: common practice, no source; long tapes are 200 ft or 60 m.
const LONG: Length = Length::from_feet(200.0);
/// More figures than this in a row are a stuck key.
const FIGURES: usize = 6;

/// Two readings of one text differ by less.
const SAME: Length = Length::from_millimetres(0.001);

/// A letter for each pad where what is typed is kept.
const PADS: [(Pad, char); 5] = [
    (Pad::Length(UnitSystem::FeetInches), 'f'),
    (Pad::Length(UnitSystem::DecimalFeet), 'd'),
    (Pad::Length(UnitSystem::Metres), 'm'),
    (Pad::Turn, 't'),
    (Pad::Slope, 's'),
];
/// A sign for each key that is neither a figure nor a fraction.
const SIGNS: [(Key, char); 8] = [
    (Key::Point, '.'),
    (Key::Feet, '\''),
    (Key::Inches, '"'),
    (Key::Metres, 'M'),
    (Key::Centimetres, 'C'),
    (Key::Millimetres, 'K'),
    (Key::Degrees, 'D'),
    (Key::Sign, '-'),
];

impl Typed {
    /// Nothing typed, on this pad.
    #[must_use]
    pub fn new(pad: impl Into<Pad>) -> Self {
        Self { pad: pad.into(), keys: Vec::new(), negative: false }
    }

    /// The pad and its keys as a text: a letter for the pad, a sign for each key.
    #[must_use]
    pub fn kept(&self) -> String {
        let pad = PADS.iter().find(|(pad, _)| *pad == self.pad).map_or('?', |(_, sign)| *sign);
        let sign = |key: &Key| match *key {
            Key::Digit(digit) => char::from_digit(u32::from(digit), 10),
            Key::Sixteenths(sixteenths) => char::from_digit(u32::from(sixteenths) + 15, 36),
            key => SIGNS.iter().find(|(one, _)| *one == key).map(|(_, sign)| *sign),
        };
        let minus = self.negative.then_some('-');
        [pad].into_iter().chain(minus).chain(self.keys.iter().filter_map(sign)).collect()
    }

    /// As [`kept`](Self::kept) wrote it.
    #[must_use]
    pub fn from_kept(text: &str) -> Option<Self> {
        let mut signs = text.chars();
        let first = signs.next()?;
        let mut typed = Self::new(PADS.iter().find(|(_, sign)| *sign == first)?.0);
        for sign in signs {
            let known = SIGNS.iter().find(|(_, one)| *one == sign).map(|(key, _)| *key);
            let digit = |base| sign.to_digit(base).and_then(|digit| u8::try_from(digit).ok());
            let key = known.or_else(|| digit(10).map(Key::Digit));
            let key = key.or_else(|| digit(36)?.checked_sub(15).map(Key::Sixteenths))?;
            typed.press(key).ok()?;
        }
        Some(typed)
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

    /// As [`from_reading`](Self::from_reading), an angle.
    #[must_use]
    pub fn from_angle(reading: &AngleReading, pad: Pad) -> Self {
        let mut typed = Self::new(pad);
        let ok = angle::keys(&reading.text).into_iter().all(|key| typed.press(key).is_ok());
        let same = typed.angle().is_some_and(|typed| typed.value == reading.value);
        if ok && same { typed } else { Self::new(pad) }
    }

    /// The pad it is typed on.
    #[must_use]
    pub fn pad(&self) -> Pad {
        self.pad
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
        // "5 ft 9": whoever goes on after whole feet means feet and inches.
        let tenths = self.pad == Pad::Length(UnitSystem::DecimalFeet);
        let inches = tenths && parts.feet.as_ref().is_some_and(|feet| !feet.contains('.'));
        if inches && matches!(key, Key::Digit(_)) {
            self.pad = Pad::Length(UnitSystem::FeetInches);
            self.keys.push(key);
            return Ok(());
        }
        let closed = parts.closed;
        let figures = if parts.feet.is_some() { parts.inches.as_ref() } else { Some(&parts.pending) };
        let figures = figures.map_or("", String::as_str);
        match key {
            Key::Digit(_) if closed => return Err("The number is complete. Delete to change it."),
            Key::Digit(_) if figures.len() >= FIGURES => return Err("That is too many figures."),
            Key::Point if closed => return Err("The number is complete. Delete to change it."),
            Key::Point if figures.contains('.') => return Err("There is a point already."),
            Key::Feet if parts.feet.is_some() => return Err("The feet are typed already."),
            Key::Degrees if parts.feet.is_some() => return Err("The degrees are typed already."),
            Key::Feet if closed => return Err("Feet come before inches."),
            // "6 and a half … inches": said already by the fraction.
            Key::Inches if parts.sixteenths.is_some() => return Ok(()),
            Key::Feet | Key::Inches | Key::Metres | Key::Centimetres | Key::Millimetres | Key::Degrees
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

    /// Whether it ends in a figure.
    pub(super) fn ends_in_figure(&self) -> bool {
        matches!(self.keys.last(), Some(Key::Digit(_)))
    }

    /// Takes back the figures it ends in, and hands them over: they are of a fraction.
    pub(super) fn take_figures(&mut self) -> String {
        let figure = |key: &Key| match key {
            Key::Digit(digit) => char::from_digit(u32::from(*digit), 10),
            _ => None,
        };
        let mut figures = Vec::new();
        while let Some(sign) = self.keys.last().and_then(figure) {
            figures.push(sign);
            self.keys.pop();
        }
        figures.into_iter().rev().collect()
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
                // Degrees and minutes are built as feet and inches are.
                Key::Feet | Key::Degrees => {
                    parts.feet = Some(std::mem::take(&mut parts.pending));
                    parts.closed = self.pad == Pad::Length(UnitSystem::DecimalFeet);
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
        let number = match self.pad {
            Pad::Length(UnitSystem::FeetInches) => feet_inches(&parts),
            Pad::Length(UnitSystem::DecimalFeet) => with_unit(&parts.feet.unwrap_or(parts.pending), "ft"),
            Pad::Turn | Pad::Slope => angle::text(parts),
            Pad::Length(UnitSystem::Metres) => with_unit(
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
        if self.pad == Pad::Length(UnitSystem::FeetInches)
            && parts.feet.is_none()
            && parts.inches.is_none()
            && parts.sixteenths.is_none()
        {
            return Some(Doubt::NeedsUnit);
        }
        let Pad::Length(units) = self.pad else {
            return angle::read(&self.text(), self.pad).err().map(Doubt::Unreadable);
        };
        if let Some(better) = self.carried(&parts) {
            return Some(Doubt::OverAFoot(Box::new(better)));
        }
        match self.read(units) {
            Err(why) => Some(Doubt::Unreadable(why)),
            Ok(length) if length.abs() > LONG => Some(Doubt::Long),
            Ok(_) => None,
        }
    }

    /// The reading, when it is one: complete and readable, though it may be questioned.
    #[must_use]
    pub fn reading(&self) -> Option<Reading> {
        match (self.pad, self.doubt()) {
            (Pad::Length(units), None | Some(Doubt::Long)) => {
                Some(Reading { text: self.text(), value: self.read(units).ok()? })
            }
            _ => None,
        }
    }

    /// The angle, when it is one.
    #[must_use]
    pub fn angle(&self) -> Option<AngleReading> {
        let typed = !self.is_empty() && !matches!(self.pad, Pad::Length(_));
        typed.then(|| angle::read(&self.text(), self.pad).ok()).flatten()
    }

    /// Whether it is a length or an angle, complete and readable.
    #[must_use]
    pub fn is_read(&self) -> bool {
        self.reading().is_some() || self.angle().is_some()
    }

    fn read(&self, units: UnitSystem) -> Result<Length, String> {
        read_length(&self.text(), BareUnit::from(units)).map_err(|error| error.to_string())
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
        Some(Self { pad: self.pad, keys, negative: self.negative })
    }

    /// The number in spoken words, for reading back: "42 feet 7 and a half".
    #[must_use]
    pub fn spoken(&self) -> String {
        let parts = self.parts();
        let words = match (self.pad, parts.unit) {
            (Pad::Length(UnitSystem::FeetInches), _) => spoken_feet(&parts),
            (Pad::Length(UnitSystem::DecimalFeet), _) => {
                say!("{} feet", parts.feet.as_deref().unwrap_or(&parts.pending))
            }
            (Pad::Turn | Pad::Slope, _) => angle::spoken(parts),
            (_, Some(Key::Centimetres)) => say!("{} centimetres", parts.pending),
            (_, Some(Key::Millimetres)) => say!("{} millimetres", parts.pending),
            _ => say!("{} metres", parts.pending),
        };
        if self.negative { say!("minus {words}") } else { words }
    }
}

fn has_figure(text: &str) -> bool {
    text.chars().any(|c| c.is_ascii_digit())
}

fn digits(number: u32) -> Vec<Key> {
    number.to_string().bytes().map(|b| Key::Digit(b - b'0')).collect()
}

#[cfg(test)]
mod tests;
