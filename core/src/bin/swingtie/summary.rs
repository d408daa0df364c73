//! What the command says on the screen.

use std::fmt::Write;
use std::path::Path;
use swingtie_core::exchange::words;
use swingtie_core::network::{Adjustment, PointState};
use swingtie_core::record::Record;

/// Where the survey stands, what is loose, what is suspect, and what was written.
pub fn text<'a>(
    record: &Record,
    adjustment: &Adjustment,
    notices: impl Iterator<Item = &'a String>,
    names: &[&str],
    folder: &Path,
) -> String {
    let mut text = String::new();
    // Writing into a string does not fail.
    let _ = write_text(&mut text, record, adjustment, notices, names, folder);
    text
}

fn write_text<'a>(
    text: &mut String,
    record: &Record,
    adjustment: &Adjustment,
    notices: impl Iterator<Item = &'a String>,
    names: &[&str],
    folder: &Path,
) -> std::fmt::Result {
    if !record.site.name.is_empty() {
        writeln!(text, "{}", record.site.name)?;
    }
    let state = |point: &swingtie_core::record::Point| adjustment.points.get(&point.id).map(|fix| fix.state);
    let count = |wanted| record.points.iter().filter(|point| state(point) == Some(wanted)).count();
    let loose =
        |point: &&swingtie_core::record::Point| matches!(state(point), None | Some(PointState::Loose));
    writeln!(
        text,
        "{} points: {} checked, {} not checked, {} loose, {} in doubt",
        record.points.len(),
        count(PointState::Checked),
        count(PointState::Fixed),
        record.points.iter().filter(loose).count(),
        count(PointState::Disputed)
    )?;
    if let Some((at, toward)) = &adjustment.held {
        writeln!(text, "Held: {} at 0, 0, with {} along x", record.label(at), record.label(toward))?;
    }
    for point in record.points.iter().filter(loose) {
        let freedom = adjustment.points.get(&point.id).and_then(|fix| fix.freedom.as_ref());
        let how =
            freedom.map_or_else(|| "not measured".to_owned(), |freedom| words::freedom(record, freedom));
        writeln!(text, "Loose: {}, {how}", point.label)?;
    }
    for question in &adjustment.questions {
        let side = words::side(record, &question.assumed);
        let said = if question.contradicted { " Both sides were said." } else { "" };
        let label = record.label(&question.point);
        writeln!(text, "Question: does {label} stand {side}? Taken so for now.{said}")?;
    }
    for finding in &adjustment.findings {
        writeln!(text, "{}", words::finding(record, finding))?;
    }
    for notice in notices {
        writeln!(text, "Note: {notice}")?;
    }
    writeln!(text, "Wrote {} to {}", names.join(", "), folder.display())
}
