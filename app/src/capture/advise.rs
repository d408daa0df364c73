//! What to tape next, on the slip: worked out after the screen has answered, since it takes longer
//! than a save.

use super::draft::{Draft, Kind, Meant, Slot};
use super::state::Capture;
use crate::markup::effect;
use crate::routes::{Route, Router, Tab};
use crate::words::{advice_does, advice_tape};
use leptos::prelude::*;
use std::time::Duration;
use swingtie_core::book::Fold;
use swingtie_core::network::{Adjustment, Advice, Reach, advice};
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// Long enough for the screen to show what was saved (milliseconds).
const AFTER: u64 = 60;

/// The next few tapes worth taking, best first; empty until they are worked out.
pub fn advised(capture: Capture) -> RwSignal<Vec<Advice>> {
    let found = RwSignal::new(Vec::new());
    let turn = StoredValue::new(0_u32);
    effect(move || {
        let (fold, adjustment) = (capture.site.fold.get(), capture.site.adjustment.get());
        turn.update_value(|turn| *turn += 1);
        let mine = turn.get_value();
        let work = move || {
            leptos::task::spawn_local(async move {
                // Another entry came in, or the slip is closed: this is out of date.
                if turn.try_get_value() != Some(mine) {
                    return;
                }
                if let Ok(best) = best(&fold, &adjustment).await
                    && turn.try_get_value() == Some(mine)
                {
                    found.try_set(best);
                }
            });
        };
        set_timeout(work, Duration::from_millis(AFTER));
    });
    found
}

/// In the part of the program that comes after the first screen.
#[wasm_split(screens, fallible)]
fn best(fold: &Fold, adjustment: &Adjustment) -> Result<Vec<Advice>, SplitLoaderError> {
    Ok(advice(&fold.record, adjustment, &Reach::default()))
}

/// A tape worth taking: what it does, and the key that starts it.
#[component]
pub fn Advised(advice: Advice) -> impl IntoView {
    let capture = Capture::here();
    let fold = capture.site.fold.get_untracked();
    let (tape, does) = (advice_tape(&advice, &fold.record), advice_does(&advice, &fold.record));
    let router = Router::here();
    let take = move |_| {
        capture.take(&advice);
        router.go(&Route::Site(capture.site.id(), Tab::Plan));
    };
    markup! {
        <div class="advised">
            <p><strong>{tape}</strong>" "{does}</p>
            <button type="button" class="button button-main main" on:click=take>"Tape it"</button>
        </div>
    }
}

impl Capture {
    /// Starts the tape that was advised.
    pub fn take(self, advice: &Advice) {
        self.start(Kind::Tie);
        self.advised.set(true);
        // A number typed for another tape is none of this one's.
        let mut draft = Draft::new(Kind::Tie);
        draft.set_point(Slot::First, Meant::Known(advice.from.clone()));
        draft.set_point(Slot::Target, Meant::Known(advice.to.clone()));
        draft.advance();
        self.draft.set(draft);
    }
}
