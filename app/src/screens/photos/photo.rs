//! One photo: large, with what is drawn on it, its words, where it is pinned and which way it looks.

use super::board::Board;
use super::desk::{Desk, Pin};
use super::miniplan::{MiniPlan, toward};
use super::picture::found;
use super::pin::PinEditor;
use crate::device::{self, able};
use crate::markup::{derived, live, memo};
use crate::notices::Notices;
use crate::routes::{Route, Router, Tab};
use crate::screens::drafts::Drafts;
use crate::screens::parts::TextArea;
use crate::state::{OpenSite, saving, strike};
use crate::words;
use leptos::prelude::*;
use swingtie_core::plan::{on_plan, place_of};
use swingtie_core::record::{EntryId, Facing, Original, Photo, PhotoMark, Statement};
use swingtie_core::units::{Angle, PlanPoint};
use web_sys::Blob;

const OPEN: &str = "photo";
/// One press of a key turns the view by so much, one of a button by three times as much.
const TURN_DEGREES: f64 = 5.0;

/// The photo opened in the list; after a reload the one opened last.
#[component]
pub fn PhotoScreen() -> impl IntoView {
    let (site, desk) = (OpenSite::here(), Desk::here());
    let entry = desk.open.get_untracked().or_else(|| device::remembered(OPEN).map(EntryId));
    let entry = entry.unwrap_or_else(|| EntryId(String::new()));
    device::remember(OPEN, &entry.0);
    let photo = site.fold.with_untracked(|fold| {
        let mut photos = fold.record.photos.iter().zip(1..);
        photos.find(|(photo, _)| photo.entry == entry).map(|(photo, number)| (photo.what.clone(), number))
    });
    let back = Route::Site(site.id(), Tab::Photos).to_hash();
    let body = match photo {
        None => markup! { <p>{words::PHOTO_GONE}</p> },
        Some((photo, number)) => markup! { <Opened entry photo number /> },
    };
    markup! {
        <div class="page problems">
            <a class="button back" href=back>{words::ALL_PHOTOS}</a>
            {body}
        </div>
    }
}

/// What is entered on the photo so far.
#[derive(Clone, Copy)]
struct Draft {
    note: RwSignal<String>,
    pin: RwSignal<Pin>,
    facing: RwSignal<Option<Facing>>,
    marks: RwSignal<Vec<PhotoMark>>,
}

impl Draft {
    fn of(photo: &Photo) -> Self {
        Self {
            note: RwSignal::new(photo.note.clone()),
            pin: RwSignal::new(Pin { at: photo.at.clone(), of: photo.of.clone() }),
            facing: RwSignal::new(photo.facing),
            marks: RwSignal::new(photo.marks.read()),
        }
    }

    fn said(self, first: Photo) -> Photo {
        let Pin { at, of } = self.pin.get_untracked();
        Photo {
            note: self.note.get_untracked().trim().to_owned(),
            at,
            of,
            facing: self.facing.get_untracked(),
            marks: first.marks.written(&self.marks.get_untracked()),
            ..first
        }
    }
}

#[component]
fn Opened(entry: EntryId, photo: Photo, number: usize) -> impl IntoView {
    let (site, router, notices) = (OpenSite::here(), Router::here(), Notices::here());
    let draft = Draft::of(&photo);
    let picture = found(photo.id.clone(), true);
    let all = move || router.go_instead(Route::Site(site.id(), Tab::Photos));
    let (first, target) = (photo.clone(), entry.clone());
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let now = draft.said(first.clone());
        if now == first {
            return all();
        }
        let said = Statement::Correct { entry: target.clone(), now: Box::new(Statement::Photo(now)) };
        saving(async move {
            site.say_apart(said, None).await?;
            notices.say(words::SAVED);
            all();
            Ok(())
        });
    };
    let (asked, asked_at) = (entry.clone(), photo.at.clone());
    let router = Router::here();
    let ask = move |_| {
        Drafts::here().question.about(asked.clone(), asked_at.clone());
        router.go(&Route::Site(site.id(), Tab::Questions));
    };
    let withdraw = move |_| {
        let entry = entry.clone();
        saving(async move {
            site.say_apart(strike(entry), None).await?;
            notices.say(words::STRUCK_ITEM);
            all();
            Ok(())
        });
    };
    let name = move || words::photo_alt(number, &draft.note.get_untracked());
    let shown = move || match picture.get() {
        None => markup! { <p class="quiet" role="status">{words::OPENING_PHOTO}</p> },
        Some(None) => markup! { <p class="quiet">{words::NO_PICTURE_LONG}</p> },
        Some(Some(blob)) => markup! {
            <Board blob=blob.clone() alt=name() marks=draft.marks />
            <SaveLink blob name=words::photo_file(number) label=words::SAVE_PICTURE />
        },
    };
    markup! {
        <h1>{words::photo_number(number)}</h1>
        {live(shown)}
        {photo.original.map(|original| markup! { <OriginalLink original number /> })}
        <form class="form" on:submit=save>
            <TextArea label=words::CAPTION value=draft.note />
            <section class="part"><h2>{words::PIN_TITLE}</h2><PinEditor pin=draft.pin /></section>
            <FacingField draft />
            <button type="button" class="button" on:click=ask>{words::questions::ASK_ABOUT}</button>
            <button type="button" class="button button-danger" on:click=withdraw>{words::STRIKE_PHOTO}</button>
            <div class="form-end">
                <button type="submit" class="button button-main">{words::SAVE_PHOTO}</button>
                <button type="button" class="button" on:click=move |_| all()>{words::CANCEL}</button>
            </div>
        </form>
    }
}

