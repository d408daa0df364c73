//! Where on earth the plan lies, and the GeoJSON that says so.

use geojson::{FeatureCollection, GeometryValue};
use serde_json::Value;

use swingtie_core::exchange::geojson as export;
use swingtie_core::network::{Adjustment, Ellipse, Fix, Freedom, PointState};
use swingtie_core::place::{NoDeclination, Placement, Position, Stated, Topocentric, Unplaced};
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::record::*;
use swingtie_core::units::{Angle, Length, PlanPoint};

/// Degrees of latitude that a tenth of a millimetre is; for longitude at these latitudes less.
const TENTH_MM: f64 = 0.9e-9;

/// Local east and north to longitude and latitude, U = 0, as PROJ 9 computes it
/// (`+proj=pipeline +step +inv +proj=topocentric +ellps=WGS84 +step +inv +proj=cart`).
#[test]
fn local_frame_agrees_with_proj() {
    let rows = [
        (35.0, -97.0, 100.0, 0.0, -96.998_904_567_806, 34.999_999_995_058, 0.000_783),
        (35.0, -97.0, 0.0, 100.0, -97.0, 35.000_901_383_403, 0.000_787),
        (35.0, -97.0, 30.48, -15.24, -96.999_666_112_825, 34.999_862_628_698, 0.000_091),
        (35.0, -97.0, -120.0, 200.0, -97.001_314_547_464, 35.001_802_759_554, 0.004_274),
        (35.0, -97.0, 300.0, 300.0, -96.996_713_595_303, 35.002_704_105_319, 0.014_127),
        (47.6, -122.3, 100.0, 0.0, -122.298_670_219_583, 47.599_999_992_292, 0.000_782),
        (47.6, -122.3, -120.0, 200.0, -122.301_595_791_201, 47.601_798_832_265, 0.004_266),
        (47.6, -122.3, 300.0, 300.0, -122.296_010_453_625, 47.602_698_195_459, 0.014_107),
        (60.0, 10.0, 100.0, 0.0, 10.001_792_114_644, 59.999_999_987_843, 0.000_782),
        (60.0, 10.0, -120.0, 200.0, 9.997_849_345_914, 60.001_795_116_379, 0.004_259),
        (60.0, 10.0, 300.0, 300.0, 10.005_376_780_854, 60.002_692_591_223, 0.014_087),
        (60.0, 10.0, -300.0, -300.0, 9.994_624_092_946, 59.997_307_188_853, 0.014_087),
        (-33.9, 151.2, 300.0, 300.0, 151.203_243_389_700, -33.897_295_318_881, 0.014_129),
    ];
    for (latitude, longitude, e, n, lon, lat, h) in rows {
        let frame = Topocentric::new(Position::on_ellipsoid(latitude, longitude));
        let found = frame.position(Length::from_metres(e), Length::from_metres(n));
        assert!((found.latitude - lat).abs() < TENTH_MM, "{e} {n}: {found:?} / {lat}");
        assert!((found.longitude - lon).abs() < TENTH_MM, "{e} {n}: {found:?} / {lon}");
        assert!((found.height.metres() - h).abs() < 1e-4, "{e} {n}: {found:?} / {h}");
    }
}

/// EPSG Guidance Note 7-2, geographic/geocentric example: 53°48'33.820" N, 2°07'46.380" E, 73.0 m
/// is X 3771793.968, Y 140253.342, Z 5124304.349 (given to the millimetre).
#[test]
fn geocentric_agrees_with_the_epsg_example() {
    let latitude = 53.0 + 48.0 / 60.0 + 33.820 / 3600.0;
    let longitude = 2.0 + 7.0 / 60.0 + 46.380 / 3600.0;
    let position = Position { latitude, longitude, height: Length::from_metres(73.0) };
    let found = position.geocentric().map(Length::metres);
    for (found, expected) in found.into_iter().zip([3_771_793.968, 140_253.342, 5_124_304.349]) {
        // A thousandth of a second of arc, the example's last digit, is 3 cm.
        assert!((found - expected).abs() < 0.03, "{found} / {expected}");
    }
    let back = Position::from_geocentric(position.geocentric());
    assert!((back.latitude - latitude).abs() < 1e-12 && (back.longitude - longitude).abs() < 1e-12);
    assert!((back.height.metres() - 73.0).abs() < 1e-8);
    for pole in [90.0, -90.0] {
        let back = Position::from_geocentric(Position::on_ellipsoid(pole, 0.0).geocentric());
        assert!((back.latitude - pole).abs() < 1e-9 && back.height.metres().abs() < 1e-8, "{back:?}");
    }
}

