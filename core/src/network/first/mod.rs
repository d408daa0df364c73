//! First positions, from the readings alone.
//!
//! From a held pair on, points are placed one after the other where circles and lines through
//! placed points meet, the best determined first. Said sides and third readings choose between
//! mirror places; a point whose place they leave open waits. When nothing else is left, the choice
//! is followed both ways, and the few best ways are kept. A sketch only orders ways that all
//! readings and sides leave equally good.

mod candidates;
mod draft;
mod islands;
mod loci;
mod turned;

pub(super) use draft::{Choice, Draft};

use super::equation::{Equation, Place, cross, sub};
use super::observe::{Bond, Observed, Said};
use super::solve::Network;
use crate::units::{ascending, sort_by};
use candidates::{Candidate, certain};
use islands::Group;
use loci::Form;
use std::cell::RefCell;
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::rc::Rc;

/// Finished ways that are compared.
const WAYS: usize = 24;
/// Unfinished ways looked at before the search is content with what it has.
const MOST_STEPS: usize = 200;
/// Where it only has to show that a yard falls into place, as many and one more for each group of so many points.
const FEW_STEPS: usize = 8;
const GROUP: usize = 6;
/// What right readings add to the misfit with each point placed (squared standard deviations): about one
/// spare reading's worth. Without it every step along the right way would look like a step back.
const MISFIT_OF_POINT: f64 = 1.0;
/// A way this much worse than a finished one (squared standard deviations) is given up.
const HOPELESS: f64 = 60.0;
/// Squared misfit beyond which a reading counts as simply wrong (4 standard deviations).
const CAP: f64 = 16.0;
/// What contradicting a said side costs, in the same measure: five standard deviations.
pub(super) const WRONG_SIDE: f64 = 25.0;
/// One place is certain when the next is worse by this: three standard deviations.
const CERTAIN: f64 = 9.0;
/// Two ways are hardly told apart when the next is worse by less than this.
const TOLD: f64 = 2.0;
/// Points this uncertain (metres) wait until those better known have been adjusted: where two
/// ties meet at a flat angle, centimetres between their anchors decide whether they meet at all.
const STAGES: [f64; 4] = [0.1, 0.3, 1.0, f64::INFINITY];
/// How far adjusted points are trusted to lie from where they should, near each other (metres).
const ADJUSTED: f64 = 0.04;
/// Steps of an adjustment on the way.
const STEPS: usize = 8;

/// The bonds and sides by point.
pub(super) struct Field<'a> {
    seen: &'a Observed,
    bonds_of: Vec<Vec<u32>>,
    said_of: Vec<Vec<u32>>,
    near: Vec<Vec<u32>>,
    sketch: &'a [Option<Place>],
    /// Groups built apart so far.
    groups: RefCell<Vec<Rc<Group>>>,
}

/// How far ways are followed.
#[derive(Clone, Copy)]
struct Reach {
    /// A way with more misfit is given up.
    most: f64,
    steps: usize,
    /// Finished ways that are enough.
    ways: usize,
}

impl Reach {
    const FAR: Self = Self { most: f64::INFINITY, steps: MOST_STEPS, ways: WAYS };
}

/// The ways the points can stand, best first, and the pair held.
pub(super) struct Ways {
    pub held: (u32, u32),
    pub drafts: Vec<Draft>,
}

impl<'a> Field<'a> {
    pub(super) fn new(seen: &'a Observed, sketch: &'a [Option<Place>]) -> Self {
        let count = seen.points.len();
        let mut field = Self {
            seen,
            bonds_of: vec![Vec::new(); count],
            said_of: vec![Vec::new(); count],
            near: Vec::new(),
            sketch,
            groups: RefCell::default(),
        };
        let mut near = vec![Vec::new(); count];
        for (number, bond) in (0u32..).zip(&seen.bonds) {
            let members = members(bond);
            for &p in &members {
                push(&mut field.bonds_of, p, number);
                if let Some(near) = near.get_mut(p as usize) {
                    near.extend(members.iter().copied().filter(|&m| m != p));
                }
            }
        }
        for (number, Said { p, a, b, .. }) in (0u32..).zip(&seen.said) {
            for point in [*p, *a, *b] {
                push(&mut field.said_of, point, number);
                if let Some(near) = near.get_mut(point as usize) {
                    near.extend([*p, *a, *b].into_iter().filter(|&m| m != point));
                }
            }
        }
        for near in &mut near {
            ascending(near);
            near.dedup();
        }
        field.near = near;
        field
    }

