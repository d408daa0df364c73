//! The tools a build and its tests need: found where they are, installed where they are not.
//!
//! Each is installed the ordinary way (cargo's own bin folder, the user's cache folder, Debian's
//! packages) at a pinned version, and left alone when it is there, so a second clone is quick.

use crate::run::{Failure, Outcome, command, output, run, workspace};
use std::{
    env,
    ffi::OsString,
    fs,
    path::{Path, PathBuf},
};

/// The version of the crate `cargo-deny`, which looks at licences, sources and known faults of what is depended on.
const DENY: &str = "0.20.2";
/// The version of the npm package `binaryen`, for its wasm-opt.
const BINARYEN: &str = "132.0.0";
/// The version of the npm package `axe-core`, which looks for what keeps people out.
const AXE: &str = "4.14.1";
/// The version of the npm package `lighthouse`; later ones want a later Node.js than Debian has.
const LIGHTHOUSE: &str = "12.2.3";
/// The version of Firefox's driver.
const GECKODRIVER: &str = "0.37.1";
/// The npm packages that look whether a map layer is GeoJSON as RFC 7946 has it. The first is maintained and leaves
/// out the order of rings; the second, which it follows, knows it (the later version needs a package that no registry
/// has).
const CHECK_GEOJSON: &str = "0.1.14";
const GEOJSONHINT: &str = "3.2.0";
/// The Python packages that figures, places on earth, files and the book's schema are compared with.
const PYTHON: [(&str, &str); 8] = [
    ("numpy", "2.4.6"),
    ("scipy", "1.17.1"),
    ("shapely", "2.2.0"),
    ("pyproj", "3.7.2"),
    ("pvlib", "0.16.1"),
    ("pyogrio", "0.13.0"),
    ("pygeomag", "1.1.0"),
    ("jsonschema", "4.26.0"),
];

/// Adds the wasm target where it is missing.
///
/// # Errors
/// When rustup cannot.
pub fn ensure_wasm_target() -> Outcome {
    let sysroot = output(&mut command("rustc", &["--print", "sysroot"]))?;
    if Path::new(sysroot.trim()).join("lib/rustlib/wasm32-unknown-unknown").is_dir() {
        return Ok(());
    }
    run(&mut command("rustup", &["target", "add", "wasm32-unknown-unknown"]))
}

/// Adds the standard library's source where it is missing: the phone's is built for size.
///
/// # Errors
/// When rustup cannot.
pub fn ensure_std_source() -> Outcome {
    let sysroot = output(&mut command("rustc", &["--print", "sysroot"]))?;
    if Path::new(sysroot.trim()).join("lib/rustlib/src/rust/library/std").is_dir() {
        return Ok(());
    }
    run(&mut command("rustup", &["component", "add", "rust-src"]))
}

/// Installs the wasm-bindgen command of the version that `Cargo.lock` names: the two must agree.
///
/// # Errors
/// When it cannot be installed.
pub fn ensure_wasm_bindgen() -> Outcome {
    let version = locked_version("wasm-bindgen")?;
    if has_version("wasm-bindgen", &version)? {
        return Ok(());
    }
    let spec = format!("wasm-bindgen-cli@{version}");
    // Without --locked: the package's own lock file names a yanked version.
    run(&mut command("cargo", &["install", &spec]))?;
    if has_version("wasm-bindgen", &version)? {
        return Ok(());
    }
    Err(Failure(format!("{spec} was installed, but `wasm-bindgen --version` still names another version")))
}

/// Installs cargo-deny, unoptimised: it is built in half the time and runs for seconds.
///
/// # Errors
/// When it cannot be installed.
pub fn ensure_deny() -> Outcome {
    if has_version("cargo-deny", DENY)? {
        return Ok(());
    }
    let spec = format!("cargo-deny@{DENY}");
    run(command("cargo", &["install", "--locked", "--debug", &spec]).env("CARGO_PROFILE_DEV_DEBUG", "0"))
}

