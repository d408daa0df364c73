//! A picked file as a book.

use swingtie_core::book::Book;
use swingtie_core::exchange::csv::{self, Source};

/// A book and what of the file was left out, one sentence each.
pub type Read = (Book, Vec<String>);

/// Reads a field book (JSON Lines) or a table of measurements (CSV); the text itself tells which.
///
/// # Errors
/// Why nothing of it can be used, one sentence each. A table with one bad cell is not taken in at
/// all: half a survey looks like a whole one.
pub fn book_from(text: &str, source: &Source) -> Result<Read, Vec<String>> {
    if text.trim_start_matches(['\u{feff}', ' ', '\r', '\n']).starts_with('{') {
        let (book, errors) = Book::from_json_lines(text);
        let errors: Vec<String> = errors.iter().map(ToString::to_string).collect();
        return if book.is_empty() { Err(errors) } else { Ok((book, errors)) };
    }
    match csv::read(text, source) {
        Ok(import) => Ok((import.book, import.remarks.iter().map(ToString::to_string).collect())),
        Err(errors) => Err(errors.iter().map(ToString::to_string).collect()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::book::fold;

    fn read(text: &str) -> Result<Read, Vec<String>> {
        book_from(text, &Source { id_prefix: "t-".to_owned(), author: "a".into(), at_ms: 0 })
    }

    #[test]
    fn a_book_comes_back_from_its_own_lines() {
        let demo = crate::state::demo().0;
        assert_eq!(read(&demo.to_json_lines()).map(|(book, _)| book), Ok(demo));
    }

    #[test]
    fn a_table_comes_back_from_its_own_export() {
        let record = fold(&crate::state::demo().0).record;
        let (book, left_out) = read(&csv::write(&record)).unwrap();
        assert_eq!(left_out, Vec::<String>::new());
        assert_eq!(fold(&book).record.measurements.len(), record.measurements.len());
    }

    #[test]
    fn a_file_that_is_neither_says_why() {
        assert!(read("hello").is_err_and(|why| !why.is_empty()));
        assert!(read("{\"id\":").is_err_and(|why| why.len() == 1));
    }
}
