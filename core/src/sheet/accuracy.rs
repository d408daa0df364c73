//! What the adjustment says, in plain sentences for the sheet.

use super::furniture::Subject;
use super::words::about;
use crate::network::{Agreement, Finding, PointState, Quantity};
use crate::plan::PlacedPoint;
use crate::record::{EntryId, PointId};
use crate::units::{Length, day, format_length};

/// Labels listed before the rest is only counted.
const NAMED: usize = 12;

/// The sentences of the accuracy note.
pub(super) fn sentences(subject: &Subject<'_>) -> Vec<String> {
    let mut all = vec![counts(subject)];
    let sketched = |p: &&PlacedPoint| subject.sketched.contains(&p.id);
    let loose = subject.plan.points.iter().filter(|p| p.state == PointState::Loose && !sketched(p));
    let loose = labels(loose.map(|p| p.label.as_str()));
    if let Some(names) = loose {
        all.push(say!("Not determined, drawn only about where they are: {names}."));
    }
    if let Some(names) = labels(subject.plan.points.iter().filter(sketched).map(|p| p.label.as_str())) {
        all.push(say!("Only sketched, not measured, drawn roughly: {names}."));
    }
    if let Some(names) = labels(subject.plan.unplaced.iter().map(|(_, label)| label.as_str())) {
        all.push(say!("Not on the drawing, for want of any place: {names}."));
    }
    all.push(agreement(subject));
    all.extend(spread(subject));
    all.extend(suspects(subject));
    let sides = subject.adjustment.questions.iter().map(|q| subject.record.label(&q.point));
    if let Some(names) = labels(sides) {
        all.push(say!("Side of the tape line never said, drawn on a guess: {names}."));
    }
    all
}

fn counts(subject: &Subject<'_>) -> String {
    let points = &subject.plan.points;
    let total = points.len() + subject.plan.unplaced.len();
    let of = |state| points.iter().filter(|p| p.state == state).count();
    let states = [PointState::Checked, PointState::Fixed, PointState::Disputed, PointState::Loose];
    let counted = states.map(|state| (of(state), state.word()));
    let parts: Vec<String> =
        counted.iter().filter(|(n, _)| *n > 0).map(|(n, word)| say!("{n} {word}")).collect();
    let date = day(&subject.record.site.date);
    let taped = if date.is_empty() { String::new() } else { say!("Taped on {date}. ") };
    match (total, parts.is_empty()) {
        (0, _) => say!("{taped}No points yet."),
        (_, true) => say!("{taped}{total} points, none of them placed yet."),
        _ => say!("{taped}{total} points: {}.", parts.join(", ")),
    }
}

/// The variance factor in plain words: what may be chance agrees; beyond, the limits are common
/// practice, no source.
fn agreement(subject: &Subject<'_>) -> String {
    let spare = subject.adjustment.redundancy;
    match subject.adjustment.variance_factor.filter(|f| f.is_finite()) {
        None => say!("No spare readings: a misread would not show anywhere."),
        Some(f) => {
            let told = subject.adjustment.agreement();
            let verdict = if told == Some(Agreement::Better) {
                "agree with each other better than tapes usually do"
            } else if f < 2.0 || told == Some(Agreement::AsStated) {
                "agree with each other as well as tapes do"
            } else if f < 4.0 {
                "agree with each other less well than tapes should"
            } else {
                "contradict each other: find the misread before relying on this sheet"
            };
            let readings = if spare == 1 { "reading" } else { "readings" };
            say!("The readings {verdict} (variance factor {f:.2} over {spare} spare {readings}).")
        }
    }
}

/// What nobody may overlook before building or digging by the sheet: nothing where the readings agree.
pub(super) fn warning(subject: &Subject<'_>) -> Option<&'static str> {
    let disputed = subject.plan.points.iter().any(|p| p.state == PointState::Disputed);
    disputed
        .then_some("Readings contradict each other: not to be built or dug by until the misread is found.")
}

/// How far points may be off, from their 95 % ellipses.
fn spread(subject: &Subject<'_>) -> Option<String> {
    // Ellipses say nothing where a misread stands among the readings.
    if subject.adjustment.findings.iter().any(|finding| matches!(finding, Finding::Suspect { .. })) {
        return None;
    }
    let units = subject.record.site.units;
    let mut sizes: Vec<(&PlacedPoint, Length)> = subject
        .plan
        .points
        .iter()
        .filter(|p| p.state != PointState::Loose)
        .filter_map(|p| Some((p, p.ellipse?.semi_major)))
        .filter(|(_, size)| size.is_finite())
        .collect();
    sizes.sort_by(|a, b| a.1.metres().total_cmp(&b.1.metres()));
    let middle = sizes.get(sizes.len() / 2)?;
    let worst = sizes.last()?;
    Some(say!(
        "Half of the points are good to {} or better, the worst ({}) to {} (95 %, from the tapes' usual errors).",
        about(middle.1, units),
        worst.0.label,
        about(worst.1, units)
    ))
}

/// The readings most likely to be wrong, the likeliest with its value.
fn suspects(subject: &Subject<'_>) -> Option<String> {
    let mut alike = 0;
    let mut found: Vec<(f64, &EntryId, usize)> = subject
        .adjustment
        .findings
        .iter()
        .filter_map(|finding| match finding {
            Finding::Suspect { entry, part, standardised, rivals, .. } => {
                alike = alike.max(rivals.len());
                Some((standardised.abs(), entry, *part))
            }
            _ => None,
        })
        .collect();
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    let named = |(_, entry, part): &(f64, &EntryId, usize)| {
        let reading = subject.adjustment.readings.iter().find(|r| &r.entry == *entry && r.part == *part);
        let units = subject.record.site.units;
        reading.map_or_else(
            || say!("entry {entry}"),
            |r| match r.observed {
                Quantity::Length(length) => {
                    say!("{}, read {}", ends(subject, &r.points), format_length(length, units.into()))
                }
                Quantity::Angle(_) => ends(subject, &r.points),
            },
        )
    };
    let (first, others) = found.split_first()?;
    let first = named(first);
    Some(match others.len() {
        0 if alike > 0 => {
            say!("Misread: {first}, or one of {alike} other readings that fit as badly. Tape them again.")
        }
        0 => say!("Most likely misread: {first}. Tape it again."),
        more => say!("Most likely misread: {first}; {more} more are marked in the book. Tape them again."),
    })
}

fn ends(subject: &Subject<'_>, points: &[PointId]) -> String {
    points.iter().map(|p| subject.record.label(p)).collect::<Vec<_>>().join(" to ")
}

fn labels<'a>(all: impl Iterator<Item = &'a str>) -> Option<String> {
    let all: Vec<&str> = all.collect();
    if all.is_empty() {
        return None;
    }
    let named = all.iter().take(NAMED).copied().collect::<Vec<_>>().join(", ");
    Some(match all.len().checked_sub(NAMED).filter(|more| *more > 0) {
        Some(more) => say!("{named} and {more} more"),
        None => named,
    })
}
