//! Saying what is under way: checks first, then one transaction, and only then on to the next.

use super::ahead::questioned;
use super::back::spoken_back;
use super::corrections::in_use;
use super::draft::{Draft, Kind, Meant, Slot};
use super::expect::{Known, Unexpected, unexpected_length};
use super::naming::objection;
use super::say;
use super::state::{Capture, Panel};
use super::thing::{Mark, Thing};
use crate::state::{SaveError, new_point_id};
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::{EntryId, Measurement, PointId, SideOf, Statement};

impl Capture {
    /// Gives a point another label.
    pub fn rename(self, id: &PointId, label: &str) {
        let fold = self.record();
        let Some(known) = fold.record.points.iter().find(|p| p.id == *id) else { return };
        let same = known.label.eq_ignore_ascii_case(label.trim());
        if let Some(why) = objection(&fold.record, label).filter(|_| !same) {
            self.trouble.set(Some(why));
            return;
        }
        let mut point = known.clone();
        point.label = label.trim().to_owned();
        self.save_all(vec![Statement::Point(point)], move |_| self.trouble.set(None));
    }

    /// Whether the wide key saves now, or goes on to the next slot. Tracked.
    #[must_use]
    pub fn complete(self) -> bool {
        let asks = self.mirror.with(Option::is_some);
        self.draft
            .with(|draft| draft.wanting().is_none() && (!asks || draft.side.is_some() || draft.side_open))
    }

    /// The wide key: on to what is still needed, or save.
    pub fn enter(self) {
        let asks = self.mirror.with_untracked(Option::is_some);
        self.trouble.set(None);
        self.onward.set_value(None);
        self.draft.update(|draft| draft.ask_side = asks && !draft.side_open);
        match self.draft.with_untracked(Draft::wanting) {
            Some(slot) if self.draft.with_untracked(|draft| draft.focus) == slot => {
                let wanted = self.draft.with_untracked(|draft| say::wanted(draft, slot));
                self.trouble.set(Some(wanted));
            }
            Some(slot) => self.draft.update(|draft| draft.focus = slot),
            None => self.save(false),
        }
    }

    /// Leaves the side of this tie open; the plan will ask again.
    pub fn leave_side_open(self) {
        self.draft.update(|draft| {
            draft.side = None;
            draft.side_open = true;
            draft.ask_side = false;
        });
        self.save(false);
    }

    /// Saves the measurement under way. `sure` skips the question whether the value is meant.
    pub fn save(self, sure: bool) {
        if self.busy.get_untracked() {
            return;
        }
        let (draft, fold) = (self.draft.get_untracked(), self.record());
        let hand = in_use(self.hand.get_untracked());
        let (plan, adjustment) = (self.site.plan.get_untracked(), self.site.adjustment.get_untracked());
        let known = Known { record: &fold.record, plan: &plan, adjustment: &adjustment };
        if !sure {
            let told = |doubt: Unexpected| {
                (doubt.slot, words::capture::length_not_expected(&doubt, self.site.units()))
            };
            let doubt = unexpected_length(&draft, known, &hand).map(told);
            if let Some((slot, why)) = doubt.or_else(|| questioned(&draft, known, &hand)) {
                crate::device::say_aloud(&why);
                self.doubt.set(Some((slot, why)));
                return;
            }
        }
        self.doubt.set(None);
        let saying = match say::say(&draft, &fold.record, hand, &mut new_point_id) {
            Ok(saying) => saying,
            Err(why) => {
                self.trouble.set(Some(why));
                return;
            }
        };
        let (target, kind) = (saying.target, draft.kind);
        // Read back is the reading, whatever was said of it after.
        let focus = if kind.sighted() { Slot::Angle } else { Slot::Length };
        let spoken = spoken_back(&draft, focus, &fold.record);
        let was_new = matches!(draft.point(Slot::Target), Some(Meant::New { .. }));
        self.save_all(saying.statements, move |ids| {
            crate::device::say_aloud(&spoken);
            // A walk that is back at its start is done.
            let closed =
                kind == Kind::Walk && target.is_some() && target.as_ref() == draft.known(Slot::First);
            if draft.correcting.is_some() || !kind.stays_open() || closed || self.advised.get_untracked() {
                // Said: its number is none of the next one's.
                self.rest.set_value(draft);
                self.close(&Panel::Measure);
                return;
            }
            self.draft.update(|draft| {
                if draft.gathers() && draft.into.is_none() {
                    draft.into = ids.last().cloned();
                }
                draft.known_now(&self.site.fold.get_untracked().record);
                draft.next_row(target);
            });
            let onward = self.onward.try_update_value(Option::take).flatten();
            if let Some(onward) = onward {
                onward();
            } else if was_new && matches!(kind, Kind::Run | Kind::Offsets | Kind::Ordinates) {
                // A row of new points goes on by itself: the next label stands ready, the number is next.
                self.put_new(None);
                self.draft.update(|draft| draft.proposed = true);
            }
            self.rest.set_value(self.draft.get_untracked());
        });
    }

