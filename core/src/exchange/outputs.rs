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
    pub name: Cow<'static, str>,
    /// Its media type.
    pub media_type: &'static str,
    /// What stands in it, UTF-8.
    pub text: String,
}

/// One of the sheets.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// The name of its SVG among the files.
    pub name: Cow<'static, str>,
    /// Its paper.
    pub paper: sheet::Paper,
    /// Its width and height as it lies.
    pub sides: (Length, Length),
    /// Its scale.
    pub scale: sheet::Scale,
}

/// The files, and what the user should know about them.
#[derive(Clone, Debug, PartialEq)]
pub struct Outputs {
    /// Those texts that could be made: `plan.svg`, where there are more sheets `plan-2.svg` and so on, and the rest.
    pub files: Vec<File>,
    /// All sheets as one file, [`PDF`].
    pub pdf: Option<Vec<u8>>,
    /// The sheets, at least one.
    pub sheets: Vec<Sheet>,
    /// What the user should know about the sheets, one plain sentence each.
    pub notices: Vec<String>,
    /// Why there is no map layer among the files.
    pub no_map: Option<Unplaced>,
}

/// The name of all sheets as one file.
pub const PDF: &str = "plan.pdf";

/// The name of a sheet as SVG, counted from 1.
fn svg_name(sheet: usize) -> Cow<'static, str> {
    if sheet == 1 { "plan.svg".into() } else { format!("plan-{sheet}.svg").into() }
}

/// Makes every file.
#[must_use]
pub fn outputs(record: &Record, adjustment: &Adjustment, plan: &Plan, options: &Options) -> Outputs {
    let plan = &north_as_stated(plan, &options.place);
    let drawings = sheet::sheets(record, adjustment, plan, &options.sheet);
    let mut notices: Vec<String> = Vec::new();
    let of_sheets = drawings.iter().flat_map(|drawing| &drawing.notices);
    for notice in of_sheets {
        if !notices.contains(notice) {
            notices.push(notice.clone());
        }
    }
    let pdf = match sheet::pdf::write(&drawings) {
        Ok(pdf) => {
            notices.extend(pdf.notices);
            Some(pdf.bytes)
        }
        Err(error) => {
            notices.push(say!("{PDF} could not be made: {}.", error.to_string()));
            None
        }
    };
    let mut files = Vec::new();
    let mut put = |name: Cow<'static, str>, media_type, text| files.push(File { name, media_type, text });
    let mut sheets = Vec::new();
    for (n, drawing) in (1..).zip(drawings) {
        let sides = (drawing.width, drawing.height);
        sheets.push(Sheet { name: svg_name(n), paper: drawing.paper, sides, scale: drawing.scale });
        put(svg_name(n), "image/svg+xml", drawing.svg);
    }
    let ground = Ground::of(record, plan);
    let map = geojson::write(record, plan, &ground, &options.place);
    let no_map = map.map(|text| put("plan.geojson".into(), "application/geo+json", text)).err();
    put(
        "plan.fg.json".into(),
        "application/vnd.ogc.fg+json",
        geojson::write_local(record, plan, &ground, &options.place),
    );
    put("points.csv".into(), "text/csv", points::write(record, adjustment));
    put("adjustment.json".into(), "application/json", adjustment::write(record, adjustment));
    put("measurements.csv".into(), "text/csv", csv::write(record));
    Outputs { files, pdf, sheets, notices, no_map }
}

/// The plan with north as stated, where it was.
#[must_use]
pub fn north_as_stated<'a>(plan: &'a Plan, place: &Stated) -> Cow<'a, Plan> {
    let Some(bearing) = place.north else { return Cow::Borrowed(plan) };
    // The x axis bears so much clockwise from north: north lies as much counter-clockwise from it.
    let north = NorthArrow { direction: bearing, kind: NorthKind::True, source: say!("as stated"), sd: None };
    Cow::Owned(Plan { north: Some(north), ..plan.clone() })
}
