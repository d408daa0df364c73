//! What the user has set on this device, each a small text under a key of its own. How the page looks (`theme`,
//! `text`, `hand`) is put on the root element by `public/start.js`, before anything is drawn.

use super::{forget, remember, remembered};
use leptos::prelude::window;
use swingtie_core::record::UnitSystem;

/// Something that is on or off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Switch {
    key: &'static str,
    /// Whether it is on where nobody has touched it.
    usually: bool,
}

/// The screen stays on while a site is open.
pub const AWAKE: Switch = Switch { key: "awake", usually: true };
/// The phone buzzes when something is saved or asked.
pub const BUZZ: Switch = Switch { key: "buzz", usually: true };
/// The phone beeps when something is saved or asked.
pub const BEEP: Switch = Switch { key: "beep", usually: false };
/// Letters and digits of a keyboard do things by themselves.
pub const KEYS: Switch = Switch { key: "keys", usually: true };
/// Lengths that were worked out are shown rounded.
pub const ROUNDED: Switch = Switch { key: "rounded", usually: false };

/// Light, dark or sunlight; unset, the device's own.
pub const THEME: &str = "theme";
/// How large text is; unset, normal.
pub const TEXT: &str = "text";
/// The hand the phone is held in; unset, the right.
pub const HAND: &str = "hand";
/// Who measures, as new sites say it.
pub const SURVEYOR: &str = "surveyor";
const UNITS: &str = "units";

impl Switch {
    /// Whether it is on.
    #[must_use]
    pub fn is_on(self) -> bool {
        remembered(self.key).map_or(self.usually, |kept| kept == "yes")
    }

    /// Turns it on or off.
    pub fn set(self, on: bool) {
        remember(self.key, if on { "yes" } else { "no" });
    }
}

/// Keeps one of a few; the usual one is no text at all.
pub fn choose(key: &str, value: &str) {
    if value.is_empty() {
        forget(key)
    } else {
        remember(key, value)
    }
    // Only there once the start-up script has run, as it has in a browser.
    if let Ok(script) = js_sys::Reflect::get(&window(), &"swingtie".into()) {
        let _ = super::call(&script, "look", &[]);
    }
}

/// How many times as large as usual text is, as the style sheet has it.
#[must_use]
pub fn text_scale() -> f64 {
    match remembered(TEXT).as_deref() {
        Some("large") => 1.3,
        Some("extra") => 1.6,
        _ => 1.0,
    }
}

const fn units_key(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::FeetInches => "feet-inches",
        UnitSystem::DecimalFeet => "feet",
        UnitSystem::Metres => "metres",
    }
}

/// How a new site's lengths are written.
#[must_use]
pub fn usual_units() -> UnitSystem {
    let kept = remembered(UNITS);
    let other = [UnitSystem::DecimalFeet, UnitSystem::Metres].into_iter();
    other.into_iter().find(|units| kept.as_deref() == Some(units_key(*units))).unwrap_or_default()
}

/// From now on new sites' lengths are written so.
pub fn set_usual_units(units: UnitSystem) {
    remember(UNITS, units_key(units));
}
