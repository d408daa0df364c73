//! Sentences that several files and the desk command share.

use crate::checks::said;
use crate::network::{Cause, Doubt, Finding, Quantity, Rival, Slip};
use crate::record::{EntryId, Measurement, Record};
use crate::units::format::fixed;
use crate::units::{LengthStyle, format_angle, format_length};

pub use crate::checks::{freedom, labels, side};

/// What every file that leaves the house says.
pub(super) const CAUTION: &str =
    "Taped for design. Not a boundary survey. Have buried lines marked before any digging.";

/// A finding as a sentence.
#[must_use]
pub fn finding(record: &Record, finding: &Finding) -> String {
    match finding {
        Finding::Suspect { entry, part, standardised, doubt, rivals } => {
            let said = reading(record, entry, *part);
            suspect(record, &said, *standardised, doubt, rivals)
        }
        Finding::Kept { entry, part, standardised } => say!(
            "Kept as written, though the others do not agree: {} (standardised residual {}).",
            reading(record, entry, *part),
            fixed(*standardised, 1)
        ),
        other => said(record, other).map_or_else(String::new, |(what, how)| say!("{what}. {how}")),
    }
}

/// A reading that contradicts others: which it is and what they say, and what to do. None for any other finding.
#[must_use]
pub fn misread(record: &Record, finding: &Finding) -> Option<(String, String)> {
    let Finding::Suspect { entry, part, doubt, rivals, .. } = finding else { return None };
    let expected = expected(record, doubt);
    let what = say!("Most likely misread: {}. The others say {expected}", reading(record, entry, *part));
    let why = doubt.causes.first().map_or_else(String::new, |c| say!("Perhaps {}. ", cause(record, c)));
    let names: Vec<String> = rivals.iter().map(|r| reading(record, &r.entry, r.part)).collect();
    let how = match names.as_slice() {
        [] => say!("Tape it again."),
        [one] => say!("Or {one} is wrong: a third reading tells."),
        more => say!("Or one of these is wrong: {}. One more reading tells.", more.join("; ")),
    };
    Some((what, why + &how))
}

/// What the other readings say in place of one.
fn expected(record: &Record, doubt: &Doubt) -> String {
    match doubt.expected {
        Quantity::Length(length) => format_length(length, LengthStyle::from(record.site.units)),
        Quantity::Angle(angle) => format_angle(angle, 1),
    }
}

fn suspect(record: &Record, said: &str, standardised: f64, doubt: &Doubt, rivals: &[Rival]) -> String {
    let expected = expected(record, doubt);
    let why = doubt.causes.first().map_or(String::new(), |c| say!(": {}?", cause(record, c)));
    let size = fixed(standardised, 1);
    let start = say!(
        "Suspect: {said} does not agree with the others, which say {expected} (standardised residual {size})"
    );
    let names = |r: &Rival| reading(record, &r.entry, r.part);
    match rivals {
        [] => say!("{start}{why}{} Tape it again.", if why.is_empty() { "." } else { "" }),
        [one] => say!("{start}{why} Or {} is wrong: a third reading tells.", names(one)),
        more => {
            let names: Vec<String> = more.iter().map(names).collect();
            say!("{start}{why} Or one of these is wrong: {}. One more reading tells.", names.join("; "))
        }
    }
}

