//! What this browser does with what is recorded, and how the app is opened like any other.

use crate::device::able;
use crate::markup::{live, shown};
use crate::words::settings as words;
use leptos::prelude::*;

/// The last part of the settings.
#[component]
pub fn ThisBrowser() -> impl IntoView {
    markup! {
        <section class="part">
            <h2>{words::BROWSER}</h2>
            <Keeping />
            <Room />
            <HomeScreen />
        </section>
    }
}

/// Whether the browser has agreed to clear nothing by itself; nothing until it has answered.
fn agreed() -> RwSignal<Option<bool>> {
    let agreed = RwSignal::new(None);
    leptos::task::spawn_local(async move {
        let now = able::has_agreed_to_keep().await;
        agreed.try_set(Some(now));
    });
    agreed
}

/// Whether what is recorded may be cleared, and what to do then.
#[component]
fn Keeping() -> impl IntoView {
    let agreed = agreed();
    let refused = RwSignal::new(false);
    let ask = move |_| {
        leptos::task::spawn_local(async move {
            let now = able::ask_to_keep().await;
            agreed.try_set(Some(now));
            refused.try_set(!now);
        });
    };
    let told = move || {
        Some(match agreed.get()? {
            true => markup! { <p>{words::IS_KEPT}</p> },
            false => markup! {
                <p>{words::MAY_CLEAR}</p>
                {able::can_be_asked_to_keep().then(|| markup! {
                    <button type="button" class="button" on:click=ask>{words::ASK_TO_KEEP}</button>
                })}
            },
        })
    };
    markup! {
        <div class="setting">
            {live(told)}
            <p role="status">{move || refused.get().then_some(words::NOT_AGREED)}</p>
            <p class="hint">{words::CLEARED_BY_HAND}</p>
        </div>
    }
}

/// How much there is, and how much more there is room for, where the browser says.
#[component]
fn Room() -> impl IntoView {
    let told = RwSignal::new(None);
    leptos::task::spawn_local(async move {
        let now = able::room().await;
        told.try_set(now);
    });
    live(move || told.get().map(|(used, whole)| markup! { <p class="hint">{words::room(used, whole)}</p> }))
}

/// One line under the list of sites where the browser may clear them, with the way to what can be done.
#[component]
pub fn Unpromised() -> impl IntoView {
    let agreed = agreed();
    shown(
        move || agreed.get() == Some(false),
        || {
            markup! {
                <p class="hint">{words::MAY_BE_CLEARED}</p>
                <a class="button button-plain" href=crate::routes::Route::Settings.to_hash()>{words::WHAT_TO_DO}</a>
            }
        },
    )
}

/// The way to the home screen: the browser's own, where it has offered it, or in words.
#[component]
fn HomeScreen() -> impl IntoView {
    let offered = RwSignal::new(able::offers_install());
    let take = move |_| {
        able::install();
        offered.set(false);
    };
    let way = move || {
        if able::is_installed() {
            return markup! { <p class="hint">{words::INSTALLED}</p> };
        }
        if offered.get() {
            return markup! { <button type="button" class="button" on:click=take>{words::INSTALL}</button> };
        }
        markup! { <p class="hint">{words::INSTALL_BY_HAND}</p> }
    };
    markup! {
        <div class="setting">
            <p>{words::HOME_SCREEN}</p>
            {live(way)}
        </div>
    }
}
