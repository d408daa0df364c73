//! Heights and quantities against numpy, scipy and shapely: `tests/reference/scipy/levels.py` makes surfaces, level
//! networks and outlines and answers for them; `cargo xtask reference` runs it, `cargo xtask test` too. Bar: 1e-6 m.

use serde::Deserialize;
use std::{fs, path::Path, sync::OnceLock};
use swingtie_core::levels::{Spot, Surface, heights};
use swingtie_core::plan::quantities::{Gradient, area, length};
use swingtie_core::record::{BenchMark, LevelReading, LevelWith, PointId, Reading, Record, Recorded};
use swingtie_core::units::{Area, Length, PlanPoint, float};

const BAR: f64 = 1e-6;

#[derive(Deserialize)]
struct Reference {
    surfaces: Vec<Ground>,
    networks: Vec<Network>,
    outlines: Vec<Ring>,
}

#[derive(Deserialize)]
struct Ring {
    corners: Vec<[f64; 2]>,
    /// Standard deviations along the axes of each corner's ellipse, larger first.
    axes: Vec<[f64; 2]>,
    direction: Vec<f64>,
    area: f64,
    perimeter: f64,
    area_sd: f64,
    perimeter_sd: f64,
}

#[derive(Deserialize)]
struct Ground {
    spots: Vec<[f64; 3]>,
    asked: Vec<[f64; 2]>,
    heights: Vec<Option<f64>>,
    area: f64,
}

#[derive(Deserialize)]
struct Network {
    datum: f64,
    /// Set-up, point, reading, standard deviation.
    rows: Vec<(usize, usize, f64, f64)>,
    points: Vec<usize>,
    heights: Vec<f64>,
    sds: Vec<f64>,
    residuals: Vec<f64>,
    redundancy: Vec<f64>,
    spare: usize,
    chi_square: f64,
}

fn reference() -> &'static Reference {
    static REFERENCE: OnceLock<Reference> = OnceLock::new();
    REFERENCE.get_or_init(|| {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/reference/levels.json");
        let text = fs::read_to_string(file).expect("run `cargo xtask reference` first");
        serde_json::from_str(&text).unwrap()
    })
}

fn ground(case: &Ground) -> Surface {
    let spot =
        |[x, y, z]: &[f64; 3]| Spot { at: PlanPoint::from_metres(*x, *y), height: Length::from_metres(*z) };
    let spots: Vec<Spot> = case.spots.iter().map(spot).collect();
    Surface::new(&spots, &[], &[]).unwrap()
}

fn near(found: f64, expected: f64) -> bool {
    (found - expected).abs() <= BAR * expected.abs().max(1.0)
}

#[test]
fn heights_between_readings_are_scipys() {
    let cases = &reference().surfaces;
    assert_eq!(cases.len(), 20);
    let mut compared = 0;
    for case in cases {
        let surface = ground(case);
        assert!(
            near(surface.area().square_metres(), case.area),
            "{} {}",
            surface.area().square_metres(),
            case.area
        );
        for ([x, y], expected) in case.asked.iter().zip(&case.heights) {
            let found = surface.height_at(PlanPoint::from_metres(*x, *y)).map(Length::metres);
            match (found, expected) {
                (Some(found), Some(expected)) => assert!(near(found, *expected), "{found} {expected}"),
                (found, expected) => assert_eq!(found.is_some(), expected.is_some(), "at {x}, {y}"),
            }
            compared += usize::from(expected.is_some());
        }
    }
    assert!(compared > 4000, "{compared}");
}

/// A contour is where scipy's ground has its height: each vertex lies on it, and of all sides of the grid of asked
/// places as many are crossed as change from below to above.
#[test]
fn contours_lie_where_scipys_ground_has_their_height() {
    let mut vertices = 0;
    for case in &reference().surfaces {
        let surface = ground(case);
        for contour in surface.contours(Length::from_metres(0.25)) {
            for line in &contour.lines {
                for pair in line.windows(2) {
                    // The middle of a piece lies in one triangle: its height is interpolated, not looked up.
                    let ((ax, ay), (bx, by)) = (pair[0].metres(), pair[1].metres());
                    let middle = PlanPoint::from_metres(0.5 * (ax + bx), 0.5 * (ay + by));
                    let height = surface.height_at(middle).unwrap();
                    assert!((height - contour.height).abs().metres() < BAR);
                    vertices += 1;
                }
            }
        }
        // Scipy's heights tell which contours must exist.
        let known = || case.heights.iter().flatten().copied();
        let (low, high) = known().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(z), h.max(z)));
        let found: Vec<f64> =
            surface.contours(Length::from_metres(0.25)).iter().map(|c| c.height.metres()).collect();
        let mut wanted = (low / 0.25).ceil() * 0.25;
        while wanted < high {
            assert!(found.iter().any(|h| near(*h, wanted)), "no contour at {wanted}: {found:?}");
            wanted += 0.25;
        }
    }
    assert!(vertices > 5000, "{vertices}");
}

