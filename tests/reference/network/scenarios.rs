//! The two invented yards, from readings to places, judged against the coordinates they were made from.

use std::collections::BTreeMap;
use swingtie_core::book::fold;
use swingtie_core::network::{Adjustment, Correction, Finding, Freedom, PointState, Quantity, Slip, adjust};
use swingtie_core::record::{PointId, Reading};
use swingtie_core::units::float::{cos, hypot, sin, sqrt};
use swingtie_core::units::{Length, PlanPoint};
use swingtie_tests::scenario::{Options, Scenario, Sketch, scenario};

const FOOT: f64 = 0.3048;

fn solve(yard: &Scenario, options: &Options) -> Adjustment {
    adjust(&fold(&yard.book(options)).record)
}

fn struck() -> Options {
    Options { strike: vec!["M056".into()], ..Options::default() }
}

/// Distances in metres from the truth after the turn and shift (no mirroring, no scale) that fit best.
fn errors_after_fit(result: &Adjustment, truth: &BTreeMap<PointId, PlanPoint>) -> Vec<(PointId, f64)> {
    let ids: Vec<&PointId> =
        result.points.iter().filter(|(_, fix)| fix.at.is_some()).map(|(id, _)| id).collect();
    let here = centred(ids.iter().filter_map(|id| result.points.get(*id).and_then(|fix| fix.at)));
    let there = centred(ids.iter().filter_map(|id| truth.get(*id).copied()));
    assert_eq!(here.len(), there.len(), "a point that was never in the yard");
    let (mut c, mut s) = (0.0, 0.0);
    for ([ax, ay], [tx, ty]) in here.iter().zip(&there) {
        c += ax * tx + ay * ty;
        s += ax * ty - ay * tx;
    }
    let size = hypot(c, s);
    let (c, s) = (c / size, s / size);
    let error =
        |([ax, ay], [tx, ty]): (&[f64; 2], &[f64; 2])| hypot(c * ax - s * ay - tx, s * ax + c * ay - ty);
    ids.into_iter().cloned().zip(here.iter().zip(&there).map(error)).collect()
}

fn centred(places: impl Iterator<Item = PlanPoint>) -> Vec<[f64; 2]> {
    let places: Vec<(f64, f64)> = places.map(PlanPoint::metres).collect();
    let n = places.len() as f64;
    let (x, y) = places.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.0 / n, sum.1 + p.1 / n));
    places.iter().map(|p| [p.0 - x, p.1 - y]).collect()
}

fn check_fit(name: &str, yard: &Scenario, result: &Adjustment) {
    let errors = errors_after_fit(result, &yard.truth());
    let rms = sqrt(errors.iter().map(|(_, e)| e * e).sum::<f64>() / errors.len() as f64) / FOOT;
    let worst = errors.iter().max_by(|a, b| a.1.total_cmp(&b.1)).expect("points");
    println!(
        "{name}: {} points, rms {rms:.4} ft, worst {} {:.4} ft, chi2 {:.3}, spare {}, variance factor {:?}",
        errors.len(),
        worst.0,
        worst.1 / FOOT,
        result.chi_square,
        result.redundancy,
        result.variance_factor
    );
    assert!(rms <= 0.15, "{name}: rms {rms} ft");
    assert!(worst.1 / FOOT <= 0.5, "{name}: {} is {} ft off", worst.0, worst.1 / FOOT);
}

#[test]
fn scenario_1_is_right_and_only_t4_is_loose() {
    let yard = scenario(1);
    let result = solve(&yard, &Options::default());
    let loose: Vec<&str> = result
        .points
        .iter()
        .filter(|(_, f)| f.state == PointState::Loose)
        .map(|(id, _)| id.as_str())
        .collect();
    assert_eq!(loose, ["T4"]);
    let t4 = &result.points[&PointId::from("T4")];
    assert!(matches!(&t4.freedom, Some(Freedom::OnCircle { centre, .. }) if centre.as_str() == "H6"));
    assert!(t4.at.is_none() && t4.guess.is_some());
    check_fit("scenario 1", &yard, &result);
    assert_eq!(result.questions, vec![]);
    assert_eq!(result.findings, vec![]);
    assert_eq!(result.held, Some(("H1".into(), "H2".into())));
}

#[test]
fn scenario_2_is_right_with_the_misread_struck() {
    let yard = scenario(2);
    let result = solve(&yard, &struck());
    assert!(result.points.values().all(|f| f.state != PointState::Loose));
    check_fit("scenario 2, struck", &yard, &result);
    assert_eq!(result.questions, vec![]);
    assert_eq!(result.findings, vec![]);
}

