//! Numbers that several readings share: where north is in the plan, what a tape reads at its zero.
//!
//! Bearings by one needle are all off by the same unknown direction, readings of one tape by the
//! same unknown length. Such a number is solved with the coordinates, as one more node of the
//! network (its second coordinate held). Taking differences instead would correlate the readings,
//! and leaving the number out of the statistics would call readings checked that are not. With the
//! unknown the weights stay simple, each reading keeps its own residual and redundancy, and a
//! single bearing is rightly checked by nothing.

use super::equation::{Equation, Place, Shape, dot, ray, sub, wrapped};
use super::observe::Observed;
use crate::record::NorthKind;
use crate::units::float::atan2;

/// Readings looked at for a first value; more only cost time.
const MOST: usize = 32;

/// What a shared number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// Direction of this north in the plan, counter-clockwise from x.
    North(NorthKind),
    /// What a tape reads at its zero point.
    Zero,
}

/// A shared number, and the observations that share it.
#[derive(Clone, Debug)]
pub(super) struct Shared {
    pub what: What,
    pub by: Vec<usize>,
}

impl Observed {
    /// How many nodes the network has: points, then shared numbers.
    pub(super) fn nodes(&self) -> usize {
        self.points.len() + self.shared.len()
    }

    /// The node of a new shared number.
    pub(super) fn share(&mut self, what: What) -> u32 {
        self.shared.push(Shared { what, by: Vec::new() });
        u32::try_from(self.nodes() - 1).unwrap_or(u32::MAX)
    }

    /// The shared number of this node.
    pub(super) fn shared_at(&self, node: u32) -> Option<&Shared> {
        self.shared.get((node as usize).checked_sub(self.points.len())?)
    }

    /// A value of a shared number that agrees with most of its readings between placed points:
    /// one of them that lies nearest to all others, so that a single wrong one does no harm.
    pub(super) fn first_value(&self, node: u32, place: &dyn Fn(u32) -> Option<Place>) -> Option<f64> {
        let shared = self.shared_at(node)?;
        let one = |number: &usize| said_by(&self.observations.get(*number)?.equation, place);
        let said: Vec<f64> = shared.by.iter().filter_map(one).take(MOST).collect();
        let apart = |a: f64, b: f64| match shared.what {
            What::North(_) => wrapped(a - b).abs(),
            What::Zero => (a - b).abs(),
        };
        let far = |a: f64| said.iter().map(|b| apart(a, *b)).sum::<f64>();
        said.iter().copied().min_by(|a, b| far(*a).total_cmp(&far(*b)))
    }

    /// Places for the shared numbers' nodes, to follow those of the points.
    pub(super) fn first_values(&self, place: &dyn Fn(u32) -> Option<Place>) -> Vec<Place> {
        let nodes = (0u32..).take(self.nodes()).skip(self.points.len());
        nodes.map(|node| [self.first_value(node, place).unwrap_or(0.0), 0.0]).collect()
    }

    /// Which coordinates of the shared numbers' nodes are held: the second, and the first too of
    /// those that none of these equations mentions.
    pub(super) fn held_values(&self, equations: &[Equation]) -> Vec<[bool; 2]> {
        let mut held = vec![[true; 2]; self.shared.len()];
        for node in equations.iter().filter_map(Equation::shared) {
            if let Some(held) = (node as usize).checked_sub(self.points.len()).and_then(|k| held.get_mut(k)) {
                held[0] = false;
            }
        }
        held
    }
}

/// The value of its shared number that would satisfy an equation.
fn said_by(e: &Equation, place: &dyn Fn(u32) -> Option<Place>) -> Option<f64> {
    match e.shape {
        Shape::Bearing { a, b, .. } => {
            let ([x, y], length) = ray(place(a)?, place(b)?);
            (length > 1e-6).then(|| e.value + atan2(y, x))
        }
        Shape::Shifted { a, b, p, .. } => {
            let (a, p) = (place(a)?, place(p)?);
            let (along, length) = ray(a, place(b)?);
            (length > 1e-6).then(|| e.value - dot(sub(p, a), along))
        }
        _ => None,
    }
}
