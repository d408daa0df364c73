//! Where photos were taken and which way they look: a numbered circle with an arrow (common practice, no
//! source). The numbers are those of the list of photos.

use super::drawing::Scene;
use super::geometry::{Spot, spot};
use super::labels::{Board, Group};
use super::pen::{Face, Hang, INK, PAPER, Pen};
use super::picture::Picture;
use super::text::CAPITAL;

/// Radius of the circle, mm.
const CIRCLE: f64 = 2.3;
/// How far the arrow's point is from the circle's middle, mm.
const REACH: f64 = 5.6;

/// All of them, each where there is room for it.
pub(super) fn place<'a>(board: &mut Board<'a>, scene: &Scene<'a>) {
    for photo in scene.photos {
        let Some(at) = photo.at.filter(|at| at.is_finite()) else { continue };
        let facing = photo.facing.filter(|angle| angle.radians().is_finite());
        let facing = facing.map(|angle| scene.view.direction(angle));
        let half = if facing.is_some() { REACH } else { CIRCLE } + 0.2;
        let number = photo.number;
        scene.tied(board, at, (Group::Photos, half), &number.to_string(), move |picture, pose| {
            sign(picture, pose.middle, number, facing);
        });
    }
}

/// One, looking along this unit vector of the sheet.
pub(super) fn sign(picture: &mut Picture, at: Spot, number: usize, facing: Option<(f64, f64)>) {
    if let Some((ux, uy)) = facing {
        let place = |along: f64, across: f64| at.plus(ux * along - uy * across, uy * along + ux * across);
        picture.line(place(CIRCLE, 0.0), place(REACH, 0.0), Pen::line(0.35));
        let head = [place(REACH, 0.0), place(REACH - 1.8, 0.8), place(REACH - 1.8, -0.8)];
        picture.polyline(&head, true, Pen::fill(INK));
    }
    picture.circle(at, CIRCLE, Pen::line(0.35).filled(PAPER));
    let number = number.to_string();
    let size = 2.5;
    picture.text(spot(at.x, at.y + size * CAPITAL / 2.0), Face::of(size).bold().hang(Hang::Middle), &number);
}
