//! The folder a host serves: built by trunk, finished here.

use crate::{
    office,
    run::{Failure, Outcome, command, run, workspace},
    tools,
};
use base64::{Engine, prelude::BASE64_STANDARD};
use sha2::{Digest, Sha256};
use std::{
    fs,
    path::{Path, PathBuf},
};

/// What the browser may load and run: this site's own files and nothing else, so that no record can
/// leave the phone by a mistake in a library. Styles on elements are how drawings are laid out.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' \
    'unsafe-inline'; img-src 'self' blob: data:; media-src blob:; connect-src 'self' blob: data:; \
    manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'";

/// What to do where wasm-opt cannot be had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Optimise {
    /// Fail: what is measured or published must be the optimised program.
    Must,
    /// Warn and go on: the program runs all the same.
    IfPossible,
}

/// The folder.
#[must_use]
pub fn folder() -> PathBuf {
    workspace().join("dist")
}

/// Installs the build tools that are missing and builds `dist/`.
///
/// # Errors
/// When a tool cannot be had or the build fails.
pub fn build(optimise: Optimise) -> Outcome {
    tools::ensure_wasm_target()?;
    tools::ensure_trunk()?;
    tools::ensure_wasm_bindgen()?;
    let wasm_opt = match (tools::ensure_wasm_opt(), optimise) {
        (Ok(folder), _) => Some(folder),
        (Err(failure), Optimise::Must) => return Err(failure),
        (Err(failure), Optimise::IfPossible) => {
            println!("warning: {failure}\n         Going on without wasm-opt: the download is larger.");
            None
        }
    };
    let mut trunk = match wasm_opt {
        Some(_) => command("trunk", &["build", "--release", "--offline", "--locked"]),
        // Outside its release mode trunk leaves wasm-opt out.
        None => command("trunk", &["build", "--cargo-profile", "wasm-release", "--offline", "--locked"]),
    };
    trunk.env("PATH", tools::path(wasm_opt)?).env_remove("NO_COLOR");
    run(&mut trunk)
}

/// Finishes what trunk has put together: adds the second module, moves the start-up script out of the
/// page, states the content policy, and gives the service worker the list of files with their hashes.
///
/// # Errors
/// When a file cannot be read or written, or the page is not as expected.
pub fn finish(folder: &Path) -> Outcome {
    let page = folder.join("index.html");
    let (html, script) = move_script_out(&read(&page)?)?;
    let html = name_office(&html, &office::build(folder)?)?;
    let name = format!("boot-{}.js", &hex(&hash(script.as_bytes()))[..16]);
    write(&folder.join(&name), script.as_bytes())?;
    write(&page, html.replace("BOOT", &name).as_bytes())?;

    let worker = folder.join("sw.js");
    let template = read(&workspace().join("public/sw.js"))?;
    let mut files = Vec::new();
    list(folder, folder, &mut files)?;
    files.retain(|(path, _)| path != "sw.js");
    files.sort();
    let mut build = Sha256::new_with_prefix(&template);
    for (path, sum) in &files {
        build.update(path);
        build.update(sum);
    }
    let id = &hex(&build.finalize())[..12];
    let rows: Vec<String> =
        files.iter().map(|(path, sum)| format!("  [\"./{path}\", \"{}\"],\n", integrity(sum))).collect();
    let text = format!("const BUILD = {{ id: \"{id}\", files: [\n{}] }};\n\n{template}", rows.concat());
    write(&worker, text.as_bytes())?;
    println!("build {id}: {} files kept offline", files.len());
    Ok(())
}

