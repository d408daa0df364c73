//! Chooses paper, orientation, scale and where the drawing and the columns of notes stand.

use super::geometry::{Frame, spot};
use super::paper::{Orientation, Paper, Scale, comfortable, legible, tolerable, usual};
use super::pen::Pen;
use super::picture::{Picture, Role};
use super::view::Extent;
use super::{Options, furniture::Block};
use crate::record::UnitSystem;
use std::rc::Rc;

/// Between the paper's edge and the frame: what common printers cannot reach, and a little more.
const EDGE: f64 = 8.0;
/// Kept free around the drawing for labels and dimensions.
const ROOM: f64 = 9.0;
/// Inside a column of notes, left and right.
const INSET: f64 = 3.0;
/// Column widths tried beside the drawing, narrow first: number of columns and width of each.
const SIDE: &[(usize, f64)] =
    &[(1, 68.0), (1, 76.0), (1, 86.0), (1, 96.0), (2, 66.0), (2, 76.0), (2, 90.0), (3, 80.0), (4, 90.0)];

/// The papers, from the smallest, that offices and copy shops print at once, to 18 × 24 in or A2: common practice, no
/// source.
const HANDY: usize = 3;

/// Where everything stands on the sheet.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    pub paper: Paper,
    pub orientation: Orientation,
    pub scale: Scale,
    /// The whole sheet.
    pub sheet: Frame,
    /// The border line.
    pub frame: Frame,
    /// Where the plan is drawn.
    pub window: Frame,
    /// Columns of notes; the title block stands at the foot of the last.
    pub columns: Vec<Frame>,
    /// How many rows the lists have room for.
    pub listed: usize,
    /// Whether the drawing fits the window at this scale.
    pub fits: bool,
    /// Whether no section of the notes is broken across columns.
    whole: bool,
    slack: f64,
}

/// The notes of one column width, made once.
pub(super) type Blocks = Rc<Vec<Block>>;

/// Builds the notes for a column width, with so many rows of the lists; the title block comes last.
pub(super) type Notes<'a> = dyn Fn(f64, usize) -> Blocks + 'a;

pub(super) struct Wanted<'a> {
    pub options: &'a Options,
    pub units: UnitSystem,
    pub extent: Option<Extent>,
    pub rows: Rows,
    pub notes: &'a Notes<'a>,
}

/// How many rows the lists have.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rows {
    pub all: usize,
    /// Those that stand with the plan rather than on a sheet of lists: what can hurt somebody comes first.
    pub pressing: usize,
    /// Whether lists without room beside the plan get a sheet of their own.
    pub apart: bool,
}

