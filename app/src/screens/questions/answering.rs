//! The question that is being answered while the screen shows the plan or the heights.

use super::asked_here;
use super::todo::sentence;
use crate::capture::{Capture, Panel};
use crate::device;
use crate::markup::{effect, live, memo};
use crate::routes::{Route, Router, Tab};
use crate::screens::drafts::Drafts;
use crate::state::OpenSite;
use crate::store::SiteId;
use crate::words::questions as say;
use leptos::prelude::*;
use swingtie_core::record::{EntryId, PointId};

/// Which question it is. It outlives the screen and a reload.
#[derive(Clone, Copy)]
pub struct Answering(RwSignal<Option<EntryId>>);

impl Answering {
    /// What was being answered on this site when it was left.
    pub fn new(site: &SiteId) -> Self {
        let key = format!("answering {site}");
        let question = RwSignal::new(device::remembered(&key).map(EntryId));
        effect(move || match question.get() {
            Some(EntryId(id)) => device::remember(&key, &id),
            None => device::forget(&key),
        });
        Self(question)
    }

    /// Begins with a question.
    pub fn begin(self, question: EntryId) {
        self.0.set(Some(question));
    }

    /// The point whose height is asked for. Tracked.
    pub fn point(self) -> Option<PointId> {
        let question = self.0.get()?;
        let asked = asked_here();
        asked.with(|all| match all.iter().find(|one| one.question.entry == question)?.points() {
            [point] => Some(point.clone()),
            _ => None,
        })
    }

    /// Leads back to the list once it is answered, wherever it was answered.
    pub fn watch(self) {
        let (site, router, asked) = (OpenSite::here(), Router::here(), asked_here());
        effect(move || {
            let Some(question) = self.0.get() else { return };
            let open = asked.with(|all| {
                all.iter()
                    .find(|one| one.question.entry == question)
                    .map(swingtie_core::checks::Asked::is_open)
            });
            if open == Some(true) {
                return;
            }
            self.0.set(None);
            let answers = [Tab::Plan, Tab::Levels].map(|tab| Route::Site(site.id(), tab));
            if open == Some(false) && answers.contains(&untrack(|| router.route())) {
                router.go(&Route::Site(site.id(), Tab::Questions));
            }
        });
    }
}

/// What is being answered, over what is done for it; nothing where nothing is.
#[component]
pub fn AnsweringStrip() -> impl IntoView {
    let (site, router, capture) = (OpenSite::here(), Router::here(), Capture::here());
    let Answering(answering) = Drafts::here().answering;
    let asked = asked_here();
    let question = memo(move || {
        let question = answering.get()?;
        asked.with(|all| all.iter().find(|one| one.question.entry == question && one.is_open()).cloned())
    });
    let not_now = move |_| {
        answering.set(None);
        capture.open(Panel::Idle);
        router.go(&Route::Site(site.id(), Tab::Questions));
    };
    live(move || {
        let what = sentence(site, &question.get()?);
        Some(markup! {
            <div class="answering" role="group" aria-label=say::ANSWERING>
                <p><strong>{say::ANSWERING}":"</strong>" "{what}</p>
                <button type="button" class="button" on:click=not_now>{say::NOT_NOW}</button>
            </div>
        })
    })
}
