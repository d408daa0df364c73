//! The drawn-to-scale base plan as SVG.
//!
//! [`draw`] chooses sheet and scale (standard ones only), lays the plan square to the paper with
//! north upwards, draws it in layers and surrounds it with what a base plan carries: scale bar, north,
//! legend, problems, how well the points are known, cautions, title block.
//!
//! # What it does not do
//! It invents nothing: no dimension that was not read, no north that was not recorded, no symbol's
//! meaning left to guess. It writes no PDF; the SVG carries real millimetres, so that any program
//! that opens it can print it to scale. Text widths are estimated (see `text`), since no font is
//! at hand; labels get a little more room than they need.

mod accuracy;
mod dimensions;
mod drawing;
mod fittings;
mod furniture;
mod geometry;
mod heights;
mod labels;
mod layout;
mod legend;
mod levelled;
mod lists;
mod naming;
mod paper;
mod pen;
mod photos;
mod picture;
pub mod png;
mod points;
mod svg;
mod symbols;
mod text;
mod told;
mod turn;
mod utilities;
mod view;
pub(crate) mod words;

pub use paper::{Orientation, Paper, Scale};
pub(crate) use svg::escape;
pub(crate) use told::told;
pub use turn::Turn;

use crate::checks::{concerns, lines_on};
use crate::network::{Adjustment, Freedom};
use crate::plan::{Ground, Outline, Plan, placed_photos, with_sketch};
use crate::record::{PointId, Record};
use crate::units::{Length, PlanPoint};
use geometry::{Frame, Spot, spot};
use layout::{Layout, Wanted};
use pen::{Face, Hang, Pen};
use picture::{Page, Picture, Role};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use view::{Extent, View};

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

/// Draws the sheet. The same input gives the same text, byte for byte; it never fails: an empty
/// record gives a sheet that says what is missing.
#[must_use]
pub fn draw(record: &Record, adjustment: &Adjustment, plan: &Plan, options: &Options) -> Drawing {
    let sketched = only_sketched(plan);
    // Looking everything over takes a while; without an answer there is nothing to list.
    let answered = record.notes().iter().any(|note| !note.what.settles.is_empty());
    let ground = Ground::of(record, &finite(plan));
    let mut left = if answered { lines_on(record, adjustment, plan, &ground) } else { Vec::new() };
    left.retain(|line| !line.is_open());
    let worth = if options.layers.worth { concerns(record, plan, &ground) } else { Vec::new() };
    // What is only sketched is drawn beside what is measured, and says so; alone it would be no plan.
    let plan = &finite(&if plan.points.is_empty() { plan.clone() } else { with_sketch(plan, record) });
    let turn = options.turn.of(plan);
    let photos = if options.layers.photos { placed_photos(record, plan) } else { Vec::new() };
    let subject = furniture::Subject {
        record,
        adjustment,
        plan,
        photos: &photos,
        ground: &ground,
        sketched: &sketched,
        labels: &record.points.iter().map(|p| (&p.id, p.label.as_str())).collect(),
        concerns: &worth,
        left: &left,
        options,
    };
    let rows = lists::count(&subject);
    let extent = Extent::of(plan, &photos, turn);
    // Many papers and arrangements ask for columns of the same few widths.
    let made: RefCell<BTreeMap<(u64, usize), layout::Blocks>> = RefCell::default();
    let wanted = Wanted {
        options,
        units: record.site.units,
        extent,
        rows,
        notes: &|wide, listed| {
            Rc::clone(
                made.borrow_mut()
                    .entry((wide.to_bits(), listed))
                    .or_insert_with(|| Rc::new(furniture::blocks(&subject, wide, listed, None))),
            )
        },
    };
    let layout = wanted.layout();
    let view = View::new(layout.scale, turn, extent.as_ref(), layout.window.centre());
    let mut notices = notices(plan, &layout, rows);
    let mut body = Picture::default();
    body.rect(&layout.sheet, Pen::fill(pen::PAPER));
    let above = notice_lines(plan, &layout, &notices);
    let room: Vec<Frame> = above
        .iter()
        .map(|(at, words)| {
            let half = text::width(words, NOTICE, true) / 2.0;
            Frame::new(at.x - half, at.y - NOTICE, at.x + half, at.y + NOTICE * 0.3)
        })
        .collect();
    let scene = drawing::Scene::new(&subject, &view);
    let (inner, left_out) = scene.draw(&layout, &room);
    body.group(Role::Window, inner);
    body.named("layer-sheet", surround(&subject, &layout, &view, &above));
    notices.extend(left_out);
    let page = page(record, &layout, body);
    Drawing {
        svg: svg::write(&page),
        page,
        paper: layout.paper,
        orientation: layout.orientation,
        scale: layout.scale,
        width: Length::from_millimetres(layout.sheet.width()),
        height: Length::from_millimetres(layout.sheet.height()),
        notices,
        view,
    }
}

