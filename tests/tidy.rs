//! The tree's own rules: what may lie where, who may import whom, and how text is kept.

use std::{collections::BTreeSet, fs, path::Path, process::Command};

/// What may stand at the top of the tree. Everything else has its place in a folder.
const TOP: [&str; 16] = [
    ".cargo",
    ".ci",
    ".clippy.toml",
    ".gitattributes",
    ".gitignore",
    ".rustfmt.toml",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "rust-toolchain.toml",
    "Trunk.toml",
    "app",
    "core",
];
const TOP_FOLDERS: [&str; 2] = ["public", "tests"];

/// The modules of core in the order data flows. A module may import the ones before it.
const ORDER: [&str; 16] = [
    "language", "units", "chance", "record", "slips", "book", "network", "levels", "plan", "place", "checks",
    "compare", "sheet", "exchange", "report", "package",
];

/// Neighbours in the order that may not import each other all the same: heights and positions meet
/// in one function above both.
const APART: [(&str, &str); 1] = [("levels", "network")];

/// The longest a source file may be, in lines, before it must be split.
const LONGEST: usize = 500;

/// Files that may be longer, each with the reason.
const LONG_WITH_REASON: [(&str, &str); 0] = [];

/// A text file of the tree.
struct Text {
    path: String,
    body: String,
}

impl Text {
    fn is(&self, extensions: &[&str]) -> bool {
        Path::new(&self.path).extension().is_some_and(|kind| extensions.iter().any(|one| kind == *one))
    }

    /// Its lines with their numbers, from 1.
    fn lines(&self) -> impl Iterator<Item = (usize, &str)> {
        self.body.split('\n').enumerate().map(|(index, line)| (index + 1, line))
    }

