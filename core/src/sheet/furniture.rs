//! What surrounds the drawing: north, scale bar, notes and cautions, title block.

use super::contours::Contours;
use super::geometry::{Frame, Spot, spot};
use super::labels::LEADING;
use super::layout::Layout;
use super::paper::Scale;
use super::pen::{Colour, Dash, Face, Hang, INK, PAPER, Pen};
use super::picture::Picture;
use super::questions::Question;
use super::svg::num;
use super::text::{CAPITAL, fit, width, wrap};
use super::view::View;
use super::words::cautions;
use super::{Options, accuracy, legend, levelled, lists};
use crate::checks::{Concern, Line};
use crate::language::tr;
use crate::network::Adjustment;
use crate::plan::{Ground, PlacedPhoto, Plan};
use crate::record::{NorthKind, PointId, Record, Severity, UnitSystem};
use crate::units::{Length, day};
use std::collections::{BTreeMap, BTreeSet};

/// Size of running text, mm: capitals of 1.8 mm, the smallest nominal height of ISO 3098.
pub(super) const TEXT: f64 = 2.5;
const CAPTION: f64 = TEXT;

/// One piece of a column of notes, drawn from its own upper left corner.
#[derive(Clone, Debug, Default)]
pub(super) struct Block {
    pub picture: Picture,
    pub height: f64,
    /// Kept free above it, unless it opens a column.
    pub gap: f64,
    /// A heading: goes into the same column as what follows.
    pub keep: bool,
}

/// All that the notes speak of.
#[derive(Clone, Copy)]
pub(super) struct Subject<'a> {
    pub record: &'a Record,
    pub adjustment: &'a Adjustment,
    pub plan: &'a Plan,
    pub photos: &'a [PlacedPhoto],
    pub ground: &'a Ground,
    /// Its lines of equal height.
    pub contours: &'a Contours,
    /// What was asked back and is open.
    pub questions: &'a [Question],
    /// Points that only the sketch places.
    pub sketched: &'a BTreeSet<PointId>,
    /// What each point is called.
    pub labels: &'a BTreeMap<&'a PointId, &'a str>,
    /// What the checks found.
    pub concerns: &'a [Concern],
    /// What was left open, with its reason.
    pub left: &'a [Line],
    pub options: &'a Options,
    /// Which sheet it is, where there are several.
    pub number: Option<Number>,
}

/// One of several sheets.
#[derive(Clone, Copy, Debug)]
pub(super) struct Number {
    pub sheet: usize,
    /// How many there are.
    pub of: usize,
    /// The sheet where all lists stand, where that is one of its own.
    pub lists: Option<usize>,
    /// Whether it shows a part of the plan, which ends at match lines.
    pub joins: bool,
    /// Whether a length on this one is broken off.
    pub broken: bool,
}

