//! Whether the 95 % ellipses cover the true places as often as they say, and the chi-square holds.

use super::{held, list, percent, solve};
use swingtie_core::network::Quantity;
use swingtie_core::units::float::{cos, sin};
use swingtie_tests::dice::Dice;
use swingtie_tests::yard::{Yard, id};

const YARDS: u64 = 500;

pub fn run() {
    let (mut inside, mut points, mut unsolved, mut sum, mut spare) = (0, 0, 0, 0.0, 0);
    let mut wrong = Vec::new();
    let mut dice = Dice::new(0xE11, 1);
    for seed in 1..=YARDS {
        let count = 20 + dice.below(81);
        let yard = Yard::new(count, seed);
        let (_, adjustment) = solve(&yard);
        let Some((a, b)) = held(&adjustment) else {
            unsolved += 1;
            continue;
        };
        // The noise was made with the standard deviations that the product uses, or this means nothing.
        let stated: Vec<f64> = yard.equations().iter().map(|e| e.sd).collect();
        let used: Vec<f64> = adjustment.readings.iter().map(|r| number(r.sd)).collect();
        assert!(
            stated.len() == used.len() && stated.iter().zip(&used).all(|(s, u)| (s - u).abs() < 1e-9),
            "seed {seed}: the product weighs otherwise than the yard was made"
        );
        // No clean yard is that far off: another minimum, told apart since it says nothing about ellipses.
        if adjustment.variance_factor.is_some_and(|factor| factor > 3.0) {
            let why = adjustment.chi_square / adjustment.redundancy as f64;
            wrong.push(format!("{count} points, seed {seed}: variance factor {why:.1}, a wrong minimum"));
            continue;
        }
        (sum, spare) = (sum + adjustment.chi_square, spare + adjustment.redundancy);
        for (p, [x, y]) in yard.framed(a, b).into_iter().enumerate().filter(|(p, _)| *p != a && *p != b) {
            let fix = &adjustment.points[&id(p)];
            let (Some(at), Some(e)) = (fix.at, fix.ellipse) else {
                unsolved += 1;
                continue;
            };
            let (px, py) = at.metres();
            let (c, s) = (cos(e.direction.radians()), sin(e.direction.radians()));
            let (u, v) = (c * (x - px) + s * (y - py), c * (y - py) - s * (x - px));
            let (u, v) = (u / e.semi_major.metres(), v / e.semi_minor.metres());
            inside += usize::from(u * u + v * v <= 1.0);
            points += 1;
        }
    }
    println!(
        "yards (20–100 points, seeds 1–{YARDS}) | points | covered | bar | not solved | chi-square / spare"
    );
    let covered = percent(inside, points);
    println!("{YARDS} | {points} | {covered:.2} % | 93–97 % | {unsolved} | {:.4}", sum / spare as f64);
    list(&wrong);
}

fn number(quantity: Quantity) -> f64 {
    match quantity {
        Quantity::Length(length) => length.metres(),
        Quantity::Angle(angle) => angle.radians(),
    }
}