fn fix(x: f64, y: f64) -> Fix {
    let ellipse = Ellipse {
        semi_major: Length::from_metres(0.02),
        semi_minor: Length::from_metres(0.01),
        direction: Angle::from_degrees(30.0),
    };
    Fix {
        at: Some(PlanPoint::from_metres(x, y)),
        guess: None,
        state: PointState::Checked,
        ellipse: Some(ellipse),
        freedom: None,
    }
}

fn recorded<T>(entry: &str, what: T) -> Recorded<T> {
    Recorded { entry: entry.into(), author: "a".into(), at_ms: 0, what }
}

fn feature(kind: &str, points: &[&str]) -> Feature {
    Feature {
        kind: kind.to_owned(),
        points: points.iter().map(|p| (*p).into()).collect(),
        name: String::new(),
        fate: None,
        attributes: Default::default(),
        curved: false,
        told: false,
        note: String::new(),
    }
}

/// A small yard: a house walked clockwise, a fence, a loose tree, a mark and two problems.
fn yard() -> (Record, Adjustment) {
    let places = [("A", 0.0, 0.0), ("B", 100.0, 0.0), ("C", 100.0, 50.0), ("D", 0.0, 50.0)];
    let mut record = Record::default();
    let mut adjustment = Adjustment::default();
    for (label, x, y) in places {
        record.points.push(Point { id: label.into(), label: label.into(), note: String::new() });
        adjustment.points.insert(label.into(), fix(x, y));
    }
    record.points.push(Point { id: "T".into(), label: "T".into(), note: "=oak".into() });
    let freedom = Freedom::OnCircle { centre: "A".into(), radius: Length::from_metres(3.048) };
    let guess = Some(PlanPoint::from_metres(5.0, -5.0));
    let loose = Fix { at: None, guess, state: PointState::Loose, ellipse: None, freedom: Some(freedom) };
    adjustment.points.insert("T".into(), loose);
    adjustment.held = Some(("A".into(), "B".into()));
    record.features.push(recorded("f1", feature("house", &["D", "C", "B", "A"])));
    record.features.push(recorded("f2", feature("fence", &["A", "C"])));
    let mut tree = feature("tree", &["T"]);
    let spread = Reading { text: "10'".into(), value: Length::from_metres(3.048) };
    tree.attributes.insert("canopy_spread".into(), Attribute::Length(spread));
    record.features.push(recorded("f3", tree));
    record.marks.push(recorded(
        "m1",
        UtilityMark {
            colour: MarkColour::Yellow,
            points: vec!["A".into(), "D".into()],
            letters: "GAS".into(),
            attributes: Default::default(),
            told: false,
            note: String::new(),
        },
    ));
    let problem = |at| Problem {
        kind: "wet_spot".into(),
        severity: Severity::Fix,
        at,
        spread: None,
        attributes: Default::default(),
        note: "stands two days".into(),
        photos: Vec::new(),
        told: false,
    };
    record.problems.push(recorded("p1", problem(At::Points(vec!["C".into()]))));
    record.problems.push(recorded("p2", problem(At::Site)));
    let note = |at| Note { topic: "sun".into(), at, text: "sun at noon".into(), ..Note::default() };
    record.written_notes.push(recorded("n1", note(At::Points(vec!["A".into()])).into()));
    record.written_notes.push(recorded("n2", note(At::Site).into()));
    (record, adjustment)
}

fn anchor(point: &str) -> Anchor {
    Anchor { point: point.into(), latitude: 35.0, longitude: -97.0, source: String::new(), accuracy: None }
}

fn north(degrees: f64, kind: NorthKind) -> North {
    let bearing = Angle::from_degrees(degrees);
    North {
        from: "A".into(),
        to: "B".into(),
        bearing,
        kind,
        declination: None,
        source: String::new(),
        sd: None,
    }
}