impl Wanted<'_> {
    /// The layout: what the options ask for, and for what they leave open a paper that many printers take if the
    /// plan is legible on it, else the smallest sensible one; on it the largest standard scale.
    pub fn layout(&self) -> Layout {
        let papers: Vec<Paper> = match self.options.paper {
            Some(paper) => vec![paper],
            None => Paper::of(self.units).collect(),
        };
        // Made when first asked for: one of the first papers usually does.
        let mut made: Vec<Option<Layout>> = Vec::new();
        let limits = [
            (Some(legible(self.units)), HANDY),
            (Some(comfortable(self.units)), papers.len()),
            (Some(tolerable(self.units)), papers.len()),
            (None, papers.len()),
        ];
        for (limit, tried) in limits {
            for (n, paper) in papers.iter().enumerate().take(tried) {
                if n == made.len() {
                    made.push(self.listed_on(*paper));
                }
                let Some(Some(layout)) = made.get(n) else { continue };
                let large = self.options.scale.is_some() || limit.is_none_or(|limit| layout.scale <= limit);
                if layout.fits && large {
                    return layout.clone();
                }
            }
        }
        made.into_iter().flatten().next_back().unwrap_or_else(|| self.squeezed(&papers))
    }

    /// With as many rows as have room at the scale that the plan takes without them; all of them where no other sheet
    /// will have them.
    fn listed_on(&self, paper: Paper) -> Option<Layout> {
        let Rows { all, pressing, apart } = self.rows;
        if !apart {
            return self.on_paper(paper, all);
        }
        let bare = self.on_paper(paper, 0)?;
        let as_large = |layout: &Layout| layout.fits >= bare.fits && layout.scale <= bare.scale;
        let listed = [all, pressing].into_iter().find_map(|rows| self.on_paper(paper, rows).filter(as_large));
        Some(listed.unwrap_or(bare))
    }

    /// The lists are too long even for the largest sheet allowed: fewer are listed.
    fn squeezed(&self, papers: &[Paper]) -> Layout {
        let paper = papers.last().copied().unwrap_or(Paper::LETTER);
        let mut listed = self.rows.all;
        loop {
            if let Some(layout) = self.on_paper(paper, listed) {
                return layout;
            }
            if listed == 0 {
                return self.arranged(paper, Orientation::Landscape, SIDE_LAST, 0);
            }
            listed = listed * 3 / 4;
        }
    }

    fn on_paper(&self, paper: Paper, listed: usize) -> Option<Layout> {
        let both = [Orientation::Landscape, Orientation::Portrait];
        let ways = both.into_iter().filter(|way| self.options.orientation.is_none_or(|o| o == *way));
        let mut best: Option<Layout> = None;
        for way in ways {
            for arrangement in self.arrangements(paper, way, listed) {
                let layout = self.arranged(paper, way, arrangement, listed);
                let better = best.as_ref().is_none_or(|b| {
                    let rank = |l: &Layout| (l.fits, std::cmp::Reverse(l.scale), l.whole);
                    rank(&layout) > rank(b) || (rank(&layout) == rank(b) && layout.slack > b.slack * 1.05)
                });
                if better {
                    best = Some(layout);
                }
            }
        }
        best
    }

    /// Arrangements of the notes that hold all blocks, at most one for each number of columns.
    fn arrangements(&self, paper: Paper, way: Orientation, listed: usize) -> Vec<Arrangement> {
        let frame = frame(paper, way);
        let mut found: Vec<Arrangement> = Vec::new();
        for (columns, width) in SIDE.iter().copied() {
            let total = width * columns_f64(columns);
            let known =
                found.iter().any(|a| matches!(a, Arrangement::Side { columns: c, .. } if *c == columns));
            if known || total > frame.width() * 0.55 {
                continue;
            }
            let blocks = (self.notes)(width - 2.0 * INSET, listed);
            if flow(&blocks, columns, frame.height() - 2.0 * INSET).is_some() {
                found.push(Arrangement::Side { columns, width });
            }
        }
        let columns = (frame.width() / LIST).floor().max(1.0);
        let blocks = (self.notes)(frame.width() / columns - 2.0 * INSET, listed);
        let mut height = 40.0;
        while height < frame.height() * 0.55 {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a handful of columns"
            )]
            let columns = columns as usize;
            // As low as can be, and as low as keeps sections whole, which may leave the plan a smaller scale.
            let inner = height - 2.0 * INSET;
            let whole = flow_to(&blocks, columns, inner, inner, true).is_some();
            let first = !found.iter().any(|a| matches!(a, Arrangement::Band { .. }));
            if whole || (first && flow(&blocks, columns, inner).is_some()) {
                found.push(Arrangement::Band { columns, height });
            }
            if whole {
                break;
            }
            height += 2.0;
        }
        found
    }

    fn arranged(&self, paper: Paper, way: Orientation, arrangement: Arrangement, listed: usize) -> Layout {
        let blank = arrangement.blank(paper, way, usual(self.units));
        let (window, columns) = (&blank.window, &blank.columns);
        let room = (window.width() - 2.0 * ROOM, window.height() - 2.0 * ROOM);
        let size = self.extent.map_or((0.0, 0.0), |e| e.size());
        // Paper millimetres to ground metres: how large the denominator must at least be.
        let needed = 1000.0 * (size.0 / room.0).max(size.1 / room.1);
        let series = Scale::series(self.units);
        let largest = match self.extent {
            Some(_) if size.0.max(size.1) > 1e-6 => {
                series.iter().find(|s| f64::from(s.denominator()) >= needed).or(series.last()).copied()
            }
            _ => None,
        };
        let scale = self.options.scale.or(largest).unwrap_or_else(|| usual(self.units));
        let whole = columns.first().is_some_and(|column| {
            let blocks = (self.notes)(column.width(), listed);
            flow_to(&blocks, columns.len(), column.height(), column.height(), true).is_some()
        });
        let slack = f64::from(scale.denominator()) / needed.max(1e-9);
        let fits = f64::from(scale.denominator()) >= needed;
        Layout { scale, listed, whole, fits, slack, ..blank }
    }
}

impl Layout {
    /// Width and height of a column of notes.
    pub fn column(&self) -> (f64, f64) {
        self.columns.first().map_or((0.0, 0.0), |column| (column.width(), column.height()))
    }

    /// The border line, and the edge of the drawing.
    pub fn border(&self) -> Picture {
        let mut picture = Picture::default();
        picture.rect(&self.window, Pen::line(0.35));
        picture.rect(&self.frame, Pen::line(0.7));
        picture
    }

    /// Sets notes into the columns, evenly filled.
    pub fn set(&self, picture: &mut Picture, blocks: Vec<Block>) {
        let places = balanced(&blocks, self.columns.len(), self.column().1).unwrap_or_default();
        for (block, (column, y)) in blocks.into_iter().zip(places) {
            if let Some(column) = self.columns.get(column) {
                picture.group(Role::Moved(spot(column.x0, column.y0 + y)), block.picture);
            }
        }
    }
}

/// The border line on a paper.
pub(super) fn frame(paper: Paper, way: Orientation) -> Frame {
    sheet(paper, way).grown(-EDGE)
}

/// A sheet that is all columns, and no drawing.
pub(super) fn columns(paper: Paper, way: Orientation, scale: Scale) -> Layout {
    let frame = frame(paper, way);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a handful of columns")]
    let columns = (frame.width() / LIST).floor().max(1.0) as usize;
    let blank = Arrangement::Band { columns, height: frame.height() }.blank(paper, way, scale);
    Layout { window: frame, ..blank }
}

/// Least width of a column on a sheet of lists, mm.
const LIST: f64 = 64.0;