fn record(case: &Network) -> Record {
    let mut record = Record::default();
    let mark =
        BenchMark { point: "p0".into(), height: Length::from_metres(case.datum), source: String::new() };
    record.bench_mark = Some(mark);
    let mut started: Vec<usize> = Vec::new();
    for (number, (setup, point, read, sd)) in case.rows.iter().enumerate() {
        let first = case.rows.iter().position(|(s, ..)| s == setup).unwrap_or(number);
        let id = |n: usize| format!("r{n}");
        let what = LevelReading {
            setup: started.contains(setup).then(|| id(first).as_str().into()),
            point: format!("p{point}").as_str().into(),
            reading: Reading { text: format!("{read} m"), value: Length::from_metres(read.abs()) },
            overhead: *read < 0.0,
            stood: None,
            with: LevelWith::BuildersLevel,
            sd: Some(Length::from_metres(*sd)),
        };
        started.push(*setup);
        record.levels.push(Recorded {
            entry: id(number).as_str().into(),
            author: "a".into(),
            at_ms: 0,
            what,
        });
    }
    record
}

#[test]
fn level_networks_are_adjusted_as_by_the_full_matrices() {
    let cases = &reference().networks;
    assert_eq!(cases.len(), 10);
    for case in cases {
        let levels = heights(&record(case));
        assert_eq!(levels.redundancy, case.spare);
        if let Some(factor) = levels.variance_factor {
            #[expect(clippy::cast_precision_loss, reason = "a handful")]
            let expected = case.chi_square / case.spare as f64;
            assert!(near(factor, expected), "{factor} {expected}");
        }
        for ((point, height), sd) in case.points.iter().zip(&case.heights).zip(&case.sds) {
            let found = levels.points[&PointId(format!("p{point}"))];
            assert!(near(found.above.metres(), *height), "p{point}: {} {height}", found.above.metres());
            // Scipy's come from what was said of the readings alone.
            let said = found.sd.metres() / levels.scatter;
            assert!((said - sd).abs() < 1e-9, "p{point}: {said} {sd}");
        }
        // In the order of the file, which writes set-up by set-up.
        assert_eq!(levels.readings.len(), case.rows.len());
        for (reading, (v, r)) in levels.readings.iter().zip(case.residuals.iter().zip(&case.redundancy)) {
            assert!((reading.residual.metres() - v).abs() < 1e-9);
            assert!((reading.redundancy - r.clamp(0.0, 1.0)).abs() < 1e-6, "{} {r}", reading.redundancy);
        }
    }
}

/// Two hundred thousand trials give a standard deviation to 0.16 %; four of that.
const TRIALS: f64 = 0.0064;

#[test]
fn areas_and_perimeters_are_shapelys_and_as_sure_as_trials_make_them() {
    let cases = &reference().outlines;
    assert_eq!(cases.len(), 20);
    for case in cases {
        let corners: Vec<PlanPoint> =
            case.corners.iter().map(|at| PlanPoint::from_metres(at[0], at[1])).collect();
        // The trials move each corner by itself.
        let spread = |gradient: &Gradient| {
            let own = gradient.iter().zip(&case.axes).zip(&case.direction);
            let variance = own.map(|(([x, y], [major, minor]), turn)| {
                let (sine, cosine) = (float::sin(*turn), float::cos(*turn));
                let (along, across) = ((x * cosine + y * sine) * major, (y * cosine - x * sine) * minor);
                along * along + across * across
            });
            Some(float::sqrt(variance.sum::<f64>()))
        };
        let (inside, round) = (area(&corners, spread), length(&corners, true, spread));
        assert!(near(inside.value.square_metres(), case.area), "{inside:?} {}", case.area);
        assert!(near(round.value.metres(), case.perimeter), "{round:?} {}", case.perimeter);
        let share = |found: f64, expected: f64| (found / expected - 1.0).abs();
        let inside = inside.sd.map_or(0.0, Area::square_metres);
        assert!(share(inside, case.area_sd) < TRIALS, "{inside} {}", case.area_sd);
        let round = round.sd.map_or(0.0, Length::metres);
        assert!(share(round, case.perimeter_sd) < TRIALS, "{round} {}", case.perimeter_sd);
    }
}
