//! What is under way on the Plan tab, and what taps and keys do to it.
//!
//! It lives above the tabs, so that a glance at the book loses nothing. The decisions are made by
//! the plain modules beside this one; here they meet signals and the store.

use super::advise::Advising;
use super::draft::{Draft, InHand, Kind, Meant, Slot};
use super::expect::{Mirror, mirror, offset_sides};
use super::hand::{hand_of, is_round, last_hand};
use super::naming::{following, next_label};
use super::rewrite::{measured, parts, rewrite};
use super::thing::{Mark, Thing, mark_prefix};
use crate::drawing::{Ghost, InDoubt, Overlay, Sheet, place};
use crate::markup::{effect, memo};
use crate::notices::Notices;
use crate::state::{OpenSite, Shared};
use crate::words;
use leptos::prelude::*;
use swingtie_core::plan::{Plan, with_sketch};
use swingtie_core::record::{
    CATALOGUE, EntryId, Geometry, Kind as ThingKind, Measurement, PointId, Record, Side, UnitSystem,
};

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
    /// Level readings.
    Level,
    /// A point's card.
    Card(PointId),
    /// One entry of the book.
    Entry {
        /// The entry.
        id: EntryId,
        /// The points it speaks of, which the drawing shows.
        points: Vec<PointId>,
    },
    /// Which reading of an entry shall be written anew.
    Parts(EntryId),
    /// Readings that contradict each other.
    Doubts,
}

/// What is under way. Copied freely; get it with [`Capture::here`].
#[derive(Clone, Copy)]
pub struct Capture {
    /// The open site.
    pub site: OpenSite,
    pub(super) notices: Notices,
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
    /// How lengths and angles are taken.
    pub hand: RwSignal<InHand>,
    /// The pad's units, when not the site's.
    pub pad: RwSignal<Option<UnitSystem>>,
    /// The kind whose letters new points get.
    pub kind: RwSignal<&'static ThingKind>,
    /// The label the next new point gets, when typed by hand.
    pub label: RwSignal<Option<String>>,
    /// The last label given: the next one goes on from it.
    pub series: RwSignal<Option<String>>,
    /// The point taken up in the sketch, or on which the levelling rod stands.
    pub taken: RwSignal<Option<PointId>>,
    /// Several points under one finger: which?
    pub choice: RwSignal<Vec<PointId>>,
    /// What is typed here was not expected, and why: keep it?
    pub doubt: RwSignal<Option<(Slot, String)>>,
    /// Why Save did nothing.
    pub trouble: RwSignal<Option<String>>,
    /// What to do next.
    pub advising: Advising,
    /// The tape under way was advised or asked for: after it no further point is wanted, but what is next.
    pub advised: RwSignal<bool>,
    /// What the last save left: nothing of it is lost with the page, and none of its numbers goes on.
    pub(super) rest: StoredValue<Draft>,
    /// Where the tape goes once what is typed is saved.
    pub(super) onward: StoredValue<Option<Box<dyn FnOnce() + Send + Sync>>>,
    /// Any kind of thing is picked for the point the reading is at.
    pub others: RwSignal<bool>,
    /// How the reading is taken is looked at.
    pub hows: RwSignal<bool>,
    /// A write is under way.
    pub busy: RwSignal<bool>,
    /// The two places the tie under way leaves open.
    pub mirror: Memo<Option<Mirror>>,
}

impl Capture {
    /// Nothing under way.
    #[must_use]
    pub fn new(site: OpenSite, notices: Notices) -> Self {
        let plan = memo(move || {
            let (plan, fold) = (site.plan.get(), site.fold.get());
            let bare = plan.unplaced.iter().any(|(id, _)| fold.record.sketch.contains_key(id));
            if bare { Shared::new(with_sketch(&plan, &fold.record)) } else { plan }
        });
        let draft = RwSignal::new(Draft::new(Kind::Tie));
        let mirror = memo(move || {
            let fold = site.fold.get();
            draft.with(|draft| mirror(draft, &fold.record, &site.plan.get(), &site.adjustment.get()))
        });
        let hand = site.fold.with_untracked(|fold| last_hand(&fold.record));
        // Only round things have a near side.
        effect(move || {
            let round = draft.with(|draft| is_round(&site.fold.get().record, draft.point(Slot::Target)));
            if draft.with_untracked(|draft| draft.round() != round) {
                draft.update(|draft| draft.see_round(round));
            }
        });
        Self {
            site,
            notices,
            sheet: Sheet::new(),
            plan,
            panel: RwSignal::new(Panel::Idle),
            draft,
            thing: RwSignal::new(Thing::default()),
            mark: RwSignal::new(Mark::default()),
            hand: RwSignal::new(hand),
            pad: RwSignal::new(None),
            kind: RwSignal::new(CATALOGUE.first().unwrap_or(&FALLBACK)),
            label: RwSignal::new(None),
            series: RwSignal::new(None),
            taken: RwSignal::new(None),
            choice: RwSignal::new(Vec::new()),
            doubt: RwSignal::new(None),
            trouble: RwSignal::new(None),
            advising: Advising::new(site),
            advised: RwSignal::new(false),
            rest: StoredValue::new(Draft::new(Kind::Tie)),
            onward: StoredValue::new(None),
            others: RwSignal::new(false),
            hows: RwSignal::new(false),
            busy: RwSignal::new(false),
            mirror,
        }
    }

