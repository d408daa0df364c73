//! What became of the points.

use super::State;
use super::frame::{self, Pair};
use crate::network::{Fix, PointState};
use crate::record::{Point, PointId};
use crate::units::{Length, PlanPoint, sort_by};

/// A point called otherwise, or with another note.
#[derive(Clone, Debug, PartialEq)]
pub struct Renamed {
    /// As it was.
    pub before: Point,
    /// As it is.
    pub now: Point,
}

/// A point that stands elsewhere in the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Move {
    /// The point.
    pub point: PointId,
    /// Where it stood, in the later plan's frame.
    pub from: PlanPoint,
    /// Where it stands.
    pub to: PlanPoint,
    /// How far that is.
    pub by: Length,
    /// How well it was said to be known: the larger half axis of its 95 % ellipse, before or now, whichever is larger.
    pub accuracy: Length,
}

impl Move {
    /// Whether it moved by more than it was said to be known: more than another reading or two explain.
    #[must_use]
    pub fn is_beyond(&self) -> bool {
        self.by > self.accuracy
    }
}

/// A point that is known better or less well.
#[derive(Clone, Debug, PartialEq)]
pub struct StateChange {
    /// The point.
    pub point: PointId,
    /// Before.
    pub before: PointState,
    /// Now.
    pub now: PointState,
}

/// How the earlier plan was laid on the later one, to see what moved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Laid {
    /// As both are drawn.
    #[default]
    AsDrawn,
    /// Shifted and turned, so that most points lie where they lay: the line that the plan is drawn along is another, or
    /// itself moved.
    Turned,
}

/// What became of the points.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PointsChanged {
    /// Those that were not there, as they stand now.
    pub new: Vec<Point>,
    /// Those that are not there any more, as they were.
    pub gone: Vec<Point>,
    /// Those called otherwise.
    pub renamed: Vec<Renamed>,
    /// Those that were placed and stand elsewhere now: beyond their accuracy first, then by how far.
    pub moved: Vec<Move>,
    /// Those known better or less well.
    pub states: Vec<StateChange>,
    /// How the plans were laid on each other.
    pub laid: Laid,
}

impl PointsChanged {
    /// Points that were loose and have a place of their own now, in the record's order.
    pub fn found(&self) -> impl Iterator<Item = &PointId> {
        let found =
            |change: &&StateChange| change.before == PointState::Loose && change.now != PointState::Loose;
        self.states.iter().filter(found).map(|change| &change.point)
    }
}

/// What is less is no move: as fine as tapes are read, 1/16 in. Every reading shifts the whole plan by some hair.
const LEAST: Length = Length::from_inches(1.0 / 16.0);

/// Compares the points of two states.
pub(super) fn changed(before: State<'_>, now: State<'_>) -> PointsChanged {
    let (was, is) = (&before.fold.record.points, &now.fold.record.points);
    let mut all = PointsChanged::default();
    let mut placed: Vec<(&PointId, Pair)> = Vec::new();
    for point in is {
        let Some(old) = was.iter().find(|old| old.id == point.id) else {
            all.new.push(point.clone());
            continue;
        };
        if old != point {
            all.renamed.push(Renamed { before: old.clone(), now: point.clone() });
        }
        let fixes = (before.adjustment.points.get(&point.id), now.adjustment.points.get(&point.id));
        let (Some(then), Some(fix)) = fixes else { continue };
        if then.state != fix.state {
            let (before, now) = (then.state, fix.state);
            all.states.push(StateChange { point: point.id.clone(), before, now });
        }
        if let (Some(from), Some(to)) = (then.at, fix.at) {
            let accuracy = larger(half_axis(then), half_axis(fix));
            placed.push((&point.id, Pair { from, to, accuracy }));
        }
    }
    let is_there = |old: &Point| is.iter().any(|point| point.id == old.id);
    all.gone = was.iter().filter(|old| !is_there(old)).cloned().collect();
    let (ids, mut pairs): (Vec<&PointId>, Vec<Pair>) = placed.into_iter().unzip();
    all.laid = frame::lay(&mut pairs, LEAST);
    for (id, Pair { from, to, accuracy }) in ids.into_iter().zip(pairs) {
        let by = from.distance(to);
        if by >= LEAST {
            all.moved.push(Move { point: id.clone(), from, to, by, accuracy });
        }
    }
    sort_by(&mut all.moved, |a, b| {
        (b.is_beyond().cmp(&a.is_beyond())).then(b.by.metres().total_cmp(&a.by.metres()))
    });
    all
}

fn half_axis(fix: &Fix) -> Length {
    fix.ellipse.map_or(Length::default(), |ellipse| ellipse.semi_major)
}

fn larger(one: Length, other: Length) -> Length {
    if other > one { other } else { one }
}
