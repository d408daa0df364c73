//! From the book to the record as it stands.

use super::{Book, Entry, Said};
use crate::record::{AuthorId, EntryId, Point, Record, Recorded, Site, Statement};
use litemap::LiteMap;
use std::collections::BTreeMap;

/// How an entry stands in the book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It counts.
    Stands,
    /// Withdrawn by this strike.
    Struck {
        /// The latest strike that counts.
        by: EntryId,
    },
    /// Written anew by this correction, which counts in its place.
    Corrected {
        /// The latest correction that counts.
        by: EntryId,
    },
    /// Kept without being understood.
    NotUnderstood,
}

/// Something in the book that does not add up; the fold goes on without it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Objection {
    /// A strike or correction names an entry that is not in the book (yet).
    #[error("{}", say!("entry {entry} refers to {target}, which is not in this book"))]
    Missing {
        /// The strike or correction.
        entry: EntryId,
        /// What it names.
        target: EntryId,
    },
    /// A correction says another sort of thing than the entry it corrects.
    #[error("{}", say!("entry {entry} would turn {target} into another sort of statement; it was left out"))]
    OtherSort {
        /// The correction.
        entry: EntryId,
        /// What it names.
        target: EntryId,
    },
    /// Different authors struck or corrected one entry. A strike counts before a correction, the later before the
    /// earlier; [`Standing`] of the target names the one that counts.
    #[error("{}", say!("two people struck or rewrote entry {target}: what {entry} says of it does not count, look at both"))]
    Rival {
        /// The strike or correction that does not count.
        entry: EntryId,
        /// The entry both name.
        target: EntryId,
    },
    /// An entry of a kind this version does not know, or that is damaged.
    #[error("{}", say!("entry {entry} was not understood and left out of the plan: {why}"))]
    NotUnderstood {
        /// The entry.
        entry: EntryId,
        /// Why.
        why: String,
    },
}

/// The fold of a book.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fold {
    /// Everything as it stands.
    pub record: Record,
    /// How each entry stands.
    pub standing: BTreeMap<EntryId, Standing>,
    /// What did not add up.
    pub objections: Vec<Objection>,
}

/// Folds a book into the record as it stands.
#[must_use]
pub fn fold(book: &Book) -> Fold {
    let mut folding = Folding::default();
    // Latest first: whether a strike counts depends only on strikes after it.
    for entry in book.entries().rev() {
        folding.judge(book, entry);
    }
    folding.rivals(book);
    folding.objections.reverse();
    let mut fold = Fold { standing: folding.standing, objections: folding.objections, ..Fold::default() };
    fold.record.kept = folding.kept;
    let mut named_by = None;
    for entry in book.entries() {
        let words = match fold.standing.get(&entry.id) {
            Some(Standing::Stands) => entry.statement(),
            Some(Standing::Corrected { .. }) => folding.rewritten.get(&entry.id).copied(),
            _ => None,
        };
        match words {
            Some(Statement::Site(site)) => {
                let before = std::mem::replace(&mut fold.record.site, site.clone());
                if named_by.is_some_and(|by: &AuthorId| *by != entry.author) {
                    keep_filled(&mut fold.record.site, before);
                }
                named_by = Some(&entry.author);
            }
            Some(statement) => take(&mut fold.record, entry, statement),
            None => {}
        }
    }
    fold
}

#[derive(Default)]
struct Folding<'a> {
    standing: BTreeMap<EntryId, Standing>,
    objections: Vec<Objection>,
    strikes: LiteMap<EntryId, EntryId>,
    corrections: LiteMap<EntryId, EntryId>,
    rewritten: LiteMap<EntryId, &'a Statement>,
    kept: LiteMap<(EntryId, usize), ()>,
    /// Targets, and the strikes and corrections of them that stand.
    claims: Vec<(&'a EntryId, &'a Entry)>,
}

impl<'a> Folding<'a> {
    fn judge(&mut self, book: &Book, entry: &'a Entry) {
        let standing = match (&entry.said, self.strikes.get(&entry.id), self.corrections.get(&entry.id)) {
            (_, Some(by), _) => Standing::Struck { by: by.clone() },
            (Said::Unknown { why, .. }, ..) => {
                self.objections.push(Objection::NotUnderstood { entry: entry.id.clone(), why: why.clone() });
                Standing::NotUnderstood
            }
            (.., Some(by)) => Standing::Corrected { by: by.clone() },
            _ => Standing::Stands,
        };
        if standing == Standing::Stands {
            match entry.statement() {
                Some(Statement::Strike { entry: target, .. }) => self.strike(book, entry, target),
                Some(Statement::Correct { entry: target, now }) => self.correct(book, entry, target, now),
                Some(Statement::Keep { entry: target, part, .. }) => self.keep(book, entry, target, *part),
                _ => {}
            }
        }
        self.standing.insert(entry.id.clone(), standing);
    }