/// Takes the one inline script out of the page. The page's new script names the file `BOOT`.
fn move_script_out(html: &str) -> Outcome<(String, String)> {
    const OPEN: &str = "<script type=\"module\">";
    let missing = || Failure("the page trunk wrote has no inline start-up script".to_owned());
    let (before, rest) = html.split_once(OPEN).ok_or_else(missing)?;
    let (script, after) = rest.split_once("</script>").ok_or_else(missing)?;
    if after.contains("<script>") || after.contains(OPEN) {
        return Err(Failure("the page trunk wrote has more than one inline script".to_owned()));
    }
    let policy = format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">");
    let before =
        before.replacen("<meta charset=\"utf-8\">", &format!("<meta charset=\"utf-8\">\n    {policy}"), 1);
    if !before.contains(&policy) {
        return Err(Failure("the page has no charset line to put the content policy after".to_owned()));
    }
    let html = format!("{before}<script type=\"module\" src=\"./BOOT\"></script>{after}");
    Ok((html, script.trim().to_owned() + "\n"))
}

/// Tells the page the name of the second module's script.
fn name_office(html: &str, script: &str) -> Outcome<String> {
    const PLACE: &str = "data-office=\"OFFICE\"";
    if html.matches(PLACE).count() != 1 {
        return Err(Failure(format!("the page does not say {PLACE} once")));
    }
    Ok(html.replace(PLACE, &format!("data-office=\"./{script}\"")))
}

/// The paths of all files in the folder, relative to it, in order.
///
/// # Errors
/// When it cannot be read.
pub fn paths(folder: &Path) -> Outcome<Vec<String>> {
    let mut files = Vec::new();
    list(folder, folder, &mut files)?;
    files.sort();
    Ok(files.into_iter().map(|(path, _)| path).collect())
}

fn list(root: &Path, folder: &Path, files: &mut Vec<(String, Vec<u8>)>) -> Outcome {
    let entries = fs::read_dir(folder).map_err(|error| told(folder, &error))?;
    for entry in entries {
        let path = entry.map_err(|error| told(folder, &error))?.path();
        if path.is_dir() {
            list(root, &path, files)?;
            continue;
        }
        let body = fs::read(&path).map_err(|error| told(&path, &error))?;
        let name = path.strip_prefix(root).unwrap_or(&path).to_string_lossy().replace('\\', "/");
        files.push((name, hash(&body)));
    }
    Ok(())
}

pub(crate) fn hash(body: &[u8]) -> Vec<u8> {
    Sha256::digest(body).to_vec()
}

pub(crate) fn hex(sum: &[u8]) -> String {
    sum.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The hash in the form of the Subresource Integrity recommendation.
fn integrity(sum: &[u8]) -> String {
    format!("sha256-{}", BASE64_STANDARD.encode(sum))
}

pub(crate) fn read(path: &Path) -> Outcome<String> {
    fs::read_to_string(path).map_err(|error| told(path, &error))
}

pub(crate) fn write(path: &Path, body: &[u8]) -> Outcome {
    fs::write(path, body).map_err(|error| told(path, &error))
}

fn told(path: &Path, error: &std::io::Error) -> Failure {
    Failure(format!("{}: {error}", path.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn integrity_is_the_recommendations_own_example() {
        // W3C Subresource Integrity, section 3.2.1: `alert('Hello, world.');`, there as SHA-384; the
        // SHA-256 of the same text is from memory of the same document's earlier draft.
        assert_eq!(
            integrity(&hash(b"alert('Hello, world.');")),
            "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng="
        );
    }

    #[test]
    fn the_script_leaves_the_page_and_a_policy_comes_in() {
        let page =
            "<head><meta charset=\"utf-8\"></head><body><script type=\"module\">\nrun()\n</script></body>";
        let (html, script) = move_script_out(page).unwrap();
        assert_eq!(script, "run()\n");
        assert!(html.contains("src=\"./BOOT\"></script></body>") && html.contains("default-src 'none'"));
        assert!(move_script_out("<body></body>").is_err());
    }

    #[test]
    fn the_page_learns_the_name_of_the_second_module() {
        let named = name_office("<body data-office=\"OFFICE\">", "office-1.js").unwrap();
        assert_eq!(named, "<body data-office=\"./office-1.js\">");
        assert!(name_office("<body>", "office-1.js").is_err());
    }
}
