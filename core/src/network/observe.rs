//! From the record's measurements to observation equations and said sides.

use super::equation::{Equation, Shape};
use super::result::ReadingRole;
use crate::record::{How, Measurement, OffsetRow, PointId, Reading, Record, Recorded, Side, SideOf, Turn};
use crate::units::Length;
use crate::units::float::hypot;
use std::collections::{BTreeMap, BTreeSet};

/// How well points of a run keep to its straight line (metres): walls bow, tapes lean. Common practice, no source.
pub(super) const ACROSS_RUN: f64 = 0.006;
/// How well a sighted point keeps to a stated straight line (metres). Common practice, no source.
pub(super) const IN_LINE: f64 = 0.010;
/// How square a built corner is that was called square: half a degree. Common practice, no source.
pub(super) const SQUARE: f64 = 0.008_726_646_259_971_648;
/// How square an offset is raised by eye: its foot slides along the baseline by this share of it,
/// a little over one degree. Common practice, no source.
pub(super) const BY_EYE: f64 = 0.02;
/// No reading is trusted more than this (metres).
const BEST_SD: f64 = 1e-4;

/// Longer than any tape or yard (metres): such a number is no reading.
const LONGEST: f64 = 1e5;
/// Two points a tape cannot tell apart have no direction between them (metres).
const SHORTEST: f64 = 1e-3;

/// A scalar reading with its origin.
#[derive(Clone, Debug)]
pub(super) struct Observation {
    /// Number of the measurement in the record.
    pub measurement: usize,
    pub part: usize,
    pub role: ReadingRole,
    pub equation: Equation,
}

/// A side said: `p` stands to the left (or right) of the line from `a` to `b`.
#[derive(Clone, Debug)]
pub(super) struct Said {
    pub p: u32,
    pub a: u32,
    pub b: u32,
    pub left: bool,
}

/// Points that keep their distances among each other, as one measurement gives them: station and
/// offset (left positive) from its zero.
#[derive(Clone, Debug)]
pub(super) struct Rigid {
    pub members: Vec<(u32, [f64; 2])>,
    /// A point known to lie ahead on the axis, at no known station; and the zero.
    pub axis: Option<(u32, u32)>,
    pub along: f64,
    pub across: f64,
}

/// A condition the first positions are built from.
#[derive(Clone, Debug)]
pub(super) enum Bond {
    /// A distance.
    Distance { a: u32, b: u32, value: f64, sd: f64 },
    /// A run, or the rows of a baseline.
    Rigid(Rigid),
    /// A square corner.
    Square { at: u32, a: u32, c: u32 },
    /// Points on one line.
    Line(Vec<u32>),
}

/// Everything the record says about places.
#[derive(Clone, Debug, Default)]
pub(super) struct Observed {
    pub points: Vec<PointId>,
    pub observations: Vec<Observation>,
    pub said: Vec<Said>,
    pub bonds: Vec<Bond>,
    /// Pairs that could be held as datum, best first: runs and walls, then ties, in book order.
    pub datums: Vec<(u32, u32)>,
    ties: Vec<(u32, u32)>,
    index: BTreeMap<PointId, u32>,
}

impl Observed {
    pub(super) fn of(record: &Record) -> Self {
        let mut seen = Self::default();
        let mut names = BTreeSet::new();
        names.extend(record.points.iter().map(|p| p.id.clone()));
        for m in &record.measurements {
            names.extend(named(&m.what).into_iter().cloned());
        }
        seen.points = names.into_iter().collect();
        seen.index.extend(seen.points.iter().cloned().zip(0u32..));
        for (number, m) in record.measurements.iter().enumerate() {
            seen.take(number, m);
        }
        let ties = std::mem::take(&mut seen.ties);
        seen.datums.extend(ties);
        seen
    }

    pub(super) fn number(&self, point: &PointId) -> Option<u32> {
        self.index.get(point).copied()
    }

    pub(super) fn id(&self, point: u32) -> PointId {
        self.points.get(point as usize).cloned().unwrap_or_else(|| PointId::from(""))
    }

    /// A side in the record's words.
    pub(super) fn side(&self, said: &Said) -> SideOf {
        let side = if said.left { Side::Left } else { Side::Right };
        SideOf { from: self.id(said.a), to: self.id(said.b), side }
    }

