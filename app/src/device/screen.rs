//! The screen, and the hand that holds it.

use super::{remember, remembered};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;

/// The hand the phone is held in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// Controls go to the left edge.
    Left,
    /// Controls go to the right edge.
    Right,
}

const HAND: &str = "hand";

impl Hand {
    fn name(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

/// The setting. Styles read it from the root's `data-hand`.
#[derive(Clone, Copy)]
pub struct HandSetting(RwSignal<Hand>);

impl HandSetting {
    /// Reads the setting, shows it on the root element and provides it as context.
    pub fn provide() {
        let hand = if remembered(HAND).as_deref() == Some("left") { Hand::Left } else { Hand::Right };
        let setting = Self(RwSignal::new(hand));
        show(hand);
        provide_context(setting);
    }

    /// The setting.
    #[must_use]
    pub fn here() -> Self {
        expect_context()
    }

    /// Which hand. Tracked.
    #[must_use]
    pub fn get(self) -> Hand {
        self.0.get()
    }

    /// Changes it.
    pub fn set(self, hand: Hand) {
        remember(HAND, hand.name());
        show(hand);
        self.0.set(hand);
    }
}

fn show(hand: Hand) {
    if let Some(root) = document().document_element() {
        // The name is a valid attribute name.
        let _ = root.set_attribute("data-hand", hand.name());
    }
}

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
