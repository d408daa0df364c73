//! Where the plan lies on the earth, against PROJ (pyproj), Karney's geodesics and another implementation of the World
//! Magnetic Model: `tests/reference/earth/place.py` makes the answers; `cargo xtask reference` runs it, `cargo xtask test`
//! too. Bars: a millimetre over 500 m; a hundredth of a degree of declination.

use serde::Deserialize;
use std::{fs, path::Path, sync::OnceLock};
use swingtie_core::network::{Adjustment, Fix, PointState};
use swingtie_core::place::{NoDeclination, Placement, Stated, between, declination, lay};
use swingtie_core::plan::Plan;
use swingtie_core::record::{Anchor, North, NorthKind, Point, Record, Recorded};
use swingtie_core::units::float::{cos, hypot, sin};
use swingtie_core::units::{Angle, Length, PlanPoint};

/// Metres.
const BAR: f64 = 0.001;
/// A degree of latitude, metres, and a little more than any on the ellipsoid (111.69 km at the poles).
const DEGREE: f64 = 111_700.0;

#[derive(Deserialize)]
struct Reference {
    versions: String,
    places: Vec<Place>,
    lines: Vec<Line>,
    declinations: Vec<Needle>,
}

#[derive(Deserialize)]
struct Line {
    /// Latitude and longitude of both.
    ends: [[f64; 2]; 2],
    azimuth: f64,
    distance: f64,
}

#[derive(Deserialize)]
struct Place {
    anchor: [f64; 2],
    azimuth: f64,
    distance: f64,
    /// Latitude, longitude, height by PROJ.
    place: [f64; 3],
    /// Latitude and longitude by the geodesic.
    geodesic: [f64; 2],
}

#[derive(Deserialize)]
struct Needle {
    at: [f64; 2],
    day: String,
    declination: f64,
    /// Nanotesla.
    horizontal: f64,
}

fn reference() -> &'static Reference {
    static REFERENCE: OnceLock<Reference> = OnceLock::new();
    REFERENCE.get_or_init(|| {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/reference/place.json");
        let text = fs::read_to_string(file).expect("run `cargo xtask reference` first");
        let read: Reference = serde_json::from_str(&text).expect("what the script writes");
        println!("{}", read.versions);
        read
    })
}

/// A site of the point A in the plan's middle and B elsewhere, with A anchored.
fn site([latitude, longitude]: [f64; 2], b: PlanPoint) -> (Record, Adjustment) {
    let mut record = Record::default();
    let mut adjustment = Adjustment::default();
    for (label, at) in [("A", PlanPoint::default()), ("B", b)] {
        record.points.push(Point { id: label.into(), label: label.into(), note: String::new() });
        let fix = Fix { at: Some(at), guess: None, state: PointState::Checked, ellipse: None, freedom: None };
        adjustment.points.insert(label.into(), fix);
    }
    record.anchor =
        Some(Anchor { point: "A".into(), latitude, longitude, source: String::new(), accuracy: None });
    (record, adjustment)
}

/// A site whose x axis bears so many degrees.
fn placement(anchor: [f64; 2], bearing: f64) -> Placement {
    let (mut record, adjustment) = site(anchor, PlanPoint::from_metres(10.0, 0.0));
    record.north = Some(North {
        from: "A".into(),
        to: "B".into(),
        bearing: Angle::from_degrees(bearing),
        kind: NorthKind::True,
        declination: None,
        source: String::new(),
        sd: None,
    });
    Placement::find(&record, &Plan::build(&record, &adjustment), &Stated::default()).expect("a place")
}

/// How far apart two places are, metres; good to far better than the bar for what lies a millimetre apart.
fn apart([lat, lon]: [f64; 2], [other_lat, other_lon]: [f64; 2]) -> f64 {
    let across = ((lon - other_lon + 540.0).rem_euclid(360.0) - 180.0) * cos(lat.to_radians());
    hypot(lat - other_lat, across) * DEGREE
}

