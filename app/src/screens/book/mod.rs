//! The Book tab: every entry in order, with what the others say about it.

mod details;
mod points;
mod rows;
mod slip;

pub use slip::{EntrySlip, open_entry};

use super::changes::Comparing;
use super::drafts::Drafts;
use super::kept::{Kept, kept};
use super::parts::chips;
use crate::capture::{Capture, Panel};
use crate::device::prefs;
use crate::markup::{effect, live, memo, rows as keyed_rows, shown};
use crate::state::{Home, OpenSite};
use crate::words;
use details::EntryDetails;
use leptos::prelude::*;
use points::Points;
use rows::{Row, Show as Shown, rows};
use std::cell::RefCell;
use swingtie_core::language::tr;
use swingtie_core::record::EntryId;
use wasm_bindgen::JsCast;

/// So many rows are shown at first, and so many more with each tap: a book may have thousands.
const AT_ONCE: usize = 200;

thread_local! {
    /// Of the site that is open, as fine as a tape.
    static KEPT: Kept<Vec<Row>> = const { RefCell::new(None) };
    /// The same, rounded: how lengths are written is no signal.
    static KEPT_ROUNDED: Kept<Vec<Row>> = const { RefCell::new(None) };
}

/// Every entry of the open site as the book shows it, worked out once for the list and for the slip.
fn rows_here() -> Memo<Vec<Row>> {
    let OpenSite { book, fold, adjustment, .. } = OpenSite::here();
    let (_, me) = Home::here().store();
    let place = if prefs::ROUNDED.is_on() { &KEPT_ROUNDED } else { &KEPT };
    kept(place, move || rows(&book.get(), &fold.get(), &adjustment.get(), &me))
}

/// The Book tab, or at a desk the book `beside` the plan: there an entry opens in the plan's slip, which leaves the list
/// as it is and shows the entry's points on the drawing.
#[component]
pub fn BookScreen(#[prop(optional)] beside: bool) -> impl IntoView {
    let site = OpenSite::here();
    let all = rows_here();
    let which = RwSignal::new(Shown::All);
    let open = RwSignal::new(None::<EntryId>);
    let comparing = Drafts::here().comparing;
    comparing.look(site);
    let Comparing { sent, came, .. } = comparing;
    let takes = move |row: &Row| match which.get() {
        Shown::Unsent => sent.with(|sent| sent.as_ref().is_none_or(|sent| !sent.has(&row.id))),
        Shown::Came => came.with(|came| came.as_ref().is_some_and(|came| came.has(&row.id))),
        other => other.takes(row),
    };
    let limit = RwSignal::new(AT_ONCE);
    let visible = move || {
        let rows = |rows: &Vec<Row>| {
            rows.iter().rev().filter(|row| takes(row)).take(limit.get()).cloned().collect::<Vec<_>>()
        };
        all.with(rows)
    };
    let older = memo(move || {
        all.with(|rows| rows.iter().filter(|row| takes(row)).count()).saturating_sub(limit.get())
    });
    let panel = Capture::here().panel;
    // What is looked at in the slip is in the list, however old it is.
    effect(move || {
        let Panel::Entry { id, .. } = panel.get() else { return };
        let mut shown = all.get_untracked().into_iter().rev().filter(takes);
        let place = if beside { shown.position(|row| row.id == id) } else { None };
        if let Some(place) = place.filter(|place| *place >= limit.get_untracked()) {
            limit.set(place + AT_ONCE / 2);
        }
    });
    let options = move || {
        let mut options = vec![
            (Shown::All, tr(words::SHOW_ALL).to_owned()),
            (Shown::Readings, tr(words::SHOW_READINGS).to_owned()),
            (Shown::Doubts, tr(words::SHOW_DOUBTS).to_owned()),
            (Shown::Unchecked, tr(words::SHOW_UNCHECKED).to_owned()),
            (Shown::Points, tr(words::SHOW_POINTS).to_owned()),
        ];
        // Offered where there is something to compare with.
        if sent.with(Option::is_some) {
            options.push((Shown::Unsent, tr(words::package::SINCE_SENT).to_owned()));
        }
        if came.with(Option::is_some) {
            options.push((Shown::Came, tr(words::package::CAME_LAST).to_owned()));
        }
        options
    };
    let choices = move || {
        chips(
            words::SHOW,
            options(),
            move || Some(which.get()),
            move |chosen| {
                which.set(chosen);
                limit.set(AT_ONCE);
            },
        )
    };
    let none = move || all.with(|rows| !rows.iter().any(takes));
    let nothing = move || if all.with(Vec::is_empty) { words::EMPTY_BOOK } else { words::NOTHING_HERE };
    let entries = move || {
        markup! {
            <p class="hint">{words::NEWEST_FIRST}</p>
            {shown(none, move || markup! { <p class="quiet">{live(nothing)}</p> })}
            <ol class="entries" reversed on:keydown=along>
                {keyed_rows(visible, move |row| if beside {
                    markup! { <RowBeside row /> }
                } else {
                    markup! { <EntryRow row open /> }
                })}
            </ol>
            {shown(move || older.get() > 0, move || markup! {
                <button type="button" class="button button-wide" on:click=move |_| limit.update(|limit| *limit += AT_ONCE)>
                    {move || words::older(older.get())}
                </button>
            })}
        }
    };
    let points = move || {
        let hint = if all.with(Vec::is_empty) { words::EMPTY_BOOK } else { words::POINTS_IN_WORDS };
        let counted =
            move || site.fold.with(|fold| words::book::counted_from(&site.adjustment.get(), &fold.record));
        markup! { <p class="hint">{hint}</p><p class="hint">{live(counted)}</p><Points /> }
    };
    let in_points = memo(move || which.get() == Shown::Points);
    markup! {
        <div class="page book">
            <h1>{words::BOOK}</h1>
            {live(choices)}
            {super::changes::link(words::changes::CHANGES, None)}
            {live(move || if in_points.get() { points() } else { entries() })}
        </div>
    }
}

