//! Finds places for labels: each takes the cheapest of its candidate places, in a fixed order, so
//! that the same plan gives the same sheet.

use super::geometry::{Frame, Spot, inner_place, inside, sides, spot};
use super::svg::{Face, Hang, Pen, Svg};
use super::symbols::upright;
use super::text::{CAPITAL, fit, width, wrap};
use crate::units::float;

/// Cost of a square millimetre over something already placed.
const COVERED: f64 = 25.0;
/// Cost of a millimetre of line under a label.
const CROSSED: f64 = 1.6;
/// A label outside the window is useless.
const OUTSIDE: f64 = 1e6;

/// What is already on the sheet.
pub(super) struct Board {
    window: Frame,
    taken: Vec<Frame>,
    lines: Vec<(Spot, Spot)>,
}

impl Board {
    pub fn new(window: Frame) -> Self {
        Self { window: window.grown(-0.8), taken: Vec::new(), lines: Vec::new() }
    }
    /// Room nothing else should cover.
    pub fn take(&mut self, frame: Frame) {
        self.taken.push(frame);
    }
    /// Lines that labels should keep off where they can.
    pub fn avoid(&mut self, places: &[Spot], closed: bool) {
        self.lines.extend(sides(places, closed));
    }
    fn cost(&self, frame: &Frame) -> f64 {
        if !self.window.holds(frame) {
            return OUTSIDE;
        }
        let roomy = frame.grown(0.3);
        let covered: f64 = self.taken.iter().map(|other| roomy.overlap(other)).sum();
        let crossed: f64 = self.lines.iter().map(|(a, b)| frame.covered(*a, *b)).sum();
        covered * COVERED + crossed * CROSSED
    }
    fn clash(&self, frames: &[Frame]) -> f64 {
        let roomy = frames.iter().map(|frame| frame.grown(0.25));
        roomy.map(|frame| self.taken.iter().map(|other| frame.overlap(other)).sum::<f64>()).sum()
    }
    /// How much a leader from `from` to `to` runs over what is placed.
    fn leader_cost(&self, from: Spot, to: Spot) -> f64 {
        self.taken.iter().map(|other| other.covered(from, to)).sum::<f64>() * 4.0
    }

    /// Places a box of this size beside a spot; returns its middle and whether it needs a leader.
    fn beside(&self, at: Spot, half: (f64, f64), start: f64, favour: (f64, f64)) -> (Spot, bool) {
        let mut best: Option<(f64, Spot, bool)> = None;
        for (ring, extra) in [0.0, 1.3, 3.0, 5.5, 9.0, 13.0].into_iter().enumerate() {
            for n in 0..16_u32 {
                let angle = std::f64::consts::TAU * f64::from(n) / 16.0 - 0.785;
                let (ux, uy) = (float::cos(angle), float::sin(angle));
                // The box is pushed out until it just clears the spot in this direction.
                let clear = start + extra;
                let middle = at.plus(ux * (clear + half.0), uy * (clear + half.1));
                let frame = Frame::around(middle, half.0, half.1);
                let leader = ring > 1;
                let mut cost = self.cost(&frame) + extra * 0.9 + 0.6;
                cost -= 0.6 * (ux * favour.0 + uy * favour.1);
                if leader {
                    cost += self.leader_cost(at.toward(middle, 0.3), middle) + 1.5;
                }
                if best.is_none_or(|(least, ..)| cost < least - 1e-9) {
                    best = Some((cost, middle, leader));
                }
            }
        }
        best.map_or((at, false), |(_, middle, leader)| (middle, leader))
    }

    /// Writes a label beside a spot, never leaving it out. `favour` is the direction preferred.
    pub fn label(&mut self, svg: &mut Svg, at: Spot, lines: &[Words], favour: (f64, f64)) {
        let half = block(lines);
        let (middle, leader) = self.beside(at, half, 1.2, favour);
        let frame = Frame::around(middle, half.0, half.1);
        if leader {
            // The leader ends at the nearest edge of the label.
            let to = spot(at.x.clamp(frame.x0, frame.x1), at.y.clamp(frame.y0, frame.y1));
            svg.line(at.toward(to, (1.0 / at.distance(to).max(1.0)).min(0.9)), to, Pen::line(0.13));
        }
        self.write_block(svg, middle, lines);
    }

    /// A sign of a given half size beside a spot, with a leader when it had to move away.
    pub fn sign(&mut self, svg: &mut Svg, at: Spot, half: f64, clear: f64) -> Spot {
        let (middle, _) = self.beside(at, (half, half), clear, (0.3, -0.6));
        let clear = (1.1 / at.distance(middle).max(1.1)).min(0.9);
        svg.line(at.toward(middle, clear), middle, Pen::line(0.18));
        self.take(Frame::around(middle, half, half));
        middle
    }

