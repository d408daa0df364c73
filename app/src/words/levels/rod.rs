//! What is asked and told at the rod.

use super::{height, short, small};
use crate::screens::Booking;
use swingtie_core::levels::{Closing, Height};
use swingtie_core::record::{LevelWith, Record, UnitSystem};
use swingtie_core::units::Length;

/// The slip's title: `Hand level, set-up 2`; two ends of a string or a hose are a pair.
#[must_use]
pub fn title(booking: &Booking, record: &Record) -> String {
    if booking.correcting.is_some() {
        return say!("Correct a level reading");
    }
    let what = if booking.pairs() { "pair" } else { "set-up" };
    say!("{}, {what} {}", short(booking.with), set_up_number(booking, record))
}

/// Counted from 1.
fn set_up_number(booking: &Booking, record: &Record) -> usize {
    let begun = swingtie_core::levels::setups(record);
    let own = begun.iter().position(|s| Some(&s.id) == booking.setup.as_ref());
    own.unwrap_or(begun.len()) + 1
}

/// What is asked where the point is wanted.
#[must_use]
pub fn ask(booking: &Booking, record: &Record) -> &'static str {
    let first = booking.readings(record).next().is_none();
    match (first, booking.pairs(), record.levels.is_empty()) {
        (true, _, true) => "What do you read first? Heights count from it: a threshold is best.",
        (true, true, false) => "One end: on a point read before.",
        (true, false, false) => "Read first a point read before: it carries the height over.",
        (false, true, _) => "The other end: on which point?",
        (false, false, _) => "Where does the rod stand now?",
    }
}

/// What was read last, as the height it gives.
#[must_use]
pub fn lies_at(label: &str, known: &Height, units: UnitSystem) -> String {
    let doubt = if known.in_doubt { ", in doubt" } else { "" };
    say!("{label} lies at {}{doubt}", height(known.above, units))
}

/// One end of a string or a hose is read.
#[must_use]
pub fn line_above(with: LevelWith, text: &str, label: &str) -> String {
    match with {
        LevelWith::Tape => say!("The tape ends {text} above {label}"),
        LevelWith::WaterLevel => say!("The water stands {text} above {label}"),
        _ => say!("The string runs {text} above {label}"),
    }
}

/// A point was just reached again.
#[must_use]
pub fn back_on(closing: &Closing, record: &Record) -> String {
    let units = record.site.units;
    let (off, allowed) = (small(closing.by.abs(), units), small(closing.allowed, units));
    let fine = if closing.closes() {
        say!("up to {allowed} is fine")
    } else {
        say!("only up to {allowed} is chance: look for a misread")
    };
    say!("Back on {}: {off} off ({fine})", record.label(&closing.point))
}

/// As one says it aloud.
#[must_use]
pub fn spoken(label: &str, number: &str) -> String {
    if number.is_empty() { String::new() } else { say!("{label}: {number}") }
}

/// Keeps what was questioned.
#[must_use]
pub fn keep(typed: &str) -> String {
    say!("Keep {typed}")
}

/// Longer than one can read.
#[must_use]
pub fn too_long(text: &str, pairs: bool) -> String {
    let what = if pairs { "higher than one can reach" } else { "longer than rods are" };
    say!("{text} is {what}. Is it right?")
}

/// A rod of nothing.
#[must_use]
pub fn nothing_read(text: &str) -> String {
    say!("{text}: the level line would meet the very foot of the rod. Is it right?")
}

/// Tenths among inches, or the other way round.
#[must_use]
pub fn other_units(text: &str, value: Length, before: UnitSystem) -> String {
    match before {
        UnitSystem::DecimalFeet => {
            say!(
                "Rods before were read in tenths of a foot, and {text} is feet and inches. Is this rod in inches?"
            )
        }
        _ => {
            let inches = small(value, UnitSystem::FeetInches);
            say!("{text} is feet and tenths, that is {inches}. Is this rod in tenths?")
        }
    }
}

/// Another number than what is known makes likely.
#[must_use]
pub fn otherwise(label: &str, expected: Length, off: Length, units: UnitSystem) -> String {
    say!(
        "{label} was read before: that makes about {} here, {} from this. Look again?",
        small(expected, units),
        small(off, units)
    )
}

/// Readings contradict: what one expects comes from the others.
#[must_use]
pub fn in_doubt(label: &str) -> String {
    say!("{label} is in doubt and was left out of this.")
}

/// The very same number on the next point.
#[must_use]
pub fn same_again(text: &str, label: &str) -> String {
    say!("{text} is the very number read on {label} just before. Is it right?")
}

/// Goes on with the set-up under way, or with the reading that is written anew.
#[must_use]
pub fn go_on(booking: &Booking, record: &Record) -> String {
    match (&booking.correcting, &booking.point) {
        (Some(_), Some(point)) => say!("Finish correcting {}", record.label(point)),
        (Some(_), None) => say!("Finish correcting a level reading"),
        (None, _) => say!("{}: {}", super::GO_ON, title(booking, record)),
    }
}
