//! What is half entered on the screens that come later, kept while the site is open. It is no context of the
//! site: a phone that only measures need not fetch it first.

use super::changes::Comparing;
use super::levels::Draft as LevelDraft;
use super::notes::Draft as NoteDraft;
use super::photos::Desk;
use super::problems::{MarkDraft, ProblemDraft};
use super::questions::{Answering, Draft as QuestionDraft};
use crate::state::OpenSite;
use crate::store::SiteId;
use leptos::prelude::*;
use std::cell::RefCell;

/// All of it. Copied freely.
#[derive(Clone, Copy)]
pub struct Drafts {
    /// A problem.
    pub problem: ProblemDraft,
    /// A utility mark.
    pub mark: MarkDraft,
    /// Level readings.
    pub level: LevelDraft,
    /// A note.
    pub note: NoteDraft,
    /// A question.
    pub question: QuestionDraft,
    /// The question that is being answered.
    pub answering: Answering,
    /// Photos.
    pub photos: Desk,
    /// What the book is compared with.
    pub comparing: Comparing,
}

thread_local! {
    /// Of the site opened last, with what keeps its signals.
    static KEPT: RefCell<Option<(SiteId, Owner, Drafts)>> = const { RefCell::new(None) };
}

impl Drafts {
    /// Those of the site that is open.
    pub fn here() -> Self {
        let site = OpenSite::here().id();
        KEPT.with_borrow_mut(|kept| match kept {
            Some((of, _, drafts)) if *of == site => *drafts,
            _ => {
                // Without a parent: it outlives the screen that asked first.
                let owner = Owner::default();
                let new = owner.with(|| Self {
                    problem: ProblemDraft::new(&site),
                    mark: MarkDraft::new(),
                    level: LevelDraft::new(&site),
                    note: NoteDraft::new(&site),
                    question: QuestionDraft::new(&site),
                    answering: Answering::new(&site),
                    photos: Desk::new(),
                    comparing: Comparing::new(),
                });
                *kept = Some((site, owner, new));
                new
            }
        })
    }
}
