//! What the notes say of the heights: datum, instrument, how the loops close, how well they are known.

use super::furniture::Subject;
use super::heights::{any_far, decimals, figure};
use crate::language::tr;
use crate::levels::words::instrument;
use crate::levels::{Closing, LevelFinding, NoSurface, book_pages, setups};
use crate::plan::Ground;
use crate::record::{PointId, Record, UnitSystem};
use crate::units::{Length, SURE};

/// A height difference with its unit: `0.02 ft`.
fn amount(length: Length, units: UnitSystem) -> String {
    let unit = if units == UnitSystem::Metres { "m" } else { "ft" };
    say!("{} {unit}", figure(length, units, 2))
}

/// What the notes say of the heights; nothing where none were read.
pub(super) fn sentences(subject: &Subject<'_>) -> Vec<String> {
    let (record, ground) = (subject.record, subject.ground);
    let (units, layers) = (record.site.units, &subject.options.layers);
    if ground.spots.is_empty() {
        return Vec::new();
    }
    let (_, closings) = book_pages(&setups(record), record.bench_mark.as_ref());
    // What may be wrong comes before what is known.
    let mut all: Vec<String> = doubt(record, ground, &closings).into_iter().collect();
    let unit = if units == UnitSystem::Metres { "metres" } else { "decimal feet" };
    all.push(say!("Heights in {unit}; {}. {}", datum(record, ground), known(record, ground, &closings)));
    if layers.contours {
        all.push(match (&ground.surface, ground.interval) {
            (Err(NoSurface::TooFew), _) => {
                say!("No contours: they need the heights of three points on the ground.")
            }
            (Err(NoSurface::InLine), _) => {
                say!("No contours: all heights on the ground lie on one line.")
            }
            (Ok(_), None) => say!("No contours: the ground is flat within the doubt of the readings."),
            (Ok(_), Some(interval)) => {
                let decimals = decimals(interval, units);
                let unit = if units == UnitSystem::Metres { "m" } else { "ft" };
                let every = figure(interval, units, decimals);
                let far = if units == UnitSystem::Metres { "4.6 m" } else { "15 ft" };
                let guess = say!("; dashed grey, a guess, where every reading is more than {far} away");
                let guess = if any_far(ground, subject.contours) { guess.as_str() } else { "" };
                let alone = "; none round a single reading that stands out by less than half of that";
                let alone = if subject.contours.left_out { alone } else { "" };
                say!("Contours every {every} {unit}, interpolated between readings and drawn smooth{guess}{alone}.")
            }
        });
    }
    for finding in &ground.levels.findings {
        if let LevelFinding::Apart { points } = finding {
            let names: Vec<&str> = points.iter().map(|p| record.label(p)).collect();
            all.push(say!("Levelled, but joined to no known height and left out: {}.", names.join(", ")));
        }
    }
    all
}

/// What is wrong with the readings while nobody has mended it, and by how much heights may be off.
fn doubt(record: &Record, ground: &Ground, closings: &[Closing]) -> Option<String> {
    let units = record.site.units;
    let suspects = ground.levels.findings.iter().filter_map(|finding| match finding {
        LevelFinding::Suspect { point, observed, expected, .. } => {
            let at = say!("a reading on {} does not fit the others", record.label(point));
            Some(((*observed - *expected).abs(), at))
        }
        _ => None,
    });
    let missed = closings.iter().filter(|closing| !closing.closes()).map(|closing| {
        let allowed = amount(closing.allowed, units);
        let at = say!("the levels miss their close on {} ({allowed} allowed)", record.label(&closing.point));
        (closing.by.abs(), at)
    });
    let all: Vec<(Length, String)> = suspects.chain(missed).collect();
    let off = all.iter().map(|(off, _)| off.metres()).fold(0.0, f64::max);
    let why: Vec<&str> = all.iter().map(|(_, why)| why.as_str()).take(3).collect();
    (!all.is_empty()).then(|| {
        say!(
            "A level reading is in doubt: heights may be off by {}. Read again: {}.",
            amount(Length::from_metres(off), units),
            why.join("; ")
        )
    })
}

/// The point that counts as known, assumed where nobody stated a height.
fn start<'a>(record: &'a Record, ground: &'a Ground) -> (Option<&'a PointId>, bool) {
    match ground.levels.assumed() {
        Some(point) => (Some(point), true),
        None => (record.bench_mark.as_ref().map(|mark| &mark.point), false),
    }
}

/// `H1 (front door threshold) taken as 100.00 (assumed)`.
fn datum(record: &Record, ground: &Ground) -> String {
    let units = record.site.units;
    let named = |id: &PointId| {
        let note = record.points.iter().find(|p| p.id == *id).map_or("", |p| p.note.trim());
        let label = record.label(id);
        if note.is_empty() { label.to_owned() } else { say!("{label} ({note})") }
    };
    match (start(record, ground), &record.bench_mark) {
        ((Some(point), true), _) => say!("{} taken as 100, since nobody stated a height", named(point)),
        (_, Some(mark)) => {
            let source = mark.source.trim();
            let source = if source.is_empty() { "source not said" } else { source };
            say!("{} taken as {} ({source})", named(&mark.point), figure(mark.height, units, 2))
        }
        _ => say!("datum not stated"),
    }
}

/// With what the heights were read, how the loops close, and how well they are known.
fn known(record: &Record, ground: &Ground, closings: &[Closing]) -> String {
    let units = record.site.units;
    let setups = setups(record);
    let mut with: Vec<&str> = Vec::new();
    for name in setups.iter().map(|setup| instrument(setup.with)) {
        if !with.contains(&tr(name)) {
            with.push(tr(name));
        }
    }
    let times = if setups.len() == 1 { say!("1 set-up") } else { say!("{} set-ups", setups.len()) };
    // The datum is not found by reading: it is neither checked nor in doubt.
    let (datum, _) = start(record, ground);
    let found = || ground.spots.iter().filter(|spot| Some(&spot.point) != datum);
    let (count, checked) = (found().count(), found().filter(|spot| spot.checked).count());
    let worst = found().map(|spot| spot.sd.metres()).filter(|sd| sd.is_finite()).fold(0.0, f64::max);
    let worst = Length::from_metres((SURE * worst).max(Length::from_feet(0.01).metres()));
    say!(
        "{} heights by {}, {times}; {}. {checked} of {count} checked by a second reading; ± {} or better (95 %).",
        ground.spots.len(),
        with.join(" and "),
        closed(record, closings),
        amount(worst, units)
    )
}

/// How the loops close, by the worst of them; those that miss are said before.
fn closed(record: &Record, closings: &[Closing]) -> String {
    let worst = closings.iter().map(|closing| closing.by.abs().metres()).fold(0.0, f64::max);
    let mut names: Vec<&str> = Vec::new();
    for name in closings.iter().map(|closing| record.label(&closing.point)) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let on = match names.len() {
        0 => return say!("not closed on a known height"),
        1..=3 => names.join(", "),
        many => say!("{many} points"),
    };
    say!("closed on {on} within {}", amount(Length::from_metres(worst), record.site.units))
}
