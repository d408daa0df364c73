//! What changed between two states of a book.

use super::package::renamed;
use super::{Names, count, length, list, statement, units_name};
use swingtie_core::checks::Asked;
use swingtie_core::compare::{Became, Changes, Difference, Laid, Move, SiteChange, SiteWords, Sort};
use swingtie_core::record::{PointId, Record, Statement, UnitSystem};

pub const CHANGES: &str = "What changed";
pub const HINT: &str =
    "The book as it is now beside the book as it was. Nothing in it is changed by looking.";
pub const SINCE: &str = "Since when";
pub const SINCE_SENT: &str = "When you last sent it";
pub const SINCE_CAME: &str = "Before the last package came in";
pub const NOTHING_EARLIER: &str = "There is no earlier state yet: the site was not sent or saved as a package, no package came in, and all was \
     written on one day.";
pub const CHOOSE: &str = "Choose what to compare with.";
pub const NOTHING: &str = "Nothing changed since then.";
pub const ON_THE_PLAN: &str = "Show it on the plan";
pub const END: &str = "End the comparison";
/// As [`END`], where there is little room.
pub const END_SHORT: &str = "End";
pub const COMPARISON: &str = "comparison";
pub const AFTER_PACKAGE: &str = "A package came in: see what changed";
pub const SINCE_THEN: &str = "What changed since then";
pub const TURNED: &str = "The line that the plan is drawn along is another now, or moved itself. The earlier plan was turned until most points \
     lie where they lay.";

/// The start of a day, as a choice.
#[must_use]
pub fn since_morning(day: &str) -> String {
    say!("Since the morning of {day}")
}

/// A line of a section.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What it says.
    pub words: String,
    /// The point it is about, where a tap can show it on the plan.
    pub point: Option<PointId>,
}

/// What changed of one sort.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its heading, without the number.
    pub title: &'static str,
    /// Its lines.
    pub lines: Vec<Line>,
    /// Whether it can be passed over: it starts folded.
    pub minor: bool,
}

impl Section {
    /// The heading with how many lines there are.
    #[must_use]
    pub fn heading(&self) -> String {
        say!("{} ({})", self.title, self.lines.len())
    }
}

/// What is known beside the changes to put them in words.
pub struct Beside<'a> {
    /// Everything as it stands.
    pub record: &'a Record,
    /// What points are called.
    pub names: &'a Names,
    /// The questions.
    pub asked: &'a [Asked],
}

/// How much was written since: `12 new entries, 2 of them struck again since`.
#[must_use]
pub fn written(changes: &Changes) -> String {
    let struck = changes.entries.iter().filter(|told| told.struck).count();
    let words = count(changes.entries.len(), "new entry", "new entries");
    match struck {
        0 => say!("{words} since then."),
        struck => say!("{words} since then, {struck} of them struck again."),
    }
}

/// Everything in words, section by section; none where there is nothing to say.
#[must_use]
pub fn sections(changes: &Changes, beside: &Beside<'_>) -> Vec<Section> {
    let mut all = points(changes, beside);
    for (title, sorts) in SORTS {
        let of = changes.said.iter().filter(|said| sorts.contains(&said.sort));
        let mut lines: Vec<Line> = of.map(|said| plain(said_words(said, beside))).collect();
        if sorts.contains(&Sort::Reading) {
            lines.extend(kept(changes, beside).into_iter().map(plain));
        }
        all.push(Section { title, lines, minor: false });
    }
    let lines = changes.site.iter().map(|change| plain(site_words(change, beside.names))).collect();
    all.push(Section { title: "The site", lines, minor: false });
    all.retain(|section| !section.lines.is_empty());
    all
}

const SORTS: [(&str, &[Sort]); 7] = [
    ("Readings", &[Sort::Reading]),
    ("Things in the yard", &[Sort::Thing]),
    ("Problems", &[Sort::Problem]),
    ("Utility marks", &[Sort::Mark]),
    ("Questions and answers", &[Sort::Question, Sort::Answer]),
    ("Notes", &[Sort::Note]),
    ("Photos", &[Sort::Photo]),
];

