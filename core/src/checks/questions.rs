//! What who draws asked back: what is open, and what answers it.

use crate::book::{Book, Fold, Standing};
use crate::record::{AskFor, At, EntryId, Measurement, Note, PointId, Record, Recorded};

/// A question as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The question.
    pub question: Recorded<Note>,
    /// What would answer it.
    pub wants: AskFor,
    /// The entry it is about, where it is about one.
    pub of: Option<EntryId>,
    /// Answers that stand and say something, in book order.
    pub answers: Vec<Recorded<Note>>,
    /// Entries written since, by anybody, that say what was asked: they may not be named as an answer yet.
    pub met_by: Vec<EntryId>,
}

impl Asked {
    /// Whether nobody has answered it yet.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.answers.is_empty()
    }

    /// The points it is about.
    #[must_use]
    pub fn points(&self) -> &[PointId] {
        self.question.what.at.points()
    }
}

impl Asked {
    /// What is asked in one sentence: what can be said of it without its words (`Tape from H1 to T2`), then those.
    #[must_use]
    pub fn worded(&self, what: &str) -> String {
        let text = self.question.what.text.trim();
        match (what.is_empty(), text.is_empty()) {
            (_, true) => what.to_owned(),
            (true, false) => text.to_owned(),
            (false, false) if what.ends_with('?') => say!("{what} {text}"),
            (false, false) => say!("{what}: {text}"),
        }
    }
}

/// Every question, in book order.
#[must_use]
pub fn questions(book: &Book, fold: &Fold) -> Vec<Asked> {
    let stands =
        |id: &EntryId| matches!(fold.standing.get(id), Some(Standing::Stands | Standing::Corrected { .. }));
    let mut asked = gathered(&fold.record, &stands);
    for one in &mut asked {
        one.met_by = met(book, fold, one);
    }
    asked
}

/// The questions that nobody has answered yet, in book order, of a record alone: what would meet them is not said.
#[must_use]
pub fn open_questions(record: &Record) -> Vec<Asked> {
    let mut asked = gathered(record, &|id| holds(record, id));
    asked.retain(Asked::is_open);
    asked
}

/// Whether an entry stands in the record: one of those that can answer a question.
fn holds(record: &Record, id: &EntryId) -> bool {
    record.measurements.iter().any(|one| one.entry == *id)
        || record.levels.iter().any(|one| one.entry == *id)
        || record.photos.iter().any(|one| one.entry == *id)
        || record.features.iter().any(|one| one.entry == *id)
        || record.problems.iter().any(|one| one.entry == *id)
        || record.marks.iter().any(|one| one.entry == *id)
        || record.written_notes.iter().any(|one| one.entry == *id)
}

/// Every question with its answers, but not what meets it.
fn gathered(record: &Record, stands: &dyn Fn(&EntryId) -> bool) -> Vec<Asked> {
    let all = record.notes_and_questions();
    let mut asked = Vec::new();
    for question in &all {
        let Some(asks) = &question.what.asks else { continue };
        let is_of = |note: &&Recorded<Note>| {
            note.what.answers.as_ref().is_some_and(|answers| answers.question == question.entry)
        };
        // An answer whose readings were all struck again answers nothing.
        let says = |note: &&Recorded<Note>| {
            !note.what.text.trim().is_empty()
                || note.what.answers.iter().flat_map(|answers| &answers.by).any(stands)
        };
        let pair = matches!(question.what.at.points(), [_, _]);
        let point = matches!(question.what.at.points(), [_]);
        let wants = match AskFor::of(&asks.kind) {
            AskFor::Tape if !pair => AskFor::Words,
            AskFor::Height if !point => AskFor::Words,
            wants => wants,
        };
        asked.push(Asked {
            question: question.clone(),
            wants,
            of: asks.of.clone(),
            answers: all.iter().filter(is_of).filter(says).cloned().collect(),
            met_by: Vec::new(),
        });
    }
    asked
}