/// The wall AB bears 90° true: the plan's x is east, and the PROJ row for 100 m east holds.
#[test]
fn bearings_turn_the_plan_the_right_way() {
    let (mut record, adjustment) = yard();
    record.anchor = Some(anchor("A"));
    let at = |record: &Record, stated: &Stated, x: f64, y: f64| {
        let plan = Plan::build(record, &adjustment);
        Placement::find(record, &plan, stated).unwrap().position(PlanPoint::from_metres(x, y))
    };
    let east = (-96.998_904_567_806, 34.999_999_995_058);
    let close = |found: Position, (lon, lat): (f64, f64)| {
        assert!(
            (found.longitude - lon).abs() < TENTH_MM && (found.latitude - lat).abs() < TENTH_MM,
            "{found:?}"
        );
    };
    let none = Stated::default();
    record.north = Some(north(90.0, NorthKind::True));
    close(at(&record, &none, 100.0, 0.0), east);
    // Bearing 0: the wall runs north, and what lies to its right, -y, is east.
    record.north = Some(north(0.0, NorthKind::True));
    close(at(&record, &none, 0.0, -100.0), east);
    // A compass shows 82° where the declination is 8° east: 90° true.
    record.north = Some(north(82.0, NorthKind::Magnetic));
    let declination = Some(Angle::from_degrees(8.0));
    close(at(&record, &Stated { declination, ..none }, 100.0, 0.0), east);
    // Stated at the desk, in place of what the book has.
    let stated = Stated {
        at: Some(Position::on_ellipsoid(35.0, -97.0)),
        north: Some(Angle::from_degrees(90.0)),
        declination: None,
    };
    close(at(&record, &stated, 100.0, 0.0), east);
    // Anchored at B instead, A lies 100 m west of it; the frame is B's.
    record.anchor = Some(anchor("B"));
    record.north = Some(north(90.0, NorthKind::True));
    close(at(&record, &none, 200.0, 0.0), east);
}

#[test]
fn without_a_place_on_earth_the_reason_is_given() {
    let (mut record, mut adjustment) = yard();
    let refusal = |record: &Record, adjustment: &Adjustment| {
        let plan = Plan::build(record, adjustment);
        export::write(record, &plan, &Ground::of(record, &plan), &Stated::default()).unwrap_err()
    };
    assert_eq!(refusal(&record, &adjustment), Unplaced::NoAnchor);
    record.anchor = Some(anchor("T"));
    assert_eq!(refusal(&record, &adjustment), Unplaced::AnchorLoose { label: "T".into() });
    record.anchor = Some(anchor("A"));
    assert_eq!(refusal(&record, &adjustment), Unplaced::NoNorth);
    record.north = Some(north(10.0, NorthKind::Magnetic));
    assert_eq!(refusal(&record, &adjustment), Unplaced::MagneticOnly(NoDeclination::NoDay));
    record.north = Some(north(10.0, NorthKind::True));
    record.anchor = Some(Anchor { latitude: 91.0, ..anchor("A") });
    assert!(matches!(refusal(&record, &adjustment), Unplaced::NotOnEarth { .. }));
    record.anchor = Some(Anchor { longitude: 179.9999, ..anchor("A") });
    assert_eq!(refusal(&record, &adjustment), Unplaced::AcrossAntimeridian);
    record.anchor = Some(anchor("A"));
    adjustment.points.remove(&PointId::from("B"));
    assert!(matches!(refusal(&record, &adjustment), Unplaced::NorthLoose { .. }));
}

fn written() -> String {
    let (mut record, adjustment) = yard();
    record.site.name = "Our \"yard\"".into();
    record.anchor = Some(anchor("A"));
    record.north = Some(north(57.0, NorthKind::True));
    let plan = Plan::build(&record, &adjustment);
    export::write(&record, &plan, &Ground::of(&record, &plan), &Stated::default()).unwrap()
}

/// RFC 7946: §3.1.6 rings, §3.2 features, §4 no other coordinate system, §5 bounding box; read by
/// an independent reader (the crate geojson).
#[test]
fn the_file_is_rfc_7946() {
    let text = written();
    let collection: FeatureCollection = text.parse().unwrap();
    assert_eq!(collection.features.len(), 5 + 4 + 2 + 2);
    let bbox = collection.bbox.clone().unwrap();
    assert_eq!(bbox.len(), 4);
    let json: Value = serde_json::from_str(&text).unwrap();
    assert!(json.get("crs").is_none());
    let mut rings = 0;
    for feature in &collection.features {
        assert!(feature.id.is_some() && feature.properties.is_some());
        let Some(geometry) = &feature.geometry else { continue };
        let places: Vec<Vec<f64>> = match &geometry.value {
            GeometryValue::Point { coordinates } => vec![coordinates.as_slice().to_vec()],
            GeometryValue::LineString { coordinates } => {
                coordinates.iter().map(|c| c.as_slice().to_vec()).collect()
            }
            GeometryValue::Polygon { coordinates } => {
                rings += 1;
                assert_eq!(coordinates.len(), 1);
                let ring: Vec<Vec<f64>> = coordinates[0].iter().map(|c| c.as_slice().to_vec()).collect();
                assert!(ring.len() >= 4 && ring.first() == ring.last(), "closed");
                let area: f64 = ring.windows(2).map(|w| w[0][0] * w[1][1] - w[1][0] * w[0][1]).sum();
                assert!(area > 0.0, "counter-clockwise");
                ring
            }
            other => panic!("{other:?}"),
        };
        for place in places {
            assert_eq!(place.len(), 2);
            assert!(bbox[0] <= place[0] && place[0] <= bbox[2], "{place:?} in {bbox:?}");
            assert!(bbox[1] <= place[1] && place[1] <= bbox[3], "{place:?} in {bbox:?}");
        }
    }
    assert_eq!(rings, 1);
    let whole_site = collection.features.last().unwrap();
    assert!(whole_site.geometry.is_none(), "a note of the whole site has no place");
}

