//! What goes into a package: the texts made from a book, and the names of its pictures.

use super::{ABOUT, About, BOOK, README, SCHEMA, SCHEMA_TEXT, WriteError, Writer, readme};
use crate::book::Book;
use crate::exchange::{Options, PDF, outputs};
use crate::record::{PhotoId, Statement};
use crate::report::{self, Report};
use std::io::Write;

/// A picture a book names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// By its hash.
    pub id: PhotoId,
    /// Its media type.
    pub media_type: String,
    /// Its size in bytes, as the book says.
    pub bytes: u64,
    /// A file as the camera wrote it, which may hold where it was taken.
    pub is_original: bool,
}

/// Every picture a book names, once, in book order; also those of struck entries, since what is struck stays readable.
#[must_use]
pub fn pictures_of(book: &Book) -> Vec<Named> {
    let mut all: Vec<Named> = Vec::new();
    for entry in book.entries() {
        let mut statement = entry.statement();
        while let Some(Statement::Correct { now, .. }) = statement {
            statement = Some(now);
        }
        let Some(Statement::Photo(photo)) = statement else { continue };
        let picture = Named {
            id: photo.id.clone(),
            media_type: photo.media_type.clone(),
            bytes: photo.bytes,
            is_original: false,
        };
        let original = photo.original.as_ref().map(|original| Named {
            id: original.id.clone(),
            media_type: original.media_type.clone(),
            bytes: original.bytes,
            is_original: true,
        });
        for named in [Some(picture), original].into_iter().flatten() {
            if all.iter().all(|known| known.id != named.id) {
                all.push(named);
            }
        }
    }
    all
}

/// Writes every text of a package: the book first, then what is computed from it. Gives what the user should know about
/// the sheets, one plain sentence each.
///
/// # Errors
/// When the sink does not take them.
pub fn write_texts<W: Write>(
    to: &mut Writer<W>,
    given: &Report<'_>,
    about: &About,
) -> Result<Vec<String>, WriteError> {
    let record = &given.fold.record;
    // Numbers and names alone, which JSON always takes.
    let said = serde_json::to_string_pretty(about).unwrap_or_default();
    to.add(README, readme(record, about).as_bytes())?;
    to.add(ABOUT, said.as_bytes())?;
    to.add(BOOK, given.book.to_json_lines().as_bytes())?;
    to.add(SCHEMA, SCHEMA_TEXT.as_bytes())?;
    let options = Options { sheet: given.sheet.clone(), ..Options::default() };
    let made = outputs(record, given.adjustment, given.plan, &options);
    for file in &made.files {
        to.add(&file.name, file.text.as_bytes())?;
    }
    if let Some(pdf) = &made.pdf {
        to.add(PDF, pdf)?;
    }
    to.add("report.html", report::write(given).as_bytes())?;
    Ok(made.notices)
}