fn has_version(program: &str, version: &str) -> Outcome<bool> {
    let mut ask = command(program, &["--version"]);
    ask.env("PATH", path(None)?);
    Ok(output(&mut ask).is_ok_and(|said| said.split_whitespace().any(|word| word == version)))
}

/// The version of a package in `Cargo.lock`.
fn locked_version(package: &str) -> Outcome<String> {
    let lock = fs::read_to_string(workspace().join("Cargo.lock"))
        .map_err(|error| format!("cannot read Cargo.lock: {error}"))?;
    let mut lines = lock.lines();
    let wanted = format!("name = \"{package}\"");
    lines.find(|line| *line == wanted);
    let version = lines.next().and_then(|line| line.strip_prefix("version = \"")?.strip_suffix('"'));
    version.map(str::to_owned).ok_or_else(|| Failure(format!("Cargo.lock does not name {package}")))
}

/// Installs wasm-opt where node exists (on Debian as root, node too) and hands back its folder.
///
/// # Errors
/// When there is no node and none can be installed.
pub fn ensure_wasm_opt() -> Outcome<PathBuf> {
    let bin = npm_package("binaryen", BINARYEN, ".bin/wasm-opt")?;
    output(&mut command(&bin, &["--version"]))?;
    Ok(bin.parent().map(Path::to_path_buf).unwrap_or_default())
}

/// Installs axe-core where node exists, as wasm-opt is, and hands back its script.
///
/// # Errors
/// As [`ensure_wasm_opt`].
pub fn ensure_axe() -> Outcome<PathBuf> {
    npm_package("axe-core", AXE, "axe-core/axe.min.js")
}

/// Installs Lighthouse where node exists, as wasm-opt is, and hands back its program.
///
/// # Errors
/// As [`ensure_wasm_opt`].
pub fn ensure_lighthouse() -> Outcome<PathBuf> {
    npm_package("lighthouse", LIGHTHOUSE, ".bin/lighthouse")
}

/// A file of an npm package, installed in the user's cache folder where it is not there yet.
fn npm_package(name: &str, version: &str, file: &str) -> Outcome<PathBuf> {
    let home = cache_folder()?.join(format!("{}-{version}", name.trim_start_matches('@').replace('/', "-")));
    let file = home.join("node_modules").join(file);
    if !file.is_file() {
        if which("npm").is_none() && apt(&["nodejs", "npm"]).is_err() {
            return Err(Failure(format!("the npm package {name} is needed: install Node.js with npm")));
        }
        fs::create_dir_all(&home).map_err(|error| format!("{}: {error}", home.display()))?;
        let spec = format!("{name}@{version}");
        let mut npm = command("npm", &["install", "--no-audit", "--no-fund", "--prefix", ".", &spec]);
        run(npm.current_dir(&home))?;
    }
    if file.is_file() {
        Ok(file)
    } else {
        Err(Failure(format!("{name} {version} has no {}", file.display())))
    }
}

/// Installs what looks at map layers, as wasm-opt is, and hands back the main scripts of both packages.
///
/// # Errors
/// As [`ensure_wasm_opt`].
pub fn ensure_geojson_checks() -> Outcome<[PathBuf; 2]> {
    let maintained =
        npm_package("@placemarkio/check-geojson", CHECK_GEOJSON, "@placemarkio/check-geojson/dist/index.js")?;
    let strict = npm_package("@mapbox/geojsonhint", GEOJSONHINT, "@mapbox/geojsonhint/lib/index.js")?;
    Ok([maintained, strict])
}

