//! The kernel and the whole adjustment against scipy.optimize.least_squares.
//!
//! `tests/reference/scipy` makes yards as the field book holds them, writes their equations a second time and
//! solves them (and both scenarios) with scipy; `cargo xtask reference` runs it, `cargo xtask test` too.
//! Bars: coordinates within 1e-6 m; variance factor, residuals (of themselves or of the reading's standard
//! deviation, whichever is larger), redundancy numbers and ellipses within 1e-6 relative.

use serde::Deserialize;
use std::{fs, path::Path, sync::OnceLock};
use swingtie_core::book::fold;
use swingtie_core::network::kernel::{Equation, Network, Shape, ellipse};
use swingtie_core::network::{AdjustedReading, Adjustment, PointState, Quantity, adjust, relative};
use swingtie_core::record::{AuthorId, EntryId, Measurement, PointId, Record, Recorded};
use swingtie_core::units::float::hypot;
use swingtie_tests::scenario::{Options, scenario};

const PLACE: f64 = 1e-6;
const SHARE: f64 = 1e-6;

#[derive(Deserialize)]
struct Reference {
    made_by: String,
    versions: String,
    yards: Vec<Case>,
    scenarios: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    points: Vec<PointId>,
    loose: Vec<PointId>,
    /// None where the field book cannot say it: the kernel alone is compared.
    measurements: Option<Vec<Measurement>>,
    datum: [usize; 2],
    start: Vec<[f64; 2]>,
    equations: Vec<Stated>,
    /// The place of each equation among all readings of the book.
    active: Vec<usize>,
    solution: Solution,
}

#[derive(Deserialize)]
struct Stated {
    kind: String,
    points: Vec<u32>,
    value: f64,
    sd: f64,
}

#[derive(Deserialize)]
struct Solution {
    places: Vec<[f64; 2]>,
    chi_square: f64,
    spare: usize,
    variance_factor: f64,
    residuals: Vec<f64>,
    redundancy: Vec<f64>,
    ellipses: Vec<[f64; 3]>,
    /// Two points by number; half axes and direction of their difference's ellipse, sd of their distance.
    relatives: Vec<(usize, usize, f64, f64, f64, f64)>,
}

/// The solutions, made by the scripts as they are now.
fn reference() -> &'static Reference {
    static ONCE: OnceLock<Reference> = OnceLock::new();
    ONCE.get_or_init(|| {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/reference/scipy.json");
        let text = fs::read_to_string(&file)
            .unwrap_or_else(|error| panic!("{}: {error}. Make it: cargo xtask reference", file.display()));
        let read: Reference = serde_json::from_str(&text).expect("what the script writes");
        let scripts =
            concat!(include_str!("../scipy/yards.py"), include_str!("../scipy/solutions.py")).to_owned();
        assert!(read.made_by == scripts, "made by other scripts than these. Make it: cargo xtask reference");
        println!("{}", read.versions);
        read
    })
}

impl Case {
    fn network(&self) -> Network {
        let equation = |e: &Stated| {
            let &[a, b, ..] = e.points.as_slice() else { panic!("{}: an equation of one point", self.name) };
            let p = e.points.get(2).copied().unwrap_or(b);
            let shape = match e.kind.as_str() {
                "distance" => Shape::Distance { a, b },
                "station" => Shape::Station { a, b, p },
                "offset" => Shape::Offset { a, b, p },
                "square" => Shape::Square { at: a, a: b, c: p },
                "angle" => Shape::Angle { at: a, from: b, to: p },
                other => panic!("{}: {other}", self.name),
            };
            Equation { shape, value: e.value, sd: e.sd }
        };
        let mut held = vec![[false; 2]; self.points.len()];
        held[self.datum[0]] = [true; 2];
        held[self.datum[1]][1] = true;
        Network { equations: self.equations.iter().map(equation).collect(), held }
    }

