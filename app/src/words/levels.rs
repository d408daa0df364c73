//! Heights, and the readings they come from.

use super::{count, length, list};
use crate::screens::Booking;
use swingtie_core::levels::{Closing, Height, LevelFinding, Levelled, Levels, SetUp, Slope};
use swingtie_core::record::{LevelReading, LevelWith, PointId, Record, Stood, UnitSystem};
use swingtie_core::units::format::fixed;
use swingtie_core::units::{Length, LengthStyle, format_length};

pub const HEIGHTS: &str = "Heights";
pub const HEIGHTS_HINT: &str = "How high the ground, the doors and the drains lie, from readings down a rod. Water runs by inches, so read \
     where it stands, where it comes from and where it could go.";
pub const SET_UP_FIRST: &str = "What makes the level line?";
pub const SET_UP_ANEW: &str = "Or set a level up anew";
pub const GO_ON: &str = "Go on reading";
pub const PACK_UP: &str = "Done with this level";
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
pub const HEIGHTS_95: &str = "± as good as nineteen of twenty are, against the point heights count from.";
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
     moved. Intermediate: those between. Line: height of instrument.";
pub const COLUMNS: [&str; 8] = ["Point", "Back", "Inter.", "Fore", "Rise", "Fall", "Line", "Height"];
pub const SUMS: &str = "Sums";
pub const HEIGHT: &str = "Its height";
pub const ON_SKETCH: &str = "One of them stands on the sketch only: the level distance is a guess.";
pub const NOT_TIED: &str = "The first height is not known; it counts as nothing.";
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
pub const NO_SET_UP: &str = "No level is set up. Begin one under Heights.";
pub const OPEN_HEIGHTS: &str = "Open Heights";

/// What makes the level line, and how it is read.
pub const fn with(with: LevelWith) -> (&'static str, &'static str) {
    match with {
        LevelWith::BuildersLevel => {
            ("Builder's level or laser", "on its tripod; read where its line crosses the rod")
        }
        LevelWith::HandLevel => ("Hand level", "on a stick; read where its line crosses the rod"),
        LevelWith::StringLevel => ("String with a line level", "measure up to the string at both ends"),
        LevelWith::WaterLevel => ("Water in a clear hose", "measure up to the still water at both ends"),
    }
}

/// The same in a word or two, for where there is little room.
const fn short(with: LevelWith) -> &'static str {
    match with {
        LevelWith::BuildersLevel => "Builder's level",
        LevelWith::HandLevel => "Hand level",
        LevelWith::StringLevel => "String",
        LevelWith::WaterLevel => "Water",
    }
}

/// All that can make the line, in the order offered.
pub const ALL_WITH: [LevelWith; 4] =
    [LevelWith::BuildersLevel, LevelWith::HandLevel, LevelWith::StringLevel, LevelWith::WaterLevel];

/// A height: decimals of a foot, as levels are booked, or metres.
#[must_use]
pub fn height(height: Length, units: UnitSystem) -> String {
    format_length(height, height_style(units))
}

fn height_style(units: UnitSystem) -> LengthStyle {
    match units {
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => LengthStyle::DecimalFeet { decimals: 2 },
        UnitSystem::Metres => LengthStyle::Metres { decimals: 3 },
    }
}

/// A number of the level book, without its unit: the columns are narrow.
#[must_use]
pub fn figure(value: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => fixed(value.feet(), 2),
        UnitSystem::Metres => fixed(value.metres(), 3),
    }
}

/// Writes a reading as it was meant.
#[must_use]
pub fn correct_to(text: &str) -> String {
    format!("Correct to {text}")
}

/// Corrects a reading.
#[must_use]
pub fn correct_named(name: &str) -> String {
    format!("Correct: {name}")
}

/// A small difference, no finer than it is worth: an eighth of an inch.
fn small(by: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::FeetInches => format_length(by, LengthStyle::FeetInches { finest: 8 }),
        _ => length(by, units),
    }
}

/// A height with its doubt.
#[must_use]
pub fn height_told(height_: &Height, units: UnitSystem) -> String {
    let above = height(height_.above, units);
    let most = height_.sd * 1.96;
    // What heights count from has none.
    if most.metres() > 0.0 { format!("{above} ± {}", figure(most, units)) } else { above }
}

/// A height on a point's card.
#[must_use]
pub fn card(height: &Height, units: UnitSystem) -> String {
    format!("Height {}", height_told(height, units))
}

/// How much lower or higher than what heights count from.
#[must_use]
pub fn against(by: Length, label: &str, units: UnitSystem) -> String {
    let side = if by.metres() < 0.0 { "below" } else { "above" };
    format!("{} {side} {label}", small(by.abs(), units))
}

/// The way to the heights from Problems.
#[must_use]
pub fn heights_link(readings: usize) -> String {
    format!("Heights and water ({})", count(readings, "reading", "readings"))
}