/// Makes a Python environment with the packages of [`PYTHON`] in the user's cache folder and hands back its Python.
///
/// # Errors
/// When there is no Python 3.11 or later with its venv module, or the packages cannot be had.
pub fn ensure_python() -> Outcome<PathBuf> {
    let wanted: Vec<String> = PYTHON.iter().map(|(name, version)| format!("{name}=={version}")).collect();
    let home = cache_folder()?.join(format!("python-{}", PYTHON.map(|(_, version)| version).join("-")));
    let python = if cfg!(windows) { home.join("Scripts/python.exe") } else { home.join("bin/python") };
    // By what is installed, not by importing it, which takes seconds.
    let ask = "import sys; from importlib.metadata import version\n\
               for wish in sys.argv[1:]: assert version(wish.split('==')[0]) == wish.split('==')[1], wish";
    let there = || output(command(&python, &["-c", ask]).args(&wanted));
    if python.is_file() && there().is_ok() {
        return Ok(python);
    }
    let make = |program: &str| run(command(program, &["-m", "venv", "--clear"]).arg(&home));
    let made = ["python3", "python"].iter().any(|name| which(name).is_some() && make(name).is_ok());
    if !made {
        // Debian has the module in a package of its own.
        apt(&["python3", "python3-venv"]).and_then(|()| make("python3")).map_err(|failure| {
            Failure(format!("the tests need Python 3.11 or later with venv: {failure}"))
        })?;
    }
    let quiet = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check"];
    run(command(&python, &quiet).args(["--only-binary", ":all:"]).args(&wanted))?;
    there().map_err(|failure| Failure(format!("the Python packages are not as asked for: {failure}")))?;
    Ok(python)
}

/// Chromium, its driver, and what the tests look at drawings with, on Debian installed where missing.
///
/// # Errors
/// When something is missing and cannot be installed, with what to install.
pub fn ensure_browser() -> Outcome {
    let wanted = [
        (chromium().is_some(), "chromium"),
        (which("chromedriver").is_some(), "chromium-driver"),
        (which("rsvg-convert").is_some(), "librsvg2-bin"),
        (which("pdftoppm").is_some(), "poppler-utils"),
        (which("qpdf").is_some(), "qpdf"),
        (output(&mut command("fc-list", &[])).is_ok_and(|list| !list.trim().is_empty()), "fonts-dejavu-core"),
    ];
    let mut missing: Vec<&str> =
        wanted.iter().filter(|(there, _)| !there).map(|(_, package)| *package).collect();
    if missing.is_empty() {
        return Ok(());
    }
    if missing.contains(&"fonts-dejavu-core") {
        missing.push("fontconfig");
    }
    apt(&missing).map_err(|failure| {
        Failure(format!("the browser tests need {} (Debian's package names): {failure}", missing.join(", ")))
    })
}

/// Firefox and WebKit with what drives them, on Debian installed where missing.
///
/// # Errors
/// When something is missing and cannot be installed, with what to install.
pub fn ensure_engines() -> Outcome {
    let wanted = [
        (firefox().is_some(), "firefox-esr"),
        (which("WebKitWebDriver").is_some() && mini_browser().is_some(), "webkit2gtk-driver"),
        (which("Xvfb").is_some(), "xvfb"),
    ];
    let missing: Vec<&str> = wanted.iter().filter(|(there, _)| !there).map(|(_, package)| *package).collect();
    if !missing.is_empty() {
        apt(&missing).map_err(|failure| {
            Failure(format!(
                "the browser tests need {} (Debian's package names): {failure}",
                missing.join(", ")
            ))
        })?;
    }
    if has_version("geckodriver", GECKODRIVER)? {
        return Ok(());
    }
    // Not optimised: it passes on some thousand small messages, and is built in a third of the time.
    let spec = format!("geckodriver@{GECKODRIVER}");
    run(command("cargo", &["install", "--locked", "--debug", &spec]).env("CARGO_PROFILE_DEV_DEBUG", "0"))?;
    if has_version("geckodriver", GECKODRIVER)? {
        return Ok(());
    }
    Err(Failure(format!("{spec} was installed, but `geckodriver --version` still names another version")))
}

/// Firefox, as Debian names it or as others do.
#[must_use]
pub fn firefox() -> Option<PathBuf> {
    ["firefox-esr", "firefox"].iter().find_map(|name| which(name))
}

/// The small browser that WebKit's driver starts: it lies beside the library, in a folder named after the machine.
#[must_use]
pub fn mini_browser() -> Option<PathBuf> {
    let folders = fs::read_dir("/usr/lib").ok()?.flatten().map(|folder| folder.path());
    folders.map(|folder| folder.join("webkit2gtk-4.1/MiniBrowser")).find(|file| file.is_file())
}