/// EPSG method 9837 the other way round, at five anchors (latitudes 0, 38, -45, 69, one beside the 180° meridian), in
/// sixteen directions, five distances and seven norths. Along the ellipsoid it is the same to a micrometre: the plane
/// that touches it is d³/3R² longer, 1 µm at 500 m (from memory: d - R·atan(d/R)); what is lost is height, d²/2R, 2 cm.
#[test]
fn the_plan_lies_where_proj_and_the_geodesic_put_it() {
    let (mut worst, mut along, mut count) = (0.0_f64, 0.0_f64, 0);
    for north in [0.0, 0.5, 57.0, 90.0, 180.0, 233.25, 359.5] {
        for one in &reference().places {
            let turned = (north - one.azimuth).to_radians();
            let at = PlanPoint::from_metres(one.distance * cos(turned), one.distance * sin(turned));
            let found = placement(one.anchor, north).position(at);
            let here = [found.latitude, found.longitude];
            let [latitude, longitude, height] = one.place;
            worst = worst.max(apart(here, [latitude, longitude])).max((found.height.metres() - height).abs());
            along = along.max(apart(here, one.geodesic));
            count += 1;
        }
    }
    println!("{count} places: {worst:.2e} m from PROJ's, {along:.2e} m from the geodesic's");
    assert_eq!(count, 7 * 5 * 16 * 5);
    assert!(worst < BAR, "{worst}");
    assert!(along < BAR, "{along}");
}

/// Distance and azimuth between two known points, as the geodesic has them: a millimetre, and as much aside.
#[test]
fn the_line_between_two_known_points_is_the_geodesic() {
    let mut worst = 0.0_f64;
    for one in &reference().lines {
        let [first, second] = one.ends.map(|[latitude, longitude]| Anchor {
            point: "A".into(),
            latitude,
            longitude,
            source: String::new(),
            accuracy: None,
        });
        let second = Anchor { point: "B".into(), ..second };
        let what = Recorded { entry: "2".into(), author: "a".into(), at_ms: 0, what: second };
        let record = Record { anchor: Some(first), second_anchors: vec![what], ..Record::default() };
        let found = between(&record).expect("two places");
        let turned = (found.bearing.degrees() - one.azimuth + 540.0).rem_euclid(360.0) - 180.0;
        let aside = turned.to_radians().abs() * one.distance;
        worst = worst.max((found.distance.metres() - one.distance).abs()).max(aside);
    }
    println!("{} lines: {worst:.2e} m", reference().lines.len());
    assert!(worst < BAR && reference().lines.len() == 100, "{worst}");
}

/// With two known points and no bearing at all, the second of the plan lies where it was said to be: whatever way the plan
/// is turned, its length being the geodesic's.
#[test]
fn two_known_points_put_the_plan_on_the_earth() {
    let mut worst = 0.0_f64;
    for (n, one) in reference().lines.iter().enumerate() {
        let turned = (n as f64) * 3.6_f64.to_radians();
        let b = PlanPoint::from_metres(one.distance * cos(turned), one.distance * sin(turned));
        let (mut record, adjustment) = site(one.ends[0], b);
        let accuracy = Some(Length::from_metres(0.01));
        if let Some(first) = &mut record.anchor {
            first.accuracy = accuracy;
        }
        let [latitude, longitude] = one.ends[1];
        let what = Anchor { point: "B".into(), latitude, longitude, source: String::new(), accuracy };
        record.second_anchors.push(Recorded { entry: "2".into(), author: "a".into(), at_ms: 0, what });
        lay(&mut record);
        let plan = Plan::build(&record, &adjustment);
        let found = Placement::find(&record, &plan, &Stated::default()).expect("a place").position(b);
        worst = worst.max(apart([found.latitude, found.longitude], one.ends[1]));
    }
    println!("{} plans: {worst:.2e} m", reference().lines.len());
    assert!(worst < BAR, "{worst}");
}

/// Away from the magnetic poles within a hundredth of a degree; in the blackout zone (horizontal field below 2000 nT)
/// none.
#[test]
fn declinations_agree_with_another_implementation() {
    let (mut worst, mut near) = (0.0_f64, 0);
    for one in &reference().declinations {
        match declination(one.at[0], one.at[1], &one.day) {
            Ok(found) => {
                let off = (found.east.degrees() - one.declination + 540.0).rem_euclid(360.0) - 180.0;
                // A needle that is pulled ten times less turns ten times more by the last bit of single precision.
                worst = worst.max(off.abs() * (one.horizontal / 6000.0).min(1.0));
                assert!(one.horizontal > 1999.0, "{:?}: {} nT", one.at, one.horizontal);
            }
            Err(why) => {
                near += 1;
                assert_eq!(why, NoDeclination::NearPole, "{:?}", one.at);
                assert!(one.horizontal < 2001.0, "{:?}: {} nT", one.at, one.horizontal);
            }
        }
    }
    println!("{} places, {near} near a pole: {worst:.4}°", reference().declinations.len());
    assert!(worst < 0.01, "{worst}");
    assert!(near < 20 && reference().declinations.len() == 400);
}
