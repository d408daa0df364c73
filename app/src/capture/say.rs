//! From a finished draft to what is said in the book, and to the words that read it back.

use super::draft::{Draft, Kind, Meant, Slot};
use super::rewrite::{measured, put_in};
use crate::keypad::{Doubt, Typed};
use crate::words::capture as words;
use swingtie_core::record::{
    How, Leg, Measurement, OffsetRow, Point, PointId, Reading, Record, RunReading, SideOf, Statement,
};
use swingtie_core::units::{Length, LengthStyle, PlanPoint, format_length};

/// What saving a draft says, and what the screen needs to go on.
#[derive(Clone, Debug, PartialEq)]
pub struct Saying {
    /// What to say, in order; the measurement comes last.
    pub statements: Vec<Statement>,
    /// The point this row was about.
    pub target: Option<PointId>,
}

/// Names points that are new and collects what must be said of them first.
struct Naming<'a> {
    statements: Vec<Statement>,
    fresh: &'a mut dyn FnMut() -> PointId,
}

impl Naming<'_> {
    fn id(&mut self, meant: Option<&Meant>) -> Result<PointId, String> {
        match meant {
            Some(Meant::Known(id)) => Ok(id.clone()),
            Some(Meant::New { label, at }) => {
                let id = (self.fresh)();
                self.statements.extend(new_point(&id, label, *at));
                Ok(id)
            }
            None => Err(words::POINT_MISSING.to_owned()),
        }
    }
}

/// What makes a point: its label and, where the finger put it, its place on the sketch.
pub fn new_point(
    id: &PointId,
    label: &str,
    at: Option<PlanPoint>,
) -> impl Iterator<Item = Statement> + use<> {
    let point =
        Statement::Point(Point { id: id.clone(), label: label.trim().to_owned(), note: String::new() });
    let sketch = at.map(|at| Statement::Sketch { point: id.clone(), at });
    std::iter::once(point).chain(sketch)
}

/// What the draft says.
///
/// # Errors
/// A sentence for the user when something is missing or cannot be.
pub fn say(
    draft: &Draft,
    record: &Record,
    how: How,
    fresh: &mut dyn FnMut() -> PointId,
) -> Result<Saying, String> {
    if let Some(slot) = draft.wanting() {
        return Err(wanted(draft, slot));
    }
    if draft.same_twice() {
        return Err(words::SAME_TWICE.to_owned());
    }
    let mut naming = Naming { statements: Vec::new(), fresh };
    let first = draft.point(Slot::First);
    let second = draft.point(Slot::Second);
    let row = draft.point(Slot::Target);
    let mut target = None;
    let measurement = match draft.kind {
        Kind::Tie => {
            let (from, to) = (naming.id(first)?, naming.id(row)?);
            target = Some(to.clone());
            tie(draft, record, how, from, to)?
        }
        Kind::Run => {
            let (zero, toward, point) = (naming.id(first)?, naming.id(second)?, naming.id(row)?);
            target = Some(point.clone());
            let readings = vec![RunReading { point, reading: length(draft, Slot::Length)? }];
            Measurement::Run { zero, toward, readings, zero_unknown: false, how }
        }
        Kind::Offsets | Kind::Ordinates => {
            let (from, to, point) = (naming.id(first)?, naming.id(second)?, naming.id(row)?);
            target = Some(point.clone());
            let station = match draft.kind {
                Kind::Offsets => length(draft, Slot::Station)?,
                _ => ordinate_station(draft, record)?,
            };
            let side = draft.side.ok_or(words::SIDE_MISSING)?;
            let rows = vec![OffsetRow { point, station, offset: length(draft, Slot::Length)?, side }];
            Measurement::Offsets { from, to, rows, how }
        }
        Kind::Walk => {
            let start = naming.id(first)?;
            let to = naming.id(row)?;
            target = Some(to.clone());
            let leg = Leg { turn: draft.turn, to, length: draft.reading(Slot::Length) };
            Measurement::Walk { start, legs: vec![leg], how }
        }
        Kind::Square => Measurement::Square {
            at: naming.id(first)?,
            from: naming.id(second)?,
            to: naming.id(draft.point(Slot::Third))?,
        },
        Kind::InLine => Measurement::InLine { points: draft.many.clone() },
        Kind::SideOnly => {
            let (point, from, to) = (naming.id(row)?, naming.id(first)?, naming.id(second)?);
            let side = draft.side.ok_or(words::SIDE_MISSING)?;
            Measurement::SideIs { point, side: SideOf { from, to, side } }
        }
    };
    let mut statements = naming.statements;
    let entry = draft.correcting.as_ref().or(draft.walk.as_ref());
    let was = entry.and_then(|entry| Some((entry, measured(record, entry)?)));
    statements.push(match was {
        Some((entry, was)) => {
            // A walk goes on after whatever stands there by now.
            let part = if draft.correcting.is_some() { draft.part } else { usize::MAX };
            let now = Box::new(Statement::Measure(put_in(was, measurement, part)));
            Statement::Correct { entry: entry.clone(), now }
        }
        None => Statement::Measure(measurement),
    });
    Ok(Saying { statements, target })
}

/// Why Save is not possible yet: nothing is there, or a number without its unit.
pub fn wanted(draft: &Draft, slot: Slot) -> String {
    match draft.typed(slot) {
        Some(typed) if typed.doubt() == Some(Doubt::NeedsUnit) => words::which_unit(&typed.text()),
        _ => words::still_needed(draft.kind, slot),
    }
}

