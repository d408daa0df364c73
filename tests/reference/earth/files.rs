//! The map layer and the plan in its own frame, read by a geographic information system (GDAL through pyogrio, areas by
//! shapely and PROJ) and looked over by two checks of RFC 7946 from npm. Neither is content with a file that is broken.
//!
//! The sites are both invented yards (`tests/scenarios`) with an anchor and a north, and the first without an anchor.

use serde::Deserialize;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;
use swingtie_core::book::fold;
use swingtie_core::exchange::geojson;
use swingtie_core::levels::lay;
use swingtie_core::network::{PointState, adjust};
use swingtie_core::place::{Stated, Unplaced};
use swingtie_core::plan::quantities::area;
use swingtie_core::plan::{Ground, Outline, Plan};
use swingtie_core::record::{Anchor, North, NorthKind, Record};
use swingtie_core::units::Angle;
use swingtie_tests::scenario::{Options, scenario};
use swingtie_xtask::tools;

/// Of an area.
const SHARE: f64 = 0.001;

#[derive(Deserialize)]
struct Answers {
    versions: String,
    files: Vec<Answer>,
}

#[derive(Deserialize)]
struct Answer {
    /// What GDAL warned of.
    said: Vec<String>,
    layers: Vec<Layer>,
}

#[derive(Deserialize)]
struct Layer {
    on_map: bool,
    features: Vec<Feature>,
}

#[derive(Deserialize)]
struct Feature {
    id: String,
    kind: String,
    valid: bool,
    area: f64,
    fields: BTreeMap<String, String>,
}

fn record(number: u32, anchored: Option<(f64, f64)>) -> Record {
    let mut record = fold(&scenario(number).book(&Options::default())).record;
    lay(&mut record);
    let (from, to) = (record.points[0].id.clone(), record.points[1].id.clone());
    record.anchor = anchored.map(|(latitude, longitude)| Anchor {
        point: from.clone(),
        latitude,
        longitude,
        source: String::new(),
        accuracy: None,
    });
    let (bearing, source) = (Angle::from_degrees(57.0), "from the plat".to_owned());
    record.north =
        Some(North { from, to, bearing, kind: NorthKind::True, declination: None, source, sd: None });
    record
}

fn plan_of(record: &Record) -> Plan {
    Plan::build(record, &adjust(record))
}

/// The map layer of a site, and its plan in its own frame.
fn written(record: &Record, plan: &Plan) -> (Result<String, Unplaced>, String) {
    let ground = Ground::of(record, plan);
    let stated = Stated::default();
    (geojson::write(record, plan, &ground, &stated), geojson::write_local(record, plan, &ground, &stated))
}

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("earth").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

fn put(folder: &Path, name: &str, text: &str) -> PathBuf {
    let file = folder.join(name);
    std::fs::write(&file, text).unwrap();
    file
}

fn script(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/earth").join(name)
}

/// What a program prints; it must say nothing else.
fn run(command: &mut Command) -> String {
    let done = command.output().expect("the program runs");
    let (said, complained) = (String::from_utf8(done.stdout), String::from_utf8_lossy(&done.stderr));
    assert!(done.status.success() && complained.trim().is_empty(), "{complained}");
    said.unwrap()
}

fn gdal(files: &[PathBuf]) -> Vec<Answer> {
    static PYTHON: LazyLock<PathBuf> = LazyLock::new(|| tools::ensure_python().expect("Python"));
    let python = &*PYTHON;
    let said = run(Command::new(python).arg("-B").arg(script("files.py")).args(files));
    let read: Answers = serde_json::from_str(&said).expect("what the script writes");
    println!("{}", read.versions);
    assert_eq!(read.files.len(), files.len());
    read.files
}

fn rfc_7946(files: &[PathBuf]) -> Vec<Vec<String>> {
    let checks = tools::ensure_geojson_checks().expect("the packages of `cargo xtask reference`");
    let said = run(Command::new("node").arg(script("valid.mjs")).args(checks).args(files));
    serde_json::from_str(&said).expect("what the script writes")
}

/// Areas of the drawn outlines by the shoelace formula in the plan's own metres, by entry.
fn areas(plan: &Plan) -> BTreeMap<&str, f64> {
    let inside = |outline: &Outline| match outline {
        Outline::Area(ring) => Some(area(ring, |_| None).value.square_metres()),
        _ => None,
    };
    plan.shapes.iter().filter_map(|s| Some((s.entry.as_str(), inside(&s.outline)?))).collect()
}

