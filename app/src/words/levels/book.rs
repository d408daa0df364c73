//! Set-ups, closings, the level book and slopes in words.

pub use swingtie_core::levels::words::{closing_error, figure, sums};

use super::{NOT_PROVED, lies_at, short, small};
use crate::words::{count, length};
use swingtie_core::language::tr;
use swingtie_core::levels::{Closing, LevelFinding, Levelled, Levels, SetUp, Slope};
use swingtie_core::record::{EntryId, LevelReading, PointId, Record, UnitSystem};
use swingtie_core::units::format::{format_number, half_up};
use swingtie_core::units::{Length, LengthStyle, SURE, format_length};

/// A set-up on its line: `2: hand level, 4 readings`.
#[must_use]
pub fn set_up(number: usize, setup: &SetUp, record: &Record) -> String {
    let labels = |id: &PointId| record.label(id).to_owned();
    let ends = match (setup.rods.first(), setup.rods.last()) {
        (Some(first), Some(last)) if setup.rods.len() > 1 => {
            say!(", {} to {}", labels(&first.point), labels(&last.point))
        }
        (Some(first), _) => say!(", {}", labels(&first.point)),
        _ => String::new(),
    };
    say!("{number}: {}, {}{ends}", short(setup.with), count(setup.rods.len(), "reading", "readings"))
}

/// One reading of a set-up: `PK2 5' 5"`.
#[must_use]
pub fn reading(said: &LevelReading, record: &Record) -> String {
    let above = if said.overhead { ", rod upside down" } else { "" };
    say!("{} {}{above}", record.label(&said.point), said.reading.text)
}

/// How well it fits the others.
#[must_use]
pub fn fits(levelled: &Levelled, units: UnitSystem) -> String {
    match levelled.smallest_detectable {
        None => tr(NOT_PROVED).to_owned(),
        Some(shows) => say!(
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
        say!("Back on {label} after {after}: {off} off. Up to {allowed} is fine.")
    } else {
        say!("Back on {label} after {after}: {off} off. Only up to {allowed} is chance: look for a misread.")
    }
}

/// A distance no finer than its doubt.
fn rounded(run: Length, most: Length, units: UnitSystem) -> String {
    if most.metres() <= 0.0 {
        return length(run, units);
    }
    let decimals = |of: f64| if of < 0.02 { 3 } else { u8::from(of < 1.0) + u8::from(of < 0.1) };
    match units {
        UnitSystem::FeetInches => {
            let finest = [8, 4, 2].into_iter().find(|n| most.inches() * f64::from(*n) < 2.0).unwrap_or(1);
            format_length(run, LengthStyle::FeetInches { finest })
        }
        UnitSystem::DecimalFeet => say!("{} ft", half_up(run.feet(), decimals(most.feet()))),
        UnitSystem::Metres => say!("{} m", half_up(run.metres(), decimals(most.metres()))),
    }
}

/// Which way and how steep, as name and value. No spread where readings contradict.
#[must_use]
pub fn slope_figures(
    slope: Slope,
    [rise, rise_sd]: [Length; 2],
    [run, run_sd]: [Length; 2],
    in_doubt: bool,
    units: UnitSystem,
) -> Vec<(&'static str, String)> {
    let within = |sd: Length| small(sd * SURE, units);
    // First order: the slope's own spread from those of rise and run.
    let share = swingtie_core::units::float::hypot(rise_sd / run, (rise / run) * (run_sd / run)) * 196.0;
    let decimals = if share < 0.1 { 3 } else { 2 };
    let and = |value: String, spread: String| {
        if in_doubt { say!("{value}, in doubt") } else { say!("{value} ± {spread}") }
    };
    let (metric, per_foot) = (units == UnitSystem::Metres, slope.inches_per_foot().abs());
    let steep = if metric {
        ("Millimetres in a metre", format_number(slope.percent().abs() * 10.0, 0))
    } else {
        ("Inches in a foot", format_number(per_foot, 2))
    };
    vec![
        (
            if rise < Length::ZERO { "Falls by" } else { "Rises by" },
            and(small(rise.abs(), units), within(rise_sd)),
        ),
        ("Level distance", say!("{} ± {}", rounded(run, run_sd * SURE, units), within(run_sd))),
        ("Per cent", and(format_number(slope.percent().abs(), decimals), format_number(share, decimals))),
        steep,
        (
            "Ratio",
            slope.one_in().map_or_else(|| "level".to_owned(), |n| say!("1 in {}", format_number(n.abs(), 0))),
        ),
        ("Angle", say!("{}°", format_number(slope.angle().degrees().abs(), 1))),
    ]
}

/// Which way it falls.
#[must_use]
pub fn falls(slope: Slope, [from, to]: [&str; 2], certain: bool) -> String {
    let (high, low) = if slope.percent() < 0.0 { (from, to) } else { (to, from) };
    if certain {
        say!("It falls from {high} to {low}.")
    } else {
        say!("{from} and {to} lie too nearly level to say which way it falls.")
    }
}

/// What the book says beside a level reading: the height it gives, and whether the others agree.
#[must_use]
pub fn verdict(entry: &EntryId, levels: &Levels, record: &Record) -> Option<(&'static str, String)> {
    let units = record.site.units;
    let read = levels.readings.iter().find(|r| r.entry == *entry)?;
    let known = levels.points.get(&read.point)?;
    let told = lies_at(record.label(&read.point), known, units);
    let named = |f: &LevelFinding| matches!(f, LevelFinding::Suspect { entry: e, rivals, .. } if e == entry && rivals.is_empty());
    Some(if levels.findings.iter().any(named) {
        ("▲", say!("{told}; does not agree with the others"))
    } else if levels.doubted.contains(entry) {
        ("▲", say!("{told}; this or another reading is wrong"))
    } else if read.strays() {
        ("…", say!("{told}; pulled aside by the reading in doubt"))
    } else if read.smallest_detectable.is_some() {
        let by = small(read.residual.abs(), units);
        let told = if by == small(Length::ZERO, units) {
            say!("{told}; agrees")
        } else {
            say!("{told}; agrees within {by}")
        };
        ("✓", told)
    } else {
        ("○", say!("{told}; not checked by another reading"))
    })
}