    /// Makes it and provides it as context, once for an open site.
    pub fn provide(site: OpenSite, notices: Notices) -> Self {
        let capture = Self::new(site, notices);
        provide_context(capture);
        capture.watch();
        capture
    }

    /// What is under way on this site.
    #[must_use]
    pub fn here() -> Self {
        expect_context()
    }

    /// Opens the measurement of this entry again, to write one reading of it anew (`part`, counted from
    /// 0). Where several stand in it and none is named, the user picks which. Tells the user when it
    /// cannot; then nothing is opened.
    pub fn correct(self, entry: &EntryId, part: Option<usize>) -> bool {
        let fold = self.site.fold.get_untracked();
        let units = untrack(|| self.units());
        let what = measured(&fold.record, entry);
        if part.is_none() && what.is_some_and(|what| parts(what) > 1) {
            self.open(Panel::Parts(entry.clone()));
            return true;
        }
        let draft = rewrite(&fold.record, entry, part.unwrap_or(0), units);
        let opened = draft.is_some();
        match draft {
            Some(draft) => {
                self.open(Panel::Measure);
                self.draft.set(draft);
                // The reading was taken as it was taken then, whatever is in the hand now.
                self.hand.set(what.map(hand_of).unwrap_or_default());
            }
            None => self.notices.say(words::capture::STRIKE_AND_RETAKE),
        }
        opened
    }

    /// Opens the form for another reading of the same: a new entry beside the one there is, since only a reading more
    /// tells which of two is wrong. False where that cannot be taken by itself.
    pub fn retake(self, entry: &EntryId, part: usize) -> bool {
        let fold = self.site.fold.get_untracked();
        let known = matches!(
            measured(&fold.record, entry),
            Some(Measurement::Tie { .. } | Measurement::Run { zero_unknown: false, .. })
        );
        if !known || !self.correct(entry, Some(part)) {
            return false;
        }
        self.draft.update(|draft| (draft.correcting, draft.part) = (None, 0));
        true
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
        self.onward.set_value(None);
        self.others.set(false);
        self.hows.set(false);
        // While the finger draws, the sheet must lie still; after the sketch it shows everything again.
        if panel == Panel::Sketch {
            self.sheet.follows.set(false);
        } else if self.panel.get_untracked() == Panel::Sketch {
            self.sheet.follows.set(true);
        }
        self.panel.set(panel);
    }

    /// One step back: from what lies over the measurement under way to it, else to what can be done.
    pub fn back(self) {
        if self.hows.get_untracked() || self.others.get_untracked() {
            self.hows.set(false);
            self.others.set(false);
        } else {
            self.open(Panel::Idle);
        }
    }

    /// Whether points are picked now, or the form is set aside: then the drawing must be seen. Tracked.
    #[must_use]
    pub fn picks(self) -> bool {
        match self.panel.get() {
            Panel::Measure => {
                let picked = self.draft.with(|draft| draft.focus.takes_point()) && !self.others.get();
                picked || self.hows.get()
            }
            Panel::Level => self.taken.with(Option::is_none),
            _ => false,
        }
    }

