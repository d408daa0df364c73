//! How a person would measure the yard.

use super::slots::written;
use super::{BY_EYE, Lot, Yard, id, number};
use swingtie_core::network::{Adjustment, adjust};
use swingtie_core::record::{
    How, Leg, Measurement, OffsetRow, Reading, RunReading, Side, SideOf, TapedTo, Turn,
};
use swingtie_core::units::Length;
use swingtie_core::units::float::hypot;

/// Nearer to a line than this (metres) nobody says a side.
const PLAIN_SIDE: f64 = 0.5;
/// Ties a house has to its surroundings.
const SWINGS: usize = 8;

impl Yard {
    fn distance(&self, a: usize, b: usize) -> f64 {
        let ([ax, ay], [bx, by]) = (self.truth[a], self.truth[b]);
        hypot(bx - ax, by - ay)
    }

    /// Station and offset (left positive) of p from the line a → b.
    fn along(&self, a: usize, b: usize, p: usize) -> (f64, f64) {
        let ([ax, ay], [bx, by], [px, py]) = (self.truth[a], self.truth[b], self.truth[p]);
        let length = hypot(bx - ax, by - ay);
        let (ux, uy) = ((bx - ax) / length, (by - ay) / length);
        ((px - ax) * ux + (py - ay) * uy, (py - ay) * ux - (px - ax) * uy)
    }

    /// Read to the millimetre, as written.
    fn read(&mut self, value: f64, sd: f64) -> Reading {
        written(value + self.dice.gauss(sd))
    }

    /// A reading that scatters by what the product says of a tape used so.
    fn taped(&mut self, value: f64, how: &How) -> Reading {
        let sd = how.sd_of(Length::from_metres(value)).metres();
        self.read(value, sd)
    }

    fn side(&self, (a, b): (usize, usize), p: usize) -> Option<SideOf> {
        let (_, off) = self.along(a, b, p);
        let side = if off > 0.0 { Side::Left } else { Side::Right };
        (off.abs() >= PLAIN_SIDE).then(|| SideOf { from: id(a), to: id(b), side })
    }

    /// Tapes from a to b unless that was done; with a line, says b's side of it.
    pub(super) fn tie(&mut self, a: usize, b: usize, line: Option<(usize, usize)>) -> bool {
        if a == b || !self.tied.insert((a.min(b), a.max(b))) {
            return false;
        }
        let how = How::default();
        let side = line.and_then(|line| self.side(line, b));
        let reading = self.taped(self.distance(a, b), &how);
        let (from, to, taped_to) = (id(a), id(b), TapedTo::Middle);
        self.measurements.push(Measurement::Tie { from, to, reading, side, taped_to, how });
        true
    }

    /// Tapes from a to b, said with b's side of the front wall of the house nearest to it.
    pub fn tape(&mut self, a: usize, b: usize) {
        let fronts = self.corners.values().map(|q| (q[0], q[1])).filter(|(p, q)| *p != b && *q != b);
        let near = |(p, q): &(usize, usize)| self.distance(*p, b) + self.distance(*q, b);
        let line = fronts.min_by(|one, other| near(one).total_cmp(&near(other)));
        let how = How::default();
        let side = line.and_then(|line| self.side(line, b));
        let reading = self.taped(self.distance(a, b), &how);
        let (from, to, taped_to) = (id(a), id(b), TapedTo::Middle);
        self.measurements.push(Measurement::Tie { from, to, reading, side, taped_to, how });
    }

    /// The adjustment, with the questions of sides answered as one sees them, at most five times.
    pub fn answered(&mut self, sketch: u64) -> Adjustment {
        let mut adjustment = adjust(&self.record(self.rough_sketch(sketch)));
        for _ in 0..5 {
            if adjustment.questions.is_empty() {
                break;
            }
            for question in &adjustment.questions {
                self.say_side(&question.assumed, number(&question.point));
            }
            adjustment = adjust(&self.record(self.rough_sketch(sketch)));
        }
        adjustment
    }

    /// Says on which side of a line a point stands, as one sees it.
    pub fn say_side(&mut self, of: &SideOf, point: usize) {
        let (_, off) = self.along(number(&of.from), number(&of.to), point);
        let side = SideOf { side: if off > 0.0 { Side::Left } else { Side::Right }, ..of.clone() };
        self.measurements.push(Measurement::SideIs { point: id(point), side });
    }