    fn take(&mut self, number: usize, m: &Recorded<Measurement>) {
        match &m.what {
            Measurement::Tie { from, to, reading, side, how } => {
                let (Some(a), Some(b)) = (self.number(from), self.number(to)) else { return };
                if self.distance(number, 0, ReadingRole::Tie, [a, b], reading, how) {
                    self.ties.push((a, b));
                }
                if let Some(side) = side {
                    self.say(b, side);
                }
            }
            Measurement::Run { .. } => self.run(number, &m.what),
            Measurement::Offsets { from, to, rows, how } => self.offsets(number, from, to, rows, how),
            Measurement::Walk { .. } => self.walk(number, &m.what),
            Measurement::Square { at, from, to } => {
                if let (Some(at), Some(a), Some(c)) = (self.number(at), self.number(from), self.number(to)) {
                    self.square(number, 0, at, a, c);
                }
            }
            Measurement::InLine { points } => {
                let line: Vec<u32> = points.iter().filter_map(|p| self.number(p)).collect();
                self.in_line(number, 0, line);
            }
            Measurement::SideIs { point, side } => {
                if let Some(p) = self.number(point) {
                    self.say(p, side);
                }
            }
        }
    }

    fn push(
        &mut self,
        measurement: usize,
        part: usize,
        role: ReadingRole,
        shape: Shape,
        value: f64,
        sd: f64,
    ) {
        let equation = Equation { shape, value, sd };
        self.observations.push(Observation { measurement, part, role, equation });
    }

    fn say(&mut self, p: u32, side: &SideOf) {
        if let (Some(a), Some(b)) = (self.number(&side.from), self.number(&side.to)) {
            self.say_left(p, a, b, side.side == Side::Left);
        }
    }

    fn say_left(&mut self, p: u32, a: u32, b: u32, left: bool) {
        if p != a && p != b && a != b {
            self.said.push(Said { p, a, b, left });
        }
    }

    /// A distance that can be used: above zero, between two points.
    fn distance(
        &mut self,
        m: usize,
        part: usize,
        role: ReadingRole,
        ab: [u32; 2],
        r: &Reading,
        how: &How,
    ) -> bool {
        let [a, b] = ab;
        let (value, sd) = (r.value.metres(), sd_of(how, r.value));
        let usable = a != b && (SHORTEST..=LONGEST).contains(&value);
        if usable {
            self.push(m, part, role, Shape::Distance { a, b }, value, sd);
            self.bonds.push(Bond::Distance { a, b, value, sd });
        }
        usable
    }

    fn run(&mut self, number: usize, m: &Measurement) {
        let Measurement::Run { zero, toward, readings, how } = m else { return };
        let (Some(a), Some(b)) = (self.number(zero), self.number(toward)) else { return };
        if a == b {
            return;
        }
        let mut members = vec![(a, [0.0, 0.0])];
        let mut worst = BEST_SD;
        for (part, r) in readings.iter().enumerate() {
            let Some(p) = self.number(&r.point).filter(|&p| p != a) else { continue };
            let (value, sd) = (r.reading.value.metres(), sd_of(how, r.reading.value));
            if value.is_nan() || value.abs() > LONGEST || (p == b && value < SHORTEST) {
                continue;
            }
            if p == b {
                self.push(number, part, ReadingRole::Run, Shape::Distance { a, b }, value, sd);
            } else {
                self.push(number, part, ReadingRole::Run, Shape::Station { a, b, p }, value, sd);
                self.push(number, part, ReadingRole::OnRun, Shape::Offset { a, b, p }, 0.0, ACROSS_RUN);
            }
            members.push((p, [value, 0.0]));
            worst = sd.max(worst);
        }
        let read = members.iter().any(|(p, at)| *p == b && at[0] > 0.0);
        if read {
            self.datums.push((a, b));
        }
        let axis = (!read).then_some((a, b));
        self.bonds.push(Bond::Rigid(Rigid { members, axis, along: worst, across: ACROSS_RUN }));
    }

