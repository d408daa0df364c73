//! Books as versions of the app wrote them, that people may have on their phones, open in this one: nothing is unread,
//! nothing is left out of the record, and they are handed on to the letter. `tests/books` grows with the wire format and
//! none of it is ever changed.
//!
//! What should come of a book is counted here in its JSON, by other code than the product's.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use swingtie_core::book::{Book, Said, fold};
use swingtie_tests::hostile::files;
use swingtie_tests::texts;

struct Kept {
    name: String,
    text: String,
    lines: Vec<Value>,
}

impl Kept {
    /// What is said in a line: its kind, and the statement.
    fn said(&self) -> impl Iterator<Item = (&str, &str, &Value)> {
        self.lines.iter().map(|line| {
            let (kind, what) =
                line["say"].as_object().and_then(|say| say.iter().next()).expect("something said");
            (line["id"].as_str().expect("an id"), kind.as_str(), what)
        })
    }

    /// How many statements of a kind stand: those that nobody struck, or only by a strike that was struck itself.
    fn standing(&self, kind: &str) -> usize {
        let struck = |id: &str| {
            self.said().any(|(by, kind, what)| kind == "strike" && what["entry"] == id && !self.is_struck(by))
        };
        self.said().filter(|(id, said, _)| *said == kind && !struck(id)).count()
    }

    fn is_struck(&self, id: &str) -> bool {
        self.said().any(|(_, kind, what)| kind == "strike" && what["entry"] == id)
    }
}

fn books() -> Vec<Kept> {
    let all: Vec<Kept> = texts("books")
        .into_iter()
        .map(|(name, text)| {
            let lines = text.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
            Kept { name, text, lines }
        })
        .collect();
    assert!(all.len() >= 4, "{} books", all.len());
    all
}

/// In the hostile books of `tests/src/hostile.rs` the last line plays a version that is still to come.
fn of_the_future(book: &Kept) -> usize {
    usize::from(book.name.contains("every-field"))
}

#[test]
fn every_line_is_understood_and_handed_on_to_the_letter() {
    for kept in books() {
        let (book, errors) = Book::from_json_lines(&kept.text);
        assert_eq!(errors, vec![], "{}", kept.name);
        let unknown: Vec<&str> = book
            .entries()
            .filter(|entry| matches!(entry.said, Said::Unknown { .. }))
            .map(|entry| entry.line())
            .collect();
        assert_eq!(unknown.len(), of_the_future(&kept), "{}: {unknown:?}", kept.name);
        let lines = |text: &str| text.lines().map(str::to_owned).collect::<BTreeSet<_>>();
        assert_eq!(lines(&book.to_json_lines()), lines(&kept.text), "{}", kept.name);
    }
}

#[test]
fn what_stood_in_it_stands_in_the_record() {
    for kept in books() {
        let (book, _) = Book::from_json_lines(&kept.text);
        let fold = fold(&book);
        let record = &fold.record;
        let found: BTreeMap<&str, usize> = BTreeMap::from([
            ("feature", record.features.len()),
            ("problem", record.problems.len()),
            ("mark", record.marks.len()),
            ("photo", record.photos.len()),
        ]);
        for (kind, found) in found {
            assert_eq!(found, kept.standing(kind), "{}: {kind}", kept.name);
        }
        let labels: BTreeSet<&str> = kept
            .said()
            .filter(|(_, kind, _)| *kind == "point")
            .filter_map(|(.., what)| what["id"].as_str())
            .collect();
        assert!(!labels.is_empty(), "{}", kept.name);
        let lost: Vec<&&str> =
            labels.iter().filter(|id| !record.points.iter().any(|point| point.id.0 == **id)).collect();
        assert!(
            lost.len() <= kept.said().filter(|(_, kind, _)| *kind == "strike").count(),
            "{}: {lost:?}",
            kept.name
        );
    }
}

#[test]
fn every_file_is_made_of_it() {
    for kept in books() {
        let (book, _) = Book::from_json_lines(&kept.text);
        let made = files(&book);
        for name in ["plan.svg", "plan.fg.json", "points.csv", "measurements.csv", "report.html"] {
            let file = made.iter().find(|(made, _)| made == name);
            assert!(file.is_some_and(|(_, text)| text.len() > 100), "{}: {name}", kept.name);
        }
    }
}
