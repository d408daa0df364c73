//! What the plan expects a reading to be, and where a point may stand: asked before saving.

use super::draft::{Draft, InHand, Kind, Slot};
use super::say::other_anchor;
use std::f64::consts::{PI, TAU};
use swingtie_core::network::{Adjustment, PointState, Quantity};
use swingtie_core::plan::{PlacedPoint, Plan};
use swingtie_core::record::{How, PointId, Record, Rotation, Slope};
use swingtie_core::units::{Angle, Length, PlanPoint, float};

/// The plan expects another value than the one typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Unexpected {
    /// Where it is typed.
    pub slot: Slot,
    /// What should be read as the plan has it.
    pub expected: Quantity,
    /// Within how much the plan and a careful reading should agree.
    pub within: Quantity,
    /// A slip of tape or hand that would explain the difference, in words.
    pub slip: Option<&'static str>,
}

/// A 95 % half axis is so many standard deviations (square root of the chi-square quantile for two
/// degrees of freedom, 5.991).
const SIGMAS_OF_95: f64 = 2.447_7;
/// A careful reading differs by more than so many standard deviations about once in a thousand.
pub const ASKED_FROM: f64 = 3.3;
/// Differences below this are never worth a question.
pub const PETTY: Length = Length::from_inches(1.0);
/// As [`PETTY`], of angles.
const PETTY_ANGLE: Angle = Angle::from_degrees(1.0);
/// How well north is known that somebody stated (one standard deviation): as by a hand compass. Common
/// practice, no source.
const STATED_NORTH: Angle = Angle::from_degrees(1.0);

/// A point that has its place.
pub(super) fn placed<'a>(plan: &'a Plan, id: &PointId) -> Option<&'a PlacedPoint> {
    plan.points.iter().find(|p| p.id == *id && p.state != PointState::Loose)
}

/// What is known of a yard while a reading is taken.
#[derive(Clone, Copy)]
pub struct Known<'a> {
    /// What was said.
    pub record: &'a Record,
    /// Where things stand by it.
    pub plan: &'a Plan,
    /// How well.
    pub adjustment: &'a Adjustment,
}

/// How well its place is known (one standard deviation, metres).
pub(super) fn sd(point: &PlacedPoint) -> f64 {
    point.ellipse.map_or(0.0, |e| e.semi_major.metres()) / SIGMAS_OF_95
}

/// The level length the plan expects between the draft's points, and its standard deviation; none when
/// it cannot tell.
fn expected_length(draft: &Draft, plan: &Plan) -> Option<(Length, Length)> {
    let from = placed(plan, draft.known(Slot::First)?)?;
    let to = placed(plan, draft.known(Slot::Target)?)?;
    let length = match draft.kind {
        Kind::Run if draft.zero_unknown => return None,
        Kind::Tie | Kind::Run => from.at.distance(to.at),
        Kind::Offsets => {
            let (along, _) =
                station_and_offset(from.at, placed(plan, draft.known(Slot::Second)?)?.at, to.at)?;
            along
        }
        _ => return None,
    };
    Some((length, Length::from_metres(float::hypot(sd(from), sd(to)))))
}

/// The angle or bearing the plan expects, in radians, and its standard deviation; none when it cannot
/// tell.
fn expected_angle(draft: &Draft, known: Known) -> Option<(f64, f64)> {
    let at = placed(known.plan, draft.known(Slot::First)?)?;
    // The direction to a point, and how well it is known.
    let toward = |slot| {
        let point = placed(known.plan, draft.known(slot)?)?;
        let (x, y) = (point.at - at.at).metres();
        let far = float::hypot(x, y);
        (far > 0.0).then(|| (float::atan2(y, x), float::hypot(sd(at), sd(point)) / far))
    };
    let (to, to_sd) = toward(Slot::Target)?;
    match draft.kind {
        Kind::Angle => {
            let (from, from_sd) = toward(Slot::Second)?;
            let turned = if draft.rotation? == Rotation::Clockwise { from - to } else { to - from };
            Some((turned, float::hypot(from_sd, to_sd)))
        }
        Kind::Bearing => {
            let (kind, north) = (draft.north?, &known.plan.north);
            let found = known.adjustment.norths.iter().find(|found| found.kind == kind);
            let (north, north_sd) = match (found, north) {
                (Some(found), _) => (found.direction, found.sd),
                (None, Some(stated)) if stated.kind == kind => (stated.direction, STATED_NORTH),
                _ => return None,
            };
            Some((north.radians() - to, float::hypot(to_sd, north_sd.radians())))
        }
        _ => None,
    }
}

