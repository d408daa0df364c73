//! What changed since an earlier state of the book: in words on a screen of its own, and on the plan.

mod marks;
mod since;

pub use marks::{Compared, Moves};
pub use since::{Comparing, Since};

use super::Drafts;
use super::parts::chips;
use super::questions::asked_here;
use crate::capture::{Capture, Panel};
use crate::device;
use crate::markup::live;
use crate::routes::{Route, Router, Tab};
use crate::state::OpenSite;
use crate::words::changes as say;
use crate::words::{self, Names};
use leptos::prelude::*;
use since::{changes_here, mornings};
use swingtie_core::language::tr;
use swingtie_core::record::PointId;

/// The way here; with what to compare with, where that is clear.
pub fn link(words: &'static str, since: Option<Since>) -> AnyView {
    let comparing = Drafts::here().comparing;
    let to = Route::Site(OpenSite::here().id(), Tab::Changes).to_hash();
    let choose = move |_| {
        if since.is_some() {
            comparing.since.set(since);
        }
    };
    markup! { <a class="button button-wide" href=to on:click=choose>{words}</a> }
}

/// The screen.
#[component]
pub fn ChangesScreen() -> impl IntoView {
    let (site, router) = (OpenSite::here(), Router::here());
    let comparing = Drafts::here().comparing;
    comparing.look(site);
    let back = Route::Site(site.id(), Tab::Book).to_hash();
    let days =
        site.book.with_untracked(|book| mornings(book.entries().map(|entry| entry.at_ms), device::morning));
    let choices = move || {
        let mut options = Vec::new();
        if comparing.sent.with(Option::is_some) {
            options.push((Since::Sent, tr(say::SINCE_SENT).to_owned()));
        }
        if comparing.came.with(Option::is_some) {
            options.push((Since::Came, tr(say::SINCE_CAME).to_owned()));
        }
        options.extend(
            days.iter().map(|day| (Since::Day(*day), say::since_morning(&device::day_and_month(*day)))),
        );
        if options.is_empty() {
            return markup! { <p class="quiet">{say::NOTHING_EARLIER}</p> };
        }
        chips(
            say::SINCE,
            options,
            move || comparing.since.get(),
            move |since| comparing.since.set(Some(since)),
        )
    };
    let (changes, asked) = (changes_here(), asked_here());
    let told = move || {
        let Some(changes) = changes.get() else { return markup! { <p class="hint">{say::CHOOSE}</p> } };
        let (book, fold) = (site.book.get(), site.fold.get());
        let (names, asked) = (Names::new(&book, &fold.record), asked.get());
        let beside = say::Beside { record: &fold.record, names: &names, asked: &asked };
        let sections = say::sections(&changes, &beside);
        if sections.is_empty() && changes.entries.is_empty() {
            return markup! { <p class="good" role="status">{say::NOTHING}</p> };
        }
        let laid = say::laid(&changes).map(|laid| markup! { <p class="hint">{laid}</p> });
        markup! {
            <p role="status">{say::written(&changes)}</p>
            {laid}
            {sections.into_iter().map(section).collect_view()}
        }
    };
    let on_plan = move |_| router.go(&Route::Site(site.id(), Tab::Plan));
    let end = move |_| comparing.since.set(None);
    let buttons = move || {
        comparing.since.get().map(|_| {
            markup! {
                <div class="buttons">
                    <button type="button" class="button button-main" on:click=on_plan>{say::ON_THE_PLAN}</button>
                    <button type="button" class="button" on:click=end>{say::END}</button>
                </div>
            }
        })
    };
    markup! {
        <div class="page changes">
            <a class="button back" href=back>{words::BOOK}</a>
            <h1>{say::CHANGES}</h1>
            <p class="hint">{say::HINT}</p>
            {live(choices)}
            {live(buttons)}
            {live(told)}
        </div>
    }
}

/// One sort of change.
fn section(section: say::Section) -> AnyView {
    let heading = section.heading();
    let lines = section.lines.into_iter().map(line).collect_view();
    if section.minor {
        return markup! {
            <details class="left">
                <summary>{heading}</summary>
                <ul class="changed">{lines}</ul>
            </details>
        };
    }
    markup! { <section><h2>{heading}</h2><ul class="changed">{lines}</ul></section> }
}

/// A line; of a point a tap shows it on the plan.
fn line(line: say::Line) -> AnyView {
    let say::Line { words, point } = line;
    let Some(point) = point else { return markup! { <li>{words}</li> } };
    let (capture, router) = (Capture::here(), Router::here());
    markup! {
        <li><button type="button" class="changed-point" on:click=move |_| show(capture, router, &point)>{words}</button></li>
    }
}

/// A point on the plan, with its card.
pub fn show(capture: Capture, router: Router, point: &PointId) {
    capture.open(Panel::Card(point.clone()));
    // Wherever the drawing was left: the point must be in sight.
    capture.sheet.follows.set(true);
    router.go(&Route::Site(capture.site.id(), Tab::Plan));
}
