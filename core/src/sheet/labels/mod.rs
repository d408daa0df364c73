//! Finds places for everything written on the plan, so that no two texts and no text and sign overlap.
//!
//! Each label comes with candidate places, each with its cost: how far it is from where one looks for it,
//! and what line work it covers. What covers a sign, or leaves the window, is no candidate. [`solve`] then
//! chooses one for each, or none: candidates that share ground exclude each other. A label without room
//! beside its thing gets places farther away, with a leader. What still finds no room is left out, and
//! counted. Everything goes by a fixed order, so the same plan gives the same sheet.

mod candidates;
mod own;
mod slab;
mod solve;
mod words;

pub(super) use candidates::{Beside, Candidate, Far, Pose, tied};
pub(super) use own::Owner;
pub(super) use slab::Slab;
pub(super) use words::{LEADING, Words, along_box, write_along};

use super::geometry::{Frame, Spot, sides};
use super::pen::Pen;
use super::picture::{Picture, Role};
use own::Signs;
use slab::{Grid, Lines};

/// Width of a leader, mm.
const LEADER: f64 = 0.18;
/// Kept free around every text, mm.
const GAP: f64 = 0.3;

/// The layer a label is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Group {
    Names,
    Heights,
    Contours,
    Falls,
    Dimensions,
    Ties,
    Photos,
    Problems,
    Questions,
}

/// What a leader or a thin line of a label's own keeps off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Thin {
    /// Crosses neither words nor other leaders.
    Leader,
    /// A dimension's lines: crosses no words.
    Work,
    /// What goes with such a line, and is judged by it: its ticks, and the lines from the wall.
    Side,
}

/// What a label stands for, for the count of those left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    Point,
    Name,
    Dimension,
    Tie,
    Sign,
    Height,
    Contour,
    /// Of which there are as many as have room: none is missed.
    Fall,
}

type Drawn<'a> = Box<dyn Fn(&mut Picture, &Pose) + 'a>;

/// Something to be written somewhere.
pub(super) struct Label<'a> {
    pub group: Group,
    pub kind: Kind,
    /// The first words of it, for the notice when it is left out.
    pub name: String,
    /// What leaving it out costs, in the cost of candidates.
    pub worth: f64,
    near: Vec<Candidate>,
    far: Option<Far>,
    draw: Drawn<'a>,
}

/// What is on the sheet, and what shall be.
pub(super) struct Board<'a> {
    window: Frame,
    /// Signs and letters no text may cover.
    taken: Grid<()>,
    signs: Signs,
    lines: Lines,
    labels: Vec<Label<'a>>,
}

impl<'a> Board<'a> {
    pub fn new(window: Frame) -> Self {
        let window = window.grown(-0.8);
        Self {
            window,
            taken: Grid::new(window),
            signs: Signs::new(window),
            lines: Lines::new(window),
            labels: Vec::new(),
        }
    }
    /// Room no text may cover.
    pub fn take(&mut self, slab: Slab) {
        self.taken.add(slab, ());
    }
    /// A sign that has a label: no other label may stand nearer to it than to its own.
    pub fn sign(&mut self, owner: Owner) {
        self.signs.add(owner);
    }
    /// A wall: no label stands on its other side.
    pub fn wall(&mut self, places: &[Spot], closed: bool) {
        self.signs.add_wall(places, closed);
    }
    /// Lines that text should keep off where it can, at the cost `weight` for each millimetre.
    pub fn avoid(&mut self, places: &[Spot], closed: bool, weight: f64) {
        for (a, b) in sides(places, closed) {
            self.lines.add(a, b, weight);
        }
    }
    /// Whether a place can be seen at all.
    pub fn shows(&self, at: Spot) -> bool {
        self.window.holds(&Frame::around(at, 0.0, 0.0))
    }

    /// Takes in a label with its own candidates and its own way to be drawn; `far` is what a
    /// leader would lead to, where it may have one. What lies wholly outside the window is on another sheet.
    pub fn add(
        &mut self,
        (group, kind, name, worth): (Group, Kind, &str, f64),
        (candidates, far): (impl IntoIterator<Item = Candidate>, Option<Far>),
        draw: impl Fn(&mut Picture, &Pose) + 'a,
    ) {
        let candidates: Vec<Candidate> = candidates.into_iter().collect();
        let seen = candidates.iter().any(|candidate| self.window.holds(&candidate.slab.bounds()))
            || far.as_ref().is_some_and(|far| self.shows(far.own.at));
        if !seen {
            return;
        }
        let near = self.fair(candidates);
        let name = name.to_owned();
        self.labels.push(Label { group, kind, name, worth, near, far, draw: Box::new(draw) });
    }

