//! The phone's program: one program, taken apart into what a phone needs at once and what it fetches
//! later. All parts share one memory and what the first part holds.

use crate::{
    dist::{bytes, hashed, text},
    run::{Failure, Outcome},
    thin, wasm,
};
use std::{
    fs,
    path::{Path, PathBuf},
};

const NAME: &str = "swingtie";
/// The script that wasm-split writes and the first part imports; it becomes one with wasm-bindgen's.
const LOADER: &str = "./__wasm_split.js";
/// What names a file of a later part begins with.
pub(crate) const PART: &str = "part-";

/// The program's files, by the names they are served under, which hold their hashes: no cache can mix
/// two versions.
pub(crate) struct Program {
    /// The script that starts it.
    pub script: (String, String),
    /// What a phone needs at once.
    pub first: (String, Vec<u8>),
    /// What it fetches later.
    pub later: Vec<(String, Vec<u8>)>,
}

/// Compiles the program, takes it apart and, with the folder of wasm-opt, makes each part small.
///
/// # Errors
/// When a tool fails or its output is not as expected.
pub(crate) fn build(optimiser: Option<&Path>) -> Outcome<Program> {
    // What is taken apart must say what refers to what, and by which names.
    let last = ["-Cstrip=none", "-Clink-arg=--emit-relocs"];
    let whole = wasm::compile("swingtie-app", "swingtie-app.wasm", &last)?;
    let folder = wasm::target().join("parts");
    let first = folder.join(format!("{NAME}.wasm"));
    let _ = fs::remove_dir_all(&folder);
    let modules = take_apart(&whole, &folder, &first)?;
    wasm::bind(&first, &folder.join("bound"))?;
    let first = folder.join(format!("bound/{NAME}_bg.wasm"));
    if let Some(optimiser) = optimiser {
        for module in modules.iter().chain([&first]) {
            wasm::optimise(module, optimiser)?;
        }
    }
    let mut loader = text(&folder.join(LOADER))?;
    let mut later = Vec::new();
    for module in modules {
        let stem = module.file_stem().unwrap_or_default().to_string_lossy();
        let body = bytes(&module)?;
        let name = format!("{}.wasm", hashed(&format!("{PART}{}", part_name(&stem)), &body));
        loader = replaced(&loader, &format!("\"./{stem}.wasm\""), &format!("\"./{name}\""))?;
        later.push((name, body));
    }
    let body = bytes(&first)?;
    let first = (format!("{}.wasm", hashed(NAME, &body)), body);
    let script = thin::script(&joined(&text(&folder.join(format!("bound/{NAME}.js")))?, &loader)?);
    let script = (format!("{}.js", hashed(NAME, script.as_bytes())), script);
    Ok(Program { script, first, later })
}

/// Takes the program apart where `#[wasm_split]` says so, and hands back the later parts.
fn take_apart(whole: &Path, folder: &Path, first: &Path) -> Outcome<Vec<PathBuf>> {
    let input = bytes(whole)?;
    let mut options = wasm_split_cli_support::Options::new(&input);
    options.output_dir = folder;
    options.main_out_path = first;
    options.link_name = LOADER;
    println!("taking {} apart", whole.display());
    let parts = wasm_split_cli_support::transform(options)
        .map_err(|error| Failure(format!("the program cannot be taken apart: {error:#}")))?;
    Ok(parts.split_modules)
}

/// `split_NAME` holds what one part needs, `chunk_NUMBER` what several need.
fn part_name(stem: &str) -> String {
    match stem.strip_prefix("split_") {
        Some(name) => name.to_owned(),
        None => stem.replace("chunk_", "shared"),
    }
}

/// Makes one script of wasm-bindgen's and of the one that fetches the later parts: they import each
/// other, so neither could be named by a hash.
fn joined(bound: &str, loader: &str) -> Outcome<String> {
    const EXPORT: &str = "export const ";
    let mut script = String::new();
    let mut imported = Vec::new();
    for line in bound.lines() {
        match line.strip_prefix("import * as ").filter(|rest| rest.contains(LOADER)) {
            Some(rest) => imported.extend(rest.split_whitespace().next()),
            None => {
                script.push_str(line);
                script.push('\n');
            }
        }
    }
    // Asks nothing of the type that a host gives the file, and says what failed.
    let opened = loader.replace("WebAssembly.instantiateStreaming(src, imports)", "openPart(src, imports)");
    let mut names = Vec::new();
    for line in opened.lines().filter(|line| !line.starts_with("import { initSync } from ")) {
        let line = match line.strip_prefix(EXPORT) {
            Some(rest) => {
                names.extend(rest.split_whitespace().next());
                line.replacen(EXPORT, "const ", 1)
            }
            None => line.to_owned(),
        };
        script.push_str(&line);
        script.push('\n');
    }
    if opened == loader || imported.is_empty() || names.is_empty() || script.contains("import ") {
        return Err(Failure("the scripts of wasm-bindgen and wasm-split do not fit as expected".to_owned()));
    }
    for import in imported {
        script.push_str(&format!("const {import} = {{ {} }};\n", names.join(", ")));
    }
    script.push_str(OPEN_PART);
    Ok(script)
}

const OPEN_PART: &str = "\
async function openPart(asked, imports) {
const answer = await asked;
if (!answer.ok) throw new Error(answer.url + \": \" + answer.status);
return WebAssembly.instantiate(await answer.arrayBuffer(), imports);
}
";

/// The text with the one place of `what` replaced.
pub(crate) fn replaced(text: &str, what: &str, by: &str) -> Outcome<String> {
    if text.matches(what).count() != 1 {
        return Err(Failure(format!("`{what}` does not stand once where it is to be replaced")));
    }
    Ok(text.replace(what, by))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_two_scripts_become_one() {
        let bound = "import * as import1 from \"./__wasm_split.js\"\nimport * as import2 from \"./__wasm_split.js\"\n\
            function initSync() {}\nexport { initSync };\n";
        let loader = "import { initSync } from \"./main.js\";\n\
            export const __wasm_split_load_x = load(() => WebAssembly.instantiateStreaming(src, imports));\n";
        let script = joined(bound, loader).unwrap();
        let expected = "function initSync() {}\nexport { initSync };\n\
            const __wasm_split_load_x = load(() => openPart(src, imports));\n\
            const import1 = { __wasm_split_load_x };\nconst import2 = { __wasm_split_load_x };\n";
        assert_eq!(script, format!("{expected}{OPEN_PART}"));
        assert!(joined("function initSync() {}\n", loader).is_err());
        assert!(joined(bound, "function load() {}\n").is_err());
    }

    #[test]
    fn a_part_keeps_its_name() {
        assert_eq!(part_name("split_screens"), "screens");
        assert_eq!(part_name("chunk_3"), "shared3");
    }

    #[test]
    fn only_what_stands_once_is_replaced() {
        assert_eq!(replaced("a b", "b", "c").unwrap(), "a c");
        assert!(replaced("b b", "b", "c").is_err() && replaced("a", "b", "c").is_err());
    }
}
