//! The right minimum from a rough sketch and from none, with the sides said.
//!
//! Right: nothing loose, and the sum of squares is the one that Gauss-Newton reaches from the true places.

use super::{count_loose, held, list};
use std::time::Instant;
use swingtie_core::network::{Adjustment, adjust};
use swingtie_core::units::float::hypot;
use swingtie_tests::yard::{Yard, id};

pub fn small() {
    head();
    row(20, 100, "99 of 100");
    row(100, 100, "99 of 100");
}

pub fn middle() {
    head();
    row(500, 100, "95 of 100");
}

pub fn large() {
    head();
    row(2000, 10, "9 of 10");
}

fn head() {
    println!("points | sketch | right minimum | bar | yards with open sides | median time of adjust");
}

fn row(points: usize, yards: u64, bar: &str) {
    for sketch in ["rough", "none"] {
        let (mut right, mut asked, mut times, mut wrong) = (0, 0, Vec::new(), Vec::new());
        for seed in 1..=yards {
            let yard = Yard::new(points, seed);
            let drawn = if sketch == "rough" { yard.rough_sketch(seed) } else { Default::default() };
            let record = yard.record(drawn);
            let clock = Instant::now();
            let adjustment = adjust(&record);
            times.push(clock.elapsed().as_secs_f64());
            asked += u64::from(!adjustment.questions.is_empty());
            match fault(&yard, &adjustment) {
                None => right += 1,
                Some(why) => wrong.push(format!("seed {seed}: {why}")),
            }
        }
        times.sort_by(f64::total_cmp);
        let middle = 1e3 * times[times.len() / 2];
        println!("{points} | {sketch} | {right} of {yards} | {bar} | {asked} | {middle:.1} ms");
        list(&wrong);
    }
}

fn fault(yard: &Yard, adjustment: &Adjustment) -> Option<String> {
    let loose = count_loose(adjustment);
    let Some((a, b)) = held(adjustment) else { return Some("nothing held".into()) };
    let (network, truth) = yard.network(a, b);
    let best = network.solve(&truth);
    if loose > 0 {
        return Some(format!("{loose} points loose"));
    }
    let off = |(p, [x, y]): (usize, &[f64; 2])| {
        let (px, py) = adjustment.points[&id(p)].at.map_or((f64::NAN, f64::NAN), |at| at.metres());
        hypot(px - x, py - y)
    };
    let far = best.x.iter().enumerate().map(off).filter(|d| *d > 0.05).count();
    let ratio = adjustment.chi_square / best.chi_square;
    let better = if ratio < 1.0 { " (lower than from the truth)" } else { "" };
    let open = adjustment.questions.len();
    (!(0.999_999..=1.000_001).contains(&ratio)).then(|| {
        format!("{ratio:.4} times the sum of squares{better}, {far} points elsewhere, {open} sides asked")
    })
}
