//! Of the ways the points can stand, the one the readings like best; and what stays open.

#![expect(clippy::indexing_slicing, reason = "point numbers index lists made with the point count")]

use super::equation::{Equation, Place, Shape, sub};
use super::first::{Choice, Draft, Ways, side, side_cost};
use super::observe::Observed;
use super::solve::{Network, Solved};
use crate::units::float::hypot;
use crate::units::sort_by;

/// Misfit beyond which a reading counts as simply wrong, squared standard deviations.
pub(super) const CAP: f64 = 16.0;
/// Two ways nearer than this (two standard deviations) are not told apart by the readings.
const TOLD_APART: f64 = 4.0;
/// Mirror places nearer to each other than this are one place to a tape (metres).
const ONE_PLACE: f64 = 0.05;
/// A motion smaller than this share of the largest is rounding.
const STILL: f64 = 1e-6;

/// A point's other place, and the line it is mirrored on.
#[derive(Clone, Debug)]
pub(super) struct Open {
    pub point: u32,
    pub base: [u32; 2],
    pub other: Place,
}

/// The network solved over all points that are determined.
#[derive(Clone, Debug, Default)]
pub(super) struct Chosen {
    pub held: Option<(u32, u32)>,
    /// Which points are determined. Coordinates and held flags of the network go on after these
    /// with the shared numbers.
    pub known: Vec<bool>,
    /// Numbers of the observations that take part.
    pub active: Vec<usize>,
    /// Their equations; points that are not determined are held.
    pub network: Network,
    pub solved: Solved,
    pub open: Vec<Open>,
    /// Where the first positions had the points, also those that turned out loose.
    pub drafted: Vec<Option<Place>>,
}

struct Tried<'a> {
    draft: &'a Draft,
    chosen: Chosen,
    score: f64,
}

/// Solves every way and keeps the best.
pub(super) fn choose(seen: &Observed, ways: &Ways) -> Chosen {
    let most = ways.drafts.iter().map(|d| d.placed).max().unwrap_or(0);
    let complete = ways.drafts.iter().filter(|d| d.placed == most);
    let least = complete.map(|d| d.score).fold(f64::INFINITY, f64::min);
    let worth = |d: &&Draft| d.placed == most && d.score < least + 60.0;
    let mut tried: Vec<Tried> = ways
        .drafts
        .iter()
        .filter(worth)
        .map(|draft| {
            let places = (0u32..).take(seen.points.len()).map(|p| draft.place(p)).collect();
            let chosen = settle(seen, ways.held, places);
            let score = score(seen, &chosen);
            Tried { draft, chosen, score }
        })
        .collect();
    sort_by(&mut tried, |a, b| a.score.total_cmp(&b.score));
    let least = tried.first().map_or(0.0, |t| t.score);
    let near = tried.iter().enumerate().take_while(|(_, t)| t.score < least + TOLD_APART);
    let Some((index, _)) = near.min_by_key(|(i, t)| (t.draft.against, *i)) else { return Chosen::default() };
    let best = tried.swap_remove(index);
    let mut chosen = best.chosen.clone();
    for (depth, choice) in best.draft.choices.iter().enumerate().filter(|(_, c)| !c.leaf) {
        chosen.open.extend(rival(&tried, &best, depth, choice));
    }
    leaves(seen, &mut chosen, best.draft);
    keep_sides(seen, &mut chosen);
    chosen
}

/// A point close to the line it was said to be left of may have slid across while the network
/// settled: it is put back on its side, and stays there if the readings do not mind.
fn keep_sides(seen: &Observed, chosen: &mut Chosen) {
    for said in &seen.said {
        let x = &chosen.solved.x;
        if side_cost(said, |q| known(chosen, x, q), 0.0) < TOLD_APART {
            continue;
        }
        let (p, a, b) = (said.p as usize, x[said.a as usize], x[said.b as usize]);
        let mut start = x.clone();
        let ([ux, uy], _) = super::equation::ray(a, b);
        let h = 2.0 * side(a, b, x[p]);
        start[p] = [x[p][0] + h * uy, x[p][1] - h * ux];
        let mut other = chosen.clone();
        other.solved = chosen.network.solve(&start);
        if score(seen, &other) < score(seen, chosen) - TOLD_APART {
            *chosen = other;
        }
    }
}

