//! The desk command, run as a person at a desk runs it: files in, files out.
//!
//! Judged against the coordinates the two invented yards were made from (`tests/scenarios`).

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;
use swingtie_core::book::fold;
use swingtie_core::exchange::csv;
use swingtie_core::record::PointId;
use swingtie_core::units::PlanPoint;
use swingtie_core::units::float::{cos, hypot, sin};
use swingtie_tests::fit::errors_after_fit;
use swingtie_tests::scenario::{Options, scenario};

const FOOT: f64 = 0.3048;

/// The command, built once: a test's own build does not make another package's programs.
fn program() -> &'static Path {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM.get_or_init(|| {
        let build =
            ["build", "--quiet", "--package", "swingtie-core", "--features", "cli", "--bin", "swingtie"];
        let status = Command::new(env!("CARGO"))
            .args(build)
            .args(["--message-format", "json-render-diagnostics"])
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .output()
            .expect("cargo runs");
        assert!(status.status.success(), "{}", String::from_utf8_lossy(&status.stderr));
        let text = String::from_utf8(status.stdout).expect("UTF-8");
        let messages = text.lines().filter_map(|line| serde_json::from_str::<serde_json::Value>(line).ok());
        let path = messages.filter_map(|m| m["executable"].as_str().map(PathBuf::from)).next_back();
        path.expect("cargo names the program")
    })
}

/// A fresh folder of this test's own.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("desk").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

fn run(arguments: &[&str]) -> Output {
    Command::new(program()).args(arguments).output().expect("the command runs")
}

/// Runs `plan` and returns the folder written and what was said.
fn plan(name: &str, file: &str, content: impl AsRef<[u8]>, more: &[&str]) -> (PathBuf, String) {
    let folder = folder(name);
    let input = folder.join(file);
    std::fs::write(&input, content).unwrap();
    let out = folder.join("out");
    let mut arguments = vec!["plan", input.to_str().unwrap(), "--out", out.to_str().unwrap()];
    arguments.extend(more);
    let done = run(&arguments);
    let said = String::from_utf8(done.stdout).unwrap();
    assert_eq!(done.status.code(), Some(0), "{said}{}", String::from_utf8_lossy(&done.stderr));
    (out, said)
}

fn refused(name: &str, file: &str, content: impl AsRef<[u8]>) -> String {
    let folder = folder(name);
    let input = folder.join(file);
    std::fs::write(&input, content).unwrap();
    let out = folder.join("out");
    let done = run(&["plan", input.to_str().unwrap(), "--out", out.to_str().unwrap()]);
    assert_eq!(done.status.code(), Some(2));
    assert!(!out.exists(), "nothing is written after an error");
    String::from_utf8(done.stderr).unwrap()
}

