//! Where on earth the site is, and where north.

use swingtie_core::record::UnitSystem;
use swingtie_core::units::format::{format_bearing, format_number};
use swingtie_core::units::{Angle, Length, SURE, day as day_said};

// Anchor.
pub const PLACE: &str = "Place on the map";
pub const PLACE_HINT: &str =
    "Where one point is on earth, so that the plan can be laid over a map. Good to a few metres only.";
pub const AT_POINT: &str = "At which point";
pub const LATITUDE: &str = "Latitude, degrees north";
pub const LONGITUDE: &str = "Longitude, degrees east";
pub const ACCURACY: &str = "Good to within";
pub const ACCURACY_HINT: &str = "A radius that holds the true place in 95 of 100 cases, with its unit, such as 5 m or 15 ft. \
     A phone's mean is no better than a few metres, however long it listens. Leave it empty if you do not know it.";
pub const USE_POSITION: &str = "Use this phone's position";
pub const LISTENING: &str = "Stand still at the point for 8 seconds…";
pub const SAVE_PLACE: &str = "Save place";
pub const TYPED: &str = "typed";
pub const PICK_POINT: &str = "Pick a point.";
pub const BAD_LATITUDE: &str = "Latitude is a number from -90 to 90, such as 45.0123.";
pub const BAD_LONGITUDE: &str =
    "Longitude is a number from -180 to 180; west of Greenwich is minus, such as -93.4567.";
pub const BAD_ACCURACY: &str = "How good the place is, is a length above nothing, such as 5 m or 15 ft.";

// A second known point.
pub const SECOND: &str = "A second known point";
pub const SECOND_HINT: &str = "Proves the plan's size, and gives north when both points are far apart and well known: \
     with a phone's 5 m each, 65 m apart. The first point stays the one the plan hangs on.";
pub const ADD_SECOND: &str = "Add a second known point";
pub const SECOND_POINT: &str = "Which second point";
pub const SECOND_LATITUDE: &str = "Latitude of the second point";
pub const SECOND_LONGITUDE: &str = "Longitude of the second point";
pub const SECOND_ACCURACY: &str = "The second point is good to within";
pub const USE_SECOND_POSITION: &str = "Use this phone's position for the second point";
pub const SAVE_SECOND: &str = "Save second point";
pub const REMOVE_SECOND: &str = "Remove the second point";
pub const SAME_POINT: &str = "Pick another point than the first.";
pub const NOT_KNOWN_HOW_GOOD: &str = "Say how good both places are: north can be taken from them then.";
pub const ONE_PLACE: &str = "Both points are at the same place on the map.";

/// Another point than the anchor's was entered in its form; `second` is the second known point that would go.
pub fn other_point(first: &str, new: &str, second: Option<&str>) -> String {
    let asked = say!("{first} already has its place on the map. Nothing is saved yet: what of {new}?");
    match second {
        Some(second) => say!("{asked} As the second point it takes the place of {second}."),
        None => asked,
    }
}

/// The new point takes the place of the old one.
pub fn replace_point(first: &str) -> String {
    say!("Replace {first}")
}

/// Both points are kept.
pub fn keep_point(first: &str, new: &str) -> String {
    say!("Keep {first}, make {new} the second point")
}

// North.
pub const NORTH: &str = "North";
pub const NORTH_HINT: &str = "The bearing of one line, clockwise from north. Keep the compass away from cars, fences and the tape's steel.";
pub const NORTH_KIND: &str = "Counted from";
pub const NORTH_FROM: &str = "Line from";
pub const NORTH_TO: &str = "Line to";
pub const BEARING: &str = "Bearing, degrees";
pub const DECLINATION: &str = "Declination, degrees east";
pub const DECLINATION_HINT: &str =
    "How far the needle points east of true north here; west is minus. Leave it empty if you do not know it.";
