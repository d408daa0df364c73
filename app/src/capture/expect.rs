//! What the plan expects a reading to be, and where a point may stand: asked before saving.

use super::draft::{Draft, Kind, Slot};
use super::say::other_anchor;
use swingtie_core::network::{Adjustment, PointState};
use swingtie_core::plan::{PlacedPoint, Plan};
use swingtie_core::record::{How, PointId, Record, Side};
use swingtie_core::units::{Length, PlanPoint, float};

/// The plan expects another value than the one typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Unexpected {
    /// What the plan has.
    pub expected: Length,
    /// Within how much the plan and a careful reading should agree.
    pub within: Length,
    /// A slip of tape or hand that would explain the difference, in words.
    pub slip: Option<String>,
}

/// A 95 % half axis is so many standard deviations (square root of the chi-square quantile for two
/// degrees of freedom, 5.991).
const SIGMAS_OF_95: f64 = 2.447_7;
/// A careful reading differs by more than so many standard deviations about once in a thousand.
const ASKED_FROM: f64 = 3.3;
/// Differences below this are never worth a question.
const PETTY: Length = Length::from_inches(1.0);

fn placed<'a>(plan: &'a Plan, id: &PointId) -> Option<&'a PlacedPoint> {
    plan.points.iter().find(|p| p.id == *id && p.state != PointState::Loose)
}

/// What the plan expects the draft's reading to be; none when it cannot tell.
#[must_use]
pub fn expected(draft: &Draft, plan: &Plan) -> Option<(Length, Length)> {
    // While an entry is written anew, the plan leans on the very value in question.
    if draft.correcting.is_some() {
        return None;
    }
    let from = placed(plan, draft.known(Slot::First)?)?;
    let to = placed(plan, draft.known(Slot::Target)?)?;
    let sd = |p: &PlacedPoint| p.ellipse.map_or(0.0, |e| e.semi_major.metres()) / SIGMAS_OF_95;
    let spread = float::hypot(sd(from), sd(to));
    let length = match draft.kind {
        Kind::Tie | Kind::Run => from.at.distance(to.at),
        Kind::Offsets => {
            let (along, _) =
                station_and_offset(from.at, placed(plan, draft.known(Slot::Second)?)?.at, to.at)?;
            along
        }
        _ => return None,
    };
    Some((length, Length::from_metres(spread)))
}

/// The question to ask before saving, if the typed value is far from what the plan expects.
#[must_use]
pub fn unexpected(draft: &Draft, plan: &Plan, how: &How) -> Option<Unexpected> {
    let slot = if draft.kind == Kind::Offsets { Slot::Station } else { Slot::Length };
    let typed = draft.reading(slot)?.value;
    let (expected, spread) = expected(draft, plan)?;
    let sigma = float::hypot(spread.metres(), how.sd_of(typed).metres());
    let within = Length::from_metres((ASKED_FROM * sigma).max(PETTY.metres()));
    let off = (typed - expected).abs();
    (off > within).then(|| Unexpected { expected, within, slip: slip(typed, expected, within) })
}

/// A usual slip that would turn `expected` into `typed`: common practice in taping, no source.
fn slip(typed: Length, expected: Length, within: Length) -> Option<String> {
    let off = (typed - expected).feet();
    let near = |feet: f64| (off.abs() - feet).abs() < within.feet();
    if near(1.0) {
        return Some("One foot off: a foot mark is easily misread.".to_owned());
    }
    if near(3.0) || near(30.0) {
        return Some("Three off: was a 6 read as a 9, or a 9 as a 6?".to_owned());
    }
    if near(10.0) {
        return Some("Ten feet off: was a tens figure missed?".to_owned());
    }
    None
}

/// Distance along the line from `from` to `to`, and to its left, of a place.
fn station_and_offset(from: PlanPoint, to: PlanPoint, at: PlanPoint) -> Option<(Length, Length)> {
    let ((dx, dy), (px, py)) = ((to - from).metres(), (at - from).metres());
    let long = float::hypot(dx, dy);
    (long > 0.0).then(|| {
        (Length::from_metres((px * dx + py * dy) / long), Length::from_metres((dx * py - dy * px) / long))
    })
}

/// The two places a point may stand on two ties, seen walking from one anchor to the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Mirror {
    /// The point.
    pub point: PointId,
    /// Where the walk starts: the earlier tie's anchor.
    pub from: PointId,
    /// Where it goes: the anchor of the tie being taken.
    pub to: PointId,
    /// The place to the left.
    pub left: PlanPoint,
    /// The place to the right.
    pub right: PlanPoint,
}