const fn plain(words: String) -> Line {
    Line { words, point: None }
}

fn points(changes: &Changes, beside: &Beside<'_>) -> Vec<Section> {
    let (names, units) = (beside.names, beside.record.site.units);
    let points = &changes.points;
    let shown = |point: &PointId, words: String| Line { words, point: Some(point.clone()) };
    let section = |title, lines, minor| Section { title, lines, minor };
    let new = points.new.iter().map(|point| shown(&point.id, with_note(&point.label, &point.note))).collect();
    let (beyond, within): (Vec<&Move>, Vec<&Move>) = points.moved.iter().partition(|moved| moved.is_beyond());
    let moves = |moves: Vec<&Move>| {
        moves.into_iter().map(|one| shown(&one.point, moved(one, names.of(&one.point), units))).collect()
    };
    let states = points.states.iter().map(|one| {
        let (before, now) = (one.before.word(), one.now.word());
        shown(&one.point, say!("{}: {before} → {now}", names.of(&one.point)))
    });
    let renamed = points.renamed.iter().map(|one| {
        let (before, now) =
            (with_note(&one.before.label, &one.before.note), with_note(&one.now.label, &one.now.note));
        shown(&one.now.id, say!("{before} → {now}"))
    });
    let gone = points.gone.iter().map(|point| plain(with_note(&point.label, &point.note)));
    vec![
        section("Points that moved", moves(beyond), false),
        section("New points", new, false),
        section("Points that are gone", gone.collect(), false),
        section("Points called otherwise", renamed.collect(), false),
        section("Points known better or less well", states.collect(), false),
        section("Points that moved within their ±", moves(within), true),
    ]
}

/// `T1 moved 3 1/4", more than its ± of 1"`.
#[must_use]
pub fn moved(moved: &Move, label: &str, units: UnitSystem) -> String {
    let (by, accuracy) = (length(moved.by, units), length(moved.accuracy, units));
    let how = if moved.is_beyond() { "more than" } else { "within" };
    say!("{label} moved {by}, {how} its ± of {accuracy}")
}

fn with_note(label: &str, note: &str) -> String {
    if note.is_empty() { label.to_owned() } else { say!("{label}, {note}") }
}

fn said_words(said: &Difference, beside: &Beside<'_>) -> String {
    let words = |one: &Statement| answered(one, beside).unwrap_or_else(|| statement(one, beside.names));
    match &said.became {
        Became::New(now) => words(now),
        Became::Struck(before) => say!("Struck: {}", words(before)),
        Became::BroughtBack(now) => say!("Brought back: {}", words(now)),
        Became::Corrected { before, now } => {
            say!("Corrected: {} → {}", words(before.as_ref()), words(now))
        }
        Became::Missing(before) => say!("Not in this book: {}", words(before)),
    }
}

/// An answer with what was asked and what answers it: on its own it may have no words.
fn answered(said: &Statement, beside: &Beside<'_>) -> Option<String> {
    let Statement::Note(note) = said else { return None };
    let note = note.read();
    let answers = note.answers?;
    let asked = beside.asked.iter().find(|asked| asked.question.entry == answers.question)?;
    let asked = super::questions::asked(asked, beside.record, beside.names);
    let record = beside.record;
    let reading = |id| {
        let taped = record.measurements.iter().find(|m| &m.entry == id);
        let taped = taped.map(|m| statement(&Statement::Measure(m.what.clone()), beside.names));
        taped.or_else(|| {
            let levelled = record.levels.iter().find(|l| &l.entry == id)?;
            Some(statement(&Statement::Level(levelled.what.clone()), beside.names))
        })
    };
    let mut by: Vec<String> = answers.by.iter().filter_map(reading).collect();
    if !note.text.is_empty() {
        by.push(note.text);
    }
    let by = if by.is_empty() { String::new() } else { say!(" — {}", list(&by)) };
    Some(say!("Answered: {asked}{by}"))
}

