//! Reading back aloud (W3C Web Speech API, speech synthesis), and whether it is wanted. Off until somebody
//! switches it on; speaking itself comes with the later part, and a device without a voice stays silent.

use super::{forget, remember, remembered};
use crate::screens::later::at_once;
use crate::words::aloud;
use leptos::prelude::window;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::JsValue;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

const ALOUD: &str = "read aloud";

/// Whether readings are read back aloud on this device.
#[must_use]
pub fn reads_aloud() -> bool {
    remembered(ALOUD).is_some()
}

/// Has readings read back aloud from now on, or no longer.
pub fn set_reads_aloud(on: bool) {
    if on { remember(ALOUD, "yes") } else { forget(ALOUD) }
}

/// Says it, figure by figure, in place of whatever is being said; nothing unless that is wanted, nor before
/// the part is here that speaks: what is on the screen says the same.
pub fn say_aloud(words: &str) {
    if reads_aloud() && !words.is_empty() {
        at_once(speak(words));
    }
}

/// Speaks, in the part of the program that comes after the first screen.
///
/// # Errors
/// When that part is not there.
#[wasm_split(screens, fallible, preload(fetch_voice))]
pub fn speak(words: &str) -> Result<(), SplitLoaderError> {
    // A device without a voice is no error.
    let _ = utter(&aloud(words));
    Ok(())
}

fn utter(words: &str) -> Result<(), JsValue> {
    let get = |object: &JsValue, name: &str| js_sys::Reflect::get(object, &name.into());
    let method = |name: &str| get(&get(&window(), "speechSynthesis")?, name)?.dyn_into::<js_sys::Function>();
    let voice = get(&window(), "speechSynthesis")?;
    let utterance: js_sys::Function = get(&window(), "SpeechSynthesisUtterance")?.dyn_into()?;
    let said = js_sys::Reflect::construct(&utterance, &js_sys::Array::of1(&words.into()))?;
    js_sys::Reflect::set(&said, &"lang".into(), &super::language::spoken().into())?;
    method("cancel")?.call0(&voice)?;
    method("speak")?.call1(&voice, &said)?;
    Ok(())
}
