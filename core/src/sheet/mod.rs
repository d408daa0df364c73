//! The drawn-to-scale base plan as SVG and PDF.
//!
//! [`draw`] chooses sheet and scale (standard ones only), lays the plan square to the paper with
//! north upwards, draws it in layers and surrounds it with what a base plan carries: scale bar, north,
//! legend, problems, how well the points are known, cautions, title block.
//!
//! # What it does not do
//! It invents nothing: no dimension that was not read, no north that was not recorded, no symbol's
//! meaning left to guess. Text widths are those of the widest of the usual fonts (see `text`), since who
//! opens the SVG may have another than its own; labels get a little more room than they need.

mod accuracy;
mod contours;
mod dimensions;
mod drawing;
mod fittings;
mod font;
mod furniture;
mod geometry;
mod heights;
mod labels;
mod layers;
mod layout;
mod legend;
mod levelled;
mod listing;
mod lists;
mod naming;
pub(crate) mod north;
mod paper;
pub mod pdf;
mod pen;
mod photos;
mod picture;
pub mod png;
mod points;
mod prepared;
mod questions;
mod svg;
mod symbols;
mod text;
mod tiles;
mod told;
mod turn;
mod utilities;
mod view;
mod whole;
mod woff;
pub(crate) mod words;

pub use paper::{Orientation, Paper, Scale};
pub(crate) use svg::escape;
pub(crate) use told::{Told, told};
pub use turn::Turn;

use crate::network::Adjustment;
use crate::plan::Plan;
use crate::record::Record;
use crate::units::{Length, PlanPoint};
use furniture::Number;
use listing::Listing;
use picture::Page;
use prepared::Prepared;
use tiles::Parts;
use view::View;

/// What to draw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layers {
    /// Labels of points, names of areas and lines.
    pub labels: bool,
    /// The marks that show how well each point is known.
    pub points: bool,
    /// Taped lengths along the walls of buildings.
    pub dimensions: bool,
    /// Every tape line across the yard with its reading.
    pub taped_lines: bool,
    /// Utility marks.
    pub utilities: bool,
    /// Problems and their list.
    pub problems: bool,
    /// Where photos were taken and which way they look.
    pub photos: bool,
    /// Lists of things, notes, photos, and of what was left open.
    pub lists: bool,
    /// What the checks found worth a look: advice, which a base plan need not carry, and long.
    pub worth: bool,
    /// Heights of points, where they were levelled.
    pub heights: bool,
    /// Lines of equal height.
    pub contours: bool,
    /// Which way the ground falls, and where water stands.
    pub fall: bool,
    /// Hatching of buildings, decks, beds and wet spots.
    pub hatching: bool,
}

impl Default for Layers {
    fn default() -> Self {
        Self {
            labels: true,
            points: true,
            dimensions: true,
            taped_lines: false,
            utilities: true,
            problems: true,
            photos: true,
            lists: true,
            worth: false,
            heights: true,
            contours: true,
            fall: true,
            hatching: true,
        }
    }
}

/// In what colours to draw.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Colours {
    /// Each thing's own.
    #[default]
    Full,
    /// For printers without colours: each colour's grey of the same brightness. Utility lines are told by
    /// their letters.
    Grey,
}

/// How the sheet shall be; what is left open is chosen.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Options {
    /// The paper; none chooses the smallest sensible one.
    pub paper: Option<Paper>,
    /// Which way the paper lies; none chooses.
    pub orientation: Option<Orientation>,
    /// The scale; none chooses the largest standard one that fits.
    pub scale: Option<Scale>,
    /// Which way up.
    pub turn: Turn,
    /// What to draw.
    pub layers: Layers,
    /// In what colours.
    pub colours: Colours,
    /// Whether the lists stand elsewhere, and not on the sheet: problems, marks and all the rest.
    pub without_lists: bool,
    /// What the title block says under revision; empty for the first.
    pub revision: String,
}

/// A finished sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// The SVG document, UTF-8, its width and height in millimetres.
    pub svg: String,
    /// The paper used.
    pub paper: Paper,
    /// Which way it lies.
    pub orientation: Orientation,
    /// The scale used.
    pub scale: Scale,
    /// Width of the sheet.
    pub width: Length,
    /// Height of the sheet.
    pub height: Length,
    /// What the user should know, one plain sentence each: something cut off, something not listed.
    pub notices: Vec<String>,
    view: View,
    page: Page,
}

impl Drawing {
    /// Where a place of the plan lies on the sheet: from its left edge and from its upper edge.
    #[must_use]
    pub fn on_sheet(&self, at: PlanPoint) -> (Length, Length) {
        let at = self.view.place(at);
        (Length::from_millimetres(at.x), Length::from_millimetres(at.y))
    }
}

/// Draws the plan on one sheet, with all lists for which any paper has room. The same input gives the same text, byte for byte; it never fails: an empty
/// record gives a sheet that says what is missing.
#[must_use]
pub fn draw(record: &Record, adjustment: &Adjustment, plan: &Plan, options: &Options) -> Drawing {
    let prepared = Prepared::of(record, adjustment, plan, options);
    whole::draw(&prepared, options, &whole::lay(&prepared, options, false), None, None)
}

/// Draws the plan on as many sheets as it needs: usually one. Where the scale that is wanted is too large for
/// one sheet, or the site too large for any scale at which a plan still reads, the first sheet shows the whole
/// and which sheet has what, and the others have the plan in parts that join at match lines. The plan's scale
/// yields to no list: those without room beside it stand on a last sheet of their own.
#[must_use]
pub fn sheets(record: &Record, adjustment: &Adjustment, plan: &Plan, options: &Options) -> Vec<Drawing> {
    let prepared = Prepared::of(record, adjustment, plan, options);
    let one = whole::lay(&prepared, options, true);
    let tolerable = paper::tolerable(record.site.units);
    let scale = match options.scale {
        Some(scale) if !one.layout.fits => Some(scale),
        None if one.layout.scale > tolerable => Some(tolerable),
        _ => None,
    };
    let parts = scale.and_then(|scale| Parts::of(&prepared, options, one.layout.paper, scale));
    let overview = Options { scale: None, paper: Some(one.layout.paper), ..options.clone() };
    let (options, laid) =
        if parts.is_some() { (&overview, whole::lay(&prepared, &overview, true)) } else { (options, one) };
    let listing = (!laid.is_listed()).then(|| Listing::of(&prepared.subject(options, None), &laid.layout));
    let drawn = 1 + parts.as_ref().map_or(0, Parts::count);
    let of = drawn + listing.as_ref().map_or(0, Listing::sheets);
    let lists = listing.as_ref().map(|_| drawn + 1);
    let first = Number { sheet: 1, of, lists, joins: false, broken: false };
    let number = (of > 1).then_some(first);
    let mut all = vec![whole::draw(&prepared, options, &laid, parts.as_ref(), number)];
    all.extend(parts.iter().flat_map(|parts| parts.draw(&prepared, options, first)));
    let lists = Number { sheet: drawn + 1, ..first };
    all.extend(listing.iter().flat_map(|listing| listing.draw(&prepared, options, lists)));
    all
}
