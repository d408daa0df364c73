//! An open site: the strip on top, the tab's screen, the tabs at the thumb.

use super::later;
use crate::capture::{Capture, PlanScreen};
use crate::device;
use crate::markup::{effect, live, memo, shown};
use crate::notices::Notices;
use crate::routes::{Route, Router, Tab};
use crate::state::{Home, OpenSite, Opening};
use crate::store::{SiteId, StoreError};
use crate::words::{self, Standing};
use leptos::prelude::*;
use swingtie_core::book::Objection;
use swingtie_core::language::tr;

type Loaded = Option<Result<Option<Opening>, StoreError>>;

/// Reads the site from the store, then shows it.
#[component]
pub fn SiteScreen(id: SiteId) -> impl IntoView {
    let home = Home::here();
    let loaded: RwSignal<Loaded> = RwSignal::new(None);
    let wanted = id.clone();
    leptos::task::spawn_local(async move {
        let site = home.open(&wanted).await;
        loaded.try_set(Some(site));
    });
    let back = || markup! { <a class="button back" href=Route::Sites.to_hash()>{words::BACK_TO_SITES}</a> };
    // The book is handed on, so that nobody else shares it and nothing is copied when it grows.
    let opened = move || {
        loaded.track();
        loaded.try_update_untracked(Option::take).flatten()
    };
    live(move || match opened() {
        None => markup! { <p class="page quiet" role="status">{words::OPENING}</p> },
        Some(Err(error)) => markup! {
            <main class="page">{back()}<p class="wrong" role="alert">{words::cannot_open(&error)}</p></main>
        },
        Some(Ok(None)) => markup! { <main class="page">{back()}<p>{words::SITE_GONE}</p></main> },
        Some(Ok(Some(opening))) => markup! { <SiteFrame opening /> },
    })
}

/// The frame around a site's tabs.
#[component]
fn SiteFrame(opening: Opening) -> impl IntoView {
    let (store, author) = Home::here().store();
    let site = OpenSite::new(&opening, store, author);
    provide_context(site);
    Capture::provide(site, Notices::here());
    tell_oddities(site, opening.damaged.len());
    let (router, later) = (Router::here(), later::Later::here());
    let tab = memo(move || match router.route() {
        Route::Site(_, tab) => tab,
        Route::Sites | Route::New | Route::Settings => Tab::Plan,
    });
    // Which tab was tapped is seen before its screen is made, which takes a while on a large site.
    let shows = RwSignal::new(tab.get_untracked());
    effect(move || {
        let wanted = tab.get();
        if wanted == shows.get_untracked() {
            return;
        }
        leptos::task::spawn_local(async move {
            device::shown().await;
            if tab.try_get_untracked() == Some(wanted) {
                shows.set(wanted);
            }
        });
    });
    let wide = device::wide_screen();
    let beside = memo(move || wide.get() && shows.get() == Tab::Plan);
    let main = NodeRef::<leptos::html::Main>::new();
    let mut before = None;
    effect(move || {
        let (now, Some(main)) = (shows.get(), main.get()) else { return };
        let first = before.replace(now).is_none();
        leptos::task::spawn_local(async move {
            // A site that was just opened lies at its top, and is laid out at once where its place is asked for.
            if first {
                device::shown().await;
            }
            main.set_scroll_top(0);
            // With large letters it scrolls together with what is around it.
            main.scroll_into_view_with_bool(true);
        });
    });
    let screen = move || match shows.get() {
        Tab::Plan => markup! { <PlanScreen /> },
        other => later::part(later::Wanted::Tab(other)),
    };
    markup! {
        <div class="frame"><div class="site" class:side-by-side=move || beside.get()
            data-tab=move || format!("{:?}", shows.get())>
            <Strip />
            <main class="site-main" node_ref=main>{live(screen)}</main>
            {shown(move || beside.get(), || markup! {
                <aside class="site-beside" aria-label=words::BOOK>{later::part(later::Wanted::BookBeside)}</aside>
            })}
            <Tabs tab />
            {shown(move || later.is_here(), || later::part(later::Wanted::Watch))}
        </div></div>
    }
}

