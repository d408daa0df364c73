//! The legend: what occurs on this sheet and nothing else.

use super::fittings::fitting;
use super::furniture::{Block, Subject, TEXT, diamond, diamond_reach, heading};
use super::geometry::{Frame, Spot, spot};
use super::pen::{Dash, Face, PALE, Pen};
use super::picture::{Picture, Role, Step};
use super::symbols::{self, Figure, Manner};
use super::text::fit;
use super::words::OTHER;
use super::{dimensions, heights, photos, points, questions, utilities};
use crate::language::tr;
use crate::network::{Freedom, PointState};
use crate::plan::{Outline, PlacedProblem, Plan, Shape, What};
use crate::record::{CATALOGUE, Fate, MarkColour, Severity, Stood, kind};

/// Size of a sample.
const WIDE: f64 = 9.0;
const HIGH: f64 = 4.2;
/// Height of a row.
const ROW: f64 = 5.2;

/// One row: a sample drawn with its upper left corner at 0, 0, and what it means.
struct Entry {
    sample: Picture,
    words: String,
    /// Height of the sample.
    high: f64,
}

fn entry(words: &str, draw: impl FnOnce(&mut Picture)) -> Entry {
    let mut sample = Picture::default();
    draw(&mut sample);
    Entry { sample, words: tr(words).to_owned(), high: HIGH }
}

const MIDDLE: Spot = spot(WIDE / 2.0, HIGH / 2.0);

fn across() -> Vec<Spot> {
    vec![spot(0.0, MIDDLE.y), spot(WIDE, MIDDLE.y)]
}

/// The legend's blocks, in two columns where the width allows.
pub(super) fn blocks(subject: &Subject<'_>, wide: f64) -> Vec<Block> {
    let mut entries = points_entries(subject);
    entries.extend(feature_entries(subject.plan));
    if subject.options.layers.utilities {
        entries.extend(mark_entries(subject.plan));
    }
    entries.extend(line_entries(subject));
    rows(&entries, wide)
}

/// The rows of what only a part of a plan has.
pub(super) fn of_joins(subject: &Subject<'_>, wide: f64) -> Vec<Block> {
    rows(&join_entries(subject), wide)
}

fn rows(entries: &[Entry], wide: f64) -> Vec<Block> {
    if entries.is_empty() {
        return Vec::new();
    }
    let column = wide / 2.0;
    let mut blocks = vec![heading("Legend")];
    for pair in entries.chunks(2) {
        let mut picture = Picture::default();
        let mut row = pair.iter().map(|entry| entry.high + ROW - HIGH).fold(ROW, f64::max);
        for (entry, x) in pair.iter().zip([0.0, column]) {
            let place = Role::Moved(spot(x, (entry.high - HIGH) / 2.0));
            picture.group(place, entry.sample.clone());
            let room = column - WIDE - 2.4;
            // A long name gets two or three short lines.
            let mut lines = super::text::wrap(&entry.words, TEXT, room);
            if lines.len() > 3 {
                let rest = lines.split_off(2).join(" ");
                lines.push(fit(&rest, TEXT, false, room));
            }
            let mut y = entry.high / 2.0 + if lines.len() > 1 { -0.5 } else { 0.9 };
            row = row.max(match lines.len() {
                0 | 1 => ROW,
                2 => ROW + 0.9,
                _ => ROW + 0.9 + TEXT * 1.05,
            });
            for line in lines {
                picture.text(spot(x + WIDE + 1.6, y), Face::of(TEXT), &line);
                y += TEXT * 1.05;
            }
        }
        blocks.push(Block { picture, height: row, gap: 0.0, keep: false });
    }
    blocks
}