    /// The first way to place as many points as the readings allow, where one is found at once and with no more misfit
    /// than this.
    pub(super) fn straight(&self, most: f64) -> Option<Draft> {
        let (a, b) = *self.seen.datums.first()?;
        let steps = FEW_STEPS + self.seen.points.len() / GROUP;
        let reach = Reach { most, steps, ways: 1 };
        self.grow(self.start(a, b, None)?, (a, b), true, reach).into_iter().next()
    }

    /// Places as many points as the readings allow, from the first pair that reaches most of them.
    pub(super) fn ways(&self) -> Option<Ways> {
        let bonded = self.bonds_of.iter().filter(|b| !b.is_empty()).count();
        let mut best: Option<Ways> = None;
        let mut tried = Vec::new();
        for &(a, b) in &self.seen.datums {
            let pair = (a.min(b), a.max(b));
            if tried.len() > 12 || tried.contains(&pair) {
                continue;
            }
            tried.push(pair);
            let Some(start) = self.start(a, b, None) else { continue };
            let drafts = self.grow(start, (a, b), true, Reach::FAR);
            let placed = drafts.first().map_or(0, |d| d.placed);
            if best.as_ref().is_none_or(|w| w.drafts.first().map_or(0, |d| d.placed) < placed) {
                best = Some(Ways { held: (a, b), drafts });
            }
            if 5 * placed >= 3 * bonded {
                break;
            }
        }
        best
    }

    /// The held pair, the first point at the origin, the second on x at the distance read. Points
    /// that another draft has placed are left to it.
    fn start(&self, a: u32, b: u32, beside: Option<&Draft>) -> Option<Draft> {
        let mut draft = Draft::new(self.seen.points.len(), beside);
        draft.put(a, [0.0, 0.0], 0.0);
        let loci = self.loci(&draft, b);
        let nearest = loci.iter().filter(|l| l.from == [a, a]);
        let nearest = nearest.min_by(|l, m| l.spread.total_cmp(&m.spread))?;
        let Form::Circle { radius, .. } = nearest.form else { return None };
        draft.put(b, [radius, 0.0], nearest.spread);
        (radius > 1e-3).then_some(draft)
    }

    /// Follows the best way first; a way that is already hopelessly worse than a finished one is
    /// given up, since misfits only add up.
    fn grow(&self, start: Draft, held: (u32, u32), islands: bool, reach: Reach) -> Vec<Draft> {
        let mut open = vec![start];
        let mut done: Vec<Draft> = Vec::new();
        let mut limit = reach.most;
        let mut steps = 0;
        loop {
            // With the steps used up and no way finished, the furthest one is followed to its end.
            let spent = steps >= reach.steps;
            if spent && (!done.is_empty() || reach.ways == 1) {
                break;
            }
            steps += 1;
            let rank = |i: &usize, j: &usize| {
                let (a, b) = (open.get(*i), open.get(*j));
                let further = || b.map_or(0, |d| d.placed).cmp(&a.map_or(0, |d| d.placed));
                if spent { further().then_with(|| order(a, b)) } else { order(a, b) }
            };
            let Some(best) = (0..open.len()).min_by(rank) else { break };
            let mut draft = open.swap_remove(best);
            let waiting = self.propagate(&mut draft, held, limit);
            if draft.score > limit {
                continue;
            }
            // A group that goes on well is worth more than a point that could stand in two places: it
            // places more, and may tell which. Not so where nothing tells its own ways apart.
            let wanted = self.most_wanted(&draft, &waiting);
            let joined = if islands { self.with_island(&draft, wanted.is_some()) } else { Vec::new() };
            let told = |ways: &[Draft]| match ways {
                [best, next, ..] => next.score > best.score + TOLD,
                _ => true,
            };
            if let Some((p, candidates)) = wanted
                && !(joined.len() <= candidates.len()
                    && joined.iter().any(|way| way.goes_on_well(&draft))
                    && told(&joined))
            {
                open.extend(self.branch(&draft, p, candidates).into_iter().filter(|d| d.score <= limit));
                continue;
            }
            if joined.is_empty() {
                self.place_leaves(&mut draft, &waiting);
                limit = limit.min(draft.score + HOPELESS);
                done.push(draft);
                if done.len() >= reach.ways {
                    break;
                }
            }
            open.extend(joined.into_iter().filter(|d| d.score <= limit));
        }
        sort_by(&mut done, |a, b| {
            b.placed.cmp(&a.placed).then(a.score.total_cmp(&b.score)).then(a.against.cmp(&b.against))
        });
        done
    }

