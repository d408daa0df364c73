//! Contours as a drafter draws them: through the places worked out between readings, their corners rounded.
//!
//! Each corner is cut at equal distances before and behind it and bridged by a parabola, which stays in the triangle
//! of both cuts and the corner (a quadratic Bézier curve lies in the hull of its three places). A corner whose
//! triangle would hold a reading, or whose curve would meet another line or a building's wall, is cut shorter, at
//! worst not at all: lines at the places worked out never meet. So each reading stays on its side of every line, and
//! no line leaves the triangulation's by more than half of [`CUT`].

use crate::levels::{Contour, Surface};
use crate::plan::{Ground, Plan, built};
use crate::units::{Length, PlanPoint, sort_by};

/// How far before and behind a corner its curve begins at most, metres: a third of how far a reading tells of the
/// ground (`levels::FAR`), our choice.
const CUT: f64 = 1.5;
/// Straight pieces of a curve: enough that the eye sees none.
const PIECES: u32 = 6;
/// Times a cut is halved before it is given up.
const HALVED: u32 = 4;

type Pair = (f64, f64);

/// One line of a contour.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    pub height: Length,
    pub index: bool,
    pub places: Vec<PlanPoint>,
}

/// All lines of a ground, as they are drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Contours {
    pub lines: Vec<Line>,
    /// Whether a line round a single reading was left out, since that does not bear it out.
    pub left_out: bool,
}

impl Contours {
    pub fn of(ground: &Ground, plan: &Plan) -> Self {
        let (Ok(surface), Some(interval)) = (&ground.surface, ground.interval) else {
            return Self::default();
        };
        smooth(&ground.contours, (surface, interval), &built(plan))
    }
}

/// The lines to draw, smooth; none crosses one of the `walls`.
fn smooth(
    contours: &[Contour],
    (surface, interval): (&Surface, Length),
    walls: &[Vec<PlanPoint>],
) -> Contours {
    let mut bends: Vec<Bends> = Vec::new();
    let mut lines: Vec<Line> = Vec::new();
    let mut left_out = false;
    for contour in contours {
        for line in &contour.lines {
            if is_borne_out(line, surface, interval) {
                bends.push(Bends::of(line));
                lines.push(Line { height: contour.height, index: contour.index, places: Vec::new() });
            } else {
                left_out = true;
            }
        }
    }
    let spots: Vec<Pair> = surface.spots.iter().map(|spot| spot.at.metres()).collect();
    clear_spots(&mut bends, &spots);
    let walls: Vec<(Pair, Pair)> = walls.iter().flat_map(|wall| ring(wall)).collect();
    // Each round halves or ends some cut.
    while part(&mut bends, &walls) {}
    for (line, bends) in lines.iter_mut().zip(&bends) {
        line.places = bends.places().into_iter().map(|(x, y)| PlanPoint::from_metres(x, y)).collect();
    }
    Contours { lines, left_out }
}

/// Whether a line is more than chance: one that goes round a single reading is drawn where that stands out from all
/// its neighbours by half the interval at least. A contour may be wrong by so much (United States National Map
/// Accuracy Standards, 1947: nine tenths of heights within half the interval), so a lesser summit may be none.
fn is_borne_out(line: &[PlanPoint], surface: &Surface, interval: Length) -> bool {
    if line.len() < 4 || line.first() != line.last() {
        return true;
    }
    let outline: Vec<Pair> = line.iter().map(|at| at.metres()).collect();
    let mut within = surface
        .spots
        .iter()
        .enumerate()
        .filter(|(_, spot)| holds(&outline, spot.at.metres()))
        .map(|(n, _)| n);
    let (Some(only), None) = (within.next(), within.next()) else { return true };
    let height = |n: usize| surface.spots.get(n).map_or(f64::NAN, |spot| spot.height.metres());
    let around = surface.triangles.iter().filter(|corners| corners.contains(&only)).flatten();
    let off = around.filter(|n| **n != only).map(|n| (height(*n) - height(only)).abs());
    off.fold(f64::INFINITY, f64::min) >= interval.metres() / 2.0
}

