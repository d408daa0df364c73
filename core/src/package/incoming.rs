//! What a book that comes in brings to the one that is here.

use super::redact::whole_of;
use crate::book::{Book, Entry, Fold, Objection, Standing, fold};
use crate::record::{AuthorId, EntryId};

/// Whether two books are of one site: they share an entry. Where a yard's book starts is an entry like any other, so two
/// phones that got it from each other share that at least.
#[must_use]
pub fn same_site(one: &Book, other: &Book) -> bool {
    let (small, large) = if one.len() < other.len() { (one, other) } else { (other, one) };
    small.entries().any(|entry| large.get(&entry.id).is_some())
}

/// What one person brings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Share {
    /// Who.
    pub author: AuthorId,
    /// How many entries are new.
    pub entries: usize,
    /// When the first and the last of them were written, milliseconds since 1970 by their author's clock.
    pub when: (i64, i64),
}

/// What comes in: the union of both books, and what is new in it.
#[derive(Clone, Debug)]
pub struct Incoming {
    /// Both books as one.
    pub merged: Book,
    /// The book that was here, folded.
    pub before: Fold,
    /// Both as one, folded.
    pub after: Fold,
    /// What is new, in book order.
    pub new: Vec<Entry>,
    /// By whom, who brings most first.
    pub shares: Vec<Share>,
    /// Entries of one id that say different things; the one that was here is kept.
    pub clashes: Vec<EntryId>,
    /// Entries that two people wrote anew or struck, each for himself, as was not known here; the latest counts.
    pub rivals: Vec<EntryId>,
    /// Entries that were here, stood, and do not any more.
    pub struck: Vec<EntryId>,
}

impl Incoming {
    /// What `theirs` brings to `ours`.
    #[must_use]
    pub fn of(ours: &Book, theirs: &Book) -> Self {
        let mut merged = ours.clone();
        // What stands for an entry that is here says nothing new.
        let is_known = |entry: &&Entry| whole_of(&entry.id).is_none_or(|whole| ours.get(&whole).is_none());
        let mut theirs_beside = Book::new();
        for entry in theirs.entries().filter(is_known) {
            // Of one book, so there is nothing to clash with.
            let _ = theirs_beside.add(entry.clone());
        }
        let theirs = &theirs_beside;
        let (_, clashes) = merged.merge(theirs);
        let clashes = clashes.into_iter().map(|clash| clash.id).collect();
        let new: Vec<Entry> =
            theirs.entries().filter(|entry| ours.get(&entry.id).is_none()).cloned().collect();
        let mut shares: Vec<Share> = Vec::new();
        for entry in &new {
            let when = (entry.at_ms, entry.at_ms);
            match shares.iter_mut().find(|share| share.author == entry.author) {
                Some(share) => {
                    share.entries += 1;
                    share.when = (share.when.0.min(entry.at_ms), share.when.1.max(entry.at_ms));
                }
                None => shares.push(Share { author: entry.author.clone(), entries: 1, when }),
            }
        }
        crate::units::sort_by(&mut shares, |a, b| {
            b.entries.cmp(&a.entries).then_with(|| a.author.cmp(&b.author))
        });
        let (before, after) = (fold(ours), fold(&merged));
        let mut rivals = Vec::new();
        for objection in after.objections.iter().filter(|objection| !before.objections.contains(objection)) {
            if let Objection::Rival { target, .. } = objection
                && !rivals.contains(target)
            {
                rivals.push(target.clone());
            }
        }
        let stands = |standing: Option<&Standing>| standing == Some(&Standing::Stands);
        let struck = before
            .standing
            .iter()
            .filter(|(id, standing)| stands(Some(standing)) && !stands(after.standing.get(id)));
        let struck = struck.map(|(id, _)| id.clone()).collect();
        Self { merged, before, after, new, shares, clashes, rivals, struck }
    }

    /// Whether nothing of it is new.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.new.is_empty() && self.clashes.is_empty()
    }
}
