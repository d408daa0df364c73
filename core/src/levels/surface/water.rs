//! Where water stands: low points without an outlet, how deep it gets before it runs over, and whose ground
//! drains there.
//!
//! On a triangulated surface whatever lies below a height hangs together exactly as its corners do, so passes and
//! pits are found among the corners alone. Heights at which water leaves are found by flooding from the rim inwards,
//! lowest first (L. Wang and H. Liu, Int. J. Geographical Information Science 20 (2006) 193–213, for grids).

use super::{Surface, steepness};
use crate::units::{Area, Length, PlanPoint};
use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

/// A hollow shallower than this (metres) is within what a level reads: 1/2 in.
const SHALLOW: f64 = 0.0127;

/// A hollow that no water leaves before it runs over.
#[derive(Clone, Debug, PartialEq)]
pub struct LowPoint {
    /// Its lowest spot, by number.
    pub spot: usize,
    /// Where that is.
    pub at: PlanPoint,
    /// Height of its bottom.
    pub height: Length,
    /// Height at which it runs over.
    pub spills: Length,
    /// Where it runs over.
    pub over: PlanPoint,
    /// Ground that drains to it, by the steepest way down from each spot, which stands for a third of each triangle
    /// it is a corner of.
    pub catchment: Area,
}

impl LowPoint {
    /// How deep water stands in it at most.
    #[must_use]
    pub fn depth(&self) -> Length {
        self.spills - self.height
    }
}

/// A corner waiting to be flooded, lowest first; the number settles ties.
#[derive(PartialEq)]
struct Waiting(f64, usize);

impl Eq for Waiting {}
impl PartialOrd for Waiting {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Waiting {
    fn cmp(&self, other: &Self) -> Ordering {
        self.0.total_cmp(&other.0).then(self.1.cmp(&other.1))
    }
}

impl Surface {
    /// Hollows inside the rim, deepest first. What lies beyond the rim is not known: water that reaches it is taken
    /// to leave. A building's outline is no way out.
    #[must_use]
    pub fn low_points(&self) -> Vec<LowPoint> {
        let near = self.neighbours();
        let height = |c: usize| self.corner(c)[2];
        // Height at which water at each corner leaves, and over which corner.
        let mut leaves: Vec<Option<(f64, usize)>> = vec![None; self.spots.len()];
        let mut queue = BinaryHeap::new();
        let rim = (0..self.spots.len()).filter(|c| self.rim[*c] && !near[*c].is_empty());
        for c in rim {
            leaves[c] = Some((height(c), c));
            queue.push(Reverse(Waiting(height(c), c)));
        }
        while let Some(Reverse(Waiting(level, c))) = queue.pop() {
            let over = leaves[c].map_or(c, |(_, over)| over);
            for &next in &near[c] {
                if leaves[next].is_none() {
                    let (out, at) = if height(next) >= level { (height(next), next) } else { (level, over) };
                    leaves[next] = Some((out, at));
                    queue.push(Reverse(Waiting(out, next)));
                }
            }
        }
        let drains = self.drains(&near);
        let mut found: Vec<LowPoint> = Vec::new();
        for c in 0..self.spots.len() {
            let Some((out, over)) = leaves[c] else { continue };
            if drains[c] != c || out - height(c) < SHALLOW {
                continue;
            }
            found.push(LowPoint {
                spot: c,
                at: self.spots[c].at,
                height: self.spots[c].height,
                spills: Length::from_metres(out),
                over: self.spots[over].at,
                catchment: self.catchment(&drains, c),
            });
        }
        crate::units::sort_by(&mut found, |a, b| {
            b.depth().metres().total_cmp(&a.depth().metres()).then(a.spot.cmp(&b.spot))
        });
        found
    }

    /// Whether a spot at this place is on the rim: nothing is known of the ground beyond it.
    #[must_use]
    pub fn on_rim(&self, at: PlanPoint) -> bool {
        self.spots.iter().zip(&self.rim).any(|(spot, rim)| *rim && spot.at == at)
    }

    /// To which spot water from each of these places drains in the end, by its number; none where nothing is known. A
    /// place goes with that corner of its triangle whose third it lies in, as a catchment counts it.
    #[must_use]
    pub fn drains_from(&self, places: &[PlanPoint]) -> Vec<Option<usize>> {
        let drains = self.drains(&self.neighbours());
        let to = |at: &PlanPoint| {
            let (corners, weights) = self.over(*at)?;
            let heaviest = corners.iter().zip(weights).max_by(|a, b| a.1.total_cmp(&b.1))?;
            drains.get(*heaviest.0).copied()
        };
        places.iter().map(to).collect()
    }

    /// For each corner those it shares a side with.
    fn neighbours(&self) -> Vec<Vec<usize>> {
        let mut near: Vec<Vec<usize>> = vec![Vec::new(); self.spots.len()];
        for corners in &self.triangles {
            for (i, &a) in corners.iter().enumerate() {
                for &b in corners.iter().skip(i + 1) {
                    if !near[a].contains(&b) {
                        near[a].push(b);
                        near[b].push(a);
                    }
                }
            }
        }
        near
    }

    /// To which corner each drains in the end: by the steepest way down from corner to corner.
    fn drains(&self, near: &[Vec<usize>]) -> Vec<usize> {
        let down = |c: usize| {
            let mut best = (0.0, c);
            for &next in &near[c] {
                let fall = steepness(self.corner(c), self.corner(next));
                if fall > best.0 {
                    best = (fall, next);
                }
            }
            best.1
        };
        // From the lowest up, so that where the next one drains is known.
        let height = |c: usize| self.corner(c)[2];
        let mut order: Vec<usize> = (0..self.spots.len()).collect();
        crate::units::sort_by(&mut order, |a, b| height(*a).total_cmp(&height(*b)).then(a.cmp(b)));
        let mut drains: Vec<Option<usize>> = vec![None; self.spots.len()];
        for &c in &order {
            if drains[c].is_some() {
                continue;
            }
            let next = down(c);
            if next != c {
                drains[c] = drains[next];
                continue;
            }
            // A level floor is one pit, or drains where one of its corners does.
            let mut floor = vec![c];
            let mut seen = 0;
            while let Some(&at) = floor.get(seen) {
                let level = near[at].iter().filter(|n| height(**n) == height(c));
                let new: Vec<usize> = level.filter(|n| !floor.contains(n)).copied().collect();
                floor.extend(new);
                seen += 1;
            }
            let way_out = floor.iter().map(|at| down(*at)).zip(&floor).find(|(next, at)| next != *at);
            let to = way_out.map_or(Some(c), |(next, _)| drains[next]);
            for at in floor.into_iter().filter(|at| down(*at) == *at) {
                drains[at] = to;
            }
        }
        drains.into_iter().enumerate().map(|(c, to)| to.unwrap_or(c)).collect()
    }

    fn catchment(&self, drains: &[usize], pit: usize) -> Area {
        let share = |corners: &[usize; 3]| {
            let mine = corners.iter().filter(|c| drains[**c] == pit).count();
            #[expect(clippy::cast_precision_loss, reason = "0 … 3")]
            let part = mine as f64 / 3.0;
            0.5 * part * self.twice_area(*corners)
        };
        Area::from_square_metres(self.triangles.iter().map(share).sum())
    }
}
