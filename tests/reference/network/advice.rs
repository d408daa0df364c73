//! What to measure next: checked against plane geometry, and by following it.

use swingtie_core::network::{Adjustment, Advice, PointState, Purpose, Reach, Turned, adjust, advice};
use swingtie_core::record::{
    AuthorId, EntryId, Feature, How, Measurement, PointId, Record, Recorded, Side, SideOf, TapedTo,
};
use swingtie_core::units::float::hypot;
use swingtie_core::units::{Length, PlanPoint};
use swingtie_tests::dice::Dice;
use swingtie_tests::taped::{Yard, read, written};

fn record(measurements: Vec<Measurement>) -> Record {
    let recorded = |(i, what)| Recorded {
        entry: EntryId(format!("e{i}")),
        author: AuthorId::from("me"),
        at_ms: 0,
        what,
    };
    Record { measurements: measurements.into_iter().enumerate().map(recorded).collect(), ..Record::default() }
}

fn tie(from: &str, to: &str, text: &str, left_of: Option<[&str; 2]>) -> Measurement {
    Measurement::Tie {
        from: from.into(),
        to: to.into(),
        reading: read(text),
        side: left_of.map(|[a, b]| SideOf { from: a.into(), to: b.into(), side: Side::Left }),
        taped_to: TapedTo::default(),
        how: How::default(),
    }
}

/// A rectangle of 40 by 30 ft with both diagonals (50 ft), every line taped twice.
fn rectangle() -> Vec<Measurement> {
    let mut all = Vec::new();
    for _ in 0..2 {
        all.extend(
            [("A", "B", "40' 0\""), ("B", "C", "30' 0\""), ("C", "D", "40' 0\""), ("D", "A", "30' 0\"")]
                .map(|(a, b, l)| tie(a, b, l, None)),
        );
        all.push(tie("A", "C", "50' 0\"", Some(["A", "B"])));
        all.push(tie("B", "D", "50' 0\"", Some(["A", "B"])));
    }
    all
}

fn next(record: &Record) -> (Adjustment, Vec<Advice>) {
    let adjustment = adjust(record);
    let list = advice(record, &adjustment, &Reach::default());
    (adjustment, list)
}

#[test]
fn when_all_is_checked_nothing_is_said() {
    let (adjustment, list) = next(&record(rectangle()));
    assert!(adjustment.points.values().all(|f| f.state == PointState::Checked), "{:?}", adjustment.points);
    assert_eq!(list, vec![]);
    assert_eq!(next(&Record::default()).1, vec![]);
}

/// A tree on one tie from C, drawn due east of it at 20 ft: a second tie fixes it best where it meets
/// the first at the squarest angle. A(0, 0), B(40, 0), C(40, 30), D(0, 30), T near (60, 30) in feet. At
/// T the tie from C comes along x; those from A, B and D at atan(30/60) = 27°, atan(30/20) = 56° and 0°.
#[test]
fn a_loose_tree_is_taped_from_where_the_ties_cross_best() {
    let mut taken = rectangle();
    taken.push(tie("C", "T", "20' 0\"", None));
    let mut record = record(taken);
    for (id, x, y) in
        [("A", 0.0, 0.0), ("B", 40.0, 0.0), ("C", 40.0, 30.0), ("D", 0.0, 30.0), ("T", 60.0, 30.0)]
    {
        record.sketch.insert(id.into(), PlanPoint { x: Length::from_feet(x), y: Length::from_feet(y) });
    }
    let (adjustment, list) = next(&record);
    assert_eq!(adjustment.points[&PointId::from("T")].state, PointState::Loose);
    let first = &list[0];
    assert_eq!((first.from.as_str(), first.to.as_str(), first.purpose), ("B", "T", Purpose::Fix));
    let fixed = Turned { point: "T".into(), from: PointState::Loose, to: PointState::Fixed };
    assert_eq!(first.turns, [fixed]);
    // √(20² + 30²) = 36.06 ft.
    assert!((first.length.feet() - 36.06).abs() < 0.1, "{:?}", first.length);
    // Taken, the tree is fixed; a third tie is advised to check it, and then no more.
    let (adjustment, list) = next(&with(&record, tie("B", "T", "36' 0 5/8\"", Some(["A", "C"])), false));
    assert_eq!(adjustment.points[&PointId::from("T")].state, PointState::Fixed);
    let checked = Turned { point: "T".into(), from: PointState::Fixed, to: PointState::Checked };
    assert_eq!((list[0].purpose, &list[0].turns), (Purpose::Check, &vec![checked]));
}

