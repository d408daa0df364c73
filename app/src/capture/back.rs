//! The words that read a draft back, on the screen and aloud.

use super::draft::{Draft, Kind, Slot};
use super::rewrite::measured;
use super::say::next_station;
use crate::keypad::Typed;
use crate::words::{self as all, capture as words};
use swingtie_core::record::{Measurement, PointId, Record};

/// The draft in one line, for reading back: `T1 from H3 · 31' 6"`. Dashes stand for what is missing;
/// of nothing there is nothing to read back.
#[must_use]
pub fn read_back(draft: &Draft, record: &Record) -> String {
    if draft.is_empty() {
        return String::new();
    }
    let name = |slot| draft.point(slot).map_or("—", |meant| meant.label(record));
    let number = |slot| {
        draft.typed(slot).map(Typed::text).filter(|text| !text.is_empty()).unwrap_or_else(|| "—".into())
    };
    let (first, second, target) = (name(Slot::First), name(Slot::Second), name(Slot::Target));
    let side = draft.side.map_or("—", words::side);
    let chosen = |slot| draft.chosen(slot).map_or("—", words::choice);
    let sloped = draft.slope.map(|_| say!(", {}", words::slope(draft.slope))).unwrap_or_default();
    match draft.kind {
        Kind::Tie => {
            let side = if draft.ask_side { say!(" · {side}") } else { String::new() };
            let reached = words::reached(draft.taped_to);
            say!("{target} from {first} · {}{reached}{sloped}{side}", number(Slot::Length))
        }
        Kind::Run => {
            let elsewhere = words::zero(draft.zero_unknown);
            say!("{first} → {second} · {target} at {}{elsewhere}{sloped}", number(Slot::Length))
        }
        Kind::Offsets => say!(
            "{target} · {} along, {} {side} · {first} → {second}",
            number(Slot::Station),
            number(Slot::Length)
        ),
        Kind::Ordinates => say!(
            "{target} · {} along, {} {side} · {first} → {second}",
            next_station(draft, record).unwrap_or_else(|| "—".into()),
            number(Slot::Length)
        ),
        Kind::Walk => {
            let from = walked_from(draft, record).map_or(first, |corner| record.label(corner));
            let turn = draft.turn.map(|turn| say!("{} · ", words::turn(turn))).unwrap_or_default();
            say!("{turn}{from} to {target} · {}", number(Slot::Length))
        }
        Kind::Square => say!("square at {first}, to {second} and {}", name(Slot::Third)),
        Kind::InLine => {
            let labels: Vec<&str> = draft.many.iter().map(|id| record.label(id)).collect();
            say!("{} in line", labels.join(", "))
        }
        Kind::SideOnly => say!("{target} {side} of {first} → {second}"),
        Kind::Angle => all::angle([first, second, target], &number(Slot::Angle), chosen(Slot::Rotation)),
        Kind::Bearing => {
            all::bearing([first, target], &number(Slot::Angle), draft.north.map_or("—", all::north_of))
        }
        Kind::Parallel => all::parallel([first, second, name(Slot::Third), name(Slot::Fourth)]),
        Kind::SameLength => all::same_length([first, second, name(Slot::Third), name(Slot::Fourth)]),
        Kind::Arc => all::arc([first, second], &number(Slot::Length), side),
        Kind::ArcThrough => all::arc_through([first, second, name(Slot::Third)]),
        Kind::Girth => all::girth(target, &number(Slot::Length)),
    }
}

/// The corner at which a walk's later wall starts.
#[must_use]
pub fn walked_from<'a>(draft: &Draft, record: &'a Record) -> Option<&'a PointId> {
    let entry = draft.correcting.as_ref().or(draft.into.as_ref())?;
    match measured(record, entry)? {
        Measurement::Walk { legs, .. } => Some(&legs.get(draft.part.checked_sub(1)?)?.to),
        _ => None,
    }
}

/// The point and the number in a slot as one says them aloud: `T1: 31 feet 6`; nothing while none is typed.
#[must_use]
pub fn spoken_back(draft: &Draft, slot: Slot, record: &Record) -> String {
    let Some(typed) = draft.typed(slot).filter(|typed| !typed.is_empty()) else {
        return String::new();
    };
    let number = typed.spoken();
    let name = |slot| draft.point(slot).map_or("—", |meant| meant.label(record));
    match (draft.kind, slot) {
        (_, Slot::Interval) => say!("every {number}"),
        (_, Slot::Rise) => say!("one end higher by {number}"),
        (_, Slot::Incline) => say!("the tape lay at {number}"),
        (Kind::Angle, _) => say!("from {} to {}: {number}", name(Slot::Second), name(Slot::Target)),
        (Kind::Arc, _) => say!("it bows out {number}"),
        (Kind::Girth, _) => say!("round {}: {number}", name(Slot::Target)),
        (Kind::Tie | Kind::Bearing, _) => {
            say!("{} from {}: {number}", name(Slot::Target), name(Slot::First))
        }
        (Kind::Walk, _) => say!("to {}: {number}", name(Slot::Target)),
        (_, Slot::Station) => say!("{}: {number} along", name(Slot::Target)),
        (Kind::Offsets | Kind::Ordinates, _) => say!("{}: {number} out", name(Slot::Target)),
        _ => say!("{} at {number}", name(Slot::Target)),
    }
}
