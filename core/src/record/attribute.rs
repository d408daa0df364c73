//! What is asked about a thing: rows of a table, from which forms, files and checks follow.

use super::Attribute;
use crate::units::{Length, read_number};

/// What an attribute is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sort {
    /// A length, mostly within these limits. A length outside is questioned, never refused.
    Length {
        /// The shortest that is usual.
        least: Length,
        /// The longest that is usual.
        most: Length,
    },
    /// A whole number, mostly within these limits.
    Count {
        /// The fewest.
        least: u32,
        /// The most.
        most: u32,
    },
    /// Parts of a hundred, mostly up to this.
    Percent {
        /// The most that is usual.
        most: u32,
    },
    /// An angle in degrees, mostly up to this.
    Degrees {
        /// The most that is usual.
        most: u32,
    },
    /// One of a few words.
    Choice(&'static [&'static str]),
    /// Yes or no.
    YesNo,
    /// A day, `YYYY-MM-DD`.
    Day,
    /// Any words.
    Text,
}

/// One thing asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// The stable key stored in books.
    pub key: &'static str,
    /// The plain name shown.
    pub name: &'static str,
    /// What it is.
    pub sort: Sort,
    /// One line of help, at most 80 characters.
    pub help: &'static str,
}

/// What is asked at once, and what behind "More".
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Form {
    /// Asked at once.
    pub first: &'static [&'static Row],
    /// Behind "More".
    pub more: &'static [&'static Row],
}

impl Form {
    /// Nothing is asked.
    pub const EMPTY: Self = Self { first: &[], more: &[] };

    /// Every row, those asked at once first.
    pub fn rows(&self) -> impl Iterator<Item = &'static Row> {
        self.first.iter().chain(self.more).copied()
    }

    /// The row with this key.
    #[must_use]
    pub fn row(&self, key: &str) -> Option<&'static Row> {
        self.rows().find(|row| row.key == key)
    }
}

/// The words of a yes.
pub const YES: &str = "yes";
/// The words of a no.
pub const NO: &str = "no";

impl Row {
    /// Whether a value lies outside what is usual, so that it is worth a second look. Words that
    /// are no number where one is asked are unusual, too.
    #[must_use]
    pub fn unusual(&self, value: &Attribute) -> bool {
        match (self.sort, value) {
            (Sort::Length { least, most }, Attribute::Length(reading)) => {
                !(least..=most).contains(&reading.value)
            }
            (Sort::Count { least, most }, Attribute::Text(text)) => number(text)
                .is_none_or(|n| n.fract() != 0.0 || !(f64::from(least)..=f64::from(most)).contains(&n)),
            (Sort::Percent { most } | Sort::Degrees { most }, Attribute::Text(text)) => {
                number(text).is_none_or(|n| !(0.0..=f64::from(most)).contains(&n))
            }
            // What another program wrote in its own words is kept and not judged.
            _ => false,
        }
    }
}

/// The number in the words of a count, percentage or angle.
fn number(text: &str) -> Option<f64> {
    read_number(text.trim_end_matches(['%', '°']).trim_end())
}

/// A row for a length, its limits in millimetres.
pub(super) const fn length(
    key: &'static str,
    name: &'static str,
    least: f64,
    most: f64,
    help: &'static str,
) -> Row {
    let sort = Sort::Length { least: Length::from_millimetres(least), most: Length::from_millimetres(most) };
    Row { key, name, sort, help }
}

/// A row for a whole number.
pub(super) const fn count(
    key: &'static str,
    name: &'static str,
    least: u32,
    most: u32,
    help: &'static str,
) -> Row {
    Row { key, name, sort: Sort::Count { least, most }, help }
}

/// A row for one of a few words.
pub(super) const fn choice(
    key: &'static str,
    name: &'static str,
    words: &'static [&'static str],
    help: &'static str,
) -> Row {
    Row { key, name, sort: Sort::Choice(words), help }
}

/// A row for yes or no.
pub(super) const fn yes_no(key: &'static str, name: &'static str, help: &'static str) -> Row {
    Row { key, name, sort: Sort::YesNo, help }
}

/// A row for any words.
pub(super) const fn text(key: &'static str, name: &'static str, help: &'static str) -> Row {
    Row { key, name, sort: Sort::Text, help }
}
