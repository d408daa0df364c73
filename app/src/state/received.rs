//! A file that was picked, dropped or handed in by the system, waiting to be looked at.

use crate::routes::{Route, Router};
use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::prelude::*;
use web_sys::File;

/// The file that waits. Copied freely; get it with [`Received::here`].
#[derive(Clone, Copy, Debug)]
pub struct Received(RwSignal<Option<File>, LocalStorage>);

#[wasm_bindgen]
extern "C" {
    /// In `public/start.js`.
    #[wasm_bindgen(js_namespace = swingtie)]
    fn handed(take: JsValue);
}

impl Received {
    /// Provides it as context, and hears of files that are dropped, opened with the app or shared with it. A file is
    /// shown on the list of sites, wherever it comes in.
    pub fn provide(router: Router) {
        let received = Self(RwSignal::new_local(None));
        provide_context(received);
        let take = move |file: JsValue| {
            if let Ok(file) = file.dyn_into() {
                received.take(file);
                router.go(&Route::Sites);
            }
        };
        // Kept for as long as the page lives.
        handed(Closure::<dyn FnMut(JsValue)>::new(take).into_js_value());
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
