//! The ground between spot heights: a triangulation in which every reading is a corner.
//!
//! A constrained Delaunay triangulation (crate `spade`) of the spots in plan; break lines (walls, edges, kerbs,
//! steps) are sides of triangles, so that no triangle bridges them. Between its three corners the ground is taken
//! as even. Nothing is said outside the readings' hull, nor inside buildings.

#![expect(clippy::indexing_slicing, reason = "corner numbers index the spots they were made from")]

mod contours;
mod water;

#[cfg(test)]
mod tests;

pub use contours::Contour;
pub use water::LowPoint;

use super::slope::Slope;
use crate::units::float::{atan2, hypot};
use crate::units::outline::inside;
use crate::units::{Angle, Area, Length, PlanPoint, sort_by};
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

/// Spots nearer than this (metres) are one place.
const SAME_PLACE: f64 = 1e-3;
/// Of one place two heights may differ by this (metres), the finest a rod is read to.
const SAME_HEIGHT: f64 = 0.01;
/// A triangle thinner than this (height over longest side) at the rim only closes the hull: nothing lies in it.
const SLIVER: f64 = 1e-6;
/// Ground further than this from every reading is a guess: 15 ft, our choice.
pub const FAR: Length = Length::from_metres(4.572);

/// A height at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Where in the plan.
    pub at: PlanPoint,
    /// Above the datum.
    pub height: Length,
}

/// Why there is no surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoSurface {
    /// Fewer than three places.
    #[error("{}", say!("A surface needs the heights of three points at least."))]
    TooFew,
    /// All on one line.
    #[error("{}", say!("All heights lie on one line: take one beside it."))]
    InLine,
}

/// A surface with what it could not take in.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// The spots; what lay at the same place is one.
    pub spots: Vec<Spot>,
    /// Corners of the triangles, counterclockwise, by number of their spots.
    pub triangles: Vec<[usize; 3]>,
    /// Spots given at one place with two heights, by number as given: top and foot of a wall. The lower counts.
    pub upright: Vec<[usize; 2]>,
    /// Break lines, by number as given, that cross an earlier one and were left out.
    pub crossing: Vec<usize>,
    /// Whether each spot is on the rim of the hull.
    rim: Vec<bool>,
}

impl Surface {
    /// Through these spots, with sides along these break lines (pairs of spots), and nothing inside these outlines.
    ///
    /// # Errors
    /// [`NoSurface`] when the spots span none.
    pub fn new(
        given: &[Spot],
        breaks: &[[usize; 2]],
        outlines: &[Vec<PlanPoint>],
    ) -> Result<Self, NoSurface> {
        let (spots, place, upright) = places(given);
        if spots.len() < 3 {
            return Err(NoSurface::TooFew);
        }
        let mut mesh = ConstrainedDelaunayTriangulation::<Point2<f64>>::new();
        let mut corners = Vec::with_capacity(spots.len());
        for spot in &spots {
            let (x, y) = spot.at.metres();
            match mesh.insert(Point2::new(x, y)) {
                Ok(corner) => corners.push(corner),
                // Beyond what the mesh can hold: astronomically far away.
                Err(_) => return Err(NoSurface::TooFew),
            }
        }
        let mut crossing = Vec::new();
        for (number, [a, b]) in breaks.iter().enumerate() {
            let ends = place.get(*a).copied().flatten().zip(place.get(*b).copied().flatten());
            let Some((a, b)) = ends.filter(|(a, b)| a != b) else { continue };
            match mesh.can_add_constraint(corners[a], corners[b]) {
                true => {
                    mesh.add_constraint(corners[a], corners[b]);
                }
                false => crossing.push(number),
            }
        }
        let mut rim = vec![false; spots.len()];
        for edge in mesh.convex_hull() {
            rim[edge.from().fix().index()] = true;
        }
        let mut surface = Self { spots, triangles: Vec::new(), upright, crossing, rim };
        for face in mesh.inner_faces() {
            let corners = face.vertices().map(|v| v.fix().index());
            let centre = surface.centre(corners);
            let built = outlines.iter().any(|outline| inside(outline, centre));
            if !surface.is_sliver(corners) && !built {
                surface.triangles.push(corners);
            }
        }
        if surface.triangles.is_empty() {
            return Err(NoSurface::InLine);
        }
        // The mesh has its own order; ours depends on the spots alone.
        sort_by(&mut surface.triangles, Ord::cmp);
        Ok(surface)
    }

    /// Height of the ground at a place; none where nothing is known of it.
    #[must_use]
    pub fn height_at(&self, at: PlanPoint) -> Option<Length> {
        let (corners, weights) = self.over(at)?;
        let sum = corners.iter().zip(weights).map(|(c, w)| w * self.spots[*c].height.metres()).sum();
        Some(Length::from_metres(sum))
    }

    /// The triangle a place lies in, and the weights of its corners there.
    fn over(&self, at: PlanPoint) -> Option<([usize; 3], [f64; 3])> {
        let weights = |corners: &[usize; 3]| (*corners, self.weights(*corners, at));
        self.triangles.iter().map(weights).find(|(_, weights)| weights.iter().all(|w| *w >= -1e-12))
    }

