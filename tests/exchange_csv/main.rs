//! Measurements as CSV, in and out.
//!
//! RFC 4180 is the outside source for quoting. That cells beginning with = + - @ are computed by
//! spreadsheets is common practice to guard against (OWASP, "CSV Injection"; from memory).

mod kept;
mod levels;
mod measurements;

use measurements::{POINTS, a_point, free, measurement, reading, some_points, trimmed, two};
use proptest::prelude::*;
use serde_json::Value;
use std::collections::BTreeMap;
use swingtie_core::book::fold;
use swingtie_core::exchange::csv::{self, CellError, Import, Source};
use swingtie_core::record::*;
use swingtie_core::units::{Angle, Length, PlanPoint};

fn read(text: &str) -> Result<Import, Vec<CellError>> {
    csv::read(text, &Source { id_prefix: "row".to_owned(), author: "csv".into(), at_ms: 0 })
}

fn record(text: &str) -> Record {
    let import = read(text).unwrap_or_else(|errors| panic!("{errors:?}"));
    let fold = fold(&import.book);
    assert_eq!(fold.objections, []);
    fold.record
}

fn errors(text: &str) -> Vec<String> {
    read(text).map(|import| import.book.len()).unwrap_err().iter().map(ToString::to_string).collect()
}

const PAPER: &str = "\u{feff}Kind;From;To;Point;Reading;Offset;Side;Side_From;Side_To;Turn;how;target;what;points;name;more;remark\r
site;;;;;;;;;;;;;;Our yard;client=A. Client;\r
run;H1;H2;W1;4' 5 3/4\";;;;;;;;;;;;left jamb\r
run;;;W2;8'-10\";;;;;;;;;;;;\r
Run;H1;H2;H2;38-3-1/2;;;;;;;;;;;;\r
;;;;;;;;;;;;;;;;\r
offset;H1;H2;T1;12.5;6' 2\";Left;;;;fibreglass tape;Soft;;;;;\r
offset;;;T2;-3 6;7;r;;;;;;;;;;\r
walk;H2;H3;;26' 2 1/2\";;;;;;;;;;;;\r
walk;;H4;;14 2;;;;;left;;;;;;;\r
walk;H4;H1;;;;;;;left not square;;;;;;;\r
tie;H3;T1;;30,5 ft;;right;H1;H2;;;soft;;;;;\r
square;H1;H3;H2;;;;;;;;;;;;;\r
in line;;;;;;;;;;;;;H1 H2;;;\r
";

/// What a person would type up from paper, with a semicolon spreadsheet's habits.
#[test]
fn notes_typed_into_a_spreadsheet() {
    let text = PAPER.replace("in line;;;;;;;;;;;;;H1 H2;;;", "in line;;;;;;;;;;;;;\"H1 W1, H2\";;;");
    let record = record(&text);
    assert_eq!(record.site.name, "Our yard");
    assert_eq!(record.site.client, "A. Client");
    let labels: Vec<_> = record.points.iter().map(|p| p.label.as_str()).collect();
    assert_eq!(labels, ["H1", "H2", "W1", "W2", "T1", "T2", "H3", "H4"]);
    let id = |label: &str| record.by_label(label).unwrap().id.clone();
    let [run, offsets, walk, tie, square, line] = record.measurements.as_slice() else {
        panic!("{:?}", record.measurements);
    };
    let Measurement::Run { zero, toward, readings, .. } = &run.what else { panic!("{run:?}") };
    assert_eq!((zero, toward, readings.len()), (&id("H1"), &id("H2"), 3));
    // 38 ft 3 1/2 in = 459.5 in x 0.0254 = 11.6713 m.
    assert_eq!(readings[2].reading, Reading { text: "38-3-1/2".into(), value: Length::from_metres(11.6713) });
    let Measurement::Offsets { rows, how, .. } = &offsets.what else { panic!("{offsets:?}") };
    assert_eq!((how.instrument, how.target), (Instrument::FibreglassTape, Target::Soft));
    let rows: Vec<_> = rows.iter().map(|row| (row.side, row.station.value.metres())).collect();
    assert_eq!(rows, [(Side::Left, 3.81), (Side::Right, -1.0668)]);
    assert_eq!(run.entry.as_str(), "row00003", "an entry is named after its line");
    let Measurement::Walk { start, legs, .. } = &walk.what else { panic!("{walk:?}") };
    assert_eq!(start, &id("H2"));
    let turns: Vec<_> = legs.iter().map(|leg| (leg.turn, leg.to.clone(), leg.length.is_some())).collect();
    let expected = [
        (None, id("H3"), true),
        (Some(Turn::Left), id("H4"), true),
        (Some(Turn::LeftNotSquare), id("H1"), false),
    ];
    assert_eq!(turns, expected);
    let Measurement::Tie { reading, side, .. } = &tie.what else { panic!("{tie:?}") };
    assert_eq!(reading.value, Length::from_metres(9.2964)); // 30.5 x 0.3048
    assert_eq!(side, &Some(SideOf { from: id("H1"), to: id("H2"), side: Side::Right }));
    assert!(
        matches!(&square.what, Measurement::Square { at, .. } if *at == id("H2")) || square.what != line.what
    );
    assert!(matches!(&line.what, Measurement::InLine { points } if points.len() == 3));
}

