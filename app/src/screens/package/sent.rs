//! What of a site's book was there when it was sent or saved last, and what came in last.

use crate::device;
use crate::state::OpenSite;
use crate::store::{SiteId, Store};
use leptos::prelude::*;
use std::collections::BTreeSet;
use std::rc::Rc;
use swingtie_core::book::{Book, Entry};
use swingtie_core::record::EntryId;

/// Entries of a book at some moment. Cloning shares them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marked {
    /// When, milliseconds since 1970.
    pub at_ms: i64,
    entries: Rc<BTreeSet<EntryId>>,
}

/// All that was there when the site was sent or saved last, and what came in since: it is not on this device only.
const SENT: &str = "sent";
/// What the last package brought.
const CAME: &str = "came";

fn key(what: &str, site: &SiteId) -> String {
    format!("{what} {site}")
}

impl Marked {
    /// The book as it was when the site was sent or saved last; none when never, or when the store does not say.
    pub async fn sent(store: &Store, site: &SiteId) -> Option<Self> {
        Self::kept(store, SENT, site).await
    }

    /// What the package taken in last brought.
    pub async fn came(store: &Store, site: &SiteId) -> Option<Self> {
        Self::kept(store, CAME, site).await
    }

    async fn kept(store: &Store, what: &str, site: &SiteId) -> Option<Self> {
        let text = store.meta(&key(what, site)).await.ok().flatten()?;
        let (at_ms, ids) = text.split_once('\n').unwrap_or((&text, ""));
        let entries = ids.lines().map(EntryId::from).collect();
        Some(Self { at_ms: at_ms.parse().ok()?, entries: Rc::new(entries) })
    }

    async fn keep(store: &Store, what: &str, site: &SiteId, ids: impl Iterator<Item = &EntryId>) -> Self {
        let marked = Self { at_ms: device::now_ms(), entries: Rc::new(ids.cloned().collect()) };
        let mut text = marked.at_ms.to_string();
        for id in &*marked.entries {
            text.push('\n');
            text.push_str(&id.0);
        }
        // A reminder that is not kept comes once more.
        let _ = store.set_meta(&key(what, site), &text).await;
        marked
    }

    /// Remembers that the site is sent now.
    pub async fn sends(site: OpenSite) -> Self {
        let book = site.book.get_untracked();
        Self::keep(&site.store(), SENT, &site.id(), book.entries().map(|entry| &entry.id)).await
    }

    /// Remembers that these came in, and that the whole book they came with is elsewhere too.
    pub async fn takes(store: &Store, site: &SiteId, entries: &[Entry], book: &Book) {
        Self::keep(store, CAME, site, entries.iter().map(|entry| &entry.id)).await;
        let before = Self::sent(store, site).await;
        let before = before.iter().flat_map(|sent| sent.entries.iter());
        Self::keep(store, SENT, site, before.chain(book.entries().map(|entry| &entry.id))).await;
    }

    /// Whether the entry was among them.
    #[must_use]
    pub fn has(&self, entry: &EntryId) -> bool {
        self.entries.contains(entry)
    }

    /// How many entries of the book are not among them.
    #[must_use]
    pub fn since(&self, book: &Book) -> usize {
        book.entries().filter(|entry| !self.has(&entry.id)).count()
    }
}

/// What is known of a site's sending: nothing before the store has answered, then when it was last.
pub type Known = RwSignal<Option<Option<Marked>>, LocalStorage>;

/// Asks the store.
pub fn known(site: OpenSite) -> Known {
    let known = RwSignal::new_local(None);
    leptos::task::spawn_local(async move {
        let sent = Marked::sent(&site.store(), &site.id()).await;
        known.try_set(Some(sent));
    });
    known
}
