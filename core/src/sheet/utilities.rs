//! Utility marks as lines in their colour, darkened to read on white paper, and broken by letters,
//! since prints go grey.

use super::geometry::{Frame, Spot, spot};
use super::pen::{Colour, Dash, Face, Hang, PAPER, Pen};
use super::picture::Picture;
use super::symbols::{Figure, Letter, Manner, lettered};
use super::text::{CAPITAL, width};
use crate::record::MarkColour;

/// How marks of a colour are drawn. What a colour means is the usual American reading (APWA uniform
/// colour code).
pub(super) struct Line {
    /// Key for the legend's order.
    pub ink: Colour,
    pub letters: &'static str,
    pub words: &'static str,
}

/// All inks have a contrast of at least 7 : 1 on white.
pub(super) const fn line(colour: MarkColour) -> Line {
    let (ink, words) = match colour {
        MarkColour::Red => (Colour(0xb3_00_1b), "Red mark: electric"),
        MarkColour::Yellow => (Colour(0x6b_4f_00), "Yellow mark: gas, oil, steam"),
        MarkColour::Orange => (Colour(0x8f_3a_00), "Orange mark: phone, cable"),
        MarkColour::Blue => (Colour(0x0b_4f_9e), "Blue mark: drinking water"),
        MarkColour::Purple => (Colour(0x6a_1b_9a), "Purple mark: irrigation"),
        MarkColour::Green => (Colour(0x00_66_2b), "Green mark: sewer, drain"),
        MarkColour::Pink => (Colour(0x9c_11_50), "Pink mark: survey"),
        MarkColour::White => (Colour(0x4a_4a_4a), "White mark: to be dug"),
    };
    Line { ink, letters: colour.usual_letters(), words }
}

/// The ground on both sides of a mark that is taken for the line's own: a pale strip under everything.
pub(super) fn zone(picture: &mut Picture, figure: &Figure, reach: f64) {
    const TINT: Colour = Colour(0xe8_e8_e8);
    match figure {
        Figure::Line(places) | Figure::Area(places) => {
            // Round at its ends: the line may go on from there, or lie as far beside it.
            picture.polyline(places, false, Pen::line(2.0 * reach).coloured(TINT).round());
        }
        Figure::Spot(at) | Figure::Circle { centre: at, .. } => picture.circle(*at, reach, Pen::fill(TINT)),
    }
}

/// Draws a mark; `letters` is where those of its line stand.
pub(super) fn draw(
    picture: &mut Picture,
    colour: MarkColour,
    figure: &Figure,
    manner: Manner,
    letters: Option<&[Letter]>,
) {
    let line = line(colour);
    let dash = match (manner.told, manner.certain) {
        (true, _) => Dash::Dots,
        (_, false) => Dash::Doubt,
        _ => Dash::Solid,
    };
    let pen = Pen::line(0.5).coloured(line.ink).dashed(dash);
    match figure {
        Figure::Line(places) | Figure::Area(places) => {
            lettered(picture, places, (line.letters, letters), pen)
        }
        Figure::Spot(at) | Figure::Circle { centre: at, .. } => {
            // A single paint dot or flag: a small flag with the letters.
            let size = FLAG;
            let flag = Frame::new(at.x, at.y - 5.4, at.x + flag(line.letters), at.y - 2.4);
            picture.line(*at, spot(at.x, flag.y0), Pen::line(0.35).coloured(line.ink));
            picture.rect(&flag, Pen::line(0.35).coloured(line.ink).filled(PAPER));
            let face = Face::of(size).bold().hang(Hang::Middle).coloured(line.ink);
            let middle = flag.centre();
            picture.text(spot(middle.x, middle.y + size * CAPITAL / 2.0), face, line.letters);
        }
    }
}

/// The room a single mark's flag takes.
pub(super) fn reach(at: Spot, colour: MarkColour) -> Frame {
    Frame::new(at.x - 0.5, at.y - 5.6, at.x + flag(line(colour).letters) + 0.2, at.y)
}

/// Size of a flag's letters, mm.
const FLAG: f64 = 2.5;

/// How long a flag with these letters is.
fn flag(letters: &str) -> f64 {
    width(letters, FLAG, true) + 1.0
}
