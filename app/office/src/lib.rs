//! What is needed at the table, not at the tape: the sheet, the files to hand on, and tables read in.
//!
//! A wasm module of its own, loaded when first asked for, so that a phone in a yard has less to
//! download before it can record. Text goes in and text comes out: a field book as JSON Lines, answers
//! as JSON. Everything is computed by the functions of core that the desk command calls.

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use swingtie_core::book::{Book, fold};
use swingtie_core::exchange::csv::{self, Source};
use swingtie_core::exchange::{Options, outputs};
use swingtie_core::network::adjust;
use swingtie_core::plan::Plan;
use swingtie_core::record::AuthorId;
use wasm_bindgen::prelude::wasm_bindgen;

/// What a book is handed on as.
#[derive(Debug, Serialize)]
struct Files {
    /// Text by name.
    files: BTreeMap<&'static str, String>,
    /// The sheet's paper, its size and its scale, in words.
    paper: &'static str,
    size: &'static str,
    scale: String,
    /// What the user should know about the sheet.
    notices: Vec<String>,
    /// Why there is no map layer.
    no_map: Option<String>,
}

/// Who brings a table in, and when.
#[derive(Debug, Deserialize)]
struct Brought {
    id_prefix: String,
    author: String,
    at_ms: i64,
}

/// A table read: its book and the cells passed over, or what is wrong with it.
#[derive(Debug, Serialize)]
struct Table {
    book: Option<String>,
    remarks: Vec<String>,
}

/// Draws the sheet and makes every file of a book (JSON Lines). The answer is a JSON object.
///
/// # Errors
/// A sentence when the text is not a book that this version itself wrote.
#[wasm_bindgen]
pub fn plan_files(book: &str) -> Result<String, String> {
    let (book, damaged) = Book::from_json_lines(book);
    if let Some(error) = damaged.first() {
        return Err(error.to_string());
    }
    let record = fold(&book).record;
    let adjustment = adjust(&record);
    let plan = Plan::build(&record, &adjustment);
    let made = outputs(&record, &adjustment, &plan, &Options::default());
    answer(&Files {
        files: made.files.into_iter().map(|file| (file.name, file.text)).collect(),
        paper: made.paper.name,
        size: made.paper.size,
        scale: made.scale.words(record.site.units),
        notices: made.notices,
        no_map: made.no_map.map(|why| why.to_string()),
    })
}

/// Reads a table of measurements (CSV) into a book. `brought` is a JSON object with `id_prefix`,
/// `author` and `at_ms`; the answer too is one.
///
/// # Errors
/// A sentence when `brought` is not as described. Faults of the table are an answer, not an error.
#[wasm_bindgen]
pub fn read_table(text: &str, brought: &str) -> Result<String, String> {
    let Brought { id_prefix, author, at_ms } =
        serde_json::from_str(brought).map_err(|error| error.to_string())?;
    let source = Source { id_prefix, author: AuthorId(author), at_ms };
    let (book, cells) = match csv::read(text, &source) {
        Ok(import) => (Some(import.book.to_json_lines()), import.remarks),
        Err(errors) => (None, errors),
    };
    answer(&Table { book, remarks: cells.iter().map(ToString::to_string).collect() })
}

fn answer(what: &impl Serialize) -> Result<String, String> {
    serde_json::to_string(what).map_err(|error| error.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    const DEMO: &str = include_str!("../../../public/demo.jsonl");
    const WHO: &str = r#"{"id_prefix":"t-","author":"a","at_ms":0}"#;

    fn json(text: Result<String, String>) -> Value {
        serde_json::from_str(&text.unwrap()).unwrap()
    }

    #[test]
    fn every_file_of_a_book_is_made() {
        let made = json(plan_files(DEMO));
        for name in ["plan.svg", "points.csv", "adjustment.json", "measurements.csv"] {
            assert!(made["files"][name].as_str().is_some_and(|text| !text.is_empty()), "{name}");
        }
        // Exactly one: the map layer, or the reason why there is none.
        assert_ne!(made["files"]["plan.geojson"].is_string(), made["no_map"].is_string());
        assert!(plan_files("{\"id\":").is_err());
    }

    #[test]
    fn a_table_comes_back_from_its_own_export() {
        let made = json(plan_files(DEMO));
        let read = json(read_table(made["files"]["measurements.csv"].as_str().unwrap(), WHO));
        assert_eq!(read["remarks"], Value::Array(Vec::new()));
        let (back, damaged) = Book::from_json_lines(read["book"].as_str().unwrap());
        assert_eq!(damaged, []);
        let measurements = |book: &Book| fold(book).record.measurements.len();
        assert_eq!(measurements(&back), measurements(&Book::from_json_lines(DEMO).0));
    }

    #[test]
    fn a_bad_table_says_line_and_column() {
        let read = json(read_table("kind,from,to,reading\ntie,H1,H2,banana\n", WHO));
        assert!(read["book"].is_null());
        let said = read["remarks"][0].as_str().unwrap();
        assert!(said.starts_with("line 2, column reading:"), "{said}");
        assert!(read_table("kind\n", "{}").is_err());
    }
}
