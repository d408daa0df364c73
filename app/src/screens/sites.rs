//! The list of sites, or what to do when there is none.

use crate::device;
use crate::markup::{live, shown};
use crate::notices::Notices;
use crate::office;
use crate::routes::{Route, Router, Tab};
use crate::screens::later::{self, Wanted};
use crate::state::{Home, Kept, Received, SaveError, SiteCard, saving};
use crate::store::{SiteId, StoreError};
use crate::words;
use leptos::prelude::*;
use swingtie_core::book::Book;
use swingtie_core::language::tr;

type Listed = Option<Result<Vec<SiteCard>, StoreError>>;

/// The start screen.
#[component]
pub fn SitesScreen() -> impl IntoView {
    let home = Home::here();
    let listed: RwSignal<Listed> = RwSignal::new(None);
    let list = Callback::new(move |()| {
        leptos::task::spawn_local(async move {
            let sites = home.sites().await;
            listed.try_set(Some(sites));
        });
    });
    list.run(());
    let body = move || match listed.get() {
        None => super::opening(words::OPENING),
        Some(Err(error)) => markup! { <p class="wrong" role="alert">{words::no_store(&error)}</p> },
        Some(Ok(cards)) if cards.is_empty() => markup! { <Nothing /> },
        Some(Ok(cards)) => markup! { <Cards cards changed=list />{later::when_here(Wanted::Unpromised)} },
    };
    let received = Received::here();
    let sites = move || {
        markup! {
            {live(body)}
            {shown(move || listed.with(Option::is_some), move || markup! {
                <Import />
                <a class="button button-wide" href=Route::Settings.to_hash()>{words::settings::SETTINGS}</a>
                <p class="hint">{words::NOT_BOUNDARY}</p>
            })}
        }
    };
    let sites = live(move || match received.waiting() {
        Some(_) => later::part(Wanted::Receive(received)),
        None => sites(),
    });
    markup! {
        <main class="page sites">
            <h1 class="brand">"Swingtie"</h1>
            {sites}
        </main>
    }
}

/// The empty list.
#[component]
fn Nothing() -> impl IntoView {
    markup! {
        <p class="lead">{words::WHAT_IT_IS}</p>
        <div class="big-buttons">
            <a class="button button-main button-wide" href=Route::New.to_hash()>{words::NEW_SITE}</a>
            <DemoButton />
        </div>
    }
}

/// Opens the demo yard as a site of its own.
#[component]
fn DemoButton() -> impl IntoView {
    let (home, router, notices) = (Home::here(), Router::here(), Notices::here());
    let open = move |_| {
        saving(async move {
            match office::demo().await {
                Ok(book) => enter(home, router, &book).await,
                Err(error) => {
                    notices.warn(words::no_demo(&error.to_string()));
                    Ok(())
                }
            }
        });
    };
    markup! { <button type="button" class="button button-wide" on:click=open>{words::DEMO}</button> }
}

/// Takes a book in and goes to its plan.
async fn enter(home: Home, router: Router, book: &Book) -> Result<(), SaveError> {
    let id = home.take_in(book).await?;
    router.go(&Route::Site(id, Tab::Plan));
    Ok(())
}

/// The list.
#[component]
fn Cards(cards: Vec<SiteCard>, changed: Callback<()>) -> impl IntoView {
    let rows = cards.into_iter().map(|card| markup! { <Card card changed /> }).collect_view();
    markup! {
        <h2 class="unseen">{words::SITES}</h2>
        <ul class="cards">{rows}</ul>
        <div class="big-buttons">
            <a class="button button-main button-wide" href=Route::New.to_hash()>{words::NEW_SITE}</a>
            <DemoButton />
        </div>
    }
}

#[component]
fn Card(card: SiteCard, changed: Callback<()>) -> impl IntoView {
    let href = Route::Site(card.id.clone(), Tab::Plan).to_hash();
    let name = tr(words::site_title(&card.site)).to_owned();
    let under = [card.site.date.clone(), card.site.client.clone()];
    let under: Vec<String> = under.into_iter().filter(|text| !text.is_empty()).collect();
    markup! {
        <li class="card">
            <a class="card-link" href=href>
                <span class="card-name">{name.clone()}</span>
                <span class="quiet">{under.join(", ")}</span>
                <span>{card.standing.words()}</span>
                {later::when_here(Wanted::Copies(card.id.clone(), card.kept.clone(), false))}
            </a>
            <Remove id=card.id name kept=card.kept changed />
        </li>
    }
}

/// Takes a site off the device, after asking.
#[component]
fn Remove(id: SiteId, name: String, kept: Kept, changed: Callback<()>) -> impl IntoView {
    let home = Home::here();
    let lost = Wanted::Copies(id.clone(), kept, true);
    let asking = RwSignal::new(false);
    let forget = move |_| {
        let id = id.clone();
        saving(async move {
            home.forget(&id).await?;
            changed.run(());
            Ok(())
        });
    };
    let forget = StoredValue::new(forget);
    let remove = move || {
        if !asking.get() {
            return markup! {
                <button type="button" class="button button-danger" on:click=move |_| asking.set(true)>
                    {words::REMOVE_SITE}
                </button>
            };
        }
        let sure = move |event| forget.with_value(|forget| forget(event));
        markup! {
            <p>{words::REMOVE_SURE}</p>
            {later::when_here(lost.clone())}
            <div class="buttons">
                <button type="button" class="button button-danger" on:click=sure>{words::REMOVE_YES}</button>
                <button type="button" class="button" on:click=move |_| asking.set(false)>{words::CANCEL}</button>
            </div>
        }
    };
    markup! {
        <details class="card-more" on:toggle=move |_| asking.set(false)>
            <summary aria-label=say!("More about {name}")>"⋯"</summary>
            {live(remove)}
        </details>
    }
}

/// Opens a package, a book or a table from a file.
#[component]
fn Import() -> impl IntoView {
    let received = Received::here();
    let picked = move |event: web_sys::Event| {
        if let Some(file) = device::picked_file(&event) {
            received.take(file);
        }
    };
    markup! {
        <label class="file-button">
            <span class="button button-wide">{words::IMPORT}</span>
            <input type="file" accept=".zip,.jsonl,.csv,application/zip,application/jsonl,text/csv" aria-label=words::IMPORT
                on:change=picked />
            <span class="hint">{words::IMPORT_HINT}</span>
        </label>
    }
}
