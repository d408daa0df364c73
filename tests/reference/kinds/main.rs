//! Angles, bearings, floating runs, parallels, equal lengths and trunks, as the whole adjustment takes them.

mod slopes;

use proptest::prelude::*;
use serde::Deserialize;
use std::collections::BTreeMap;
use swingtie_core::network::kernel::{Equation, Shape};
use swingtie_core::network::{
    AdjustedReading, Adjustment, Finding, PointState, Quantity, ReadingRole, adjust,
};
use swingtie_core::record::{
    AngleHow, AngleReading, AuthorId, EntryId, How, Measurement, North, NorthKind, PointId, Reading, Record,
    Recorded, Rotation, RunReading, Side, SideOf, TapedTo,
};
use swingtie_core::units::{Angle, BareUnit, Length};

fn record(measurements: Vec<Measurement>) -> Record {
    let said = |(i, what)| Recorded {
        entry: EntryId(format!("e{i}")),
        author: AuthorId::from("me"),
        at_ms: 0,
        what,
    };
    Record { measurements: measurements.into_iter().enumerate().map(said).collect(), ..Record::default() }
}

fn metres(value: f64) -> Reading {
    Reading { text: String::new(), value: Length::from_metres(value) }
}

fn tie(from: &str, to: &str, value: f64) -> Measurement {
    let (side, taped_to, how) = (None, TapedTo::Middle, How::default());
    Measurement::Tie { from: from.into(), to: to.into(), reading: metres(value), side, taped_to, how }
}

fn sided(from: &str, to: &str, value: f64, base: [&str; 2], side: Side) -> Measurement {
    let side = Some(SideOf { from: base[0].into(), to: base[1].into(), side });
    let (taped_to, how) = (TapedTo::Middle, How::default());
    Measurement::Tie { from: from.into(), to: to.into(), reading: metres(value), side, taped_to, how }
}

fn angle(at: &str, from: &str, to: &str, degrees: &str, turn: Rotation) -> Measurement {
    let (at, from, to) = (at.into(), from.into(), to.into());
    let reading = AngleReading::read(degrees).expect("an angle");
    Measurement::Angle { at, from, to, reading, turn, how: AngleHow::default() }
}

fn bearing(from: &str, to: &str, text: &str) -> Measurement {
    let (from, to, north) = (from.into(), to.into(), NorthKind::Magnetic);
    let reading = AngleReading::bearing(text).expect("a bearing");
    Measurement::Bearing { from, to, reading, north, how: AngleHow::default() }
}

fn place(result: &Adjustment, id: &str) -> (f64, f64) {
    let fix = &result.points[&PointId::from(id)];
    fix.at.unwrap_or_else(|| panic!("{id} is loose: {fix:?}, {:?}", result.findings)).metres()
}

fn stands(result: &Adjustment, id: &str, want: (f64, f64), within: f64) {
    let got = place(result, id);
    let near = (got.0 - want.0).abs() < within && (got.1 - want.1).abs() < within;
    assert!(near, "{id} stands at {got:?}, not {want:?}");
}

fn number(quantity: Quantity) -> f64 {
    match quantity {
        Quantity::Length(length) => length.metres(),
        Quantity::Angle(angle) => angle.radians(),
    }
}

#[derive(Deserialize)]
struct Yard {
    declination: f64,
    measurements: Vec<Measurement>,
    places: BTreeMap<PointId, [f64; 2]>,
    north: f64,
    north_sd: f64,
    chi_square: f64,
    residuals: Vec<f64>,
    redundancy: Vec<f64>,
}

