//! Points that are not determined: in which way each is free, and where to draw it meanwhile.

#![expect(clippy::indexing_slicing, reason = "point numbers index lists made with the point count")]

use super::block::eigen;
use super::choose::Chosen;
use super::equation::{Equation, Place, Shape, ray, sub};
use super::groups::Group;
use super::observe::Observed;
use super::result::Freedom;
use crate::units::float::{atan2, hypot};
use crate::units::{Angle, Length, sort_by};

/// In which way a point is free, and a place to draw it.
pub(super) struct Loose {
    pub freedom: Freedom,
    pub guess: Option<Place>,
}

/// Describes every point that is not determined.
pub(super) fn loose(
    seen: &Observed,
    chosen: &Chosen,
    sketch: &[Option<Place>],
    groups: &[Group],
) -> Vec<Option<Loose>> {
    let sketched = chosen.known.iter().zip(&chosen.solved.x).zip(sketch).filter(|((known, _), _)| **known);
    let drawn = Drawn::new(sketched.filter_map(|((_, x), s)| Some(((*s)?, *x))).collect());
    let mut places: Vec<Option<Place>> =
        chosen.known.iter().zip(&chosen.solved.x).map(|(known, x)| known.then_some(*x)).collect();
    let mut out: Vec<Option<Loose>> = chosen.known.iter().map(|_| None).collect();
    // Those that hang on determined points first, then those that hang on them.
    let touching = Touching::new(seen);
    let hangers = hangers(&touching, chosen);
    let mut waiting: Vec<usize> = (0..chosen.known.len()).filter(|&p| !chosen.known[p]).collect();
    while !waiting.is_empty() {
        let hangs = |p: usize| touching.at(p).any(|e| e.each().any(|q| q != p && places[q].is_some()));
        let next = waiting.iter().position(|&p| hangs(p)).unwrap_or(0);
        let p = waiting.remove(next);
        let freedom = freedom(seen, &touching, chosen, &hangers, p);
        let guess = guess(&touching, chosen, &places, p, sketch[p].map(|s| drawn.place(s)));
        places[p] = guess;
        out[p] = Some(Loose { freedom, guess });
    }
    // What holds together is drawn in its shape, where its points were guessed on the whole.
    for group in groups {
        let pairs: Vec<(Place, Place)> =
            group.points.iter().filter_map(|(p, at)| Some((*at, places[*p]?))).collect();
        if pairs.is_empty() {
            continue;
        }
        let fit = Drawn::new(pairs).stiff();
        for (p, at) in &group.points {
            if let Some(loose) = &mut out[*p] {
                loose.guess = Some(fit.place(*at));
            }
        }
    }
    out
}

/// The equations by point.
struct Touching<'a>(Vec<Vec<&'a Equation>>);

impl<'a> Touching<'a> {
    fn new(seen: &'a Observed) -> Self {
        let mut lists = vec![Vec::new(); seen.points.len()];
        for e in seen.observations.iter().map(|o| &o.equation) {
            for p in e.each() {
                lists[p].push(e);
            }
        }
        Self(lists)
    }

    fn at(&self, p: usize) -> impl Iterator<Item = &'a Equation> {
        self.0[p].iter().copied()
    }
}

/// Loose points with a single reading hang on its other end and bind it in no way; taking them
/// away may leave others with a single reading. Returns the turn in which each is taken away.
fn hangers(touching: &Touching, chosen: &Chosen) -> Vec<usize> {
    let mut turn = vec![usize::MAX; chosen.known.len()];
    let mut now = 0;
    loop {
        let binds = |e: &&Equation| e.each().all(|q| turn[q] == usize::MAX);
        let single = |p: &usize| touching.at(*p).filter(binds).nth(1).is_none();
        let mut free = (0..turn.len()).filter(|&p| !chosen.known[p] && turn[p] == usize::MAX);
        // One at a time: of two that hang on each other the second still binds the first.
        let Some(p) = free.find(single) else { return turn };
        turn[p] = now;
        now += 1;
    }
}

fn freedom(seen: &Observed, touching: &Touching, chosen: &Chosen, hangers: &[usize], p: usize) -> Freedom {
    let mut others: Vec<usize> = touching
        .at(p)
        .flat_map(|e| e.each().collect::<Vec<_>>())
        .filter(|&q| q != p && !chosen.known[q] && hangers[q] >= hangers[p])
        .collect();
    sort_by(&mut others, usize::cmp);
    others.dedup();
    let id = |q: usize| seen.points[q].clone();
    if !others.is_empty() {
        return Freedom::WithOthers { others: others.into_iter().map(id).collect() };
    }
    let held = |node: u32| chosen.network.held.get(node as usize).is_none_or(|held| held[0]);
    let binding =
        |e: &&Equation| e.each().all(|q| q == p || chosen.known[q]) && !e.shared().is_some_and(held);
    let equations: Vec<&Equation> = touching.at(p).filter(binding).collect();
    match equations.as_slice() {
        [] => Freedom::Unmeasured,
        [only] if matches!(only.shape, Shape::Distance { .. }) => {
            let centre = only.each().find(|&q| q != p).unwrap_or(p);
            Freedom::OnCircle { centre: id(centre), radius: Length::from_metres(only.value) }
        }
        _ => Freedom::Along { direction: Angle::from_radians(free_direction(chosen, p, &equations)) },
    }
}

