//! The device: its store, who writes on it, and its sites.

use super::{Opening, SaveError, Shared};
use crate::device;
use crate::office::Source;
use crate::store::{Access, SiteId, Store, StoreError};
use crate::words::Standing;
use leptos::prelude::*;
use swingtie_core::book::{Book, Entry, Fold, fold};
use swingtie_core::network::adjust_unsuspecting;
use swingtie_core::record::{AuthorId, EntryId, Site, Statement};
use swingtie_core::units::sort_by;

const AUTHOR: &str = "author";

/// The opened store and this device's author. Copied freely; get it with [`Home::here`].
#[derive(Clone, Copy)]
pub struct Home(StoredValue<(Store, AuthorId), LocalStorage>);

/// A site as the list shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteCard {
    /// The site.
    pub id: SiteId,
    /// Its name, date and so on.
    pub site: Site,
    /// Where the survey stands.
    pub standing: Standing,
    /// When the last entry was written, milliseconds since 1970.
    pub last_ms: i64,
    /// What it follows from.
    pub kept: Kept,
}

/// A site's book, read and folded. Cloning shares it.
#[derive(Clone, PartialEq)]
pub struct Kept {
    /// The book.
    pub book: Shared<Book>,
    /// Everything as it stands.
    pub fold: Shared<Fold>,
}

impl std::fmt::Debug for Kept {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Kept")
    }
}

/// Opens the store; makes this device's author id the first time. `held` as for [`Store::open`].
///
/// # Errors
/// When the browser offers no storage.
pub async fn open_store(held: impl FnOnce() + 'static) -> Result<(Store, AuthorId), StoreError> {
    let store = Store::open(held).await?;
    let author = match store.meta(AUTHOR).await? {
        Some(author) => author,
        None => {
            let author = device::random_id();
            // Who cannot write needs no name that stays.
            if store.access() == Access::Whole {
                store.set_meta(AUTHOR, &author).await?;
            }
            author
        }
    };
    Ok((store, AuthorId(author)))
}

impl Home {
    /// Provides the opened store as context.
    pub fn provide(store: Store, author: AuthorId) {
        provide_context(Self(StoredValue::new_local((store, author))));
    }

    /// The device.
    #[must_use]
    pub fn here() -> Self {
        expect_context()
    }

    /// The store and who writes.
    #[must_use]
    pub fn store(self) -> (Store, AuthorId) {
        self.0.get_value()
    }

    /// Every site, the one last written to first.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn sites(self) -> Result<Vec<SiteCard>, StoreError> {
        let (store, _) = self.store();
        let mut cards = Vec::new();
        for id in store.sites().await? {
            let (book, _) = store.book(&id).await?;
            cards.push(card(id, book).await);
        }
        sort_by(&mut cards, |a, b| b.last_ms.cmp(&a.last_ms));
        Ok(cards)
    }

    /// Reads a site; none when it is not on this device.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn open(self, id: &SiteId) -> Result<Option<Opening>, StoreError> {
        let (store, _) = self.store();
        if !store.sites().await?.contains(id) {
            return Ok(None);
        }
        let (book, damaged) = store.book(id).await?;
        Ok(Some(Opening { site: id.clone(), book: Shared::new(book), damaged }))
    }

    /// Starts a site with its name and units.
    ///
    /// # Errors
    /// When nothing was stored.
    pub async fn start(self, site: Site) -> Result<SiteId, SaveError> {
        let (store, author) = self.store();
        let entry =
            Entry::new(EntryId(device::random_id()), 1, device::now_ms(), author, Statement::Site(site))
                .map_err(|error| SaveError::Unwritable(error.to_string()))?;
        let id = SiteId(device::random_id());
        store.create(&id, &[entry]).await?;
        device::ask_to_keep_once();
        Ok(id)
    }

    /// Takes a book in as a new site.
    ///
    /// # Errors
    /// When nothing was stored.
    pub async fn take_in(self, book: &Book) -> Result<SiteId, SaveError> {
        let (store, _) = self.store();
        let id = SiteId(device::random_id());
        let entries: Vec<Entry> = book.entries().cloned().collect();
        store.create(&id, &entries).await?;
        Ok(id)
    }

    /// Who brings a table in, and when.
    #[must_use]
    pub fn brought(self) -> Source {
        let (_, author) = self.store();
        Source { id_prefix: format!("{}-", device::random_id()), author, at_ms: device::now_ms() }
    }

    /// Takes a site off this device.
    ///
    /// # Errors
    /// When nothing was removed.
    pub async fn forget(self, id: &SiteId) -> Result<(), StoreError> {
        self.store().0.forget(id).await?;
        device::forget(&crate::capture::keep::key(id));
        Ok(())
    }
}

async fn card(id: SiteId, book: Book) -> SiteCard {
    let mut fold = fold(&book);
    if fold.record.slopes_by_heights() {
        fold.record.heights = super::heights(&fold.record).await.unwrap_or_default();
    }
    let whole = super::adjusted(&fold.record, None).await.ok().flatten();
    let standing = Standing::of(&fold.record, &whole.unwrap_or_else(|| adjust_unsuspecting(&fold.record)));
    let last_ms = book.entries().map(|entry| entry.at_ms).max().unwrap_or(0);
    let site = fold.record.site.clone();
    SiteCard { id, site, standing, last_ms, kept: Kept { book: Shared::new(book), fold: Shared::new(fold) } }
}

/// The demo yard's file, as the page fetches it.
#[cfg(test)]
pub const DEMO: &str = include_str!("../../../public/demo.jsonl");

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::network::adjust;

    /// What the demo is to show a newcomer: a nearly finished survey that still asks for something.
    #[test]
    fn the_demo_yard_is_consistent_and_leaves_something_to_do() {
        let (book, damaged) = Book::from_json_lines(DEMO);
        assert_eq!(damaged, []);
        let fold = fold(&book);
        assert_eq!(fold.objections, []);
        let adjustment = adjust(&fold.record);
        assert_eq!(adjustment.findings, []);
        assert_eq!(adjustment.questions, []);
        let standing = Standing::of(&fold.record, &adjustment);
        let unchecked = fold.record.points.iter().filter(|p| {
            adjustment
                .points
                .get(&p.id)
                .is_some_and(|fix| fix.state == swingtie_core::network::PointState::Fixed)
        });
        let labels: Vec<_> = unchecked.map(|p| p.label.as_str()).collect();
        assert_eq!((standing.loose, standing.disputed), (1, 0));
        assert!((1..=8).contains(&standing.unchecked), "{labels:?}");
    }
}
