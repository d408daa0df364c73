//! What to tape next: worked out once the hand rests, since it takes longer than a save, and
//! only while something shows it. What follows from it (the next step, what the drawing points at) is
//! derived.

use super::next::{Next, next};
use crate::device::{self, remember, remembered};
use crate::markup::{effect, memo};
use crate::screens::later::Later;
use crate::state::{OpenSite, Shared};
use leptos::prelude::*;
use swingtie_core::book::Fold;
use swingtie_core::network::{Adjustment, Advice, Reach, advice};
use swingtie_core::record::UnitSystem;
use swingtie_core::units::{Length, read_number};
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// Where the device keeps its longest tape, in metres.
const LONGEST: &str = "longest-tape";

/// What was worked out, and of what: it is used for nothing else.
#[derive(Clone)]
struct Worked {
    adjustment: Shared<Adjustment>,
    tape: Length,
    best: Vec<Advice>,
}

/// The advice on an open site. Copied freely.
#[derive(Clone, Copy)]
pub struct Advising {
    site: OpenSite,
    worked: RwSignal<Option<Worked>>,
    longest: RwSignal<Option<Length>>,
    /// The next step in words; empty until the part of the program that words it is here.
    pub step: Memo<Next>,
}

impl Advising {
    /// Nothing worked out yet.
    #[must_use]
    pub fn new(site: OpenSite) -> Self {
        let kept = remembered(LONGEST).and_then(|text| read_number(&text));
        let longest = kept.filter(|tape| (1.0..1000.0).contains(tape)).map(Length::from_metres);
        let later = Later::here();
        let step = memo(move || {
            let (fold, adjustment) = (site.fold.get(), site.adjustment.get());
            later.ask(|| step(&fold, &adjustment)).unwrap_or_default()
        });
        Self { site, worked: RwSignal::new(None), longest: RwSignal::new(longest), step }
    }

    /// The longest tape there is, as far as said on this device. Tracked.
    #[must_use]
    pub fn said(self) -> Option<Length> {
        self.longest.get()
    }

    /// The longest tape reckoned with: that said, else what most people have. Tracked.
    #[must_use]
    pub fn longest(self) -> Length {
        self.longest.get().unwrap_or_else(|| usual(self.site.units()))
    }

    /// Says how long the longest tape is, on this device.
    pub fn say_longest(self, tape: Length) {
        remember(LONGEST, &tape.metres().to_string());
        self.longest.set(Some(tape));
    }

    /// The next few tapes worth taking, best first, each as if those before it had been taken; none until
    /// they are worked out for the plan as it stands. Tracked.
    #[must_use]
    pub fn all(self) -> Vec<Advice> {
        let (adjustment, tape) = (self.site.adjustment.get(), self.longest());
        self.worked.with(|worked| match worked {
            Some(worked) if worked.adjustment == adjustment && worked.tape == tape => worked.best.clone(),
            _ => Vec::new(),
        })
    }

    /// The tape that is the next step, where that is one. Tracked.
    #[must_use]
    pub fn best(self) -> Option<Advice> {
        let settled = self.site.doubts.with(|doubts| doubts.found.is_empty())
            && self.site.adjustment.with(|adjustment| adjustment.questions.is_empty());
        (settled && self.step.with(|step| step.tape)).then(|| self.all().into_iter().next()).flatten()
    }

    /// Has it worked out, for as long as the calling part is shown.
    pub fn show(self) {
        let turn = StoredValue::new(0_u32);
        effect(move || {
            let (fold, adjustment) = (self.site.fold.get(), self.site.adjustment.get());
            let tape = self.longest();
            turn.update_value(|turn| *turn += 1);
            let mine = turn.get_value();
            let known = self.worked.with_untracked(|worked| {
                worked.as_ref().is_some_and(|worked| worked.adjustment == adjustment && worked.tape == tape)
            });
            if known {
                return;
            }
            leptos::task::spawn_local(async move {
                device::shown().await;
                device::hand_rests().await;
                // Another entry came in, or the slip is closed: this is out of date.
                if turn.try_get_value() != Some(mine) {
                    return;
                }
                if let Ok(best) = best(&fold, &adjustment, tape).await
                    && turn.try_get_value() == Some(mine)
                {
                    self.worked.try_set(Some(Worked { adjustment, tape, best }));
                }
            });
        });
    }
}

/// What most people have: a hundred feet, or thirty metres. Common practice, no source.
fn usual(units: UnitSystem) -> Length {
    match units {
        UnitSystem::Metres => Length::from_metres(30.0),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => Length::from_feet(100.0),
    }
}

/// In the part of the program that comes after the first screen, which answers at once after `fetch_step`.
#[wasm_split(screens, fallible, preload(fetch_step))]
pub fn step(fold: &Fold, adjustment: &Adjustment) -> Result<Next, SplitLoaderError> {
    Ok(next(&fold.record, adjustment))
}

/// In the part of the program that comes after the first screen.
#[wasm_split(screens, fallible)]
fn best(fold: &Fold, adjustment: &Adjustment, tape: Length) -> Result<Vec<Advice>, SplitLoaderError> {
    Ok(advice(&fold.record, adjustment, &Reach { tape, ..Reach::default() }))
}