    fn record(&self) -> Option<Record> {
        let measurements = self.measurements.as_ref()?.iter().zip(1..);
        let said = |(what, number): (&Measurement, usize)| Recorded {
            entry: EntryId(format!("M{number:04}")),
            author: AuthorId::from("surveyor"),
            at_ms: 0,
            what: what.clone(),
        };
        Some(Record { measurements: measurements.map(said).collect(), ..Record::default() })
    }

    fn places_agree(&self, of: &str, point: usize, got: [f64; 2]) {
        let want = self.solution.places[point];
        for (got, want) in got.into_iter().zip(want) {
            let off = (got - want).abs();
            assert!(
                off <= PLACE,
                "{}, {of}, {}: {got} m, scipy {want} m",
                self.name,
                self.points[point].as_str()
            );
        }
    }

    fn ellipse_agrees(&self, of: &str, point: usize, got: (f64, f64, f64)) {
        let name = format!("{}, {of}, ellipse of {}", self.name, self.points[point].as_str());
        same_ellipse(&name, got, self.solution.ellipses[point]);
    }
}

fn same_ellipse(name: &str, (major, minor, direction): (f64, f64, f64), [a, b, turn]: [f64; 3]) {
    // A held direction leaves one half axis at zero, up to rounding.
    near(name, major, a, SHARE * a + 1e-9);
    near(name, minor, b, SHARE * b + 1e-9);
    if a - b > 1e-3 * a {
        let off = (direction - turn).rem_euclid(std::f64::consts::PI);
        let off = off.min(std::f64::consts::PI - off);
        assert!(off <= SHARE * a / (a - b), "{name}: direction {direction}, scipy {turn}");
    }
}

fn near(what: &str, got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{what}: {got}, scipy {want}");
}

fn near_share(what: &str, got: f64, want: f64) {
    near(what, got, want, SHARE * want.abs());
}

#[test]
fn there_are_enough_yards() {
    let Reference { yards, scenarios, .. } = reference();
    assert!(yards.len() >= 30 && scenarios.len() >= 2, "{} and {}", yards.len(), scenarios.len());
    let through_adjust = yards.iter().filter(|case| case.measurements.is_some()).count();
    assert!(through_adjust >= 30, "{through_adjust} yards in the book's words");
    let turned = yards.iter().flat_map(|y| &y.equations).filter(|e| e.kind == "angle");
    let (low, high): (Vec<f64>, Vec<f64>) = turned.map(|e| e.value).partition(|v| *v < std::f64::consts::PI);
    assert!(low.len() > 3 && high.len() > 3, "angles on both sides of half a turn");
}

#[test]
fn the_kernel_agrees() {
    let all = reference().yards.iter().chain(&reference().scenarios);
    for case in all {
        let network = case.network();
        let solved = network.solve(&case.start);
        assert!(solved.settled, "{}", case.name);
        near_share(&format!("{}, chi-square", case.name), solved.chi_square, case.solution.chi_square);
        let statistics = network.statistics(&solved.x);
        for (point, covariance) in statistics.covariance.iter().enumerate() {
            case.places_agree("kernel", point, solved.x[point]);
            case.ellipse_agrees("kernel", point, ellipse(*covariance));
        }
        for (i, (got, e)) in statistics.readings.iter().zip(&case.equations).enumerate() {
            let name = format!("{}, kernel, reading {i}", case.name);
            let want = case.solution.residuals[i];
            near(&name, got.residual, want, SHARE * want.abs().max(e.sd));
            near(&format!("{name}, redundancy"), got.redundancy, case.solution.redundancy[i], SHARE);
        }
    }
}

#[test]
fn the_adjustment_of_the_yards_agrees() {
    for case in &reference().yards {
        if let Some(record) = case.record() {
            let got = adjust(&record);
            compare(case, &got);
            compare_relatives(case, &record, &got);
        }
    }
}