fn with(record: &Record, more: Measurement, right: bool) -> Record {
    let mut record = record.clone();
    let mut more = more;
    if let (Measurement::Tie { side: Some(side), .. }, true) = (&mut more, !right) {
        side.side = Side::Right;
    }
    let (entry, author) = (EntryId(format!("e{}", record.measurements.len())), AuthorId::from("me"));
    record.measurements.push(Recorded { entry, author, at_ms: 0, what: more });
    record
}

/// The covariance that the advice foretells is the one the adjustment then has.
#[test]
fn the_ellipse_foretold_is_the_ellipse_then() {
    let mut taken = rectangle();
    taken.push(tie("B", "P", "25' 0\"", None));
    taken.push(tie("C", "P", "25' 0\"", Some(["C", "B"])));
    let record = record(taken);
    let (adjustment, list) = next(&record);
    assert_eq!(adjustment.points[&PointId::from("P")].state, PointState::Fixed);
    let first = list.first().expect("P is not checked");
    assert_eq!(first.to.as_str(), "P");
    let far = |a: &PointId, b: &PointId| {
        let at = |p| adjustment.points[p].at.expect("placed");
        (at(a) - at(b)).length().metres()
    };
    let length = far(&first.from, &first.to);
    let exact = Measurement::Tie {
        from: first.from.clone(),
        to: first.to.clone(),
        reading: swingtie_core::record::Reading { text: String::new(), value: Length::from_metres(length) },
        side: None,
        taped_to: TapedTo::default(),
        how: How::default(),
    };
    let then = adjust(&with(&record, exact, true));
    let ellipse = then.points[&first.to].ellipse.expect("placed");
    for (a, b) in
        [(ellipse.semi_major, first.ellipse.semi_major), (ellipse.semi_minor, first.ellipse.semi_minor)]
    {
        assert!((a.metres() - b.metres()).abs() < 1e-6, "{a:?} {b:?}");
    }
    for turned in &first.turns {
        assert_eq!(then.points[&turned.point].state, turned.to);
    }
}

