use super::super::back::{read_back, spoken_back};
use super::super::draft::{Choice, Lay};
use super::*;
use crate::keypad::{Pad, Typed};
use crate::words::capture::measurement;
use swingtie_core::record::{
    AngleHow, AngleInstrument, AngleReading, How, NorthKind, Recorded, Rotation, Side, Slope, Tape, TapedTo,
    UnitSystem,
};
use swingtie_core::units::{Angle, BareUnit};

/// Points A … F, ids in small letters.
fn yard() -> Record {
    let point = |label: char| Point {
        id: label.to_ascii_lowercase().to_string().as_str().into(),
        label: label.to_string(),
        note: String::new(),
    };
    Record { points: ('A'..='F').map(point).collect(), ..Record::default() }
}

fn known(id: &str) -> Meant {
    Meant::Known(id.into())
}

fn feet(text: &str) -> Typed {
    let reading = Reading::read(text, BareUnit::from(UnitSystem::FeetInches)).unwrap();
    Typed::from_reading(&reading, UnitSystem::FeetInches)
}

fn degrees(text: &str, pad: Pad) -> Typed {
    Typed::from_angle(&AngleReading::read(text).unwrap(), pad)
}

/// A draft through these points, in the order asked.
fn through(kind: Kind, points: &[&str]) -> Draft {
    let mut draft = Draft::new(kind);
    for point in points {
        assert!(draft.focus.takes_point(), "{:?} is asked", draft.focus);
        draft.put_point(known(point));
    }
    draft
}

/// What a complete draft says, and that it is read back as the book then lists it.
fn said(draft: &Draft, hand: InHand) -> Measurement {
    assert_eq!(draft.wanting(), None, "{draft:?}");
    let record = yard();
    let saying = say(draft, &record, hand, &mut || panic!("no new point")).unwrap();
    let [Statement::Measure(what)] = saying.statements.as_slice() else { panic!("{saying:?}") };
    assert_eq!(read_back(draft, &record), measurement(what, &record));
    what.clone()
}

#[test]
fn an_angle_is_asked_at_from_to_which_way_and_how_much() {
    let mut draft = through(Kind::Angle, &["a", "b", "c"]);
    assert_eq!(draft.focus, Slot::Rotation);
    draft.put(Choice::Rotation(Rotation::Clockwise));
    draft.set_typed(Slot::Angle, degrees("84° 30'", Pad::Turn));
    let sight = AngleHow { instrument: AngleInstrument::Theodolite, sd: None };
    let now = said(&draft, InHand { sight, ..InHand::default() });
    let Measurement::Angle { at, from, to, reading, turn, how } = now else { panic!("{now:?}") };
    assert_eq!([at, from, to], ["a".into(), "b".into(), "c".into()]);
    assert_eq!((reading.text.as_str(), turn, how), ("84° 30'", Rotation::Clockwise, sight));
    assert_eq!(spoken_back(&draft, draft.focus, &yard()), "from B to C: 84 degrees 30");
    draft.next_row(Some("c".into()));
    assert_eq!(
        (draft.focus, draft.rotation),
        (Slot::Target, Some(Rotation::Clockwise)),
        "the next from here"
    );
}

#[test]
fn a_bearing_keeps_its_place_and_its_north() {
    let mut draft = through(Kind::Bearing, &["a", "b"]);
    assert_eq!(draft.focus, Slot::North);
    draft.put(Choice::North(NorthKind::Magnetic));
    draft.set_typed(Slot::Angle, degrees("348.5", Pad::Turn));
    let now = said(&draft, InHand::default());
    let Measurement::Bearing { from, to, reading, north, .. } = now else { panic!("{now:?}") };
    assert_eq!((from, to, north), ("a".into(), "b".into(), NorthKind::Magnetic));
    assert!((reading.value.degrees() - 348.5).abs() < 1e-12);
    draft.next_row(Some("b".into()));
    draft.put_point(known("c"));
    assert_eq!(draft.focus, Slot::Angle, "neither place nor north is asked again");
}

#[test]
fn two_lines_are_named_by_their_ends() {
    let ends = ["a", "b", "c", "d"];
    let line = |a: &str, b: &str| [PointId::from(a), PointId::from(b)];
    let (one, other) = (line("a", "b"), line("c", "d"));
    let parallel = said(&through(Kind::Parallel, &ends), InHand::default());
    assert_eq!(parallel, Measurement::Parallel { one: one.clone(), other: other.clone(), tolerance: None });
    let same = said(&through(Kind::SameLength, &ends), InHand::default());
    assert_eq!(same, Measurement::SameLength { one, other, tolerance: None });
    // They may meet in a point, and are not one line.
    assert!(!through(Kind::SameLength, &["a", "b", "b", "c"]).same_twice());
    for ends in [["a", "a", "b", "c"], ["a", "b", "c", "c"], ["a", "b", "b", "a"]] {
        assert!(through(Kind::Parallel, &ends).same_twice(), "{ends:?}");
    }
}

