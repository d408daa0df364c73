//! How long the solver takes, native and in a browser. Reported, never a gate.

use crate::{
    run::{Outcome, command, run, workspace},
    tools,
};
use std::fs;

/// The page the module is timed in. Its title is what the driver waits for.
const PAGE: &str = r#"<!doctype html>
<html lang="en"><meta charset="utf-8"><title>bench</title><link rel="icon" href="data:,"><h1>bench</h1>
<script type="module">
  import init, { Yard } from "./swingtie_bench_wasm.js";
  const ready = init();
  globalThis.median = async (book) => {
    await ready;
    const yard = new Yard(await (await fetch(book)).text());
    const times = [];
    for (let i = 0; i < 15; i++) {
      const start = performance.now();
      if (!yard.solve()) throw new Error("nothing was solved");
      times.push(performance.now() - start);
    }
    times.sort((a, b) => a - b);
    return times[7];
  };
</script></html>
"#;

/// Times the scenarios.
///
/// # Errors
/// When something cannot be built or run.
pub fn bench() -> Outcome {
    tools::ensure_wasm_target()?;
    tools::ensure_wasm_bindgen()?;
    tools::ensure_browser()?;
    let wasm_opt = tools::ensure_wasm_opt()?;
    run(&mut command("cargo", &["bench", "--locked", "--package", "swingtie-tests", "--bench", "solve"]))?;
    run(&mut command(
        "cargo",
        &[
            "build",
            "--locked",
            "--package",
            "swingtie-bench-wasm",
            "--target",
            "wasm32-unknown-unknown",
            "--profile",
            "wasm-release",
        ],
    ))?;
    let module = "target/wasm32-unknown-unknown/wasm-release/swingtie_bench_wasm.wasm";
    let path = tools::path(Some(wasm_opt))?;
    let bind = ["--target", "web", "--no-typescript", "--out-dir", "target/bench", module];
    run(command("wasm-bindgen", &bind).env("PATH", &path))?;
    let bound = "target/bench/swingtie_bench_wasm_bg.wasm";
    let flags = optimiser_flags()?;
    run(command("wasm-opt", &["-Oz", bound, "-o", bound]).args(flags.split(' ')).env("PATH", &path))?;
    let page = workspace().join("target/bench/index.html");
    fs::write(&page, PAGE).map_err(|error| format!("{}: {error}", page.display()))?;
    run(&mut command("cargo", &["run", "--locked", "--package", "swingtie-browser", "--bin", "bench"]))
}

/// The flags the app itself is optimised with.
fn optimiser_flags() -> Outcome<String> {
    let page = fs::read_to_string(workspace().join("app/index.html"))
        .map_err(|error| format!("app/index.html: {error}"))?;
    let flags = page.split("data-wasm-opt-params=\"").nth(1).and_then(|rest| rest.split('"').next());
    Ok(flags.ok_or("app/index.html names no data-wasm-opt-params".to_owned())?.to_owned())
}
