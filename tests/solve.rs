//! How long a yard takes to solve from nothing, and the books for the same question in a browser.
//! Reported, not judged: a timed test fails on a busy machine.

use std::{fs, hint::black_box, io, path::Path, time::Instant};
use swingtie_core::{
    book::{Book, fold},
    network::adjust,
    plan::Plan,
};
use swingtie_tests::scenario::{Options, scenario};
use swingtie_tests::yard::Yard;

fn main() -> io::Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/bench");
    fs::create_dir_all(&folder)?;
    let scenarios = [1, 2].map(|n| (format!("scenario_{n}"), scenario(n).json_lines(&Options::default())));
    let yards =
        [150, 500].map(|points| (format!("yard_{points}"), Yard::new(points, 1).book().to_json_lines()));
    for (name, text) in scenarios.into_iter().chain(yards) {
        fs::write(folder.join(format!("{name}.jsonl")), &text)?;
        let (book, _) = Book::from_json_lines(&text);
        let record = fold(&book).record;
        let mut times: Vec<f64> = (0..31)
            .map(|_| {
                let start = Instant::now();
                black_box(Plan::build(&record, &adjust(black_box(&record))));
                start.elapsed().as_secs_f64() * 1e3
            })
            .collect();
        times.sort_by(f64::total_cmp);
        let middle = times.get(times.len() / 2).copied().unwrap_or(f64::NAN);
        println!("native, {name}: {middle:.2} ms median of {} solves", times.len());
    }
    Ok(())
}