#[test]
fn every_error_is_named_at_once_with_line_column_and_suggestion() {
    let text = "kind,from,to,points,reading,offset,side,turn,how,what,x_m,y_m,metres,units\n\
        tie,H1,H1,,12,,,,,,,,,\n\
        tie,H1,T1,,12' 14\",,,,,,,,,\n\
        ti,H1,T1,,12,,,,,,,,,\n\
        \n\
        run,H1,H2,W1,12-Jun,,,,,,,,,\n\
        offset,H1,H2,T1,5,-3,left,,,,,,,\n\
        offset,H1,H2,T1,5,3,lefft,,laserr,,,,,\n\
        walk,,H2,,5,,,,,,,,,\n\
        in_line,,,A B,,,,,,,,,,\n\
        mark,,,A,,,,,,beige,,,,\n\
        sketch,,,A,,,,,,,1,two,,\n\
        tie,H1,T1,,12 ft,,,,,,,,4.2,\n\
        tie,H1,T1,,-12,,,,,,,,,\n\
        tie,H1,T1,,12,,,,,,,,,furlong\n\
        tie,H1,,,,,,,,,,,,\n";
    let found = errors(text);
    let expected = [
        ("line 2, column to:", "two different points"),
        ("line 3, column reading:", "did you mean 13' 2\"?"),
        ("line 4, column kind:", "did you mean tie?"),
        ("line 6, column reading:", "date"),
        ("line 7, column offset:", "other side"),
        ("line 8, column how:", "did you mean laser?"),
        ("line 9, column from:", "label of a point"),
        ("line 10, column points:", "three points"),
        ("line 11, column what:", "red, yellow"),
        ("line 12, column y_m:", "plain number"),
        ("line 13, column metres:", "3.6576"),
        ("line 14, column reading:", "more than nothing"),
        ("line 15, column units:", "ft, in, m, mm"),
        ("line 16, column to:", "label of a point"),
        ("line 16, column reading:", "tape showed"),
    ];
    for (error, (place, words)) in found.iter().zip(expected) {
        assert!(error.starts_with(place) && error.contains(words), "{error} / {place} {words}");
    }
    assert_eq!(found.len(), expected.len(), "{found:#?}");
}

#[test]
fn tables_that_are_none() {
    for (text, words) in [("", "nothing here"), ("\n\n", "nothing here"), ("H1,H2,12\n", "name the columns")]
    {
        let found = errors(text);
        assert!(found.len() == 1 && found[0].contains(words), "{found:?}");
    }
    assert!(read("kind\n").unwrap().book.is_empty());
    assert!(read("sep=;\nkind;points\npoint;A\n").unwrap().book.len() == 1);
}