impl<'a> Subject<'a> {
    /// What a point is called: its label, else its id.
    pub fn label(&self, point: &'a PointId) -> &'a str {
        self.labels.get(point).copied().unwrap_or_else(|| self.record.label(point))
    }

    /// What can hurt whoever does not know of it, and was left off by choice.
    pub fn left_off(&self) -> Option<String> {
        let layers = &self.options.layers;
        let (marks, problems) = (self.record.marks.len(), self.plan.problems.len());
        let mut off = Vec::new();
        if !layers.utilities && marks > 0 {
            off.push(say!("{marks} × utility mark"));
        }
        if !layers.problems && problems > 0 {
            off.push(say!("{problems} × problem"));
        }
        (!off.is_empty()).then(|| say!("Left off this sheet by choice: {}.", off.join(", ")))
    }
}

/// The notes for a column of this width; the title block comes last. Heights do not depend on scale
/// or layout, so that they can be known before either is.
pub(super) fn blocks(
    subject: &Subject<'_>,
    wide: f64,
    listed: usize,
    drawn: Option<(&Layout, &View)>,
) -> Vec<Block> {
    let units = subject.record.site.units;
    let scale = drawn.map_or_else(|| super::paper::usual(units), |(layout, _)| layout.scale);
    let mut all = vec![north(subject, wide, drawn.map(|(_, view)| view)), scale_bar(units, scale, wide)];
    all.extend(legend::blocks(subject, wide));
    all.extend(lists::blocks(subject, wide, listed));
    all.push(heading("How well this is known"));
    all.extend(accuracy::sentences(subject).iter().map(|words| paragraph(words, wide)));
    let layers = &subject.options.layers;
    let heights = levelled::sentences(subject);
    if !heights.is_empty() && (layers.heights || layers.contours || layers.fall) {
        all.push(heading("Heights"));
        all.extend(heights.iter().map(|words| paragraph(words, wide)));
    }
    all.push(heading("Notes and cautions"));
    all.extend(subject.left_off().map(|words| paragraph(&words, wide)));
    all.extend(cautions(units).iter().map(|words| paragraph(words, wide)));
    all.push(title(subject, wide, Some(scale), drawn.map(|(layout, _)| layout)));
    all
}

pub(super) fn heading(words: &str) -> Block {
    let mut picture = Picture::default();
    picture.text(spot(0.0, 2.9), Face::of(2.9).bold(), tr(words));
    Block { picture, height: 3.9, gap: 3.0, keep: true }
}

/// Wrapped running text.
pub(super) fn paragraph(words: &str, wide: f64) -> Block {
    let mut picture = Picture::default();
    let mut y = 0.0;
    for line in wrap(words, TEXT, wide) {
        picture.text(spot(0.0, y + TEXT * 0.82), Face::of(TEXT), &line);
        y += TEXT * LEADING;
    }
    Block { picture, height: y, gap: 0.9, keep: false }
}

// ---- north and scale -------------------------------------------------------------------------------

pub(super) fn north(subject: &Subject<'_>, wide: f64, view: Option<&View>) -> Block {
    let mut picture = Picture::default();
    let centre = spot(12.0, 12.0);
    let face = Face::of(TEXT);
    match &subject.plan.north {
        Some(north) => {
            let (ux, uy) = view.map_or((0.0, -1.0), |view| view.direction(north.direction));
            let mut arrow = Picture::default();
            needle(&mut arrow, centre, (ux, uy), north.kind);
            picture.named("north-arrow", arrow);
        }
        None => {
            picture.circle(centre, 5.5, Pen::line(0.25).dashed(Dash::Short));
            picture.text(spot(12.0, 13.5), Face::of(4.0).hang(Hang::Middle), "?");
        }
    }
    let (title, said) = super::north::said(subject.record, subject.plan);
    let lines: Vec<String> = said.iter().flat_map(|words| wrap(words, TEXT, wide - 26.0)).collect();
    // In the middle beside the needle, as long as there is room above.
    #[expect(clippy::cast_precision_loss, reason = "a handful of lines")]
    let rows = lines.len() as f64;
    let mut y = (13.1 - 1.7 * rows).max(2.9);
    picture.text(spot(25.0, y), face.bold(), tr(title));
    for line in &lines {
        y += 3.4;
        picture.text(spot(25.0, y), face, line);
    }
    Block { picture, height: (y + 1.0).max(24.0), gap: 0.0, keep: true }
}

/// A full arrowhead for true north, half a head for magnetic, as on maps.
fn needle(picture: &mut Picture, centre: Spot, (ux, uy): (f64, f64), kind: NorthKind) {
    let at = |along: f64, side: f64| centre.plus(ux * along - uy * side, uy * along + ux * side);
    picture.circle(centre, 6.0, Pen::line(0.25));
    picture.line(at(-7.5, 0.0), at(8.5, 0.0), Pen::line(0.35));
    picture.polyline(&[at(8.5, 0.0), at(-4.4, 3.0), at(-2.4, 0.0)], true, Pen::line(0.25).filled(INK));
    if kind == NorthKind::True {
        picture.polyline(&[at(8.5, 0.0), at(-4.4, -3.0), at(-2.4, 0.0)], true, Pen::line(0.25).filled(PAPER));
    }
    let letters = match kind {
        NorthKind::True => "N",
        NorthKind::Magnetic => "MN",
    };
    let tip = at(10.4, 0.0);
    picture.text(spot(tip.x, tip.y + 2.8 * CAPITAL / 2.0), Face::of(2.8).bold().hang(Hang::Middle), letters);
}

/// A length of the bar: so many equal parts of so many units.
struct Bar {
    parts: u32,
    part: f64,
    /// One part on paper, mm.
    on_paper: f64,
}

impl Bar {
    fn longest(units: UnitSystem, scale: Scale, room: f64) -> Self {
        let unit = match units {
            UnitSystem::Metres => Length::from_metres(1.0),
            UnitSystem::FeetInches | UnitSystem::DecimalFeet => Length::from_feet(1.0),
        };
        let unit_on_paper = scale.on_sheet(unit).millimetres();
        let mut best = Self { parts: 4, part: 1.0, on_paper: unit_on_paper };
        let mut decade = 1.0;
        while decade < 1e7 {
            for part in [decade, 2.0 * decade, 5.0 * decade] {
                for parts in [4_u32, 5, 3] {
                    let length = f64::from(parts) * part * unit_on_paper;
                    if length <= room && length > f64::from(best.parts) * best.on_paper {
                        best = Self { parts, part, on_paper: part * unit_on_paper };
                    }
                }
            }
            decade *= 10.0;
        }
        best
    }
}

pub(super) fn scale_bar(units: UnitSystem, scale: Scale, wide: f64) -> Block {
    let mut picture = Picture::default();
    let bar = Bar::longest(units, scale, (wide - 15.0).min(90.0));
    let left = 2.0;
    let mut strip = Picture::default();
    let mut marks = Picture::default();
    for n in 0..=bar.parts {
        let x = left + f64::from(n) * bar.on_paper;
        if n < bar.parts {
            let fill = if n % 2 == 0 { INK } else { PAPER };
            strip.rect(&Frame::new(x, 4.4, x + bar.on_paper, 6.6), Pen::fill(fill));
        }
        marks.text(spot(x, 3.2), Face::of(TEXT).hang(Hang::Middle), &num(f64::from(n) * bar.part));
    }
    let end = left + f64::from(bar.parts) * bar.on_paper;
    let unit = if units == UnitSystem::Metres { "metres" } else { "feet" };
    marks.text(spot(end + 1.4, 6.4), Face::of(TEXT), tr(unit));
    strip.rect(&Frame::new(left, 4.4, end, 6.6), Pen::line(0.18));
    picture.named("scale-bar", strip);
    picture.append(marks);
    Block { picture, height: 8.0, gap: 1.0, keep: false }
}

// ---- problems --------------------------------------------------------------------------------------

/// The numbered diamond of a problem; doubled when it can hurt someone.
pub(super) fn diamond(picture: &mut Picture, at: Spot, number: &str, severity: Severity) {
    let around = |r: f64| [at.plus(0.0, -r), at.plus(r, 0.0), at.plus(0.0, r), at.plus(-r, 0.0)];
    let r = diamond_half(number);
    picture.polyline(&around(r), true, Pen::line(0.35).filled(PAPER));
    if severity == Severity::Danger {
        picture.polyline(&around(r + 0.8), true, Pen::line(0.35));
    }
    let size = TEXT;
    picture.text(spot(at.x, at.y + size * CAPITAL / 2.0), Face::of(size).bold().hang(Hang::Middle), number);
}

/// Half the diagonal of a problem's diamond, mm.
pub(super) const DIAMOND: f64 = 2.7;

fn diamond_half(number: &str) -> f64 {
    if number.len() > 2 { DIAMOND * 1.3 } else { DIAMOND }
}

/// Half the room of a diamond.
pub(super) fn diamond_reach(number: &str, severity: Severity) -> f64 {
    diamond_half(number) + if severity == Severity::Danger { 0.8 } else { 0.0 } + 0.2
}

// ---- title block -----------------------------------------------------------------------------------

/// The title block; without a scale where nothing is drawn to one.
pub(super) fn title(
    subject: &Subject<'_>,
    wide: f64,
    scale: Option<Scale>,
    layout: Option<&Layout>,
) -> Block {
    let site = &subject.record.site;
    let mut picture = Picture::default();
    let name = if site.name.trim().is_empty() { tr("Unnamed site") } else { &site.name };
    let mut y = 5.4;
    for line in wrap(name, 4.2, wide).into_iter().take(2) {
        picture.text(spot(0.0, y), Face::of(4.2).bold(), &fit(&line, 4.2, true, wide));
        y += 5.0;
    }
    let kind = tr("Base plan: what stands on the site");
    let (kind, face) = match accuracy::warning(subject) {
        Some(_) => (tr("NOT TO BUILD BY: readings contradict"), Face::of(TEXT).bold()),
        None => (kind, Face::of(TEXT)),
    };
    picture.text(spot(0.0, y - 0.8), face, &fit(kind, TEXT, face.bold, wide));
    y += 1.0;
    let paper = layout.map_or_else(String::new, |l| say!("{}, {}", l.paper.name, l.paper.size));
    let units = match site.units {
        UnitSystem::FeetInches => "feet and inches",
        UnitSystem::DecimalFeet => "feet and decimals",
        UnitSystem::Metres => "metres",
    };
    let revision = if subject.options.revision.trim().is_empty() { "1" } else { &subject.options.revision };
    let scale = match scale {
        Some(scale) => ("Scale at sheet size", scale.words(site.units)),
        None => ("Scale", say!("none: lists, no drawing")),
    };
    let number = subject.number.map(|Number { sheet, of, .. }| say!("{sheet} of {of}"));
    let last = match &number {
        Some(number) => [("Sheet size", layout.map_or("", |l| tr(l.paper.name))), ("Sheet", number)],
        None => [("Sheet size", paper.as_str()), ("", "")],
    };
    // The share of the width that the left cell has: names are long, numbers short.
    let rows = [
        (0.72, [("Client", site.client.as_str()), ("Revision", revision)]),
        (0.58, [("Measured by", &site.surveyor), ("Measured on", &day(&site.date))]),
        (0.58, [(scale.0, &scale.1), ("Units", tr(units))]),
        (0.72, last),
    ];
    for (share, cells) in rows {
        // What nobody said has no cell; the size of the sheet is known when it is laid out.
        let said = |(caption, value): &&(&str, &str)| !value.trim().is_empty() || *caption == "Sheet size";
        let cells: Vec<(&str, &str)> = cells.iter().filter(said).copied().collect();
        // What does not fit there, as a long date, gets what it needs.
        let need = cells.get(1).map_or(0.0, |(_, value)| width(value, TEXT + 0.2, false) + 1.8);
        let middle = if cells.len() > 1 { (wide * share).min(wide - need).max(wide * 0.4) } else { wide };
        if let Some(first) = cells.first() {
            picture.line(spot(0.0, y), spot(wide, y), Pen::line(0.18));
            cell(&mut picture, spot(0.0, y), middle - 2.0, *first);
        }
        if let Some(second) = cells.get(1) {
            picture.line(spot(middle, y), spot(middle, y + 7.4), Pen::line(0.18));
            cell(&mut picture, spot(middle + 1.6, y), wide - middle - 1.6, *second);
        }
        y += if cells.is_empty() { 0.0 } else { 7.4 };
    }
    y -= 0.4;
    picture.line(spot(0.0, 0.0), spot(wide, 0.0), Pen::line(0.5));
    Block { picture, height: y, gap: 3.0, keep: false }
}

fn cell(picture: &mut Picture, at: Spot, room: f64, (caption, value): (&str, &str)) {
    picture.text(
        at.plus(0.0, 2.6),
        Face::of(CAPTION).coloured(Colour(0x4a_4a_4a)),
        &fit(tr(caption), CAPTION, false, room),
    );
    picture.text(at.plus(0.0, 6.0), Face::of(TEXT + 0.2), &fit(value, TEXT + 0.2, false, room));
}
