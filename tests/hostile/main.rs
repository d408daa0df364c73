//! Hostile words in every field of every kind of entry, through every file, each read by something outside the project.

mod data;
mod page;
mod tables;

use std::sync::OnceLock;
use swingtie_tests::hostile::{WORDS, book, files};

/// The files of every book: in the whole of them every field has held every word.
fn all() -> &'static [Vec<(String, String)>] {
    static ALL: OnceLock<Vec<Vec<(String, String)>>> = OnceLock::new();
    ALL.get_or_init(|| (0..WORDS.len()).map(|first| files(&book(first))).collect())
}

/// A file of every book.
fn each(name: &str) -> Vec<&'static str> {
    let all: Vec<&str> =
        all().iter().flatten().filter(|(known, _)| known == name).map(|(_, text)| text.as_str()).collect();
    assert_eq!(all.len(), WORDS.len(), "{name} is missing");
    all
}
