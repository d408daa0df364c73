//! What changed between two states of a book: what was said since, and what it did to the plan.
//!
//! The earlier state is a book like any other: the entries that were there then ([`earlier`]), folded and adjusted by the
//! same code ([`Worked`]). Nothing is kept of a state but which entries it had, so there is nothing that could disagree
//! with the book.
//!
//! * [`Changes::entries`] tells of every entry the later book has and the earlier one lacks, each once;
//! * [`Changes::said`] says what that comes to: a reading written and corrected since is one new reading, with its last
//!   words; one written and struck since is nothing;
//! * [`Changes::points`] compares the two plans, [`Changes::site`] what is known of the site as a whole.

mod frame;
mod points;
mod said;
mod site;

#[cfg(test)]
mod tests;

pub use points::{Laid, Move, PointsChanged, Renamed, StateChange};
pub use said::{Became, Deed, Difference, Kept, Sort, ToldEntry};
pub use site::{SiteChange, SiteWords};

use crate::book::{Book, Entry, Fold, fold};
use crate::network::{Adjustment, adjust};
use crate::record::EntryId;
use crate::{levels, place};

/// A book with all that follows from it, borrowed.
#[derive(Clone, Copy)]
pub struct State<'a> {
    /// The entries.
    pub book: &'a Book,
    /// The record as it stands, heights and north laid into it.
    pub fold: &'a Fold,
    /// The adjusted network of that record.
    pub adjustment: &'a Adjustment,
}

/// A book with all that follows from it.
#[derive(Clone, Debug, Default)]
pub struct Worked {
    /// The entries.
    pub book: Book,
    /// The record as it stands.
    pub fold: Fold,
    /// The adjusted network.
    pub adjustment: Adjustment,
}

impl Worked {
    /// Folds and adjusts a book, as is done with the one that is open. It costs what opening the site costs.
    #[must_use]
    pub fn of(book: Book) -> Self {
        let mut fold = fold(&book);
        levels::lay(&mut fold.record);
        place::lay(&mut fold.record);
        let adjustment = adjust(&fold.record);
        Self { book, fold, adjustment }
    }

    /// To compare it.
    #[must_use]
    pub const fn state(&self) -> State<'_> {
        State { book: &self.book, fold: &self.fold, adjustment: &self.adjustment }
    }
}

/// The book as it was when it had only these entries.
#[must_use]
pub fn earlier(book: &Book, had: impl Fn(&Entry) -> bool) -> Book {
    let mut before = Book::new();
    for entry in book.entries().filter(|entry| had(entry)) {
        // Each id stands in a book once, so none of them clashes.
        let _ = before.add(entry.clone());
    }
    before
}

/// What changed from one state of a book to another.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Changes {
    /// Entries the later book has and the earlier one lacks, in book order.
    pub entries: Vec<ToldEntry>,
    /// Entries the earlier book has and the later one lacks, in book order: none where one grew out of the other.
    pub missing: Vec<EntryId>,
    /// What readings, things, problems, marks, notes, questions, answers and photos say otherwise now, in the order they were
    /// first said.
    pub said: Vec<Difference>,
    /// Readings looked at again and kept as written, and those that no longer are.
    pub kept: Vec<Kept>,
    /// What became of the points.
    pub points: PointsChanged,
    /// What is said of the site as a whole.
    pub site: Vec<SiteChange>,
}

impl Changes {
    /// Whether nothing was said and nothing changed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// Compares two states of a book.
#[must_use]
pub fn compare(before: State<'_>, now: State<'_>) -> Changes {
    let lacks = |entry: &&Entry| now.book.get(&entry.id).is_none();
    Changes {
        entries: said::entries(before.book, now),
        missing: before.book.entries().filter(lacks).map(|entry| entry.id.clone()).collect(),
        said: said::differences(before, now),
        kept: said::kept(&before.fold.record, &now.fold.record),
        points: points::changed(before, now),
        site: site::changed(&before.fold.record, &now.fold.record),
    }
}
