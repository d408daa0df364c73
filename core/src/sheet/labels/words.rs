//! Lines of words, their room, and their writing.

use super::slab::Slab;
use crate::sheet::geometry::{Frame, Spot, spot};
use crate::sheet::pen::{Face, Hang, PAPER, Pen};
use crate::sheet::picture::Picture;
use crate::sheet::symbols::upright;
use crate::sheet::text::{CAPITAL, fit, width, wrap};
use crate::units::float;

/// Distance of baselines as a share of the font size.
pub(in crate::sheet) const LEADING: f64 = 1.25;

/// One line of a label.
#[derive(Clone, Debug)]
pub(in crate::sheet) struct Words {
    pub text: String,
    pub face: Face,
}

impl Words {
    /// At most `most` lines no wider than `room`.
    pub fn wrapped(words: &str, face: Face, room: f64, most: usize) -> Vec<Self> {
        let mut lines = wrap(words, face.size, room);
        if lines.len() > most {
            let rest = lines.split_off(most.saturating_sub(1)).join(" ");
            lines.push(fit(&rest, face.size, face.bold, room));
        }
        lines.into_iter().map(|text| Self { text, face }).collect()
    }
    fn width(&self) -> f64 {
        width(&self.text, self.face.size, self.face.bold)
    }
}

/// Half width and height of a block of lines: close above its capitals and close below its last line.
pub(super) fn block(lines: &[Words]) -> (f64, f64) {
    let wide = lines.iter().map(Words::width).fold(0.0, f64::max);
    let high: f64 = lines.iter().map(|l| l.face.size * LEADING).sum();
    let last = lines.last().map_or(0.0, |l| l.face.size * (LEADING - 1.0));
    (wide / 2.0 + 0.2, (high - last) / 2.0)
}

/// The middle of each line of a block, below the block's.
fn middles(lines: &[Words]) -> impl Iterator<Item = (f64, &Words)> {
    let mut y = -block(lines).1;
    lines.iter().map(move |line| {
        let middle = y + line.face.size / 2.0;
        y += line.face.size * LEADING;
        (middle, line)
    })
}

/// What is inked of each line of a block around the sheet's corner.
pub(super) fn rows(lines: &[Words]) -> Vec<Frame> {
    let row = |(middle, line): (f64, &Words)| {
        Frame::around(spot(0.0, middle), line.width() / 2.0, line.face.size * CAPITAL / 2.0)
    };
    middles(lines).map(row).collect()
}

/// Writes a block around its middle.
pub(super) fn write_block(picture: &mut Picture, at: Spot, lines: &[Words]) {
    for (middle, line) in middles(lines) {
        write(picture, at.plus(0.0, middle), &line.text, line.face);
    }
}

/// The box of words along a direction.
pub(in crate::sheet) fn along_box(middle: Spot, along: (f64, f64), words: &str, face: Face) -> Slab {
    let half = (width(words, face.size, face.bold) / 2.0 + 0.2, face.size * 0.5);
    Slab { centre: middle, along, half }
}

/// Writes words along a direction, so that they read from below or from the right.
pub(in crate::sheet) fn write_along(
    picture: &mut Picture,
    middle: Spot,
    (ux, uy): (f64, f64),
    words: &str,
    face: Face,
) {
    let (turn, _) = upright(ux, uy);
    write(picture, middle, words, face.turned(turn));
}

/// Text centred on a place, on a white ground so that it reads over lines.
fn write(picture: &mut Picture, middle: Spot, words: &str, face: Face) {
    let (s, c) = (float::sin(face.turn.to_radians()), float::cos(face.turn.to_radians()));
    let corner = |x: f64, y: f64| middle.plus(x * c - y * s, x * s + y * c);
    let (w, h) = (width(words, face.size, face.bold) / 2.0 * 0.94, face.size * 0.42);
    picture.polyline(&[corner(-w, -h), corner(w, -h), corner(w, h), corner(-w, h)], true, Pen::fill(PAPER));
    let down = face.size * CAPITAL / 2.0;
    picture.text(corner(0.0, down), face.hang(Hang::Middle), words);
}