fn same(site: &str, record: &Record, plan: &Plan, text: &str, found: &Answer, on_map: bool) {
    assert_eq!(found.said, Vec::<String>::new(), "{site}");
    let all: Vec<&Feature> = found.layers.iter().flat_map(|layer| &layer.features).collect();
    assert!(found.layers.iter().all(|layer| layer.on_map == on_map), "{site}");
    let wanted: serde_json::Value = serde_json::from_str(text).unwrap();
    assert_eq!(all.len(), wanted["features"].as_array().unwrap().len(), "{site}");
    assert!(all.len() > record.points.len() + record.features.len());
    let areas = areas(plan);
    assert!(areas.len() > 2, "{site}");
    let mut worst = 0.0_f64;
    for (id, expected) in &areas {
        let feature = all.iter().find(|feature| feature.id == *id).expect("a feature of that id");
        assert_eq!((feature.kind.as_str(), feature.valid), ("Polygon", true), "{site} {id}");
        worst = worst.max((feature.area / expected - 1.0).abs());
    }
    println!("{site}: {} features, {} areas, {worst:.1e} off", all.len(), areas.len());
    assert!(worst < SHARE, "{site}: {worst}");
    assert_eq!(all.iter().filter(|feature| feature.kind == "Polygon").count(), areas.len(), "{site}");
    for point in &plan.points {
        let loose = point.state == PointState::Loose;
        let kind = if loose { "" } else { "Point" };
        let feature = all.iter().find(|f| f.id == point.id.as_str() && f.kind == kind).expect("the point");
        assert_eq!(feature.fields.get("sort").map(String::as_str), Some("point"), "{site}");
        assert_eq!(feature.fields.get("label"), Some(&point.label), "{site}");
        assert!(feature.fields.contains_key("state"), "{site}");
        // A table has a cell for it all the same: empty, which for a number is told as no number.
        let told = |key: &&str| feature.fields.get(*key).is_some_and(|value| value != "nan");
        assert!(["x_m", "y_m"].iter().all(|key| told(key) != loose), "{site}");
    }
    for thing in &record.features {
        let feature = all.iter().find(|f| f.id == thing.entry.as_str()).expect("the thing");
        assert_eq!(feature.fields.get("kind"), Some(&thing.what.kind), "{site}");
        assert!(thing.what.attributes.is_empty() || feature.fields.contains_key("attributes"), "{site}");
    }
}

#[test]
fn gdal_reads_the_files_without_a_word_and_finds_the_same() {
    let folder = folder("gdal");
    let sites = [
        ("the first yard", record(1, Some((38.9, -77.04)))),
        ("the second yard", record(2, Some((-45.03, 168.66)))),
        ("no anchor", record(1, None)),
    ];
    let mut files = Vec::new();
    for (n, (site, record)) in sites.iter().enumerate() {
        let plan = plan_of(record);
        let (map, local) = written(record, &plan);
        assert_eq!(map.is_err(), *site == "no anchor", "{site}");
        if let Ok(map) = map {
            files.push((*site, record, plan.clone(), put(&folder, &format!("{n}.geojson"), &map), map, true));
        }
        // With both, GDAL takes the geometry in the plan's frame.
        files.push((*site, record, plan, put(&folder, &format!("{n}.fg.json"), &local), local, false));
    }
    let paths: Vec<PathBuf> = files.iter().map(|file| file.3.clone()).collect();
    for ((site, record, plan, _, text, on_map), found) in files.iter().zip(gdal(&paths)) {
        same(site, record, plan, text, &found, *on_map);
    }
}

/// The same files, broken: GDAL's warnings and errors do reach us.
#[test]
fn gdal_complains_of_broken_files() {
    let folder = folder("gdal-broken");
    let record = record(1, Some((38.9, -77.04)));
    let (map, local) = written(&record, &plan_of(&record));
    let map = map.unwrap();
    // The first place, which is a point's, of no known kind.
    let no_kind = local.replacen("\"place\":{\"type\":\"Point\"", "\"place\":{\"type\":\"Spot\"", 1);
    assert_ne!(no_kind, local);
    let torn = &map[..map.len() / 2];
    let files = [put(&folder, "no-kind.fg.json", &no_kind), put(&folder, "torn.geojson", torn)];
    for (file, found) in files.iter().zip(gdal(&files)) {
        println!("{:?}", found.said);
        assert!(!found.said.is_empty(), "{}", file.display());
    }
}

#[test]
fn the_map_layer_is_rfc_7946_and_a_broken_one_is_not() {
    let folder = folder("rfc");
    let sites = [record(1, Some((38.9, -77.04))), record(2, Some((-45.03, 168.66)))];
    let maps = sites.map(|record| written(&record, &plan_of(&record)).0.unwrap());
    let files: Vec<PathBuf> =
        maps.iter().enumerate().map(|(n, map)| put(&folder, &format!("{n}.geojson"), map)).collect();
    assert_eq!(rfc_7946(&files), [Vec::<String>::new(), Vec::new()]);

    let broken = |name: &str, change: &dyn Fn(&mut serde_json::Value)| {
        let mut json: serde_json::Value = serde_json::from_str(&maps[0]).unwrap();
        change(&mut json);
        put(&folder, name, &json.to_string())
    };
    let ring = |json: &mut serde_json::Value, change: &dyn Fn(&mut Vec<serde_json::Value>)| {
        let features = json["features"].as_array_mut().unwrap();
        let one = features.iter_mut().find(|f| f["geometry"]["type"] == "Polygon").unwrap();
        change(one["geometry"]["coordinates"][0].as_array_mut().unwrap());
    };
    let files = [
        broken("clockwise.geojson", &|json| ring(json, &|ring| ring.reverse())),
        broken("open.geojson", &|json| ring(json, &|ring| drop(ring.pop()))),
        broken("crs.geojson", &|json| {
            json["crs"] = serde_json::json!({ "type": "name", "properties": { "name": "EPSG:4326" } });
        }),
        broken("box.geojson", &|json| json["bbox"] = serde_json::json!([-77.0, 38.0, -76.0])),
        broken("elsewhere.geojson", &|json| json["bbox"] = serde_json::json!([1.0, 2.0, 3.0, 4.0])),
        broken("far.geojson", &|json| {
            ring(json, &|ring| {
                for place in ring {
                    place[0] = (place[0].as_f64().unwrap() + 360.0).into();
                }
            });
        }),
        broken("bare.geojson", &|json| {
            json["features"][0].as_object_mut().unwrap().remove("properties");
        }),
    ];
    for (file, said) in files.iter().zip(rfc_7946(&files)) {
        println!("{}: {:?}", file.display(), said.first());
        assert!(!said.is_empty(), "{}", file.display());
    }
}
