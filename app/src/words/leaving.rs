//! Before you leave: what is still missing, most pressing first.

use super::doubt::Contradiction;
use super::{Names, count, length, list, problem_name};
use crate::routes::Tab;
use swingtie_core::network::{Adjustment, Finding, Freedom, PointState};
use swingtie_core::record::{PointId, Problem, Record, Severity, Side, kind};

/// One thing still to do.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Todo {
    /// What is the matter.
    pub what: String,
    /// What to do about it.
    pub how: String,
    /// Whether the plan is wrong or incomplete without it, as against merely better with it.
    pub must: bool,
    /// Where it is done.
    pub at: Tab,
    /// Whether it is a contradiction, settled on the plan's slip for these.
    pub contradicts: bool,
}

/// Everything still to do.
#[must_use]
pub fn todo(
    record: &Record,
    adjustment: &Adjustment,
    names: &Names,
    contradictions: &[Contradiction],
) -> Vec<Todo> {
    let mut list = disagreeing(contradictions);
    list.extend(other_findings(adjustment, names));
    list.extend(loose(record, adjustment, names));
    list.extend(questions(adjustment, names));
    list.extend(unchecked(record, adjustment));
    list.extend(whole_site(record));
    list.extend(photos(record));
    list
}

/// How many things there are without which the plan is wrong or incomplete: as many as [`todo`] says must
/// be done. By itself, since the words come after the first screen.
#[must_use]
pub fn to_settle_count(record: &Record, adjustment: &Adjustment, contradictions: &[Contradiction]) -> usize {
    let found = |finding: &&Finding| is_wrong(finding) || matches!(finding, Finding::LooseGroup { .. });
    let found = adjustment.findings.iter().filter(found);
    let loose = |id: &PointId| adjustment.points.get(id).is_none_or(|fix| fix.state == PointState::Loose);
    let bare = |problem: &Problem| problem.photos.is_empty() && problem.severity == Severity::Danger;
    contradictions.len()
        + found.filter(|finding| !matches!(finding, Finding::Suspect { .. })).count()
        + record.points.iter().filter(|point| loose(&point.id)).count()
        + adjustment.questions.len()
        + usize::from(record.points.is_empty())
        + usize::from(house_undrawn(record))
        + record.problems.iter().filter(|problem| bare(&problem.what)).count()
}

fn must(what: String, how: &str, at: Tab) -> Todo {
    Todo { what, how: how.to_owned(), must: true, at, contradicts: false }
}

fn better(what: String, how: &str, at: Tab) -> Todo {
    Todo { what, how: how.to_owned(), must: false, at, contradicts: false }
}

fn disagreeing(found: &[Contradiction]) -> Vec<Todo> {
    let one = |found: &Contradiction| {
        let first = found.likeliest()?;
        let what = format!("{}. {}", first.reads, first.others);
        let how = match &first.why {
            Some(why) => format!("{why} {}", found.told),
            None => found.told.clone(),
        };
        Some(Todo { contradicts: true, ..must(what, &how, Tab::Plan) })
    };
    found.iter().filter_map(one).collect()
}

fn other_findings(adjustment: &Adjustment, names: &Names) -> Vec<Todo> {
    let said = |finding: &Finding| match finding {
        Finding::Suspect { .. } => None,
        Finding::Kept { .. } => None,
        Finding::LooseGroup { points, needs, .. } => Some(must(
            format!("{} hold together, but can swing or slide as a whole", list(&names.all(points))),
            match needs {
                1 => "One more tape to one of them places them all, from a known point well apart.",
                _ => "Tape to several of them from known points well apart.",
            },
            Tab::Plan,
        )),
        Finding::SideContradicted { point, .. } => Some(must(
            format!("{} was said to stand on one side, the readings put it on the other", names.of(point)),
            "Look from one end of the line to the other: on which side is it?",
            Tab::Plan,
        )),
        Finding::Impossible { point, .. } => Some(must(
            format!("The readings to {} cannot all be true: they do not meet", names.of(point)),
            "Take them again; one of them is wrong.",
            Tab::Book,
        )),
        Finding::LocalAttraction { at, .. } => Some(better(
            format!("The compass needle at {} seems pulled aside", super::list(&names.all(at))),
            "Look for iron, a wire or a motor near it, and sight again a few steps along the line.",
            Tab::Book,
        )),
        Finding::ThicknessUnknown { point, .. } => Some(better(
            format!("{} was taped to its bark, but its thickness is not known", names.of(point)),
            "Tape round it.",
            Tab::Book,
        )),
        Finding::NotSettled => Some(must(
            "The readings do not settle; places are rough".to_owned(),
            "Look for a reading to the wrong point, or with the wrong unit.",
            Tab::Book,
        )),
    };
    adjustment.findings.iter().filter_map(said).collect()
}

