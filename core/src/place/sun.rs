//! Where the sun stands, and so which way a shadow falls: true north without a compass.
//!
//! By the crate `solar-positioning`, which follows I. Reda and A. Andreas, *Solar Position Algorithm for Solar
//! Radiation Applications*, NREL/TP-560-34302 (2003, revised 2008). Taken without the standard library, its roots
//! and sines are those of libm, so the same instant gives the same bits on every machine.
//!
//! The shadow of a plumb line lies in the upright plane through the sun, so its direction is right on sloping
//! ground too.

use crate::record::UnitSystem;
use crate::units::{Angle, Length, LengthStyle, float, format_length};
use solar_positioning::time::JulianDate;
use solar_positioning::{Location, RefractionCorrection, SolarPositions};

/// The Julian date of 1970-01-01, 0 h UTC.
const EPOCH: f64 = 2_440_587.5;
const DAY_MS: f64 = 86_400_000.0;
/// Terrestrial time less universal time, seconds: 69 in 2026 (from memory), and it changes by less than one in a year.
/// A whole minute amiss would move the sun by less than a thousandth of a degree.
const DELTA_T: f64 = 69.0;

/// Below this height the shadow is long, faint and without an edge (common practice, no source).
pub const LOWEST: Angle = Angle::from_radians(5.0 * std::f64::consts::PI / 180.0);
/// Above this height the shadow is short, and the sun goes round so fast that a minute turns it by a degree or more
/// (common practice, no source).
pub const HIGHEST: Angle = Angle::from_radians(75.0 * std::f64::consts::PI / 180.0);

/// Where the sun stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sun {
    /// Clockwise from true north.
    pub bearing: Angle,
    /// Above the horizon, as it is seen: bent by the air of a usual day (1013 hPa, 15 °C).
    pub height: Angle,
}

/// Where the sun stands, seen from sea level (degrees, WGS 84), at an instant in milliseconds since 1970, UTC.
///
/// None where there is no such place or the instant is outside the years the algorithm covers.
#[must_use]
pub fn sun(latitude: f64, longitude: f64, at_ms: i64) -> Option<Sun> {
    let air = RefractionCorrection::standard();
    #[expect(clippy::cast_precision_loss, reason = "instants of the next 200,000 years are exact")]
    let days = at_ms as f64 / DAY_MS;
    let instant = JulianDate::new(EPOCH + days, DELTA_T).ok()?;
    let seen =
        SolarPositions::new().at_from_julian(instant, Location { latitude, longitude }, 0.0, Some(air));
    let seen = seen.ok()?;
    Some(Sun {
        bearing: Angle::from_degrees(seen.azimuth()),
        height: Angle::from_degrees(seen.elevation_angle()),
    })
}

/// What a shadow tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shadow {
    /// Clockwise from true north, the way the shadow falls: away from the sun.
    pub bearing: Angle,
    /// The sun that casts it.
    pub sun: Sun,
    /// Standard deviation of the bearing.
    pub sd: Angle,
    /// How high over its foot the thing stood that casts a shadow as long as the line; none where that is not known.
    pub cast_by: Option<Length>,
}

/// What casts a shadow over a yard is hardly higher: 50 ft, our choice.
const HIGH: f64 = 15.24;
/// What casts a shadow worth a line is hardly lower: 6 in, our choice.
const LOW: f64 = 0.1524;

impl Shadow {
    /// What to ask where a line of this length is hardly a shadow under that sun. It may be part of a longer one, so that
    /// nobody is refused.
    #[must_use]
    pub fn question(&self, units: UnitSystem) -> Option<String> {
        let high = self.cast_by?;
        let style = match units {
            UnitSystem::FeetInches => LengthStyle::FeetInches { finest: 1 },
            UnitSystem::DecimalFeet => LengthStyle::DecimalFeet { decimals: 1 },
            UnitSystem::Metres => LengthStyle::Metres { decimals: 1 },
        };
        let stood = format_length(high, style);
        if high.metres() > HIGH {
            Some(say!(
                "For a shadow that long something {stood} high must have cast it: is the line the shadow, and is the time right?"
            ))
        } else if high.metres() < LOW {
            Some(
                "For a line that short the shadow can only be a low thing's, or part of a longer one: is it the right line, and \
                 is the time right?"
                    .to_owned(),
            )
        } else {
            None
        }
    }
}

/// Why a shadow tells nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoShadow {
    /// No such place or time.
    #[error("{}", say!("where the sun stood at that place and time is not known"))]
    NotThere,
    /// Night.
    #[error("{}", say!("the sun was down at that time at this place: is the time zone right?"))]
    Down,
    /// Nearly night.
    #[error("{}", say!("the sun stood lower than 5°: its shadow is long and faint and has no edge; wait until it is higher"))]
    TooLow,
    /// About noon in the tropics or in summer.
    #[error("{}", say!("the sun stood higher than 75°: the shadow is short and turns fast, a minute may be a degree; wait until it is lower"))]
    TooHigh,
}

