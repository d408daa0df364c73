//! A measurement under way survives a reload: it is kept on the device, a site each, until it is saved or
//! given up. How it is written and read comes with the later part.

use super::corrections::in_use;
use super::draft::{Draft, InHand};
use super::kept::Kept;
use super::rewrite::measured;
use super::say::say;
use super::state::{Capture, Panel};
use crate::device::{forget, remember, remembered};
use crate::markup::effect;
use crate::state::new_point_id;
use crate::store::SiteId;
use leptos::prelude::*;
use swingtie_core::record::{Record, Statement};
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// Under which name a site's measurement under way is kept on this device.
pub fn key(site: &SiteId) -> String {
    format!("draft-{site}")
}

impl Capture {
    /// Once the later part is here: takes up what was under way when the page was left, from then on keeps
    /// what is, and listens to other windows.
    pub fn watch(self) {
        let owner = Owner::current().unwrap_or_default();
        leptos::task::spawn_local(async move {
            // Without that part nothing is kept: measuring does not wait for it.
            let _ = start(self, owner).await;
        });
    }

    fn keep_draft(self) {
        let key = key(&self.site.id());
        // What cannot be read any more is let go.
        if let Some(kept) = remembered(&key).and_then(|text| Kept::read(&text)) {
            self.take_up(kept);
        }
        effect(move || {
            let (draft, hand) = (self.draft.get(), self.hand.get());
            let (open, advised) = (self.panel.get() == Panel::Measure, self.advised.get());
            let under_way = !draft.is_empty() && self.rest.with_value(|rest| *rest != draft);
            if under_way && (open || draft.has_number()) {
                remember(&key, &Kept { draft, hand, open, advised }.text());
            } else {
                forget(&key);
            }
        });
    }

    fn take_up(self, kept: Kept) {
        // Whoever was quicker than the later part has begun something else.
        let begun = self.draft.try_with_untracked(|draft| !draft.is_empty()).unwrap_or(true);
        if begun || self.panel.get_untracked() != Panel::Idle {
            return;
        }
        let Kept { mut draft, hand, open, advised } = kept;
        let fold = self.record();
        if is_said(&draft, &fold.record, hand.clone()) {
            return;
        }
        let focus = draft.focus;
        draft.forget_missing(&fold.record);
        if draft.slots().contains(&focus) {
            draft.focus = focus;
        }
        if open {
            self.open(Panel::Measure);
        }
        self.draft.set(draft);
        self.hand.set(hand);
        self.advised.set(advised);
    }
}

/// Whether it is what the book says last: stored, when the phone died before it let go of what was under way. Saved
/// twice, a reading would seem to be checked.
fn is_said(draft: &Draft, record: &Record, hand: InHand) -> bool {
    let mut draft = draft.clone();
    draft.known_now(record);
    // What goes on in an entry is there when it changes nothing in its place.
    draft.correcting = draft.correcting.take().or(draft.into.take());
    let Ok(saying) = say(&draft, record, in_use(hand), &mut new_point_id) else { return false };
    let (was, now) = match saying.statements.as_slice() {
        [Statement::Correct { entry, now }] => (measured(record, entry), &**now),
        [said] => (record.measurements.last().map(|last| &last.what), said),
        _ => return false,
    };
    matches!(now, Statement::Measure(now) if Some(now) == was)
}

#[wasm_split(screens, fallible)]
fn start(capture: Capture, owner: Owner) -> Result<(), SplitLoaderError> {
    owner.with(|| {
        // The site may be closed again by now.
        if capture.panel.try_get_untracked().is_some() {
            capture.site.hear();
            capture.keep_draft();
        }
    });
    Ok(())
}
