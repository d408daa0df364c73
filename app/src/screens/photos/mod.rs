//! Photos: taken or chosen, pinned to the plan, drawn on, looked at again.

mod add;
mod board;
mod desk;
mod marks;
mod miniplan;
mod photo;
mod picture;
mod pin;
mod pins;

pub use add::{PhotoField, PhotoRun, PhotosHere, add_photos};
pub use desk::{Desk, Goal, Held, Pin, note, photos_of};
pub use miniplan::MiniPlan;
pub use photo::PhotoScreen;
pub use picture::Thumbnail;
pub use pin::PinEditor;
pub use pins::Pins;

use crate::markup::{live, rows, shown};
use crate::routes::{Route, Router, Tab};
use crate::screens::parts::back_to_problems;
use crate::state::OpenSite;
use crate::words::{self, Names};
use leptos::prelude::*;
use swingtie_core::record::{EntryId, Photo, PhotoId, Recorded};

/// All photos, and the way to more.
#[component]
pub fn PhotosScreen() -> impl IntoView {
    let (site, desk) = (OpenSite::here(), Desk::here());
    let belongs = move || {
        let names = Names::new(&site.book.get(), &site.fold.get().record);
        words::photos_belong(&words::pinned(
            &desk.pin.get().at,
            desk.pin.get().of.as_ref(),
            &site.fold.get().record,
            &names,
        ))
    };
    let keep = move |event| desk.keep.set(event_target_checked(&event));
    let none = move || site.fold.with(|fold| fold.record.photos.is_empty());
    markup! {
        <div class="page problems">
            {back_to_problems()}
            <h1>{words::PHOTOS}</h1>
            <p>{live(belongs)}</p>
            <details class="settings photo-where">
                <summary>{words::PHOTOS_WHERE}</summary>
                <PinEditor pin=desk.pin />
            </details>
            {add_photos("", move || Goal::Book(desk.pin.get_untracked()))}
            <PhotoRun />
            <label class="tick">
                <input type="checkbox" prop:checked=move || desk.keep.get() on:change=keep />
                <span>{words::KEEP_ORIGINALS}</span>
            </label>
            <p class="hint">{words::KEEP_ORIGINALS_HINT}</p>
            <p class="hint">{words::PHOTOS_PRIVATE}</p>
            {shown(none, || markup! { <p class="quiet">{words::NO_PHOTOS}</p> })}
            {grid(|_| true)}
        </div>
    }
}

/// What a cell of the grid shows.
#[derive(Clone, Hash)]
struct Cell {
    entry: EntryId,
    id: PhotoId,
    number: usize,
    caption: String,
    pinned: String,
}

/// The photos of this sort, small; each opens.
pub fn grid(wanted: impl Fn(&Photo) -> bool + Send + 'static) -> AnyView {
    let (site, desk, router) = (OpenSite::here(), Desk::here(), Router::here());
    let cells = move || {
        let fold = site.fold.get();
        let names = Names::new(&site.book.get(), &fold.record);
        let cell = |(photo, number): (&Recorded<Photo>, usize)| {
            let what = &photo.what;
            Cell {
                entry: photo.entry.clone(),
                id: what.id.clone(),
                number,
                caption: what.note.clone(),
                pinned: words::pinned(&what.at, what.of.as_ref(), &fold.record, &names),
            }
        };
        let photos = fold.record.photos.iter().zip(1..).filter(|(photo, _)| wanted(&photo.what));
        photos.map(cell).collect::<Vec<_>>()
    };
    let cell = move |cell: Cell| {
        let entry = cell.entry;
        let open = move |_| {
            desk.open.set(Some(entry.clone()));
            router.go(&Route::Site(site.id(), Tab::Photo));
        };
        let name = words::photo_title(cell.number, &cell.caption, &cell.pinned);
        let under = if cell.caption.is_empty() { cell.pinned } else { cell.caption };
        markup! {
            <li>
                <button type="button" class="card photo-cell" aria-label=name on:click=open>
                    <Thumbnail id=cell.id alt="" />
                    <span><b>{cell.number}</b>" "{under}</span>
                </button>
            </li>
        }
    };
    markup! { <ul class="photo-grid">{rows(cells, cell)}</ul> }
}