fn kept(changes: &Changes, beside: &Beside<'_>) -> Vec<String> {
    let mut told = Vec::new();
    let mut words = Vec::new();
    for kept in &changes.kept {
        let said = beside.record.measurements.iter().find(|m| m.entry == kept.entry);
        // Several rows of one entry are told once.
        let Some(said) = said.filter(|_| !told.contains(&&kept.entry)) else { continue };
        told.push(&kept.entry);
        let said = statement(&Statement::Measure(said.what.clone()), beside.names);
        let how = if kept.is_kept { "Looked at again and kept" } else { "No longer kept" };
        words.push(say!("{how}: {said}"));
    }
    words
}

fn site_words(change: &SiteChange, names: &Names) -> String {
    let said = |title: &str, said: Option<Statement>| match said {
        Some(said) => say!("{title}: {}", statement(&said, names)),
        None => say!("{title}: taken back"),
    };
    match change {
        SiteChange::Words { what, before, now } => {
            let title = match what {
                SiteWords::Name => super::SITE_NAME,
                SiteWords::Client => super::CLIENT,
                SiteWords::Surveyor => super::SURVEYOR,
                SiteWords::Date => super::DATE,
                SiteWords::Note => super::SITE_NOTE,
            };
            renamed(title, before, now)
        }
        SiteChange::Units { before, now } => renamed(super::UNITS, units_name(*before), units_name(*now)),
        SiteChange::Place { now, .. } => said("Place on earth", now.clone().map(Statement::Anchor)),
        SiteChange::SecondPlace { now, .. } => {
            said("Second known place", now.clone().map(Statement::SecondAnchor))
        }
        SiteChange::North { now, .. } => said("North", now.clone().map(Statement::North)),
        SiteChange::BenchMark { now, .. } => said("Heights", now.clone().map(Statement::BenchMark)),
    }
}

/// The comparison in one line, under the plan, with the signs it is drawn with.
#[must_use]
pub fn in_short(changes: &Changes) -> String {
    let moved = changes.points.moved.iter().filter(|moved| moved.is_beyond()).count();
    let (new, found) = (changes.points.new.len(), changes.points.found().count());
    let mut all = Vec::new();
    if moved > 0 {
        all.push(say!("{} (→)", count(moved, "point moved", "points moved")));
    }
    if new > 0 {
        let [one, more] = if moved > 0 { ["new one", "new ones"] } else { ["new point", "new points"] };
        all.push(say!("{} (◌)", count(new, one, more)));
    }
    if found > 0 {
        all.push(say!("{} (◌)", count(found, "loose one found its place", "loose ones found their places")));
    }
    if all.is_empty() {
        return say!("{CHANGES}: no point moved, none is new");
    }
    say!("{CHANGES}: {}", all.join(", "))
}

