//! The least-squares kernel against networks whose solution is published or computed elsewhere.

use serde::Deserialize;
use std::collections::BTreeMap;
use swingtie_core::network::kernel::{Equation, Network, Shape, Solved, ellipse};
use swingtie_core::units::float::sqrt;

/// Limit and power for 23 readings: scipy 1.17.1, `norm.isf(0.001 / 23) + norm.isf(0.2)`.
const LIMIT_AND_POWER: f64 = 4.765_992_560_315_186;

#[derive(Deserialize)]
struct Small {
    initial_guess: BTreeMap<String, [f64; 2]>,
    observations: Vec<Observed>,
    solution: Solution,
    blunder_variants: Vec<Variant>,
}

#[derive(Deserialize)]
struct Observed {
    #[serde(rename = "type")]
    kind: String,
    from: Option<String>,
    to: Option<String>,
    at: Option<String>,
    line_from: Option<String>,
    line_to: Option<String>,
    point: Option<String>,
    sigma: f64,
    value: f64,
    id: usize,
}

#[derive(Deserialize)]
struct Solution {
    coordinates: BTreeMap<String, [f64; 2]>,
    residuals: Vec<Residual>,
    #[serde(rename = "vTPv")]
    chi_square: f64,
    error_ellipses: BTreeMap<String, BTreeMap<String, serde_json::Value>>,
}

#[derive(Deserialize)]
struct Residual {
    v: f64,
    redundancy: f64,
    w: f64,
}

#[derive(Deserialize)]
struct Variant {
    changed_obs_id: usize,
    added_error: f64,
    #[serde(rename = "vTPv")]
    chi_square: f64,
    largest_abs_w_obs_id: usize,
    largest_w: f64,
    w: Vec<f64>,
    coordinates: BTreeMap<String, [f64; 2]>,
}

fn small() -> Small {
    serde_json::from_str(include_str!("../../scenarios/network_small.json")).expect("network_small.json")
}

impl Small {
    fn number(&self, name: Option<&String>) -> u32 {
        let name = name.expect("point");
        let at = self.initial_guess.keys().position(|k| k == name).expect("known point");
        u32::try_from(at).expect("few points")
    }

    fn network(&self) -> Network {
        let equation = |o: &Observed| {
            let shape = match o.kind.as_str() {
                "distance" => {
                    Shape::Distance { a: self.number(o.from.as_ref()), b: self.number(o.to.as_ref()) }
                }
                "angle" => Shape::Angle {
                    at: self.number(o.at.as_ref()),
                    from: self.number(o.from.as_ref()),
                    to: self.number(o.to.as_ref()),
                },
                kind => {
                    let (a, b) = (self.number(o.line_from.as_ref()), self.number(o.line_to.as_ref()));
                    let p = self.number(o.point.as_ref());
                    if kind == "chainage" { Shape::Station { a, b, p } } else { Shape::Offset { a, b, p } }
                }
            };
            let unit = if o.kind == "angle" { std::f64::consts::PI / 180.0 } else { 1.0 };
            Equation { shape, value: o.value * unit, sd: o.sigma * unit }
        };
        let equations = self.observations.iter().map(equation).collect();
        let mut held = vec![[false; 2]; self.initial_guess.len()];
        (held[0], held[1]) = ([true; 2], [false, true]);
        Network { equations, held }
    }

    fn start(&self) -> Vec<[f64; 2]> {
        self.initial_guess.values().copied().collect()
    }
}

fn close(what: &str, got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{what}: {got}, expected {want}");
}

fn same_places(solved: &Solved, want: &BTreeMap<String, [f64; 2]>, tolerance: f64) {
    for ((name, want), got) in want.iter().zip(&solved.x) {
        close(&format!("{name}.x"), got[0], want[0], tolerance);
        close(&format!("{name}.y"), got[1], want[1], tolerance);
    }
}

