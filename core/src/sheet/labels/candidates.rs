//! Where a label may stand: around a sign, far from it on a leader, inside an outline, along a line.

use super::words::{self, Words, along_box};
use super::{Owner, Slab, Thin};
use crate::sheet::geometry::{Frame, Spot, inside as within, spot};
use crate::sheet::text::width;
use crate::units::float;
use std::rc::Rc;

/// How a label is drawn at one of its candidates.
#[derive(Clone, Debug)]
pub(in crate::sheet) struct Pose {
    /// The middle of its text or sign.
    pub middle: Spot,
    /// The direction of its text.
    pub along: (f64, f64),
    /// Which of its ways to be drawn; what that means its drawing knows.
    pub variant: usize,
    /// The line that ties it to its thing.
    pub leader: Option<(Spot, Spot)>,
}

/// One place for a label.
#[derive(Clone, Debug)]
pub(in crate::sheet) struct Candidate {
    pub pose: Pose,
    /// The room of its text or sign.
    pub slab: Slab,
    /// Its leader and other thin lines.
    pub thin: Vec<(Spot, Spot, Thin)>,
    /// The thing it belongs to.
    pub own: Option<Rc<Owner>>,
    /// What is inked of each line of its words, around their middle.
    pub rows: Rc<[Frame]>,
    /// Whether it is words, which are read as one with others right before or behind.
    pub reads: bool,
    pub cost: f64,
}

impl Candidate {
    /// Words in a box.
    pub fn words(slab: Slab, cost: f64) -> Self {
        Self { reads: true, ..Self::plain(slab, cost) }
    }
    /// What stands in a box, where it has no lines of its own.
    pub fn plain(slab: Slab, cost: f64) -> Self {
        let pose = Pose { middle: slab.centre, along: slab.along, variant: 0, leader: None };
        Self { pose, slab, thin: Vec::new(), own: None, rows: Rc::default(), reads: false, cost }
    }
    fn varied(self, variant: usize) -> Self {
        Self { pose: Pose { variant, ..self.pose }, ..self }
    }
    pub fn with_leader(self, from: Spot, to: Spot) -> Self {
        let pose = Pose { leader: Some((from, to)), ..self.pose };
        let mut thin = self.thin;
        thin.push((from, to, Thin::Leader));
        Self { pose, thin, ..self }
    }
}

/// A block beside a sign.
#[derive(Clone, Copy, Debug)]
pub(in crate::sheet) struct Beside {
    pub own: Owner,
    /// The direction preferred; its length says how much.
    pub favour: (f64, f64),
}

impl Beside {
    /// Touching the sign all around it, close first, in each of several shapes.
    pub fn candidates(self, wraps: &[Vec<Words>]) -> Vec<Candidate> {
        let Owner { sign, .. } = self.own;
        let own = Rc::new(self.own);
        let mut all = Vec::new();
        for (variant, lines) in wraps.iter().enumerate() {
            let (half, rows) = (words::block(lines), Rc::from(words::rows(lines)));
            for gap in [0.35, 1.2, 2.2] {
                let w = sign.width() / 2.0 + gap + half.0;
                let h = sign.height() / 2.0 + gap + half.1;
                // Only right beside the sign does a finer step tell.
                let steps = if gap > 1.0 { COARSE } else { AROUND.len() };
                for (x, y) in AROUND.into_iter().take(steps) {
                    let favour = (x * self.favour.0 + y * self.favour.1) / float::hypot(x, y);
                    let middle = sign.centre().plus(x * w, y * h);
                    let cost = 1.0 + (gap - 0.35) * 1.2 - 0.6 * favour + rank(variant);
                    let words = Candidate::words(Slab::upright(middle, half.0, half.1), cost);
                    all.push(
                        Candidate { own: Some(Rc::clone(&own)), rows: Rc::clone(&rows), ..words }
                            .varied(variant),
                    );
                }
            }
        }
        all
    }
}

/// What a shape later in the order costs more.
fn rank(variant: usize) -> f64 {
    f64::from(u8::try_from(variant).unwrap_or(u8::MAX)) * 0.4
}

/// The first of them, all around.
const COARSE: usize = 16;

/// Directions in which a label may touch its sign, in shares of half the width and height of both.
const AROUND: [(f64, f64); 24] = [
    (1.0, -1.0),
    (1.0, 1.0),
    (-1.0, -1.0),
    (-1.0, 1.0),
    (1.0, 0.0),
    (-1.0, 0.0),
    (0.0, -1.0),
    (0.0, 1.0),
    (1.0, -0.5),
    (1.0, 0.5),
    (-1.0, -0.5),
    (-1.0, 0.5),
    (0.5, -1.0),
    (-0.5, -1.0),
    (0.5, 1.0),
    (-0.5, 1.0),
    (0.25, -1.0),
    (-0.25, -1.0),
    (0.25, 1.0),
    (-0.25, 1.0),
    (0.75, -1.0),
    (-0.75, -1.0),
    (0.75, 1.0),
    (-0.75, 1.0),
];

/// A block away from its sign, tied to it by a leader.
#[derive(Clone, Debug)]
pub(in crate::sheet) struct Far {
    pub own: Owner,
    /// Half width and height of each way to break its words.
    pub half: Vec<(f64, f64)>,
    /// What that costs beyond what it costs any label.
    pub cost: f64,
}

/// Cost of a leader, and of each millimetre of it.
const LEADER: f64 = 10.0;
const LEADER_LONG: f64 = 0.45;

