//! The level book in words: its figures, its sums, its closings.

use super::{Closing, Sums};
use crate::record::{LevelWith, Record};
use crate::units::format::half_up;
use crate::units::{Length, UnitSystem};

/// A number of the level book, without its unit: the columns are narrow. As fine as a level is read, so that rounding
/// spoils no sum.
#[must_use]
pub fn figure(value: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => half_up(value.feet(), 3),
        UnitSystem::Metres => half_up(value.metres(), 3),
    }
}

/// The same with its unit.
#[must_use]
pub fn figure_of(value: Length, units: UnitSystem) -> String {
    let unit = if units == UnitSystem::Metres { "m" } else { "ft" };
    say!("{} {unit}", figure(value, units).replace('-', "−"))
}

/// A point reached a second time, as surveyors say it below the level book.
#[must_use]
pub fn closing_error(closing: &Closing, record: &Record) -> String {
    let units = record.site.units;
    let over = if closing.closes() { "" } else { " A reading is wrong." };
    say!(
        "Closing error {} on {}, limit {}.{over}",
        figure_of(closing.by, units),
        record.label(&closing.point),
        figure_of(closing.allowed, units)
    )
}

/// The sums of a page, and whether they agree.
#[must_use]
pub fn sums(sums: &Sums, units: UnitSystem) -> String {
    let write = |by: Length| figure_of(by, units);
    let agree = if sums.agree() {
        "The arithmetic agrees; this does not check the readings."
    } else {
        "They do not agree."
    };
    say!(
        "Sum of backsights less foresights {}, of rises less falls {}, last less first height {}. {agree}",
        write(sums.back - sums.fore),
        write(sums.rise - sums.fall),
        write(sums.height)
    )
}

/// What made the level line.
#[must_use]
pub const fn instrument(with: LevelWith) -> &'static str {
    match with {
        LevelWith::BuildersLevel => "builder's level or laser",
        LevelWith::HandLevel => "hand level",
        LevelWith::StringLevel => "string level",
        LevelWith::WaterLevel => "water level",
        LevelWith::Tape => "upright tape",
    }
}
