//! When a site was sent or saved last, and what was written since.

use crate::device;
use crate::state::OpenSite;
use crate::store::{SiteId, Store};

/// A site as it was when it was sent or saved last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sent {
    /// When, milliseconds since 1970.
    pub at_ms: i64,
    /// How many entries its book had.
    pub entries: usize,
}

fn key(site: &SiteId) -> String {
    format!("sent {site}")
}

impl Sent {
    /// When it was sent last; none when never, or when the store does not say.
    pub async fn last(store: &Store, site: &SiteId) -> Option<Self> {
        let text = store.meta(&key(site)).await.ok().flatten()?;
        let (at_ms, entries) = text.split_once(' ')?;
        Some(Self { at_ms: at_ms.parse().ok()?, entries: entries.parse().ok()? })
    }

    /// Remembers that it is sent now.
    pub async fn now(site: OpenSite) -> Self {
        use leptos::prelude::WithUntracked;
        let sent = Self { at_ms: device::now_ms(), entries: site.book.with_untracked(|book| book.len()) };
        // A reminder that is not kept comes once more.
        let _ = site.store().set_meta(&key(&site.id()), &format!("{} {}", sent.at_ms, sent.entries)).await;
        sent
    }

    /// How many entries came since. A book only grows.
    #[must_use]
    pub fn since(self, entries: usize) -> usize {
        entries.saturating_sub(self.entries)
    }
}
