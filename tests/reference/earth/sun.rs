//! Where the sun stands, against pvlib's implementation of NREL's algorithm: `tests/reference/earth/sun.py` makes the
//! answers; `cargo xtask reference` runs it, `cargo xtask test` too. And against the algorithm's own example. Bar: a
//! hundredth of a degree.

use serde::Deserialize;
use std::{fs, path::Path};
use swingtie_core::place::sun::sun;
use swingtie_core::units::float::cos;

const BAR: f64 = 0.01;

#[derive(Deserialize)]
struct Reference {
    versions: String,
    /// Latitude, longitude, milliseconds since 1970, azimuth, elevation as seen.
    suns: Vec<(f64, f64, i64, f64, f64)>,
}

/// In azimuth as the angle in the sky: near the zenith all azimuths meet, and no shadow is used there.
#[test]
fn the_sun_stands_where_pvlib_has_it() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/reference/sun.json");
    let text = fs::read_to_string(file).expect("run `cargo xtask reference` first");
    let read: Reference = serde_json::from_str(&text).expect("what the script writes");
    let (mut aside, mut above, mut usable) = (0.0_f64, 0.0_f64, 0.0_f64);
    for (latitude, longitude, at_ms, azimuth, elevation) in &read.suns {
        let found = sun(*latitude, *longitude, *at_ms).expect("on earth");
        let off = ((found.bearing.degrees() - azimuth + 540.0).rem_euclid(360.0) - 180.0).abs();
        if (5.0..75.0).contains(elevation) {
            usable = usable.max(off);
        }
        aside = aside.max(off * cos(elevation.to_radians()));
        above = above.max((found.height.degrees() - elevation).abs());
    }
    println!(
        "{}: {} suns, {usable:.5}°, {aside:.5}° aside, {above:.5}° in height",
        read.versions,
        read.suns.len()
    );
    assert!(read.suns.len() >= 4000);
    assert!(usable < BAR && aside < BAR && above < BAR, "{usable} {aside} {above}");
}

/// NREL/TP-560-34302, table A5.1: 17 October 2003, 12:30:30, UTC−7, 39.742476° N, 105.1786° W. The example stands at
/// 1830 m with 820 mbar and 11 °C, ours at sea level on a usual day: a few thousandths of a degree of refraction.
#[test]
fn the_algorithms_own_example_comes_out() {
    let found = sun(39.742_476, -105.178_6, 1_066_419_030_000).expect("on earth");
    assert!((found.bearing.degrees() - 194.340_24).abs() < BAR, "{found:?}");
    assert!((90.0 - found.height.degrees() - 50.111_62).abs() < BAR, "{found:?}");
}
