//! Every measurement with what the others make of it, struck ones among them.

use super::Section;
use super::html::{Html, Sort, Table};
use super::struck::{earlier, through};
use super::subject::Subject;
use crate::exchange::words::{finding, measured};
use crate::network::{AdjustedReading, Finding, Quantity, ReadingRole};
use crate::record::{EntryId, Measurement, Statement};
use crate::sheet::words::capital;
use crate::units::format::format_number;
use crate::units::{LengthStyle, format_angle, format_length};

/// What the figures are.
const FIGURES: &str = "Residual: adjusted less read. Spare: how much of an error would show in it, from 0 (nothing \
    checks it) to 1. Standardised: the residual over its standard deviation.";

pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let mut table = Table::new(
        "Measurements, in the order they were written",
        &[
            ("Measurement", Sort::Words),
            ("Residual", Sort::Figures),
            ("Spare", Sort::Figures),
            ("Standardised", Sort::Figures),
            ("State", Sort::Words),
        ],
    );
    let mut any = false;
    for entry in subject.given.book.entries() {
        let Some(Statement::Measure(_)) = entry.statement() else { continue };
        any = true;
        for earlier in earlier(subject, entry) {
            let Statement::Measure(said) = earlier.said else { continue };
            for part in 0..parts(said) {
                let words = through(&capital(&measured(subject.record, said, part)));
                table.row(vec![
                    words,
                    Html::default(),
                    Html::default(),
                    Html::default(),
                    earlier.why.clone(),
                ]);
            }
        }
        if let Some(stands) = subject.record.measurements.iter().find(|m| m.entry == entry.id) {
            for part in 0..parts(&stands.what) {
                table.row(row(subject, &entry.id, &stands.what, part));
            }
        }
    }
    let mut body = Html::default();
    let found: Vec<String> =
        subject.given.adjustment.findings.iter().map(|found| finding(subject.record, found)).collect();
    if !found.is_empty() {
        body.list(found.iter().map(String::as_str));
    }
    body.paragraph(FIGURES);
    table.write(&mut body);
    any.then_some(Section { id: "measurements", title: "Measurements", body })
}

/// How many readings a measurement holds, one at least.
fn parts(measurement: &Measurement) -> usize {
    match measurement {
        Measurement::Run { readings, .. } => readings.len().max(1),
        Measurement::Offsets { rows, .. } => rows.len().max(1),
        Measurement::Walk { legs, .. } => legs.len().max(1),
        _ => 1,
    }
}

fn row(subject: &Subject<'_>, entry: &EntryId, said: &Measurement, part: usize) -> Vec<Html> {
    let several = parts(said) > 1;
    let all: Vec<&AdjustedReading> = subject
        .given
        .adjustment
        .readings
        .iter()
        .filter(|r| r.entry == *entry && (!several || r.part == part))
        .collect();
    let lines = |figure: &dyn Fn(&AdjustedReading) -> String| {
        Html::lines(&all.iter().map(|r| Html::of(&figure(r))).collect::<Vec<_>>())
    };
    let name = |r: &AdjustedReading| if all.len() > 1 { format!("{} ", role(r.role)) } else { String::new() };
    vec![
        Html::of(&capital(&measured(subject.record, said, part))),
        lines(&|r| {
            r.residual.map_or_else(|| "–".to_owned(), |v| format!("{}{}", name(r), signed(subject, v)))
        }),
        lines(&|r| r.redundancy.map_or_else(|| "–".to_owned(), |spare| format_number(spare, 2))),
        lines(&|r| r.standardised.map_or_else(|| "–".to_owned(), |w| format_number(w, 1).replace('-', "−"))),
        Html::of(state(subject, entry, part, &all)),
    ]
}

const fn role(role: ReadingRole) -> &'static str {
    match role {
        ReadingRole::Tie | ReadingRole::Wall => "length",
        ReadingRole::Run | ReadingRole::Station => "along",
        ReadingRole::OnRun | ReadingRole::InLine => "off the line",
        ReadingRole::Offset => "offset",
        ReadingRole::Square => "corner",
        ReadingRole::Angle => "angle",
        ReadingRole::Bearing => "bearing",
        ReadingRole::Parallel => "direction",
        ReadingRole::SameLength => "difference",
    }
}

/// With its sign, as fine as it is read.
fn signed(subject: &Subject<'_>, quantity: Quantity) -> String {
    let text = match quantity {
        Quantity::Length(length) => format_length(length, LengthStyle::from(subject.units)),
        Quantity::Angle(angle) => format_angle(angle, 2),
    };
    match text.strip_prefix('-') {
        Some(rest) => format!("−{rest}"),
        None if !text.contains(|c: char| matches!(c, '1'..='9')) => text,
        None => format!("+{text}"),
    }
}

/// Of a reading with less spare than this the others say little: common practice, no source.
const HARDLY: f64 = 0.1;

/// What became of a reading.
fn state(subject: &Subject<'_>, entry: &EntryId, part: usize, all: &[&AdjustedReading]) -> &'static str {
    let is = |e: &EntryId, p: usize| e == entry && p == part;
    let adjustment = subject.given.adjustment;
    for found in &adjustment.findings {
        match found {
            Finding::Suspect { entry, part, .. } if is(entry, *part) => return "Suspect",
            Finding::Suspect { rivals, .. } if rivals.iter().any(|r| is(&r.entry, r.part)) => {
                return "Suspect, or another";
            }
            _ => {}
        }
    }
    if subject.record.kept.contains_key(&(entry.clone(), part)) {
        return "Kept as written";
    }
    match all {
        [] => "As said",
        all if all.iter().all(|r| r.residual.is_none()) => "Of a loose point",
        all if !all.iter().any(|r| r.is_checked()) => "Nothing checks it",
        all if all.iter().filter_map(|r| r.redundancy).any(|spare| spare < HARDLY) => "Hardly checked",
        _ => "Agrees",
    }
}