/// Says once what of the book could not be used; nothing of it is thrown away.
fn tell_oddities(site: OpenSite, damaged: usize) {
    let notices = Notices::here();
    if damaged > 0 {
        notices.warn(words::damaged(damaged));
    }
    let newer = site.fold.with_untracked(|fold| {
        let odd = |o: &&Objection| matches!(o, Objection::NotUnderstood { .. });
        fold.objections.iter().filter(odd).count()
    });
    if newer > 0 {
        notices.warn(words::not_understood(newer));
    }
}

/// So long after the last entry it is counted what is to settle (milliseconds).
const QUIET: i32 = 400;

/// Where the survey stands; opens the before-you-leave list.
#[component]
fn Strip() -> impl IntoView {
    let (site, id) = (OpenSite::here(), OpenSite::here().id());
    let name = move || site.fold.with(|fold| tr(words::site_title(&fold.record.site)).to_owned());
    let standing = memo(move || Standing::of(&site.fold.get().record, &site.adjustment.get()));
    let (capture, later) = (Capture::here(), later::Later::here());
    // It looks at everything, which takes as long as the adjustment: not while the screen still answers what was saved.
    let urgent = RwSignal::new(0);
    let (turn, owner) = (StoredValue::new(0_u32), Owner::current().unwrap_or_default());
    effect(move || {
        let contradictions = site.doubts.with(|doubts| doubts.found.len());
        site.fold.track();
        site.adjustment.track();
        capture.plan.track();
        let _ = later.is_here();
        turn.update_value(|turn| *turn += 1);
        let (mine, owner) = (turn.get_value(), owner.clone());
        let look = async move {
            device::sleep(QUIET).await;
            device::hand_rests().await;
            // Something else came in, or the site is closed.
            if turn.try_get_value() != Some(mine) {
                return;
            }
            let count = || {
                let (fold, plan) = (site.fold.get_untracked(), capture.plan.get_untracked());
                site.adjustment
                    .with_untracked(|known| later::to_settle(&fold.record, known, &plan, contradictions))
            };
            let count = owner.with(|| untrack(count));
            if urgent.get_untracked() != count {
                urgent.set(count);
            }
        };
        leptos::task::spawn_local(look);
    });
    // Red is for what contradicts; what is merely not taped yet is said calmly.
    let wrong = memo(move || site.adjustment.with(|a| a.findings.iter().any(words::is_wrong)));
    let leave = Route::Site(id, Tab::Leave).to_hash();
    markup! {
        <header class="strip">
            <a class="strip-back" href=Route::Sites.to_hash() aria-label=words::BACK_TO_SITES>
                <span aria-hidden="true">"‹"</span>
            </a>
            <a class="strip-standing" href=leave>
                <span class="strip-name">{live(name)}</span>
                {shown(move || urgent.get() != 0, move || markup! {
                    <span class="strip-urgent" class:calm=move || !wrong.get()>{move || words::to_settle(urgent.get())}</span>
                })}
                <span class="strip-words" role="status">{move || standing.get().words()}</span>
                <span class="unseen">{words::LEAVE}</span>
            </a>
        </header>
    }
}

/// Where the Problems tab leads.
const BESIDE_PROBLEMS: [Tab; 10] = [
    Tab::AddProblem,
    Tab::AddMark,
    Tab::Photos,
    Tab::Photo,
    Tab::Details,
    Tab::Things,
    Tab::Levels,
    Tab::Notes,
    Tab::Questions,
    Tab::Settings,
];

/// The four destinations.
#[component]
fn Tabs(tab: Memo<Tab>) -> impl IntoView {
    let id = OpenSite::here().id();
    let struck = move |name: &'static str, to: Tab, also: &'static [Tab], sign: &'static str| {
        let here = move || (tab.get() == to || also.contains(&tab.get())).then_some("page");
        markup! {
            <li>
                <a class="tab" href=Route::Site(id.clone(), to).to_hash() aria-current=here>
                    <span class="tab-sign" aria-hidden="true">{sign}</span>
                    <span>{name}</span>
                </a>
            </li>
        }
    };
    markup! {
        <nav class="tabs" aria-label=words::TABS>
            <ul>
                {struck(words::PLAN, Tab::Plan, &[], "◺")}
                {struck(words::BOOK, Tab::Book, &[Tab::Changes], "≡")}
                {struck(words::PROBLEMS, Tab::Problems, &BESIDE_PROBLEMS, "!")}
                {struck(words::SHEET, Tab::Sheet, &[Tab::Package], "▭")}
            </ul>
        </nav>
    }
}
