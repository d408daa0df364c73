//! Taking and choosing photos.

use super::desk::{Desk, Goal, Held, Pin};
use super::grid;
use super::picture::Picture;
use crate::device;
use crate::markup::{live, shown};
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::{At, PointId};

/// Two buttons: the camera, and the pictures already there. `whose` is added to their names where several
/// stand on one screen.
pub fn add_photos(whose: &str, goal: impl Fn() -> Goal + Clone + 'static) -> AnyView {
    let desk = Desk::here();
    let (from_camera, from_gallery) = (goal.clone(), goal);
    let taken = move |event| desk.add(device::picked_files(&event), from_camera());
    let chosen = move |event| desk.add(device::picked_files(&event), from_gallery());
    markup! {
        <div class="buttons">
            <label class="file-button">
                <span class="button" aria-hidden="true">{words::TAKE_PHOTOS}</span>
                <input type="file" accept="image/*" capture="environment" multiple=true
                    aria-label=words::photos_for(words::TAKE_PHOTOS, whose) on:change=taken />
            </label>
            <label class="file-button">
                <span class="button" aria-hidden="true">{words::CHOOSE_PHOTOS}</span>
                <input type="file" accept="image/*" multiple=true
                    aria-label=words::photos_for(words::CHOOSE_PHOTOS, whose) on:change=chosen />
            </label>
        </div>
    }
}

/// How far the run is, and the way to end it.
#[component]
pub fn PhotoRun() -> impl IntoView {
    let desk = Desk::here();
    let bar = move || {
        let told = move || desk.run.get().map(|run| words::photo_progress(run.now, run.all));
        let number = |which: fn(super::desk::Progress) -> usize| {
            move || desk.run.get().map(|run| which(run).to_string())
        };
        markup! {
            <div class="figures buttons">
                <p>{told}</p>
                <progress aria-label=words::PHOTO_PROGRESS value=number(|run| run.now - 1) max=number(|run| run.all)></progress>
                <button type="button" class="button" on:click=move |_| desk.stop()>{words::STOP}</button>
            </div>
        }
    };
    shown(move || desk.run.get().is_some(), bar)
}

/// The photos of something that is being entered.
#[component]
pub fn PhotoField(held: Held) -> impl IntoView {
    let previews = move || {
        let photos = held.get();
        let ready = (!photos.is_empty()).then(|| words::photos_ready(photos.len()));
        let small = photos.into_iter().map(|photo| markup! { <Picture blob=photo.thumbnail alt="" /> });
        let small = small.collect_view();
        markup! { <p role="status">{ready}</p> <div class="buttons">{small}</div> }
    };
    markup! {
        <div class="field">
            {add_photos("", move || Goal::Held(held))}
            <PhotoRun />
            {live(previews)}
        </div>
    }
}

/// Photos of a point, on its card.
#[component]
pub fn PhotosHere(point: PointId, label: String) -> impl IntoView {
    let at = At::Points(vec![point]);
    let here = at.clone();
    let goal = move || Goal::Book(Pin { at: at.clone(), of: None });
    markup! { {add_photos(&label, goal)} <PhotoRun /> {grid(move |photo| photo.at == here && photo.of.is_none())} }
}
