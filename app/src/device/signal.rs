//! What the phone says without words: by shaking and by sounding. Saved and asked must not be mistaken for
//! each other with the phone in a glove or a pocket: one short shake or high beep, against two long low ones.

use super::prefs::{BEEP, BUZZ};
use super::wake::call;
use js_sys::Reflect;
use leptos::prelude::window;
use std::cell::RefCell;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::JsValue;

/// What is signalled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// It is stored.
    Saved,
    /// The app asks something, or could not save.
    Asked,
}

impl Signal {
    /// Shake, rest, shake, in milliseconds.
    const fn shakes(self) -> &'static [f64] {
        match self {
            Self::Saved => &[40.0],
            Self::Asked => &[180.0, 120.0, 180.0],
        }
    }

    /// In hertz: an octave and more apart.
    const fn pitch(self) -> f64 {
        match self {
            Self::Saved => 1320.0,
            Self::Asked => 440.0,
        }
    }

    /// Gives it, in the ways that are on.
    pub fn give(self) {
        if BUZZ.is_on() {
            self.shake();
        }
        if BEEP.is_on() {
            self.sound();
        }
    }

    /// Shakes (W3C Vibration API), where the phone can.
    pub fn shake(self) {
        let pattern: js_sys::Array = self.shakes().iter().copied().map(JsValue::from).collect();
        // A phone that does not know it has no such function.
        let _ = call(&window().navigator(), "vibrate", &[pattern.into()]);
    }

    /// Sounds (W3C Web Audio API, called by name: it is too seldom used for bindings of its own).
    pub fn sound(self) {
        // A browser without sound is silent.
        let _ = self.beeps();
    }

    fn beeps(self) -> Result<(), JsValue> {
        let audio = audio()?;
        // Let sound only after a touch, which a save is.
        call(&audio, "resume", &[])?;
        let now = get(&audio, "currentTime")?.as_f64().unwrap_or_default();
        let mut at = now;
        for (number, length) in self.shakes().iter().enumerate() {
            let length = length.max(90.0) / 1000.0;
            if number % 2 == 0 {
                let tone = call(&audio, "createOscillator", &[])?;
                Reflect::set(&get(&tone, "frequency")?, &"value".into(), &self.pitch().into())?;
                let volume = call(&audio, "createGain", &[])?;
                let level = get(&volume, "gain")?;
                Reflect::set(&level, &"value".into(), &0.4.into())?;
                // Fades, so that it does not crack.
                call(&level, "setTargetAtTime", &[0.0.into(), (at + length - 0.03).into(), 0.01.into()])?;
                call(&tone, "connect", std::slice::from_ref(&volume))?;
                call(&volume, "connect", &[get(&audio, "destination")?])?;
                call(&tone, "start", &[at.into()])?;
                call(&tone, "stop", &[(at + length).into()])?;
            }
            at += length;
        }
        Ok(())
    }
}

thread_local! {
    /// A page may open only a few.
    static AUDIO: RefCell<Option<JsValue>> = const { RefCell::new(None) };
}

fn audio() -> Result<JsValue, JsValue> {
    if let Some(audio) = AUDIO.with_borrow(Clone::clone) {
        return Ok(audio);
    }
    let made: js_sys::Function = get(&window(), "AudioContext")?.dyn_into()?;
    let audio = Reflect::construct(&made, &js_sys::Array::new())?;
    AUDIO.set(Some(audio.clone()));
    Ok(audio)
}

fn get(object: &JsValue, name: &str) -> Result<JsValue, JsValue> {
    Reflect::get(object, &name.into())
}

#[cfg(test)]
mod tests {
    use super::Signal;

    // What a phone lets a gloved hand tell apart: common practice, no source.
    #[test]
    fn saved_and_asked_differ_in_length_number_and_pitch() {
        let [saved, asked] = [Signal::Saved, Signal::Asked];
        assert!(asked.shakes().len() > saved.shakes().len());
        let longest = |signal: Signal| signal.shakes().iter().copied().fold(0.0, f64::max);
        assert!(longest(asked) >= 3.0 * longest(saved));
        assert!(saved.pitch() >= 2.0 * asked.pitch());
    }
}