    /// Places every point that has one place only; returns the candidates of those that have more.
    fn propagate(&self, draft: &mut Draft, held: (u32, u32), worst: f64) -> Vec<(u32, Vec<Candidate>)> {
        let mut waiting = Vec::new();
        for (stage, limit) in STAGES.into_iter().enumerate() {
            let before = draft.placed;
            waiting = self.place_certain(draft, limit, worst);
            if draft.score > worst {
                break;
            }
            // With nothing new to adjust the next stage may go on from here.
            if (draft.placed > before || stage == 0) && limit.is_finite() {
                self.adjust_placed(draft, held);
            }
        }
        waiting
    }

    fn place_certain(&self, draft: &mut Draft, limit: f64, worst: f64) -> Vec<(u32, Vec<Candidate>)> {
        let count = self.near.len();
        let mut known: Vec<Vec<Candidate>> = vec![Vec::new(); count];
        let mut version = vec![0u32; count];
        let mut heap = BinaryHeap::new();
        // Nothing can be said of points none of whose neighbours has a place.
        let bordering = |p: &u32| {
            let mut near = self.near.get(*p as usize).into_iter().flatten();
            draft.wants(*p) && near.any(|&q| draft.place(q).is_some())
        };
        let mut dirty: Vec<u32> = (0u32..).take(count).filter(bordering).collect();
        let mut turned = self.turned(draft);
        loop {
            for p in dirty.drain(..) {
                let (Some(known), Some(version)) = (known.get_mut(p as usize), version.get_mut(p as usize))
                else {
                    continue;
                };
                *version += 1;
                *known = if draft.wants(p) { self.candidates(draft, p) } else { Vec::new() };
                match certain(known) {
                    [only] if only.spread <= limit => {
                        heap.push(Reverse((only.spread.to_bits(), p, *version)))
                    }
                    _ => {}
                }
            }
            let Some(Reverse((_, p, made))) = heap.pop().filter(|_| draft.score <= worst) else {
                // A north that has become known shows the way to points out of reach before.
                let fresh =
                    if draft.score <= worst { self.newly_turned(draft, &mut turned) } else { Vec::new() };
                if fresh.is_empty() {
                    break;
                }
                dirty.extend(fresh);
                continue;
            };
            if version.get(p as usize) != Some(&made) {
                continue;
            }
            if let Some(best) = known.get(p as usize).and_then(|k| k.first()).copied() {
                draft.put(p, best.at, best.spread);
                draft.score += best.score;
                dirty.push(p);
                dirty.extend(self.near.get(p as usize).into_iter().flatten());
            }
        }
        (0u32..).zip(known).filter(|(_, k)| !k.is_empty()).collect()
    }

