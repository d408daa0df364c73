//! Whole sheets as text. They were looked at when they were accepted; a change here is a change of
//! what people print. To accept: look at the new file, then run with `UPDATE_SNAPSHOTS=1`.

use super::font::without_fonts;
use super::yards::{draw, sampler, sheets, yard};
use std::path::Path;
use swingtie_core::book::{Book, fold};
use swingtie_core::network::{Adjustment, adjust};
use swingtie_core::record::{Record, UnitSystem};
use swingtie_core::sheet::{Options, Turn};

fn check(name: &str, svg: &str) {
    // The font's bytes are judged in `font.rs`.
    let svg = &without_fonts(svg);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("snapshots").join(name);
    if std::env::var_os("UPDATE_SNAPSHOTS").is_some() {
        std::fs::write(&path, svg).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    if let Some((n, (new, old))) = svg.lines().zip(kept.lines()).enumerate().find(|(_, (a, b))| a != b) {
        panic!("{name} differs from line {}:\n  now  {new}\n  kept {old}", n + 1);
    }
    assert_eq!(svg.len(), kept.len(), "{name} ends differently");
}

#[test]
fn scenario_1_in_feet() {
    let all = sheets(&yard(1), &Options::default());
    let [plan, lists] = all.as_slice() else { panic!("{} sheets", all.len()) };
    check("sheet_1_feet.svg", &plan.svg);
    check("sheet_1_lists.svg", &lists.svg);
}

#[test]
fn scenario_2_in_metres_north_up_with_tapes() {
    let mut yard = yard(2);
    yard.0.site.units = UnitSystem::Metres;
    let mut options = Options { turn: Turn::NorthUp, ..Options::default() };
    options.layers.taped_lines = true;
    check("sheet_2_metres.svg", &draw(&yard, &options).svg);
}

#[test]
fn nothing_yet() {
    check("sheet_empty.svg", &draw(&(Record::default(), Adjustment::default()), &Options::default()).svg);
}

/// The demo yard, solved as the phone solves it: the picture in the README.
#[test]
fn the_demo() {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("../public/demo.jsonl"));
    let (book, faults) = Book::from_json_lines(&text.expect("the demo's book"));
    assert!(faults.is_empty());
    let record = fold(&book).record;
    let adjustment = adjust(&record);
    check("sheet_demo.svg", &draw(&(record, adjustment), &Options::default()).svg);
}

/// Every sign there is.
#[test]
fn all_signs() {
    check("sheet_signs.svg", &draw(&sampler(), &Options::default()).svg);
}
