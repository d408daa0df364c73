//! How well the adjustment does on invented yards of known truth, through `adjust`, as the product uses it.
//!
//! `cargo bench -p swingtie-tests --bench adjustment -- PART…` or `cargo xtask bench PART…`; without a part,
//! all but the longest. Every yard comes from its number of points and its seed, which are printed where
//! something went wrong, so that it can be looked at. Reported, not judged: each table says its bar.

mod advice;
mod ellipses;
mod first;
mod gross;
mod ideal;
mod loose;
mod misreads;
mod speed;
mod theory;
mod told;

use std::env;
use swingtie_core::network::{Adjustment, PointState, adjust};
use swingtie_core::record::Record;
use swingtie_tests::yard::{Yard, number};

type Part = (&'static str, &'static str, fn());

const PARTS: [Part; 12] = [
    ("first", "first positions at 20 and 100 points", first::small),
    ("first-500", "first positions at 500 points", first::middle),
    ("first-2000", "first positions at 2,000 points (long)", first::large),
    ("loose", "loose points are named, and no others", loose::run),
    ("ellipses", "95 % ellipses cover the truth", ellipses::run),
    ("gross", "one gross error in a yard is the first suspect", gross::run),
    ("slips", "one slip in a yard is found and explained", gross::slips),
    ("typed", "one misread of many metres is named, alone and soon", gross::typed),
    ("advice", "following the advice, beside trying every tie (long)", advice::run),
    ("misreads", "three misreads in a yard, struck one at a time", misreads::run),
    ("kernel", "the kernel's time, and beside another program's", speed::run),
    ("states", "the time of everything a new reading sets off", speed::states),
];

fn main() {
    // Cargo adds `--bench`.
    let asked: Vec<String> = env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    if let Some(stranger) = asked.iter().find(|word| !PARTS.iter().any(|part| part.0 == **word)) {
        println!("`{stranger}` is none of the parts:");
        PARTS.iter().for_each(|(name, what, _)| println!("  {name:<12} {what}"));
        std::process::exit(2);
    }
    for (name, what, run) in PARTS {
        let wanted =
            if asked.is_empty() { !what.ends_with("(long)") } else { asked.iter().any(|a| a == name) };
        if wanted {
            println!("\n== {name}: {what}");
            run();
        }
    }
}

fn solve(yard: &Yard) -> (Record, Adjustment) {
    let record = yard.record(Default::default());
    let adjustment = adjust(&record);
    (record, adjustment)
}

/// The numbers of the two held points.
fn held(adjustment: &Adjustment) -> Option<(usize, usize)> {
    adjustment.held.as_ref().map(|(a, b)| (number(a), number(b)))
}

fn count_loose(adjustment: &Adjustment) -> usize {
    adjustment.points.values().filter(|fix| fix.state == PointState::Loose).count()
}

fn percent(part: usize, of: usize) -> f64 {
    100.0 * part as f64 / of.max(1) as f64
}

/// The first few of the seeds that went wrong, with what was wrong.
fn list(wrong: &[String]) {
    wrong.iter().take(12).for_each(|line| println!("    {line}"));
    if wrong.len() > 12 {
        println!("    and {} more", wrong.len() - 12);
    }
}
