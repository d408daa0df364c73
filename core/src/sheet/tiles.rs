//! A site too large for one sheet, on several that join at match lines.
//!
//! Sheet 1 shows the whole at a small scale, with where each of the others lies and all that is said about the
//! plan. Each of the others has its part of the plan and a little of its neighbours' beyond the match line, so
//! that nothing at a seam is lost. Parts with nothing in them get no sheet.

use super::dimensions::{self, Span};
use super::drawing::Scene;
use super::furniture::{self, Block, Number, Subject};
use super::geometry::{Frame, Spot, spot};
use super::layout::{self, Layout};
use super::legend;
use super::paper::{Orientation, Paper, Scale};
use super::pen::{self, Dash, Face, Hang, Pen};
use super::picture::{Picture, Role};
use super::prepared::Prepared;
use super::text::{CAPITAL, width};
use super::view::{Extent, View};
use super::words::cautions;
use super::{Drawing, Layers, Options, whole};
use crate::plan::Plan;
use crate::record::UnitSystem;
use crate::units::{Angle, Length, PlanPoint};

/// Width of the column beside each part, mm.
const COLUMN: f64 = 62.0;
/// How much of its neighbours each part shows beyond a match line, mm.
const BEYOND: f64 = 9.0;
/// More sheets than this nobody puts together.
const MOST: usize = 48;
/// A piece of a length shorter than this says little on its own, mm.
const STUB: f64 = 18.0;
/// How far a sign reaches from its point, mm.
const SIGN: f64 = 6.0;
/// Size of a sheet's number on the whole, mm.
const NUMBER: f64 = 3.5;
/// Size of the words at a match line, mm.
const WORDS: f64 = 2.5;

/// The parts of a site, and where each lies: in the turned metres of an [`Extent`].
pub(super) struct Parts {
    parts: Vec<Part>,
    grid: Grid,
    scale: Scale,
}

/// What one sheet shows.
struct Part {
    extent: Extent,
    column: u32,
    row: u32,
}

/// The sheet of the first part.
const FIRST: usize = 2;

impl Parts {
    /// Cuts the site into parts of this scale; none where there would be too many, or nothing is drawn.
    pub fn of(prepared: &Prepared<'_>, options: &Options, paper: Paper, scale: Scale) -> Option<Self> {
        let extent = prepared.extent?;
        let ways = [Orientation::Landscape, Orientation::Portrait];
        let ways = ways.into_iter().filter(|way| options.orientation.is_none_or(|wanted| wanted == *way));
        let grids = ways.filter_map(|way| Grid::of(paper, way, scale, &extent));
        let grid = grids.min_by_key(|grid| grid.columns * grid.rows)?;
        let things = Extent::things(&prepared.plan, &prepared.photos, prepared.turn);
        let parts = grid.parts(&extent, &things);
        let some = !parts.is_empty() && parts.len() <= MOST;
        some.then_some(Self { parts, grid, scale })
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.parts.len()
    }

    /// What is drawn of the whole where the parts have the rest.
    pub fn layers(layers: Layers) -> Layers {
        Layers {
            labels: false,
            dimensions: false,
            taped_lines: false,
            heights: false,
            contours: false,
            fall: false,
            ..layers
        }
    }

    /// What the sheet with the whole says of them.
    pub fn sentence(&self, units: UnitSystem) -> String {
        let (last, scale) = (self.parts.len() + FIRST - 1, self.scale.words(units));
        say!("The plan is on sheets {FIRST} to {last}, at {scale}. This sheet shows which has what.")
    }

    /// The edges of the parts on the whole with their sheets' numbers, inside a frame; `room` gets the room of
    /// the numbers.
    pub fn edges(&self, view: &View, inside: &Frame, room: &mut Vec<Frame>) -> Picture {
        let mut picture = Picture::default();
        for (n, part) in self.parts.iter().enumerate() {
            let own = on_paper(&part.extent, view);
            let seen = Frame::new(
                own.x0.max(inside.x0),
                own.y0.max(inside.y0),
                own.x1.min(inside.x1),
                own.y1.min(inside.y1),
            );
            picture.rect(&seen, Pen::line(0.35).dashed(Dash::Match));
            let at = spot(seen.x0 + 4.2, seen.y0 + 4.2);
            let label = Frame::around(at, 3.2, 2.6);
            picture.rect(&label, Pen::line(0.35).filled(pen::PAPER));
            let baseline = at.plus(0.0, NUMBER * CAPITAL / 2.0);
            let face = Face::of(NUMBER).bold().hang(Hang::Middle);
            picture.text(baseline, face, &(n + FIRST).to_string());
            room.push(label);
        }
        picture
    }