/// Whether readings are wrong, as against missing or merely worth a look.
pub fn is_wrong(finding: &Finding) -> bool {
    matches!(
        finding,
        Finding::Suspect { .. }
            | Finding::SideContradicted { .. }
            | Finding::Impossible { .. }
            | Finding::NotSettled
    )
}

fn loose(record: &Record, adjustment: &Adjustment, names: &Names) -> Vec<Todo> {
    let units = record.site.units;
    let say = |id: &PointId| {
        let label = names.of(id);
        let fix = adjustment.points.get(id);
        if fix.is_some_and(|fix| fix.state != PointState::Loose) {
            return None;
        }
        let (what, how) = match fix.and_then(|fix| fix.freedom.as_ref()) {
            None | Some(Freedom::Unmeasured) => (
                format!("{label} has no reading that places it"),
                "Tape to it from two known points.".to_owned(),
            ),
            Some(Freedom::OnCircle { centre, radius }) => (
                format!(
                    "{label} could stand anywhere on a circle of {} around {}",
                    length(*radius, units),
                    names.of(centre)
                ),
                "Tape to it from one more known point, well off to the side of the first.".to_owned(),
            ),
            Some(Freedom::Along { .. }) => (
                format!("{label} can still slide one way"),
                "Tape to it from a known point that lies the way it slides; the plan shows it.".to_owned(),
            ),
            Some(Freedom::WithOthers { others }) => (
                format!("{label} hangs on {}, loose as well", list(&names.all(others))),
                "Place those first.".to_owned(),
            ),
        };
        Some(must(what, &how, Tab::Plan))
    };
    record.points.iter().filter_map(|point| say(&point.id)).collect()
}

fn questions(adjustment: &Adjustment, names: &Names) -> Vec<Todo> {
    let say = |question: &swingtie_core::network::SideQuestion| {
        let side = &question.assumed;
        let assumed = match side.side {
            Side::Left => "left",
            Side::Right => "right",
        };
        must(
            format!(
                "{} could stand on either side of the line {} to {}; drawn on the {assumed}",
                names.of(&question.point),
                names.of(&side.from),
                names.of(&side.to)
            ),
            "Say on which side it stands, or tape to it from a third point.",
            Tab::Plan,
        )
    };
    adjustment.questions.iter().map(say).collect()
}

fn unchecked(record: &Record, adjustment: &Adjustment) -> Option<Todo> {
    let labels: Vec<String> = record
        .points
        .iter()
        .filter(|p| adjustment.points.get(&p.id).is_some_and(|fix| fix.state == PointState::Fixed))
        .map(|p| p.label.clone())
        .collect();
    let what = format!("{} not checked: {}", count(labels.len(), "point is", "points are"), list(&labels));
    (!labels.is_empty()).then(|| {
        better(what, "One more tape to each, from another known point, would show a misread.", Tab::Plan)
    })
}

/// Whether there are corners of a house, by their letter, and no house made of them.
pub fn house_undrawn(record: &Record) -> bool {
    let Some(house) = kind("house") else { return false };
    let corner = |label: &str| {
        label.strip_prefix(house.prefix).is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
    };
    let corners = record.points.iter().filter(|p| corner(&p.label)).count();
    corners >= 3 && !record.features.iter().any(|f| f.what.kind == house.key)
}

