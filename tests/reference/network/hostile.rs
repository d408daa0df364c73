//! Whatever is recorded, the adjustment answers, with numbers only, and says the same twice.

use proptest::prelude::*;
use swingtie_core::network::{Adjustment, Finding, Freedom, PointState, Reach, adjust, advice, relative};
use swingtie_core::record::{
    AngleHow, AngleReading, AuthorId, EntryId, How, Leg, Measurement, NorthKind, OffsetRow, Point, PointId,
    Reading, Record, Recorded, Rotation, RunReading, Side, SideOf, Slope, Tape, TapedTo, Turn,
};
use swingtie_core::units::tape::{Celsius, Newtons};
use swingtie_core::units::{Angle, Length, PlanPoint};

fn record(measurements: Vec<Measurement>) -> Record {
    let recorded = |(i, what)| Recorded {
        entry: EntryId(format!("e{i}")),
        author: AuthorId::from("me"),
        at_ms: 0,
        what,
    };
    Record { measurements: measurements.into_iter().enumerate().map(recorded).collect(), ..Record::default() }
}

fn metres(value: f64) -> Reading {
    Reading { text: String::new(), value: Length::from_metres(value) }
}

fn tie(from: &str, to: &str, value: f64) -> Measurement {
    Measurement::Tie {
        from: from.into(),
        to: to.into(),
        reading: metres(value),
        side: None,
        taped_to: TapedTo::Middle,
        how: How::default(),
    }
}

fn on_side(from: &str, to: &str, value: f64, base: [&str; 2], side: Side) -> Measurement {
    let side = Some(SideOf { from: base[0].into(), to: base[1].into(), side });
    let (taped_to, how) = (TapedTo::Middle, How::default());
    Measurement::Tie { from: from.into(), to: to.into(), reading: metres(value), side, taped_to, how }
}

fn sane(result: &Adjustment) {
    assert!(result.chi_square.is_finite());
    for (id, fix) in &result.points {
        assert_eq!(fix.at.is_none(), fix.state == PointState::Loose, "{id}");
        assert_eq!(fix.at.is_none(), fix.freedom.is_some(), "{id}");
        assert_eq!(fix.at.is_some(), fix.ellipse.is_some(), "{id}");
        assert!(fix.at.is_none_or(PlanPoint::is_finite), "{id} {fix:?}");
        assert!(fix.guess.is_none_or(PlanPoint::is_finite), "{id} {fix:?}");
        if let Some(e) = fix.ellipse {
            assert!(
                e.semi_major.is_finite() && e.semi_minor.is_finite() && e.semi_minor <= e.semi_major,
                "{id} {e:?}"
            );
        }
    }
    // JSON has no infinity and no NaN: anything of the sort would come out as null where a number belongs.
    let text = serde_json::to_string(&result.readings).expect("json");
    assert!(!text.contains("{\"length\":null}") && !text.contains("{\"angle\":null}"), "{text}");
}

fn value() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => 0.1..30.0f64,
        1 => Just(0.0),
        2 => Just(10.0),
        1 => -5.0..5.0f64,
        1 => prop_oneof![
            Just(f64::NAN), Just(f64::INFINITY), Just(f64::NEG_INFINITY), Just(1e300), Just(-1e300), Just(1e-300)
        ],
    ]
}

fn point() -> impl Strategy<Value = PointId> {
    prop_oneof![Just("A"), Just("B"), Just("C"), Just("D"), Just("E"), Just("F"), Just("G")]
        .prop_map(PointId::from)
}

fn left_or_right() -> impl Strategy<Value = Side> {
    prop_oneof![Just(Side::Left), Just(Side::Right)]
}

fn said() -> impl Strategy<Value = SideOf> {
    (point(), point(), left_or_right()).prop_map(|(from, to, side)| SideOf { from, to, side })
}

