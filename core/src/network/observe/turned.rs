//! Turned angles, bearings, parallels and equal lengths as observations.

use super::super::equation::Shape;
use super::super::result::ReadingRole;
use super::super::shared::What;
use super::{Bond, Observed, SQUARE};
use crate::record::{AngleHow, AngleReading, Measurement, NorthKind, PointId, Record, Rotation};
use crate::units::Length;
use std::f64::consts::{PI, TAU};

/// How well two lengths agree that were called the same (metres). Common practice, no source.
pub(in super::super) const SAME: f64 = 0.015;
/// No angle is trusted more than this (radians): two seconds of arc.
const BEST_ANGLE: f64 = 1e-5;
/// An angle this near to 0° or 180°, in standard deviations, tells no side.
const TELLS_SIDE: f64 = 4.0;

impl Observed {
    /// Finds out which norths are read: compass and true bearings have an unknown of their own
    /// each, unless the declination joins them.
    pub(super) fn norths(&mut self, record: &Record) {
        let read = |kind: NorthKind| {
            let mut kinds = record.measurements.iter().map(|m| &m.what);
            kinds.any(|m| matches!(m, Measurement::Bearing { north, .. } if *north == kind))
        };
        let declination = record.north.as_ref().and_then(|n| n.declination).map(|d| d.radians());
        let magnetic = read(NorthKind::Magnetic).then(|| self.share(What::North(NorthKind::Magnetic)));
        self.magnetic = magnetic.map(|node| (node, 0.0));
        if read(NorthKind::True) {
            self.truly = match (magnetic, declination.filter(|d| d.is_finite())) {
                // True is magnetic plus declination; the compass's own readings stay as read.
                (Some(node), Some(east)) => Some((node, -east)),
                _ => Some((self.share(What::North(NorthKind::True)), 0.0)),
            };
        }
    }

    pub(super) fn bearing(&mut self, number: usize, m: &Measurement) {
        let Measurement::Bearing { from, to, reading, north, how } = m else { return };
        let turned = match north {
            NorthKind::Magnetic => self.magnetic,
            NorthKind::True => self.truly,
        };
        let (Some(a), Some(b), Some((north, more))) = (self.number(from), self.number(to), turned) else {
            return;
        };
        let (Some(value), false) = (angle(reading), a == b) else { return };
        let (value, sd) = ((value + more).rem_euclid(TAU), sd_of(how));
        self.push(number, 0, ReadingRole::Bearing, Shape::Bearing { a, b, north }, value, sd);
        self.bonds.push(Bond::Bearing { a, b, north, value, sd });
    }

    pub(super) fn turned(&mut self, number: usize, m: &Measurement) {
        let Measurement::Angle { at, from, to, reading, turn, how } = m else { return };
        let (Some(at), Some(one), Some(two)) = (self.number(at), self.number(from), self.number(to)) else {
            return;
        };
        let Some(value) = angle(reading).filter(|_| at != one && at != two && one != two) else { return };
        // Clockwise from one ray to the other is counter-clockwise from the other to the one.
        let (from, to) = if *turn == Rotation::CounterClockwise { (one, two) } else { (two, one) };
        let sd = sd_of(how);
        self.push(number, 0, ReadingRole::Angle, Shape::Angle { at, from, to }, value, sd);
        self.bonds.push(Bond::Angle { at, from, to, value, sd });
        // Less than half a turn to the left: the vertex is left of the line from ray to ray.
        let from_straight = value.min((value - PI).abs()).min(TAU - value);
        if from_straight > TELLS_SIDE * sd {
            self.say_left(at, from, to, value < PI);
        }
    }

    pub(super) fn relation(&mut self, number: usize, m: &Measurement) {
        let (Measurement::Parallel { one, other, .. } | Measurement::SameLength { one, other, .. }) = m
        else {
            return;
        };
        let node = |id: &PointId| self.number(id);
        let ([Some(a), Some(b)], [Some(c), Some(d)]) = (one.each_ref().map(node), other.each_ref().map(node))
        else {
            return;
        };
        if a == b || c == d || (a.min(b), a.max(b)) == (c.min(d), c.max(d)) {
            return;
        }
        if let Measurement::SameLength { tolerance, .. } = m {
            let sd = tolerance.map_or(SAME, Length::metres).abs();
            let sd = if sd.is_finite() { sd.clamp(super::BEST_SD, 1e3) } else { 1e3 };
            self.push(number, 0, ReadingRole::SameLength, Shape::Difference { a, b, c, d }, 0.0, sd);
            self.bonds.push(Bond::Same { a, b, c, d, sd });
        } else if let Measurement::Parallel { tolerance, .. } = m {
            let sd = usable(tolerance.map_or(SQUARE, |t| t.radians()));
            self.push(number, 0, ReadingRole::Parallel, Shape::Parallel { a, b, c, d }, 0.0, sd);
            self.bonds.push(Bond::Parallel { a, b, c, d, sd });
        }
    }
}

/// An angle's value, when it is one.
fn angle(reading: &AngleReading) -> Option<f64> {
    let value = reading.value.radians();
    (value.abs() <= 2.0 * TAU).then(|| value.rem_euclid(TAU))
}

fn sd_of(how: &AngleHow) -> f64 {
    usable(how.sd().radians())
}

fn usable(sd: f64) -> f64 {
    if sd.is_finite() { sd.abs().clamp(BEST_ANGLE, PI) } else { PI }
}