#[test]
fn what_is_passed_over_is_said() {
    let import = read("kind,from,to,reading,note,weather\ntie,A,B,12,wet tape,rain\n").unwrap();
    let remarks: Vec<String> = import.remarks.iter().map(ToString::to_string).collect();
    assert_eq!(remarks.len(), 2, "{remarks:?}");
    assert!(remarks[0].starts_with("line 1, column weather:"));
    assert!(remarks[1].starts_with("line 2, column note: \"wet tape\""));
}

#[test]
fn words_a_spreadsheet_would_compute_are_guarded_and_come_back() {
    let note = "=HYPERLINK(\"http://example.invalid\")";
    let mut old = Record::default();
    for (n, note) in [note, "+1", "-1+2", "@sum", "'quoted", "'=x", "\tx", "-5", "plain"].iter().enumerate() {
        let (id, label) = (PointId(format!("id{n}")), format!("P{n}"));
        old.points.push(Point { id, label, note: (*note).to_owned() });
    }
    let text = csv::write(&old);
    for line in text.lines().skip(2) {
        for cell in line.split(',') {
            let cell = cell.trim_start_matches('"');
            let number = cell.parse::<f64>().is_ok();
            assert!(number || !cell.starts_with(['=', '+', '-', '@', '\t']), "{line}");
        }
    }
    let notes = |record: &Record| record.points.iter().map(|p| p.note.clone()).collect::<Vec<_>>();
    assert_eq!(notes(&record(&text)), notes(&old));
}

/// A record without its ids, authors and times: what the table promises to carry.
fn plain(record: &Record) -> BTreeMap<&'static str, Value> {
    let names: BTreeMap<&str, String> =
        record.points.iter().zip(0..).map(|(p, n)| (p.id.as_str(), format!("point {n}"))).collect();
    fn rename(value: Value, names: &BTreeMap<&str, String>) -> Value {
        let name = |text: String| names.get(text.as_str()).cloned().unwrap_or(text);
        match value {
            Value::String(text) => Value::String(name(text)),
            Value::Array(all) => all.into_iter().map(|v| rename(v, names)).collect(),
            Value::Object(all) => all.into_iter().map(|(k, v)| (name(k), rename(v, names))).collect(),
            other => other,
        }
    }
    fn whats<T: serde::Serialize>(all: &[Recorded<T>]) -> Value {
        all.iter().map(|r| serde_json::to_value(&r.what).unwrap()).collect()
    }
    /// By the measurement's place in the book: entries are called otherwise in another one.
    fn kept(record: &Record) -> Value {
        let place = |entry: &EntryId| record.measurements.iter().position(|m| m.entry == *entry).unwrap();
        let mut kept: Vec<_> = record.kept.iter().map(|((entry, part), ())| (place(entry), *part)).collect();
        kept.sort_unstable();
        serde_json::to_value(kept).unwrap()
    }
    let json = |value: Value| rename(value, &names);
    BTreeMap::from([
        ("site", json(serde_json::to_value(&record.site).unwrap())),
        ("points", json(serde_json::to_value(&record.points).unwrap())),
        ("sketch", json(serde_json::to_value(&record.sketch).unwrap())),
        ("measurements", json(whats(&record.measurements))),
        ("kept", kept(record)),
        ("features", json(whats(&record.features))),
        ("problems", json(whats(&record.problems))),
        ("marks", json(whats(&record.marks))),
        ("photos", json(whats(&record.photos))),
        ("levels", json(levels::compared(record))),
        ("notes", json(whats(&record.notes()))),
        ("anchor", json(serde_json::to_value(&record.anchor).unwrap())),
        ("north", json(serde_json::to_value(&record.north).unwrap())),
    ])
}

