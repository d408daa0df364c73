//! What the Plan tab and the keypad say.

pub use super::forms::*;
pub use super::length;
pub use super::steps::*;
use crate::capture::before::overall as overall_of;
use crate::capture::draft::{Kind, Slot};
use swingtie_core::checks::Closing;
use swingtie_core::network::{Freedom, PointState};
use swingtie_core::plan::PlacedPoint;
use swingtie_core::record::{
    Leg, MarkColour, Measurement, OffsetRow, PointId, Record, Side, Statement, UnitSystem,
};
use swingtie_core::units::Length;

/// Where the part of the program that looks for misreads has not come.
pub const NOT_LOOKED_FOR: &str =
    "Part of Swingtie could not be fetched. Readings are saved, but misreads are not looked for yet.";

/// A slot is empty.
pub const MISSING: &str = "Something is still missing.";
/// The same point stands in two slots.
pub const SAME_TWICE: &str = "The same point stands there twice. Change one of them.";
/// Two lines called parallel share a point.
pub fn lines_meet(label: &str) -> String {
    say!(
        "Both lines go through {label}, so they would be one line: say that with In line. Or change {label}."
    )
}
/// A tape of no length.
pub const ZERO_TIE: &str = "A tape of no length ties nothing. Type the reading again.";
/// An entry that no form can take up again.
pub const STRIKE_AND_RETAKE: &str = "This one cannot be opened again. Strike it and take it anew.";
/// Several readings stand in the entry to be written anew.
pub const CORRECT_PART: &str = "Correct one reading";
/// As [`CORRECT_PART`], the question.
pub const WHICH_PART: &str = "Several stand in this entry. Which one was wrong?";
/// The height of an end is as large as the tape's length.
pub const TOO_STEEP: &str = "One end cannot be higher by the whole tape or more. Type one of them again.";
/// Shown wherever utility marks are recorded.
pub const MARK_CAUTION: &str = "Marks are approximate, expire, and leave out private lines. Have buried lines \
    marked before any digging; near a mark dig by hand; local law decides. Keep metal tapes from panels and overhead lines.";

/// Why Save is not possible yet.
pub fn still_needed(kind: Kind, slot_: Slot) -> String {
    say!("Still needed: {}.", slot(kind, slot_))
}

/// A bare number where feet and inches are typed.
pub fn which_unit(number: &str) -> String {
    say!("{number} feet or {number} inches? Tap ft or in.")
}

/// A side.
pub const fn side(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

/// A pad's units, as on its switch.
pub const fn units(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::FeetInches => "feet and inches",
        UnitSystem::DecimalFeet => "decimal feet",
        UnitSystem::Metres => "metres",
    }
}

/// A mark's colour, what it usually means, and the one sign that tells its swatch where colours cannot be told.
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

/// Placed, but a misread would pass unseen: the one word for it on every screen.
pub const NOT_CHECKED: &str = PointState::Fixed.word();

/// A contradicted point whose own readings are not in question.
pub const WAITING: &str = "waiting";
/// The points of the drawing, with how to go about among them by keys.
pub const POINTS: &str = "points; arrow keys go from one to the next";

/// A state in plain words, with what would help.
pub fn state_told(point: &PlacedPoint, record: &Record) -> String {
    match (point.state, &point.freedom) {
        (PointState::Loose, Some(Freedom::Unmeasured)) => {
            say!("Only sketched: no tape has touched it yet.")
        }
        (PointState::Loose, Some(Freedom::OnCircle { centre, .. })) => say!(
            "Loose: it can stand anywhere on a circle about {}. One more tape places it.",
            record.label(centre)
        ),
        (PointState::Loose, Some(Freedom::Along { .. })) => {
            say!("Loose: it can still slide one way. One more tape across places it.")
        }
        (PointState::Loose, Some(Freedom::WithOthers { others })) => {
            let others: Vec<&str> = others.iter().map(|id| record.label(id)).collect();
            say!("Loose: it hangs on {}, loose too.", others.join(", "))
        }
        (PointState::Loose, None) => say!("Loose: its place is not determined yet."),
        (PointState::Fixed, _) => say!(
            "Not checked yet: a misread could leave it {} off and not show. Another tape to it, well off to the side of the others, helps.",
            a_foot(record)
        ),
        (PointState::Checked, _) => {
            let moved = a_foot(record);
            say!("Checked: a misread that moved it by {moved} would have shown.")
        }
        (PointState::Disputed, _) => {
            say!("In doubt: a reading you kept does not agree with the others and pulls it aside.")
        }
    }
}

/// "within 2 inches": the larger half axis of the 95 % ellipse, rounded up to what people say.
pub fn within(semi_major: Length, units: UnitSystem) -> String {
    say!("within {}", rounded_up(semi_major, units))
}

/// "2 inches": a small length, rounded up to what people say.
pub fn rounded_up(small: Length, units: UnitSystem) -> String {
    let rounded = |value: f64, step: f64| (value / step).ceil() * step;
    match units {
        UnitSystem::Metres => say!("{} cm", rounded(small.metres() * 100.0, 1.0).max(1.0)),
        UnitSystem::DecimalFeet => say!("{:.1} ft", rounded(small.feet(), 0.1).max(0.1)),
        UnitSystem::FeetInches if small.inches() <= 0.5 => say!("half an inch"),
        UnitSystem::FeetInches if small.inches() <= 1.0 => say!("an inch"),
        UnitSystem::FeetInches if small.feet() <= 2.0 => say!("{} inches", small.inches().ceil()),
        UnitSystem::FeetInches => say!("{} feet", small.feet().ceil()),
    }
}

