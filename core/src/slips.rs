//! The usual slips of eye and pen, tried on a reading as it was written.
//!
//! Which slips are usual is common practice, no source.

use crate::record::{EntryId, PointId, Reading};
use crate::units::{BareUnit, Length, LengthStyle, METRES_PER_FOOT, format_length, read_length};
use serde::Serialize;

/// Digits taken for each other.
const LOOK_ALIKE: [(char, char); 3] = [('6', '9'), ('1', '7'), ('3', '8')];
/// Whole marks of a tape lost or gained (metres). Who reads feet is off by feet; a tape of metres may have feet on
/// its other edge.
const TAPE: [(Slip, f64); 3] =
    [(Slip::OneFoot, METRES_PER_FOOT), (Slip::TenFeet, 10.0 * METRES_PER_FOOT), (Slip::OneMetre, 1.0)];
/// Of a rod in feet: its large figures, and the inch beside.
const ROD_IN_FEET: [(Slip, f64); 2] =
    [(Slip::OneFoot, METRES_PER_FOOT), (Slip::OneInch, METRES_PER_FOOT / 12.0)];
/// Of a rod in metres: the metre, which some show by dots alone, and the decimetre.
const ROD_IN_METRES: [(Slip, f64); 2] = [(Slip::OneMetre, 1.0), (Slip::TenCentimetres, 0.1)];
/// What a point in the wrong place, or left out, makes of a reading, undone.
const POINTS: [f64; 4] = [10.0, 0.1, 0.01, 0.001];
/// Finest fraction of an inch that a corrected reading is written in.
const FINEST: u16 = 64;

/// A slip of eye, hand or tape.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "slip")]
pub enum Slip {
    /// One digit taken for another that looks like it.
    LookAlike {
        /// As written.
        written: char,
        /// As the others have it.
        meant: char,
    },
    /// Two neighbouring digits changed places.
    Transposed,
    /// One foot too much or too little.
    OneFoot,
    /// Ten feet too much or too little.
    TenFeet,
    /// One metre too much or too little.
    OneMetre,
    /// One inch too much or too little.
    OneInch,
    /// Ten centimetres too much or too little.
    TenCentimetres,
    /// The decimal point one place or more from where it should be, or left out.
    Point,
    /// Feet written as metres, or metres as feet: the tape's other edge.
    OtherUnit,
    /// Inches written behind the point as if they were tenths of a foot.
    InchesAsTenths,
    /// Tenths of a foot written as if they were inches.
    TenthsAsInches,
    /// This one reading was taken from the other end of the line.
    OtherEnd,
    /// The whole run or baseline was taken from the other end.
    OtherCorner,
    /// Left and right were swapped.
    OtherSide,
    /// Two readings were noted in each other's place.
    Swapped {
        /// The other reading's entry.
        entry: EntryId,
        /// Which row of it.
        part: usize,
    },
    /// The tape went to or from this neighbouring point.
    OtherPoint {
        /// The point.
        point: PointId,
    },
    /// The tape's zero was off by this much over the whole run: a hook or a ring.
    Zero {
        /// What every reading of it has too much.
        off: Length,
    },
}

/// What a number was read off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Off {
    /// A tape.
    Tape,
    /// A levelling rod.
    Rod,
}

/// A reading taken apart: its words as they can be read again.
pub(crate) struct Written {
    text: String,
    value: f64,
    bare: BareUnit,
    /// How such a length is written.
    style: LengthStyle,
}

impl Written {
    /// Takes a reading apart. Words that are missing, or that this site's units read differently,
    /// are written anew from the value.
    pub(crate) fn of(reading: &Reading, bare: BareUnit) -> Self {
        let says = |text: &str, bare| {
            read_length(text, bare).is_ok_and(|l| (l - reading.value).abs().metres() < 1e-6)
        };
        let value = reading.value.metres();
        let text = reading.text.trim();
        let all = [bare, BareUnit::Feet, BareUnit::Metres, BareUnit::Inches, BareUnit::Millimetres];
        match all.into_iter().find(|&bare| says(text, bare)) {
            Some(bare) => Self { text: text.to_owned(), value, bare, style: style(text, bare) },
            None => {
                let style = style("", bare);
                Self { text: format_length(reading.value, style), value, bare, style }
            }
        }
    }

    /// The words and what they mean, when they mean something else than now.
    fn read(&self, text: String) -> Option<Reading> {
        let value = read_length(&text, self.bare).ok()?;
        ((value.metres() - self.value).abs() > 1e-6).then_some(Reading { text, value })
    }

