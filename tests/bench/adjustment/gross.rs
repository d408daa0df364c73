//! One gross error in a yard: is its reading the first suspect? And how often is a clean yard accused?
//!
//! `typed`: the same with a point in the wrong place, feet for metres, or metres too much, and how long it takes to say so.
//! `slips`: the same with errors as people make them; is the explanation offered the right one?

use super::ideal::Ideal;
use super::theory::{Checked, Theory};
use super::told::{Told, nameable, told};
use super::{count_loose, list, percent, solve};
use std::time::Instant;
use swingtie_core::network::{Adjustment, UNCHECKED, adjust};
use swingtie_core::units::{Length, METRES_PER_FOOT};
use swingtie_tests::dice::Dice;
use swingtie_tests::yard::{Slot, Spot, Yard};

const YARDS: u64 = 500;
/// How large an error is, in metres.
pub const SMALLEST: f64 = 0.15;
pub const LARGEST: f64 = 3.0;
/// No reading gets smaller than this by it, in metres.
pub const LEAST_VALUE: f64 = 0.1;

#[derive(Default)]
struct Count {
    detectable: usize,
    first: usize,
    equal: usize,
    /// The best judge beside it, where it is known how the errors are thrown.
    ideal: Option<Ideal>,
    explained: usize,
    separable: usize,
    separable_first: usize,
    small: usize,
    unchecked: usize,
    wrong: Vec<String>,
}

#[derive(Default)]
struct Clean {
    accused: usize,
    readings: usize,
    worst: f64,
    wrong: Vec<String>,
}

pub fn run() {
    let mut count = Count { ideal: Some(Ideal::default()), ..Count::default() };
    let mut clean = Clean::default();
    let mut dice = Dice::new(0x6055, 1);
    for seed in 1..=YARDS {
        let points = 60 + dice.below(61);
        let mut yard = Yard::new(points, seed);
        clean.add(points, seed, &yard);
        let slots = yard.slots();
        let slot = slots[dice.below(slots.len())];
        let error = amount(&mut dice, yard.value(slot));
        count.add(points, seed, &mut yard, slot, error);
    }
    println!("one error of 0.15–3 m in a random reading, {YARDS} yards of 60–120 points, seeds 1–{YARDS}:");
    count.print();
    println!("the same yards clean: readings | accused | bar | most in one yard | yards above 1 % | bar");
    let Clean { accused, readings, worst, wrong } = clean;
    let share = percent(accused, readings);
    println!("{readings} | {accused} ({share:.3} %) | 1 % | {:.2} % | {} | 0", 100.0 * worst, wrong.len());
    list(&wrong);
}

pub fn slips() {
    let mut count = Count::default();
    let mut dice = Dice::new(0x511B, 1);
    for seed in 1..=YARDS {
        let points = 60 + dice.below(61);
        let mut yard = Yard::new(points, seed);
        let slots = yard.slots();
        let slot = slots[dice.below(slots.len())];
        let error = yard.slip(slot, &mut dice);
        count.add(points, seed, &mut yard, slot, error);
    }
    println!("one foot off, or two digits exchanged, in a random reading; yards as in `gross`:");
    count.print();
    println!(
        "explained rightly: {} of {} found ({:.1} %), bar 80 %",
        count.explained,
        count.equal,
        percent(count.explained, count.equal)
    );
}

/// A misread of many metres twists the plan: it must be named all the same, alone, and soon.
pub fn typed() {
    println!(
        "a point in the wrong place, feet for metres, or 5 to 40 m too much, in a random tie: points | yards | named \
         first, or as its equal | bar | explained of those typed | only finding | bar | ms: median, 95 of 100, longest"
    );
    for (points, yards) in [(20, 200), (60, 200), (100, 200), (150, 100), (300, 60)] {
        let mut dice = Dice::new(7, points as u64);
        let (mut named, mut alone, mut explained, mut usual) = (0, 0, 0, 0);
        let (mut times, mut wrong) = (Vec::new(), Vec::new());
        for seed in 1..=yards {
            let mut yard = Yard::new(points, seed);
            let ties: Vec<Slot> = yard.slots().into_iter().filter(|slot| slot.spot == Spot::Tie).collect();
            let slot = ties[dice.below(ties.len())];
            let right = yard.value(slot);
            let error = match seed % 4 {
                0 => -0.9 * right,
                1 => (METRES_PER_FOOT - 1.0) * right,
                2 => (1.0 / METRES_PER_FOOT - 1.0) * right,
                _ => dice.between(5.0, 40.0),
            };
            yard.spoil(slot, error);
            let record = yard.record(Default::default());
            let start = Instant::now();
            let found = adjust(&record);
            times.push(1e3 * start.elapsed().as_secs_f64());
            let all = told(&found);
            let one = all.first().filter(|told| told.holds(slot));
            named += usize::from(one.is_some());
            alone += usize::from(one.is_some() && found.findings.len() == 1);
            let cause = one.and_then(|told| told.doubt(slot)).and_then(|doubt| doubt.causes.first());
            let meant = cause.and_then(|cause| cause.reading.as_ref()).map(|reading| reading.value.metres());
            // The yard writes metres, so metres in the field for feet leave no trace in the figures.
            let told_by_figures = seed % 2 == 0;
            usual += usize::from(told_by_figures);
            explained +=
                usize::from(told_by_figures && meant.is_some_and(|meant| (meant - right).abs() < 0.01));
            if one.is_none() {
                wrong.push(format!(
                    "{points} points, seed {seed}: {right:.2} m {error:+.2} m, {} findings",
                    found.findings.len()
                ));
            }
        }
        times.sort_by(f64::total_cmp);
        let [half, most, all] =
            [0.5, 0.95, 1.0].map(|share| times[(share * times.len() as f64) as usize - 1]);
        println!(
            "{points} | {yards} | {named} | 95 % | {explained} of {usual} | {alone} | 90 % | {half:.0}, {most:.0}, {all:.0}"
        );
        list(&wrong);
    }
}

