//! Which earlier state the book is compared with, and the comparison, worked out once for all that shows it.

use crate::device;
use crate::screens::Drafts;
use crate::screens::kept::{Kept, kept};
use crate::screens::package::Marked;
use crate::state::{OpenSite, Shared};
use leptos::prelude::*;
use std::cell::RefCell;
use swingtie_core::book::{Book, Entry};
use swingtie_core::compare::{Changes, State, Worked, compare, earlier};

/// Since when.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Since {
    /// The site was sent or saved as a package last.
    Sent,
    /// Before the last package came in.
    Came,
    /// A day began, milliseconds since 1970.
    Day(i64),
}

/// What the book is compared with. Copied freely.
#[derive(Clone, Copy)]
pub struct Comparing {
    /// Since when; nothing is compared without.
    pub since: RwSignal<Option<Since>>,
    /// What was there when the site was sent last.
    pub sent: RwSignal<Option<Marked>, LocalStorage>,
    /// What the last package brought.
    pub came: RwSignal<Option<Marked>, LocalStorage>,
}

/// For so long a package counts as just come in.
const JUST_NOW_MS: i64 = 3_600_000;

impl Comparing {
    /// Nothing is compared.
    pub fn new() -> Self {
        let since = RwSignal::new(None);
        Self { since, sent: RwSignal::new_local(None), came: RwSignal::new_local(None) }
    }

    /// Asks the store once more what was sent and what came in.
    pub fn look(self, site: OpenSite) {
        leptos::task::spawn_local(async move {
            // Who came here by a tap sees its answer first.
            device::shown().await;
            if !site.is_open() {
                return;
            }
            let (store, id) = (site.store(), site.id());
            let (sent, came) = (Marked::sent(&store, &id).await, Marked::came(&store, &id).await);
            // What is the same does not have all worked out anew.
            if self.sent.try_with_untracked(|known| *known != sent) == Some(true) {
                self.sent.try_set(sent);
            }
            if self.came.try_with_untracked(|known| *known != came) == Some(true) {
                self.came.try_set(came);
            }
        });
    }

    /// The book as it was; none while nothing is compared. Tracked.
    fn before(self, site: OpenSite) -> Option<Book> {
        let since = self.since.get()?;
        site.book.with(|book| match since {
            Since::Sent => {
                self.sent.with(|sent| sent.as_ref().map(|sent| earlier(book, |entry| sent.has(&entry.id))))
            }
            Since::Came => self
                .came
                .with(|came| came.as_ref().map(|came| earlier(book, |entry| was_here(came, entry, site)))),
            Since::Day(start) => Some(earlier(book, |entry| entry.at_ms < start)),
        })
    }

    /// Whether a package brought something a short while ago, for a site that was here before. Tracked.
    pub fn came_just_now(self, site: OpenSite) -> bool {
        self.came.with(|came| {
            came.as_ref().is_some_and(|came| {
                device::now_ms() - came.at_ms < JUST_NOW_MS
                    && site.book.with(|book| book.entries().any(|entry| was_here(came, entry, site)))
            })
        })
    }
}

/// Whether an entry was here before that package: what was written here afterwards was not.
fn was_here(came: &Marked, entry: &Entry, site: OpenSite) -> bool {
    let is_later = site.is_mine(&entry.author) && entry.at_ms > came.at_ms;
    !is_later && !came.has(&entry.id)
}

/// The mornings of days on which something was written, the last first; not of the first day, which nothing was before.
pub fn mornings(times: impl Iterator<Item = i64>, morning: impl Fn(i64) -> i64) -> Vec<i64> {
    const MOST: usize = 5;
    let mut days: Vec<i64> = Vec::new();
    for at in times {
        let day = morning(at);
        if !days.contains(&day) {
            days.push(day);
        }
    }
    days.sort_unstable_by(|a, b| b.cmp(a));
    days.pop();
    days.truncate(MOST);
    days
}

thread_local! {
    /// Of the site that is open: the book as it was, all that follows from it, and what changed.
    static BEFORE: Kept<Option<Book>> = const { RefCell::new(None) };
    static WORKED: Kept<Option<Shared<Worked>>> = const { RefCell::new(None) };
    static CHANGES: Kept<Option<Shared<Changes>>> = const { RefCell::new(None) };
}

/// What changed on the open site since the state that was chosen; none while none is.
pub fn changes_here() -> Memo<Option<Shared<Changes>>> {
    let (site, comparing) = (OpenSite::here(), Drafts::here().comparing);
    let before = kept(&BEFORE, move || comparing.before(site));
    // The earlier book stays what it was while more is measured, so that it is adjusted once.
    let worked = kept(&WORKED, move || {
        before.with(|before| before.as_ref().map(|book| Shared::new(Worked::of(book.clone()))))
    });
    kept(&CHANGES, move || {
        let worked = worked.get()?;
        let (book, fold, adjustment) = (site.book.get(), site.fold.get(), site.adjustment.get());
        let now = State { book: &book, fold: &fold, adjustment: &adjustment };
        Some(Shared::new(compare(worked.state(), now)))
    })
}

#[cfg(test)]
mod tests {
    use super::mornings;

    #[test]
    fn the_first_day_is_not_offered_and_the_last_comes_first() {
        let morning = |at: i64| at - at % 10;
        assert_eq!(mornings([11, 12, 35, 38, 21].into_iter(), morning), [30, 20]);
        assert!(mornings([11, 12].into_iter(), morning).is_empty());
        assert!(mornings(std::iter::empty(), morning).is_empty());
        assert_eq!(mornings((0..9).map(|n| n * 10), morning), [80, 70, 60, 50, 40]);
    }
}
