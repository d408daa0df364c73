//! A measurement under way survives a reload: it is kept on the device, a site each, until it is saved or
//! given up. How it is written and read comes with the later part.

use super::kept::Kept;
use super::state::{Capture, Panel};
use crate::device::{forget, remember, remembered};
use crate::markup::effect;
use crate::store::SiteId;
use leptos::prelude::*;
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
        let focus = draft.focus;
        draft.forget_missing(&self.record().record);
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