pub const DECLINATION_NEEDS_PLACE: &str = "Say where one point is on earth, above, and the date of the visit: the World Magnetic Model gives it then.";
pub const DECLINATION_NEEDS_DAY: &str =
    "Say the date of the visit, above, and save it: the World Magnetic Model gives it then.";
pub const BAD_DECLINATION: &str = "Declination is a number from -90 to 90; west is minus.";
pub const TRUE_NORTH: &str = "True north";
pub const MAGNETIC_NORTH: &str = "Magnetic north";
pub const SHADOW: &str = "Sun's shadow";
pub const SAVE_NORTH: &str = "Save north";
pub const TWO_POINTS: &str = "Pick two different points.";
pub const BAD_BEARING: &str = "A bearing is a number from 0 to 360.";

// North by the sun.
pub const SHADOW_HINT: &str = "Hang a plumb line or hold a straight pole upright. The line goes from its foot to the tip \
     of its shadow, along the shadow's middle; slope does not matter. The longer, the better.";
pub const SUN_CAUTION: &str = "Never look into the sun, not through dark glass either: look at the shadow.";
pub const SHADOW_DAY: &str = "Day of the shadow";
pub const SHADOW_TIME: &str = "Time of the shadow";
pub const SHADOW_NOW: &str = "The shadow lies there now";
pub const SHADOW_NEEDS_PLACE: &str =
    "Say first where one point is on earth, above: where the sun stands hangs on it.";
pub const BAD_TIME: &str = "Say the day and the minute, such as 15:20, or take the phone's clock.";

/// Where an averaged position comes from.
pub fn averaged(readings: usize) -> String {
    say!("phone, average of {}", super::count(readings, "reading", "readings"))
}

/// Where a position comes from.
pub fn source_line(source: &str) -> String {
    say!("Source: {source}")
}

/// How good a place is, as it stands in its field: to a tenth, with its unit.
pub fn accuracy(reach: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metres => say!("{} m", format_number(reach.metres(), 1)),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => say!("{} ft", format_number(reach.feet(), 1)),
    }
}

/// The phone told no position.
pub fn no_position(why: &str) -> String {
    say!("The phone did not tell its position: {why}. Type latitude and longitude instead.")
}

/// Where a true bearing comes from that was read off a compass.
pub fn compass_source(magnetic: f64, east: f64) -> String {
    say!("compass {}°, declination {}° east", format_number(magnetic, 1), format_number(east, 1))
}

/// What 95 of 100 bearings are within.
fn reach(sd: Angle) -> String {
    say!("±{}° (95 of 100)", format_number((SURE * sd.degrees()).max(0.1), 1))
}

/// Where a true bearing comes from that a shadow gave; `when` is a moment with its zone.
pub fn shadow_source(when: &str, sun: Angle) -> String {
    say!("sun's shadow, {when}, sun bore {}", format_bearing(sun, 1))
}

/// What a shadow tells: where the sun stood, and which way the line goes.
pub fn shadow_told(sun: Angle, height: Angle, line: Angle, sd: Angle) -> String {
    say!(
        "The sun bears {} and stands {}° high; so the line bears {}, {}.",
        format_bearing(sun, 1),
        format_number(height.degrees(), 0),
        format_bearing(line, 1),
        reach(sd)
    )
}

/// A moment as it was typed, with the phone's zone: `9 May 2026 15:20 (UTC-7)`.
pub fn moment(day: &str, time: &str, minutes_east: i32) -> String {
    say!("{} {} ({})", day_said(day), time.trim(), zone(minutes_east))
}

/// What counts where the declination is left empty.
pub fn declination_by_model(east: Angle, sd: Angle, day: &str) -> String {
    let way = if east.radians() < 0.0 { "west" } else { "east" };
    say!(
        "Left empty: {}° {way} ± {}° by the World Magnetic Model for {}. A hand compass itself is good to about ±2° at \
         best.",
        format_number(east.degrees().abs(), 1),
        format_number(SURE * sd.degrees(), 1),
        day_said(day)
    )
}