fn points_entries(subject: &Subject<'_>) -> Vec<Entry> {
    if !subject.options.layers.points {
        return Vec::new();
    }
    let names = [
        (PointState::Checked, "Point, checked"),
        (PointState::Fixed, "Point, not checked"),
        (PointState::Loose, "Point, not determined"),
        (PointState::Disputed, "Point, readings disagree"),
    ];
    let seen = |state| subject.plan.points.iter().any(|p| p.state == state);
    let mut entries: Vec<Entry> = names
        .into_iter()
        .filter(|(state, _)| seen(*state))
        .map(|(state, words)| entry(words, |picture| points::mark(picture, MIDDLE, state)))
        .collect();
    let circled = |p: &crate::plan::PlacedPoint| matches!(p.freedom, Some(Freedom::OnCircle { .. }));
    if subject.plan.points.iter().any(circled) {
        entries.push(entry("Anywhere on this circle", |picture| {
            let bow = Step::Arc { radius: 9.0, clockwise: true, to: spot(9.0, 3.6) };
            picture.path(vec![Step::Move(spot(0.0, 3.6)), bow], Pen::line(0.25).dashed(Dash::Doubt));
            picture.text(spot(3.8, 3.2), Face::of(TEXT).bold(), "?");
        }));
    }
    entries
}

fn feature_entries(plan: &Plan) -> Vec<Entry> {
    let first = |key: &str| {
        plan.shapes
            .iter()
            .find(|s| matches!(&s.what, What::Feature(k) if k == key))
            .map(|s| (key.to_owned(), s))
    };
    let mut known: Vec<_> = CATALOGUE.iter().filter_map(|kind| first(kind.key)).collect();
    let unknown = plan.shapes.iter().find_map(|s| match &s.what {
        What::Feature(key) if kind(key).is_none() => Some((key.clone(), s)),
        _ => None,
    });
    known.extend(unknown);
    known.iter().map(|(key, shape)| feature_entry(key, shape)).collect()
}

/// What the list or its label names.
const UNNAMED: &str = "Other thing, as named";

fn feature_entry(key: &str, shape: &Shape) -> Entry {
    let figure = match &shape.outline {
        Outline::Spot(_) => Figure::Spot(spot(MIDDLE.x - 1.0, MIDDLE.y)),
        Outline::Line(_) if matches!(key, "door" | "window") => {
            Figure::Line(vec![spot(2.0, MIDDLE.y), spot(7.0, MIDDLE.y)])
        }
        // Its posts stand out at both ends.
        Outline::Line(_) if key == "gate" => Figure::Line(vec![spot(1.0, MIDDLE.y), spot(8.0, MIDDLE.y)]),
        Outline::Line(_) => Figure::Line(across()),
        Outline::Area(_) => Figure::Area(Frame::new(0.5, 0.5, WIDE - 0.5, HIGH - 0.5).corners().to_vec()),
        Outline::Circle { inner, outer, .. } => {
            Figure::Circle { centre: MIDDLE, inner: inner.map(|_| 0.75), outer: outer.map(|_| 2.2) }
        }
    };
    let name = match key {
        OTHER => UNNAMED,
        key => kind(key).map_or(UNNAMED, |kind| kind.name),
    };
    entry(name, |picture| {
        if matches!(key, "door" | "window") {
            picture.polyline(&across(), false, Pen::line(0.7));
        }
        symbols::draw(picture, key, &figure, Manner::PLAIN, None);
    })
}

fn mark_entries(plan: &Plan) -> Vec<Entry> {
    let colours = [
        MarkColour::Red,
        MarkColour::Yellow,
        MarkColour::Orange,
        MarkColour::Blue,
        MarkColour::Purple,
        MarkColour::Green,
        MarkColour::Pink,
        MarkColour::White,
    ];
    let seen =
        |colour| plan.shapes.iter().any(|s| matches!(&s.what, What::Mark { colour: c, .. } if *c == colour));
    colours
        .into_iter()
        .filter(|colour| seen(*colour))
        .map(|colour| {
            entry(utilities::line(colour).words, |picture| {
                utilities::draw(picture, colour, &Figure::Line(across()), Manner::PLAIN, None);
            })
        })
        .collect()
}