impl Count {
    fn add(&mut self, points: usize, seed: u64, yard: &mut Yard, slot: Slot, error: f64) {
        let theory = Theory::new(yard);
        let right = yard.value(slot);
        let nameable = nameable(yard, slot);
        yard.spoil(slot, error);
        match theory.checked(slot).filter(|c| c.redundancy >= UNCHECKED) {
            None => self.unchecked += 1,
            Some(checked) if error.abs() <= checked.detectable => self.small += 1,
            Some(Checked { detectable, .. }) => {
                let (_, spoiled) = solve(yard);
                let all = told(&spoiled);
                let first = self.look(&all, slot, right, error.abs() > nameable);
                if let Some((ideal, told)) = self.ideal.as_mut().zip(all.first()) {
                    ideal.add(yard, &spoiled, &theory, told, slot);
                }
                let what = format!(
                    "{points} points, seed {seed}: M{}/{} {:?} {error:+.2} m (∇ {detectable:.2} m, nameable from \
                     {nameable:.2} m)",
                    slot.measurement, slot.part, slot.spot
                );
                self.wrong.extend((!first).then(|| format!("{what}: {}", said(&all, &spoiled))));
            }
        }
    }

    /// Whether the reading is the first suspect, counted.
    fn look(&mut self, all: &[Told], slot: Slot, right: f64, separable: bool) -> bool {
        let suspect = all.first();
        let first = suspect.is_some_and(|told| told.first(slot));
        let equal = suspect.is_some_and(|told| told.holds(slot));
        self.detectable += 1;
        self.first += usize::from(first);
        self.equal += usize::from(equal);
        self.separable += usize::from(separable);
        self.separable_first += usize::from(separable && first);
        let cause = suspect.and_then(|told| told.doubt(slot)).and_then(|doubt| doubt.causes.first());
        let meant = cause.and_then(|cause| cause.reading.as_ref()).map(|reading| reading.value);
        self.explained += usize::from(
            meant.is_some_and(|meant| (meant - Length::from_metres(right)).metres().abs() < 0.01),
        );
        first
    }

    fn print(&self) {
        println!(
            "above the smallest detectable | first suspect | bar | first or told as its equal || above the smallest \
             nameable | first suspect || smaller | unchecked"
        );
        println!(
            "{} | {} ({:.1} %) | 95 % | {} ({:.1} %) || {} | {} ({:.1} %) || {} | {}",
            self.detectable,
            self.first,
            percent(self.first, self.detectable),
            self.equal,
            percent(self.equal, self.detectable),
            self.separable,
            self.separable_first,
            percent(self.separable_first, self.separable),
            self.small,
            self.unchecked
        );
        if let Some(ideal) = &self.ideal {
            println!(
                "named first by the best judge there can be: {} ({:.1} %); he expects {:.1} %",
                ideal.named,
                percent(ideal.named, self.detectable),
                100.0 * ideal.expected / self.detectable.max(1) as f64
            );
        }
        list(&self.wrong);
    }
}

fn said(all: &[Told], spoiled: &Adjustment) -> String {
    let said: Vec<String> = all.iter().map(Told::words).collect();
    format!(
        "{}; {} loose, {} sides asked, variance factor {:.1}",
        if said.is_empty() { "nothing suspected".into() } else { said.join(", ") },
        count_loose(spoiled),
        spoiled.questions.len(),
        spoiled.variance_factor.unwrap_or(f64::NAN)
    )
}

impl Clean {
    fn add(&mut self, points: usize, seed: u64, yard: &Yard) {
        let (_, adjustment) = solve(yard);
        let (found, all) = (told(&adjustment).len(), adjustment.readings.len());
        self.accused += found;
        self.readings += all;
        self.worst = self.worst.max(found as f64 / all as f64);
        if found * 100 > all {
            self.wrong.push(format!("{points} points, seed {seed}: {found} of {all} accused"));
        }
    }
}

/// 0.15 to 3 m, too much or too little, but no reading below a hand's breadth.
fn amount(dice: &mut Dice, value: f64) -> f64 {
    let size = dice.between(SMALLEST, LARGEST);
    if dice.unit() < 0.5 && value.abs() - size > LEAST_VALUE { -size } else { size }
}
