//! The Book tab: every entry in order, with what the others say about it.

mod details;
mod rows;

use super::parts::Chips;
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
    let all = Memo::new(move |_| rows(&site.book.get(), &site.fold.get(), &site.adjustment.get()));
    let shown = RwSignal::new(Shown::All);
    let open = RwSignal::new(None::<EntryId>);
    let visible = move || {
        let shown = shown.get();
        all.with(|rows| rows.iter().rev().filter(|row| shown.takes(row)).cloned().collect::<Vec<_>>())
    };
    let options = vec![
        (Shown::All, words::SHOW_ALL.to_owned()),
        (Shown::Readings, words::SHOW_READINGS.to_owned()),
        (Shown::Doubts, words::SHOW_DOUBTS.to_owned()),
    ];
    let none = move || all.with(|rows| !rows.iter().any(|row| shown.get().takes(row)));
    let nothing = move || if all.with(Vec::is_empty) { words::EMPTY_BOOK } else { words::NOTHING_HERE };
    view! {
        <div class="page book">
            <h1>{words::BOOK}</h1>
            <Chips legend=words::SHOW options chosen=Signal::derive(move || Some(shown.get())) choose=move |s| shown.set(s) />
            <p class="hint">{words::NEWEST_FIRST}</p>
            <Show when=none><p class="quiet">{nothing}</p></Show>
            <ol class="entries" reversed>
                <For each=visible key=Clone::clone children=move |row| view! { <EntryRow row open /> } />
            </ol>
        </div>
    }
}

/// One entry; a tap opens what is known about it.
#[component]
fn EntryRow(row: Row, open: RwSignal<Option<EntryId>>) -> impl IntoView {
    let (id, mine) = (row.id.clone(), row.id.clone());
    let is_open = Memo::new(move |_| open.with(|open| open.as_ref() == Some(&mine)));
    let toggle = {
        let id = id.clone();
        move |_| open.update(|open| *open = if open.as_ref() == Some(&id) { None } else { Some(id.clone()) })
    };
    let class = if row.withdrawn.is_some() { "entry-words struck" } else { "entry-words" };
    let verdict = row.verdict.clone().map(|(sign, words)| {
        let class = if sign == "▲" { "entry-verdict wrong-verdict" } else { "entry-verdict" };
        view! {
            <span class=class><span aria-hidden="true">{sign}" "</span>{words}</span>
        }
    });
    view! {
        <li class="entry">
            <button type="button" class="entry-head" aria-expanded=move || is_open.get().to_string() on:click=toggle>
                <span class="entry-number">{row.number}</span>
                <span class="entry-text">
                    <span class=class>{row.words.clone()}</span>
                    {row.withdrawn.map(|how| view! { <span class="entry-struck">{how}</span> })}
                    {verdict}
                </span>
            </button>
            <Show when=move || is_open.get()><EntryDetails id=id.clone() /></Show>
        </li>
    }
}
