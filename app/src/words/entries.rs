//! One plain sentence for every entry.

use super::{Names, colour_name, list, problem_name, severity_name};
use swingtie_core::book::{Book, Entry, Said};
use swingtie_core::language::tr;
use swingtie_core::record::{
    At, Attribute, Attributes, EntryId, Feature, Leg, LevelReading, Measurement, NorthKind, Note, OffsetRow,
    Problem, Side, SideOf, Statement, Turn, UnitSystem, UtilityMark, kind, topic_of,
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
                Some(kept) => say!("Looked at again and kept: {}", brief(kept, names)),
                None => statement(said, names),
            }
        }
        Said::Known(Statement::Correct { now, .. }) => say!("Corrected to: {}", statement(now, names)),
        Said::Known(said) => statement(said, names),
        Said::Unknown { say, .. } => say!("Kept, but not understood by this version ({say})"),
    }
}

/// What a strike says, in few words: what it strikes stands in the book in full.
fn struck(target: &EntryId, book: &Book, names: &Names) -> String {
    let (first, back) = book.struck_first(target);
    let Some(first) = first else { return say!("Struck an entry that is not in this book") };
    let Some(said) = first.statement() else { return say!("Struck: {}", sentence(first, book, names)) };
    let what = match said {
        Statement::Correct { now, .. } => brief(now, names),
        Statement::Keep { entry, .. } => {
            book.get(entry).and_then(Entry::statement).map(|said| brief(said, names)).unwrap_or_default()
        }
        said => brief(said, names),
    };
    let mut words = super::capture::taken_back(said, back).to_owned();
    if let Some(first) = words.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    say!("{words}: {what}")
}

/// A statement in few words, for where it is only named.
fn brief(said: &Statement, names: &Names) -> String {
    match said {
        Statement::Measure(Measurement::Tie { from, to, reading, .. }) => {
            say!("{} from {}: {}", names.of(to), names.of(from), reading.text)
        }
        Statement::Measure(Measurement::Run { zero, toward, .. }) => {
            say!("tape from {} toward {}", names.of(zero), names.of(toward))
        }
        Statement::Measure(Measurement::Offsets { from, to, .. }) => {
            say!("baseline {} to {}", names.of(from), names.of(to))
        }
        Statement::Measure(Measurement::Walk { start, .. }) => say!("walls from {}", names.of(start)),
        Statement::Point(point) => say!("Point {}", point.label),
        Statement::Feature(feature) => {
            let kind = kind(&feature.kind).map_or(feature.kind.as_str(), |kind| kind.name);
            say!("{kind} {}", feature.name).trim_end().to_owned()
        }
        Statement::Problem(problem) => say!("Problem: {}", problem_name(&problem.kind)),
        Statement::Mark(mark) => say!("{} mark", colour_name(mark.colour)),
        other => statement(other, names),
    }
}

/// What a statement says.
#[must_use]
pub fn statement(said: &Statement, names: &Names) -> String {
    match said {
        Statement::Site(site) => {
            say!("Site {}, {}", site.name, super::units_name(site.units).to_ascii_lowercase())
        }
        Statement::Point(point) => with_note(say!("Point {}", point.label), &point.note),
        Statement::Sketch { point, .. } => say!("{} placed on the sketch", names.of(point)),
        Statement::Measure(measurement) => measured(measurement, names),
        Statement::Feature(feature) => feature_words(feature, names),
        Statement::Problem(problem) => problem_words(problem, names),
        Statement::Mark(mark) => mark_words(mark, names),
        Statement::Note(note) => note_words(&note.read(), names),
        Statement::Photo(photo) => with_note(say!("Photo, {}", at(&photo.at, names)), &photo.note),
        Statement::Level(level) => level_words(level, names),
        Statement::BenchMark(mark) => say!(
            "Heights count from {}: {} ({})",
            names.of(&mark.point),
            super::levels::height(mark.height, names.units()),
            mark.source
        ),
        Statement::Author { name } if name.is_empty() => say!("Wants no name here any more"),
        Statement::Author { name } => say!("Wants to be called {name}"),
        Statement::Anchor(anchor) | Statement::SecondAnchor(anchor) => say!(
            "{} stands at {}, {} ({})",
            names.of(&anchor.point),
            fixed(anchor.latitude, 6),
            fixed(anchor.longitude, 6),
            anchor.source
        ),
        Statement::North(north) => say!(
            "From {} to {} bears {} from {} north",
            names.of(&north.from),
            names.of(&north.to),
            format_bearing(north.bearing, 1),
            north_name(north.kind)
        ),
        Statement::Strike { .. } => say!("Struck an entry"),
        Statement::Correct { now, .. } => say!("Corrected to: {}", statement(now, names)),
        Statement::Keep { .. } => say!("Kept a reading as it was written"),
    }
}

