//! What the list says of small yards. What people forget is common practice, no source.

use super::yard::Yard;
use super::{Mend, Weight};
use crate::record::{
    Anchor, At, Facing, How, Measurement, Problem, Reading, Severity, Slope, Statement, TapedTo,
};
use crate::units::{Angle, BareUnit, Length, UnitSystem};

#[test]
fn before_anything_is_measured_there_is_one_first_step() {
    let mut yard = Yard::default();
    let [first] = yard.list().try_into().unwrap();
    assert_eq!(first.weight, Weight::Start);
    yard.point("H1").point("H2").thing("g", "gate", &["H1", "H2"], &[]);
    let [first] = yard.list().try_into().unwrap();
    assert_eq!((first.weight, first.mend), (Weight::Start, Mend::Walk));
}

#[test]
fn a_house_alone_asks_for_its_walls_its_photos_and_north() {
    let mut yard = Yard::default();
    yard.house();
    assert!(yard.line("Nothing is on the walls H1 to H2, H2 to H3, H3 to H4 and H4 to H1").is_some());
    let photos = yard.line("No photo shows the sides").unwrap();
    assert_eq!(photos.keys.len(), 4);
    assert!(yard.line("North is not known").is_some() && yard.line("The day is not said").is_some());
    assert!(yard.list().iter().all(|line| line.weight > Weight::Unfinished), "{:#?}", yard.list());
}

#[test]
fn lines_stand_by_what_they_cost() {
    let mut yard = Yard::default();
    yard.house().point("T1");
    let list = yard.list();
    assert_eq!(list.first().map(|line| line.weight), Some(Weight::Unfinished), "T1 is only sketched");
    assert!(list.is_sorted_by_key(|line| line.weight));
    let look = list.iter().position(|line| line.weight == Weight::Look).unwrap();
    assert!(list.iter().skip(look).all(|line| line.weight == Weight::Look));
}

#[test]
fn a_photo_shows_the_side_it_looks_at() {
    // Plan: H1 at the origin, H2 along x, the house to its left, so that its front looks along -y.
    let before = crate::units::PlanPoint::from_metres(6.0, -5.0);
    let north = Some(Facing::Plan(Angle::RIGHT));
    let mut yard = Yard::default();
    yard.house().photo("one", At::Near(before), north);
    assert_eq!(
        yard.line("No photo shows the sides").unwrap().keys,
        ["photo H2 H3", "photo H3 H4", "photo H4 H1"]
    );
    // Turned away from the house it shows none of it.
    let mut away = Yard::default();
    away.house().photo("one", At::Near(before), Some(Facing::Plan(Angle::from_degrees(-90.0))));
    assert_eq!(away.line("No photo shows the sides").unwrap().keys.len(), 4);
    // From a corner, nobody says which way: both walls that meet there.
    yard.photo("two", At::Points(vec!["H3".into()]), None);
    assert_eq!(yard.line("No photo shows the side ").unwrap().keys, ["photo H4 H1"]);
}

#[test]
fn what_stands_on_a_wall_makes_it_no_longer_bare() {
    let mut yard = Yard::default();
    yard.house().point("D1").point("D2");
    let readings = [("D1", "10'"), ("D2", "13'")].map(|(point, text)| crate::record::RunReading {
        point: point.into(),
        reading: Reading::read(text, BareUnit::from(UnitSystem::FeetInches)).unwrap(),
    });
    let (zero, toward, how) = ("H1".into(), "H2".into(), How::default());
    let run = Measurement::Run { zero, toward, readings: readings.to_vec(), zero_unknown: false, how };
    yard.say("run", Statement::Measure(run)).thing("door", "door", &["D1", "D2"], &[]);
    let bare = yard.line("Nothing is on the walls").unwrap();
    assert_eq!(bare.keys, ["wall H2 H3", "wall H3 H4", "wall H4 H1"]);
    let threshold = yard.line("No threshold height of the door D1–D2").unwrap();
    assert_eq!(threshold.mend, Mend::EditThing("door".into()));
}