fn turn() -> impl Strategy<Value = Option<Turn>> {
    prop_oneof![
        Just(None),
        Just(Some(Turn::Left)),
        Just(Some(Turn::Right)),
        Just(Some(Turn::Straight)),
        Just(Some(Turn::LeftNotSquare)),
    ]
}

fn taped_to() -> impl Strategy<Value = TapedTo> {
    prop_oneof![8 => Just(TapedTo::Middle), 1 => Just(TapedTo::NearSide), 1 => Just(TapedTo::FarSide)]
}

fn pair() -> impl Strategy<Value = [PointId; 2]> {
    (point(), point()).prop_map(|(a, b)| [a, b])
}

fn degrees() -> impl Strategy<Value = AngleReading> {
    let turns = prop_oneof![4 => 0.0..360.0f64, 1 => Just(0.0), 1 => Just(180.0), 1 => value()];
    turns.prop_map(|d| AngleReading { text: String::new(), value: Angle::from_degrees(d) })
}

fn angle_how() -> impl Strategy<Value = AngleHow> {
    let sd = prop_oneof![3 => Just(None), 1 => value().prop_map(|v| Some(Angle::from_radians(v)))];
    sd.prop_map(|sd| AngleHow { sd, ..AngleHow::default() })
}

/// Tapes and slopes with figures that can be and some that cannot.
fn how() -> impl Strategy<Value = How> {
    let maybe = || proptest::option::of(value());
    let tape = prop::collection::vec(maybe(), 12).prop_map(|v| {
        let at = |i: usize| v.get(i).copied().flatten();
        let metres = |i| at(i).map(Length::from_metres);
        Tape {
            marked: metres(0),
            true_length: metres(1),
            temperature: at(2).map(Celsius),
            standard_temperature: at(3).map(Celsius),
            expansion: at(4),
            pull: at(5).map(Newtons),
            standard_pull: at(6).map(Newtons),
            section: at(7),
            elasticity: at(8),
            weight: at(9),
            span: metres(10),
            supported: metres(11),
        }
    });
    let slope = prop_oneof![
        Just(Slope::Heights),
        value().prop_map(|v| Slope::RiseMetres(Length::from_metres(v))),
        value().prop_map(|v| Slope::AngleRadians(Angle::from_radians(v))),
    ];
    let lay = |(tape, slope)| How { tape: Some(Box::new(tape)), slope: Some(slope), ..How::default() };
    prop_oneof![5 => Just(How::default()), 1 => (tape, slope).prop_map(lay)]
}