fn level_words(level: &LevelReading, names: &Names) -> String {
    let (point, read) = (names.of(&level.point), &level.reading.text);
    let side = if level.overhead { "above" } else { "below" };
    let begins = if level.setup.is_none() { ", level set up anew" } else { "" };
    say!("{point}: {read} {side} the level line{begins}")
}

fn measured(measurement: &Measurement, names: &Names) -> String {
    match measurement {
        Measurement::Tie { from, to, reading, side, taped_to, how } => {
            let side = side.as_ref().map(|side| say!(", {}", side_words(side, names))).unwrap_or_default();
            let (reached, sloped) = (super::reached(*taped_to), super::sloped(how));
            say!("{} from {}: {}{reached}{sloped}{side}", names.of(to), names.of(from), reading.text)
        }
        Measurement::Run { zero, toward, readings, zero_unknown, how } => {
            let (elsewhere, sloped) = (super::zero(*zero_unknown), super::sloped(how));
            let read: Vec<_> =
                readings.iter().map(|r| say!("{} at {}", names.of(&r.point), r.reading.text)).collect();
            let read = read.join(", ");
            say!("Tape from {} toward {}: {read}{elsewhere}{sloped}", names.of(zero), names.of(toward))
        }
        Measurement::Offsets { from, to, rows, .. } => {
            let rows: Vec<_> = rows.iter().map(|row| offset(row, names)).collect();
            say!("Baseline {} to {}: {}", names.of(from), names.of(to), rows.join("; "))
        }
        Measurement::Walk { start, legs, .. } => {
            let legs: Vec<_> = legs.iter().map(|leg| walked(leg, names)).collect();
            say!("Walls from {}: {}", names.of(start), legs.join(", "))
        }
        Measurement::Square { at, from, to } => {
            say!("Corner {} is square, between {} and {}", names.of(at), names.of(from), names.of(to))
        }
        Measurement::InLine { points } => say!("{} stand in line", list(&names.all(points))),
        Measurement::SideIs { point, side } => {
            say!("{} is on the {}", names.of(point), side_words(side, names))
        }
        other => super::turned(other, &|id| names.of(id).to_owned()),
    }
}

fn offset(row: &OffsetRow, names: &Names) -> String {
    say!(
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
        Some(length) => say!("{turn}{} to {}", length.text, names.of(&leg.to)),
        None => say!("{turn}to {}", names.of(&leg.to)),
    }
}

fn side_words(side: &SideOf, names: &Names) -> String {
    say!("{} of the line {} to {}", side_name(side.side), names.of(&side.from), names.of(&side.to))
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
    let mut words = say!("{kind} {}", list(&names.all(&feature.points)));
    if !feature.name.is_empty() {
        words = say!("{words}, {}", feature.name);
    }
    words.push_str(&known(&feature.attributes, names.units()));
    if feature.told {
        words.push_str(tr(" (told)"));
    }
    with_note(words, &feature.note)
}

/// What is known of a thing: `, trunk diameter 9", health good`. Names and choices are looked up by their keys, since the
/// table of what is asked comes later.
pub fn known(attributes: &Attributes, units: UnitSystem) -> String {
    let mut words = String::new();
    for (key, value) in attributes {
        let value = match value {
            // A size is told like every other length here, however it was written.
            Attribute::Length(reading) => super::length(reading.value, units),
            Attribute::Text(text) => tr(text).to_owned(),
        };
        words.push_str(&say!(", {} {value}", tr(&key.replace('_', " "))));
    }
    words
}

