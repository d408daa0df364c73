//! The folder a host serves: built by trunk, finished here.

use crate::{
    office,
    run::{Failure, Outcome, command, run, workspace},
    tools,
};
use base64::{Engine, prelude::BASE64_STANDARD};
use sha2::{Digest, Sha256, Sha384};
use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

/// What the browser may load and run: this site's own files and nothing else, so that no record can
/// leave the phone by a mistake in a library. Styles on elements are how drawings are laid out.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' \
    'unsafe-inline'; img-src 'self' blob: data:; media-src blob:; connect-src 'self' blob: data:; \
    manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'";

/// As in `.cargo/config.toml`, and panics as [`small`] says.
const FLAGS: &str = "--cfg erase_components -Zunstable-options -Cpanic=immediate-abort";

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
    tools::ensure_std_source()?;
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
    // First by cargo itself, which may fetch; trunk then finds it done.
    office::compile("swingtie-app")?;
    run(small(&mut trunk))
}

/// Builds for size what cargo is told to build from here on: with a standard library of its own, made
/// for size like the rest, in which a panic ends the program at once instead of wording a message.
/// Stable cargo and rustc do both, but want to be told that they may (`RUSTC_BOOTSTRAP`).
pub(crate) fn small(command: &mut Command) -> &mut Command {
    command
        .env("RUSTC_BOOTSTRAP", "1")
        .env("CARGO_UNSTABLE_BUILD_STD", "std,panic_abort")
        .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", FLAGS)
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
    let html = join_styles(&html, folder)?;
    let html = thin_scripts(html, folder)?;
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

/// Makes one style sheet of all the page links to, in their order, without comments and indentation:
/// what repeats in several is sent once.
fn join_styles(html: &str, folder: &Path) -> Outcome<String> {
    let (mut kept, mut styles, mut first) = (String::new(), String::new(), None);
    for line in html.split_inclusive('\n') {
        let Some(name) = style_sheet(line) else {
            kept.push_str(line);
            continue;
        };
        first.get_or_insert(kept.len());
        let file = folder.join(name.trim_start_matches("./"));
        styles.push_str(&thin_style(&read(&file)?));
        fs::remove_file(&file).map_err(|error| told(&file, &error))?;
    }
    let place = first.ok_or_else(|| Failure("the page links to no style sheet".to_owned()))?;
    let name = format!("styles-{}.css", &hex(&hash(styles.as_bytes()))[..16]);
    write(&folder.join(&name), styles.as_bytes())?;
    kept.insert_str(place, &format!("    <link rel=\"stylesheet\" href=\"./{name}\">\n"));
    Ok(kept)
}

/// The style sheet a line of the page links to.
fn style_sheet(line: &str) -> Option<&str> {
    line.contains("rel=\"stylesheet\"").then_some(())?;
    line.split_once("href=\"")?.1.split('"').next()
}

/// Without comments, indentation and empty lines. Nothing within a line changes.
fn thin_style(style: &str) -> String {
    let mut plain = String::new();
    let mut rest = style;
    while let Some((before, after)) = rest.split_once("/*") {
        plain.push_str(before);
        rest = after.split_once("*/").map_or("", |(_, after)| after);
    }
    plain.push_str(rest);
    plain.lines().map(str::trim).filter(|line| !line.is_empty()).map(|line| format!("{line}\n")).collect()
}

/// The scripts that wasm-bindgen writes, without their comments and indentation.
fn thin_scripts(mut html: String, folder: &Path) -> Outcome<String> {
    for path in paths(folder)? {
        let beside = folder.join(path.replace(".js", "_bg.wasm"));
        let bound = path.ends_with(".js") && (beside.is_file() || path.starts_with("office-"));
        if bound {
            let file = folder.join(&path);
            let thin = thin_script(&read(&file)?);
            write(&file, thin.as_bytes())?;
            html = renew_integrity(&html, &path, &thin);
        }
    }
    Ok(html)
}

/// The page names the hash of a file it loads early; the file has changed.
fn renew_integrity(html: &str, name: &str, body: &str) -> String {
    const MARK: &str = " integrity=\"";
    let Some((before, rest)) = html.split_once(&format!("href=\"./{name}\"")) else { return html.to_owned() };
    let (tag, after) = rest.split_once('>').unwrap_or((rest, ""));
    let tag = match tag.split_once(MARK).and_then(|(start, end)| Some((start, end.split_once('"')?.1))) {
        Some((start, end)) => {
            let sum = BASE64_STANDARD.encode(Sha384::digest(body.as_bytes()));
            format!("{start}{MARK}sha384-{sum}\"{end}")
        }
        None => tag.to_owned(),
    };
    format!("{before}href=\"./{name}\"{tag}>{after}")
}

/// Comments are taken out where they stand on lines of their own, as they do there.
fn thin_script(script: &str) -> String {
    let mut plain = String::new();
    let mut within = false;
    for line in script.lines().map(str::trim) {
        within |= line.starts_with("/**");
        if !within && !line.is_empty() && !line.starts_with("//") {
            plain.push_str(line);
            plain.push('\n');
        }
        within &= !line.ends_with("*/");
    }
    plain
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
    fn styles_and_scripts_lose_what_no_browser_reads() {
        let style = "/* a */\n.a {\n    content: \"  x\";\n}\n\n.b { color: red }\n";
        assert_eq!(thin_style(style), ".a {\ncontent: \"  x\";\n}\n.b { color: red }\n");
        let script =
            "/**\n * says\n */\nfunction f() {\n    // why\n    return `a // b`;\n}\n/** one line */\nf();\n";
        assert_eq!(thin_script(script), "function f() {\nreturn `a // b`;\n}\nf();\n");
    }

    #[test]
    fn a_thinned_script_is_named_by_its_new_hash() {
        // The hash is the W3C recommendation's own example, section 3.2.1.
        let page = "<link href=\"./a.js\" integrity=\"sha384-old\" as=\"script\"><link href=\"./b.js\" integrity=\"x\">";
        let renewed = renew_integrity(page, "a.js", "alert('Hello, world.');");
        let sum = "H8BRh8j48O9oYatfu5AZzq6A9RINhZO5H16dQZngK7T62em8MUt1FLm52t+eX6xO";
        assert_eq!(renewed, page.replace("sha384-old", &format!("sha384-{sum}")));
    }

    #[test]
    fn a_line_of_the_page_links_to_a_style_sheet() {
        let link = "  <link rel=\"stylesheet\" href=\"./base-1.css\" integrity=\"x\">";
        assert_eq!(style_sheet(link), Some("./base-1.css"));
        assert_eq!(style_sheet("<link rel=\"icon\" href=\"./icon.svg\">"), None);
    }

    #[test]
    fn the_page_learns_the_name_of_the_second_module() {
        let named = name_office("<body data-office=\"OFFICE\">", "office-1.js").unwrap();
        assert_eq!(named, "<body data-office=\"./office-1.js\">");
        assert!(name_office("<body>", "office-1.js").is_err());
    }
}
