//! The best judge there can be, beside what the app names: how many could be named first at all?
//!
//! Where readings contradict and one is known to be wrong, by an error thrown as `gross` throws it, the reading to
//! name is the one most probable given all the others (Bayes' rule; no other choice is right more often). With flat
//! knowledge of the places, a reading left out of the network of n others costs that network its own σ and gains √r, so
//!
//! P(i is wrong) ∝ exp(−χ²ᵢ/2) · s · ∫ p(e) φ((ê − e)/s)/s de,  s² = σ² + σ²(expected), ê = read − expected,
//!
//! with χ²ᵢ the sum of squares without the reading (H. Jeffreys, *Theory of Probability*, 1939, for the factor s;
//! written from memory). The app cannot name so many: it does not know how errors are thrown, nor that there is one.
//! Only readings that it told as equals are weighed; where the wrong one is always among them, that favours the judge.

use super::gross::{LARGEST, LEAST_VALUE, SMALLEST};
use super::solve;
use super::theory::Theory;
use super::told::Told;
use std::f64::consts::E;
use swingtie_core::network::{Adjustment, Doubt, Quantity, ReadingRole};
use swingtie_core::units::float::{hypot, ln, powf};
use swingtie_tests::yard::{Slot, Spot, Yard};

/// Points of the sum over an error's own scatter, between these standard deviations.
const STEPS: i32 = 40;
const WIDEST: f64 = 4.0;

/// What the best judge named.
#[derive(Default)]
pub struct Ideal {
    /// How often it was the wrong reading.
    pub named: usize,
    /// How often he expects that it is: the sum of its probabilities.
    pub expected: f64,
}

impl Ideal {
    /// Weighs the readings told, of which `wrong` is one; `with` is the yard adjusted with all readings, `theory`
    /// of the yard without the error.
    pub fn add(&mut self, yard: &Yard, with: &Adjustment, theory: &Theory, told: &Told, wrong: Slot) {
        let logs: Vec<f64> = told.readings.iter().map(|one| weigh(yard, with, theory, one)).collect();
        let best = logs.iter().copied().enumerate().max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((index, most)) = best.filter(|(_, most)| most.is_finite()) {
            self.named += usize::from(told.is(index, wrong));
            self.expected += 1.0 / logs.iter().map(|log| powf(E, log - most)).sum::<f64>();
        }
    }
}

/// The logarithm of what a reading's probability is proportional to; −∞ for what nobody read.
fn weigh(
    yard: &Yard,
    with: &Adjustment,
    theory: &Theory,
    (entry, part, doubt): &(String, usize, Doubt),
) -> f64 {
    let measurement = entry.trim_start_matches('M').parse();
    let (Some(spot), Ok(measurement)) = (spot(doubt.role), measurement) else { return f64::NEG_INFINITY };
    let slot = Slot { measurement, part: *part, spot };
    let Some(checked) = theory.checked(slot) else { return f64::NEG_INFINITY };
    let reading =
        with.readings.iter().find(|r| r.entry.as_str() == entry && r.part == *part && r.role == doubt.role);
    let sd = reading.map_or(f64::NAN, |r| metres(r.sd));
    let mut without = yard.clone();
    without.strike(slot);
    let (_, without) = solve(&without);
    let scatter = hypot(sd, metres(doubt.expected_sd));
    let (read, expected) = (metres(doubt.observed), metres(doubt.expected));
    let smallest = checked.detectable.max(SMALLEST);
    let mass: f64 = (-STEPS..=STEPS)
        .map(|n| f64::from(n) / f64::from(STEPS) * WIDEST)
        .map(|t| powf(E, -0.5 * t * t) * thrown(read - expected + t * scatter, expected, smallest))
        .sum();
    -0.5 * without.chi_square + ln(scatter) + ln(mass)
}

/// How likely an error is among those that count, but for a factor.
fn thrown(error: f64, right: f64, smallest: f64) -> f64 {
    let size = error.abs();
    let either = right.abs() - size > LEAST_VALUE;
    match error {
        _ if size < smallest || size > LARGEST => 0.0,
        _ if either => 0.5,
        e if e > 0.0 => 1.0,
        _ => 0.0,
    }
}

const fn spot(role: ReadingRole) -> Option<Spot> {
    match role {
        ReadingRole::Tie => Some(Spot::Tie),
        ReadingRole::Run => Some(Spot::Run),
        ReadingRole::Wall => Some(Spot::Wall),
        ReadingRole::Station => Some(Spot::Station),
        ReadingRole::Offset => Some(Spot::Offset),
        _ => None,
    }
}

fn metres(quantity: Quantity) -> f64 {
    match quantity {
        Quantity::Length(length) => length.metres(),
        Quantity::Angle(_) => f64::NAN,
    }
}