/// The direction in which the point's own readings tell least, 0 … π.
fn free_direction(chosen: &Chosen, p: usize, equations: &[&Equation]) -> f64 {
    let mut x = chosen.solved.x.clone();
    if let Some(at) = chosen.drafted[p] {
        x[p] = at;
    }
    let mut n = [0.0; 3];
    for e in equations {
        let row = e.at(&x);
        for (_, [gx, gy]) in e.each().zip(row.gradient).filter(|(q, _)| *q == p) {
            let w = 1.0 / (e.sd * e.sd);
            n = [n[0] + w * gx * gx, n[1] + w * gx * gy, n[2] + w * gy * gy];
        }
    }
    let (_, _, [ex, ey]) = eigen(n);
    let angle = atan2(ex, -ey);
    if angle < 0.0 { angle + std::f64::consts::PI } else { angle }
}

fn guess(
    touching: &Touching,
    chosen: &Chosen,
    places: &[Option<Place>],
    p: usize,
    drawn: Option<Place>,
) -> Option<Place> {
    if let Some(at) = chosen.drafted[p] {
        return Some(at);
    }
    // On the circle or the line of the first reading that leads to a place, nearest the sketch.
    for e in touching.at(p) {
        let [a, b, q, _] = e.points().map(|i| i as usize);
        match e.shape {
            Shape::Distance { .. } => {
                let other = if a == p { b } else { a };
                let Some(centre) = places[other] else { continue };
                let toward = drawn.unwrap_or_else(|| outward(chosen, centre));
                let ([x, y], length) = ray(centre, toward);
                let [x, y] = if length < 1e-6 { [1.0, 0.0] } else { [x, y] };
                return Some([centre[0] + e.value * x, centre[1] + e.value * y]);
            }
            Shape::Station { .. } | Shape::Offset { .. } if q == p => {
                let (Some(a), Some(b)) = (places[a], places[b]) else { continue };
                let mut x = chosen.solved.x.clone();
                x[p] = drawn.unwrap_or([0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])]);
                let row = e.at(&x);
                let [gx, gy] = row.gradient[2];
                return Some([x[p][0] - row.misclosure * gx, x[p][1] - row.misclosure * gy]);
            }
            _ => {}
        }
    }
    drawn
}

/// A point beyond `centre` as seen from the middle of the plan: where a loose point hides least.
fn outward(chosen: &Chosen, centre: Place) -> Place {
    let middle = middle(chosen.known.iter().zip(&chosen.solved.x).filter(|(k, _)| **k).map(|(_, x)| *x));
    let [x, y] = sub(centre, middle);
    [centre[0] + x, centre[1] + y]
}

fn middle(places: impl Iterator<Item = Place>) -> Place {
    let (mut sum, mut count) = ([0.0; 2], 0.0);
    for [x, y] in places {
        sum = [sum[0] + x, sum[1] + y];
        count += 1.0;
    }
    if count > 0.0 { [sum[0] / count, sum[1] / count] } else { sum }
}

/// Carries the sketch onto the plan: shift, turn and scale that fit the determined points best.
struct Drawn {
    from: Place,
    to: Place,
    turn: Place,
}

impl Drawn {
    /// From pairs of a place drawn and its place in the plan.
    fn new(pairs: Vec<(Place, Place)>) -> Self {
        let pairs = || pairs.iter().copied();
        let (from, to) = (middle(pairs().map(|(s, _)| s)), middle(pairs().map(|(_, x)| x)));
        let (mut real, mut imaginary, mut size) = (0.0, 0.0, 0.0);
        for (s, x) in pairs() {
            let (s, x) = (sub(s, from), sub(x, to));
            real += s[0] * x[0] + s[1] * x[1];
            imaginary += s[0] * x[1] - s[1] * x[0];
            size += s[0] * s[0] + s[1] * s[1];
        }
        let turn = if size > 1e-9 { [real / size, imaginary / size] } else { [1.0, 0.0] };
        let turn = if hypot(turn[0], turn[1]) > 1e-3 { turn } else { [1.0, 0.0] };
        Self { from, to, turn }
    }

    /// Without scale.
    fn stiff(&self) -> Self {
        let size = hypot(self.turn[0], self.turn[1]);
        Self { turn: self.turn.map(|v| v / size), ..*self }
    }

    fn place(&self, sketched: Place) -> Place {
        let [x, y] = sub(sketched, self.from);
        let [c, s] = self.turn;
        [self.to[0] + c * x - s * y, self.to[1] + s * x + c * y]
    }
}
