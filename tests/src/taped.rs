//! Invented yards from a seed, taped as a person would, in feet and inches.

use crate::dice::Dice;
use swingtie_core::record::{
    AuthorId, EntryId, How, Leg, Measurement, OffsetRow, PointId, Reading, Record, Recorded, RunReading,
    Side, SideOf, Turn,
};
use swingtie_core::units::float::{cos, hypot, sin};
use swingtie_core::units::{BareUnit, Length, LengthStyle, format_length};

type Place = (f64, f64);

/// A yard under construction: true places in metres, and what was taped.
#[derive(Clone, Debug)]
pub struct Yard {
    /// True places.
    pub truth: Vec<(PointId, Place)>,
    /// What was taped.
    pub taken: Vec<Measurement>,
    /// What chance decides.
    pub dice: Dice,
}

/// A length as it is written in this yard: to the eighth of an inch.
#[must_use]
pub fn written(metres: f64) -> Reading {
    let text = format_length(Length::from_metres(metres), LengthStyle::FeetInches { finest: 8 });
    read(&text)
}

/// A reading from its text.
///
/// # Panics
/// When it is no length: the test that wrote it is wrong.
#[must_use]
#[expect(clippy::panic, reason = "test support: a text that is no length ends the test")]
pub fn read(text: &str) -> Reading {
    Reading::read(text, BareUnit::Feet).unwrap_or_else(|error| panic!("{text}: {error}"))
}

impl Yard {
    /// An L-shaped house with jambs, `posts` fence posts and `trees` trees round it, each on two to
    /// four ties, and some plants off the front wall. Every point but the jambs is proved by another
    /// reading; a share `spare` of them by two.
    #[must_use]
    pub fn new(seed: u64, posts: usize, trees: usize, spare: f64) -> Self {
        let mut yard = Self { truth: Vec::new(), taken: Vec::new(), dice: Dice::new(7, seed) };
        yard.house();
        yard.jambs();
        for i in 0..posts + trees {
            let turn =
                std::f64::consts::TAU * (i as f64 + yard.dice.between(-0.3, 0.3)) / (posts + trees) as f64;
            let far = yard.dice.between(9.0, 17.0);
            let name = if i < posts { format!("F{}", i + 1) } else { format!("T{}", i - posts + 1) };
            let spread = if yard.dice.unit() < spare { 4 } else { 3 };
            yard.tied(&name, (6.0 + far * cos(turn), 4.0 + far * sin(turn)), spread);
        }
        yard.offsets(4);
        yard
    }

    /// The record of it.
    #[must_use]
    pub fn record(&self) -> Record {
        let recorded = |(i, what): (usize, &Measurement)| Recorded {
            entry: EntryId(format!("e{i}")),
            author: AuthorId::from("me"),
            at_ms: 0,
            what: what.clone(),
        };
        let measurements = self.taken.iter().enumerate().map(recorded).collect();
        Record { measurements, ..Record::default() }
    }

    /// A point's true place.
    ///
    /// # Panics
    /// When there is no such point: the test is wrong.
    #[must_use]
    #[expect(clippy::expect_used, reason = "test support: an unknown point ends the test")]
    pub fn at(&self, point: &PointId) -> Place {
        self.truth.iter().find(|(id, _)| id == point).map(|(_, at)| *at).expect("a point of this yard")
    }

    /// True distance of two points, metres.
    #[must_use]
    pub fn far(&self, a: &PointId, b: &PointId) -> f64 {
        let (a, b) = (self.at(a), self.at(b));
        hypot(b.0 - a.0, b.1 - a.1)
    }

    /// Taped, with the tape's chance error.
    pub fn taped(&mut self, metres: f64) -> Reading {
        let sd = How::default().sd_of(Length::from_metres(metres)).metres();
        let error = sd * self.dice.gauss(1.0);
        written((metres + error).max(0.02))
    }

    fn put(&mut self, name: &str, at: Place) -> PointId {
        let id = PointId::from(name);
        self.truth.push((id.clone(), at));
        id
    }

    fn house(&mut self) {
        let (w, h) = (self.dice.between(10.0, 13.0), self.dice.between(8.0, 10.0));
        let (cw, ch) = (w * self.dice.between(0.4, 0.6), h * self.dice.between(0.4, 0.6));
        let corners = [(0.0, 0.0), (w, 0.0), (w, ch), (cw, ch), (cw, h), (0.0, h)];
        let ids: Vec<PointId> = (1..)
            .zip(corners)
            .map(|(i, (x, y))| {
                let built = (x + 0.004 * self.dice.gauss(1.0), y + 0.004 * self.dice.gauss(1.0));
                self.put(&format!("H{i}"), built)
            })
            .collect();
        let mut legs = Vec::new();
        for i in 0..6 {
            let (a, b) = (&ids[i], &ids[(i + 1) % 6]);
            let length = self.far(a, b);
            let turn = match i {
                0 => None,
                3 => Some(Turn::Right),
                _ => Some(Turn::Left),
            };
            legs.push(Leg { turn, to: b.clone(), length: Some(self.taped(length)) });
        }
        self.taken.push(Measurement::Walk { start: ids[0].clone(), legs, how: How::default() });
        for (a, b) in [(0, 3), (2, 4), (1, 3), (0, 4)] {
            self.tie(&ids[a].clone(), &ids[b].clone(), None);
        }
    }

