//! Adding a problem.

use super::place::Where;
use crate::device;
use crate::markup::{effect, live};
use crate::notices::Notices;
use crate::routes::{Route, Router, Tab};
use crate::screens::asked::Advice;
use crate::screens::drafts::Drafts;
use crate::screens::parts::{TextArea, Wrong, chips};
use crate::screens::photos::{Held, PhotoField, Pin, note};
use crate::screens::{Answers, Asked, tidied};
use crate::state::{OpenSite, saving};
use crate::store::{PhotoFile, SiteId};
use crate::words::{self, asked as said};
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{
    At, Attributes, EntryId, PhotoId, PointId, Problem, Severity, Spread, Statement, TROUBLES, evidence,
    trouble,
};
use swingtie_core::units::PlanPoint;

/// What is entered so far. It outlives the form, so that a look at the plan costs nothing.
#[derive(Clone, Copy)]
pub struct Draft {
    kind: RwSignal<Option<&'static str>>,
    severity: RwSignal<Severity>,
    points: RwSignal<Vec<PointId>>,
    /// A place tapped on the drawing that is no point; kept when an older entry is edited.
    near: RwSignal<Option<PlanPoint>>,
    spread: RwSignal<Option<Spread>>,
    attributes: RwSignal<Attributes>,
    /// Photos an edited entry has already.
    photos: RwSignal<Vec<PhotoId>>,
    correcting: RwSignal<Option<EntryId>>,
    note: RwSignal<String>,
    told: RwSignal<bool>,
    held: Held,
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
            near: RwSignal::new(None),
            spread: RwSignal::new(None),
            attributes: RwSignal::new(Attributes::new()),
            photos: RwSignal::new(Vec::new()),
            correcting: RwSignal::new(None),
            note: RwSignal::new(device::remembered(&key).unwrap_or_default()),
            told: RwSignal::new(false),
            held: RwSignal::new_local(Vec::new()),
        };
        effect(move || draft.note.with(|note| device::remember(&key, note)));
        draft
    }

    /// Begins anew.
    fn clear(self) {
        self.kind.set(None);
        self.severity.set(Severity::default());
        self.points.set(Vec::new());
        self.near.set(None);
        self.spread.set(None);
        self.attributes.set(Attributes::new());
        self.photos.set(Vec::new());
        self.correcting.set(None);
        self.note.set(String::new());
        self.told.set(false);
        self.held.set(Vec::new());
    }

    /// Takes up an entry of the book, to be written anew.
    pub fn edit(self, entry: &EntryId, problem: &Problem) {
        self.clear();
        self.kind.set(Some(trouble(&problem.kind).map_or("other", |known| known.key)));
        self.severity.set(problem.severity);
        match &problem.at {
            At::Points(points) => self.points.set(points.clone()),
            At::Near(at) => self.near.set(Some(*at)),
            At::Site => {}
        }
        self.spread.set(problem.spread);
        self.attributes.set(problem.attributes.clone());
        self.photos.set(problem.photos.clone());
        self.note.set(problem.note.clone());
        self.told.set(problem.told);
        self.correcting.set(Some(entry.clone()));
    }

    /// What it says; none until the kind is picked.
    fn said(self) -> Option<(Vec<Statement>, Vec<PhotoFile>)> {
        let held = self.held.get_untracked();
        let problem = Problem {
            kind: self.kind.get_untracked()?.to_owned(),
            severity: self.severity.get_untracked(),
            at: place(self.points.get_untracked(), self.near.get_untracked()),
            spread: self.spread.get_untracked().filter(|_| self.points.with_untracked(|p| p.len() > 1)),
            attributes: self.attributes.with_untracked(tidied),
            note: self.note.get_untracked().trim().to_owned(),
            photos: self
                .photos
                .get_untracked()
                .into_iter()
                .chain(held.iter().map(|p| p.id.clone()))
                .collect(),
            told: self.told.get_untracked(),
        };
        let pin = Pin { at: problem.at.clone(), of: None };
        let notes = held.iter().map(|photo| Statement::Photo(note(photo, &pin)));
        let now = Statement::Problem(problem);
        let now = match self.correcting.get_untracked() {
            Some(entry) => Statement::Correct { entry, now: Box::new(now) },
            None => now,
        };
        // The problem first: undo takes what was said with it along.
        let statements = std::iter::once(now).chain(notes).collect();
        Some((statements, held))
    }
}

/// At the points picked, else where it was tapped; at none, the whole site.
fn place(points: Vec<PointId>, near: Option<PlanPoint>) -> At {
    match near {
        _ if !points.is_empty() => At::Points(points),
        Some(near) => At::Near(near),
        None => At::Site,
    }
}

/// The form.
#[component]
pub fn AddProblem() -> impl IntoView {
    let (site, router, notices) = (OpenSite::here(), Router::here(), Notices::here());
    let draft = Drafts::here().problem;
    let wrong = RwSignal::new(None);
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let Some((statements, photos)) = draft.said() else {
            wrong.set(Some(tr(words::PICK_KIND).to_owned()));
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
            <h1>{move || if draft.correcting.get().is_some() { said::EDIT_PROBLEM } else { words::ADD_PROBLEM }}</h1>
            <form class="form" on:submit=save>
                <KindAndSeverity draft />
                <Where points=draft.points spread=draft.spread />
                <TextArea label=words::NOTE value=draft.note />
                <PhotoField held=draft.held />
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
    let kinds = TROUBLES.iter().map(|known| (known.key, tr(known.name).to_owned())).collect();
    let severities = words::SEVERITIES.map(|s| (s, tr(words::severity_name(s)).to_owned())).to_vec();
    let asked = move || {
        draft.kind.get().map(|kind| {
            let (open, answers) = (RwSignal::new(None), Answers::of(draft.attributes));
            let form = evidence(kind);
            markup! {
                <Advice kind=kind />
                {(!form.first.is_empty()).then(|| markup! {
                    <fieldset>
                        <legend class="legend">{said::MEASURED}</legend>
                        <Asked form=form answers=answers open=open />
                    </fieldset>
                })}
            }
        })
    };
    markup! {
        {chips(words::PROBLEM_KIND, kinds, move || draft.kind.get(), move |kind| draft.kind.set(Some(kind)))}
        {chips(
            words::PROBLEM_SEVERITY,
            severities,
            move || Some(draft.severity.get()),
            move |severity| draft.severity.set(severity),
        )}
        {live(asked)}
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