fn line_entries(subject: &Subject<'_>) -> Vec<Entry> {
    let plan = subject.plan;
    let layers = &subject.options.layers;
    let mut entries = Vec::new();
    let sketched = !subject.sketched.is_empty() && plan.shapes.iter().any(|s| !s.certain);
    if plan.shapes.iter().any(|s| s.told) || sketched {
        let words = if sketched { "As told or sketched, not measured" } else { "As told, not seen" };
        entries.push(entry(words, |picture| {
            picture.polyline(&across(), false, Pen::line(0.35).dashed(Dash::Dots));
        }));
    }
    let canopy = |s: &Shape| matches!((&s.outline, &s.what), (Outline::Circle { outer: Some(_), .. }, What::Feature(k)) if k != "shrub");
    if plan.shapes.iter().any(canopy) {
        entries.push(entry("Edge of a canopy", |picture| {
            picture.polyline(&across(), false, Pen::line(0.25).dashed(Dash::Crown));
        }));
    }
    let unfixed = || plan.shapes.iter().filter(|s| !s.certain && !s.told);
    let spread = |s: &Shape| matches!(s.outline, Outline::Line(_) | Outline::Area(_));
    if unfixed().any(|s| !spread(s)) {
        entries.push(entry("Place not fixed", |picture| {
            let unfixed = Manner { certain: false, ..Manner::PLAIN };
            symbols::draw(picture, "drain", &Figure::Spot(spot(3.2, 2.4)), unfixed, None);
        }));
    }
    if unfixed().any(spread) {
        entries.push(entry("Place of a corner or end not fixed", |picture| {
            picture.polyline(&across(), false, Pen::line(0.35).dashed(Dash::Doubt));
        }));
    }
    if layers.utilities && plan.shapes.iter().any(|s| s.zone.is_some()) {
        entries.push(entry("Hand dig; see local law", |picture| {
            // Round at its ends.
            let ends = vec![spot(1.5, MIDDLE.y), spot(WIDE - 1.5, MIDDLE.y)];
            utilities::zone(picture, &Figure::Line(ends), 1.5);
        }));
    }
    if plan.shapes.iter().any(|s| s.fate == Some(Fate::Remove)) {
        entries.push(entry("To be removed", |picture| {
            symbols::draw(
                picture,
                "kerb",
                &Figure::Line(across()),
                Manner { remove: true, ..Manner::PLAIN },
                None,
            );
        }));
    }
    if layers.dimensions && dimensions::any(plan) {
        let other = dimensions::any_other_units(plan, subject.record.site.units);
        let words = if other { "Taped length, put in these units" } else { "Taped length, as read" };
        entries.push(entry(words, |picture| {
            let y = MIDDLE.y;
            picture.line(spot(0.5, y), spot(8.5, y), Pen::line(0.18));
            for x in [0.5, 8.5] {
                picture.line(spot(x, y - 1.4), spot(x, y + 1.4), Pen::line(0.18));
                picture.line(spot(x - 0.7, y + 0.7), spot(x + 0.7, y - 0.7), Pen::line(0.35));
            }
        }));
    }
    if layers.taped_lines && plan.taped.iter().any(|t| !t.along) {
        entries.push(entry("Tape line", |picture| {
            picture.polyline(&across(), false, Pen::line(0.13).coloured(PALE));
        }));
    }
    entries.extend(join_entries(subject));
    entries.extend(height_entries(subject));
    if layers.problems && plan.problems.iter().any(|p| p.at.is_some()) {
        entries.push(diamond_entry("Problem, see list", Severity::Fix));
    }
    let danger = |p: &PlacedProblem| p.at.is_some() && p.severity == Severity::Danger;
    if layers.problems && plan.problems.iter().any(danger) {
        entries.push(diamond_entry("Danger, see list", Severity::Danger));
    }
    if layers.problems && plan.problems.iter().any(|p| p.at.is_some() && p.outline.is_some()) {
        entries.push(entry("How far a problem reaches", |picture| {
            picture.polyline(&across(), false, Pen::line(0.25).dashed(Dash::ThreeDots));
        }));
    }
    if subject.photos.iter().any(|photo| photo.at.is_some()) {
        entries.push(entry("Photo and its view", |picture| {
            photos::sign(picture, spot(2.2, MIDDLE.y), 1, Some((1.0, 0.0)));
        }));
    }
    if !subject.questions.is_empty() {
        entries.push(entry("Open question, see list", |picture| questions::sign(picture, MIDDLE, "Q1")));
    }
    entries
}

