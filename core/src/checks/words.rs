//! What an adjustment found, in plain words: for the list before leaving, the report and the files.

use crate::language::tr;
use crate::network::{Finding, Freedom};
use crate::record::{PointId, Record, Side, SideOf};
use crate::units::{Angle, LengthStyle, format_angle, format_length};

/// Labels in a row: `H1, H2 and T3`.
#[must_use]
pub fn labels(record: &Record, points: &[PointId]) -> String {
    let labels: Vec<&str> = points.iter().map(|point| record.label(point)).collect();
    listed(&labels)
}

/// Words in a row: `a, b and c`.
pub(super) fn listed(labels: &[&str]) -> String {
    match labels.split_last() {
        Some((last, rest)) if !rest.is_empty() => say!("{} and {last}", rest.join(", ")),
        Some((last, _)) => (*last).to_owned(),
        None => "nothing".to_owned(),
    }
}

/// A side in words: `left of H1 to H2`.
#[must_use]
pub fn side(record: &Record, side: &SideOf) -> String {
    let word = match side.side {
        Side::Left => "left",
        Side::Right => "right",
    };
    say!("{word} of {} to {}", record.label(&side.from), record.label(&side.to))
}

/// In which way a loose point is free.
#[must_use]
pub fn freedom(record: &Record, freedom: &Freedom) -> String {
    match freedom {
        Freedom::Unmeasured => say!("no reading mentions it"),
        Freedom::OnCircle { centre, radius } => say!(
            "anywhere on a circle of {} round {}",
            format_length(*radius, LengthStyle::from(record.site.units)),
            record.label(centre)
        ),
        Freedom::Along { direction } => {
            // A line has two directions; the plan's x is that of the held line.
            let turned = Angle::from_degrees(direction.degrees().rem_euclid(180.0));
            say!("free to slide along {} counter-clockwise from the held direction", format_angle(turned, 0))
        }
        Freedom::WithOthers { others } => say!("hangs on {}, loose too", labels(record, others)),
    }
}

/// What is the matter and what to do about it, one sentence each, without the full stop of the first. None
/// for a reading that contradicts others: that has words of its own.
#[must_use]
pub fn said(record: &Record, finding: &Finding) -> Option<(String, String)> {
    let name = |point| record.label(point);
    let (what, how) = match finding {
        Finding::Suspect { .. } | Finding::Kept { .. } => return None,
        Finding::LooseGroup { points, needs, .. } => {
            let (moves, ties) = match needs {
                1 => ("can still swing or slide as a whole", "One more tie"),
                2 => ("can swing round and turn as a whole", "Two more ties"),
                _ => ("are joined to the rest by nothing", "Three ties"),
            };
            (
                say!("{} hold together but {moves}", labels(record, points)),
                say!("{ties}, from known points well apart, places all of them."),
            )
        }
        Finding::SideContradicted { point, said } => (
            say!(
                "{} was said to stand {}, but the readings put it on the other side",
                name(point),
                side(record, said)
            ),
            say!("Look from one end of the line to the other: on which side is it?"),
        ),
        Finding::Impossible { point, .. } => (
            say!("The readings to {} cannot all be true: they do not meet", name(point)),
            say!("Take them again; one of them is wrong."),
        ),
        Finding::LocalAttraction { at, by, .. } => {
            let by = format_angle(Angle::from_radians(by.radians().abs()), 1);
            let what = match at.as_slice() {
                [_, _, ..] => say!(
                    "The bearing between {} and its back bearing differ by {by} from half a turn",
                    labels(record, at)
                ),
                _ => say!("The needle at {} seems pulled aside by {by}", labels(record, at)),
            };
            let how = "Look for iron, a wire or a motor near it, and sight again a few steps along the line.";
            (what, tr(how).to_owned())
        }
        Finding::ThicknessUnknown { point, .. } => (
            say!("{} was taped to its bark, but nobody said how thick it is", name(point)),
            say!("Tape round it."),
        ),
        Finding::NotSettled => (
            say!("The readings do not settle; places are rough"),
            say!("Look for a reading to the wrong point, or with the wrong unit."),
        ),
    };
    Some((what, how))
}

/// Which readings a finding rests on.
#[must_use]
pub fn from_readings(used: &[String]) -> Option<String> {
    (!used.is_empty()).then(|| say!("From: {}.", used.join("; ")))
}

/// Which readings a finding lacks.
#[must_use]
pub fn not_read(missing: &[String]) -> Option<String> {
    (!missing.is_empty()).then(|| say!("Not read: {}.", missing.join("; ")))
}

/// Where the limit of a finding is published.
#[must_use]
pub fn by_source(source: &str) -> String {
    say!("Source: {source}.")
}
