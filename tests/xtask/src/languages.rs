//! The languages of the program: what translators write (`public/words/*.po`, in the form of GNU gettext), and the
//! tables that the page fetches, made of it.

use crate::run::{Failure, Outcome};
use std::{collections::BTreeMap, path::Path};

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

/// The English text of the program that this is, if it is one: whole, or with its gaps filled.
#[must_use]
pub fn english_in<'a>(read: &str, texts: &'a BTreeMap<String, String>) -> Option<&'a str> {
    // A word alone may be the same in what somebody wrote.
    let sentence = |english: &&String| english.trim().split(' ').count() > 2;
    let plain = texts.get_key_value(read).map(|(english, _)| english).filter(|english| english.contains(' '));
    plain.or_else(|| texts.keys().filter(sentence).find(|english| fills(read, english))).map(String::as_str)
}

/// Whether this is the text with its gaps filled. Not where it is mostly gaps, so that anything would fit.
fn fills(read: &str, english: &str) -> bool {
    let part = |(at, part)| match at {
        0 => part,
        _ => str::split_once(part, '}').map_or("", |(_, after)| after),
    };
    let parts: Vec<&str> = english.split('{').enumerate().map(part).collect();
    if parts.iter().map(|part| part.trim().len()).sum::<usize>() < 12 {
        return false;
    }
    let [first, between @ ..] = parts.as_slice() else { return false };
    let Some(mut rest) = read.strip_prefix(first) else { return false };
    let Some((last, between)) = between.split_last() else { return rest.is_empty() };
    for part in between {
        let Some((_, after)) = rest.split_once(part) else { return false };
        rest = after;
    }
    rest.ends_with(last)
}