#[test]
fn arcs_and_girths() {
    let mut draft = through(Kind::Arc, &["a", "b"]);
    draft.set_typed(Slot::Length, feet("2' 6\""));
    draft.advance();
    assert_eq!(draft.focus, Slot::Side);
    draft.put_side(Side::Left);
    let now = said(&draft, InHand::default());
    assert!(matches!(now, Measurement::Arc { rise, side: Side::Left, .. } if rise.text == "2' 6\""));
    let now = said(&through(Kind::ArcThrough, &["a", "b", "c"]), InHand::default());
    let (from, through_, to) = ("a".into(), "b".into(), "c".into());
    assert_eq!(now, Measurement::ArcThrough { from, through: through_, to });
    let mut draft = through(Kind::Girth, &["e"]);
    draft.set_typed(Slot::Length, feet("0'"));
    assert!(say(&draft, &yard(), InHand::default(), &mut || "n".into()).is_err(), "no trunk is that thin");
    draft.set_typed(Slot::Length, feet("4' 2\""));
    assert!(
        matches!(said(&draft, InHand::default()), Measurement::Girth { point, .. } if point.as_str() == "e")
    );
}

#[test]
fn a_tape_reaches_the_near_side_of_a_trunk() {
    let mut draft = through(Kind::Tie, &["a", "b"]);
    assert!(!draft.slots().contains(&Slot::TapedTo));
    draft.see_round(true);
    draft.set_typed(Slot::Length, feet("12'"));
    assert!(matches!(said(&draft, InHand::default()), Measurement::Tie { taped_to: TapedTo::Middle, .. }));
    draft.put(Choice::TapedTo(TapedTo::NearSide));
    assert!(matches!(said(&draft, InHand::default()), Measurement::Tie { taped_to: TapedTo::NearSide, .. }));
    draft.see_round(false);
    assert_eq!(draft.taped_to, TapedTo::Middle, "a corner has no near side");
}

#[test]
fn the_slope_belongs_to_one_reading() {
    let hand = || InHand {
        how: How { tape: Some(Box::new(Tape::default())), ..How::default() },
        ..InHand::default()
    };
    let mut draft = through(Kind::Tie, &["a", "b"]);
    draft.set_typed(Slot::Length, feet("50'"));
    draft.put_slope(Some(Lay::Rise));
    assert_eq!((draft.focus, draft.wanting()), (Slot::Rise, Some(Slot::Rise)));
    draft.set_typed(Slot::Rise, feet("6'"));
    let how = |what: Measurement| match what {
        Measurement::Tie { how, .. } => how,
        _ => panic!("{what:?}"),
    };
    let taken = how(said(&draft, hand()));
    let Some(Slope::RiseMetres(rise)) = taken.slope else { panic!("no rise") };
    assert!((rise.feet() - 6.0).abs() < 1e-12);
    assert!(taken.tape.is_some(), "what is known of the tape stays with it");
    draft.set_typed(Slot::Rise, feet("50'"));
    assert!(say(&draft, &yard(), hand(), &mut || "n".into()).unwrap_err().contains("higher"));
    draft.put_slope(Some(Lay::Incline));
    draft.set_typed(Slot::Incline, degrees("5.5", Pad::Slope));
    let Some(Slope::AngleRadians(angle)) = how(said(&draft, hand())).slope else { panic!("no angle") };
    assert!((angle.radians() - Angle::from_degrees(5.5).radians()).abs() < 1e-12);
    draft.next_row(Some("b".into()));
    assert_eq!((draft.slope, draft.lay()), (None, None));
}

/// Two readings of a tape hooked anywhere say one thing only together, so they stand in one entry.
#[test]
fn readings_of_a_tape_with_an_unknown_zero_stay_together() {
    let mut record = yard();
    let mut draft = Draft::new(Kind::Run);
    draft.toggle_zero();
    for (point, text) in [("a", "1' 6\""), ("c", "13'"), ("d", "21'")] {
        for missing in [("a", Slot::First), ("b", Slot::Second)] {
            if draft.point(missing.1).is_none() {
                draft.put_point(known(missing.0));
            }
        }
        draft.put_point(known(point));
        draft.set_typed(Slot::Length, feet(text));
        let saying = say(&draft, &record, InHand::default(), &mut || "n".into()).unwrap();
        let now = match saying.statements.as_slice() {
            [Statement::Measure(now)] => now.clone(),
            [Statement::Correct { entry, now }] if entry.as_str() == "run" => match &**now {
                Statement::Measure(now) => now.clone(),
                other => panic!("{other:?}"),
            },
            other => panic!("{other:?}"),
        };
        record.measurements =
            vec![Recorded { entry: "run".into(), author: "me".into(), at_ms: 0, what: now }];
        draft.into.get_or_insert("run".into());
        draft.next_row(Some(point.into()));
    }
    let Measurement::Run { readings, zero_unknown, .. } = &record.measurements[0].what else {
        panic!("no run")
    };
    let texts: Vec<&str> = readings.iter().map(|r| r.reading.text.as_str()).collect();
    assert_eq!((texts, *zero_unknown), (vec!["1' 6\"", "13'", "21'"], true));
    // Along another line the tape is hooked anew.
    draft.focus = Slot::Second;
    draft.put_point(known("e"));
    assert_eq!(draft.into, None);
}

#[test]
fn a_new_point_named_twice_is_one_point() {
    let mut draft = through(Kind::SameLength, &["a"]);
    for point in [Meant::New { label: "X1".into(), at: None }, Meant::New { label: "X1".into(), at: None }] {
        draft.put_point(point);
    }
    draft.put_point(known("b"));
    let saying = say(&draft, &yard(), InHand::default(), &mut || "x".into()).unwrap();
    assert!(
        matches!(saying.statements.as_slice(), [Statement::Point(_), Statement::Measure(_)]),
        "{saying:?}"
    );
}
