//! The lists beside the drawing hold what was recorded, and what is not measured looks so.

use super::yards::{self, draw, points, sheets};
use super::{by_id, parse, written};
use roxmltree::Node;
use swingtie_core::network::Adjustment;
use swingtie_core::record::{
    ANSWER, Answers, Asks, At, Attribute, Attributes, Fate, Feature, MarkColour, North, NorthKind, Note,
    Photo, PhotoId, Point, Problem, QUESTION, Reading, Record, Recorded, Severity, UnitSystem, UtilityMark,
};
use swingtie_core::sheet::{Layers, Options, Paper, Turn};
use swingtie_core::units::{Angle, BareUnit, PlanPoint};

fn recorded<T>(entry: &str, what: T) -> Recorded<T> {
    Recorded { entry: entry.into(), author: "a".into(), at_ms: 0, what }
}

fn known(all: &[(&str, &str)]) -> Attributes {
    let one = |(key, text): &(&str, &str)| {
        let read = Reading::read(text, BareUnit::Feet).ok().filter(|_| text.contains('\''));
        ((*key).to_owned(), read.map_or_else(|| Attribute::Text((*text).to_owned()), Attribute::Length))
    };
    all.iter().map(one).collect()
}

fn thing(kind: &str, point: &str, all: &[(&str, &str)], fate: Option<Fate>) -> Feature {
    Feature {
        kind: kind.to_owned(),
        points: vec![point.into()],
        name: String::new(),
        fate,
        attributes: known(all),
        curved: false,
        told: false,
        note: String::new(),
    }
}

/// A square of points P1 to P4, 30 m wide, north up its y, with something of every list on it.
fn yard() -> (Record, Adjustment) {
    let corners = [(0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0)];
    let (mut record, adjustment) = points(UnitSystem::FeetInches, &corners);
    let ids: Vec<String> = record.points.iter().map(|p| p.id.0.clone()).collect();
    let [a, b, c, d] = ids.as_slice() else { panic!("four points") };
    record.north = Some(North {
        from: a.as_str().into(),
        to: b.as_str().into(),
        bearing: Angle::RIGHT,
        kind: NorthKind::True,
        declination: None,
        source: "typed".to_owned(),
        sd: None,
    });
    let tree = [("canopy_spread", "18' 0\""), ("species", "maple")];
    record.features.push(recorded("t", thing("tree", a, &tree, Some(Fate::Remove))));
    record.features.push(recorded("w", thing("wind", b, &[("from_side", "W")], None)));
    record.features.push(recorded("v", thing("view", c, &[("toward", "north, the hills")], None)));
    record.problems.push(recorded(
        "p",
        Problem {
            kind: "undersized_post".to_owned(),
            severity: Severity::Danger,
            at: At::Points(vec![d.as_str().into()]),
            spread: None,
            attributes: known(&[("lean", "0' 1 1/2\"")]),
            note: "gate post".to_owned(),
            photos: Vec::new(),
            told: false,
        },
    ));
    let photo = Photo::new(PhotoId("ab12".into()), "image/jpeg".into(), 1);
    let (of, note) = (Some("p".into()), "from the street".to_owned());
    record.photos.push(recorded("f", Photo { of, note, ..photo }));
    record.marks.push(recorded(
        "m",
        UtilityMark {
            colour: MarkColour::Yellow,
            points: vec![a.as_str().into(), d.as_str().into()],
            letters: "GAS".to_owned(),
            attributes: known(&[("ticket", "26-0117"), ("marked_date", "2026-05-14")]),
            told: false,
            note: String::new(),
        },
    ));
    let note = Note {
        topic: "wish".to_owned(),
        text: "a place to eat outside".to_owned(),
        when: "2026-05-16 10:20".to_owned(),
        ..Note::default()
    };
    record.written_notes.push(recorded("n", note.into()));
    (record, adjustment)
}

#[test]
fn everything_recorded_is_in_a_list() {
    let drawing = draw(&yard(), &Options::default());
    let all = written(&parse(&drawing.svg));
    for words in [
        "P1 Tree: species maple",
        "canopy spread 18' 0\"",
        "REMOVE",
        "Wind: comes from W",
        "Undersized or leaning post: lean 1 1/2\"",
        "Gate post.",
        "Photo 1.",
        "Structure is for licensed people",
        "From the street. Shows problem 1.",
        "Ticket 26-0117, marked on 14 May 2026",
        "Letters GAS.",
        "Wishes, 16 May 2026 10:20: a place to eat outside",
    ] {
        assert!(all.contains(words), "{words:?} is not on the sheet: {all}");
    }
    assert!(drawing.notices.is_empty(), "{:?}", drawing.notices);
    let without = Layers { lists: false, ..Layers::default() };
    let bare = draw(&yard(), &Options { layers: without, ..Options::default() });
    assert!(!written(&parse(&bare.svg)).contains("a place to eat outside"));
}

