//! The JSON Schema of a field book's lines: it is what the types say, and Python's `jsonschema` judges lines by it as the
//! program does.

use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use swingtie_core::book::{Entry, Said, schema};
use swingtie_tests::hostile;
use swingtie_tests::scenario::{Options, Sketch, scenario};
use swingtie_xtask::tools;

const DEMO: &str = include_str!("../../../public/demo.jsonl");

/// What the invented yards do not hold: a tape with all its figures, a slope, words of every small choice.
const SELDOM: [&str; 7] = [
    r#"{"measure":{"run":{"zero":"A","toward":"B","readings":[],"how":{"instrument":"steel_tape","target":"hard","tape":{"marked_metres":30.0,"true_metres":30.01,"celsius":31.0,"standard_celsius":20.0,"expansion":0.0000116,"pull_newtons":50.0,"standard_pull_newtons":100.0,"section_square_metres":0.0000025,"elasticity_pascals":200000000000.0,"newtons_per_metre":0.3,"span_metres":10.0,"supported_metres":5.0},"slope":{"angle_radians":0.1}}}}}"#,
    r#"{"measure":{"tie":{"from":"A","to":"T","reading":{"text":"5 m","metres":5.0},"taped_to":"near_side","how":{"instrument":"laser","target":"soft","sd_metres":0.01,"slope":"heights"}}}}"#,
    r#"{"measure":{"parallel":{"one":["A","B"],"other":["C","D"],"tolerance_radians":0.01}}}"#,
    r#"{"second_anchor":{"point":"B","latitude":35.0,"longitude":-97.0,"source":"typed","accuracy_metres":4.0}}"#,
    r#"{"north":{"from":"A","to":"B","bearing_radians":1.5,"kind":"magnetic","declination_radians":-0.1,"sd_radians":0.02}}"#,
    r#"{"photo":{"id":"ab12","media_type":"image/jpeg","bytes":7,"at":{"near":{"x":1.0,"y":2.0}},"facing":{"plan":1.5},"marks":[{"circle":{"centre":{"across":0.5,"down":0.5},"rim":{"across":0.5,"down":0.75}}},{"star":{"at":1}}]}}"#,
    r#"{"correct":{"entry":"1","now":{"level":{"setup":"2","point":"A","reading":{"text":"1 m","metres":1.0},"overhead":true,"stood":"above","with":"water_level","sd_metres":0.01}}}}"#,
];

fn line(say: &str) -> String {
    format!(r#"{{"id":"e","clock":1,"at_ms":0,"author":"a","say":{say}}}"#)
}

fn file() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src/package/book.schema.json")
}

/// To accept a change: look at it, then run with `UPDATE_SNAPSHOTS=1`. Fields stand in the order of the types, since a
/// package of the tests (`jsonfg`) has serde_json keep it.
#[test]
fn the_file_is_what_the_types_say() {
    let now = schema().unwrap();
    if std::env::var_os("UPDATE_SNAPSHOTS").is_some() {
        std::fs::write(file(), &now).unwrap();
    }
    let kept = std::fs::read_to_string(file()).unwrap();
    let differs = now.lines().zip(kept.lines()).enumerate().find(|(_, (now, kept))| now != kept);
    assert_eq!(differs, None, "book.schema.json differs, counted from 0");
    assert_eq!(now.len(), kept.len(), "book.schema.json ends differently");
}

/// What `jsonschema` has against each line; none where it accepts it.
fn judged(name: &str, lines: &[String]) -> Vec<Option<String>> {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("book");
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join(name);
    std::fs::write(&path, lines.join("\n") + "\n").unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/book/schema.py");
    let python = tools::ensure_python().expect("Python");
    let done = Command::new(python).arg("-B").args([&script, &file(), &path]).output().expect("Python runs");
    assert!(done.status.success() && done.stderr.is_empty(), "{}", String::from_utf8_lossy(&done.stderr));
    let said: Value = serde_json::from_slice(&done.stdout).expect("what the script writes");
    println!("{}, {} lines of {name}", said["versions"], lines.len());
    let judged: Vec<Option<String>> = serde_json::from_value(said["files"][0].clone()).unwrap();
    assert_eq!(judged.len(), lines.len());
    judged
}

fn lines_of(text: &str) -> impl Iterator<Item = String> {
    text.split('\n').filter(|line| !line.is_empty()).map(str::to_owned)
}