/// Every kind in one yard, from first positions to redundancy numbers: `yard.json`, made by `solve.py` with
/// scipy.optimize.least_squares.
#[test]
fn a_yard_of_all_kinds_agrees_with_scipy() {
    let yard: Yard = serde_json::from_str(include_str!("yard.json")).expect("yard.json");
    let mut record = record(yard.measurements);
    record.north = Some(North {
        from: "A".into(),
        to: "B".into(),
        bearing: Angle::ZERO,
        kind: NorthKind::Magnetic,
        declination: Some(Angle::from_radians(yard.declination)),
        source: String::new(),
        sd: None,
    });
    let result = adjust(&record);
    assert_eq!(result.held, Some(("A".into(), "B".into())));
    for (id, [x, y]) in &yard.places {
        stands(&result, id.as_str(), (*x, *y), 1e-6);
    }
    let same = |what: &str, got: f64, want: f64, unit: f64| {
        let off = (got - want).abs() / want.abs().max(unit);
        assert!(off < 1e-6, "{what}: {got}, not {want}");
    };
    same("chi-square", result.chi_square, yard.chi_square, 1e-3);
    assert_eq!(result.readings.len(), yard.residuals.len());
    assert_eq!(result.redundancy, yard.residuals.len() - 15);
    let wanted = yard.residuals.iter().zip(&yard.redundancy);
    for (r, (residual, redundancy)) in result.readings.iter().zip(wanted) {
        let what = format!("{:?} {:?}", r.role, r.points);
        same(&what, number(r.residual.expect("solved")), *residual, number(r.sd));
        same(&what, r.redundancy.expect("solved"), *redundancy, 1.0);
    }
    let [north] = result.norths.as_slice() else { panic!("{:?}", result.norths) };
    assert_eq!(north.kind, NorthKind::Magnetic, "the true bearing joins by the declination");
    same("north", north.direction.radians(), yard.north, 1.0);
    same("north's sd", north.sd.radians(), yard.north_sd, 1e-3);
}

/// Sides 31.25 and 48, opposite 27.5: the angle between them is 32.707771176° by the law of cosines.
#[test]
fn an_angle_and_a_tie_place_a_point_on_the_side_turned_to() {
    let (x, y) = (26.294_921_875, 16.886_076_619);
    for (turn, y) in [(Rotation::CounterClockwise, y), (Rotation::Clockwise, -y)] {
        let turned = angle("A", "B", "P", "32.707771176", turn);
        let result = adjust(&record(vec![tie("A", "B", 48.0), tie("A", "P", 31.25), turned]));
        stands(&result, "P", (x, y), 1e-7);
        assert_eq!(result.questions, [], "the angle tells the side");
        let third = result.readings.iter().find(|r| r.role == ReadingRole::Angle).expect("the angle");
        let redundancy = third.redundancy.expect("solved");
        assert!(redundancy < 1e-9, "nothing checks it: {redundancy}");
    }
}

/// The same triangle: from P the line A to B is seen under 109.410092489°, P left of it (so from B counter-
/// clockwise to A it is 360° less that).
#[test]
fn an_angle_read_at_the_new_point_places_it() {
    for (turn, from, to) in [(Rotation::CounterClockwise, "A", "B"), (Rotation::Clockwise, "B", "A")] {
        let turned = angle("P", from, to, "109.410092489", turn);
        let result = adjust(&record(vec![tie("A", "B", 48.0), tie("A", "P", 31.25), turned]));
        stands(&result, "P", (26.294_921_875, 16.886_076_619), 1e-6);
    }
}

/// Two directions meet where plane geometry says: (30, 40) from (0, 0) and (50, 0).
#[test]
fn two_angles_place_a_point_without_any_tape() {
    let (a, b) = ("53.13010235415598", "63.43494882292201");
    let result = adjust(&record(vec![
        tie("A", "B", 50.0),
        angle("A", "B", "P", a, Rotation::CounterClockwise),
        angle("B", "A", "P", b, Rotation::Clockwise),
    ]));
    stands(&result, "P", (30.0, 40.0), 1e-6);
}

