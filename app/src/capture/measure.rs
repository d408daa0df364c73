//! The slip of a measurement under way: its slots, and what the slot in focus needs.

use super::back::{read_back, spoken_back};
use super::chooser::{Chooser, into_draft};
use super::doubts::DoubtLine;
use super::draft::{Choice, Draft, Kind, Meant, Slot};
use super::idle::SlipHead;
use super::row::Row;
use super::say::next_station;
use super::state::Capture;
use crate::keypad::{Enter, Keypad, Typed};
use crate::markup::{derived, effect, live, memo, rows, shown};
use crate::screens::later::{self, Wanted};
use crate::words::capture as words;
use leptos::html;
use leptos::prelude::*;
use std::hash::{Hash, Hasher};
use swingtie_core::language::tr;
use swingtie_core::record::{Record, Side, UnitSystem};

/// A measurement under way.
#[component]
pub fn MeasureSlip() -> impl IntoView {
    let capture = Capture::here();
    let hows = capture.hows;
    let focus = memo(move || capture.draft.with(|d| (d.kind, d.focus)));
    // What is said stands on the pad, or in the slots over the drawing, where it is most of the screen.
    let told = memo(move || focus.get().1.takes_number() || capture.picks());
    let said = move || capture.draft.with(|draft| read_back(draft, &capture.site.fold.get().record));
    let title = derived(move || words::kind(focus.get().0).to_owned());
    // Told apart from what they are made of: each key sets the doubt, and none may make the pad anew.
    let aside = memo(move || capture.doubt.with(Option::is_some) || hows.get());
    let others = memo(move || capture.others.get());
    markup! {
        <SlipHead title=title />
        {shown(move || !told.get(), || markup! { <DoubtLine /> })}
        <div class="slots-row">
            <Slots />
            {shown(move || capture.how_told().is_some(), move || markup! {
                <button type="button" class="small how" aria-expanded=move || hows.get().to_string()
                    aria-label=move || {
                        let (short, long) = capture.how_told().unwrap_or_default();
                        say!("{short}, how: {long}")
                    }
                    on:click=move |_| hows.update(|h| *h = !*h)>
                    {move || capture.how_told().unwrap_or_default().0}
                </button>
            })}
        </div>
        {shown(move || hows.get(), move || later::part(Wanted::Hows(hows)))}
        <p class="read-back" class:unseen=move || told.get() aria-live="polite">{live(said)}</p>
        <Expected />
        {move || {
            let focus = focus.get().1;
            if aside.get() {
                // One thing at a time: the question first.
                ().into_any()
            } else if others.get() {
                later::part(Wanted::Row(Row::Kinds))
            } else if focus.takes_number() {
                markup! { <Number /> }
            } else {
                let ask = move || capture.draft.with(|draft| words::ask_now(draft, focus));
                markup! { <p class="ask">{live(ask)}</p> {row(Row::Keys)} <NoNumber focus=focus /> }
            }
        }}
    }
}

/// The slots as chips: what is said so far; a tap takes the focus there.
#[component]
fn Slots() -> impl IntoView {
    let capture = Capture::here();
    let chip = move |Chip { slot, name, value, on, .. }| {
        let focus = move |_| {
            capture.trouble.set(None);
            capture.draft.update(|draft| draft.focus = slot);
        };
        let read = say!("{name}: {value}");
        markup! {
            <button type="button" class="slot" aria-pressed=on.to_string() aria-label=read on:click=focus>
                <span>{name}</span>" "<strong>{value}</strong>
            </button>
        }
    };
    // With each figure only the chip that says it is made anew.
    let chips = move || {
        let fold = capture.site.fold.get();
        let draft = capture.draft.get();
        let chip = |(number, slot)| Chip {
            number,
            slot,
            name: words::slot_now(&draft, slot),
            value: slot_value(&draft, slot, &fold.record),
            on: draft.focus == slot,
        };
        draft.slots().into_iter().enumerate().map(chip).collect::<Vec<_>>()
    };
    let row = NodeRef::<html::Div>::new();
    // Six slots do not fit a phone: the one in focus comes into sight, and stays as it grows.
    effect(move || {
        capture.draft.track();
        request_animation_frame(move || {
            // The slip may have been closed before the frame was drawn.
            let Some(Some(row)) = row.try_get_untracked() else { return };
            if let Ok(Some(chip)) = row.query_selector("[aria-pressed=true]") {
                let (row_at, chip_at) = (row.get_bounding_client_rect(), chip.get_bounding_client_rect());
                let middle = chip_at.left() + chip_at.width() / 2.0 - row_at.left() - row_at.width() / 2.0;
                row.scroll_by_with_x_and_y(middle, 0.0);
            }
        });
    });
    markup! { <div class="slots" node_ref=row role="group" aria-label="what is said so far">{rows(chips, chip)}</div> }
}