/// Every line that the project has: the demo, both invented yards, the hostile ones, what is seldom said.
fn all() -> Vec<String> {
    let options = Options { sketch: Sketch::Recorded, strike: vec!["M056".into()] };
    let mut all: Vec<String> = lines_of(DEMO).collect();
    for number in [1, 2] {
        all.extend(lines_of(&scenario(number).json_lines(&options)));
    }
    for first in 0..hostile::WORDS.len() {
        all.extend(lines_of(&hostile::book(first).to_json_lines()));
    }
    all.extend(SELDOM.map(line));
    all
}

/// The keys of the branches of a type in the schema.
fn kinds(schema: &Value, name: &str) -> BTreeSet<String> {
    let branches = schema["$defs"][name]["oneOf"].as_array().expect("branches");
    let keys = branches.iter().filter_map(|branch| branch["properties"].as_object()?.keys().next().cloned());
    keys.collect()
}

#[test]
fn every_line_of_every_book_is_accepted() {
    let lines = all();
    assert!(lines.len() > 1500, "{}", lines.len());
    for (line, wrong) in lines.iter().zip(judged("all.jsonl", &lines)) {
        assert_eq!(wrong, None, "{line}");
    }
    // Nothing that can be said is missing among them.
    let schema: Value = serde_json::from_str(&schema().unwrap()).unwrap();
    for name in ["Statement", "Measurement", "PhotoMark"] {
        let kinds = kinds(&schema, name);
        assert!(kinds.len() >= 3, "{name}: {kinds:?}");
        for kind in kinds {
            let key = format!("\"{kind}\":{{");
            assert!(lines.iter().any(|line| line.contains(&key)), "no line holds {kind}");
        }
    }
}