/// A measurement in one line, as it is read back and listed: `T1 from H3 · 31' 6"`.
pub fn measurement(measurement: &Measurement, record: &Record) -> String {
    let name = |id: &PointId| record.label(id).to_owned();
    let list = |ids: &[PointId]| ids.iter().map(name).collect::<Vec<_>>().join(", ");
    match measurement {
        Measurement::Tie { from, to, reading, taped_to, how, .. } => {
            let (reached, sloped) = (reached(*taped_to), sloped(how));
            say!("{} from {} · {}{reached}{sloped}", name(to), name(from), reading.text)
        }
        Measurement::Run { zero: at, toward, zero_unknown, how, .. } => {
            let read = parts(measurement, record).join(", ");
            let (elsewhere, sloped) = (zero(*zero_unknown), sloped(how));
            say!("{} → {} · {read}{elsewhere}{sloped}", name(at), name(toward))
        }
        Measurement::Offsets { from, to, .. } => {
            say!("{} · {} → {}", parts(measurement, record).join("; "), name(from), name(to))
        }
        Measurement::Walk { start, legs, .. } => {
            let mut line = name(start);
            for leg in legs {
                let turn = leg.turn.map(|t| say!("{} ", turn(t))).unwrap_or_default();
                let length = leg.length.as_ref().map_or("not taped", |r| r.text.as_str());
                line.push_str(&say!(" · {turn}to {} {length}", name(&leg.to)));
            }
            line
        }
        Measurement::Square { at, from, to } => {
            say!("square at {}, to {} and {}", name(at), name(from), name(to))
        }
        Measurement::InLine { points } => say!("{} in line", list(points)),
        Measurement::SideIs { point, side: s } => {
            say!("{} {} of {} → {}", name(point), side(s.side), name(&s.from), name(&s.to))
        }
        other => super::turned(other, &name),
    }
}

/// Each reading, row or wall of a measurement in one line; the whole of one that holds a single reading.
pub fn parts(measured: &Measurement, record: &Record) -> Vec<String> {
    let name = |id: &PointId| record.label(id).to_owned();
    match measured {
        Measurement::Run { readings, .. } => {
            readings.iter().map(|r| say!("{} at {}", name(&r.point), r.reading.text)).collect()
        }
        Measurement::Offsets { rows, .. } => {
            let row = |row: &OffsetRow| {
                let (station, offset) = (&row.station.text, &row.offset.text);
                say!("{} · {station} along, {offset} {}", name(&row.point), side(row.side))
            };
            rows.iter().map(row).collect()
        }
        Measurement::Walk { start, legs, .. } => {
            let starts = std::iter::once(start).chain(legs.iter().map(|leg| &leg.to));
            let wall = |(from, leg): (&PointId, &Leg)| {
                let turned = leg.turn.map(|t| say!("{} · ", turn(t))).unwrap_or_default();
                let length = leg.length.as_ref().map_or("—", |reading| reading.text.as_str());
                say!("{turned}{} to {} · {length}", name(from), name(&leg.to))
            };
            starts.zip(legs).map(wall).collect()
        }
        other => vec![measurement(other, record)],
    }
}

/// The newest part of a measurement, for the line about the last thing saved: a walk's last wall, and
/// how well it closes once it is back at its start.
pub fn newest(measured: &Measurement, record: &Record) -> String {
    let last = match measured {
        Measurement::Walk { .. } | Measurement::Run { zero_unknown: true, .. } => {
            parts(measured, record).pop()
        }
        _ => None,
    };
    let mut words = last.unwrap_or_else(|| measurement(measured, record));
    if let Some(closing) = Closing::of(measured) {
        let off = length(closing.off, record.site.units);
        let how = if closing.is_gross() { "misses its start by" } else { "closes within" };
        words = say!("{words} · {how} {off}");
    }
    if let Some(overall) = overall_of(measured, record) {
        words = say!("{words} · {overall}");
    }
    words
}

/// What was done by striking this, or by striking the strike of it.
pub const fn taken_back(first: &Statement, back: bool) -> &'static str {
    match (first, back) {
        (Statement::Correct { .. }, false) => "correction taken back",
        (Statement::Correct { .. }, true) => "corrected again",
        (Statement::Keep { .. }, false) => "no longer kept",
        (Statement::Keep { .. }, true) => "kept again",
        (_, false) => "struck",
        (_, true) => "brought back",
    }
}

/// The same line was taped again.
pub fn and_again(value: &str) -> String {
    say!("and {value}")
}

/// Whether a measurement speaks of this point.
pub fn speaks_of(measurement: &Measurement, id: &PointId) -> bool {
    match measurement {
        // The line of its side is spoken of only by the way.
        Measurement::Tie { from, to, .. } => from == id || to == id,
        other => other.points().contains(&id),
    }
}

/// How far off a point may be that is called checked.
fn a_foot(record: &Record) -> &'static str {
    match record.site.units {
        UnitSystem::Metres => "30 cm",
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => "a foot",
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