/// What ends a part of a plan.
fn join_entries(subject: &Subject<'_>) -> Vec<Entry> {
    let mut entries = Vec::new();
    if subject.number.is_some_and(|number| number.joins) {
        entries.push(entry("Match line, where sheets join", |picture| {
            picture.polyline(&across(), false, Pen::line(0.6).dashed(Dash::Match));
        }));
    }
    if subject.options.layers.dimensions && subject.number.is_some_and(|number| number.broken) {
        entries.push(entry("Length that goes on beyond", |picture| {
            picture.line(spot(0.5, MIDDLE.y), spot(7.0, MIDDLE.y), Pen::line(0.18));
            dimensions::end_break(picture, spot(7.0, MIDDLE.y), (1.0, 0.0));
        }));
    }
    entries
}

fn height_entries(subject: &Subject<'_>) -> Vec<Entry> {
    let (ground, layers, units) = (subject.ground, &subject.options.layers, subject.record.site.units);
    let mut entries = Vec::new();
    for (stood, words) in
        [(Stood::Ground, "Height of the ground"), (Stood::Above, "Height of a sill, floor or top")]
    {
        if let Some(spot) = ground.spots.iter().find(|s| layers.heights && s.stood == stood) {
            entries.push(entry(words, |picture| {
                heights::cross(picture, spot_at(1.4));
                let figure = heights::figure(spot.height, units, 0);
                picture.text(spot_at(3.4).plus(0.0, TEXT * 0.36), heights::height_face(stood), &figure);
            }));
        }
    }
    if layers.contours && !subject.contours.lines.is_empty() {
        entries.push(entry("Contour, every fifth heavier", |picture| {
            for (y, index) in [(1.0, false), (MIDDLE.y, true), (HIGH - 1.0, false)] {
                picture.line(spot(0.0, y), spot(WIDE, y), heights::contour_pen(index, false));
            }
        }));
    }
    if layers.contours && heights::any_far(ground, subject.contours) {
        entries.push(entry("Contour far from readings", |picture| {
            picture.line(spot(0.0, MIDDLE.y), spot(WIDE, MIDDLE.y), heights::contour_pen(true, true));
        }));
    }
    if layers.fall && !ground.falls.is_empty() {
        entries.push(entry("Downhill, with its fall", |picture| {
            heights::fall_arrow(picture, MIDDLE, (1.0, 0.0), heights::EARTH);
        }));
    }
    let marked = subject.plan.shapes.iter().any(|s| matches!(&s.what, What::Feature(k) if k == "low_point"));
    if layers.fall && !ground.low.is_empty() {
        if !marked {
            entries.push(entry("Low point", |picture| fitting(picture, "low_point", MIDDLE)));
        }
        entries.push(entry("Where it runs over", |picture| heights::spill(picture, MIDDLE, (1.0, 0.0))));
    }
    entries
}

const fn spot_at(x: f64) -> Spot {
    spot(x, MIDDLE.y)
}

fn diamond_entry(words: &str, severity: Severity) -> Entry {
    let own = entry(words, |picture| diamond(picture, MIDDLE, "1", severity));
    Entry { high: 2.0 * diamond_reach("1", severity), ..own }
}
