//! Times the solver in Chromium: the page and module that `cargo xtask bench` puts together.

use swingtie_browser::{Outcome, Phone, Scheme, Size};
use swingtie_xtask::run::workspace;

#[tokio::main]
async fn main() -> Outcome {
    let folder = workspace().join("target/bench");
    Phone::open_folder(&folder, "bench", Size::Phone, Scheme::Light, async |phone| {
        for slower in [1, 4] {
            phone.slow_down(slower).await?;
            // Wanted of one solve on a processor that is not slowed: 30 ms for a scenario, 16 ms and 60 ms for
            // the generated yards of 150 and 500 points.
            for name in ["scenario_1", "scenario_2", "yard_150", "yard_500"] {
                let median = phone.evaluate(&format!("median('{name}.jsonl')")).await?;
                let median = median.as_f64().ok_or("no figure")?;
                println!("Chromium, {name}, processor {slower} times slower: {median:.2} ms median");
            }
            // Wanted of the surface, contours and hollows of 2,000 spots: 150 ms.
            for spots in [200, 2000] {
                let median = phone.evaluate(&format!("ground({spots})")).await?;
                let median = median.as_f64().ok_or("no figure")?;
                println!("Chromium, ground of {spots} spots, processor {slower} times slower: {median:.2} ms median");
            }
            // Wanted of the sheet: 300 ms for 300 things, 2 s for 2,000.
            for points in [330, 2200] {
                let drawn = phone.evaluate(&format!("sheet({points})")).await?;
                println!("Chromium, sheet, processor {slower} times slower: {drawn}");
            }
        }
        Ok(())
    })
    .await
}
