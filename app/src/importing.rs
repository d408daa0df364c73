//! What a picked file is.

use crate::device::{read_bytes, read_text};
use crate::office::{self, Source};
use swingtie_core::book::Book;
use swingtie_core::language::tr;
use web_sys::File;

/// What a file turned out to be.
pub enum Came {
    /// A zip file, still to be opened.
    Zip,
    /// A book, and what of the file was left out, one sentence each.
    Book(Book, Vec<String>),
}

/// A book and what of the file was left out, one sentence each.
type Read = (Book, Vec<String>);

/// Looks into a file: a zip file by its first two bytes, a field book (JSON Lines) or a table of measurements (CSV) by
/// its text.
///
/// # Errors
/// Why nothing of it can be used, one sentence each. A table with one bad cell is not taken in at
/// all: half a survey looks like a whole one.
pub async fn look(file: &File, brought: &Source) -> Result<Came, Vec<String>> {
    let said = |error: crate::device::FileError| vec![error.to_string()];
    let start = file.slice_with_f64_and_f64(0.0, 2.0).map_err(|error| said(error.into()))?;
    if read_bytes(&start).await.map_err(said)? == b"PK" {
        return Ok(Came::Zip);
    }
    let text = read_text(file).await.map_err(said)?;
    let (book, left_out) = if is_book(&text) {
        field_book(&text)?
    } else if file.name().to_ascii_lowercase().ends_with(".csv") {
        let read = office::read_table(&text, brought).await;
        read.map_err(|error| vec![crate::words::no_office(&error.to_string())])??
    } else {
        return Err(vec![tr(crate::words::NO_SUCH_FILE).to_owned()]);
    };
    Ok(Came::Book(book, left_out))
}

fn is_book(text: &str) -> bool {
    text.trim_start_matches(['\u{feff}', ' ', '\r', '\n']).starts_with('{')
}

fn field_book(text: &str) -> Result<Read, Vec<String>> {
    let (book, errors) = Book::from_json_lines(text);
    let errors: Vec<String> = errors.iter().map(ToString::to_string).collect();
    if book.is_empty() { Err(errors) } else { Ok((book, errors)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_book_comes_back_from_its_own_lines() {
        let demo = Book::from_json_lines(crate::state::DEMO).0;
        let lines = demo.to_json_lines();
        assert!(is_book(&lines));
        assert_eq!(field_book(&lines), Ok((demo, Vec::new())));
    }

    #[test]
    fn a_file_that_is_neither_says_why() {
        assert!(!is_book("hello"));
        assert!(is_book("{\"id\":") && field_book("{\"id\":").is_err_and(|why| why.len() == 1));
    }
}
