//! The list itself, in order.

use super::words::listed;
use super::{
    Answer, Closing, Line, Mend, Weight, anchored, concerns, forgotten, freedom, heights, house, said,
    unlaid, unmade,
};
use crate::language::tr;
use crate::network::{Adjustment, Finding, Fix, Freedom, PointState, SideQuestion};
use crate::plan::{Ground, Plan};
use crate::record::{
    Attributes, EntryId, Feature, MarkColour, Measurement, Note, PointId, Problem, Record, Recorded,
    Severity, Side, UtilityMark, kind, trouble,
};
use crate::units::{LengthStyle, format_length};

/// Everything still to do and everything left as it is, most pressing first. Before anything is measured it
/// is the first step alone.
#[must_use]
pub fn lines(record: &Record, adjustment: &Adjustment, plan: &Plan) -> Vec<Line> {
    lines_on(record, adjustment, plan, &Ground::of(record, plan))
}

/// As [`lines`], on ground that was worked out before.
#[must_use]
pub fn lines_on(record: &Record, adjustment: &Adjustment, plan: &Plan, ground: &Ground) -> Vec<Line> {
    let mut list = List { record, notes: record.notes(), lines: Vec::new() };
    if record.measurements.is_empty() {
        list.start();
        return list.lines;
    }
    heights::add(&mut list, record, ground);
    list.contradictions(adjustment);
    list.findings(adjustment);
    list.loose(adjustment);
    list.sides(adjustment);
    unlaid::add(&mut list, record);
    list.undrawn();
    list.dangers();
    list.walks();
    anchored::add(&mut list, record, plan);
    let unmade = unmade::found(record);
    unmade::add(&mut list, &unmade);
    list.sizes();
    house::bare(&mut list, record, plan);
    house::unseen(&mut list, record, plan);
    list.problems();
    list.marks();
    list.site();
    concerns::add(&mut list, concerns::concerns(record, plan, ground));
    list.unchecked(adjustment);
    forgotten::add(&mut list, record, &unmade);
    let mut lines = list.lines;
    lines.sort_by_key(|line| line.weight);
    lines
}

/// What makes a kind of thing useless to a designer when it is missing: kind, attribute, one such thing,
/// several, what to do. Common practice, no source.
const SIZES: &[(&str, &str, &str, &str, &str)] = &[
    (
        "door",
        "threshold_height",
        "No threshold height of the door",
        "No threshold height of the doors",
        "From the ground up to the door's sill: a patio or step is fitted to it.",
    ),
    (
        "gate",
        "clear_width",
        "No clear width of the gate",
        "No clear width of the gates",
        "Between the posts with the leaf open: what may pass?",
    ),
    (
        "access",
        "clear_width",
        "No clear width of the way in",
        "No clear width of the ways in",
        "At its narrowest: what may pass?",
    ),
    (
        "window",
        "sill_height",
        "No sill height of the window",
        "No sill height of the windows",
        "From the ground up to the window's lower edge: what may grow below?",
    ),
    (
        "downspout",
        "empties_to",
        "Not said where the downspout empties",
        "Not said where the downspouts empty",
        "Follow its water: a pipe, the lawn, the foundation?",
    ),
    (
        "wall",
        "exposed_height",
        "Not said how high it shows: the wall",
        "Not said how high they show: the walls",
        "From the lower ground up to its top: a tall one may need an engineer.",
    ),
    ("steps", "risers", "Not counted: the steps", "Not counted: the steps", "How many rises, and how high."),
    (
        "tree",
        "canopy_spread",
        "Not said how far the leaves reach of the tree",
        "Not said how far the leaves reach of the trees",
        "From edge to edge, under the tips of the branches.",
    ),
];

/// One thing a line speaks of: its key, its name, where it is mended.
pub(super) type Item = (String, String, Mend);

/// The list being made.
pub(super) struct List<'a> {
    record: &'a Record,
    notes: Vec<Recorded<Note>>,
    lines: Vec<Line>,
}

impl<'a> List<'a> {
    /// A line for one thing.
    pub(super) fn one(&mut self, key: String, weight: Weight, what: String, how: &str, mend: Mend) {
        self.many(vec![(key, String::new())], weight, how, mend, |_| what.clone());
    }

    /// One line for several things of a sort, each with its key and its name; those answered stand in lines
    /// of their own, with the words that answer them.
    pub(super) fn many(
        &mut self,
        items: Vec<(String, String)>,
        weight: Weight,
        how: &str,
        mend: Mend,
        what: impl Fn(&[&str]) -> String,
    ) {
        let items = items.into_iter().map(|(key, name)| (key, name, mend.clone()));
        self.each(items.collect(), weight, how, what);
    }

