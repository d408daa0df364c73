//! How much of a site in the list is on this device only, and what is asked of it.

use super::sent::Marked;
use crate::device;
use crate::markup::live;
use crate::routes::{Route, Tab};
use crate::state::{Home, Kept};
use crate::store::SiteId;
use crate::words::{package as say, questions};
use leptos::prelude::*;
use swingtie_core::checks::{Asked, questions as asked};

/// Under a site's card; before it is removed, what would be lost with it and the way to send it first. Nothing of a site
/// nobody wrote in here.
#[component]
pub fn Copies(id: SiteId, kept: Kept, removing: bool) -> impl IntoView {
    let (store, me) = Home::here().store();
    let mine = kept.book.entries().any(|entry| entry.author == me);
    let known: RwSignal<Option<Option<(i64, usize)>>> = RwSignal::new(None);
    let of = (id.clone(), kept.clone());
    leptos::task::spawn_local(async move {
        let sent = Marked::sent(&store, &of.0).await;
        known.try_set(Some(sent.map(|sent| (sent.at_ms, sent.since(&of.1.book)))));
    });
    let all = kept.book.len();
    if removing {
        return live(move || {
            let known = known.get().filter(|_| mine)?;
            let (since, is_all) = known.map_or((all, true), |(_, since)| (since, false));
            let to = Route::Site(id.clone(), Tab::Package).to_hash();
            (since > 0).then(|| {
                markup! {
                    <p class="wrong">{say::would_be_lost(since, is_all)}</p>
                    <a class="button button-wide" href=to>{say::SEND_FIRST}</a>
                }
            })
        })
        .into_any();
    }
    let open = asked(&kept.book, &kept.fold).iter().filter(|one| Asked::is_open(one)).count();
    let line = move || {
        let copies = known.get().filter(|_| mine).map(|known| match known {
            None => say::copies(None, all),
            Some((at_ms, since)) => say::copies(Some(&device::local_day(at_ms)), since),
        });
        let open = (open > 0).then(|| questions::open_here(open));
        let told: Vec<String> = copies.into_iter().chain(open).collect();
        (!told.is_empty()).then(|| markup! { <span class="quiet card-copies">{told.join(" · ")}</span> })
    };
    live(line).into_any()
}
