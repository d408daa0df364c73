//! The folder a host serves.

use crate::{
    languages,
    program::{self, Program, replaced},
    run::{Failure, Outcome, workspace},
    thin, tools,
};
use base64::{Engine, prelude::BASE64_STANDARD};
use sha2::{Digest, Sha256};
use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
};

/// What the browser may load and run: this site's own files and nothing else, so that no record can
/// leave the phone by a mistake in a library. Styles on elements are how drawings are laid out; a sheet brings its font.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' \
    'unsafe-inline'; img-src 'self' blob: data:; font-src data:; media-src blob:; connect-src 'self' blob: data:; \
    manifest-src 'self'; worker-src 'self'; frame-src blob:; base-uri 'none'; form-action 'none'; \
    require-trusted-types-for 'script'; trusted-types swingtie";

/// What to do where wasm-opt cannot be had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Optimise {
    /// Fail: what is measured or published must be the optimised program.
    Must,
    /// Warn and go on: the program runs all the same.
    IfPossible,
}

/// The script that makes pictures small, fetched when the first picture comes: how its name begins.
pub(crate) const PHOTOS: &str = "photos";

/// The style sheet of the screens after the first: how its name begins.
pub(crate) const LATER_STYLES: &str = "later";

/// Files by their paths in the folder.
type Files = BTreeMap<String, Vec<u8>>;

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
    tools::ensure_wasm_bindgen()?;
    let wasm_opt = match (tools::ensure_wasm_opt(), optimise) {
        (Ok(folder), _) => Some(folder),
        (Err(failure), Optimise::Must) => return Err(failure),
        (Err(failure), Optimise::IfPossible) => {
            println!("warning: {failure}\n         Going on without wasm-opt: the download is larger.");
            None
        }
    };
    let program = program::build(wasm_opt.as_deref())?;
    let files = files(program)?;
    let folder = folder();
    if folder.is_dir() {
        fs::remove_dir_all(&folder).map_err(|error| told(&folder, &error))?;
    }
    for (path, body) in &files {
        let file = folder.join(path);
        fs::create_dir_all(file.parent().unwrap_or(&folder)).map_err(|error| told(&file, &error))?;
        fs::write(&file, body).map_err(|error| told(&file, &error))?;
    }
    println!("{} files in {}", files.len(), folder.display());
    Ok(())
}

/// All that is served: the program, the page that starts it, what `public/` holds, and the service
/// worker that keeps it all offline.
fn files(program: Program) -> Outcome<Files> {
    let public = workspace().join("public");
    let mut files = Files::new();
    for path in paths(&public)? {
        // These are made, below, of what lies there.
        if !path.starts_with("styles/")
            && !path.starts_with(languages::FOLDER)
            && !["start.js", "photos.js", "sw.js"].contains(&path.as_str())
        {
            files.insert(path.clone(), bytes(&public.join(path))?);
        }
    }
    let Program { script: (script, script_body), first: (first, first_body), later } = program;
    let page = text(&workspace().join("public/index.html"))?;
    let Styles { page, first: styles, later: later_styles } =
        join_styles(&page, |path| text(&public.join(path)))?;
    let styles_name = format!("{}.css", hashed("styles", styles.as_bytes()));
    let later_name = format!("{}.css", hashed(LATER_STYLES, later_styles.as_bytes()));
    let photos = thin::script(&text(&public.join("photos.js"))?);
    let photos_name = format!("{}.js", hashed(PHOTOS, photos.as_bytes()));
    let spanish = languages::table(&public.join(languages::FOLDER).join("es.po"))?;
    let spanish_name = format!("{}.txt", hashed(&format!("{}es", languages::TABLE), spanish.as_bytes()));
    let mut start = text(&public.join("start.js"))?;
    for (mark, name) in [
        ("PROGRAM", &script),
        ("FIRST", &first),
        ("PHOTOS", &photos_name),
        ("LATER", &later_name),
        ("WORDS_ES", &spanish_name),
    ] {
        start = replaced(&start, mark, name)?;
    }
    let start = thin::script(&start);
    let start_name = format!("{}.js", hashed("start", start.as_bytes()));
    let mut page = page;
    for (mark, name) in [
        ("POLICY", POLICY),
        ("STYLES", &styles_name),
        ("PROGRAM", &script),
        ("FIRST", &first),
        ("START", &start_name),
    ] {
        page = replaced(&page, mark, name)?;
    }
    files.insert(spanish_name, spanish.into_bytes());
    files.insert(later_name, later_styles.into_bytes());
    files.insert(start_name, start.into_bytes());
    files.insert(photos_name, photos.into_bytes());
    files.insert(styles_name, styles.into_bytes());
    files.insert(script, script_body.into_bytes());
    files.insert(first, first_body);
    files.extend(later);
    files.insert("index.html".to_owned(), page.into_bytes());
    let worker = worker(&files, &text(&public.join("sw.js"))?);
    files.insert("sw.js".to_owned(), worker.into_bytes());
    Ok(files)
}

