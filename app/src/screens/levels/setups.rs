//! The set-ups with their readings, what does not fit, and where a point was reached twice.

use super::bench::level_book;
use super::desk::Draft;
use crate::capture::Capture;
use crate::markup::{live, memo};
use crate::routes::Router;
use crate::screens::drafts::Drafts;
use crate::state::{OpenSite, saving};
use crate::words::{self as all, levels as words};
use leptos::prelude::*;
use swingtie_core::levels::{LevelCause, LevelFinding, Levels, SetUp, setups};
use swingtie_core::record::{EntryId, LevelReading, Record, Statement};

/// What was said in an entry, if it stands.
fn said<'a>(record: &'a Record, entry: &EntryId) -> Option<&'a LevelReading> {
    record.levels.iter().find(|l| l.entry == *entry).map(|l| &l.what)
}

/// What the user should know, with what can be done about it.
#[component]
pub fn Findings(levels: Memo<Levels>) -> impl IntoView {
    let site = Capture::here().site;
    let list = move || {
        let fold = site.fold.get();
        let item = |finding: &LevelFinding| {
            let doings = match finding {
                LevelFinding::Suspect { entry, rivals, causes, .. } => {
                    // Where another may be wrong as well, nobody knows what this one was meant to be.
                    let cause = causes.first().filter(|_| rivals.is_empty());
                    let meant = cause.and_then(|cause| meant(entry, cause, &fold.record));
                    let all = std::iter::once(entry).chain(rivals);
                    let with = said(&fold.record, entry).map(|said| said.with).unwrap_or_default();
                    let all = all.filter_map(|entry| suspect(entry, &fold.record)).collect_view();
                    let (router, capture, draft) = (Router::here(), Capture::here(), Drafts::here().level);
                    markup! {
                        <div class="buttons">
                            {meant}
                            <button type="button" class="button" on:click=move |_| draft.begin(with, router, capture)>{words::LOOK_AGAIN}</button>
                        </div>
                        {all}
                    }
                }
                _ => ().into_any(),
            };
            markup! { <li class="level-finding"><p>{words::finding(finding, &fold.record)}</p>{doings}</li> }
        };
        // What heights count from has a place of its own.
        let told = |f: &&LevelFinding| !matches!(f, LevelFinding::DatumAssumed { .. });
        let items: Vec<_> = levels.with(|levels| levels.findings.iter().filter(told).map(item).collect());
        (!items.is_empty()).then(|| markup! { <ul class="items">{items}</ul> })
    };
    live(list)
}

/// Writes the reading as it was meant most likely.
fn meant(entry: &EntryId, cause: &LevelCause, record: &Record) -> Option<AnyView> {
    let site = OpenSite::here();
    let now = LevelReading { reading: cause.meant.clone(), ..said(record, entry)?.clone() };
    let name = words::correct_to(&cause.meant.text);
    let entry = entry.clone();
    let correct = move |_| {
        let now = Box::new(Statement::Level(now.clone()));
        let correction = Statement::Correct { entry: entry.clone(), now };
        saving(async move { site.say(vec![correction]).await.map(drop) });
    };
    Some(markup! { <button type="button" class="button" on:click=correct>{name}</button> })
}

/// A reading that does not agree, with what can be done about it.
fn suspect(entry: &EntryId, record: &Record) -> Option<AnyView> {
    let said = said(record, entry)?.clone();
    let name = words::reading(&said, record);
    Some(markup! {
        <div class="level-reading" role="group" aria-label=name.clone()>
            <strong>{name}</strong>
            <span class="buttons">{doings(entry.clone(), said, Drafts::here().level)}</span>
        </div>
    })
}

/// Corrects or strikes a reading.
fn doings(entry: EntryId, said: LevelReading, draft: Draft) -> AnyView {
    let (site, router, capture) = (OpenSite::here(), Router::here(), Capture::here());
    let name = site.fold.with_untracked(|fold| words::reading(&said, &fold.record));
    let edited = entry.clone();
    let strike = move |_| {
        let entry = entry.clone();
        saving(async move { site.strike(entry).await });
    };
    markup! {
        <button type="button" class="button" aria-label=words::correct_named(&name)
            on:click=move |_| draft.edit(&edited, &said, router, capture)>{all::CORRECT}</button>
        <button type="button" class="button button-plain" aria-label=all::strike_named(&name) on:click=strike>{all::STRIKE}</button>
    }
}

/// The set-ups; a tap opens one.
#[component]
pub fn SetUps(levels: Memo<Levels>) -> impl IntoView {
    let site = Capture::here().site;
    let draft = Drafts::here().level;
    let open = RwSignal::new(None::<EntryId>);
    let all = memo(move || setups(&site.fold.get().record));
    let one = move |(number, setup): (usize, SetUp)| {
        let id = setup.id.clone();
        let is_open = {
            let id = id.clone();
            memo(move || open.with(|open| open.as_ref() == Some(&id)))
        };
        let toggle = move |_| {
            open.update(|open| *open = if open.as_ref() == Some(&id) { None } else { Some(id.clone()) })
        };
        let head = {
            let setup = setup.clone();
            move || site.fold.with(|fold| words::set_up(number, &setup, &fold.record))
        };
        let rows = move || {
            let rows = is_open.get().then(|| {
                let fold = site.fold.get();
                let row = |entry: &EntryId| {
                    let said = said(&fold.record, entry)?.clone();
                    let fits = levels.with(|levels| {
                        levels.readings.iter().find(|r| r.entry == *entry).map(|r| words::fits(r, fold.record.site.units))
                    });
                    Some(markup! {
                        <li class="level-reading">
                            <span><strong>{words::reading(&said, &fold.record)}</strong>" "<span class="quiet">{fits}</span></span>
                            <span class="buttons">{doings(entry.clone(), said, draft)}</span>
                        </li>
                    })
                };
                setup.rods.iter().filter_map(|rod| row(&rod.entry)).collect_view()
            });
            rows.map(|rows| markup! { <ul>{rows}</ul> })
        };
        markup! {
            <li class="level-setup">
                <button type="button" class="button button-wide" aria-expanded=move || is_open.get().to_string() on:click=toggle>
                    {live(head)}
                </button>
                {live(rows)}
            </li>
        }
    };
    let list = move || (1..).zip(all.get()).map(one).collect_view();
    markup! {
        <section class="part">
            <h2>{words::SET_UPS}</h2>
            <ol class="items">{live(list)}</ol>
        </section>
    }
}

/// How well the set-ups close on each other, with what is allowed.
#[component]
pub fn Closings(levels: Memo<Levels>) -> impl IntoView {
    let site = Capture::here().site;
    let list = move || {
        let fold = site.fold.get();
        let record = &fold.record;
        let (_, closings) = level_book(record);
        if closings.is_empty() && levels.with(|levels| levels.redundancy) == 0 {
            return markup! { <p class="quiet">{words::NO_CLOSING}</p> };
        }
        let row = |closing: &swingtie_core::levels::Closing| {
            let class = if closing.closes() { "" } else { "wrong" };
            markup! { <li class=class>{words::closing(closing, record)}</li> }
        };
        markup! { <ul class="closings">{closings.iter().map(row).collect_view()}</ul> }
    };
    markup! {
        <section class="part">
            <h2>{words::CLOSINGS}</h2>
            {live(list)}
        </section>
    }
}
