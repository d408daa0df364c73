//! The fold of a book that grew: what is new goes into the fold as it was, so that one more entry costs what it touches
//! and not the whole book.

use super::fold::{Fold, Standing, fold, take};
use super::{Book, Entry};
use crate::record::{EntryId, Measurement, Statement};
use litemap::LiteMap;

/// A fold with more entries in it.
#[derive(Clone, Debug)]
pub struct Grown {
    /// The same as [`fold`] gives of the whole book, to the letter.
    pub fold: Fold,
    /// False where the network reads nothing of what is new: then no place, state or finding is another.
    pub moves: bool,
}

/// The fold of `book`, where `before` is that of a part of it.
///
/// What is written on at the end of a book is taken into the fold; where entries came in between, or something is struck
/// or kept, all is folded anew. What others worked out into the record (heights, north by known points) is taken out, as
/// [`fold`] gives none.
#[must_use]
pub fn fold_on(mut before: Fold, book: &Book) -> Grown {
    let new = book.len().saturating_sub(before.standing.len());
    let mut added: Vec<&Entry> = book.entries().rev().take(new).collect();
    added.reverse();
    // Where none of the last entries was known, they are all that is new.
    if added.iter().any(|entry| before.standing.contains_key(&entry.id)) {
        return Grown { fold: fold(book), moves: true };
    }
    before.record.heights = LiteMap::new();
    before.record.north_by_anchors = None;
    let mut moves = false;
    for entry in added {
        let Some(moved) = take_last(&mut before, book, entry) else {
            return Grown { fold: fold(book), moves: true };
        };
        moves |= moved;
    }
    Grown { fold: before, moves }
}

/// Takes in the entry that is now the last, and tells whether the network reads it; none where more of the fold hangs on
/// it.
fn take_last(fold: &mut Fold, book: &Book, entry: &Entry) -> Option<bool> {
    let moves = match entry.statement()? {
        // Who said the site's name before is not in the fold.
        Statement::Site(_) | Statement::Strike { .. } | Statement::Keep { .. } => return None,
        Statement::Correct { entry: target, now } => {
            let Statement::Measure(now) = now.as_ref() else { return None };
            correct(fold, book, entry, target, now)?;
            true
        }
        said => {
            take(&mut fold.record, entry, said);
            is_read(fold, said)
        }
    };
    fold.standing.insert(entry.id.clone(), Standing::Stands);
    Some(moves)
}

/// Whether a statement that is added may change what the network makes of the record.
fn is_read(fold: &Fold, said: &Statement) -> bool {
    match said {
        Statement::Problem(_)
        | Statement::Mark(_)
        | Statement::Photo(_)
        | Statement::Note(_)
        | Statement::Author { .. }
        | Statement::Anchor(_)
        | Statement::SecondAnchor(_) => false,
        // Heights reach it through tapes whose slope they tell.
        Statement::Level(_) | Statement::BenchMark(_) => fold.record.slopes_by_heights(),
        // A feature may say how thick a trunk is, and advice looks past buildings.
        _ => true,
    }
}

/// Writes a measurement anew whose words stand, or were written anew by the same author: then nobody objects.
fn correct(fold: &mut Fold, book: &Book, entry: &Entry, target: &EntryId, now: &Measurement) -> Option<()> {
    match fold.standing.get(target)? {
        Standing::Stands => {}
        Standing::Corrected { by } if book.get(by)?.author == entry.author => {}
        _ => return None,
    }
    // Of another sort, it is not among the measurements.
    let known = fold.record.measurements.iter_mut().rev().find(|m| m.entry == *target)?;
    known.what = now.clone();
    fold.record.kept.retain(|(of, _), ()| of != target);
    fold.standing.insert(target.clone(), Standing::Corrected { by: entry.id.clone() });
    Some(())
}

/// Whether the last entry of the book goes into this fold without folding all anew.
#[cfg(test)]
pub(super) fn is_taken_last(before: &Fold, book: &Book) -> bool {
    let known = |entry: &&Entry| !before.standing.contains_key(&entry.id);
    let last = book.entries().next_back().filter(known);
    last.is_some_and(|entry| take_last(&mut before.clone(), book, entry).is_some())
}
