//! What was said since, entry by entry, and what it comes to.

use super::State;
use crate::book::{Book, Entry, Standing};
use crate::record::{EntryId, Record, Statement};
use std::collections::BTreeMap;

/// What a new entry does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Deed {
    /// It says something of its own.
    Says,
    /// It withdraws something, whatever strikes of strikes lie between.
    Strikes {
        /// What is withdrawn in the end; what the strike names where that is not in the book.
        first: EntryId,
    },
    /// It takes a strike back.
    BringsBack {
        /// What stands again.
        first: EntryId,
    },
    /// It writes something anew.
    Corrects {
        /// What is written anew.
        entry: EntryId,
    },
    /// It keeps a reading that others contradict.
    Keeps {
        /// The reading's entry.
        entry: EntryId,
    },
    /// This version does not understand it.
    NotUnderstood,
}

/// An entry that was not there before.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToldEntry {
    /// The entry.
    pub entry: EntryId,
    /// What it does.
    pub deed: Deed,
    /// Whether it was withdrawn again since.
    pub struck: bool,
}

/// Every entry of the later book that the earlier one lacks, in book order.
pub(super) fn entries(before: &Book, now: State<'_>) -> Vec<ToldEntry> {
    let told = |entry: &Entry| ToldEntry {
        entry: entry.id.clone(),
        deed: deed(entry, now.book),
        struck: matches!(now.fold.standing.get(&entry.id), Some(Standing::Struck { .. })),
    };
    now.book.entries().filter(|entry| before.get(&entry.id).is_none()).map(told).collect()
}

fn deed(entry: &Entry, book: &Book) -> Deed {
    match entry.statement() {
        None => Deed::NotUnderstood,
        Some(Statement::Strike { entry: target, .. }) => {
            let (first, back) = book.struck_first(target);
            let first = first.map_or_else(|| target.clone(), |first| first.id.clone());
            if back { Deed::BringsBack { first } } else { Deed::Strikes { first } }
        }
        Some(Statement::Correct { entry, .. }) => Deed::Corrects { entry: entry.clone() },
        Some(Statement::Keep { entry, .. }) => Deed::Keeps { entry: entry.clone() },
        Some(_) => Deed::Says,
    }
}

/// What sort of thing is said otherwise. Points and the site are compared as they stand, not by their entries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sort {
    /// A measurement or a level reading.
    Reading,
    /// A thing in the yard.
    Thing,
    /// A problem.
    Problem,
    /// A utility mark.
    Mark,
    /// A photo's note.
    Photo,
    /// Something told or observed.
    Note,
    /// What who draws asks.
    Question,
    /// What answers it.
    Answer,
}

impl Sort {
    fn of(said: &Statement) -> Option<Self> {
        Some(match said {
            Statement::Measure(_) | Statement::Level(_) => Self::Reading,
            Statement::Feature(_) => Self::Thing,
            Statement::Problem(_) => Self::Problem,
            Statement::Mark(_) => Self::Mark,
            Statement::Photo(_) => Self::Photo,
            Statement::Note(note) => {
                let note = note.read();
                match (note.asks, note.answers) {
                    (Some(_), _) => Self::Question,
                    (None, Some(_)) => Self::Answer,
                    (None, None) => Self::Note,
                }
            }
            Statement::Site(_)
            | Statement::Point(_)
            | Statement::Sketch { .. }
            | Statement::Anchor(_)
            | Statement::SecondAnchor(_)
            | Statement::North(_)
            | Statement::BenchMark(_)
            | Statement::Strike { .. }
            | Statement::Correct { .. }
            | Statement::Author { .. }
            | Statement::Keep { .. } => return None,
        })
    }
}

/// What became of something said.
#[derive(Clone, Debug, PartialEq)]
pub enum Became {
    /// It was said since; with its words as they stand.
    New(Statement),
    /// It was struck; with the words that stood.
    Struck(Statement),
    /// It was struck before and stands again; with the words that stand.
    BroughtBack(Statement),
    /// It says something else.
    Corrected {
        /// The words that stood.
        before: Box<Statement>,
        /// The words that stand.
        now: Statement,
    },
    /// It stood, and the later book has no such entry: the two books did not grow out of each other.
    Missing(Statement),
}

impl Became {
    /// The words that stand, or those that stood last.
    #[must_use]
    pub const fn words(&self) -> &Statement {
        match self {
            Self::New(said)
            | Self::Struck(said)
            | Self::BroughtBack(said)
            | Self::Missing(said)
            | Self::Corrected { now: said, .. } => said,
        }
    }
}

/// Something that is said otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// The entry that first said it.
    pub entry: EntryId,
    /// What sort of thing it is.
    pub sort: Sort,
    /// What became of it.
    pub became: Became,
}

/// The words in force, by the entry that first said them.
fn in_force(state: State<'_>) -> BTreeMap<&EntryId, &Statement> {
    state.book.entries().filter_map(|entry| Some((&entry.id, words(entry, state)?))).collect()
}

fn words<'a>(entry: &'a Entry, state: State<'a>) -> Option<&'a Statement> {
    match state.fold.standing.get(&entry.id)? {
        Standing::Stands => entry.statement(),
        Standing::Corrected { by } => match state.book.get(by)?.statement()? {
            Statement::Correct { now, .. } => Some(now),
            _ => None,
        },
        Standing::Struck { .. } | Standing::NotUnderstood => None,
    }
}

/// What is said otherwise: as the later book has it, then what only the earlier one has.
pub(super) fn differences(before: State<'_>, now: State<'_>) -> Vec<Difference> {
    let (stood, stands) = (in_force(before), in_force(now));
    let mut found = Vec::new();
    let mut tell = |entry: &EntryId, became: Became| {
        if let Some(sort) = Sort::of(became.words()) {
            found.push(Difference { entry: entry.clone(), sort, became });
        }
    };
    for entry in now.book.entries() {
        let id = &entry.id;
        match (stood.get(id), stands.get(id)) {
            (None, Some(said)) if before.book.get(id).is_none() => tell(id, Became::New((*said).clone())),
            (None, Some(said)) => tell(id, Became::BroughtBack((*said).clone())),
            (Some(said), None) => tell(id, Became::Struck((*said).clone())),
            (Some(before), Some(now)) if before != now => {
                tell(id, Became::Corrected { before: Box::new((*before).clone()), now: (*now).clone() });
            }
            _ => {}
        }
    }
    for entry in before.book.entries().filter(|entry| now.book.get(&entry.id).is_none()) {
        if let Some(said) = stood.get(&entry.id) {
            tell(&entry.id, Became::Missing((*said).clone()));
        }
    }
    found
}

/// A reading that others contradict and that was looked at again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// Its entry.
    pub entry: EntryId,
    /// Which row of it, from 0.
    pub part: usize,
    /// Whether it is kept now; else it was and is not any more.
    pub is_kept: bool,
}

/// What is kept now and was not, then what was kept and is not.
pub(super) fn kept(before: &Record, now: &Record) -> Vec<Kept> {
    let only = |one: &Record, other: &Record, is_kept: bool| -> Vec<Kept> {
        let keys = one.kept.keys().filter(|key| !other.kept.contains_key(*key));
        keys.map(|(entry, part)| Kept { entry: entry.clone(), part: *part, is_kept }).collect()
    };
    let mut all = only(now, before, true);
    all.extend(only(before, now, false));
    all
}
