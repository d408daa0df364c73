//! What answers a question by being measured: noted as its answer when it is written, whichever way it was taken.

use super::asked_here;
use super::todo::{answer, sentence};
use crate::markup::effect;
use crate::notices::Notices;
use crate::screens::drafts::Drafts;
use crate::state::{Home, OpenSite};
use crate::words::questions as say;
use leptos::prelude::*;
use swingtie_core::record::EntryId;

/// Shows nothing. What this device wrote since the site was opened and what meets an open question is named as its
/// answer; what came from elsewhere is only proposed (the question's own row), so that two devices do not both answer.
#[component]
pub fn Watch() -> impl IntoView {
    let site = OpenSite::here();
    let (_, me) = Home::here().store();
    let (asked, notices) = (asked_here(), Notices::here());
    Drafts::here().answering.watch();
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
        let open = asked.get_untracked().into_iter().filter(swingtie_core::checks::Asked::is_open);
        let mut left = 0;
        for one in open {
            let by: Vec<EntryId> = one.met_by.iter().filter(|id| mine(id)).cloned().collect();
            if by.is_empty() {
                left += 1;
            } else {
                answers.push((answer(&one.question.entry, by, String::new()), sentence(site, &one)));
            }
        }
        if answers.is_empty() {
            return;
        }
        leptos::task::spawn_local(async move {
            for (statement, what) in answers {
                // Not written, it is proposed in the question's row.
                if site.say_apart(statement, None).await.is_ok() {
                    notices.say(say::answered(&what, left));
                }
            }
        });
    });
}
