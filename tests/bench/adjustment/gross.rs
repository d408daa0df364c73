//! One gross error in a yard: is its reading the first suspect? And how often is a clean yard accused?

use super::theory::{Checked, Theory};
use super::{count_loose, list, percent, solve};
use swingtie_core::network::{Adjustment, Finding};
use swingtie_tests::dice::Dice;
use swingtie_tests::yard::{Slot, Yard};

const YARDS: u64 = 500;
/// Below this redundancy number a reading counts as not checked by anything.
const UNCHECKED: f64 = 0.02;

#[derive(Default)]
struct Count {
    detectable: usize,
    first: usize,
    named: usize,
    separable: usize,
    separable_first: usize,
    small: usize,
    unchecked: usize,
}

pub fn run() {
    let mut count = Count::default();
    let (mut accused, mut readings, mut worst, mut over) = (0, 0, 0.0_f64, 0);
    let (mut wrong, mut clean_wrong) = (Vec::new(), Vec::new());
    let mut dice = Dice::new(0x6055, 1);
    for seed in 1..=YARDS {
        let points = 60 + dice.below(61);
        let mut yard = Yard::new(points, seed);
        let (_, clean) = solve(&yard);
        let (found, all) = (suspects(&clean).len(), clean.readings.len());
        (accused, readings) = (accused + found, readings + all);
        worst = worst.max(found as f64 / all as f64);
        if found * 100 > all {
            over += 1;
            clean_wrong.push(format!("{points} points, seed {seed}: {found} of {all} accused"));
        }
        let theory = Theory::new(&yard);
        let slots = yard.slots();
        let slot = slots[dice.below(slots.len())];
        let error = amount(&mut dice, yard.value(slot));
        yard.spoil(slot, error);
        match theory.checked(slot).filter(|c| c.redundancy >= UNCHECKED) {
            None => count.unchecked += 1,
            Some(checked) if error.abs() <= checked.detectable => count.small += 1,
            Some(checked) => {
                let why = one(&yard, slot, error, checked, &mut count);
                wrong.extend(why.map(|why| format!("{points} points, seed {seed}: {why}")));
            }
        }
    }
    let Count { detectable, first, named, separable, separable_first, small, unchecked } = count;
    println!("one error of 0.15–3 m in a random reading, {YARDS} yards of 60–120 points, seeds 1–{YARDS}:");
    println!(
        "above the smallest detectable | first suspect | bar | named at all || separable | first suspect || \
         smaller | unchecked"
    );
    println!(
        "{detectable} | {first} ({:.1} %) | 95 % | {named} ({:.1} %) || {separable} | {separable_first} ({:.1} %) \
         || {small} | {unchecked}",
        percent(first, detectable),
        percent(named, detectable),
        percent(separable_first, separable)
    );
    list(&wrong);
    println!("the same yards clean: readings | accused | bar | most in one yard | yards above 1 %");
    println!(
        "{readings} | {accused} ({:.3} %) | 1 % | {:.2} % | {over}",
        percent(accused, readings),
        100.0 * worst
    );
    list(&clean_wrong);
}

fn one(yard: &Yard, slot: Slot, error: f64, checked: Checked, count: &mut Count) -> Option<String> {
    let (_, spoiled) = solve(yard);
    let told = suspects(&spoiled);
    let first = told.first().is_some_and(|s| is(s, slot));
    let separable = error.abs() > checked.separable;
    count.detectable += 1;
    count.first += usize::from(first);
    count.named += usize::from(told.iter().any(|s| is(s, slot)));
    count.separable += usize::from(separable);
    count.separable_first += usize::from(separable && first);
    (!first).then(|| {
        let said: Vec<String> = told.iter().map(|(e, part, w)| format!("{e}/{part} w={w:.1}")).collect();
        format!(
            "M{}/{} {:?} {error:+.2} m (∇ {:.2} m, separable from {:.2} m): {}; {} loose, {} sides asked, \
             variance factor {:.1}",
            slot.measurement,
            slot.part,
            slot.spot,
            checked.detectable,
            checked.separable,
            if said.is_empty() { "nothing suspected".into() } else { said.join(", ") },
            count_loose(&spoiled),
            spoiled.questions.len(),
            spoiled.variance_factor.unwrap_or(f64::NAN)
        )
    })
}

/// 0.15 to 3 m, too much or too little, but no reading below a hand's breadth.
fn amount(dice: &mut Dice, value: f64) -> f64 {
    let size = dice.between(0.15, 3.0);
    if dice.unit() < 0.5 && value.abs() - size > 0.1 { -size } else { size }
}

/// Entry, part and standardised residual of every suspect, in the order told.
pub fn suspects(adjustment: &Adjustment) -> Vec<(String, usize, f64)> {
    let one = |f: &Finding| match f {
        Finding::Suspect { entry, part, standardised, .. } => {
            Some((entry.as_str().to_owned(), *part, *standardised))
        }
        _ => None,
    };
    adjustment.findings.iter().filter_map(one).collect()
}

/// Whether the suspect is this reading (or the other number of the same row).
pub fn is((entry, part, _): &(String, usize, f64), slot: Slot) -> bool {
    *entry == format!("M{}", slot.measurement) && *part == slot.part
}
