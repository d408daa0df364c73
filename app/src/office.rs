//! What is needed at the table, not at the tape: the sheet, the files to hand on, and tables read in.
//!
//! A part of the program of its own (`wasm_split` takes each function so marked, and all that nothing
//! else uses, out of the first load), fetched when first asked for. After the first visit it lies in the
//! offline copy like everything else.

mod open;
mod pack;
mod progress;

pub use open::{Brought, LookedOver, News, is_of, news, open, pictures};
pub use pack::{Order, Packed, pack};
pub use progress::{Doing, Ended, Progress};
/// What of a book does not leave the device, and which pictures do.
pub use swingtie_core::package::{Left, Pictures, file_name, pictures_of};

use crate::device::{FileError, read_bytes};
use crate::state::OpenSite;
use crate::store::Store;
use js_sys::{JsString, Uint8Array};
use leptos::prelude::*;
use std::borrow::Cow;
use swingtie_core::book::{Book, Fold};
use swingtie_core::exchange::csv;
/// Who brings a table in, and when.
pub use swingtie_core::exchange::csv::Source;
use swingtie_core::exchange::{Options, PDF, Sheet, outputs};
use swingtie_core::network::Adjustment;
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::record::{PhotoId, Record};
use swingtie_core::report::{Report, write};
use swingtie_core::sheet::Options as SheetOptions;
use wasm_bindgen::prelude::*;
use wasm_split_helpers::{SplitLoaderError, wasm_split};
use web_sys::Blob;

#[wasm_bindgen]
extern "C" {
    /// In `public/start.js`.
    #[wasm_bindgen(catch, js_namespace = swingtie)]
    async fn text(path: &str) -> Result<JsValue, JsValue>;
}

impl From<SplitLoaderError> for FileError {
    fn from(_: SplitLoaderError) -> Self {
        // What exactly failed stands in the browser's console.
        Self::new("it could not be fetched")
    }
}

/// The files of a book and what is said beside them.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanFiles {
    files: Vec<(Cow<'static, str>, String)>,
    pdf: Option<Vec<u8>>,
    /// The sheets, at least one.
    pub sheets: Vec<Sheet>,
    /// What the user should know about the sheets.
    pub notices: Vec<String>,
    /// Why there is no map layer.
    pub no_map: Option<String>,
}

impl PlanFiles {
    /// What stands in a file: a text, or the bytes of the PDF. None when it could not be made.
    #[must_use]
    pub fn file(&self, name: &str) -> Option<JsValue> {
        match self.pdf.as_deref().filter(|_| name == PDF) {
            Some(bytes) => Some(Uint8Array::from(bytes).into()),
            None => self.text(name).map(JsValue::from),
        }
    }

    /// Whether the file could be made.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.text(name).is_some() || (name == PDF && self.pdf.is_some())
    }

    fn text(&self, name: &str) -> Option<&str> {
        self.files.iter().find(|(known, _)| known == name).map(|(_, text)| text.as_str())
    }
}

/// Draws the sheets and makes every file of a book, the same bytes the desk command writes.
///
/// # Errors
/// When the part of the program for it could not be fetched.
#[wasm_split(office, fallible)]
pub fn plan_files(
    fold: &Fold,
    adjustment: &Adjustment,
    plan: &Plan,
    sheet: SheetOptions,
) -> Result<PlanFiles, FileError> {
    let made = outputs(&fold.record, adjustment, plan, &Options { sheet, ..Options::default() });
    Ok(PlanFiles {
        files: made.files.into_iter().map(|file| (file.name, file.text)).collect(),
        pdf: made.pdf,
        sheets: made.sheets,
        notices: made.notices,
        no_map: made.no_map.map(|why| why.to_string()),
    })
}

/// The whole survey as one page to read and print (`report.html`, `text/html`), with the small pictures of its photos
/// as far as they are on this device.
///
/// # Errors
/// When the part of the program for it could not be fetched.
pub async fn report_of(site: OpenSite, sheet: SheetOptions) -> Result<JsString, FileError> {
    let (book, fold) = (site.book.get_untracked(), site.fold.get_untracked());
    let (adjustment, plan) = (site.adjustment.get_untracked(), site.plan.get_untracked());
    let pictures = thumbnails(&site.store(), &fold.record).await;
    report_text(&book, &fold, &adjustment, &plan, sheet, pictures).await.map(JsString::from)
}

/// Large files are read so much at a time.
const PIECE: f64 = 1_048_576.0;

/// The bytes of a blob from a place on, [`PIECE`] of them or what is left.
async fn piece(blob: &Blob, at: f64) -> Result<Vec<u8>, FileError> {
    read_bytes(&blob.slice_with_f64_and_f64(at, at + PIECE)?).await
}

