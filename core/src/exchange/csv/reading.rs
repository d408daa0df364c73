//! The cells of a reading: its words, its unit, how it was taken.

use super::Trouble;
use super::cells::{normal, value};
use super::import::Reader;
use super::table::{Column, Row};
use crate::record::{How, Instrument, Reading, Side, Target};
use crate::units::{BareUnit, Length, ReadLengthError, read_length};
use serde::de::DeserializeOwned;

/// How far words and the metres column may differ before one of them must be a slip: what rounding
/// to the millimetre or the hundredth of a foot explains.
const ROUNDING: Length = Length::from_millimetres(2.0);

/// Whether words and metres cannot be the same reading.
pub(super) fn contradicts(said: Length, metres: Length) -> bool {
    (said - metres).abs() > ROUNDING
}

const INSTRUMENTS: &[&str] = &["steel_tape", "fibreglass_tape", "laser", "wheel", "pacing", "guess"];

pub(super) const ANGLE_INSTRUMENTS: &[&str] = &["compass", "phone", "protractor", "theodolite", "guess"];

/// What a number without a unit means, by the word in the units column.
pub(super) fn bare(word: &str) -> Option<BareUnit> {
    Some(match normal(word).as_str() {
        "ft" | "feet" | "feet_inches" | "ft_in" | "decimal_feet" => BareUnit::Feet,
        "in" | "inch" | "inches" => BareUnit::Inches,
        "m" | "metres" | "meters" => BareUnit::Metres,
        "mm" | "millimetres" | "millimeters" => BareUnit::Millimetres,
        _ => return None,
    })
}

/// The sentence for a text that is no length; a spreadsheet's date is named as such.
pub(super) fn trouble(text: &str, error: ReadLengthError) -> Trouble {
    const MONTHS: &[&str] =
        &["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    let small = text.to_ascii_lowercase();
    let mut words = small.split(|c: char| !c.is_alphabetic()).filter(|word| word.len() >= 3);
    let month = words.any(|word| MONTHS.iter().any(|month| word.starts_with(month)));
    let mut numbers = small.split(['/', '-', '.']);
    let year = numbers.clone().count() == 3
        && numbers.any(|number| number.len() == 4 && (number.starts_with("19") || number.starts_with("20")));
    let digits = small.contains(|c: char| c.is_ascii_digit());
    if digits && (month || year) { Trouble::Date { text: text.to_owned() } } else { Trouble::Length(error) }
}

impl Reader<'_> {
    /// One of the book's own words.
    pub(super) fn word<T: DeserializeOwned>(
        &mut self,
        row: &Row,
        column: Column,
        word: &str,
        known: &[&'static str],
    ) -> Option<T> {
        let found = value(word).filter(|_| known.contains(&normal(word).as_str()));
        if found.is_none() {
            self.fault(row, column, Trouble::UnknownWord { word: word.to_owned(), known: known.to_vec() });
        }
        found
    }

    pub(super) fn side(&mut self, row: &Row) -> Option<Side> {
        match normal(row.get(Column::Side)).as_str() {
            "" => {
                let wanted = "left or right, walking the line from its first to its second point";
                self.fault(row, Column::Side, Trouble::Missing { wanted });
                None
            }
            "l" => Some(Side::Left),
            "r" => Some(Side::Right),
            word => self.word(row, Column::Side, word, &["left", "right"]),
        }
    }

    pub(super) fn how(&mut self, row: &Row) -> Option<How> {
        let instrument = match row.get(Column::How) {
            "" => Some(Instrument::default()),
            word => self.word(row, Column::How, word, INSTRUMENTS),
        };
        let target = match row.get(Column::Target) {
            "" => Some(Target::default()),
            word => self.word(row, Column::Target, word, &["hard", "soft"]),
        };
        let sd = self.sd(row)?;
        let more = self.taken(row)?;
        Some(How {
            instrument: instrument?,
            target: target?,
            sd,
            tape: more.tape.map(Box::new),
            slope: more.slope,
        })
    }

    /// The standard deviation of a length; none inside when its cell is empty.
    pub(super) fn sd(&mut self, row: &Row) -> Option<Option<Length>> {
        let text = row.get(Column::Sd);
        if text.is_empty() {
            return Some(None);
        }
        let sd = self.row_bare(row).and_then(|bare| self.length(row, Column::Sd, text, bare))?;
        if sd <= Length::ZERO {
            self.fault(row, Column::Sd, Trouble::NotPositive { text: text.to_owned() });
            return None;
        }
        Some(Some(sd))
    }

    pub(super) fn row_bare(&mut self, row: &Row) -> Option<BareUnit> {
        self.bare_by(row, Column::Units, self.bare_of_site())
    }

    fn bare_by(&mut self, row: &Row, column: Column, otherwise: BareUnit) -> Option<BareUnit> {
        let word = row.get(column);
        if word.is_empty() {
            return Some(otherwise);
        }
        let found = bare(word);
        if found.is_none() {
            let known = vec!["ft", "in", "m", "mm"];
            self.fault(row, column, Trouble::UnknownWord { word: word.to_owned(), known });
        }
        found
    }

    /// A reading and its metres; none inside when both cells are empty.
    pub(super) fn reading(&mut self, row: &Row, words: Column, exact: Column) -> Option<Option<Reading>> {
        let (text, metres) = (row.get(words), row.get(exact));
        if text.is_empty() && metres.is_empty() {
            return Some(None);
        }
        let mut bare = self.row_bare(row)?;
        if words == Column::Offset {
            bare = self.bare_by(row, Column::OffsetUnits, bare)?;
        }
        if metres.is_empty() {
            let value = self.length(row, words, text, bare)?;
            return Some(Some(Reading { text: text.to_owned(), value }));
        }
        let value = Length::from_metres(self.number(row, exact)?);
        if let Ok(said) = read_length(text, bare)
            && contradicts(said, value)
        {
            let reading = crate::units::format::fixed(said.metres(), 4);
            self.fault(row, exact, Trouble::Disagree { reading, metres: metres.to_owned() });
            return None;
        }
        Some(Some(Reading { text: text.to_owned(), value }))
    }

    /// A reading that must be there.
    pub(super) fn needed(&mut self, row: &Row, words: Column, exact: Column) -> Option<Reading> {
        let reading = self.reading(row, words, exact)?;
        if reading.is_none() {
            self.fault(row, words, Trouble::Missing { wanted: "what the tape showed, such as 12' 6 1/2\"" });
        }
        reading
    }

    /// A reading that must be more than nothing.
    pub(super) fn distance(&mut self, row: &Row) -> Option<Reading> {
        let reading = self.needed(row, Column::Reading, Column::Metres)?;
        self.positive(row, &reading).then_some(reading)
    }

    pub(super) fn positive(&mut self, row: &Row, reading: &Reading) -> bool {
        let positive = reading.value > Length::ZERO;
        if !positive {
            self.fault(
                row,
                Column::Reading,
                Trouble::NotPositive { text: row.get(Column::Reading).to_owned() },
            );
        }
        positive
    }
}