/// A line with how far each of its corners is cut.
struct Bends {
    /// Without the last place of a closed line, which is the first again.
    at: Vec<Pair>,
    closed: bool,
    /// Metres along both legs; nought at an open line's ends.
    cut: Vec<f64>,
    /// How often each was halved.
    halved: Vec<u32>,
}

impl Bends {
    fn of(line: &[PlanPoint]) -> Self {
        let mut at: Vec<Pair> = line.iter().map(|place| place.metres()).collect();
        let closed = at.len() > 3 && at.first() == at.last();
        if closed {
            at.pop();
        }
        let mut own = Self { cut: vec![0.0; at.len()], halved: vec![0; at.len()], at, closed };
        for n in 0..own.at.len() {
            let reach = own.corner(n).map_or(0.0, |(a, b, c)| long(a, b).min(long(b, c)) / 2.0);
            if let Some(cut) = own.cut.get_mut(n) {
                *cut = reach.min(CUT);
            }
        }
        own
    }

    /// The place before a corner, the corner, and the place behind it; none at an open line's ends.
    fn corner(&self, n: usize) -> Option<(Pair, Pair, Pair)> {
        let last = self.at.len().checked_sub(1)?;
        let before = if n > 0 { n - 1 } else { last };
        let after = if n < last { n + 1 } else { 0 };
        let inner = self.closed || (n > 0 && n < last);
        inner.then(|| Some((*self.at.get(before)?, *self.at.get(n)?, *self.at.get(after)?)))?
    }

    /// The triangle a corner's curve lies in: where it begins, the corner, and where it ends.
    fn triangle(&self, n: usize) -> Option<(Pair, Pair, Pair)> {
        let cut = self.cut.get(n).copied().filter(|cut| *cut > 0.0)?;
        let (a, b, c) = self.corner(n)?;
        Some((toward(b, a, cut), b, toward(b, c, cut)))
    }

    fn shorten(&mut self, n: usize) {
        if let (Some(cut), Some(times)) = (self.cut.get_mut(n), self.halved.get_mut(n)) {
            *times += 1;
            *cut = if *times > HALVED { 0.0 } else { *cut / 2.0 };
        }
    }

    /// The places of one corner, on its curve.
    fn curve(&self, n: usize) -> Vec<Pair> {
        let Some((a, b, c)) = self.triangle(n) else { return self.at.get(n).copied().into_iter().collect() };
        let at = |step: u32| {
            let t = f64::from(step) / f64::from(PIECES);
            let (u, v, w) = ((1.0 - t) * (1.0 - t), 2.0 * t * (1.0 - t), t * t);
            (u * a.0 + v * b.0 + w * c.0, u * a.1 + v * b.1 + w * c.1)
        };
        (0..=PIECES).map(at).collect()
    }

    fn places(&self) -> Vec<Pair> {
        let mut all: Vec<Pair> = (0..self.at.len()).flat_map(|n| self.curve(n)).collect();
        if self.closed {
            all.extend(all.first().copied());
        }
        all
    }

    /// The pieces of its curves with their corners' numbers, and the straight ones between.
    fn pieces(&self) -> Vec<(Pair, Pair, Option<usize>)> {
        let curves: Vec<Vec<Pair>> = (0..self.at.len()).map(|n| self.curve(n)).collect();
        let mut all = Vec::new();
        for (n, curve) in curves.iter().enumerate() {
            all.extend(curve.iter().zip(curve.iter().skip(1)).map(|(a, b)| (*a, *b, Some(n))));
            let next = curves.get(n + 1).or(if self.closed { curves.first() } else { None });
            if let Some((from, to)) = curve.last().zip(next.and_then(|next| next.first())) {
                all.push((*from, *to, None));
            }
        }
        all
    }
}

/// Cuts corners shorter until no reading lies between a line as worked out and as drawn.
fn clear_spots(bends: &mut [Bends], spots: &[Pair]) {
    for own in bends {
        for n in 0..own.at.len() {
            while let Some((a, b, c)) = own.triangle(n) {
                if !spots.iter().any(|spot| holds(&[a, b, c], *spot)) {
                    break;
                }
                own.shorten(n);
            }
        }
    }
}

/// A piece of a line or a wall: its ends, and the line and the corner it is of.
struct Piece {
    ends: (Pair, Pair),
    line: Option<usize>,
    corner: Option<usize>,
}

