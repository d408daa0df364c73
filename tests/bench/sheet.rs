//! How long the sheet takes on invented yards of 300 and 2,000 things. Reported, not judged.

use std::hint::black_box;
use std::time::Instant;
use swingtie_core::plan::Plan;
use swingtie_core::sheet::{self, Options, pdf};

#[path = "../sheet/furnished.rs"]
mod furnished;

fn main() {
    for points in [60_usize, 330, 660, 2200] {
        let (record, adjustment) = furnished::furnished(points, 2);
        let things = record.features.len() + record.marks.len() + record.problems.len() + record.photos.len();
        let plan = Plan::build(&record, &adjustment);
        let mut times: Vec<f64> = (0..3)
            .map(|_| {
                let clock = Instant::now();
                black_box(sheet::draw(black_box(&record), &adjustment, &plan, &Options::default()));
                clock.elapsed().as_secs_f64() * 1e3
            })
            .collect();
        times.sort_by(f64::total_cmp);
        let middle = times.get(1).copied().unwrap_or(f64::NAN);
        let drawing = sheet::draw(&record, &adjustment, &plan, &Options::default());
        let clock = Instant::now();
        let size = pdf::write(black_box(std::slice::from_ref(&drawing))).map_or(0, |pdf| pdf.bytes.len());
        let writing = clock.elapsed().as_secs_f64() * 1e3;
        println!(
            "{points} points, {things} things: {middle:.0} ms; its PDF of {size} bytes in {writing:.0} ms more"
        );
    }
}
