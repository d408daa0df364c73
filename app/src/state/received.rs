//! A file that was picked, dropped or handed in by the system, waiting to be looked at.

use leptos::prelude::*;
use web_sys::File;

/// The file that waits. Copied freely; get it with [`Received::here`].
#[derive(Clone, Copy, Debug)]
pub struct Received(RwSignal<Option<File>, LocalStorage>);

impl Received {
    /// Provides it as context.
    pub fn provide() {
        provide_context(Self(RwSignal::new_local(None)));
    }

    /// The one of this window.
    #[must_use]
    pub fn here() -> Self {
        expect_context()
    }

    /// A file came in.
    pub fn take(self, file: File) {
        self.0.set(Some(file));
    }

    /// The file that waits. Tracked.
    #[must_use]
    pub fn waiting(self) -> Option<File> {
        self.0.get()
    }

    /// It was dealt with.
    pub fn done(self) {
        self.0.try_set(None);
    }
}