/// The slip's title: `Hand level, set-up 2`.
#[must_use]
pub fn title(booking: &Booking, record: &Record) -> String {
    if booking.correcting.is_some() {
        return "Correct a level reading".to_owned();
    }
    format!("{}, set-up {}", short(booking.with), set_up_number(booking, record))
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
        (true, false, false) => "Read first a point read before.",
        (false, true, _) => "The other end: on which point?",
        (false, false, _) => "Where does the rod stand now?",
    }
}

/// A point on its key.
#[must_use]
pub fn on(label: &str) -> String {
    format!("on {label}")
}

/// The point in its slot.
#[must_use]
pub fn on_point(label: &str) -> String {
    format!("on: {label}")
}

/// How the rod is held.
#[must_use]
pub const fn rod(overhead: bool) -> &'static str {
    if overhead { "upside down" } else { "upright" }
}

/// The switch.
#[must_use]
pub fn rod_named(overhead: bool) -> String {
    format!("rod: {}", rod(overhead))
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
    format!("stands: {}", stands(stood))
}

/// What was read last, as the height it gives.
#[must_use]
pub fn lies_at(label: &str, above: Length, units: UnitSystem) -> String {
    format!("{label} lies at {}", height(above, units))
}

/// As one says it aloud.
#[must_use]
pub fn spoken(label: &str, number: &str) -> String {
    if number.is_empty() { String::new() } else { format!("{label}: {number}") }
}

/// Keeps what was questioned.
#[must_use]
pub fn keep(typed: &str) -> String {
    format!("Keep {typed}")
}

/// Longer than one can read.
#[must_use]
pub fn too_long(text: &str, pairs: bool) -> String {
    let what = if pairs { "higher than one can reach" } else { "longer than rods are" };
    format!("{text} is {what}. Is it right?")
}

/// Tenths among inches, or the other way round.
#[must_use]
pub fn other_units(text: &str, before: UnitSystem) -> String {
    match before {
        UnitSystem::DecimalFeet => {
            format!(
                "Rods before were read in tenths of a foot, and {text} is feet and inches. Is this rod in inches?"
            )
        }
        _ => {
            format!(
                "{text} is feet and tenths; a tape's inches are no tenths: 5.6 ft is 5' 7 1/4\". Is this rod in tenths?"
            )
        }
    }
}

/// Another number than what is known makes likely.
#[must_use]
pub fn otherwise(label: &str, expected: Length, off: Length, units: UnitSystem) -> String {
    format!(
        "{label} was read before: that makes about {} here, {} from this. Look again?",
        small(expected, units),
        small(off, units)
    )
}

/// The very same number on the next point.
#[must_use]
pub fn same_again(text: &str, label: &str) -> String {
    format!("{text} is the very number read on {label} just before. Is it right?")
}

/// Goes on with the set-up under way.
#[must_use]
pub fn go_on(booking: &Booking, record: &Record) -> String {
    format!("{GO_ON}: {}", title(booking, record))
}

/// What heights count from.
#[must_use]
pub fn counted_from(label: &str, above: Length, source: &str, units: UnitSystem) -> String {
    let source = if source.is_empty() { String::new() } else { format!(", {source}") };
    format!("{label}, {}{source}", height(above, units))
}

/// The height that others count from is assumed.
#[must_use]
pub fn nobody_said(label: &str) -> String {
    format!("Nobody said how high anything is. {label} counts as 100 until you say otherwise.")
}

/// What the user should know.
#[must_use]
pub fn finding(finding: &LevelFinding, record: &Record) -> String {
    let units = record.site.units;
    let label = |id: &PointId| record.label(id).to_owned();
    match finding {
        LevelFinding::DatumAssumed { point } => nobody_said(record.label(point)),
        LevelFinding::MixedUnits { rods, tapes } => format!(
            "Rods are read in {}, tapes in {}. 5.6 ft is 5' 7 1/4\", not 5' 6\": keep them apart when you type.",
            super::capture::units(*rods),
            super::capture::units(*tapes)
        ),
        LevelFinding::Apart { points } => {
            let labels: Vec<String> = points.iter().map(label).collect();
            format!(
                "{} were levelled, but nothing joins them to the rest: they have no height. From one set-up read one \
                 of them and a point that has a height.",
                list(&labels)
            )
        }
        LevelFinding::Suspect { point, observed, expected, rivals, causes, .. } => {
            let told = format!(
                "{} reads {}; the others make it {}.",
                label(point),
                length(observed.abs(), units),
                length(expected.abs(), units)
            );
            let or = match rivals.len() {
                0 => String::new(),
                1 => " Or it is another reading that fits as badly.".to_owned(),
                n => format!(" Or it is one of {n} other readings that fit as badly."),
            };
            let why = causes.first().map(|cause| format!(" {}", super::happened(&cause.slip, record)));
            format!("{told}{}{or}", why.unwrap_or_default())
        }
    }
}

