//! The first invented yard's notes: readings as they were written down, and the book that comes of them.

use serde_json::Value;
use std::collections::BTreeMap;
use swingtie_browser::Outcome;
use swingtie_core::{
    book::{Book, Entry},
    record::{AuthorId, EntryId, How, Kind, Measurement, Point, PointId, Record, Statement, kind},
};
use swingtie_tests::scenario::{Options, scenario};

/// The yard's own file.
const YARD: &str = include_str!("../../../scenarios/scenario_1.json");

/// The yard's own file, read.
pub fn yard() -> Outcome<Value> {
    Ok(serde_json::from_str(YARD)?)
}

/// A text of it.
pub fn text<'a>(value: &'a Value, key: &str) -> Outcome<&'a str> {
    Ok(value[key].as_str().ok_or_else(|| format!("no {key} in {value}"))?)
}

/// What a practised user calls a point of the yard's file.
pub fn kind_of(yard: &Value, point: &str) -> Outcome<&'static Kind> {
    let key = match text(yard.pointer(&format!("/true_points/{point}")).ok_or("no such point")?, "kind")? {
        "window" => "window",
        "door" => "door",
        "hose_bib" => "hose_bib",
        "downspout" => "downspout",
        "electric_meter" => "electric_meter",
        "vent" => "vent",
        "patio_corner" => "patio",
        "gas_meter" => "gas_meter",
        "ac_unit" => "air_unit",
        "chalk_mark" | "peg" => "peg",
        "fence_post" => "fence",
        "gate_post" => "gate",
        "tree" => "tree",
        "stump" => "stump",
        "low_point" => "low_point",
        "wet_spot" => "wet_spot",
        "irrigation_valve" => "valve",
        "sewer_cleanout" => "drain",
        "water_meter" => "water_meter",
        "utility_mark" => "other",
        "utility_pole" => "pole",
        "drive_corner" => "drive",
        "sidewalk" => "kerb",
        "bed_edge" => "bed",
        "shed_corner" => "outbuilding",
        other => return Err(format!("what is a {other}?").into()),
    };
    Ok(kind(key).ok_or("not in the catalogue")?)
}

/// The letters a label starts with: W of W1a, AC of AC2.
pub fn letters(label: &str) -> &str {
    label.split(|sign: char| sign.is_ascii_digit()).next().unwrap_or_default()
}

/// What the yard's file holds, as somebody with one tape takes it: one sort after the other as long as what
/// it starts from is there, else in the file's order.
pub fn in_order(yard: &Value) -> Outcome<Vec<Value>> {
    let text = |one: &Value, key: &str| one.get(key).and_then(Value::as_str).map(str::to_owned);
    let mut rest = yard.get("measurements").and_then(Value::as_array).ok_or("no measurements")?.clone();
    let mut known: Vec<String> = (1..=6).map(|corner| format!("H{corner}")).collect();
    let mut order: Vec<Value> = Vec::new();
    while !rest.is_empty() {
        let ready = |one: &Value| {
            let base =
                one.get("base").and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_str);
            base.map(str::to_owned).chain(text(one, "frm")).all(|from| known.contains(&from))
        };
        let like_last = |one: &Value| order.last().is_none_or(|last| last.get("type") == one.get("type"));
        let next = rest.iter().position(|one| ready(one) && like_last(one));
        let one = rest.remove(next.or_else(|| rest.iter().position(ready)).ok_or("tapes from nowhere")?);
        let readings = one.get("readings").and_then(Value::as_array).into_iter().flatten();
        known.extend(readings.filter_map(|read| text(read, "point")));
        known.extend(["to", "point"].into_iter().filter_map(|key| text(&one, key)));
        order.push(one);
    }
    Ok(order)
}

/// The yard's own book, with the phone's labels, its tapes and its order.
pub fn own_book(typed: &Record, labels: &BTreeMap<String, String>) -> Outcome<Book> {
    let theirs: BTreeMap<&str, &str> =
        labels.iter().map(|(theirs, ours)| (ours.as_str(), theirs.as_str())).collect();
    let mut said = Vec::new();
    for point in &typed.points {
        let id = theirs.get(point.label.as_str()).ok_or_else(|| format!("{} is nobody's", point.label))?;
        said.push(Statement::Point(Point {
            id: PointId::from(*id),
            label: point.label.clone(),
            note: String::new(),
        }));
    }
    for (_, statement) in scenario(1).statements(&Options::default()) {
        let Statement::Measure(mut what) = statement else { continue };
        if let Measurement::Run { how, .. }
        | Measurement::Tie { how, .. }
        | Measurement::Offsets { how, .. }
        | Measurement::Walk { how, .. } = &mut what
        {
            *how = How::default();
        }
        said.push(Statement::Measure(what));
    }
    let mut book = Book::new();
    for (number, statement) in said.into_iter().enumerate() {
        let (clock, id) = (book.next_clock(), EntryId(format!("e{number:04}")));
        book.add(Entry::new(id, clock, 0, AuthorId::from("surveyor"), statement)?)?;
    }
    Ok(book)
}
