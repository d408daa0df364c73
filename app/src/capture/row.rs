//! The short row over the pad, and what its keys do.

use super::before::again;
use super::draft::{Draft, Kind, Meant, Slot};
use super::naming::{following, next_label};
use super::state::Capture;
use super::steps::{Step, all_kinds, first_anchor, steps};
use crate::markup::{live, memo, shown};
use crate::words::capture as words;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{PointId, Side};

/// Where the tape goes next.
#[derive(Clone, Debug, PartialEq)]
pub struct Onward {
    /// From here; none where that is asked.
    from: Option<PointId>,
    to: Toward,
}

#[derive(Clone, Debug, PartialEq)]
enum Toward {
    /// The same point again.
    Same,
    /// This point.
    Known(PointId),
    /// A new point with the next label.
    New,
}

impl Capture {
    /// Whether a key of the row saves what is typed. Tracked.
    fn row_saves(self) -> bool {
        self.draft.with(|draft| {
            let said_by_key = |slot: Slot| match slot {
                Slot::Target => draft.kind != Kind::Tie,
                slot => slot == Slot::Side,
            };
            draft.focus == Slot::Length
                && draft.slots().into_iter().all(|slot| said_by_key(slot) || draft.filled(slot))
        })
    }

    /// What a key of the row does with the number typed: a reading whose point was picked before stays there.
    /// Tracked.
    fn saves(self) -> words::Saves {
        let picked = self.draft.with(|draft| draft.point(Slot::Target).is_some() && !draft.proposed);
        match (self.row_saves(), picked) {
            (false, _) => words::Saves::Nothing,
            (true, false) => words::Saves::Here,
            (true, true) => words::Saves::Then,
        }
    }

    /// A key of the row was tapped.
    fn step(self, step: &Step) {
        self.trouble.set(None);
        self.doubt.set(None);
        let saves = untrack(|| self.row_saves());
        let then = untrack(|| self.saves()) == words::Saves::Then;
        let (from, target) = self
            .draft
            .with_untracked(|draft| (draft.known(Slot::First).cloned(), draft.point(Slot::Target).cloned()));
        // A new point's tapes begin where those of the last one did.
        let begin = || {
            let fold = self.record();
            let first =
                target.as_ref().and_then(Meant::known).and_then(|id| first_anchor(&fold.record, id).cloned());
            first.or_else(|| from.clone())
        };
        match step {
            Step::Other => self.others.set(true),
            Step::Fresh if self.draft.with_untracked(Draft::has_number) => {
                self.trouble.set(Some(tr(words::SAVE_FIRST).to_owned()));
            }
            Step::Fresh => self.draft.set(Draft::new(Kind::Run)),
            Step::Side(side) => {
                self.draft.update(|draft| draft.side = Some(*side));
                if saves {
                    self.enter();
                }
            }
            Step::At(id) if then => {
                let id = id.clone();
                self.after_saving(move || self.read_at(Meant::Known(id), false));
            }
            Step::At(id) => self.read_at(Meant::Known(id.clone()), saves),
            Step::From(id) => self.onward(Onward { from: Some(id.clone()), to: Toward::Same }, saves),
            Step::To(id) => self.onward(Onward { from, to: Toward::Known(id.clone()) }, saves),
            Step::Next => {
                let fold = self.record();
                self.series.set(target.as_ref().map(|meant| meant.label(&fold.record).to_owned()));
                self.onward(Onward { from: begin(), to: Toward::New }, saves);
            }
            Step::New(kind) if then && self.draft.with_untracked(|draft| draft.kind != Kind::Tie) => {
                let kind = *kind;
                self.after_saving(move || {
                    self.letters(kind);
                    let label = untrack(|| self.next_label());
                    self.series.set(Some(label.clone()));
                    self.read_at(Meant::New { label, at: None }, false);
                });
            }
            Step::New(kind) => {
                self.letters(kind);
                // Another kind of thing usually stands elsewhere: from where is asked.
                if target.is_some() && self.draft.with_untracked(|draft| draft.kind == Kind::Tie) {
                    self.onward(Onward { from: from.filter(|_| !saves), to: Toward::New }, saves);
                } else {
                    let label = untrack(|| self.next_label());
                    self.series.set(Some(label.clone()));
                    self.read_at(Meant::New { label, at: None }, saves);
                }
            }
        }
    }

    fn read_at(self, meant: Meant, saves: bool) {
        self.draft.update(|draft| {
            draft.set_point(Slot::Target, meant);
            draft.advance();
        });
        if saves {
            self.enter();
        }
    }

    fn onward(self, onward: Onward, saves: bool) {
        if saves {
            self.after_saving(move || self.go_onward(onward));
        } else if self.draft.with_untracked(Draft::has_number) {
            self.trouble.set(Some(tr(words::SAVE_FIRST).to_owned()));
        } else {
            self.go_onward(onward);
        }
    }

    /// Saves what is typed; then this.
    fn after_saving(self, then: impl FnOnce() + Send + Sync + 'static) {
        self.onward.set_value(Some(Box::new(then)));
        self.save(false);
    }