fn whole_site(record: &Record) -> Vec<Todo> {
    let mut list = Vec::new();
    if record.points.is_empty() {
        list.push(must("No points yet".to_owned(), "Tap the corners of the house on the plan.", Tab::Plan));
    }
    if house_undrawn(record) {
        list.push(must(
            "No house is drawn".to_owned(),
            "Say which corners are its own: Thing, House, then its corners in order.",
            Tab::Plan,
        ));
    }
    if record.north.is_none() {
        list.push(better(
            "North is not known".to_owned(),
            "Take the compass bearing of one wall.",
            Tab::Details,
        ));
    }
    if record.anchor.is_none() {
        let how = "Stand at one point and let the phone tell its position.";
        list.push(better("The place on the map is not known".to_owned(), how, Tab::Details));
    }
    if record.marks.is_empty() {
        let how = "Look for paint and flags. No mark does not mean no line.";
        list.push(better("No utility marks recorded".to_owned(), how, Tab::Problems));
    }
    list
}

fn photos(record: &Record) -> Vec<Todo> {
    let shown = |problem| record.photos.iter().any(|photo| photo.what.of.as_ref() == Some(problem));
    let bare = record.problems.iter().filter(|p| p.what.photos.is_empty() && !shown(&p.entry));
    bare.map(|problem| {
        let what = format!("No photo of the problem: {}", problem_name(&problem.what.kind));
        Todo {
            what,
            how: "Take one wide and one close.".to_owned(),
            must: problem.what.severity == Severity::Danger,
            at: Tab::Problems,
            contradicts: false,
        }
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::book::{Book, Entry, fold};
    use swingtie_core::network::Fix;
    use swingtie_core::record::{Point, Statement};
    use swingtie_core::units::Length;

    fn one_point() -> (Record, Names) {
        let mut book = Book::new();
        let point = Point { id: "t".into(), label: "T1".to_owned(), note: String::new() };
        book.add(Entry::new("t".into(), 1, 0, "a".into(), Statement::Point(point)).unwrap()).unwrap();
        let record = fold(&book).record;
        let names = Names::new(&book, &record);
        (record, names)
    }

    #[test]
    fn a_point_on_one_tie_is_told_with_what_to_do() {
        let (record, names) = one_point();
        let freedom = Some(Freedom::OnCircle { centre: "t".into(), radius: Length::from_feet(10.0) });
        let fix = Fix { at: None, guess: None, state: PointState::Loose, ellipse: None, freedom };
        let mut adjustment = Adjustment::default();
        adjustment.points.insert("t".into(), fix);
        let list = todo(&record, &adjustment, &names, &[]);
        let first = list.first().unwrap();
        assert_eq!(first.what, "T1 could stand anywhere on a circle of 10' 0\" around T1");
        assert!(first.must);
    }

    /// Of yards with all sorts of things to do: the demo, cut off after each of its entries.
    #[test]
    fn the_count_is_that_of_the_list() {
        let (whole, _) = Book::from_json_lines(crate::state::DEMO);
        let (mut book, mut seen) = (Book::new(), [false; 6]);
        for (number, entry) in whole.entries().enumerate() {
            book.add(entry.clone()).unwrap();
            if number % 7 != 0 {
                continue;
            }
            let record = fold(&book).record;
            let adjustment = swingtie_core::network::adjust(&record);
            let found = crate::words::Doubts::of(&record, &adjustment).found;
            let list = todo(&record, &adjustment, &Names::new(&book, &record), &found);
            let count = to_settle_count(&record, &adjustment, &found);
            assert_eq!(list.iter().filter(|todo| todo.must).count(), count, "{list:#?}");
            if let Some(seen) = seen.get_mut(count.min(5)) {
                *seen = true;
            }
        }
        assert!(seen.iter().filter(|seen| **seen).count() > 2, "{seen:?}");
    }

    #[test]
    fn a_checked_point_asks_for_nothing() {
        let (record, names) = one_point();
        let fix = Fix { at: None, guess: None, state: PointState::Checked, ellipse: None, freedom: None };
        let mut adjustment = Adjustment::default();
        adjustment.points.insert("t".into(), fix);
        assert!(todo(&record, &adjustment, &names, &[]).iter().all(|todo| !todo.what.contains("T1")));
    }
}
