//! The whole plan on one sheet, with all that is said about it.

use super::dimensions::Span;
use super::drawing::Scene;
use super::furniture::Number;
use super::geometry::{Frame, Spot, spot};
use super::layout::{self, Layout, Rows, Wanted};
use super::pen::{self, Face, Hang, Pen};
use super::picture::{Page, Picture, Role};
use super::prepared::Prepared;
use super::tiles::Parts;
use super::view::View;
use super::{Colours, Drawing, Options, accuracy, furniture, lists, svg, text};
use crate::plan::Plan;
use crate::record::Record;
use crate::units::Length;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// How the whole plan stands on one sheet, before it is drawn.
pub(super) struct Laid {
    pub layout: Layout,
    /// How many rows its lists have, whether there is room for them or not.
    rows: usize,
}

impl Laid {
    /// Whether the lists are complete.
    pub fn is_listed(&self) -> bool {
        self.layout.listed >= self.rows
    }
}

/// Finds paper, scale and place for everything, and whether lists may stand `apart` on a sheet of their own. Which of
/// how many sheets it is moves nothing.
pub(super) fn lay(prepared: &Prepared<'_>, options: &Options, apart: bool) -> Laid {
    let subject = prepared.subject(options, None);
    let (all, pressing) = lists::count(&subject);
    // Many papers and arrangements ask for columns of the same few widths.
    let made: RefCell<BTreeMap<(u64, usize), layout::Blocks>> = RefCell::default();
    let wanted = Wanted {
        options,
        units: prepared.record.site.units,
        extent: prepared.extent,
        rows: Rows { all, pressing, apart },
        notes: &|wide, listed| {
            Rc::clone(
                made.borrow_mut()
                    .entry((wide.to_bits(), listed))
                    .or_insert_with(|| Rc::new(furniture::blocks(&subject, wide, listed, None))),
            )
        },
    };
    Laid { layout: wanted.layout(), rows: all }
}

/// Draws it; where `parts` have the plan at a larger scale it shows where each lies, and leaves words and figures
/// to them.
pub(super) fn draw(
    prepared: &Prepared<'_>,
    options: &Options,
    laid: &Laid,
    parts: Option<&Parts>,
    number: Option<Number>,
) -> Drawing {
    let subject = prepared.subject(options, number);
    let (record, plan, layout) = (prepared.record, &prepared.plan, &laid.layout);
    let view = View::new(layout.scale, prepared.turn, prepared.extent.as_ref(), layout.window.centre());
    let mut notices: Vec<String> = accuracy::warning(&subject).map(str::to_owned).into_iter().collect();
    notices.extend(self::notices(plan, laid, number.and_then(|number| number.lists)));
    notices.extend(parts.map(|parts| parts.sentence(record.site.units)));
    let above = notice_lines(plan, layout, &notices);
    let mut room: Vec<Frame> = above.iter().map(room_of).collect();
    // Below the notices, where nothing is written over.
    let free =
        Frame { y0: room.iter().map(|frame| frame.y1).fold(layout.window.y0, f64::max), ..layout.window };
    let edges = parts.map(|parts| parts.edges(&view, &free, &mut room));
    let bare = Options {
        layers: parts.map_or(options.layers, |_| Parts::layers(options.layers)),
        ..options.clone()
    };
    let shown = furniture::Subject { options: &bare, ..subject };
    let (mut inner, left_out) = Scene::new(&shown, &view, &room).draw(layout, &|_, _| Span::Whole);
    inner.append(edges.unwrap_or_default());
    let mut body = Picture::default();
    body.rect(&layout.sheet, Pen::fill(pen::PAPER));
    body.group(Role::Window, inner);
    body.named("layer-sheet", surround(&subject, layout, &view, &above));
    notices.extend(left_out);
    finished((record, options.colours), layout, view, body, notices)
}

/// A sheet whose picture is drawn.
pub(super) fn finished(
    (record, colours): (&Record, Colours),
    layout: &Layout,
    view: View,
    body: Picture,
    notices: Vec<String>,
) -> Drawing {
    let body = match colours {
        Colours::Full => body,
        Colours::Grey => body.grey(),
    };
    let page = page(record, layout, body);
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

fn notices(plan: &Plan, laid: &Laid, lists: Option<usize>) -> Vec<String> {
    let Laid { layout, rows } = laid;
    let mut all = Vec::new();
    if !layout.fits {
        all.push(say!(
            "At 1:{} the plan is larger than this sheet: parts are cut off. Choose a smaller scale or a larger sheet.",
            layout.scale.denominator()
        ));
    }
    // The columns say which lists are on another sheet.
    if !laid.is_listed() && lists.is_none() {
        all.push(say!(
            "The lists on the sheet have room for {} of {rows} entries: choose a larger sheet for all of them.",
            layout.listed
        ));
    }
    if plan.points.is_empty() {
        all.push(say!("Nothing to draw yet: add points, then tape from one to the next."));
    } else if plan.points.len() == 1 && plan.shapes.is_empty() {
        all.push(say!("Only one point has a place: tape from it to the next."));
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
    let mut picture = layout.border();
    let blocks = furniture::blocks(subject, layout.column().0, layout.listed, Some((layout, view)));
    layout.set(&mut picture, blocks);
    // Words stand on paper, not on what may lie below them.
    for line in notices {
        picture.rect(&room_of(line), Pen::fill(pen::PAPER));
    }
    for (at, line) in notices {
        picture.text(*at, Face::of(NOTICE).bold().hang(Hang::Middle), line);
    }
    picture
}

/// Size of a notice's words, mm.
const NOTICE: f64 = 3.2;

/// Kept free around it, mm.
const AIR: f64 = 1.5;

/// The room of a line of a notice, with air around it: a fence that ended right before would be read as one with it.
fn room_of((at, words): &(Spot, String)) -> Frame {
    let half = text::width(words, NOTICE, true) / 2.0;
    Frame::new(at.x - half, at.y - NOTICE, at.x + half, at.y + NOTICE * 0.35).grown(AIR)
}

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
        title: say!("Base plan of {}", record.site.name),
        author: record.site.surveyor.clone(),
        description: say!("Drawn at {} on {}.", layout.scale.words(record.site.units), layout.paper.name),
        body,
    }
}
