//! A site sent, and one that comes in.

mod receive;
mod send;
mod sent;

pub use receive::ReceiveScreen;
pub use send::SendScreen;
pub use sent::Sent;

use crate::markup::live;
use crate::office::Progress;
use crate::words::package as say;
use leptos::prelude::*;

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