impl Mirror {
    /// The place on this side.
    #[must_use]
    pub const fn place(&self, side: Side) -> PlanPoint {
        match side {
            Side::Left => self.left,
            Side::Right => self.right,
        }
    }
}

/// Two ties meet this near the line between their anchors: both places are the same.
const FLAT: f64 = 0.02;

/// The mirror places that the tie being taken leaves open, when the side matters: the point has
/// exactly one other tie and no side was ever said.
#[must_use]
pub fn mirror(draft: &Draft, record: &Record, plan: &Plan, adjustment: &Adjustment) -> Option<Mirror> {
    if draft.kind != Kind::Tie || draft.correcting.is_some() {
        return None;
    }
    let (to, point) = (draft.known(Slot::First)?, draft.known(Slot::Target)?);
    let fix = adjustment.points.get(point)?;
    if fix.state != PointState::Loose {
        return None;
    }
    let from = other_anchor(record, point, to)?;
    let radius = tied(record, &from, point)?;
    let (a, b) = (placed(plan, &from)?.at, placed(plan, to)?.at);
    let (left, right) = intersect(a, radius, b, draft.reading(Slot::Length)?.value)?;
    Some(Mirror { point: point.clone(), from, to: to.clone(), left, right })
}

fn tied(record: &Record, anchor: &PointId, point: &PointId) -> Option<Length> {
    use swingtie_core::record::Measurement::Tie;
    record.measurements.iter().rev().find_map(|m| match &m.what {
        Tie { from, to, reading, .. }
            if (from == anchor && to == point) || (from == point && to == anchor) =>
        {
            Some(reading.value)
        }
        _ => None,
    })
}

/// Where two circles meet: to the left and to the right, walking from `a` to `b`. None when they
/// do not meet or touch too flatly for the side to matter.
fn intersect(a: PlanPoint, ra: Length, b: PlanPoint, rb: Length) -> Option<(PlanPoint, PlanPoint)> {
    let ((dx, dy), (ax, ay)) = ((b - a).metres(), a.metres());
    let (ra, rb, d) = (ra.metres(), rb.metres(), float::hypot(dx, dy));
    if d <= 0.0 {
        return None;
    }
    let along = (ra * ra - rb * rb + d * d) / (2.0 * d);
    let square = ra * ra - along * along;
    if square < FLAT * FLAT {
        return None;
    }
    let across = float::sqrt(square);
    let (ux, uy) = (dx / d, dy / d);
    let at = |side: f64| {
        PlanPoint::from_metres(ax + along * ux - side * across * uy, ay + along * uy + side * across * ux)
    };
    Some((at(1.0), at(-1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn m(metres: f64) -> Length {
        Length::from_metres(metres)
    }

    // A 3-4-5 triangle: 5 along the line, legs 3 and 4 give height 12/5 over the foot at 9/5.
    #[test]
    fn two_ties_meet_left_and_right() {
        let (a, b) = (PlanPoint::from_metres(0.0, 0.0), PlanPoint::from_metres(5.0, 0.0));
        let (left, right) = intersect(a, m(3.0), b, m(4.0)).unwrap();
        assert!((left.x.metres() - 1.8).abs() < 1e-12 && (left.y.metres() - 2.4).abs() < 1e-12);
        assert!((right.y.metres() + 2.4).abs() < 1e-12);
        assert_eq!(intersect(a, m(1.0), b, m(2.0)), None, "they do not meet");
        assert_eq!(intersect(a, m(2.0), b, m(3.0)), None, "they touch on the line");
    }

    #[test]
    fn station_and_offset_of_a_place() {
        let (a, b) = (PlanPoint::from_metres(1.0, 1.0), PlanPoint::from_metres(1.0, 9.0));
        let (along, left) = station_and_offset(a, b, PlanPoint::from_metres(-1.0, 4.0)).unwrap();
        assert!((along.metres() - 3.0).abs() < 1e-12 && (left.metres() - 2.0).abs() < 1e-12);
    }

    #[test]
    fn a_six_read_as_a_nine_is_named() {
        let within = Length::from_inches(2.0);
        assert!(slip(Length::from_feet(34.5), Length::from_feet(31.5), within).unwrap().contains('6'));
        assert!(slip(Length::from_feet(32.5), Length::from_feet(31.5), within).unwrap().contains("foot"));
        assert_eq!(slip(Length::from_feet(36.1), Length::from_feet(31.5), within), None);
    }
}
