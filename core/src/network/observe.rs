//! From the record's measurements to observation equations and said sides.

mod turned;

use super::equation::{Equation, Shape};
use super::result::{Finding, ReadingRole};
use super::shared::{Shared, What};
use crate::record::{How, Measurement, OffsetRow, PointId, Reading, Record, Recorded, Side, SideOf, Turn};
use crate::units::float::hypot;
use crate::units::{Length, sort_by};
use litemap::LiteMap;

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
    /// The axis: a point on it, and one that lies ahead of that at no known station.
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
    /// An angle, counter-clockwise.
    Angle { at: u32, from: u32, to: u32, value: f64, sd: f64 },
    /// A bearing, from the north of this node.
    Bearing { a: u32, b: u32, north: u32, value: f64, sd: f64 },
    /// Two parallel lines.
    Parallel { a: u32, b: u32, c: u32, d: u32, sd: f64 },
    /// Two equal lengths.
    Same { a: u32, b: u32, c: u32, d: u32, sd: f64 },
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
    /// Numbers that several observations share; their nodes follow those of the points.
    pub shared: Vec<Shared>,
    /// The nodes of the norths, and what to add to a bearing to count it from there.
    magnetic: Option<(u32, f64)>,
    truly: Option<(u32, f64)>,
    ties: Vec<(u32, u32)>,
    index: LiteMap<PointId, u32>,
}

impl Observed {
    pub(super) fn of(record: &Record) -> Self {
        let mut seen = Self::default();
        seen.points.extend(record.points.iter().map(|p| p.id.clone()));
        for m in &record.measurements {
            seen.points.extend(m.what.points().into_iter().cloned());
        }
        sort_by(&mut seen.points, PointId::cmp);
        seen.points.dedup();
        // One by one: sorting them all at once is a sort of its own to download.
        for (point, number) in seen.points.iter().zip(0u32..) {
            seen.index.insert(point.clone(), number);
        }
        seen.norths(record);
        let diameters = record.diameters();
        for (number, m) in record.measurements.iter().enumerate() {
            seen.take(number, &record.laid(m), &diameters);
        }
        let ties = std::mem::take(&mut seen.ties);
        seen.datums.extend(ties);
        seen
    }