#[test]
fn properties_say_how_well_things_are_known() {
    let text = written();
    let json: Value = serde_json::from_str(&text).unwrap();
    let properties = |id: &str| {
        let features = json["features"].as_array().unwrap();
        features.iter().find(|f| f["id"] == id).unwrap()["properties"].clone()
    };
    let a = properties("A");
    assert_eq!((&a["sort"], &a["label"], &a["state"]), (&"point".into(), &"A".into(), &"checked".into()));
    assert_eq!(a["semi_major_95_m"], 0.02);
    // The held line bears 57° and the axis lies 30° to its left: 27°.
    assert_eq!(a["bearing_95_deg"], 27.0);
    let t = properties("T");
    assert_eq!(t["state"], "loose");
    assert_eq!(t["free"], "anywhere on a circle of 10' 0\" round A");
    assert_eq!((&t["circle_centre"], &t["circle_radius_m"]), (&"A".into(), &3.048.into()));
    // Where the plan draws a loose point is no place (RFC 7946 §3.2: unlocated is null), nor is its tree's.
    let geometry = |id: &str| {
        let features = json["features"].as_array().unwrap();
        features.iter().find(|f| f["id"] == id).unwrap()["geometry"].clone()
    };
    assert_eq!([geometry("T"), geometry("f3")], [Value::Null, Value::Null]);
    assert_eq!((t.get("x_m"), a.get("x_m").is_some()), (None, true));
    let tree = properties("f3");
    assert_eq!(
        (&tree["kind"], &tree["certain"], &tree["outer_radius_m"]),
        (&"tree".into(), &false.into(), &1.524.into())
    );
    // As typed, and a foot is 0.3048 m by definition.
    assert_eq!(tree["attributes"], serde_json::json!({ "canopy_spread": "10'", "canopy_spread_m": 3.048 }));
    assert_eq!(properties("m1")["colour"], "yellow");
    assert_eq!(properties("m1")["zone_m"], 0.6096);
    assert_eq!(properties("p1").get("attributes"), None);
    assert_eq!(properties("p1")["number"], 1);
    let told = serde_json::json!({ "sort": "note", "topic": "sun", "text": "sun at noon" });
    assert_eq!(properties("n1"), told);
    // No more than nine decimals anywhere, and nothing that is no number.
    let decimals = |number: &str| number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let numbers = text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'));
    assert!(numbers.map(decimals).all(|n| n <= 9));
    assert!(!text.contains("NaN") && !text.contains("inf"));
}