/// The other place of a choice, when some way that differs from the best first there is as good.
fn rival(tried: &[Tried], best: &Tried, depth: usize, choice: &Choice) -> Option<Open> {
    let same = |a: &Choice, b: &Choice| a.point == b.point && a.taken == b.taken;
    let departs = |t: &&Tried| {
        let other = &t.draft.choices;
        let before = best.draft.choices.iter().zip(other).take(depth).all(|(a, b)| same(a, b));
        before && other.get(depth).is_some_and(|c| c.point == choice.point && c.taken != choice.taken)
    };
    let rival = tried.iter().filter(departs).find(|t| t.score < best.score + TOLD_APART)?;
    let p = choice.point as usize;
    let (here, there) = (best.chosen.solved.x[p], rival.chosen.solved.x[p]);
    let known = best.chosen.known[p] && rival.chosen.known[p];
    let base = telling(&best.chosen, &rival.chosen, p, choice.base);
    (known && apart(here, there)).then_some(Open { point: choice.point, base, other: there })
}

/// The line of which a point stands on different sides in two ways: the one it was placed from, unless that
/// was carried along with it (a house that could as well stand mirrored). Then a taped line that stands still,
/// of those the one farthest from both places.
fn telling(one: &Chosen, other: &Chosen, p: usize, placed_from: [u32; 2]) -> [u32; 2] {
    let (x, y) = (&one.solved.x, &other.solved.x);
    let sides = |[a, b]: [u32; 2]| {
        let (a, b) = (a as usize, b as usize);
        (side(x[a], x[b], x[p]), side(y[a], y[b], y[p]))
    };
    let tells = |base: &[u32; 2]| {
        let (h, k) = sides(*base);
        (h > 0.0) != (k > 0.0)
    };
    if tells(&placed_from) {
        return placed_from;
    }
    let still = |q: &u32| {
        let q = *q as usize;
        q != p && q < one.known.len() && one.known[q] && other.known[q] && !apart(x[q], y[q])
    };
    let lines = one.network.equations.iter().filter(|e| e.count() == 2);
    let lines = lines.map(|e| [e.points()[0], e.points()[1]]).filter(|line| line.iter().all(still));
    let clear = |base: &[u32; 2]| {
        let (h, k) = sides(*base);
        h.abs().min(k.abs())
    };
    lines.filter(tells).max_by(|a, b| clear(a).total_cmp(&clear(b))).unwrap_or(placed_from)
}

fn apart(a: Place, b: Place) -> bool {
    let [x, y] = sub(a, b);
    hypot(x, y) > ONE_PLACE
}

/// Points on which nothing hangs: compares both places by all their readings and sides; the
/// network is solved again when one moves.
fn leaves(seen: &Observed, chosen: &mut Chosen, draft: &Draft) {
    let mut moved = false;
    let mut open = Vec::new();
    let mirrored = mirrored(chosen, draft);
    let leaf = |c: &&Choice| c.leaf && mirrored.iter().all(|other| other.point != c.point);
    for choice in draft.choices.iter().filter(leaf).chain(&mirrored) {
        let p = choice.point as usize;
        if !chosen.known[p] {
            continue;
        }
        let here = chosen.solved.x[p];
        let there = alone(chosen, p, choice.other);
        let (cost_here, cost_there) = (cost_at(seen, chosen, p, here), cost_at(seen, chosen, p, there));
        if !apart(here, there) {
            continue;
        }
        if cost_there < cost_here - TOLD_APART {
            chosen.solved.x[p] = there;
            moved = true;
        } else if cost_there < cost_here + TOLD_APART {
            open.push(Open { point: choice.point, base: choice.base, other: there });
        }
    }
    if moved {
        chosen.solved = chosen.network.solve(&chosen.solved.x);
    }
    chosen.open.extend(open);
}

/// The other places of points on two ties and nothing else, mirrored on the line between the anchors. When first positions
/// were made there may have been one only, or two as good as one: so near the line the ties just touch until the anchors
/// are adjusted.
fn mirrored(chosen: &Chosen, draft: &Draft) -> Vec<Choice> {
    let mut touching: Vec<Vec<&Equation>> = vec![Vec::new(); chosen.known.len()];
    for e in &chosen.network.equations {
        e.each().for_each(|p| touching[p].push(e));
    }
    let x = &chosen.solved.x;
    let other = |(point, touching): (u32, &Vec<&Equation>)| {
        let [one, two] = touching.as_slice() else { return None };
        let anchor = |tie: &Equation| match tie.shape {
            Shape::Distance { a, b } => Some(if a == point { b } else { a }),
            _ => None,
        };
        let (a, b) = (anchor(one)?, anchor(two)?);
        let base = [a.min(b), a.max(b)];
        let hung_on = draft.choices.iter().any(|choice| choice.point == point && !choice.leaf);
        let held = chosen.held.is_some_and(|(a, b)| [a, b].contains(&point));
        let ([a, b], p) = (base.map(|q| x[q as usize]), x[point as usize]);
        let ([ux, uy], length) = super::equation::ray(a, b);
        let h = 2.0 * side(a, b, p);
        let other = [p[0] + h * uy, p[1] - h * ux];
        (length > 0.0 && !hung_on && !held).then_some(Choice { point, base, taken: 0, other, leaf: true })
    };
    (0u32..).zip(&touching).filter_map(other).collect()
}

