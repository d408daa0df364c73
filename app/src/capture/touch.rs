//! What taps and keys do to what is under way.

use super::draft::{Kind, Meant, Slot};
use super::naming::objection;
use super::say::new_point;
use super::state::{Capture, Panel};
use crate::drawing::{Tap, place};
use crate::keypad::Typed;
use crate::state::new_point_id;
use crate::words;
use leptos::prelude::*;
use swingtie_core::plan::Frame;
use swingtie_core::record::{PointId, Side, Statement, UnitSystem};
use swingtie_core::units::PlanPoint;

/// While sketching, a tap this near to a point takes it up; farther off it drops a new one. Less
/// than a finger's reach, because window jambs stand close together. CSS pixels.
const TAKE_UP: f64 = 16.0;

impl Capture {
    pub(super) fn sketched(self, at: PlanPoint) -> PlanPoint {
        Frame::fit(&self.record().record, &self.plan.get_untracked()).sketch_from_plan(at)
    }

    /// A tap on the drawing.
    pub fn tap(self, tap: &Tap) {
        let sketching = self.panel.get_untracked() == Panel::Sketch;
        let near: Vec<PointId> = if sketching {
            let plan = self.plan.get_untracked();
            let close = |id: &PointId| {
                place(&plan, id).is_some_and(|p| p.distance(tap.at).metres() * tap.scale <= TAKE_UP)
            };
            tap.near.iter().filter(|id| close(id)).cloned().collect()
        } else {
            tap.near.clone()
        };
        self.choice.set(Vec::new());
        if self.side_wanted() {
            self.tap_side(tap.at);
        } else if near.len() > 1 && (!sketching || self.taken.get_untracked().is_none()) {
            self.choice.set(near);
        } else {
            self.tapped(near.into_iter().next(), tap.at);
        }
    }

    /// One point was meant, or none.
    pub fn tapped(self, point: Option<PointId>, at: PlanPoint) {
        self.choice.set(Vec::new());
        match (self.panel.get_untracked(), point) {
            (Panel::Idle | Panel::Card(_) | Panel::Entry { .. } | Panel::Doubts, point) => {
                self.open(point.map_or(Panel::Idle, Panel::Card));
            }
            (Panel::Kinds, Some(id)) => self.tape(Slot::First, id),
            (Panel::Kinds, None) | (Panel::Parts(_), _) => {}
            (Panel::Sketch, point) => self.sketch(point, at),
            (Panel::Measure, Some(id)) => self.put(Meant::Known(id)),
            (Panel::Measure, None) => {
                let focus = self.draft.with_untracked(|draft| draft.focus);
                if focus.takes_point() && focus != Slot::Many {
                    self.put_new(Some(at));
                }
            }
            (Panel::Level, Some(id)) => self.taken.set(Some(id)),
            (Panel::Level, None) if self.taken.with_untracked(Option::is_some) => {}
            (Panel::Thing, Some(id)) => self.thing.update(|thing| thing.toggle(id)),
            (Panel::Mark, Some(id)) => self.mark.update(|mark| mark.toggle(id)),
            (Panel::Thing, None) if self.thing.with_untracked(|t| t.kind.is_none()) => {}
            (Panel::Mark, None) if self.mark.with_untracked(|m| m.colour.is_none()) => {}
            (Panel::Thing | Panel::Mark | Panel::Level, None) => self.add_new(Some(at)),
        }
    }

    /// Puts a point into the measurement under way.
    pub fn put(self, meant: Meant) {
        self.trouble.set(None);
        self.doubt.set(None);
        self.draft.update(|draft| draft.put_point(meant));
        // What cannot be is said where it was tapped, not at the end.
        let fold = self.record();
        let meet = self.draft.with_untracked(|draft| {
            draft.meets().map(|shared| words::capture::lines_meet(shared.label(&fold.record)))
        });
        self.trouble.set(meet);
    }

    /// Puts a point that is to be made with the reading.
    pub fn put_new(self, at: Option<PlanPoint>) {
        let label = untrack(|| self.next_label());
        if let Some(why) = objection(&self.record().record, &label) {
            self.trouble.set(Some(why));
            return;
        }
        self.label.set(None);
        self.series.set(Some(label.clone()));
        self.put(Meant::New { label, at: at.map(|at| self.sketched(at)) });
    }

    /// Makes a point now and puts it into the feature, mark or level reading under way.
    pub fn add_new(self, at: Option<PlanPoint>) {
        self.make_point(at, move |id| match self.panel.get_untracked() {
            Panel::Thing => self.thing.update(|thing| thing.toggle(id)),
            Panel::Mark => self.mark.update(|mark| mark.toggle(id)),
            _ => self.taken.set(Some(id)),
        });
    }

    fn make_point(self, at: Option<PlanPoint>, then: impl FnOnce(PointId) + 'static) {
        let label = untrack(|| self.next_label());
        if let Some(why) = objection(&self.record().record, &label) {
            self.trouble.set(Some(why));
            return;
        }
        let marking = self.panel.get_untracked() == Panel::Mark;
        let id = new_point_id();
        let statements = new_point(&id, &label, at.map(|at| self.sketched(at))).collect();
        self.save_all(statements, move |_| {
            self.label.set(None);
            if !marking {
                self.series.set(Some(label));
            }
            then(id);
        });
    }

    fn sketch(self, point: Option<PointId>, at: PlanPoint) {
        match (self.taken.get_untracked(), point) {
            (Some(id), _) => self.move_sketch(id, at),
            (None, Some(id)) => self.taken.set(Some(id)),
            (None, None) => self.make_point(Some(at), |_| {}),
        }
    }

    /// Moves a point on the sketch: a new entry, the old one stays readable.
    pub fn move_sketch(self, point: PointId, at: PlanPoint) {
        let at = self.sketched(at);
        self.save_all(vec![Statement::Sketch { point, at }], move |_| self.taken.set(None));
    }

    /// What was typed on the pad.
    pub fn typed(self, typed: Typed) {
        self.doubt.set(None);
        self.trouble.set(None);
        self.draft.update(|draft| draft.set_typed(draft.focus, typed));
    }

    /// The pad's units were switched: the number is typed again, a half-typed one means nothing there.
    pub fn switch_units(self, units: UnitSystem) {
        self.pad.set(Some(units));
        self.draft.update(|draft| draft.set_typed(draft.focus, Typed::new(units)));
    }

    /// Whether a tap on the drawing now says a side.
    fn side_wanted(self) -> bool {
        self.panel.get_untracked() == Panel::Measure
            && self.draft.with_untracked(|draft| draft.kind == Kind::Tie && draft.focus == Slot::Side)
            && self.mirror.get_untracked().is_some()
    }

    fn tap_side(self, at: PlanPoint) {
        let Some(mirror) = self.mirror.get_untracked() else { return };
        let left = mirror.left.distance(at) < mirror.right.distance(at);
        self.draft.update(|draft| draft.put_side(if left { Side::Left } else { Side::Right }));
    }
}