#[test]
fn scenario_2_points_at_the_misread() {
    let yard = scenario(2);
    let result = solve(&yard, &Options::default());
    let mut by_size: Vec<(f64, &str)> =
        result.readings.iter().filter_map(|r| Some((r.standardised?.abs(), r.entry.as_str()))).collect();
    by_size.sort_by(|a, b| b.0.total_cmp(&a.0));
    assert!(by_size[..2].iter().any(|(_, entry)| *entry == "M056"));
    let Some(Finding::Suspect { entry, doubt, rivals, .. }) = result.findings.first() else {
        panic!("{:?}", result.findings)
    };
    assert_eq!((entry.as_str(), rivals.len(), result.findings.len()), ("M056", 0, 1));
    // Stated with the yard: 19'-5" was written for 16'-5".
    let cause = &doubt.causes[0];
    assert_eq!(cause.slip, Slip::LookAlike { written: '9', meant: '6' });
    assert_eq!(cause.reading, Some(Reading { text: "16' 5\"".into(), value: Length::from_inches(197.0) }));
    let Quantity::Length(expected) = doubt.expected else { panic!("{doubt:?}") };
    let Quantity::Length(sd) = doubt.expected_sd else { panic!("{doubt:?}") };
    // The tie's own standard deviation in the file: 0.1 ft.
    let limit = 3.0 * hypot(sd.metres(), 0.1 * FOOT);
    assert!((expected - Length::from_inches(197.0)).abs().metres() < limit, "{expected:?} {sd:?}");
    // Written so, nothing is left to accuse.
    let mut corrected = fold(&yard.book(&Options::default())).record;
    for Correction { entry, now } in &cause.corrections {
        let m = corrected.measurements.iter_mut().find(|m| &m.entry == entry).expect("there");
        m.what = now.clone();
    }
    let after = adjust(&corrected);
    assert_eq!(after.findings, vec![]);
    assert!(after.points.values().all(|f| f.state != PointState::Disputed));
    assert_eq!(result.points[&PointId::from("T3")].state, PointState::Disputed);
}

/// A small generator of our own (Knuth's MMIX constants), so that a seed means the same everywhere.
struct Dice(u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
    fn metres(&mut self, spread: f64) -> f64 {
        (self.unit() - 0.5) * 2.0 * spread
    }
}

/// Sketches of every sort: pure chance; the truth 30 % too large, turned and 5 m wrong; mirrored.
fn sketch(yard: &Scenario, seed: u64) -> Sketch {
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
    let turn = dice.metres(3.2);
    let mirror = if seed % 3 == 2 { -1.0 } else { 1.0 };
    let mut places = BTreeMap::new();
    for (id, at) in yard.truth() {
        let (x, y) = at.metres();
        let (x, y) = if seed.is_multiple_of(2) {
            (dice.metres(30.0), dice.metres(30.0))
        } else {
            let (x, y, c, s) = (1.3 * x, 0.7 * y * mirror, cos(turn), sin(turn));
            (c * x - s * y + dice.metres(5.0), s * x + c * y + dice.metres(5.0))
        };
        places.insert(id, PlanPoint::from_metres(x, y));
    }
    Sketch::Given(places)
}

#[test]
fn no_sketch_changes_anything() {
    for number in [1, 2] {
        let yard = scenario(number);
        let bare = solve(&yard, &Options::default());
        let recorded = Options { sketch: Sketch::Recorded, ..Options::default() };
        let mut all = vec![solve(&yard, &recorded)];
        all.extend((1..=14).map(|seed| {
            let options = Options { sketch: sketch(&yard, seed), ..Options::default() };
            solve(&yard, &options)
        }));
        for result in all {
            for (id, fix) in &bare.points {
                match (fix.at, result.points[id].at) {
                    (Some(a), Some(b)) => {
                        assert!((a - b).length().metres() < 1e-9, "scenario {number}: {id} moved")
                    }
                    (None, None) => {}
                    other => panic!("{id}: {other:?}"),
                }
            }
            assert_eq!(result.questions, bare.questions);
        }
    }
}

/// Without the word "front" for peg C nothing tells on which side of the front wall it stands: it is
/// asked, the sketch's side is taken meanwhile, and the rest of the yard stays within a centimetre (the
/// wall is not quite straight, so C's ties pull a little differently from the other side).
#[test]
fn an_open_side_is_asked_and_only_then_the_sketch_counts() {
    let yard = scenario(2);
    let mut record = fold(&yard.book(&struck())).record;
    let before = record.measurements.len();
    record.measurements.retain(|m| m.entry.as_str() != "side-C");
    assert_eq!(record.measurements.len() + 1, before);
    let bare = adjust(&record);
    record.sketch = fold(&yard.book(&Options { sketch: Sketch::Recorded, ..struck() })).record.sketch;
    let drawn = adjust(&record);
    for result in [&bare, &drawn] {
        let asked: Vec<&str> = result.questions.iter().map(|q| q.point.as_str()).collect();
        assert!(asked.contains(&"C"), "{asked:?}");
    }
    check_fit("scenario 2, peg C drawn", &yard, &drawn);
    for id in ["A", "B", "D", "T1", "DK2"].map(PointId::from) {
        let (a, b) = (bare.points[&id].at.expect("fixed"), drawn.points[&id].at.expect("fixed"));
        assert!((a - b).length().metres() < 0.01, "{id} moved");
    }
}
