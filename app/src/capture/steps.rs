//! The short row over the pad: what the next tap most likely says. Each key of it names the point that is
//! read at, or where the tape goes next; with a number complete it saves that number as well, so that a
//! reading costs one tap beside its figures.

use super::draft::{Draft, Kind, Slot};
use super::naming::order;
use swingtie_core::record::{
    CATALOGUE, Kind as ThingKind, Measurement, PointId, Record, RunReading, Side, kind,
};
use swingtie_core::units::sort_by;

/// One key of the row.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// The reading is at this point: where a run ends.
    At(PointId),
    /// The point is new and of this kind.
    New(&'static ThingKind),
    /// The next tape goes to the same point from here.
    From(PointId),
    /// The next tape goes from the same point to this one.
    To(PointId),
    /// The next tape goes to a new point of the same letters, from where the tapes to the last one began.
    Next,
    /// The point stands on this side.
    Side(Side),
    /// The tape is laid along another line.
    Fresh,
    /// Any other kind of thing.
    Other,
}

/// What a tape along a wall passes most often. Common practice, no source.
const ON_WALLS: [&str; 3] = ["window", "door", "downspout"];
/// What it passes now and then.
const SELDOM_ON_WALLS: [&str; 7] =
    ["hose_bib", "electric_meter", "gas_meter", "vent", "steps", "patio", "peg"];
/// What it passes as well, until something else was.
const ELSE_ON_WALLS: &str = "post";
/// What most tapes across a yard go to.
const IN_YARDS: [&str; 4] = ["tree", "fence", "patio", "peg"];
/// What they go to now and then.
const SELDOM_IN_YARDS: [&str; 11] = [
    "gate",
    "outbuilding",
    "drive",
    "kerb",
    "stump",
    "bed",
    "wet_spot",
    "low_point",
    "pole",
    "water_meter",
    "other",
];
/// So many keys of one sort fit beside the others on a phone.
const KEYS: usize = 4;

/// The keys that help now, in the order they stand; none where nothing is likelier than the rest. `mirrored`
/// says that the tie under way leaves two places open.
#[must_use]
pub fn steps(draft: &Draft, record: &Record, mirrored: bool) -> Vec<Step> {
    const SIDES: [Step; 2] = [Step::Side(Side::Left), Step::Side(Side::Right)];
    if draft.correcting.is_some() {
        return Vec::new();
    }
    match (draft.kind, draft.focus) {
        (Kind::Tie, Slot::Length) if mirrored && !draft.side_open => SIDES.to_vec(),
        (Kind::Offsets, Slot::Length) => SIDES.to_vec(),
        (Kind::Tie, Slot::First | Slot::Length) => after_tie(draft, record),
        (Kind::Run, Slot::Target | Slot::Length) => along(draft, record),
        (Kind::Tie | Kind::Offsets, Slot::Target) | (Kind::Offsets, Slot::Station) => {
            let mut kinds = recent(record, &[], KEYS);
            let usual = IN_YARDS.iter().filter_map(|key| kind(key));
            let more: Vec<Step> = usual.map(Step::New).filter(|step| !kinds.contains(step)).collect();
            kinds.extend(more);
            kinds.truncate(KEYS);
            kinds.into_iter().chain([Step::Other]).collect()
        }
        _ => Vec::new(),
    }
}

/// Where a reading along a wall may be.
fn along(draft: &Draft, record: &Record) -> Vec<Step> {
    let end = draft.known(Slot::Second);
    let ended = on_this_tape(draft, record).any(|read| Some(&read.point) == end);
    let first = if ended { Some(Step::Fresh) } else { end.cloned().map(Step::At) };
    let usual = ON_WALLS.iter().filter_map(|key| kind(key)).map(Step::New);
    let mut others = recent(record, &ON_WALLS, 1);
    if others.is_empty() {
        others.extend(kind(ELSE_ON_WALLS).map(Step::New));
    }
    first.into_iter().chain(usual).chain(others).chain([Step::Other]).collect()
}