/// What the model would need to say the declination, or why it cannot.
pub fn no_declination(why: &str) -> String {
    say!("Left empty: not known yet. {why}")
}

/// The phone's zone is far from the place's longitude, in degrees east.
pub fn zone_far_off(minutes_east: i32, longitude: f64) -> String {
    let hours = format_number(longitude / 15.0, 0);
    let sign = if hours.starts_with('-') { "" } else { "+" };
    say!(
        "By its longitude this place would keep about UTC{sign}{hours}, but this phone's zone is {}. Is the time zone \
         right?",
        zone(minutes_east)
    )
}

/// Times are the phone's: which zone that is.
pub fn phone_zone(minutes_east: i32) -> String {
    say!("By this phone's time zone: {}.", zone(minutes_east))
}

/// `UTC-7`, `UTC+5:30`.
fn zone(minutes_east: i32) -> String {
    let (sign, size) = (if minutes_east < 0 { '-' } else { '+' }, minutes_east.abs());
    match (size / 60, size % 60) {
        (0, 0) => say!("UTC"),
        (hours, 0) => say!("UTC{sign}{hours}"),
        (hours, minutes) => say!("UTC{sign}{hours}:{minutes:02}"),
    }
}

/// A length between places that are not known to the inch.
fn roughly(length: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metres => say!("About {} m", format_number(length.metres(), 0)),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => {
            say!("About {} ft", format_number(length.feet(), 0))
        }
    }
}

/// Saved, and what follows from it.
pub fn saved_and(told: &[String]) -> String {
    say!("{}. {}", super::SAVED, told.join(" "))
}

/// How far apart two known points are, on the map and in the plan; `rough` where the places are not known to the inch.
pub fn apart(on_earth: Length, rough: bool, in_plan: Option<Length>, units: UnitSystem) -> String {
    let far = if rough { roughly(on_earth, units) } else { super::length(on_earth, units) };
    let map = say!("{far} apart on the map");
    match in_plan {
        Some(plan) => say!("{map}, {} in the plan.", super::length(plan, units)),
        None => say!("{map}."),
    }
}

/// What two known points say of north, and whether that counts: `need` is how far apart they must be, where they are not.
pub fn north_of_two(
    bearing: Angle,
    sd: Angle,
    need: Option<Length>,
    said: bool,
    units: UnitSystem,
) -> String {
    let found = say!("From the first to the second it bears {}, {}", format_bearing(bearing, 1), reach(sd));
    match need {
        Some(need) => say!(
            "{found}: no better than a compass. North is taken from points {} apart, or better known.",
            super::length(need, units)
        ),
        None if said => say!("{found}. The true north that was said counts for more."),
        None => say!("{found}: north is taken from it."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moment_is_said_with_its_zone() {
        for (day, time, east, said) in [
            ("2026-05-09", "15:20", -420, "9 May 2026 15:20 (UTC-7)"),
            ("2026-12-31", "09:05:30", 330, "31 December 2026 09:05:30 (UTC+5:30)"),
            ("2026-05-09", "15:20", 0, "9 May 2026 15:20 (UTC)"),
            ("soon", "15:20", -30, "soon 15:20 (UTC-0:30)"),
        ] {
            assert_eq!(moment(day, time, east), said);
        }
    }

    #[test]
    fn a_shadow_says_where_the_sun_stood() {
        let [sun, height, line, sd] = [231.44, 38.2, 51.44, 0.3].map(Angle::from_degrees);
        assert_eq!(shadow_source("9 May 2026 15:20", sun), "sun's shadow, 9 May 2026 15:20, sun bore 231.4°");
        let told = "The sun bears 231.4° and stands 38° high; so the line bears 51.4°, ±0.6° (95 of 100).";
        assert_eq!(shadow_told(sun, height, line, sd), told);
    }
}
