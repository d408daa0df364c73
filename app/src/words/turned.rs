//! Sentences for angles, bearings, relations of two lines, arcs and girths.

use super::side_name;
use swingtie_core::record::{Measurement, NorthKind, PointId, Rotation};

/// Such a measurement in one line; empty for the other kinds, which have words of their own.
pub fn turned(measurement: &Measurement, name: &dyn Fn(&PointId) -> String) -> String {
    let [a, b, c, d] = &{
        let mut points = measurement.points().into_iter().map(name);
        [(); 4].map(|()| points.next().unwrap_or_default())
    };
    match measurement {
        Measurement::Angle { reading, turn, .. } => angle([a, b, c], &reading.text, rotation(*turn)),
        Measurement::Bearing { reading, north, .. } => bearing([a, b], &reading.text, north_of(*north)),
        Measurement::Parallel { .. } => parallel([a, b, c, d]),
        Measurement::SameLength { .. } => same_length([a, b, c, d]),
        Measurement::Arc { rise, side, .. } => arc([a, b], &rise.text, side_name(*side)),
        Measurement::ArcThrough { .. } => arc_through([a, b, c]),
        Measurement::Girth { reading, .. } => girth(a, &reading.text),
        _ => String::new(),
    }
}

/// Which way an angle is turned.
pub const fn rotation(turn: Rotation) -> &'static str {
    match turn {
        Rotation::Clockwise => "clockwise",
        Rotation::CounterClockwise => "counter-clockwise",
    }
}

/// What tells north.
pub const fn north_of(north: NorthKind) -> &'static str {
    match north {
        NorthKind::True => "true north",
        NorthKind::Magnetic => "the compass",
    }
}

/// An angle turned.
pub fn angle([at, from, to]: [&str; 3], reading: &str, turn: &str) -> String {
    say!("At {at} from {from} to {to}: {reading} {turn}")
}

/// A bearing.
pub fn bearing([from, to]: [&str; 2], reading: &str, north: &str) -> String {
    say!("{to} from {from}: {reading} by {north}")
}

/// Two parallel lines.
pub fn parallel([a, b, c, d]: [&str; 4]) -> String {
    say!("{a}–{b} is parallel to {c}–{d}")
}

/// Two equal lengths.
pub fn same_length([a, b, c, d]: [&str; 4]) -> String {
    say!("{a}–{b} is as long as {c}–{d}")
}

/// An arc by its rise.
pub fn arc([from, to]: [&str; 2], rise: &str, side: &str) -> String {
    say!("{from} to {to} bows {rise} to the {side}")
}

/// An arc through a point.
pub fn arc_through([from, through, to]: [&str; 3]) -> String {
    say!("{from} to {to} bows through {through}")
}

/// A girth.
pub fn girth(point: &str, reading: &str) -> String {
    say!("Round {point}: {reading}")
}
