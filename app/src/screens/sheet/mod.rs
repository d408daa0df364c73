//! The drawn-to-scale sheet, and the files to take away.

mod choices;
mod hand;

use crate::device;
use crate::markup::{effect, live, shown};
use crate::office::{PlanFiles, plan_files};
use crate::routes::{Route, Tab};
use crate::state::{OpenSite, Shared};
use crate::store::SiteId;
use crate::words;
use crate::words::sheet as say;
use choices::{Choices, ChoicesForm};
use hand::{Files, HandOn, Source};
use leptos::prelude::*;
use swingtie_core::sheet::Options as SheetOptions;

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

/// Has the files made, again with each change of the book, of the choices or of `again`.
fn making(site: OpenSite, choices: RwSignal<Choices>, again: RwSignal<u32>) -> MadeSignal {
    let made = RwSignal::new_local(Made::Waits);
    let asked = StoredValue::new(0_u32);
    effect(move || {
        again.track();
        let options = choices.with(Choices::options);
        let (fold, adjustment, plan) = (site.fold.get(), site.adjustment.get(), site.plan.get());
        let number = asked.get_value().wrapping_add(1);
        asked.set_value(number);
        if !matches!(made.get_untracked(), Made::Files(_)) {
            made.set(Made::Waits);
        }
        leptos::task::spawn_local(async move {
            let outcome = plan_files(&fold, &adjustment, &plan, options).await;
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

/// How the sheets of a site shall be, as kept on this device.
#[must_use]
pub fn sheet_options(site: &SiteId) -> SheetOptions {
    Choices::kept(site).options()
}

/// The Sheet tab.
#[component]
pub fn SheetScreen() -> impl IntoView {
    let site = OpenSite::here();
    let again = RwSignal::new(0_u32);
    let choices = RwSignal::new(Choices::kept(&site.id()));
    effect(move || choices.with(|choices| choices.keep(&site.id())));
    let made = making(site, choices, again);
    let source = Source::here(made, choices);
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
            <HandOn source />
            <a class="button button-wide" href=Route::Site(site.id(), Tab::Leave).to_hash()>{words::LEAVE}</a>
            <a class="button button-wide" href=Route::Site(site.id(), Tab::Package).to_hash()>{words::package::SENT_LINK}</a>
            <ChoicesForm choices />
            {live(drawn)}
            <Files source />
            <p class="hint">{words::SHEET_CAUTION}</p>
        </div>
    }
}

/// The sheets as pictures, by their own files: what is seen is what is saved.
#[component]
fn Drawn(files: Shared<PlanFiles>) -> impl IntoView {
    let of = files.sheets.len();
    let urls = files.sheets.iter().filter_map(|sheet| {
        let svg = files.file(&sheet.name)?;
        device::text_url(&svg, "image/svg+xml")
    });
    let urls: Vec<String> = urls.collect();
    let kept = urls.clone();
    on_cleanup(move || kept.iter().for_each(|url| device::revoke_url(url)));
    let pictures = (1..).zip(urls).map(|(n, url)| {
        markup! {
            <a class="sheet-paper" href=url.clone() target="_blank" aria-label=say::open_sheet(n, of)>
                <img src=url alt=say::alt(n, of) loading="lazy" />
            </a>
        }
    });
    // The first at once; the others when they are wanted, so that what stands below stays near.
    let mut pictures: Vec<AnyView> = pictures.collect();
    let others = pictures.split_off(pictures.len().min(1));
    let others = (!others.is_empty()).then(|| {
        markup! {
            <details class="exact">
                <summary>{say::other_sheets(of)}</summary>
                <div class="sheet-papers">{others}</div>
            </details>
        }
    });
    let remarks = files.notices.iter().cloned().map(|remark| markup! { <li>{remark}</li> }).collect_view();
    let units = OpenSite::here().units();
    let mut scales: Vec<String> = files.sheets.iter().map(|sheet| sheet.scale.words(units)).collect();
    scales.dedup();
    let facts = files.sheets.first().map(|first| say::facts(first.paper.name, first.paper.size, &scales, of));
    markup! {
        <p class="quiet">{facts}</p>
        {pictures}
        {others}
        <ul class="hint">{remarks}</ul>
    }
}
