//! An entry taken up again: one reading of it put into the form, and what the form then says put back
//! among the others that stand beside it.

use super::draft::{Draft, Kind, Lay, Meant, Slot};
use crate::keypad::{Pad, Typed};
use swingtie_core::record::{AngleReading, EntryId, How, Measurement, Reading, Record, Slope, UnitSystem};
use swingtie_core::units::{LengthStyle, format_angle, format_length};

/// What the measurement of this entry says as it stands.
#[must_use]
pub fn measured<'a>(record: &'a Record, entry: &EntryId) -> Option<&'a Measurement> {
    record.measurements.iter().find(|m| m.entry == *entry).map(|m| &m.what)
}

/// How many readings, rows or walls stand in a measurement, each of which can be written anew by itself.
#[must_use]
pub fn parts(what: &Measurement) -> usize {
    match what {
        Measurement::Run { readings, .. } => readings.len(),
        Measurement::Offsets { rows, .. } => rows.len(),
        Measurement::Walk { legs, .. } => legs.len(),
        _ => 1,
    }
}

/// The form of a measurement.
const fn kind_of(what: &Measurement) -> Kind {
    match what {
        Measurement::Tie { .. } => Kind::Tie,
        Measurement::Run { .. } => Kind::Run,
        Measurement::Offsets { .. } => Kind::Offsets,
        Measurement::Walk { .. } => Kind::Walk,
        Measurement::Square { .. } => Kind::Square,
        Measurement::InLine { .. } => Kind::InLine,
        Measurement::SideIs { .. } => Kind::SideOnly,
        Measurement::Angle { .. } => Kind::Angle,
        Measurement::Bearing { .. } => Kind::Bearing,
        Measurement::Parallel { .. } => Kind::Parallel,
        Measurement::SameLength { .. } => Kind::SameLength,
        Measurement::Arc { .. } => Kind::Arc,
        Measurement::ArcThrough { .. } => Kind::ArcThrough,
        Measurement::Girth { .. } => Kind::Girth,
    }
}

/// A draft that writes this reading of an entry anew (counted from 0), filled with what it says; none
/// when there is no such reading.
#[must_use]
pub fn rewrite(record: &Record, entry: &EntryId, part: usize, units: UnitSystem) -> Option<Draft> {
    let what = measured(record, entry)?;
    let mut draft = Draft::new(kind_of(what));
    draft.part = part;
    let slots = draft.slots().into_iter().filter(|slot| slot.takes_point() && *slot != Slot::Many);
    for (slot, id) in slots.zip(what.points()) {
        draft.set_point(slot, Meant::Known(id.clone()));
    }
    let (mut target, mut number) = (None, None);
    match what {
        Measurement::Tie { reading, side, taped_to, how, .. } => {
            number = Some(reading);
            draft.side = side.as_ref().map(|s| s.side);
            draft.line = side.as_ref().map(|s| [s.from.clone(), s.to.clone()]);
            draft.ask_side = side.is_some();
            draft.see_round(!taped_to.is_middle());
            draft.taped_to = *taped_to;
            lay(&mut draft, how, units);
        }
        Measurement::Run { readings, zero_unknown, how, .. } => {
            let read = readings.get(part)?;
            (target, number) = (Some(&read.point), Some(&read.reading));
            draft.zero_unknown = *zero_unknown;
            lay(&mut draft, how, units);
        }
        Measurement::Offsets { rows, .. } => {
            let row = rows.get(part)?;
            (target, number) = (Some(&row.point), Some(&row.offset));
            draft.set_typed(Slot::Station, Typed::from_reading(&row.station, units));
            draft.side = Some(row.side);
        }
        Measurement::Walk { start, legs, .. } => {
            let leg = legs.get(part)?;
            (target, number) = (Some(&leg.to), leg.length.as_ref());
            draft.set_point(Slot::First, Meant::Known(start.clone()));
            draft.turn = leg.turn;
        }
        Measurement::InLine { points } => draft.many.clone_from(points),
        Measurement::SideIs { side, .. } => draft.side = Some(side.side),
        Measurement::Angle { reading, turn, .. } => {
            draft.rotation = Some(*turn);
            draft.set_typed(Slot::Angle, Typed::from_angle(reading, Pad::Turn));
        }
        Measurement::Bearing { reading, north, .. } => {
            draft.north = Some(*north);
            draft.set_typed(Slot::Angle, Typed::from_angle(reading, Pad::Turn));
        }
        Measurement::Arc { rise, side, .. } => (number, draft.side) = (Some(rise), Some(*side)),
        Measurement::Girth { reading, .. } => number = Some(reading),
        Measurement::Square { .. }
        | Measurement::Parallel { .. }
        | Measurement::SameLength { .. }
        | Measurement::ArcThrough { .. } => {}
    }
    if let Some(target) = target {
        draft.set_point(Slot::Target, Meant::Known(target.clone()));
    }
    if let Some(number) = number {
        draft.set_typed(Slot::Length, Typed::from_reading(number, units));
    }
    draft.correcting = Some(entry.clone());
    let number = [Slot::Length, Slot::Angle].into_iter().find(|slot| draft.slots().contains(slot));
    draft.focus = number.unwrap_or(draft.focus);
    Some(draft)
}

