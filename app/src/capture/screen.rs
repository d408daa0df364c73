//! The Plan tab as a whole.

use super::card::CardSlip;
use super::idle::{IdleSlip, KindsSlip};
use super::measure::MeasureSlip;
use super::sketch::SketchSlip;
use super::state::{Capture, Panel};
use super::things::{MarkSlip, ThingSlip};
use crate::drawing::{Drawing, Tap};
use leptos::prelude::*;
use swingtie_core::record::PointId;
use swingtie_core::units::PlanPoint;

/// The live drawing and the slip below it.
#[component]
pub fn PlanScreen() -> impl IntoView {
    let capture = Capture::here();
    let sketching = Signal::derive(move || capture.panel.get() == Panel::Sketch);
    let dropped = move |(id, at): (PointId, PlanPoint)| capture.move_sketch(id, at);
    let slip = move || match capture.panel.get() {
        Panel::Idle => view! { <IdleSlip /> }.into_any(),
        Panel::Kinds => view! { <KindsSlip /> }.into_any(),
        Panel::Sketch => view! { <SketchSlip /> }.into_any(),
        Panel::Measure => view! { <MeasureSlip /> }.into_any(),
        Panel::Thing => view! { <ThingSlip /> }.into_any(),
        Panel::Mark => view! { <MarkSlip /> }.into_any(),
        Panel::Card(id) => view! { <CardSlip id=id /> }.into_any(),
    };
    view! {
        <section class="plan-screen" aria-label="Plan">
            <Drawing sheet=capture.sheet plan=capture.plan overlay=Signal::derive(move || capture.overlay())
                on_tap=move |tap: Tap| capture.tap(&tap) draggable=sketching on_drop=dropped />
            <div class="slip">
                <WhichOne />
                {slip}
                <Trouble />
            </div>
        </section>
    }
}

/// Several points lie under the finger: one tap more says which was meant.
#[component]
fn WhichOne() -> impl IntoView {
    let capture = Capture::here();
    move || {
        let points = capture.choice.get();
        (!points.is_empty()).then(|| {
            let fold = capture.site.fold.get();
            let button = |id: PointId| {
                let label = fold.record.label(&id).to_owned();
                let name = format!("This one: {label}");
                let pick = move |_| capture.tapped(Some(id.clone()), PlanPoint::default());
                view! { <button type="button" class="chip" aria-label=name on:click=pick>{label}</button> }
            };
            view! {
                <div class="which" role="group" aria-label="Which one?">
                    <span>"Which one?"</span>
                    {points.into_iter().map(button).collect_view()}
                </div>
            }
        })
    }
}

/// Why the last tap did nothing, beside where it was made.
#[component]
fn Trouble() -> impl IntoView {
    let capture = Capture::here();
    move || capture.trouble.get().map(|why| view! { <p class="trouble" role="alert">{why}</p> })
}