fn problem_words(problem: &Problem, names: &Names) -> String {
    let severity = severity_name(problem.severity).to_ascii_lowercase();
    let what = problem_name(&problem.kind);
    let (at, known) = (at(&problem.at, names), known(&problem.attributes, names.units()));
    with_note(say!("Problem: {what}, {severity}, {at}{known}"), &problem.note)
}

fn mark_words(mark: &UtilityMark, names: &Names) -> String {
    let mut words = say!("{} mark at {}", colour_name(mark.colour), list(&names.all(&mark.points)));
    if !mark.letters.is_empty() {
        words = say!("{words}, letters {}", mark.letters);
    }
    words.push_str(&known(&mark.attributes, names.units()));
    if mark.told {
        words.push_str(tr(" (told)"));
    }
    with_note(words, &mark.note)
}

fn note_words(note: &Note, names: &Names) -> String {
    if let Some(words) = super::questions::in_book(note, names) {
        return words;
    }
    let topic = topic_of(&note.topic).map_or("Note", |topic| topic.name);
    let topic = if note.settles.is_empty() { topic } else { "Left as it is" };
    let at = match &note.at {
        At::Site => String::new(),
        place => say!(", {}", at(place, names)),
    };
    let when = if note.when.is_empty() { String::new() } else { say!(", {}", note.when) };
    with_note(say!("{topic}{at}{when}"), &note.text)
}

/// Where something belongs.
pub(super) fn at(at: &At, names: &Names) -> String {
    match at {
        At::Points(points) if !points.is_empty() => say!("at {}", list(&names.all(points))),
        At::Near(_) => say!("at a place tapped on the plan"),
        At::Points(_) | At::Site => say!("whole site"),
    }
}

fn with_note(words: String, note: &str) -> String {
    if note.is_empty() { words } else { say!("{words}: {note}") }
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

    fn feature() -> Feature {
        Feature {
            kind: String::new(),
            points: Vec::new(),
            name: String::new(),
            attributes: <_>::default(),
            fate: None,
            told: false,
            curved: false,
            note: String::new(),
        }
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
        let third = Statement::Strike { entry: "t".into(), why: String::new() };
        book.add(Entry::new("u".into(), 11, 0, "a".into(), third).unwrap()).unwrap();
        let entry = book.get(&"u".into()).unwrap();
        assert_eq!(sentence(entry, &book, &names), "Struck: Point T1");
    }

    #[test]
    fn a_correction_undone_is_told_in_few_words() {
        let (mut book, names) = names();
        book.add(Entry::new("m".into(), 4, 0, "a".into(), tie()).unwrap()).unwrap();
        let now = Box::new(tie());
        let said = [
            (
                "c",
                5,
                Statement::Correct { entry: "m".into(), now },
                "Corrected to: T1 from H3: 31' 6\", left of the line H1 to H3",
            ),
            (
                "s",
                6,
                Statement::Strike { entry: "c".into(), why: String::new() },
                "Correction taken back: T1 from H3: 31' 6\"",
            ),
            (
                "t",
                7,
                Statement::Strike { entry: "s".into(), why: String::new() },
                "Corrected again: T1 from H3: 31' 6\"",
            ),
            (
                "k",
                8,
                Statement::Keep { entry: "m".into(), part: 0, why: String::new() },
                "Looked at again and kept: T1 from H3: 31' 6\"",
            ),
            (
                "l",
                9,
                Statement::Strike { entry: "k".into(), why: String::new() },
                "No longer kept: T1 from H3: 31' 6\"",
            ),
        ];
        for (id, clock, statement, words) in said {
            book.add(Entry::new(id.into(), clock, 0, "a".into(), statement).unwrap()).unwrap();
            assert_eq!(sentence(book.get(&id.into()).unwrap(), &book, &names), words);
        }
    }

    #[test]
    fn sizes_are_told_in_the_sites_units() {
        let (_, names) = names();
        let mut tree = Feature { kind: "tree".to_owned(), points: vec!["T1".into()], ..feature() };
        let spread = Reading { text: "216 in".to_owned(), value: Length::from_inches(216.0) };
        tree.attributes.insert("canopy_spread".to_owned(), Attribute::Length(spread));
        assert_eq!(statement(&Statement::Feature(tree), &names), "Tree T1, canopy spread 18' 0\"");
    }
}
