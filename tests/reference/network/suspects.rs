//! What is said of readings that contradict each other, on figures small enough to reckon by hand.

use swingtie_core::book::fold;
use swingtie_core::network::{Adjustment, Finding, PointState, Slip, adjust};
use swingtie_core::record::{
    AuthorId, EntryId, How, Measurement, PointId, Record, Recorded, RunReading, Side, SideOf, TapedTo,
};
use swingtie_core::units::float::hypot;
use swingtie_tests::scenario::{Options, scenario};
use swingtie_tests::taped::{read, written};

fn record(measurements: &[Measurement]) -> Record {
    let recorded = |(i, what): (usize, &Measurement)| Recorded {
        entry: EntryId(format!("e{i}")),
        author: AuthorId::from("me"),
        at_ms: 0,
        what: what.clone(),
    };
    Record { measurements: measurements.iter().enumerate().map(recorded).collect(), ..Record::default() }
}

fn tie(from: &str, to: &str, text: &str) -> Measurement {
    Measurement::Tie {
        from: from.into(),
        to: to.into(),
        reading: read(text),
        side: None,
        taped_to: TapedTo::default(),
        how: How::default(),
    }
}

fn left(measurement: Measurement, of: [&str; 2]) -> Measurement {
    let Measurement::Tie { from, to, reading, taped_to, how, .. } = measurement else { panic!("a tie") };
    let side = Some(SideOf { from: of[0].into(), to: of[1].into(), side: Side::Left });
    Measurement::Tie { from, to, reading, side, taped_to, how }
}

/// A square of 40 ft with both diagonals (56' 6 7/8", from 40√2 = 56.5685 ft), each line taped once.
fn square() -> Vec<Measurement> {
    let mut all: Vec<Measurement> =
        ["AB", "BC", "CD", "DA"].iter().map(|s| tie(&s[..1], &s[1..], "40' 0\"")).collect();
    all.push(left(tie("A", "C", "56' 6 7/8\""), ["A", "B"]));
    all.push(left(tie("B", "D", "56' 6 7/8\""), ["A", "B"]));
    all
}

/// The first suspect: entry, its slips, and the entries it cannot be told from.
fn first(result: &Adjustment) -> (String, Vec<Slip>, Vec<String>) {
    match result.findings.first() {
        Some(Finding::Suspect { entry, doubt, rivals, .. }) => (
            entry.to_string(),
            doubt.causes.iter().map(|c| c.slip.clone()).collect(),
            rivals.iter().map(|r| r.entry.to_string()).collect(),
        ),
        other => panic!("{other:?}"),
    }
}

/// Two tapes of one line with nothing else: either may be wrong.
#[test]
fn two_that_contradict_are_both_named() {
    let result = adjust(&record(&[tie("A", "B", "20' 3\""), tie("A", "B", "23' 1\"")]));
    let (entry, _, rivals) = first(&result);
    let mut both = vec![entry];
    both.extend(rivals);
    both.sort();
    assert_eq!((both, result.findings.len()), (vec!["e0".to_owned(), "e1".to_owned()], 1));
}

/// A point on three ties, one of them wrong by a number no usual slip gives: any of the three may be
/// it. With a fourth tie the wrong one is named alone. P stands at 25 ft right, 15 ft up of A:
/// A–P = √850 = 29.155 ft = 29' 1 7/8", B–P = √450 = 21' 2 1/2", C–P = √850, D–P = √1250 = 35' 4 1/4".
#[test]
fn three_that_contradict_are_named_and_a_fourth_tells() {
    let mut taken = square();
    taken.push(tie("A", "P", "29' 1 7/8\""));
    taken.push(tie("B", "P", "23' 7\""));
    taken.push(tie("C", "P", "29' 1 7/8\""));
    let (entry, _, mut rivals) = first(&adjust(&record(&taken)));
    rivals.push(entry);
    rivals.sort();
    assert_eq!(rivals, ["e6", "e7", "e8"]);
    taken.push(tie("D", "P", "35' 4 1/4\""));
    let result = adjust(&record(&taken));
    assert_eq!(first(&result), ("e7".to_owned(), vec![], vec![]));
    assert_eq!(result.points[&PointId::from("P")].state, PointState::Disputed);
}