/// Where the tape may go after this one.
fn after_tie(draft: &Draft, record: &Record) -> Vec<Step> {
    let (from, target) = (draft.known(Slot::First), draft.known(Slot::Target));
    let tied = |point: &PointId| {
        let tie =
            |(a, b): (&PointId, &PointId)| Some(b) == target && a == point || Some(a) == target && b == point;
        ties(record).any(tie)
    };
    let fits = |point: &PointId| Some(point) != from && Some(point) != target && !tied(point);
    // From where tapes went lately; before there are any, the corners of the house.
    let corner = |label: &str| label.strip_prefix('H').is_some_and(|rest| rest.parse::<u32>().is_ok());
    let corners = record.points.iter().filter(|point| corner(&point.label)).map(|point| &point.id);
    let mut anchors: Vec<&PointId> = Vec::new();
    for point in ties(record).map(|(from, _)| from).chain(corners) {
        if anchors.len() < KEYS && !anchors.contains(&point) && fits(point) {
            anchors.push(point);
        }
    }
    // A key keeps its place while the same ones are offered.
    sort_by(&mut anchors, |a, b| order(record.label(a)).cmp(&order(record.label(b))));
    let mut steps: Vec<Step> = anchors.into_iter().cloned().map(Step::From).collect();
    if draft.point(Slot::Target).is_some() {
        // The tape stays hooked where it is, and is read at one point after the other.
        let hooked = ties(record).next().is_some_and(|(a, b)| Some(a) == from && Some(b) != target);
        let loose = if hooked { half_tied(record, from, target) } else { None };
        if let Some(loose) = loose {
            steps.truncate(KEYS - 1);
            steps.push(Step::To(loose.clone()));
        }
        steps.extend([Step::Next, Step::Other]);
    }
    steps
}

/// The first point to which a single tie went, none of them from here.
fn half_tied<'a>(
    record: &'a Record,
    from: Option<&PointId>,
    target: Option<&PointId>,
) -> Option<&'a PointId> {
    let mut ends: Vec<(&PointId, &PointId)> = ties(record).map(|(a, b)| (b, a)).collect();
    sort_by(&mut ends, Ord::cmp);
    let half = |point: &&PointId| {
        let start = ends.partition_point(|(end, _)| end < point);
        let mut mine = ends.iter().skip(start).take_while(|(end, _)| end == point);
        let once = mine.next().is_some_and(|(_, anchor)| Some(*anchor) != from) && mine.next().is_none();
        once && Some(*point) != target
    };
    record.points.iter().map(|point| &point.id).find(half)
}

/// All taped ties, the newest first: from where to where.
fn ties(record: &Record) -> impl Iterator<Item = (&PointId, &PointId)> {
    record.measurements.iter().rev().filter_map(|m| match &m.what {
        Measurement::Tie { from, to, .. } => Some((from, to)),
        _ => None,
    })
}

/// From where the first tape to this point went.
#[must_use]
pub fn first_anchor<'a>(record: &'a Record, point: &PointId) -> Option<&'a PointId> {
    ties(record).filter(|(_, to)| *to == point).map(|(from, _)| from).last()
}

/// What the newest points are, by their letters, without `but` and at most so many.
fn recent(record: &Record, but: &[&str], most: usize) -> Vec<Step> {
    let mut found: Vec<Step> = Vec::new();
    for point in record.points.iter().rev() {
        let (letters, ..) = order(&point.label);
        let of = CATALOGUE
            .iter()
            .find(|kind| kind.prefix == letters && !but.contains(&kind.key) && kind.key != "house");
        if let Some(step) = of.map(Step::New).filter(|step| !found.contains(step)) {
            found.push(step);
        }
        if found.len() == most {
            break;
        }
    }
    found
}

/// Every kind of thing: first what is likely where this tape lies, then what is in this yard already.
#[must_use]
pub fn all_kinds(draft: &Draft, record: &Record) -> Vec<Step> {
    let (usual, seldom): (&[&str], &[&str]) =
        if draft.kind == Kind::Run { (&[], &SELDOM_ON_WALLS) } else { (&IN_YARDS, &SELDOM_IN_YARDS) };
    let likely = usual.iter().chain(seldom).filter_map(|key| kind(key)).map(Step::New);
    let mut kinds = Vec::new();
    for step in likely.chain(recent(record, &[], CATALOGUE.len())).chain(CATALOGUE.iter().map(Step::New)) {
        if !kinds.contains(&step) {
            kinds.push(step);
        }
    }
    kinds
}

/// What was read so far along the line of this run, oldest first.
pub fn on_this_tape<'a>(
    draft: &'a Draft,
    record: &'a Record,
) -> impl DoubleEndedIterator<Item = &'a RunReading> {
    let of_line = |what: &'a Measurement| match what {
        Measurement::Run { zero, toward, readings, zero_unknown, .. } => {
            let same = draft.known(Slot::First) == Some(zero)
                && draft.known(Slot::Second) == Some(toward)
                && draft.zero_unknown == *zero_unknown;
            readings.get(..if same { readings.len() } else { 0 }).unwrap_or_default()
        }
        _ => &[],
    };
    record.measurements.iter().flat_map(move |m| of_line(&m.what))
}

#[cfg(test)]
pub(super) mod tests;
