//! Every word the user reads, in one place, by area.

mod advice;
mod aloud;
pub mod asked;
pub mod capture;
mod doubt;
mod entries;
mod figures;
mod forms;
mod guide;
mod kinds;
mod leaving;
mod names;
mod notes;
mod photos;
mod places;
pub mod settings;
mod shell;
mod standing;
mod steps;
mod turned;
mod verdict;

pub use advice::{LONGEST_TAPE, advice_does, advice_tape, tape_lengths};
pub use aloud::aloud;
pub use doubt::{Contradiction, Doubted, Doubts, Together, questioned, waits, would_show};
use entries::side_name;
pub use entries::{known, sentence, statement};
pub use figures::{NO_RELATIVE, relative_told, survey_figures, survey_told};
use forms::{reached, sloped, zero};
pub use guide::*;
pub use kinds::{MARK_COLOURS, SEVERITIES, colour_meaning, colour_name, problem_name, severity_name};
pub use leaving::*;
pub use names::Names;
pub use notes::*;
pub use photos::*;
pub use places::*;
pub use shell::*;
pub use standing::Standing;
pub use turned::*;
pub use verdict::{Verdict, quantity, role_name, verdict, verdict_words};

use swingtie_core::book::{Book, Entry};
use swingtie_core::record::{EntryId, Statement};
use swingtie_core::units::{Length, LengthStyle, UnitSystem, format_length};

/// A length as this site writes it.
#[must_use]
pub fn length(length: Length, units: UnitSystem) -> String {
    format_length(length, LengthStyle::from(units))
}

/// What a strike is about in the end, and whether it brings that back: a strike of a strike does.
#[must_use]
pub fn struck_first<'a>(target: &EntryId, book: &'a Book) -> (Option<&'a Entry>, bool) {
    let (mut first, mut back) = (book.get(target), false);
    while let Some(Statement::Strike { entry, .. }) = first.and_then(Entry::statement) {
        (first, back) = (book.get(entry), !back);
    }
    (first, back)
}

/// `1 point`, `3 points`.
#[must_use]
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// `a`, `a and b`, `a, b and c`.
#[must_use]
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_people_write_them() {
        let words = |items: &[&str]| list(&items.iter().map(|s| (*s).to_owned()).collect::<Vec<_>>());
        assert_eq!(words(&[]), "");
        assert_eq!(words(&["A"]), "A");
        assert_eq!(words(&["A", "B"]), "A and B");
        assert_eq!(words(&["A", "B", "C"]), "A, B and C");
        assert_eq!(count(1, "point", "points"), "1 point");
        assert_eq!(count(0, "point", "points"), "0 points");
    }
}
