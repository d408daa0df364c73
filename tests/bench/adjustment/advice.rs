//! Yards with three of ten readings withheld, brought to "no point loose, all checked" twice: by following the
//! app's first advice each time, and by trying every tie a person could take, adjusting with each, and taking
//! the one after which the yard is best known. Which questions of sides come up is answered as one sees it.
//!
//! Best known: fewest points loose; then fewest not checked; then the least sum of the squared half axes of the
//! points not checked. Both tape no longer than the reach, and through no house.

use super::{count_loose, list, percent};
use std::thread;
use swingtie_core::network::{Adjustment, Fix, Freedom, PointState, Reach, adjust, advice};
use swingtie_core::units::float::hypot;
use swingtie_tests::dice::Dice;
use swingtie_tests::yard::{Yard, id, number};

const YARDS: u64 = 100;
const WITHHELD: f64 = 0.3;
/// Readings after which a yard is given up.
const MOST: usize = 80;
/// A wall is touched, not crossed, this near to it (metres).
const TOUCHES: f64 = 0.05;

/// One yard brought to its end both ways.
struct Row {
    seed: u64,
    points: usize,
    advised: Way,
    tried: Way,
}

/// What it took.
struct Way {
    taken: usize,
    complete: bool,
    /// What is not checked in the end.
    left: usize,
    /// States that got worse on the way.
    worse: Vec<String>,
    /// How many of these when a loose point joined the plan.
    joining: usize,
    /// Readings after which more points were not checked than before.
    back: usize,
}

pub fn run() {
    let half = |odd: u64| move || (1..=YARDS).filter(|seed| seed % 2 == odd).map(one).collect::<Vec<_>>();
    let other = thread::spawn(half(0));
    let mut rows = half(1)();
    rows.extend(other.join().expect("the other half ends"));
    rows.sort_by_key(|row| row.seed);
    let count = |what: fn(&Row) -> bool| rows.iter().filter(|row| what(row)).count();
    let (advised, tried) = (sum(&rows, |r| r.advised.taken), sum(&rows, |r| r.tried.taken));
    let worse = sum(&rows, |r| r.advised.worse.len());
    let joining = sum(&rows, |r| r.advised.joining);
    let back = sum(&rows, |r| r.advised.back);
    println!("yards of 30–45 points, seeds 1–{YARDS}, 30 % of the readings withheld:");
    println!(
        "way | all checked | readings taken | ratio | bar | states made worse | bar | of these when a loose point joined | steps back in all"
    );
    println!("every tie tried | {} of {YARDS} | {tried} | 1", count(|r| r.tried.complete));
    println!(
        "first advice | {} of {YARDS} | {advised} | {:.3} | 1.25 | {worse} | 0 | {joining} | {back}",
        count(|r| r.advised.complete),
        advised as f64 / tried.max(1) as f64
    );
    let over = count(|r| 4 * r.advised.taken > 5 * r.tried.taken);
    println!(
        "yards in which the advice took more than 1.25 times: {over} ({:.0} %)",
        percent(over, rows.len())
    );
    let mut wrong = Vec::new();
    for Row { seed, points, advised, tried } in &rows {
        let name = format!("{points} points, seed {seed}");
        wrong.extend(advised.worse.iter().map(|what| format!("{name}: {what}")));
        if !advised.complete || 4 * advised.taken > 5 * tried.taken {
            let (one, two) = (advised.taken, tried.taken);
            wrong.push(format!(
                "{name}: {one} advised, {} left; {two} tried, {} left",
                advised.left, tried.left
            ));
        }
    }
    list(&wrong);
}

fn sum(rows: &[Row], of: fn(&Row) -> usize) -> usize {
    rows.iter().map(of).sum()
}

fn one(seed: u64) -> Row {
    let mut dice = Dice::new(0xAD71CE, seed);
    let points = 30 + dice.below(16);
    let mut yard = Yard::new(points, seed);
    let slots = yard.slots();
    let withheld = (WITHHELD * slots.len() as f64) as usize;
    dice.some(&slots, withheld).into_iter().for_each(|slot| yard.strike(slot));
    Row { seed, points, advised: way(yard.clone(), advised), tried: way(yard, tried) }
}

/// Takes readings until all is checked or there is nothing more to take.
fn way(mut yard: Yard, next: fn(&Yard, &Adjustment) -> Option<(usize, usize)>) -> Way {
    let mut worse = Vec::new();
    let mut last: Option<Adjustment> = None;
    let (mut taken, mut joining, mut back, mut before) = (0, 0, 0, None);
    loop {
        let adjustment = yard.answered(1);
        if let Some(last) = &last {
            let fell = |(p, fix): (_, &Fix)| {
                let was = last.points.get(p)?.state;
                (rank(fix.state) < rank(was)).then(|| format!("{p:?} was {was:?}, is {:?}", fix.state))
            };
            let fell: Vec<String> = adjustment.points.iter().filter_map(fell).collect();
            joining += if count_loose(last) > count_loose(&adjustment) { fell.len() } else { 0 };
            worse.extend(fell);
        }
        let left = adjustment.points.values().filter(|fix| fix.state != PointState::Checked).count();
        back += usize::from(before.is_some_and(|before| left > before));
        before = Some(left);
        let chosen = if left > 0 && taken < MOST { next(&yard, &adjustment) } else { None };
        let Some((a, b)) = chosen else {
            return Way { taken, complete: left == 0, left, worse, joining, back };
        };
        yard.tape(a, b);
        taken += 1;
        last = Some(adjustment);
    }
}