/// A set-up on its line: `2: hand level, 4 readings`.
#[must_use]
pub fn set_up(number: usize, setup: &SetUp, record: &Record) -> String {
    let labels = |id: &PointId| record.label(id).to_owned();
    let ends = match (setup.rods.first(), setup.rods.last()) {
        (Some(first), Some(last)) if setup.rods.len() > 1 => {
            format!(", {} to {}", labels(&first.point), labels(&last.point))
        }
        (Some(first), _) => format!(", {}", labels(&first.point)),
        _ => String::new(),
    };
    format!("{number}: {}, {}{ends}", short(setup.with), count(setup.rods.len(), "reading", "readings"))
}

/// One reading of a set-up: `PK2 5' 5"`.
#[must_use]
pub fn reading(said: &LevelReading, record: &Record) -> String {
    let above = if said.overhead { ", rod upside down" } else { "" };
    format!("{} {}{above}", record.label(&said.point), said.reading.text)
}

/// How well it fits the others.
#[must_use]
pub fn fits(levelled: &Levelled, units: UnitSystem) -> String {
    match levelled.smallest_detectable {
        None => NOT_PROVED.to_owned(),
        Some(shows) => format!(
            "off {}; a misread of {} or more would show",
            small(levelled.residual.abs(), units),
            small(shows, units)
        ),
    }
}

/// A point reached a second time.
#[must_use]
pub fn closing(closing: &Closing, record: &Record) -> String {
    let units = record.site.units;
    let (off, allowed) = (small(closing.by.abs(), units), small(closing.allowed, units));
    let label = record.label(&closing.point);
    let after = count(closing.setups, "set-up", "set-ups");
    if closing.closes() {
        format!("Back on {label} after {after}: {off} off. Up to {allowed} is fine.")
    } else {
        format!(
            "Back on {label} after {after}: {off} off. Only up to {allowed} is chance: look for a misread."
        )
    }
}

/// Which way and how steep, as name and value.
#[must_use]
pub fn slope_figures(
    slope: Slope,
    [rise, rise_sd]: [Length; 2],
    [run, run_sd]: [Length; 2],
    units: UnitSystem,
) -> Vec<(&'static str, String)> {
    let within = |sd: Length| small(sd * 1.96, units);
    // First order: the slope's own spread from those of rise and run.
    let share = swingtie_core::units::float::hypot(rise_sd / run, (rise / run) * (run_sd / run)) * 196.0;
    let (metric, per_foot) = (units == UnitSystem::Metres, slope.inches_per_foot().abs());
    let steep = if metric {
        ("Millimetres in a metre", fixed(slope.percent().abs() * 10.0, 0))
    } else {
        ("Inches in a foot", fixed(per_foot, 2))
    };
    vec![
        (
            if rise < Length::ZERO { "Falls by" } else { "Rises by" },
            format!("{} ± {}", small(rise.abs(), units), within(rise_sd)),
        ),
        ("Level distance", format!("{} ± {}", length(run, units), within(run_sd))),
        ("Per cent", format!("{} ± {}", fixed(slope.percent().abs(), 2), fixed(share, 2))),
        steep,
        (
            "Ratio",
            slope.one_in().map_or_else(|| "level".to_owned(), |n| format!("1 in {}", fixed(n.abs(), 0))),
        ),
        ("Angle", format!("{}°", fixed(slope.angle().degrees().abs(), 1))),
    ]
}

/// Which way it falls.
#[must_use]
pub fn falls(slope: Slope, [from, to]: [&str; 2], certain: bool) -> String {
    let (high, low) = if slope.percent() < 0.0 { (from, to) } else { (to, from) };
    if certain {
        format!("It falls from {high} to {low}.")
    } else {
        format!("{from} and {to} lie too nearly level to say which way it falls.")
    }
}

/// The sums of a page, and whether they agree.
#[must_use]
pub fn sums(sums: &swingtie_core::levels::Sums, units: UnitSystem) -> String {
    let write = |by: Length| format_length(by, height_style(units));
    let agree = if sums.agree() { "They agree: the sums are right." } else { "They do not agree." };
    format!(
        "Sum of backsights less foresights {}, of rises less falls {}, last less first height {}. {agree}",
        write(sums.back - sums.fore),
        write(sums.rise - sums.fall),
        write(sums.height)
    )
}

/// What the book says beside a level reading: the height it gives, and whether the others agree.
#[must_use]
pub fn verdict(
    entry: &swingtie_core::record::EntryId,
    levels: &Levels,
    record: &Record,
) -> Option<(&'static str, String)> {
    let units = record.site.units;
    let read = levels.readings.iter().find(|r| r.entry == *entry)?;
    let known = levels.points.get(&read.point)?;
    let told = lies_at(record.label(&read.point), known.above, units);
    let suspect = levels.findings.iter().any(|f| match f {
        LevelFinding::Suspect { entry: e, rivals, .. } => e == entry || rivals.contains(entry),
        _ => false,
    });
    Some(if suspect {
        ("▲", format!("{told}; does not agree with the others"))
    } else if read.smallest_detectable.is_some() {
        ("✓", format!("{told}; agrees within {}", small(read.residual.abs(), units)))
    } else {
        ("○", format!("{told}; not checked by another reading"))
    })
}
