//! Pictures from the store on the screen.

use crate::device;
use crate::markup::live;
use crate::state::OpenSite;
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::PhotoId;
use web_sys::Blob;

/// What is found in the store: nothing yet, or not on this device.
pub type Found = RwSignal<Option<Option<Blob>>, LocalStorage>;

/// Looks a picture up: the large one or the small one.
pub fn found(id: PhotoId, large: bool) -> Found {
    let store = OpenSite::here().store();
    let found: Found = RwSignal::new_local(None);
    leptos::task::spawn_local(async move {
        let blob = if large { store.photo(&id).await } else { store.thumbnail(&id).await };
        // A book from another phone may come without its pictures; the list is complete all the same.
        found.try_set(Some(blob.unwrap_or_default()));
    });
    found
}

/// A stored photo's small version.
#[component]
pub fn Thumbnail(id: PhotoId, alt: &'static str) -> impl IntoView {
    let found = found(id, false);
    live(move || match found.get() {
        Some(Some(blob)) => markup! { <Picture blob alt /> },
        Some(None) => markup! { <span class="thumbnail quiet">{words::NO_PICTURE}</span> },
        None => markup! { <span class="thumbnail"></span> },
    })
}

/// A picture from memory; its address is given back when it goes.
#[component]
pub fn Picture(blob: Blob, alt: &'static str) -> impl IntoView {
    let url = device::object_url(&blob).unwrap_or_default();
    let held = url.clone();
    on_cleanup(move || device::revoke_url(&held));
    markup! { <img class="thumbnail" src=url alt=alt /> }
}
