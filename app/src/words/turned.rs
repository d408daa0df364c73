//! Sentences for angles, bearings, relations of two lines, arcs and girths.

use super::side_name;
use swingtie_core::record::{Measurement, NorthKind, PointId, Rotation};

/// Such a measurement in one line; empty for the other kinds, which have words of their own.
pub fn turned(measurement: &Measurement, name: &dyn Fn(&PointId) -> String) -> String {
    match measurement {
        Measurement::Angle { at, from, to, reading, turn, .. } => {
            let turn = match turn {
                Rotation::Clockwise => "clockwise",
                Rotation::CounterClockwise => "counter-clockwise",
            };
            format!("At {} from {} to {}: {} {turn}", name(at), name(from), name(to), reading.text)
        }
        Measurement::Bearing { from, to, reading, north, .. } => {
            let north = match north {
                NorthKind::True => "true north",
                NorthKind::Magnetic => "the compass",
            };
            format!("{} from {}: {} by {north}", name(to), name(from), reading.text)
        }
        Measurement::Parallel { one: [a, b], other: [c, d], .. } => {
            format!("{}–{} is parallel to {}–{}", name(a), name(b), name(c), name(d))
        }
        Measurement::SameLength { one: [a, b], other: [c, d], .. } => {
            format!("{}–{} is as long as {}–{}", name(a), name(b), name(c), name(d))
        }
        Measurement::Arc { from, to, rise, side } => {
            let side = side_name(*side);
            format!("{} to {} bows {} to the {side}", name(from), name(to), rise.text)
        }
        Measurement::ArcThrough { from, through, to } => {
            format!("{} to {} bows through {}", name(from), name(to), name(through))
        }
        Measurement::Girth { point, reading, .. } => format!("Round {}: {}", name(point), reading.text),
        _ => String::new(),
    }
}