    /// Two jambs on each of two walls, read on runs from corner to corner.
    fn jambs(&mut self) {
        for (wall, (from, to)) in [("H1", "H2"), ("H6", "H1")].into_iter().enumerate() {
            let (from, to) = (PointId::from(from), PointId::from(to));
            let ((ax, ay), (bx, by)) = (self.at(&from), self.at(&to));
            let mut readings = Vec::new();
            for (i, share) in [(1, 0.3), (2, 0.6)] {
                let t = share + self.dice.between(-0.1, 0.1);
                let id = self.put(&format!("J{}", 2 * wall + i), (ax + t * (bx - ax), ay + t * (by - ay)));
                let length = self.far(&from, &id);
                readings.push(RunReading { point: id, reading: self.taped(length) });
            }
            let length = self.far(&from, &to);
            readings.push(RunReading { point: to.clone(), reading: self.taped(length) });
            let jambs: Vec<PointId> = readings.iter().take(2).map(|r| r.point.clone()).collect();
            self.taken.push(Measurement::Run {
                zero: from,
                toward: to,
                readings,
                zero_unknown: false,
                how: How::default(),
            });
            // Each jamb is proved from a corner on another wall.
            for jamb in jambs {
                self.tie(&PointId::from(if wall == 0 { "H6" } else { "H2" }), &jamb, None);
            }
        }
    }

    fn tied(&mut self, name: &str, at: Place, ties: usize) {
        let mut anchors: Vec<(f64, PointId)> =
            self.truth.iter().map(|(id, (x, y))| (hypot(x - at.0, y - at.1), id.clone())).collect();
        anchors.sort_by(|a, b| a.0.total_cmp(&b.0));
        anchors.retain(|(far, id)| *far > 1.0 && !id.as_str().starts_with('J'));
        let id = self.put(name, at);
        // The nearest, then those that look at it from the sides.
        let mut chosen: Vec<PointId> = anchors.first().map(|(_, id)| id.clone()).into_iter().collect();
        let bearing = |p: &PointId, yard: &Self| {
            let (x, y) = yard.at(p);
            swingtie_core::units::float::atan2(at.1 - y, at.0 - x)
        };
        while chosen.len() < ties {
            let apart = |p: &PointId| {
                let gap = |q: &PointId| sin(bearing(p, self) - bearing(q, self)).abs();
                chosen.iter().map(gap).fold(1.0, f64::min)
            };
            let near = anchors.iter().take(9).filter(|(_, p)| !chosen.contains(p));
            let Some((_, next)) = near.max_by(|a, b| apart(&a.1).total_cmp(&apart(&b.1))) else { break };
            chosen.push(next.clone());
        }
        let side = match chosen.as_slice() {
            [a, b, ..] => Some(self.side(a, b, &id)),
            _ => None,
        };
        for (i, anchor) in chosen.iter().enumerate() {
            self.tie(anchor, &id, side.clone().filter(|_| i == 1));
        }
    }

    /// The side of a line a point truly stands on.
    #[must_use]
    pub fn side(&self, a: &PointId, b: &PointId, p: &PointId) -> SideOf {
        let ((ax, ay), (bx, by), (px, py)) = (self.at(a), self.at(b), self.at(p));
        let left = (bx - ax) * (py - ay) - (by - ay) * (px - ax) > 0.0;
        SideOf { from: a.clone(), to: b.clone(), side: if left { Side::Left } else { Side::Right } }
    }

    /// Tapes a tie.
    pub fn tie(&mut self, from: &PointId, to: &PointId, side: Option<SideOf>) {
        let length = self.far(from, to);
        let reading = self.taped(length);
        let (from, to) = (from.clone(), to.clone());
        self.taken.push(Measurement::Tie {
            from,
            to,
            reading,
            side,
            taped_to: Default::default(),
            how: How::default(),
        });
    }

    /// Plants off the front wall, each with a check tie.
    fn offsets(&mut self, count: usize) {
        let (from, to) = (PointId::from("H1"), PointId::from("H2"));
        let length = self.far(&from, &to);
        let ((ax, ay), (bx, by)) = (self.at(&from), self.at(&to));
        let (ux, uy) = ((bx - ax) / length, (by - ay) / length);
        let mut rows = Vec::new();
        for i in 0..count {
            let (s, o) = (length * (i as f64 + self.dice.unit()) / count as f64, self.dice.between(1.5, 3.0));
            let point = self.put(&format!("B{}", i + 1), (ax + s * ux + o * uy, ay + s * uy - o * ux));
            let foot = s + 0.02 * o * self.dice.gauss(1.0);
            let (station, offset) = (self.taped(foot.max(0.1)), self.taped(o));
            rows.push(OffsetRow { point, station, offset, side: Side::Right });
        }
        let points: Vec<PointId> = rows.iter().map(|r| r.point.clone()).collect();
        self.taken.push(Measurement::Offsets {
            from: from.clone(),
            to: to.clone(),
            rows,
            how: How::default(),
        });
        // From the baseline's ends alone the mirror image would fit as well: one tie from the front.
        for (i, p) in points.iter().enumerate() {
            self.tie(if i % 2 == 0 { &to } else { &from }, p, None);
            let front = self.truth.iter().filter(|(id, (_, y))| id.as_str().starts_with('F') && *y < -3.0);
            let near = front.min_by(|a, b| self.far(&a.0, p).total_cmp(&self.far(&b.0, p)));
            if let Some(post) = near.map(|(id, _)| id.clone()) {
                self.tie(&post, p, None);
            }
        }
    }
}