/// Which way the camera looked: drawn, by keys, or from the compass.
#[component]
fn FacingField(draft: Draft) -> impl IntoView {
    let site = OpenSite::here();
    let at = memo(move || place_of(&draft.pin.get().at, &site.plan.get()));
    let angle =
        memo(move || on_plan(draft.facing.get()?, &site.fold.get().record, site.plan.get().north.as_ref()));
    let told = move || words::facing(draft.facing.get(), angle.get(), site.plan.get().north.as_ref());
    let set = move |degrees: f64| {
        draft.facing.set(Some(Facing::Plan(Angle::from_degrees(degrees.rem_euclid(360.0)))));
    };
    // Nothing said yet: up the drawing.
    let turn = move |by: f64| set(angle.get_untracked().map_or(90.0, |angle| angle.degrees().round() + by));
    let key = move |(key, _, _): (String, PlanPoint, f64)| {
        match key.as_str() {
            "+" | "=" | "ArrowLeft" | "ArrowUp" => turn(TURN_DEGREES),
            "-" | "ArrowRight" | "ArrowDown" => turn(-TURN_DEGREES),
            _ => return false,
        }
        true
    };
    let point = move |(to, eye): (PlanPoint, PlanPoint)| {
        if let Some(degrees) = toward(eye, to) {
            set(degrees);
        }
    };
    let value = derived(move || angle.get().map(|angle| (angle.degrees().rem_euclid(360.0), told())));
    markup! {
        <section class="part">
            <h2>{words::FACING_TITLE}</h2>
            <p class="hint">{words::FACING_HINT}</p>
            <MiniPlan at=at facing=angle role="slider" label=words::FACING_TITLE value=value on_point=point on_key=key />
            <p role="status">{told}</p>
            <div class="buttons">
                <button type="button" class="button" on:click=move |_| turn(3.0 * TURN_DEGREES)>{words::TURN_LEFT}</button>
                <button type="button" class="button" on:click=move |_| turn(-3.0 * TURN_DEGREES)>{words::TURN_RIGHT}</button>
                {able::tells_north().then(|| markup! { <CompassButton facing=draft.facing /> })}
                <button type="button" class="button" on:click=move |_| draft.facing.set(None)>{words::NO_FACING}</button>
            </div>
            {(!able::tells_north()).then(|| markup! { <p class="hint">{words::NO_COMPASS_HERE}</p> })}
        </section>
    }
}

#[component]
fn CompassButton(facing: RwSignal<Option<Facing>>) -> impl IntoView {
    let notices = Notices::here();
    let listening = RwSignal::new(false);
    let ask = move |_| {
        listening.set(true);
        leptos::task::spawn_local(async move {
            let told = device::look_through_compass().await;
            listening.try_set(false);
            match told {
                Some(bearing) => {
                    facing.try_set(Some(Facing::Compass(bearing)));
                }
                None => notices.warn(words::NO_COMPASS),
            }
        });
    };
    markup! {
        <button type="button" class="button" disabled=move || listening.get() on:click=ask>{words::BY_COMPASS}</button>
    }
}

/// The picture as a file.
#[component]
fn SaveLink(blob: Blob, name: String, label: &'static str) -> impl IntoView {
    let url = device::object_url(&blob).unwrap_or_default();
    let held = url.clone();
    on_cleanup(move || device::revoke_url(&held));
    markup! { <a class="button" href=url download=name>{label}</a> }
}

/// The file it was made from.
#[component]
fn OriginalLink(original: Original, number: usize) -> impl IntoView {
    let name = if original.name.is_empty() { words::photo_file(number) } else { original.name };
    let blob = found(original.id, true);
    live(move || {
        blob.get().flatten().map(|blob| {
            markup! {
                <SaveLink blob name=name.clone() label=words::SAVE_ORIGINAL />
                <p class="hint">{words::KEEP_ORIGINALS_HINT}</p>
            }
        })
    })
}
