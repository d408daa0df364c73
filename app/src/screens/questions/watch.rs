//! What answers a question by being measured: noted as its answer when it is written, whichever way it was taken.

use super::asked_here;
use super::todo::answer;
use crate::markup::effect;
use crate::state::{Home, OpenSite};
use leptos::prelude::*;
use swingtie_core::record::EntryId;

/// Shows nothing. What this device wrote since the site was opened and what meets an open question is named as its
/// answer; what came from elsewhere is only proposed (the question's own row), so that two devices do not both answer.
#[component]
pub fn Watch() -> impl IntoView {
    let site = OpenSite::here();
    let (_, me) = Home::here().store();
    let asked = asked_here();
    let known = StoredValue::new(site.book.with_untracked(|book| book.len()));
    effect(move || {
        let now = site.book.with(|book| book.len());
        if now <= known.get_value() {
            return;
        }
        known.set_value(now);
        let mine = |id: &EntryId| {
            site.book.with_untracked(|book| book.get(id).is_some_and(|entry| entry.author == me))
        };
        let mut answers = Vec::new();
        for one in asked.get_untracked().iter().filter(|one| one.is_open()) {
            let by: Vec<EntryId> = one.met_by.iter().filter(|id| mine(id)).cloned().collect();
            if !by.is_empty() {
                answers.push(answer(&one.question.entry, by, String::new()));
            }
        }
        if answers.is_empty() {
            return;
        }
        leptos::task::spawn_local(async move {
            for statement in answers {
                // Not written, it is proposed in the question's row.
                let _ = site.say_apart(statement, None).await;
            }
        });
    });
}
