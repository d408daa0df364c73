//! What is under way on the Plan tab, and what taps and keys do to it.
//!
//! It lives above the tabs, so that a glance at the book loses nothing. The decisions are made by
//! the plain modules beside this one; here they meet signals and the store.

use super::draft::{Draft, Kind, Meant, Slot};
use super::expect::{Mirror, Unexpected, mirror, unexpected};
use super::frame::{Frame, with_sketch};
use super::naming::{following, next_label, objection};
use super::say::{self, new_point, rewrite, walked};
use super::thing::{Mark, Thing, mark_prefix};
use crate::drawing::{Ghost, Overlay, Sheet, Tap, place};
use crate::keypad::Typed;
use crate::notices::Notices;
use crate::state::{OpenSite, SaveError, Shared, new_point_id};
use crate::words;
use leptos::prelude::*;
use swingtie_core::plan::Plan;
use swingtie_core::record::{
    CATALOGUE, EntryId, Geometry, How, Kind as ThingKind, Measurement, PointId, Record, Side, SideOf,
    Statement, UnitSystem,
};
use swingtie_core::units::PlanPoint;

/// What the slip below the drawing shows.
#[derive(Clone, Debug, PartialEq)]
pub enum Panel {
    /// What can be done.
    Idle,
    /// The kinds of measurement.
    Kinds,
    /// The rough sketch.
    Sketch,
    /// A measurement under way.
    Measure,
    /// A feature under way.
    Thing,
    /// A utility mark under way.
    Mark,
    /// A point's card.
    Card(PointId),
}

/// While sketching, a tap this near to a point takes it up; farther off it drops a new one. Less
/// than a finger's reach, because window jambs stand close together. CSS pixels.
const TAKE_UP: f64 = 16.0;

/// What is under way. Copied freely; get it with [`Capture::here`].
#[derive(Clone, Copy)]
pub struct Capture {
    /// The open site.
    pub site: OpenSite,
    notices: Notices,
    /// The drawing's transform and layers.
    pub sheet: Sheet,
    /// The plan, with points only the sketch places.
    pub plan: Memo<Shared<Plan>>,
    /// What the slip shows.
    pub panel: RwSignal<Panel>,
    /// The measurement under way.
    pub draft: RwSignal<Draft>,
    /// The feature under way.
    pub thing: RwSignal<Thing>,
    /// The utility mark under way.
    pub mark: RwSignal<Mark>,
    /// How lengths are taken.
    pub how: RwSignal<How>,
    /// The pad's units, when not the site's.
    pub pad: RwSignal<Option<UnitSystem>>,
    /// The kind whose letters new points get.
    pub kind: RwSignal<&'static ThingKind>,
    /// The label the next new point gets, when typed by hand.
    pub label: RwSignal<Option<String>>,
    /// The last label given: the next one goes on from it.
    pub series: RwSignal<Option<String>>,
    /// The point taken up in the sketch.
    pub taken: RwSignal<Option<PointId>>,
    /// Several points under one finger: which?
    pub choice: RwSignal<Vec<PointId>>,
    /// The plan expects another value: keep it?
    pub doubt: RwSignal<Option<Unexpected>>,
    /// Why Save did nothing.
    pub trouble: RwSignal<Option<String>>,
    /// A write is under way.
    pub busy: RwSignal<bool>,
    /// The two places the tie under way leaves open.
    pub mirror: Memo<Option<Mirror>>,
}

impl Capture {
    /// Nothing under way.
    #[must_use]
    pub fn new(site: OpenSite, notices: Notices) -> Self {
        let plan = Memo::new(move |_| {
            let (plan, fold) = (site.plan.get(), site.fold.get());
            let bare = plan.unplaced.iter().any(|(id, _)| fold.record.sketch.contains_key(id));
            if bare { Shared::new(with_sketch(&plan, &fold.record)) } else { plan }
        });
        let draft = RwSignal::new(Draft::new(Kind::Tie));
        let mirror = Memo::new(move |_| {
            let fold = site.fold.get();
            draft.with(|draft| mirror(draft, &fold.record, &site.plan.get(), &site.adjustment.get()))
        });
        let how = site.fold.with_untracked(|fold| last_how(&fold.record));
        Self {
            site,
            notices,
            sheet: Sheet::new(),
            plan,
            panel: RwSignal::new(Panel::Idle),
            draft,
            thing: RwSignal::new(Thing::default()),
            mark: RwSignal::new(Mark::default()),
            how: RwSignal::new(how),
            pad: RwSignal::new(None),
            kind: RwSignal::new(CATALOGUE.first().unwrap_or(&FALLBACK)),
            label: RwSignal::new(None),
            series: RwSignal::new(None),
            taken: RwSignal::new(None),
            choice: RwSignal::new(Vec::new()),
            doubt: RwSignal::new(None),
            trouble: RwSignal::new(None),
            busy: RwSignal::new(false),
            mirror,
        }
    }

