//! Every file a finished plan is handed on as, made in one place, so that the phone and the desk
//! write the same bytes.

use super::{adjustment, csv, geojson, points};
use crate::network::Adjustment;
use crate::place::Stated;
use crate::plan::Plan;
use crate::record::Record;
use crate::sheet;

/// What is stated beside the book.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// Anchor, north and declination in place of the book's.
    pub place: Stated,
    /// Paper, scale and layers of the sheet.
    pub sheet: sheet::Options,
}

/// A file to write.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// Its name.
    pub name: &'static str,
    /// Its media type.
    pub media_type: &'static str,
    /// What stands in it, UTF-8.
    pub text: String,
}

/// The files, and what the user should know about them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outputs {
    /// Those that could be made.
    pub files: Vec<File>,
    /// One sentence each: a file that could not be made and why, something cut off.
    pub notices: Vec<String>,
}

/// Makes every file.
#[must_use]
pub fn outputs(record: &Record, adjustment: &Adjustment, plan: &Plan, options: &Options) -> Outputs {
    let drawing = sheet::draw(record, adjustment, plan, &options.sheet);
    let mut made = Outputs { files: Vec::new(), notices: drawing.notices };
    let mut put = |name, media_type, text| made.files.push(File { name, media_type, text });
    put("plan.svg", "image/svg+xml", drawing.svg);
    match geojson::write(record, plan, &options.place) {
        Ok(text) => put("plan.geojson", "application/geo+json", text),
        Err(reason) => made.notices.push(format!("plan.geojson was not written: {reason}.")),
    }
    let mut put = |name, media_type, text| made.files.push(File { name, media_type, text });
    put("points.csv", "text/csv", points::write(record, adjustment));
    put("adjustment.json", "application/json", adjustment::write(record, adjustment));
    put("measurements.csv", "text/csv", csv::write(record));
    made
}