/// Where one point settles from a start, all others held.
fn alone(chosen: &Chosen, p: usize, start: Place) -> Place {
    let touching = chosen.network.equations.iter().filter(|e| e.each().any(|q| q == p)).copied().collect();
    let mut held = vec![[true; 2]; chosen.network.held.len()];
    held[p] = chosen.network.held[p];
    let mut x = chosen.solved.x.clone();
    x[p] = start;
    Network { equations: touching, held }.solve(&x).x[p]
}

fn cost_at(seen: &Observed, chosen: &Chosen, p: usize, at: Place) -> f64 {
    let mut x = chosen.solved.x.clone();
    x[p] = at;
    let touching = chosen.network.equations.iter().filter(|e| e.each().any(|q| q == p));
    let readings: f64 = touching.map(|e| capped(e, &x)).sum();
    let said = seen.said.iter().filter(|s| [s.p, s.a, s.b].iter().any(|&q| q as usize == p));
    readings + said.map(|s| side_cost(s, |q| known(chosen, &x, q), 0.0)).sum::<f64>()
}

pub(super) fn capped(e: &Equation, x: &[Place]) -> f64 {
    let t = e.at(x).misclosure / e.sd;
    (t * t).min(CAP)
}

fn known(chosen: &Chosen, x: &[Place], p: u32) -> Option<Place> {
    chosen.known[p as usize].then(|| x[p as usize])
}

fn score(seen: &Observed, chosen: &Chosen) -> f64 {
    let x = &chosen.solved.x;
    let readings: f64 = chosen.network.equations.iter().map(|e| capped(e, x)).sum();
    readings + seen.said.iter().map(|s| side_cost(s, |q| known(chosen, x, q), 0.0)).sum::<f64>()
}

/// Solves for the placed points; those the readings do not hold in place are taken out, and the
/// rest is solved again, until every point left is determined.
pub(super) fn settle(seen: &Observed, held: (u32, u32), drafted: Vec<Option<Place>>) -> Chosen {
    let mut chosen = Chosen {
        held: Some(held),
        known: drafted.iter().map(Option::is_some).collect(),
        drafted,
        ..Chosen::default()
    };
    chosen.solved.x = chosen.drafted.iter().map(|p| p.unwrap_or([0.0; 2])).collect();
    chosen.solved.x.extend(seen.first_values(&|p| chosen.drafted.get(p as usize).copied().flatten()));
    for _ in 0..seen.points.len() + 1 {
        chosen.equip(seen);
        let solved = chosen.network.solve(&chosen.solved.x);
        chosen.solved = solved;
        let loose = moving(&chosen.network.motions(&chosen.solved.x));
        let before = chosen.known.iter().filter(|k| **k).count();
        for p in loose.into_iter().filter(|&p| p != held.0 as usize) {
            // A shared number that is free needs no word: the points that move with it are loose.
            if let Some(known) = chosen.known.get_mut(p) {
                *known = false;
            }
        }
        if chosen.known.iter().filter(|k| **k).count() == before {
            break;
        }
    }
    chosen
}

impl Chosen {
    /// The equations all of whose points are determined.
    fn equip(&mut self, seen: &Observed) {
        let known = &self.known;
        let whole = |(_, o): &(usize, &super::observe::Observation)| o.equation.each().all(|p| known[p]);
        self.active = seen.observations.iter().enumerate().filter(whole).map(|(number, _)| number).collect();
        self.network.equations = self.active.iter().map(|&n| seen.observations[n].equation).collect();
        self.network.held = known.iter().map(|k| [!k; 2]).collect();
        if let Some((a, b)) = self.held {
            self.network.held[a as usize] = [true; 2];
            self.network.held[b as usize][1] = true;
        }
        self.network.held.extend(seen.held_values(&self.network.equations));
    }

    /// Signed distance of a point from a line, left positive, when all three are determined.
    pub(super) fn stands(&self, a: u32, b: u32, p: u32) -> Option<f64> {
        self.stands_at(&self.solved.x, a, b, p)
    }

    /// The same with the nodes at `x`.
    pub(super) fn stands_at(&self, x: &[Place], a: u32, b: u32, p: u32) -> Option<f64> {
        Some(side(known(self, x, a)?, known(self, x, b)?, known(self, x, p)?))
    }
}

fn moving(motions: &[Vec<Place>]) -> Vec<usize> {
    let mut loose = Vec::new();
    for motion in motions {
        let size = |v: &Place| hypot(v[0], v[1]);
        let most = motion.iter().map(size).fold(0.0, f64::max);
        loose.extend(motion.iter().enumerate().filter(|(_, v)| size(v) > STILL * most).map(|(p, _)| p));
    }
    loose
}