impl Piece {
    fn reach(&self) -> (f64, f64) {
        let ((ax, _), (bx, _)) = self.ends;
        (ax.min(bx), ax.max(bx))
    }
}

/// Cuts the corners shorter where lines meet each other or a wall; whether there were any.
fn part(bends: &mut [Bends], walls: &[(Pair, Pair)]) -> bool {
    let mut all: Vec<Piece> =
        walls.iter().map(|ends| Piece { ends: *ends, line: None, corner: None }).collect();
    for (line, own) in bends.iter().enumerate() {
        let pieces = own.pieces().into_iter();
        all.extend(pieces.map(|(a, b, corner)| Piece { ends: (a, b), line: Some(line), corner }));
    }
    sort_by(&mut all, |a, b| a.reach().0.total_cmp(&b.reach().0));
    let mut meeting: Vec<(usize, usize)> = Vec::new();
    for (n, a) in all.iter().enumerate() {
        let right = a.reach().1;
        for b in all.iter().skip(n + 1).take_while(|b| b.reach().0 <= right) {
            // Straight pieces lie on lines that never meet; the pieces of one corner follow each other.
            let curved = a.corner.is_some() || b.corner.is_some();
            let same = a.line.is_some() && a.line == b.line && a.corner == b.corner;
            if curved && !same && cross(a.ends, b.ends) {
                let corners = [a, b].into_iter().filter_map(|piece| piece.line.zip(piece.corner));
                meeting.extend(corners);
            }
        }
    }
    sort_by(&mut meeting, Ord::cmp);
    meeting.dedup();
    for (line, corner) in &meeting {
        if let Some(own) = bends.get_mut(*line) {
            own.shorten(*corner);
        }
    }
    !meeting.is_empty()
}

/// The sides of a closed outline.
fn ring(outline: &[PlanPoint]) -> Vec<(Pair, Pair)> {
    let next = outline.iter().cycle().skip(1);
    outline.iter().zip(next).map(|(a, b)| (a.metres(), b.metres())).collect()
}

/// Whether two pieces cross, not only touch.
fn cross((a, b): (Pair, Pair), (c, d): (Pair, Pair)) -> bool {
    let side = |p: Pair, q: Pair, r: Pair| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// Whether a place lies in an outline (even-odd rule).
fn holds(outline: &[Pair], at: Pair) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crossed = outline.iter().zip(next).filter(|(a, b)| {
        (a.1 > at.1) != (b.1 > at.1) && at.0 < a.0 + (at.1 - a.1) / (b.1 - a.1) * (b.0 - a.0)
    });
    crossed.count() % 2 == 1
}

fn long(a: Pair, b: Pair) -> f64 {
    PlanPoint::from_metres(a.0, a.1).distance(PlanPoint::from_metres(b.0, b.1)).metres()
}

