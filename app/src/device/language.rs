//! The language of the page, as `public/start.js` found it: the one chosen in the settings, else the browser's own.

use super::prefs::choose;
use super::remembered;
use leptos::prelude::window;
use swingtie_core::language;
use wasm_bindgen::JsValue;

/// The languages there are: their tags (RFC 5646), and their names in themselves.
pub const LANGUAGES: [(&str, &str); 2] = [("en", "English"), ("es", "Español")];

const KEY: &str = "language";

/// Speaks as the page does. Without a table the program speaks English.
pub fn adopt() {
    let get = |name: &str| {
        let script = js_sys::Reflect::get(&window(), &JsValue::from_str("swingtie")).ok()?;
        js_sys::Reflect::get(&script, &JsValue::from_str(name)).ok()?.as_string()
    };
    if let Some(table) = get("words").filter(|table| !table.is_empty()) {
        let decimal = get("decimal").and_then(|sign| sign.chars().next());
        language::speak(&spoken(), table, decimal.unwrap_or('.'));
    }
}

/// The tag of the language spoken.
#[must_use]
pub fn spoken() -> String {
    let page = window().document().and_then(|document| document.document_element());
    page.and_then(|page| page.get_attribute("lang")).unwrap_or_default()
}

/// Another language, from the next start of the page on, which comes at once: what is recorded or half typed is
/// kept by then.
pub fn choose_language(tag: &str) {
    if remembered(KEY).as_deref() != Some(tag) {
        choose(KEY, tag);
        // A page that cannot be loaded again speaks it when it is opened next.
        let _ = window().location().reload();
    }
}
