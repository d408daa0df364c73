//! The resolved geometry of everything recorded: what screen, sheet and GeoJSON draw from.
//!
//! Coordinates are the network's local frame (x along the held direction, y to its left, metres).

pub mod amounts;
mod arc;
mod build;
mod ground;
mod outside;
mod photos;
mod pointing;
pub mod quantities;
mod sketched;
mod smooth;

pub use arc::{Arc, radius_of};
pub(crate) use build::north_said;
pub(crate) use ground::built;
pub(crate) use ground::stood;
pub use ground::{Fall, Ground, SpotHeight};
pub use photos::{PlacedPhoto, looks, on_plan, place_of, placed_photos};
pub use pointing::{bearing_of, pointing};
pub use sketched::{Frame, with_sketch};

use crate::network::{Ellipse, Freedom, PointState};
use crate::record::{EntryId, Fate, MarkColour, NorthKind, PointId, Severity};
use crate::units::{Angle, Length, PlanPoint};

/// A point to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedPoint {
    /// The point.
    pub id: PointId,
    /// Its label.
    pub label: String,
    /// Its note.
    pub note: String,
    /// Where to draw it: adjusted, or guessed while loose.
    pub at: PlanPoint,
    /// How well it is known; loose means that `at` is only a guess.
    pub state: PointState,
    /// Its 95 % ellipse.
    pub ellipse: Option<Ellipse>,
    /// In which way it is free, while loose.
    pub freedom: Option<Freedom>,
}

/// The outline of a shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// One place with a symbol.
    Spot(PlanPoint),
    /// An open line.
    Line(Vec<PlanPoint>),
    /// A closed outline; the first place is not repeated.
    Area(Vec<PlanPoint>),
    /// A circle: trunk or canopy.
    Circle {
        /// The centre.
        centre: PlanPoint,
        /// Radius of the inner ring (trunk, stump); none when not recorded.
        inner: Option<Length>,
        /// Radius of the outer ring (canopy, shrub); none when not recorded.
        outer: Option<Length>,
    },
}

/// What a shape is.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// A feature of the catalogue, by its key.
    Feature(String),
    /// A utility mark.
    Mark {
        /// The colour as seen.
        colour: MarkColour,
        /// The letters on it.
        letters: String,
    },
}

/// A feature or utility mark to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// The entry that recorded it.
    pub entry: EntryId,
    /// What it is.
    pub what: What,
    /// What to call it: its name, else its kind's name.
    pub title: String,
    /// Its geometry.
    pub outline: Outline,
    /// Whether every point of it is determined.
    pub certain: bool,
    /// Told by somebody, not measured.
    pub told: bool,
    /// How far to each side of a utility mark's line the ground is taken for the line's own.
    pub zone: Option<Length>,
    /// What shall become of it.
    pub fate: Option<Fate>,
    /// Its note.
    pub note: String,
}

/// A taped length between two drawn points, for dimensions and the screen's tie lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Taped {
    /// The entry.
    pub entry: EntryId,
    /// Which row of it.
    pub part: usize,
    /// From.
    pub from: PointId,
    /// To.
    pub to: PointId,
    /// Where from.
    pub from_at: PlanPoint,
    /// Where to.
    pub to_at: PlanPoint,
    /// The reading as written.
    pub text: String,
    /// The reading.
    pub length: Length,
    /// Whether it runs along a wall or edge (run, wall walk), as against a tie across the yard.
    pub along: bool,
}

/// A problem to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedProblem {
    /// The entry.
    pub entry: EntryId,
    /// Its number on sheet and screen, from 1.
    pub number: usize,
    /// Where; none when it belongs to the whole site or to a point not placed yet.
    pub at: Option<PlanPoint>,
    /// The line or area it lies along or over, when it was said and has a place.
    pub outline: Option<Outline>,
    /// Key of its kind.
    pub kind: String,
    /// How bad.
    pub severity: Severity,
    /// What was seen.
    pub note: String,
}

/// The smallest upright box around everything drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Lower left.
    pub min: PlanPoint,
    /// Upper right.
    pub max: PlanPoint,
}

/// Where north is in the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct NorthArrow {
    /// Direction of north, counter-clockwise from the plan's x.
    pub direction: Angle,
    /// True or magnetic.
    pub kind: NorthKind,
    /// Where it comes from.
    pub source: String,
    /// Its standard deviation, where it is known.
    pub sd: Option<Angle>,
}

/// Everything to draw.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// Points that have a place.
    pub points: Vec<PlacedPoint>,
    /// Points without any place yet, by label.
    pub unplaced: Vec<(PointId, String)>,
    /// Features and utility marks.
    pub shapes: Vec<Shape>,
    /// Taped lengths.
    pub taped: Vec<Taped>,
    /// Problems.
    pub problems: Vec<PlacedProblem>,
    /// The box around all points and shapes; none when nothing has a place.
    pub bounds: Option<Bounds>,
    /// North, when its line is placed.
    pub north: Option<NorthArrow>,
}

#[cfg(test)]
mod tests;
