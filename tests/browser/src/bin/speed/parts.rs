//! What is measured.

use crate::{line, percentile, spread};
use serde_json::json;
use std::time::Duration;
use swingtie_browser::{Hand, Outcome, Phone, Scheme, Scratch, Size, Surveyor};
use swingtie_core::record::PhotoId;
use swingtie_core::units::float::hypot;
use swingtie_tests::large::Large;
use swingtie_tests::yard::Yard;
use swingtie_xtask::run::workspace;
use tokio::time::sleep;

/// So many times a phone's processor is slower than that of the machine that measures.
const SLOWER: u32 = 4;
const ENTRIES: usize = 1500;
const PHOTOS: usize = 60;

/// Core alone, in the module the other benches have.
pub async fn core() -> Outcome {
    let folder = workspace().join("target/bench");
    Phone::open_folder(&folder, "speed-core", Size::Phone, Scheme::Light, async |phone| {
        for slower in [1, SLOWER] {
            phone.slow_down(slower).await?;
            for entries in [100, ENTRIES, 5000] {
                let mut said = Vec::new();
                for part in ["copy", "whole_fold", "grow", "adjust", "plan", "checks", "advice"] {
                    let ms = phone.evaluate(&format!("long({entries}, '{part}')")).await?;
                    said.push(format!("{part} {:.2}", ms.as_f64().ok_or("no time")?));
                }
                println!("{entries} entries, processor {slower} times slower, ms: {}", said.join(", "));
            }
        }
        Ok(())
    })
    .await
}

