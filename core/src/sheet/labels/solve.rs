//! Chooses one candidate for each label so that none share ground and the sum of costs is small.
//!
//! Greedy first: the label with the fewest places goes first. Then every label that is left out or stands
//! badly tries its better places; where others stand there, these make room when the sum becomes less. At
//! every moment no two chosen places share ground, so nothing has to be mended at the end.

use super::candidates::Far;
use super::slab::{Grid, Slab};
use super::{Candidate, GAP, Kind, Label, Thin};
use crate::sheet::geometry::{Frame, Spot};

/// What a piece of a placed label is.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Part {
    /// Its ground is so much longer at both ends, mm, which keeps off other texts alone: a word right before or
    /// behind would be read as one with it.
    Text(f64),
    Thin(Thin),
}

/// Whether two pieces, each with its ground, cannot both stand.
fn exclude((a, slab): (Part, &Slab), (b, other): (Part, &Slab)) -> bool {
    match (a, b) {
        (Part::Text(_), Part::Text(_)) => slab.meets(other),
        (Part::Text(more), Part::Thin(_)) => slab.longer(-more).meets(other),
        (Part::Thin(_), Part::Text(more)) => slab.meets(&other.longer(-more)),
        (Part::Thin(a), Part::Thin(b)) => a == Thin::Leader && b == Thin::Leader && slab.meets(other),
    }
}

/// Least distance of two texts in one line, mm: two spaces between words and a little more.
const READS: f64 = 1.9;

/// Labels that may have to make room at once.
const MOVED: usize = 6;
/// Passes over all labels at most.
const PASSES: usize = 8;
/// Candidates looked at, at most, on any sheet and for each label of a large one: bounds the time on a sheet too full
/// for its labels.
const LOOKS: usize = 400_000;
const LOOKS_EACH: usize = 250;
/// A label that stands worse than this also tries places on a leader.
const BAD: f64 = 15.0;
/// One that stands worse than this has others move out of its way.
const VERY_BAD: f64 = 25.0;
/// Others are asked to make room for no less than this.
const WORTHWHILE: f64 = 1.5;
/// Longest piece of a thin line in the grid, mm.
const PIECE: f64 = 8.0;

/// Chooses a candidate for each label, or none where it finds no room. `far` makes a label's places on a
/// leader, which are added to its candidates when it needs them.
pub(super) fn places(window: Frame, labels: &mut [Label<'_>], far: impl Fn(&Far) -> Vec<Candidate>) -> Table {
    let mut table = Table::new(window, labels.len());
    table.greedy(labels);
    table.improve(labels);
    // On a sheet too full for its labels leaders would find no room either.
    if table.tired() {
        return table;
    }
    // Who stands badly gets places farther away, and so do those around them, who may have to make room.
    let bad = |l: usize, label: &Label<'_>| table.cost(label, l) > BAD && !is_minor(label.kind);
    let mut around: Grid<()> = Grid::new(window);
    for (_, label) in labels.iter().enumerate().filter(|(l, label)| bad(*l, label)) {
        label.near.iter().for_each(|candidate| around.add(candidate.slab, ()));
        let thin = label.near.iter().flat_map(|candidate| candidate.thin.iter());
        thin.flat_map(|(a, b, _)| pieces(*a, *b)).for_each(|piece| around.add(piece, ()));
    }
    let beset = |label: &Label<'_>| {
        let meets = |slab: &Slab| around.near(&slab.bounds()).any(|(other, ())| other.meets(slab));
        label.near.iter().any(|candidate| meets(&candidate.slab))
    };
    for (l, label) in labels.iter_mut().enumerate() {
        if let Some(places) = label.far.as_ref().filter(|_| bad(l, label) || beset(label)) {
            // After the others, so that the chosen one keeps its number.
            label.near.extend(far(places));
        }
    }
    table.greedy(labels);
    table.improve(labels);
    table.force(labels);
    table
}

/// Written only where room is left.
fn is_minor(kind: Kind) -> bool {
    matches!(kind, Kind::Tie | Kind::Fall)
}

/// What stands where.
pub(super) struct Table {
    at: Vec<Option<usize>>,
    grid: Grid<(usize, Part)>,
    looks: usize,
}

