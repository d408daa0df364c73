//! The drawn-to-scale sheet, and the files to take away.

use crate::device;
use crate::markup::{effect, live, shown};
use crate::notices::Notices;
use crate::office::{PlanFiles, plan_files};
use crate::state::{OpenSite, Shared};
use crate::words;
use leptos::prelude::*;
use wasm_bindgen::JsValue;

/// What that part of the program has made of the book.
#[derive(Clone, PartialEq)]
enum Made {
    /// Not yet anything.
    Waits,
    /// Of the book as it stands, or, for a moment, as it stood.
    Files(Shared<PlanFiles>),
    /// Nothing, and why.
    Failed(String),
}

type MadeSignal = RwSignal<Made, LocalStorage>;

/// Has the files made, again with each change of the book or of `again`.
fn making(site: OpenSite, again: RwSignal<u32>) -> MadeSignal {
    let made = RwSignal::new_local(Made::Waits);
    let asked = StoredValue::new(0_u32);
    effect(move || {
        again.track();
        let (fold, adjustment, plan) = (site.fold.get(), site.adjustment.get(), site.plan.get());
        let number = asked.get_value().wrapping_add(1);
        asked.set_value(number);
        if !matches!(made.get_untracked(), Made::Files(_)) {
            made.set(Made::Waits);
        }
        leptos::task::spawn_local(async move {
            let outcome = plan_files(&fold, &adjustment, &plan).await;
            // A later change of the book is already under way, or the screen is gone.
            if asked.try_get_value() == Some(number) {
                made.set(match outcome {
                    Ok(files) => Made::Files(Shared::new(files)),
                    Err(error) => Made::Failed(error.to_string()),
                });
            }
        });
    });
    made
}

/// The Sheet tab.
#[component]
pub fn SheetScreen() -> impl IntoView {
    let site = OpenSite::here();
    let again = RwSignal::new(0_u32);
    let made = making(site, again);
    let empty = move || site.plan.with(|plan| plan.points.is_empty());
    let drawn = move || match made.get() {
        Made::Waits => markup! { <p class="quiet" role="status">{words::DRAWING_SHEET}</p> },
        Made::Failed(why) => {
            let retry = move |_| again.update(|again| *again += 1);
            markup! {
                <p class="wrong" role="alert">{words::no_office(&why)}</p>
                <button type="button" class="button" on:click=retry>{words::TRY_AGAIN}</button>
            }
        }
        Made::Files(files) => markup! { <Drawn files /> },
    };
    markup! {
        <div class="page sheet">
            <h1>{words::SHEET_TITLE}</h1>
            {shown(empty, || markup! { <p>{words::SHEET_WAITS}</p> })}
            {live(drawn)}
            <Files made />
            <p class="hint">{words::SHEET_CAUTION}</p>
        </div>
    }
}

/// The sheet as a picture, by its own file: what is seen is what is saved.
#[component]
fn Drawn(files: Shared<PlanFiles>) -> impl IntoView {
    let url = files.file("plan.svg").and_then(|svg| device::text_url(&svg, "image/svg+xml"));
    let (link, kept) = (url.clone(), url.clone());
    on_cleanup(move || {
        if let Some(url) = kept {
            device::revoke_url(&url);
        }
    });
    let remarks = files.notices.iter().cloned().map(|remark| markup! { <li>{remark}</li> }).collect_view();
    markup! {
        <p class="quiet">{words::sheet_facts(files.paper, files.size, &files.scale)}</p>
        <a class="sheet-paper" href=link target="_blank" aria-label=words::SHEET_OPEN>
            <img src=url alt=words::SHEET_ALT />
        </a>
        <ul class="hint">{remarks}</ul>
    }
}

/// The downloads, the same bytes the desk command writes.
#[component]
fn Files(made: MadeSignal) -> impl IntoView {
    const OTHERS: [(&str, &str, &str); 5] = [
        ("plan.svg", "image/svg+xml", words::GET_SVG),
        ("plan.geojson", "application/geo+json", words::GET_GEOJSON),
        ("plan.fg.json", "application/vnd.ogc.fg+json", words::GET_LOCAL),
        ("points.csv", "text/csv", words::GET_POINTS),
        ("measurements.csv", "text/csv", words::GET_MEASUREMENTS),
    ];
    let site = OpenSite::here();
    let text = move |name| {
        made.with_untracked(|made| match made {
            Made::Files(files) => files.file(name).map(JsValue::from),
            _ => None,
        })
    };
    let ready = move |name| made.with(|made| matches!(made, Made::Files(files) if files.has(name)));
    let why_not = move |name| {
        made.with(|made| match made {
            Made::Files(files) if name == "plan.geojson" => files.no_map.as_deref().map(words::no_map),
            _ => None,
        })
    };
    let rows = OTHERS.map(|(name, media_type, title)| {
        markup! {
            <li>
                <button type="button" class="button button-wide" disabled=move || !ready(name)
                    on:click=move |_| if let Some(text) = text(name) { save(name, media_type, &text) }>
                    {title}
                </button>
                {live(move || why_not(name).map(|why| markup! { <p class="hint">{why}</p> }))}
            </li>
        }
    });
    // The book needs no other part of the program: a copy of it can be had whatever happens.
    let book =
        move |_| save("book.jsonl", "application/jsonl", &site.book.get_untracked().to_json_lines().into());
    markup! {
        <h2>{words::FILES}</h2>
        <ul class="files">
            {rows.collect_view()}
            <li><button type="button" class="button button-wide" on:click=book>{words::GET_BOOK}</button></li>
        </ul>
        <p class="hint">{words::BOOK_HINT}</p>
    }
}

fn save(name: &'static str, media_type: &str, text: &JsValue) {
    let notices = Notices::here();
    match device::download(name, media_type, text) {
        Ok(()) => notices.say(words::file_saved(name)),
        Err(error) => notices.warn(words::file_not_saved(name, &error.to_string())),
    }
}