/// The points that only the sketch places.
fn only_sketched(plan: &Plan) -> BTreeSet<PointId> {
    let unread = plan.points.iter().filter(|p| p.freedom == Some(Freedom::Unmeasured)).map(|p| &p.id);
    unread.chain(plan.unplaced.iter().map(|(id, _)| id)).cloned().collect()
}

/// The plan without anything whose place is no number, which no reading can cause but a damaged
/// file could.
fn finite(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    plan.points.retain(|p| p.at.is_finite());
    plan.shapes.retain(|shape| is_finite(&shape.outline));
    plan.taped.retain(|t| t.from_at.is_finite() && t.to_at.is_finite());
    for problem in &mut plan.problems {
        problem.at = problem.at.filter(|at| at.is_finite());
        problem.outline = problem.outline.take().filter(is_finite);
    }
    plan.north = plan.north.filter(|north| north.direction.radians().is_finite());
    plan
}

fn is_finite(outline: &Outline) -> bool {
    match outline {
        Outline::Spot(at) => at.is_finite(),
        Outline::Line(all) | Outline::Area(all) => all.iter().all(|at| at.is_finite()),
        Outline::Circle { centre, inner, outer } => {
            centre.is_finite() && inner.is_none_or(Length::is_finite) && outer.is_none_or(Length::is_finite)
        }
    }
}

fn notices(plan: &Plan, layout: &Layout, rows: usize) -> Vec<String> {
    let mut all = Vec::new();
    if !layout.fits {
        all.push(format!(
            "At 1:{} the plan is larger than this sheet: parts are cut off. Choose a smaller scale or a larger sheet.",
            layout.scale.denominator()
        ));
    }
    if layout.listed < rows {
        all.push(format!(
            "The lists on the sheet have room for {} of {rows} entries: choose a larger sheet for all of them.",
            layout.listed
        ));
    }
    if plan.points.is_empty() {
        all.push("Nothing to draw yet: add points, then tape from one to the next.".to_owned());
    } else if plan.points.len() == 1 && plan.shapes.is_empty() {
        all.push("Only one point has a place: tape from it to the next.".to_owned());
    }
    all
}

/// Border, columns of notes, and notices in the window.
fn surround(
    subject: &furniture::Subject<'_>,
    layout: &Layout,
    view: &View,
    notices: &[(Spot, String)],
) -> Picture {
    let mut picture = Picture::default();
    picture.rect(&layout.window, Pen::line(0.35));
    picture.rect(&layout.frame, Pen::line(0.7));
    let wide = layout.columns.first().map_or(0.0, Frame::width);
    let high = layout.columns.first().map_or(0.0, Frame::height);
    let blocks = furniture::blocks(subject, wide, layout.listed, Some((layout, view)));
    let places = layout::balanced(&blocks, layout.columns.len(), high).unwrap_or_default();
    for (block, (column, y)) in blocks.into_iter().zip(places) {
        if let Some(column) = layout.columns.get(column) {
            picture.group(Role::Moved(spot(column.x0, column.y0 + y)), block.picture);
        }
    }
    for (at, line) in notices {
        picture.text(*at, Face::of(NOTICE).bold().hang(Hang::Middle), line);
    }
    picture
}

/// Size of a notice's words, mm.
const NOTICE: f64 = 3.2;

/// Where the lines of the notices stand in the window.
fn notice_lines(plan: &Plan, layout: &Layout, notices: &[String]) -> Vec<(Spot, String)> {
    let window = layout.window;
    let mut y = if plan.points.is_empty() { window.centre().y } else { window.y0 + 5.0 };
    let mut all = Vec::new();
    for line in notices.iter().flat_map(|notice| text::wrap(notice, NOTICE, window.width() - 16.0)) {
        all.push((spot(window.centre().x, y), line));
        y += 4.2;
    }
    all
}

fn page(record: &Record, layout: &Layout, body: Picture) -> Page {
    Page {
        sheet: layout.sheet,
        window: layout.window,
        title: format!("Base plan of {}", record.site.name),
        description: format!("Drawn at {} on {}.", layout.scale.words(record.site.units), layout.paper.name),
        body,
    }
}