/// The question to ask before saving, if the length typed is far from what the plan expects.
#[must_use]
pub fn unexpected_length(draft: &Draft, known: Known, hand: &InHand) -> Option<Unexpected> {
    // While an entry is written anew, the plan leans on the very value in question.
    if draft.correcting.is_some() {
        return None;
    }
    let slot = draft.asked();
    let typed = draft.reading(slot)?.value;
    let (expected, spread) = expected_length(draft, known.plan)?;
    let sigma = float::hypot(spread.metres(), hand.how.sd_of(typed).metres());
    let within = Length::from_metres((ASKED_FROM * sigma).max(PETTY.metres()));
    // What the reading comes to in the plan: level, corrected, to the middle of a trunk.
    let how = How { slope: lay(draft, known.record), ..hand.how.clone() };
    let mut level = how.level(typed, typed)?;
    if let Some(diameter) = draft.known(Slot::Target).and_then(|to| known.record.diameters().get(to).copied())
    {
        level = draft.taped_to.to_middle(level, diameter);
    }
    let expected = typed + (expected - level);
    let off = (typed - expected).abs();
    (off > within).then(|| Unexpected {
        slot,
        expected: Quantity::Length(expected),
        within: Quantity::Length(within),
        slip: slip(typed, expected, within),
    })
}

/// How the tape lay; by heights, as far as they are known.
fn lay(draft: &Draft, record: &Record) -> Option<Slope> {
    let height = |slot| record.heights.get(draft.known(slot)?).copied();
    match draft.lay()? {
        Slope::Heights => Some(Slope::RiseMetres(height(Slot::Target)? - height(Slot::First)?)),
        said => Some(said),
    }
}

/// As [`unexpected_length`], of an angle or a bearing.
#[must_use]
pub fn unexpected_angle(draft: &Draft, known: Known, hand: &InHand) -> Option<Unexpected> {
    if draft.correcting.is_some() {
        return None;
    }
    let slot = draft.asked();
    let typed = draft.angle(slot)?.value.radians();
    let (expected, spread) = expected_angle(draft, known)?;
    let sigma = float::hypot(spread, hand.sight.sd().radians());
    let within = (ASKED_FROM * sigma).max(PETTY_ANGLE.radians());
    let off = |expected: f64| ((typed - expected + PI).rem_euclid(TAU) - PI).abs();
    // Usual slips, common practice, no source.
    let slip = if draft.kind == Kind::Angle && off(-expected) < within {
        Some("Was it turned the other way?")
    } else if off(expected + PI) < within {
        Some("Half a turn off: was the wrong end read?")
    } else {
        None
    };
    (off(expected) > within).then(|| Unexpected {
        slot,
        expected: Quantity::Angle(Angle::from_radians(expected.rem_euclid(TAU))),
        within: Quantity::Angle(Angle::from_radians(within)),
        slip,
    })
}

