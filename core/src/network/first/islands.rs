//! Groups of points that hold together among themselves and hang on the rest by single ties, none
//! of which places a point alone: a garage walked round, each of its corners tied once.
//!
//! Such a group is built in its own frame and then carried onto the plan: shift and turn from its
//! ties to placed points, tried from many turns, since the equations have several solutions.

use super::super::equation::{Equation, Place, Shape, ray, sub};
use super::draft::{Choice, Draft};
use super::loci::{Form, Locus, meet};
use super::{ADJUSTED, CAP, CERTAIN, Field, Reach, side_cost};
use crate::units::float::{cos, hypot, sin};
use crate::units::{ascending, sort_by};
use std::cell::RefCell;
use std::rc::Rc;

/// Turns tried: every ten degrees.
const TURNS: u32 = 36;
/// Starts that differ by less (radians, metres) most likely end at the same place.
const SAME_TURN: f64 = 0.2;
const SAME_SHIFT: f64 = 1.5;
/// Starts followed, those whose ties come nearest to meeting.
const STARTS: usize = 24;
/// How much a tie that is missed counts at most in choosing them (metres).
const FAR: f64 = 3.0;
/// Ties needed to carry a group over: shift and turn.
const LEAST_LINKS: usize = 3;

/// A group built apart.
pub(super) struct Group {
    seed: (u32, u32),
    size: Size,
    members: Vec<u32>,
    /// Placed points beside it when it was built: they were not to join it.
    border: Vec<u32>,
    /// The ways it stands among itself, best first.
    ways: Vec<Draft>,
    /// Where it went when it was carried over before.
    carried: RefCell<Vec<Before>>,
}

/// Where a group went by these ties.
struct Before {
    way: usize,
    ties: Vec<u32>,
    found: Vec<Carried>,
}

impl Group {
    /// Whether it would be built the same beside this draft.
    fn same_in(&self, draft: &Draft) -> bool {
        !self.members.is_empty()
            && self.members.iter().all(|p| draft.place(*p).is_none())
            && self.border.iter().all(|p| draft.place(*p).is_some())
    }
}

/// A tie between a point of the group and a placed one.
struct Link {
    local: Place,
    anchor: Place,
    anchor_point: u32,
    /// The tie's number among the observations.
    number: u32,
    value: f64,
    spread: f64,
}

/// How much is taken for a group.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Size {
    /// What stands in one way only.
    Stiff,
    /// What could stand in several ways, too.
    All,
    /// One walk alone: a misread between two houses would join them wrongly.
    Walk,
}

/// Where a group goes.
#[derive(Clone, Copy)]
struct Carried {
    turn: f64,
    /// The turn's cosine and sine.
    along: Place,
    shift: Place,
    mirror: f64,
    score: f64,
}

impl Carried {
    /// Whether another start would most likely end at the same place.
    fn near(&self, other: &Self) -> bool {
        let turned = (self.turn - other.turn).abs();
        let turned = turned.min(std::f64::consts::TAU - turned);
        let [x, y] = sub(self.shift, other.shift);
        self.mirror == other.mirror && turned < SAME_TURN && x.abs() + y.abs() < SAME_SHIFT
    }

    /// Turned about the group's origin, and the right way round or mirrored.
    fn turned(turn: f64, mirror: f64) -> Self {
        Self { turn, along: [cos(turn), sin(turn)], shift: [0.0; 2], mirror, score: 0.0 }
    }

    /// By how much a tie is too long.
    fn misses(&self, tie: &Link) -> f64 {
        ray(tie.anchor, self.place(tie.local)).1 - tie.value
    }

    /// Where a place of the group goes.
    fn place(&self, [x, y]: Place) -> Place {
        let ([c, s], y) = (self.along, self.mirror * y);
        [self.shift[0] + c * x - s * y, self.shift[1] + s * x + c * y]
    }
}