    /// The number of the sheet that has a part; none where nothing is drawn.
    fn sheet(&self, column: Option<u32>, row: Option<u32>) -> Option<usize> {
        let found = self.parts.iter().position(|p| Some(p.column) == column && Some(p.row) == row)?;
        Some(found + FIRST)
    }

    /// How much of a length the sheet of a part has, from its first end on.
    fn span(&self, own: &Part, (from, to): (PlanPoint, PlanPoint), (turn, view): (Angle, &View)) -> Span {
        let beyond = BEYOND / view.per_metre;
        let has = |part: &Part, at: PlanPoint, more: f64| {
            part.extent.edges().grown(more).holds(&Extent::of_point(at, turn))
        };
        let whole = |part: &Part| has(part, from, beyond) && has(part, to, beyond);
        if whole(own) {
            return Span::Whole;
        }
        let (a, b) = (Extent::of_point(from, turn).centre(), Extent::of_point(to, turn).centre());
        let length = |part: &Part| part.extent.edges().covered(a, b) * view.per_metre;
        let other = self.parts.iter().position(|part| has(part, to, 0.0));
        match other.and_then(|n| Some((n, self.parts.get(n)?))) {
            // Of two stubs the longer one is drawn.
            Some((n, there)) if has(own, from, 0.0) && !self.parts.iter().any(whole) => {
                if length(own) >= STUB || length(own) >= length(there) {
                    Span::Cut(on_paper(&own.extent, view), n + FIRST)
                } else {
                    Span::Elsewhere
                }
            }
            _ => Span::Elsewhere,
        }
    }

    /// The parts' sheets.
    pub fn draw(&self, prepared: &Prepared<'_>, options: &Options, number: Number) -> Vec<Drawing> {
        let draw = |(n, own): (usize, &Part)| {
            let subject = prepared.subject(options, Some(Number { sheet: n + FIRST, ..number }));
            part(prepared, &subject, self, own)
        };
        self.parts.iter().enumerate().map(draw).collect()
    }
}

fn on_paper(extent: &Extent, view: &View) -> Frame {
    let edges = extent.edges();
    let (a, b) = (view.place_turned((edges.x0, edges.y1)), view.place_turned((edges.x1, edges.y0)));
    Frame::new(a.x, a.y, b.x, b.y)
}

/// How a paper is used, and into how many parts the site is cut.
struct Grid {
    paper: Paper,
    way: Orientation,
    columns: u32,
    rows: u32,
    /// Width and height of a part, metres.
    part: (f64, f64),
}

impl Grid {
    fn of(paper: Paper, way: Orientation, scale: Scale, extent: &Extent) -> Option<Self> {
        let window = window(&layout::frame(paper, way));
        let metre = scale.on_sheet(Length::from_metres(1.0)).millimetres();
        let part = ((window.width() - 2.0 * BEYOND) / metre, (window.height() - 2.0 * BEYOND) / metre);
        let (wide, high) = extent.size();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded right here")]
        let count = |size: f64, part: f64| (size / part).ceil().clamp(1.0, 1000.0) as u32;
        let ok = part.0 > 0.0 && part.1 > 0.0;
        ok.then(|| Self { paper, way, columns: count(wide, part.0), rows: count(high, part.1), part })
    }

    /// The parts with something in them, row by row from the top.
    fn parts(&self, extent: &Extent, things: &[Frame]) -> Vec<Part> {
        let counts = (f64::from(self.columns), f64::from(self.rows));
        let mut parts = Vec::new();
        for row in 0..self.rows {
            for column in 0..self.columns {
                if parts.len() > MOST {
                    return parts;
                }
                let own = extent.part((f64::from(column), f64::from(row)), counts, self.part);
                let edges = own.edges();
                if things.iter().any(|thing| thing.meets(&edges)) {
                    parts.push(Part { extent: own, column, row });
                }
            }
        }
        parts
    }
}

/// Where the drawing stands beside the column.
fn window(frame: &Frame) -> Frame {
    Frame::new(frame.x0, frame.y0, frame.x1 - COLUMN, frame.y1)
}

