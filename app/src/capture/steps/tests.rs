use super::super::draft::Meant;
use super::*;
use swingtie_core::record::{How, Point, Reading, Recorded, TapedTo, UnitSystem};
use swingtie_core::units::BareUnit;

pub fn reading(text: &str) -> Reading {
    Reading::read(text, BareUnit::from(UnitSystem::FeetInches)).unwrap()
}

/// A yard of these points, labelled in capitals, in which this was measured.
pub fn yard(points: &[&str], measured: Vec<Measurement>) -> Record {
    let point = |id: &&str| Point { id: (*id).into(), label: id.to_uppercase(), note: String::new() };
    let recorded = |what| Recorded { entry: "e".into(), author: "me".into(), at_ms: 0, what };
    Record {
        points: points.iter().map(point).collect(),
        measurements: measured.into_iter().map(recorded).collect(),
        ..Record::default()
    }
}

pub fn tie(from: &str, to: &str, text: &str) -> Measurement {
    let (taped_to, how) = (TapedTo::Middle, How::default());
    Measurement::Tie { from: from.into(), to: to.into(), reading: reading(text), side: None, taped_to, how }
}

pub fn run(zero: &str, toward: &str, read: &[(&str, &str)]) -> Measurement {
    let one = |(point, text): &(&str, &str)| RunReading { point: (*point).into(), reading: reading(text) };
    Measurement::Run {
        zero: zero.into(),
        toward: toward.into(),
        readings: read.iter().map(one).collect(),
        zero_unknown: false,
        how: How::default(),
    }
}

pub fn draft(kind: Kind, points: &[(Slot, &str)]) -> Draft {
    let mut draft = Draft::new(kind);
    for (slot, id) in points {
        draft.set_point(*slot, Meant::Known((*id).into()));
    }
    draft.advance();
    draft
}

/// The keys in a word each.
fn told(steps: &[Step], record: &Record) -> String {
    let word = |step: &Step| match step {
        Step::At(id) => format!("at-{}", record.label(id)),
        Step::New(kind) => kind.key.to_owned(),
        Step::From(id) => format!("from-{}", record.label(id)),
        Step::To(id) => format!("to-{}", record.label(id)),
        other => format!("{other:?}").to_lowercase(),
    };
    steps.iter().map(word).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_tape_along_a_wall_offers_its_far_end_until_that_is_read() {
    let along = draft(Kind::Run, &[(Slot::First, "h1"), (Slot::Second, "h2")]);
    let record = yard(&["h1", "h2"], Vec::new());
    assert_eq!(told(&steps(&along, &record, false), &record), "at-H2 window door downspout post other");
    let record = yard(&["h1", "h2", "hb1"], vec![run("h1", "h2", &[("hb1", "12'"), ("h2", "30'")])]);
    assert_eq!(
        told(&steps(&along, &record, false), &record),
        "fresh window door downspout hose_bib other",
        "what was read lately is offered again"
    );
}

#[test]
fn tapes_go_on_from_where_they_went_lately() {
    let record =
        yard(&["h1", "h2", "h3", "pk1", "t1"], vec![tie("pk1", "t1", "10'"), tie("h3", "t1", "12'")]);
    let next = draft(Kind::Tie, &[(Slot::Target, "t1")]);
    assert_eq!(next.focus, Slot::First);
    assert_eq!(
        told(&steps(&next, &record, false), &record),
        "from-H1 from-H2 next other",
        "not from these again"
    );
    let other = draft(Kind::Tie, &[(Slot::First, "h1"), (Slot::Target, "pk1")]);
    assert_eq!(
        told(&steps(&other, &record, false), &record),
        "from-H2 from-H3 next other",
        "not from itself, nor from where it goes now"
    );
    assert_eq!(first_anchor(&record, &"t1".into()), Some(&"pk1".into()));
}

#[test]
fn a_tape_that_stays_hooked_is_offered_the_points_that_wait_for_their_second() {
    let first = [("h1", "t1"), ("h1", "t2"), ("h1", "t3"), ("h2", "t3")];
    let record = yard(&["h1", "h2", "t1", "t2", "t3"], first.map(|(a, b)| tie(a, b, "10'")).to_vec());
    let keys = |from, to| {
        let tie = draft(Kind::Tie, &[(Slot::First, from), (Slot::Target, to)]);
        told(&steps(&tie, &record, false), &record)
    };
    assert!(keys("h2", "t2").contains("to-T1"), "{}", keys("h2", "t2"));
    assert!(!keys("h1", "t2").contains("to-"), "it was unhooked");
}

#[test]
fn two_places_are_asked_before_anything_else() {
    let record = yard(&["h1", "h2", "t1"], Vec::new());
    let mut open = draft(Kind::Tie, &[(Slot::First, "h1"), (Slot::Target, "t1")]);
    assert_eq!(steps(&open, &record, true), [Step::Side(Side::Left), Step::Side(Side::Right)]);
    open.side_open = true;
    assert!(!steps(&open, &record, true).contains(&Step::Side(Side::Left)));
}

#[test]
fn the_list_of_kinds_begins_with_what_is_likely_and_holds_every_kind_once() {
    let record = yard(&["h1", "h2", "t1"], Vec::new());
    let along = draft(Kind::Run, &[(Slot::First, "h1"), (Slot::Second, "h2")]);
    let kinds = all_kinds(&along, &record);
    assert!(told(&kinds, &record).starts_with("hose_bib electric_meter"), "{}", told(&kinds, &record));
    assert!(told(&kinds, &record).contains("peg tree house"), "then what is in the yard, then the rest");
    assert_eq!(kinds.len(), CATALOGUE.len());
}
