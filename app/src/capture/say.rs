//! From a finished draft to what is said in the book, and to the words that read it back.

use super::draft::{Draft, InHand, Kind, Meant, Slot};
use super::rewrite::{measured, put_in};
use crate::keypad::Doubt;
use crate::words::capture as words;
use swingtie_core::language::tr;
use swingtie_core::record::{
    Leg, Measurement, OffsetRow, Point, PointId, Reading, Record, RunReading, SideOf, Statement,
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
    fn id(&mut self, meant: &Meant) -> PointId {
        match meant {
            Meant::Known(id) => id.clone(),
            Meant::New { label, at } => {
                let made = |said: &Statement| match said {
                    Statement::Point(point) if point.label == label.trim() => Some(point.id.clone()),
                    _ => None,
                };
                if let Some(id) = self.statements.iter().find_map(made) {
                    return id;
                }
                let id = (self.fresh)();
                self.statements.extend(new_point(&id, label, *at));
                id
            }
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
    hand: InHand,
    fresh: &mut dyn FnMut() -> PointId,
) -> Result<Saying, String> {
    if let Some(slot) = draft.wanting() {
        return Err(wanted(draft, slot));
    }
    if let Some(shared) = draft.meets() {
        return Err(words::lines_meet(shared.label(record)));
    }
    if draft.same_twice() {
        return Err(tr(words::SAME_TWICE).to_owned());
    }
    let nothing = draft.reading(Slot::Length).is_some_and(|reading| reading.value <= Length::ZERO);
    if nothing && matches!(draft.kind, Kind::Tie | Kind::Arc | Kind::Girth) {
        return Err(tr(words::ZERO_TIE).to_owned());
    }
    let mut naming = Naming { statements: Vec::new(), fresh };
    let slots = [Slot::First, Slot::Second, Slot::Third, Slot::Fourth, Slot::Target];
    let points = slots.map(|slot| draft.point(slot).map(|meant| naming.id(meant)));
    let target = points.last().cloned().flatten();
    let measurement = measurement(draft, record, hand, points).ok_or(words::MISSING)?;
    let mut statements = naming.statements;
    let entry = draft.correcting.as_ref().or(draft.into.as_ref());
    let was = entry.and_then(|entry| Some((entry, measured(record, entry)?)));
    // What goes on, goes on after whatever stands there by now.
    let part = if draft.correcting.is_some() { draft.part } else { usize::MAX };
    let now = match was {
        Some((_, was)) => put_in(was, measurement, part),
        None => measurement,
    };
    if too_steep(&now) {
        return Err(tr(words::TOO_STEEP).to_owned());
    }
    let now = Statement::Measure(now);
    statements.push(match was {
        Some((entry, _)) => Statement::Correct { entry: entry.clone(), now: Box::new(now) },
        None => now,
    });
    Ok(Saying { statements, target })
}

/// What a complete draft measures, through points of these ids; none when something is missing.
fn measurement(
    draft: &Draft,
    record: &Record,
    hand: InHand,
    mut points: [Option<PointId>; 5],
) -> Option<Measurement> {
    let InHand { mut how, sight } = hand;
    if draft.kind.slopes() {
        how.slope = draft.lay();
    }
    let reading = draft.reading(Slot::Length);
    // A complete draft has all its points.
    let mut take = |n: usize| points.get_mut(n).and_then(Option::take).unwrap_or_else(|| PointId::from(""));
    let [first, second, third, fourth, row] = [0, 1, 2, 3, 4].map(&mut take);
    Some(match draft.kind {
        Kind::Tie => {
            let (side, reading) = (said_side(draft, record, &first, &row), reading?);
            Measurement::Tie { from: first, to: row, reading, side, taped_to: draft.taped_to, how }
        }
        Kind::Run => {
            let readings = vec![RunReading { point: row, reading: reading? }];
            let zero_unknown = draft.zero_unknown;
            Measurement::Run { zero: first, toward: second, readings, zero_unknown, how }
        }
        Kind::Offsets | Kind::Ordinates => {
            let station = match draft.kind {
                Kind::Offsets => draft.reading(Slot::Station),
                _ => ordinate_station(draft, record),
            };
            let row = OffsetRow { point: row, station: station?, offset: reading?, side: draft.side? };
            Measurement::Offsets { from: first, to: second, rows: vec![row], how }
        }
        Kind::Walk => {
            let leg = Leg { turn: draft.turn, to: row, length: reading };
            Measurement::Walk { start: first, legs: vec![leg], how }
        }
        Kind::Square => Measurement::Square { at: first, from: second, to: third },
        Kind::InLine => Measurement::InLine { points: draft.many.clone() },
        Kind::SideOnly => {
            let side = SideOf { from: first, to: second, side: draft.side? };
            Measurement::SideIs { point: row, side }
        }
        Kind::Angle => {
            let (reading, turn) = (draft.angle(Slot::Angle)?, draft.rotation?);
            Measurement::Angle { at: first, from: second, to: row, reading, turn, how: sight }
        }
        Kind::Bearing => {
            let (reading, north) = (draft.angle(Slot::Angle)?, draft.north?);
            Measurement::Bearing { from: first, to: row, reading, north, how: sight }
        }
        Kind::Parallel => {
            Measurement::Parallel { one: [first, second], other: [third, fourth], tolerance: None }
        }
        Kind::SameLength => {
            Measurement::SameLength { one: [first, second], other: [third, fourth], tolerance: None }
        }
        Kind::Arc => {
            let (rise, side) = (reading?, draft.side?);
            Measurement::Arc { from: first, to: second, rise, side }
        }
        Kind::ArcThrough => Measurement::ArcThrough { from: first, through: second, to: third },
        Kind::Girth => Measurement::Girth { point: row, reading: reading?, how },
    })
}

/// Why Save is not possible yet: nothing is there, or a number without its unit.
pub fn wanted(draft: &Draft, slot: Slot) -> String {
    match draft.typed(slot) {
        Some(typed) if typed.doubt() == Some(Doubt::NeedsUnit) => words::which_unit(&typed.text()),
        _ => words::still_needed(draft.kind, slot),
    }
}

/// Whether the tape would have to lie steeper than straight down: an end higher by its whole length.
fn too_steep(measurement: &Measurement) -> bool {
    let (how, longest) = match measurement {
        Measurement::Tie { reading, how, .. } => (how, reading.value),
        Measurement::Run { readings, how, .. } => {
            let lengths = readings.iter().map(|r| r.reading.value);
            (how, lengths.fold(Length::ZERO, |most, one| if one > most { one } else { most }))
        }
        _ => return false,
    };
    how.level(longest, longest).is_none()
}

/// The side said with a tie, of the line it was said of.
fn said_side(draft: &Draft, record: &Record, from: &PointId, to: &PointId) -> Option<SideOf> {
    let line = match (&draft.line, draft.ask_side) {
        (Some(line), true) => line.clone(),
        (None, true) => [other_anchor(record, to, from)?, from.clone()],
        _ => return None,
    };
    let [from, to] = line;
    Some(SideOf { from, to, side: draft.side? })
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

fn ordinate_station(draft: &Draft, record: &Record) -> Option<Reading> {
    let interval = draft.reading(Slot::Interval)?.value;
    let value = interval * f64::from(draft.ordinate);
    Some(Reading { text: format_length(value, LengthStyle::from(record.site.units)), value })
}

/// The station of the ordinate that comes next, as written.
#[must_use]
pub fn next_station(draft: &Draft, record: &Record) -> Option<String> {
    ordinate_station(draft, record).map(|reading| reading.text)
}

#[cfg(test)]
mod tests;