    /// Makes it and provides it as context, once for an open site.
    pub fn provide(site: OpenSite, notices: Notices) -> Self {
        let capture = Self::new(site, notices);
        provide_context(capture);
        capture
    }

    /// What is under way on this site.
    #[must_use]
    pub fn here() -> Self {
        expect_context()
    }

    /// Opens the measurement of this entry again, to write it anew; tells the user when it cannot.
    pub fn correct(self, entry: &EntryId) -> bool {
        let fold = self.site.fold.get_untracked();
        let units = self.units();
        match rewrite(&fold.record, entry, |reading| Typed::from_reading(reading, units)) {
            Some(draft) => {
                self.open(Panel::Measure);
                self.draft.set(draft);
                true
            }
            None => {
                self.notices.say("Strike this one and take it again: several readings stand in it.");
                false
            }
        }
    }

    /// The pad's units. Tracked.
    #[must_use]
    pub fn units(self) -> UnitSystem {
        self.pad.get().unwrap_or_else(|| self.site.units())
    }

    /// Shows another panel; what was asked in the last one is withdrawn, what was typed stays.
    pub fn open(self, panel: Panel) {
        self.choice.set(Vec::new());
        self.doubt.set(None);
        self.trouble.set(None);
        self.taken.set(None);
        self.label.set(None);
        // While the finger draws, the sheet must lie still; after the sketch it shows everything again.
        if panel == Panel::Sketch {
            self.sheet.follows.set(false);
        } else if self.panel.get_untracked() == Panel::Sketch {
            self.sheet.follows.set(true);
        }
        self.panel.set(panel);
    }

    /// Starts a measurement.
    pub fn start(self, kind: Kind) {
        self.open(Panel::Measure);
        self.draft.set(Draft::new(kind));
    }

    /// Starts a tape from or to this point.
    pub fn tape(self, slot: Slot, id: PointId) {
        self.start(Kind::Tie);
        self.draft.update(|draft| {
            draft.set_point(slot, Meant::Known(id));
            draft.advance();
        });
    }

    /// The label the next new point gets. Tracked.
    #[must_use]
    pub fn next_label(self) -> String {
        if let Some(label) = self.label.get() {
            return label;
        }
        let fold = self.site.fold.get();
        let mark = (self.panel.get() == Panel::Mark).then(|| self.mark.with(|m| m.colour)).flatten();
        match mark {
            Some(colour) => prefixed(&fold.record, &mark_prefix(colour)),
            None => match self.series.get() {
                Some(label) => following(&fold.record, &label),
                None => next_label(&fold.record, self.kind.get(), &[]),
            },
        }
    }

    fn record(self) -> Shared<swingtie_core::book::Fold> {
        self.site.fold.get_untracked()
    }

