//! Plane geometry on the paper: millimetres from the sheet's upper left corner, y downwards.

use crate::units::float;

/// A place on the sheet, millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Spot {
    pub x: f64,
    pub y: f64,
}

pub(super) const fn spot(x: f64, y: f64) -> Spot {
    Spot { x, y }
}

impl Spot {
    pub fn plus(self, dx: f64, dy: f64) -> Self {
        spot(self.x + dx, self.y + dy)
    }
    pub fn toward(self, other: Self, share: f64) -> Self {
        spot(self.x + (other.x - self.x) * share, self.y + (other.y - self.y) * share)
    }
    pub fn distance(self, other: Self) -> f64 {
        float::hypot(other.x - self.x, other.y - self.y)
    }
    /// Unit vector to another place and the distance; none when they coincide.
    pub fn direction(self, other: Self) -> Option<(f64, f64, f64)> {
        let length = self.distance(other);
        (length > 1e-9).then(|| ((other.x - self.x) / length, (other.y - self.y) / length, length))
    }
}

/// An upright box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    pub x0: f64,
    pub y0: f64,
    pub x1: f64,
    pub y1: f64,
}

impl Frame {
    pub const fn new(x0: f64, y0: f64, x1: f64, y1: f64) -> Self {
        Self { x0, y0, x1, y1 }
    }
    pub fn around(centre: Spot, half_width: f64, half_height: f64) -> Self {
        Self::new(
            centre.x - half_width,
            centre.y - half_height,
            centre.x + half_width,
            centre.y + half_height,
        )
    }
    pub fn width(&self) -> f64 {
        self.x1 - self.x0
    }
    pub fn height(&self) -> f64 {
        self.y1 - self.y0
    }
    pub fn centre(&self) -> Spot {
        spot(f64::midpoint(self.x0, self.x1), f64::midpoint(self.y0, self.y1))
    }
    pub fn grown(&self, by: f64) -> Self {
        Self::new(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)
    }
    /// The same elsewhere: `by` goes to where the corner of the sheet was.
    pub fn moved(&self, by: Spot) -> Self {
        Self::new(self.x0 + by.x, self.y0 + by.y, self.x1 + by.x, self.y1 + by.y)
    }
    pub fn holds(&self, other: &Self) -> bool {
        self.x0 <= other.x0 && self.y0 <= other.y0 && self.x1 >= other.x1 && self.y1 >= other.y1
    }
    /// Whether the boxes touch.
    pub fn meets(&self, other: &Self) -> bool {
        self.x0 <= other.x1 && self.x1 >= other.x0 && self.y0 <= other.y1 && self.y1 >= other.y0
    }
    pub fn corners(&self) -> [Spot; 4] {
        [spot(self.x0, self.y0), spot(self.x1, self.y0), spot(self.x1, self.y1), spot(self.x0, self.y1)]
    }
    /// Area shared with another box.
    pub fn overlap(&self, other: &Self) -> f64 {
        let w = self.x1.min(other.x1) - self.x0.max(other.x0);
        let h = self.y1.min(other.y1) - self.y0.max(other.y0);
        if w > 0.0 && h > 0.0 { w * h } else { 0.0 }
    }
    /// Length of a segment's part inside the box.
    pub fn covered(&self, a: Spot, b: Spot) -> f64 {
        self.clipped(a, b).map_or(0.0, |(from, to)| from.distance(to))
    }
    /// How far another box lies beside it, and above or below, mm.
    pub fn apart(&self, other: &Self) -> (f64, f64) {
        let x = (self.x0 - other.x1).max(other.x0 - self.x1).max(0.0);
        (x, (self.y0 - other.y1).max(other.y0 - self.y1).max(0.0))
    }
    /// A segment's part inside the box (Liang and Barsky's clipping).
    pub fn clipped(&self, a: Spot, b: Spot) -> Option<(Spot, Spot)> {
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (p, q) in [(-dx, a.x - self.x0), (dx, self.x1 - a.x), (-dy, a.y - self.y0), (dy, self.y1 - a.y)] {
            if p.abs() < 1e-12 {
                if q < 0.0 {
                    return None;
                }
            } else if p < 0.0 {
                from = from.max(q / p);
            } else {
                to = to.min(q / p);
            }
        }
        (from < to).then(|| (a.toward(b, from), a.toward(b, to)))
    }
    pub fn extend(&mut self, at: Spot) {
        self.x0 = self.x0.min(at.x);
        self.y0 = self.y0.min(at.y);
        self.x1 = self.x1.max(at.x);
        self.y1 = self.y1.max(at.y);
    }
}

