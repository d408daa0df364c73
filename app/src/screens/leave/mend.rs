//! The way from a line to where it is mended.

use crate::capture::{Capture, Key, Kind, Panel};
use crate::routes::{Route, Router, Tab};
use crate::state::OpenSite;
use leptos::prelude::{Set, Update, WithUntracked};
use swingtie_core::checks::Mend;
use swingtie_core::record::kind;

/// Opens what mends it.
pub fn go(mend: &Mend) {
    let (site, router, capture) = (OpenSite::here(), Router::here(), Capture::here());
    let tab = match mend {
        Mend::Plan => {
            capture.open(Panel::Idle);
            Tab::Plan
        }
        Mend::Sketch => {
            capture.open(Panel::Sketch);
            Tab::Plan
        }
        Mend::Doubts => {
            capture.open(Panel::Doubts);
            Tab::Plan
        }
        Mend::Walk => {
            capture.go_on(Key::Walk);
            Tab::Plan
        }
        Mend::Run => {
            capture.start(Kind::Run);
            Tab::Plan
        }
        Mend::House => {
            capture.go_on(Key::House);
            Tab::Plan
        }
        Mend::Thing(key) => {
            capture.open(Panel::Thing);
            if let Some(kind) = kind(key) {
                capture.pick_kind(kind);
            }
            Tab::Plan
        }
        Mend::Points(key, points) => {
            if let Some(kind) = kind(key) {
                // What was already typed of it stays; what was open of another thing is not taken for it.
                let own = capture.thing.with_untracked(|thing| {
                    thing.kind == Some(kind) && thing.points == *points && thing.correcting.is_none()
                });
                if !own {
                    capture.thing.set(<_>::default());
                }
                capture.open(Panel::Thing);
                capture.pick_kind(kind);
                capture.thing.update(|thing| thing.points.clone_from(points));
            }
            Tab::Plan
        }
        Mend::EditThing(entry) => {
            capture.edit_thing(entry);
            Tab::Plan
        }
        Mend::Mark => {
            capture.open(Panel::Mark);
            Tab::Plan
        }
        Mend::EditMark(entry) => {
            capture.edit_mark(entry);
            Tab::Plan
        }
        Mend::Book => Tab::Book,
        Mend::Problems => Tab::Problems,
        Mend::Levels => Tab::Levels,
        Mend::Photos => Tab::Photos,
        Mend::Notes => Tab::Notes,
        Mend::Details => Tab::Details,
    };
    router.go(&Route::Site(site.id(), tab));
}
