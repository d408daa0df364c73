//! Adding a problem.

use super::photo::{PhotoField, Picked};
use crate::device;
use crate::markup::effect;
use crate::notices::Notices;
use crate::routes::{Route, Router, Tab};
use crate::screens::parts::{PointChips, TextArea, Wrong, chips};
use crate::state::{OpenSite, saving};
use crate::store::{PhotoFile, SiteId};
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::{At, Photo, PointId, Problem, Severity, Statement};

/// What is entered so far. It outlives the form, so that a look at the plan costs nothing.
#[derive(Clone, Copy)]
pub struct Draft {
    kind: RwSignal<Option<&'static str>>,
    severity: RwSignal<Severity>,
    points: RwSignal<Vec<PointId>>,
    note: RwSignal<String>,
    told: RwSignal<bool>,
    photo: Picked,
}

impl Draft {
    /// Starts it at this point, as tapped on the plan; what is entered already stays.
    pub fn start_at(self, point: PointId) {
        self.points.set(vec![point]);
    }

    /// An empty draft; its note is remembered over a reload, since taking a photo may cost the page
    /// its memory on a small phone.
    pub fn new(site: &SiteId) -> Self {
        let key = format!("problem note {site}");
        let draft = Self {
            kind: RwSignal::new(None),
            severity: RwSignal::new(Severity::default()),
            points: RwSignal::new(Vec::new()),
            note: RwSignal::new(device::remembered(&key).unwrap_or_default()),
            told: RwSignal::new(false),
            photo: RwSignal::new_local(None),
        };
        effect(move || draft.note.with(|note| device::remember(&key, note)));
        draft
    }

    /// Begins anew.
    fn clear(self) {
        self.kind.set(None);
        self.severity.set(Severity::default());
        self.points.set(Vec::new());
        self.note.set(String::new());
        self.told.set(false);
        self.photo.set(None);
    }

    /// What it says; none until the kind is picked.
    fn said(self) -> Option<(Vec<Statement>, Vec<PhotoFile>)> {
        let photo = self.photo.get_untracked();
        let problem = Problem {
            kind: self.kind.get_untracked()?.to_owned(),
            severity: self.severity.get_untracked(),
            at: place(self.points.get_untracked()),
            note: self.note.get_untracked().trim().to_owned(),
            photos: photo.iter().map(|photo| photo.id.clone()).collect(),
            told: self.told.get_untracked(),
        };
        let mut statements: Vec<Statement> =
            photo.iter().map(|photo| Statement::Photo(photo_note(photo, problem.at.clone()))).collect();
        statements.push(Statement::Problem(problem));
        Some((statements, photo.into_iter().collect()))
    }
}

/// At the points picked; at none, the whole site.
fn place(points: Vec<PointId>) -> At {
    if points.is_empty() { At::Site } else { At::Points(points) }
}

fn photo_note(photo: &PhotoFile, at: At) -> Photo {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a blob's size is a whole number"
    )]
    let bytes = photo.picture.size() as u64;
    Photo { id: photo.id.clone(), media_type: photo.picture.type_(), bytes, at, note: String::new() }
}

/// The form.
#[component]
pub fn AddProblem() -> impl IntoView {
    let (site, router, notices) = (OpenSite::here(), Router::here(), Notices::here());
    let draft: Draft = expect_context();
    let wrong = RwSignal::new(None);
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let Some((statements, photos)) = draft.said() else {
            wrong.set(Some(words::PICK_KIND.to_owned()));
            return;
        };
        saving(async move {
            site.say_with(statements, photos).await?;
            draft.clear();
            notices.say(words::PROBLEM_SAVED);
            router.go_instead(Route::Site(site.id(), Tab::Problems));
            Ok(())
        });
    };
    markup! {
        <div class="page">
            <h1>{words::ADD_PROBLEM}</h1>
            <form class="form" on:submit=save>
                <KindAndSeverity draft />
                <PointChips legend=words::PROBLEM_WHERE picked=draft.points />
                <p class="hint">{words::WHERE_HINT}</p>
                <TextArea label=words::NOTE value=draft.note />
                <PhotoField picked=draft.photo />
                <label class="tick">
                    <input type="checkbox" prop:checked=move || draft.told.get() on:change=move |event| draft.told.set(event_target_checked(&event)) />
                    <span>{words::TOLD}</span>
                </label>
                <Wrong what=wrong.into() />
                {form_end(words::SAVE_PROBLEM, move || draft.clear())}
            </form>
        </div>
    }
}

#[component]
fn KindAndSeverity(draft: Draft) -> impl IntoView {
    let kinds = words::PROBLEM_KINDS.iter().map(|(key, name, _)| (*key, (*name).to_owned())).collect();
    let severities = words::SEVERITIES.map(|s| (s, words::severity_name(s).to_owned())).to_vec();
    let caution = move || draft.kind.get().and_then(words::problem_caution);
    markup! {
        {chips(words::PROBLEM_KIND, kinds, move || draft.kind.get(), move |kind| draft.kind.set(Some(kind)))}
        {move || caution().map(|caution| markup! { <div class="caution" role="alert"><p>{caution}</p></div> })}
        {chips(
            words::PROBLEM_SEVERITY,
            severities,
            move || Some(draft.severity.get()),
            move |severity| draft.severity.set(severity),
        )}
    }
}

/// Save and cancel, at the thumb.
pub fn form_end(save: &'static str, cancel: impl Fn() + 'static) -> AnyView {
    let (site, router) = (OpenSite::here(), Router::here());
    let cancel = move |_| {
        cancel();
        router.go_instead(Route::Site(site.id(), Tab::Problems));
    };
    markup! {
        <div class="form-end">
            <button type="submit" class="button button-main">{save}</button>
            <button type="button" class="button" on:click=cancel>{words::CANCEL}</button>
        </div>
    }
}
