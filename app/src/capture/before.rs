//! What was read before: a reading is held against it, and can be taken from it again.

use super::draft::{Draft, InHand, Kind, Slot};
use super::expect::{ASKED_FROM, PETTY};
use super::steps::on_this_tape;
use crate::keypad::Typed;
use crate::words::capture as words;
use swingtie_core::language::tr;
use swingtie_core::record::{Measurement, PointId, Reading, Record, UnitSystem};
use swingtie_core::units::{Length, LengthStyle, format_length};

/// The number of the last reading once more: the same, or on a run as far again as between the last two
/// (posts at one spacing). None where neither is likely.
#[must_use]
pub fn again(draft: &Draft, record: &Record, units: UnitSystem) -> Option<Typed> {
    if draft.focus != Slot::Length || draft.correcting.is_some() {
        return None;
    }
    let last = || record.measurements.iter().rev().map(|m| &m.what);
    let reading = match draft.kind {
        Kind::Run => {
            let mut read = on_this_tape(draft, record).rev().map(|read| read.reading.value);
            let (last, before) = (read.next()?, read.next());
            // The first spacing counts from the zero, where the tape is hooked at it.
            let value = last + last - before.or((!draft.zero_unknown).then_some(Length::ZERO))?;
            // Not beyond the wall's end.
            let wall = [draft.known(Slot::First)?, draft.known(Slot::Second)?];
            let beyond = |wall: &Reading| value > wall.value + PETTY;
            if !draft.zero_unknown && elsewhere(record, wall, None).is_some_and(beyond) {
                return None;
            }
            Reading { text: format_length(value, LengthStyle::from(units)), value }
        }
        Kind::Tie => last().find_map(tied)?.clone(),
        Kind::Offsets | Kind::Ordinates => last()
            .find_map(|what| match what {
                Measurement::Offsets { rows, .. } => rows.last().map(|row| &row.offset),
                _ => None,
            })?
            .clone(),
        _ => return None,
    };
    Some(Typed::from_reading(&reading, units)).filter(|typed| !typed.is_empty())
}

fn tied(what: &Measurement) -> Option<&Reading> {
    match what {
        Measurement::Tie { reading, .. } => Some(reading),
        _ => None,
    }
}

/// Why the reading typed looks like a slip, in words: smaller than the one before it on the same tape, the
/// very same again, or far from what was read of the same length before. Common practice, no source.
#[must_use]
pub fn question(draft: &Draft, record: &Record, hand: &InHand) -> Option<String> {
    if draft.correcting.is_some() || draft.deliberate {
        return None;
    }
    let typed = draft.reading(Slot::Length)?.value;
    let repeated = match draft.kind {
        Kind::Run => on_this_tape(draft, record).next_back().and_then(|last| {
            let (label, text) = (record.label(&last.point), &last.reading.text);
            if typed < last.reading.value {
                return Some(words::reads_less(label, text));
            }
            (typed <= last.reading.value).then(|| words::reads_the_same(label, text))
        }),
        Kind::Tie => match record.measurements.last().map(|m| &m.what)? {
            Measurement::Tie { to, reading, .. } if reading.value == typed => {
                Some(words::reads_the_same(record.label(to), &reading.text))
            }
            _ => None,
        },
        _ => return None,
    };
    repeated.or_else(|| {
        let ends = [draft.known(Slot::First)?, draft.known(Slot::Target)?];
        let other = elsewhere(record, ends, None).filter(|_| !draft.zero_unknown && draft.slope.is_none())?;
        // Two readings of one care: their difference spreads the wider by the root of two.
        let within = hand.how.sd_of(other.value) * (ASKED_FROM * std::f64::consts::SQRT_2);
        let off = (typed - other.value).abs();
        (off > within && off > PETTY).then(|| words::reads_otherwise(&other.text))
    })
}

/// What another reading says of the length between these points: a wall of a walk, a tape across, a run
/// from either end. The newest but `this`.
#[must_use]
pub fn elsewhere<'a>(
    record: &'a Record,
    ends: [&PointId; 2],
    this: Option<&Measurement>,
) -> Option<&'a Reading> {
    let between = |a: &PointId, b: &PointId| [a, b] == ends || [b, a] == ends;
    record.measurements.iter().rev().map(|m| &m.what).filter(|what| Some(*what) != this).find_map(|what| {
        match what {
            Measurement::Tie { from, to, reading, .. } => between(from, to).then_some(reading),
            Measurement::Run { zero, readings, zero_unknown: false, .. } => {
                readings.iter().find(|read| between(zero, &read.point)).map(|read| &read.reading)
            }
            Measurement::Walk { start, legs, .. } => {
                let starts = std::iter::once(start).chain(legs.iter().map(|leg| &leg.to));
                let wall =
                    starts.zip(legs).find(|(from, leg)| between(from, &leg.to) && leg.length.is_some());
                wall.and_then(|(_, leg)| leg.length.as_ref())
            }
            _ => None,
        }
    })
}

/// What is said once a tape along a wall is read at the wall's far end: whether another reading of the same
/// wall agrees. None before.
#[must_use]
pub fn overall(run: &Measurement, record: &Record) -> Option<String> {
    let Measurement::Run { zero, toward, readings, zero_unknown: false, .. } = run else { return None };
    let end = readings.last().filter(|read| read.point == *toward)?;
    Some(match elsewhere(record, [zero, toward], Some(run)) {
        Some(other) => {
            let off = (end.reading.value - other.value).abs();
            words::overall(&other.text, &words::length(off, record.site.units))
        }
        None => tr(words::OVERALL_ALONE).to_owned(),
    })
}

#[cfg(test)]
mod tests;
