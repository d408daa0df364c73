//! What a phone downloads before the first screen and after it, as a host would compress it.

use crate::{
    dist, languages, program,
    run::{Failure, Outcome, workspace},
    server,
};
use std::{
    collections::BTreeMap,
    fs,
    io::{self, Write},
    path::PathBuf,
};

/// What the first load may transfer, in bytes: the page and the wasm, scripts and styles it needs
/// before its first screen, brotli at its highest quality.
pub const MOST: usize = 350_000;

/// When a file is downloaded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum When {
    /// Before the first screen.
    First,
    /// Right after the first screen, before it is asked for.
    Next,
    /// When the sheet, a table, a picture or the demo is first asked for. The offline copy fetches it too, in
    /// the background.
    Asked,
    /// For the offline copy and the home screen.
    Background,
}

impl When {
    /// The part a file of `dist/` belongs to, by its path there.
    fn of(path: &str) -> Self {
        let program_file =
            path == "index.html" || [".wasm", ".js", ".css"].iter().any(|kind| path.ends_with(kind));
        let part = path.strip_prefix(program::PART);
        let next = part.is_some_and(|name| name.starts_with("screens") || name.starts_with("shared"));
        if next || path.starts_with(dist::LATER_STYLES) {
            Self::Next
        } else if part.is_some()
            || path == "demo.jsonl"
            || path.starts_with(dist::PHOTOS)
            || path.starts_with(languages::TABLE)
        {
            Self::Asked
        } else if program_file && path != "sw.js" {
            Self::First
        } else {
            Self::Background
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Self::First => "first load: what the page needs before its first screen",
            Self::Next => "right after the first screen: the screens beside the plan",
            Self::Asked => "on demand: sheet, files, tables, photos, demo, other languages",
            Self::Background => "offline copy and home screen only",
        }
    }
}

/// Prints each file's size and checks the first load's sum.
///
/// # Errors
/// When it is too large or the build is missing.
pub fn check() -> Outcome {
    let folder = dist::folder();
    let mut parts: BTreeMap<When, Vec<(String, usize, usize)>> = BTreeMap::new();
    for (path, raw, packed) in pack()?.files {
        parts.entry(When::of(&path)).or_default().push((path, raw, packed));
    }
    let (mut first, mut all) = (0, (0, 0));
    println!("{:>10} {:>10}", "bytes", "brotli");
    for (when, files) in &parts {
        println!("{}", when.words());
        for (name, raw, packed) in files {
            println!("{raw:>10} {packed:>10}  {name}");
        }
        let sum = files.iter().fold((0, 0), |(raw, packed), file| (raw + file.1, packed + file.2));
        let allowed = if *when == When::First { format!("  of {MOST} allowed") } else { String::new() };
        println!("{:>10} {:>10}  together{allowed}", sum.0, sum.1);
        if *when == When::First {
            first = sum.1;
        }
        all = (all.0 + sum.0, all.1 + sum.1);
    }
    println!("everything, kept offline after the first visit");
    println!("{:>10} {:>10}", all.0, all.1);
    let wasm =
        |when| parts.get(&when).is_some_and(|files| files.iter().any(|file| file.0.ends_with(".wasm")));
    if ![When::First, When::Next, When::Asked].into_iter().all(wasm) {
        return Err(Failure(format!("a part of the program is missing in {}", folder.display())));
    }
    if first > MOST {
        return Err(Failure(format!("the first load is {first} bytes, over the {MOST} allowed")));
    }
    Ok(())
}

/// The build as a host keeps it: each file beside its packed one.
pub(crate) struct Packed {
    /// Where they lie.
    pub(crate) folder: PathBuf,
    /// Each file's path in it, its bytes and its packed bytes.
    files: Vec<(String, usize, usize)>,
}

/// Packs what is in `dist/`; what was packed of the same bytes before is left as it is.
///
/// # Errors
/// When the build is missing or cannot be packed.
pub(crate) fn pack() -> Outcome<Packed> {
    let (from, folder) = (dist::folder(), workspace().join("target/packed"));
    let mut files = Vec::new();
    for path in dist::paths(&from)? {
        let told = |error: io::Error| Failure(format!("{path}: {error}"));
        let (body, file) = (fs::read(from.join(&path)).map_err(told)?, folder.join(&path));
        let beside = server::packed(&file);
        let known = fs::read(&file).is_ok_and(|known| known == body);
        let packed = match fs::read(&beside) {
            Ok(packed) if known => packed,
            _ => {
                let packed = brotli(&body)?;
                fs::create_dir_all(file.parent().unwrap_or(&folder)).map_err(told)?;
                // The plain one last: it says that the packed one is whole.
                fs::write(&beside, &packed).and_then(|()| fs::write(&file, &body)).map_err(told)?;
                packed
            }
        };
        files.push((path, body.len(), packed.len()));
    }
    Ok(Packed { folder, files })
}

/// The bytes as a host would send them, brotli at its highest quality.
fn brotli(body: &[u8]) -> Outcome<Vec<u8>> {
    let mut packed = Vec::new();
    let mut writer = brotli::CompressorWriter::new(&mut packed, 1 << 16, 11, 22);
    writer.write_all(body).and_then(|()| writer.flush()).map_err(|error| format!("brotli: {error}"))?;
    drop(writer);
    Ok(packed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_asked_for_later_stays_out_of_the_first_load() {
        let first = ["index.html", "swingtie-1.wasm", "start-1.js", "snippets/a/b.js", "styles-1.css"];
        assert!(first.iter().all(|path| When::of(path) == When::First));
        assert!(
            ["part-screens-1.wasm", "part-shared3-1.wasm", "later-1.css"]
                .iter()
                .all(|p| When::of(p) == When::Next)
        );
        assert!(
            ["part-office-1.wasm", "photos-1.js", "demo.jsonl"].iter().all(|p| When::of(p) == When::Asked)
        );
        assert!(["sw.js", "icons/icon.svg"].iter().all(|p| When::of(p) == When::Background));
    }
}
