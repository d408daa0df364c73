//! How each kind of thing is drawn: line weights, line types, symbols.
//!
//! The signs are our own, in the general tradition of drafting (heavier for what stands higher,
//! dashed for what is overhead or buried, dotted for what was only told); common practice, no
//! source. No published set of symbols is claimed, therefore every sheet carries its legend.
//! Line widths are of the series of ISO 128-2.

use super::fittings::{fitting, ring};
use super::furniture::TEXT;
use super::geometry::{Frame, Spot, along, clockwise, hatch, sides, spot};
use super::labels::Slab;
use super::pen::{Colour, Dash, Face, Hang, INK, PALE, PAPER, Pen};
use super::picture::{Picture, Step};
use super::text::{CAPITAL, width};
use crate::units::float;

/// A shape on paper, millimetres.
#[derive(Clone, Debug)]
pub(super) enum Figure {
    Spot(Spot),
    Line(Vec<Spot>),
    Area(Vec<Spot>),
    Circle { centre: Spot, inner: Option<f64>, outer: Option<f64> },
}

/// How sure, and what shall become of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Manner {
    pub told: bool,
    pub certain: bool,
    pub remove: bool,
    pub hatching: bool,
}

impl Manner {
    pub const PLAIN: Self = Self { told: false, certain: true, remove: false, hatching: true };

    /// Whether it is told, sketched, or hangs on a point that may stand elsewhere.
    fn is_doubtful(self) -> bool {
        self.told || !self.certain
    }
    /// Whether nobody knows where it stands, though it was not merely told.
    fn is_unfixed(self) -> bool {
        !self.told && !self.certain
    }
    /// The room of a sign drawn so: one that was told has a ring around it, one without a fixed place a question mark
    /// beside it.
    pub fn reach(self, sign: Frame) -> Frame {
        if self.told {
            Frame::around(sign.centre(), DOUBT + 0.2, DOUBT + 0.2)
        } else if self.is_unfixed() {
            Frame { y0: sign.y0 - 1.2, x1: sign.x1 + 2.2, ..sign }
        } else {
            sign
        }
    }
    /// The same of a trunk's rings, which show by themselves what was told.
    pub fn reach_round(self, trunk: Frame) -> Frame {
        if self.is_unfixed() { self.reach(trunk) } else { trunk }
    }
    fn dash(self, usual: Dash) -> Dash {
        match (self.told, self.certain) {
            (true, _) => Dash::Dots,
            (_, false) => Dash::Doubt,
            _ => usual,
        }
    }
}

fn weight(kind: &str) -> f64 {
    match kind {
        "house" | "lot_line" => 0.7,
        "outbuilding" | "wall" => 0.5,
        "lawn" | "bed" | "wet_spot" | "tree" | "shrub" | "hedge" | "stump" | "low_point"
        | "overhead_wire" | "neighbour_tree" | "pot" | "roof_edge" | "setback" | "easement" | "sun"
        | "swale" | "pet_path" | "conduit" => 0.25,
        _ => 0.35,
    }
}

/// Whether its line parts what stands on either side of it.
pub(super) fn is_heavy(kind: &str) -> bool {
    weight(kind) >= 0.5
}

