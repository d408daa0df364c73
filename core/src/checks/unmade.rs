//! Points read for a thing, by their letters, on which no thing stands yet.

use super::list::{List, few};
use super::{Mend, Weight};
use crate::language::tr;
use crate::record::{CATALOGUE, Geometry, Kind, PointId, Record};
use crate::units::sort_by;
use std::collections::BTreeSet;

/// Kinds not asked about: corners have a line of their own, a peg serves the measuring alone, and the last
/// letter says nothing of what stands there.
const NOT_ASKED: [&str; 3] = ["house", "peg", "other"];

/// A thing read and not recorded: its points share letters and number, D1a and D1b are D1.
pub(super) struct Unmade<'a> {
    kind: &'static Kind,
    stem: &'a str,
    points: Vec<&'a PointId>,
}

/// The letters a label starts with, and they together with its number. None where one of them is missing.
fn stem(label: &str) -> Option<(&str, &str)> {
    let letters = label.find(|c: char| c.is_ascii_digit())?;
    let digits = label.get(letters..)?;
    let end = letters + digits.find(|c: char| !c.is_ascii_digit()).unwrap_or(digits.len());
    Some((label.get(..letters)?, label.get(..end)?))
}

/// What was read with a kind's letters and stands in no thing or mark, as people count.
pub(super) fn found(record: &Record) -> Vec<Unmade<'_>> {
    let read: BTreeSet<&PointId> = record.measurements.iter().flat_map(|m| m.what.points()).collect();
    let things = record.features.iter().flat_map(|f| &f.what.points);
    let made: BTreeSet<&PointId> = things.chain(record.marks.iter().flat_map(|m| &m.what.points)).collect();
    let mut found: Vec<Unmade> = Vec::new();
    let mut begun: BTreeSet<&str> = BTreeSet::new();
    for point in &record.points {
        let Some((letters, stem)) = stem(&point.label) else { continue };
        if made.contains(&point.id) {
            begun.insert(stem);
        } else if read.contains(&point.id) {
            let of =
                |kind: &&Kind| kind.prefix.eq_ignore_ascii_case(letters) && !NOT_ASKED.contains(&kind.key);
            let Some(kind) = CATALOGUE.iter().find(of) else { continue };
            match found.iter_mut().find(|thing| thing.stem == stem) {
                Some(thing) => thing.points.push(&point.id),
                None => found.push(Unmade { kind, stem, points: vec![&point.id] }),
            }
        }
    }
    found.retain(|thing| !begun.contains(thing.stem));
    // Numbers without zeros before them count by their length first.
    sort_by(&mut found, |a, b| (a.stem.len(), a.stem).cmp(&(b.stem.len(), b.stem)));
    found
}

/// Whether points were read for a thing of this kind that is not recorded yet.
pub(super) fn waits(found: &[Unmade], kind: &str) -> bool {
    found.iter().any(|thing| thing.kind.key == kind)
}

/// One line a kind. It leads to the form with the points of the first thing: a line or an outline without
/// ends of its own (F1, F2, F3) goes through all of them. Where too few of them are there to draw it through, to the plan.
pub(super) fn add(list: &mut List, found: &[Unmade]) {
    for kind in CATALOGUE {
        let own: Vec<&Unmade> = found.iter().filter(|thing| thing.kind == kind).collect();
        let alone = matches!(kind.geometry, Geometry::Point | Geometry::Circle);
        let through = |thing: &Unmade| -> Vec<PointId> {
            let all = if alone || thing.points.len() > 1 { thing.points.clone() } else { all(&own) };
            all.into_iter().cloned().collect()
        };
        let least = kind.geometry.least_points();
        let (whole, begun): (Vec<&Unmade>, Vec<&Unmade>) =
            own.iter().partition(|thing| through(thing).len() >= least);
        let item = |thing: &Unmade, mend| (format!("unmade {}", thing.stem), thing.stem.to_owned(), mend);
        let name = || tr(kind.name).to_lowercase().replace(", ", tr(" or "));
        let measured = |names: &[&str]| if names.len() == 1 { "is" } else { "are" };

        let items = whole.iter().map(|thing| item(thing, Mend::Points(kind.key, through(thing)))).collect();
        let how = "Say what stands there: only then is it drawn and listed on the sheet.";
        list.each(items, Weight::Visit, how, |names| {
            let (measured, name) = (measured(names), name());
            let recorded = if kind.name.ends_with('s') { "are" } else { "is" };
            say!("{} {measured} measured, but no {name} {recorded} recorded there yet", few(names))
        });
        let items = begun.iter().map(|thing| item(thing, Mend::Plan)).collect();
        let how = "Tape what is missing of it, then say what stands there: only then is it drawn and listed on \
                   the sheet.";
        list.each(items, Weight::Visit, how, |names| {
            let (measured, name) = (measured(names), name());
            say!("{} {measured} measured, too few points to draw: {name}", few(names))
        });
    }
}

/// The points of all these things, one after the other.
fn all<'a>(things: &[&Unmade<'a>]) -> Vec<&'a PointId> {
    things.iter().flat_map(|thing| thing.points.iter().copied()).collect()
}