    /// Saves the feature under way.
    pub fn save_thing(self) {
        match self.thing.with_untracked(Thing::statement) {
            Ok(statement) => self.save_all(vec![statement], move |_| {
                self.thing.try_update(|thing| self.tell_unplaced(&std::mem::take(thing).points));
                self.close(&Panel::Thing);
            }),
            Err(why) => self.trouble.set(Some(why)),
        }
    }

    /// Saves the utility mark under way.
    pub fn save_mark(self) {
        match self.mark.with_untracked(Mark::statement) {
            Ok(statement) => self.save_all(vec![statement], move |_| {
                self.mark.try_update(|mark| self.tell_unplaced(&std::mem::take(mark).points));
                self.close(&Panel::Mark);
            }),
            Err(why) => self.trouble.set(Some(why)),
        }
    }

    /// What was saved through points that stand nowhere yet is on no drawing: said, since nothing else shows it.
    fn tell_unplaced(self, points: &[PointId]) {
        let (plan, fold) = (self.site.plan.get_untracked(), self.record());
        let nowhere = points.iter().filter(|id| plan.points.iter().all(|point| point.id != **id));
        let labels: Vec<&str> = nowhere.map(|id| fold.record.label(id)).collect();
        if !labels.is_empty() {
            self.notices.say(words::capture::no_place_yet(&labels));
        }
    }

    /// Closes a form that was saved, unless something else was opened while it was being stored.
    fn close(self, saved: &Panel) {
        if self.panel.get_untracked() == *saved {
            self.open(Panel::Idle);
        }
    }

    /// Answers which side a point stands on.
    pub fn answer(self, point: PointId, side: SideOf) {
        self.save_all(vec![Statement::Measure(Measurement::SideIs { point, side })], |_| {});
    }

    /// Says one thing.
    pub(super) fn say_one(self, statement: Statement) {
        self.save_all(vec![statement], |_| {});
    }

    /// Says it all in one transaction; goes on only when it is stored.
    pub fn save_all(self, statements: Vec<Statement>, then: impl FnOnce(Vec<EntryId>) + 'static) {
        self.save_then(statements, Box::new(then));
    }

    /// As [`save_all`](Self::save_all); apart, so that the whole of a save is compiled once.
    fn save_then(self, statements: Vec<Statement>, then: Box<dyn FnOnce(Vec<EntryId>)>) {
        if self.busy.get_untracked() {
            return;
        }
        self.busy.set(true);
        self.trouble.set(None);
        leptos::task::spawn_local(async move {
            let said = self.site.say(statements).await;
            self.busy.try_set(false);
            match said {
                Ok(ids) => then(ids),
                Err(error) => self.not_saved(&error),
            }
        });
    }

    /// Takes back the last thing said on this device.
    pub fn undo(self) {
        if self.busy.get_untracked() {
            return;
        }
        self.busy.set(true);
        leptos::task::spawn_local(async move {
            let done = self.site.undo().await;
            self.busy.try_set(false);
            match done {
                Ok(()) => self.after_undo(),
                Err(error) => self.not_saved(&error),
            }
        });
    }

    /// Brings back what was undone last.
    pub fn redo(self) {
        if self.busy.get_untracked() {
            return;
        }
        self.busy.set(true);
        leptos::task::spawn_local(async move {
            let done = self.site.redo().await;
            self.busy.try_set(false);
            if let Err(error) = done {
                self.not_saved(&error);
            }
        });
    }

    /// What is under way must not lean on what was just struck.
    fn after_undo(self) {
        let fold = self.record();
        self.draft.try_update(|draft| {
            draft.forget_missing(&fold.record);
        });
        let known = |id: &PointId| fold.record.points.iter().any(|p| p.id == *id);
        self.thing.try_update(|thing| thing.points.retain(known));
        self.mark.try_update(|mark| mark.points.retain(known));
        self.taken.try_update(|taken| *taken = taken.take().filter(known));
        if let Some(Panel::Card(id)) = self.panel.try_get_untracked()
            && !known(&id)
        {
            self.open(Panel::Idle);
        }
    }

    pub(super) fn not_saved(self, error: &SaveError) {
        self.notices.warn(words::not_saved(error));
    }
}
