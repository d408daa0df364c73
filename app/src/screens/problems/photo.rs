//! One photo: picked, shown small, stored with what it belongs to.

use crate::device;
use crate::markup::live;
use crate::state::OpenSite;
use crate::store::PhotoFile;
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::PhotoId;

/// The photo being added.
pub type Picked = RwSignal<Option<PhotoFile>, LocalStorage>;

/// Takes or chooses a photo.
#[component]
pub fn PhotoField(picked: Picked) -> impl IntoView {
    let wrong = RwSignal::new(None);
    let chosen = move |event: web_sys::Event| {
        let Some(file) = device::picked_file(&event) else { return };
        leptos::task::spawn_local(async move {
            match device::read_photo(&file).await {
                Ok(photo) => {
                    wrong.try_set(None);
                    picked.try_set(Some(photo));
                }
                Err(error) => {
                    wrong.try_set(Some(words::photo_bad(&error.to_string())));
                }
            }
        });
    };
    let preview = move || {
        picked.get().map(|photo| {
            markup! {
                <p role="status">{words::PHOTO_READY}</p>
                <Picture blob=photo.thumbnail />
            }
        })
    };
    markup! {
        <div class="field">
            <label class="file-button">
                <span class="button button-wide">{words::PHOTO}</span>
                <input type="file" accept="image/*" capture="environment" aria-label=words::PHOTO on:change=chosen />
            </label>
            {live(preview)}
            <super::super::parts::Wrong what=wrong.into() />
        </div>
    }
}

/// A stored photo's small version.
#[component]
pub fn Thumbnail(id: PhotoId) -> impl IntoView {
    let store = OpenSite::here().store();
    let found: RwSignal<Option<web_sys::Blob>, LocalStorage> = RwSignal::new_local(None);
    leptos::task::spawn_local(async move {
        // A book from another phone may come without its pictures; the list is complete all the same.
        if let Ok(blob) = store.thumbnail(&id).await {
            found.try_set(blob);
        }
    });
    live(move || found.get().map(|blob| markup! { <Picture blob /> }))
}

/// A picture from memory; its address is given back when it goes.
#[component]
fn Picture(blob: web_sys::Blob) -> impl IntoView {
    let url = device::object_url(&blob).unwrap_or_default();
    let held = url.clone();
    on_cleanup(move || device::revoke_url(&held));
    markup! { <img class="thumbnail" src=url alt=words::PHOTO_ALT /> }
}
