//! How fast the built app is on a large site, on a processor four times slowed: `cargo xtask bench speed`.
//!
//! Each line says what was measured, the bar, and their ratio. Reported, not judged; the test `speed` catches what is far
//! beyond the bar. Chromium slows the page's own thread alone: service worker, storage and raster threads stay quick.

#![allow(clippy::indexing_slicing, reason = "where a figure is missing the bench ends")]

mod parts;

use std::env;
use swingtie_browser::Outcome;

const PARTS: [(&str, &str); 7] = [
    ("core", "what one entry more costs core alone, by the length of the book"),
    ("start", "from opening the app to its first answer"),
    ("save", "saving a tape, by the length of the book"),
    ("taps", "every tap of a day's work"),
    ("move", "panning and pinching 2,000 things"),
    ("long", "opening a book of 20,000 entries"),
    ("visit", "memory over a visit of 2,000 entries and 100 photos"),
];

#[tokio::main]
async fn main() -> Outcome {
    let asked: Vec<String> = env::args().skip(1).collect();
    if let Some(stranger) = asked.iter().find(|word| !PARTS.iter().any(|(name, _)| name == *word)) {
        PARTS.iter().for_each(|(name, what)| println!("{name:<8}{what}"));
        return Err(format!("`{stranger}` is none of the parts").into());
    }
    for (name, what) in PARTS {
        if !asked.is_empty() && !asked.iter().any(|one| one == name) {
            continue;
        }
        println!("\n== {name}: {what}");
        match name {
            "core" => parts::core().await?,
            "start" => parts::start().await?,
            "save" => parts::save().await?,
            "taps" => parts::taps().await?,
            "move" => parts::moving().await?,
            "long" => parts::long().await?,
            _ => parts::visit().await?,
        }
    }
    Ok(())
}

/// The share of the sorted times below which the time lies.
#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a few hundred"
)]
pub(crate) fn percentile(times: &[f64], share: f64) -> f64 {
    let mut sorted = times.to_vec();
    sorted.sort_by(f64::total_cmp);
    let at = (share * sorted.len() as f64).ceil() as usize;
    sorted.get(at.clamp(1, sorted.len().max(1)) - 1).copied().unwrap_or_default()
}

/// One line: a time, its bar, and how many times the bar it is.
pub(crate) fn line(what: &str, measured: f64, bar: f64) {
    println!("{what}: {measured:.0} ms, bar {bar:.0} ms, ratio {:.2}", measured / bar);
}

/// Median, 95th percentile and longest of times, the 95th against a bar.
pub(crate) fn spread(what: &str, times: &[f64], bar: f64) {
    let [half, most, all] = [0.5, 0.95, 1.0].map(|share| percentile(times, share));
    line(
        &format!("{what} ({} times): median {half:.0}, longest {all:.0}, 95 of 100 within", times.len()),
        most,
        bar,
    );
}
