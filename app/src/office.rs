//! The second wasm module (`app/office`), opened when first asked for: the sheet, the files, and
//! tables read in. After the first visit it lies in the offline copy like everything else.

use crate::device::FileError;
use js_sys::{JsString, Reflect};
use swingtie_core::book::Book;
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    /// In `public/start.js`.
    #[wasm_bindgen(catch, js_namespace = swingtie)]
    async fn office(task: &str, text: &str, more: &str) -> Result<JsValue, JsValue>;

    /// In `public/start.js`.
    #[wasm_bindgen(catch, js_namespace = swingtie)]
    async fn text(path: &str) -> Result<JsValue, JsValue>;

    /// The files of a book and what is said beside them; made by `plan_files`.
    #[derive(Clone, PartialEq)]
    pub type PlanFiles;
    /// The sheet's paper.
    #[wasm_bindgen(method, getter)]
    pub fn paper(this: &PlanFiles) -> String;
    /// Its size in words.
    #[wasm_bindgen(method, getter)]
    pub fn size(this: &PlanFiles) -> String;
    /// The sheet's scale in words.
    #[wasm_bindgen(method, getter)]
    pub fn scale(this: &PlanFiles) -> String;
    /// What the user should know about the sheet.
    #[wasm_bindgen(method, getter)]
    pub fn notices(this: &PlanFiles) -> Vec<String>;
    /// Why there is no map layer.
    #[wasm_bindgen(method, getter)]
    pub fn no_map(this: &PlanFiles) -> Option<String>;
    #[wasm_bindgen(method, getter)]
    fn files(this: &PlanFiles) -> JsValue;

    type Table;
    #[wasm_bindgen(method, getter)]
    fn book(this: &Table) -> Option<String>;
    #[wasm_bindgen(method, getter)]
    fn remarks(this: &Table) -> Vec<String>;
}

impl PlanFiles {
    /// A file's text, kept on the browser's side; none when it could not be made.
    #[must_use]
    pub fn file(&self, name: &str) -> Option<JsString> {
        Reflect::get(&self.files(), &name.into()).ok()?.dyn_into().ok()
    }
}

/// Draws the sheet and makes every file of a book, the same bytes the desk command writes.
///
/// # Errors
/// When the module cannot be had, in the browser's words.
pub async fn plan_files(book: &Book) -> Result<PlanFiles, FileError> {
    Ok(office("plan_files", &book.to_json_lines(), "").await?.unchecked_into())
}

/// Reads a table of measurements (CSV): its book and the cells passed over, or what is wrong with it,
/// one sentence each with line and column.
///
/// # Errors
/// When the module cannot be had, in the browser's words.
pub async fn read_table(
    text: &str,
    brought: &Brought,
) -> Result<Result<(Book, Vec<String>), Vec<String>>, FileError> {
    let table: Table = office("read_table", text, &brought.to_json()).await?.unchecked_into();
    Ok(match table.book() {
        Some(lines) => Ok((Book::from_json_lines(&lines).0, table.remarks())),
        None => Err(table.remarks()),
    })
}

/// Who brings a table in, and when.
#[derive(Clone, Debug)]
pub struct Brought {
    /// What the ids of its entries begin with.
    pub id_prefix: String,
    /// Who stands as author.
    pub author: String,
    /// The time, milliseconds since 1970.
    pub at_ms: i64,
}

impl Brought {
    fn to_json(&self) -> String {
        serde_json::json!({ "id_prefix": self.id_prefix, "author": self.author, "at_ms": self.at_ms })
            .to_string()
    }
}

/// The demo yard's book: an invented place, a file of this site.
///
/// # Errors
/// When it cannot be had, in the browser's words.
pub async fn demo() -> Result<Book, FileError> {
    let lines = text("./demo.jsonl").await?.as_string().unwrap_or_default();
    Ok(Book::from_json_lines(&lines).0)
}
