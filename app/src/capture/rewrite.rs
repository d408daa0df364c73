//! An entry taken up again: one reading of it put into the form, and what the form then says put back
//! among the others that stand beside it.

use super::draft::{Draft, Kind, Meant, Slot};
use crate::keypad::Typed;
use swingtie_core::record::{EntryId, Measurement, PointId, Reading, Record};

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

/// A draft that writes this reading of an entry anew (counted from 0), filled with what it says; none
/// when there is no such reading or the panel has no form for it.
#[must_use]
pub fn rewrite(
    record: &Record,
    entry: &EntryId,
    part: usize,
    type_in: impl Fn(&Reading) -> Typed,
) -> Option<Draft> {
    let known = |id: &PointId| Meant::Known(id.clone());
    let mut draft = match measured(record, entry)? {
        Measurement::Tie { from, to, reading, side, taped_to, .. } => {
            let mut draft = Draft::new(Kind::Tie);
            draft.set_point(Slot::First, known(from));
            draft.set_point(Slot::Target, known(to));
            draft.set_typed(Slot::Length, type_in(reading));
            draft.side = side.as_ref().map(|s| s.side);
            draft.line = side.as_ref().map(|s| [s.from.clone(), s.to.clone()]);
            draft.ask_side = side.is_some();
            draft.taped_to = *taped_to;
            draft
        }
        Measurement::Run { zero, toward, readings, .. } => {
            let read = readings.get(part)?;
            let mut draft = Draft::new(Kind::Run);
            draft.set_point(Slot::First, known(zero));
            draft.set_point(Slot::Second, known(toward));
            draft.set_point(Slot::Target, known(&read.point));
            draft.set_typed(Slot::Length, type_in(&read.reading));
            draft
        }
        Measurement::Offsets { from, to, rows, .. } => {
            let row = rows.get(part)?;
            let mut draft = Draft::new(Kind::Offsets);
            draft.set_point(Slot::First, known(from));
            draft.set_point(Slot::Second, known(to));
            draft.set_point(Slot::Target, known(&row.point));
            draft.set_typed(Slot::Station, type_in(&row.station));
            draft.set_typed(Slot::Length, type_in(&row.offset));
            draft.side = Some(row.side);
            draft
        }
        Measurement::Walk { start, legs, .. } => {
            let leg = legs.get(part)?;
            let mut draft = Draft::new(Kind::Walk);
            draft.set_point(Slot::First, known(start));
            draft.set_point(Slot::Target, known(&leg.to));
            draft.turn = leg.turn;
            if let Some(length) = &leg.length {
                draft.set_typed(Slot::Length, type_in(length));
            }
            draft
        }
        Measurement::Square { at, from, to } => {
            let mut draft = Draft::new(Kind::Square);
            draft.set_point(Slot::First, known(at));
            draft.set_point(Slot::Second, known(from));
            draft.set_point(Slot::Third, known(to));
            draft
        }
        Measurement::InLine { points } => {
            let mut draft = Draft::new(Kind::InLine);
            draft.many.clone_from(points);
            draft
        }
        Measurement::SideIs { point, side } => {
            let mut draft = Draft::new(Kind::SideOnly);
            draft.set_point(Slot::Target, known(point));
            draft.set_point(Slot::First, known(&side.from));
            draft.set_point(Slot::Second, known(&side.to));
            draft.side = Some(side.side);
            draft
        }
        // The panel has no form for the others.
        _ => return None,
    };
    draft.correcting = Some(entry.clone());
    draft.part = part;
    draft.focus = if draft.slots().contains(&Slot::Length) { Slot::Length } else { draft.focus };
    Some(draft)
}

/// An entry as it stands, with what the form says in place of this reading of it, or after all of them
/// when there is none of this number. What the form does not ask stays as it was.
#[must_use]
pub fn put_in(was: &Measurement, now: Measurement, part: usize) -> Measurement {
    match (was, now) {
        (
            Measurement::Run { readings: all, zero_unknown, .. },
            Measurement::Run { zero, toward, readings, how, .. },
        ) => {
            let readings = among(all, readings, part);
            Measurement::Run { zero, toward, readings, zero_unknown: *zero_unknown, how }
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
    use super::super::say::{read_back, say};
    use super::*;
    use swingtie_core::record::{
        How, Leg, OffsetRow, Point, Recorded, RunReading, Side, SideOf, Statement, TapedTo, Turn, UnitSystem,
    };
    use swingtie_core::units::BareUnit;

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
        let type_in = |reading: &Reading| Typed::from_reading(reading, UnitSystem::FeetInches);
        let mut draft = rewrite(record, &"e".into(), part, type_in).unwrap();
        assert_eq!(draft.wanting(), None, "it opens filled");
        change(&mut draft);
        let saying = say(&draft, record, How::default(), &mut || "new".into()).unwrap();
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
            draft.put_turn(Turn::LeftNotSquare);
        });
        assert_eq!(now, walk(Turn::LeftNotSquare, "a"));
        // A wall that comes in between is not written over by the next one.
        let mut next = Draft::new(Kind::Walk);
        (next.walk, next.part) = (Some("e".into()), 1);
        next.set_point(Slot::First, Meant::Known("a".into()));
        next.set_point(Slot::Target, Meant::Known("b".into()));
        next.turn = Some(Turn::Straight);
        let said = say(&next, &record, How::default(), &mut || "new".into()).unwrap().statements;
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

    #[test]
    fn no_such_reading_opens_nothing() {
        let record = record(Measurement::InLine { points: vec!["a".into(), "b".into(), "c".into()] });
        let open =
            |entry: &str, part| rewrite(&record, &entry.into(), part, |_| Typed::new(UnitSystem::Metres));
        assert!(open("e", 0).is_some() && open("f", 0).is_none());
        let empty =
            super::tests::record(Measurement::Walk { start: "a".into(), legs: vec![], how: How::default() });
        assert!(rewrite(&empty, &"e".into(), 0, |_| Typed::new(UnitSystem::Metres)).is_none());
    }
}