#[test]
fn the_adjustment_of_the_scenarios_agrees() {
    let struck = Options { strike: vec!["M056".into()], ..Options::default() };
    let runs = [(1, Options::default()), (2, Options::default()), (2, struck)];
    for (case, (number, options)) in reference().scenarios.iter().zip(runs) {
        let record = fold(&scenario(number).book(&options)).record;
        let got = adjust(&record);
        compare(case, &got);
        compare_relatives(case, &record, &got);
    }
}

fn compare(case: &Case, got: &Adjustment) {
    let held = case.datum.map(|p| case.points[p].clone());
    assert_eq!(got.held, Some(held.into()), "{}: held; the scripts expect the first wall or tie", case.name);
    let loose: Vec<&PointId> =
        got.points.iter().filter(|(_, fix)| fix.state == PointState::Loose).map(|(id, _)| id).collect();
    assert_eq!(loose, case.loose.iter().collect::<Vec<_>>(), "{}: loose", case.name);
    near_share(&format!("{}, chi-square", case.name), got.chi_square, case.solution.chi_square);
    assert_eq!(got.redundancy, case.solution.spare, "{}", case.name);
    let factor = got.variance_factor.expect("spare readings");
    near_share(&format!("{}, variance factor", case.name), factor, case.solution.variance_factor);
    for (point, id) in case.points.iter().enumerate() {
        let fix = &got.points[id];
        let (x, y) = fix.at.expect("not loose").metres();
        case.places_agree("adjust", point, [x, y]);
        let e = fix.ellipse.expect("not loose");
        let ellipse = (e.semi_major.metres(), e.semi_minor.metres(), e.direction.radians());
        case.ellipse_agrees("adjust", point, ellipse);
    }
    let adjusted: Vec<(usize, &AdjustedReading)> =
        got.readings.iter().enumerate().filter(|(_, r)| r.residual.is_some()).collect();
    let numbers: Vec<usize> = adjusted.iter().map(|(number, _)| *number).collect();
    assert_eq!(numbers, case.active, "{}: readings that take part", case.name);
    for (i, (_, reading)) in adjusted.into_iter().enumerate() {
        let name = format!("{}, adjust, reading {i} ({:?})", case.name, reading.role);
        // A square corner's residual is told as an angle, which grows as its cosine falls.
        let sign = if case.equations[i].kind == "square" { -1.0 } else { 1.0 };
        let (want, sd) = (sign * case.solution.residuals[i], case.equations[i].sd);
        near(&name, number(reading.residual.expect("filtered")), want, SHARE * want.abs().max(sd));
        near_share(&format!("{name}, sd"), number(reading.sd), sd);
        let r = case.solution.redundancy[i];
        near(&format!("{name}, redundancy"), reading.redundancy.expect("adjusted"), r, SHARE);
    }
}

fn compare_relatives(case: &Case, record: &Record, adjustment: &Adjustment) {
    assert!(case.solution.relatives.len() >= 10, "{}", case.name);
    for &(a, b, major, minor, direction, sd) in &case.solution.relatives {
        let (one, two) = (&case.points[a], &case.points[b]);
        let name = format!("{}, {one} to {two}", case.name);
        let got = relative(record, adjustment, one, two).unwrap_or_else(|| panic!("{name}: none"));
        let ellipse = got.ellipse;
        let ellipse = (ellipse.semi_major.metres(), ellipse.semi_minor.metres(), ellipse.direction.radians());
        same_ellipse(&name, ellipse, [major, minor, direction]);
        near(&format!("{name}, sd of the distance"), got.distance_sd.metres(), sd, SHARE * sd);
        let [(x, y), (u, v)] = [one, two].map(|p| adjustment.points[p].at.expect("placed").metres());
        near(&name, got.distance.metres(), hypot(u - x, v - y), 1e-12);
    }
    for loose in &case.loose {
        assert_eq!(relative(record, adjustment, loose, &case.points[0]), None);
    }
    assert_eq!(relative(record, adjustment, &case.points[0], &case.points[0]), None);
}

fn number(quantity: Quantity) -> f64 {
    match quantity {
        Quantity::Length(length) => length.metres(),
        Quantity::Angle(angle) => angle.radians(),
    }
}