    /// The tape goes there.
    fn go_onward(self, Onward { from, to }: Onward) {
        let label = untrack(|| self.next_label());
        let target = match to {
            Toward::Same => None,
            Toward::Known(id) => Some(Meant::Known(id)),
            Toward::New => {
                self.series.set(Some(label.clone()));
                Some(Meant::New { label, at: None })
            }
        };
        self.draft.update(|draft| {
            draft.side = None;
            draft.take_point(Slot::First);
            let points = [(Slot::First, from.map(Meant::Known)), (Slot::Target, target)];
            for (slot, meant) in points.into_iter().filter_map(|(slot, meant)| Some((slot, meant?))) {
                draft.set_point(slot, meant);
            }
            draft.advance();
        });
    }

    /// The last number once more, on purpose.
    fn take_again(self) {
        let fold = self.record();
        let units = untrack(|| self.units());
        self.draft.update(|draft| {
            if let Some(typed) = again(draft, &fold.record, units) {
                draft.set_typed(Slot::Length, typed);
                draft.deliberate = true;
            }
        });
        self.doubt.set(None);
    }

    fn step_keys(self) -> Vec<(Step, words::Face)> {
        let fold = self.site.fold.get();
        let record = &fold.record;
        let (saves, mirrored) = (self.saves(), self.mirror.with(Option::is_some));
        let ([from, to], _) = self.side_line();
        self.draft.with(|draft| {
            let label = |step: &Step| match step {
                Step::New(kind) => next_label(record, kind, &[]),
                Step::Next => draft
                    .point(Slot::Target)
                    .map(|meant| following(record, meant.label(record)))
                    .unwrap_or_default(),
                _ => String::new(),
            };
            let face = |step: Step| {
                let face = words::face(&step, record, saves, &label(&step), [&from, &to]);
                (step, face)
            };
            steps(draft, record, mirrored).into_iter().map(face).collect()
        })
    }
}

/// What of it is shown.
#[derive(Clone, Copy, Debug)]
pub enum Row {
    /// The keys over the pad.
    Keys,
    /// All kinds of things.
    Kinds,
    /// The key of the pad that takes the last number once more.
    Again,
    /// Whether a tape's zero is where its run starts.
    Hook,
}

/// What `later` makes of it.
pub fn later_row(row: Row) -> AnyView {
    match row {
        Row::Keys => markup! { <StepRow /> },
        Row::Kinds => markup! { <OtherKinds /> },
        Row::Again => markup! { <Repeat /> },
        Row::Hook => markup! { <Hook /> },
    }
}

/// Whether the tape's zero is where the run starts.
#[component]
fn Hook() -> impl IntoView {
    let capture = Capture::here();
    let on = memo(move || capture.draft.with(|draft| draft.zero_unknown));
    markup! {
        <button type="button" class="wide" aria-pressed=move || on.get().to_string()
            on:click=move |_| capture.draft.update(Draft::toggle_zero)>{words::ZERO_ELSEWHERE}</button>
        {shown(move || on.get(), || markup! { <p class="hint">{words::ONLY_DIFFERENCES}</p> })}
    }
}

/// The last number once more.
#[component]
fn Repeat() -> impl IntoView {
    let capture = Capture::here();
    let text = memo(move || {
        let (fold, units) = (capture.site.fold.get(), capture.units());
        capture.draft.with(|draft| again(draft, &fold.record, units)).map(|typed| typed.text())
    });
    live(move || {
        text.get().map(|text| markup! {
            <button type="button" class="key k-again" style="grid-area:sign" aria-label=words::again(&text)
                on:click=move |_| capture.take_again()>{format!("= {text}")}</button>
        })
    })
}

/// The row of keys; nothing where none helps.
#[component]
fn StepRow() -> impl IntoView {
    let capture = Capture::here();
    let keys = memo(move || capture.step_keys());
    let saves = memo(move || capture.row_saves());
    let key = move |(step, face): (Step, words::Face)| {
        let side = if let Step::Side(side) = step { Some(side) } else { None };
        let on = move || capture.draft.with(|draft| side.is_some() && draft.side == side).to_string();
        let words::Face { large, small, small_first, name } = face;
        let small = || markup! { <span aria-hidden=side.map(|_| "true")>{small}</span> };
        let (before, after) = if small_first { (Some(small()), None) } else { (None, Some(small())) };
        let class = match side {
            Some(Side::Left) => "step side-left",
            Some(Side::Right) => "step side-right",
            None => "step",
        };
        markup! {
            <button type="button" class=class aria-label=name aria-pressed=on on:click=move |_| capture.step(&step)>
                {before}" "<strong>{large}</strong>" "{after}
            </button>
        }
    };
    live(move || {
        let keys = keys.get();
        (!keys.is_empty()).then(|| {
            markup! {
                <div class="steps" class:saves=move || saves.get() class:turned=move || capture.sides_turned() role="group"
                    aria-label=words::ROW>{keys.into_iter().map(key).collect_view()}</div>
            }
        })
    })
}

/// Every kind of thing, for the point that is read at or comes next: what is in this yard already first.
#[component]
fn OtherKinds() -> impl IntoView {
    let capture = Capture::here();
    let chip = move |step: Step| {
        let Step::New(kind) = step else { return None };
        let pick = move |_| {
            capture.others.set(false);
            capture.step(&Step::New(kind));
        };
        Some(markup! { <button type="button" class="chip" on:click=pick>{kind.name}</button> })
    };
    let kinds = capture.draft.with_untracked(|draft| all_kinds(draft, &capture.record().record));
    markup! {
        <p class="ask">{words::WHAT_IS_THERE}</p>
        <div class="chips tall" role="group" aria-label=words::WHAT_IS_THERE>{kinds.into_iter().filter_map(chip).collect_view()}</div>
    }
}
