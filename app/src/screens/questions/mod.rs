//! Questions: what who draws asks back, and what is answered in the yard.

mod answering;
mod ask;
mod pins;
mod tape;
mod todo;
mod watch;

pub use answering::{Answering, AnsweringStrip};
pub use ask::Draft;
pub use pins::Marks;
pub use watch::Watch;

use super::kept::{Kept, kept};
use crate::markup::{live, memo, shown};
use crate::routes::{Route, Tab};
use crate::state::OpenSite;
use crate::words::questions as say;
use ask::{AskForm, Proposed};
use leptos::prelude::*;
use std::cell::RefCell;
use swingtie_core::checks::{Asked, questions};
use todo::{Done, ToDo};

thread_local! {
    /// Of the site that is open.
    static KEPT: Kept<Vec<Asked>> = const { RefCell::new(None) };
}

/// All questions of the open site as they stand, worked out once for all that shows them.
pub fn asked_here() -> Memo<Vec<Asked>> {
    let OpenSite { book, fold, .. } = OpenSite::here();
    kept(&KEPT, move || book.with(|book| fold.with(|fold| questions(book, fold))))
}

/// How many of them are open. Tracked.
pub fn open(asked: Memo<Vec<Asked>>) -> usize {
    asked.with(|asked| asked.iter().filter(|one| one.is_open()).count())
}

/// The screen.
#[component]
pub fn QuestionsScreen() -> impl IntoView {
    let site = OpenSite::here();
    let all = asked_here();
    let of = move |open: bool| {
        all.with(|all| all.iter().filter(|asked| asked.is_open() == open).cloned().collect::<Vec<_>>())
    };
    let standing = move || say::standing(of(true).len(), of(false).len());
    let any = move || all.with(|all| !all.is_empty());
    let open = move || of(true).into_iter().map(|asked| markup! { <ToDo asked /> }).collect_view();
    let done = move || of(false).into_iter().map(|asked| markup! { <Done asked /> }).collect_view();
    let send = Route::Site(site.id(), Tab::Package).to_hash();
    markup! {
        <div class="page">
            <h1>{say::QUESTIONS}</h1>
            <p class="hint">{say::HINT}</p>
            {shown(any, move || markup! { <p role="status">{live(standing)}</p> })}
            {shown(move || of(true).is_empty(), move || {
                let none = if of(false).is_empty() { say::NONE_OPEN } else { say::ALL_ANSWERED };
                markup! { <p class="quiet">{none}</p> }
            })}
            <ul class="todos">{live(open)}</ul>
            {shown(move || !of(false).is_empty(), move || markup! {
                <details class="left" open=of(true).is_empty()>
                    <summary>{say::ANSWERED}</summary>
                    <ul class="todos">{live(done)}</ul>
                </details>
            })}
            {shown(any, move || markup! { <a class="button button-wide" href=send.clone()>{say::SEND_BACK}</a> })}
            <h2>{say::ASK}</h2>
            <AskForm />
            <Proposed />
        </div>
    }
}

/// The way to what waits, where something does.
#[component]
pub fn Waiting() -> impl IntoView {
    let site = OpenSite::here();
    let asked = asked_here();
    let open = memo(move || open(asked));
    let to = Route::Site(site.id(), Tab::Questions).to_hash();
    shown(
        move || open.get() > 0,
        move || {
            let to = to.clone();
            markup! { <a class="button guide-link" href=to>{live(move || say::to_answer(open.get()))}</a> }
        },
    )
}
