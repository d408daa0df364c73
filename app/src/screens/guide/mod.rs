//! The guided walk for who never did it: one question a screen, each answered with the ordinary screens, so
//! that it writes the same entries. Whether a question is answered, the book says; the device remembers only
//! where one was, so that it goes on after any interruption.

mod pictures;
mod steps;

use super::leave::{go, missing};
use crate::capture::{Advised, Capture, Kind, Panel};
use crate::device;
use crate::markup::{derived, effect, live, memo, shown};
use crate::routes::{Route, Router, Tab};
use crate::state::OpenSite;
use crate::words;
use leptos::prelude::*;
use steps::{Does, STEPS, Step, so_far};

/// Where the device keeps the step one was at.
fn place(site: OpenSite) -> String {
    format!("guide {}", site.id())
}

/// The question that is open.
#[component]
pub fn GuideScreen() -> impl IntoView {
    let (site, capture, router) = (OpenSite::here(), Capture::here(), Router::here());
    let kept = place(site);
    let lines = memo(move || missing(site, capture));
    let done = move |step: &Step| site.fold.with(|fold| lines.with(|lines| (step.done)(&fold.record, lines)));
    // Where one was, else the first question the book does not answer.
    let was = device::remembered(&kept).and_then(|key| STEPS.iter().position(|step| step.key == key));
    let first = was.or_else(|| untrack(|| STEPS.iter().position(|step| !done(step)))).unwrap_or_default();
    let at = RwSignal::new(first);
    let remembered = kept.clone();
    effect(move || {
        if let Some(step) = STEPS.get(at.get()) {
            device::remember(&remembered, step.key);
        }
    });
    let moved = StoredValue::new(false);
    let question = move || {
        let step = STEPS.get(at.get())?;
        let came = moved.get_value();
        moved.set_value(true);
        let partly = move || site.fold.with(|fold| lines.with(|lines| so_far(step, &fold.record, lines)));
        let (done, partly) = (derived(move || done(step)), derived(partly));
        Some(markup! { <Question step done partly came at /> })
    };
    let row = move |(number, step): (usize, &'static Step)| {
        let state = move || words::step_state(done(step), number < at.get());
        let here = move || (at.get() == number).then_some("step");
        markup! {
            <li>
                <button type="button" class="button button-plain" aria-current=here on:click=move |_| at.set(number)>
                    {step.asks}" "<span class="quiet">{live(state)}</span>
                </button>
            </li>
        }
    };
    let end = move |_| {
        device::forget(&kept);
        router.go_instead(Route::Site(site.id(), Tab::Plan));
    };
    markup! {
        <div class="page guide">
            <p class="quiet">{move || words::step_of(at.get() + 1, STEPS.len())}</p>
            {live(question)}
            <details class="left">
                <summary>{words::GUIDE_STEPS}</summary>
                <ol class="guide-steps">{STEPS.iter().enumerate().map(row).collect_view()}</ol>
            </details>
            <button type="button" class="button button-plain" on:click=end>{words::GUIDE_END}</button>
        </div>
    }
}

/// One question with its drawing. `came`: from another question.
#[component]
fn Question(
    step: &'static Step,
    done: Signal<bool>,
    partly: Signal<Option<String>>,
    came: bool,
    at: RwSignal<usize>,
) -> impl IntoView {
    let capture = Capture::here();
    let heading = NodeRef::<leptos::html::H1>::new();
    // The button that led here stood at the foot of a long page.
    effect(move || {
        if let Some(heading) = heading.get().filter(|_| came) {
            if let Some(page) = heading.parent_element() {
                page.scroll_into_view_with_bool(true);
            }
            // An element on the page takes the focus.
            let _ = heading.focus();
        }
    });
    let advises = matches!(step.does, Does::Advised);
    if advises {
        capture.advising.show();
    }
    let advised = memo(move || advises.then(|| capture.advising.all().into_iter().next()).flatten());
    let last = at.get_untracked() + 1 >= STEPS.len();
    let open = move || match advised.get() {
        Some(advice) => markup! { <Advised advice /> },
        None => markup! {
            <button type="button" class="button button-wide" class:button-main=move || !done.get()
                on:click=move |_| open(step)>{step.opens}</button>
        },
    };
    let next = move |_| at.update(|at| *at += 1);
    let name = move || if done.get() { words::GUIDE_NEXT } else { words::GUIDE_SKIP };
    markup! {
        <h1 tabindex="-1" node_ref=heading>{step.asks}</h1>
        <div class="guide-picture" aria-hidden="true">{(step.picture)()}</div>
        <p>{step.help}</p>
        {shown(move || done.get(), || markup! { <p class="good" role="status">{words::GUIDE_ANSWERED}</p> })}
        {live(move || partly.get().filter(|_| !done.get()).map(|said| markup! { <p role="status">{said}</p> }))}
        {live(open)}
        {(!last).then(|| markup! {
            <button type="button" class="button button-wide" class:button-main=move || done.get() on:click=next>{live(name)}</button>
        })}
    }
}

/// Opens where a question is answered.
fn open(step: &Step) {
    let (site, capture, router) = (OpenSite::here(), Capture::here(), Router::here());
    let tab = match &step.does {
        Does::Tie | Does::Advised => {
            capture.start(Kind::Tie);
            Tab::Plan
        }
        Does::Things => {
            capture.open(Panel::Thing);
            Tab::Plan
        }
        Does::Problem => Tab::AddProblem,
        Does::List => Tab::Leave,
        Does::Mends(mend) => return go(mend),
    };
    router.go(&Route::Site(site.id(), tab));
}

/// The way in from the plan: before anything is measured, and wherever the walk was left.
#[component]
pub fn GuideLink() -> impl IntoView {
    let site = OpenSite::here();
    let under_way = device::remembered(&place(site)).is_some();
    let bare = memo(move || site.fold.with(|fold| fold.record.measurements.is_empty()));
    let name = if under_way { words::GUIDE_ON } else { words::GUIDE_START };
    let to = Route::Site(site.id(), Tab::Guide).to_hash();
    shown(
        move || under_way || bare.get(),
        move || {
            markup! { <a class="button button-plain guide-link" href=to.clone()>{name}</a> }
        },
    )
}