/// A slot as it is shown.
struct Chip {
    number: usize,
    slot: Slot,
    name: &'static str,
    value: String,
    on: bool,
}

impl Hash for Chip {
    fn hash<H: Hasher>(&self, hash: &mut H) {
        (self.number, self.name, &self.value, self.on).hash(hash);
    }
}

fn slot_value(draft: &Draft, slot: Slot, record: &Record) -> String {
    let none = || "—".to_owned();
    match slot {
        Slot::Side => draft.side.map_or_else(none, |side| tr(words::side(side)).to_owned()),
        slot if !slot.choices().is_empty() => {
            draft.chosen(slot).map_or_else(none, |choice| tr(words::choice(choice)).to_owned())
        }
        Slot::Many if draft.many.is_empty() => none(),
        Slot::Many => draft.many.iter().map(|id| record.label(id)).collect::<Vec<_>>().join(" "),
        slot if slot.takes_point() => match draft.point(slot) {
            Some(Meant::New { label, .. }) => say!("{label} new"),
            Some(known) => known.label(record).to_owned(),
            None => none(),
        },
        slot => draft.typed(slot).map(Typed::text).filter(|t| !t.is_empty()).unwrap_or_else(none),
    }
}

fn row(row: Row) -> AnyView {
    later::when_here(Wanted::Row(row))
}

impl Capture {
    /// The two points between which a side is told, and whether both places are on the drawing. Tracked.
    pub(super) fn side_line(self) -> ([String; 2], bool) {
        let fold = self.site.fold.get();
        let record = &fold.record;
        let mirrored = self.mirror.get();
        self.draft.with(|draft| match (mirrored, &draft.line) {
            (Some(m), _) => ([&m.from, &m.to].map(|id| record.label(id).to_owned()), true),
            (None, Some(line)) => (line.each_ref().map(|id| record.label(id).to_owned()), false),
            (None, None) => {
                let name = |slot| draft.point(slot).map_or("—", |meant| meant.label(record)).to_owned();
                ([Slot::First, Slot::Second].map(name), false)
            }
        })
    }

    /// Whether left lies on the right of the drawing: whoever walks down the page has it there. Tracked.
    pub(super) fn sides_turned(self) -> bool {
        self.mirror.with(|m| m.as_ref().is_some_and(|m| m.right.x < m.left.x))
    }
}

/// Nothing typed, on the pad of this slot.
fn blank(slot: Slot, units: UnitSystem) -> Typed {
    slot.pad(units).map_or_else(|| Typed::new(units), Typed::new)
}

/// The keypad for the slot in focus.
#[component]
fn Number() -> impl IntoView {
    let capture = Capture::here();
    let typed = derived(move || {
        let units = capture.units();
        capture
            .draft
            .with(|draft| draft.typed(draft.focus).cloned().unwrap_or_else(|| blank(draft.focus, units)))
    });
    let enter = derived(move || Enter {
        name: if capture.complete() { "Save" } else { "Next" },
        ready: !capture.busy.get(),
    });
    let signed = derived(move || capture.draft.with(|draft| draft.focus == Slot::Station));
    let station = move || {
        let ordinates =
            capture.draft.with(|draft| draft.kind == Kind::Ordinates && draft.focus == Slot::Length);
        let fold = capture.site.fold.get();
        ordinates.then(|| capture.draft.with(|draft| next_station(draft, &fold.record))).flatten().map(|at| {
            let skip = move |_| capture.draft.update(|draft| draft.ordinate += 1);
            markup! {
                <div class="ordinate">
                    <span>{say!("at {at} along the string")}</span>
                    <button type="button" class="small" on:click=skip>"Skip this one"</button>
                </div>
            }
        })
    };
    let spoken = derived(move || {
        capture.draft.with(|draft| spoken_back(draft, draft.focus, &capture.site.fold.get().record))
    });
    markup! {
        {live(station)}
        {row(Row::Keys)}
        <Keypad extra=row(Row::Again) typed=typed spoken=spoken on_typed=move |typed| capture.typed(typed) signed=signed enter=enter
            on_enter=move |()| capture.enter() on_units=move |units| capture.switch_units(units) />
    }
}

