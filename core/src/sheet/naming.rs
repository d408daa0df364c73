//! What is written on the plan: labels of points, names of things, and what of them found no room.

use super::drawing::{Scene, stands_on};
use super::furniture::TEXT;
use super::geometry::{inner_place, sides};
use super::labels::{Beside, Board, Group, Kind, LeftOut, Words};
use super::pen::Face;
use super::symbols::Figure;
use super::text::width;
use super::utilities;
use super::words::OTHER;
use crate::language::tr;
use crate::plan::{Outline, PlacedPoint, Shape, What};
use crate::record::{Fate, kind};

/// What leaving a label out costs, in millimetres or so of line work covered.
const POINT: f64 = 70.0;
const NAME: f64 = 60.0;

/// Beside a thing on a point that is not determined.
const UNFIXED: &str = "place not fixed";

/// The label of every point, with the name of what stands on it.
pub(super) fn points<'a>(scene: &Scene<'a>, board: &mut Board<'a>) {
    for point in &scene.plan.points {
        if point.label.trim().is_empty() {
            continue;
        }
        let own = scene.owner(point.at);
        let favour = favour(scene, point);
        // Corners, trees and control stand out; jambs and fittings step back.
        let face = if leads(scene, point) { Face::of(TEXT).bold() } else { Face::of(TEXT) };
        let label = Words::wrapped(&point.label, face, 24.0, 1);
        let unfixed = scene
            .items_at(point.at)
            .any(|item| stands_on(&item.shape.outline, point.at) && !item.shape.certain && !item.shape.told);
        let name = match (name_on(scene, point), unfixed) {
            (name, false) => name.map(str::to_owned),
            (None, true) => Some(tr(UNFIXED).to_owned()),
            (Some(name), true) => Some(say!("{name}, {UNFIXED}")),
        };
        let wraps = match name {
            None => vec![label],
            Some(name) => {
                let wraps = wraps(&name, Face::of(TEXT).italic(), 30.0).into_iter();
                wraps.map(|wrapped| label.iter().cloned().chain(wrapped).collect()).collect()
            }
        };
        board.label((Group::Names, Kind::Point, POINT), Beside { own, favour }, wraps);
    }
}

/// Whether a point is a building's corner, a tree, a stump or control.
fn leads(scene: &Scene<'_>, point: &PlacedPoint) -> bool {
    scene.items_at(point.at).any(|item| match (&item.shape.outline, &item.shape.what) {
        (Outline::Area(all), What::Feature(key)) => is_building(key) && all.contains(&point.at),
        (Outline::Circle { centre, .. }, _) => *centre == point.at,
        (Outline::Spot(at), What::Feature(key)) => matches!(key.as_str(), "peg" | "pin") && *at == point.at,
        _ => false,
    })
}

/// The recorder's own name of a tree or fitting that stands on a point.
fn name_on<'a>(scene: &Scene<'a>, point: &PlacedPoint) -> Option<&'a str> {
    own_name(scene.items_at(point.at).find(|item| stands_on(&item.shape.outline, point.at))?.shape)
}

/// Where a label would rather be: outside the building whose corner it is, else up and right.
fn favour(scene: &Scene<'_>, point: &PlacedPoint) -> (f64, f64) {
    let corner = scene.items_at(point.at).any(|item| {
        matches!(&item.shape.what, What::Feature(key) if is_building(key))
            && matches!(&item.shape.outline, Outline::Area(all) if all.contains(&point.at))
    });
    match scene.outward(point.at).filter(|_| corner) {
        Some((ux, uy)) => (2.0 * ux, 2.0 * uy),
        None => (0.7, -0.7),
    }
}

/// Names of areas inside them, beside them where there is no room.
pub(super) fn areas<'a>(scene: &Scene<'a>, board: &mut Board<'a>) {
    for item in &scene.items {
        let (Figure::Area(places), What::Feature(key)) = (&item.figure, &item.shape.what) else { continue };
        let face = if is_building(key) { Face::of(3.2).bold() } else { Face::of(TEXT).italic() };
        let words = name(item.shape);
        let wraps = wraps(&words, face, 48.0);
        if let Some(inner) = inner_place(places) {
            board.inside((Group::Names, Kind::Name, NAME), (places, inner), wraps);
        }
    }
}

