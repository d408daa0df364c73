//! Geodetic, geocentric and topocentric coordinates on the WGS 84 ellipsoid.
//!
//! Formulas: EPSG Guidance Note 7-2, "Geographic/geocentric conversions" and
//! "Geocentric/topocentric conversions"; back to latitude by Bowring's iteration (Survey Review
//! 23 (181), 1976), whose error after the first round is already below a micrometre near the ground.

use crate::units::{Length, float};
use std::f64::consts::PI;

/// Semi-major axis of WGS 84, metres (EPSG ellipsoid 7030).
const A: f64 = 6_378_137.0;
/// Flattening of WGS 84 (EPSG ellipsoid 7030).
const F: f64 = 1.0 / 298.257_223_563;
/// First eccentricity squared.
const E2: f64 = F * (2.0 - F);
/// Semi-minor axis, metres.
const B: f64 = A * (1.0 - F);

/// A place on or near the WGS 84 ellipsoid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Position {
    /// Degrees north of the equator.
    pub latitude: f64,
    /// Degrees east of Greenwich, -180 … 180.
    pub longitude: f64,
    /// Height above the ellipsoid.
    pub height: Length,
}

impl Position {
    /// A place on the ellipsoid itself, from degrees.
    #[must_use]
    pub const fn on_ellipsoid(latitude: f64, longitude: f64) -> Self {
        Self { latitude, longitude, height: Length::ZERO }
    }

    /// Whether both angles are in range.
    #[must_use]
    pub fn is_on_earth(self) -> bool {
        (-90.0..=90.0).contains(&self.latitude)
            && (-180.0..=180.0).contains(&self.longitude)
            && self.height.is_finite()
    }

    /// Geocentric coordinates: x towards Greenwich on the equator, z towards the north pole.
    #[must_use]
    pub fn geocentric(self) -> [Length; 3] {
        let (phi, lambda) = (self.latitude * (PI / 180.0), self.longitude * (PI / 180.0));
        let (sin, cos) = (float::sin(phi), float::cos(phi));
        let nu = A / float::sqrt(1.0 - E2 * sin * sin);
        let h = self.height.metres();
        let out = (nu + h) * cos;
        [out * float::cos(lambda), out * float::sin(lambda), ((1.0 - E2) * nu + h) * sin]
            .map(Length::from_metres)
    }

    /// From geocentric coordinates.
    #[must_use]
    pub fn from_geocentric([x, y, z]: [Length; 3]) -> Self {
        let (x, y, z) = (x.metres(), y.metres(), z.metres());
        let p = float::hypot(x, y);
        let ep2 = E2 / (1.0 - E2);
        // The parametric latitude; three rounds settle it to the last bit.
        let mut beta = float::atan2(z, (1.0 - F) * p);
        let mut phi = 0.0;
        for _ in 0..3 {
            let (sin, cos) = (float::sin(beta), float::cos(beta));
            phi = float::atan2(z + ep2 * B * sin * sin * sin, p - E2 * A * cos * cos * cos);
            beta = float::atan2((1.0 - F) * float::sin(phi), float::cos(phi));
        }
        let (sin, cos) = (float::sin(phi), float::cos(phi));
        // p / cos φ - ν would fail at the poles; this form is the same and does not.
        let height = p * cos + z * sin - A * float::sqrt(1.0 - E2 * sin * sin);
        Self {
            latitude: phi * (180.0 / PI),
            longitude: float::atan2(y, x) * (180.0 / PI),
            height: Length::from_metres(height),
        }
    }
}

/// A local frame of east, north and up at an origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Topocentric {
    origin: [Length; 3],
    sin_phi: f64,
    cos_phi: f64,
    sin_lambda: f64,
    cos_lambda: f64,
}

impl Topocentric {
    /// The frame at this origin.
    #[must_use]
    pub fn new(origin: Position) -> Self {
        let (phi, lambda) = (origin.latitude * (PI / 180.0), origin.longitude * (PI / 180.0));
        Self {
            origin: origin.geocentric(),
            sin_phi: float::sin(phi),
            cos_phi: float::cos(phi),
            sin_lambda: float::sin(lambda),
            cos_lambda: float::cos(lambda),
        }
    }

    /// How far east and north of the origin a place lies, in that plane; what is above or below it is left out.
    #[must_use]
    pub fn offset(&self, place: Position) -> (Length, Length) {
        let [x, y, z] = place.geocentric();
        let [ox, oy, oz] = self.origin;
        let [dx, dy, dz] = [x - ox, y - oy, z - oz].map(Length::metres);
        // The rotation of Guidance Note 7-2, without U.
        let east = -self.sin_lambda * dx + self.cos_lambda * dy;
        let north =
            -self.sin_phi * self.cos_lambda * dx - self.sin_phi * self.sin_lambda * dy + self.cos_phi * dz;
        (Length::from_metres(east), Length::from_metres(north))
    }

    /// The place so far east and north of the origin, in the plane that touches the ellipsoid there.
    #[must_use]
    pub fn position(&self, east: Length, north: Length) -> Position {
        let (e, n) = (east.metres(), north.metres());
        // The rotation of Guidance Note 7-2 transposed, with U = 0.
        let turned = [
            -self.sin_lambda * e - self.sin_phi * self.cos_lambda * n,
            self.cos_lambda * e - self.sin_phi * self.sin_lambda * n,
            self.cos_phi * n,
        ];
        let [x, y, z] = self.origin;
        let [dx, dy, dz] = turned.map(Length::from_metres);
        Position::from_geocentric([x + dx, y + dy, z + dz])
    }
}
