//! A site sent, and one that comes in.

mod copies;
mod name;
mod receive;
mod send;
mod sent;

pub use copies::Copies;
pub use receive::ReceiveScreen;
pub use send::SendScreen;
pub use sent::{Marked, known};

use crate::markup::{live, memo};
use crate::office::Progress;
use crate::routes::{Route, Tab};
use crate::state::OpenSite;
use crate::words::package as say;
use leptos::prelude::*;

/// Says gently what was not sent or saved yet, with the way to it; nothing while nothing was measured.
#[component]
pub fn Unsent() -> impl IntoView {
    let site = OpenSite::here();
    let sent = known(site);
    let to = Route::Site(site.id(), Tab::Package).to_hash();
    let said = move || {
        let unsent = site.book.with(|book| match sent.get()? {
            Some(sent) => Some((sent.since(book), false)),
            None => Some((book.len(), true)),
        })?;
        (unsent.0 > 0).then(|| say::unsent(unsent.0, unsent.1))
    };
    let measured = memo(move || site.fold.with(|fold| !fold.record.measurements.is_empty()));
    live(move || {
        let (said, to) = (said().filter(|_| measured.get())?, to.clone());
        Some(markup! {
            <p class="hint">{said}</p>
            <a class="button button-wide" href=to>{say::SENT_LINK}</a>
        })
    })
}

/// How far something long is, and a way to stop it.
fn going_on(what: &'static str, progress: Progress) -> AnyView {
    let bar = move || {
        let (done, total) = progress.told();
        (total > 0).then(|| {
            markup! {
                <progress max=total.to_string() value=done.to_string() aria-label=what></progress>
                <p class="quiet">{say::done(done, total)}</p>
            }
        })
    };
    markup! {
        <div class="going-on">
            <p role="status">{what}</p>
            {live(bar)}
            <button type="button" class="button" on:click=move |_| progress.stop()>{say::STOP}</button>
        </div>
    }
}
