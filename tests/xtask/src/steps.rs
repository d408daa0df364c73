//! Everything a change must pass, in order.

use crate::{
    dist::{self, Optimise},
    lighthouse, reference,
    run::{Count, Outcome, cargo_test, command, run},
    size, tools,
};
use std::time::Instant;

type Step<'a> = (&'a str, &'a dyn Fn(&mut Count) -> Outcome);

/// Runs every check and prints how long each took.
///
/// # Errors
/// The first check that fails.
pub fn test() -> Outcome {
    let mut count = Count::default();
    let steps: [Step; 13] = [
        ("formatting", &|_| run(&mut command("cargo", &["fmt", "--all", "--check"]))),
        ("browser and drawing tools", &|_| {
            tools::ensure_browser()?;
            tools::ensure_engines()?;
            tools::ensure_axe().map(drop)
        }),
        ("lints, native", &|_| lint_native()),
        ("lints, browser", &|_| lint_browser()),
        ("licences, sources and known faults", &|_| dependencies()),
        ("reference solutions", &|_| reference::solve()),
        ("unit, property, reference, tidy and documentation tests", &native_tests),
        ("documentation", &|_| document()),
        ("release build", &|_| dist::build(Optimise::Must)),
        ("transfer size", &|_| size::check()),
        ("desk command", &|_| desk()),
        ("first visit by Lighthouse", &|_| lighthouse::check()),
        ("browser tests", &browser_tests),
    ];
    let mut times = Vec::new();
    for (number, (name, step)) in steps.iter().enumerate() {
        println!("\n== {}/{}: {name}", number + 1, steps.len());
        let start = Instant::now();
        step(&mut count)?;
        times.push((name, start.elapsed().as_secs_f64()));
    }
    println!("\n== all passed");
    for (name, seconds) in times {
        println!("{seconds:>8.1} s  {name}");
    }
    println!("{} passed, {} failed", count.passed, count.failed);
    Ok(())
}

fn lint_native() -> Outcome {
    run(&mut command(
        "cargo",
        &[
            "clippy",
            "--locked",
            "--workspace",
            "--exclude",
            "swingtie-app",
            "--all-targets",
            "--all-features",
            "--",
            "-D",
            "warnings",
        ],
    ))
}

fn lint_browser() -> Outcome {
    tools::ensure_wasm_target()?;
    run(&mut command(
        "cargo",
        &[
            "clippy",
            "--locked",
            "--package",
            "swingtie-app",
            "--all-features",
            "--target",
            "wasm32-unknown-unknown",
            "--",
            "-D",
            "warnings",
        ],
    ))
}

/// What may be depended on stands in `.cargo/deny.toml`.
fn dependencies() -> Outcome {
    tools::ensure_deny()?;
    run(&mut command(
        "cargo",
        &["deny", "--locked", "check", "--hide-inclusion-graph", "bans", "licenses", "sources"],
    ))?;
    // The list of known faults comes over the network, apart from the registry.
    if run(&mut command("cargo", &["deny", "fetch", "db"])).is_err() {
        println!("NOT CHECKED: known faults (advisories), whose list cannot be fetched from here");
        return Ok(());
    }
    run(&mut command("cargo", &["deny", "--locked", "check", "advisories"]))
}

fn native_tests(count: &mut Count) -> Outcome {
    cargo_test(
        &[
            "test",
            "--locked",
            "--workspace",
            "--exclude",
            "swingtie-browser",
            "--all-features",
            "--no-fail-fast",
        ],
        count,
    )
}

fn document() -> Outcome {
    let mut doc =
        command("cargo", &["doc", "--locked", "--package", "swingtie-core", "--all-features", "--no-deps"]);
    run(doc.env("RUSTDOCFLAGS", "-D warnings"))
}

/// Built here, so that no browser test waits for a compiler.
fn desk() -> Outcome {
    run(&mut command("cargo", &["build", "--locked", "--package", "swingtie-core", "--features", "cli"]))
}

fn browser_tests(count: &mut Count) -> Outcome {
    // One browser at a time: phones do not share a processor either.
    cargo_test(
        &["test", "--locked", "--package", "swingtie-browser", "--no-fail-fast", "--", "--test-threads=1"],
        count,
    )
}
