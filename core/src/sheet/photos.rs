//! Where photos were taken and which way they look: a numbered circle with an arrow (common practice, no
//! source). The numbers are those of the list of photos.

use super::geometry::{Spot, spot};
use super::labels::Board;
use super::svg::{Face, Hang, INK, Pen, Svg};
use super::text::CAPITAL;
use super::view::View;
use crate::plan::PlacedPhoto;

/// Radius of the circle, mm.
const CIRCLE: f64 = 2.0;
/// How far the arrow's point is from the circle's middle, mm.
const REACH: f64 = 5.6;

/// All of them, each where there is room for it.
pub(super) fn draw(svg: &mut Svg, board: &mut Board, photos: &[PlacedPhoto], view: &View) {
    for photo in photos {
        let Some(at) = photo.at.filter(|at| at.is_finite()) else { continue };
        let mut own = Svg::default();
        let middle = board.sign(&mut own, view.place(at), CIRCLE + 0.4, 1.8);
        let facing = photo.facing.filter(|angle| angle.radians().is_finite());
        sign(&mut own, middle, photo.number, facing.map(|angle| view.direction(angle)));
        svg.append(&own);
    }
}

/// One, looking along this unit vector of the sheet.
pub(super) fn sign(svg: &mut Svg, at: Spot, number: usize, facing: Option<(f64, f64)>) {
    if let Some((ux, uy)) = facing {
        let place = |along: f64, across: f64| at.plus(ux * along - uy * across, uy * along + ux * across);
        svg.line(place(CIRCLE, 0.0), place(REACH, 0.0), Pen::line(0.35));
        let head = [place(REACH, 0.0), place(REACH - 1.8, 0.8), place(REACH - 1.8, -0.8)];
        svg.polyline(&head, true, Pen::fill(INK));
    }
    svg.circle(at, CIRCLE, Pen::line(0.35).filled("#ffffff"));
    let number = number.to_string();
    let size = if number.len() > 1 { 1.7 } else { 2.2 };
    svg.text(spot(at.x, at.y + size * CAPITAL / 2.0), Face::of(size).bold().hang(Hang::Middle), &number);
}