#[test]
fn what_a_newer_version_says_is_accepted_and_broken_lines_are_not() {
    let newer = [
        r#"{"smell":{"of":"mint"}}"#,
        r#"{"smell":"mint"}"#,
        r#"{"correct":{"entry":"1","now":{"smell":{"of":"mint"}}}}"#,
        r#"{"note":{"topic":"wish","text":"sun","mood":"high"}}"#,
        r#"{"point":{"id":"1","label":"H1","colour":"red"}}"#,
    ];
    let mut newer = newer.map(line).to_vec();
    newer.push(newer[0].replace("\"clock\"", "\"later\":true,\"clock\""));
    for (line, wrong) in newer.iter().zip(judged("newer.jsonl", &newer)) {
        assert_eq!(wrong, None, "{line}");
    }

    let tie = r#"{"measure":{"tie":{"from":"A","to":"B","reading":{"text":"5 m","metres":5.0}}}}"#;
    let good = line(tie);
    let broken = [
        ("no id", good.replace(r#""id":"e","#, "")),
        ("no author", good.replace(r#","author":"a""#, "")),
        ("the id a number", good.replace(r#""id":"e""#, r#""id":7"#)),
        ("a clock before all time", good.replace(r#""clock":1"#, r#""clock":-1"#)),
        ("a clock between", good.replace(r#""clock":1"#, r#""clock":0.5"#)),
        ("no statement", good.replace(&format!(r#","say":{tie}"#), "")),
        ("a reading without metres", good.replace(r#","metres":5.0"#, "")),
        ("metres in words", good.replace("5.0", r#""5.0""#)),
        ("no point to tape to", good.replace(r#""to":"B","#, "")),
        ("an unknown kind of measurement", good.replace("\"tie\"", "\"leap\"")),
        ("two statements in one", good.replace(r#""say":{"#, r#""say":{"smell":{},"#)),
        ("an unknown instrument", good.replace("5.0}", r#"5.0},"how":{"instrument":"drone"}"#)),
        (
            "an unknown side",
            line(r#"{"measure":{"side_is":{"point":"C","side":{"from":"A","to":"B","side":"up"}}}}"#),
        ),
        ("a known kind with other words", line(r#"{"point":"H1"}"#)),
        ("a line of one point", line(r#"{"measure":{"parallel":{"one":["A"],"other":["C","D"]}}}"#)),
        ("a place with one coordinate", line(r#"{"sketch":{"point":"A","at":{"x":1.0}}}"#)),
        (
            "a correction with a broken statement",
            line(&format!(r#"{{"correct":{{"entry":"1","now":{}}}}}"#, tie.replace("5.0", "null"))),
        ),
        ("an unknown colour", line(r#"{"mark":{"colour":"brown","points":["A"]}}"#)),
        ("not an object", "[1]".to_owned()),
    ];
    let lines: Vec<String> = broken.iter().map(|(_, line)| line.clone()).collect();
    let judged = judged("broken.jsonl", &[vec![good.clone()], lines].concat());
    assert_eq!(judged[0], None);
    for ((name, line), wrong) in broken.iter().zip(&judged[1..]) {
        println!("{name}: {}", wrong.as_deref().unwrap_or("accepted"));
        assert_ne!(*line, good, "{name}");
        assert!(wrong.is_some(), "{name}");
    }
}

/// Every value within, by its path.
fn paths(value: &Value, at: &str, found: &mut Vec<String>) {
    let within: Vec<(String, &Value)> = match value {
        Value::Object(fields) => fields.iter().map(|(key, value)| (key.clone(), value)).collect(),
        Value::Array(list) => list.iter().enumerate().map(|(n, value)| (n.to_string(), value)).collect(),
        _ => Vec::new(),
    };
    for (key, value) in within {
        let path = format!("{at}/{}", key.replace('~', "~0").replace('/', "~1"));
        paths(value, &path, found);
        found.push(path);
    }
}

/// The line with one value taken out or another in its place, in every way.
fn spoilt(line: &str) -> Vec<String> {
    let whole: Value = serde_json::from_str(line).unwrap();
    let (mut found, mut all) = (Vec::new(), Vec::new());
    paths(&whole, "", &mut found);
    // Kept as written, and read later: the program takes in anything.
    found.retain(|path| !path.starts_with("/say/note") && !path.contains("/marks"));
    let others = [json!(null), json!(true), json!(-1), json!(0.5), json!("x"), json!([]), json!({})];
    for path in found {
        for other in &others {
            let mut spoilt = whole.clone();
            *spoilt.pointer_mut(&path).expect("it is there") = other.clone();
            all.push(spoilt.to_string());
        }
        let (parent, _) = path.rsplit_once('/').expect("a path");
        let mut spoilt = whole.clone();
        let key = path[parent.len() + 1..].replace("~1", "/").replace("~0", "~");
        if let Some(fields) = spoilt.pointer_mut(parent).and_then(Value::as_object_mut) {
            fields.remove(&key);
            all.push(spoilt.to_string());
        }
    }
    all
}

/// Whether the program takes in a line and understands what it says, or it is of a newer version.
fn understood(line: &str, known: &BTreeSet<String>) -> bool {
    match Entry::from_line(line).map(|entry| entry.said) {
        Ok(Said::Known(_)) => true,
        Ok(Said::Unknown { say, .. }) => !say.is_empty() && !known.contains(&say),
        Err(_) => false,
    }
}

/// Some thousand lines with one thing wrong or missing: what the program does not understand, the schema refuses, and
/// nothing else.
#[test]
fn the_schema_and_the_program_refuse_the_same() {
    let schema: Value = serde_json::from_str(&schema().unwrap()).unwrap();
    let known = kinds(&schema, "Statement");
    let mut seen = BTreeSet::new();
    let mut lines = Vec::new();
    let kinds = |line: &str| {
        let line: Value = serde_json::from_str(line).unwrap();
        let key = |value: &Value| value.as_object().and_then(|fields| fields.keys().next().cloned());
        let say = key(&line["say"]);
        let what = say.as_ref().and_then(|say| key(&line["say"][say]));
        (say, what)
    };
    let hostile = hostile::book(0).to_json_lines();
    for line in SELDOM.map(line).into_iter().chain(lines_of(&hostile)) {
        if seen.insert(kinds(&line)) {
            lines.extend(spoilt(&line));
        }
    }
    let (mut refused, mut differ) = (0, Vec::new());
    for (line, wrong) in lines.iter().zip(judged("spoilt.jsonl", &lines)) {
        refused += usize::from(wrong.is_some());
        // The reader of named attributes takes an empty list for none; nobody writes one.
        let lenient = line.contains("\"attributes\":[]");
        if understood(line, &known) != wrong.is_none() && !lenient {
            differ.push(format!("{line}\n  {wrong:?}"));
        }
    }
    println!("{} lines, {refused} refused", lines.len());
    assert!(refused > 1000 && lines.len() - refused > 300, "{refused} of {}", lines.len());
    assert!(differ.is_empty(), "{} lines:\n{}", differ.len(), differ.join("\n"));
}

#[test]
fn nothing_built_for_a_browser_has_it() {
    for package in ["swingtie-app", "swingtie-bench-wasm"] {
        let tree =
            ["tree", "--locked", "--edges", "normal", "--target", "wasm32-unknown-unknown", "--package"];
        let done = Command::new(env!("CARGO")).args(tree).arg(package).output().expect("cargo runs");
        let tree = String::from_utf8(done.stdout).unwrap();
        assert!(tree.contains("swingtie-core"), "{}", String::from_utf8_lossy(&done.stderr));
        assert!(!tree.contains("schemars"), "{package}");
    }
}