    /// As [`Self::many`], each thing mended at a place of its own: a line leads to the first.
    pub(super) fn each(
        &mut self,
        items: Vec<Item>,
        weight: Weight,
        how: &str,
        what: impl Fn(&[&str]) -> String,
    ) {
        let mut sorted: Vec<(Option<Answer>, Vec<Item>)> = Vec::new();
        for item in items {
            let answer = self.answer(&item.0);
            match sorted.iter_mut().find(|(known, _)| *known == answer) {
                Some((_, items)) => items.push(item),
                None => sorted.push((answer, vec![item])),
            }
        }
        for (answer, items) in sorted {
            let names: Vec<&str> = items.iter().map(|(_, name, _)| name.as_str()).collect();
            let Some((.., mend)) = items.first() else { continue };
            let (what, how, mend) = (what(&names), tr(how).to_owned(), mend.clone());
            let keys = items.into_iter().map(|(key, ..)| key).collect();
            self.lines.push(Line { keys, what, how, weight, mend, answer });
        }
    }

    /// The latest words that answer this.
    fn answer(&self, key: &str) -> Option<Answer> {
        answer_to(&self.notes, key)
    }

    fn name<'b>(&self, point: &'b PointId) -> &'b str
    where
        'a: 'b,
    {
        self.record.label(point)
    }

    /// A key of a word and labels.
    fn key(&self, word: &str, points: &[PointId]) -> String {
        points.iter().fold(word.to_owned(), |key, point| format!("{key} {}", self.record.label(point)))
    }

    fn start(&mut self) {
        let (what, how, mend) = if self.record.points.is_empty() {
            (
                "Nothing is measured yet, and that is where everybody starts",
                "First a rough sketch: walk once round the house and tap where its corners are.",
                Mend::Sketch,
            )
        } else {
            (
                "The sketch is there; nothing is measured yet",
                "Next walk round the house and tape each wall, from corner to corner.",
                Mend::Walk,
            )
        };
        self.one("start".to_owned(), Weight::Start, tr(what).to_owned(), how, mend);
    }

    fn contradictions(&mut self, adjustment: &Adjustment) {
        let disputed =
            |id: &PointId| adjustment.points.get(id).is_some_and(|f| f.state == PointState::Disputed);
        let points = self.record.points.iter().filter(|p| disputed(&p.id));
        let items = points.map(|p| (format!("disputed {}", p.label), p.label.clone())).collect();
        let how = "See what may have been misread, and tape one of them again.";
        self.many(items, Weight::Wrong, how, Mend::Doubts, |names| {
            say!("Readings at {} contradict each other", listed(names))
        });
    }

    fn findings(&mut self, adjustment: &Adjustment) {
        for finding in &adjustment.findings {
            let Some((what, how)) = said(self.record, finding) else { continue };
            let (key, weight, mend) = match finding {
                Finding::LooseGroup { points, .. } => {
                    (self.key("group", points), Weight::Unfinished, Mend::Plan)
                }
                Finding::SideContradicted { point, .. } => {
                    (format!("side {}", self.name(point)), Weight::Wrong, Mend::Plan)
                }
                Finding::Impossible { point, .. } => {
                    (format!("apart {}", self.name(point)), Weight::Wrong, Mend::Book)
                }
                Finding::NotSettled => ("unsettled".to_owned(), Weight::Wrong, Mend::Book),
                Finding::LocalAttraction { at, .. } => (self.key("iron", at), Weight::Better, Mend::Book),
                Finding::ThicknessUnknown { point, .. } => {
                    (format!("bark {}", self.name(point)), Weight::Visit, Mend::Book)
                }
                Finding::Suspect { .. } | Finding::Kept { .. } => continue,
            };
            self.one(key, weight, what, &how, mend);
        }
    }

    fn loose(&mut self, adjustment: &Adjustment) {
        let record = self.record;
        let state = |id: &PointId| adjustment.points.get(id);
        let free = |fix: Option<&Fix>| fix.and_then(|fix| fix.freedom.clone()).unwrap_or(Freedom::Unmeasured);
        let loose = |id: &PointId| state(id).is_none_or(|fix| fix.state == PointState::Loose);
        let mut bare = Vec::new();
        for point in record.points.iter().filter(|p| loose(&p.id)) {
            let label = &point.label;
            let (key, found) = (format!("loose {label}"), free(state(&point.id)));
            let (what, how) = match &found {
                Freedom::Unmeasured => {
                    bare.push((key, label.clone()));
                    continue;
                }
                Freedom::OnCircle { .. } => (
                    say!("{label} could still stand {}", freedom(record, &found)),
                    "Tape to it from one more known point, well off to the side of the first.",
                ),
                Freedom::Along { .. } => (
                    say!("{label} can still slide one way"),
                    "Tape to it from a known point that lies the way it slides; the plan shows it.",
                ),
                Freedom::WithOthers { .. } => {
                    (say!("{label} {}", freedom(record, &found)), "Place those first.")
                }
            };
            self.one(key, Weight::Unfinished, what, how, Mend::Plan);
        }
        self.many(
            bare,
            Weight::Unfinished,
            "From two known points, well apart: a tape from each.",
            Mend::Plan,
            |names| match names {
                [one] => say!("{one} is only sketched: no reading places it"),
                names => say!("{} are only sketched: no reading places them", few(names)),
            },
        );
    }

    fn sides(&mut self, adjustment: &Adjustment) {
        for SideQuestion { point, assumed, contradicted, .. } in &adjustment.questions {
            let drawn = if assumed.side == Side::Left { "left" } else { "right" };
            let (point, from, to) = (self.name(point), self.name(&assumed.from), self.name(&assumed.to));
            let what = match contradicted {
                true => {
                    say!("Both sides of the line {from} to {to} were said of {point}; drawn on the {drawn}")
                }
                false => say!(
                    "{point} could stand on either side of the line {from} to {to}; drawn on the {drawn}"
                ),
            };
            let how = "Say on which side it stands, or tape to it from a third point.";
            self.one(format!("which {point}"), Weight::Wrong, what, how, Mend::Plan);
        }
    }

    fn undrawn(&mut self) {
        if house::undrawn(self.record) {
            let how = "Say which corners are its own, in order.";
            self.one("house".to_owned(), Weight::Unfinished, say!("No house is drawn"), how, Mend::House);
        }
    }

    /// Problems nobody photographed, those that can hurt someone or the others.
    fn unseen(&mut self, danger: bool) {
        let shown = |of: &EntryId| self.record.photos.iter().any(|photo| photo.what.of.as_ref() == Some(of));
        let bare = self.record.problems.iter().zip(1..).filter(|(p, _)| {
            p.what.photos.is_empty() && !shown(&p.entry) && (p.what.severity == Severity::Danger) == danger
        });
        let item = |(p, number): (&Recorded<Problem>, usize)| {
            let name = trouble(&p.what.kind).or_else(|| trouble("other")).map_or("problem", |t| t.name);
            (format!("problem {} {number}", p.what.kind), say!("{number}, {}", tr(name).to_lowercase()))
        };
        let items = bare.map(item).collect();
        let weight = if danger { Weight::Wrong } else { Weight::Visit };
        let how = "One wide and one close, with something beside it that shows the size.";
        self.many(items, weight, how, Mend::Problems, |names| match names {
            [one] => say!("No photo of problem {one}"),
            names => say!("No photos of the problems {}", names.join("; ")),
        });
    }

    fn dangers(&mut self) {
        self.unseen(true);
    }

    fn problems(&mut self) {
        self.unseen(false);
    }

    fn walks(&mut self) {
        let style = LengthStyle::from(self.record.site.units);
        let record = self.record;
        for walk in &record.measurements {
            let Measurement::Walk { start, legs, .. } = &walk.what else { continue };
            let from = record.label(start);
            if legs.len() > 2 && legs.last().is_some_and(|last| last.to != *start) {
                let what = say!("The walk round the walls from {from} does not come back to {from}");
                let how = "Tape on to where it began: the last wall checks all the others.";
                self.one(format!("walk {from}"), Weight::Better, what, how, Mend::Walk);
            }
            if let Some(closing) = Closing::of(&walk.what).filter(|closing| closing.is_gross()) {
                let off = format_length(closing.off, style);
                let what = say!("The walk round the walls from {from} misses its start by {off}");
                let how = "A wall or a turn is wrong: look through its readings.";
                self.one(format!("closing {from}"), Weight::Wrong, what, how, Mend::Book);
            }
        }
    }

    /// Sizes a designer cannot do without.
    fn sizes(&mut self) {
        for (of, attribute, one, several, how) in SIZES {
            let features = self.record.features.iter().filter(|f| f.what.kind == *of);
            let bare = features.filter(|f| !f.what.attributes.contains_key(*attribute));
            let item = |f: &Recorded<Feature>| {
                let key = self.key(&format!("{of} {attribute}"), &f.what.points);
                (key, self.called(&f.what), Mend::EditThing(f.entry.clone()))
            };
            let items = bare.map(item).collect();
            self.each(items, Weight::Visit, how, |names| match names {
                [name] => say!("{one} {name}"),
                names => say!("{several} {}", listed(names)),
            });
        }
    }

    /// What to call a thing: its own name, else the points it stands on.
    fn called(&self, f: &Feature) -> String {
        let usual = kind(&f.kind).map_or("", |kind| kind.name);
        if f.name.is_empty() || f.name.eq_ignore_ascii_case(usual) {
            let labels: Vec<&str> = f.points.iter().map(|p| self.record.label(p)).collect();
            labels.join("–")
        } else {
            f.name.clone()
        }
    }

    fn marks(&mut self) {
        let has = |known: &Attributes| known.contains_key("ticket");
        let located = self.record.marks.iter().filter(|m| m.what.located());
        let item = |m: &Recorded<UtilityMark>| {
            let colour = colour(m.what.colour);
            let key = self.key(&format!("ticket {colour}"), &m.what.points);
            (key, tr(colour).to_owned(), Mend::EditMark(m.entry.clone()))
        };
        let items = located.filter(|m| !has(&m.what.attributes)).map(item).collect();
        let how = "The ticket's number and the day it was painted: marks expire.";
        self.each(items, Weight::Visit, how, |names| match names {
            [one] => say!("No ticket of the {one} utility mark"),
            names => say!("No tickets of the utility marks {}", listed(names)),
        });
        if self.record.marks.is_empty() {
            let how =
                "Look for paint and flags. No mark does not mean no line: have it marked before any digging.";
            self.one("marks".to_owned(), Weight::Look, say!("Utility marks"), how, Mend::Mark);
        }
    }

    fn site(&mut self) {
        if self.record.north_that_counts().is_none()
            && self.record.measurements.iter().all(|m| !bears(&m.what))
        {
            let how = "Take the compass bearing of one wall: sun and shade hang on it.";
            self.one("north".to_owned(), Weight::Visit, say!("North is not known"), how, Mend::Details);
        }
        if self.record.site.date.trim().is_empty() {
            let how = "Say the day of the visit; marks and plants change.";
            self.one("date".to_owned(), Weight::Visit, say!("The day is not said"), how, Mend::Details);
        }
        if self.record.anchor.is_none() {
            let how = "Stand at one point and let the phone tell its position.";
            let what = say!("The place on the map is not known");
            self.one("anchor".to_owned(), Weight::Better, what, how, Mend::Details);
        }
    }

    fn unchecked(&mut self, adjustment: &Adjustment) {
        let fixed = |id: &PointId| adjustment.points.get(id).is_some_and(|f| f.state == PointState::Fixed);
        let points = self.record.points.iter().filter(|p| fixed(&p.id));
        let items = points.map(|p| (format!("unchecked {}", p.label), p.label.clone())).collect();
        let how = "One more tape to each, from another known point, would show a misread.";
        self.many(items, Weight::Better, how, Mend::Plan, |names| match names {
            [one] => say!("A misread could pass unseen at {one}"),
            names => say!("A misread could pass unseen at these {}: {}", names.len(), few(names)),
        });
    }
}

/// The latest of the record's notes that answers the line of this key.
#[must_use]
pub fn answer_to(notes: &[Recorded<Note>], key: &str) -> Option<Answer> {
    let settles = |note: &&Recorded<Note>| note.what.settles.iter().any(|settled| settled == key);
    let note = notes.iter().rev().find(settles)?;
    Some(Answer { entry: note.entry.clone(), why: note.what.text.clone() })
}

/// A dozen names at most; the plan shows them all.
pub(super) fn few(names: &[&str]) -> String {
    match names.split_at_checked(12) {
        Some((first, rest)) if rest.len() > 1 => say!("{} and {} more", first.join(", "), rest.len()),
        _ => listed(names),
    }
}

/// Whether north follows from it.
const fn bears(measurement: &Measurement) -> bool {
    matches!(measurement, Measurement::Bearing { .. })
}

pub(super) const fn colour(colour: MarkColour) -> &'static str {
    match colour {
        MarkColour::Red => "red",
        MarkColour::Yellow => "yellow",
        MarkColour::Orange => "orange",
        MarkColour::Blue => "blue",
        MarkColour::Purple => "purple",
        MarkColour::Green => "green",
        MarkColour::Pink => "pink",
        MarkColour::White => "white",
    }
}
