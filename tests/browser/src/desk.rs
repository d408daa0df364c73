//! The desk's command, run on a book that a phone made.

use crate::Outcome;
use std::{fs, path::Path, path::PathBuf};
use swingtie_xtask::run::{command, output, workspace};

/// Makes the desk's files for a book; the folder they lie in, beside the pictures.
///
/// # Errors
/// When the command refuses the book.
pub fn at_the_desk(name: &str, book: &str) -> Outcome<PathBuf> {
    let folder = workspace().join("target/screens").join(name);
    fs::create_dir_all(&folder)?;
    let input = folder.join("book.jsonl");
    fs::write(&input, book)?;
    let words =
        ["run", "--quiet", "--locked", "--package", "swingtie-core", "--features", "cli", "--", "plan"];
    let paths = [&input, Path::new("--out"), &folder].map(|path| path.to_string_lossy().into_owned());
    output(command("cargo", &words).args(paths))?;
    Ok(folder)
}