fn at() -> impl Strategy<Value = At> {
    prop_oneof![
        Just(At::Site),
        some_points(1).prop_map(At::Points),
        (-50.0..50.0, -50.0..50.0).prop_map(|(x, y)| At::Near(PlanPoint::from_metres(x, y))),
    ]
}
fn attribute() -> impl Strategy<Value = (String, Attribute)> {
    let keys = prop_oneof![
        Just("trunk_diameter".to_owned()),
        Just("canopy_spread".to_owned()),
        Just("fate".to_owned()),
        Just("told".to_owned()),
        prop::sample::select(vec![
            "curved", "spread", "severity", "photos", "lean", "species", "ticket", "depth"
        ])
        .prop_map(str::to_owned),
        "[a-z=;\"\\[\\]]{0,8}",
    ];
    (keys, prop_oneof![reading().prop_map(Attribute::Length), trimmed().prop_map(Attribute::Text)])
}
fn attributes() -> impl Strategy<Value = Attributes> {
    prop::collection::btree_map(attribute().prop_map(|a| a.0), attribute().prop_map(|a| a.1), 0..4)
        .prop_map(|attributes| attributes.into_iter().collect())
}
fn what() -> impl Strategy<Value = String> {
    prop_oneof![Just("house".to_owned()), Just("wet_spot".to_owned()), "[a-z_=;]{1,8}"]
}
fn feature() -> impl Strategy<Value = Feature> {
    let fates = prop::option::of(prop::sample::select(vec![Fate::Keep, Fate::Move, Fate::Remove, Fate::Ask]));
    let sure = (any::<bool>(), any::<bool>());
    (what(), some_points(1), free(), fates, attributes(), sure, free()).prop_map(
        |(kind, points, name, fate, attributes, (curved, told), note)| Feature {
            kind,
            points,
            name,
            fate,
            attributes,
            curved,
            told,
            note,
        },
    )
}
fn facing() -> impl Strategy<Value = Facing> {
    (any::<bool>(), -7.0..7.0_f64).prop_map(|(needle, radians)| {
        let angle = Angle::from_radians(radians);
        if needle { Facing::Compass(angle) } else { Facing::Plan(angle) }
    })
}

fn drawn_on_photos() -> impl Strategy<Value = (Vec<PhotoMark>, Option<Original>)> {
    let spot = || (0.0..1.0_f64, 0.0..1.0_f64).prop_map(|(across, down)| PictureSpot { across, down });
    let mark = prop_oneof![
        (spot(), spot()).prop_map(|(from, to)| PhotoMark::Arrow { from, to }),
        (spot(), spot()).prop_map(|(centre, rim)| PhotoMark::Circle { centre, rim }),
        (spot(), free()).prop_map(|(at, text)| PhotoMark::Text { at, text }),
    ];
    let original = (any::<u64>(), free()).prop_map(|(bytes, name)| Original {
        id: PhotoId("0a1b".into()),
        media_type: "image/png".into(),
        bytes,
        name,
    });
    (prop::collection::vec(mark, 0..3), prop::option::of(original))
}

