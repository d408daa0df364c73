//! The book beside the plan, one entry of it, and the points in words.

use super::capture;
use swingtie_core::language::tr;
use swingtie_core::network::{Adjustment, PointState};
use swingtie_core::plan::PlacedPoint;
use swingtie_core::record::{Point, Record};

pub const ITS_POINTS: &str = "Its points";
pub const PART_OF: &str = "What it belongs to";
pub const ASK_ABOUT: &str = "Ask about it";

/// An entry by its number.
pub fn entry(number: usize) -> String {
    say!("Entry {number}")
}

/// A point by its label.
pub fn point(label: &str) -> String {
    say!("Point {label}")
}

/// From where the points' figures count, where anything is placed.
pub fn counted_from(adjustment: &Adjustment, record: &Record) -> Option<String> {
    let (at, toward) = adjustment.held.as_ref()?;
    let (at, toward) = (record.label(at), record.label(toward));
    Some(say!("x and y count from {at}, x toward {toward}, y to the left of it."))
}

/// A point in the list of points.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct PointLine {
    /// What it is called.
    pub label: String,
    /// How well it is known.
    pub told: String,
    /// What was noted of it.
    pub note: String,
    /// Where it is.
    pub place: String,
}

/// What the list says of a point: in words what the drawing shows of it.
pub fn point_line(point: &Point, placed: Option<&PlacedPoint>, record: &Record) -> PointLine {
    let units = record.site.units;
    let known = placed.filter(|placed| placed.state != PointState::Loose);
    let sure = known.filter(|placed| placed.state != PointState::Disputed).and_then(|placed| placed.ellipse);
    let mut told = tr(placed.map_or(PointState::Loose, |placed| placed.state).word()).to_owned();
    if let Some(ellipse) = sure.filter(|ellipse| ellipse.semi_major.metres() > 0.0) {
        told = say!("{told}, {}", capture::within(ellipse.semi_major, units));
    }
    let place = match (known, placed) {
        (Some(known), _) => {
            let (x, y) = (capture::length(known.at.x, units), capture::length(known.at.y, units));
            say!("x {x}, y {y}")
        }
        (None, Some(_)) => say!("Only about where it is drawn"),
        (None, None) => say!("No place on the plan yet"),
    };
    PointLine { label: point.label.clone(), told, note: point.note.clone(), place }
}