    /// A length in the same way of writing.
    pub(crate) fn write(&self, metres: f64) -> Option<Reading> {
        self.read(format_length(Length::from_metres(metres), self.style))
    }

    /// The reading as it would have been without each slip that could have happened.
    pub(crate) fn without_slips(&self, off: Off) -> Vec<(Slip, Reading)> {
        let mut found = Vec::new();
        let mut add = |slip: Slip, reading: Option<Reading>| found.extend(reading.map(|r| (slip, r)));
        let signs: Vec<char> = self.text.chars().collect();
        for (i, &written) in signs.iter().enumerate() {
            for (a, b) in LOOK_ALIKE {
                if written == a || written == b {
                    let meant = if written == a { b } else { a };
                    add(Slip::LookAlike { written, meant }, self.read(put(&signs, &[(i, meant)])));
                }
            }
            // The next digit, also across a decimal point.
            let skip = 1 + usize::from(matches!(signs.get(i + 1), Some('.' | ',')));
            let next = signs.get(i + skip).copied().filter(char::is_ascii_digit);
            if let (Some(next), true) = (next, written.is_ascii_digit()) {
                add(Slip::Transposed, self.read(put(&signs, &[(i, next), (i + skip, written)])));
            }
        }
        let metric = matches!(self.style, LengthStyle::Metres { .. });
        let steps: &[(Slip, f64)] = match off {
            Off::Rod if metric => &ROD_IN_METRES,
            Off::Rod => &ROD_IN_FEET,
            Off::Tape => &TAPE,
        };
        for (slip, step) in steps.iter().filter(|(slip, _)| metric || *slip != Slip::OneMetre) {
            for metres in [self.value - step, self.value + step] {
                add(slip.clone(), self.write(metres));
            }
        }
        if let Some((slip, feet, style)) = self.inches_and_tenths() {
            add(slip, self.read(format_length(Length::from_feet(feet), style)));
        }
        // Feet and inches have no point, and a rod has one edge.
        if off == Off::Tape
            && let Some((length, style)) = self.other_unit()
        {
            add(Slip::OtherUnit, self.read(format_length(length, style)));
            POINTS.into_iter().for_each(|times| add(Slip::Point, self.write(self.value * times)));
        }
        found
    }

    /// The same figures in the other unit, where they are decimals.
    const fn other_unit(&self) -> Option<(Length, LengthStyle)> {
        match self.style {
            LengthStyle::Metres { decimals } => {
                Some((Length::from_feet(self.value), LengthStyle::DecimalFeet { decimals }))
            }
            LengthStyle::DecimalFeet { decimals } => {
                Some((Length::from_metres(self.value / METRES_PER_FOOT), LengthStyle::Metres { decimals }))
            }
            _ => None,
        }
    }

    /// Whole feet f and n behind them: n inches written as `f.n ft`, or n tenths as `f' n"`.
    fn inches_and_tenths(&self) -> Option<(Slip, f64, LengthStyle)> {
        let feet = self.value / METRES_PER_FOOT;
        let whole = (feet + 1e-9).floor();
        let part = feet - whole;
        let tenths = |n: f64| if n < 10.0 { 0.1 * n } else { 0.01 * n };
        match self.style {
            LengthStyle::FeetInches { .. } if whole >= 1.0 => {
                let style = LengthStyle::DecimalFeet { decimals: 2 };
                Some((Slip::TenthsAsInches, whole + tenths(12.0 * part), style))
            }
            LengthStyle::DecimalFeet { .. } => {
                let near = |x: f64| (x - x.round()).abs() < 1e-6;
                let inches = if near(10.0 * part) { 10.0 * part } else { 100.0 * part };
                let ten = near(100.0 * part) && (9.5..11.5).contains(&inches) || near(10.0 * part);
                let style = LengthStyle::FeetInches { finest: FINEST };
                ten.then_some((Slip::InchesAsTenths, whole + inches / 12.0, style))
            }
            _ => None,
        }
    }
}

/// The way a text is written; for no text, the way bare numbers of these units are.
fn style(text: &str, bare: BareUnit) -> LengthStyle {
    let feet_inches = LengthStyle::FeetInches { finest: FINEST };
    let has = |signs: &[char]| text.contains(signs);
    let places = text.split_once(['.', ',']).map_or(0, |(_, after)| {
        u8::try_from(after.chars().take_while(char::is_ascii_digit).count()).unwrap_or(u8::MAX)
    });
    if has(&['\'', '"', '\u{2032}', '\u{2033}', '\u{2019}', '\u{201d}', '/']) || text.contains("in") {
        feet_inches
    } else if text.contains('f') || (!has(&['m']) && bare == BareUnit::Feet && has(&['.', ','])) {
        LengthStyle::DecimalFeet { decimals: places.clamp(2, 6) }
    } else if has(&['m']) || matches!(bare, BareUnit::Metres | BareUnit::Millimetres) {
        LengthStyle::Metres { decimals: places.clamp(3, 6) }
    } else {
        feet_inches
    }
}

