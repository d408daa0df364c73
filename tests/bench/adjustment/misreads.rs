//! Three misreads in a yard of 100 points: the first suspect is struck, everything is solved again, until
//! nothing is suspected. A person who believes the app does the same.
//!
//! Checkable: redundancy number 0.02 or more, and larger than the smallest detectable error. Of those some
//! cannot be told from an error in another reading (three ties to a tree: they contradict, but which?);
//! `theory` says which. There the app must not accuse but ask for one more.

use super::gross::{is, suspects};
use super::theory::{Checked, Theory};
use super::{list, solve};
use swingtie_tests::dice::Dice;
use swingtie_tests::yard::{Slot, Yard};

const MISREADS: usize = 3;
/// Below this redundancy number a reading counts as not checked by anything.
const UNCHECKED: f64 = 0.02;
/// Strikes before a yard is given up.
const MOST_STRIKES: usize = 12;

#[derive(Default)]
struct Count {
    checkable: usize,
    found: usize,
    separable: usize,
    separable_found: usize,
    accused: usize,
    accused_without_excuse: usize,
    unchecked: usize,
}

pub fn run() {
    println!(
        "100 points, 3 misreads | checkable | found | bar | wrongly struck | bar || separable | found | \
         wrongly struck where all are separable | not checkable"
    );
    for (yards, bar) in [(20, "51 of 52"), (100, "98 %")] {
        let (mut count, mut wrong) = (Count::default(), Vec::new());
        for seed in 1..=yards {
            one(seed, &mut count, &mut wrong);
        }
        let Count { checkable, found, separable, separable_found, .. } = count;
        let Count { accused, accused_without_excuse, unchecked, .. } = count;
        println!(
            "seeds 1–{yards} | {checkable} | {found} | {bar} | {accused} | 0 || {separable} | {separable_found} | \
             {accused_without_excuse} | {unchecked}"
        );
        list(&wrong);
    }
}

fn one(seed: u64, count: &mut Count, wrong: &mut Vec<String>) {
    let mut yard = Yard::new(100, seed);
    let theory = Theory::new(&yard);
    let mut dice = Dice::new(0x315, seed);
    let spoiled: Vec<(Slot, f64, Option<Checked>)> = dice
        .some(&yard.slots(), MISREADS)
        .into_iter()
        .map(|slot| {
            let by = yard.slip(slot, &mut dice);
            yard.spoil(slot, by);
            let checked = theory.checked(slot);
            (slot, by, checked.filter(|c| c.redundancy >= UNCHECKED && by.abs() > c.detectable))
        })
        .collect();
    let struck = follow(&mut yard);
    // A station and its offset are one row of the book: whichever is wrong, both are struck.
    let same_row = |a: &Slot, b: &Slot| a.measurement == b.measurement && a.part == b.part;
    let mut all_separable = true;
    for (slot, by, checked) in &spoiled {
        let Some(checked) = checked else {
            count.unchecked += 1;
            continue;
        };
        let found = struck.iter().any(|s| same_row(s, slot));
        let separable = by.abs() > checked.separable;
        all_separable &= separable;
        count.checkable += 1;
        count.found += usize::from(found);
        count.separable += usize::from(separable);
        count.separable_found += usize::from(separable && found);
        if !found {
            let apart = if separable { "separable" } else { "not separable" };
            let (m, part, spot) = (slot.measurement, slot.part, slot.spot);
            wrong.push(format!("seed {seed}: missed M{m}/{part} {spot:?} {by:+.2} m, {apart}"));
        }
    }
    let made: Vec<String> =
        spoiled.iter().map(|(s, by, _)| format!("M{}/{} {by:+.2}", s.measurement, s.part)).collect();
    for slot in struck.iter().filter(|s| !spoiled.iter().any(|(t, ..)| same_row(s, t))) {
        count.accused += 1;
        count.accused_without_excuse += usize::from(all_separable);
        let excuse = if all_separable { "" } else { " (one of them not separable)" };
        wrong.push(format!(
            "seed {seed}: struck M{}/{} {:?}; wrong were {}{excuse}",
            slot.measurement,
            slot.part,
            slot.spot,
            made.join(", ")
        ));
    }
}

/// Strikes the first suspect until there is none.
fn follow(yard: &mut Yard) -> Vec<Slot> {
    let slots = yard.slots();
    let mut struck: Vec<Slot> = Vec::new();
    for _ in 0..MOST_STRIKES {
        let (_, adjustment) = solve(yard);
        let list = suspects(&adjustment);
        let Some(first) = list.first() else { break };
        let Some(&slot) = slots.iter().find(|slot| is(first, **slot)) else { break };
        struck.push(slot);
        yard.strike(slot);
    }
    struck
}
