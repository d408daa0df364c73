//! The kernel's time for coordinates alone and with all statistics, and beside another program's.
//!
//! Times on a shared machine mean nothing by themselves; ratios taken alternately in one run do. Another
//! solver is timed beside when `SWINGTIE_PEER` names a program: it is called with a file and the number of
//! repeats and prints a line with `"best_s": SECONDS` and `"chi2": SUM`. The file: a line `points rows ux uy`
//! (the first point is held, the second may slide along u), for each point `x0 y0 xtrue ytrue`, for each row
//! `kind a b p value value2 sd sd2`: 0 a distance a–b; 1 station and offset of p from a → b; 2 a square
//! corner at b between a and p.

use std::fmt::Write as _;
use std::{env, fs, hint::black_box, path::Path, process::Command, time::Instant};
use swingtie_core::network::adjust;
use swingtie_core::network::kernel::{Equation, Network, Place, Shape};
use swingtie_core::units::float::ln;
use swingtie_tests::dice::Dice;
use swingtie_tests::yard::Yard;

const ROUNDS: usize = 5;

pub fn run() {
    let peer = env::var_os("SWINGTIE_PEER");
    if peer.is_none() {
        println!("SWINGTIE_PEER names no program: no ratio");
    }
    println!("points | kernel | with all statistics | times | peer | kernel / peer | bar");
    let mut by_size = Vec::new();
    for points in [20, 100, 500, 2000, 10_000] {
        let (network, start, truth) = network(points);
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../target/bench/peer_{points}.txt"));
        if let Some(folder) = file.parent() {
            fs::create_dir_all(folder).expect("the target folder can be written");
        }
        fs::write(&file, peer_file(&network, &start, &truth)).expect("the target folder can be written");
        let (mut alone, mut whole, mut other) = (f64::INFINITY, f64::INFINITY, f64::INFINITY);
        for _ in 0..ROUNDS {
            alone = alone.min(best(|| network.solve(black_box(&start)).chi_square));
            whole = whole.min(best(|| {
                let solved = network.solve(black_box(&start));
                network.statistics(&solved.x).covariance.len() as f64
            }));
            if let Some(peer) = &peer {
                let (seconds, chi_square) = ask(Path::new(peer), &file);
                let own = network.solve(&start).chi_square;
                assert!((own - chi_square).abs() < 1e-6 * own, "{points} points: {own}, peer {chi_square}");
                other = other.min(seconds);
            }
        }
        by_size.push(alone);
        let ratio = if other.is_finite() { format!("{:.2}", alone / other) } else { "–".into() };
        println!(
            "{points} | {:.3} ms | {:.3} ms | {:.2} | {:.3} ms | {ratio} | 1.5",
            1e3 * alone,
            1e3 * whole,
            whole / alone,
            1e3 * other
        );
    }
    let growth = ln(by_size[4] / by_size[2]) / ln(20.0);
    println!("growth from 500 to 10,000 points: n^{growth:.3} (bar n^1.2); statistics at 500: bar 10 times");
}

/// Everything that happens after a new reading: first positions, solving, states, findings.
pub fn states() {
    println!("points | adjust, best of 5 | bar in the browser");
    for (points, bar) in [(20, "–"), (150, "16 ms"), (500, "60 ms")] {
        let record = Yard::new(points, 1).record(Default::default());
        let time =
            (0..5).map(|_| timed(|| adjust(black_box(&record)).chi_square)).fold(f64::INFINITY, f64::min);
        println!("{points} | {:.2} ms | {bar}", 1e3 * time);
    }
}

/// Distances, lines and corners with the first house's wall held, started 0.3 m beside the truth.
fn network(points: usize) -> (Network, Vec<Place>, Vec<Place>) {
    let yard = Yard::new(points, 1);
    // Numbered so that the held wall's ends are 0 and 1, as the peer wants it.
    let lots = points / 10;
    let (a, b) = (lots, lots + 1);
    let (mut network, mut truth) = yard.network(a, b);
    let moved = |p: u32| match p as usize {
        0 => a as u32,
        1 => b as u32,
        q if q == a => 0,
        q if q == b => 1,
        _ => p,
    };
    for e in &mut network.equations {
        e.shape = match e.shape {
            Shape::Distance { a, b } => Shape::Distance { a: moved(a), b: moved(b) },
            Shape::Station { a, b, p } => Shape::Station { a: moved(a), b: moved(b), p: moved(p) },
            Shape::Offset { a, b, p } => Shape::Offset { a: moved(a), b: moved(b), p: moved(p) },
            Shape::Square { at, a, c } => Shape::Square { at: moved(at), a: moved(a), c: moved(c) },
            other => other,
        };
    }
    truth.swap(0, a);
    truth.swap(1, b);
    network.held.swap(0, a);
    network.held.swap(1, b);
    let mut dice = Dice::new(0x57A7, points as u64);
    let mut start: Vec<Place> =
        truth.iter().map(|[x, y]| [x + dice.gauss(0.3), y + dice.gauss(0.3)]).collect();
    start[0] = [0.0, 0.0];
    start[1][1] = 0.0;
    (network, start, truth)
}

fn peer_file(network: &Network, start: &[Place], truth: &[Place]) -> String {
    let mut rows = Vec::new();
    let mut before: Option<&Equation> = None;
    for e in &network.equations {
        match (e.shape, before) {
            (Shape::Distance { a, b }, _) => rows.push(format!("0 {a} {b} {a} {} 0 {} 1", e.value, e.sd)),
            (Shape::Square { at, a, c }, _) => rows.push(format!("2 {a} {at} {c} 0 0 {} 1", e.sd)),
            (Shape::Offset { a, b, p }, Some(s)) => {
                rows.push(format!("1 {a} {b} {p} {} {} {} {}", s.value, e.value, s.sd, e.sd));
            }
            _ => {}
        }
        before = Some(e);
    }
    let mut text = format!("{} {} 1 0\n", start.len(), rows.len());
    for ([x, y], [tx, ty]) in start.iter().zip(truth) {
        let _ = writeln!(text, "{x} {y} {tx} {ty}");
    }
    text + &rows.join("\n") + "\n"
}

fn ask(peer: &Path, file: &Path) -> (f64, f64) {
    let said = Command::new(peer).arg(file).arg("5").output().expect("the peer runs");
    let said: serde_json::Value = serde_json::from_slice(&said.stdout).expect("the peer prints JSON");
    let number = |key: &str| said[key].as_f64().expect("a number");
    (number("best_s"), number("chi2"))
}

fn best(mut what: impl FnMut() -> f64) -> f64 {
    (0..5).map(|_| timed(&mut what)).fold(f64::INFINITY, f64::min)
}

fn timed(mut what: impl FnMut() -> f64) -> f64 {
    let clock = Instant::now();
    black_box(what());
    clock.elapsed().as_secs_f64()
}
