//! Steps: how high, and how even.
//!
//! International Residential Code R311.7.5.1: no rise higher than 7 3/4 in, the tallest of a flight no more than 3/8 in
//! above the lowest; R311.7.8: a handrail on flights of four risers or more (all three from memory).

use super::look::{Look, concern, exceeds, length, word};
use super::{Concern, Topic};
use crate::checks::Mend;
use crate::record::{Attributes, EntryId, PointId};
use crate::units::{Length, read_number};

/// No rise is higher.
const TALLEST: Length = Length::from_inches(7.75);
/// Rises of one flight differ by no more.
const UNEVEN: Length = Length::from_inches(0.375);
/// So many risers want a handrail.
const RAIL_AT: f64 = 4.0;

/// A flight, as a thing or a problem tells it.
struct Flight<'a> {
    name: String,
    points: &'a [PointId],
    entry: &'a EntryId,
    known: &'a Attributes,
    mend: Mend,
}

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    for steps in look.things("steps") {
        let (points, entry, known) = (steps.what.points.as_slice(), &steps.entry, &steps.what.attributes);
        let mend = Mend::EditThing(entry.clone());
        check(look, &Flight { name: look.name(&steps.what), points, entry, known, mend }, found);
    }
    for (number, p) in (1..).zip(&look.record.problems).filter(|(_, p)| p.what.kind == "steps") {
        let points = p.what.at.points();
        let (entry, known, name) = (&p.entry, &p.what.attributes, say!("steps of problem {number}"));
        check(look, &Flight { name, points, entry, known, mend: Mend::Problems }, found);
    }
}

fn check(look: &Look, flight: &Flight, found: &mut Vec<Concern>) {
    let Flight { name, points, entry, known, mend } = flight;
    let said = |key: &str| length(known, key);
    let word_of = if *mend == Mend::Problems { "problem" } else { "steps" };
    let make = |of: &str, what: String, how: &str| {
        let mut c = concern(Topic::Steps, look.key(&format!("{of} {word_of}"), points), what, how);
        c.at = look.places(points).first().copied();
        c.about = vec![(*entry).clone()];
        c
    };
    let (tallest, lowest) = (said("tallest_rise"), said("lowest_rise"));
    let differ = tallest.zip(lowest).map(|(tall, low)| tall - low).or_else(|| said("rise_difference_height"));
    if let Some(differ) = differ.filter(|differ| exceeds(*differ, UNEVEN)) {
        let what = say!("The rises of the {name} differ by {}: people trip over that", look.fine(differ));
        let how =
            "Worth a note, and have it looked at: codes let rises of one flight differ by 3/8 in (9.5 mm).";
        let mut c = make("uneven", what, how);
        c.numbers.extend(tallest.map(|rise| ("tallest rise", look.fine(rise))));
        c.numbers.extend(lowest.map(|rise| ("lowest rise", look.fine(rise))));
        c.numbers.push(("they differ by", look.fine(differ)));
        c.used = vec![say!("rises of the {name}")];
        c.source = "International Residential Code R311.7.5.1 (from memory)";
        found.push(c);
    }
    let risers = word(known, "risers").and_then(read_number).filter(|n| *n >= 1.0);
    let climbs = climb(look, points).zip(risers).map(|(climb, risers)| climb / risers);
    let highest = tallest.or_else(|| said("rise")).or(climbs);
    if let Some(rise) = highest.filter(|rise| exceeds(*rise, TALLEST)) {
        let what = say!("A rise of the {name} is {} high", look.fine(rise));
        let how = "Worth a note: codes let a rise be 7 3/4 in (197 mm) high at most.";
        let mut c = make("rise", what, how);
        c.numbers.push(("rise", look.fine(rise)));
        let by_heights = tallest.is_none() && said("rise").is_none();
        let from = if by_heights { "heights and risers" } else { "rise" };
        c.used = vec![say!("{from} of the {name}")];
        if tallest.is_none() {
            c.missing.push(say!("the tallest and the lowest rise, each step taped"));
        }
        c.source = "International Residential Code R311.7.5.1 (from memory)";
        found.push(c.mended(mend.clone()));
    }
    if let Some(risers) = risers.filter(|n| *n >= RAIL_AT && word(known, "rail") == Some("none")) {
        let what = say!("The {name} have {risers} risers and no handrail");
        let how = "Worth a note: codes ask for one from four risers on.";
        let mut c = make("handrail", what, how);
        c.numbers.push(("risers", say!("{risers}")));
        c.used = vec![say!("risers and rail of the {name}")];
        c.source = "International Residential Code R311.7.8 (from memory)";
        found.push(c);
    }
}

/// From its lowest point with a height up to its highest.
fn climb(look: &Look, points: &[PointId]) -> Option<Length> {
    let heights = points.iter().filter_map(|id| look.ground.levels.points.get(id)).map(|h| h.above.metres());
    let (low, high) = heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(z), h.max(z)));
    (high > low).then(|| Length::from_metres(high - low))
}
