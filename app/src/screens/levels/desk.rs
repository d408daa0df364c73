//! The level reading under way: its signals, and saving it.

use super::booking::Booking;
use super::next::question;
use crate::capture::{Capture, Panel};
use crate::device;
use crate::keypad::{Doubt, Typed};
use crate::markup::effect;
use crate::routes::{Route, Router, Tab};
use crate::store::SiteId;
use crate::words::levels as words;
use leptos::prelude::*;
use swingtie_core::levels::heights;
use swingtie_core::record::{EntryId, LevelReading, LevelWith, PointId, UnitSystem};

/// What is under way. It outlives the screen and a reload.
#[derive(Clone, Copy)]
pub struct Draft {
    /// The reading; none while no level is set up.
    pub booking: RwSignal<Option<Booking>>,
    /// Why it looks like a slip: keep it?
    pub doubt: RwSignal<Option<String>>,
    /// The two points between which a slope is asked.
    pub slope: [RwSignal<Option<PointId>>; 2],
}

impl Draft {
    /// What was under way on this site when it was left.
    pub fn new(site: &SiteId) -> Self {
        let key = format!("level {site}");
        let booking = RwSignal::new(device::remembered(&key).and_then(|text| Booking::from_kept(&text)));
        effect(move || match booking.with(|booking| booking.as_ref().map(Booking::kept)) {
            Some(kept) => device::remember(&key, &kept),
            None => device::forget(&key),
        });
        Self { booking, doubt: RwSignal::new(None), slope: [RwSignal::new(None), RwSignal::new(None)] }
    }

    /// Sets a level up, and goes to the plan to read.
    pub fn begin(self, with: LevelWith, router: Router, capture: Capture) {
        let units = untrack(|| capture.site.units());
        self.booking.set(Some(Booking::begun(with, units)));
        self.go(router, capture);
    }

    /// Takes up a reading of the book, to be written anew, on the plan.
    pub fn edit(self, entry: &EntryId, said: &LevelReading, router: Router, capture: Capture) {
        let units = untrack(|| capture.site.units());
        self.booking.set(Some(Booking::of(entry, said, units)));
        self.go(router, capture);
    }

    /// Goes on with what is under way, on the plan.
    pub fn go(self, router: Router, capture: Capture) {
        self.doubt.set(None);
        capture.open(Panel::Level);
        capture.taken.set(self.booking.with_untracked(|b| b.as_ref().and_then(|b| b.point.clone())));
        router.go(&Route::Site(capture.site.id(), Tab::Plan));
    }

    /// Changes what is under way; what was asked about it is withdrawn.
    pub fn change(self, how: impl FnOnce(&mut Booking)) {
        self.doubt.set(None);
        self.booking.update(|booking| {
            if let Some(booking) = booking {
                how(booking);
            }
        });
    }

    /// What was typed on the pad.
    pub fn typed(self, typed: Typed) {
        self.change(|booking| booking.typed = typed);
    }

    /// The pad's units were switched: the number is typed again.
    pub fn switch_units(self, units: UnitSystem) {
        self.change(|booking| booking.typed = Typed::new(units));
    }

    /// The level is moved: the next set-up begins with a point this one read, the last one if no other is picked.
    pub fn moved(self, capture: Capture) {
        let fold = capture.site.fold.get_untracked();
        self.change(|booking| {
            let last = booking.readings(&fold.record).next_back().map(|l| l.what.point.clone());
            let point = last.filter(|_| !booking.pairs());
            *booking = Booking { point, ..booking.next(None) };
        });
        capture.taken.set(self.booking.with_untracked(|b| b.as_ref().and_then(|b| b.point.clone())));
    }

    /// Saves the reading and goes on to the next. `sure` skips the question whether it is meant.
    pub fn save(self, sure: bool, capture: Capture) {
        let fold = capture.site.fold.get_untracked();
        let Some(booking) = self.booking.get_untracked() else { return };
        let Some(said) = booking.statement(&fold.record) else {
            let unit = booking.typed.doubt() == Some(Doubt::NeedsUnit);
            let wanted = if unit { words::TAP_UNIT } else { words::STILL_NEEDED };
            capture.trouble.set(Some(wanted.to_owned()));
            return;
        };
        let asked = if sure { None } else { question(&fold.record, &heights(&fold.record), &booking) };
        if let Some(why) = asked {
            device::say_aloud(&why);
            self.doubt.set(Some(why));
            return;
        }
        self.doubt.set(None);
        let label = booking.point.as_ref().map(|id| fold.record.label(id)).unwrap_or_default();
        let spoken = words::spoken(label, &booking.typed.spoken());
        capture.save_all(vec![said], move |ids| {
            device::say_aloud(&spoken);
            self.saved(&booking, ids.into_iter().next(), capture);
        });
    }

    /// The reading is in the book: on to the next.
    fn saved(self, booking: &Booking, entry: Option<EntryId>, capture: Capture) {
        let fold = capture.site.fold.get_untracked();
        let began = booking.setup.clone().filter(|_| booking.readings(&fold.record).count() > 1);
        let setup = began.or(entry);
        let units = untrack(|| capture.site.units());
        if booking.correcting.is_some() {
            // Whoever corrects goes back to where the last set-up was left.
            let last = fold
                .record
                .levels
                .last()
                .map(|l| (l.what.with, l.what.setup.clone().unwrap_or_else(|| l.entry.clone())));
            self.booking
                .set(last.map(|(with, setup)| Booking { setup: Some(setup), ..Booking::begun(with, units) }));
            return capture.open(Panel::Idle);
        }
        let read = booking.next(setup);
        let full = read.pairs() && read.readings(&fold.record).count() > 1;
        self.booking.set(Some(if full { booking.next(None) } else { read }));
        capture.taken.set(None);
    }
}
