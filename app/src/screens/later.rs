//! The screens beside the plan: a part of the program of its own, fetched right after the first
//! screen. `wasm_split` takes them, and all that nothing else uses, out of the first load.

use super::{book, details, leave, problems, sheet};
use crate::markup::live;
use crate::routes::Tab;
use crate::words;
use leptos::prelude::*;
use std::pin::pin;
use std::task::{Context, Poll, Waker};
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// How far that part is.
#[derive(Clone, Copy, PartialEq)]
enum Part {
    Coming,
    Here,
    Missing,
}

/// What is known of that part. Copied freely.
#[derive(Clone, Copy)]
pub struct Later(RwSignal<Part>);

impl Later {
    /// Provides it as context and has the part fetched.
    pub fn provide() {
        let later = Self(RwSignal::new(Part::Coming));
        provide_context(later);
        later.fetch();
    }

    fn fetch(self) {
        self.0.set(Part::Coming);
        leptos::task::spawn_local(async move {
            let fetched = fetch().await;
            self.0.set(if fetched.is_ok() { Part::Here } else { Part::Missing });
        });
    }
}

/// The screen of any tab but the plan.
pub fn screen(tab: Tab) -> AnyView {
    let later: Later = expect_context();
    // Opening a tab is a try of its own.
    if later.0.get_untracked() == Part::Missing {
        later.fetch();
    }
    let part = move || match later.0.get() {
        Part::Coming => opening(),
        Part::Here => made(tab),
        Part::Missing => markup! {
            <div class="page">
                <p class="wrong" role="alert">{words::NO_SCREENS}</p>
                <button type="button" class="button" on:click=move |_| later.fetch()>{words::TRY_AGAIN}</button>
            </div>
        },
    };
    live(part).into_any()
}

fn opening() -> AnyView {
    markup! { <p class="page quiet" role="status">{words::OPENING}</p> }
}

/// Made at once: the part is here, so that nothing is waited for.
fn made(tab: Tab) -> AnyView {
    match pin!(build(tab)).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(Ok(view)) => view,
        Poll::Ready(Err(_)) | Poll::Pending => opening(),
    }
}

#[wasm_split(screens, fallible, preload(fetch))]
fn build(tab: Tab) -> Result<AnyView, SplitLoaderError> {
    Ok(match tab {
        // The plan is in the first load, and not asked for here.
        Tab::Plan => opening(),
        Tab::Book => markup! { <book::BookScreen /> },
        Tab::Problems => markup! { <problems::ProblemsScreen /> },
        Tab::AddProblem => markup! { <problems::AddProblem /> },
        Tab::AddMark => markup! { <problems::AddMark /> },
        Tab::Sheet => markup! { <sheet::SheetScreen /> },
        Tab::Leave => markup! { <leave::LeaveScreen /> },
        Tab::Details => markup! { <details::DetailsScreen /> },
    })
}