/// J. Mahun, Open Access Surveying Library, "Traverse computations", figure I-5: a loop by bearings and feet,
/// misclosure 0.111 ft. The compass rule is the least-squares solution when a course is as uncertain along as
/// across, each by the root of its length: so its printed adjusted courses must come out, A to B 472.72 ft
/// S 68°05'27" W, B to C 216.12 ft N 19°46'15" W (unrounded 472.715026, 248.090972663°, 216.121550,
/// 340.229168298°), to the square of the misclosure.
#[test]
fn a_loop_by_bearings_closes_as_the_compass_rule_says() {
    let courses = [
        ("A", "B", "S 68° 05' 35\" W", 472.68),
        ("B", "C", "N 19-46-00 W", 216.13),
        ("C", "D", "N 45-55-20 E", 276.52),
        ("D", "A", "S 54-59-15 E", 382.24),
    ];
    let mut all = Vec::new();
    for (from, to, text, feet) in courses {
        let sd = 1e-3 * f64::sqrt_of(feet);
        let how = AngleHow { sd: Some(Angle::from_radians(sd / feet)), ..AngleHow::default() };
        let Measurement::Bearing { from, to, reading, north, .. } = bearing(from, to, text) else { continue };
        all.push(Measurement::Bearing { from: from.clone(), to: to.clone(), reading, north, how });
        let reading = Reading::read(&format!("{feet} ft"), BareUnit::Feet).expect("feet");
        let how = How { sd: Some(Length::from_feet(sd)), ..How::default() };
        all.push(Measurement::Tie { from, to, reading, side: None, taped_to: TapedTo::Middle, how });
    }
    let result = adjust(&record(all));
    assert_eq!(result.redundancy, 2, "the loop closes in two coordinates");
    let adjusted = |i: usize| match result.readings[i].adjusted.expect("solved") {
        Quantity::Length(length) => length.feet(),
        Quantity::Angle(angle) => angle.degrees(),
    };
    let wanted = [248.090_972_663, 472.715_026, 340.229_168_298, 216.121_550];
    for (i, want) in wanted.into_iter().enumerate() {
        assert!((adjusted(i) - want).abs() < 1e-4, "{}, not {want}", adjusted(i));
    }
}

trait SqrtOf {
    fn sqrt_of(self) -> f64;
}

impl SqrtOf for f64 {
    fn sqrt_of(self) -> f64 {
        swingtie_core::units::float::sqrt(self)
    }
}

/// One bearing only sets north; from the second on they place points. By plane geometry: north along −y + x …
/// of A(0, 0), B(50, 0), with B due east of A, P(30, 40) bears atan2(30, 40) = 36.86989764584402° from A and
/// 333.43494882292201° from B.
#[test]
fn bearings_share_one_north() {
    let base = vec![tie("A", "B", 50.0), bearing("A", "B", "90")];
    let mut one = base.clone();
    one.push(bearing("A", "P", "36.86989764584402"));
    let result = adjust(&record(one.clone()));
    assert_eq!(result.points[&PointId::from("P")].state, PointState::Loose);
    one.push(bearing("B", "P", "333.43494882292201"));
    let result = adjust(&record(one));
    stands(&result, "P", (30.0, 40.0), 1e-6);
    assert!((result.norths[0].direction.degrees() - 90.0).abs() < 1e-9);
    // Without the bearing along the base nothing says where north is.
    let lost = adjust(&record(vec![
        base[0].clone(),
        bearing("A", "P", "36.86989764584402"),
        bearing("B", "P", "333.43494882292201"),
    ]));
    assert_eq!(lost.points[&PointId::from("P")].state, PointState::Loose);
    assert_eq!(lost.norths, []);
}

fn sd(degrees: f64, m: Measurement) -> Measurement {
    let Measurement::Bearing { from, to, reading, north, .. } = m else { return m };
    let how = AngleHow { sd: Some(Angle::from_degrees(degrees)), ..AngleHow::default() };
    Measurement::Bearing { from, to, reading, north, how }
}

/// A published open traverse (ques10.com/p/29407): D and E are free of local attraction, bearings at B are
/// 0°40' too large, at C 1°22' too small, A is free too. Its fore and back bearings as printed.
#[test]
fn local_attraction_is_named_with_its_size() {
    let read = [
        ("A", "B", "44-40", "225-20"),
        ("B", "C", "96-20", "274-18"),
        ("C", "D", "30-40", "212-02"),
        ("D", "E", "320-12", "140-12"),
    ];
    let both = |(a, b, fore, back): &(&str, &str, &str, &str)| [bearing(a, b, fore), bearing(b, a, back)];
    let all = read.iter().flat_map(both).map(|m| sd(0.1, m)).collect();
    let found: Vec<(String, f64)> = adjust(&record(all))
        .findings
        .iter()
        .filter_map(|f| match f {
            Finding::LocalAttraction { at, by, .. } => Some((at[0].as_str().to_owned(), by.degrees())),
            _ => None,
        })
        .collect();
    let want = [("B", 40.0 / 60.0), ("C", -82.0 / 60.0)];
    assert_eq!(found.len(), 2, "{found:?}");
    for ((at, by), (station, error)) in found.iter().zip(want) {
        assert!(at == station && (by - error).abs() < 1e-9, "{found:?}");
    }
}