/// Whether links can hold shift and turn: to one anchor only, or from one member, the turn stays free.
fn tie_down(links: &[Link]) -> bool {
    let Some(first) = links.first() else { return false };
    let anchors = links.iter().any(|l| l.anchor_point != first.anchor_point);
    links.len() >= LEAST_LINKS && anchors && links.iter().any(|l| l.local != first.local)
}

impl Field<'_> {
    /// The points that can be placed from a pair of loose ones, apart from all known ones, in a frame
    /// of their own.
    pub(in super::super) fn apart(&self, known: &[Option<Place>], seed: (u32, u32)) -> Vec<(usize, Place)> {
        let mut beside = Draft::new(known.len(), None);
        for (p, at) in (0u32..).zip(known) {
            if let Some(at) = at {
                beside.put(p, *at, 0.0);
            }
        }
        let start = self.start(seed.0, seed.1, Some(&beside));
        let best = start.and_then(|start| self.grow(start, seed, false, Reach::FAR).into_iter().next());
        best.map_or_else(Vec::new, |best| self.placed(&best).map(|(p, at)| (p as usize, at)).collect())
    }

    /// The ways to add a group: the first that goes on well in one way only, or else the one that goes on
    /// well in the fewest ways, or else any; none when there is no such group. Stiff groups come first;
    /// only when none of them goes on well, and these are not the only ones wanted, those that could
    /// stand in several ways themselves.
    pub(super) fn with_island(&self, draft: &Draft, stiff_only: bool) -> Vec<Draft> {
        let mut best: Vec<Draft> = Vec::new();
        let well = |ways: &[Draft]| ways.iter().any(|way| way.goes_on_well(draft));
        for size in [Size::Stiff, Size::All, Size::Walk] {
            if size != Size::Stiff && (stiff_only || size == Size::Walk && !best.is_empty()) {
                break;
            }
            let mut tried = Draft::new(self.near.len(), None);
            for &seed in &self.seen.datums {
                let apart = |p: u32| draft.place(p).is_none() && tried.place(p).is_none();
                if !(apart(seed.0) && apart(seed.1)) {
                    continue;
                }
                let group = self.group(draft, seed, size);
                // Another pair of the same group would build it again.
                for (p, at) in group.ways.first().into_iter().flat_map(|way| self.placed(way)) {
                    tried.put(p, at, 0.0);
                }
                let ways = self.carried_over(draft, &group);
                let rank = |ways: &[Draft]| (!well(ways), ways.len());
                if !ways.is_empty() && (best.is_empty() || rank(&ways) < rank(&best)) {
                    best = ways;
                    if rank(&best) == (false, 1) {
                        return best;
                    }
                }
            }
            if well(&best) {
                break;
            }
        }
        best
    }

    /// The group around a pair as it stands among itself, best way first.
    /// While its points wait to be carried over, the yard around it grows, but it stays the same: it is
    /// built once.
    fn group(&self, draft: &Draft, seed: (u32, u32), size: Size) -> Rc<Group> {
        let fits = |g: &&Rc<Group>| g.seed == seed && g.size == size && g.same_in(draft);
        let built = self.groups.borrow().iter().find(fits).map(Rc::clone);
        if let Some(group) = built {
            return group;
        }
        let ways = self.build(draft, seed, size);
        let sorted = |points: &mut Vec<u32>| {
            ascending(points);
            points.dedup();
        };
        let mut members: Vec<u32> = ways.iter().flat_map(Draft::points).collect();
        sorted(&mut members);
        let beside = members.iter().flat_map(|p| self.near.get(*p as usize).into_iter().flatten().copied());
        let mut border: Vec<u32> = beside.filter(|q| draft.place(*q).is_some()).collect();
        sorted(&mut border);
        let group = Rc::new(Group { seed, size, members, border, ways, carried: RefCell::default() });
        self.groups.borrow_mut().push(Rc::clone(&group));
        group
    }

    fn build(&self, draft: &Draft, seed: (u32, u32), size: Size) -> Vec<Draft> {
        let Some(mut start) = self.start(seed.0, seed.1, Some(draft)) else { return Vec::new() };
        match size {
            Size::All => return self.grow(start, seed, false, Reach::FAR),
            Size::Stiff => {}
            Size::Walk => {
                let walk = self.walk(seed);
                (0u32..).take(self.near.len()).filter(|p| !walk.contains(p)).for_each(|p| start.leave(p));
            }
        }
        self.propagate(&mut start, seed, f64::INFINITY);
        vec![start]
    }

    /// The points of the walk or run in which a pair was read.
    fn walk(&self, (a, b): (u32, u32)) -> Vec<u32> {
        let pair = |e: &Equation| matches!(e.shape, Shape::Distance { a: p, b: q } if (p, q) == (a, b));
        let read = self.seen.observations.iter().find(|o| pair(&o.equation)).map(|o| o.measurement);
        let mine = self.seen.observations.iter().filter(|o| Some(o.measurement) == read);
        mine.flat_map(|o| o.equation.each()).filter_map(|p| u32::try_from(p).ok()).collect()
    }

    fn carried_over(&self, draft: &Draft, group: &Group) -> Vec<Draft> {
        let Some(best) = group.ways.first() else { return Vec::new() };
        let (most, least) = (best.placed, best.score);
        let mut found: Vec<(&Draft, Carried)> = Vec::new();
        let alike = group.ways.iter().enumerate();
        for (way, island) in alike.filter(|(_, i)| i.placed == most && i.score < least + CERTAIN).take(4) {
            let links = self.links(draft, island);
            if tie_down(&links) {
                found.extend(self.carry(draft, group, way, &links).into_iter().map(|c| (island, c)));
            }
        }
        sort_by(&mut found, |a, b| a.1.score.total_cmp(&b.1.score));
        let Some(limit) = found.first().map(|f| f.1.score + CERTAIN) else { return Vec::new() };
        let mut distinct: Vec<Vec<(u32, Place)>> = Vec::new();
        let mut ways = Vec::new();
        for (island, carried) in found.into_iter().filter(|f| f.1.score < limit) {
            let places = self.placed(island).map(|(p, at)| (p, carried.place(at))).collect::<Vec<_>>();
            if distinct.iter().any(|other| same(other, &places)) {
                continue;
            }
            let mut way = draft.clone();
            way.score += island.score + carried.score;
            for &(p, at) in &places {
                way.put(p, at, ADJUSTED);
            }
            // What nothing tells apart in the group itself is still open where it goes.
            way.against += island.against;
            way.choices.extend(island.choices.iter().map(|c| Choice { other: carried.place(c.other), ..*c }));
            ways.push(way);
            distinct.push(places);
        }
        self.note_choice(&mut ways, group.seed);
        ways
    }

    /// Several ways to carry a group over are a choice of the place of its first point.
    fn note_choice(&self, ways: &mut [Draft], (a, b): (u32, u32)) {
        let at: Vec<Option<Place>> = ways.iter().map(|w| w.place(a)).collect();
        for (taken, way) in ways.iter_mut().enumerate().filter(|_| at.len() > 1) {
            let other = at.iter().enumerate().find(|(i, _)| *i != taken).and_then(|(_, p)| *p);
            let anchors = self.near.get(a as usize).into_iter().chain(self.near.get(b as usize)).flatten();
            let mut anchors = anchors.copied().filter(|&q| q != a && way.place(q).is_some());
            let base = [anchors.next().unwrap_or(b), anchors.next().unwrap_or(b)];
            let other = other.unwrap_or_default();
            way.against += usize::from(taken > 0);
            way.choices.push(Choice { point: a, base, taken, other, leaf: false });
        }
    }

    fn placed<'b>(&self, island: &'b Draft) -> impl Iterator<Item = (u32, Place)> + use<'b> {
        (0u32..).take(self.near.len()).filter_map(|p| Some((p, island.place(p)?)))
    }

    fn links(&self, draft: &Draft, island: &Draft) -> Vec<Link> {
        let link = |number: u32, a: u32, b: u32, value: f64, sd: f64| {
            let (local, anchor) = (island.place(a)?, draft.place(b)?);
            let spread = hypot(hypot(sd, island.spread(a).min(ADJUSTED)), draft.spread(b).min(ADJUSTED));
            Some(Link { local, anchor, anchor_point: b, number, value, spread })
        };
        let ties = (0u32..).zip(&self.seen.observations).filter_map(|(n, o)| match o.equation.shape {
            Shape::Distance { a, b } => Some((n, a, b, o.equation.value, o.equation.sd)),
            _ => None,
        });
        ties.filter_map(|(n, a, b, value, sd)| link(n, a, b, value, sd).or_else(|| link(n, b, a, value, sd)))
            .collect()
    }

    /// Shift and turn of a group, from where the same ties carried it before, or else from everywhere.
    fn carry(&self, draft: &Draft, group: &Group, way: usize, links: &[Link]) -> Vec<Carried> {
        let Some(island) = group.ways.get(way) else { return Vec::new() };
        let ties: Vec<u32> = links.iter().map(|l| l.number).collect();
        let before =
            group.carried.borrow().iter().find(|b| b.way == way && b.ties == ties).map(|b| b.found.clone());
        let again = before.iter().flatten().filter_map(|c| self.fitted(draft, island, links, *c));
        let again: Vec<Carried> = again.collect();
        if !again.is_empty() {
            return again;
        }
        let found = self.carry_anew(draft, island, links);
        group.carried.borrow_mut().push(Before { way, ties, found: found.clone() });
        found
    }

    /// Shift and turn of the group, both ways round, from every starting turn.
    fn carry_anew(&self, draft: &Draft, island: &Draft, links: &[Link]) -> Vec<Carried> {
        let mut starts = Vec::new();
        // Each with one half the list away and so on, so that a misread spoils two pairs at most.
        let (count, half) = (links.len(), links.len() / 2);
        let partners = |by: usize| links.iter().zip(links.iter().cycle().skip(by));
        let pairs = (half..half + count).filter(|by| by % count != 0).flat_map(partners);
        for pair in pairs.take(6) {
            starts.extend([1.0, -1.0].into_iter().flat_map(|mirror| round(links, pair, mirror)));
        }
        // Only where the ties nearly meet already is it worth going on.
        let far = |start: &Carried| links.iter().map(|l| start.misses(l).abs().min(FAR)).sum::<f64>();
        let mut starts: Vec<(f64, Carried)> = starts.into_iter().map(|start| (far(&start), start)).collect();
        sort_by(&mut starts, |a, b| a.0.total_cmp(&b.0));
        let mut tried: Vec<Carried> = Vec::new();
        for (_, start) in starts {
            if tried.len() >= STARTS {
                break;
            }
            if !tried.iter().any(|t| t.near(&start)) {
                tried.push(start);
            }
        }
        tried.into_iter().filter_map(|start| self.fitted(draft, island, links, start)).collect()
    }

    /// Improves shift and turn by Gauss-Newton and keeps them when the ties and sides agree.
    fn fitted(&self, draft: &Draft, island: &Draft, links: &[Link], mut c: Carried) -> Option<Carried> {
        for _ in 0..12 {
            let step = improve(links, &c)?;
            let shift = [c.shift[0] + step[1], c.shift[1] + step[2]];
            c = Carried { shift, ..Carried::turned(c.turn + step[0].clamp(-0.3, 0.3), c.mirror) };
            if step.iter().all(|part| part.abs() < 1e-5) {
                break;
            }
        }
        let cost = |l: &Link| {
            let t = c.misses(l) / l.spread;
            (t * t).min(CAP)
        };
        let place = |q: u32| island.place(q).map(|at| c.place(at)).or_else(|| draft.place(q));
        let sides =
            self.seen.said.iter().filter(|s| [s.p, s.a, s.b].iter().any(|&q| island.place(q).is_some()));
        c.score = links.iter().map(cost).sum::<f64>() + sides.map(|s| side_cost(s, place, 0.0)).sum::<f64>();
        // A group most of whose ties disagree was carried nowhere.
        #[expect(clippy::cast_precision_loss, reason = "a handful of ties")]
        let enough = c.score.is_finite() && c.score < CAP * (links.len() as f64 - 2.0).max(1.0);
        enough.then_some(c)
    }
}