/// Source: `network_small.json`, computed with scipy 1.17.1 and an independent iteration that agree to 2e-14 ft.
#[test]
fn small_network_agrees_with_scipy() {
    let small = small();
    let network = small.network();
    let solved = network.solve(&small.start());
    assert!(solved.settled);
    same_places(&solved, &small.solution.coordinates, 1e-9);
    close("chi-square", solved.chi_square, small.solution.chi_square, 1e-9);
    let statistics = network.statistics(&solved.x);
    let mut sum = 0.0;
    for ((o, got), want) in small.observations.iter().zip(&statistics.readings).zip(&small.solution.residuals)
    {
        let unit = if o.kind == "angle" { 180.0 / std::f64::consts::PI } else { 1.0 };
        close(&format!("v {}", o.id), got.residual * unit, want.v, 1e-9);
        close(&format!("r {}", o.id), got.redundancy, want.redundancy, 1e-9);
        close(&format!("w {}", o.id), got.standardised.expect("redundant"), want.w, 1e-7);
        let detectable = LIMIT_AND_POWER * o.sigma / sqrt(want.redundancy);
        close(
            &format!("detectable {}", o.id),
            got.detectable.expect("redundant") * unit,
            detectable,
            1e-3 * detectable,
        );
        sum += got.redundancy;
    }
    close("sum of redundancy numbers", sum, 12.0, 1e-9);
}

#[test]
fn small_network_ellipses_agree_with_scipy() {
    let small = small();
    let network = small.network();
    let solved = network.solve(&small.start());
    let statistics = network.statistics(&solved.x);
    for ((name, want), covariance) in small
        .initial_guess
        .keys()
        .map(|name| (name, &small.solution.error_ellipses))
        .zip(&statistics.covariance)
    {
        let Some(want) = want.get(name) else { continue };
        let number = |key: &str| want.get(key).and_then(serde_json::Value::as_f64);
        let (major, minor, direction) = ellipse(*covariance);
        if let Some(sd) = number("std_x") {
            close(&format!("{name} sd x"), sqrt(covariance[0]), sd, 1e-10);
        }
        if let (Some(large), Some(small)) = (number("semi_major_1sigma"), number("semi_minor_1sigma")) {
            // √χ²(2; 0.95), scipy.stats.
            close(&format!("{name} major"), major, large * 2.447_746_830_680_816, 1e-9);
            close(&format!("{name} minor"), minor, small * 2.447_746_830_680_816, 1e-9);
        }
        let angle = want.iter().find(|(k, _)| k.contains("deg")).and_then(|(_, v)| v.as_f64());
        if let Some(angle) = angle {
            let turned = (direction.to_degrees() - angle).rem_euclid(180.0);
            assert!(
                turned.min(180.0 - turned) < 1e-5,
                "{name}: direction {} not {angle}",
                direction.to_degrees()
            );
        }
    }
}

/// The same file's three blunders: the spoiled reading has the largest |w|.
#[test]
fn small_network_blunders_show() {
    let small = small();
    for variant in &small.blunder_variants {
        let mut network = small.network();
        network.equations[variant.changed_obs_id - 1].value += variant.added_error;
        let solved = network.solve(&small.start());
        same_places(&solved, &variant.coordinates, 1e-8);
        close("chi-square", solved.chi_square, variant.chi_square, 1e-6);
        let w: Vec<f64> = network
            .statistics(&solved.x)
            .readings
            .iter()
            .map(|r| r.standardised.expect("redundant"))
            .collect();
        for (got, want) in w.iter().zip(&variant.w) {
            close("w", *got, *want, 1e-6);
        }
        let largest = (0..w.len()).max_by(|&a, &b| w[a].abs().total_cmp(&w[b].abs())).expect("readings");
        assert_eq!(largest + 1, variant.largest_abs_w_obs_id);
        close("largest w", w[largest], variant.largest_w, 1e-6);
    }
}

