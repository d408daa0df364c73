//! How far a compass needle points beside true north: the World Magnetic Model.
//!
//! Model and coefficients (WMM2025 of NOAA NCEI and the British Geological Survey, valid 2025 to 2029, and the one
//! before it) come with the crate `world_magnetic_model`. The model knows the earth's field alone: cars, fences,
//! walls with steel in them and cables turn a needle by degrees.

use crate::units::Angle;
use world_magnetic_model::time::{Date, Month};
use world_magnetic_model::uom::si::angle::degree;
use world_magnetic_model::uom::si::f32::{Angle as Turn, Length};
use world_magnetic_model::{Error, GeomagneticField, WarningZone};

/// The declination at a place on a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Declination {
    /// From true to magnetic north, east positive: what to add to a compass bearing.
    pub east: Angle,
    /// The model's own standard deviation (WMM2025 report: √(0.26² + (5417 nT / H)²) degrees).
    pub sd: Angle,
}

/// Why there is none.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoDeclination {
    /// The day is not said as year, month, day.
    #[error("{}", say!("the declination changes with the years: say on which day the compass was read, as 2026-05-09"))]
    NoDay,
    /// No model in here covers that day.
    #[error("{}", say!("no magnetic model in this program covers {day}: state the declination yourself"))]
    OutOfDate {
        /// As said.
        day: String,
    },
    /// No such place.
    #[error("{}", say!("there is no declination at that place"))]
    NotThere,
    /// Near a magnetic pole (horizontal field below 2000 nT, the model's blackout zone).
    #[error("{}", say!("so near a magnetic pole a compass shows nothing: find north by the sun or by two known points"))]
    NearPole,
}

/// The declination at a place (degrees, WGS 84, at sea level: a kilometre up changes it by hundredths) on a day
/// (`YYYY-MM-DD`), to about a hundredth of a degree.
///
/// # Errors
/// [`NoDeclination`], with what is missing.
pub fn declination(latitude: f64, longitude: f64, day: &str) -> Result<Declination, NoDeclination> {
    let field = field(latitude, longitude, Length::default(), day)?;
    if field.declination_warning() == Some(WarningZone::BlackoutZone) {
        return Err(NoDeclination::NearPole);
    }
    declination_of(&field)
}

fn declination_of(field: &GeomagneticField) -> Result<Declination, NoDeclination> {
    let angle = |turn: Turn| Angle::from_degrees(f64::from(turn.get::<degree>()));
    let found = Declination { east: angle(field.declination()), sd: angle(field.declination_uncertainty()) };
    if found.east.radians().is_finite() { Ok(found) } else { Err(NoDeclination::NotThere) }
}

fn field(
    latitude: f64,
    longitude: f64,
    height: Length,
    day: &str,
) -> Result<GeomagneticField, NoDeclination> {
    let date = date(day).ok_or(NoDeclination::NoDay)?;
    let turn = |degrees: f64| {
        #[expect(clippy::cast_possible_truncation, reason = "the model reckons in single precision")]
        Turn::new::<degree>(degrees as f32)
    };
    GeomagneticField::new(height, turn(latitude), turn(longitude), date).map_err(|error| match error {
        Error::DateOutsideOfValidityRange { .. } => NoDeclination::OutOfDate { day: day.to_owned() },
        _ => NoDeclination::NotThere,
    })
}