    fn at(&self, line: usize, what: &str) -> String {
        format!("{}:{line}: {what}", self.path)
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("tests/ lies in the workspace")
}

/// Every file of the tree that is or would be committed.
fn paths() -> Vec<String> {
    let git = Command::new("git")
        .args(["ls-files", "--cached", "--others", "--exclude-standard"])
        .current_dir(root())
        .output()
        .expect("git lists the files");
    assert!(git.status.success(), "git ls-files: {}", String::from_utf8_lossy(&git.stderr));
    let list = String::from_utf8(git.stdout).expect("paths are UTF-8");
    let there: Vec<String> =
        list.lines().filter(|path| root().join(path).is_file()).map(str::to_owned).collect();
    assert!(there.len() > 30, "only {} files listed", there.len());
    there
}

/// The files people write, without the licences and the lock file.
fn texts() -> Vec<Text> {
    const WRITTEN: [&str; 12] =
        ["rs", "toml", "md", "css", "js", "html", "svg", "webmanifest", "sh", "json", "csv", "jsonl"];
    let mut texts = Vec::new();
    for path in paths() {
        let kind = Path::new(&path).extension().and_then(|kind| kind.to_str());
        let written = kind.is_some_and(|kind| WRITTEN.contains(&kind)) || path == ".ci/run";
        if written && path != "Cargo.lock" {
            let body = fs::read_to_string(root().join(&path)).expect("the tree's text files are UTF-8");
            texts.push(Text { path, body });
        }
    }
    texts
}

fn none(findings: &[String]) {
    assert!(findings.is_empty(), "{} finding(s):\n{}", findings.len(), findings.join("\n"));
}

#[test]
fn the_top_of_the_tree_is_short() {
    let top: BTreeSet<String> =
        paths().iter().map(|path| path.split('/').next().unwrap_or(path).to_owned()).collect();
    let strangers: Vec<String> = top
        .into_iter()
        .filter(|name| !TOP.contains(&name.as_str()) && !TOP_FOLDERS.contains(&name.as_str()))
        .collect();
    none(&strangers);
}

#[test]
fn core_imports_only_backwards() {
    let mut findings = Vec::new();
    let mut seen = 0;
    for text in texts().iter().filter(|text| text.is(&["rs"])) {
        let Some(inside) = text.path.strip_prefix("core/src/") else { continue };
        if inside == "lib.rs" || inside.starts_with("bin/") {
            continue;
        }
        let own = inside.split(['/', '.']).next().unwrap_or(inside);
        let Some(place) = ORDER.iter().position(|name| *name == own) else {
            findings.push(text.at(1, &format!("`{own}` is not in the order of modules")));
            continue;
        };
        for (line, used) in imports(&text.body) {
            seen += 1;
            let used_place = ORDER.iter().position(|name| *name == used);
            let apart = APART
                .iter()
                .any(|(a, b)| (*a, *b) == (own, used.as_str()) || (*b, *a) == (own, used.as_str()));
            if apart || used_place.is_some_and(|used| used > place) {
                findings.push(text.at(line, &format!("`{own}` may not import `{used}`")));
            }
        }
    }
    assert!(seen > 10, "only {seen} imports read");
    none(&findings);
}

/// The crate's modules a file names, with the line: `crate::units`, `crate::{book::Book, units}`.
fn imports(body: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let code: String =
        body.split('\n').map(|line| line.split("//").next().unwrap_or("").to_owned() + "\n").collect();
    for (at, _) in code.match_indices("crate::") {
        let line = code[..at].matches('\n').count() + 1;
        let rest = &code[at + "crate::".len()..];
        if let Some(group) = rest.strip_prefix('{') {
            found.extend(group_heads(group).into_iter().map(|name| (line, name)));
        } else {
            found.push((line, identifier(rest)));
        }
    }
    found
}

/// The first word of each item of an import group, whose opening brace is already read.
fn group_heads(group: &str) -> Vec<String> {
    let (mut heads, mut depth, mut item) = (Vec::new(), 0, String::new());
    for sign in group.chars() {
        match sign {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => heads.push(identifier(std::mem::take(&mut item).trim())),
            _ => item.push(sign),
        }
    }
    heads.push(identifier(item.trim()));
    heads.retain(|head| !head.is_empty());
    heads
}

fn identifier(text: &str) -> String {
    text.chars().take_while(|sign| sign.is_alphanumeric() || *sign == '_').collect()
}

#[test]
fn the_import_reader_reads_every_form() {
    let body = "use crate::units::Length;\n// crate::exchange in a comment\nuse crate::{\n    book::{Book, Said},\n    record,\n};\n";
    let names: Vec<String> = imports(body).into_iter().map(|(_, name)| name).collect();
    assert_eq!(names, ["units", "book", "record"]);
}

#[test]
fn nothing_imports_the_app() {
    let mut findings = Vec::new();
    for text in texts() {
        let manifest = text.path.ends_with("Cargo.toml") && text.path != "app/Cargo.toml";
        let source = text.is(&["rs"]) && !text.path.starts_with("app/");
        for (line, words) in text.lines() {
            let depends = manifest && words.trim_start().starts_with("swingtie-app");
            let uses = source && words.contains(concat!("swingtie_", "app::"));
            if depends || uses {
                findings.push(text.at(line, "imports the app"));
            }
        }
    }
    none(&findings);
}

/// What a phone fetches when it is asked for is asked for in one place (where the site lies on earth also on its later
/// screens); elsewhere it would come into the first load unseen.
#[test]
fn the_first_load_has_no_sheet_and_no_exchange() {
    const ASKED: &str = "app/src/office";
    // Come with the screens that are fetched later: those say where on earth the site is, and how its sheet shall be.
    const LATER: [(&str, &[&str]); 2] =
        [("app/src/screens/details/", &["place"]), ("app/src/screens/sheet/", &["sheet", "exchange"])];
    let mut findings = Vec::new();
    let mut seen = 0;
    let loaded =
        |text: &&Text| text.is(&["rs"]) && text.path.starts_with("app/src/") && !text.path.starts_with(ASKED);
    for text in texts().iter().filter(loaded) {
        seen += 1;
        for (line, words) in text.lines() {
            for module in ["sheet", "exchange", "place", "report", "package"] {
                let later = LATER.iter().find(|(folder, _)| text.path.starts_with(folder));
                if later.is_some_and(|(_, modules)| modules.contains(&module)) {
                    continue;
                }
                if words.contains(&format!("swingtie_core::{module}")) {
                    findings.push(text.at(line, &format!("uses core::{module}: ask `crate::office`")));
                }
            }
        }
    }
    assert!(seen > 10, "only {seen} files read");
    none(&findings);
}

#[test]
fn text_is_kept_clean() {
    let mut findings = Vec::new();
    for text in texts() {
        // Data files are kept to the letter as their sources wrote them.
        if !text.is(&["json"]) && !text.body.is_empty() && !text.body.ends_with('\n') {
            findings.push(text.at(1, "does not end with a line end"));
        }
        for (line, words) in text.lines() {
            if words.ends_with([' ', '\r']) {
                findings.push(text.at(line, "blanks at the line's end"));
            }
            if words.contains('\t') {
                findings.push(text.at(line, "a tab"));
            }
        }
    }
    none(&findings);
}

#[test]
fn nothing_is_left_for_nobody() {
    // Put together here, so that this file does not find itself.
    let todo = concat!("TO", "DO");
    let unowned = [concat!("FIX", "ME"), concat!("XX", "X"), concat!("HA", "CK")];
    let ignored = concat!("#[", "ignore");
    let mut findings = Vec::new();
    for text in texts().iter().filter(|text| text.is(&["rs", "css", "js", "html", "toml", "md"])) {
        for (line, words) in text.lines() {
            if words.contains(todo) && !words.contains(&format!("{todo}(")) {
                findings.push(text.at(line, "work left with no owner in brackets"));
            }
            if unowned.iter().any(|word| words.contains(word)) {
                findings.push(text.at(line, "say what is wrong, or mend it"));
            }
            if words.trim_start().starts_with(ignored) {
                findings.push(text.at(line, "a test that does not run"));
            }
        }
    }
    none(&findings);
}

#[test]
fn nothing_names_one_machine_or_one_host() {
    let marks = [
        concat!("../", "shared"),
        concat!("/ho", "me/"),
        concat!("/ro", "ot/"),
        concat!("/Us", "ers/"),
        concat!("/tm", "p/"),
        concat!("/wo", "rk/"),
        concat!("crates", ".io"),
        concat!("pypi", ".org"),
        concat!("pythonhosted", ".org"),
        concat!("npmjs", "."),
        concat!("deb.debian", ".org"),
    ];
    let mut findings = Vec::new();
    for text in texts() {
        for (line, words) in text.lines() {
            if let Some(mark) = marks.iter().find(|mark| words.contains(*mark)) {
                findings.push(text.at(line, &format!("names `{mark}`")));
            }
        }
    }
    none(&findings);
}

#[test]
fn what_the_page_and_the_manifest_name_is_there() {
    let page = fs::read_to_string(root().join("public/index.html")).unwrap();
    let named =
        |mark: &str| -> Vec<&str> { page.split('"').filter_map(|word| word.strip_prefix(mark)).collect() };
    let (styles, others): (Vec<&str>, Vec<&str>) =
        named("./").into_iter().partition(|name| name.starts_with("styles/"));
    // In capitals stand the files that the build makes and names.
    let served = others.into_iter().filter(|name| name.contains('.'));
    let all: Vec<&str> = styles.iter().copied().chain(served).collect();
    assert!(all.len() > 8, "{all:?}");
    for name in all {
        assert!(root().join("public").join(name).is_file(), "the page names public/{name}");
    }
    // The build serves whatever lies in public/, but of the styles only what the page names.
    for path in paths() {
        let Some(name) = path.strip_prefix("public/").filter(|name| name.starts_with("styles/")) else {
            continue;
        };
        assert!(styles.contains(&name), "{path} is not named by the page");
    }
    let manifest = fs::read_to_string(root().join("public/manifest.webmanifest")).unwrap();
    let manifest: serde_json::Value = serde_json::from_str(&manifest).unwrap();
    let icons = manifest["icons"].as_array().unwrap();
    assert!(icons.len() >= 3);
    for icon in icons {
        let name = icon["src"].as_str().unwrap();
        assert!(root().join("public").join(name).is_file(), "the manifest names {name}");
    }
    for key in ["start_url", "scope", "id"] {
        assert_eq!(manifest[key], "./", "{key} must be relative, so that any path can host the app");
    }
}

#[test]
fn no_file_is_too_long_to_read() {
    let mut findings = Vec::new();
    for text in texts().iter().filter(|text| text.is(&["rs", "css", "js"])) {
        let long = text.body.lines().count() > LONGEST;
        let excused = LONG_WITH_REASON.iter().any(|(path, _)| *path == text.path);
        if long != excused {
            findings
                .push(text.at(LONGEST, if long { "split this file" } else { "no longer needs its excuse" }));
        }
    }
    none(&findings);
}