/// Opens the app, takes a large site in, with its photos, and is on its plan.
async fn with_site(
    name: &str,
    mut large: Large,
    photos: usize,
    body: impl AsyncFnOnce(&mut Hand<'_>, &Large) -> Outcome,
) -> Outcome {
    let scratch = Scratch::new(name)?;
    Phone::with(name, Size::Phone, Scheme::Light, async |phone| {
        let mut hand = Hand::on(phone).await?;
        large.photos = pictures(&hand, photos).await?;
        let file = scratch.file("long.jsonl", large.book().to_json_lines())?;
        Surveyor::with(phone).bring_in(&file).await?;
        phone.kept_offline().await?;
        hand.wait("watch.named('Measure')").await?;
        body(&mut hand, &large).await
    })
    .await
}

async fn pictures(hand: &Hand<'_>, count: usize) -> Outcome<Vec<PhotoId>> {
    let names: Vec<String> =
        serde_json::from_value(hand.phone.evaluate(&format!("watch.photos({count})")).await?)?;
    Ok(names.into_iter().map(PhotoId).collect())
}

fn usual() -> Large {
    Large::of(ENTRIES)
}

/// Loads the page and taps as soon as there is something; gives when that was, and when the tap was answered.
async fn cold(hand: &mut Hand<'_>, tap: &str, so: &str) -> Outcome<(f64, f64)> {
    hand.phone.evaluate("watch.first = null; 0").await?;
    hand.phone.ask("Page.reload", json!({})).await?;
    let first = hand.wait("globalThis.watch && watch.first").await?.as_f64().ok_or("no time")?;
    hand.phone.evaluate(&format!("watch.until(() => {so}); 0")).await?;
    let at: (f64, f64) = serde_json::from_value(hand.wait(tap).await?)?;
    hand.phone.tap_at(at.0, at.1).await?;
    hand.wait("watch.answer").await?;
    let answered = hand.phone.evaluate("watch.pressed + watch.answer").await?;
    Ok((first, answered.as_f64().ok_or("no time")?))
}

/// From the cache to the first answer.
pub async fn start() -> Outcome {
    with_site("speed-start", usual(), PHOTOS, async |hand, _| {
        // The second load is the first whose files all come from the worker.
        hand.phone.reload().await?;
        sleep(Duration::from_secs(2)).await;
        hand.phone.slow_down(SLOWER).await?;
        let kinds = "document.querySelector('.slip h2')?.textContent ?? ''";
        let (mut shown, mut answered) = (Vec::new(), Vec::new());
        for _ in 0..7 {
            let (first, answer) = cold(hand, "watch.named('Measure')", kinds).await?;
            shown.push(first);
            answered.push(answer);
            sleep(Duration::from_secs(3)).await;
        }
        line("cold start, the plan is shown (median)", percentile(&shown, 0.5), 1500.0);
        line("cold start, the plan answers a tap (median)", percentile(&answered, 0.5), 1500.0);
        hand.tap("All sites").await?;
        let (mut shown, mut answered) = (Vec::new(), Vec::new());
        for _ in 0..7 {
            let more = "document.querySelector('.card-more[open]') ? 'open' : 'shut'";
            let (first, answer) = cold(hand, "watch.selected('.card-more summary')", more).await?;
            shown.push(first);
            answered.push(answer);
            sleep(Duration::from_secs(3)).await;
        }
        line("cold start, the list of sites is shown (median)", percentile(&shown, 0.5), 1500.0);
        line("cold start, the list of sites answers a tap (median)", percentile(&answered, 0.5), 1500.0);
        Ok(())
    })
    .await
}

/// Tapes between two points whose distance is known, as far as Save.
async fn tape(hand: &mut Hand<'_>, yard: &Yard, from: usize, to: usize) -> Outcome {
    let ([ax, ay], [bx, by]) = (yard.truth[from], yard.truth[to]);
    hand.tap("Measure").await?;
    hand.tap("Tape between two points").await?;
    hand.point(&format!("P{}", from + 1)).await?;
    hand.point(&format!("P{}", to + 1)).await?;
    hand.metres(hypot(bx - ax, by - ay)).await
}

/// What the page's own thread did so far, in milliseconds of the slowed processor: all,
/// scripts, styles, layout. Times of the thread, so other work of the machine does not count.
async fn work(hand: &Hand<'_>) -> Outcome<[f64; 4]> {
    let all = hand.phone.ask("Performance.getMetrics", json!({})).await?;
    let named = |name: &str| {
        let all = all["metrics"].as_array();
        let found = all.and_then(|all| all.iter().find(|one| one["name"] == name)?["value"].as_f64());
        1000.0 * found.unwrap_or_default()
    };
    Ok(["TaskDuration", "ScriptDuration", "RecalcStyleDuration", "LayoutDuration"].map(named))
}

const LAST: &str = "document.querySelector('.last')?.textContent ?? ''";

/// A save, and what it makes the page do.
pub async fn save() -> Outcome {
    for entries in [100, ENTRIES, 5000] {
        let large = Large::of(entries);
        with_site(&format!("speed-save-{entries}"), large, 0, async |hand, large| {
            let yard = Yard::new(large.points, 1);
            hand.phone.ask("Performance.enable", json!({ "timeDomain": "threadTicks" })).await?;
            hand.phone.slow_down(SLOWER).await?;
            let (mut acknowledged, mut worked) = (Vec::new(), Vec::new());
            for n in 0..if entries == ENTRIES { 15 } else { 5 } {
                tape(hand, &yard, n % 5, 5 + n % 7).await?;
                sleep(Duration::from_secs(1)).await;
                let before = work(hand).await?;
                acknowledged.push(hand.timed("Save", LAST).await?);
                sleep(Duration::from_millis(1500)).await;
                let after = work(hand).await?;
                worked.push(std::array::from_fn::<f64, 4, _>(|i| after[i] - before[i]));
                hand.tap("Back").await?;
            }
            spread(&format!("{entries} entries, a save acknowledged"), &acknowledged, 100.0);
            let median = |i: usize| percentile(&worked.iter().map(|one| one[i]).collect::<Vec<_>>(), 0.5);
            println!(
                "{entries} entries, what a new reading makes the page's slowed thread do (median, ms): all {:.0}, scripts {:.0}, styles {:.0}, layout {:.0}",
                median(0), median(1), median(2), median(3)
            );
            spread(&format!("{entries} entries, taps between the saves"), &hand.tap_times().await?, 100.0);
            Ok(())
        })
        .await?;
    }
    Ok(())
}

/// A day's work in short: tapes, points, the four tabs, what lies beside the plan.
pub async fn taps() -> Outcome {
    with_site("speed-taps", usual(), PHOTOS, async |hand, large| {
        let yard = Yard::new(large.points, 1);
        hand.phone.slow_down(SLOWER).await?;
        sleep(Duration::from_secs(2)).await;
        hand.tap_times().await?;
        let mut all = Vec::new();
        for turn in 0..6 {
            tape(hand, &yard, turn, 7 + turn).await?;
            // Nobody goes back before he has seen it saved.
            hand.timed("Save", LAST).await?;
            hand.tap("Back").await?;
            hand.tap("Undo").await?;
            hand.tap("Redo").await?;
        }
        all.extend(tell("measuring", hand).await?);
        for turn in 0..6 {
            hand.tap("zoom in").await?;
            hand.tap_point(turn).await?;
            hand.tap_first(".slip-head button, .choice button, .slip button").await?;
            hand.tap("show all").await?;
            hand.tap("tapes").await?;
        }
        all.extend(tell("the drawing and points", hand).await?);
        for _ in 0..4 {
            hand.tap("Book").await?;
            hand.tap_first(".entry-head").await?;
            hand.tap("Problems").await?;
            hand.tap("Plan").await?;
        }
        all.extend(tell("book and problems", hand).await?);
        for _ in 0..4 {
            hand.tap("Sheet").await?;
            sleep(Duration::from_secs(4)).await;
            hand.tap("Plan").await?;
        }
        all.extend(tell("the sheet", hand).await?);
        spread("a tap answered, all of the day", &all, 100.0);
        Ok(())
    })
    .await
}

async fn tell(what: &str, hand: &mut Hand<'_>) -> Outcome<Vec<f64>> {
    let times = hand.tap_times().await?;
    spread(&format!("a tap answered, {what}"), &times, 100.0);
    Ok(times)
}

/// Fingers on a drawing of 2,000 things.
pub async fn moving() -> Outcome {
    let large = Large { points: 600, things: 2000, photos: Vec::new(), entries: 0 };
    with_site("speed-move", large, 0, async |hand, _| {
        for slower in [1, SLOWER] {
            hand.phone.slow_down(slower).await?;
            sleep(Duration::from_secs(2)).await;
            let there = |n: i32| f64::from(if n % 120 < 60 { n % 60 } else { 60 - n % 60 });
            let pan: Vec<Vec<(f64, f64)>> = (0..180).map(|n| vec![(120.0 + 2.0 * there(n), 150.0 + there(n))]).collect();
            let pinch: Vec<Vec<(f64, f64)>> = (0..180)
                .map(|n| vec![(150.0 - there(n), 200.0 - there(n)), (240.0 + there(n), 260.0 + there(n))])
                .collect();
            for (what, steps) in [("a finger pans", &pan), ("two fingers pinch", &pinch)] {
                let (rate, longest) = hand.move_fingers(steps).await?;
                println!(
                    "{what}, processor {slower} times slower: {rate:.0} frames a second, bar 50, ratio {:.2}; longest frame {longest:.0} ms",
                    50.0 / rate
                );
                sleep(Duration::from_secs(1)).await;
                hand.tap("show all").await?;
                sleep(Duration::from_secs(1)).await;
            }
        }
        Ok(())
    })
    .await
}

/// A book of 20,000 entries.
pub async fn long() -> Outcome {
    with_site("speed-long", Large::of(20_000), 0, async |hand, _| {
        for slower in [1, SLOWER] {
            hand.phone.slow_down(slower).await?;
            hand.tap("All sites").await?;
            sleep(Duration::from_secs(8)).await;
            let plan = "document.querySelector('.points .point') ? 'there' : ''";
            let opened = hand.timed_first(".card-link", plan).await?;
            line(&format!("20,000 entries, the plan opens, processor {slower} times slower"), opened, 1000.0);
            sleep(Duration::from_secs(8)).await;
            let rows = "document.querySelector('.entries .entry') ? 'there' : ''";
            let book = hand.timed("Book", rows).await?;
            line(
                &format!("20,000 entries, the Book tab opens, processor {slower} times slower"),
                book,
                1000.0,
            );
            hand.tap("Plan").await?;
            sleep(Duration::from_secs(4)).await;
        }
        Ok(())
    })
    .await
}

/// What the page holds: its scripts' heap, the program's own memory, elements.
async fn held(hand: &Hand<'_>) -> Outcome<[f64; 4]> {
    hand.phone.ask("HeapProfiler.collectGarbage", json!({})).await?;
    let heap = hand.phone.ask("Runtime.getHeapUsage", json!({})).await?["usedSize"].as_f64();
    let program = hand.phone.evaluate("watch.memory.buffer.byteLength").await?.as_f64();
    let counted = hand.phone.ask("Memory.getDOMCounters", json!({})).await?;
    Ok([heap, program, counted["nodes"].as_f64(), counted["jsEventListeners"].as_f64()]
        .map(Option::unwrap_or_default))
}

/// Four hours in a yard, in short: entries come in, tabs are looked at, readings are saved.
pub async fn visit() -> Outcome {
    const FIRST: usize = 200;
    const AT_ONCE: usize = 20;
    let mut large = Large { points: 400, ..Large::of(2000) };
    let scratch = Scratch::new("speed-visit")?;
    Phone::with("speed-visit", Size::Phone, Scheme::Light, async |phone| {
        let mut hand = Hand::on(phone).await?;
        // Only a page that loads under its eyes tells it the program's memory.
        phone.reload().await?;
        large.photos = pictures(&hand, 100).await?;
        let text = large.book().to_json_lines();
        let lines: Vec<&str> = text.lines().collect();
        let (first, rest) = lines.split_at(FIRST);
        let file = scratch.file("visit.jsonl", first.join("\n"))?;
        Surveyor::with(phone).bring_in(&file).await?;
        hand.phone.ask("Performance.enable", json!({})).await?;
        let batches = rest.chunks(AT_ONCE).count();
        let mut marks: Vec<(usize, [f64; 4])> = Vec::new();
        for (n, batch) in rest.chunks(AT_ONCE).enumerate() {
            hand.phone.evaluate(&format!("watch.feed({})", json!(batch))).await?;
            let tab = ["Book", "Problems", "Plan"][n % 3];
            hand.tap(tab).await?;
            hand.tap("Plan").await?;
            if n % 15 == 0 || n + 1 == batches {
                sleep(Duration::from_secs(2)).await;
                marks.push((FIRST + n * AT_ONCE + batch.len(), held(&hand).await?));
            }
        }
        for (entries, [heap, program, nodes, listeners]) in &marks {
            println!(
                "{entries} entries: scripts' heap {:.1} MB, program's memory {:.1} MB, {nodes:.0} nodes, {listeners:.0} listeners",
                heap / 1e6, program / 1e6
            );
        }
        if let (Some((few, before)), Some((many, after))) = (marks.first(), marks.last()) {
            #[expect(clippy::cast_precision_loss, reason = "some thousand")]
            let entries = (many - few) as f64;
            println!("the program's memory grew by {:.1} kB an entry", (after[1] - before[1]) / entries / 1e3);
        }
        // With nothing new, an hour of looking around must leave all as it is.
        let before = held(&hand).await?;
        for _ in 0..20 {
            for tab in ["Book", "Problems", "Plan"] {
                hand.tap(tab).await?;
            }
        }
        sleep(Duration::from_secs(2)).await;
        let after = held(&hand).await?;
        println!(
            "twenty times round the tabs: scripts' heap {:+.2} MB, program's memory {:+.2} MB, nodes {:+.0}, listeners {:+.0}",
            (after[0] - before[0]) / 1e6, (after[1] - before[1]) / 1e6, after[2] - before[2], after[3] - before[3]
        );
        Ok(())
    })
    .await
}