/// The same with a foot too much: of the three the slip tells which.
#[test]
fn of_three_the_one_with_a_usual_slip_comes_first() {
    let mut taken = square();
    taken.push(tie("A", "P", "29' 1 7/8\""));
    taken.push(tie("B", "P", "12' 2 1/2\""));
    taken.push(tie("C", "P", "29' 1 7/8\""));
    let (entry, slips, rivals) = first(&adjust(&record(&taken)));
    // 12 for 21: two digits changed places.
    assert_eq!((entry.as_str(), slips.first(), rivals.len()), ("e7", Some(&Slip::Transposed), 2));
}

/// A reading kept is not accused, nor is another in its stead; its point stays in dispute.
#[test]
fn a_kept_reading_is_not_accused_again() {
    let mut record = fold(&scenario(2).book(&Options::default())).record;
    record.kept.insert(("M056".into(), 0), ());
    let result = adjust(&record);
    let [Finding::Kept { entry, part: 0, standardised }] = result.findings.as_slice() else {
        panic!("{:?}", result.findings)
    };
    assert_eq!(entry.as_str(), "M056");
    assert!(standardised.abs() > result.suspect_limit && result.suspect_limit > 3.29);
    assert_eq!(result.points[&PointId::from("T3")].state, PointState::Disputed);
}

/// Of two that contradict, one vouched for: the other is accused alone.
#[test]
fn keeping_one_of_two_accuses_the_other() {
    let mut record = record(&[tie("A", "B", "20' 3\""), tie("A", "B", "23' 1\"")]);
    for (kept, accused) in [("e0", "e1"), ("e1", "e0")] {
        record.kept = std::iter::once(((EntryId::from(kept), 0), ())).collect();
        let (entry, _, rivals) = first(&adjust(&record));
        assert_eq!((entry.as_str(), rivals.len()), (accused, 0));
    }
}

/// A tape held by a strap 6 in long: every reading of the run is 6 in too much. Jambs at 10, 20 and
/// 30 ft of the wall A–B, each tied from B, C and D by plane geometry.
#[test]
fn a_hook_is_found_over_a_whole_run() {
    let mut taken = square();
    let foot = 0.3048;
    let mut readings = Vec::new();
    for (name, at) in [("J", 10.0), ("K", 20.0), ("L", 30.0)] {
        readings.push(RunReading { point: name.into(), reading: written((at + 0.5) * foot) });
        for (corner, x, y) in [("B", 40.0, 0.0), ("C", 40.0, 40.0), ("D", 0.0, 40.0)] {
            let reading = written(hypot(at - x, y) * foot);
            let (from, to) = (corner.into(), name.into());
            taken.push(Measurement::Tie {
                from,
                to,
                reading,
                side: None,
                taped_to: TapedTo::default(),
                how: How::default(),
            });
        }
    }
    taken.push(Measurement::Run {
        zero: "A".into(),
        toward: "B".into(),
        readings,
        zero_unknown: false,
        how: How::default(),
    });
    let result = adjust(&record(&taken));
    let (entry, slips, _) = first(&result);
    let Some(Slip::Zero { off }) = slips.first() else { panic!("{:?}", result.findings) };
    assert_eq!(entry, "e15");
    assert!((off.inches() - 6.0).abs() < 0.5, "{off:?}");
}

/// Two misreads in different places, both found, each with its slip: one foot, and 9 for 6.
#[test]
fn two_misreads_are_found_one_after_the_other() {
    let mut taken = square();
    for (p, texts) in [
        ("P", ["29' 1 7/8\"", "21' 2 1/2\"", "29' 1 7/8\"", "35' 4 1/4\""]),
        ("Q", ["36' 0 3/4\"", "22' 4 3/8\"", "22' 4 3/8\"", "36' 0 3/4\""]),
    ] {
        for (corner, text) in ["A", "B", "C", "D"].iter().zip(texts) {
            taken.push(tie(corner, p, text));
        }
    }
    // Q stands 30 ft right, 20 ft up: √1300 = 36' 0 3/4" to A and D, √500 = 22' 4 3/8" to B and C.
    assert_eq!(adjust(&record(&taken)).findings, vec![]);
    taken[9] = tie("D", "P", "36' 4 1/4\"");
    taken[13] = tie("D", "Q", "39' 0 3/4\"");
    let result = adjust(&record(&taken));
    let named: Vec<(&str, Option<&Slip>)> = result
        .findings
        .iter()
        .map(|f| match f {
            Finding::Suspect { entry, doubt, .. } => (entry.as_str(), doubt.causes.first().map(|c| &c.slip)),
            other => panic!("{other:?}"),
        })
        .collect();
    let nine = Slip::LookAlike { written: '9', meant: '6' };
    assert_eq!(named, [("e13", Some(&nine)), ("e9", Some(&Slip::OneFoot))]);
}
