//! How long a yard takes to solve from nothing, and the books for the same question in a browser.
//! Reported, not judged: a timed test fails on a busy machine.

use std::{fs, hint::black_box, io, path::Path, time::Instant};
use swingtie_core::{
    book::{Book, fold},
    network::adjust,
    plan::Plan,
};
use swingtie_tests::scenario::{Options, scenario};

fn main() -> io::Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/bench");
    fs::create_dir_all(&folder)?;
    for number in [1, 2] {
        let text = scenario(number).json_lines(&Options::default());
        fs::write(folder.join(format!("scenario_{number}.jsonl")), &text)?;
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
        println!("native, scenario {number}: {middle:.2} ms median of {} solves", times.len());
    }
    Ok(())
}
