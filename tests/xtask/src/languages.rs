//! The languages of the program: what translators write (`public/words/*.po`, in the form of GNU gettext), and the
//! tables that the page fetches, made of it.

use crate::run::{Failure, Outcome};
use std::path::Path;

/// The folder of the translators' files, in `public/`.
pub const FOLDER: &str = "words/";

/// How the table's file begins in `dist/`.
pub const TABLE: &str = "words-";

/// The texts of a translators' file: the English, and the other. What is not translated yet is none.
///
/// # Errors
/// When the file cannot be read or is not in that form.
pub fn texts(path: &Path) -> Outcome<Vec<(String, Option<String>)>> {
    let catalog = polib::po_file::parse(path)
        .map_err(|error| Failure(format!("{} cannot be read: {error}", path.display())))?;
    let pairs = catalog.messages().map(|message| {
        let other = message.msgstr().unwrap_or_default();
        (message.msgid().to_owned(), Some(other.to_owned()).filter(|other| !other.is_empty()))
    });
    Ok(pairs.collect())
}

/// The table that `language::speak` in core reads: a line for each text, with a tab between both languages.
///
/// # Errors
/// As [`texts`], and when a text holds what cannot stand in a line.
pub fn table(path: &Path) -> Outcome<String> {
    let mut lines = String::new();
    for (english, other) in texts(path)? {
        let Some(other) = other.filter(|other| *other != english) else { continue };
        let mut folded = [english, other].map(|text| text.replace('\n', "\\n"));
        if folded.iter().any(|text| text.contains(['\t', '\r'])) {
            return Err(Failure(format!("a text of {} holds a tab: {}", path.display(), folded[0])));
        }
        folded[0].push('\t');
        lines.extend(folded);
        lines.push('\n');
    }
    Ok(lines)
}