/// The service worker: told all files with their hashes.
fn worker(files: &Files, template: &str) -> String {
    let mut build = Sha256::new_with_prefix(template);
    let mut rows = String::new();
    for (path, body) in files {
        let sum = Sha256::digest(body);
        build.update(path);
        build.update(sum);
        rows.push_str(&format!("  [\"./{path}\", \"{}\"],\n", integrity(&sum)));
    }
    let id = &hex(&build.finalize())[..12];
    format!("const BUILD = {{ id: \"{id}\", files: [\n{rows}] }};\n\n{template}")
}

/// A page with its style sheets made two.
struct Styles {
    /// The page, which links to `STYLES`.
    page: String,
    /// What it needs at once.
    first: String,
    /// What only the screens after the first need: the start-up script links to it.
    later: String,
}

/// Makes two style sheets of all the page links to, in their order: what repeats in several is sent once.
/// Those whose link says `data-later` are the second.
fn join_styles(page: &str, read: impl Fn(&str) -> Outcome<String>) -> Outcome<Styles> {
    let (mut kept, mut place) = (String::new(), None);
    let (mut first, mut later) = (String::new(), String::new());
    for line in page.split_inclusive('\n') {
        match style_sheet(line) {
            Some(path) => {
                place.get_or_insert(kept.len());
                let to = if line.contains("data-later") { &mut later } else { &mut first };
                to.push_str(&thin::style(&read(path)?));
            }
            None => kept.push_str(line),
        }
    }
    let place = place.ok_or_else(|| Failure("the page links to no style sheet".to_owned()))?;
    kept.insert_str(place, "    <link rel=\"stylesheet\" href=\"./STYLES\">\n");
    Ok(Styles { page: kept, first, later })
}

/// The style sheet a line of the page links to.
fn style_sheet(line: &str) -> Option<&str> {
    line.contains("rel=\"stylesheet\"").then_some(())?;
    line.split_once("href=\"")?.1.split('"').next()
}

/// The paths of all files in the folder, relative to it, in order.
///
/// # Errors
/// When it cannot be read.
pub fn paths(folder: &Path) -> Outcome<Vec<String>> {
    let mut paths = Vec::new();
    list(folder, folder, &mut paths)?;
    paths.sort();
    Ok(paths)
}

fn list(root: &Path, folder: &Path, paths: &mut Vec<String>) -> Outcome {
    let entries = fs::read_dir(folder).map_err(|error| told(folder, &error))?;
    for entry in entries {
        let path = entry.map_err(|error| told(folder, &error))?.path();
        if path.is_dir() {
            list(root, &path, paths)?;
        } else {
            paths.push(path.strip_prefix(root).unwrap_or(&path).to_string_lossy().replace('\\', "/"));
        }
    }
    Ok(())
}

/// A name with its content's hash.
pub(crate) fn hashed(name: &str, body: &[u8]) -> String {
    format!("{name}-{}", &hex(&Sha256::digest(body))[..16])
}

fn hex(sum: &[u8]) -> String {
    sum.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The hash in the form of the Subresource Integrity recommendation.
fn integrity(sum: &[u8]) -> String {
    format!("sha256-{}", BASE64_STANDARD.encode(sum))
}

pub(crate) fn text(path: &Path) -> Outcome<String> {
    fs::read_to_string(path).map_err(|error| told(path, &error))
}

pub(crate) fn bytes(path: &Path) -> Outcome<Vec<u8>> {
    fs::read(path).map_err(|error| told(path, &error))
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
            integrity(&Sha256::digest(b"alert('Hello, world.');")),
            "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng="
        );
    }

    #[test]
    fn the_pages_style_sheets_become_two() {
        let page = "<head>\n<link rel=\"icon\" href=\"./icon.svg\">\n<link rel=\"stylesheet\" href=\"a.css\">\n\
            <link rel=\"stylesheet\" href=\"b.css\" data-later>\n<link rel=\"stylesheet\" href=\"c.css\">\n</head>\n";
        let styles = join_styles(page, |path| Ok(format!("/* {path} */\n.{path} {{}}\n"))).unwrap();
        assert_eq!(styles.first, ".a.css {}\n.c.css {}\n");
        assert_eq!(styles.later, ".b.css {}\n");
        let link = "    <link rel=\"stylesheet\" href=\"./STYLES\">\n";
        assert_eq!(styles.page, format!("<head>\n<link rel=\"icon\" href=\"./icon.svg\">\n{link}</head>\n"));
        assert!(join_styles("<head></head>", |_| Ok(String::new())).is_err());
    }

    #[test]
    fn another_file_makes_another_worker() {
        let with = |body: &[u8]| worker(&Files::from([("a.js".to_owned(), body.to_vec())]), "start();\n");
        let worker = with(b"alert('Hello, world.');");
        assert!(worker.contains("[\"./a.js\", \"sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng=\"]"));
        assert!(worker.ends_with("start();\n"));
        let id = |worker: &str| worker.split('"').nth(1).map(str::to_owned);
        assert_ne!(id(&worker), id(&with(b"other")));
    }
}