/// A usual slip that would turn `expected` into `typed`: common practice in taping, no source.
fn slip(typed: Length, expected: Length, within: Length) -> Option<&'static str> {
    let off = (typed - expected).feet();
    let near = |feet: f64| (off.abs() - feet).abs() < within.feet();
    if near(1.0) {
        return Some("One foot off: a foot mark is easily misread.");
    }
    // Where such a figure was typed.
    let upside = [(3.0, 1.0), (30.0, 10.0)].into_iter().any(|(feet, place): (f64, f64)| {
        let figure = (typed.feet().abs() / place).floor() % 10.0;
        near(feet) && figure == if off > 0.0 { 9.0 } else { 6.0 }
    });
    if upside {
        return Some("Three off: was a 6 read as a 9, or a 9 as a 6?");
    }
    if near(10.0) {
        return Some("Ten feet off: was a tens figure missed?");
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

/// Where an offset under way would put its point: to the left and to the right of the line, square out from
/// its station. None before the station is read. So far out as is typed; before that, a few steps.
#[must_use]
pub fn offset_sides(draft: &Draft, plan: &Plan) -> Option<[PlanPoint; 2]> {
    const STEPS: Length = Length::from_feet(6.0);
    if draft.kind != Kind::Offsets {
        return None;
    }
    let at = |slot| Some(placed(plan, draft.known(slot)?)?.at);
    let (from, to) = (at(Slot::First)?, at(Slot::Second)?);
    let along = draft.reading(Slot::Station)?.value.metres();
    let out = draft.reading(Slot::Length).map_or(STEPS, |reading| reading.value).metres();
    let ((x, y), (dx, dy)) = (from.metres(), (to - from).metres());
    let far = float::hypot(dx, dy);
    let (ux, uy) = (dx / far, dy / far);
    let place = |out: f64| PlanPoint::from_metres(x + along * ux - out * uy, y + along * uy + out * ux);
    (far > 0.0).then(|| [place(out), place(-out)])
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
    use super::super::draft::Lay;
    use super::super::draft::Meant;
    use super::*;
    use crate::capture::placed as point;
    use crate::keypad::{Pad, Typed};
    use swingtie_core::network::FoundNorth;
    use swingtie_core::record::{AngleReading, NorthKind, Reading, UnitSystem};

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
        let of = |typed, expected| slip(Length::from_feet(typed), Length::from_feet(expected), within);
        for (typed, expected) in [(39.5, 36.5), (36.5, 39.5), (62.5, 92.5)] {
            assert!(of(typed, expected).unwrap().contains('6'), "{typed}");
        }
        assert_eq!(of(54.7, 57.7), None, "no such figure was typed");
        assert!(slip(Length::from_feet(32.5), Length::from_feet(31.5), within).unwrap().contains("foot"));
        assert_eq!(slip(Length::from_feet(36.1), Length::from_feet(31.5), within), None);
    }

    /// A right angle of 3 and 4 m at the origin: H, A 4 m along x, B 3 m along y, known to a few millimetres.
    fn corner() -> (Record, Plan, Adjustment) {
        let points = vec![point("h", 0.0, 0.0), point("a", 4.0, 0.0), point("b", 0.0, 3.0)];
        (Record::default(), Plan { points, ..Plan::default() }, Adjustment::default())
    }

    fn angle(kind: Kind, degrees: &str) -> Draft {
        let mut draft = Draft::new(kind);
        draft.set_point(Slot::First, Meant::Known("h".into()));
        draft.set_point(Slot::Second, Meant::Known("a".into()));
        draft.set_point(Slot::Target, Meant::Known("b".into()));
        (draft.rotation, draft.north) = (Some(Rotation::CounterClockwise), Some(NorthKind::Magnetic));
        draft.set_typed(Slot::Angle, Typed::from_angle(&AngleReading::read(degrees).unwrap(), Pad::Turn));
        draft
    }

    // Along x: 1 m along and 2 m to the left is (1, 2), to the right (1, -2).
    #[test]
    fn an_offset_is_drawn_on_both_sides() {
        let (_, plan, _) = corner();
        let mut draft = Draft::new(Kind::Offsets);
        draft.set_point(Slot::First, Meant::Known("h".into()));
        draft.set_point(Slot::Second, Meant::Known("a".into()));
        assert_eq!(offset_sides(&draft, &plan), None);
        for (slot, metres) in [(Slot::Station, 1.0), (Slot::Length, 2.0)] {
            let reading = Reading { text: format!("{metres} m"), value: m(metres) };
            draft.set_typed(slot, Typed::from_reading(&reading, UnitSystem::Metres));
        }
        let sides = offset_sides(&draft, &plan).unwrap().map(PlanPoint::metres);
        assert_eq!(sides, [(1.0, 2.0), (1.0, -2.0)]);
    }

    // From x to y a quarter turn counter-clockwise, three quarters clockwise.
    #[test]
    fn an_angle_far_from_the_plans_is_asked_about() {
        let (record, plan, adjustment) = corner();
        let known = Known { record: &record, plan: &plan, adjustment: &adjustment };
        let asked = |draft: &Draft| unexpected_angle(draft, known, &InHand::default());
        assert_eq!(asked(&angle(Kind::Angle, "91.5")), None, "a compass reads no better");
        let far = asked(&angle(Kind::Angle, "80")).unwrap();
        let Quantity::Angle(expected) = far.expected else { panic!("{far:?}") };
        assert!((expected.degrees() - 90.0).abs() < 1e-9 && far.slip.is_none());
        let other_way = asked(&angle(Kind::Angle, "270")).unwrap();
        assert!(other_way.slip.is_some_and(|slip| slip.contains("other")), "{other_way:?}");
        let mut clockwise = angle(Kind::Angle, "270");
        clockwise.rotation = Some(Rotation::Clockwise);
        assert_eq!(asked(&clockwise), None);
    }

    // North 120° to the left of x: y lies 30° clockwise from it.
    #[test]
    fn a_bearing_is_asked_about_once_north_is_known() {
        let (record, plan, mut adjustment) = corner();
        let bearing = |degrees| angle(Kind::Bearing, degrees);
        let asked = |draft: Draft, adjustment: &Adjustment| {
            let known = Known { record: &record, plan: &plan, adjustment };
            unexpected_angle(&draft, known, &InHand::default())
        };
        assert_eq!(asked(bearing("200"), &adjustment), None);
        let (direction, sd) = (Angle::from_degrees(120.0), Angle::from_degrees(0.5));
        adjustment.norths = vec![FoundNorth { direction, sd, kind: NorthKind::Magnetic }];
        assert_eq!(asked(bearing("31"), &adjustment), None);
        let wrong_end = asked(bearing("210"), &adjustment).unwrap();
        let Quantity::Angle(expected) = wrong_end.expected else { panic!("{wrong_end:?}") };
        assert!((expected.degrees() - 30.0).abs() < 1e-9);
        assert!(wrong_end.slip.is_some_and(|slip| slip.contains("wrong end")));
        adjustment.norths[0].kind = NorthKind::True;
        assert_eq!(asked(bearing("210"), &adjustment), None, "another north");
    }

    // 5 m on the slope over a rise of 3 m are 4 m level (3-4-5).
    #[test]
    fn a_slope_is_reckoned_with_before_asking() {
        let (record, plan, adjustment) = corner();
        let known = Known { record: &record, plan: &plan, adjustment: &adjustment };
        let metres = |value: f64| {
            let text = format!("{value} m");
            Typed::from_reading(&Reading { text, value: m(value) }, UnitSystem::Metres)
        };
        let mut tie = Draft::new(Kind::Tie);
        tie.set_point(Slot::First, Meant::Known("h".into()));
        tie.set_point(Slot::Target, Meant::Known("a".into()));
        tie.set_typed(Slot::Length, metres(5.0));
        let asked = unexpected_length(&tie, known, &InHand::default()).unwrap();
        assert!(
            matches!(asked.expected, Quantity::Length(l) if (l.metres() - 4.0).abs() < 1e-9),
            "{asked:?}"
        );
        tie.put_slope(Some(Lay::Rise));
        tie.set_typed(Slot::Rise, metres(3.0));
        assert_eq!(unexpected_length(&tie, known, &InHand::default()), None);
    }
}
