//! The slip of the rough sketch.

use super::chooser::Letters;
use super::idle::LastLine;
use super::naming::tidy;
use super::state::{Capture, Panel};
use crate::markup::live;
use leptos::prelude::*;

/// Tap to drop points, tap or drag to move them.
#[component]
pub fn SketchSlip() -> impl IntoView {
    let capture = Capture::here();
    let ask = move || match capture.taken.get() {
        Some(id) => {
            let fold = capture.site.fold.get();
            say!("{} is in your hand: tap where it should be.", fold.record.label(&id))
        }
        None => say!("Tap roughly where it is. It need not be right: the tape decides."),
    };
    markup! {
        <LastLine />
        <p class="ask" role="status">{live(ask)}</p>
        <div class="chooser-row">
            <input type="text" class="label-field" aria-label="Label of the next point" autocapitalize="characters"
                autocomplete="off" spellcheck="false" maxlength="8"
                prop:value=move || capture.next_label()
                on:input=move |e| capture.label.set(Some(tidy(&event_target_value(&e)))) />
            <Letters />
            {move || match capture.taken.get() {
                Some(_) => markup! {
                    <button type="button" class="main" on:click=move |_| capture.taken.set(None)>"Put back"</button>
                },
                None => markup! {
                    <button type="button" class="main" on:click=move |_| capture.open(Panel::Idle)>"Done"</button>
                },
            }}
        </div>
    }
}