fn measurement() -> impl Strategy<Value = Measurement> {
    prop_oneof![
        8 => (point(), point(), value(), proptest::option::of(said()), taped_to(), how()).prop_map(
            |(from, to, v, side, taped_to, how)| {
                Measurement::Tie { from, to, reading: metres(v), side, taped_to, how }
            }
        ),
        2 => (point(), point(), prop::collection::vec((point(), value()), 0..4), any::<bool>(), how()).prop_map(
            |(zero, toward, r, zero_unknown, how)| {
                let readings = r.into_iter().map(|(point, v)| RunReading { point, reading: metres(v) }).collect();
                Measurement::Run { zero, toward, readings, zero_unknown, how }
            }
        ),
        2 => (point(), point(), point(), degrees(), any::<bool>(), angle_how()).prop_map(
            |(at, from, to, reading, cw, how)| {
                let turn = if cw { Rotation::Clockwise } else { Rotation::CounterClockwise };
                Measurement::Angle { at, from, to, reading, turn, how }
            }
        ),
        3 => (point(), point(), degrees(), any::<bool>(), angle_how()).prop_map(|(from, to, reading, truly, how)| {
            let north = if truly { NorthKind::True } else { NorthKind::Magnetic };
            Measurement::Bearing { from, to, reading, north, how }
        }),
        1 => (pair(), pair(), proptest::option::of(value())).prop_map(|(one, other, t)| {
            Measurement::Parallel { one, other, tolerance: t.map(Angle::from_radians) }
        }),
        1 => (pair(), pair(), proptest::option::of(value())).prop_map(|(one, other, t)| {
            Measurement::SameLength { one, other, tolerance: t.map(Length::from_metres) }
        }),
        1 => (point(), value(), how())
            .prop_map(|(point, v, how)| Measurement::Girth { point, reading: metres(v), how }),
        1 => (point(), point(), value(), left_or_right())
            .prop_map(|(from, to, v, side)| Measurement::Arc { from, to, rise: metres(v), side }),
        1 => (point(), point(), point())
            .prop_map(|(from, through, to)| Measurement::ArcThrough { from, through, to }),
        2 => (point(), point(), prop::collection::vec((point(), value(), value(), left_or_right()), 0..3), how())
            .prop_map(|(from, to, rows, how)| {
                let row = |(point, s, o, side)| OffsetRow { point, station: metres(s), offset: metres(o), side };
                Measurement::Offsets { from, to, rows: rows.into_iter().map(row).collect(), how }
            }),
        2 => (point(), prop::collection::vec((turn(), point(), proptest::option::of(value())), 0..5), how())
            .prop_map(|(start, legs, how)| {
                let leg = |(turn, to, length): (_, _, Option<f64>)| Leg { turn, to, length: length.map(metres) };
                Measurement::Walk { start, legs: legs.into_iter().map(leg).collect(), how }
            }),
        1 => (point(), point(), point()).prop_map(|(at, from, to)| Measurement::Square { at, from, to }),
        1 => prop::collection::vec(point(), 0..4).prop_map(|points| Measurement::InLine { points }),
        1 => (point(), said()).prop_map(|(point, side)| Measurement::SideIs { point, side }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn anything_recorded_gets_an_answer(
        measurements in prop::collection::vec(measurement(), 0..24),
        drawn in prop::collection::vec((point(), value(), value()), 0..7),
    ) {
        let mut record = record(measurements);
        record.sketch = drawn.into_iter().map(|(p, x, y)| (p, PlanPoint::from_metres(x, y))).collect();
        let result = adjust(&record);
        sane(&result);
        // As text: what is not a number in the record stays so in what would correct it.
        prop_assert_eq!(format!("{result:?}"), format!("{:?}", adjust(&record)));
        for piece in advice(&record, &result, &Reach::default()) {
            let then = piece.ellipse.semi_major;
            prop_assert!(piece.length.is_finite() && then.is_finite() && then >= Length::ZERO, "{piece:?}");
        }
        for (a, b) in [("A", "B"), ("C", "D"), ("E", "E"), ("A", "nobody")] {
            let between = relative(&record, &result, &a.into(), &b.into());
            prop_assert!(!format!("{between:?}").contains("NaN"), "{between:?}");
        }
    }
}

#[test]
fn next_to_nothing_is_no_trouble() {
    sane(&adjust(&Record::default()));
    let point = Point { id: "A".into(), label: "A".into(), note: String::new() };
    let alone = adjust(&Record { points: vec![point], ..Record::default() });
    assert_eq!(alone.points[&PointId::from("A")].freedom, Some(Freedom::Unmeasured));
    let two = adjust(&record(vec![tie("A", "B", 3.0)]));
    sane(&two);
    assert_eq!(two.points[&PointId::from("B")].at, Some(PlanPoint::from_metres(3.0, 0.0)));
    sane(&adjust(&record(vec![tie("A", "A", 3.0), tie("A", "B", 0.0)])));
}

/// The 3-4-5 triangle: without a side the whole yard could be its mirror image, which is asked; with
/// one nothing is. (0, ±30) from A(0,0) r 30 and B(40,0) r 50 is plane geometry.
#[test]
fn a_yard_without_any_side_is_asked_about() {
    let triangle = |last: Measurement| adjust(&record(vec![tie("A", "B", 40.0), tie("A", "C", 30.0), last]));
    let open = triangle(tie("B", "C", 50.0));
    sane(&open);
    assert_eq!(open.questions.len(), 1);
    let question = &open.questions[0];
    assert_eq!((question.point.as_str(), question.assumed.side), ("C", Side::Left));
    assert!((question.other - PlanPoint::from_metres(0.0, -30.0)).length().metres() < 1e-9);
    assert!(
        (open.points[&PointId::from("C")].at.expect("fixed") - PlanPoint::from_metres(0.0, 30.0))
            .length()
            .metres()
            < 1e-9
    );
    assert!(!question.contradicted);
    let said = triangle(on_side("B", "C", 50.0, ["A", "B"], Side::Right));
    assert_eq!(said.questions, vec![]);
    assert!(
        (said.points[&PointId::from("C")].at.expect("fixed") - PlanPoint::from_metres(0.0, -30.0))
            .length()
            .metres()
            < 1e-9
    );
}

/// The same triangle where one reading says left and the other right: that it was said both ways is told with the
/// question, and one more word settles it.
#[test]
fn a_side_said_both_ways_is_asked_about_as_such() {
    let both = vec![
        tie("A", "B", 40.0),
        on_side("A", "C", 30.0, ["A", "B"], Side::Left),
        on_side("B", "C", 50.0, ["A", "B"], Side::Right),
    ];
    let open = adjust(&record(both.clone()));
    assert!(matches!(open.questions.as_slice(), [one] if one.contradicted), "{:?}", open.questions);
    let side = SideOf { from: "A".into(), to: "B".into(), side: Side::Right };
    let settled = adjust(&record([both, vec![Measurement::SideIs { point: "C".into(), side }]].concat()));
    assert_eq!(settled.questions, vec![]);
    assert!(settled.points[&PointId::from("C")].at.expect("fixed").metres().1 < 0.0);
}

/// Two-tie intersections, by the cosine law; left and right of A → B.
#[test]
fn two_ties_meet_where_geometry_says() {
    let length = 30.413812651491; // from (100, 100) to (130, 95)
    let at = |side| {
        let result = adjust(&record(vec![
            tie("A", "B", length),
            tie("A", "P", 22.36),
            on_side("B", "P", 19.42, ["A", "B"], side),
        ]));
        result.points[&PointId::from("P")].at.expect("fixed").metres()
    };
    // (119.335513417, 111.229760501) and (114.648266043, 83.106276256) in the frame of A(100,100), B(130,95):
    // along A→B and left of it.
    for (side, (x, y)) in
        [(Side::Left, (119.335513417, 111.229760501)), (Side::Right, (114.648266043, 83.106276256))]
    {
        let (dx, dy) = (x - 100.0, y - 100.0);
        let (ux, uy) = (30.0 / length, -5.0 / length);
        let got = at(side);
        assert!(
            (got.0 - (dx * ux + dy * uy)).abs() < 1e-8 && (got.1 - (dy * ux - dx * uy)).abs() < 1e-8,
            "{got:?}"
        );
    }
}

/// Baseline A(12, 8) → B(62, 33): stations and offsets carried out by plane geometry.
#[test]
fn offsets_land_where_geometry_says() {
    let length = 55.90169943749474;
    let row = |point: &str, s, o, side| OffsetRow {
        point: point.into(),
        station: metres(s),
        offset: metres(o),
        side,
    };
    let rows = vec![
        row("P", 10.0, 5.0, Side::Right),
        row("Q", 25.5, 3.25, Side::Left),
        row("R", 40.0, 12.4, Side::Right),
    ];
    let offsets = Measurement::Offsets { from: "A".into(), to: "B".into(), rows, how: How::default() };
    let result = adjust(&record(vec![tie("A", "B", length), offsets]));
    sane(&result);
    for (p, x, y) in
        [("P", 23.180339887, 8.0), ("Q", 33.354449185, 22.310835056), ("R", 53.322536224, 14.797646652)]
    {
        let (dx, dy) = (x - 12.0, y - 8.0);
        let (ux, uy) = (50.0 / length, 25.0 / length);
        let got = result.points[&PointId::from(p)].at.expect("fixed").metres();
        assert!(
            (got.0 - (dx * ux + dy * uy)).abs() < 1e-8 && (got.1 - (dy * ux - dx * uy)).abs() < 1e-8,
            "{p} {got:?}"
        );
    }
}

#[test]
fn ties_that_do_not_meet_are_named() {
    let result = adjust(&record(vec![tie("A", "B", 20.0), tie("A", "C", 5.0), tie("B", "C", 6.0)]));
    sane(&result);
    let named = result.findings.iter().any(|f| matches!(f, Finding::Impossible { point, entries } if point.as_str() == "C" && entries.len() == 2));
    assert!(named, "{:?}", result.findings);
    assert_eq!(result.points[&PointId::from("C")].state, PointState::Loose);
}

/// A loose tree, and a bush tied to the loose tree, leave the rest alone.
#[test]
fn what_hangs_on_a_loose_point_is_loose_with_it() {
    let square =
        vec![tie("A", "B", 10.0), tie("A", "C", 8.0), on_side("B", "C", 8.0, ["A", "B"], Side::Left)];
    let plain = adjust(&record(square.clone()));
    let mut more = square;
    more.extend([tie("C", "T", 4.0), tie("T", "U", 2.0)]);
    let result = adjust(&record(more));
    sane(&result);
    for id in ["A", "B", "C"] {
        assert_eq!(plain.points[&PointId::from(id)], result.points[&PointId::from(id)]);
    }
    let free = |id: &str| result.points[&PointId::from(id)].freedom.clone();
    assert!(matches!(free("T"), Some(Freedom::OnCircle { centre, .. }) if centre.as_str() == "C"));
    assert_eq!(free("U"), Some(Freedom::WithOthers { others: vec!["T".into()] }));
}

/// A garage walked round, each corner tied once to the house: no point of it can be placed alone, yet
/// four ties fix its shift and turn. Lengths from the coordinates below.
#[test]
fn a_group_hanging_on_single_ties_is_carried_over() {
    let at = |name: &str| match name {
        "A" => (0.0, 0.0),
        "B" => (12.0, 0.0),
        "C" => (12.0, 8.0),
        "D" => (0.0, 8.0),
        "G" => (18.0, 3.0),
        "H" => (24.0, 4.0),
        "I" => (23.0, 10.0),
        _ => (17.0, 9.0),
    };
    let far = |a: &str, b: &str| {
        let (p, q) = (at(a), at(b));
        swingtie_core::units::float::hypot(p.0 - q.0, p.1 - q.1)
    };
    let walk = |names: [&str; 4]| {
        let leg = |i: usize| Leg {
            turn: (i > 0).then_some(Turn::Left),
            to: names[(i + 1) % 4].into(),
            length: Some(metres(far(names[i], names[(i + 1) % 4]))),
        };
        Measurement::Walk { start: names[0].into(), legs: (0..4).map(leg).collect(), how: How::default() }
    };
    let single = |a: &str, b: &str| tie(a, b, far(a, b));
    let result = adjust(&record(vec![
        walk(["A", "B", "C", "D"]),
        walk(["G", "H", "I", "J"]),
        single("A", "G"),
        single("B", "H"),
        single("C", "I"),
        single("D", "J"),
    ]));
    sane(&result);
    for (id, fix) in &result.points {
        let got = fix.at.unwrap_or_else(|| panic!("{id} is loose")).metres();
        let want = at(id.as_str());
        assert!(
            (got.0 - want.0).abs() < 1e-6 && (got.1 - want.1).abs() < 1e-6,
            "{id}: {got:?}, not {want:?}"
        );
    }
}
