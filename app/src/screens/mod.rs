//! The screens, and the frame around them.

mod arrows;
mod asked;
mod book;
mod changes;
mod details;
mod drafts;
mod ground;
mod guide;
mod kept;
mod keys;
pub mod later;
mod leave;
mod levels;
mod new_site;
mod notes;
mod package;
mod parts;
mod photos;
mod problems;
mod questions;
mod settings;
mod sheet;
mod site;
mod sites;

pub use asked::{Answers, Asked, AskedMore, more, put, rows as asked_rows, tidied};
pub use book::{EntrySlip, open_entry};
pub use details::{fetch_north_by_anchors, north_by_anchors};
pub use drafts::Drafts;
pub use levels::{Booking, LevelSlip};
pub use parts::{PointSelect, TextField, exact, exact_named};
pub use photos::PhotosHere;

use crate::device::{self, NewVersion};
use crate::markup::{live, memo, shown};
use crate::notices::{NoticeBoard, Notices};
use crate::routes::{Route, Router, Tab};
use crate::state::{Home, Received, open_store};
use crate::store::{Access, SiteId, Store, StoreError};
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::AuthorId;

type Opened = Option<Result<(Store, AuthorId), StoreError>>;

/// The whole app.
#[component]
pub fn Shell() -> impl IntoView {
    Notices::provide();
    Router::provide();
    let new_version = device::watch_for_updates();
    let opened: RwSignal<Opened, LocalStorage> = RwSignal::new_local(None);
    let limit: RwSignal<Option<&'static str>> = RwSignal::new(None);
    let held = RwSignal::new(false);
    leptos::task::spawn_local(async move {
        let store = open_store(move || held.set(true)).await;
        opened.set(Some(store.clone()));
        let Ok((store, _)) = store else { return };
        if store.access() == Access::Reading {
            limit.set(Some(words::ONLY_READING));
        }
        let newer = store.until_taken().await;
        limit.set(Some(if newer { words::TAKEN_OVER } else { words::TAKEN_AWAY }));
    });
    let pages = move || match opened.get() {
        None => markup! {
            <main class="page sites">
                <h1 class="brand at-first">"Swingtie"</h1>
                {opening(if held.get() { words::HELD } else { words::OPENING })}
            </main>
        },
        Some(Err(error)) => {
            markup! { <p class="page wrong" role="alert">{words::no_store(&error)}</p> }
        }
        Some(Ok((store, author))) => markup! { <Pages store author /> },
    };
    markup! {
        {live(move || match limit.get() {
            Some(why) => limited(why, new_version, limit),
            None => markup! { <NewVersionBanner new_version /> },
        })}
        {live(pages)}
        <NoticeBoard />
    }
}

/// As the page stands before the program has come (`public/index.html`): nothing moves when it has.
fn opening(how_far: &'static str) -> AnyView {
    markup! {
        <p class="lead at-first">{words::WHAT_IT_IS}</p>
        <p class="quiet" role="status">{how_far}</p>
    }
}

/// Says what cannot be done with the store any more, and the way on.
fn limited(why: &'static str, new_version: NewVersion, limit: RwSignal<Option<&'static str>>) -> AnyView {
    let again = move |_| {
        if new_version.waits() {
            return new_version.take();
        }
        // Refused only while the page is left anyway.
        let _ = window().location().reload();
    };
    markup! {
        <div class="banner" role="alert">
            <span>{why}</span>
            <div class="buttons">
                <button type="button" class="button" on:click=again>{words::LOAD_AGAIN}</button>
                <button type="button" class="button" on:click=move |_| limit.set(None)>{words::CLOSE}</button>
            </div>
        </div>
    }
}

/// Says that a new version waits; takes it only when told to.
#[component]
fn NewVersionBanner(new_version: NewVersion) -> impl IntoView {
    let banner = move || {
        markup! {
            <div class="banner" role="status">
                <span>{words::NEW_VERSION}</span>
                <div class="buttons">
                    <button type="button" class="button" on:click=move |_| new_version.take()>{words::USE_IT}</button>
                    <button type="button" class="button" on:click=move |_| new_version.later()>{words::LATER}</button>
                </div>
            </div>
        }
    };
    shown(move || new_version.waits(), banner)
}

#[derive(Clone, PartialEq)]
enum Page {
    Sites,
    New,
    Settings,
    Site(SiteId),
}

/// The page the route names. A site stays open while its tabs change.
#[component]
fn Pages(store: Store, author: AuthorId) -> impl IntoView {
    Home::provide(store, author);
    later::Later::provide();
    Received::provide(Router::here());
    let router = Router::here();
    let page = memo(move || match router.route() {
        Route::Sites => Page::Sites,
        Route::New => Page::New,
        Route::Settings => Page::Settings,
        Route::Site(id, _) => Page::Site(id),
    });
    live(move || match page.get() {
        Page::Sites => markup! { <sites::SitesScreen /> },
        Page::New => markup! { <new_site::NewSiteScreen /> },
        Page::Settings => markup! {
            <main>
                <p class="page-top"><a class="button back" href=Route::Sites.to_hash()>{words::BACK_TO_SITES}</a></p>
                {later::part(later::Wanted::Tab(Tab::Settings))}
            </main>
        },
        Page::Site(id) => markup! { <site::SiteScreen id /> },
    })
}
