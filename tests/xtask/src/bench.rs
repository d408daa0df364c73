//! How long solver, ground and sheet take, native and in a browser. Reported, never a gate.

use crate::{
    run::{Outcome, command, run, workspace},
    tools, wasm,
};
use std::fs;

/// The page the module is timed in. Its title is what the driver waits for.
const PAGE: &str = r#"<!doctype html>
<html lang="en"><meta charset="utf-8"><title>bench</title><link rel="icon" href="data:,"><h1>bench</h1>
<script type="module">
  import init, { Full, Hill, Long, Yard } from "./swingtie_bench_wasm.js";
  const ready = init();
  const timed = (work) => {
    const times = [];
    for (let i = 0; i < 15; i++) {
      const start = performance.now();
      if (!work()) throw new Error("nothing was solved");
      times.push(performance.now() - start);
    }
    times.sort((a, b) => a - b);
    return times[7];
  };
  globalThis.median = async (book) => {
    await ready;
    const yard = new Yard(await (await fetch(book)).text());
    return timed(() => yard.solve());
  };
  globalThis.ground = async (spots) => {
    await ready;
    const hill = new Hill(spots);
    return timed(() => hill.survey());
  };
  globalThis.long = async (entries, part) => {
    await ready;
    const long = new Long(entries);
    // What takes long is not done fifteen times.
    const start = performance.now();
    if (!long[part]()) throw new Error("nothing was done");
    const once = performance.now() - start;
    const median = once > 500 ? once : timed(() => long[part]());
    long.free();
    return median;
  };
  globalThis.sheet = async (points) => {
    await ready;
    const full = new Full(points);
    return `${full.things()} things ${timed(() => full.draw()).toFixed(0)} ms median`;
  };
</script></html>
"#;

/// Times the scenarios.
///
/// # Errors
/// When something cannot be built or run.
pub fn bench() -> Outcome {
    run(&mut command("cargo", &["bench", "--locked", "--package", "swingtie-tests", "--bench", "solve"]))?;
    module()?;
    run(&mut command("cargo", &["run", "--locked", "--package", "swingtie-browser", "--bin", "bench"]))
}

/// How fast the app in `dist/` is on a large site, or parts of that; the part `core` is timed without the app.
///
/// # Errors
/// When something cannot be built or run.
pub fn speed(parts: &[&str]) -> Outcome {
    tools::ensure_browser()?;
    if parts.is_empty() || parts.contains(&"core") {
        module()?;
    }
    let bench = ["run", "--locked", "--package", "swingtie-browser", "--bin", "speed", "--"];
    run(command("cargo", &bench).args(parts))
}

/// Puts the page and the module together that are timed.
fn module() -> Outcome {
    tools::ensure_wasm_target()?;
    tools::ensure_std_source()?;
    tools::ensure_wasm_bindgen()?;
    tools::ensure_browser()?;
    let wasm_opt = tools::ensure_wasm_opt()?;
    let module = wasm::compile("swingtie-bench-wasm", "swingtie_bench_wasm.wasm", &[])?;
    let folder = workspace().join("target/bench");
    wasm::bind(&module, &folder)?;
    wasm::optimise(&folder.join("swingtie_bench_wasm_bg.wasm"), &wasm_opt)?;
    let page = folder.join("index.html");
    fs::write(&page, PAGE).map_err(|error| format!("{}: {error}", page.display()))?;
    Ok(())
}

/// Parts of the adjustment's bench (`tests/bench/adjustment`): simulated yards of known truth.
///
/// # Errors
/// When it cannot be built or does not know a part.
pub fn adjustment(parts: &[&str]) -> Outcome {
    let bench = ["bench", "--locked", "--package", "swingtie-tests", "--bench", "adjustment", "--"];
    run(command("cargo", &bench).args(parts))
}
