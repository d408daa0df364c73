//! Every file a finished plan is handed on as, made in one place, so that the phone and the desk
//! write the same bytes.

use super::{adjustment, csv, geojson, points};
use crate::network::Adjustment;
use crate::place::{Stated, Unplaced};
use crate::plan::{Ground, NorthArrow, Plan};
use crate::record::{NorthKind, Record};
use crate::sheet;
use crate::units::Length;
use std::borrow::Cow;

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
#[derive(Clone, Debug, PartialEq)]
pub struct Outputs {
    /// Those that could be made.
    pub files: Vec<File>,
    /// What the user should know about the sheet, one plain sentence each.
    pub notices: Vec<String>,
    /// Why there is no map layer among the files.
    pub no_map: Option<Unplaced>,
    /// The sheet's paper.
    pub paper: sheet::Paper,
    /// Width and height of the sheet as it lies.
    pub sides: (Length, Length),
    /// The sheet's scale.
    pub scale: sheet::Scale,
}

/// Makes every file.
#[must_use]
pub fn outputs(record: &Record, adjustment: &Adjustment, plan: &Plan, options: &Options) -> Outputs {
    let plan = &north_as_stated(plan, &options.place);
    let drawing = sheet::draw(record, adjustment, plan, &options.sheet);
    let mut files = Vec::new();
    let mut put = |name, media_type, text| files.push(File { name, media_type, text });
    put("plan.svg", "image/svg+xml", drawing.svg);
    let ground = Ground::of(record, plan);
    let map = geojson::write(record, plan, &ground, &options.place);
    let no_map = map.map(|text| put("plan.geojson", "application/geo+json", text)).err();
    put(
        "plan.fg.json",
        "application/vnd.ogc.fg+json",
        geojson::write_local(record, plan, &ground, &options.place),
    );
    put("points.csv", "text/csv", points::write(record, adjustment));
    put("adjustment.json", "application/json", adjustment::write(record, adjustment));
    put("measurements.csv", "text/csv", csv::write(record));
    Outputs {
        files,
        notices: drawing.notices,
        no_map,
        paper: drawing.paper,
        sides: (drawing.width, drawing.height),
        scale: drawing.scale,
    }
}

/// The plan with north as stated, where it was.
#[must_use]
pub fn north_as_stated<'a>(plan: &'a Plan, place: &Stated) -> Cow<'a, Plan> {
    let Some(bearing) = place.north else { return Cow::Borrowed(plan) };
    // The x axis bears so much clockwise from north: north lies as much counter-clockwise from it.
    let north =
        NorthArrow { direction: bearing, kind: NorthKind::True, source: "as stated".to_owned(), sd: None };
    Cow::Owned(Plan { north: Some(north), ..plan.clone() })
}