    /// Adjusts the points placed so far among themselves: those placed last with their neighbours, and now
    /// and then all.
    fn adjust_placed(&self, draft: &mut Draft, held: (u32, u32)) {
        let points = self.near.len();
        let mut free = vec![false; points];
        let mut set = |p: u32, to: bool| {
            if let Some(free) = free.get_mut(p as usize) {
                *free = to;
            }
        };
        match draft.adjusted() {
            None => draft.points().for_each(|p| set(p, true)),
            Some(fresh) => {
                for p in fresh {
                    set(p, true);
                    let near = self.near.get(p as usize).into_iter().flatten();
                    near.filter(|q| draft.place(**q).is_some()).for_each(|q| set(*q, true));
                }
            }
        }
        set(held.0, false);
        let is_free = |p: usize| free.get(p) == Some(&true);
        let there = |p: usize| u32::try_from(p).is_ok_and(|p| draft.place(p).is_some());
        let counts = |e: &Equation| e.each().any(is_free) && e.each().all(there);
        let mut equations: Vec<_> =
            self.seen.observations.iter().map(|o| o.equation).filter(counts).collect();
        let shared = self.seen.held_values(&equations);
        // Numbers in this network: the points it mentions, then all shared numbers.
        let mut number = vec![None; self.seen.nodes()];
        let mut mentioned: Vec<u32> = Vec::new();
        let named = equations.iter().flat_map(Equation::each).filter_map(|p| u32::try_from(p).ok());
        let others = (0u32..).take(self.seen.nodes()).skip(points);
        for p in named.chain(others) {
            if let Some(number @ None) = number.get_mut(p as usize) {
                *number = u32::try_from(mentioned.len()).ok();
                mentioned.push(p);
            }
        }
        for e in &mut equations {
            e.shape.renumber(|p| number.get(p as usize).copied().flatten().unwrap_or(p));
        }
        mentioned.truncate(mentioned.len() - shared.len());
        let hold = |&p: &u32| [!is_free(p as usize), !is_free(p as usize) || p == held.1];
        let mut flags: Vec<[bool; 2]> = mentioned.iter().map(hold).collect();
        flags.extend(shared);
        let network = Network { equations, held: flags };
        let mut start: Vec<Place> = mentioned.iter().map(|&p| draft.place(p).unwrap_or([0.0; 2])).collect();
        start.extend(self.seen.first_values(&|p| draft.place(p)));
        let solved = network.approach(&start, STEPS);
        if !solved.x.iter().flatten().all(|v| v.is_finite()) {
            return;
        }
        for (p, at) in mentioned.into_iter().zip(solved.x).filter(|(p, _)| is_free(*p as usize)) {
            let spread = draft.spread(p).min(ADJUSTED);
            draft.put(p, at, spread);
        }
    }

    /// The waiting point on which most others hang.
    fn most_wanted<'b>(
        &self,
        draft: &Draft,
        waiting: &'b [(u32, Vec<Candidate>)],
    ) -> Option<(u32, &'b [Candidate])> {
        let hanging = |p: u32| {
            let near = self.near.get(p as usize).into_iter().flatten();
            near.filter(|&&m| draft.place(m).is_none()).count()
        };
        let key = |(p, c): &&(u32, Vec<Candidate>)| {
            (Reverse(hanging(*p)), c.first().map_or(0, |c| c.spread.to_bits()), *p)
        };
        let (p, candidates) = waiting.iter().filter(|(p, _)| hanging(*p) > 0).min_by_key(key)?;
        Some((*p, certain(candidates)))
    }

    fn branch(&self, draft: &Draft, p: u32, candidates: &[Candidate]) -> Vec<Draft> {
        let preferred = self.preferred(draft, p, candidates);
        let Some(base) = candidates.first().map(|c| c.base) else { return Vec::new() };
        let mut ways: Vec<Draft> = Vec::new();
        for (taken, c) in candidates.iter().enumerate().take(4) {
            let mut way = draft.clone();
            way.put(p, c.at, c.spread);
            way.score += c.score;
            way.against += usize::from(taken != preferred);
            let other = candidates.iter().enumerate().find(|(i, _)| *i != taken).map_or(c.at, |(_, o)| o.at);
            way.choices.push(Choice { point: p, base, taken, other, leaf: false });
            ways.push(way);
        }
        ways
    }

    /// Points on which nothing hangs need no second way: each takes its preferred place.
    fn place_leaves(&self, draft: &mut Draft, waiting: &[(u32, Vec<Candidate>)]) {
        for (p, candidates) in waiting {
            let open = certain(candidates);
            let taken = self.preferred(draft, *p, open);
            let (Some(c), Some(first)) = (open.get(taken), open.first()) else { continue };
            draft.put(*p, c.at, c.spread);
            draft.score += c.score;
            if let Some((_, o)) = open.iter().enumerate().find(|(i, _)| *i != taken) {
                draft.choices.push(Choice { point: *p, base: first.base, taken, other: o.at, leaf: true });
            }
        }
    }

    /// Which candidate stands on the side the sketch shows, or else to the left.
    fn preferred(&self, draft: &Draft, p: u32, candidates: &[Candidate]) -> usize {
        let Some(first) = candidates.first() else { return 0 };
        let [a, b] = first.base;
        let drawn = |p: u32| self.sketch.get(p as usize).copied().flatten();
        let left = match (drawn(a), drawn(b), drawn(p)) {
            (Some(a), Some(b), Some(p)) => side(a, b, p) >= 0.0,
            _ => true,
        };
        // Each candidate was found from a base line of its own: compare them on one.
        let (Some(a), Some(b)) = (draft.place(a), draft.place(b)) else { return 0 };
        candidates.iter().position(|c| (side(a, b, c.at) >= 0.0) == left).unwrap_or(0)
    }
}