/// Which way the shadow of a plumb line or a straight, upright pole falls, at a place (degrees, WGS 84) and an instant
/// (milliseconds since 1970, UTC) known to the minute.
///
/// Its standard deviation counts the clock (20 s), the shadow's blurred edge and the line's plumbness (a quarter of a
/// degree, half the sun's disc), and where `length` is known, marks set to a centimetre at both ends: common practice,
/// no source.
///
/// # Errors
/// [`NoShadow`], with why.
pub fn shadow(latitude: f64, longitude: f64, at_ms: i64, length: Option<Length>) -> Result<Shadow, NoShadow> {
    let there = |at_ms| sun(latitude, longitude, at_ms).ok_or(NoShadow::NotThere);
    let (before, now, after) =
        (there(at_ms.saturating_sub(20_000))?, there(at_ms)?, there(at_ms.saturating_add(20_000))?);
    if now.height.radians() < 0.0 {
        return Err(NoShadow::Down);
    }
    if now.height.radians() < LOWEST.radians() {
        return Err(NoShadow::TooLow);
    }
    if now.height.radians() > HIGHEST.radians() {
        return Err(NoShadow::TooHigh);
    }
    let turned = (after.bearing.degrees() - before.bearing.degrees() + 540.0).rem_euclid(360.0) - 180.0;
    let marks = length.map_or(0.0, |length| float::atan2(0.0142, length.metres()).to_degrees());
    let sd = float::hypot(float::hypot(turned / 2.0, 0.25), marks);
    let bearing = Angle::from_degrees((now.bearing.degrees() + 180.0).rem_euclid(360.0));
    let cast_by = length.map(|length| length * float::tan(now.height.radians()));
    Ok(Shadow { bearing, sun: now, sd: Angle::from_degrees(sd), cast_by })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Geometric places by pvlib 0.16.1 for local standard times, as milliseconds since 1970.
    #[test]
    fn the_shadow_falls_away_from_the_sun() {
        // 2026-12-21 15:00, UTC−7, at 40° N, 105° W: azimuth 222.2917, elevation 13.7398.
        let winter = shadow(40.0, -105.0, 1_797_890_400_000, None).unwrap();
        assert!((winter.bearing.degrees() - 42.291_7).abs() < 0.01, "{winter:?}");
        // As seen, it stands about 0.06° higher (refraction at 14°: Bennett's formula, from memory).
        assert!((winter.sun.height.degrees() - 13.739_8 - 0.065).abs() < 0.01, "{winter:?}");
        assert!((0.25..0.4).contains(&winter.sd.degrees()), "{winter:?}");
        // Marks a metre apart are worth less than marks ten metres apart.
        let of =
            |metres| shadow(40.0, -105.0, 1_797_890_400_000, Some(Length::from_metres(metres))).unwrap().sd;
        assert!(of(1.0).degrees() > 0.8 && of(10.0).degrees() < 0.3);
    }

    /// A pole's shadow is its height over the tangent of the sun's: tan 13.80° = 0.2457 (plain trigonometry).
    #[test]
    fn a_line_that_is_hardly_a_shadow_is_asked_about() {
        let of =
            |metres: f64| shadow(40.0, -105.0, 1_797_890_400_000, Some(Length::from_metres(metres))).unwrap();
        let cast = of(10.0).cast_by.unwrap().metres();
        assert!((cast - 2.457).abs() < 0.01, "{cast}");
        assert_eq!(of(10.0).question(UnitSystem::Metres), None);
        let far = of(100.0).question(UnitSystem::Metres).unwrap();
        assert!(far.contains("24.6 m high"), "{far}");
        assert!(of(0.5).question(UnitSystem::FeetInches).unwrap().contains("that short"));
        let unknown = shadow(40.0, -105.0, 1_797_890_400_000, None).unwrap();
        assert_eq!((unknown.cast_by, unknown.question(UnitSystem::Metres)), (None, None));
    }

    #[test]
    fn a_sun_too_low_or_too_high_is_refused() {
        // The same day at 20:00; noon of 2026-12-21 in Sydney's summer stands at 79.45° (pvlib 0.16.1).
        assert_eq!(shadow(40.0, -105.0, 1_797_908_400_000, None), Err(NoShadow::Down));
        // At 16:20 it stood 2° high, half an hour later it had set (pvlib's 13.74° at 15:00, and a winter's sunset of 16:39
        // there, from memory).
        assert_eq!(shadow(40.0, -105.0, 1_797_895_200_000, None), Err(NoShadow::TooLow));
        assert_eq!(shadow(40.0, -105.0, 1_797_897_000_000, None), Err(NoShadow::Down));
        assert_eq!(shadow(-33.868_8, 151.209_3, 1_797_818_400_000, None), Err(NoShadow::TooHigh));
        for (latitude, longitude, at) in
            [(95.0, 0.0, 0), (f64::NAN, 0.0, 0), (0.0, 0.0, i64::MAX), (0.0, 999.0, 0)]
        {
            assert_eq!(shadow(latitude, longitude, at, None), Err(NoShadow::NotThere));
        }
    }
}