/// Points, a side or a turn for the slot in focus, and the wide key at the foot.
#[component]
fn NoNumber(focus: Slot) -> impl IntoView {
    let capture = Capture::here();
    let body = match focus {
        Slot::Side => markup! { <Sides /> },
        slot if !slot.choices().is_empty() => markup! { <Choices focus=slot /> },
        _ => markup! { <Points focus=focus /> },
    };
    let complete = move || capture.complete();
    markup! {
        {body}
        {shown(complete, move || markup! {
            <div class="foot">
                <button type="button" class="main wide" aria-disabled=move || capture.busy.get().to_string()
                    on:click=move |_| capture.enter()>"Save"</button>
            </div>
        })}
    }
}

#[component]
fn Points(focus: Slot) -> impl IntoView {
    let capture = Capture::here();
    let pressed = derived(move || {
        capture.draft.with(|draft| match focus {
            Slot::Many => draft.many.clone(),
            focus => draft.known(focus).cloned().into_iter().collect(),
        })
    });
    let close = move || {
        let start = capture.draft.with(|draft| {
            (draft.kind == Kind::Walk && focus == Slot::Target && draft.part > 1)
                .then(|| draft.known(Slot::First).cloned())
                .flatten()
        });
        start.map(|id| {
            let label = capture.site.fold.get().record.label(&id).to_owned();
            markup! {
                <button type="button" class="wide" on:click=move |_| capture.put(Meant::Known(id.clone()))>
                    {say!("Back at the start, {label}")}
                </button>
            }
        })
    };
    let hook = capture.draft.with_untracked(|draft| draft.kind == Kind::Run && focus == Slot::First);
    markup! {
        {hook.then(|| row(Row::Hook))}
        {live(close)}
        <Chooser chosen=into_draft(capture, focus != Slot::Many) pressed=pressed start=focus == Slot::First />
    }
}

/// Left or right, walking from one point to the other; for a tie both places are on the drawing.
#[component]
fn Sides() -> impl IntoView {
    let capture = Capture::here();
    let button = move |side: Side| {
        let name = move || {
            let ([from, to], _) = capture.side_line();
            say!("{}, walking from {from} to {to}", words::side(side))
        };
        let on = move || capture.draft.with(|draft| draft.side == Some(side)).to_string();
        let class = if side == Side::Left { "side side-left" } else { "side side-right" };
        markup! {
            <button type="button" class=class aria-pressed=on
                on:click=move |_| capture.draft.update(|draft| draft.put_side(side))>{live(name)}</button>
        }
    };
    markup! {
        <div class="pair" class:turned=move || capture.sides_turned()>{button(Side::Left)}{button(Side::Right)}</div>
        {move || capture.side_line().1.then(|| markup! {
            <p class="hint">"Both places are on the drawing: tapping one says it too."</p>
            <button type="button" class="wide" on:click=move |_| capture.leave_side_open()>"Leave it open"</button>
        })}
    }
}

/// One of a few things.
#[component]
fn Choices(focus: Slot) -> impl IntoView {
    let capture = Capture::here();
    let button = move |choice: &Choice| {
        let choice = *choice;
        let on = move || capture.draft.with(|draft| draft.chosen(focus) == Some(choice)).to_string();
        markup! {
            <button type="button" aria-pressed=on on:click=move |_| capture.draft.update(|d| d.put(choice))>
                {words::choice(choice)}
            </button>
        }
    };
    markup! {
        <div class="choices">{focus.choices().iter().map(button).collect_view()}</div>
        {words::choice_hint(focus).map(|hint| markup! { <p class="hint">{hint}</p> })}
    }
}

/// The plan expects another value: a question before saving.
#[component]
fn Expected() -> impl IntoView {
    let capture = Capture::here();
    live(move || {
        capture.doubt.get().map(|(slot, why)| {
            let typed = capture.draft.with_untracked(|d| d.typed(slot).map(Typed::text)).unwrap_or_default();
            let again = move |_| {
                capture.doubt.set(None);
                capture.onward.set_value(None);
                capture.draft.update(|draft| {
                    draft.focus = slot;
                    draft.set_typed(slot, blank(slot, capture.units()));
                });
            };
            markup! {
                <div class="doubt" role="alertdialog" aria-label="another value was expected">
                    <p>{why}</p>
                    <div class="pair">
                        <button type="button" class="main" on:click=again>"Type again"</button>
                        <button type="button" on:click=move |_| capture.save(true)>{say!("Keep {typed}")}</button>
                    </div>
                </div>
            }
        })
    })
}