    fn offsets(&mut self, number: usize, from: &PointId, to: &PointId, rows: &[OffsetRow], how: &How) {
        let (Some(a), Some(b)) = (self.number(from), self.number(to)) else { return };
        if a == b {
            return;
        }
        let mut members = vec![(a, [0.0, 0.0])];
        let mut rigid = Rigid { members: Vec::new(), axis: Some((a, b)), along: BEST_SD, across: BEST_SD };
        for (part, row) in rows.iter().enumerate() {
            let Some(p) = self.number(&row.point).filter(|&p| p != a && p != b) else { continue };
            let sign = if row.side == Side::Left { 1.0 } else { -1.0 };
            let (station, offset) = (row.station.value.metres(), sign * row.offset.value.metres());
            if !(station.abs() <= LONGEST && offset.abs() <= LONGEST) {
                continue;
            }
            let across = sd_of(how, row.offset.value);
            let along = hypot(sd_of(how, row.station.value), BY_EYE * offset);
            self.push(number, part, ReadingRole::Station, Shape::Station { a, b, p }, station, along);
            self.push(number, part, ReadingRole::Offset, Shape::Offset { a, b, p }, offset, across);
            members.push((p, [station, offset]));
            (rigid.along, rigid.across) = (rigid.along.max(along), rigid.across.max(across));
        }
        rigid.members = members;
        self.bonds.push(Bond::Rigid(rigid));
    }

    fn walk(&mut self, number: usize, m: &Measurement) {
        let Measurement::Walk { start, legs, how } = m else { return };
        let mut before = None;
        let Some(mut at) = self.number(start) else { return };
        for (part, leg) in legs.iter().enumerate() {
            let Some(to) = self.number(&leg.to).filter(|&to| to != at) else { continue };
            if let Some(length) = &leg.length
                && self.distance(number, part, ReadingRole::Wall, [at, to], length, how)
            {
                self.datums.push((at, to));
            }
            if let (Some(before), Some(turn)) = (before, leg.turn) {
                self.turn(number, part, [before, at, to], turn);
            }
            (before, at) = (Some(at), to);
        }
    }

    fn turn(&mut self, number: usize, part: usize, [before, at, to]: [u32; 3], turn: Turn) {
        if before == to {
            return;
        }
        match turn {
            Turn::Straight => self.in_line(number, part, vec![before, at, to]),
            Turn::Left | Turn::Right => {
                self.square(number, part, at, before, to);
                self.say_left(to, before, at, turn == Turn::Left);
            }
            Turn::LeftNotSquare | Turn::RightNotSquare => {
                self.say_left(to, before, at, turn == Turn::LeftNotSquare);
            }
        }
    }

    fn square(&mut self, number: usize, part: usize, at: u32, a: u32, c: u32) {
        if at != a && at != c && a != c {
            self.push(number, part, ReadingRole::Square, Shape::Square { at, a, c }, 0.0, SQUARE);
            self.bonds.push(Bond::Square { at, a, c });
        }
    }

    fn in_line(&mut self, number: usize, part: usize, line: Vec<u32>) {
        let (Some(&a), Some(&b)) = (line.first(), line.last()) else { return };
        if a == b {
            return;
        }
        for (index, &p) in line.iter().enumerate() {
            if p != a && p != b {
                // Of a stated line each middle point is a part of its own; of a walk the leg is.
                let part = if line.len() == 3 { part } else { index };
                self.push(number, part, ReadingRole::InLine, Shape::Offset { a, b, p }, 0.0, IN_LINE);
            }
        }
        self.bonds.push(Bond::Line(line));
    }
}

/// Standard deviation of a length in metres, never so small or large that it upsets the weights.
fn sd_of(how: &How, length: Length) -> f64 {
    let sd = how.sd_of(length).metres().abs();
    if sd.is_finite() { sd.clamp(BEST_SD, 1e3) } else { 1e3 }
}

/// Every point a measurement names.
fn named(m: &Measurement) -> Vec<&PointId> {
    match m {
        Measurement::Tie { from, to, side, .. } => {
            let mut all = vec![from, to];
            all.extend(side.iter().flat_map(|s| [&s.from, &s.to]));
            all
        }
        Measurement::Run { zero, toward, readings, .. } => {
            [zero, toward].into_iter().chain(readings.iter().map(|r| &r.point)).collect()
        }
        Measurement::Offsets { from, to, rows, .. } => {
            [from, to].into_iter().chain(rows.iter().map(|r| &r.point)).collect()
        }
        Measurement::Walk { start, legs, .. } => {
            std::iter::once(start).chain(legs.iter().map(|l| &l.to)).collect()
        }
        Measurement::Square { at, from, to } => vec![at, from, to],
        Measurement::InLine { points } => points.iter().collect(),
        Measurement::SideIs { point, side } => vec![point, &side.from, &side.to],
    }
}
