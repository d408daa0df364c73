//! What can be undone and redone on this device. Nothing is ever taken out of the book: undo
//! strikes, redo strikes the strike.

use swingtie_core::book::{Book, Fold, Standing};
use swingtie_core::record::{AuthorId, EntryId, Statement};

/// Entries said together.
pub type Batch = Vec<EntryId>;

/// A batch that was undone, and the strikes that did it.
#[derive(Clone, Debug, PartialEq)]
pub struct Undone {
    batch: Batch,
    /// What redo has to strike.
    pub strikes: Batch,
}

/// The stacks behind undo and redo.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    done: Vec<Batch>,
    undone: Vec<Undone>,
}

impl History {
    /// What this author said earlier and what still stands of it, so that undo works after a reload.
    /// Entries said together carry the same time. The site's own name and settings and the author's are no reading
    /// and are left alone, and so are earlier strikes, and photos and notes said alone, which are
    /// struck where they are seen.
    pub fn of(book: &Book, fold: &Fold, author: &AuthorId) -> Self {
        let mut done: Vec<Batch> = Vec::new();
        let mut last = None;
        for entry in book.entries().filter(|entry| &entry.author == author) {
            let counts = !matches!(
                entry.statement(),
                None | Some(Statement::Site(_) | Statement::Author { .. } | Statement::Strike { .. })
            ) && fold.standing.get(&entry.id) == Some(&Standing::Stands);
            if !counts {
                continue;
            }
            match done.last_mut() {
                Some(batch) if last == Some(entry.at_ms) => batch.push(entry.id.clone()),
                _ if is_apart(entry.statement()) => continue,
                _ => done.push(vec![entry.id.clone()]),
            }
            last = Some(entry.at_ms);
        }
        Self { done, undone: Vec::new() }
    }

    /// Whether anything can be undone.
    pub fn can_undo(&self) -> bool {
        !self.done.is_empty()
    }

    /// Whether anything can be redone.
    pub fn can_redo(&self) -> bool {
        !self.undone.is_empty()
    }

    /// Something new was said: what was undone before can no longer be redone.
    pub fn did(&mut self, batch: Batch) {
        self.done.push(batch);
        self.undone.clear();
    }

    /// Takes the last batch for striking.
    pub fn take_done(&mut self) -> Option<Batch> {
        self.done.pop()
    }

    /// Striking failed.
    pub fn put_back_done(&mut self, batch: Batch) {
        self.done.push(batch);
    }

    /// Striking was stored.
    pub fn undid(&mut self, batch: Batch, strikes: Batch) {
        self.undone.push(Undone { batch, strikes });
    }

    /// Takes the last undone batch for bringing back.
    pub fn take_undone(&mut self) -> Option<Undone> {
        self.undone.pop()
    }

    /// Bringing back failed.
    pub fn put_back_undone(&mut self, undone: Undone) {
        self.undone.push(undone);
    }

    /// Bringing back was stored.
    pub fn redid(&mut self, undone: Undone) {
        self.done.push(undone.batch);
    }
}

/// What is struck where it is seen, not on the plan.
fn is_apart(statement: Option<&Statement>) -> bool {
    match statement {
        Some(Statement::Photo(_) | Statement::Note(_)) => true,
        Some(Statement::Correct { now, .. }) => is_apart(Some(now)),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::book::{Entry, fold};
    use swingtie_core::record::{Photo, PhotoId, Point};

    fn entry(id: &str, clock: u64, at_ms: i64, statement: Statement) -> Entry {
        Entry::new(id.into(), clock, at_ms, "a".into(), statement).unwrap()
    }

    fn point(id: &str) -> Statement {
        Statement::Point(Point { id: id.into(), label: id.to_uppercase(), note: String::new() })
    }

    #[test]
    fn after_a_reload_the_last_standing_batch_is_undone_first() {
        let mut book = Book::new();
        for (id, clock, at_ms) in [("p", 1, 10), ("q", 2, 10), ("r", 3, 20)] {
            book.add(entry(id, clock, at_ms, point(id))).unwrap();
        }
        let strike = Statement::Strike { entry: "r".into(), why: String::new() };
        book.add(entry("s", 4, 30, strike)).unwrap();
        let mut history = History::of(&book, &fold(&book), &"a".into());
        assert_eq!(history.take_done(), Some(vec!["p".into(), "q".into()]));
        assert!(!history.can_undo(), "the struck point and the strike are not undone again");
    }

    #[test]
    fn photos_are_undone_only_with_what_they_were_said_with() {
        let photo = || Statement::Photo(Photo::new(PhotoId("ab12".into()), "image/jpeg".into(), 1));
        let mut book = Book::new();
        book.add(entry("p", 1, 10, point("p"))).unwrap();
        book.add(entry("with", 2, 10, photo())).unwrap();
        book.add(entry("alone", 3, 20, photo())).unwrap();
        let now = Box::new(photo());
        book.add(entry("words", 4, 30, Statement::Correct { entry: "alone".into(), now })).unwrap();
        let mut history = History::of(&book, &fold(&book), &"a".into());
        assert_eq!(history.take_done(), Some(vec!["p".into(), "with".into()]));
        assert!(!history.can_undo());
    }

    #[test]
    fn undo_then_redo_then_something_new() {
        let mut history = History::default();
        history.did(vec!["p".into()]);
        let batch = history.take_done().unwrap();
        history.undid(batch, vec!["s".into()]);
        assert!(history.can_redo());
        let undone = history.take_undone().unwrap();
        assert_eq!(undone.strikes, ["s".into()]);
        history.redid(undone);
        assert!(history.can_undo());
        let batch = history.take_done().unwrap();
        history.undid(batch, vec!["t".into()]);
        history.did(vec!["q".into()]);
        assert!(!history.can_redo(), "something new was said");
    }
}
