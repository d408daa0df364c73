//! A picked file as a book.

use crate::office::{self, Source};
use swingtie_core::book::Book;

/// A book and what of the file was left out, one sentence each.
pub type Read = (Book, Vec<String>);

/// Reads a field book (JSON Lines) or a table of measurements (CSV); the text itself tells which.
///
/// # Errors
/// Why nothing of it can be used, one sentence each. A table with one bad cell is not taken in at
/// all: half a survey looks like a whole one.
pub async fn book_from(text: &str, brought: &Source) -> Result<Read, Vec<String>> {
    if is_book(text) {
        return field_book(text);
    }
    office::read_table(text, brought)
        .await
        .unwrap_or_else(|error| Err(vec![crate::words::no_office(&error.to_string())]))
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
