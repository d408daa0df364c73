//! What the Plan tab and the keypad say.

use crate::capture::draft::{Kind, Slot};
use swingtie_core::network::{Freedom, PointState};
use swingtie_core::plan::PlacedPoint;
use swingtie_core::record::{
    How, Instrument, Leg, MarkColour, Measurement, OffsetRow, PointId, Record, Side, Target, Turn, UnitSystem,
};
use swingtie_core::units::{Length, LengthStyle, format_length};

/// A slot that takes a point is empty.
pub const POINT_MISSING: &str = "A point is still missing.";
/// A side was not said.
pub const SIDE_MISSING: &str = "Say on which side it stands.";
/// The same point stands in two slots.
pub const SAME_TWICE: &str = "The same point stands there twice. Change one of them.";
/// A tape of no length.
pub const ZERO_TIE: &str = "A tape of no length ties nothing. Type the reading again.";
/// An entry that no form can take up again.
pub const STRIKE_AND_RETAKE: &str = "This one cannot be opened again. Strike it and take it anew.";
/// Several readings stand in the entry to be written anew.
pub const CORRECT_PART: &str = "Correct one reading";
/// As [`CORRECT_PART`], the question.
pub const WHICH_PART: &str = "Several stand in this entry. Which one was wrong?";
/// Shown wherever utility marks are recorded.
pub const MARK_CAUTION: &str = "Marks are approximate, expire, and leave out private lines. Have utilities \
    marked before any digging; keep metal tapes away from panels and overhead lines.";

/// A kind of measurement on its button.
pub const fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Tie => "Tape between two points",
        Kind::Run => "Tape along a wall",
        Kind::Offsets => "Baseline and offset",
        Kind::Ordinates => "Ordinates from a string",
        Kind::Walk => "Walk the walls",
        Kind::Square => "Square corner",
        Kind::InLine => "In line",
        Kind::SideOnly => "Side only",
    }
}

/// One plain line under the kind's name.
pub const fn kind_hint(kind: Kind) -> &'static str {
    match kind {
        Kind::Tie => "one distance, straight across",
        Kind::Run => "hook the zero, read along",
        Kind::Offsets => "along a line, then square out",
        Kind::Ordinates => "a curve, every few feet",
        Kind::Walk => "lengths and turns",
        Kind::Square => "a corner of 90°",
        Kind::InLine => "three or more on one line",
        Kind::SideOnly => "no number, only left or right",
    }
}

/// What a slot is called beside its value.
pub const fn slot(kind: Kind, slot: Slot) -> &'static str {
    match (kind, slot) {
        (Kind::Run, Slot::First) => "zero at",
        (Kind::Run, Slot::Second) => "toward",
        (Kind::Walk, Slot::First) => "start",
        (Kind::Square, Slot::First) => "corner",
        (Kind::Square, Slot::Second) => "one leg",
        (Kind::Square, Slot::Third) => "other leg",
        (Kind::Tie | Kind::Walk, Slot::Target) => "to",
        (_, Slot::First) => "from",
        (_, Slot::Second) => "to",
        (_, Slot::Third) => "third",
        (_, Slot::Target) => "point",
        (_, Slot::Interval) => "every",
        (_, Slot::Turn) => "turn",
        (_, Slot::Station) => "station",
        (Kind::Offsets | Kind::Ordinates, Slot::Length) => "offset",
        (_, Slot::Length) => "reading",
        (_, Slot::Side) => "side",
        (_, Slot::Many) => "points",
    }
}

/// What the panel asks for.
pub const fn ask(kind: Kind, slot: Slot) -> &'static str {
    match (kind, slot) {
        (Kind::Tie, Slot::First) => "From which point? Tap it.",
        (Kind::Tie, Slot::Target) => "To which point?",
        (Kind::Run, Slot::First) => "Where is the tape's zero?",
        (Kind::Run, Slot::Second) => "Toward which point does it run?",
        (Kind::Run, Slot::Target) => "Which point do you read at?",
        (Kind::Offsets, Slot::First) => "Where does the baseline start?",
        (Kind::Offsets, Slot::Second) => "Where does it lead?",
        (Kind::Offsets | Kind::Ordinates, Slot::Target) => "Which point is it?",
        (Kind::Ordinates, Slot::First) => "Where does the string start?",
        (Kind::Ordinates, Slot::Second) => "Where does it end?",
        (Kind::Walk, Slot::First) => "At which corner do you start?",
        (Kind::Walk, Slot::Target) => "Which corner do you reach?",
        (Kind::Square, Slot::First) => "Which corner is square?",
        (Kind::Square, _) => "Along which point does a leg go?",
        (Kind::SideOnly, Slot::Target) => "Which point?",
        (Kind::SideOnly, _) => "Beside which line? Tap its two ends.",
        (_, Slot::Interval) => "How far apart are the ordinates?",
        (_, Slot::Turn) => "How does the wall turn here?",
        (_, Slot::Station) => "How far along the line?",
        (Kind::Offsets | Kind::Ordinates, Slot::Length) => "How far square out?",
        (_, Slot::Length) => "Type the reading.",
        (_, Slot::Side) => "On which side?",
        (_, Slot::Many) => "Tap three or more points, in order.",
        (_, Slot::First | Slot::Second | Slot::Third | Slot::Target) => "Which point?",
    }
}

