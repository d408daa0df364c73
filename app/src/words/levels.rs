//! Heights, and the readings they come from.

mod book;
mod rod;
#[cfg(test)]
mod tests;

pub use book::{closing, closing_error, falls, figure, fits, reading, set_up, slope_figures, sums, verdict};
pub use rod::{
    ask, back_on, go_on, in_doubt, keep, lies_at, line_above, nothing_read, other_units, otherwise,
    same_again, spoken, title, too_long,
};

use super::{length, list};
use swingtie_core::levels::{Height, LevelFinding};
use swingtie_core::record::{EntryId, LevelWith, PointId, Record, Stood, UnitSystem};
use swingtie_core::units::format::half_up;
use swingtie_core::units::{Length, LengthStyle, SURE, format_length};

pub const HEIGHTS: &str = "Heights";
pub const HEIGHTS_HINT: &str = "How high the ground, the doors and the drains lie, from readings down a rod. Water runs by inches, so read \
     where it stands, where it comes from and where it could go. Keep rods and tapes well away from wires.";
pub const SET_UP_FIRST: &str = "What makes the level line?";
pub const SET_UP_ANEW: &str = "Or begin anew with";
pub const GO_ON: &str = "Go on reading";
pub const PACK_UP: &str = "Done with this level";
pub const LEAVE_SO: &str = "Leave it as it was";
pub const COUNTED_FROM: &str = "Heights count from";
pub const CHANGE: &str = "Change";
pub const SAY_SO: &str = "Leave it so";
pub const BENCH_POINT: &str = "Point";
pub const BENCH_SOURCE: &str = "Where the height comes from";
pub const ASSUMED: &str = "assumed";
pub const SAVE_BENCH: &str = "Save this height";
pub const BENCH_HINT: &str = "Take something that will still be there: the front door's threshold, a slab corner. 100 is what one assumes \
     where nobody knows better, so that nothing lies below nothing.";
pub const BAD_HEIGHT: &str = "Type the height as a number, for instance 100.";
pub const ALL_HEIGHTS: &str = "All heights";
pub const HEIGHTS_95: &str = "± as good as nineteen of twenty are, against the point heights count from. In doubt: readings contradict, \
     and which of them is wrong moves it.";
pub const NOT_PROVED: &str = "read once";
pub const SET_UPS: &str = "Set-ups";
pub const CLOSINGS: &str = "Points reached twice";
pub const NO_CLOSING: &str = "Nothing proves these heights yet. Read the first point, or another one of an earlier set-up, once more at the end.";
pub const SLOPE: &str = "Slope between two points";
pub const SLOPE_FROM: &str = "From";
pub const SLOPE_TO: &str = "To";
pub const NO_SLOPE: &str =
    "One of them has no height, or no place on the plan yet, or they lie above each other.";
pub const FOR_SURVEYORS: &str = "The level book, for surveyors";
pub const BOOK_HINT: &str = "Backsight: the first reading of a set-up, on a point of known height. Foresight: the last before the level is \
     moved. Intermediate: those between. Line: height of instrument. All as read; the list above is adjusted: it shares \
     out what does not close.";
pub const COLUMNS: [&str; 8] = ["Point", "Back", "Inter.", "Fore", "Rise", "Fall", "Line", "Height"];
pub const SUMS: &str = "Sums";
pub const PUSH: &str = "Where it is cut, push it sideways.";
pub const NO_CLOSING_ERROR: &str = "No point was reached twice: nothing checks the readings.";
pub const HEIGHT: &str = "Its height";
pub const ON_SKETCH: &str = "One of them stands on the sketch only: the level distance is a guess.";
pub const NOT_TIED: &str = "Nothing joins these readings to a known height: they have rises and falls only.";
pub const LOOK_AGAIN: &str = "Read it again";
pub const EXPECTED: &str = "another value was expected";
pub const TYPE_AGAIN: &str = "Type again";
pub const SAVE: &str = "Save";
pub const SAID: &str = "what is said so far";
pub const ON: &str = "on";
pub const ROD: &str = "rod";
pub const STANDS: &str = "stands";
pub const MOVE_LEVEL: &str = "Move the level";
pub const LIKELY: &str = "where the rod stands next";
pub const STILL_NEEDED: &str = "Still needed: the number on the rod.";
pub const TAP_UNIT: &str = "Tap ft or in.";
pub const NO_SET_UP: &str = "No level is set up. Begin one under Heights.";
pub const OPEN_HEIGHTS: &str = "Open Heights";

/// What makes the level line, and how it is read.
pub const fn with(with: LevelWith) -> (&'static str, &'static str) {
    match with {
        LevelWith::BuildersLevel => (
            "Builder's level or laser",
            "on its tripod; read where its line crosses the rod; never look into a laser's beam",
        ),
        LevelWith::HandLevel => ("Hand level", "on a stick; read where its line crosses the rod"),
        LevelWith::StringLevel => ("String with a line level", "measure up to the string at both ends"),
        LevelWith::WaterLevel => ("Water in a clear hose", "measure up to the still water at both ends"),
        LevelWith::Tape => {
            ("Upright tape", "from a point straight up to another: nothing is read on the upper one")
        }
    }
}

/// The same in a word or two, for where there is little room.
const fn short(with: LevelWith) -> &'static str {
    match with {
        LevelWith::BuildersLevel => "Builder's level",
        LevelWith::HandLevel => "Hand level",
        LevelWith::StringLevel => "String",
        LevelWith::WaterLevel => "Hose",
        LevelWith::Tape => "Upright tape",
    }
}