/// How the two plans were laid on each other, where that must be said.
#[must_use]
pub fn laid(changes: &Changes) -> Option<&'static str> {
    (changes.points.laid == Laid::Turned).then_some(TURNED)
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::book::{Book, Entry};
    use swingtie_core::checks::questions;
    use swingtie_core::compare::{Worked, compare, earlier};
    use swingtie_core::record::{Answers, Asks, At, How, Measurement, Note, Point, Reading, TapedTo};
    use swingtie_core::units::{Length, PlanPoint};

    fn say(book: &mut Book, id: &str, said: Statement) {
        book.add(Entry::new(id.into(), book.next_clock(), 0, "a".into(), said).unwrap()).unwrap();
    }

    fn tie(text: &str) -> Statement {
        let reading = Reading::read(text, UnitSystem::FeetInches.into()).unwrap();
        let (side, taped_to, how) = (None, TapedTo::default(), How::default());
        Statement::Measure(Measurement::Tie {
            from: "H1".into(),
            to: "H2".into(),
            reading,
            side,
            taped_to,
            how,
        })
    }

    /// What is said of a book since it had so many entries.
    fn since(book: &Book, had: usize) -> Vec<(&'static str, Vec<String>)> {
        let before: Vec<_> = book.entries().take(had).map(|entry| entry.id.clone()).collect();
        let before = Worked::of(earlier(book, |entry| before.contains(&entry.id)));
        let now = Worked::of(book.clone());
        let names = Names::new(book, &now.fold.record);
        let asked = questions(book, &now.fold);
        let beside = Beside { record: &now.fold.record, names: &names, asked: &asked };
        let sections = sections(&compare(before.state(), now.state()), &beside);
        let words = |section: Section| {
            (section.title, section.lines.into_iter().map(|line| line.words).collect::<Vec<_>>())
        };
        sections.into_iter().map(words).collect()
    }

    #[test]
    fn each_change_reads_as_a_person_would_say_it() {
        let mut book = Book::new();
        for label in ["H1", "H2"] {
            let point = Point { id: label.into(), label: label.to_owned(), note: String::new() };
            say(&mut book, label, Statement::Point(point));
        }
        say(&mut book, "t", tie("12'"));
        say(&mut book, "u", tie("12' 1\""));
        let point = Point { id: "H1".into(), label: "D1".to_owned(), note: "door".to_owned() };
        say(&mut book, "r", Statement::Point(point));
        say(&mut book, "c", Statement::Correct { entry: "t".into(), now: Box::new(tie("21'")) });
        say(&mut book, "s", Statement::Strike { entry: "u".into(), why: String::new() });
        let told = since(&book, 4);
        let lines = |title: &str| {
            told.iter().find(|(t, _)| *t == title).map(|(_, lines)| lines.clone()).unwrap_or_default()
        };
        assert_eq!(lines("Points called otherwise"), ["H1 → D1, door"]);
        assert_eq!(
            lines("Readings"),
            ["Corrected: H2 from D1: 12' → H2 from D1: 21'", "Struck: H2 from D1: 12' 1\""]
        );
        let moved = lines("Points that moved");
        assert!(
            moved.len() == 1 && moved[0].starts_with("H2 moved 8' 11 1/2\", more than its ± of "),
            "{moved:?}"
        );
    }

    #[test]
    fn an_answer_is_told_with_its_question() {
        let mut book = Book::new();
        for label in ["H1", "H2"] {
            let point = Point { id: label.into(), label: label.to_owned(), note: String::new() };
            say(&mut book, label, Statement::Point(point));
        }
        let asks = Some(Asks { kind: "tape".to_owned(), of: None });
        let at = At::Points(vec!["H1".into(), "H2".into()]);
        say(&mut book, "q", Statement::Note(Note { at, asks, ..Note::default() }.into()));
        say(&mut book, "t", tie("12'"));
        let answers = Some(Answers { question: "q".into(), by: vec!["t".into()] });
        say(&mut book, "a", Statement::Note(Note { answers, ..Note::default() }.into()));
        let told = since(&book, 4);
        let asked = vec!["Answered: Tape from H1 to H2 — H2 from H1: 12'".to_owned()];
        assert_eq!(told, [("Questions and answers", asked)]);
    }

    #[test]
    fn a_move_is_told_beside_what_was_claimed() {
        let told = |inches, accuracy| {
            let (by, accuracy) = (Length::from_inches(inches), Length::from_inches(accuracy));
            let (from, to) = (PlanPoint::default(), PlanPoint::default());
            moved(&Move { point: "T1".into(), from, to, by, accuracy }, "T1", UnitSystem::FeetInches)
        };
        assert_eq!(told(3.25, 1.0), "T1 moved 3 1/4\", more than its ± of 1\"");
        assert_eq!(told(0.25, 1.0), "T1 moved 1/4\", within its ± of 1\"");
    }
}
