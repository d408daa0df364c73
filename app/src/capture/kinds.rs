//! The list of kinds of measurement.

use super::draft::Kind;
use super::idle::SlipHead;
use super::state::Capture;
use crate::markup::live;
use crate::routes::{Route, Router, Tab};
use crate::words::capture as words;
use leptos::prelude::*;

/// The kinds most yards are measured with; the others take their place when asked for, so that a phone
/// shows either without scrolling.
#[component]
pub fn KindsSlip() -> impl IntoView {
    let (capture, router) = (Capture::here(), Router::here());
    let more = RwSignal::new(false);
    let button = move |kind: Kind| {
        let (name, hint) = (words::kind(kind), words::kind_hint(kind));
        markup! {
            <button type="button" class="kind" aria-label=say!("{name}, {hint}") on:click=move |_| capture.start(kind)>
                <strong>{name}</strong>" "
                <span>{hint}</span>
            </button>
        }
    };
    let kinds = move || {
        let kinds: &[Kind] = if more.get() { &Kind::SELDOM } else { &Kind::OFTEN };
        kinds.iter().copied().map(button).collect_view()
    };
    markup! {
        <SlipHead title=say!("Measure") />
        <div class="kinds">{live(kinds)}</div>
        <div class="pair">
            <button type="button" on:click=move |_| more.update(|more| *more = !*more)>
                {move || if more.get() { words::USUAL_KINDS } else { words::MORE_KINDS }}
            </button>
            <button type="button" on:click=move |_| router.go(&Route::Site(capture.site.id(), Tab::Levels))>
                {words::HEIGHTS_BY_LEVEL}
            </button>
        </div>
    }
}