/// The sides of an open or closed line.
pub(super) fn sides(places: &[Spot], closed: bool) -> Vec<(Spot, Spot)> {
    each_side(places, closed).collect()
}

fn each_side(places: &[Spot], closed: bool) -> impl Iterator<Item = (Spot, Spot)> {
    let last =
        if closed && places.len() > 2 { places.last().copied().zip(places.first().copied()) } else { None };
    places.iter().copied().zip(places.iter().copied().skip(1)).chain(last)
}

/// Twice the signed area (shoelace); positive when clockwise on the sheet.
fn doubled_area(outline: &[Spot]) -> f64 {
    each_side(outline, true).map(|(a, b)| a.x * b.y - b.x * a.y).sum()
}

/// Whether the outline runs clockwise as seen on the sheet.
pub(super) fn clockwise(outline: &[Spot]) -> bool {
    doubled_area(outline) > 0.0
}

/// Whether the place lies inside the outline (even-odd rule).
pub(super) fn inside(outline: &[Spot], at: Spot) -> bool {
    let crossings = each_side(outline, true).filter(|(a, b)| {
        (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossings.count() % 2 == 1
}

/// Half the width of a label or so, mm.
const BESIDE: f64 = 4.0;

/// The direction from a place on or near an outline to where it is open; none far inside or outside.
pub(super) fn outward(outline: &[Spot], at: Spot) -> Option<(f64, f64)> {
    // So far off, none of the places below lies inside: most outlines are left by this.
    let near = BESIDE * 1.01;
    let beyond = |side: fn(&Spot) -> f64, here: f64| {
        outline.iter().all(|corner| side(corner) > here + near)
            || outline.iter().all(|corner| side(corner) < here - near)
    };
    if beyond(|corner| corner.x, at.x) || beyond(|corner| corner.y, at.y) {
        return None;
    }
    let (mut sum, mut indoors) = (Spot::default(), false);
    for n in 0..24_u32 {
        let angle = std::f64::consts::TAU * (f64::from(n) + 0.5) / 24.0;
        let (ux, uy) = (float::cos(angle), float::sin(angle));
        if inside(outline, at.plus(ux * BESIDE, uy * BESIDE)) {
            indoors = true;
        } else {
            sum = sum.plus(ux, uy);
        }
    }
    let (ux, uy, long) = Spot::default().direction(sum)?;
    // Where it is open all around, or nowhere, the sum is next to nothing.
    (indoors && long > 0.5).then_some((ux, uy))
}

/// A place well inside an outline: the middle of the longest horizontal stretch through it, which
/// unlike the centroid is never outside an L.
pub(super) fn inner_place(outline: &[Spot]) -> Option<Spot> {
    let mut best: Option<(f64, Spot)> = None;
    let low = outline.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let high = outline.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
    // The middle rows first: they win ties.
    for share in [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82] {
        let y = low + (high - low) * share;
        for (from, to) in stretches(outline, y) {
            if best.is_none_or(|(length, _)| to - from > length * 1.15) {
                best = Some((to - from, spot(f64::midpoint(from, to), y)));
            }
        }
    }
    best.map(|(_, at)| at)
}

/// The stretches of the horizontal line at `y` that lie inside the outline.
fn stretches(outline: &[Spot], y: f64) -> Vec<(f64, f64)> {
    let mut cuts: Vec<f64> = sides(outline, true)
        .into_iter()
        .filter(|(a, b)| (a.y > y) != (b.y > y))
        .map(|(a, b)| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
        .collect();
    cuts.sort_by(f64::total_cmp);
    cuts.chunks_exact(2).filter_map(|pair| Some((*pair.first()?, *pair.last()?))).collect()
}

/// Hatch lines at an angle (radians, clockwise on the sheet) inside an outline, `step` apart.
pub(super) fn hatch(outline: &[Spot], angle: f64, step: f64) -> Vec<(Spot, Spot)> {
    let (s, c) = (float::sin(angle), float::cos(angle));
    let turned: Vec<Spot> = outline.iter().map(|p| spot(p.x * c + p.y * s, p.y * c - p.x * s)).collect();
    let back = |x: f64, y: f64| spot(x * c - y * s, x * s + y * c);
    let low = turned.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let high = turned.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
    let mut lines = Vec::new();
    let mut y = (low / step).ceil() * step;
    // A survey gone astray could ask for millions of lines; a sheet never needs more than this.
    while y < high && lines.len() < 4000 {
        lines.extend(stretches(&turned, y).into_iter().map(|(from, to)| (back(from, y), back(to, y))));
        y += step;
    }
    lines
}

/// Places along a line every `step`, centred on its length, at least one, with the direction there.
pub(super) fn along(places: &[Spot], closed: bool, step: f64) -> Vec<(Spot, f64, f64)> {
    let sides = sides(places, closed);
    let total: f64 = sides.iter().map(|(a, b)| a.distance(*b)).sum();
    if total < 1e-6 {
        return Vec::new();
    }
    let count = (total / step).floor().clamp(1.0, 2000.0);
    let gap = total / count;
    let mut marks = Vec::new();
    let (mut walked, mut next) = (0.0, gap / 2.0);
    for (a, b) in sides {
        let Some((ux, uy, length)) = a.direction(b) else { continue };
        while next <= walked + length && next < total {
            marks.push((a.plus(ux * (next - walked), uy * (next - walked)), ux, uy));
            next += gap;
        }
        walked += length;
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An L of 10 × 10 with a 6 × 6 notch: area 64 by hand.
    const L: [Spot; 6] =
        [spot(0.0, 0.0), spot(4.0, 0.0), spot(4.0, 6.0), spot(10.0, 6.0), spot(10.0, 10.0), spot(0.0, 10.0)];

    #[test]
    fn hatch_covers_the_outline_and_nothing_else() {
        // Lines a step apart, times the step, approach the area (Cavalieri).
        for angle in [0.0, 0.7, -std::f64::consts::FRAC_PI_4] {
            let lines = hatch(&L, angle, 0.01);
            let covered: f64 = lines.iter().map(|(a, b)| a.distance(*b) * 0.01).sum();
            assert!((covered - 64.0).abs() < 0.3, "{covered}");
            assert!(lines.iter().all(|(a, b)| inside(&L, a.toward(*b, 0.5))));
        }
    }

    #[test]
    fn the_inner_place_of_an_l_is_inside_it() {
        let at = inner_place(&L).unwrap();
        assert!(inside(&L, at));
        assert!(!inside(&L, spot(7.0, 3.0)), "the notch is outside");
    }

    /// By hand: a wall's way out is square to it, that of corners goes halfway between both walls.
    #[test]
    fn outward_is_where_the_house_is_not() {
        let half = std::f64::consts::FRAC_1_SQRT_2;
        let places = [
            (spot(0.0, 5.0), (-1.0, 0.0)),
            (spot(0.0, 0.0), (-half, -half)),
            (spot(4.0, 6.0), (half, -half)),
        ];
        for (at, (x, y)) in places {
            let (ux, uy) = outward(&L, at).unwrap();
            assert!((ux * x + uy * y) > 0.97, "{at:?} goes {ux}, {uy}");
        }
        assert_eq!(outward(&L, spot(40.0, 5.0)), None, "far outside");
        let large = L.map(|at| spot(at.x * 10.0, at.y * 10.0));
        assert_eq!(outward(&large, spot(20.0, 50.0)), None, "far inside");
    }

    #[test]
    fn covered_length_is_what_lies_in_the_box() {
        let frame = Frame::new(0.0, 0.0, 4.0, 3.0);
        assert!((frame.covered(spot(-2.0, 1.0), spot(9.0, 1.0)) - 4.0).abs() < 1e-12);
        assert!((frame.covered(spot(0.0, 0.0), spot(4.0, 3.0)) - 5.0).abs() < 1e-12);
        assert!(frame.covered(spot(5.0, -1.0), spot(5.0, 9.0)).abs() < 1e-12);
    }

    #[test]
    fn marks_along_a_line_are_even_and_start_half_a_step_in() {
        let line = [spot(0.0, 0.0), spot(10.0, 0.0), spot(10.0, 10.0)];
        let at: Vec<Spot> = along(&line, false, 5.0).into_iter().map(|(at, ..)| at).collect();
        assert_eq!(at, [spot(2.5, 0.0), spot(7.5, 0.0), spot(10.0, 2.5), spot(10.0, 7.5)]);
    }
}
