//! Where on earth the plan lies: anchor, north, local frame to WGS 84.
//!
//! The plan is taken as the horizontal plane that touches the ellipsoid at the anchor (height 0).
//! Its points go through geocentric coordinates (EPSG Guidance Note 7-2, topocentric and
//! geocentric conversions), which is exact; a flat rule of degrees per metre would be off by
//! centimetres at the far end of a large yard.
//!
//! # What it does not do
//! It knows no heights. A compass bearing places the plan with the declination that somebody states, else with that of
//! the magnetic model for the place and the day.

mod declination;
mod geodetic;
mod known;
pub mod sun;

pub use declination::{Declination, NoDeclination, declination};
pub use geodetic::{Position, Topocentric};
pub use known::{Between, Misfit, UNSAID, WIDEST, between, lay, misfit, north_by_anchors};

use crate::network::PointState;
use crate::plan::{Plan, north_said};
use crate::record::{NorthKind, PointId, Record};
use crate::units::{Angle, Length, PlanPoint, float};

/// What is stated beside the book, at the desk.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stated {
    /// Where the held point (the plan's origin) is, in place of the book's anchor.
    pub at: Option<Position>,
    /// The true bearing, clockwise from north, of the held direction (the plan's x axis), in place
    /// of the book's north.
    pub north: Option<Angle>,
    /// Magnetic declination, east positive, in place of the book's: turns a compass bearing into a
    /// true one.
    pub declination: Option<Angle>,
}

/// Why the plan cannot be put on the earth.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unplaced {
    /// Nobody said where on earth any point is.
    #[error("{}", say!("no point of this site has a place on earth yet: add an anchor (latitude and longitude of one point)"))]
    NoAnchor,
    /// The anchor's point has no place in the plan.
    #[error("{}", say!("the anchor point {label} is loose: tie it to the others first, or anchor a point that is placed"))]
    AnchorLoose {
        /// Its label.
        label: String,
    },
    /// Nobody said where north is.
    #[error("{}", say!("north is not known yet: add the bearing of one line, from a plat or with a compass"))]
    NoNorth,
    /// The line that shows north has no place in the plan.
    #[error("{}", say!("the line {from} to {to}, whose bearing is known, is loose: tie its ends to the others first"))]
    NorthLoose {
        /// Its first point.
        from: String,
        /// Its second point.
        to: String,
    },
    /// Only the compass was read, and nobody stated the declination.
    #[error("{}", say!("only magnetic north is known, and a map needs true north: state the magnetic declination here, or a true bearing ({})", _0.to_string()))]
    MagneticOnly(NoDeclination),
    /// The anchor is no place on earth.
    #[error("{}", say!("latitude {latitude}, longitude {longitude} is no place on earth: latitude goes from -90 to 90, longitude from -180 to 180"))]
    NotOnEarth {
        /// As given.
        latitude: String,
        /// As given.
        longitude: String,
    },
    /// The site lies on both sides of the 180° meridian.
    #[error("{}", say!("the site lies across the 180 degree meridian, where a map file would have to be cut in two: this is not done"))]
    AcrossAntimeridian,
}

/// The plan's place on the earth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    topocentric: Topocentric,
    anchor: PlanPoint,
    /// Direction of true north, counter-clockwise from the plan's x.
    north: Angle,
}

impl Placement {
    /// Finds where the plan lies, from the book and what is stated beside it.
    ///
    /// # Errors
    /// [`Unplaced`], with what is missing and how to get it.
    pub fn find(record: &Record, plan: &Plan, stated: &Stated) -> Result<Self, Unplaced> {
        let (anchor, position) = match (stated.at, &record.anchor) {
            (Some(position), _) => (PlanPoint::default(), position),
            (None, Some(anchor)) => {
                let at = certain(plan, &anchor.point);
                let label = || record.label(&anchor.point).to_owned();
                let at = at.ok_or_else(|| Unplaced::AnchorLoose { label: label() })?;
                (at, Position::on_ellipsoid(anchor.latitude, anchor.longitude))
            }
            (None, None) => return Err(Unplaced::NoAnchor),
        };
        if !position.is_on_earth() {
            let (latitude, longitude) = (position.latitude.to_string(), position.longitude.to_string());
            return Err(Unplaced::NotOnEarth { latitude, longitude });
        }
        let north = true_north(record, plan, stated, position)?;
        Ok(Self { topocentric: Topocentric::new(position), anchor, north })
    }

    /// The place on earth of a place in the plan.
    #[must_use]
    pub fn position(&self, at: PlanPoint) -> Position {
        let (x, y) = (at - self.anchor).metres();
        let (sin, cos) = (float::sin(self.north.radians()), float::cos(self.north.radians()));
        // The plan's north direction is (cos, sin), its east, a quarter turn clockwise, (sin, -cos).
        let (east, north) = (x * sin - y * cos, x * cos + y * sin);
        self.topocentric.position(Length::from_metres(east), Length::from_metres(north))
    }

    /// The true bearing of a direction in the plan, clockwise from north.
    #[must_use]
    pub fn bearing(&self, direction: Angle) -> Angle {
        Angle::from_radians(self.north.radians() - direction.radians())
    }
}

pub(crate) fn certain(plan: &Plan, id: &PointId) -> Option<PlanPoint> {
    let point = plan.points.iter().find(|point| &point.id == id)?;
    (point.state != PointState::Loose).then_some(point.at)
}

fn true_north(record: &Record, plan: &Plan, stated: &Stated, at: Position) -> Result<Angle, Unplaced> {
    if let Some(bearing) = stated.north {
        // North lies to the left of the held direction by its bearing.
        return Ok(bearing);
    }
    let said = north_said(record, &plan.points);
    let loose = said.filter(|n| certain(plan, &n.from).is_none() || certain(plan, &n.to).is_none());
    if let Some(north) = loose {
        let (from, to) = (record.label(&north.from).to_owned(), record.label(&north.to).to_owned());
        return Err(Unplaced::NorthLoose { from, to });
    }
    // Said in the book, or else found by bearings.
    let arrow = plan.north.as_ref().ok_or(Unplaced::NoNorth)?;
    if arrow.kind == NorthKind::True {
        return Ok(arrow.direction);
    }
    let east = match stated.declination.or(said.and_then(|north| north.declination)) {
        Some(east) => east,
        None => {
            let model = declination(at.latitude, at.longitude, &record.site.date);
            model.map_err(Unplaced::MagneticOnly)?.east
        }
    };
    // A bearing grows by east declination, and north moves to the left with it.
    Ok(Angle::from_radians(arrow.direction.radians() + east.radians()))
}