/// All the way round, where two ties meet: from every turn, and from the turns between at which a third tie passes from
/// too short to too long. Three ties between two stiff groups are true in up to six places (the linkage of three bars),
/// of which none may be overlooked: another would then be taken for the only one.
fn round(links: &[Link], (one, two): (&Link, &Link), mirror: f64) -> Vec<Carried> {
    let meeting = |turn: f64| {
        let free = Carried::turned(turn, mirror);
        let circle = |l: &Link| Locus {
            form: Form::Circle { centre: sub(l.anchor, free.place(l.local)), radius: l.value },
            spread: 0.5,
            from: [l.anchor_point; 2],
        };
        meet(&circle(one), &circle(two)).map(|shift| shift.map(|shift| Carried { shift, ..free }))
    };
    let turn = |step: u32| f64::from(step) * std::f64::consts::TAU / f64::from(TURNS);
    // The next in the list: another with each pair.
    let mut after = links.iter().chain(links).skip_while(|l| l.number != two.number);
    let third = after.find(|l| l.number != one.number && l.number != two.number);
    let mut starts = Vec::new();
    let mut before: [Option<Carried>; 2] = [None; 2];
    for step in 0..=TURNS {
        let now = meeting(turn(step));
        for (branch, (was, is)) in before.iter().zip(&now).enumerate() {
            let (Some(was), Some(is), Some(third)) = (was, is, third) else { continue };
            let (a, b) = (was.misses(third), is.misses(third));
            if (a < 0.0) != (b < 0.0) {
                let between = was.turn + (is.turn - was.turn) * a / (a - b);
                starts.extend(meeting(between).into_iter().skip(branch).take(1).flatten());
            }
        }
        starts.extend(now.iter().flatten().copied().filter(|_| step < TURNS));
        before = now;
    }
    starts
}