/// All that can make the line, in the order offered.
pub const ALL_WITH: [LevelWith; 4] =
    [LevelWith::BuildersLevel, LevelWith::HandLevel, LevelWith::StringLevel, LevelWith::WaterLevel];

/// Writes a reading as it was meant.
#[must_use]
pub fn correct_to(text: &str) -> String {
    say!("Correct to {text}")
}

/// Corrects a reading.
#[must_use]
pub fn correct_named(name: &str) -> String {
    say!("Correct: {name}")
}

/// A height: decimals of a foot, as levels are booked, or metres.
#[must_use]
pub fn height(height: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => say!("{} ft", half_up(height.feet(), 2)),
        UnitSystem::Metres => say!("{} m", half_up(height.metres(), 3)),
    }
}

/// A height with its doubt.
#[must_use]
pub fn height_told(height_: &Height, units: UnitSystem) -> String {
    let above = height(height_.above, units);
    let most = height_.sd * SURE;
    if height_.in_doubt {
        say!("{above}, in doubt")
    } else if most.metres() > 0.0 {
        let most = match units {
            UnitSystem::FeetInches | UnitSystem::DecimalFeet => half_up(most.feet(), 2),
            UnitSystem::Metres => half_up(most.metres(), 3),
        };
        say!("{above} ± {most}")
    } else {
        // What heights count from has none.
        above
    }
}

/// A small difference, no finer than it is worth: an eighth of an inch.
fn small(by: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::FeetInches => format_length(by, LengthStyle::FeetInches { finest: 8 }),
        _ => length(by, units),
    }
}

/// A height on a point's card.
#[must_use]
pub fn card(height: &Height, units: UnitSystem) -> String {
    say!("Height {}", height_told(height, units))
}

/// How much lower or higher than what heights count from.
#[must_use]
pub fn against(by: Length, label: &str, units: UnitSystem) -> String {
    let side = if by.metres() < 0.0 { "below" } else { "above" };
    say!("{} {side} {label}", small(by.abs(), units))
}

/// A point on its key.
#[must_use]
pub fn on(label: &str) -> String {
    say!("on {label}")
}

/// The point in its slot.
#[must_use]
pub fn on_point(label: &str) -> String {
    say!("on: {label}")
}

/// How the rod is held.
#[must_use]
pub const fn rod(overhead: bool) -> &'static str {
    if overhead { "upside down" } else { "upright" }
}

/// The switch.
#[must_use]
pub fn rod_named(overhead: bool) -> String {
    say!("rod: {}", rod(overhead))
}

/// What the rod stands on.
#[must_use]
pub const fn stands(stood: Stood) -> &'static str {
    match stood {
        Stood::Ground => "on the ground",
        Stood::Above => "above it",
    }
}

/// The switch.
#[must_use]
pub fn stands_named(stood: Stood) -> String {
    say!("stands: {}", stands(stood))
}

/// What heights count from.
#[must_use]
pub fn counted_from(label: &str, above: Length, source: &str, units: UnitSystem) -> String {
    let source = if source.is_empty() { String::new() } else { say!(", {source}") };
    say!("{label}, {}{source}", height(above, units))
}

/// The height that others count from is assumed.
#[must_use]
pub fn nobody_said(label: &str) -> String {
    say!("Nobody said how high anything is. {label} counts as 100 until you say otherwise.")
}

/// What the user should know.
#[must_use]
pub fn finding(finding: &LevelFinding, record: &Record) -> String {
    let units = record.site.units;
    let label = |id: &PointId| record.label(id).to_owned();
    match finding {
        LevelFinding::DatumAssumed { point } => nobody_said(record.label(point)),
        LevelFinding::MixedUnits { rods, tapes } => say!(
            "Rods are read in {}, tapes in {}. 5.6 ft is 5' 7 1/4\", not 5' 6\": keep them apart when you type.",
            super::capture::units(*rods),
            super::capture::units(*tapes)
        ),
        LevelFinding::Apart { points } => {
            let labels: Vec<String> = points.iter().map(label).collect();
            say!(
                "{} were levelled, but nothing joins them to the rest: they have no height. From one set-up read one \
                 of them and a point that has a height.",
                list(&labels)
            )
        }
        LevelFinding::Suspect { point, observed, expected, rivals, causes, .. } => {
            let (read, meant) = (length(observed.abs(), units), length(expected.abs(), units));
            let point_of =
                |entry: &EntryId| record.levels.iter().find(|l| l.entry == *entry).map(|l| &l.what.point);
            if let [rival] = rivals.as_slice()
                && point_of(rival) == Some(point)
            {
                let apart = small((*observed - *expected).abs(), units);
                return say!(
                    "Two readings of {} differ by {apart}: one of them is wrong. Read it a third time.",
                    label(point)
                );
            }
            let told = say!("{} reads {read}; the others make it {meant}.", label(point));
            let or = match rivals.len() {
                0 => String::new(),
                1 => say!(" Or another reading is wrong: it fits as badly."),
                n => say!(" Or one of {n} other readings is wrong: all of them fit as badly."),
            };
            let why = causes.first().map(|cause| say!(" {}", super::happened(&cause.slip, record)));
            say!("{told}{}{or}", why.unwrap_or_default())
        }
    }
}