/// Trees all round a shed: without it some would be taped through where it stands, with it none.
#[test]
fn no_tape_is_sent_through_a_building() {
    // In feet; the shed's walls are x = 10, 30 and y = 8, 22. Everything tied by plane geometry.
    let corners = [("A", 0.0, 0.0), ("B", 40.0, 0.0), ("C", 40.0, 30.0), ("D", 0.0, 30.0)];
    let shed = [("S1", 10.0, 8.0), ("S2", 30.0, 8.0), ("S3", 30.0, 22.0), ("S4", 10.0, 22.0)];
    let at = |name: &str| corners.iter().chain(&shed).find(|(n, ..)| *n == name).map(|(_, x, y)| (*x, *y));
    let passes = |name: &str, (px, py): (f64, f64)| {
        let (x, y) = at(name).expect("a corner");
        let inside = |t: f64| {
            let (x, y) = (x + t * (px - x), y + t * (py - y));
            10.1 < x && x < 29.9 && 8.1 < y && y < 21.9
        };
        (1..1000).any(|i| inside(f64::from(i) / 1000.0))
    };
    let tied = |from: &str, to: &str, (x, y): (f64, f64)| {
        let (cx, cy) = at(from).expect("a corner");
        let feet = hypot(x - cx, y - cy);
        tie(from, to, &written(feet * 0.3048).text, None)
    };
    let mut through = 0;
    for (p, ties) in [
        ((20.0, -4.0), ["A", "B"]),
        ((20.0, 34.0), ["C", "D"]),
        ((-5.0, 15.0), ["A", "D"]),
        ((45.0, 15.0), ["B", "C"]),
        ((20.0, 5.0), ["A", "B"]),
    ] {
        let mut taken = rectangle();
        for (name, x, y) in shed {
            taken.extend(["A", "B", "C", "D"].iter().map(|from| tied(from, name, (x, y))));
        }
        let [a, b] = ties.map(|from| tied(from, "P", p));
        let Measurement::Tie { from, to, reading, taped_to, how, .. } = b else { panic!() };
        // Seen from the middle, by plane geometry: outside the rectangle or between shed and wall.
        let ((ax, ay), (bx, by)) = (at(ties[0]).expect("there"), at(ties[1]).expect("there"));
        let left = (bx - ax) * (p.1 - ay) - (by - ay) * (p.0 - ax) > 0.0;
        let side = if left { Side::Left } else { Side::Right };
        let side = Some(SideOf { from: ties[0].into(), to: ties[1].into(), side });
        taken.extend([a, Measurement::Tie { from, to, reading, side, taped_to, how }]);
        let open = record(taken);
        let mut built = open.clone();
        let what = Feature {
            kind: "outbuilding".into(),
            points: shed.iter().map(|(n, ..)| PointId::from(*n)).collect(),
            name: String::new(),
            fate: None,
            attributes: Default::default(),
            curved: false,
            told: false,
            note: String::new(),
        };
        built.features.push(Recorded { entry: "f".into(), author: "me".into(), at_ms: 0, what });
        let first =
            |record: &Record| next(record).1.first().expect("P is not checked").from.as_str().to_owned();
        through += u32::from(passes(&first(&open), p));
        assert!(!passes(&first(&built), p), "{p:?} from {}", first(&built));
    }
    assert!(through > 1, "{through}");
}

const fn rank(state: PointState) -> u8 {
    match state {
        PointState::Loose => 0,
        PointState::Fixed => 1,
        PointState::Checked | PointState::Disputed => 2,
    }
}

/// Yards with a third of the ties withheld: following the first advice each time, no point's state ever
/// gets worse, and in the end every point is checked.
#[test]
fn following_the_advice_never_harms_and_ends_with_all_checked() {
    let (mut steps, mut missing, mut complete) = (0, 0, 0);
    let yards = 12;
    for seed in 0..yards {
        let mut yard = Yard::new(100 + seed, 12, 6, 0.5);
        let mut dice = Dice::new(9, seed);
        let before = yard.taken.len();
        yard.taken.retain(|m| !matches!(m, Measurement::Tie { .. }) || dice.unit() > 0.35);
        missing += before - yard.taken.len();
        let sketch: Vec<(PointId, PlanPoint)> = yard
            .truth
            .iter()
            .map(|(id, (x, y))| {
                (id.clone(), PlanPoint::from_metres(x + dice.gauss(0.8), y + dice.gauss(0.8)))
            })
            .collect();
        let mut last: Option<Adjustment> = None;
        for _ in 0..80 {
            let mut record = yard.record();
            record.sketch = sketch.iter().cloned().collect();
            let (adjustment, list) = next(&record);
            if let Some(last) = last {
                for (id, fix) in &adjustment.points {
                    let was = last.points[id].state;
                    // A dispute is about a reading; when more readings end it, nothing has become worse.
                    assert!(
                        was == PointState::Disputed || rank(fix.state) >= rank(was),
                        "seed {seed}: {id} was {was:?}, is {:?}",
                        fix.state
                    );
                }
            }
            let Some(first) = list.first() else {
                let left: Vec<_> = adjustment.points.iter().filter(|(_, f)| rank(f.state) < 2).collect();
                println!("seed {seed}: left {left:?}");
                complete += usize::from(left.is_empty());
                break;
            };
            assert!(first.length.metres() < 35.0);
            let side = yard.side(&"H1".into(), &"H2".into(), &first.to);
            let (from, to) = (first.from.clone(), first.to.clone());
            yard.tie(&from, &to, Some(side));
            steps += 1;
            last = Some(adjustment);
        }
    }
    println!(
        "{yards} yards, {missing} ties withheld, {steps} advised and taken, {complete} yards all checked"
    );
    assert_eq!(complete, yards as usize);
}
