//! The solver alone as a wasm module, built with the phone's own profile and timed in a browser.

use swingtie_core::{
    book::{Book, fold},
    network::adjust,
    plan::Plan,
    record::Record,
};
use wasm_bindgen::prelude::wasm_bindgen;

/// A yard's record, read once.
#[wasm_bindgen]
pub struct Yard(Record);

#[wasm_bindgen]
impl Yard {
    /// Reads a book's text.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new(book: &str) -> Self {
        let (book, _) = Book::from_json_lines(book);
        Self(fold(&book).record)
    }

    /// Solves the whole yard anew and resolves its plan, as after every reading. Returns how many
    /// readings went in, so that the work cannot be left out.
    #[must_use]
    pub fn solve(&self) -> usize {
        let adjustment = adjust(&self.0);
        Plan::build(&self.0, &adjustment).points.len() + adjustment.readings.len()
    }
}