    /// Takes in a block of words beside a sign, at worst on a leader; `wraps` are the ways to break it into
    /// lines, the best first.
    pub fn label(&mut self, about: (Group, Kind, f64), beside: Beside, wraps: Vec<Vec<Words>>) {
        if self.shows(beside.own.at) {
            let half: Vec<_> = wraps.iter().map(|lines| words::block(lines)).collect();
            let near = self.fair(beside.candidates(&wraps));
            self.block(about, (near, Far { own: beside.own, half, cost: 0.0 }), wraps);
        }
    }

    fn block(
        &mut self,
        (group, kind, worth): (Group, Kind, f64),
        (near, far): (Vec<Candidate>, Far),
        wraps: Vec<Vec<Words>>,
    ) {
        let name = wraps.iter().flatten().map(|l| l.text.as_str()).next().unwrap_or_default().to_owned();
        let draw: Drawn<'a> = Box::new(move |picture, pose| {
            if let Some(lines) = wraps.get(pose.variant) {
                words::write_block(picture, pose.middle, lines);
            }
        });
        self.labels.push(Label { group, kind, name, worth, near, far: Some(far), draw });
    }

    /// Takes in a name inside an outline, else on a leader to `inner`, a place within; `wraps` are the ways
    /// to break it into lines.
    pub fn inside(
        &mut self,
        about: (Group, Kind, f64),
        (outline, inner): (&[Spot], Spot),
        wraps: Vec<Vec<Words>>,
    ) {
        if self.shows(inner) {
            let half: Vec<_> = wraps.iter().map(|lines| words::block(lines)).collect();
            let near = self.fair(candidates::inside(outline, inner, &half));
            self.block(about, (near, Far { own: Owner::bare(inner), half, cost: 0.0 }), wraps);
        }
    }

    /// Takes in words along a line, beside it by one of `offs` (mm, to the right walking), at worst on a
    /// leader where `lead` allows.
    pub fn along(
        &mut self,
        about: (Group, Kind, f64),
        legs: &[(Spot, Spot)],
        line: Words,
        (offs, lead): (&[f64], bool),
    ) {
        let (group, kind, worth) = about;
        let near = self.fair(candidates::along(legs, &line, offs));
        let longest = legs.iter().max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)));
        let Some(middle) = longest.map(|(a, b)| a.toward(*b, 0.5)).filter(|at| self.shows(*at)) else {
            return;
        };
        let half = vec![words::block(std::slice::from_ref(&line))];
        let far = lead.then(|| Far { own: Owner::bare(middle), half, cost: 0.0 });
        let name = line.text.clone();
        let draw: Drawn<'a> = Box::new(move |picture, pose| {
            write_along(picture, pose.middle, pose.along, &line.text, line.face)
        });
        self.labels.push(Label { group, kind, name, worth, near, far, draw });
    }

    /// The candidates that cover no sign and stay in the window, with what line work they cover added to
    /// their cost, the cheapest first.
    fn fair(&self, candidates: impl IntoIterator<Item = Candidate>) -> Vec<Candidate> {
        let mut fair: Vec<Option<Candidate>> =
            candidates.into_iter().filter_map(|candidate| self.weighed(candidate)).map(Some).collect();
        // Candidates are large: their numbers are put in order, and each is moved once.
        let cost = |n: usize| fair.get(n).and_then(Option::as_ref).map_or(f64::INFINITY, |one| one.cost);
        let mut order: Vec<(f64, usize)> = (0..fair.len()).map(|n| (cost(n), n)).collect();
        order.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        order.into_iter().take(MOST).filter_map(|(_, n)| fair.get_mut(n)?.take()).collect()
    }

    fn weighed(&self, mut candidate: Candidate) -> Option<Candidate> {
        let bounds = candidate.slab.bounds();
        if !self.window.holds(&bounds) {
            return None;
        }
        let roomy = candidate.slab.grown(GAP);
        if self.taken.near(&roomy.bounds()).any(|(taken, ())| taken.meets(&roomy)) {
            return None;
        }
        candidate.cost += match &candidate.own {
            Some(own) if candidate.pose.leader.is_some() => {
                self.signs.doubt_on_leader(&candidate.slab.bounds(), own)
            }
            Some(own) => self.signs.doubt((&candidate.rows, candidate.slab.centre), own)?,
            None if self.signs.crowds(&candidate.slab, CLOSE) => CONFUSING,
            None => 0.0,
        };
        let is_note = candidate.reads && candidate.slab.half.1 > NOTE;
        let aired = if is_note { candidate.slab.grown(NOTICE_AIR) } else { roomy };
        candidate.cost += self.lines.cost(&aired);
        for (a, b, _) in candidate.thin.iter().filter(|(.., thin)| *thin != Thin::Side) {
            let Some(strip) = Slab::strip(*a, *b, 0.4) else { continue };
            let own =
                |at: &Slab| candidate.own.as_ref().is_some_and(|own| own.sign.overlap(&at.bounds()) > 0.0);
            let mut over: Vec<&Slab> = Vec::new();
            for (taken, ()) in self.taken.near(&strip.bounds()).filter(|(taken, ())| !own(taken)) {
                if !over.contains(&taken) {
                    over.push(taken);
                }
            }
            candidate.cost += over.iter().map(|taken| taken.covered(*a, *b)).sum::<f64>() * OVER_SIGN;
            candidate.cost += self.lines.cost(&strip) * OVER_LINE;
        }
        Some(candidate)
    }

    /// Chooses places and draws: the labels of each layer, and what found no room. `notice` words what was
    /// left out, which is written wherever there is room for it.
    pub fn solve(mut self, notice: impl Fn(&[LeftOut]) -> Vec<Words>) -> Solved {
        let mut labels = std::mem::take(&mut self.labels);
        let mut table = solve::places(self.window, &mut labels, |far| self.fair(far.candidates()));
        let mut solved = Solved::default();
        for (l, label) in labels.iter().enumerate() {
            match table.chosen(l).and_then(|at| label.near.get(at)) {
                Some(candidate) => solved.draw(label, candidate),
                None if label.kind == Kind::Fall => {}
                None => solved.left_out.push(LeftOut { kind: label.kind, name: label.name.clone() }),
            }
        }
        let lines = notice(&solved.left_out);
        let (wide, high) = words::block(&lines);
        // It is long, and no part of the plan: with less air it would be read as one with a fence beside it.
        let half = (wide + NOTICE_AIR, high + NOTICE_AIR);
        let free =
            self.fair(candidates::anywhere(&self.window, half)).into_iter().find(|at| table.is_free(at));
        if let Some(at) = free.filter(|_| !lines.is_empty()) {
            words::write_block(&mut solved.notice, at.pose.middle, &lines);
        }
        solved
    }
}

