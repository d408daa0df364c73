//! Where photos were taken and which way they look. Apart from the plan: it is only drawn when asked for.

use super::{NorthArrow, Plan};
use crate::record::{At, EntryId, Facing, NorthKind, Photo, PointId, Record};
use crate::units::format::fixed;
use crate::units::{Angle, PlanPoint, format_bearing};

/// A photo to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedPhoto {
    /// The entry.
    pub entry: EntryId,
    /// Its number on sheet and screen, from 1, in the order of the book.
    pub number: usize,
    /// Where; none when it belongs to the whole site or to something without a place yet.
    pub at: Option<PlanPoint>,
    /// Which way it looks, counter-clockwise from the plan's x; none when it was not said, or said by
    /// compass while north is not known.
    pub facing: Option<Angle>,
}

/// Every photo with its place on the plan.
#[must_use]
pub fn placed_photos(record: &Record, plan: &Plan) -> Vec<PlacedPhoto> {
    let place = |(photo, number): (&crate::record::Recorded<Photo>, usize)| PlacedPhoto {
        entry: photo.entry.clone(),
        number,
        at: shown_at(&photo.what, record, plan),
        facing: photo.what.facing.and_then(|facing| on_plan(facing, record, plan.north.as_ref())),
    };
    record.photos.iter().zip(1..).map(place).collect()
}

/// Where the thing it shows is now; a thing that is struck leaves the photo where it was pinned.
fn shown_at(photo: &Photo, record: &Record, plan: &Plan) -> Option<PlanPoint> {
    let Some(of) = &photo.of else { return place_of(&photo.at, plan) };
    let feature = record.features.iter().find(|f| f.entry == *of);
    let problem = record.problems.iter().find(|p| p.entry == *of);
    match (feature, problem) {
        (Some(feature), _) => middle(&feature.what.points, plan),
        (None, Some(problem)) => place_of(&problem.what.at, plan),
        (None, None) => place_of(&photo.at, plan),
    }
}

/// A place on the plan; the middle of several points. None for the whole site and for points without a
/// place yet.
#[must_use]
pub fn place_of(at: &At, plan: &Plan) -> Option<PlanPoint> {
    match at {
        At::Points(points) => middle(points, plan),
        At::Near(place) => Some(*place),
        At::Site => None,
    }
}

fn middle(points: &[PointId], plan: &Plan) -> Option<PlanPoint> {
    let mut sum = (0.0, 0.0, 0.0);
    for id in points {
        let (x, y) = plan.points.iter().find(|p| p.id == *id)?.at.metres();
        sum = (sum.0 + x, sum.1 + y, sum.2 + 1.0);
    }
    (sum.2 > 0.0).then(|| PlanPoint::from_metres(sum.0 / sum.2, sum.1 / sum.2))
}

/// A direction of view on the plan, counter-clockwise from its x. A needle's bearing needs north; where
/// north is the meridian, the declination turns it, as far as it is known.
#[must_use]
pub fn on_plan(facing: Facing, record: &Record, north: Option<&NorthArrow>) -> Option<Angle> {
    let bearing = match facing {
        Facing::Plan(angle) => return Some(angle),
        Facing::Compass(bearing) => bearing,
    };
    let north = north?;
    let east = match north.kind {
        NorthKind::Magnetic => Angle::ZERO,
        NorthKind::True => record.north.as_ref().and_then(|north| north.declination).unwrap_or(Angle::ZERO),
    };
    Some(Angle::from_radians(north.direction.radians() - bearing.radians() - east.radians()))
}

/// Which way a photo looks, in words: as said, as drawn (counter-clockwise from the plan's x), and by north. None where
/// nobody said.
#[must_use]
pub fn looks(said: Option<Facing>, drawn: Option<Angle>, north: Option<&NorthArrow>) -> Option<String> {
    let by = if matches!(said, Some(Facing::Compass(_))) { ", by compass, roughly" } else { "" };
    match (said?, drawn, north) {
        (_, Some(drawn), Some(north)) => {
            let bearing = Angle::from_radians(north.direction.radians() - drawn.radians());
            let which = if north.kind == NorthKind::True { "true" } else { "magnetic" };
            Some(say!("looks {} from {which} north{by}", format_bearing(bearing, 0)))
        }
        (Facing::Compass(bearing), ..) => {
            Some(say!("looks {} from magnetic north{by}", format_bearing(bearing, 0)))
        }
        (Facing::Plan(angle), ..) => {
            let degrees = angle.degrees().rem_euclid(360.0);
            Some(say!("looks {}° to the left of the drawing's right", fixed(degrees, 0)))
        }
    }
}
