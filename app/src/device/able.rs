//! What this browser can, where browsers differ. What it cannot, the screens say, with what to do instead.

use super::wake::call;
use super::{remember, remembered};
use js_sys::{Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// Whether it can keep the screen on (W3C Screen Wake Lock API).
#[must_use]
pub fn keeps_awake() -> bool {
    has(&window().navigator(), "wakeLock")
}

/// Whether it can shake (W3C Vibration API). A desk has nothing to shake with; browsers say so of phones alone.
#[must_use]
pub fn shakes() -> bool {
    has(&window().navigator(), "vibrate")
}

/// Whether it speaks (W3C Web Speech API).
#[must_use]
pub fn speaks() -> bool {
    has(&window(), "speechSynthesis")
}

/// Whether it tells pages which way the device looks from north (W3C Device Orientation and Motion).
#[must_use]
pub fn tells_north() -> bool {
    has(&window(), "ondeviceorientationabsolute")
}

fn has(object: &JsValue, name: &str) -> bool {
    Reflect::has(object, &name.into()).unwrap_or(false)
}

/// Whether it can be asked to keep what is stored here (WHATWG Storage, section 6).
#[must_use]
pub fn can_be_asked_to_keep() -> bool {
    storage().is_ok_and(|storage| has(&storage, "persist"))
}

/// Whether it has agreed not to clear by itself what is stored here.
pub async fn has_agreed_to_keep() -> bool {
    answer("persisted").await.is_some_and(|said| said.is_truthy())
}

/// Asks it to keep what is stored here; whether it has agreed.
pub async fn ask_to_keep() -> bool {
    answer("persist").await.is_some_and(|said| said.is_truthy())
}

/// Asks it once per device, when the first thing is recorded. The answer changes nothing for the user at this moment, so
/// it is not told; the settings say it and ask again.
pub fn ask_to_keep_once() {
    const ASKED: &str = "asked to keep";
    if remembered(ASKED).is_some() {
        return;
    }
    remember(ASKED, "yes");
    leptos::task::spawn_local(async {
        ask_to_keep().await;
    });
}

/// Bytes used here and bytes that may be used altogether; none where the browser does not say.
pub async fn room() -> Option<(u64, u64)> {
    let told = answer("estimate").await?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a number of bytes")]
    let number = |key: &str| Some(Reflect::get(&told, &key.into()).ok()?.as_f64()? as u64);
    Some((number("usage")?, number("quota")?))
}

fn storage() -> Result<JsValue, JsValue> {
    let storage = Reflect::get(&window().navigator(), &"storage".into())?;
    if storage.is_object() { Ok(storage) } else { Err(storage) }
}

/// What the storage says to a question; nothing where it knows no such question, or will not say.
async fn answer(question: &str) -> Option<JsValue> {
    let promise = call(&storage().ok()?, question, &[]).ok()?;
    JsFuture::from(Promise::resolve(&promise)).await.ok()
}

/// Whether it is open as an app of its own, from the home screen.
#[must_use]
pub fn is_installed() -> bool {
    let standalone = window().match_media("(display-mode: standalone)").ok().flatten();
    // Some phones say it in a way of their own.
    let by_phone = || Reflect::get(&window().navigator(), &"standalone".into());
    standalone.is_some_and(|query| query.matches()) || by_phone().is_ok_and(|said| said.is_truthy())
}

const OFFER: &str = "offer";

/// Whether the browser has offered to put the app on the home screen: `public/start.js` keeps the offer.
#[must_use]
pub fn offers_install() -> bool {
    script().is_ok_and(|script| Reflect::get(&script, &OFFER.into()).is_ok_and(|offer| offer.is_truthy()))
}

/// Takes the offer: the browser asks the user. An offer holds once.
pub fn install() {
    let Ok(script) = script() else { return };
    if let Ok(offer) = Reflect::get(&script, &OFFER.into()) {
        // The browser tells the user itself how it went.
        let _ = call(&offer, "prompt", &[]);
        let _ = Reflect::set(&script, &OFFER.into(), &JsValue::NULL);
    }
}

fn script() -> Result<JsValue, JsValue> {
    Reflect::get(&window(), &"swingtie".into())
}
