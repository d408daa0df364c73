//! Three misreads in a yard of 100 points, followed up as a person does who believes the app: a lone suspect
//! is struck, several that cannot be told apart are all looked at again and the wrong ones struck; then
//! everything is solved again, until nothing is suspected.
//!
//! Checkable: redundancy number 0.02 or more, and larger than the smallest detectable error. Of those some
//! cannot be told from an error in another reading (three ties to a tree: they contradict, but which?);
//! `theory` says which. Wrongly accused: a lone suspect that was right, or several of which none was wrong.

use super::theory::{Checked, Theory};
use super::told::{Told, nameable, told};
use super::{list, solve};
use swingtie_core::network::UNCHECKED;
use swingtie_tests::dice::Dice;
use swingtie_tests::yard::{Slot, Yard};

const MISREADS: usize = 3;
/// Looks before a yard is given up.
const MOST_LOOKS: usize = 12;

#[derive(Default)]
struct Count {
    checkable: usize,
    found: usize,
    separable: usize,
    separable_found: usize,
    accused: usize,
    looked_again: usize,
    unchecked: usize,
}

pub fn run() {
    println!(
        "100 points, 3 misreads | checkable | found | bar | wrongly accused | bar || nameable | found || \
         looked at again | not checkable"
    );
    for (yards, bar) in [(20, "51 of 52"), (100, "98 %")] {
        let (mut count, mut wrong) = (Count::default(), Vec::new());
        for seed in 1..=yards {
            one(seed, &mut count, &mut wrong);
        }
        let Count { checkable, found, separable, separable_found, .. } = count;
        let Count { accused, looked_again, unchecked, .. } = count;
        println!(
            "seeds 1–{yards} | {checkable} | {found} | {bar} | {accused} | 0 || {separable} | {separable_found} || \
             {looked_again} | {unchecked}"
        );
        list(&wrong);
    }
}

fn one(seed: u64, count: &mut Count, wrong: &mut Vec<String>) {
    let mut yard = Yard::new(100, seed);
    let theory = Theory::new(&yard);
    let mut dice = Dice::new(0x315, seed);
    let clean = yard.clone();
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
    let made: Vec<String> =
        spoiled.iter().map(|(s, by, _)| format!("M{}/{} {by:+.2}", s.measurement, s.part)).collect();
    let slots: Vec<Slot> = spoiled.iter().map(|(slot, ..)| *slot).collect();
    let struck = follow(&mut yard, &slots, count, |words| {
        wrong.push(format!("seed {seed}: accused {words}; wrong were {}", made.join(", ")));
    });
    for (slot, by, checked) in &spoiled {
        if checked.is_none() {
            count.unchecked += 1;
            continue;
        }
        let found = struck.contains(slot);
        let separable = by.abs() > nameable(&clean, *slot);
        count.checkable += 1;
        count.found += usize::from(found);
        count.separable += usize::from(separable);
        count.separable_found += usize::from(separable && found);
        if !found {
            let apart = if separable { "nameable" } else { "not nameable" };
            let (m, part, spot) = (slot.measurement, slot.part, slot.spot);
            wrong.push(format!("seed {seed}: missed M{m}/{part} {spot:?} {by:+.2} m, {apart}"));
        }
    }
}

/// Follows up the first suspect until there is none; returns the wrong readings struck.
fn follow(
    yard: &mut Yard,
    spoiled: &[Slot],
    count: &mut Count,
    mut accused: impl FnMut(String),
) -> Vec<Slot> {
    let all = yard.slots();
    let mut struck: Vec<Slot> = Vec::new();
    for _ in 0..MOST_LOOKS {
        let (_, adjustment) = solve(yard);
        let suspects = told(&adjustment);
        let Some(suspect) = suspects.first() else { break };
        let left = |slot: &&Slot| !struck.contains(slot);
        let rightly: Vec<Slot> =
            spoiled.iter().filter(left).filter(|slot| suspect.holds(**slot)).copied().collect();
        count.looked_again += suspect.readings.len() - 1;
        if rightly.is_empty() {
            count.accused += 1;
            accused(Told::words(suspect));
            // The person strikes it all the same.
            if let Some((measurement, leg)) = suspect.turn() {
                yard.not_square(measurement, leg);
            }
            all.iter().filter(|slot| suspect.first(**slot)).for_each(|slot| yard.strike(*slot));
        }
        for slot in rightly {
            yard.strike(slot);
            struck.push(slot);
        }
    }
    struck
}