/// Where no line agrees both ends are named; where there is no back bearing the tapes tell.
#[test]
fn a_needle_off_the_tapes_is_named() {
    let pair = adjust(&record(vec![bearing("A", "B", "10"), bearing("B", "A", "200")]));
    let both = |f: &Finding| matches!(f, Finding::LocalAttraction { at, .. } if at.len() == 2);
    assert!(pair.findings.iter().any(both), "{:?}", pair.findings);
    let mut square = vec![tie("A", "B", 30.0), tie("A", "C", 50.0), tie("B", "D", 50.0), tie("A", "D", 40.0)];
    square.extend([sided("B", "C", 40.0, ["A", "B"], Side::Left), tie("C", "D", 30.0)]);
    // A(0, 0), B(30, 0), C(30, 40), D(0, 40), north along y.
    square.extend([
        bearing("A", "B", "90"),
        bearing("B", "C", "0"),
        bearing("C", "D", "270"),
        bearing("A", "D", "0"),
    ]);
    let named = |all: &[Measurement]| {
        let result = adjust(&record(all.to_vec()));
        let at = |f: &Finding| match f {
            Finding::LocalAttraction { at, by, .. } => Some((at.clone(), by.degrees().round())),
            _ => None,
        };
        result.findings.iter().filter_map(at).collect::<Vec<_>>()
    };
    assert_eq!(named(&square), []);
    square.push(bearing("D", "B", "155.13010235415598"));
    // It should read 143.13°; the needle is 12° off, of which the five bearings' mean takes its share.
    let found = named(&square);
    assert!(
        matches!(found.as_slice(), [(at, by)] if at[0].as_str() == "D" && (10.0..=12.0).contains(by)),
        "{found:?}"
    );
}

fn run(readings: &[(&str, f64)], zero_unknown: bool) -> Measurement {
    let readings =
        readings.iter().map(|(p, v)| RunReading { point: (*p).into(), reading: metres(*v) }).collect();
    Measurement::Run { zero: "A".into(), toward: "B".into(), readings, zero_unknown, how: How::default() }
}

/// A tape hooked 0.417 before A: only differences count, so any other hook gives the same plan, and a misread
/// zero is not a contradiction but one more unknown.
#[test]
fn a_run_hooked_anywhere_gives_its_differences() {
    let hooked = |at: f64| {
        adjust(&record(vec![
            tie("A", "B", 20.0),
            run(&[("P", at + 5.0), ("Q", at + 12.5), ("B", at + 20.0)], true),
            tie("A", "R", 8.0),
            sided("P", "R", 6.0, ["A", "B"], Side::Left),
        ]))
    };
    let (one, other) = (hooked(0.417), hooked(-3.0));
    for (id, x) in [("P", 5.0), ("Q", 12.5), ("B", 20.0)] {
        stands(&one, id, (x, 0.0), 1e-9);
    }
    // R by the law of cosines in the triangle A, P, R with sides 5, 8, 6.
    stands(&one, "R", (5.3, 5.992_495_306), 1e-8);
    for (a, b) in one.points.values().zip(other.points.values()) {
        let gap = a.at.expect("fixed").distance(b.at.expect("fixed")).metres();
        assert!(gap < 1e-9, "{gap}");
    }
    let redundancy = |r: &&AdjustedReading| r.role == ReadingRole::Run;
    let spare: f64 = one.readings.iter().filter(redundancy).filter_map(|r| r.redundancy).sum();
    assert!(spare < 1e-9, "three readings, two points and the zero leave none to spare: {spare}");
    // Laid out without a tie along the wall: the differences hold it together all the same.
    let alone = adjust(&record(vec![run(&[("A", 1.0), ("P", 6.0), ("B", 21.0)], true)]));
    stands(&alone, "P", (5.0, 0.0), 1e-9);
    stands(&alone, "B", (20.0, 0.0), 1e-9);
}

/// The same reading taken from a zero that was held there is a contradiction.
#[test]
fn a_run_from_its_zero_does_not_float() {
    let result = adjust(&record(vec![tie("A", "B", 20.0), run(&[("P", 5.417), ("B", 20.417)], false)]));
    assert!(result.chi_square > 100.0, "{}", result.chi_square);
    let floating = adjust(&record(vec![tie("A", "B", 20.0), run(&[("P", 5.417), ("B", 20.417)], true)]));
    assert!(floating.chi_square < 1e-12, "{}", floating.chi_square);
}