fn recorded<T>(what: T) -> Recorded<T> {
    Recorded { entry: "e".into(), author: "a".into(), at_ms: 7, what }
}
fn last_part(measurement: &Measurement) -> usize {
    match measurement {
        Measurement::Run { readings, .. } => readings.len() - 1,
        Measurement::Offsets { rows, .. } => rows.len() - 1,
        Measurement::Walk { legs, .. } => legs.len() - 1,
        Measurement::InLine { points } if points.len() > 3 => points.len() - 2,
        _ => 0,
    }
}
fn a_record() -> impl Strategy<Value = Record> {
    let units =
        prop::sample::select(vec![UnitSystem::FeetInches, UnitSystem::DecimalFeet, UnitSystem::Metres]);
    let site =
        (free(), trimmed(), trimmed(), units, free()).prop_map(|(name, client, surveyor, units, note)| {
            Site { name, client, surveyor, units, date: "2031-05-04".into(), note }
        });
    let notes = prop::collection::vec((trimmed(), free()), POINTS);
    let severity = prop::sample::select(vec![Severity::Note, Severity::Fix, Severity::Danger]);
    let photo = Just(vec![PhotoId("ab12".into()), PhotoId("cd34".into())]);
    let spread = prop::option::of(prop::sample::select(vec![Spread::Line, Spread::Area]));
    let problem = (what(), severity, (at(), spread), attributes(), free(), photo, any::<bool>()).prop_map(
        |(kind, severity, (at, spread), attributes, note, photos, told)| Problem {
            kind,
            severity,
            at,
            spread,
            attributes,
            note,
            photos,
            told,
        },
    );
    let marks = (some_points(1), free(), attributes(), any::<bool>(), free()).prop_map(
        |(points, letters, attributes, told, note)| UtilityMark {
            colour: MarkColour::Yellow,
            points,
            letters,
            attributes,
            told,
            note,
        },
    );
    let photos = (any::<u64>(), at(), free(), prop::option::of(facing()), drawn_on_photos());
    let photos = photos.prop_map(|(bytes, at, note, facing, (marks, original))| Photo {
        at,
        note,
        facing,
        marks: PhotoMarks::default().written(&marks),
        original,
        ..Photo::new(PhotoId("ef56".into()), "image/jpeg".into(), bytes)
    });
    let place = (
        prop::option::of((
            a_point(),
            -90.0..90.0_f64,
            -180.0..180.0_f64,
            free(),
            prop::option::of(0.1..90.0_f64),
        )),
        prop::option::of((
            two(),
            -7.0..7.0_f64,
            any::<bool>(),
            [prop::option::of(-1.0..1.0_f64), prop::option::of(0.0..1.0_f64)],
            free(),
        )),
        levels::levels(),
    );
    (
        site,
        notes,
        prop::collection::btree_map(a_point(), (-50.0..50.0, -50.0..50.0), 0..4),
        prop::collection::vec(measurement(), 0..8),
        prop::collection::vec(feature(), 0..4),
        prop::collection::vec(problem, 0..3),
        prop::collection::vec(marks, 0..3),
        (prop::collection::vec(photos, 0..2), prop::collection::vec(measurements::note(), 0..3)),
        place,
    )
        .prop_map(|(site, notes, sketch, taken, features, problems, marks, (photos, told), place)| {
            let (anchor, north, (levels, bench_mark)) = place;
            let measurements: Vec<_> = (0..)
                .zip(taken)
                .map(|(n, what)| Recorded { entry: EntryId(format!("m{n}")), ..recorded(what) })
                .collect();
            Record {
                // Every other measurement is kept, in its last part.
                kept: measurements
                    .iter()
                    .step_by(2)
                    .map(|m| ((m.entry.clone(), last_part(&m.what)), ()))
                    .collect(),
                // A table says nothing of who wrote.
                authors: Default::default(),
                site,
                // The number keeps labels apart: the table tells points by their labels.
                points: (0..)
                    .zip(notes)
                    .map(|(n, (label, note))| Point {
                        id: PointId(format!("pid-{n}")),
                        label: format!("{label}{n}").trim().to_owned(),
                        note,
                    })
                    .collect(),
                sketch: sketch.into_iter().map(|(id, (x, y))| (id, PlanPoint::from_metres(x, y))).collect(),
                measurements,
                features: features.into_iter().map(recorded).collect(),
                problems: problems.into_iter().map(recorded).collect(),
                marks: marks.into_iter().map(recorded).collect(),
                photos: photos.into_iter().map(recorded).collect(),
                written_notes: told.into_iter().map(WrittenNote::from).map(recorded).collect(),
                levels,
                heights: Default::default(),
                bench_mark,
                second_anchors: Vec::new(),
                north_by_anchors: None,
                anchor: anchor.map(|(point, latitude, longitude, source, accuracy)| Anchor {
                    point,
                    latitude,
                    longitude,
                    source,
                    accuracy: accuracy.map(Length::from_metres),
                }),
                north: north.map(|((from, to), bearing, kind, [declination, sd], source)| North {
                    from,
                    to,
                    bearing: Angle::from_radians(bearing),
                    kind: if kind { NorthKind::True } else { NorthKind::Magnetic },
                    declination: declination.map(Angle::from_radians),
                    source,
                    sd: sd.map(Angle::from_radians),
                }),
            }
        })
}