/// What may have happened, in words: `a 9 for a 6, so 16' 5"`.
#[must_use]
pub fn cause(record: &Record, cause: &Cause) -> String {
    let what = match &cause.slip {
        Slip::LookAlike { written, meant } => say!("a {written} for a {meant}"),
        Slip::Transposed => say!("two digits changed places"),
        Slip::OneFoot => say!("one foot off"),
        Slip::TenFeet => say!("ten feet off"),
        Slip::OneMetre => say!("one metre off"),
        Slip::OneInch => say!("one inch off"),
        Slip::TenCentimetres => say!("ten centimetres off"),
        Slip::Point => say!("the point in the wrong place"),
        Slip::OtherUnit => say!("feet for metres"),
        Slip::InchesAsTenths => say!("inches written as tenths"),
        Slip::TenthsAsInches => say!("tenths written as inches"),
        Slip::OtherEnd => say!("read from the other end"),
        Slip::OtherCorner => say!("taken from the other corner"),
        Slip::OtherSide => say!("left and right swapped"),
        Slip::Swapped { entry, part } => say!("swapped with {}", reading(record, entry, *part)),
        Slip::OtherPoint { point } => say!("taken at {}", record.label(point)),
        Slip::Zero { off } => {
            say!("the zero off by {}", format_length(*off, LengthStyle::from(record.site.units)))
        }
    };
    match &cause.reading {
        Some(now) => say!("{what}, so {}", now.text),
        None => what,
    }
}

/// A reading named in words: `the tie H1 to T3, 12' 6"`.
#[must_use]
pub fn reading(record: &Record, entry: &EntryId, part: usize) -> String {
    match record.measurements.iter().find(|m| &m.entry == entry) {
        Some(found) => measured(record, &found.what, part),
        None => say!("entry {entry}"),
    }
}

/// The same of a measurement that need not stand in the record any more.
#[must_use]
pub fn measured(record: &Record, measurement: &Measurement, part: usize) -> String {
    let name = |point| record.label(point);
    let said = |words: String, text: &str| if text.is_empty() { words } else { say!("{words}, {text}") };
    match measurement {
        Measurement::Tie { from, to, reading, .. } => {
            said(say!("the tie {} to {}", name(from), name(to)), &reading.text)
        }
        Measurement::Run { zero, toward, readings, .. } => {
            let row = readings.get(part);
            let at = row.map_or("", |row| name(&row.point));
            let text = row.map_or("", |row| row.reading.text.as_str());
            said(say!("{at} on the run {} to {}", name(zero), name(toward)), text)
        }
        Measurement::Offsets { from, to, rows, .. } => {
            let row = rows.get(part);
            let at = row.map_or("", |row| name(&row.point));
            let text = row.map_or(String::new(), |row| say!("{} / {}", row.station.text, row.offset.text));
            said(say!("{at} off the baseline {} to {}", name(from), name(to)), &text)
        }
        Measurement::Walk { start, legs, .. } => {
            let from = part.checked_sub(1).and_then(|n| legs.get(n)).map_or(start, |leg| &leg.to);
            let leg = legs.get(part);
            let to = leg.map_or("", |leg| name(&leg.to));
            let text = leg.and_then(|leg| leg.length.as_ref()).map_or("", |length| length.text.as_str());
            said(say!("the wall {} to {to}", name(from)), text)
        }
        Measurement::Square { at, .. } => say!("the square corner at {}", name(at)),
        Measurement::InLine { points } => say!("the line through {}", labels(record, points)),
        Measurement::Angle { at, from, to, reading, .. } => {
            said(say!("the angle at {} from {} to {}", name(at), name(from), name(to)), &reading.text)
        }
        Measurement::Bearing { from, to, reading, .. } => {
            said(say!("the bearing {} to {}", name(from), name(to)), &reading.text)
        }
        Measurement::Parallel { one: [a, b], other: [c, d], .. } => {
            say!("{} to {} parallel to {} to {}", name(a), name(b), name(c), name(d))
        }
        Measurement::SameLength { one: [a, b], other: [c, d], .. } => {
            say!("{} to {} as long as {} to {}", name(a), name(b), name(c), name(d))
        }
        Measurement::Arc { from, to, rise, .. } => {
            said(say!("the rise of the arc {} to {}", name(from), name(to)), &rise.text)
        }
        Measurement::ArcThrough { from, through, to } => {
            say!("the arc {} to {} through {}", name(from), name(to), name(through))
        }
        Measurement::Girth { point, reading, .. } => {
            said(say!("the girth of {}", name(point)), &reading.text)
        }
        Measurement::SideIs { point, side } => {
            said(say!("the side of {}", name(point)), &self::side(record, side))
        }
    }
}
