//! Lines of equal height.

use super::Surface;
use crate::units::{Length, PlanPoint};
use std::collections::BTreeMap;

/// Contours of one surface at most: an interval a thousandth of the relief is a slip, not a wish.
const MOST: f64 = 1000.0;

/// What is near to readings and what is far is told apart in pieces of this length (metres), our choice.
const PIECE: f64 = 0.5;

/// All lines of one height.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// Above the datum.
    pub height: Length,
    /// Every fifth, drawn heavier and labelled.
    pub index: bool,
    /// Its lines, higher ground to the left; a closed one ends where it begins.
    pub lines: Vec<Vec<PlanPoint>>,
}

impl Surface {
    /// Contours at whole multiples of the interval; none where it is not above zero, or far too fine.
    #[must_use]
    pub fn contours(&self, interval: Length) -> Vec<Contour> {
        let heights = || self.spots.iter().map(|s| s.height.metres());
        let (low, high) =
            heights().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(z), h.max(z)));
        let step = interval.metres();
        if !(step > 0.0 && (high - low) / step < MOST) {
            return Vec::new();
        }
        let (first, last) = ((low / step).floor(), (high / step).ceil());
        let mut all = Vec::new();
        let mut n = first;
        while n <= last {
            let lines = self.level(n * step);
            if !lines.is_empty() {
                all.push(Contour { height: Length::from_metres(n * step), index: n % 5.0 == 0.0, lines });
            }
            n += 1.0;
        }
        all
    }

    /// A line in runs, each near to readings or, where true, far from them: what is drawn there is a guess.
    #[must_use]
    pub fn near_and_far(&self, line: &[PlanPoint]) -> Vec<(Vec<PlanPoint>, bool)> {
        let mut runs: Vec<(Vec<PlanPoint>, bool)> = Vec::new();
        for (a, b) in line.iter().zip(line.iter().skip(1)) {
            let ((ax, ay), (bx, by)) = (a.metres(), b.metres());
            let at = |share: f64| PlanPoint::from_metres(ax + (bx - ax) * share, ay + (by - ay) * share);
            let pieces = (a.distance(*b).metres() / PIECE).ceil().clamp(1.0, 1000.0);
            let mut n = 0.0;
            while n < pieces {
                let middle = at((n + 0.5) / pieces);
                let far = self.is_guess_at(middle);
                let first = n < 1.0;
                n += 1.0;
                let end = if n < pieces { at(n / pieces) } else { *b };
                match runs.last_mut().filter(|(_, known)| *known == far) {
                    // One straight piece goes on from another.
                    Some((run, _)) => {
                        if !first {
                            run.pop();
                        }
                        run.push(end);
                    }
                    None => {
                        let start = runs.last().and_then(|(run, _)| run.last()).copied().unwrap_or(*a);
                        runs.push((vec![start, end], far));
                    }
                }
            }
        }
        runs
    }

    /// The lines at one height. A corner exactly as high counts as above, so that each triangle has two crossed
    /// sides or none, and lines meet without gaps.
    fn level(&self, height: f64) -> Vec<Vec<PlanPoint>> {
        // From each crossed side to the next, higher ground on the left.
        let mut next: BTreeMap<Side, Side> = BTreeMap::new();
        let above = |c: usize| self.corner(c)[2] >= height;
        for corners in &self.triangles {
            let sides = (0..3).map(|i| (corners[i], corners[(i + 1) % 3]));
            let (mut up, mut down) = (None, None);
            for (a, b) in sides {
                match (above(a), above(b)) {
                    (false, true) => up = Some(Side::of(a, b)),
                    (true, false) => down = Some(Side::of(a, b)),
                    _ => {}
                }
            }
            if let Some((up, down)) = up.zip(down) {
                next.insert(down, up);
            }
        }
        let mut lines = Vec::new();
        let targets: Vec<Side> = next.values().copied().collect();
        let mut ends: Vec<Side> = next.keys().filter(|side| !targets.contains(side)).copied().collect();
        // Open lines from their beginnings, then what is left: closed ones.
        while let Some(start) = ends.pop().or_else(|| next.keys().next().copied()) {
            let (mut line, mut side) = (vec![self.crossing(start, height)], start);
            while let Some(on) = next.remove(&side) {
                line.push(self.crossing(on, height));
                side = on;
            }
            if line.len() > 1 {
                lines.push(line);
            }
        }
        lines
    }

    /// Where a side has this height.
    fn crossing(&self, Side(a, b): Side, height: f64) -> PlanPoint {
        let (a, b) = (self.corner(a), self.corner(b));
        let t = ((height - a[2]) / (b[2] - a[2])).clamp(0.0, 1.0);
        PlanPoint::from_metres(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
    }
}

/// A side of a triangle, smaller number first: the same from both triangles.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Side(usize, usize);

impl Side {
    fn of(a: usize, b: usize) -> Self {
        Self(a.min(b), a.max(b))
    }
}
