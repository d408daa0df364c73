//! A file that was picked, dropped or handed in by the system, waiting to be looked at.

use crate::routes::{Route, Router};
use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::prelude::*;
use web_sys::File;

/// The file that waits. Copied freely; get it with [`Received::here`].
#[derive(Clone, Copy, Debug)]
pub struct Received {
    file: RwSignal<Option<File>, LocalStorage>,
    /// Where the user was when it came by itself.
    from: RwSignal<Option<Route>, LocalStorage>,
}

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
        let received = Self { file: RwSignal::new_local(None), from: RwSignal::new_local(None) };
        provide_context(received);
        let take = move |file: JsValue| {
            if let Ok(file) = file.dyn_into() {
                received.take(file);
                let from = untrack(|| router.route());
                if from != Route::Sites {
                    received.from.set(Some(from));
                }
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
        self.from.set(None);
        self.file.set(Some(file));
    }

    /// The file that waits. Tracked.
    #[must_use]
    pub fn waiting(self) -> Option<File> {
        self.file.get()
    }

    /// It was dealt with.
    pub fn done(self) {
        self.file.try_set(None);
        self.from.try_set(None);
    }

    /// It is left: the user is again where he was when it came, where that was elsewhere.
    pub fn leave(self, router: Router) {
        let from = self.from.get_untracked();
        self.done();
        if let Some(from) = from {
            router.go(&from);
        }
    }
}