/// As somebody would type them.
const TURNED: &str = "kind,from,to,points,reading,turn,what,side,sd,how,more
site,,,,,,,,,,
tie,A,T,,31' 6\",,,,,,taped_to=near side; slope_rise=2' 6\"; tape_marked=100 ft; tape_true=100.02 ft
run,A,B,P,12,,,,,,zero=unknown
run,,,Q,18,,,,,,
angle,B,C,A,84-30,ccw,,,0.5,theodolite,
bearing,A,B,,N 45 W,,,,,,
bearing,A,C,,20,,true,,,phone,
parallel,,,A B C D,,,,,1,,
same_length,,,A B B C,,,,,0.1,,
arc,A,B,,3,,,right,,,
arc_through,A,C,B,,,,,,,
girth,,,T,4' 1\",,,,,,
north,A,B,,90,,magnetic,,,,declination=-14
";

#[test]
fn turned_and_related_things_are_read() {
    let record = record(TURNED);
    let kinds: Vec<Measurement> = record.measurements.iter().map(|m| m.what.clone()).collect();
    let [tie, run, angle, bearing, truly, parallel, same, arc, through, girth] = kinds.as_slice() else {
        panic!("{kinds:?}")
    };
    let Measurement::Tie { taped_to: TapedTo::NearSide, how, .. } = tie else { panic!("{tie:?}") };
    let tape = how.tape.as_ref().unwrap();
    assert_eq!(
        (tape.marked, tape.true_length),
        (Some(Length::from_feet(100.0)), Some(Length::from_feet(100.02)))
    );
    assert_eq!(how.slope, Some(Slope::RiseMetres(Length::from_feet(2.5))));
    assert!(
        matches!(run, Measurement::Run { zero_unknown: true, readings, .. } if readings.len() == 2),
        "{run:?}"
    );
    let Measurement::Angle { turn: Rotation::CounterClockwise, reading, how, .. } = angle else {
        panic!("{angle:?}")
    };
    assert_eq!((reading.value, how.sd), (Angle::from_degrees(84.5), Some(Angle::from_degrees(0.5))));
    let Measurement::Bearing { north: NorthKind::Magnetic, reading, .. } = bearing else {
        panic!("{bearing:?}")
    };
    assert_eq!((reading.text.as_str(), reading.value), ("N 45 W", Angle::from_degrees(315.0)));
    assert!(matches!(truly, Measurement::Bearing { north: NorthKind::True, .. }));
    assert!(matches!(parallel, Measurement::Parallel { tolerance: Some(_), .. }));
    assert!(
        matches!(same, Measurement::SameLength { tolerance: Some(t), .. } if (t.feet() - 0.1).abs() < 1e-12)
    );
    assert!(matches!(arc, Measurement::Arc { side: Side::Right, .. }));
    assert!(matches!(through, Measurement::ArcThrough { .. }) && matches!(girth, Measurement::Girth { .. }));
    assert_eq!(record.north.unwrap().declination, Some(Angle::from_degrees(-14.0)));
}

proptest! {
    #[test]
    fn what_is_written_reads_back_equal(old in a_record()) {
        let text = csv::write(&old);
        let new = record(&text);
        prop_assert_eq!(plain(&new), plain(&old), "{}", text);
        prop_assert_eq!(csv::write(&new), text);
    }

    #[test]
    fn no_text_panics(text in "\\PC{0,60}", rows in "(kind|tie|run|offset|walk|point|feature|more|from)?[,;\n\"' a-z0-9=]{0,80}") {
        let _ = read(&text);
        let _ = read(&format!("kind,from,to,points,reading,more\n{rows}"));
    }
}
