//! The screen.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;

/// Whether the screen is wide enough for plan and book side by side. Follows the window for as long
/// as the calling component lives.
pub fn wide_screen() -> ReadSignal<bool> {
    let (wide, set_wide) = signal(false);
    if let Ok(Some(query)) = window().match_media("(min-width: 96rem)") {
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