/// A(0, 0), B(20, 0), C(20, 8); D stands on the parallel to A–B through C, 15 from it, and back to A.
#[test]
fn parallels_and_equal_lengths_place_points() {
    let frame = vec![
        tie("A", "B", 20.0),
        tie("A", "C", 21.540_659_228_538_016),
        sided("B", "C", 8.0, ["A", "B"], Side::Left),
    ];
    let pair = |a: &str, b: &str| [PointId::from(a), PointId::from(b)];
    let parallel = |one, other| Measurement::Parallel { one, other, tolerance: None };
    let same = |one, other| Measurement::SameLength { one, other, tolerance: None };
    let mut by_parallel = frame.clone();
    by_parallel.push(parallel(pair("A", "B"), pair("D", "C")));
    by_parallel.push(sided("C", "D", 15.0, ["B", "C"], Side::Left));
    stands(&adjust(&record(by_parallel)), "D", (5.0, 8.0), 1e-7);
    // A parallelogram over A(0, 0), B(20, 0), C(24, 8): by its sides' directions, and by a tie and a length.
    let side = SideOf { from: "A".into(), to: "C".into(), side: Side::Left };
    let mut frame = vec![tie("A", "B", 20.0), tie("A", "C", 25.298_221_281_347_036)];
    frame.push(sided("B", "C", 8.944_271_909_999_16, ["A", "B"], Side::Left));
    let mut slanted = frame.clone();
    slanted.push(parallel(pair("C", "D"), pair("A", "B")));
    slanted.push(parallel(pair("B", "C"), pair("A", "D")));
    stands(&adjust(&record(slanted.clone())), "D", (4.0, 8.0), 1e-7);
    frame.push(same(pair("A", "D"), pair("C", "B")));
    frame.extend([tie("C", "D", 20.0), Measurement::SideIs { point: "D".into(), side }]);
    frame.push(parallel(pair("C", "D"), pair("A", "B")));
    let result = adjust(&record(frame));
    stands(&result, "D", (4.0, 8.0), 1e-7);
    let roles: Vec<ReadingRole> = result.readings.iter().map(|r| r.role).collect();
    assert!(roles.contains(&ReadingRole::Parallel) && roles.contains(&ReadingRole::SameLength));
}

/// Taped to the near bark of a trunk of 1.2 m round: its middle stands 0.19098593171 m further (1.2/2π).
/// On a rectangle, taped all round with both diagonals, two sides that meet the others square are said to be
/// parallel to them: what the others say is a right angle (Euclid), not its sine.
#[test]
fn a_parallel_that_stands_square_is_told_by_its_angle() {
    let side = |to: &str, value| sided("A", to, value, ["A", "B"], Side::Left);
    let mut said = vec![tie("A", "B", 8.0), side("C", 10.0), tie("B", "C", 6.0), side("D", 6.0)];
    said.extend([tie("C", "D", 8.0), tie("B", "D", 10.0)]);
    let (one, other) = (["A".into(), "B".into()], ["B".into(), "C".into()]);
    said.push(Measurement::Parallel { one, other, tolerance: None });
    let result = adjust(&record(said));
    let suspects = result.findings.iter().filter_map(|finding| match finding {
        Finding::Suspect { doubt, .. } if doubt.role == ReadingRole::Parallel => Some(doubt.expected),
        _ => None,
    });
    let off: Vec<f64> = suspects.map(|expected| number(expected).abs().to_degrees()).collect();
    assert!(matches!(off.as_slice(), [off] if (off - 90.0).abs() < 1.0), "{off:?} {:?}", result.findings);
}