/// A dispute is about a reading; it is no worse than what it ends in.
const fn rank(state: PointState) -> u8 {
    match state {
        PointState::Loose => 0,
        PointState::Fixed | PointState::Disputed => 1,
        PointState::Checked => 2,
    }
}

fn advised(yard: &Yard, adjustment: &Adjustment) -> Option<(usize, usize)> {
    let record = yard.record(yard.rough_sketch(1));
    let first = advice(&record, adjustment, &Reach { most: 1, ..Reach::default() }).into_iter().next()?;
    Some((number(&first.from), number(&first.to)))
}

fn tried(yard: &Yard, adjustment: &Adjustment) -> Option<(usize, usize)> {
    let cost = |&(a, b): &(usize, usize)| {
        let mut trial = yard.clone();
        trial.tape(a, b);
        known(&adjust(&trial.record(trial.rough_sketch(1))))
    };
    let best =
        allowed(yard, adjustment).into_iter().map(|pair| (cost(&pair), pair)).min_by(|one, other| {
            let (one, other) = (one.0, other.0);
            one.0.cmp(&other.0).then(one.1.cmp(&other.1)).then(one.2.total_cmp(&other.2))
        })?;
    (best.0 < known(adjustment)).then_some(best.1)
}

/// How many readings a loose point wants at least.
fn wanted(freedom: &Freedom) -> usize {
    match freedom {
        Freedom::Unmeasured => 2,
        Freedom::OnCircle { .. } | Freedom::Along { .. } | Freedom::WithOthers { .. } => 1,
    }
}

/// How badly a yard is known.
fn known(adjustment: &Adjustment) -> (usize, usize, f64) {
    let count = |of: fn(PointState) -> bool| adjustment.points.values().filter(|fix| of(fix.state)).count();
    let weak = adjustment.points.values().filter(|fix| fix.state != PointState::Checked);
    let axes =
        weak.filter_map(|fix| fix.ellipse).map(|e| hypot(e.semi_major.metres(), e.semi_minor.metres()));
    let free = adjustment.points.values().filter_map(|fix| fix.freedom.as_ref()).map(wanted).sum();
    (free, count(|state| state != PointState::Checked), axes.map(|axis| axis * axis).sum())
}

/// Ties a person could take: from a placed point, within reach, in sight; also ones taken before.
fn allowed(yard: &Yard, adjustment: &Adjustment) -> Vec<(usize, usize)> {
    let reach = Reach::default().tape.metres();
    let placed = |p: usize| adjustment.points.get(&id(p)).is_some_and(|fix| fix.at.is_some());
    let checked =
        |p: usize| adjustment.points.get(&id(p)).is_some_and(|fix| fix.state == PointState::Checked);
    let mut out = Vec::new();
    for b in 0..yard.truth.len() {
        for a in (0..yard.truth.len()).filter(|&a| a != b && placed(a)) {
            let once = a < b || !placed(b);
            let ([ax, ay], [bx, by]) = (yard.truth[a], yard.truth[b]);
            let length = hypot(bx - ax, by - ay);
            if once && !(checked(a) && checked(b)) && (0.5..=reach).contains(&length) && sees(yard, a, b) {
                out.push((a, b));
            }
        }
    }
    out
}

/// Whether no house stands between: by walking along the tape.
fn sees(yard: &Yard, a: usize, b: usize) -> bool {
    let ([ax, ay], [bx, by]) = (yard.truth[a], yard.truth[b]);
    let inside = |[x, y]: [f64; 2], house: &[usize; 6]| {
        let corner = |k: usize| yard.truth[house[k % 6]];
        let mut odd = false;
        for k in 0..6 {
            let ([px, py], [qx, qy]) = (corner(k), corner(k + 1));
            if (py > y) != (qy > y) && x < px + (y - py) / (qy - py) * (qx - px) {
                odd = !odd;
            }
            let length = hypot(qx - px, qy - py);
            let along = (((x - px) * (qx - px) + (y - py) * (qy - py)) / length).clamp(0.0, length);
            if hypot(x - px - along * (qx - px) / length, y - py - along * (qy - py) / length) < TOUCHES {
                return false;
            }
        }
        odd
    };
    let on = |k: u32| {
        let t = f64::from(k) / 200.0;
        [ax + t * (bx - ax), ay + t * (by - ay)]
    };
    yard.houses().all(|house| (1..200).all(|k| !inside(on(k), house)))
}