impl Far {
    pub fn candidates(&self) -> impl Iterator<Item = Candidate> {
        let Owner { sign, .. } = self.own;
        let centre = sign.centre();
        let reach = (sign.width() / 2.0, sign.height() / 2.0);
        let own = Rc::new(self.own);
        let ways = self.half.iter().copied().enumerate();
        ways.flat_map(move |(variant, half)| {
            let own = Rc::clone(&own);
            [3.2, 5.5, 8.5, 12.0, 16.5, 22.0, 29.0].into_iter().flat_map(move |away| {
                let own = Rc::clone(&own);
                (0..24_u32).map(move |n| {
                    let angle = std::f64::consts::TAU * f64::from(n) / 24.0 - 0.785;
                    let (ux, uy) = (float::cos(angle), float::sin(angle));
                    let middle = centre.plus(ux * (away + reach.0 + half.0), uy * (away + reach.1 + half.1));
                    let slab = Slab::upright(middle, half.0, half.1);
                    let to = slab.nearest(centre);
                    let from = leaves(&sign, to);
                    let long = from.distance(to);
                    let cost = LEADER + LEADER_LONG * long + rank(variant) + self.cost;
                    let candidate = Candidate::words(slab, cost).varied(variant);
                    Candidate { own: Some(Rc::clone(&own)), ..candidate }.with_leader(from, to)
                })
            })
        })
    }
}

/// Where a line from the middle of a sign's box leaves it.
fn leaves(sign: &Frame, to: Spot) -> Spot {
    let centre = sign.centre();
    sign.clipped(centre, to).map_or(centre, |(_, end)| end)
}

/// A sign that is tied to its place by a line: `half` is half its side, `clear` its least distance.
pub(in crate::sheet) fn tied(own: Owner, half: f64, clear: f64) -> impl Iterator<Item = Candidate> {
    let shared = Rc::new(own);
    [0.0, 1.3, 3.0, 5.5, 9.0, 13.0, 18.0, 24.0].into_iter().flat_map(move |extra| {
        let shared = Rc::clone(&shared);
        (0..16_u32).map(move |n| {
            let angle = std::f64::consts::TAU * f64::from(n) / 16.0 - 0.785;
            let (ux, uy) = (float::cos(angle), float::sin(angle));
            let away = clear + extra + half;
            let slab = Slab::upright(own.at.plus(ux * away, uy * away), half, half);
            let cost = 1.0 + extra * 0.9 - 0.4 * (0.45 * ux - 0.9 * uy);
            let candidate = Candidate { own: Some(Rc::clone(&shared)), ..Candidate::plain(slab, cost) };
            let to = own.at.plus(ux * (away - half), uy * (away - half));
            candidate.with_leader(leaves(&own.sign, slab.centre), to)
        })
    })
}

/// Inside an outline, in each of several shapes.
pub(super) fn inside(outline: &[Spot], inner: Spot, half: &[(f64, f64)]) -> Vec<Candidate> {
    let mut bounds = Frame::around(inner, 0.0, 0.0);
    outline.iter().for_each(|at| bounds.extend(*at));
    let mut places = vec![inner];
    for row in 1..12_u32 {
        for column in 1..12_u32 {
            let (u, v) = (f64::from(column) / 12.0, f64::from(row) / 12.0);
            places.push(spot(bounds.x0 + bounds.width() * u, bounds.y0 + bounds.height() * v));
        }
    }
    places.retain(|at| within(outline, *at));
    let mut all = Vec::new();
    for (variant, half) in half.iter().enumerate() {
        for at in &places {
            let slab = Slab::upright(*at, half.0, half.1);
            if slab.corners().iter().all(|corner| within(outline, *corner)) {
                let cost = at.distance(inner) * 0.05 + rank(variant);
                all.push(Candidate::words(slab, cost).varied(variant));
            }
        }
    }
    all
}

/// Along straight legs, beside them by each of `offs`.
pub(super) fn along(legs: &[(Spot, Spot)], line: &Words, offs: &[f64]) -> Vec<Candidate> {
    let mut all = Vec::new();
    let long = width(&line.text, line.face.size, line.face.bold);
    for (a, b) in legs {
        let Some((ux, uy, length)) = a.direction(*b).filter(|(.., length)| *length > long - 6.0) else {
            continue;
        };
        for share in [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82] {
            for (rank, off) in (0_u32..).zip(offs) {
                let middle = a.toward(*b, share).plus(-uy * off, ux * off);
                // It may run over the ends of its leg a little.
                let over = (long / 2.0 - length * share.min(1.0 - share)).max(0.0);
                let cost = (share - 0.5).abs() * 2.0 + f64::from(rank) * 0.3 + over;
                all.push(Candidate::words(along_box(middle, (ux, uy), &line.text, line.face), cost));
            }
        }
    }
    all
}

/// Rows of places over the whole window, the upper ones first.
pub(super) fn anywhere(window: &Frame, half: (f64, f64)) -> Vec<Candidate> {
    let mut all = Vec::new();
    for row in 0..=20_u32 {
        for column in [5_u32, 0, 10, 2, 8] {
            let (u, v) = (f64::from(column) / 10.0, f64::from(row) / 20.0);
            let inner = window.grown(-1.0);
            let x = inner.x0 + half.0 + (inner.width() - 2.0 * half.0) * u;
            let y = inner.y0 + half.1 + (inner.height() - 2.0 * half.1) * v;
            all.push(Candidate::plain(Slab::upright(spot(x, y), half.0, half.1), f64::from(row) * 0.2));
        }
    }
    all
}
