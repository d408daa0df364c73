//! Boxes that may stand aslant, and a grid to find those near a place.

use crate::sheet::geometry::{Frame, Spot, spot};

/// A box along a direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::sheet) struct Slab {
    pub centre: Spot,
    /// Unit vector of its length.
    pub along: (f64, f64),
    /// Half its length and half its breadth, mm.
    pub half: (f64, f64),
}

impl Slab {
    pub const fn upright(centre: Spot, half_width: f64, half_height: f64) -> Self {
        Self { centre, along: (1.0, 0.0), half: (half_width, half_height) }
    }
    pub fn of(frame: &Frame) -> Self {
        Self::upright(frame.centre(), frame.width() / 2.0, frame.height() / 2.0)
    }
    /// A strip along a line; none for a line without length.
    pub fn strip(a: Spot, b: Spot, half_breadth: f64) -> Option<Self> {
        let (ux, uy, length) = a.direction(b)?;
        Some(Self { centre: a.toward(b, 0.5), along: (ux, uy), half: (length / 2.0, half_breadth) })
    }
    pub fn grown(&self, by: f64) -> Self {
        Self { half: (self.half.0 + by, self.half.1 + by), ..*self }
    }
    /// So much longer at both ends.
    pub fn longer(&self, by: f64) -> Self {
        Self { half: (self.half.0 + by, self.half.1), ..*self }
    }
    pub fn corners(&self) -> [Spot; 4] {
        let (l, b) = self.half;
        [(-l, -b), (l, -b), (l, b), (-l, b)].map(|(along, across)| self.out(along, across))
    }
    fn out(&self, along: f64, across: f64) -> Spot {
        let (ux, uy) = self.along;
        self.centre.plus(ux * along - uy * across, uy * along + ux * across)
    }
    /// A place as seen from the box: along and across from its middle.
    fn seen(&self, at: Spot) -> Spot {
        let ((ux, uy), (dx, dy)) = (self.along, (at.x - self.centre.x, at.y - self.centre.y));
        spot(dx * ux + dy * uy, dy * ux - dx * uy)
    }
    /// The upright box around it.
    pub fn bounds(&self) -> Frame {
        let ((ux, uy), (l, b)) = (self.along, self.half);
        let (w, h) = (l * ux.abs() + b * uy.abs(), l * uy.abs() + b * ux.abs());
        Frame::around(self.centre, w, h)
    }
    /// Half the length of its shadow on a direction.
    fn shadow(&self, (x, y): (f64, f64)) -> f64 {
        let (ux, uy) = self.along;
        self.half.0 * (ux * x + uy * y).abs() + self.half.1 * (ux * y - uy * x).abs()
    }
    /// Whether two boxes share ground: they do unless some direction of a side parts them.
    pub fn meets(&self, other: &Self) -> bool {
        let (dx, dy) = (other.centre.x - self.centre.x, other.centre.y - self.centre.y);
        // Most boxes asked about are far from each other, or upright.
        let reach = self.half.0 + self.half.1 + other.half.0 + other.half.1;
        if dx.abs() >= reach || dy.abs() >= reach {
            return false;
        }
        let (w, h) = (self.half.0 + other.half.0, self.half.1 + other.half.1);
        if self.along == (1.0, 0.0) && other.along == (1.0, 0.0) {
            return dx.abs() < w && dy.abs() < h;
        }
        let parts = |(ux, uy): (f64, f64)| {
            (dx * ux + dy * uy).abs() >= self.shadow((ux, uy)) + other.shadow((ux, uy))
        };
        let across = |(ux, uy): (f64, f64)| (-uy, ux);
        ![self.along, across(self.along), other.along, across(other.along)].into_iter().any(parts)
    }
    /// Length of a segment's part inside the box.
    pub fn covered(&self, a: Spot, b: Spot) -> f64 {
        Frame::around(spot(0.0, 0.0), self.half.0, self.half.1).covered(self.seen(a), self.seen(b))
    }
    /// The place on its edge, or in it, that is nearest.
    pub fn nearest(&self, at: Spot) -> Spot {
        let seen = self.seen(at);
        self.out(seen.x.clamp(-self.half.0, self.half.0), seen.y.clamp(-self.half.1, self.half.1))
    }
}

/// Side of a cell, mm: about the length of a label.
const CELL: f64 = 7.0;

/// Things by the cells their boxes touch.
pub(super) struct Grid<T> {
    frame: Frame,
    columns: usize,
    rows: usize,
    cells: Vec<Vec<(Slab, T)>>,
}