    /// The observations a measurement would give if it said something else; a number that it shares
    /// may get a new node.
    pub(super) fn instead(
        &self,
        record: &Record,
        number: usize,
        m: &Recorded<Measurement>,
    ) -> Vec<Observation> {
        let mut other = Self {
            points: self.points.clone(),
            index: self.index.clone(),
            shared: self.shared.clone(),
            magnetic: self.magnetic,
            truly: self.truly,
            ..Self::default()
        };
        other.take(number, &record.laid(m), &record.diameters());
        other.observations
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

    fn take(&mut self, number: usize, m: &Recorded<Measurement>, thick: &LiteMap<&PointId, Length>) {
        match &m.what {
            Measurement::Tie { from, to, reading, side, taped_to, how } => {
                let (Some(a), Some(b)) = (self.number(from), self.number(to)) else { return };
                let mut length = level(how, reading, reading.value);
                if let Some(diameter) = thick.get(to) {
                    length = taped_to.to_middle(length, *diameter);
                }
                let sd = sd_of(how, reading.value);
                if self.distance(number, 0, ReadingRole::Tie, [a, b], length, sd) {
                    self.ties.push((a, b));
                }
                if let Some(side) = side {
                    // A tape has no direction: the side is said of the end that is not on its line.
                    let on_line = *to == side.from || *to == side.to;
                    self.say(if on_line { a } else { b }, side);
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
            Measurement::Angle { .. } => self.turned(number, &m.what),
            Measurement::Bearing { .. } => self.bearing(number, &m.what),
            Measurement::Parallel { .. } | Measurement::SameLength { .. } => self.relation(number, &m.what),
            // These say how things look, not where points stand.
            Measurement::Arc { .. } | Measurement::ArcThrough { .. } | Measurement::Girth { .. } => {}
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
        let shared = equation.shared().and_then(|node| (node as usize).checked_sub(self.points.len()));
        if let Some(shared) = shared.and_then(|k| self.shared.get_mut(k)) {
            shared.by.push(self.observations.len());
        }
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
        length: Length,
        sd: f64,
    ) -> bool {
        let [a, b] = ab;
        let value = length.metres();
        let usable = a != b && (SHORTEST..=LONGEST).contains(&value);
        if usable {
            self.push(m, part, role, Shape::Distance { a, b }, value, sd);
            self.bonds.push(Bond::Distance { a, b, value, sd });
        }
        usable
    }

    fn run(&mut self, number: usize, m: &Measurement) {
        let Measurement::Run { zero, toward, readings, zero_unknown, how } = m else { return };
        let (Some(a), Some(b)) = (self.number(zero), self.number(toward)) else { return };
        if a == b {
            return;
        }
        let shift = zero_unknown.then(|| self.share(What::Zero));
        let longest = longest(readings.iter().map(|r| &r.reading));
        let mut members = if shift.is_some() { Vec::new() } else { vec![(a, [0.0, 0.0])] };
        let mut worst = BEST_SD;
        for (part, r) in readings.iter().enumerate() {
            let Some(p) = self.number(&r.point).filter(|&p| p != a || shift.is_some()) else { continue };
            let value = level(how, &r.reading, longest).metres();
            let sd = sd_of(how, r.reading.value);
            let no_ray = p == b && value < SHORTEST && shift.is_none();
            if value.is_nan() || value.abs() > LONGEST || no_ray {
                continue;
            }
            let shape = match shift {
                Some(zero) => Shape::Shifted { a, b, p, zero },
                None if p == b => Shape::Distance { a, b },
                None => Shape::Station { a, b, p },
            };
            self.push(number, part, ReadingRole::Run, shape, value, sd);
            if p != a && p != b {
                self.push(number, part, ReadingRole::OnRun, Shape::Offset { a, b, p }, 0.0, ACROSS_RUN);
            }
            members.push((p, [value, 0.0]));
            worst = sd.max(worst);
        }
        if shift.is_some() {
            self.floating_run(a, b, members, worst);
            return;
        }
        let read = members.iter().any(|(p, at)| *p == b && at[0] > 0.0);
        if read {
            self.datums.push((a, b));
        }
        let axis = (!read).then_some((a, b));
        self.bonds.push(Bond::Rigid(Rigid { members, axis, along: worst, across: ACROSS_RUN }));
    }

    /// A run whose zero is unknown: its points keep their distances, on the line, and nothing
    /// says how far they are from its start.
    fn floating_run(&mut self, a: u32, b: u32, members: Vec<(u32, [f64; 2])>, along: f64) {
        if let (Some((p, from)), Some((q, to))) = (members.first(), members.last())
            && p != q
            && (to[0] - from[0]).abs() > SHORTEST
        {
            self.ties.push((*p, *q));
        }
        let mut line = vec![a, b];
        line.extend(members.iter().map(|(p, _)| *p).filter(|p| *p != a && *p != b));
        self.bonds.push(Bond::Line(line));
        self.bonds.push(Bond::Rigid(Rigid { members, axis: Some((a, b)), along, across: ACROSS_RUN }));
    }

    fn offsets(&mut self, number: usize, from: &PointId, to: &PointId, rows: &[OffsetRow], how: &How) {
        let (Some(a), Some(b)) = (self.number(from), self.number(to)) else { return };
        if a == b {
            return;
        }
        let longest = longest(rows.iter().map(|row| &row.station));
        let mut members = vec![(a, [0.0, 0.0])];
        let mut rigid = Rigid { members: Vec::new(), axis: Some((a, b)), along: BEST_SD, across: BEST_SD };
        for (part, row) in rows.iter().enumerate() {
            let Some(p) = self.number(&row.point).filter(|&p| p != a && p != b) else { continue };
            let sign = if row.side == Side::Left { 1.0 } else { -1.0 };
            let station = level(how, &row.station, longest).metres();
            // An offset is short and held level; only the baseline lies on the slope.
            let offset = sign * how.corrected(row.offset.value).metres();
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
        let longest = longest(legs.iter().filter_map(|leg| leg.length.as_ref()));
        for (part, leg) in legs.iter().enumerate() {
            let Some(to) = self.number(&leg.to).filter(|&to| to != at) else { continue };
            if let Some(read) = &leg.length {
                let (length, sd) = (level(how, read, longest), sd_of(how, read.value));
                if self.distance(number, part, ReadingRole::Wall, [at, to], length, sd) {
                    self.datums.push((at, to));
                }
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

/// The level, corrected length of a reading; not a number when its slope cannot be.
fn level(how: &How, reading: &Reading, longest: Length) -> Length {
    how.level(reading.value, longest).unwrap_or(Length::from_metres(f64::NAN))
}

/// The longest of a measurement's readings, by size.
fn longest<'a>(readings: impl Iterator<Item = &'a Reading>) -> Length {
    let longest = readings.map(|r| r.value.abs().metres()).fold(0.0, f64::max);
    Length::from_metres(longest)
}

/// Ties to the bark of trunks whose thickness nobody gave.
pub(super) fn unknown_thickness(record: &Record) -> Vec<Finding> {
    let thick = record.diameters();
    let finding = |m: &Recorded<Measurement>| match &m.what {
        Measurement::Tie { to, taped_to, .. } if !taped_to.is_middle() && !thick.contains_key(to) => {
            Some(Finding::ThicknessUnknown { point: to.clone(), entry: m.entry.clone() })
        }
        _ => None,
    };
    record.measurements.iter().filter_map(finding).collect()
}
