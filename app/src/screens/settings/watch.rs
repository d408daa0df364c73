//! What goes on while a site is open, and shows nothing.

use super::tape::usual_how;
use crate::capture::Capture;
use crate::device::{self, Signal};
use crate::markup::effect;
use crate::state::OpenSite;
use leptos::prelude::*;

/// Keeps the screen on, tells what is saved and what is asked, and puts the usual tape into the hand of who
/// has not measured here yet.
#[component]
pub fn Watch() -> impl IntoView {
    let (site, capture) = (OpenSite::here(), Capture::here());
    device::stay_awake();
    if site.fold.with_untracked(|fold| fold.record.measurements.is_empty()) {
        capture.hand.update(|hand| hand.how = usual_how());
    }
    let known = StoredValue::new(site.book.with_untracked(|book| book.len()));
    effect(move || {
        let now = site.book.with(|book| book.len());
        let before = known.get_value();
        known.set_value(now);
        // What another window wrote is told there.
        if now > before && document().visibility_state() == web_sys::VisibilityState::Visible {
            Signal::Saved.give();
        }
    });
    effect(move || {
        if capture.doubt.with(Option::is_some) || capture.trouble.with(Option::is_some) {
            Signal::Asked.give();
        }
    });
}
