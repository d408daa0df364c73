//! Packages as wasm: compiled for size, bound to the browser, optimised.

use crate::{
    run::{Outcome, command, run, workspace},
    tools,
};
use std::{
    env,
    path::{Path, PathBuf},
    process::Command,
};

const TARGET: &str = "wasm32-unknown-unknown";
const PROFILE: &str = "wasm-release";

/// As in `.cargo/config.toml`, and panics as [`small`] says.
const FLAGS: &str = "--cfg erase_components -Zunstable-options -Cpanic=immediate-abort";

/// What wasm-opt may do. What brotli finds by itself is left in (`local-cse`); the features are those
/// that rustc's target has by default.
const OPTIMISE: [&str; 12] = [
    "-Oz",
    "--low-memory-unused",
    "--zero-filled-memory",
    "--skip-pass=local-cse",
    "--one-caller-inline-max-function-size=100",
    "--enable-bulk-memory",
    "--enable-bulk-memory-opt",
    "--enable-nontrapping-float-to-int",
    "--enable-sign-ext",
    "--enable-mutable-globals",
    "--enable-reference-types",
    "--enable-multivalue",
];

/// Builds for size what cargo is told to build: with a standard library of its own, made for size like
/// the rest, in which a panic ends the program at once instead of wording a message. Stable cargo and
/// rustc do both, but want to be told that they may (`RUSTC_BOOTSTRAP`).
fn small(command: &mut Command) -> &mut Command {
    command
        .env("RUSTC_BOOTSTRAP", "1")
        .env("CARGO_UNSTABLE_BUILD_STD", "std,panic_abort")
        .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", FLAGS)
}

/// Compiles a package for the browser, with flags for its last step, and hands back where the module lies.
///
/// # Errors
/// When cargo fails.
pub(crate) fn compile(package: &str, file: &str, last: &[&str]) -> Outcome<PathBuf> {
    let build = ["rustc", "--locked", "--package", package, "--target", TARGET, "--profile", PROFILE, "--"];
    run(small(command("cargo", &build).args(last)))?;
    Ok(target().join(TARGET).join(PROFILE).join(file))
}

/// The folder for what is built on the way.
pub(crate) fn target() -> PathBuf {
    workspace().join(env::var_os("CARGO_TARGET_DIR").unwrap_or_else(|| "target".into()))
}

/// Writes what ties a module to the browser, `NAME.js` and `NAME_bg.wasm`, into a folder. Later parts of
/// a program find functions in the table that the linker exports.
///
/// # Errors
/// When wasm-bindgen fails.
pub(crate) fn bind(module: &Path, folder: &Path) -> Outcome {
    let mut bind =
        command("wasm-bindgen", &["--target", "web", "--no-typescript", "--keep-lld-exports", "--out-dir"]);
    run(bind.arg(folder).arg(module).env("PATH", tools::path(None)?))
}

/// Makes a module as small as it gets.
///
/// # Errors
/// When wasm-opt, in the given folder, fails.
pub(crate) fn optimise(module: &Path, optimiser: &Path) -> Outcome {
    let mut optimise = command("wasm-opt", &OPTIMISE);
    optimise.arg(module).arg("-o").arg(module);
    run(optimise.env("PATH", tools::path(Some(optimiser.to_path_buf()))?))
}
