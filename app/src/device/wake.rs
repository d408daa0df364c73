//! Small services of the phone: screen on, a short buzz, storage that is not cleared.

use super::{remember, remembered};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::JsValue;
use wasm_bindgen_futures::JsFuture;

/// Keeps the screen on for as long as the calling component lives, where the phone can. The phone
/// lets go when the page is hidden, so it is asked for again when the page comes back.
pub fn stay_awake() {
    let held: StoredValue<Option<JsValue>, LocalStorage> = StoredValue::new_local(None);
    let ask = move || {
        leptos::task::spawn_local(async move {
            if let Ok(lock) = wake_lock().await
                && held.try_set_value(Some(lock.clone())).is_some()
            {
                // The component went while the phone was thinking.
                let _ = call(&lock, "release", &[]);
            }
        });
    };
    ask();
    let back = window_event_listener(leptos::ev::visibilitychange, move |_| {
        if document().visibility_state() == web_sys::VisibilityState::Visible {
            ask();
        }
    });
    on_cleanup(move || {
        back.remove();
        if let Some(Some(lock)) = held.try_get_value() {
            let _ = call(&lock, "release", &[]);
        }
    });
}

/// The screen wake lock (W3C Screen Wake Lock API), called by name: web-sys still counts it as unstable.
async fn wake_lock() -> Result<JsValue, JsValue> {
    let service = js_sys::Reflect::get(&window().navigator(), &"wakeLock".into())?;
    JsFuture::from(js_sys::Promise::from(call(&service, "request", &["screen".into()])?)).await
}

fn call(object: &JsValue, name: &str, arguments: &[JsValue]) -> Result<JsValue, JsValue> {
    let method: js_sys::Function = js_sys::Reflect::get(object, &name.into())?.dyn_into()?;
    js_sys::Reflect::apply(&method, object, &arguments.iter().collect())
}

/// A short buzz, where the phone has one: the reading was taken.
pub fn vibrate() {
    let navigator = window().navigator();
    if js_sys::Reflect::has(&navigator, &JsValue::from_str("vibrate")).unwrap_or(false) {
        navigator.vibrate_with_duration(20);
    }
}

/// Asks the browser, once per device, not to clear what is stored here when the device runs low.
/// The answer changes nothing for the user at this moment, so it is not told.
pub fn ask_to_keep_once() {
    const ASKED: &str = "asked to keep";
    if remembered(ASKED).is_some() {
        return;
    }
    remember(ASKED, "yes");
    if let Ok(promise) = window().navigator().storage().persist() {
        leptos::task::spawn_local(async move {
            let _: Result<JsValue, JsValue> = JsFuture::from(promise).await;
        });
    }
}