/// What was left open is said with its reason. The house is asked for: three corners with its letter.
#[test]
fn what_was_left_open_stands_there_with_its_reason() {
    let mut yard = yard();
    for (n, point) in yard.0.points.iter_mut().enumerate() {
        point.label = format!("H{}", n + 1);
    }
    yard.0.measurements = super::yards::yard(1).0.measurements;
    let answer = |keys: &[&str]| Note {
        text: "built over next year".to_owned(),
        settles: keys.iter().map(|key| (*key).to_owned()).collect(),
        ..Note::default()
    };
    yard.0.written_notes.push(recorded("o", answer(&["house"]).into()));
    let all = written(&parse(&draw(&yard, &Options::default()).svg));
    assert!(all.contains("No house is drawn: built over next year"), "{all}");
}

/// The ends of an arrow's shaft on the sheet: its first line.
fn shaft(document: &roxmltree::Document<'_>, kind: &str) -> [(f64, f64); 2] {
    let is = |node: &Node<'_, '_>| {
        node.attribute("class") == Some("arrow") && node.attribute("data-kind") == Some(kind)
    };
    let group = document.descendants().find(is).unwrap_or_else(|| panic!("no arrow of a {kind}"));
    let line = group.children().find(|node| node.has_tag_name("line")).expect("a shaft");
    [("x1", "y1"), ("x2", "y2")].map(|(x, y)| (super::attribute(line, x), super::attribute(line, y)))
}

/// With north up, a wind from the west goes to the right and a view to the north goes up.
#[test]
fn winds_and_views_have_arrows_by_the_compass() {
    let drawing = draw(&yard(), &Options { turn: Turn::NorthUp, ..Options::default() });
    let document = parse(&drawing.svg);
    let [tail, head] = shaft(&document, "wind");
    assert!(head.0 - tail.0 > 5.0 && (head.1 - tail.1).abs() < 0.1, "{tail:?} {head:?}");
    let [tail, head] = shaft(&document, "view");
    assert!(tail.1 - head.1 > 5.0 && (head.0 - tail.0).abs() < 0.1, "{tail:?} {head:?}");
    let mut lost = yard();
    lost.0.north = None;
    let lost = draw(&lost, &Options::default());
    assert!(!lost.svg.contains("class=\"arrow\""), "nobody knows where west is");
}

/// A thing on a point that only the sketch places is drawn, and says that it is not measured.
#[test]
fn what_is_only_sketched_is_drawn_and_said_to_be() {
    let mut yard = yard();
    let (x, y) = (10.0, 12.0);
    for (n, point) in yard.0.points.clone().iter().enumerate() {
        let at = [(0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0)][n];
        yard.0.sketch.insert(point.id.clone(), PlanPoint::from_metres(at.0, at.1));
    }
    yard.0.points.push(Point { id: "s".into(), label: "S9".to_owned(), note: String::new() });
    yard.0.sketch.insert("s".into(), PlanPoint::from_metres(x, y));
    yard.0.features.push(recorded("s9", thing("stump", "s", &[("roots", "all round")], None)));
    let drawing = draw(&yard, &Options::default());
    let document = parse(&drawing.svg);
    let all = written(&document);
    for words in ["Sketched, not measured", "Only sketched, not measured, drawn roughly: S9", "sketched"] {
        assert!(all.contains(words), "{words:?} is not on the sheet: {all}");
    }
    let (left, top) = drawing.on_sheet(PlanPoint::from_metres(x, y));
    let (cx, cy) = super::mark(&document, "S9").expect("its mark");
    assert!((left.millimetres() - cx).abs() < 0.01 && (top.millimetres() - cy).abs() < 0.01);
}

