//! The field book: an append-only, ordered set of entries, and its fold into the record.
//!
//! A field note is never rubbed out: it is struck through and written again beside. So is an
//! entry. Merging two books is a set union, and the same entries give the same record everywhere.
//!
//! On disk a book is JSON Lines, one entry a line. The line as first written is kept and passed
//! on to the letter, so fields and kinds that a newer version wrote survive an older one.

mod entry;
mod fold;
mod grow;
mod lines;
#[cfg(feature = "schema")]
mod schema;

pub use entry::{Entry, Said};
pub use fold::{Fold, Objection, Standing, fold};
pub use grow::{Grown, fold_on};
pub use lines::LineError;
#[cfg(feature = "schema")]
pub use schema::schema;

use crate::record::{EntryId, Statement};
use std::collections::BTreeMap;

/// Where an entry stands in the book: by logical time, then author, then id, so that any two
/// phones that hold the same entries hold them in the same order.
type Place = (u64, String, EntryId);

/// An ordered set of entries.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Book {
    entries: BTreeMap<Place, Entry>,
    places: BTreeMap<EntryId, Place>,
}

/// Two different entries carry one id: one of the books was damaged or forged.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", say!("entry {id} is already in the book with other words; both were looked at, the first was kept"))]
pub struct Clash {
    /// The id.
    pub id: EntryId,
}

impl Book {
    /// An empty book.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds an entry. Adding the same entry twice changes nothing.
    ///
    /// # Errors
    /// [`Clash`] when another entry with this id is in the book; the book is left as it was.
    pub fn add(&mut self, entry: Entry) -> Result<(), Clash> {
        if let Some(kept) = self.get(&entry.id) {
            return if kept.line() == entry.line() { Ok(()) } else { Err(Clash { id: entry.id }) };
        }
        let place = (entry.clock, entry.author.0.clone(), entry.id.clone());
        self.places.insert(entry.id.clone(), place.clone());
        self.entries.insert(place, entry);
        Ok(())
    }

    /// Takes in every entry of another book: a set union. Returns how many were new and the
    /// clashes, whose entries were left out.
    pub fn merge(&mut self, other: &Self) -> (usize, Vec<Clash>) {
        let before = self.len();
        let clashes = other.entries().filter_map(|entry| self.add(entry.clone()).err()).collect();
        (self.len() - before, clashes)
    }

    /// The entries in book order.
    pub fn entries(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        self.entries.values()
    }

    /// The entry with this id.
    #[must_use]
    pub fn get(&self, id: &EntryId) -> Option<&Entry> {
        self.places.get(id).and_then(|place| self.entries.get(place))
    }

    /// What a strike of this entry is about in the end, and whether it brings that back: a strike of a strike does. None
    /// where an entry on the way is not in the book.
    #[must_use]
    pub fn struck_first(&self, target: &EntryId) -> (Option<&Entry>, bool) {
        let (mut first, mut back) = (self.get(target), false);
        while let Some(entry) = first
            && let Some(Statement::Strike { entry: struck, .. }) = entry.statement()
        {
            // Only what was written before can be struck, which also ends the way.
            let is_before = |one: &&Entry| self.places.get(&one.id) < self.places.get(&entry.id);
            (first, back) = (self.get(struck).filter(is_before), !back);
        }
        (first, back)
    }

    /// How many entries.
    #[must_use]
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether nothing was said yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// The logical time for the next entry: one past the latest in the book (a Lamport clock).
    #[must_use]
    pub fn next_clock(&self) -> u64 {
        self.entries.keys().next_back().map_or(1, |(clock, ..)| clock.saturating_add(1))
    }
}

#[cfg(test)]
mod growing;
#[cfg(test)]
mod histories;
#[cfg(test)]
mod tests;