    /// How the ground falls in a triangle: its slope, never negative, and the direction downhill counterclockwise
    /// from the x axis; no direction on the level.
    #[must_use]
    pub fn fall(&self, triangle: usize) -> Option<(Slope, Option<Angle>)> {
        let [a, b, c] = self.triangles.get(triangle)?.map(|c| self.corner(c));
        let (u, v) = (sub(b, a), sub(c, a));
        let area = u[0] * v[1] - u[1] * v[0];
        let gx = (u[2] * v[1] - v[2] * u[1]) / area;
        let gy = (v[2] * u[0] - u[2] * v[0]) / area;
        let steep = hypot(gx, gy);
        let slope = Slope::of(Length::from_metres(steep), Length::from_metres(1.0))?;
        Some((slope, (steep > 0.0).then(|| Angle::from_radians(atan2(-gy, -gx)))))
    }

    /// Where a triangle's middle is.
    #[must_use]
    pub fn middle(&self, triangle: usize) -> Option<PlanPoint> {
        let corners = self.triangles.get(triangle)?;
        Some(self.centre(*corners))
    }

    /// Whether a triangle's middle is far from every reading: drawn grey, since the ground there is a guess.
    #[must_use]
    pub fn is_far(&self, triangle: usize) -> bool {
        self.triangles.get(triangle).is_some_and(|corners| {
            let centre = self.centre(*corners);
            corners.iter().all(|c| self.spots[*c].at.distance(centre) > FAR)
        })
    }

    /// Whether a place is far from every reading.
    fn is_guess_at(&self, at: PlanPoint) -> bool {
        self.spots.iter().all(|spot| spot.at.distance(at) > FAR)
    }

    /// Area of a triangle in plan; nothing where there is no such triangle.
    #[must_use]
    pub fn area_of(&self, triangle: usize) -> Area {
        let twice = self.triangles.get(triangle).map_or(0.0, |corners| self.twice_area(*corners));
        Area::from_square_metres(0.5 * twice)
    }

    /// Area in plan.
    #[must_use]
    pub fn area(&self) -> Area {
        let all = self.triangles.iter().map(|t| self.twice_area(*t)).sum::<f64>();
        Area::from_square_metres(0.5 * all)
    }

    fn corner(&self, number: usize) -> [f64; 3] {
        let Spot { at, height } = self.spots[number];
        let (x, y) = at.metres();
        [x, y, height.metres()]
    }

    fn centre(&self, corners: [usize; 3]) -> PlanPoint {
        let [a, b, c] = corners.map(|c| self.corner(c));
        PlanPoint::from_metres((a[0] + b[0] + c[0]) / 3.0, (a[1] + b[1] + c[1]) / 3.0)
    }

    fn twice_area(&self, corners: [usize; 3]) -> f64 {
        let [a, b, c] = corners.map(|c| self.corner(c));
        (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    }

    fn is_sliver(&self, corners: [usize; 3]) -> bool {
        let [a, b, c] = corners.map(|c| self.corner(c));
        let square = |a: [f64; 3], b: [f64; 3]| {
            let d = sub(a, b);
            d[0] * d[0] + d[1] * d[1]
        };
        let longest = square(a, b).max(square(b, c)).max(square(c, a));
        self.twice_area(corners) < SLIVER * longest
    }

    /// Weights of a triangle's corners at a place, which sum to one.
    fn weights(&self, corners: [usize; 3], at: PlanPoint) -> [f64; 3] {
        let (x, y) = at.metres();
        let [a, b, c] = corners.map(|c| self.corner(c));
        let cross = |p: [f64; 3], q: [f64; 3]| (p[0] - x) * (q[1] - y) - (p[1] - y) * (q[0] - x);
        let area = self.twice_area(corners);
        [cross(b, c) / area, cross(c, a) / area, cross(a, b) / area]
    }
}

fn sub(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

type Places = (Vec<Spot>, Vec<Option<usize>>, Vec<[usize; 2]>);

/// The places with their heights, for each spot given its place, and the pairs of one place that differ in height.
/// What is not a number has no place.
fn places(given: &[Spot]) -> Places {
    let finite = |s: &Spot| s.at.is_finite() && s.height.is_finite();
    let mut order: Vec<usize> = (0..given.len()).filter(|i| finite(&given[*i])).collect();
    sort_by(&mut order, |a, b| given[*a].at.x.metres().total_cmp(&given[*b].at.x.metres()));
    let mut place = vec![None; given.len()];
    let (mut spots, mut first): (Vec<Spot>, Vec<usize>) = (Vec::new(), Vec::new());
    let mut upright = Vec::new();
    for i in order {
        let spot = given[i];
        let x = spot.at.x.metres();
        // Those before it in x stand at the end of the list.
        let near = (0..spots.len()).rev().take_while(|n| x - spots[*n].at.x.metres() <= SAME_PLACE);
        let same = near.into_iter().find(|n| spots[*n].at.distance(spot.at).metres() <= SAME_PLACE);
        let Some(n) = same else {
            place[i] = Some(spots.len());
            spots.push(spot);
            first.push(i);
            continue;
        };
        place[i] = Some(n);
        if (spots[n].height - spot.height).abs().metres() > SAME_HEIGHT {
            upright.push([first[n].min(i), first[n].max(i)]);
        }
        if spot.height < spots[n].height {
            spots[n].height = spot.height;
        }
    }
    (spots, place, upright)
}

/// How steeply the ground falls along a side, from its first spot to its second.
fn steepness(a: [f64; 3], b: [f64; 3]) -> f64 {
    let d = sub(b, a);
    let run = hypot(d[0], d[1]);
    if run > 0.0 { -d[2] / run } else { 0.0 }
}
