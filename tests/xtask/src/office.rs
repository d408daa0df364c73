//! The second wasm module: built here, since trunk puts together only one.

use crate::{
    dist::{hash, hex, read, small, write},
    run::{Failure, Outcome, command, run, workspace},
    tools,
};
use std::{
    fs,
    path::{Path, PathBuf},
};

const PACKAGE: &str = "swingtie-office";
const NAME: &str = "swingtie_office";
const TARGET: &str = "wasm32-unknown-unknown";
const PROFILE: &str = "wasm-release";

/// Builds the module into the folder, as small as the first one, and hands back the name of its script.
/// The names of its two files hold their hashes, as trunk's do: no cache can mix two versions.
///
/// Without wasm-opt on `PATH` it is only larger.
///
/// # Errors
/// When a tool fails.
pub fn build(folder: &Path) -> Outcome<String> {
    let optimiser = tools::which("wasm-opt").and_then(|file| Some(file.parent()?.to_path_buf()));
    bind(PACKAGE, NAME, "target/office", optimiser)?;
    let made = workspace().join("target/office");
    let wasm_path = made.join(format!("{NAME}_bg.wasm"));
    let wasm = fs::read(&wasm_path).map_err(|error| format!("{}: {error}", wasm_path.display()))?;
    let wasm_name = format!("office-{}.wasm", &hex(&hash(&wasm))[..16]);
    write(&folder.join(&wasm_name), &wasm)?;

    let script = read(&made.join(format!("{NAME}.js")))?;
    let own = format!("{NAME}_bg.wasm");
    if !script.contains(&own) {
        return Err(Failure(format!("the script of {PACKAGE} does not name {own}")));
    }
    let script = script.replace(&own, &wasm_name);
    let script_name = format!("office-{}.js", &hex(&hash(script.as_bytes()))[..16]);
    write(&folder.join(&script_name), script.as_bytes())?;
    Ok(script_name)
}

/// Compiles a package for the browser.
///
/// # Errors
/// When cargo fails.
pub(crate) fn compile(package: &str) -> Outcome {
    let build = ["build", "--locked", "--package", package, "--target", TARGET, "--profile", PROFILE];
    run(small(&mut command("cargo", &build)))
}

/// Builds a package for the browser, binds it and, with the folder of wasm-opt, makes it small. The
/// files come to lie in `out`.
///
/// # Errors
/// When a tool fails.
pub fn bind(package: &str, name: &str, out: &str, optimiser: Option<PathBuf>) -> Outcome {
    compile(package)?;
    let optimised = optimiser.is_some();
    let path = tools::path(optimiser)?;
    let module = format!("target/{TARGET}/{PROFILE}/{name}.wasm");
    let bind = ["--target", "web", "--no-typescript", "--out-dir", out, &module];
    run(command("wasm-bindgen", &bind).env("PATH", &path))?;
    if !optimised {
        println!("warning: no wasm-opt: {package} stays larger than it need be");
        return Ok(());
    }
    let bound = format!("{out}/{name}_bg.wasm");
    let flags = optimiser_flags()?;
    run(command("wasm-opt", &["-Oz", &bound, "-o", &bound]).args(flags.split(' ')).env("PATH", &path))
}

/// The flags the app itself is optimised with.
fn optimiser_flags() -> Outcome<String> {
    let page = read(&workspace().join("app/index.html"))?;
    let flags = page.split("data-wasm-opt-params=\"").nth(1).and_then(|rest| rest.split('"').next());
    Ok(flags.ok_or("app/index.html names no data-wasm-opt-params".to_owned())?.to_owned())
}
