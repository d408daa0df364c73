//! The Plan tab as a whole.

use super::card::CardSlip;
use super::doubts::DoubtsSlip;
use super::hows::Hows;
use super::idle::IdleSlip;
use super::kinds::KindsSlip;
use super::measure::MeasureSlip;
use super::parts::PartsSlip;
use super::sketch::SketchSlip;
use super::state::{Capture, Panel};
use super::things::{MarkSlip, ThingSlip};
use crate::drawing::{Drawing, Tap};
use crate::keypad::desk_text;
use crate::markup::{derived, live, memo};
use crate::screens::later::{self, Wanted};
use crate::screens::{EntrySlip, LevelSlip};
use leptos::prelude::*;
use swingtie_core::record::PointId;
use swingtie_core::units::PlanPoint;

/// The live drawing and the slip below it.
#[component]
pub fn PlanScreen() -> impl IntoView {
    let capture = Capture::here();
    let sketching = derived(move || capture.panel.get() == Panel::Sketch);
    let dropped = move |(id, at): (PointId, PlanPoint)| capture.move_sketch(id, at);
    let slip = move || match capture.panel.get() {
        Panel::Idle => markup! { <IdleSlip /> },
        // Measuring needs nothing that might not have come.
        Panel::Kinds => markup! { <KindsSlip /> },
        Panel::Measure => markup! { <MeasureSlip /> },
        panel => later::part(Wanted::Slip(panel)),
    };
    // While something is looked at, the drawing it stands on must not be squeezed away.
    let looks = move || matches!(capture.panel.get(), Panel::Card(_) | Panel::Entry { .. } | Panel::Doubts);
    let picks = memo(move || capture.picks());
    // At a desk Escape is Back, which keeps what is entered.
    let keys = window_event_listener(leptos::ev::keydown, move |event| {
        if desk_text(&event).as_deref() == Some("Escape") && capture.panel.get_untracked() != Panel::Idle {
            capture.back();
        }
    });
    on_cleanup(move || keys.remove());
    markup! {
        <section class="plan-screen" aria-label="Plan">
            <h1 class="unseen">"Plan"</h1>
            <Drawing sheet=capture.sheet plan=capture.plan overlay=memo(move || capture.overlay())
                on_tap=move |tap: Tap| capture.tap(&tap) draggable=sketching on_drop=dropped within=".plan-screen" />
            <div class="slip" class:half=looks class:pick=move || picks.get()>
                {later::when_here(Wanted::Answering)}
                <WhichOne />
                {live(slip)}
                <Trouble />
            </div>
        </section>
    }
}

/// How readings are taken: asked seldom.
pub fn later_hows(open: RwSignal<bool>) -> AnyView {
    markup! { <Hows open /> }
}

/// The slips that are not needed at once: what `later` makes.
pub fn later_slip(panel: Panel) -> AnyView {
    match panel {
        Panel::Idle | Panel::Kinds | Panel::Measure => ().into_any(),
        Panel::Sketch => markup! { <SketchSlip /> },
        Panel::Thing => markup! { <ThingSlip /> },
        Panel::Mark => markup! { <MarkSlip /> },
        Panel::Level => markup! { <LevelSlip /> },
        Panel::Card(id) => markup! { <CardSlip id=id /> },
        Panel::Entry { id, points } => markup! { <EntrySlip id=id points=points /> },
        Panel::Parts(entry) => markup! { <PartsSlip entry=entry /> },
        Panel::Doubts => markup! { <DoubtsSlip /> },
    }
}

/// Several points lie under the finger: one tap more says which was meant.
#[component]
fn WhichOne() -> impl IntoView {
    let capture = Capture::here();
    live(move || {
        let points = capture.choice.get();
        (!points.is_empty()).then(|| {
            let fold = capture.site.fold.get();
            let button = |id: PointId| {
                let label = fold.record.label(&id).to_owned();
                let name = say!("This one: {label}");
                let pick = move |_| capture.tapped(Some(id.clone()), PlanPoint::default());
                markup! { <button type="button" class="chip" aria-label=name on:click=pick>{label}</button> }
            };
            markup! {
                <div class="which" role="group" aria-label="Which one?">
                    <span>"Which one?"</span>
                    {points.into_iter().map(button).collect_view()}
                </div>
            }
        })
    })
}

/// Why the last tap did nothing: it stays in sight at the slip's foot, however far the slip is scrolled.
#[component]
fn Trouble() -> impl IntoView {
    let capture = Capture::here();
    live(move || capture.trouble.get().map(|why| markup! { <p class="trouble" role="alert">{why}</p> }))
}