/// C. D. Ghilani, P. R. Wolf, Adjustment Computations, chapter 14, example 14.2 (feet); inputs from the book's
/// companion worksheet, results to more digits computed with numpy from them.
#[test]
fn textbook_trilateration() {
    let x = [[865.40, 4527.15], [2432.55, 2047.25], [2865.22, 27.15], [6861.0, 3728.0]];
    let tie = |a, value| Equation { shape: Shape::Distance { a, b: 3 }, value, sd: 1.0 };
    let network = Network {
        equations: vec![tie(0, 6049.00), tie(1, 4736.83), tie(2, 5446.49)],
        held: vec![[true; 2], [true; 2], [true; 2], [false; 2]],
    };
    let solved = network.solve(&x);
    close("U.x", solved.x[3][0], 6861.316788, 1e-6);
    close("U.y", solved.x[3][1], 3727.818566, 1e-6);
    let statistics = network.statistics(&solved.x);
    for (got, want) in statistics.readings.iter().zip([-0.037372645, 0.076792842, -0.047365578]) {
        close("v", got.residual, want, 1e-8);
    }
    close("S0", sqrt(solved.chi_square / 1.0), 0.097659373, 1e-8);
    let [xx, xy, yy] = statistics.covariance[3];
    close("Qxx", xx, 0.630188974, 1e-7);
    close("Qxy", xy, -0.728353889, 1e-7);
    close("Qyy", yy, 2.494688553, 1e-7);
}

/// Turned angles across the ±180° seam and their derivatives, by central differences (own derivation:
/// the derivative must match the function).
#[test]
fn derivatives_match_their_equations() {
    let x = [[0.3, -0.2], [4.1, 1.2], [1.7, 3.3], [-2.2, 0.9], [0.7, 0.0]];
    let shapes = [
        Shape::Distance { a: 0, b: 1 },
        Shape::Station { a: 0, b: 1, p: 2 },
        Shape::Offset { a: 0, b: 1, p: 2 },
        Shape::Square { at: 0, a: 1, c: 2 },
        Shape::Angle { at: 0, from: 1, to: 2 },
        Shape::Angle { at: 1, from: 2, to: 0 },
        Shape::Bearing { a: 0, b: 1, north: 4 },
        Shape::Bearing { a: 2, b: 0, north: 4 },
        Shape::Shifted { a: 0, b: 1, p: 2, zero: 4 },
        Shape::Shifted { a: 0, b: 1, p: 1, zero: 4 },
        Shape::Shifted { a: 0, b: 1, p: 0, zero: 4 },
        Shape::Parallel { a: 0, b: 1, c: 2, d: 3 },
        Shape::Parallel { a: 0, b: 1, c: 1, d: 2 },
        Shape::Parallel { a: 0, b: 1, c: 2, d: 0 },
        Shape::Difference { a: 0, b: 1, c: 2, d: 3 },
        Shape::Difference { a: 0, b: 1, c: 1, d: 2 },
        Shape::Difference { a: 0, b: 1, c: 1, d: 0 },
    ];
    for shape in shapes {
        let e = Equation { shape, value: 0.1, sd: 1.0 };
        let row = e.at(&x);
        for (slot, p) in e.points().into_iter().take(e.count()).enumerate() {
            let again = e.points()[..slot].contains(&p);
            for axis in 0..2 {
                let moved = |by: f64| {
                    let mut x = x;
                    x[p as usize][axis] += by;
                    e.at(&x).misclosure
                };
                let slope = (moved(1e-6) - moved(-1e-6)) / 2e-6;
                // Of a point named twice the first place has the whole derivative.
                let slope = if again { 0.0 } else { slope };
                close(&format!("{shape:?} {slot} {axis}"), row.gradient[slot][axis], slope, 1e-8);
            }
        }
    }
    let seam = Equation { shape: Shape::Angle { at: 0, from: 1, to: 2 }, value: 3.1, sd: 1.0 };
    let row = seam.at(&[[0.0, 0.0], [1.0, 0.0], [-1.0, -0.001]]);
    close(
        "across the seam",
        row.misclosure,
        std::f64::consts::TAU - 3.1 - (std::f64::consts::PI - 0.001),
        1e-5,
    );
}