    /// The houses' outlines, by the points of their corners.
    pub fn houses(&self) -> impl Iterator<Item = &[usize; 6]> {
        self.corners.values()
    }

    /// Walls, diagonals, the jamb on the front wall.
    pub(super) fn house(&mut self, lot: Lot) {
        let q = self.corners[&lot];
        let how = How::default();
        let turns =
            [None, Some(Turn::Left), Some(Turn::Left), Some(Turn::Right), Some(Turn::Left), Some(Turn::Left)];
        let mut legs = Vec::new();
        for (k, turn) in turns.into_iter().enumerate() {
            let (a, b) = (q[k], q[(k + 1) % 6]);
            self.tied.insert((a.min(b), a.max(b)));
            let length = Some(self.taped(self.distance(a, b), &how));
            legs.push(Leg { turn, to: id(b), length });
        }
        self.measurements.push(Measurement::Walk { start: id(q[0]), legs, how: how.clone() });
        self.tie(q[0], q[2], None);
        self.tie(q[1], q[5], None);
        let jamb = self.jambs[&lot];
        let (station, _) = self.along(q[0], q[1], jamb);
        let readings = vec![RunReading { point: id(jamb), reading: self.taped(station, &how) }];
        let (zero, toward, zero_unknown) = (id(q[0]), id(q[1]), false);
        self.measurements.push(Measurement::Run { zero, toward, readings, zero_unknown, how });
    }

    /// One garden point by offset and check, the other by three ties.
    pub(super) fn garden(&mut self, lot: Lot) {
        let (q, [front, back]) = (self.corners[&lot], self.gardens[&lot]);
        let how = How::default();
        let (station, offset) = self.along(q[0], q[1], front);
        let along = hypot(how.sd_of(Length::from_metres(station)).metres(), BY_EYE * offset);
        let station = self.read(station, along);
        let read = self.taped(offset, &how);
        let side = if read.value.metres() > 0.0 { Side::Left } else { Side::Right };
        let offset = written(read.value.metres().abs());
        let row = OffsetRow { point: id(front), station, offset, side };
        self.measurements.push(Measurement::Offsets { from: id(q[0]), to: id(q[1]), rows: vec![row], how });
        self.tie(self.posts[&lot], front, None);
        self.tie(q[5], back, Some((q[5], q[4])));
        self.tie(q[4], back, None);
        self.tie(q[2], back, None);
    }

    /// Posts around the lot from the two nearest corners; on the edge of the grid from its neighbours.
    pub(super) fn swings(&mut self, lot: Lot) {
        let ((cx, cy), q) = (lot, self.corners[&lot]);
        let mut ties = 0;
        for near in [lot, (cx + 1, cy), (cx, cy + 1), (cx + 1, cy + 1)] {
            let Some(&post) = self.posts.get(&near) else { continue };
            let mut by_distance = q;
            by_distance.sort_by(|&a, &b| self.distance(a, post).total_cmp(&self.distance(b, post)));
            let [one, two, ..] = by_distance;
            ties += usize::from(self.tie(one, post, Some((one, two))));
            ties += usize::from(self.tie(two, post, None));
        }
        if ties < SWINGS {
            self.edge_swings(lot, ties);
        }
        for near in [(cx + 1, cy), (cx, cy + 1)] {
            if let Some(&post) = self.posts.get(&near) {
                self.tie(self.posts[&lot], post, None);
            }
        }
    }

    fn edge_swings(&mut self, lot: Lot, mut ties: usize) {
        let ((cx, cy), q) = (lot, self.corners[&lot]);
        let mut pairs = Vec::new();
        for near in (-1..=1).flat_map(|i| (-1..=1).map(move |j| (cx + i, cy + j))) {
            let Some(&post) = self.posts.get(&near) else { continue };
            let others = if near == lot { &[][..] } else { &self.corners[&near][..] };
            for &far in std::iter::once(&post).chain(others) {
                pairs.extend(q.iter().map(|&own| (self.distance(far, own), far, own)));
            }
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
        let (mut own_used, mut far_used) =
            (std::collections::BTreeMap::new(), std::collections::BTreeMap::new());
        for (_, far, own) in pairs {
            let (mine, theirs) = (own_used.entry(own).or_insert(0), far_used.entry(far).or_insert(0));
            if ties < SWINGS && *mine < 3 && *theirs < 2 && self.tie(own, far, None) {
                (ties, *mine, *theirs) = (ties + 1, *mine + 1, *theirs + 1);
            }
        }
    }
}
