//! The service worker: offline after the first load, a new version announced, never forced.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::{Closure, JsValue, wasm_bindgen};
use web_sys::{ServiceWorker, ServiceWorkerContainer, ServiceWorkerRegistration, ServiceWorkerState};

#[wasm_bindgen]
extern "C" {
    /// Registers the service worker; `public/start.js` does, since only its scripts may be started.
    #[wasm_bindgen(catch, js_namespace = swingtie)]
    async fn offline() -> Result<JsValue, JsValue>;
}

/// Whether a new version waits to be taken.
#[derive(Clone, Copy)]
pub struct NewVersion {
    waiting: RwSignal<Option<ServiceWorker>, LocalStorage>,
    asked: StoredValue<bool>,
}

impl NewVersion {
    /// Whether one waits. Tracked.
    #[must_use]
    pub fn waits(self) -> bool {
        self.waiting.with(Option::is_some)
    }

    /// Takes it: the waiting worker steps in, and the page reloads when it has.
    pub fn take(self) {
        let Some(worker) = self.waiting.get_untracked() else { return };
        if worker.state() != ServiceWorkerState::Installed {
            // Taken in another window already: this page only has to load again.
            let _ = window().location().reload();
            return;
        }
        self.asked.set_value(true);
        // As `public/sw.js` expects it.
        let _ = worker.post_message(&"take over".into());
    }

    /// Not now.
    pub fn later(self) {
        self.waiting.set(None);
    }
}

/// Registers the service worker, where the browser has them, and watches for new versions.
pub fn watch_for_updates() -> NewVersion {
    let new = NewVersion { waiting: RwSignal::new_local(None), asked: StoredValue::new(false) };
    let navigator = window().navigator();
    // On plain http beyond loopback there is none.
    if !js_sys::Reflect::has(&navigator, &"serviceWorker".into()).unwrap_or(false) {
        return new;
    }
    let container = navigator.service_worker();
    leptos::task::spawn_local(async move {
        // The page works without; it is only not offline then, which the browser shows anyway.
        let Ok(registration) = offline().await else { return };
        let registration: ServiceWorkerRegistration = registration.unchecked_into();
        watch(new, &container, registration);
    });
    new
}

fn watch(new: NewVersion, container: &ServiceWorkerContainer, registration: ServiceWorkerRegistration) {
    // The first version ever stands beside no other: nothing to announce. It may be told as whole when it already serves
    // the page (seen in WebKit), so whether anything serves it is not enough.
    let beside_another = {
        let (registration, container) = (registration.clone(), container.clone());
        move |worker: &ServiceWorker| {
            let is_other = |it: ServiceWorker| it != *worker;
            container.controller().is_some_and(is_other) && registration.active().is_some_and(is_other)
        }
    };
    if let Some(worker) = registration.waiting().filter(&beside_another) {
        new.waiting.set(Some(worker));
    }
    let found = {
        let registration = registration.clone();
        move || {
            let Some(worker) = registration.installing() else { return };
            let (watched, beside_another) = (worker.clone(), beside_another.clone());
            let on_state = Closure::<dyn FnMut()>::new(move || {
                if watched.state() == ServiceWorkerState::Installed && beside_another(&watched) {
                    new.waiting.set(Some(watched.clone()));
                }
            });
            worker.set_onstatechange(Some(on_state.as_ref().unchecked_ref()));
            on_state.forget();
        }
    };
    let on_found = Closure::<dyn FnMut()>::new(found);
    registration.set_onupdatefound(Some(on_found.as_ref().unchecked_ref()));
    on_found.forget();
    let on_change = Closure::<dyn FnMut()>::new(move || {
        // Another window may have taken the new version: this one is in the middle of its work.
        if new.asked.get_value() {
            let _ = window().location().reload();
        }
    });
    container.set_oncontrollerchange(Some(on_change.as_ref().unchecked_ref()));
    on_change.forget();
}
