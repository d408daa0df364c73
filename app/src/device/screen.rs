//! The screen.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;

#[wasm_bindgen]
extern "C" {
    /// In `public/start.js`.
    #[wasm_bindgen(js_namespace = swingtie, js_name = shown)]
    fn frame() -> js_sys::Promise;

    /// In `public/start.js`.
    #[wasm_bindgen(js_namespace = swingtie)]
    fn rests(least: f64) -> js_sys::Promise;

    /// In `public/start.js`: what keeps its size on the drawing within this selector is so many metres of the plan for
    /// each CSS pixel.
    #[wasm_bindgen(js_namespace = swingtie, js_name = scaled)]
    pub fn scale_signs(metres: f64, within: &str);
}

/// Waits until the hand rests: nothing was touched for half a second, which is longer than from one quick tap
/// to the next. What takes longer than a tap may wait, and nobody waits for, is done then.
pub async fn hand_rests() {
    let _: Result<JsValue, JsValue> = JsFuture::from(rests(500.0)).await;
}

/// Between two pieces of what takes longer than a tap may: whoever taps meets one of them at most.
pub async fn breath() {
    let _: Result<JsValue, JsValue> = JsFuture::from(rests(150.0)).await;
}

/// Waits until the browser has drawn what is on the page now, or for a moment where nothing is drawn.
pub async fn shown() {
    let _: Result<JsValue, JsValue> = JsFuture::from(frame()).await;
}

/// Whether the screen is wide enough for book, plan and slip side by side: 1024 CSS pixels, more where text is set
/// larger. Follows the window for as long as the calling component lives.
pub fn wide_screen() -> ReadSignal<bool> {
    let (wide, set_wide) = signal(false);
    let least = 1024.0 * super::prefs::text_scale();
    if let Ok(Some(query)) = window().match_media(&format!("(min-width: {least}px)")) {
        set_wide.set(query.matches());
        let now = query.clone();
        let on_change = Closure::<dyn FnMut()>::new(move || {
            set_wide.try_set(now.matches());
        });
        query.set_onchange(Some(on_change.as_ref().unchecked_ref()));
        let held = StoredValue::new_local((query, on_change));
        on_cleanup(move || {
            held.try_with_value(|(query, _)| query.set_onchange(None));
        });
    }
    wide
}