#[test]
fn an_answer_takes_a_line_off_and_striking_it_brings_it_back() {
    let mut yard = Yard::default();
    yard.house().point("G1").point("G2").point("G3").thing("one", "gate", &["G1", "G2"], &[]);
    let gate = yard.line("No clear width of the gate G1–G2").unwrap();
    yard.answer("why", &gate, "comes out anyway").thing("two", "gate", &["G2", "G3"], &[]);
    let list = yard.list();
    let said: Vec<_> = list.iter().filter(|line| line.what.contains("No clear width")).collect();
    let [answered, open] = said.as_slice() else { panic!("{said:#?}") };
    assert_eq!(answered.answer.as_ref().map(|answer| answer.why.as_str()), Some("comes out anyway"));
    // Another gate is asked about, whatever was said of the first, and leads to itself.
    assert!(open.is_open() && open.what.contains("G2–G3"), "{open:?}");
    assert_eq!(open.mend, Mend::EditThing("two".into()));
    yard.say("back", Statement::Strike { entry: "why".into(), why: String::new() });
    assert!(yard.line("No clear width of the gates G1–G2 and G2–G3").unwrap().is_open());
}

#[test]
fn a_danger_nobody_photographed_presses_more_than_a_note() {
    let mut yard = Yard::default();
    let problem = |severity| {
        let (kind, at, spread, attributes) = ("cable".to_owned(), At::Site, None, <_>::default());
        Problem {
            kind,
            severity,
            at,
            spread,
            attributes,
            note: String::new(),
            photos: Vec::new(),
            told: false,
        }
    };
    yard.house().say("a", Statement::Problem(problem(Severity::Danger)));
    yard.say("b", Statement::Problem(problem(Severity::Note)));
    assert_eq!(yard.line("No photo of problem 1, exposed cable").unwrap().weight, Weight::Wrong);
    assert_eq!(yard.line("No photo of problem 2, exposed cable").unwrap().weight, Weight::Visit);
}

#[test]
fn what_is_recorded_is_not_looked_for() {
    let mut yard = Yard::default();
    yard.house();
    assert!(yard.line("Downspouts").is_some() && yard.line("Fall of the ground").is_some());
    yard.point("DS1").thing("ds", "downspout", &["DS1"], &[("falls_to", "the street")]);
    assert!(yard.line("Downspouts").is_none() && yard.line("Fall of the ground").is_none());
    assert!(yard.line("Not said where the downspout empties DS1").is_some());
}

/// A yard where two trees, both sides of a door, a meter and one corner of a shed were read, and a third tree was only sketched.
fn read_only() -> Yard {
    let mut yard = Yard::default();
    yard.house();
    for label in ["T2", "T1", "T3", "D1a", "D1b", "GM1", "SH1"] {
        yard.point(label);
    }
    let reading = |text: &str| Reading::read(text, BareUnit::from(UnitSystem::FeetInches)).unwrap();
    let row = |(point, text): (&str, &str)| crate::record::RunReading {
        point: point.into(),
        reading: reading(text),
    };
    let readings = [("D1a", "10'"), ("D1b", "13'"), ("GM1", "20'"), ("SH1", "25'")].map(row).to_vec();
    let (zero, toward, how) = ("H1".into(), "H2".into(), How::default());
    let run = Measurement::Run { zero, toward, readings, zero_unknown: false, how };
    yard.say("run", Statement::Measure(run));
    for (id, to, text) in [("one", "T1", "18'"), ("two", "T2", "22'")] {
        let (from, to, taped_to) = ("H1".into(), to.into(), crate::record::TapedTo::Middle);
        let (reading, how) = (reading(text), How::default());
        let tie = Measurement::Tie { from, to, reading, side: None, taped_to, how };
        yard.say(id, Statement::Measure(tie));
    }
    yard
}