/// Labels that follow each other are written as first and last, others one by one; a thing that is none of those with a
/// name is called by people's own words. Common practice, no source.
#[test]
fn rows_name_their_points_and_things_as_people_do() {
    let places: Vec<(f64, f64)> = (0..8).map(|n| (f64::from(n) * 4.0, f64::from(n % 3) * 5.0)).collect();
    let (mut record, adjustment) = points(UnitSystem::Metres, &places);
    for (point, label) in
        record.points.iter_mut().zip(["H4", "PA1", "PA2", "PA3", "FR3", "FR1", "W1a", "W1b"])
    {
        label.clone_into(&mut point.label);
    }
    let ids: Vec<_> = record.points.iter().map(|p| p.id.clone()).collect();
    let mut add = |entry: &str, kind: &str, points: &[usize], (name, note): (&str, &str)| {
        let points = points.iter().map(|n| ids[*n].clone()).collect();
        let (name, note) = (name.to_owned(), note.to_owned());
        record.features.push(recorded(entry, Feature { points, name, note, ..thing(kind, "P1", &[], None) }));
    };
    add("a", "patio", &[0, 1, 2, 3], ("", ""));
    add("b", "fence", &[3, 4, 5], ("", ""));
    add("c", "window", &[6, 7], ("", ""));
    add("d", "other", &[0], ("", "old hand pump"));
    add("e", "other", &[4], ("bird bath", "Bird bath"));
    let all = written(&parse(&draw(&(record, adjustment), &Options::default()).svg));
    for words in
        ["H4, PA1–PA3 Patio", "PA3, FR3, FR1 Fence", "W1a–W1b Window", "H4 Old hand pump.", "FR3 Bird bath."]
    {
        assert!(all.contains(words), "{words:?} is not on the sheet: {all}");
    }
    assert!(!all.contains("Something else") && !all.contains("Bird bath. Bird bath"), "{all}");
}

/// Every open question stands in the list and, where it is about a place, on the plan; what is answered does not.
#[test]
fn open_questions_stand_on_plan_and_list() {
    let mut yard = yard();
    let ids: Vec<_> = yard.0.points.iter().map(|p| p.id.clone()).collect();
    let mut ask = |entry: &str, kind: &str, points: &[usize], of: Option<&str>, text: &str| {
        let note = Note {
            topic: QUESTION.to_owned(),
            text: text.to_owned(),
            at: At::Points(points.iter().map(|n| ids[*n].clone()).collect()),
            asks: Some(Asks { kind: kind.to_owned(), of: of.map(Into::into) }),
            ..Note::default()
        };
        yard.0.written_notes.push(recorded(entry, note.into()));
    };
    ask("q1", "tape", &[0, 2], None, "");
    ask("q2", "words", &[], Some("t"), "How old is it?");
    ask("q3", "words", &[], None, "Which way do the bins go?");
    ask("q4", "height", &[3], None, "");
    let answers = Some(Answers { question: "q4".into(), by: Vec::new() });
    let answer =
        Note { topic: ANSWER.to_owned(), text: "Level with P1.".to_owned(), answers, ..Note::default() };
    yard.0.written_notes.push(recorded("a4", answer.into()));
    let drawing = draw(&yard, &Options::default());
    let document = parse(&drawing.svg);
    let all = written(&document);
    for words in [
        "Questions open",
        "Q1 Tape from P1 to P3",
        "Q2 Tree at P1: How old is it?",
        "Q3 Which way do the bins go?",
    ] {
        assert!(all.contains(words), "{words:?} is not on the sheet: {all}");
    }
    assert!(!all.contains("Q4"), "{all}");
    let on_plan = by_id(&document, "layer-questions").expect("a layer");
    let numbers: Vec<&str> =
        on_plan.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
    assert_eq!(numbers, ["Q1", "Q2"]);
    // Without the list a number would say nothing.
    let bare = draw(&yard, &Options { without_lists: true, ..Options::default() });
    assert!(!written(&parse(&bare.svg)).contains("Q1"));
}

/// Lists take the smallest paper that has room for all of them, unless somebody wants a certain one, and say that they
/// are drawn to no scale.
#[test]
fn a_sheet_of_lists_is_no_larger_than_they_need() {
    let yard = yards::yard(1);
    let papers =
        |options: &Options| -> Vec<&str> { sheets(&yard, options).iter().map(|s| s.paper.name).collect() };
    assert_eq!(papers(&Options::default()), ["Tabloid (ANSI B)", "Letter (ANSI A)"]);
    let wanted = Options { paper: Paper::named("tabloid"), ..Options::default() };
    assert_eq!(papers(&wanted), ["Tabloid (ANSI B)", "Tabloid (ANSI B)"]);
    let lists = sheets(&yard, &Options::default()).pop().expect("a sheet");
    let all = written(&parse(&lists.svg));
    assert!(all.contains("Scale none: lists, no drawing") && !all.contains("at sheet size"), "{all}");
}

/// What nobody said has no place in the title block.
#[test]
fn the_title_block_has_no_empty_cells() {
    let bare = points(UnitSystem::Metres, &[(0.0, 0.0), (5.0, 5.0)]);
    let all = written(&parse(&draw(&bare, &Options::default()).svg));
    assert!(!all.contains("not said") && !all.contains("Client") && !all.contains("Measured by"), "{all}");
    assert!(all.contains("Revision 1") && all.contains("Scale at sheet size"), "{all}");
}
