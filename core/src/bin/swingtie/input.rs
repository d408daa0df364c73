//! What the command reads: a book, a site package, a table. Which of them it is, the content says.

use super::Failure;
use std::io::{Cursor, Read};
use std::path::Path;
use swingtie_core::book::{Book, Fold, fold};
use swingtie_core::exchange::csv::{self, Source};
use swingtie_core::levels::lay;
use swingtie_core::place;

/// The book inside a site package.
const BOOK: &str = "book.jsonl";
/// The largest book unpacked, so that a damaged or hostile package cannot fill the memory.
const LARGEST_BOOK: u64 = 256 * 1024 * 1024;

/// What was read.
pub struct Input {
    /// The record as it stands.
    pub fold: Fold,
    /// Every entry.
    pub book: Book,
    /// The site package it came in.
    pub package: Option<Vec<u8>>,
    /// What was left out or does not add up.
    pub notices: Vec<String>,
}

/// Reads the file at `path`.
pub fn read(path: &Path, skip_damaged: bool) -> Result<Input, Failure> {
    let name = path.display();
    let fail = |why: String| vec![format!("{name}: {why}")];
    let bytes = std::fs::read(path).map_err(|error| fail(format!("cannot be read: {error}")))?;
    let (bytes, package) =
        if bytes.starts_with(b"PK") { (unpack(&bytes).map_err(fail)?, Some(bytes)) } else { (bytes, None) };
    let text = text(bytes).map_err(fail)?;
    if text.trim().is_empty() {
        return Err(fail("is empty: there is nothing to draw".to_owned()));
    }
    let is_book = package.is_some()
        || text.trim_start().starts_with('{')
        || path.extension().is_some_and(|e| e == "jsonl");
    let (book, mut notices) = if is_book { from_book(&text, skip_damaged) } else { from_table(&text) }
        .map_err(|lines| lines.iter().map(|line| format!("{name}: {line}")).collect::<Failure>())?;
    if book.is_empty() {
        return Err(fail("says nothing yet: there is nothing to draw".to_owned()));
    }
    let mut fold = fold(&book);
    lay(&mut fold.record);
    place::lay(&mut fold.record);
    notices.extend(fold.objections.iter().map(ToString::to_string));
    Ok(Input { fold, book, package, notices })
}

fn unpack(bytes: &[u8]) -> Result<Vec<u8>, String> {
    let mut package =
        zip::ZipArchive::new(Cursor::new(bytes)).map_err(|error| format!("is no site package: {error}"))?;
    let file = package
        .by_name(BOOK)
        .map_err(|error| format!("is no site package: {BOOK} is not in it ({error})"))?;
    let mut book = Vec::new();
    file.take(LARGEST_BOOK + 1)
        .read_to_end(&mut book)
        .map_err(|error| format!("{BOOK} is damaged: {error}"))?;
    if book.len() as u64 > LARGEST_BOOK {
        return Err(format!("{BOOK} is larger than any survey"));
    }
    Ok(book)
}

fn text(bytes: Vec<u8>) -> Result<String, String> {
    let text = String::from_utf8(bytes).map_err(|error| {
        let good = error.as_bytes().get(..error.utf8_error().valid_up_to()).unwrap_or_default();
        let line = good.iter().filter(|byte| **byte == b'\n').count() + 1;
        format!("line {line}: this is no UTF-8 text; save the table as \"CSV UTF-8\"")
    })?;
    Ok(text.trim_start_matches('\u{feff}').to_owned())
}

fn from_book(text: &str, skip_damaged: bool) -> Result<(Book, Vec<String>), Failure> {
    let (book, errors) = Book::from_json_lines(text);
    let mut lines: Vec<String> = errors.iter().map(ToString::to_string).collect();
    if lines.is_empty() || skip_damaged {
        return Ok((book, lines));
    }
    lines.push("nothing was written; --skip-damaged leaves such lines out".to_owned());
    Err(lines)
}

fn from_table(text: &str) -> Result<(Book, Vec<String>), Failure> {
    // The same table gives the same book on every desk: no name, no clock.
    let source = Source { id_prefix: "row".to_owned(), author: "table".into(), at_ms: 0 };
    match csv::read(text, &source) {
        Ok(import) => Ok((import.book, import.remarks.iter().map(ToString::to_string).collect())),
        Err(errors) => {
            let mut lines: Vec<String> = errors.iter().map(ToString::to_string).collect();
            lines.push("nothing was written; `swingtie columns` explains the columns".to_owned());
            Err(lines)
        }
    }
}
