//! One way the points can stand so far.

use super::super::equation::Place;
use super::{CERTAIN, MISFIT_OF_POINT};

/// A choice between places that nothing said or read so far tells apart.
#[derive(Clone, Copy, Debug)]
pub(in super::super) struct Choice {
    /// The point.
    pub point: u32,
    /// The line between the two points it hangs on.
    pub base: [u32; 2],
    /// Which of the places was taken.
    pub taken: usize,
    /// Another place it could have.
    pub other: Place,
    /// Nothing else hangs on it: it can be changed alone.
    pub leaf: bool,
}

/// Places of points, how well each is known roughly, and how it came to this.
#[derive(Clone, Debug)]
pub(in super::super) struct Draft {
    places: Vec<Option<Place>>,
    spreads: Vec<f64>,
    /// Points another draft has placed.
    elsewhere: Vec<bool>,
    /// Sum of squared misfits, each capped, plus a penalty for every side contradicted.
    pub score: f64,
    /// How often a place was taken that neither sketch nor habit prefers.
    pub against: usize,
    /// Choices made on the way.
    pub choices: Vec<Choice>,
    /// How many points have a place.
    pub placed: usize,
    /// Points placed since the last adjustment.
    fresh: Vec<u32>,
    /// How many points had a place when all were adjusted.
    whole: usize,
}

impl Draft {
    pub(super) fn new(points: usize, beside: Option<&Self>) -> Self {
        Self {
            places: vec![None; points],
            spreads: vec![0.0; points],
            elsewhere: beside
                .map_or_else(|| vec![false; points], |d| d.places.iter().map(Option::is_some).collect()),
            score: 0.0,
            against: 0,
            choices: Vec::new(),
            placed: 0,
            fresh: Vec::new(),
            whole: 0,
        }
    }

    /// The points placed since the last adjustment; none when so many that all should be adjusted anew.
    /// What goes on from a few points in a large yard then costs what it touches.
    pub(super) fn adjusted(&mut self) -> Option<Vec<u32>> {
        let fresh = std::mem::take(&mut self.fresh);
        if 4 * self.placed < 5 * self.whole {
            return Some(fresh);
        }
        self.whole = self.placed;
        None
    }

    pub(in super::super) fn place(&self, p: u32) -> Option<Place> {
        self.places.get(p as usize).copied().flatten()
    }

    /// The points placed.
    pub(super) fn points(&self) -> impl Iterator<Item = u32> {
        (0u32..).zip(&self.places).filter_map(|(p, at)| at.map(|_| p))
    }

    /// Whether the point is still to be placed, and by this draft.
    pub(super) fn wants(&self, p: u32) -> bool {
        self.place(p).is_none() && self.elsewhere.get(p as usize) == Some(&false)
    }

    /// Leaves a point to others.
    pub(super) fn leave(&mut self, p: u32) {
        if let Some(elsewhere) = self.elsewhere.get_mut(p as usize) {
            *elsewhere = true;
        }
    }

    /// Whether it adds to an earlier draft no more misfit than right readings do.
    #[expect(clippy::cast_precision_loss, reason = "a count of points is far below 2^52")]
    pub(super) fn goes_on_well(&self, from: &Self) -> bool {
        let points = self.placed.saturating_sub(from.placed) as f64;
        self.score - from.score < CERTAIN + 2.0 * MISFIT_OF_POINT * points
    }

    pub(super) fn spread(&self, p: u32) -> f64 {
        self.spreads.get(p as usize).copied().unwrap_or(0.0)
    }

    pub(in super::super) fn put(&mut self, p: u32, at: Place, spread: f64) {
        if let (Some(place), Some(s)) = (self.places.get_mut(p as usize), self.spreads.get_mut(p as usize)) {
            if place.is_none() {
                self.placed += 1;
                self.fresh.push(p);
            }
            *place = Some(at);
            *s = spread;
        }
    }
}
