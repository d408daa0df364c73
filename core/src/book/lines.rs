//! A book as text: JSON Lines.

use super::{Book, Entry};

/// A line of a book that could not be taken in. The rest of the book is read all the same.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", say!("line {line}: {why}"))]
pub struct LineError {
    /// Counted from 1.
    pub line: usize,
    /// What is wrong with it.
    pub why: String,
}

impl Book {
    /// Reads a book from JSON Lines. Every line that can be read is kept; the others are listed,
    /// so that one torn line at the end of a file does not cost the day's work. Empty lines are skipped.
    #[must_use]
    pub fn from_json_lines(text: &str) -> (Self, Vec<LineError>) {
        let mut book = Self::new();
        let mut errors = Vec::new();
        for (index, line) in text.lines().enumerate() {
            if line.trim().is_empty() {
                continue;
            }
            if let Err(why) = book.take(line) {
                errors.push(LineError { line: index + 1, why });
            }
        }
        (book, errors)
    }

    /// Reads a book of which every line must be whole, and stops at the first that is not.
    ///
    /// # Errors
    /// The first line that cannot be taken in.
    pub fn from_whole_lines(text: &str) -> Result<Self, LineError> {
        let mut book = Self::new();
        for (index, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
            book.take(line).map_err(|why| LineError { line: index + 1, why })?;
        }
        Ok(book)
    }

    fn take(&mut self, line: &str) -> Result<(), String> {
        let entry = Entry::from_line(line)
            .map_err(|error| say!("not an entry of a field book ({})", error.to_string()))?;
        self.add(entry).map(|_| ()).map_err(|clash| clash.to_string())
    }

    /// The book as JSON Lines, in book order, each line as first written.
    #[must_use]
    pub fn to_json_lines(&self) -> String {
        let mut text = String::new();
        for entry in self.entries() {
            text.push_str(entry.line());
            text.push('\n');
        }
        text
    }
}