/// How the tape lay, put into the form.
fn lay(draft: &mut Draft, how: &How, units: UnitSystem) {
    match how.slope {
        None => {}
        Some(Slope::Heights) => draft.slope = Some(Lay::Heights),
        Some(Slope::RiseMetres(value)) => {
            draft.slope = Some(Lay::Rise);
            let text = format_length(value, LengthStyle::from(units));
            draft.set_typed(Slot::Rise, Typed::from_reading(&Reading { text, value }, units));
        }
        Some(Slope::AngleRadians(value)) => {
            draft.slope = Some(Lay::Incline);
            let text = format_angle(value, 2);
            draft.set_typed(Slot::Incline, Typed::from_angle(&AngleReading { text, value }, Pad::Slope));
        }
    }
}

/// An entry as it stands, with what the form says in place of this reading of it, or after all of them
/// when there is none of this number. What the form does not ask stays as it was.
#[must_use]
pub fn put_in(was: &Measurement, now: Measurement, part: usize) -> Measurement {
    match (was, now) {
        (
            Measurement::Run { readings: all, .. },
            Measurement::Run { zero, toward, readings, zero_unknown, how },
        ) => {
            let readings = among(all, readings, part);
            Measurement::Run { zero, toward, readings, zero_unknown, how }
        }
        (Measurement::Parallel { tolerance, .. }, Measurement::Parallel { one, other, .. }) => {
            Measurement::Parallel { one, other, tolerance: *tolerance }
        }
        (Measurement::SameLength { tolerance, .. }, Measurement::SameLength { one, other, .. }) => {
            Measurement::SameLength { one, other, tolerance: *tolerance }
        }
        (Measurement::Offsets { rows: all, .. }, Measurement::Offsets { from, to, rows, how }) => {
            Measurement::Offsets { from, to, rows: among(all, rows, part), how }
        }
        (Measurement::Walk { start: first, legs: all, .. }, Measurement::Walk { start, legs, how }) => {
            let start = if part == 0 { start } else { first.clone() };
            Measurement::Walk { start, legs: among(all, legs, part), how }
        }
        (_, now) => now,
    }
}

