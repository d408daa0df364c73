//! One plain sentence for every entry.

use super::{Names, colour_name, list, problem_name, severity_name};
use swingtie_core::book::{Book, Entry, Said};
use swingtie_core::record::{
    At, Attribute, Attributes, EntryId, Feature, Leg, Measurement, NorthKind, OffsetRow, Problem, Side,
    SideOf, Statement, Turn, UnitSystem, UtilityMark, kind,
};
use swingtie_core::units::format::fixed;
use swingtie_core::units::format_bearing;

/// What an entry says.
#[must_use]
pub fn sentence(entry: &Entry, book: &Book, names: &Names) -> String {
    match &entry.said {
        Said::Known(Statement::Strike { entry: target, .. }) => struck(target, book, names),
        Said::Known(said @ Statement::Keep { entry: target, .. }) => {
            match book.get(target).and_then(Entry::statement) {
                Some(kept) => format!("Looked at again and kept: {}", statement(kept, names)),
                None => statement(said, names),
            }
        }
        Said::Known(Statement::Correct { now, .. }) => format!("Corrected to: {}", statement(now, names)),
        Said::Known(said) => statement(said, names),
        Said::Unknown { say, .. } => format!("Kept, but not understood by this version ({say})"),
    }
}

/// What a strike says. A strike of a strike brings the first entry back.
fn struck(target: &EntryId, book: &Book, names: &Names) -> String {
    let Some(target) = book.get(target) else {
        return "Struck an entry that is not in this book".to_owned();
    };
    match target.statement() {
        Some(Statement::Strike { entry, .. }) => match book.get(entry) {
            Some(first) => format!("Brought back: {}", sentence(first, book, names)),
            None => "Took back a strike".to_owned(),
        },
        _ => format!("Struck: {}", sentence(target, book, names)),
    }
}

/// What a statement says.
#[must_use]
pub fn statement(said: &Statement, names: &Names) -> String {
    match said {
        Statement::Site(site) => {
            format!("Site {}, {}", site.name, super::units_name(site.units).to_ascii_lowercase())
        }
        Statement::Point(point) => with_note(format!("Point {}", point.label), &point.note),
        Statement::Sketch { point, .. } => format!("{} placed on the sketch", names.of(point)),
        Statement::Measure(measurement) => measured(measurement, names),
        Statement::Feature(feature) => feature_words(feature, names),
        Statement::Problem(problem) => problem_words(problem, names),
        Statement::Mark(mark) => mark_words(mark, names),
        Statement::Photo(photo) => with_note(format!("Photo, {}", at(&photo.at, names)), &photo.note),
        Statement::Anchor(anchor) => format!(
            "{} stands at {}, {} ({})",
            names.of(&anchor.point),
            fixed(anchor.latitude, 6),
            fixed(anchor.longitude, 6),
            anchor.source
        ),
        Statement::North(north) => format!(
            "From {} to {} bears {} from {} north",
            names.of(&north.from),
            names.of(&north.to),
            format_bearing(north.bearing, 1),
            north_name(north.kind)
        ),
        Statement::Strike { .. } => "Struck an entry".to_owned(),
        Statement::Correct { now, .. } => format!("Corrected to: {}", statement(now, names)),
        Statement::Keep { .. } => "Kept a reading as it was written".to_owned(),
    }
}

fn measured(measurement: &Measurement, names: &Names) -> String {
    match measurement {
        Measurement::Tie { from, to, reading, side, taped_to, how } => {
            let side = side.as_ref().map(|side| format!(", {}", side_words(side, names))).unwrap_or_default();
            let (reached, sloped) = (super::reached(*taped_to), super::sloped(how));
            format!("{} from {}: {}{reached}{sloped}{side}", names.of(to), names.of(from), reading.text)
        }
        Measurement::Run { zero, toward, readings, zero_unknown, how } => {
            let (elsewhere, sloped) = (super::zero(*zero_unknown), super::sloped(how));
            let read: Vec<_> =
                readings.iter().map(|r| format!("{} at {}", names.of(&r.point), r.reading.text)).collect();
            let read = read.join(", ");
            format!("Tape from {} toward {}: {read}{elsewhere}{sloped}", names.of(zero), names.of(toward))
        }
        Measurement::Offsets { from, to, rows, .. } => {
            let rows: Vec<_> = rows.iter().map(|row| offset(row, names)).collect();
            format!("Baseline {} to {}: {}", names.of(from), names.of(to), rows.join("; "))
        }
        Measurement::Walk { start, legs, .. } => {
            let legs: Vec<_> = legs.iter().map(|leg| walked(leg, names)).collect();
            format!("Walls from {}: {}", names.of(start), legs.join(", "))
        }
        Measurement::Square { at, from, to } => {
            format!("Corner {} is square, between {} and {}", names.of(at), names.of(from), names.of(to))
        }
        Measurement::InLine { points } => format!("{} stand in line", list(&names.all(points))),
        Measurement::SideIs { point, side } => {
            format!("{} is on the {}", names.of(point), side_words(side, names))
        }
        other => super::turned(other, &|id| names.of(id).to_owned()),
    }
}

fn offset(row: &OffsetRow, names: &Names) -> String {
    format!(
        "{} at {}, {} to the {}",
        names.of(&row.point),
        row.station.text,
        row.offset.text,
        side_name(row.side)
    )
}

