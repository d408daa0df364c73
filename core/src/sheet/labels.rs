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
        frames.iter().map(|frame| self.taken.iter().map(|other| frame.overlap(other)).sum::<f64>()).sum()
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
    pub fn label(&mut self, svg: &mut Svg, at: Spot, words: &str, face: Face, favour: (f64, f64)) {
        let words = fit(words, face.size, face.bold, 34.0);
        let half = (width(&words, face.size, face.bold) / 2.0 + 0.2, face.size * 0.5);
        let (middle, leader) = self.beside(at, half, 1.2, favour);
        let frame = Frame::around(middle, half.0, half.1);
        if leader {
            // The leader ends at the nearest edge of the label.
            let to = spot(at.x.clamp(frame.x0, frame.x1), at.y.clamp(frame.y0, frame.y1));
            svg.line(at.toward(to, (1.0 / at.distance(to).max(1.0)).min(0.9)), to, Pen::line(0.13));
        }
        write(svg, middle, &words, face);
        self.take(frame);
    }

    /// A sign of a given half size beside a spot, with a leader when it had to move away.
    pub fn sign(&mut self, svg: &mut Svg, at: Spot, half: f64, clear: f64) -> Spot {
        let (middle, _) = self.beside(at, (half, half), clear, (0.3, -0.6));
        svg.line(at, middle, Pen::line(0.18));
        self.take(Frame::around(middle, half, half));
        middle
    }

    /// Writes a name inside an outline where it covers least; false when there is no fair place.
    pub fn inside(&mut self, svg: &mut Svg, outline: &[Spot], words: &str, face: Face) -> bool {
        let Some(inner) = inner_place(outline) else { return false };
        let mut bounds = Frame::around(inner, 0.0, 0.0);
        outline.iter().for_each(|at| bounds.extend(*at));
        let lines = wrap(words, face.size, (bounds.width() - 2.0).clamp(10.0, 34.0));
        let lines: Vec<String> = lines.into_iter().take(3).collect();
        let half = block(&lines, face);
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
        let Some((cost, at)) = best.filter(|(cost, _)| *cost < 60.0) else { return false };
        let _ = cost;
        self.write_block(svg, at, &lines, face);
        true
    }

    fn write_block(&mut self, svg: &mut Svg, middle: Spot, lines: &[String], face: Face) {
        let half = block(lines, face);
        let mut y = middle.y - half.1 + face.size * 0.55;
        for line in lines {
            write(svg, spot(middle.x, y), line, face);
            y += face.size * LEADING;
        }
        self.take(Frame::around(middle, half.0, half.1));
    }

    /// Writes words along a line at one of several shares of it, beside it by one of `offs` (mm, to
    /// the right walking), wherever it is freest. False when no place is free.
    pub fn along(
        &mut self,
        svg: &mut Svg,
        (a, b): (Spot, Spot),
        words: &str,
        face: Face,
        offs: &[f64],
    ) -> bool {
        let Some((ux, uy, length)) = a.direction(b) else { return false };
        let long = width(words, face.size, face.bold);
        if long > length + 6.0 {
            return false;
        }
        let mut best: Option<(f64, Spot)> = None;
        for share in [0.5, 0.38, 0.62, 0.26, 0.74] {
            for off in offs {
                let middle = a.toward(b, share).plus(-uy * off, ux * off);
                let frames = chain(middle, (ux, uy), long, face.size);
                let cost: f64 =
                    frames.iter().map(|f| self.cost(f)).sum::<f64>() + (share - 0.5_f64).abs() * 2.0;
                if self.clash(&frames) < 0.05 && best.is_none_or(|(least, _)| cost < least - 1e-9) {
                    best = Some((cost, middle));
                }
            }
        }
        let Some((_, middle)) = best.filter(|(cost, _)| *cost < OUTSIDE) else { return false };
        let (turn, _) = upright(ux, uy);
        write(svg, middle, words, face.turned(turn));
        self.taken.extend(chain(middle, (ux, uy), long, face.size));
        true
    }
}

/// Distance of baselines as a share of the font size.
pub(super) const LEADING: f64 = 1.25;

/// Half width and height of a block of lines.
fn block(lines: &[String], face: Face) -> (f64, f64) {
    let wide = lines.iter().map(|line| width(line, face.size, face.bold)).fold(0.0, f64::max);
    #[expect(clippy::cast_precision_loss, reason = "a few lines")]
    let rows = lines.len() as f64;
    (wide / 2.0 + 0.2, (rows * LEADING - LEADING + 1.0) * face.size / 2.0)
}

/// Squares along a slanted text, so that it does not claim the whole upright box around it.
fn chain(middle: Spot, (ux, uy): (f64, f64), long: f64, high: f64) -> Vec<Frame> {
    let count = (long / high).ceil().clamp(1.0, 60.0);
    let mut frames = Vec::new();
    let mut n = 0.0;
    while n < count {
        let at = ((n + 0.5) / count - 0.5) * (long - high).max(0.0);
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
