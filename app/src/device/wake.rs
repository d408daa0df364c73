//! The screen stays on.

use super::prefs::AWAKE;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::JsValue;
use wasm_bindgen_futures::JsFuture;

/// Keeps the screen on for as long as the calling component lives, where the phone can and the user wants
/// it. The phone lets go when the page is hidden, so it is asked for again when the page comes back.
pub fn stay_awake() {
    let held: StoredValue<Option<JsValue>, LocalStorage> = StoredValue::new_local(None);
    let let_go = move || {
        if let Some(Some(lock)) = held.try_update_value(Option::take) {
            let _ = call(&lock, "release", &[]);
        }
    };
    let ask = move || {
        let_go();
        if document().visibility_state() != web_sys::VisibilityState::Visible || !AWAKE.is_on() {
            return;
        }
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
    let back = window_event_listener(leptos::ev::visibilitychange, move |_| ask());
    on_cleanup(move || {
        back.remove();
        let_go();
    });
}

/// The switch was touched: what keeps the screen on looks again, as it does when the page comes back.
pub fn look_at_awake_again() {
    if let Ok(event) = web_sys::Event::new("visibilitychange") {
        let _ = window().dispatch_event(&event);
    }
}

/// The screen wake lock (W3C Screen Wake Lock API), called by name: web-sys still counts it as unstable.
async fn wake_lock() -> Result<JsValue, JsValue> {
    let service = js_sys::Reflect::get(&window().navigator(), &"wakeLock".into())?;
    JsFuture::from(js_sys::Promise::from(call(&service, "request", &["screen".into()])?)).await
}

/// Calls what an object has under a name; fails where it has no such function.
pub(super) fn call(object: &JsValue, name: &str, arguments: &[JsValue]) -> Result<JsValue, JsValue> {
    let method: js_sys::Function = js_sys::Reflect::get(object, &name.into())?.dyn_into()?;
    js_sys::Reflect::apply(&method, object, &arguments.iter().collect())
}