#[test]
fn what_was_read_and_never_recorded_is_asked_about_by_its_letters() {
    let yard = read_only();
    let trees = yard.line("no tree is recorded").unwrap();
    assert_eq!(trees.what, "T1 and T2 are measured, but no tree is recorded there yet");
    assert_eq!((trees.weight, &trees.mend), (Weight::Visit, &Mend::Points("tree", vec!["T1".into()])));
    let door = yard.line("no door is recorded").unwrap();
    assert_eq!(door.what, "D1 is measured, but no door is recorded there yet");
    assert_eq!(door.mend, Mend::Points("door", vec!["D1a".into(), "D1b".into()]));
    assert!(yard.line("GM1 is measured, but no gas meter is recorded there yet").is_some());
    // One corner makes no shed: what is missing is taped first.
    let shed = yard.line("too few points to draw").unwrap();
    assert_eq!(shed.what, "SH1 is measured, too few points to draw: shed or garage or outbuilding");
    assert_eq!((shed.weight, &shed.mend), (Weight::Visit, &Mend::Plan));
    assert!(yard.line("no house").is_none(), "the house is drawn");
    // It is not said that nothing of the sort is there.
    assert!(yard.line("Trees").is_none() && yard.line("Meters and panels").is_none());
    assert!(yard.line("Downspouts").is_some(), "of those nothing was read");
    // Nothing contradicts: what one may settle is on which side the trees stand, nothing else.
    let wrong = yard.list().into_iter().filter(|line| line.weight == Weight::Wrong);
    assert!(wrong.flat_map(|line| line.keys).all(|key| key.starts_with("which ")));
}

#[test]
fn a_thing_recorded_or_a_reason_ends_the_question_about_its_points() {
    let mut yard = read_only();
    yard.thing("t", "tree", &["T1"], &[]).thing("d", "door", &["D1a", "D1b"], &[]);
    assert_eq!(
        yard.line("no tree is").map(|line| line.what),
        Some("T2 is measured, but no tree is recorded there yet".to_owned())
    );
    assert!(yard.line("no door is").is_none());
    let meter = yard.line("no gas meter is").unwrap();
    yard.answer("why", &meter, "the neighbour's").thing("u", "tree", &["T2"], &[]);
    assert!(yard.line("no tree is").is_none());
    assert!(!yard.line("no gas meter is").unwrap().is_open());
    // A tree that is only sketched is none that was measured: without a reading it is looked for.
    let mut sketched = Yard::default();
    sketched.house().point("T1");
    assert!(sketched.line("no tree is").is_none() && sketched.line("Trees").is_some());
}

#[test]
fn a_tape_on_a_slope_wants_the_heights_of_its_ends() {
    let reading = Reading::read("30'", BareUnit::Feet).unwrap();
    let how = How { slope: Some(Slope::Heights), ..How::default() };
    let (from, to) = ("H1".into(), "T1".into());
    let tie = Measurement::Tie { from, to, reading, side: None, taped_to: TapedTo::Middle, how };
    let words = "The tape from H1 to T1 lay on a slope";
    for (levels, missing) in
        [(&[][..], true), (&[("H1", 100.0)][..], true), (&[("H1", 100.0), ("T1", 97.0)][..], false)]
    {
        let mut yard = Yard::default();
        yard.house().point("T1").say("tie", Statement::Measure(tie.clone())).levels(levels);
        assert_eq!(yard.line(words).map(|line| line.mend), missing.then_some(Mend::Levels), "{levels:?}");
    }
}

/// H1 to H2 is 40 ft, 12.192 m. 0.0005° of latitude are 55.5 m (EPSG Guidance Note 7-2: a meridian's degree is 111.0 km at
/// 40°), 0.0001° 11.1 m.
#[test]
fn two_places_on_the_map_prove_the_plans_size() {
    let mut yard = Yard::default();
    yard.house();
    let place = |point: &str, latitude| Anchor {
        point: point.into(),
        latitude,
        longitude: -75.0,
        source: String::new(),
        accuracy: Some(Length::from_metres(4.0)),
    };
    let said = "The places of H1 and H2 on the map lie";
    yard.say("one", Statement::Anchor(place("H1", 40.0)));
    yard.say("two", Statement::SecondAnchor(place("H2", 40.0005)));
    let line = yard.line(said).unwrap();
    assert!(line.what.contains("in the plan 40' 0\""), "{}", line.what);
    assert_eq!((line.mend, line.weight), (Mend::Details, Weight::Visit));
    yard.say("three", Statement::SecondAnchor(place("H2", 40.0001)));
    assert!(yard.line(said).is_none());
}