/// One damped step of turn and shift.
fn improve(links: &[Link], c: &Carried) -> Option<[f64; 3]> {
    let (mut n, mut g) = ([[0.0; 3]; 3], [0.0; 3]);
    for l in links {
        let at = c.place(l.local);
        let ([x, y], length) = ray(l.anchor, at);
        let arm = sub(at, c.shift);
        let row = [x * -arm[1] + y * arm[0], x, y];
        let t = (length - l.value) / l.spread;
        let w = (3.0 / t.abs()).min(1.0) / (l.spread * l.spread);
        for ((line, left), part) in n.iter_mut().zip(row).zip(&mut g) {
            for (cell, right) in line.iter_mut().zip(row) {
                *cell += w * left * right;
            }
            *part -= w * left * (length - l.value);
        }
    }
    for (i, line) in n.iter_mut().enumerate() {
        if let Some(cell) = line.get_mut(i) {
            *cell *= 1.0 + 1e-6;
        }
    }
    cramer(n, g)
}

/// Three equations by determinants.
fn cramer(n: [[f64; 3]; 3], g: [f64; 3]) -> Option<[f64; 3]> {
    let [a, b, c] = n;
    let det = triple(a, b, c);
    let column = |i: usize| {
        let put = |mut line: [f64; 3], v: f64| {
            if let Some(cell) = line.get_mut(i) {
                *cell = v;
            }
            line
        };
        triple(put(a, g[0]), put(b, g[1]), put(c, g[2])) / det
    };
    let step = [column(0), column(1), column(2)];
    (det.abs() > 0.0 && step.iter().all(|v| v.is_finite())).then_some(step)
}

fn triple(a: [f64; 3], b: [f64; 3], c: [f64; 3]) -> f64 {
    a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0])
        + a[2] * (b[0] * c[1] - b[1] * c[0])
}

fn same(one: &[(u32, Place)], two: &[(u32, Place)]) -> bool {
    one.len() == two.len() && one.iter().zip(two).all(|((p, a), (q, b))| p == q && ray(*a, *b).1 < 0.1)
}