/// RFC 7946 §6.1: members of our own in the head; a reader from outside (the crate geojson) keeps them as they stand.
#[test]
fn the_head_says_how_good_the_place_is() {
    let (mut record, adjustment) = yard();
    let mut head = |anchor: Anchor, north: North, stated: &Stated| {
        (record.anchor, record.north) = (Some(anchor), Some(north));
        let plan = Plan::build(&record, &adjustment);
        let text = export::write(&record, &plan, &Ground::of(&record, &plan), stated).unwrap();
        let read: FeatureCollection = text.parse().unwrap();
        let members = read.foreign_members.unwrap();
        [
            "anchor_point",
            "anchor_source",
            "anchor_accuracy_m",
            "north_source",
            "north_95_deg",
            "north_from_compass",
        ]
        .map(|name| members.get(name).unwrap_or_else(|| panic!("{name}")).clone())
    };
    let true_north = || North { source: "plat".into(), ..north(57.0, NorthKind::True) };
    let bare = head(anchor("B"), true_north(), &Stated::default());
    assert_eq!(Value::from(bare.to_vec()), serde_json::json!(["B", "", null, "plat", null, false]));
    let good = Anchor { source: "phone".into(), accuracy: Some(Length::from_metres(5.0)), ..anchor("A") };
    let sun = North { sd: Some(Angle::from_degrees(0.5)), ..true_north() };
    let said = head(good.clone(), sun, &Stated::default());
    // 1.96 standard deviations hold 95 of 100.
    assert_eq!(Value::from(said.to_vec()), serde_json::json!(["A", "phone", 5.0, "plat", 0.98, false]));
    let compass = North { declination: Some(Angle::ZERO), ..north(57.0, NorthKind::Magnetic) };
    assert_eq!(head(good.clone(), compass, &Stated::default())[5], Value::from(true));
    let at = Some(Position::on_ellipsoid(10.0, 10.0));
    let desk = head(good, true_north(), &Stated { at, north: Some(Angle::ZERO), ..Stated::default() });
    assert_eq!((&desk[0], &desk[2], &desk[4]), (&Value::Null, &Value::Null, &Value::Null), "not the book's");
}

/// JSON-FG 1.0 (OGC 21-045r1), read by an independent reader (the crate jsonfg): a site with no place on earth has its plan
/// in metres and no geometry on the map; one with a place has both, and the map's is that of the map layer.
#[test]
fn the_plan_in_its_own_frame_is_json_fg() {
    let (mut record, adjustment) = yard();
    let plan = Plan::build(&record, &adjustment);
    let ground = Ground::of(&record, &plan);
    let text = export::write_local(&record, &plan, &ground, &Stated::default());
    let read: jsonfg::FeatureCollection = serde_json::from_str(&text).unwrap();
    assert_eq!(read.conforms_to.as_deref(), Some(&[jsonfg::conformance::CORE.to_owned()][..]));
    assert!(read.coord_ref_sys.is_some());
    assert_eq!(read.features.len(), 5 + 4 + 2 + 2);
    assert!(read.features.iter().all(|f| f.geometry.is_none() && f.feature_type.is_some()));
    let json: Value = serde_json::from_str(&text).unwrap();
    let feature = |json: &Value, id: &str| {
        json["features"].as_array().unwrap().iter().find(|f| f["id"] == id).unwrap().clone()
    };
    let b = feature(&json, "B");
    let at = plan.points.iter().find(|p| p.label == "B").unwrap().at.metres();
    assert_eq!(b["place"], serde_json::json!({ "type": "Point", "coordinates": [at.0, at.1] }));
    assert_eq!(json["frame"].get("north_deg"), None);

    record.anchor = Some(anchor("A"));
    record.north = Some(north(57.0, NorthKind::True));
    let plan = Plan::build(&record, &adjustment);
    let text = export::write_local(&record, &plan, &ground, &Stated::default());
    let (local, map): (Value, Value) =
        (serde_json::from_str(&text).unwrap(), serde_json::from_str(&written()).unwrap());
    for f in map["features"].as_array().unwrap() {
        let id = f["id"].as_str().unwrap();
        assert_eq!(feature(&local, id)["geometry"], f["geometry"], "{id}");
    }
    // The held line bears 57°: north lies so much to its left.
    assert_eq!(local["frame"]["north_deg"], 57.0);
}

/// Denver, by its coordinates: 7.557° east on the first day of 2026 (pygeomag 1.1.0, another implementation of WMM2025).
#[test]
fn a_compass_bearing_places_the_plan_by_the_model_of_its_day() {
    let (mut record, adjustment) = yard();
    record.anchor = Some(Anchor { latitude: 39.7392, longitude: -104.9903, ..anchor("A") });
    record.site.date = "2026-01-01".to_owned();
    let bearing_of = |record: &Record| {
        let plan = Plan::build(record, &adjustment);
        let placement = Placement::find(record, &plan, &Stated::default()).unwrap();
        placement.bearing(Angle::ZERO).degrees().rem_euclid(360.0)
    };
    record.north = Some(north(10.0, NorthKind::Magnetic));
    let by_model = bearing_of(&record);
    assert!((by_model - 17.557).abs() < 0.01, "{by_model}");
    // What somebody stated counts for more.
    record.north =
        Some(North { declination: Some(Angle::from_degrees(9.0)), ..north(10.0, NorthKind::Magnetic) });
    assert!((bearing_of(&record) - 19.0).abs() < 1e-9);
}