fn walked(leg: &Leg, names: &Names) -> String {
    let turn = match leg.turn {
        None => "",
        Some(Turn::Left) => "square left ",
        Some(Turn::Right) => "square right ",
        Some(Turn::LeftNotSquare) => "left, not square, ",
        Some(Turn::RightNotSquare) => "right, not square, ",
        Some(Turn::Straight) => "straight on ",
    };
    match &leg.length {
        Some(length) => format!("{turn}{} to {}", length.text, names.of(&leg.to)),
        None => format!("{turn}to {}", names.of(&leg.to)),
    }
}

fn side_words(side: &SideOf, names: &Names) -> String {
    format!("{} of the line {} to {}", side_name(side.side), names.of(&side.from), names.of(&side.to))
}

pub(super) fn side_name(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

fn north_name(kind: NorthKind) -> &'static str {
    match kind {
        NorthKind::True => "true",
        NorthKind::Magnetic => "magnetic",
    }
}

fn feature_words(feature: &Feature, names: &Names) -> String {
    let kind = kind(&feature.kind).map_or(feature.kind.as_str(), |kind| kind.name);
    let mut words = format!("{kind} {}", list(&names.all(&feature.points)));
    if !feature.name.is_empty() {
        words = format!("{words}, {}", feature.name);
    }
    words.push_str(&known(&feature.attributes));
    if feature.told {
        words.push_str(" (told)");
    }
    with_note(words, &feature.note)
}

/// What is known of a thing: `, trunk diameter 9", health good`.
pub fn known(attributes: &Attributes) -> String {
    let mut words = String::new();
    for (key, value) in attributes {
        let value = match value {
            Attribute::Length(reading) => &reading.text,
            Attribute::Text(text) => text,
        };
        words.push_str(&format!(", {} {value}", key.replace('_', " ")));
    }
    words
}

fn problem_words(problem: &Problem, names: &Names) -> String {
    let severity = severity_name(problem.severity).to_ascii_lowercase();
    let what = problem_name(&problem.kind);
    let (at, known) = (at(&problem.at, names), known(&problem.attributes));
    with_note(format!("Problem: {what}, {severity}, {at}{known}"), &problem.note)
}

fn mark_words(mark: &UtilityMark, names: &Names) -> String {
    let mut words = format!("{} mark at {}", colour_name(mark.colour), list(&names.all(&mark.points)));
    if !mark.letters.is_empty() {
        words = format!("{words}, letters {}", mark.letters);
    }
    words.push_str(&known(&mark.attributes));
    if mark.told {
        words.push_str(" (told)");
    }
    with_note(words, &mark.note)
}

/// Where something belongs.
pub(super) fn at(at: &At, names: &Names) -> String {
    match at {
        At::Points(points) if !points.is_empty() => format!("at {}", list(&names.all(points))),
        At::Near(_) => "at a place tapped on the plan".to_owned(),
        At::Points(_) | At::Site => "whole site".to_owned(),
    }
}

fn with_note(words: String, note: &str) -> String {
    if note.is_empty() { words } else { format!("{words}: {note}") }
}

/// How lengths are written, by name.
#[must_use]
pub fn units_name(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::FeetInches => "Feet and inches",
        UnitSystem::DecimalFeet => "Decimal feet",
        UnitSystem::Metres => "Metres",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::{How, Point, Reading, Record};
    use swingtie_core::units::Length;

    fn names() -> (Book, Names) {
        let mut book = Book::new();
        for (clock, label) in (1..).zip(["H1", "H3", "T1"]) {
            let point = Point { id: label.into(), label: label.to_owned(), note: String::new() };
            let entry = Entry::new(label.into(), clock, 0, "a".into(), Statement::Point(point)).unwrap();
            book.add(entry).unwrap();
        }
        let names = Names::new(&book, &Record::default());
        (book, names)
    }

    fn tie() -> Statement {
        let reading = Reading { text: "31' 6\"".to_owned(), value: Length::from_feet(31.5) };
        let side = Some(SideOf { from: "H1".into(), to: "H3".into(), side: Side::Left });
        Statement::Measure(Measurement::Tie {
            from: "H3".into(),
            to: "T1".into(),
            reading,
            side,
            taped_to: swingtie_core::record::TapedTo::default(),
            how: How::default(),
        })
    }

    #[test]
    fn a_tie_reads_as_it_was_called_out() {
        let (_, names) = names();
        assert_eq!(statement(&tie(), &names), "T1 from H3: 31' 6\", left of the line H1 to H3");
    }

    #[test]
    fn a_strike_names_what_it_strikes() {
        let (mut book, names) = names();
        let strike = Statement::Strike { entry: "T1".into(), why: String::new() };
        book.add(Entry::new("s".into(), 9, 0, "a".into(), strike).unwrap()).unwrap();
        let entry = book.get(&"s".into()).unwrap();
        assert_eq!(sentence(entry, &book, &names), "Struck: Point T1");
        let again = Statement::Strike { entry: "s".into(), why: String::new() };
        book.add(Entry::new("t".into(), 10, 0, "a".into(), again).unwrap()).unwrap();
        let entry = book.get(&"t".into()).unwrap();
        assert_eq!(sentence(entry, &book, &names), "Brought back: Point T1");
    }
}
