//! What the command reads: a book, a site package, a table. Which of them it is, the content says.

use super::Failure;
use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::ops::Range;
use std::path::Path;
use swingtie_core::book::{Book, Fold, fold};
use swingtie_core::exchange::csv::{self, Source};
use swingtie_core::levels::lay;
use swingtie_core::package::Package;
use swingtie_core::place;

/// What was read.
pub struct Input {
    /// The record as it stands.
    pub fold: Fold,
    /// Every entry.
    pub book: Book,
    /// The site package it came in, and its file.
    pub package: Option<(Package, File)>,
    /// What was left out or does not add up.
    pub notices: Vec<String>,
}

/// Reads the file at `path`.
pub fn read(path: &Path, skip_damaged: bool) -> Result<Input, Failure> {
    let name = path.display();
    let fail = |why: String| vec![format!("{name}: {why}")];
    let unread = |error: std::io::Error| fail(format!("cannot be read: {error}"));
    let mut file = File::open(path).map_err(unread)?;
    let mut start = Vec::new();
    file.by_ref().take(2).read_to_end(&mut start).map_err(unread)?;
    let (book, mut notices, package) = if start == b"PK" {
        let length = file.metadata().map_err(unread)?.len();
        let (package, contents) =
            Package::read(length, &mut |place| at(&mut file, place)).map_err(|why| fail(why.to_string()))?;
        (contents.book, Vec::new(), Some((package, file)))
    } else {
        let mut bytes = start;
        file.read_to_end(&mut bytes).map_err(unread)?;
        let text = text(bytes).map_err(fail)?;
        if text.trim().is_empty() {
            return Err(fail("is empty: there is nothing to draw".to_owned()));
        }
        let is_book = text.trim_start().starts_with('{') || path.extension().is_some_and(|e| e == "jsonl");
        let (book, notices) = if is_book { from_book(&text, skip_damaged) } else { from_table(&text) }
            .map_err(|lines| lines.iter().map(|line| format!("{name}: {line}")).collect::<Failure>())?;
        (book, notices, None)
    };
    if book.is_empty() {
        return Err(fail("says nothing yet: there is nothing to draw".to_owned()));
    }
    let mut fold = fold(&book);
    lay(&mut fold.record);
    place::lay(&mut fold.record);
    notices.extend(fold.objections.iter().map(ToString::to_string));
    Ok(Input { fold, book, package, notices })
}

/// What stands at a place of a file.
pub fn at(file: &mut File, place: Range<u64>) -> std::io::Result<Vec<u8>> {
    file.seek(SeekFrom::Start(place.start))?;
    let mut bytes = Vec::new();
    file.take(place.end - place.start).read_to_end(&mut bytes)?;
    Ok(bytes)
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