/// The small pictures that are here. One that is not, or cannot be read, is said to be missing in the report.
async fn thumbnails(store: &Store, record: &Record) -> Vec<(PhotoId, Vec<u8>)> {
    let mut found = Vec::new();
    for photo in &record.photos {
        let id = &photo.what.id;
        if let Ok(Some(blob)) = store.thumbnail(id).await
            && let Ok(bytes) = read_bytes(&blob).await
        {
            found.push((id.clone(), bytes));
        }
    }
    found
}

/// Writes the page.
///
/// # Errors
/// When the part of the program for it could not be fetched.
#[wasm_split(office, fallible)]
fn report_text(
    book: &Book,
    fold: &Fold,
    adjustment: &Adjustment,
    plan: &Plan,
    sheet: SheetOptions,
    pictures: Vec<(PhotoId, Vec<u8>)>,
) -> Result<String, FileError> {
    let (ground, pictures) = (Ground::of(&fold.record, plan), pictures.into_iter().collect());
    Ok(write(&Report { book, fold, adjustment, plan, ground: &ground, sheet: &sheet, pictures: &pictures }))
}

/// A table read: its book and the cells passed over, or what is wrong with it, one sentence each with
/// line and column.
pub type Table = Result<(Book, Vec<String>), Vec<String>>;

/// Reads a table of measurements (CSV).
///
/// # Errors
/// When the part of the program for it could not be fetched. Faults of the table are an answer.
#[wasm_split(office, fallible)]
pub fn read_table(text: &str, source: &Source) -> Result<Table, FileError> {
    let say = |cells: &[csv::CellError]| cells.iter().map(ToString::to_string).collect();
    Ok(match csv::read(text, source) {
        Ok(import) => {
            let remarks = say(&import.remarks);
            Ok((import.book, remarks))
        }
        Err(errors) => Err(say(&errors)),
    })
}

/// The demo yard's book: an invented place, a file of this site.
///
/// # Errors
/// When it cannot be had, in the browser's words.
pub async fn demo() -> Result<Book, FileError> {
    let lines = text("./demo.jsonl").await?.as_string().unwrap_or_default();
    Ok(Book::from_json_lines(&lines).0)
}

#[cfg(test)]
pub mod tests {
    use super::*;
    use crate::state::DEMO;
    use std::pin::pin;
    use std::task::{Context, Poll, Waker};
    use swingtie_core::{book::fold, network::adjust, record::AuthorId};

    /// On the desk nothing is fetched: the answer is there at once.
    pub fn now<T>(answer: impl Future<Output = Result<T, FileError>>) -> T {
        match pin!(answer).poll(&mut Context::from_waker(Waker::noop())) {
            Poll::Ready(Ok(answer)) => answer,
            Poll::Ready(Err(error)) => panic!("{error}"),
            Poll::Pending => panic!("not there at once"),
        }
    }

    fn demo_files() -> PlanFiles {
        let fold = fold(&Book::from_json_lines(DEMO).0);
        let adjustment = adjust(&fold.record);
        now(plan_files(&fold, &adjustment, &Plan::build(&fold.record, &adjustment), SheetOptions::default()))
    }

    fn source() -> Source {
        Source { id_prefix: "t-".to_owned(), author: AuthorId("a".to_owned()), at_ms: 0 }
    }

    #[test]
    fn every_file_of_a_book_is_made() {
        let made = demo_files();
        for name in ["plan.svg", "points.csv", "adjustment.json", "measurements.csv"] {
            assert!(made.text(name).is_some_and(|text| !text.is_empty()), "{name}");
        }
        // Exactly one: the map layer, or the reason why there is none.
        assert_ne!(made.has("plan.geojson"), made.no_map.is_some());
        assert!(!made.has("plan.dxf"));
        assert!(made.has(PDF) && made.sheets.len() == 1);
    }

    #[test]
    fn a_report_shows_the_pictures_that_are_here() {
        let book = Book::from_json_lines(DEMO).0;
        let fold = fold(&book);
        let adjustment = adjust(&fold.record);
        let plan = Plan::build(&fold.record, &adjustment);
        let page = now(report_text(&book, &fold, &adjustment, &plan, SheetOptions::default(), Vec::new()));
        assert!(page.starts_with("<!DOCTYPE html>") && page.contains("Plum Street demo"), "{page:.200}");
    }

    #[test]
    fn a_table_comes_back_from_its_own_export() {
        let made = demo_files();
        let read = now(read_table(made.text("measurements.csv").unwrap(), &source()));
        let (back, remarks) = read.unwrap();
        assert_eq!(remarks, Vec::<String>::new());
        let measurements = |book: &Book| fold(book).record.measurements.len();
        assert_eq!(measurements(&back), measurements(&Book::from_json_lines(DEMO).0));
    }

    #[test]
    fn a_bad_table_says_line_and_column() {
        let faults = now(read_table("kind,from,to,reading\ntie,H1,H2,banana\n", &source())).unwrap_err();
        assert!(faults[0].starts_with("line 2, column reading:"), "{faults:?}");
    }
}
