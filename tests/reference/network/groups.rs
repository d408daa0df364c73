//! A garage measured well in itself and joined to the house too seldom: how it can move is plane
//! geometry (a stiff figure has two shifts and a turn, each tie from outside takes one of them).

use swingtie_core::network::{Finding, PointState, Purpose, Reach, adjust, advice};
use swingtie_core::record::{
    AuthorId, EntryId, How, Leg, Measurement, PointId, Record, Recorded, Side, SideOf, TapedTo, Turn,
};
use swingtie_core::units::PlanPoint;
use swingtie_core::units::float::hypot;
use swingtie_tests::taped::written;

/// Metres; A–D the house, G–J the garage.
const PLACES: [(&str, f64, f64); 8] = [
    ("A", 0.0, 0.0),
    ("B", 12.0, 0.0),
    ("C", 12.0, 8.0),
    ("D", 0.0, 8.0),
    ("G", 18.0, 3.0),
    ("H", 24.0, 4.0),
    ("I", 23.0, 10.0),
    ("J", 17.0, 9.0),
];

fn at(name: &str) -> (f64, f64) {
    PLACES.iter().find(|(n, ..)| *n == name).map(|(_, x, y)| (*x, *y)).expect("a corner")
}

fn far(a: &str, b: &str) -> f64 {
    let (p, q) = (at(a), at(b));
    hypot(p.0 - q.0, p.1 - q.1)
}

fn tie(a: &str, b: &str) -> Measurement {
    Measurement::Tie {
        from: a.into(),
        to: b.into(),
        reading: written(far(a, b)),
        side: None,
        taped_to: TapedTo::default(),
        how: How::default(),
    }
}

fn walk(names: [&str; 4]) -> Measurement {
    let leg = |i: usize| Leg {
        turn: (i > 0).then_some(Turn::Left),
        to: names[(i + 1) % 4].into(),
        length: Some(written(far(names[i], names[(i + 1) % 4]))),
    };
    Measurement::Walk { start: names[0].into(), legs: (0..4).map(leg).collect(), how: How::default() }
}

fn yard(ties: &[(&str, &str)]) -> Record {
    let mut taken = vec![walk(["A", "B", "C", "D"]), tie("A", "C"), tie("B", "D")];
    taken.extend([walk(["G", "H", "I", "J"]), tie("G", "I"), tie("H", "J")]);
    let side = SideOf { from: "A".into(), to: "B".into(), side: Side::Left };
    taken.push(Measurement::SideIs { point: "D".into(), side });
    taken.extend(ties.iter().map(|(a, b)| tie(a, b)));
    let recorded = |(i, what)| Recorded {
        entry: EntryId(format!("e{i}")),
        author: AuthorId::from("me"),
        at_ms: 0,
        what,
    };
    let measurements = taken.into_iter().enumerate().map(recorded).collect();
    let sketch = PLACES.iter().map(|(n, x, y)| (PointId::from(*n), PlanPoint::from_metres(x + 0.5, y - 0.8)));
    Record { measurements, sketch: sketch.collect(), ..Record::default() }
}

/// The group named: its points, what joins it, how many ties it needs.
fn group(record: &Record) -> Option<(Vec<String>, Vec<String>, usize)> {
    adjust(record).findings.iter().find_map(|f| match f {
        Finding::LooseGroup { points, joined, needs } => Some((
            points.iter().map(PointId::to_string).collect(),
            joined.iter().map(EntryId::to_string).collect(),
            *needs,
        )),
        _ => None,
    })
}

#[test]
fn a_garage_joined_too_seldom_is_named_as_a_group() {
    let all: Vec<String> = ["G", "H", "I", "J"].map(String::from).into();
    for (ties, joined, needs) in [
        (vec![], vec![], 3),
        (vec![("B", "G")], vec!["e7"], 2),
        (vec![("B", "G"), ("C", "J")], vec!["e7", "e8"], 1),
        // The same line taped twice takes one freedom only.
        (vec![("B", "G"), ("B", "G")], vec!["e7", "e8"], 2),
    ] {
        let joined: Vec<String> = joined.into_iter().map(String::from).collect();
        assert_eq!(group(&yard(&ties)), Some((all.clone(), joined, needs)), "{ties:?}");
    }
    assert_eq!(group(&yard(&[("B", "G"), ("C", "J"), ("B", "J"), ("C", "G")])), None);
}

/// While it is loose it is drawn in its shape.
#[test]
fn a_loose_garage_keeps_its_shape_on_the_screen() {
    let result = adjust(&yard(&[("B", "G")]));
    for (a, b) in [("G", "H"), ("H", "I"), ("G", "I"), ("H", "J")] {
        let guess = |p: &str| result.points[&PointId::from(p)].guess.expect("drawn");
        let drawn = (guess(a) - guess(b)).length().metres();
        assert!((drawn - far(a, b)).abs() < 0.03, "{a} {b}: {drawn}");
    }
}

/// Two more ties fix it, and the advice knows which.
#[test]
fn following_the_advice_fixes_the_whole_group() {
    let mut ties = vec![("B".to_owned(), "G".to_owned())];
    for left in [2, 1, 0] {
        let pairs: Vec<(&str, &str)> = ties.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
        let record = yard(&pairs);
        let adjustment = adjust(&record);
        let loose = adjustment.points.values().filter(|f| f.state == PointState::Loose).count();
        assert_eq!((loose > 0, group(&record).map_or(0, |g| g.2)), (left > 0, left), "{ties:?}");
        let list = advice(&record, &adjustment, &Reach::default());
        if let (Some(first), true) = (list.first(), left > 0) {
            assert_eq!(first.purpose, Purpose::Fix);
            // The last tie fixes all that were still loose.
            assert!(left > 1 || first.turns.len() == loose, "{first:?}");
            ties.push((first.from.to_string(), first.to.to_string()));
        }
    }
}