impl<T: Copy> Grid<T> {
    pub fn new(frame: Frame) -> Self {
        let count = |length: f64| whole(length / CELL, 1000) + 1;
        let (columns, rows) = (count(frame.width()), count(frame.height()));
        Self { frame, columns, rows, cells: vec![Vec::new(); columns * rows] }
    }
    fn cells(&self, bounds: &Frame) -> impl Iterator<Item = usize> + use<T> {
        let column = |x: f64| whole((x - self.frame.x0) / CELL, self.columns - 1);
        let row = |y: f64| whole((y - self.frame.y0) / CELL, self.rows - 1);
        let (columns, across) = (self.columns, column(bounds.x0)..=column(bounds.x1));
        (row(bounds.y0)..=row(bounds.y1)).flat_map(move |r| across.clone().map(move |c| r * columns + c))
    }
    pub fn add(&mut self, slab: Slab, what: T) {
        for cell in self.cells(&slab.bounds()) {
            if let Some(cell) = self.cells.get_mut(cell) {
                cell.push((slab, what));
            }
        }
    }
    /// Adds in the cell of its middle alone: for short pieces, looked for with [`Grid::about`].
    fn add_once(&mut self, slab: Slab, what: T) {
        let middle = Frame::around(slab.centre, 0.0, 0.0);
        if let Some(cell) = self.cells(&middle).next().and_then(|cell| self.cells.get_mut(cell)) {
            cell.push((slab, what));
        }
    }
    /// A line's part inside the grid's frame.
    pub fn clipped(&self, a: Spot, b: Spot) -> Option<(Spot, Spot)> {
        self.frame.clipped(a, b)
    }
    /// Takes away what `goes` says, from the cells that `slab` touches.
    pub fn remove(&mut self, slab: &Slab, goes: impl Fn(&T) -> bool) {
        for cell in self.cells(&slab.bounds()) {
            if let Some(cell) = self.cells.get_mut(cell) {
                cell.retain(|(_, what)| !goes(what));
            }
        }
    }
    /// What stands in the cells a box touches, some of it more than once.
    pub fn near(&self, bounds: &Frame) -> impl Iterator<Item = &(Slab, T)> {
        self.cells(bounds).filter_map(|cell| self.cells.get(cell)).flatten()
    }
}

/// A share as a whole number from 0 to `most`.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to a small whole number"
)]
#[expect(clippy::cast_precision_loss, reason = "a few hundred cells")]
fn whole(x: f64, most: usize) -> usize {
    x.clamp(0.0, most as f64) as usize
}

/// Longest piece of a line in the grid, mm.
const PIECE: f64 = 4.0;

/// Line work, in short pieces, each with the cost of covering a millimetre of it.
pub(super) struct Lines(Grid<f64>);

impl Lines {
    pub fn new(frame: Frame) -> Self {
        Self(Grid::new(frame))
    }
    pub fn add(&mut self, a: Spot, b: Spot, weight: f64) {
        // What lies outside the window is of no matter, however long.
        let Some((a, b)) = self.0.frame.clipped(a, b) else { return };
        let count = (a.distance(b) / PIECE).ceil().clamp(1.0, 1000.0);
        let mut n = 0.0;
        while n < count {
            let (from, to) = (a.toward(b, n / count), a.toward(b, (n + 1.0) / count));
            if let Some(strip) = Slab::strip(from, to, 0.0) {
                self.0.add_once(strip, weight);
            }
            n += 1.0;
        }
    }
    /// What covering all lines in a box costs.
    pub fn cost(&self, slab: &Slab) -> f64 {
        let bounds = slab.bounds().grown(PIECE / 2.0);
        let middle = |strip: &Slab| Frame::around(strip.centre, 0.0, 0.0);
        let near = self.0.near(&bounds).filter(|(strip, _)| bounds.holds(&middle(strip)));
        let pieces = near.map(|(strip, weight)| {
            let (ux, uy) = strip.along;
            let end = |by: f64| strip.centre.plus(ux * by, uy * by);
            slab.covered(end(-strip.half.0), end(strip.half.0)) * weight
        });
        pieces.sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_aslant_meet_where_they_share_ground() {
        let half = std::f64::consts::FRAC_1_SQRT_2;
        let aslant = Slab { centre: spot(0.0, 0.0), along: (half, half), half: (10.0, 1.0) };
        // Its upright bounds reach to 7.8 each way; the corner of them is far from it.
        assert!(aslant.bounds().holds(&Frame::around(spot(6.0, -6.0), 1.0, 1.0)));
        assert!(!aslant.meets(&Slab::upright(spot(6.0, -6.0), 1.0, 1.0)));
        assert!(aslant.meets(&Slab::upright(spot(6.0, 6.0), 1.0, 1.0)));
        // A 45° box of breadth 2 reaches √2 along the axes.
        assert!(aslant.meets(&Slab::upright(spot(2.41, 0.0), 1.0, 0.01)));
        assert!(!aslant.meets(&Slab::upright(spot(2.44, 0.0), 1.0, 0.01)));
    }

    #[test]
    fn a_line_is_covered_as_far_as_it_runs_in_the_box() {
        let mut lines = Lines::new(Frame::new(0.0, 0.0, 200.0, 100.0));
        lines.add(spot(-1e9, 50.0), spot(1e9, 50.0), 2.0);
        let cost = lines.cost(&Slab::upright(spot(60.0, 51.0), 8.0, 2.0));
        assert!((cost - 32.0).abs() < 1e-9, "16 mm at 2 each: {cost}");
        assert!(lines.cost(&Slab::upright(spot(60.0, 53.0), 8.0, 2.0)) < 1e-9);
    }
}