    fn sketched(self, at: PlanPoint) -> PlanPoint {
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
        } else if near.len() > 1 && self.taken.get_untracked().is_none() {
            self.choice.set(near);
        } else {
            self.tapped(near.into_iter().next(), tap.at);
        }
    }

    /// One point was meant, or none.
    pub fn tapped(self, point: Option<PointId>, at: PlanPoint) {
        self.choice.set(Vec::new());
        match (self.panel.get_untracked(), point) {
            (Panel::Idle | Panel::Card(_), Some(id)) => self.open(Panel::Card(id)),
            (Panel::Idle | Panel::Card(_), None) => self.open(Panel::Idle),
            (Panel::Kinds, Some(id)) => self.tape(Slot::First, id),
            (Panel::Kinds, None) => {}
            (Panel::Sketch, point) => self.sketch(point, at),
            (Panel::Measure, Some(id)) => self.put(Meant::Known(id)),
            (Panel::Measure, None) => {
                let focus = self.draft.with_untracked(|draft| draft.focus);
                if focus.takes_point() && focus != Slot::Many {
                    self.put_new(Some(at));
                }
            }
            (Panel::Thing, Some(id)) => self.thing.update(|thing| thing.toggle(id)),
            (Panel::Mark, Some(id)) => self.mark.update(|mark| mark.toggle(id)),
            (Panel::Thing, None) if self.thing.with_untracked(|t| t.kind.is_none()) => {}
            (Panel::Mark, None) if self.mark.with_untracked(|m| m.colour.is_none()) => {}
            (Panel::Thing | Panel::Mark, None) => self.add_new(Some(at)),
        }
    }

    /// Puts a point into the measurement under way.
    pub fn put(self, meant: Meant) {
        self.trouble.set(None);
        self.doubt.set(None);
        self.draft.update(|draft| draft.put_point(meant));
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

    /// Makes a point now and puts it into the feature or mark under way.
    pub fn add_new(self, at: Option<PlanPoint>) {
        self.make_point(at, move |id| {
            if self.panel.get_untracked() == Panel::Thing {
                self.thing.update(|thing| thing.toggle(id));
            } else {
                self.mark.update(|mark| mark.toggle(id));
            }
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
        self.draft.update(|draft| draft.ask_side = asks && !draft.side_open);
        match self.draft.with_untracked(Draft::wanting) {
            Some(slot) if self.draft.with_untracked(|draft| draft.focus) == slot => {
                let kind = self.draft.with_untracked(|draft| draft.kind);
                self.trouble.set(Some(words::capture::still_needed(kind, slot)));
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
        let (draft, how, fold) = (self.draft.get_untracked(), self.how.get_untracked(), self.record());
        if !sure && let Some(doubt) = unexpected(&draft, &self.site.plan.get_untracked(), how) {
            self.doubt.set(Some(doubt));
            return;
        }
        self.doubt.set(None);
        let saying = match say::say(&draft, &fold.record, how, &mut new_point_id) {
            Ok(saying) => saying,
            Err(why) => {
                self.trouble.set(Some(why));
                return;
            }
        };
        let (target, kind) = (saying.target, draft.kind);
        let was_new = matches!(draft.point(Slot::Target), Some(Meant::New { .. }));
        self.save_all(saying.statements, move |ids| {
            // A walk that is back at its start is done.
            let closed =
                kind == Kind::Walk && target.is_some() && target.as_ref() == draft.known(Slot::First);
            if draft.correcting.is_some() || !kind.stays_open() || closed {
                self.open(Panel::Idle);
                return;
            }
            self.draft.update(|draft| {
                if kind == Kind::Walk && draft.walk.is_none() {
                    draft.walk = ids.last().cloned();
                }
                draft.known_now(&self.site.fold.get_untracked().record);
                draft.next_row(target);
            });
            // A row of new points goes on by itself: the next label stands ready, the number is next.
            if was_new && matches!(kind, Kind::Run | Kind::Offsets | Kind::Ordinates) {
                self.put_new(None);
            }
        });
    }

    /// Saves the feature under way.
    pub fn save_thing(self) {
        match self.thing.with_untracked(Thing::statement) {
            Ok(statement) => self.save_all(vec![statement], move |_| {
                self.thing.set(Thing::default());
                self.open(Panel::Idle);
            }),
            Err(why) => self.trouble.set(Some(why)),
        }
    }

    /// Saves the utility mark under way.
    pub fn save_mark(self) {
        match self.mark.with_untracked(Mark::statement) {
            Ok(statement) => self.save_all(vec![statement], move |_| {
                self.mark.set(Mark::default());
                self.open(Panel::Idle);
            }),
            Err(why) => self.trouble.set(Some(why)),
        }
    }

    /// Answers which side a point stands on.
    pub fn answer(self, point: PointId, side: SideOf) {
        self.save_all(vec![Statement::Measure(Measurement::SideIs { point, side })], |_| {});
    }

    /// Says it all in one transaction; goes on only when it is stored.
    fn save_all(self, statements: Vec<Statement>, then: impl FnOnce(Vec<EntryId>) + 'static) {
        if self.busy.get_untracked() {
            return;
        }
        self.busy.set(true);
        self.trouble.set(None);
        leptos::task::spawn_local(async move {
            let said = self.site.say(statements).await;
            self.busy.try_set(false);
            match said {
                Ok(ids) => {
                    crate::device::vibrate();
                    then(ids);
                }
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
            let legs =
                draft.walk.as_ref().and_then(|entry| walked(&fold.record, entry)).map(|(_, l)| l.len());
            if legs.is_none() {
                draft.walk = None;
            }
            draft.legs = legs.unwrap_or(0);
            draft.forget_missing(&fold.record);
        });
        let known = |id: &PointId| fold.record.points.iter().any(|p| p.id == *id);
        self.thing.try_update(|thing| thing.points.retain(known));
        self.mark.try_update(|mark| mark.points.retain(known));
        if let Some(Panel::Card(id)) = self.panel.try_get_untracked()
            && !known(&id)
        {
            self.open(Panel::Idle);
        }
    }

    fn not_saved(self, error: &SaveError) {
        self.notices.warn(words::not_saved(error));
    }

    /// What lies over the plan. Tracked.
    #[must_use]
    pub fn overlay(self) -> Overlay {
        match self.panel.get() {
            Panel::Card(id) => Overlay { chosen: vec![id], ..Overlay::default() },
            Panel::Sketch => Overlay { chosen: self.taken.get().into_iter().collect(), ..Overlay::default() },
            Panel::Thing => {
                Overlay { chosen: self.thing.with(|t| t.points.clone()), joined: true, ..Overlay::default() }
            }
            Panel::Mark => {
                Overlay { chosen: self.mark.with(|m| m.points.clone()), joined: true, ..Overlay::default() }
            }
            Panel::Measure => self.measuring_overlay(),
            Panel::Idle => self.question_overlay(),
            Panel::Kinds => Overlay::default(),
        }
    }

    fn measuring_overlay(self) -> Overlay {
        let mirror = self.mirror.get();
        self.draft.with(|draft| {
            let slots = [Slot::First, Slot::Second, Slot::Third, Slot::Target];
            let mut chosen: Vec<PointId> = slots.iter().filter_map(|s| draft.known(*s)).cloned().collect();
            chosen.extend(draft.many.iter().cloned());
            let ghosts = mirror.filter(|_| draft.focus == Slot::Side).map(|mirror| {
                [Side::Left, Side::Right]
                    .map(|side| Ghost {
                        at: mirror.place(side),
                        label: words::capture::side(side).to_owned(),
                        chosen: draft.side == Some(side),
                    })
                    .to_vec()
            });
            Overlay { chosen, joined: true, ghosts: ghosts.unwrap_or_default() }
        })
    }

    fn question_overlay(self) -> Overlay {
        let adjustment = self.site.adjustment.get();
        let Some(question) = adjustment.questions.first() else { return Overlay::default() };
        let plan = self.plan.get();
        let Some(at) = place(&plan, &question.point) else { return Overlay::default() };
        let side = question.assumed.side;
        let ghost = |at, side, chosen| Ghost { at, label: words::capture::side(side).to_owned(), chosen };
        Overlay {
            chosen: Vec::new(),
            joined: false,
            ghosts: vec![ghost(at, side, true), ghost(question.other, side.other(), false)],
        }
    }

    /// New points get this kind's letters from now on.
    pub fn letters(self, kind: &'static ThingKind) {
        self.kind.set(kind);
        self.series.set(None);
        self.label.set(None);
    }

    /// Picks the kind of the feature under way; new points get its letters.
    pub fn pick_kind(self, kind: &'static ThingKind) {
        self.letters(kind);
        self.thing.update(|thing| thing.kind = Some(kind));
        self.trouble.set(None);
    }
}

/// Never used: the catalogue is not empty.
const FALLBACK: ThingKind =
    ThingKind { key: "other", name: "Something else", geometry: Geometry::Point, prefix: "X" };

/// How the last length was taken: the tape in the hand is still the same.
fn last_how(record: &Record) -> How {
    let how = |m: &Measurement| match m {
        Measurement::Tie { how, .. }
        | Measurement::Run { how, .. }
        | Measurement::Offsets { how, .. }
        | Measurement::Walk { how, .. } => Some(*how),
        _ => None,
    };
    record.measurements.iter().rev().find_map(|m| how(&m.what)).unwrap_or_default()
}

/// The next free label with these letters.
fn prefixed(record: &Record, prefix: &str) -> String {
    (1..10_000).map(|n| format!("{prefix}{n}")).find(|l| record.by_label(l).is_none()).unwrap_or_default()
}
