//! Heights: the screen that shows them, and the slip under the plan on which level readings are booked.
//!
//! [`booking`] and [`next`] decide, [`desk`] joins them to signals and the store, the others only show.

mod bench;
mod booking;
mod desk;
mod next;
mod page;
mod setups;
mod slip;
mod slope;

pub use booking::Booking;
pub use desk::Draft;
pub use slip::LevelSlip;

use crate::capture::Capture;
use crate::markup::{live, memo, shown};
use crate::routes::Router;
use crate::screens::drafts::Drafts;
use crate::screens::parts::back_to_problems;
use crate::screens::questions::AnsweringStrip;
use crate::words::levels as words;
use bench::{Bench, stated};
use leptos::prelude::*;
use next::usual;
use page::SurveyorsPage;
use setups::{Closings, Findings, SetUps};
use slip::levels_now;
use slope::SlopeBetween;
use swingtie_core::levels::{Height, Levels};
use swingtie_core::record::{LevelWith, PointId};
use swingtie_core::units::sort_by;

/// The heights, what they count from, and the readings they come from.
#[component]
pub fn LevelsScreen() -> impl IntoView {
    let site = Capture::here().site;
    let levels = levels_now();
    let any = memo(move || site.fold.with(|fold| !fold.record.levels.is_empty()));
    markup! {
        <div class="page levels">
            {back_to_problems()}
            <h1>{words::HEIGHTS}</h1>
            <AnsweringStrip />
            <p class="hint">{words::HEIGHTS_HINT}</p>
            <Findings levels />
            <Begin />
            <Bench />
            {shown(move || any.get(), move || markup! {
                <Heights levels />
                <Closings levels />
                <SlopeBetween levels />
                <SetUps levels />
                <SurveyorsPage />
            })}
        </div>
    }
}

/// On the plan: back to the set-up under way.
#[component]
pub fn GoOn() -> impl IntoView {
    let (capture, router, draft) = (Capture::here(), Router::here(), Drafts::here().level);
    live(move || {
        let fold = capture.site.fold.get();
        let told = draft.booking.with(|b| b.as_ref().map(|b| words::go_on(b, &fold.record)))?;
        Some(
            markup! { <button type="button" class="wide" on:click=move |_| draft.go(router, capture)>{told}</button> },
        )
    })
}

/// Going on with the set-up, or a new one: what makes the level line.
#[component]
fn Begin() -> impl IntoView {
    let (capture, router, draft) = (Capture::here(), Router::here(), Drafts::here().level);
    let under_way = move || {
        let fold = capture.site.fold.get();
        let told = draft.booking.with(|b| b.as_ref().map(|b| words::go_on(b, &fold.record)));
        let corrects = draft.booking.with(|b| b.as_ref().is_some_and(|b| b.correcting.is_some()));
        let done = if corrects { words::LEAVE_SO } else { words::PACK_UP };
        let told = told.map(|told| markup! {
            <button type="button" class="button button-main button-wide" on:click=move |_| draft.go(router, capture)>{told}</button>
            <button type="button" class="button button-wide" on:click=move |_| draft.booking.set(None)>{done}</button>
            <h2>{words::SET_UP_ANEW}</h2>
        });
        told.unwrap_or_else(|| markup! { <h2>{words::SET_UP_FIRST}</h2> })
    };
    let button = move |with: LevelWith| {
        let (name, how) = words::with(with);
        markup! {
            <button type="button" class="kind" on:click=move |_| draft.begin(with, router, capture)>
                <strong>{name}</strong>" "<span>{how}</span>
            </button>
        }
    };
    // What was used last stands first.
    let ordered = move || {
        let last = capture.site.fold.with(|fold| usual(&fold.record));
        let mut all = words::ALL_WITH.to_vec();
        sort_by(&mut all, |a, b| (Some(*a) != last).cmp(&(Some(*b) != last)));
        all.into_iter().map(button).collect_view()
    };
    markup! {
        <section class="part">
            {live(under_way)}
            <div class="kinds">{live(ordered)}</div>
        </section>
    }
}

/// Every point that has a height.
#[component]
fn Heights(levels: Memo<Levels>) -> impl IntoView {
    let site = Capture::here().site;
    let list = move || {
        let fold = site.fold.get();
        let record = &fold.record;
        let units = record.site.units;
        let mark = stated(record).map(|mark| (mark.point, mark.height));
        let row = |(id, height): (&PointId, &Height)| {
            let from = mark.as_ref().filter(|(point, _)| point != id);
            let against =
                from.map(|(point, from)| words::against(height.above - *from, record.label(point), units));
            let once = (!height.checked && from.is_some()).then_some(words::NOT_PROVED);
            markup! {
                <li>
                    <strong>{record.label(id).to_owned()}</strong>
                    <span>{words::height_told(height, units)}</span>
                    <span class="quiet">{against.into_iter().chain(once.map(str::to_owned)).collect::<Vec<_>>().join(", ")}</span>
                </li>
            }
        };
        levels.with(|levels| {
            let mut all: Vec<_> = levels.points.iter().collect();
            // The highest first: water runs down the list.
            sort_by(&mut all, |a, b| b.1.above.metres().total_cmp(&a.1.above.metres()));
            all.into_iter().map(row).collect_view()
        })
    };
    markup! {
        <section class="part">
            <h2>{words::ALL_HEIGHTS}</h2>
            <p class="hint">{words::HEIGHTS_95}</p>
            <ul class="heights">{live(list)}</ul>
        </section>
    }
}
