//! The drawn-to-scale sheet, and the files to take away.

use crate::device;
use crate::notices::Notices;
use crate::state::OpenSite;
use crate::words;
use leptos::prelude::*;
use swingtie_core::exchange::{Options as OutputOptions, geojson, outputs};
use swingtie_core::place::Stated;
use swingtie_core::sheet::{Drawing, Options, draw};

/// The Sheet tab.
#[component]
pub fn SheetScreen() -> impl IntoView {
    let site = OpenSite::here();
    let drawing = Memo::new(move |_| {
        let fold = site.fold.get();
        draw(&fold.record, &site.adjustment.get(), &site.plan.get(), &Options::default())
    });
    let empty = move || site.plan.with(|plan| plan.points.is_empty());
    let remarks = move || {
        drawing.with(|d| d.notices.clone().into_iter().map(|n| view! { <li>{n}</li> }).collect_view())
    };
    view! {
        <div class="page sheet">
            <h1>{words::SHEET_TITLE}</h1>
            <p class="quiet">{move || drawing.with(|d| words::sheet_facts(d, site.units()))}</p>
            <Show when=empty><p>{words::SHEET_WAITS}</p></Show>
            <Preview drawing />
            <ul class="hint">{remarks}</ul>
            <Files drawing />
            <p class="hint">{words::SHEET_CAUTION}</p>
        </div>
    }
}

/// The sheet as a picture, by its own file: what is seen is what is saved.
#[component]
fn Preview(drawing: Memo<Drawing>) -> impl IntoView {
    let url = Memo::new(move |last: Option<&Option<String>>| {
        if let Some(Some(last)) = last {
            device::revoke_url(last);
        }
        drawing.with(|drawing| device::text_url(&drawing.svg, "image/svg+xml"))
    });
    on_cleanup(move || {
        if let Some(Some(url)) = url.try_get_untracked() {
            device::revoke_url(&url);
        }
    });
    view! {
        <a class="sheet-paper" href=move || url.get().unwrap_or_default() target="_blank" aria-label=words::SHEET_OPEN>
            <img src=move || url.get().unwrap_or_default() alt=words::SHEET_ALT />
        </a>
    }
}

/// The downloads, the same bytes the desk command writes.
#[component]
fn Files(drawing: Memo<Drawing>) -> impl IntoView {
    let site = OpenSite::here();
    let map =
        Memo::new(move |_| geojson::write(&site.fold.get().record, &site.plan.get(), &Stated::default()));
    let why_not = Signal::derive(move || map.get().err().map(|why| words::no_map(&why.to_string())));
    let other = move |name| {
        let (fold, adjustment) = (site.fold.get_untracked(), site.adjustment.get_untracked());
        let made = outputs(&fold.record, &adjustment, &site.plan.get_untracked(), &OutputOptions::default());
        made.files.into_iter().find(|file| file.name == name).map(|file| file.text).unwrap_or_default()
    };
    let svg = move || drawing.get_untracked().svg;
    let geojson = move || map.get_untracked().unwrap_or_default();
    let book = move || site.book.get_untracked().to_json_lines();
    let never = Signal::derive(|| None);
    view! {
        <h2>{words::FILES}</h2>
        <ul class="files">
            <FileButton name="plan.svg" media_type="image/svg+xml" title=words::GET_SVG text=svg why_not=never />
            <FileButton name="plan.geojson" media_type="application/geo+json" title=words::GET_GEOJSON text=geojson why_not />
            <FileButton name="points.csv" media_type="text/csv" title=words::GET_POINTS text=move || other("points.csv") why_not=never />
            <FileButton name="measurements.csv" media_type="text/csv" title=words::GET_MEASUREMENTS
                text=move || other("measurements.csv") why_not=never />
            <FileButton name="book.jsonl" media_type="application/jsonl" title=words::GET_BOOK text=book why_not=never />
        </ul>
        <p class="hint">{words::BOOK_HINT}</p>
    }
}

/// One file to take away; disabled with the reason beside it where it cannot be made.
#[component]
fn FileButton(
    name: &'static str,
    media_type: &'static str,
    title: &'static str,
    text: impl Fn() -> String + Copy + Send + Sync + 'static,
    why_not: Signal<Option<String>>,
) -> impl IntoView {
    let notices = Notices::here();
    let save = move |_| match device::download(name, media_type, &text()) {
        Ok(()) => notices.say(words::file_saved(name)),
        Err(error) => notices.warn(words::file_not_saved(name, &error.to_string())),
    };
    view! {
        <li>
            <button type="button" class="button button-wide" disabled=move || why_not.get().is_some() on:click=save>
                {title}
            </button>
            {move || why_not.get().map(|why| view! { <p class="hint">{why}</p> })}
        </li>
    }
}