/// Candidates kept for a label.
const MOST: usize = 190;
/// Nearer than this to another thing's mark, mm, a label could be taken to mean that.
const CLOSE: f64 = 0.9;
const CONFUSING: f64 = 2.0;
/// Half the height of a block of words that is a note rather than a name: of three lines and more, mm.
const NOTE: f64 = 4.2;
/// Kept free around a note, and around the words on what was left out, mm.
const NOTICE_AIR: f64 = 1.5;
/// Cost of a millimetre of leader or dimension line over a sign, and along other lines.
const OVER_SIGN: f64 = 3.0;
const OVER_LINE: f64 = 0.5;

/// What was drawn, and what found no room.
#[derive(Default)]
pub(super) struct Solved {
    layers: Vec<(Group, Picture)>,
    pub left_out: Vec<LeftOut>,
    /// The words on what was left out.
    pub notice: Picture,
}

/// A label without room.
#[derive(Clone, Debug)]
pub(super) struct LeftOut {
    pub kind: Kind,
    /// Its first words.
    pub name: String,
}

impl Solved {
    fn draw(&mut self, label: &Label<'_>, candidate: &Candidate) {
        let mut own = Picture::default();
        if let Some((from, to)) = candidate.pose.leader {
            let mut line = Picture::default();
            line.line(from, to, Pen::line(LEADER));
            own.group(Role::Class("leader"), line);
        }
        (label.draw)(&mut own, &candidate.pose);
        let mut all = Picture::default();
        all.group(Role::Class("label"), own);
        match self.layers.iter_mut().find(|(group, _)| *group == label.group) {
            Some((_, picture)) => picture.append(all),
            None => self.layers.push((label.group, all)),
        }
    }
    /// The drawing of a layer.
    pub fn layer(&self, group: Group) -> Picture {
        let found = self.layers.iter().find(|(g, _)| *g == group);
        found.map(|(_, picture)| picture.clone()).unwrap_or_default()
    }
}