#[test]
fn ties_to_the_bark_reach_the_middle() {
    let to_bark = |m: Measurement, face| match m {
        Measurement::Tie { from, to, reading, side, how, .. } => {
            Measurement::Tie { from, to, reading, side, taped_to: face, how }
        }
        other => other,
    };
    let half = 0.190_985_931_710_274;
    let mut all = vec![
        tie("A", "B", 40.0),
        to_bark(tie("A", "T", 30.0 - half), TapedTo::NearSide),
        to_bark(sided("B", "T", 50.0 + half, ["A", "B"], Side::Left), TapedTo::FarSide),
    ];
    let unknown = adjust(&record(all.clone()));
    let told = |f: &&Finding| matches!(f, Finding::ThicknessUnknown { point, .. } if point.as_str() == "T");
    assert_eq!(unknown.findings.iter().filter(told).count(), 2, "{:?}", unknown.findings);
    all.push(Measurement::Girth { point: "T".into(), reading: metres(1.2), how: How::default() });
    let result = adjust(&record(all));
    stands(&result, "T", (0.0, 30.0), 1e-9);
    assert_eq!(result.findings, []);
}

/// A reading trusted to a tenth of a millimetre holds a point as well as any.
#[test]
fn fine_readings_leave_nothing_loose() {
    let fine = |m: Measurement| match m {
        Measurement::Tie { from, to, reading, side, taped_to, .. } => {
            let how = How { sd: Some(Length::from_millimetres(0.05)), ..How::default() };
            Measurement::Tie { from, to, reading, side, taped_to, how }
        }
        other => other,
    };
    let all = [tie("A", "B", 40.0), tie("A", "C", 30.0), sided("B", "C", 50.0, ["A", "B"], Side::Left)];
    let result = adjust(&record(all.into_iter().map(fine).collect()));
    stands(&result, "B", (40.0, 0.0), 1e-9);
    stands(&result, "C", (0.0, 30.0), 1e-9);
}

/// Coordinates of five nodes: near each other, in one place, on a line, and as far as numbers go.
fn nodes() -> impl Strategy<Value = Vec<[f64; 2]>> {
    let number = prop_oneof![
        6 => -30.0..30.0f64,
        1 => Just(0.0),
        1 => Just(1e-12),
        1 => prop_oneof![Just(1e150), Just(-1e150), Just(1e-300)],
    ];
    prop::collection::vec((number.clone(), number).prop_map(|(x, y)| [x, y]), 5)
}

fn shape() -> impl Strategy<Value = Shape> {
    // The last node is the shared number, the others may be the same.
    (0..4u32, 0..4u32, 0..4u32, 0..4u32, 0..4usize).prop_map(|(a, b, c, d, kind)| match kind {
        0 => Shape::Bearing { a, b, north: 4 },
        1 => Shape::Shifted { a, b, p: c, zero: 4 },
        2 => Shape::Parallel { a, b, c, d },
        _ => Shape::Difference { a, b, c, d },
    })
}

proptest! {
    /// Whatever the places, an equation gives numbers; where its lines have a length, its derivative is the
    /// function's (central differences).
    #[test]
    fn equations_give_numbers_and_their_own_derivatives(x in nodes(), shape in shape()) {
        let e = Equation { shape, value: 0.1, sd: 1.0 };
        let row = e.at(&x);
        prop_assert!(row.misclosure.is_finite() && row.gradient.iter().flatten().all(|g| g.is_finite()), "{row:?}");
        let far = |p: u32, q: u32| {
            let ([a, b], [c, d]) = (x[p as usize], x[q as usize]);
            (a - c).abs().max((b - d).abs())
        };
        let [a, b, c, d] = e.points();
        let mut lines = vec![far(a, b)];
        if matches!(shape, Shape::Parallel { .. } | Shape::Difference { .. }) {
            lines.push(far(c, d));
        }
        let tame = lines.iter().all(|l| *l > 0.5) && x.iter().flatten().all(|v| v.abs() < 100.0);
        if !tame || row.misclosure.abs() > 3.1 && matches!(shape, Shape::Bearing { .. }) {
            return Ok(());
        }
        for (slot, p) in e.points().into_iter().take(e.count()).enumerate() {
            for axis in 0..2 {
                let moved = |by: f64| {
                    let mut x = x.clone();
                    x[p as usize][axis] += by;
                    e.at(&x).misclosure
                };
                let again = e.points()[..slot].contains(&p);
                let slope = if again { 0.0 } else { (moved(1e-6) - moved(-1e-6)) / 2e-6 };
                prop_assert!((row.gradient[slot][axis] - slope).abs() < 1e-5 * slope.abs().max(1.0), "{slot} {axis}: {} {slope}", row.gradient[slot][axis]);
            }
        }
    }
}
