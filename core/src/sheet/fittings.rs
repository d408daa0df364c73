//! Small things that are drawn as signs, not to scale: taps, meters, posts, pegs.

use super::geometry::{Frame, Spot, spot};
use super::pen::{Face, Hang, INK, PAPER, Pen};
use super::picture::{Picture, Role};
use super::text::CAPITAL;
use crate::record::kind;
use crate::units::float;

/// A ring of `count` places.
pub(super) fn ring(centre: Spot, radius: f64, count: u32) -> Vec<Spot> {
    let place = |n: u32| {
        let angle = std::f64::consts::TAU * f64::from(n) / f64::from(count);
        centre.plus(radius * float::cos(angle), radius * float::sin(angle))
    };
    (0..count).map(place).collect()
}

/// A small thing that is drawn as a sign, not to scale.
pub(super) fn fitting(picture: &mut Picture, kind: &str, at: Spot) {
    let pen = Pen::line(0.35).filled(PAPER);
    let polygon = |picture: &mut Picture, offsets: &[(f64, f64)]| {
        let places: Vec<Spot> = offsets.iter().map(|(dx, dy)| at.plus(*dx, *dy)).collect();
        picture.polyline(&places, true, pen);
    };
    match kind {
        "electric_meter" => lettered_box(picture, at, "E"),
        "gas_meter" => lettered_box(picture, at, "G"),
        "water_meter" => lettered_box(picture, at, "W"),
        "vent" => lettered_box(picture, at, "V"),
        // As the posts of a gate.
        "post" => picture.rect(&Frame::around(at, 1.0, 1.0), Pen::line(0.18).filled(INK)),
        "hose_bib" => polygon(picture, &[(0.0, -1.9), (1.8, 1.3), (-1.8, 1.3)]),
        "downspout" => {
            polygon(picture, &[(-1.4, -1.4), (1.4, -1.4), (1.4, 1.4), (-1.4, 1.4)]);
            picture.line(at.plus(-1.4, 1.4), at.plus(1.4, -1.4), Pen::line(0.18));
        }
        "drain" => {
            // The plus stands out around the point's mark.
            picture.circle(at, 1.9, pen);
            picture.lines(
                &[(at.plus(-1.9, 0.0), at.plus(1.9, 0.0)), (at.plus(0.0, -1.9), at.plus(0.0, 1.9))],
                Pen::line(0.25),
            );
        }
        "valve" => polygon(picture, &[(-2.0, -1.3), (2.0, 1.3), (2.0, -1.3), (-2.0, 1.3)]),
        "light" => {
            picture.circle(at, 1.1, pen);
            let rays: Vec<_> = ring(at, 1.1, 8).into_iter().zip(ring(at, 2.0, 8)).collect();
            picture.lines(&rays, Pen::line(0.18));
        }
        "pole" => {
            picture.line(at.plus(-2.6, 0.0), at.plus(2.6, 0.0), Pen::line(0.35));
            picture.circle(at, 1.2, Pen::fill(INK));
        }
        "well" => {
            picture.circle(at, 2.0, pen);
            picture.circle(at, 1.3, Pen::line(0.18));
        }
        "fire_pit" => {
            picture.circle(at, 2.0, pen);
            picture.lines(
                &ring(at, 1.4, 6).into_iter().map(|p| (p, at.toward(p, 1.45))).collect::<Vec<_>>(),
                pen,
            );
        }
        "low_point" => polygon(picture, &[(0.0, 1.9), (1.8, -1.3), (-1.8, -1.3)]),
        "pin" => {
            picture.circle(at, 1.5, pen);
            picture.lines(&cardinal(at, 1.5, 2.4), Pen::line(0.25));
        }
        "peg" => picture.lines(&cardinal(at, 0.0, 1.9), Pen::line(0.25)),
        _ => match letters(kind) {
            Some(letters) => wide_box(picture, at, letters),
            None => picture.rect(&Frame::around(at, 1.4, 1.4), pen),
        },
    }
}

/// Whether a kind has a sign of its own.
fn signed(key: &str) -> bool {
    matches!(
        key,
        "hose_bib"
            | "downspout"
            | "drain"
            | "valve"
            | "light"
            | "pole"
            | "well"
            | "fire_pit"
            | "low_point"
            | "pin"
            | "peg"
    )
}

/// The letters of a kind's labels, which stand in for a sign of its own.
fn letters(key: &str) -> Option<&'static str> {
    kind(key).map(|kind| kind.prefix).filter(|letters| letters.len() == 2)
}