    /// Starts a measurement; one of this kind with a number typed and not saved goes on.
    pub fn start(self, kind: Kind) {
        let goes_on = self.draft.with_untracked(|draft| {
            let said = self.rest.with_value(|rest| rest == draft);
            draft.kind == kind && draft.correcting.is_none() && draft.has_number() && !said
        });
        self.open(Panel::Measure);
        self.advised.set(false);
        if self.draft.with_untracked(|draft| draft.correcting.is_some()) {
            self.hand.set(last_hand(&self.record().record));
        }
        if !goes_on {
            self.draft.set(Draft::new(kind));
        }
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

    pub(super) fn record(self) -> Shared<swingtie_core::book::Fold> {
        self.site.fold.get_untracked()
    }

    /// What lies over the plan. Tracked.
    #[must_use]
    pub fn overlay(self) -> Overlay {
        let doubts = self.site.doubts.get();
        let doubts =
            doubts.likeliest().map(|d| InDoubt { points: d.points.clone(), text: format!("{}?", d.value) });
        Overlay { doubts: doubts.collect(), ..self.panel_overlay() }
    }

    fn panel_overlay(self) -> Overlay {
        match self.panel.get() {
            Panel::Card(id) => Overlay { chosen: vec![id], ..Overlay::default() },
            Panel::Entry { points, .. } => Overlay { chosen: points, joined: true, ..Overlay::default() },
            Panel::Sketch | Panel::Level => {
                Overlay { chosen: self.taken.get().into_iter().collect(), ..Overlay::default() }
            }
            Panel::Thing => {
                Overlay { chosen: self.thing.with(|t| t.points.clone()), joined: true, ..Overlay::default() }
            }
            Panel::Mark => {
                Overlay { chosen: self.mark.with(|m| m.points.clone()), joined: true, ..Overlay::default() }
            }
            Panel::Measure => self.measuring_overlay(),
            Panel::Doubts => Overlay { chosen: self.looked_at(), close: true, ..Overlay::default() },
            Panel::Idle => self.question_overlay(),
            Panel::Kinds | Panel::Parts(_) => Overlay::default(),
        }
    }

    fn measuring_overlay(self) -> Overlay {
        let mirror = self.mirror.get();
        self.draft.with(|draft| {
            // As the line goes: over the corner, not out from it.
            let corner = matches!(draft.kind, Kind::Square | Kind::Angle);
            let (one, two) = if corner { (Slot::Second, Slot::First) } else { (Slot::First, Slot::Second) };
            let slots = [one, two, Slot::Third, Slot::Fourth, Slot::Target];
            // Of a walk the wall under way, not where all began.
            let here = self.site.fold.with(|fold| super::back::walked_from(draft, &fold.record).cloned());
            let slots = slots.iter().filter(|s| here.is_none() || **s != Slot::First);
            let picked = slots.filter_map(|s| draft.known(*s)).cloned();
            let mut chosen: Vec<PointId> = here.iter().cloned().chain(picked).collect();
            chosen.extend(draft.many.iter().cloned());
            let sides = mirror.map(|mirror| [mirror.left, mirror.right]);
            let sides = sides.or_else(|| offset_sides(draft, &self.plan.get()));
            let sides =
                sides.filter(|_| !draft.side_open && matches!(draft.focus, Slot::Side | Slot::Length));
            let ghost = |(side, at): (Side, _)| Ghost {
                at,
                label: words::capture::side(side).to_owned(),
                chosen: draft.side == Some(side),
            };
            let ghosts =
                sides.map(|sides| [Side::Left, Side::Right].into_iter().zip(sides).map(ghost).collect());
            // While a number is typed the drawing is small: it shows the two ends, not the whole yard.
            let close = draft.focus.takes_number();
            // Two lines are not one.
            let joined = !matches!(draft.kind, Kind::Parallel | Kind::SameLength);
            Overlay { chosen, joined, ghosts: ghosts.unwrap_or_default(), close, ..Overlay::default() }
        })
    }

    fn question_overlay(self) -> Overlay {
        let adjustment = self.site.adjustment.get();
        let Some(question) = adjustment.questions.first() else {
            let ends = self.advising.best().map(|tape| vec![tape.from, tape.to]);
            return Overlay { chosen: ends.unwrap_or_default(), joined: true, ..Overlay::default() };
        };
        let plan = self.plan.get();
        let Some(at) = place(&plan, &question.point) else { return Overlay::default() };
        let side = question.assumed.side;
        let ghost = |at, side, chosen| Ghost { at, label: words::capture::side(side).to_owned(), chosen };
        Overlay {
            ghosts: vec![ghost(at, side, true), ghost(question.other, side.other(), false)],
            ..Overlay::default()
        }
    }

    /// The points of the reading in question that is settled first.
    fn looked_at(self) -> Vec<PointId> {
        let doubts = self.site.doubts.get();
        doubts.likeliest().next().map(|first| first.points.clone()).unwrap_or_default()
    }

    /// New points get this kind's letters from now on.
    pub fn letters(self, kind: &'static ThingKind) {
        self.kind.set(kind);
        self.series.set(None);
        self.label.set(None);
    }

    /// Begins a thing of this kind; new points get its letters. One of the same kind that is half entered is
    /// gone on with; what is being written anew is not: it must not become another thing.
    pub fn pick_kind(self, kind: &'static ThingKind) {
        self.letters(kind);
        self.thing.update(|thing| {
            let mine = thing.correcting.is_none() && thing.kind.is_some_and(|k| k.key == kind.key);
            if !mine {
                *thing = Thing::default();
                thing.kind = Some(kind);
            }
        });
        self.trouble.set(None);
    }
}

/// Never used: the catalogue is not empty.
const FALLBACK: ThingKind =
    ThingKind { key: "other", name: "Something else", geometry: Geometry::Point, prefix: "X" };

/// The next free label with these letters.
fn prefixed(record: &Record, prefix: &str) -> String {
    (1..10_000).map(|n| format!("{prefix}{n}")).find(|l| record.by_label(l).is_none()).unwrap_or_default()
}