/// Draws one thing; `letters` is where those of a line stand, which its drawing chooses else.
pub(super) fn draw(
    picture: &mut Picture,
    kind: &str,
    figure: &Figure,
    manner: Manner,
    letters: Option<&[Letter]>,
) {
    match figure {
        Figure::Area(places) => area(picture, kind, places, manner),
        Figure::Line(places) => line(picture, kind, places, manner, letters),
        Figure::Circle { centre, inner, outer } => circle(picture, kind, *centre, *inner, *outer, manner),
        Figure::Spot(at) if manner.is_unfixed() => {
            let mut sign = Picture::default();
            fitting(&mut sign, kind, *at);
            picture.append(sign.doubtful());
            question(picture, &super::fittings::reach(kind, *at));
        }
        Figure::Spot(at) => {
            fitting(picture, kind, *at);
            if manner.told {
                let pen = Pen::line(0.25).dashed(manner.dash(Dash::Solid));
                picture.circle(fitting_middle(kind, *at), DOUBT, pen);
            }
        }
    }
    if manner.remove {
        let from = cross_from(kind, figure);
        let half = cross_reach(kind, figure);
        for at in crosses(figure) {
            let corners = [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
            let strokes = corners.map(|(x, y)| (at.plus(x * from, y * from), at.plus(x * half, y * half)));
            picture.lines(&strokes, Pen::line(0.35));
        }
    }
}

/// The question mark beside the sign of a thing whose place is not fixed.
fn question(picture: &mut Picture, sign: &Frame) {
    let at = spot(sign.x1 + 1.1, sign.y0 + 0.7);
    picture.text(at, Face::of(TEXT).bold().hang(Hang::Middle), "?");
}

/// Where the strokes of the cross on what is to be removed begin: at a sign's edge, so that both can be read.
fn cross_from(kind: &str, figure: &Figure) -> f64 {
    let round = |r: f64| r * std::f64::consts::FRAC_1_SQRT_2 + 0.3;
    match figure {
        Figure::Line(_) | Figure::Area(_) => 0.0,
        Figure::Spot(_) => 1.7,
        Figure::Circle { inner, outer, .. } => match kind {
            "stump" | "pot" | "tank" => round(inner.or(*outer).unwrap_or(1.4).max(1.4)),
            "shrub" => round(outer.or(*inner).unwrap_or(2.0).max(1.2)),
            _ => round(inner.unwrap_or(0.0).max(0.75) + 0.9),
        },
    }
}

/// Half the side of that cross, mm.
pub(super) fn cross_reach(kind: &str, figure: &Figure) -> f64 {
    CROSS.max(cross_from(kind, figure) + 1.3)
}

/// Half the side of the cross on what is to be removed, mm.
const CROSS: f64 = 1.8;

/// Where the crosses of a thing that is to be removed stand.
pub(super) fn crosses(figure: &Figure) -> Vec<Spot> {
    match figure {
        Figure::Spot(at) | Figure::Circle { centre: at, .. } => vec![*at],
        Figure::Line(places) => along(places, false, 9.0).into_iter().map(|(at, ..)| at).collect(),
        Figure::Area(places) => along(places, true, 9.0).into_iter().map(|(at, ..)| at).collect(),
    }
}

/// Radius of the ring around a sign whose place is doubtful, mm.
const DOUBT: f64 = 4.0;

fn fitting_middle(kind: &str, at: Spot) -> Spot {
    super::fittings::reach(kind, at).centre()
}

/// A diagonal cross.
fn cross(picture: &mut Picture, at: Spot, half: f64, width: f64) {
    let lines = [(at.plus(-half, -half), at.plus(half, half)), (at.plus(-half, half), at.plus(half, -half))];
    picture.lines(&lines, Pen::line(width));
}

fn area(picture: &mut Picture, kind: &str, places: &[Spot], manner: Manner) {
    let usual = match kind {
        "septic" | "drain_field" | "sun" | "eroded" => Dash::Short,
        "easement" => Dash::LongDot,
        _ => Dash::Solid,
    };
    let pen = Pen::line(weight(kind)).dashed(manner.dash(usual));
    let fine = Pen::line(0.13).coloured(PALE);
    match kind {
        "house" | "outbuilding" => {
            picture.polyline(places, true, Pen::fill(PAPER));
            if manner.hatching {
                picture.lines(&hatch(places, -std::f64::consts::FRAC_PI_4, 3.0), fine);
            }
        }
        "deck" if manner.hatching => {
            let angle =
                places.first().zip(places.get(1)).map_or(0.0, |(a, b)| float::atan2(b.y - a.y, b.x - a.x));
            picture.lines(&hatch(places, angle, 1.6), fine);
        }
        "wet_spot" if manner.hatching => {
            let rows = hatch(places, 0.0, 2.0);
            let dashes: Vec<_> = rows
                .iter()
                .flat_map(|(a, b)| along(&[*a, *b], false, 4.4))
                .map(|(at, ..)| (at.plus(-1.2, 0.0), at.plus(1.2, 0.0)))
                .collect();
            picture.lines(&dashes, Pen::line(0.25).coloured(Colour(0x0b_4f_8a)));
        }
        "pool" if manner.hatching => {
            picture.lines(&hatch(places, 0.0, 1.8), fine.coloured(Colour(0x0b_4f_8a)))
        }
        "bed" if manner.hatching => {
            let dots: Vec<_> = hatch(places, 0.4, 2.6)
                .iter()
                .flat_map(|(a, b)| along(&[*a, *b], false, 2.6))
                .map(|(at, ..)| (at, at.plus(0.01, 0.0)))
                .collect();
            picture.lines(&dots, Pen::line(0.35).coloured(PALE).round());
        }
        "air_unit" => {
            if let [a, b, c, d, ..] = places {
                picture.lines(&[(*a, *c), (*b, *d)], Pen::line(0.18));
            }
        }
        _ => {}
    }
    picture.polyline(places, true, pen);
}

fn line(picture: &mut Picture, kind: &str, places: &[Spot], manner: Manner, letters: Option<&[Letter]>) {
    let usual = match kind {
        "lot_line" => Dash::LongTwoDots,
        "overhead_wire" | "roof_edge" => Dash::Short,
        "setback" => Dash::LongDot,
        "swale" => Dash::TwoDots,
        "pet_path" => Dash::Far,
        _ => Dash::Solid,
    };
    let dash = if kind == "lot_line" { usual } else { manner.dash(usual) };
    let pen = Pen::line(weight(kind)).dashed(dash);
    match kind {
        "door" | "window" => opening(picture, kind, places),
        "gate" => gate(picture, places, manner),
        "hedge" => {
            // Bows on both sides: there and back.
            let back: Vec<Spot> = places.iter().rev().copied().collect();
            let mut bows = scallops(places, false, 2.2);
            bows.extend(scallops(&back, false, 2.2));
            picture.path(bows, pen);
        }
        "overhead_wire" => lettered(picture, places, (OVERHEAD, letters), pen),
        "fence" => {
            picture.polyline(places, false, pen);
            for (at, ux, uy) in along(places, false, 7.0) {
                let (a, b) = ((ux + uy) * 0.8, (uy - ux) * 0.8);
                picture.lines(
                    &[(at.plus(-a, -b), at.plus(a, b)), (at.plus(b, -a), at.plus(-b, a))],
                    Pen::line(0.25),
                );
            }
        }
        "wall" => {
            picture.polyline(places, false, pen);
            let ticks: Vec<_> = along(places, false, 3.0)
                .iter()
                .map(|(at, ux, uy)| (*at, at.plus(-uy * 1.1, ux * 1.1)))
                .collect();
            picture.lines(&ticks, Pen::line(0.18));
        }
        _ => picture.polyline(places, false, pen),
    }
}

/// A door or window in a wall: the wall is broken, the jambs are drawn, a window has its glass.
fn opening(picture: &mut Picture, kind: &str, places: &[Spot]) {
    for (a, b) in sides(places, false) {
        let Some((ux, uy, _)) = a.direction(b) else { continue };
        let side = |at: Spot, by: f64| at.plus(-uy * by, ux * by);
        picture.line(a, b, Pen::line(1.1).coloured(PAPER));
        picture.lines(&[(side(a, -0.8), side(a, 0.8)), (side(b, -0.8), side(b, 0.8))], Pen::line(0.35));
        if kind == "window" {
            picture
                .lines(&[(side(a, -0.35), side(b, -0.35)), (side(a, 0.35), side(b, 0.35))], Pen::line(0.18));
        } else {
            picture.line(a, b, Pen::line(0.18).dashed(Dash::Short));
        }
    }
}

/// A gate: a post at each end, a braced leaf between.
fn gate(picture: &mut Picture, places: &[Spot], manner: Manner) {
    for (a, b) in sides(places, false) {
        let Some((ux, uy, _)) = a.direction(b) else { continue };
        let side = |at: Spot, by: f64| at.plus(-uy * by, ux * by);
        // The fence it stands in, which may be dashed, ends at its posts.
        picture.line(a, b, Pen::line(2.6).coloured(PAPER));
        let pen = Pen::line(0.25).dashed(manner.dash(Dash::Solid));
        let leaf = [side(a, -0.75), side(b, -0.75), side(b, 0.75), side(a, 0.75)];
        picture.polyline(&leaf, true, pen);
        picture.line(side(a, 0.75), side(b, -0.75), pen);
    }
    for at in places.first().into_iter().chain(places.last()) {
        picture.rect(&Frame::around(*at, 0.9, 0.9), Pen::fill(INK));
    }
}

/// Bows along a line or ring, bulging outwards of a closed one.
fn scallops(places: &[Spot], closed: bool, step: f64) -> Vec<Step> {
    let clockwise = !closed || clockwise(places);
    let mut bows = Vec::new();
    for (index, (a, b)) in sides(places, closed).into_iter().enumerate() {
        let Some((_, _, length)) = a.direction(b) else { continue };
        let count = (length / step).round().clamp(1.0, 500.0);
        if index == 0 {
            bows.push(Step::Move(a));
        }
        let mut n = 1.0;
        while n <= count {
            let radius = length / count * 0.56;
            bows.push(Step::Arc { radius, clockwise, to: a.toward(b, n / count) });
            n += 1.0;
        }
    }
    bows
}

fn circle(
    picture: &mut Picture,
    kind: &str,
    centre: Spot,
    inner: Option<f64>,
    outer: Option<f64>,
    manner: Manner,
) {
    let pen = Pen::line(weight(kind)).dashed(manner.dash(Dash::Solid));
    match kind {
        "stump" => {
            let r = inner.or(outer).unwrap_or(1.4).max(1.4);
            picture.circle(centre, r, pen.filled(PAPER));
            cross(picture, centre, r * 0.7, 0.25);
            picture.circle(centre, r * 0.55, Pen::line(0.18));
        }
        "pot" | "tank" => {
            let r = inner.or(outer).unwrap_or(1.4).max(1.2);
            picture.circle(centre, r, Pen::line(0.35).dashed(manner.dash(Dash::Solid)).filled(PAPER));
            picture.circle(centre, r * 0.75, Pen::line(0.18));
            if kind == "tank" {
                picture.line(centre.plus(-r * 0.75, 0.0), centre.plus(r * 0.75, 0.0), Pen::line(0.18));
            }
        }
        "shrub" => {
            let r = outer.or(inner).unwrap_or(2.0).max(1.2);
            picture.path(scallops(&ring(centre, r, 9), true, 1.2 * r), pen);
        }
        _ => {
            if let Some(r) = outer {
                picture.circle(centre, r, pen.dashed(manner.dash(Dash::Crown)));
            }
            // A trunk is drawn at its true size, but never so small that it gets lost.
            let trunk = inner.unwrap_or(0.0).max(0.75);
            let mut sign = Picture::default();
            if manner.is_doubtful() {
                sign.circle(centre, trunk, pen.dashed(manner.dash(Dash::Solid)).filled(PAPER));
            } else {
                sign.circle(centre, trunk, Pen::fill(Colour(0x4a_4a_4a)));
            }
            sign.circle(centre, trunk + 0.9, Pen::line(0.25));
            picture.append(if manner.is_unfixed() { sign.doubtful() } else { sign });
        }
    }
    if manner.is_unfixed() {
        let r = inner.unwrap_or(0.0).max(0.75) + 0.95;
        question(picture, &Frame::around(centre, r, r));
    }
}

/// Where the letters of a line stand: in each leg long enough, never on a corner.
fn letter_places(places: &[Spot]) -> Vec<Letter> {
    let legs = sides(places, false);
    let longest = legs.iter().map(|(a, b)| a.distance(*b)).fold(0.0, f64::max);
    let worth = |(a, b): &(Spot, Spot)| a.distance(*b) >= 11.0_f64.min(longest);
    legs.into_iter().filter(worth).flat_map(|(a, b)| along(&[a, b], false, 30.0)).collect()
}

/// Where letters stand in a line, and the direction of it there.
pub(super) type Letter = (Spot, f64, f64);

/// The letters of a wire overhead.
pub(super) const OVERHEAD: &str = "OH";

/// Places for the letters of a line that keep off what is taken, which they join; where no place near is free, a
/// letter is left out.
pub(super) fn free_letters(places: &[Spot], letters: &str, taken: &mut Vec<Slab>) -> Vec<Letter> {
    let half = (width(letters, LETTERS, true) / 2.0 + 0.6, 1.5);
    let room = |(at, ux, uy): Letter| Slab { centre: at, along: (ux, uy), half };
    let mut free = Vec::new();
    for (at, ux, uy) in letter_places(places) {
        let shifts = [0.0, 4.0, -4.0, 8.0, -8.0, 12.0, -12.0];
        let moved = shifts.map(|by| (at.plus(ux * by, uy * by), ux, uy));
        let on_line = |(at, ..): &Letter| {
            sides(places, false).iter().any(|(a, b)| {
                Slab::strip(*a, *b, 0.1).is_some_and(|leg| leg.nearest(*at).distance(*at) < 0.01)
            })
        };
        let fits = |letter: &Letter| taken.iter().all(|other| !other.meets(&room(*letter)));
        if let Some(letter) = moved.into_iter().filter(on_line).find(fits) {
            taken.push(room(letter));
            free.push(letter);
        }
    }
    free
}

/// The room of letters in a line, with some air before and behind, or a name there would be read as one with them.
pub(super) fn letter_room(letters: &str, (centre, ux, uy): Letter) -> Slab {
    Slab { centre, along: (ux, uy), half: (width(letters, LETTERS, true) / 2.0 + 1.2, 1.3) }
}

/// Size of the letters that break a line, mm.
const LETTERS: f64 = 2.5;

/// What covering a millimetre of its lines costs a text.
pub(super) fn covering(kind: &str) -> f64 {
    match kind {
        "house" | "lot_line" => 3.5,
        "outbuilding" | "wall" | "fence" | "door" | "window" | "gate" => 2.6,
        _ => 1.6,
    }
}

/// A line broken by letters, which name it even on a grey print.
pub(super) fn lettered(
    picture: &mut Picture,
    places: &[Spot],
    (letters, at): (&str, Option<&[Letter]>),
    pen: Pen,
) {
    picture.polyline(places, false, pen);
    let size = LETTERS;
    let half = width(letters, size, true) / 2.0 + 0.4;
    for (at, ux, uy) in at.map_or_else(|| letter_places(places), <[Letter]>::to_vec) {
        let corner = |l: f64, s: f64| at.plus(ux * l - uy * s, uy * l + ux * s);
        let gap = [corner(-half, -1.2), corner(half, -1.2), corner(half, 1.2), corner(-half, 1.2)];
        picture.polyline(&gap, true, Pen::fill(PAPER));
        let (turn, flip) = upright(ux, uy);
        let down = size * CAPITAL / 2.0 * flip;
        let face = Face::of(size).bold().hang(Hang::Middle).coloured(pen.colour).turned(turn);
        picture.text(at.plus(-uy * down, ux * down), face, letters);
    }
}

/// The turn, in degrees clockwise, of text along a direction so that it reads from below or from
/// the right, and −1 where it therefore runs against the direction.
pub(super) fn upright(ux: f64, uy: f64) -> (f64, f64) {
    let degrees = float::atan2(uy, ux).to_degrees();
    if degrees > 80.0 {
        (degrees - 180.0, -1.0)
    } else if degrees <= -100.0 {
        (degrees + 180.0, -1.0)
    } else {
        (degrees, 1.0)
    }
}