/// Where an arrow key leads to from a row.
fn step(item: &web_sys::Element, key: &str) -> Option<web_sys::HtmlElement> {
    let item = match key {
        "ArrowDown" => item.next_element_sibling(),
        "ArrowUp" => item.previous_element_sibling(),
        _ => None,
    };
    item?.first_element_child()?.dyn_into().ok()
}

/// Where an arrow key leads to from the row that is chosen, while the book stands beside the plan.
pub fn chosen_row(key: &str) -> Option<web_sys::HtmlElement> {
    let chosen = document().query_selector(".site-beside .entry-head[aria-current]").ok().flatten()?;
    step(&chosen.parent_element()?, key)
}

/// The arrow keys go from one entry to the next.
fn along(event: leptos::ev::KeyboardEvent) {
    let here = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
    let item =
        here.filter(|here| here.class_list().contains("entry-head")).and_then(|here| here.parent_element());
    if let Some(head) = item.and_then(|item| step(&item, &event.key())) {
        event.prevent_default();
        // An element on the page takes the focus.
        let _ = head.focus();
    }
}

/// One entry of the book beside the plan; a click opens it in the slip. Entries that speak of the point that is looked at
/// are marked.
#[component]
fn RowBeside(row: Row) -> impl IntoView {
    let capture = Capture::here();
    let panel = capture.panel;
    let (id, points) = (row.id.clone(), row.points.clone());
    let chosen =
        memo(move || panel.with(|panel| matches!(panel, Panel::Entry { id: open, .. } if *open == id)));
    let about =
        memo(move || panel.with(|panel| matches!(panel, Panel::Card(point) if points.contains(point))));
    let node = NodeRef::<leptos::html::Button>::new();
    effect(move || {
        if let Some(node) = node.get().filter(|_| chosen.get()) {
            let nearest = web_sys::ScrollIntoViewOptions::new();
            nearest.set_block(web_sys::ScrollLogicalPosition::Nearest);
            node.scroll_into_view_with_scroll_into_view_options(&nearest);
        }
    });
    let id = row.id.clone();
    let open = move |_| open_entry(capture, &id);
    markup! {
        <li class="entry" class:entry-about=move || about.get()>
            <button type="button" class="entry-head" node_ref=node on:click=open
                aria-current=move || chosen.get().then_some("true")>
                {head(row)}
            </button>
        </li>
    }
}

/// One entry; a tap opens what is known about it.
#[component]
fn EntryRow(row: Row, open: RwSignal<Option<EntryId>>) -> impl IntoView {
    let (id, mine) = (row.id.clone(), row.id.clone());
    let is_open = memo(move || open.with(|open| open.as_ref() == Some(&mine)));
    let toggle = {
        let id = id.clone();
        move |_| open.update(|open| *open = if open.as_ref() == Some(&id) { None } else { Some(id.clone()) })
    };
    markup! {
        <li class="entry">
            <button type="button" class="entry-head" aria-expanded=move || is_open.get().to_string() on:click=toggle>
                {head(row)}
            </button>
            {shown(move || is_open.get(), move || markup! { <EntryDetails id=id.clone() /> })}
        </li>
    }
}

/// What a row says, after its number.
fn head(row: Row) -> AnyView {
    markup! { <span class="entry-number">{row.number}</span>{said(row)} }
}

/// The words of an entry, by whom, how it was withdrawn, and what the other readings say.
fn said(row: Row) -> AnyView {
    let class = if row.withdrawn.is_some() { "entry-words struck" } else { "entry-words" };
    let verdict = row.verdict.map(|(sign, words)| {
        let class = if sign == "▲" { "entry-verdict wrong-verdict" } else { "entry-verdict" };
        markup! {
            <span class=class><span aria-hidden="true">{sign}" "</span>{words}</span>
        }
    });
    markup! {
        <span class="entry-text">
            <span class=class>{row.words}</span>
            {row.by.map(|by| markup! { <span class="quiet">{by}</span> })}
            {row.withdrawn.map(|how| markup! { <span class="entry-struck">{how}</span> })}
            {verdict}
        </span>
    }
}
