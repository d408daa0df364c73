//! What the forms of things, problems and marks say.

use super::capture::rounded_up;
use swingtie_core::record::{Attribute, Row, Sort, diameter_of};
use swingtie_core::units::{Length, UnitSystem};

/// Behind it stand the rows asked seldom.
pub const MORE: &str = "More";
/// As [`MORE`], of a thing.
pub const MORE_OF_THING: &str = "More: keep or remove, name, note";
/// A line or outline that is no polygon.
pub const CURVED: &str = "smooth line";
/// Over keep, move, remove and ask.
pub const FATE: &str = "what shall become of it";
/// Under the tolerance zone's row.
pub const TOLERANCE_NOTE: &str = "If not typed: 24 in (610 mm) each side, the wider of the widths one-call \
    centres publish (18 in: Mississippi, Texas; 24 in: Florida). Local law decides.";
/// Where the colours come from.
pub const COLOUR_SOURCE: &str =
    "Colours by the APWA Uniform Color Code, as one-call centres publish it. Other countries use others.";
/// A value that is kept though it is unusual.
pub fn keep(value: &str) -> String {
    say!("Keep {value}")
}
/// A value is typed anew.
pub const TYPE_AGAIN: &str = "Type again";
/// The pad is done.
pub const DONE: &str = "Done";

/// Nothing said, or what was said.
#[must_use]
pub fn value(said: Option<&Attribute>) -> String {
    match said {
        None => "—".to_owned(),
        Some(Attribute::Length(reading)) => reading.text.clone(),
        Some(Attribute::Text(text)) => text.clone(),
    }
}

/// What a girth comes to, in the site's units.
#[must_use]
pub fn girth_is(said: Option<&Attribute>, units: UnitSystem) -> Option<String> {
    match said {
        Some(Attribute::Length(girth)) => {
            Some(say!("{} through", super::length(diameter_of(girth.value), units)))
        }
        _ => None,
    }
}

/// Why a value is asked about.
#[must_use]
pub fn unusual(row: &Row, value: &str, units: UnitSystem) -> String {
    let (least, most) = match row.sort {
        Sort::Length { least, most } => (
            if least > Length::ZERO { rounded_up(least, units) } else { "0".to_owned() },
            rounded_up(most, units),
        ),
        Sort::Count { least, most } => (least.to_string(), most.to_string()),
        Sort::Percent { most } => ("0".to_owned(), say!("{most} %")),
        Sort::Degrees { most } => ("0".to_owned(), say!("{most}°")),
        _ => return say!("{value}? That is unusual here."),
    };
    say!("{value}? Mostly it is between {least} and {most}.")
}

// Problems.
pub const SPREAD: &str = "How it lies at these points";
/// At each of the points.
pub const SPREAD_POINTS: &str = "at the points";
/// Along a line.
pub const SPREAD_LINE: &str = "along the line";
/// Over an area.
pub const SPREAD_AREA: &str = "over the area";
pub const MEASURED: &str = "What you measured";
pub const TAP_WHERE: &str = "Tap a point to pick it, or the ground for a new point there.";
pub const SHOW_PLAN: &str = "Pick on the plan";
pub const HIDE_PLAN: &str = "Close the plan";
pub const TAPE_POINT: &str = "Tape a new point";
pub const TAPE_POINT_HINT: &str = "What is entered here stays. Come back to this form when it is taped.";
pub const EDIT: &str = "Edit";
pub const EDIT_PROBLEM: &str = "Edit a problem";

/// The name of an edit button.
pub fn edit_named(name: &str) -> String {
    say!("Edit {name}")
}

/// What to do next about a problem: a hint, no judgment.
pub fn what_next(next: &str) -> String {
    say!("Next: {next}")
}

// Things.
pub const THINGS: &str = "Things in the yard";
pub const NO_THINGS: &str = "Nothing recorded yet. Add a thing on the plan.";

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::asked;

    // 4 ft 2 in round is 50 in: 50 / π = 15.9 in through (worked by hand).
    #[test]
    fn a_girth_says_what_it_comes_to() {
        let girth = swingtie_core::record::Reading::read("4' 2\"", UnitSystem::FeetInches.into()).unwrap();
        let said = girth_is(Some(&Attribute::Length(girth)), UnitSystem::DecimalFeet).unwrap();
        assert!(said.starts_with("1.33 ft"), "{said}");
        assert_eq!(girth_is(None, UnitSystem::Metres), None);
    }

    #[test]
    fn an_unusual_value_is_told_what_is_usual() {
        let risers = asked("steps").row("risers").unwrap();
        let told = unusual(risers, "44", UnitSystem::FeetInches);
        assert_eq!(told, "44? Mostly it is between 1 and 30.");
    }
}