fn read(folder: &Path, name: &str) -> String {
    std::fs::read_to_string(folder.join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn table(number: u32, options: &Options) -> String {
    csv::write(&fold(&scenario(number).book(options)).record)
}

fn struck() -> Options {
    Options { strike: vec!["M056".into()], ..Options::default() }
}

/// Label and cells of every point of a points.csv, found by the names of the columns.
fn points(text: &str) -> Vec<BTreeMap<String, String>> {
    let mut lines = text.lines();
    let names: Vec<&str> = lines.next().unwrap().split(',').collect();
    let row = |line: &str| {
        // Notes are last and may hold commas; nothing before them does but the words of freedom.
        names.iter().zip(line.split(',')).map(|(n, c)| ((*n).to_owned(), c.to_owned())).collect()
    };
    lines.map(row).collect()
}

fn check_fit(name: &str, number: u32, points_csv: &str) {
    let truth = scenario(number).truth();
    let found: Vec<(PlanPoint, PlanPoint)> = points(points_csv)
        .iter()
        .filter(|row| row["state"] != "loose")
        .map(|row| {
            let at = PlanPoint::from_metres(row["x_m"].parse().unwrap(), row["y_m"].parse().unwrap());
            (at, truth[&PointId(row["label"].clone())])
        })
        .collect();
    let fit = errors_after_fit(&found);
    println!(
        "{name}: {} points, rms {:.4} ft, worst {:.4} ft",
        found.len(),
        fit.rms / FOOT,
        fit.worst / FOOT
    );
    assert!(fit.rms / FOOT <= 0.15, "{name}: rms {} ft", fit.rms / FOOT);
    assert!(fit.worst / FOOT <= 0.5, "{name}: worst {} ft", fit.worst / FOOT);
}

#[test]
fn scenario_1_from_book_and_table() {
    let options = Options::default();
    let (book, said) = plan("book_1", "yard.jsonl", scenario(1).json_lines(&options), &[]);
    let (typed, _) = plan("table_1", "yard.csv", table(1, &options), &[]);
    for name in ["points.csv", "measurements.csv"] {
        assert_eq!(read(&book, name), read(&typed, name), "{name}");
    }
    let points_csv = read(&book, "points.csv");
    check_fit("scenario 1", 1, &points_csv);
    let loose: Vec<_> = points(&points_csv).into_iter().filter(|row| row["state"] == "loose").collect();
    assert_eq!(loose.len(), 1);
    assert_eq!((loose[0]["label"].as_str(), loose[0]["x_m"].as_str()), ("T4", ""));
    assert!(said.contains("Loose: T4, anywhere on a circle of ") && said.contains(" round H6"), "{said}");
    assert!(said.contains("1 loose, 0 in doubt") && !said.contains("Suspect"), "{said}");
    assert!(
        said.contains("plan.geojson was not written: no point of this site has a place on earth"),
        "{said}"
    );
    assert!(!book.join("plan.geojson").exists());
    let svg = read(&book, "plan.svg");
    assert!(svg.contains("<svg") && svg == read(&typed, "plan.svg"));
    let [pdf, again] = [&book, &typed].map(|folder| std::fs::read(folder.join("plan.pdf")).unwrap());
    assert!(pdf.starts_with(b"%PDF") && pdf == again);
    // What the command writes it reads again.
    let again = read(&book, "measurements.csv");
    let (again, _) = plan("again_1", "yard.csv", again, &[]);
    assert_eq!(read(&again, "points.csv"), points_csv);
}

#[test]
fn scenario_2_struck_and_unstruck() {
    let (struck_out, said) = plan("book_2", "yard.jsonl", scenario(2).json_lines(&struck()), &[]);
    check_fit("scenario 2, struck", 2, &read(&struck_out, "points.csv"));
    assert!(said.contains(" 0 loose, 0 in doubt") && !said.contains("Suspect"), "{said}");
    let (typed, _) = plan("table_2", "yard.csv", table(2, &struck()), &[]);
    assert_eq!(read(&struck_out, "points.csv"), read(&typed, "points.csv"));
    let (unstruck, said) =
        plan("book_2_unstruck", "yard.jsonl", scenario(2).json_lines(&Options::default()), &[]);
    // Stated with the yard: the tie M056 was written 19 ft 5 in for 16 ft 5 in.
    assert!(said.contains("Suspect: ") && said.contains("B to T3, 19' 5\""), "{said}");
    let json: serde_json::Value = serde_json::from_str(&read(&unstruck, "adjustment.json")).unwrap();
    let mut sizes: Vec<(f64, &str)> = json["readings"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|r| Some((r["standardised"].as_f64()?.abs(), r["entry"].as_str()?)))
        .collect();
    sizes.sort_by(|a, b| b.0.total_cmp(&a.0));
    assert!(sizes[..2].iter().any(|(_, entry)| *entry == "M056"), "{:?}", &sizes[..4]);
    assert_eq!(json["suspects"][0]["entry"], "M056");
    assert_eq!(json["loose"].as_array().unwrap().len(), 0);
}

/// The map and the plan are the same yard: distances between points agree to a millimetre when the
/// ellipsoid is flattened at the held point by its radii of curvature there (M 6356426.696 m and
/// N 6385172.175 m at 35°, by PROJ), good to 10⁻⁵ over a yard.
#[test]
fn geojson_by_stated_place_and_north() {
    let place = ["--at", "35.0,-97.0", "--north", "57.5"];
    let (out, said) = plan("placed_1", "yard.jsonl", scenario(1).json_lines(&Options::default()), &place);
    assert!(said.contains("plan.geojson"), "{said}");
    let json: serde_json::Value = serde_json::from_str(&read(&out, "plan.geojson")).unwrap();
    let on_earth: BTreeMap<&str, (f64, f64)> = json["features"]
        .as_array()
        .unwrap()
        .iter()
        // A loose point has no place there.
        .filter(|f| f["properties"]["sort"] == "point" && !f["geometry"].is_null())
        .map(|f| {
            let at = |n: usize| f["geometry"]["coordinates"][n].as_f64().unwrap();
            (f["properties"]["label"].as_str().unwrap(), (at(0), at(1)))
        })
        .collect();
    let bearing = f64::to_radians(57.5);
    for row in points(&read(&out, "points.csv")).iter().filter(|row| row["state"] != "loose") {
        let (x, y): (f64, f64) = (row["x_m"].parse().unwrap(), row["y_m"].parse().unwrap());
        // The x axis bears 57.5°, the y axis, to its left, 57.5° - 90°.
        let east = x * sin(bearing) - y * cos(bearing);
        let north = x * cos(bearing) + y * sin(bearing);
        let (lon, lat) = on_earth[row["label"].as_str()];
        let (e, n) = (
            (lon + 97.0).to_radians() * 6_385_172.175 * cos(f64::to_radians(35.0)),
            (lat - 35.0).to_radians() * 6_356_426.696,
        );
        assert!(hypot(e - east, n - north) < 0.002, "{row:?}: {e} {n} / {east} {north}");
    }
    // A compass alone does not place a plan; a declination stated with it does.
    let at = ["--at", "35.0,-97.0"];
    let (compass, said) = plan("compass_1", "yard.jsonl", scenario(1).json_lines(&Options::default()), &at);
    assert!(
        said.contains("only magnetic north is known") && !compass.join("plan.geojson").exists(),
        "{said}"
    );
    let stated = ["--at", "35.0,-97.0", "--declination", "-4.5"];
    let (stated, _) = plan("declined_1", "yard.jsonl", scenario(1).json_lines(&Options::default()), &stated);
    assert!(stated.join("plan.geojson").exists());
}

/// A site package made by another writer of ZIP (APPNOTE 6.3.3): one stored entry.
#[test]
fn a_site_package_is_read() {
    let book = scenario(1).json_lines(&Options::default());
    let package = stored_zip(&[("book.jsonl", book.as_bytes())]);
    let (packed, _) = plan("package_1", "yard.zip", package, &[]);
    let (plain, _) = plan("plain_1", "yard.jsonl", &book, &[]);
    assert_eq!(read(&packed, "points.csv"), read(&plain, "points.csv"));
    let said = refused("package_without", "yard.zip", stored_zip(&[("other.txt", b"x")]));
    assert!(said.contains("no book.jsonl in it"), "{said}");
    let said = refused("package_torn", "yard.zip", b"PK\x03\x04nothing");
    assert!(said.contains("no zip file, or its end is missing"), "{said}");
}

/// Local headers with their entries, central directory, end record.
fn stored_zip(files: &[(&str, &[u8])]) -> Vec<u8> {
    let (mut zip, mut directory) = (Vec::new(), Vec::new());
    let long = |length: usize| u32::try_from(length).unwrap();
    for (name, content) in files {
        let crc = !content.iter().fold(!0_u32, |crc, byte| {
            (0..8).fold(crc ^ u32::from(*byte), |crc, _| {
                (crc >> 1) ^ (0xEDB8_8320 & 0_u32.wrapping_sub(crc & 1))
            })
        });
        let size = long(content.len());
        let mut common = vec![20, 0, 0, 0, 0, 0, 0, 0, 0x21, 0];
        common.extend(crc.to_le_bytes());
        common.extend(size.to_le_bytes());
        common.extend(size.to_le_bytes());
        common.extend(u16::try_from(name.len()).unwrap().to_le_bytes());
        common.extend([0, 0]);
        directory.extend(b"PK\x01\x02\x14\x00");
        directory.extend(&common);
        directory.extend([0; 10]);
        directory.extend(long(zip.len()).to_le_bytes());
        directory.extend(name.as_bytes());
        zip.extend(b"PK\x03\x04");
        zip.extend(&common);
        zip.extend(name.as_bytes());
        zip.extend(*content);
    }
    let (start, count) = (long(zip.len()), u16::try_from(files.len()).unwrap());
    let size = long(directory.len());
    zip.extend(directory);
    zip.extend(b"PK\x05\x06\x00\x00\x00\x00");
    zip.extend(count.to_le_bytes());
    zip.extend(count.to_le_bytes());
    zip.extend(size.to_le_bytes());
    zip.extend(start.to_le_bytes());
    zip.extend([0, 0]);
    zip
}

/// Of two sizes of a picture the report holds the small one; what a package lacks is listed without.
#[test]
fn a_package_brings_its_pictures_into_the_report() {
    let photo = |n: u32, id: &str| {
        format!(
            r#"{{"id":"f{n}","clock":9000{n},"at_ms":0,"author":"a","say":{{"photo":{{"id":"{id}","media_type":"image/jpeg","bytes":9}}}}}}"#
        )
    };
    let book = format!(
        "{}{}\n{}\n",
        scenario(1).json_lines(&Options::default()),
        photo(1, &"ab".repeat(32)),
        photo(2, &"de".repeat(32))
    );
    let (small, large) = (
        [&[0xff, 0xd8, 0xff, 1][..], &[b's'; 20]].concat(),
        [&[0xff, 0xd8, 0xff, 1][..], &[b'l'; 99]].concat(),
    );
    let package = stored_zip(&[
        ("book.jsonl", book.as_bytes()),
        (&format!("photos/{}.jpg", "ab".repeat(32)), &large),
        (&format!("thumbnails/{}.jpg", "ab".repeat(32)), &small),
    ]);
    let (out, said) = plan("package_photos", "yard.zip", package, &[]);
    let report = read(&out, "report.html");
    // By `base64` of GNU coreutils.
    assert!(report.contains("src=\"data:image/jpeg;base64,/9j/AXNzc3Nzc3Nzc3Nzc3Nzc3Nzc3Nz\""));
    assert_eq!(report.matches("data:image/jpeg").count(), 1);
    assert_eq!(report.matches("The picture is not in this report.").count(), 1);
    assert!(said.contains("Photos in report.html without their picture: 1."), "{said}");
}

#[test]
fn what_cannot_be_read_is_named_by_its_line() {
    let said =
        refused("broken_table", "notes.csv", "kind,from,to,reading\ntie,A,B,12' 14\"\ntie,A,C,about ten\n");
    assert!(said.contains("notes.csv: line 2, column reading:") && said.contains("13' 2\""), "{said}");
    assert!(said.contains("line 3, column reading:"), "{said}");
    let torn = format!("{}{}", scenario(1).json_lines(&Options::default()), "{\"id\":\"torn");
    let lines = torn.lines().count();
    let said = refused("torn_book", "yard.jsonl", &torn);
    assert!(said.contains(&format!("line {lines}: ")), "{said}");
    let (skipped, said) = plan("torn_skipped", "yard.jsonl", &torn, &["--skip-damaged"]);
    assert!(said.contains(&format!("Note: line {lines}: ")) && skipped.join("points.csv").exists(), "{said}");
    assert!(refused("empty", "yard.csv", "").contains("is empty"));
    assert!(refused("header_only", "yard.csv", "kind,from,to\n").contains("nothing yet"));
    let said = refused("latin", "yard.csv", b"kind,from,to,reading\ntie,A,B,12\xbd\n");
    assert!(said.contains("line 2") && said.contains("UTF-8"), "{said}");
    let missing = folder("missing").join("none.csv");
    let done = run(&["plan", missing.to_str().unwrap(), "--out", "out"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&done.stderr).contains("none.csv: cannot be read"));
    for wrong in [["--at", "91,0"], ["--at", "35"], ["--north", "west"]] {
        let done = run(&[&["plan", "none.csv", "--out", "out"], wrong.as_slice()].concat());
        assert_eq!(done.status.code(), Some(2), "{wrong:?}");
    }
}

#[test]
fn the_columns_are_explained() {
    let done = run(&["columns"]);
    assert_eq!((done.status.code(), done.stdout.as_slice()), (Some(0), csv::COLUMNS.as_bytes()));
}
