//! What must hold of any text a person or a file can bring: for the fuzz targets (`tests/fuzz`), which look for texts that
//! break it, and for the tests that try what was found and thousands of spoilt texts with every change.

use crate::hostile;
use swingtie_core::book::{Book, fold};
use swingtie_core::exchange::csv::{self, Source};
use swingtie_core::record::AuthorId;
use swingtie_core::units::{
    BareUnit, LengthStyle, format_angle, format_length, read_angle, read_bearing, read_length, read_number,
};

/// Larger books take the sheet seconds, which helps nobody to find anything.
const MOST_ENTRIES: usize = 120;

/// A reading typed on a pad or in a table: what is read can be written, and reads as the same again.
///
/// # Panics
/// When it does not.
pub fn units(text: &str) {
    for bare in [BareUnit::Feet, BareUnit::Inches, BareUnit::Metres, BareUnit::Millimetres] {
        let Ok(length) = read_length(text, bare) else { continue };
        assert!(length.is_finite(), "{text:?} is {length:?}");
        let styles = [
            (LengthStyle::FeetInches { finest: 64 }, 0.0254 / 128.0),
            (LengthStyle::DecimalFeet { decimals: 4 }, 0.3048 * 0.5e-4),
            (LengthStyle::Metres { decimals: 4 }, 0.5e-4),
        ];
        for (style, half) in styles {
            let written = format_length(length, style);
            let again =
                read_length(&written, bare).unwrap_or_else(|error| panic!("{text:?}: {written}: {error}"));
            let off = (again.metres() - length.metres()).abs();
            assert!(off <= half * 1.000_001 + 1e-9, "{text:?} is {written}, {off} m off");
        }
    }
    for angle in [read_angle(text).ok(), read_bearing(text).ok()].into_iter().flatten() {
        assert!(angle.degrees().is_finite(), "{text:?} is {angle:?}");
        assert!(!format_angle(angle, 3).contains("NaN"), "{text:?}");
    }
    assert!(read_number(text).is_none_or(f64::is_finite), "{text:?}");
}

/// A book of any lines: it reads as it was written, and every file made of it holds numbers only.
///
/// # Panics
/// When it does not.
pub fn book(text: &str) {
    let (book, _) = Book::from_json_lines(text);
    let (again, errors) = Book::from_json_lines(&book.to_json_lines());
    assert_eq!((errors.len(), &again), (0, &book), "a book is not read as it was written");
    if book.len() > MOST_ENTRIES {
        let _ = fold(&book);
        return;
    }
    for (name, made) in hostile::files(&book) {
        // Words of the book may say so.
        let said = |word| text.contains(word);
        let found = NO_NUMBERS.iter().find(|word| !said(**word) && stands_alone(&made, word));
        assert!(found.is_none(), "{found:?} in {name}");
        if name.ends_with("json") {
            serde_json::from_str::<serde_json::Value>(&made)
                .unwrap_or_else(|error| panic!("{name}: {error}"));
        }
    }
}

/// A table of measurements: it is read or refused, and what is read is a book as any other.
///
/// # Panics
/// When it is not.
pub fn table(text: &str) {
    let source = Source { id_prefix: "f-".to_owned(), author: AuthorId::from("f"), at_ms: 0 };
    match csv::read(text, &source) {
        Ok(read) => book(&read.book.to_json_lines()),
        Err(errors) => assert!(!errors.is_empty(), "refused without a word"),
    }
}

/// How the standard library writes what is no number.
const NO_NUMBERS: [&str; 2] = ["NaN", "inf"];

fn stands_alone(text: &str, word: &str) -> bool {
    let part_of_a_word = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
    text.match_indices(word).any(|(at, _)| {
        let (before, after) = (text[..at].chars().next_back(), text[at + word.len()..].chars().next());
        !part_of_a_word(before) && !part_of_a_word(after)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_is_found() {
        assert!(stands_alone("[1.0,NaN]", "NaN") && stands_alone("x=\"-inf\"", "inf"));
        assert!(!stands_alone("information, NaNcy", "inf") && !stands_alone("NaNcy", "NaN"));
    }
}