/// So far from one place toward another.
fn toward(from: Pair, to: Pair, by: f64) -> Pair {
    let share = by / long(from, to).max(1e-12);
    (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::levels::Spot;
    use crate::units::float::sin;

    fn surface(spots: &[(f64, f64, f64)]) -> Surface {
        let spot = |(x, y, z): &(f64, f64, f64)| Spot {
            at: PlanPoint::from_metres(*x, *y),
            height: Length::from_metres(*z),
        };
        Surface::new(&spots.iter().map(spot).collect::<Vec<_>>(), &[], &[]).unwrap()
    }

    fn drawn(surface: &Surface, interval: f64) -> Contours {
        let interval = Length::from_metres(interval);
        smooth(&surface.contours(interval), (surface, interval), &[])
    }

    /// Of an even slope around it, a middle reading so much higher than all its neighbours.
    fn mound(by: f64) -> Surface {
        let mut spots = vec![(5.0, 5.0, 1.25 + by)];
        for (x, y) in [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)] {
            spots.push((x, y, 1.25));
        }
        surface(&spots)
    }

    #[test]
    fn a_line_round_one_reading_needs_a_summit_of_half_an_interval() {
        // Both have the line at 1.3 round the middle; half an interval is 0.05.
        let summit = drawn(&mound(0.06), 0.1);
        assert_eq!((summit.lines.len(), summit.left_out), (1, false));
        assert_eq!(summit.lines[0].places.first(), summit.lines[0].places.last());
        let mut spots = vec![(5.0, 5.0, 1.32)];
        spots.extend([(0.0, 0.0, 1.29), (10.0, 0.0, 1.22), (10.0, 10.0, 1.22), (0.0, 10.0, 1.22)]);
        let lesser = drawn(&surface(&spots), 0.1);
        assert_eq!((lesser.lines.len(), lesser.left_out), (0, true));
    }

    /// By hand: 1.5 is 7/12 of the way from the middle (1.85) to each corner (1.25), so the line as worked out is a
    /// square of 35/12 m to each side of the middle. A curve of cuts of 1.5 m leaves its corner by 3/8 m each way.
    #[test]
    fn corners_are_round_and_true_to_what_was_worked_out() {
        let drawn = drawn(&mound(0.6), 0.5);
        let places: Vec<Pair> = drawn.lines[0].places.iter().map(|at| at.metres()).collect();
        let side = 35.0 / 12.0;
        let off: Vec<f64> = places.iter().map(|(x, y)| (x - 5.0).abs().max((y - 5.0).abs())).collect();
        assert!(off.iter().all(|off| (side - 0.3751..side + 1e-9).contains(off)), "{off:?}");
        let turn = |w: &[Pair]| {
            let (u, v) = ((w[1].0 - w[0].0, w[1].1 - w[0].1), (w[2].0 - w[1].0, w[2].1 - w[1].1));
            (u.0 * v.0 + u.1 * v.1) / (long(w[0], w[1]) * long(w[1], w[2]))
        };
        let sharpest = places.windows(3).map(turn).fold(1.0, f64::min);
        assert!(sharpest > 0.9, "cosine of the sharpest turn: {sharpest}");
    }

    /// Sixty readings on waves, contours so close that full cuts would meet.
    #[test]
    fn no_line_crosses_another_or_leaves_a_reading_on_its_wrong_side() {
        let mut spots = Vec::new();
        for n in 0..60_u32 {
            let (u, v) = (f64::from(n * 37 % 61) / 61.0, f64::from(n * 23 % 59) / 59.0);
            let (x, y) = (20.0 * u, 20.0 * v);
            spots.push((x, y, sin(0.7 * x) + sin(0.9 * y) + 0.1 * x));
        }
        let ground = surface(&spots);
        let lines = drawn(&ground, 0.05).lines;
        assert!(lines.len() > 60, "{}", lines.len());
        let mut pieces = Vec::new();
        for (n, line) in lines.iter().enumerate() {
            let at: Vec<Pair> = line.places.iter().map(|at| at.metres()).collect();
            pieces.extend(at.windows(2).map(|w| (n, (w[0], w[1]))));
        }
        let met = pieces.iter().enumerate().flat_map(|(n, a)| pieces.iter().skip(n + 1).map(move |b| (a, b)));
        let met = met.filter(|((n, a), (m, b))| n != m && cross(*a, *b)).count();
        assert_eq!(met, 0);
        let rounded = lines.iter().filter(|line| line.places.len() > 30).count();
        assert!(rounded > 20, "{rounded} lines with curves");
        // Even-odd over the closed ones: what is inside as worked out is inside as drawn.
        let raw: Vec<Vec<PlanPoint>> =
            ground.contours(Length::from_metres(0.05)).into_iter().flat_map(|c| c.lines).collect();
        let closed = |all: &[PlanPoint]| all.len() > 3 && all.first() == all.last();
        let inside =
            |all: &[PlanPoint], at: Pair| holds(&all.iter().map(|at| at.metres()).collect::<Vec<_>>(), at);
        let mut judged = 0;
        for line in lines.iter().filter(|line| closed(&line.places)) {
            let same = |own: &&Vec<PlanPoint>| {
                closed(own)
                    && own.iter().any(|at| line.places.iter().any(|p| p.distance(*at).metres() < CUT / 2.0))
            };
            // The one that holds as many readings of the same.
            let held =
                |all: &[PlanPoint]| ground.spots.iter().filter(|spot| inside(all, spot.at.metres())).count();
            assert!(raw.iter().filter(same).any(|own| held(own) == held(&line.places)));
            judged += 1;
        }
        assert!(judged > 5, "{judged} closed lines");
    }
}