/// Why Save is not possible yet.
pub fn still_needed(kind: Kind, slot_: Slot) -> String {
    format!("Still needed: {}.", slot(kind, slot_))
}

/// A bare number where feet and inches are typed.
pub fn which_unit(number: &str) -> String {
    format!("{number} feet or {number} inches? Tap ft or in.")
}

/// A side.
pub const fn side(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

/// A turn.
pub const fn turn(turn: Turn) -> &'static str {
    match turn {
        Turn::Left => "left, square",
        Turn::Right => "right, square",
        Turn::LeftNotSquare => "left, not square",
        Turn::RightNotSquare => "right, not square",
        Turn::Straight => "straight on",
    }
}

/// An instrument.
pub const fn instrument(instrument: Instrument) -> &'static str {
    match instrument {
        Instrument::SteelTape => "steel tape",
        Instrument::FibreglassTape => "fibreglass tape",
        Instrument::Laser => "laser",
        Instrument::Wheel => "wheel",
        Instrument::Pacing => "paced",
        Instrument::Guess => "guess",
    }
}

/// An instrument in a word.
pub const fn instrument_short(instrument: Instrument) -> &'static str {
    match instrument {
        Instrument::SteelTape => "steel",
        Instrument::FibreglassTape => "fibre",
        Instrument::Laser => "laser",
        Instrument::Wheel => "wheel",
        Instrument::Pacing => "paced",
        Instrument::Guess => "guess",
    }
}

/// What was measured to.
pub const fn target(target: Target) -> &'static str {
    match target {
        Target::Hard => "hard edge",
        Target::Soft => "soft edge",
    }
}

/// How, in one line.
pub fn how(how: How) -> String {
    format!("{}, {}", instrument(how.instrument), target(how.target))
}

/// A pad's units, as on its switch.
pub const fn units(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::FeetInches => "feet and inches",
        UnitSystem::DecimalFeet => "decimal feet",
        UnitSystem::Metres => "metres",
    }
}

/// A mark's colour, what it usually means, and the letters it gets when none were painted.
pub const fn mark(colour: MarkColour) -> (&'static str, &'static str, &'static str) {
    match colour {
        MarkColour::Red => ("red", "electric", "E"),
        MarkColour::Yellow => ("yellow", "gas, oil", "G"),
        MarkColour::Orange => ("orange", "phone, cable", "C"),
        MarkColour::Blue => ("blue", "drinking water", "W"),
        MarkColour::Purple => ("purple", "irrigation", "I"),
        MarkColour::Green => ("green", "sewer, drain", "S"),
        MarkColour::Pink => ("pink", "survey, unknown", "?"),
        MarkColour::White => ("white", "planned digging", "X"),
    }
}

/// A state in one word.
pub const fn state(state: PointState) -> &'static str {
    match state {
        PointState::Loose => "loose",
        PointState::Fixed => "fixed",
        PointState::Checked => "checked",
        PointState::Disputed => "disputed",
    }
}

/// A state in plain words, with what would help.
pub fn state_told(point: &PlacedPoint, record: &Record) -> String {
    match (point.state, &point.freedom) {
        (PointState::Loose, Some(Freedom::Unmeasured)) => {
            "Only sketched: no tape has touched it yet.".to_owned()
        }
        (PointState::Loose, Some(Freedom::OnCircle { centre, .. })) => format!(
            "Loose: it can stand anywhere on a circle about {}. One more tape fixes it.",
            record.label(centre)
        ),
        (PointState::Loose, Some(Freedom::Along { .. })) => {
            "Loose: it can still slide one way. One more tape across fixes it.".to_owned()
        }
        (PointState::Loose, Some(Freedom::WithOthers { others })) => {
            let others: Vec<&str> = others.iter().map(|id| record.label(id)).collect();
            format!("Loose: it hangs on {}, loose too.", others.join(", "))
        }
        (PointState::Loose, None) => "Loose: its place is not determined yet.".to_owned(),
        (PointState::Fixed, _) => {
            "Fixed, but a misread tape would pass unseen. One more tape checks it.".to_owned()
        }
        (PointState::Checked, _) => "Checked: a misread tape would have shown.".to_owned(),
        (PointState::Disputed, _) => {
            "Disputed: its readings contradict each other. Tape one of them again.".to_owned()
        }
    }
}