/// The better way first: fewer misfits than its points let expect, then fewer places against habit, then
/// further along.
fn order(a: Option<&Draft>, b: Option<&Draft>) -> std::cmp::Ordering {
    #[expect(clippy::cast_precision_loss, reason = "a count of points is far below 2^52")]
    let excess = |d: &Draft| d.score - MISFIT_OF_POINT * d.placed as f64;
    let key = |d: Option<&Draft>| d.map_or((f64::INFINITY, 0, 0), |d| (excess(d), d.against, d.placed));
    let (a, b) = (key(a), key(b));
    a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(b.2.cmp(&a.2))
}

/// What a said side costs when the places contradict it; little when the point is near the line.
pub(super) fn side_cost(said: &Said, place: impl Fn(u32) -> Option<Place>, spread: f64) -> f64 {
    let (Some(p), Some(a), Some(b)) = (place(said.p), place(said.a), place(said.b)) else { return 0.0 };
    let h = side(a, b, p) * if said.left { 1.0 } else { -1.0 };
    if h >= 0.0 {
        return 0.0;
    }
    let t = h / (0.02 + spread);
    (t * t).min(WRONG_SIDE)
}

/// Signed distance of p from the line a → b, left positive.
pub(super) fn side(a: Place, b: Place, p: Place) -> f64 {
    let (along, _) = super::equation::ray(a, b);
    cross(along, sub(p, a))
}

pub(super) fn members(bond: &Bond) -> Vec<u32> {
    match bond {
        Bond::Distance { a, b, .. } => vec![*a, *b],
        Bond::Rigid(rigid) => {
            let mut all: Vec<u32> = rigid.members.iter().map(|(p, _)| *p).collect();
            let axis = rigid.axis.into_iter().flat_map(|(a, b)| [a, b]);
            let more: Vec<u32> = axis.filter(|p| !all.contains(p)).collect();
            all.extend(more);
            all
        }
        Bond::Square { at, a, c } => vec![*at, *a, *c],
        Bond::Line(points) => points.clone(),
        Bond::Angle { at, from, to, .. } => vec![*at, *from, *to],
        Bond::Bearing { a, b, .. } => vec![*a, *b],
        Bond::Parallel { a, b, c, d, .. } | Bond::Same { a, b, c, d, .. } => vec![*a, *b, *c, *d],
    }
}

fn push(lists: &mut [Vec<u32>], p: u32, number: u32) {
    if let Some(list) = lists.get_mut(p as usize)
        && list.last() != Some(&number)
    {
        list.push(number);
    }
}