/// The text with some signs replaced.
fn put(signs: &[char], changes: &[(usize, char)]) -> String {
    let at = |(i, c): (usize, &char)| changes.iter().find(|(j, _)| *j == i).map_or(*c, |(_, new)| *new);
    signs.iter().enumerate().map(at).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tried(text: &str, bare: BareUnit, off: Off) -> Vec<(Slip, String)> {
        let reading = Reading::read(text, bare).unwrap();
        let all = Written::of(&reading, bare).without_slips(off);
        all.into_iter().map(|(slip, r)| (slip, r.text)).collect()
    }

    /// Each slip undone by hand.
    #[test]
    fn usual_slips_are_undone_in_the_words_they_were_made_in() {
        let cases = [
            ("19' 5\"", BareUnit::Feet, Slip::LookAlike { written: '9', meant: '6' }, "16' 5\""),
            ("21' 2 1/2\"", BareUnit::Feet, Slip::Transposed, "12' 2 1/2\""),
            ("12.54 m", BareUnit::Metres, Slip::Transposed, "15.24 m"),
            ("12' 6\"", BareUnit::Feet, Slip::OneFoot, "11' 6\""),
            ("8' 0 1/8\"", BareUnit::Feet, Slip::TenFeet, "18' 0 1/8\""),
            ("3.81 m", BareUnit::Metres, Slip::OneMetre, "4.810 m"),
            ("12.6 ft", BareUnit::Feet, Slip::InchesAsTenths, "12' 6\""),
            ("12.11", BareUnit::Feet, Slip::InchesAsTenths, "12' 11\""),
            ("12' 6\"", BareUnit::Feet, Slip::TenthsAsInches, "12.60 ft"),
            ("1.344 m", BareUnit::Metres, Slip::Point, "13.440 m"),
            ("134.4", BareUnit::Metres, Slip::Point, "13.440 m"),
            ("1344", BareUnit::Metres, Slip::Point, "13.440 m"),
            ("1.26 ft", BareUnit::Feet, Slip::Point, "12.60 ft"),
            ("44.1", BareUnit::Metres, Slip::OtherUnit, "44.100 ft"),
            ("13.44 ft", BareUnit::Feet, Slip::OtherUnit, "13.44 m"),
        ];
        for (text, bare, slip, meant) in cases {
            let all = tried(text, bare, Off::Tape);
            assert!(all.contains(&(slip, meant.to_owned())), "{text}: {all:?}");
        }
    }

    /// Each slip undone by hand.
    #[test]
    fn a_rod_has_marks_of_its_own() {
        let cases = [
            ("5' 6\"", BareUnit::Feet, Slip::OneInch, "5' 7\""),
            ("5' 6\"", BareUnit::Feet, Slip::OneFoot, "4' 6\""),
            ("1.423 m", BareUnit::Metres, Slip::TenCentimetres, "1.323 m"),
            ("1.423 m", BareUnit::Metres, Slip::OneMetre, "2.423 m"),
            ("5.6 ft", BareUnit::Feet, Slip::InchesAsTenths, "5' 6\""),
        ];
        for (text, bare, slip, meant) in cases {
            let all = tried(text, bare, Off::Rod);
            assert!(all.contains(&(slip, meant.to_owned())), "{text}: {all:?}");
        }
        let never = |slip: &Slip| matches!(slip, Slip::TenFeet | Slip::OneMetre | Slip::TenCentimetres);
        assert!(tried("5' 6\"", BareUnit::Feet, Off::Rod).iter().all(|(slip, _)| !never(slip)));
        let tape = |slip: &Slip| matches!(slip, Slip::OtherUnit | Slip::Point);
        assert!(tried("1.423 m", BareUnit::Metres, Off::Rod).iter().all(|(slip, _)| !tape(slip)));
    }

    /// A reading without words, from a table: they are made from the number.
    #[test]
    fn a_reading_without_words_is_written_anew() {
        let reading = Reading { text: String::new(), value: Length::from_inches(233.0) };
        let all = Written::of(&reading, BareUnit::Feet).without_slips(Off::Tape);
        let six = Slip::LookAlike { written: '9', meant: '6' };
        assert!(all.iter().any(|(slip, r)| *slip == six && r.text == "16' 5\""), "{all:?}");
    }
}
