//! The sheet as PDF: for the printer, and for who has no program for drawings.
//!
//! A part of the program of its own, as [`crate::office`] is, fetched when a PDF is first asked for.

use crate::device::FileError;
use swingtie_core::book::Fold;
use swingtie_core::network::Adjustment;
use swingtie_core::plan::Plan;
use swingtie_core::sheet::{Options, pdf, sheets};
use wasm_split_helpers::wasm_split;

/// Draws the plan on as many sheets as it needs and makes a PDF of them, a page each: the same bytes the desk
/// command writes, with what the user should know about them.
///
/// # Errors
/// When the part of the program for it could not be fetched, or there are more different characters than a
/// PDF can hold.
#[wasm_split(paper, fallible)]
pub fn pdf_of(
    fold: &Fold,
    adjustment: &Adjustment,
    plan: &Plan,
    sheet: Options,
) -> Result<pdf::Written, FileError> {
    let sheets = sheets(&fold.record, adjustment, plan, &sheet);
    pdf::write(&sheets).map_err(|error| FileError::new(&error.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::office::tests::now;
    use crate::state::DEMO;
    use swingtie_core::{book::Book, book::fold, network::adjust};

    #[test]
    fn the_demo_makes_a_pdf() {
        let fold = fold(&Book::from_json_lines(DEMO).0);
        let adjustment = adjust(&fold.record);
        let plan = Plan::build(&fold.record, &adjustment);
        let made = now(pdf_of(&fold, &adjustment, &plan, Options::default()));
        // ISO 32000-1, 7.5.2 and 7.5.5: how a file begins and ends.
        let whole = made.bytes.starts_with(b"%PDF-1.7") && made.bytes.trim_ascii_end().ends_with(b"%%EOF");
        assert!(whole, "{} bytes", made.bytes.len());
        assert_eq!(made.notices, Vec::<String>::new());
    }
}