/// A sheet with one column of this width beside the drawing, which is as large as it is.
pub(super) fn beside(paper: Paper, way: Orientation, scale: Scale, width: f64) -> Layout {
    Arrangement::Side { columns: 1, width }.blank(paper, way, scale)
}

const SIDE_LAST: Arrangement = Arrangement::Side { columns: 1, width: 96.0 };

#[derive(Clone, Copy, Debug)]
enum Arrangement {
    Side { columns: usize, width: f64 },
    Band { columns: usize, height: f64 },
}

fn sheet(paper: Paper, way: Orientation) -> Frame {
    let (short, long) = (paper.short.millimetres(), paper.long.millimetres());
    match way {
        Orientation::Portrait => Frame::new(0.0, 0.0, short, long),
        Orientation::Landscape => Frame::new(0.0, 0.0, long, short),
    }
}

#[expect(clippy::cast_precision_loss, reason = "a handful of columns")]
fn columns_f64(columns: usize) -> f64 {
    columns as f64
}

impl Arrangement {
    /// A sheet so arranged, on which nothing is listed yet.
    fn blank(self, paper: Paper, way: Orientation, scale: Scale) -> Layout {
        let frame = frame(paper, way);
        let (window, columns) = self.split(&frame);
        Layout {
            paper,
            orientation: way,
            scale,
            sheet: sheet(paper, way),
            frame,
            window,
            columns,
            listed: 0,
            whole: true,
            fits: true,
            slack: 1.0,
        }
    }

    /// The window and the columns of notes.
    fn split(self, frame: &Frame) -> (Frame, Vec<Frame>) {
        match self {
            Self::Side { columns, width } => {
                let edge = frame.x1 - width * columns_f64(columns);
                let window = Frame::new(frame.x0, frame.y0, edge, frame.y1);
                let column = |i| {
                    let x = edge + width * columns_f64(i);
                    Frame::new(x, frame.y0, x + width, frame.y1).grown(-INSET)
                };
                (window, (0..columns).map(column).collect())
            }
            Self::Band { columns, height } => {
                let edge = frame.y1 - height;
                let window = Frame::new(frame.x0, frame.y0, frame.x1, edge);
                let width = frame.width() / columns_f64(columns);
                let column = |i| {
                    let x = frame.x0 + width * columns_f64(i);
                    Frame::new(x, edge, x + width, frame.y1).grown(-INSET)
                };
                (window, (0..columns).map(column).collect())
            }
        }
    }
}

/// Where each block stands when the columns are filled evenly instead of one after the other, and
/// sections are kept whole unless that leaves most of the columns empty.
fn balanced(blocks: &[Block], columns: usize, height: f64) -> Option<Vec<(usize, f64)>> {
    let filled = |whole: bool| {
        let mut even = if columns > 1 { height * 0.1 } else { height };
        while even < height + 3.0 {
            if let Some(places) = flow_to(blocks, columns, height, even.min(height), whole) {
                return Some((even, places));
            }
            even += 3.0;
        }
        None
    };
    let (whole, broken) = (filled(true), filled(false));
    let even = |found: &Option<(f64, _)>| found.as_ref().map_or(f64::INFINITY, |(even, _)| *even);
    let chosen = if even(&whole) <= 1.5 * even(&broken) { whole } else { broken };
    chosen.map(|(_, places)| places)
}

/// Where each block stands: its column and the distance of its upper edge from the column's. The
/// last block, the title, stands at the foot of the last column. None when they do not fit.
pub(super) fn flow(blocks: &[Block], columns: usize, height: f64) -> Option<Vec<(usize, f64)>> {
    flow_to(blocks, columns, height, height, false)
}

/// As [`flow`], each column filled only down to `even`; `whole` keeps each section in one column.
fn flow_to(
    blocks: &[Block],
    columns: usize,
    height: f64,
    even: f64,
    whole: bool,
) -> Option<Vec<(usize, f64)>> {
    let (title, rest) = blocks.split_last()?;
    let above_title = height - title.height - 3.0;
    let room = |column: usize| if column + 1 == columns { even.min(above_title) } else { even };
    let mut places = Vec::new();
    let (mut column, mut y) = (0, 0.0);
    for (index, block) in rest.iter().enumerate() {
        // A heading goes with its first block, or with all of them.
        let mut needed = block.height;
        if block.keep {
            let section = || rest.iter().skip(index + 1).take_while(|b| !b.keep);
            let all = section().map(|b| b.gap + b.height).sum::<f64>();
            let first = section().next().map_or(0.0, |b| b.gap + b.height);
            // What is longer than a column has to be broken.
            needed += if whole && needed + all <= height { all } else { first };
        }
        let gap = if y > 0.0 { block.gap } else { 0.0 };
        if y + gap + needed > room(column) {
            column += 1;
            y = 0.0;
        } else {
            y += gap;
        }
        if column >= columns || y + needed > room(column) {
            return None;
        }
        places.push((column, y));
        y += block.height;
    }
    if title.height > height {
        return None;
    }
    places.push((columns.checked_sub(1)?, height - title.height));
    Some(places)
}