fn length(draft: &Draft, slot: Slot) -> Result<Reading, String> {
    draft.reading(slot).ok_or_else(|| wanted(draft, slot))
}

fn tie(draft: &Draft, record: &Record, how: How, from: PointId, to: PointId) -> Result<Measurement, String> {
    let reading = length(draft, Slot::Length)?;
    if reading.value <= Length::ZERO {
        return Err(words::ZERO_TIE.to_owned());
    }
    let anchor = || Some([other_anchor(record, &to, &from)?, from.clone()]);
    let line = draft.ask_side.then(|| draft.line.clone().or_else(anchor)).flatten();
    let side = draft.side.zip(line).map(|(side, [from, to])| SideOf { from, to, side });
    Ok(Measurement::Tie { from, to, reading, side, taped_to: draft.taped_to, how })
}

/// The anchor of the latest tie to this point that does not come from `but`: with a second tie it
/// leaves two mirror places.
#[must_use]
pub fn other_anchor(record: &Record, point: &PointId, but: &PointId) -> Option<PointId> {
    record.measurements.iter().rev().find_map(|m| match &m.what {
        Measurement::Tie { from, to, .. } if to == point && from != but => Some(from.clone()),
        Measurement::Tie { from, to, .. } if from == point && to != but => Some(to.clone()),
        _ => None,
    })
}

fn ordinate_station(draft: &Draft, record: &Record) -> Result<Reading, String> {
    let interval = length(draft, Slot::Interval)?.value;
    let value = interval * f64::from(draft.ordinate);
    Ok(Reading { text: format_length(value, LengthStyle::from(record.site.units)), value })
}

/// The station of the ordinate that comes next, as written.
#[must_use]
pub fn next_station(draft: &Draft, record: &Record) -> Option<String> {
    ordinate_station(draft, record).ok().map(|reading| reading.text)
}

/// The draft in one line, for reading back: `T1 from H3 · 31' 6"`. Dashes stand for what is missing.
#[must_use]
pub fn read_back(draft: &Draft, record: &Record) -> String {
    let name = |slot| draft.point(slot).map_or("—", |meant| meant.label(record));
    let number = |slot| {
        draft.typed(slot).map(Typed::text).filter(|text| !text.is_empty()).unwrap_or_else(|| "—".into())
    };
    let (first, second, target) = (name(Slot::First), name(Slot::Second), name(Slot::Target));
    let side = draft.side.map_or("—", words::side);
    match draft.kind {
        Kind::Tie => {
            let side = if draft.ask_side { format!(" · {side}") } else { String::new() };
            format!("{target} from {first} · {}{side}", number(Slot::Length))
        }
        Kind::Run => format!("{first} → {second} · {target} at {}", number(Slot::Length)),
        Kind::Offsets => format!(
            "{target} · {} along, {} {side} · {first} → {second}",
            number(Slot::Station),
            number(Slot::Length)
        ),
        Kind::Ordinates => format!(
            "{target} · {} along, {} {side} · {first} → {second}",
            next_station(draft, record).unwrap_or_else(|| "—".into()),
            number(Slot::Length)
        ),
        Kind::Walk => {
            let from = walked_from(draft, record).map_or(first, |corner| record.label(corner));
            let turn = draft.turn.map(|turn| format!("{} · ", words::turn(turn))).unwrap_or_default();
            format!("{turn}{from} to {target} · {}", number(Slot::Length))
        }
        Kind::Square => format!("square at {first}, to {second} and {}", name(Slot::Third)),
        Kind::InLine => {
            let labels: Vec<&str> = draft.many.iter().map(|id| record.label(id)).collect();
            if labels.is_empty() { "—".to_owned() } else { format!("{} in line", labels.join(", ")) }
        }
        Kind::SideOnly => format!("{target} {side} of {first} → {second}"),
    }
}

/// The corner at which a walk's later wall starts.
fn walked_from<'a>(draft: &Draft, record: &'a Record) -> Option<&'a PointId> {
    let entry = draft.correcting.as_ref().or(draft.walk.as_ref())?;
    match measured(record, entry)? {
        Measurement::Walk { legs, .. } => Some(&legs.get(draft.part.checked_sub(1)?)?.to),
        _ => None,
    }
}

/// The point and the number in focus as one says them aloud: `T1: 31 feet 6`.
#[must_use]
pub fn spoken_back(draft: &Draft, record: &Record) -> String {
    let typed = draft.typed(draft.focus).filter(|typed| !typed.is_empty());
    let number = typed.map_or_else(|| "—".to_owned(), Typed::spoken);
    let name = |slot| draft.point(slot).map_or("—", |meant| meant.label(record));
    match (draft.kind, draft.focus) {
        (_, Slot::Interval) => format!("every {number}"),
        (Kind::Tie, _) => format!("{} from {}: {number}", name(Slot::Target), name(Slot::First)),
        (Kind::Walk, _) => format!("to {}: {number}", name(Slot::Target)),
        (_, Slot::Station) => format!("{}: {number} along", name(Slot::Target)),
        (Kind::Offsets | Kind::Ordinates, _) => format!("{}: {number} out", name(Slot::Target)),
        _ => format!("{} at {number}", name(Slot::Target)),
    }
}