fn date(day: &str) -> Option<Date> {
    let mut parts = day.trim().splitn(3, '-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    let month: u8 = month.parse().ok()?;
    Date::from_calendar_date(year.parse().ok()?, Month::try_from(month).ok()?, day.parse().ok()?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use world_magnetic_model::uom::si::length::kilometer;

    /// What NOAA published with WMM2025, as quoted in public test code: the report's table 6 (its rows at sea level and at
    /// 100 km that are quoted there) and six rows of the file of a hundred test values. All quoted rows are here; the file
    /// itself is in no package. Printed to two decimals. Year, km, latitude, longitude, declination.
    #[test]
    fn the_published_values_come_out() {
        for (day, km, latitude, longitude, expected) in [
            ("2025-01-01", 0.0, 80.0, 0.0, 1.28),
            ("2025-01-01", 0.0, 0.0, 120.0, -0.16),
            ("2025-01-01", 0.0, -80.0, -120.0, 68.78),
            ("2025-01-01", 100.0, 80.0, 0.0, 0.85),
            ("2027-07-02", 0.0, 80.0, 0.0, 2.59),
            ("2027-07-02", 0.0, 0.0, 120.0, -0.24),
            ("2027-07-02", 0.0, -80.0, -120.0, 68.49),
            ("2027-07-02", 100.0, -80.0, -120.0, 67.93),
            ("2025-01-01", 18.0, 0.0, 21.0, 1.29),
            ("2025-07-02", 44.0, 33.0, -118.0, 11.10),
            ("2026-07-02", 19.0, 29.0, 66.0, 2.24),
            ("2027-07-02", 60.0, 27.0, 65.0, 1.85),
            ("2028-07-02", 28.0, 54.0, -120.0, 15.43),
            ("2025-01-01", 28.0, 89.0, -121.0, -99.77),
        ] {
            let field = field(latitude, longitude, Length::new::<kilometer>(km), day).unwrap();
            let found = declination_of(&field).unwrap().east.degrees();
            assert!((found - expected).abs() < 0.01, "{day} {latitude}: {found} {expected}");
        }
    }

    /// NOAA's calculator for Sydney and London, as quoted in public test code, and cities by pygeomag 1.1.0, another
    /// implementation; many more places in `tests/reference/earth`.
    #[test]
    fn cities_agree_with_other_programs() {
        for (day, latitude, longitude, expected) in [
            ("2026-07-04", -33.8688, 151.2093, 12.820_83),
            ("2026-07-04", 51.5074, -0.1278, 1.162_80),
            ("2026-07-02", 39.7392, -104.9903, 7.5172),
            ("2026-07-02", 47.6062, -122.3321, 14.9049),
            ("2026-07-02", 42.3601, -71.0589, -13.9479),
            ("2026-07-02", 33.7490, -84.3880, -5.6090),
        ] {
            let found = declination(latitude, longitude, day).unwrap();
            assert!((found.east.degrees() - expected).abs() < 0.01, "{day} {latitude}: {found:?} {expected}");
        }
        // The city's uncertainty by the same program.
        let found = declination(39.7392, -104.9903, "2026-07-02").unwrap();
        assert!((found.sd.degrees() - 0.367).abs() < 0.001, "{found:?}");
    }

    /// The model's blackout zone (horizontal field below 2000 nT, WMM2025 report) holds both magnetic poles; in the
    /// caution zone round it (below 6000 nT) the standard deviation says how little is known: more than 0.9° there.
    #[test]
    fn near_the_magnetic_poles_there_is_no_declination() {
        for (latitude, longitude) in [(86.0, 140.0), (89.0, -121.0), (-64.0, 136.0)] {
            let found = declination(latitude, longitude, "2026-07-02");
            assert_eq!(found, Err(NoDeclination::NearPole), "{latitude}");
        }
        assert!(declination(80.0, -100.0, "2026-07-02").unwrap().sd.degrees() > 0.9);
    }

    #[test]
    fn what_the_model_cannot_know_is_said() {
        let at = |day| declination(40.0, -75.0, day).unwrap_err();
        for unsaid in ["", "May", "2026-13-01", "2026-02-30", "2026-5"] {
            assert_eq!(at(unsaid), NoDeclination::NoDay, "{unsaid}");
        }
        // WMM2025 ends with 2029, WMM2020 begins with 2020.
        assert!(
            declination(40.0, -75.0, "2029-12-31").is_ok() && declination(40.0, -75.0, "2020-01-01").is_ok()
        );
        for day in ["2030-01-01", "2019-12-31"] {
            assert_eq!(at(day), NoDeclination::OutOfDate { day: day.to_owned() });
        }
        assert_eq!(at("2031-01-01"), NoDeclination::OutOfDate { day: "2031-01-01".to_owned() });
        assert_eq!(at("1999-01-01"), NoDeclination::OutOfDate { day: "1999-01-01".to_owned() });
        assert_eq!(declination(95.0, 0.0, "2026-01-01"), Err(NoDeclination::NotThere));
        assert_eq!(declination(f64::NAN, 0.0, "2026-01-01"), Err(NoDeclination::NotThere));
    }
}