/// One part's sheet.
fn part(prepared: &Prepared<'_>, subject: &Subject<'_>, index: &Parts, part: &Part) -> Drawing {
    let layout = layout::beside(index.grid.paper, index.grid.way, index.scale, COLUMN);
    let view = View::new(index.scale, prepared.turn, Some(&part.extent), layout.window.centre());
    let core = on_paper(&part.extent, &view);
    let points: Vec<Spot> = prepared.plan.points.iter().map(|point| view.place(point.at)).collect();
    let mut seams = seams(index, part, &core, &layout.window);
    seams.iter_mut().for_each(|seam| seam.keep_off(&points, &core));
    // Nothing is written across a match line, which would strike it out.
    let lines = seams.iter().map(|Seam { line: (a, b), .. }| Frame::new(a.x, a.y, b.x, b.y).grown(0.35));
    let room: Vec<Frame> = seams.iter().map(|seam| seam.room).chain(lines).collect();
    let turn = prepared.turn;
    let span = |from, to| index.span(part, (from, to), (turn, &view));
    let (mut inner, left_out) = Scene::new(subject, &view, &room).draw(&layout, &span);
    let shown = within(&prepared.plan, prepared.turn, &part.extent);
    let broken = dimensions::any_broken(&prepared.plan, &span);
    let number = subject.number.map(|number| Number { joins: true, broken, ..number });
    let subject = &Subject { plan: &shown, number, ..*subject };
    let mut lines = Picture::default();
    seams.iter().for_each(|seam| seam.draw(&mut lines));
    inner.named("layer-match-lines", lines);
    let mut body = Picture::default();
    body.rect(&layout.sheet, Pen::fill(pen::PAPER));
    body.group(Role::Window, inner);
    body.named("layer-sheet", surround(subject, index, &layout, &view));
    whole::finished(
        (prepared.record, subject.options.colours),
        &layout,
        view,
        body,
        left_out.into_iter().collect(),
    )
}

/// What of a plan lies in a part, for its legend.
fn within(plan: &Plan, turn: Angle, part: &Extent) -> Plan {
    let edges = part.edges();
    let mut own = plan.clone();
    own.points.retain(|point| Extent::of_point(point.at, turn).meets(&edges));
    own.shapes.retain(|shape| Extent::of_shape(shape, turn).is_some_and(|frame| frame.meets(&edges)));
    own
}

/// A match line, and the words beside it.
struct Seam {
    line: (Spot, Spot),
    at: Spot,
    /// Clockwise on the sheet, degrees.
    turn: f64,
    words: String,
    room: Frame,
}

fn seams(index: &Parts, part: &Part, core: &Frame, window: &Frame) -> Vec<Seam> {
    let (column, row) = (Some(part.column), Some(part.row));
    let middle = window.centre();
    let off = BEYOND / 2.0;
    let upright = |x: f64| (spot(x, window.y0), spot(x, window.y1));
    let level = |y: f64| (spot(window.x0, y), spot(window.x1, y));
    let (left, right) = (part.column.checked_sub(1), part.column.checked_add(1));
    let (above, below) = (part.row.checked_sub(1), part.row.checked_add(1));
    let sides = [
        Seam::new(index.sheet(left, row), upright(core.x0), spot(core.x0 - off, middle.y), -90.0),
        Seam::new(index.sheet(right, row), upright(core.x1), spot(core.x1 + off, middle.y), 90.0),
        Seam::new(index.sheet(column, above), level(core.y0), spot(middle.x, core.y0 - off), 0.0),
        Seam::new(index.sheet(column, below), level(core.y1), spot(middle.x, core.y1 + off), 0.0),
    ];
    sides.into_iter().flatten().collect()
}

impl Seam {
    /// None where there is no sheet beyond.
    fn new(beyond: Option<usize>, line: (Spot, Spot), at: Spot, turn: f64) -> Option<Self> {
        let words = say!("Match line: goes on on sheet {}", beyond?);
        let (long, thick) = (width(&words, WORDS, true) / 2.0 + 1.0, WORDS * 0.75);
        let room = if turn == 0.0 { Frame::around(at, long, thick) } else { Frame::around(at, thick, long) };
        Some(Self { line, at, turn, words, room })
    }