/// "within 2 inches": the larger half axis of the 95 % ellipse, rounded up to what people say.
pub fn within(semi_major: Length, units: UnitSystem) -> String {
    let rounded = |value: f64, step: f64| (value / step).ceil() * step;
    match units {
        UnitSystem::Metres => format!("within {} cm", rounded(semi_major.metres() * 100.0, 1.0).max(1.0)),
        UnitSystem::DecimalFeet => format!("within {:.1} ft", rounded(semi_major.feet(), 0.1).max(0.1)),
        UnitSystem::FeetInches if semi_major.inches() <= 0.5 => "within half an inch".to_owned(),
        UnitSystem::FeetInches if semi_major.inches() <= 1.0 => "within an inch".to_owned(),
        UnitSystem::FeetInches if semi_major.feet() <= 2.0 => {
            format!("within {} inches", semi_major.inches().ceil())
        }
        UnitSystem::FeetInches => format!("within {} feet", semi_major.feet().ceil()),
    }
}

/// A length as the site writes it.
pub fn length(length: Length, units: UnitSystem) -> String {
    format_length(length, LengthStyle::from(units))
}

/// A measurement in one line, as it is read back and listed: `T1 from H3 · 31' 6"`.
pub fn measurement(measurement: &Measurement, record: &Record) -> String {
    let name = |id: &PointId| record.label(id).to_owned();
    let list = |ids: &[PointId]| ids.iter().map(name).collect::<Vec<_>>().join(", ");
    match measurement {
        Measurement::Tie { from, to, reading, .. } => {
            format!("{} from {} · {}", name(to), name(from), reading.text)
        }
        Measurement::Run { zero, toward, .. } => {
            format!("{} → {} · {}", name(zero), name(toward), parts(measurement, record).join(", "))
        }
        Measurement::Offsets { from, to, .. } => {
            format!("{} · {} → {}", parts(measurement, record).join("; "), name(from), name(to))
        }
        Measurement::Walk { start, legs, .. } => {
            let mut line = name(start);
            for leg in legs {
                let turn = leg.turn.map(|t| format!("{} ", turn(t))).unwrap_or_default();
                let length = leg.length.as_ref().map_or("not taped", |r| r.text.as_str());
                line.push_str(&format!(" · {turn}to {} {length}", name(&leg.to)));
            }
            line
        }
        Measurement::Square { at, from, to } => {
            format!("square at {}, to {} and {}", name(at), name(from), name(to))
        }
        Measurement::InLine { points } => format!("{} in line", list(points)),
        Measurement::SideIs { point, side: s } => {
            format!("{} {} of {} → {}", name(point), side(s.side), name(&s.from), name(&s.to))
        }
        other => super::turned(other, &name),
    }
}

/// Each reading, row or wall of a measurement in one line; the whole of one that holds a single reading.
pub fn parts(measured: &Measurement, record: &Record) -> Vec<String> {
    let name = |id: &PointId| record.label(id).to_owned();
    match measured {
        Measurement::Run { readings, .. } => {
            readings.iter().map(|r| format!("{} at {}", name(&r.point), r.reading.text)).collect()
        }
        Measurement::Offsets { rows, .. } => {
            let row = |row: &OffsetRow| {
                let (station, offset) = (&row.station.text, &row.offset.text);
                format!("{} · {station} along, {offset} {}", name(&row.point), side(row.side))
            };
            rows.iter().map(row).collect()
        }
        Measurement::Walk { start, legs, .. } => {
            let starts = std::iter::once(start).chain(legs.iter().map(|leg| &leg.to));
            let wall = |(from, leg): (&PointId, &Leg)| {
                let turned = leg.turn.map(|t| format!("{} · ", turn(t))).unwrap_or_default();
                let length = leg.length.as_ref().map_or("—", |reading| reading.text.as_str());
                format!("{turned}{} to {} · {length}", name(from), name(&leg.to))
            };
            starts.zip(legs).map(wall).collect()
        }
        other => vec![measurement(other, record)],
    }
}

/// The newest part of a measurement, for the line about the last thing saved: a walk's last wall.
pub fn newest(measured: &Measurement, record: &Record) -> String {
    let wall = match measured {
        Measurement::Walk { .. } => parts(measured, record).pop(),
        _ => None,
    };
    wall.unwrap_or_else(|| measurement(measured, record))
}

/// Whether a measurement speaks of this point.
pub fn speaks_of(measurement: &Measurement, id: &PointId) -> bool {
    match measurement {
        // The line of its side is spoken of only by the way.
        Measurement::Tie { from, to, .. } => from == id || to == id,
        other => other.points().contains(&id),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doubt_is_told_in_the_users_unit() {
        let inches = |n| within(Length::from_inches(n), UnitSystem::FeetInches);
        assert_eq!(inches(0.0), "within half an inch");
        assert_eq!(inches(1.3), "within 2 inches");
        assert_eq!(inches(30.0), "within 3 feet");
        assert_eq!(within(Length::from_metres(0.034), UnitSystem::Metres), "within 4 cm");
        assert_eq!(within(Length::from_feet(0.31), UnitSystem::DecimalFeet), "within 0.4 ft");
    }
}