/// A box with the point in its left half and two letters in its right.
fn wide_box(picture: &mut Picture, at: Spot, letters: &str) {
    picture.rect(&Frame::new(at.x - 1.4, at.y - 1.4, at.x + 5.6, at.y + 1.4), Pen::line(0.35).filled(PAPER));
    let face = Face::of(2.5).bold().hang(Hang::Middle);
    picture.text(spot(at.x + 3.25, at.y + 2.5 * CAPITAL / 2.0), face, letters);
}

/// Four strokes away from a place.
fn cardinal(at: Spot, from: f64, to: f64) -> Vec<(Spot, Spot)> {
    [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)]
        .into_iter()
        .map(|(x, y)| (at.plus(x * from, y * from), at.plus(x * to, y * to)))
        .collect()
}

/// A box with the point in its left half and a letter in its right.
fn lettered_box(picture: &mut Picture, at: Spot, letter: &str) {
    picture.rect(&Frame::new(at.x - 1.4, at.y - 1.4, at.x + 3.7, at.y + 1.4), Pen::line(0.35).filled(PAPER));
    let face = Face::of(2.5).bold().hang(Hang::Middle);
    picture.text(spot(at.x + 2.3, at.y + 2.5 * CAPITAL / 2.0), face, letter);
}

/// Tail and head of the arrow beside a sign that looks or comes some way, a unit vector of the sheet: a view
/// leaves its sign, wind and noise come to it.
pub(super) fn arrow_line(kind: &str, at: Spot, (ux, uy): (f64, f64)) -> (Spot, Spot) {
    let leaves = kind == "view";
    let away = if leaves { (ux, uy) } else { (-ux, -uy) };
    // The sign's letters stand to the right of its point.
    let near = 2.4 + 3.4 * away.0.max(0.0);
    let (near, far) =
        (at.plus(away.0 * near, away.1 * near), at.plus(away.0 * (near + 8.0), away.1 * (near + 8.0)));
    if leaves { (near, far) } else { (far, near) }
}

/// That arrow: a view's with an open head and an eye's two lines, a wind's with feathers at its tail.
pub(super) fn arrow(picture: &mut Picture, kind: &str, at: Spot, way: (f64, f64)) {
    let (ux, uy) = way;
    let (tail, head) = arrow_line(kind, at, way);
    let from =
        |place: Spot, along: f64, across: f64| place.plus(ux * along - uy * across, uy * along + ux * across);
    let mut own = Picture::default();
    own.line(tail, head, Pen::line(0.35));
    own.polyline(
        &[from(head, 0.0, 0.0), from(head, -2.2, 0.9), from(head, -2.2, -0.9)],
        true,
        Pen::fill(INK),
    );
    let wings = match kind {
        "view" => {
            [(from(tail, 0.0, 0.0), from(tail, 4.0, 2.0)), (from(tail, 0.0, 0.0), from(tail, 4.0, -2.0))]
        }
        _ => [(from(tail, 0.0, 0.0), from(tail, -1.4, 1.4)), (from(tail, 1.4, 0.0), from(tail, 0.0, 1.4))],
    };
    own.lines(&wings, Pen::line(0.25));
    picture.group(Role::Told("arrow", "kind", kind.to_owned()), own);
}

/// The room a fitting's sign takes around its point.
pub(super) fn reach(kind: &str, at: Spot) -> Frame {
    match kind {
        "electric_meter" | "gas_meter" | "water_meter" | "vent" => {
            Frame::new(at.x - 1.6, at.y - 1.6, at.x + 3.9, at.y + 1.6)
        }
        "post" => Frame::around(at, 1.1, 1.1),
        key if !signed(key) && letters(key).is_some() => {
            Frame::new(at.x - 1.6, at.y - 1.6, at.x + 5.8, at.y + 1.6)
        }
        "hose_bib" => Frame::new(at.x - 2.1, at.y - 2.2, at.x + 2.1, at.y + 1.5),
        "low_point" => Frame::new(at.x - 2.1, at.y - 1.5, at.x + 2.1, at.y + 2.2),
        "valve" => Frame::around(at, 2.2, 1.5),
        "pole" => Frame::around(at, 2.6, 1.2),
        "drain" | "well" | "fire_pit" => Frame::around(at, 2.1, 2.1),
        "pin" => Frame::around(at, 2.4, 2.4),
        "light" | "peg" => Frame::around(at, 2.0, 2.0),
        _ => Frame::around(at, 1.6, 1.6),
    }
}