impl Table {
    fn new(window: Frame, labels: usize) -> Self {
        Self { at: vec![None; labels], grid: Grid::new(window), looks: 0 }
    }

    /// The candidate a label stands at.
    pub fn chosen(&self, l: usize) -> Option<usize> {
        self.at.get(l).copied().flatten()
    }

    /// Whether enough has been tried.
    fn tired(&self) -> bool {
        self.looks > LOOKS.max(LOOKS_EACH * self.at.len())
    }

    /// What a label costs where it stands.
    fn cost(&self, label: &Label<'_>, l: usize) -> f64 {
        let candidate = self.chosen(l).and_then(|at| label.near.get(at));
        candidate.map_or(label.worth, |candidate| candidate.cost)
    }

    /// Places all that have no place yet where they are cheapest.
    fn greedy(&mut self, labels: &[Label<'_>]) {
        let mut order: Vec<(usize, &Label<'_>)> =
            labels.iter().enumerate().filter(|(l, _)| self.chosen(*l).is_none()).collect();
        // Dimensions need most room and have least choice; then whoever has least.
        let first = |label: &Label<'_>| label.kind != Kind::Dimension;
        let last = |label: &Label<'_>| is_minor(label.kind);
        order.sort_by_key(|(_, label)| (first(label), last(label), label.near.len()));
        for (l, label) in order {
            if let Some(at) = self.free(label, l) {
                self.put(l, at, label);
            }
        }
    }

    /// The cheapest candidate where nobody stands.
    fn free(&mut self, label: &Label<'_>, l: usize) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for (k, candidate) in label.near.iter().enumerate() {
            let better = candidate.cost < best.map_or(label.worth, |(cost, _)| cost);
            if better && self.in_the_way(l, candidate, 0).is_some() {
                best = Some((candidate.cost, k));
            }
        }
        best.map(|(_, k)| k)
    }

    fn improve(&mut self, labels: &[Label<'_>]) {
        for _ in 0..PASSES {
            let mut better = false;
            for (l, label) in labels.iter().enumerate() {
                better |= self.better(labels, l, label);
            }
            if !better || self.tired() {
                return;
            }
        }
    }

    /// Puts those that are left out or stand very badly where they want, whoever stands there, lets all these find new places and have
    /// yet others make room, and keeps that when the sum is less.
    fn force(&mut self, labels: &[Label<'_>]) {
        for (l, label) in labels.iter().enumerate().filter(|(_, label)| !is_minor(label.kind)) {
            let stands = self.cost(label, l);
            if stands < VERY_BAD {
                continue;
            }
            let (before, kept) = (self.sum(labels), self.at.clone());
            for (k, candidate) in label.near.iter().enumerate().filter(|(_, c)| c.cost < stands - 5.0) {
                let Some(others) = self.in_the_way(l, candidate, MOVED * 3) else { continue };
                others.iter().chain([&l]).for_each(|o| self.lift(*o, labels));
                self.put(l, k, label);
                for o in others {
                    let Some(other) = labels.get(o) else { continue };
                    match self.free(other, o) {
                        Some(at) => self.put(o, at, other),
                        None => drop(self.better(labels, o, other)),
                    }
                }
                if self.sum(labels) < before - 0.05 {
                    break;
                }
                self.restore(&kept, labels);
                if self.tired() {
                    return;
                }
            }
        }
    }

    fn sum(&self, labels: &[Label<'_>]) -> f64 {
        labels.iter().enumerate().map(|(l, label)| self.cost(label, l)).sum()
    }

    fn restore(&mut self, kept: &[Option<usize>], labels: &[Label<'_>]) {
        let changed: Vec<usize> = (0..kept.len()).filter(|l| kept.get(*l) != self.at.get(*l)).collect();
        changed.iter().for_each(|l| self.lift(*l, labels));
        for l in changed {
            if let (Some(Some(k)), Some(label)) = (kept.get(l), labels.get(l)) {
                self.put(l, *k, label);
            }
        }
    }

    /// Moves a label to a better place, if need be by having others make room.
    fn better(&mut self, labels: &[Label<'_>], l: usize, label: &Label<'_>) -> bool {
        let stands = self.cost(label, l);
        for (k, candidate) in label.near.iter().enumerate() {
            if candidate.cost >= stands - 0.05 || self.tired() {
                continue;
            }
            let most = if stands - candidate.cost > WORTHWHILE { MOVED } else { 0 };
            let Some(others) = self.in_the_way(l, candidate, most) else { continue };
            let before: Vec<(usize, Option<usize>)> =
                others.iter().map(|o| (*o, self.chosen(*o))).chain([(l, self.chosen(l))]).collect();
            let mut gain = stands - candidate.cost;
            for (o, _) in &before {
                self.lift(*o, labels);
            }
            self.put(l, k, label);
            for o in &others {
                let Some(other) = labels.get(*o) else { continue };
                let was = before.iter().find(|(n, _)| n == o).and_then(|(_, at)| other.near.get((*at)?));
                gain += was.map_or(other.worth, |was| was.cost);
                if let Some(at) = self.free(other, *o) {
                    self.put(*o, at, other);
                }
                gain -= self.cost(other, *o);
                if gain <= 0.0 {
                    break;
                }
            }
            if gain > 0.05 {
                return true;
            }
            for (o, _) in &before {
                self.lift(*o, labels);
            }
            for (o, at) in before {
                if let (Some(at), Some(other)) = (at, labels.get(o)) {
                    self.put(o, at, other);
                }
            }
        }
        false
    }

    /// The other labels that stand where a candidate would; none when they are more than `most`.
    fn in_the_way(&mut self, l: usize, candidate: &Candidate, most: usize) -> Option<Vec<usize>> {
        self.looks += 1;
        let mut others = Vec::new();
        for (slab, part) in parts(candidate) {
            for (taken, (o, theirs)) in self.grid.near(&slab.bounds()) {
                if *o != l && !others.contains(o) && exclude((part, &slab), (*theirs, taken)) {
                    if others.len() == most {
                        return None;
                    }
                    others.push(*o);
                }
            }
        }
        Some(others)
    }

    /// Whether nobody stands there.
    pub fn is_free(&mut self, candidate: &Candidate) -> bool {
        self.in_the_way(usize::MAX, candidate, 0).is_some()
    }

    fn put(&mut self, l: usize, k: usize, label: &Label<'_>) {
        let (Some(candidate), Some(at)) = (label.near.get(k), self.at.get_mut(l)) else { return };
        *at = Some(k);
        for (slab, part) in parts(candidate) {
            self.grid.add(slab, (l, part));
        }
    }

    fn lift(&mut self, l: usize, labels: &[Label<'_>]) {
        let Some(k) = self.at.get_mut(l).and_then(Option::take) else { return };
        if let Some(candidate) = labels.get(l).and_then(|label| label.near.get(k)) {
            for (slab, _) in parts(candidate) {
                self.grid.remove(&slab, |(o, _)| *o == l);
            }
        }
    }
}

/// The ground a candidate takes, long lines in pieces.
fn parts(candidate: &Candidate) -> impl Iterator<Item = (Slab, Part)> {
    let more = if candidate.reads { (READS - GAP) / 2.0 } else { 0.0 };
    let text = std::iter::once((candidate.slab.grown(GAP / 2.0).longer(more), Part::Text(more)));
    let thin = candidate
        .thin
        .iter()
        .flat_map(|(a, b, thin)| pieces(*a, *b).map(|strip| (strip.grown(GAP / 2.0), Part::Thin(*thin))));
    text.chain(thin)
}

/// A line in short pieces, so that it takes few cells of a grid.
fn pieces(a: Spot, b: Spot) -> impl Iterator<Item = Slab> {
    let line = a.direction(b);
    let count = line.map_or(0.0, |(.., length)| (length / PIECE).ceil().clamp(1.0, 200.0));
    let shares = std::iter::successors(Some(0.5), |n| Some(n + 1.0)).take_while(move |n| *n < count);
    shares.filter_map(move |n| {
        let (ux, uy, length) = line?;
        Some(Slab { centre: a.toward(b, n / count), along: (ux, uy), half: (length / count / 2.0, 0.0) })
    })
}