    /// Moves the words along their line to where they cover the fewest signs.
    fn keep_off(&mut self, points: &[Spot], core: &Frame) {
        let (upright, half) = (self.turn != 0.0, self.room.width().max(self.room.height()) / 2.0);
        let free = (if upright { core.height() } else { core.width() } / 2.0 - half - 2.0).max(0.0);
        let shifts = [0.0, 0.2, -0.2, 0.4, -0.4, 0.6, -0.6, 0.8, -0.8, 1.0, -1.0].map(|share| {
            let by = if upright { spot(0.0, free * share) } else { spot(free * share, 0.0) };
            let room = self.room.moved(by);
            let near = room.grown(SIGN);
            (points.iter().filter(|at| near.holds(&Frame::around(**at, 0.0, 0.0))).count(), by, room)
        });
        if let Some((_, by, room)) = shifts.into_iter().min_by_key(|(covered, ..)| *covered) {
            self.at = self.at.plus(by.x, by.y);
            self.room = room;
        }
    }

    fn draw(&self, picture: &mut Picture) {
        picture.line(self.line.0, self.line.1, Pen::line(0.6).dashed(Dash::Match));
        picture.rect(&self.room, Pen::fill(pen::PAPER));
        // From the middle of the words to their baseline.
        let down = WORDS * CAPITAL / 2.0;
        let baseline = match self.turn {
            turn if turn > 0.0 => self.at.plus(-down, 0.0),
            turn if turn < 0.0 => self.at.plus(down, 0.0),
            _ => self.at.plus(0.0, down),
        };
        let face = Face::of(WORDS).bold().hang(Hang::Middle).turned(self.turn);
        picture.text(baseline, face, &self.words);
    }
}

/// Border and column of one part's sheet.
fn surround(subject: &Subject<'_>, index: &Parts, layout: &Layout, view: &View) -> Picture {
    let mut picture = layout.border();
    let (wide, high) = layout.column();
    let units = subject.record.site.units;
    let number = subject.number;
    let lists = number.and_then(|number| number.lists).unwrap_or(1);
    let blocks = [
        furniture::north(subject, wide, Some(view)),
        furniture::scale_bar(units, index.scale, wide),
        furniture::heading("Sheets"),
        key(index, number.map_or(1, |number| number.sheet), wide),
        furniture::paragraph(
            &say!("How well this is known and all notes are on sheet 1, lists on sheet {lists}."),
            wide,
        ),
    ];
    let title = furniture::title(subject, wide, Some(index.scale), Some(layout));
    let notes = std::iter::once(furniture::heading("Notes and cautions"))
        .chain(subject.left_off().map(|words| furniture::paragraph(&words, wide)))
        .chain(cautions(units).into_iter().map(|words| furniture::paragraph(&words, wide)))
        .chain([title]);
    let notes: Vec<Block> = notes.collect();
    let with = |legend: Vec<Block>| -> Vec<Block> {
        blocks.iter().cloned().chain(legend).chain(notes.clone()).collect()
    };
    let fits = |all: &Vec<Block>| layout::flow(all, 1, high).is_some();
    // Sheet 1 has the rest of it.
    let legends = [legend::blocks, legend::of_joins].into_iter().map(|legend| with(legend(subject, wide)));
    let blocks = legends.into_iter().find(fits).unwrap_or_else(|| with(Vec::new()));
    layout.set(&mut picture, blocks);
    picture
}

/// How the sheets lie beside each other, this one grey.
fn key(index: &Parts, own: usize, wide: f64) -> Block {
    let mut all: Option<Frame> = None;
    for part in &index.parts {
        let edges = part.extent.edges();
        let whole = all.get_or_insert(edges);
        edges.corners().into_iter().for_each(|corner| whole.extend(corner));
    }
    let Some(all) = all else { return Block::default() };
    let scale = (wide / all.width()).min(34.0 / all.height());
    let mut picture = Picture::default();
    for (i, part) in index.parts.iter().enumerate() {
        let edges = part.extent.edges();
        let place = |x: f64, y: f64| spot((x - all.x0) * scale, (all.y1 - y) * scale);
        let (a, b) = (place(edges.x0, edges.y1), place(edges.x1, edges.y0));
        let frame = Frame::new(a.x, a.y, b.x, b.y);
        let fill = if i + FIRST == own { pen::Colour(0xd0_d0_d0) } else { pen::PAPER };
        picture.rect(&frame, Pen::line(0.25).filled(fill));
        let face = Face::of(WORDS).hang(Hang::Middle);
        let face = if i + FIRST == own { face.bold() } else { face };
        picture.text(frame.centre().plus(0.0, WORDS * CAPITAL / 2.0), face, &(i + FIRST).to_string());
    }
    Block { picture, height: all.height() * scale, gap: 0.9, keep: false }
}
