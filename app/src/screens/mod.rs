//! The screens, and the frame around them.

mod book;
mod details;
mod leave;
mod new_site;
mod parts;
mod problems;
mod sheet;
mod site;
mod sites;

pub use problems::ProblemDraft;

use crate::device::{self, HandSetting, NewVersion};
use crate::notices::{NoticeBoard, Notices};
use crate::routes::{Route, Router};
use crate::state::{Home, open_store};
use crate::store::{SiteId, Store, StoreError};
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::AuthorId;

type Opened = Option<Result<(Store, AuthorId), StoreError>>;

/// The whole app.
#[component]
pub fn Shell() -> impl IntoView {
    Notices::provide();
    Router::provide();
    HandSetting::provide();
    let new_version = device::watch_for_updates();
    let opened: RwSignal<Opened, LocalStorage> = RwSignal::new_local(None);
    leptos::task::spawn_local(async move { opened.set(Some(open_store().await)) });
    let pages = move || match opened.get() {
        None => view! { <p class="page quiet" role="status">{words::OPENING}</p> }.into_any(),
        Some(Err(error)) => {
            view! { <p class="page wrong" role="alert">{words::no_store(&error)}</p> }.into_any()
        }
        Some(Ok((store, author))) => view! { <Pages store author /> }.into_any(),
    };
    view! {
        <NewVersionBanner new_version />
        {pages}
        <NoticeBoard />
    }
}

/// Says that a new version waits; takes it only when told to.
#[component]
fn NewVersionBanner(new_version: NewVersion) -> impl IntoView {
    view! {
        <Show when=move || new_version.waits()>
            <div class="banner" role="status">
                <span>{words::NEW_VERSION}</span>
                <div class="buttons">
                    <button type="button" class="button" on:click=move |_| new_version.take()>{words::USE_IT}</button>
                    <button type="button" class="button" on:click=move |_| new_version.later()>{words::LATER}</button>
                </div>
            </div>
        </Show>
    }
}

#[derive(Clone, PartialEq)]
enum Page {
    Sites,
    New,
    Site(SiteId),
}

/// The page the route names. A site stays open while its tabs change.
#[component]
fn Pages(store: Store, author: AuthorId) -> impl IntoView {
    Home::provide(store, author);
    let router = Router::here();
    let page = Memo::new(move |_| match router.route() {
        Route::Sites => Page::Sites,
        Route::New => Page::New,
        Route::Site(id, _) => Page::Site(id),
    });
    move || match page.get() {
        Page::Sites => view! { <sites::SitesScreen /> }.into_any(),
        Page::New => view! { <new_site::NewSiteScreen /> }.into_any(),
        Page::Site(id) => view! { <site::SiteScreen id /> }.into_any(),
    }
}