    fn strike(&mut self, book: &Book, entry: &'a Entry, target: &'a EntryId) {
        if self.earlier(book, entry, target).is_some() {
            self.claims.push((target, entry));
            self.strikes.entry(target.clone()).or_insert_with(|| entry.id.clone());
        }
    }

    /// Keeps a reading, unless a later correction wrote other words in its place.
    fn keep(&mut self, book: &Book, entry: &Entry, target: &EntryId, part: usize) {
        if self.earlier(book, entry, target).is_some() && !self.corrections.contains_key(target) {
            self.kept.insert((target.clone(), part), ());
        }
    }

    fn correct(&mut self, book: &Book, entry: &'a Entry, target: &'a EntryId, now: &'a Statement) {
        let Some(old) = self.earlier(book, entry, target) else { return };
        let same_sort = old.statement().is_some_and(|old| {
            std::mem::discriminant(old) == std::mem::discriminant(now)
                && !matches!(
                    old,
                    Statement::Strike { .. } | Statement::Correct { .. } | Statement::Keep { .. }
                )
        });
        if !same_sort {
            self.objections.push(Objection::OtherSort { entry: entry.id.clone(), target: target.clone() });
            return;
        }
        self.claims.push((target, entry));
        if !self.corrections.contains_key(target) {
            self.corrections.insert(target.clone(), entry.id.clone());
            self.rewritten.insert(target.clone(), now);
        }
    }

    /// Lists what does not count because somebody else struck or corrected the same entry.
    fn rivals(&mut self, book: &Book) {
        for (target, entry) in &self.claims {
            let counts = self.strikes.get(*target).or_else(|| self.corrections.get(*target));
            if counts.and_then(|id| book.get(id)).is_some_and(|counts| counts.author != entry.author) {
                let (entry, target) = (entry.id.clone(), (*target).clone());
                self.objections.push(Objection::Rival { entry, target });
            }
        }
    }

    /// The target, when it stands before the entry that names it; a note can only be struck after
    /// it was written, which also rules out circles.
    fn earlier<'b>(&mut self, book: &'b Book, entry: &Entry, target: &EntryId) -> Option<&'b Entry> {
        let found = book
            .get(target)
            .filter(|t| (t.clock, &t.author, &t.id) < (entry.clock, &entry.author, &entry.id));
        if found.is_none() {
            self.objections.push(Objection::Missing { entry: entry.id.clone(), target: target.clone() });
        }
        found
    }
}

fn recorded<T: Clone>(entry: &Entry, what: &T) -> Recorded<T> {
    Recorded { entry: entry.id.clone(), author: entry.author.clone(), at_ms: entry.at_ms, what: what.clone() }
}

/// Takes one statement that counts into the record.
pub(super) fn take(record: &mut Record, entry: &Entry, statement: &Statement) {
    match statement {
        Statement::Point(point) => take_point(record, point),
        Statement::Sketch { point, at } => {
            record.sketch.insert(point.clone(), *at);
        }
        Statement::Measure(m) => record.measurements.push(recorded(entry, m)),
        Statement::Feature(f) => record.features.push(recorded(entry, f)),
        Statement::Problem(p) => record.problems.push(recorded(entry, p)),
        Statement::Mark(m) => record.marks.push(recorded(entry, m)),
        Statement::Photo(p) => record.photos.push(recorded(entry, p)),
        Statement::Note(n) => record.written_notes.push(recorded(entry, n)),
        Statement::Level(l) => record.levels.push(recorded(entry, l)),
        Statement::BenchMark(mark) => record.bench_mark = Some(mark.clone()),
        Statement::Anchor(anchor) => record.anchor = Some(anchor.clone()),
        Statement::SecondAnchor(anchor) => record.second_anchors.push(recorded(entry, anchor)),
        Statement::North(north) => record.north = Some(north.clone()),
        Statement::Author { name } => {
            record.authors.insert(entry.author.clone(), name.clone());
        }
        // What is said of the site is taken by who knows who said it.
        Statement::Site(_)
        | Statement::Strike { .. }
        | Statement::Correct { .. }
        | Statement::Keep { .. } => {}
    }
}

/// What somebody else left empty says nothing: names may have been kept from who wrote it.
fn keep_filled(now: &mut Site, before: Site) {
    let fields = [
        (&mut now.name, before.name),
        (&mut now.client, before.client),
        (&mut now.surveyor, before.surveyor),
        (&mut now.date, before.date),
        (&mut now.note, before.note),
    ];
    for (now, before) in fields {
        if now.is_empty() {
            *now = before;
        }
    }
}

fn take_point(record: &mut Record, point: &Point) {
    match record.points.iter_mut().find(|p| p.id == point.id) {
        Some(known) => *known = point.clone(),
        None => record.points.push(point.clone()),
    }
}