/// Info-ZIP's unzip, which looks at site packages, on Debian installed where missing.
///
/// # Errors
/// When it is missing and cannot be installed.
pub fn ensure_unzip() -> Outcome<PathBuf> {
    if which("unzip").is_none() {
        apt(&["unzip"]).map_err(|failure| Failure(format!("the tests need unzip: {failure}")))?;
    }
    which("unzip").ok_or_else(|| Failure("unzip was installed, but is not on the path".to_owned()))
}

/// The browser the tests drive.
#[must_use]
pub fn chromium() -> Option<PathBuf> {
    let names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];
    let on_mac = ["/Applications/Chromium.app/Contents/MacOS/Chromium"];
    let found = names.iter().find_map(|name| which(name));
    found.or_else(|| on_mac.iter().map(PathBuf::from).find(|path| path.is_file()))
}

/// Installs Debian's packages, as root or through sudo where it asks for no password.
fn apt(packages: &[&str]) -> Outcome {
    if !Path::new("/etc/debian_version").is_file() || which("apt-get").is_none() {
        return Err(Failure("this machine has no apt-get; install it by hand".to_owned()));
    }
    let root = output(&mut command("id", &["-u"])).is_ok_and(|id| id.trim() == "0");
    let sudo = !root && output(&mut command("sudo", &["-n", "true"])).is_ok();
    if !root && !sudo {
        return Err(Failure(format!("run `sudo apt-get install {}`", packages.join(" "))));
    }
    let with_rights = |arguments: &[&str]| {
        let mut all = if sudo { vec!["-n", "apt-get"] } else { vec![] };
        all.extend(arguments);
        let mut command = command(if sudo { "sudo" } else { "apt-get" }, &all);
        command.env("DEBIAN_FRONTEND", "noninteractive");
        command
    };
    run(&mut with_rights(&["-qq", "update"]))?;
    let mut arguments = vec!["-qq", "install", "--yes", "--no-install-recommends"];
    arguments.extend(packages);
    run(&mut with_rights(&arguments))
}

/// The folder for what is installed for this project's builds, shared by all its clones.
fn cache_folder() -> Outcome<PathBuf> {
    let cache = env::var_os("XDG_CACHE_HOME").map(PathBuf::from);
    let home = || {
        env::var_os("HOME").or_else(|| env::var_os("USERPROFILE")).map(|home| Path::new(&home).join(".cache"))
    };
    let folder = cache.filter(|path| path.is_absolute()).or_else(home);
    Ok(folder.ok_or_else(|| Failure("neither XDG_CACHE_HOME nor HOME is set".to_owned()))?.join("swingtie"))
}

/// `PATH` with cargo's bin folder and the given one in front.
///
/// # Errors
/// When a folder's name holds the separator.
pub fn path(first: Option<PathBuf>) -> Outcome<OsString> {
    let cargo = env::var_os("CARGO_HOME").map(PathBuf::from);
    let cargo = cargo.or_else(|| env::var_os("HOME").map(|home| Path::new(&home).join(".cargo")));
    let own = first.into_iter().chain(cargo.map(|home| home.join("bin")));
    let inherited = env::var_os("PATH").unwrap_or_default();
    let all: Vec<PathBuf> = own.chain(env::split_paths(&inherited)).collect();
    Ok(env::join_paths(all).map_err(|error| format!("PATH: {error}"))?)
}

/// Where a program is on `PATH`.
#[must_use]
pub fn which(program: &str) -> Option<PathBuf> {
    let path = env::var_os("PATH")?;
    env::split_paths(&path)
        .flat_map(|folder| [folder.join(program), folder.join(format!("{program}.exe"))])
        .find(|file| file.is_file())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lock_file_names_wasm_bindgen() {
        let version = locked_version("wasm-bindgen").unwrap();
        assert!(version.starts_with("0.2."), "{version}");
        assert!(locked_version("no-such-package").is_err());
    }
}
