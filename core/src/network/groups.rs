//! Loose points that hold together among themselves: an outbuilding measured well, tied to the rest too
//! seldom. As a group it can swing or slide; the points need not be fixed one by one.

#![expect(clippy::indexing_slicing, reason = "point and node numbers index lists made with the network")]

use super::choose::Chosen;
use super::equation::{Equation, Place};
use super::first::Field;
use super::observe::Observed;
use super::result::Finding;
use super::solve::Network;
use crate::record::{EntryId, Record};
use crate::units::float::{cos, sin};

/// Fewer points are no group: two on one tape are a stick.
const LEAST: usize = 3;
/// Ways a group can move when nothing joins it to the rest: two shifts and a turn.
const FREE: usize = 3;
/// Pairs that groups are built from.
const MOST_SEEDS: usize = 12;
/// Where a group is put to see how it can move: anywhere but in a special place, turned anyhow.
const TURN: f64 = 0.7;
const SHIFT: Place = [11.3, 7.9];

/// Points that hold together.
pub(super) struct Group {
    /// Each with its place in the group's own frame.
    pub points: Vec<(usize, Place)>,
    /// Numbers of the observations that join it to determined points.
    joined: Vec<usize>,
    /// In how many ways it can still move: so many more ties are needed.
    needs: usize,
}

/// All groups.
pub(super) fn groups(seen: &Observed, chosen: &Chosen, sketch: &[Option<Place>]) -> Vec<Group> {
    let loose = |p: u32| chosen.known.get(p as usize) == Some(&false);
    let mut groups: Vec<Group> = Vec::new();
    if chosen.known.iter().filter(|known| !**known).count() < LEAST {
        return groups;
    }
    let field = Field::new(seen, sketch);
    let known: Vec<Option<Place>> =
        chosen.known.iter().zip(&chosen.solved.x).map(|(known, x)| known.then_some(*x)).collect();
    let seeds = seen.datums.iter().filter(|(a, b)| loose(*a) && loose(*b));
    for &(a, b) in seeds.take(MOST_SEEDS) {
        let taken = |p: u32| groups.iter().any(|g| g.points.iter().any(|(q, _)| *q == p as usize));
        if taken(a) || taken(b) {
            continue;
        }
        let points = field.apart(&known, (a, b));
        groups.extend(group(seen, chosen, points));
    }
    groups
}

/// The points as a group, when they are enough, stiff, and still free.
fn group(seen: &Observed, chosen: &Chosen, points: Vec<(usize, Place)>) -> Option<Group> {
    if points.len() < LEAST {
        return None;
    }
    let mut x = chosen.solved.x.clone();
    let mut held = vec![[true; 2]; x.len()];
    for &(p, [u, v]) in &points {
        let (c, s) = (cos(TURN), sin(TURN));
        x[p] = [SHIFT[0] + c * u - s * v, SHIFT[1] + s * u + c * v];
        held[p] = [false; 2];
    }
    let mine = |p: usize| !held[p][0];
    let settled = |node: u32| chosen.network.held.get(node as usize).is_some_and(|held| !held[0]);
    let usable = |e: &Equation| {
        e.each().any(mine) && e.each().all(|p| mine(p) || chosen.known[p]) && e.shared().is_none_or(settled)
    };
    let own = |e: &Equation| e.shared().is_none() && e.each().all(mine);
    let all = || seen.observations.iter().map(|o| o.equation);
    let ways = |equations: Vec<Equation>| Network { equations, held: held.clone() }.motions(&x).len();
    if ways(all().filter(own).collect()) != FREE {
        return None;
    }
    let needs = ways(all().filter(usable).collect());
    let joins = |(_, e): &(usize, Equation)| usable(e) && !own(e);
    let joined = all().enumerate().filter(joins).map(|(number, _)| number).collect();
    (needs > 0).then_some(Group { points, joined, needs })
}

/// The groups in the user's words.
pub(super) fn findings(record: &Record, seen: &Observed, groups: &[Group]) -> Vec<Finding> {
    let one = |group: &Group| {
        let mut joined: Vec<EntryId> = Vec::new();
        for number in &group.joined {
            let measurement = seen.observations.get(*number).map(|o| o.measurement);
            let entry = measurement.and_then(|m| record.measurements.get(m)).map(|m| m.entry.clone());
            joined.extend(entry.filter(|entry| !joined.contains(entry)));
        }
        let points = group.points.iter().map(|(p, _)| seen.points[*p].clone()).collect();
        Finding::LooseGroup { points, joined, needs: group.needs }
    };
    groups.iter().map(one).collect()
}