fn among<T: Clone>(all: &[T], now: Vec<T>, part: usize) -> Vec<T> {
    let mut all = all.to_vec();
    for one in now {
        match all.get_mut(part) {
            Some(old) => *old = one,
            None => all.push(one),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::super::back::read_back;
    use super::super::draft::{Choice, InHand};
    use super::super::hand::hand_of;
    use super::super::say::say;
    use super::*;
    use swingtie_core::record::{
        AngleHow, AngleInstrument, Leg, NorthKind, OffsetRow, Point, PointId, Recorded, Rotation, RunReading,
        Side, SideOf, Statement, TapedTo, Turn,
    };
    use swingtie_core::units::{Angle, BareUnit, Length};

    fn read(text: &str) -> Reading {
        Reading::read(text, BareUnit::from(UnitSystem::FeetInches)).unwrap()
    }

    /// A record in which point `a` is labelled A, and one entry `e`.
    fn record(what: Measurement) -> Record {
        let point = |id: &PointId| Point { id: id.clone(), label: id.0.to_uppercase(), note: String::new() };
        let points = what.points().into_iter().map(point).collect();
        let recorded = Recorded { entry: "e".into(), author: "me".into(), at_ms: 0, what };
        Record { points, measurements: vec![recorded], ..Record::default() }
    }

    /// Opens a part, lets `change` be typed, and hands back what the book then says in the entry's place.
    fn corrected(record: &Record, part: usize, change: impl FnOnce(&mut Draft)) -> Measurement {
        let mut draft = rewrite(record, &"e".into(), part, UnitSystem::FeetInches).unwrap();
        assert_eq!(draft.wanting(), None, "it opens filled");
        change(&mut draft);
        let saying =
            say(&draft, record, hand_of(&record.measurements[0].what), &mut || "new".into()).unwrap();
        let [Statement::Correct { entry, now }] = saying.statements.as_slice() else { panic!("{saying:?}") };
        assert_eq!(entry, &EntryId::from("e"));
        let Statement::Measure(now) = &**now else { panic!("{now:?}") };
        now.clone()
    }

    fn typed(text: &str) -> Typed {
        Typed::from_reading(&read(text), UnitSystem::FeetInches)
    }

    #[test]
    fn one_reading_of_a_run_changes_and_the_others_stay() {
        let run = |middle: &str| {
            let readings = [("a", "3'"), ("b", middle), ("c", "9' 6\"")]
                .map(|(point, text)| RunReading { point: point.into(), reading: read(text) })
                .to_vec();
            let (zero, toward) = ("h".into(), "c".into());
            Measurement::Run { zero, toward, readings, zero_unknown: true, how: How::default() }
        };
        let record = record(run("8'"));
        assert_eq!(parts(&record.measurements[0].what), 3);
        let now = corrected(&record, 1, |draft| draft.set_typed(Slot::Length, typed("5'")));
        assert_eq!(now, run("5'"));
    }

    #[test]
    fn one_row_of_a_sheet_of_offsets_changes() {
        let sheet = |side, offset: &str| {
            let rows = [("a", "2'", "1'", Side::Left), ("b", "4'", offset, side)]
                .map(|(point, station, offset, side)| OffsetRow {
                    point: point.into(),
                    station: read(station),
                    offset: read(offset),
                    side,
                })
                .to_vec();
            Measurement::Offsets { from: "h".into(), to: "k".into(), rows, how: How::default() }
        };
        let record = record(sheet(Side::Left, "6\""));
        let now = corrected(&record, 1, |draft| {
            draft.put_side(Side::Right);
            draft.set_typed(Slot::Length, typed("9\""));
        });
        assert_eq!(now, sheet(Side::Right, "9\""));
    }

    #[test]
    fn one_wall_of_a_walk_changes_and_its_turn_is_asked() {
        let walk = |turn, to: &str| {
            let legs = [(None, "b"), (Some(Turn::Left), "c"), (Some(turn), to)]
                .map(|(turn, to)| Leg { turn, to: to.into(), length: Some(read("10'")) })
                .to_vec();
            Measurement::Walk { start: "a".into(), legs, how: How::default() }
        };
        let record = record(walk(Turn::Left, "a"));
        let now = corrected(&record, 2, |draft| {
            assert_eq!(draft.slots(), [Slot::Turn, Slot::Target, Slot::Length]);
            assert_eq!(read_back(draft, &record), "left, square · C to A · 10'");
            draft.put(Choice::Turn(Turn::LeftNotSquare));
        });
        assert_eq!(now, walk(Turn::LeftNotSquare, "a"));
        // A wall that comes in between is not written over by the next one.
        let mut next = Draft::new(Kind::Walk);
        (next.into, next.part) = (Some("e".into()), 1);
        next.set_point(Slot::First, Meant::Known("a".into()));
        next.set_point(Slot::Target, Meant::Known("b".into()));
        next.turn = Some(Turn::Straight);
        let said = say(&next, &record, InHand::default(), &mut || "new".into()).unwrap().statements;
        let [Statement::Correct { now, .. }] = said.as_slice() else { panic!("{said:?}") };
        let Statement::Measure(now) = &**now else { panic!("{now:?}") };
        assert_eq!(parts(now), 4);
    }

    #[test]
    fn a_tie_keeps_the_line_its_side_is_said_of() {
        let tie = |text: &str, side| Measurement::Tie {
            from: "b".into(),
            to: "t".into(),
            reading: read(text),
            side: Some(SideOf { from: "a".into(), to: "b".into(), side }),
            taped_to: TapedTo::NearSide,
            how: How::default(),
        };
        let mut record = record(tie("10'", Side::Left));
        // A later tie, which a new one would have its side said against.
        let later = record.measurements[0].clone();
        record.measurements.push(Recorded { entry: "later".into(), ..later });
        if let Some(Measurement::Tie { from, .. }) = record.measurements.last_mut().map(|m| &mut m.what) {
            *from = "c".into();
        }
        let now = corrected(&record, 0, |draft| {
            draft.put_side(Side::Right);
            draft.set_typed(Slot::Length, typed("11'"));
        });
        assert_eq!(now, tie("11'", Side::Right));
    }

    /// Every kind opens filled, and saved as it stands says what it said.
    #[test]
    fn what_is_opened_and_saved_again_says_the_same() {
        let line = |a: &str, b: &str| [PointId::from(a), PointId::from(b)];
        let sight = AngleHow { instrument: AngleInstrument::Protractor, sd: Some(Angle::from_degrees(0.7)) };
        let sloped = |slope| How { slope: Some(slope), ..How::default() };
        let rise = sloped(Slope::RiseMetres(Length::from_feet(2.5)));
        let incline = sloped(Slope::AngleRadians(AngleReading::read("4.25").unwrap().value));
        let (a, b, c) = (|| PointId::from("a"), || PointId::from("b"), || PointId::from("c"));
        let tie = |taped_to, how| Measurement::Tie {
            from: a(),
            to: b(),
            reading: read("31' 6\""),
            side: None,
            taped_to,
            how,
        };
        for what in [
            tie(TapedTo::FarSide, rise),
            tie(TapedTo::Middle, incline),
            Measurement::Angle {
                at: a(),
                from: b(),
                to: c(),
                reading: AngleReading::read("84° 30'").unwrap(),
                turn: Rotation::Clockwise,
                how: sight,
            },
            Measurement::Bearing {
                from: a(),
                to: b(),
                reading: AngleReading::bearing("12.5°").unwrap(),
                north: NorthKind::True,
                how: sight,
            },
            Measurement::Parallel {
                one: line("a", "b"),
                other: line("c", "d"),
                tolerance: Some(Angle::from_degrees(2.0)),
            },
            Measurement::SameLength {
                one: line("a", "b"),
                other: line("c", "d"),
                tolerance: Some(Length::from_inches(3.0)),
            },
            Measurement::Arc { from: a(), to: b(), rise: read("2'"), side: Side::Right },
            Measurement::ArcThrough { from: a(), through: b(), to: c() },
            Measurement::Girth { point: a(), reading: read("4' 2\""), how: How::default() },
        ] {
            let record = record(what.clone());
            assert_eq!(corrected(&record, 0, |_| {}), what);
        }
    }

    #[test]
    fn no_such_reading_opens_nothing() {
        let record = record(Measurement::InLine { points: vec!["a".into(), "b".into(), "c".into()] });
        let open = |entry: &str, part| rewrite(&record, &entry.into(), part, UnitSystem::Metres);
        assert!(open("e", 0).is_some() && open("f", 0).is_none());
        let empty =
            super::tests::record(Measurement::Walk { start: "a".into(), legs: vec![], how: How::default() });
        assert!(rewrite(&empty, &"e".into(), 0, UnitSystem::Metres).is_none());
    }
}