/// What was written after the question and says what it asks for.
fn met(book: &Book, fold: &Fold, asked: &Asked) -> Vec<EntryId> {
    let since = book.get(&asked.question.entry).map_or(u64::MAX, |entry| entry.clock);
    let later = |id: &EntryId| book.get(id).is_some_and(|entry| entry.clock > since);
    let record = &fold.record;
    let points = asked.points();
    let all: Vec<&EntryId> = match (asked.wants, points) {
        (AskFor::Tape, [one, other]) => {
            let between = |reading: &&Recorded<Measurement>| {
                matches!(&reading.what, Measurement::Tie { from, to, .. }
                    if (from == one && to == other) || (from == other && to == one))
            };
            record.measurements.iter().filter(between).map(|reading| &reading.entry).collect()
        }
        (AskFor::Height, [point]) => record
            .levels
            .iter()
            .filter(|level| level.what.point == *point)
            .map(|level| &level.entry)
            .collect(),
        (AskFor::Photo, _) => {
            let shows =
                |at: &At| !points.is_empty() && points.iter().any(|point| at.points().contains(point));
            let of = |of: &Option<EntryId>| of.is_some() && *of == asked.of;
            let photos = record.photos.iter().filter(|photo| shows(&photo.what.at) || of(&photo.what.of));
            photos.map(|photo| &photo.entry).collect()
        }
        _ => Vec::new(),
    };
    all.into_iter().filter(|id| later(id)).cloned().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Entry, fold};
    use crate::record::{ANSWER, Answers, Asks, How, QUESTION, Reading, Statement, TapedTo};

    fn say(book: &mut Book, statement: Statement) -> EntryId {
        let id = EntryId(format!("e{}", book.len()));
        book.add(Entry::new(id.clone(), book.next_clock(), 0, "a".into(), statement).unwrap()).unwrap();
        id
    }

    fn tie(from: &str, to: &str) -> Statement {
        let reading = Reading::read("12' 3\"", crate::units::UnitSystem::FeetInches.into()).unwrap();
        let (side, taped_to, how) = (None, TapedTo::default(), How::default());
        Statement::Measure(Measurement::Tie {
            from: from.into(),
            to: to.into(),
            reading,
            side,
            taped_to,
            how,
        })
    }

    fn question(kind: &str, points: &[&str]) -> Statement {
        let at = At::Points(points.iter().map(|point| (*point).into()).collect());
        let asks = Some(Asks { kind: kind.to_owned(), of: None });
        Statement::Note(Note { topic: QUESTION.to_owned(), at, asks, ..Note::default() }.into())
    }

    fn answer(question: &EntryId, by: &[EntryId], text: &str) -> Statement {
        let answers = Some(Answers { question: question.clone(), by: by.to_vec() });
        let note = Note { topic: ANSWER.to_owned(), answers, text: text.to_owned(), ..Note::default() };
        Statement::Note(note.into())
    }

    fn now(book: &Book) -> Vec<Asked> {
        questions(book, &fold(book))
    }

    #[test]
    fn a_tape_answers_from_either_end_and_only_afterwards() {
        let mut book = Book::new();
        say(&mut book, tie("A", "B"));
        let asked = say(&mut book, question("tape", &["A", "B"]));
        assert!(now(&book)[0].is_open() && now(&book)[0].met_by.is_empty());
        say(&mut book, tie("A", "C"));
        let taped = say(&mut book, tie("B", "A"));
        assert_eq!(now(&book)[0].met_by, std::slice::from_ref(&taped));
        let said = say(&mut book, answer(&asked, std::slice::from_ref(&taped), ""));
        assert!(!now(&book)[0].is_open());
        assert_eq!(now(&book)[0].answers[0].entry, said);
        assert_eq!(open_questions(&fold(&book).record), [], "the record alone tells the same");
        // Struck again, it answers nothing any more.
        say(&mut book, Statement::Strike { entry: taped, why: String::new() });
        assert!(now(&book)[0].is_open() && now(&book)[0].met_by.is_empty());
        assert_eq!(open_questions(&fold(&book).record).len(), 1);
        assert_eq!(fold(&book).record.notes(), [], "questions are no notes");
    }

    #[test]
    fn words_answer_whatever_was_asked() {
        let mut book = Book::new();
        let asked = say(&mut book, question("height", &["A"]));
        say(&mut book, answer(&asked, &[], "  "));
        assert!(now(&book)[0].is_open());
        say(&mut book, answer(&asked, &[], "The shed is locked."));
        assert!(!now(&book)[0].is_open());
    }

    #[test]
    fn what_a_newer_version_asks_for_is_answered_in_words() {
        let mut book = Book::new();
        say(&mut book, question("sound", &["A"]));
        say(&mut book, question("tape", &["A"]));
        assert!(now(&book).iter().all(|asked| asked.wants == AskFor::Words));
    }
}
