//! The Book tab: every entry in order, with what the others say about it.

mod details;
mod rows;

use super::package::{Marked, known};
use super::parts::chips;
use crate::markup::{live, memo, rows as keyed_rows, shown};
use crate::state::OpenSite;
use crate::words;
use details::EntryDetails;
use leptos::prelude::*;
use rows::{Row, Show as Shown, rows};
use swingtie_core::record::EntryId;

/// The Book tab.
#[component]
pub fn BookScreen() -> impl IntoView {
    let site = OpenSite::here();
    let all = memo(move || rows(&site.book.get(), &site.fold.get(), &site.adjustment.get()));
    let which = RwSignal::new(Shown::All);
    let open = RwSignal::new(None::<EntryId>);
    let (sent, came) = (known(site), RwSignal::new_local(None::<Marked>));
    leptos::task::spawn_local(async move {
        let last = Marked::came(&site.store(), &site.id()).await;
        came.try_set(last);
    });
    let takes = move |row: &Row| match which.get() {
        Shown::Unsent => sent.with(|sent| sent.iter().flatten().all(|sent| !sent.has(&row.id))),
        Shown::Came => came.with(|came| came.as_ref().is_some_and(|came| came.has(&row.id))),
        other => other.takes(row),
    };
    let visible =
        move || all.with(|rows| rows.iter().rev().filter(|row| takes(row)).cloned().collect::<Vec<_>>());
    let options = move || {
        let mut options = vec![
            (Shown::All, words::SHOW_ALL.to_owned()),
            (Shown::Readings, words::SHOW_READINGS.to_owned()),
            (Shown::Doubts, words::SHOW_DOUBTS.to_owned()),
            (Shown::Unchecked, words::SHOW_UNCHECKED.to_owned()),
        ];
        // Offered where there is something to compare with.
        if sent.with(|sent| matches!(sent, Some(Some(_)))) {
            options.push((Shown::Unsent, words::package::SINCE_SENT.to_owned()));
        }
        if came.with(Option::is_some) {
            options.push((Shown::Came, words::package::CAME_LAST.to_owned()));
        }
        options
    };
    let choices =
        move || chips(words::SHOW, options(), move || Some(which.get()), move |chosen| which.set(chosen));
    let none = move || all.with(|rows| !rows.iter().any(takes));
    let nothing = move || if all.with(Vec::is_empty) { words::EMPTY_BOOK } else { words::NOTHING_HERE };
    markup! {
        <div class="page book">
            <h1>{words::BOOK}</h1>
            {live(choices)}
            <p class="hint">{words::NEWEST_FIRST}</p>
            {shown(none, move || markup! { <p class="quiet">{live(nothing)}</p> })}
            <ol class="entries" reversed>{keyed_rows(visible, move |row| markup! { <EntryRow row open /> })}</ol>
        </div>
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
    let class = if row.withdrawn.is_some() { "entry-words struck" } else { "entry-words" };
    let verdict = row.verdict.clone().map(|(sign, words)| {
        let class = if sign == "▲" { "entry-verdict wrong-verdict" } else { "entry-verdict" };
        markup! {
            <span class=class><span aria-hidden="true">{sign}" "</span>{words}</span>
        }
    });
    markup! {
        <li class="entry">
            <button type="button" class="entry-head" aria-expanded=move || is_open.get().to_string() on:click=toggle>
                <span class="entry-number">{row.number}</span>
                <span class="entry-text">
                    <span class=class>{row.words.clone()}</span>
                    {row.withdrawn.map(|how| markup! { <span class="entry-struck">{how}</span> })}
                    {verdict}
                </span>
            </button>
            {shown(move || is_open.get(), move || markup! { <EntryDetails id=id.clone() /> })}
        </li>
    }
}