/// The ways to break a name into one, two or three lines, none wider than `most`.
fn wraps(words: &str, face: Face, most: f64) -> Vec<Vec<Words>> {
    let long = width(words, face.size, face.bold);
    // No word is broken but one that is wider than all room.
    let widest = words.split_whitespace().map(|w| width(w, face.size, face.bold)).fold(0.0, f64::max);
    let mut wraps: Vec<Vec<Words>> = Vec::new();
    for lines in [1.0, 2.0, 3.0] {
        // A little more than its share, since lines break at words.
        let wrapped = Words::wrapped(words, face, (long / lines * 1.15).max(widest).min(most), 3);
        if wraps.last().is_none_or(|last| last.len() != wrapped.len()) {
            wraps.push(wrapped);
        }
    }
    wraps
}

/// Names of lines along them, where the recorder gave one or said what shall become of them.
pub(super) fn lines<'a>(scene: &Scene<'a>, board: &mut Board<'a>) {
    for item in &scene.items {
        let Figure::Line(places) = &item.figure else { continue };
        if own_name(item.shape).is_none() && fate(item.shape).is_empty() {
            continue;
        }
        let face = Face::of(TEXT).italic();
        let face = match &item.shape.what {
            What::Mark { colour, .. } => face.coloured(utilities::line(*colour).ink),
            What::Feature(_) => face,
        };
        let line = Words { text: name(item.shape), face };
        let about = (Group::Names, Kind::Name, NAME);
        board.along(about, &sides(places, false), line, (&[2.4, -2.4], true));
    }
}

/// What to write on a shape: its name and what shall become of it.
fn name(shape: &Shape) -> String {
    let note = shape.note.trim();
    let other = matches!(&shape.what, What::Feature(key) if key == OTHER) && !note.is_empty();
    let usual = || if other { note } else { usual_name(shape) };
    format!("{}{}", own_name(shape).unwrap_or_else(usual), tr(fate(shape)))
}

fn fate(shape: &Shape) -> &'static str {
    match shape.fate {
        Some(Fate::Remove) => ", remove",
        Some(Fate::Move) => ", move",
        Some(Fate::Ask) => ", ask",
        Some(Fate::Keep) | None => "",
    }
}

pub(super) fn is_building(key: &str) -> bool {
    matches!(key, "house" | "outbuilding")
}

/// What its kind is called.
fn usual_name(shape: &Shape) -> &str {
    match &shape.what {
        What::Feature(key) => kind(key).map_or(key.as_str(), |kind| kind.name),
        What::Mark { .. } => "Utility mark",
    }
}

/// The name the recorder gave, when it says more than the kind's.
fn own_name(shape: &Shape) -> Option<&str> {
    let title = shape.title.trim();
    // Paint that says no more than the letters the line is drawn with.
    if let What::Mark { colour, .. } = &shape.what
        && utilities::line(*colour).letters.split('/').any(|letter| letter.eq_ignore_ascii_case(title))
    {
        return None;
    }
    (!title.is_empty() && !title.eq_ignore_ascii_case(usual_name(shape))).then_some(title)
}

/// What found no room, in words; none when everything did.
pub(super) fn left_out(all: &[LeftOut]) -> Option<String> {
    const NAMED: usize = 6;
    let kinds = [
        (Kind::Point, "point label", true),
        (Kind::Name, "name", true),
        (Kind::Sign, "number of a problem, photo or question", true),
        (Kind::Dimension, "taped length of a wall", false),
        (Kind::Height, "height", true),
        (Kind::Contour, "figure of a contour", false),
        (Kind::Tie, "reading of a tape line", false),
    ];
    let mut parts = Vec::new();
    for (kind, words, named) in kinds {
        let names: Vec<&str> = all.iter().filter(|l| l.kind == kind).map(|l| l.name.as_str()).collect();
        if names.is_empty() {
            continue;
        }
        let mut part = say!("{} × {words}", names.len());
        if named && names.len() <= NAMED {
            part.push_str(&format!(" ({})", names.join(", ")));
        }
        parts.push(part);
    }
    (!parts.is_empty())
        .then(|| say!("No room on the drawing for: {}. A larger sheet or scale shows all.", parts.join(", ")))
}
