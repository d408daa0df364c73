//! Times the solver in Chromium: the page and module that `cargo xtask bench` puts together.

use swingtie_browser::{Outcome, Phone, Scheme, Size};
use swingtie_xtask::run::workspace;

#[tokio::main]
async fn main() -> Outcome {
    let folder = workspace().join("target/bench");
    Phone::open_folder(&folder, "bench", Size::Phone, Scheme::Light, async |phone| {
        for slower in [1, 4] {
            phone.slow_down(slower).await?;
            for number in [1, 2] {
                let median = phone.evaluate(&format!("median('scenario_{number}.jsonl')")).await?;
                let median = median.as_f64().ok_or("no figure")?;
                println!(
                    "Chromium, scenario {number}, processor {slower} times slower: {median:.2} ms median"
                );
            }
        }
        Ok(())
    })
    .await
}
