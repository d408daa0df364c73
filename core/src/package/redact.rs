//! A book without what shall not leave the device.

use super::Left;
use crate::book::{Book, Entry, fold};
use crate::record::{EntryId, Site, Statement, topic_of};
use std::collections::BTreeSet;

/// Ends the id of an entry that stands for another whose names were left out.
const BARE: &str = "-bare";

/// The entry another stands for, without its names.
pub(super) fn whole_of(id: &EntryId) -> Option<EntryId> {
    id.0.strip_suffix(BARE).map(|whole| EntryId(whole.to_owned()))
}

/// The book without what is left out. Entries are left out whole, since an entry is never changed; what struck or
/// corrected them goes with them. In place of the site's names there is one entry with its units and day, older than
/// the one it stands for, so that at home the whole one counts.
#[must_use]
pub fn without(book: &Book, left: Left) -> Book {
    if left.is_nothing() {
        return book.clone();
    }
    let mut gone: BTreeSet<&EntryId> = BTreeSet::new();
    let mut kept = Book::new();
    let mut last_named = None;
    for entry in book.entries() {
        let Some(statement) = entry.statement() else {
            // Nobody here knows what it says.
            gone.insert(&entry.id);
            continue;
        };
        let told = words(statement);
        let names = matches!(told, Statement::Site(_));
        if names && left.names {
            last_named = Some(entry);
        }
        let leaves = ((names || matches!(told, Statement::Author { .. })) && left.names)
            || (left.place && is_place(told))
            || (left.money && is_money(told));
        if leaves || target(statement).is_some_and(|target| gone.contains(target)) {
            gone.insert(&entry.id);
        } else {
            // Each entry is there once, so there is nothing to clash with.
            let _ = kept.add(entry.clone());
        }
    }
    if let Some(entry) = last_named
        && let Some(bare) = bare(entry, &fold(book).record.site)
    {
        let _ = kept.add(bare);
    }
    kept
}

/// What an entry says, be it in place of another.
fn words(statement: &Statement) -> &Statement {
    match statement {
        Statement::Correct { now, .. } => words(now),
        other => other,
    }
}

fn target(statement: &Statement) -> Option<&EntryId> {
    match statement {
        Statement::Strike { entry, .. }
        | Statement::Correct { entry, .. }
        | Statement::Keep { entry, .. } => Some(entry),
        _ => None,
    }
}

fn is_place(statement: &Statement) -> bool {
    matches!(statement, Statement::Anchor(_) | Statement::SecondAnchor(_))
}

fn is_money(statement: &Statement) -> bool {
    matches!(statement, Statement::Note(note)
        if topic_of(&note.read().topic).is_some_and(|topic| topic.confidential))
}

/// The site as it stands, without names. The same book gives the same entry every time.
fn bare(last: &Entry, site: &Site) -> Option<Entry> {
    let site = Site { units: site.units, date: site.date.clone(), ..Site::default() };
    let id = EntryId(format!("{}{BARE}", last.id));
    let clock = last.clock.saturating_sub(1);
    Entry::new(id, clock, last.at_ms, last.author.clone(), Statement::Site(site)).ok()
}
