//! Time and chance, which core is never allowed to know by itself.

use leptos::prelude::window;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// The wall clock, milliseconds since 1970.
#[must_use]
pub fn now_ms() -> i64 {
    #[allow(clippy::cast_possible_truncation, reason = "milliseconds since 1970 are far below 2^53")]
    let now = js_sys::Date::now() as i64;
    now
}

/// Today's date where the phone is, `YYYY-MM-DD`.
#[must_use]
pub fn today() -> String {
    let now = js_sys::Date::new_0();
    format!("{:04}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}

/// The day and minute where the phone is, `YYYY-MM-DD HH:MM`.
#[must_use]
pub fn this_minute() -> String {
    let now = js_sys::Date::new_0();
    format!("{} {:02}:{:02}", today(), now.get_hours(), now.get_minutes())
}

/// A moment as the phone's user writes it, in the phone's time.
#[must_use]
pub fn local_time(ms: i64) -> String {
    #[allow(clippy::cast_precision_loss, reason = "milliseconds since 1970 are far below 2^53")]
    let date = js_sys::Date::new(&JsValue::from_f64(ms as f64));
    String::from(date.to_locale_string("default", &js_sys::Object::new()))
}

/// Digits and letters without those that are mistaken for each other.
const ALPHABET: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";

/// A fresh id of 100 random bits, from the browser's cryptographic source.
#[must_use]
pub fn random_id() -> String {
    let mut bytes = [0_u8; 20];
    if let Ok(crypto) = window().crypto() {
        // Fails only for more than 65536 bytes.
        let _ = crypto.get_random_values_with_u8_array(&mut bytes);
    }
    id_from(&bytes)
}

/// Five bits of each byte as one sign.
fn id_from(bytes: &[u8]) -> String {
    bytes.iter().filter_map(|byte| ALPHABET.get(usize::from(byte & 31)).copied()).map(char::from).collect()
}

/// Waits.
pub async fn sleep(ms: i32) {
    let promise = js_sys::Promise::new(&mut |resolve, _| {
        let _ = window().set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, ms);
    });
    let _: Result<JsValue, JsValue> = JsFuture::from(promise).await;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_has_a_sign_for_every_byte() {
        assert_eq!(id_from(&[0, 31, 32, 255, 10]), "0z0za");
    }
}