    /// Writes a name inside an outline where it covers least; false when there is no fair place.
    pub fn inside(&mut self, svg: &mut Svg, outline: &[Spot], words: &str, face: Face) -> bool {
        let Some(inner) = inner_place(outline) else { return false };
        let mut bounds = Frame::around(inner, 0.0, 0.0);
        outline.iter().for_each(|at| bounds.extend(*at));
        // No word is cut: a name with a word wider than the outline goes beside it.
        let widest = words.split_whitespace().map(|w| width(w, face.size, face.bold)).fold(0.0, f64::max);
        let room = (bounds.width() - 1.0).min(34.0);
        if widest > room {
            return false;
        }
        let lines = Words::wrapped(words, face, room, 3);
        let half = block(&lines);
        let mut places = vec![inner];
        for row in 1..8_u32 {
            for column in 1..8_u32 {
                let (u, v) = (f64::from(column) / 8.0, f64::from(row) / 8.0);
                places.push(spot(bounds.x0 + bounds.width() * u, bounds.y0 + bounds.height() * v));
            }
        }
        let mut best: Option<(f64, Spot)> = None;
        for at in places.into_iter().filter(|at| inside(outline, *at)) {
            let frame = Frame::around(at, half.0, half.1);
            let corners_out = frame.corners().iter().filter(|corner| !inside(outline, **corner)).count();
            let away = at.distance(inner) * 0.05;
            #[expect(clippy::cast_precision_loss, reason = "four corners")]
            let cost = self.cost(&frame) + away + corners_out as f64 * 4.0;
            if best.is_none_or(|(least, _)| cost < least - 1e-9) {
                best = Some((cost, at));
            }
        }
        let Some((_, at)) = best.filter(|(cost, _)| *cost < 60.0) else { return false };
        self.write_block(svg, at, &lines);
        true
    }

    fn write_block(&mut self, svg: &mut Svg, middle: Spot, lines: &[Words]) {
        let half = block(lines);
        let mut y = middle.y - half.1;
        for line in lines {
            let high = line.face.size * LEADING;
            write(svg, spot(middle.x, y + high / 2.0), &line.text, line.face);
            y += high;
        }
        self.take(Frame::around(middle, half.0, half.1));
    }

    /// The best of several middles for words along a direction, and its cost; none when all are taken.
    pub fn find_along(
        &self,
        middles: &[Spot],
        direction: (f64, f64),
        words: &str,
        face: Face,
    ) -> Option<(f64, Spot)> {
        let long = width(words, face.size, face.bold);
        let mut best: Option<(f64, Spot)> = None;
        for (rank, middle) in (0_u32..).zip(middles) {
            let frames = chain(*middle, direction, long, face.size);
            let cost: f64 = frames.iter().map(|f| self.cost(f)).sum::<f64>() + f64::from(rank) * 0.3;
            if self.clash(&frames) < 0.05 && best.is_none_or(|(least, _)| cost < least - 1e-9) {
                best = Some((cost, *middle));
            }
        }
        best.filter(|(cost, _)| *cost < OUTSIDE)
    }

    /// Writes words along a direction and takes their room.
    pub fn write_along(
        &mut self,
        svg: &mut Svg,
        middle: Spot,
        (ux, uy): (f64, f64),
        words: &str,
        face: Face,
    ) {
        let (turn, _) = upright(ux, uy);
        write(svg, middle, words, face.turned(turn));
        self.taken.extend(chain(middle, (ux, uy), width(words, face.size, face.bold), face.size));
    }

    /// Writes words along a line, beside it by one of `offs` (mm, to the right walking), wherever it
    /// is freest; leaves them out where no place is free.
    pub fn along(&mut self, svg: &mut Svg, (a, b): (Spot, Spot), words: &str, face: Face, offs: &[f64]) {
        let Some((ux, uy, length)) = a.direction(b) else { return };
        if width(words, face.size, face.bold) > length + 6.0 {
            return;
        }
        let mut middles = Vec::new();
        for share in [0.5, 0.38, 0.62, 0.26, 0.74] {
            middles.extend(offs.iter().map(|off| a.toward(b, share).plus(-uy * off, ux * off)));
        }
        if let Some((_, middle)) = self.find_along(&middles, (ux, uy), words, face) {
            self.write_along(svg, middle, (ux, uy), words, face);
        }
    }
}

/// One line of a label.
#[derive(Clone, Debug)]
pub(super) struct Words {
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
}

/// Distance of baselines as a share of the font size.
pub(super) const LEADING: f64 = 1.25;

/// Half width and height of a block of lines.
fn block(lines: &[Words]) -> (f64, f64) {
    let wide = lines.iter().map(|l| width(&l.text, l.face.size, l.face.bold)).fold(0.0, f64::max);
    let high: f64 = lines.iter().map(|l| l.face.size * LEADING).sum();
    (wide / 2.0 + 0.2, high / 2.0)
}

/// Squares along a slanted text, so that it does not claim the whole upright box around it.
fn chain(middle: Spot, (ux, uy): (f64, f64), long: f64, high: f64) -> Vec<Frame> {
    let count = (long / high).ceil().clamp(1.0, 60.0);
    let mut frames = Vec::new();
    let mut n = 0.0;
    while n < count {
        let share = if count > 1.0 { n / (count - 1.0) - 0.5 } else { 0.0 };
        let at = share * (long - high).max(0.0);
        frames.push(Frame::around(middle.plus(ux * at, uy * at), high / 2.0, high / 2.0));
        n += 1.0;
    }
    frames
}

/// Text centred on a place, on a white ground so that it reads over lines.
fn write(svg: &mut Svg, middle: Spot, words: &str, face: Face) {
    let (s, c) = (float::sin(face.turn.to_radians()), float::cos(face.turn.to_radians()));
    let corner = |x: f64, y: f64| middle.plus(x * c - y * s, x * s + y * c);
    let (w, h) = (width(words, face.size, face.bold) / 2.0 * 0.94, face.size * 0.42);
    svg.polyline(&[corner(-w, -h), corner(w, -h), corner(w, h), corner(-w, h)], true, Pen::fill("#ffffff"));
    let down = face.size * CAPITAL / 2.0;
    svg.text(corner(0.0, down), face.hang(Hang::Middle), words);
}
