//! Every word the user reads, in one place, by area.

mod advice;
mod aloud;
pub mod amounts;
pub mod asked;
pub mod book;
pub mod capture;
pub mod changes;
mod doubt;
mod earth;
mod entries;
mod figures;
mod forms;
mod guide;
pub mod keys;
mod kinds;
mod leaving;
pub mod levels;
mod names;
mod notes;
pub mod package;
mod photos;
mod places;
pub mod questions;
pub mod settings;
pub mod sheet;
mod shell;
mod standing;
mod steps;
mod turned;
mod verdict;
mod worth;

pub use advice::{LONGEST_TAPE, advice_does, advice_tape, tape_lengths};
pub use aloud::aloud;
pub use doubt::{Contradiction, Doubted, Doubts, Together, happened, questioned, waits, would_show};
pub use earth::*;
use entries::side_name;
pub use entries::{known, sentence, statement};
pub use figures::{NO_RELATIVE, relative_told, survey_figures, survey_told};
use forms::{reached, sloped, zero};
pub use guide::*;
pub use kinds::{MARK_COLOURS, SEVERITIES, colour_meaning, colour_name, problem_name, severity_name};
pub use leaving::*;
pub use names::{Names, described};
pub use notes::*;
pub use photos::*;
pub use places::*;
pub use shell::*;
pub use standing::Standing;
pub use turned::*;
pub use verdict::{Judge, Verdict, quantity, role_name, verdict_words};
pub use worth::*;

use std::cell::Cell;
use swingtie_core::units::{Length, LengthStyle, UnitSystem, format_length};

thread_local! {
    static ROUNDED: Cell<bool> = const { Cell::new(false) };
}

/// From now on lengths that were worked out are shown rounded, or as fine as a tape is read.
pub fn round_lengths(rounded: bool) {
    ROUNDED.set(rounded);
}

/// A length that was worked out, as this site writes it. What was typed is shown as typed.
#[must_use]
pub fn length(length: Length, units: UnitSystem) -> String {
    let style = match units {
        _ if !ROUNDED.get() => units.into(),
        UnitSystem::FeetInches => LengthStyle::FeetInches { finest: 4 },
        UnitSystem::DecimalFeet => LengthStyle::DecimalFeet { decimals: 1 },
        UnitSystem::Metres => LengthStyle::Metres { decimals: 2 },
    };
    format_length(length, style)
}

/// `1 point`, `3 points`.
#[must_use]
pub fn count(number: usize, one: &str, many: &str) -> String {
    say!("{number} {}", if number == 1 { one } else { many })
}

/// `a`, `a and b`, `a, b and c`.
#[must_use]
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => say!("{} and {last}", most.join(", ")),
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

    #[test]
    fn worked_out_lengths_are_as_fine_as_a_tape_or_rounded() {
        let all = |length: Length| {
            [UnitSystem::FeetInches, UnitSystem::DecimalFeet, UnitSystem::Metres]
                .map(|u| super::length(length, u))
        };
        let some = Length::from_inches(150.5 + 3.0 / 16.0);
        assert_eq!(all(some), ["12' 6 11/16\"", "12.56 ft", "3.827 m"]);
        round_lengths(true);
        assert_eq!(all(some), ["12' 6 3/4\"", "12.6 ft", "3.83 m"]);
        round_lengths(false);
        assert_eq!(all(some), ["12' 6 11/16\"", "12.56 ft", "3.827 m"]);
    }
}
