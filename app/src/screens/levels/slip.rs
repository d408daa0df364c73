//! The slip under the plan on which level readings are booked, one after the other.

use super::bench::level_book;
use super::booking::Booking;
use super::desk::Draft;
use super::next::likely;
use crate::capture::{Capture, Chooser, Chosen, Panel, SlipHead};
use crate::keypad::{Enter, Keypad, Typed};
use crate::markup::{derived, effect, live, memo};
use crate::routes::{Route, Tab};
use crate::screens::Drafts;
use crate::screens::ground::ground_here;
use crate::words::levels as words;
use leptos::prelude::*;
use swingtie_core::levels::Levels;
use swingtie_core::record::{PointId, Stood};

/// The levels as they stand.
pub fn levels_now() -> Memo<Levels> {
    let ground = ground_here();
    memo(move || ground.with(|ground| ground.levels.clone()))
}

/// Level readings under way.
#[component]
pub fn LevelSlip() -> impl IntoView {
    let (capture, draft) = (Capture::here(), Drafts::here().level);
    let levels = levels_now();
    // What was under way may have been struck meanwhile.
    let fold = capture.site.fold.get_untracked();
    draft.booking.update(|booking| *booking = booking.take().map(|b| b.known(&fold.record)));
    if capture.taken.with_untracked(Option::is_none) {
        capture.taken.set(draft.booking.with_untracked(|b| b.as_ref()?.point.clone()));
    }
    // The point is picked on the drawing, from the keys or the list: all of them put it there.
    effect(move || {
        let taken = capture.taken.get();
        let other = |b: &Option<Booking>| b.as_ref().is_some_and(|b| b.point != taken);
        if capture.panel.get_untracked() == Panel::Level && draft.booking.with_untracked(other) {
            draft.change(|booking| booking.point = taken);
        }
    });
    let wanted = memo(move || draft.booking.with(|b| b.as_ref().is_some_and(|b| b.point.is_none())));
    let begun = memo(move || draft.booking.with(Option::is_some));
    let title = move || {
        let fold = capture.site.fold.get();
        draft.booking.with(|b| b.as_ref().map_or_else(String::new, |b| words::title(b, &fold.record)))
    };
    let body = move || {
        if !begun.get() {
            let heights = Route::Site(capture.site.id(), Tab::Levels).to_hash();
            markup! { <p class="ask">{words::NO_SET_UP}</p> <a class="button" href=heights>{words::OPEN_HEIGHTS}</a> }
        } else if draft.doubt.with(Option::is_some) {
            markup! { <Doubtful draft /> }
        } else if wanted.get() {
            markup! { <WhichPoint draft levels /> }
        } else {
            markup! { <Number draft /> }
        }
    };
    markup! {
        <SlipHead title=derived(title) />
        {live(body)}
    }
}

/// Where the rod stands: likely points, the drawing, the list.
#[component]
fn WhichPoint(draft: Draft, levels: Memo<Levels>) -> impl IntoView {
    let capture = Capture::here();
    let last = move || {
        let fold = capture.site.fold.get();
        let found = draft.booking.with(|b| {
            let booking = b.as_ref()?;
            let record = &fold.record;
            let (_, closings) = level_book(record);
            let newest = record.levels.last()?;
            if let Some(closing) = closings.iter().find(|closing| closing.entry == newest.entry) {
                return Some(words::back_on(closing, record));
            }
            let last = booking.readings(record).next_back()?;
            let label = record.label(&last.what.point);
            if booking.pairs() {
                return Some(words::line_above(booking.with, &last.what.reading.text, label));
            }
            let told = |levels: &Levels| {
                let height = levels.points.get(&last.what.point)?;
                Some(words::lies_at(label, height, record.site.units))
            };
            levels.with(told)
        });
        found.map(|found| say!("{found}. "))
    };
    let ask = move || {
        let fold = capture.site.fold.get();
        draft.booking.with(|b| b.as_ref().map(|b| words::ask(b, &fold.record)))
    };
    let keys = move || {
        let (fold, plan) = (capture.site.fold.get(), capture.plan.get());
        let asked = Drafts::here().answering.point();
        let found = draft.booking.with(|b| {
            let Some(b) = b else { return Vec::new() };
            let mut found = levels.with(|levels| likely(&fold.record, &plan, levels, b));
            // What was asked for comes once the line is known.
            let begun = b.readings(&fold.record).next().is_some();
            if let Some(asked) =
                asked.filter(|asked| begun && !b.readings(&fold.record).any(|l| l.what.point == *asked))
            {
                found.retain(|id| *id != asked);
                found.insert(0, asked);
            }
            found
        });
        let key = |id: PointId| {
            let label = fold.record.label(&id).to_owned();
            let name = words::on(&label);
            markup! {
                <button type="button" class="step" aria-label=name on:click=move |_| capture.taken.set(Some(id.clone()))>
                    <span>{words::ON}</span>" "<strong>{label}</strong>
                </button>
            }
        };
        let can_move = draft
            .booking
            .with(|b| b.as_ref().is_some_and(|b| !b.pairs() && b.readings(&fold.record).next().is_some()));
        let moved = can_move.then(|| markup! {
            <button type="button" class="step" on:click=move |_| draft.moved(capture)>{words::MOVE_LEVEL}</button>
        });
        let any = moved.is_some() || !found.is_empty();
        any.then(|| {
            markup! {
                <div class="steps" role="group" aria-label=words::LIKELY>
                    {found.into_iter().map(key).collect_view()}
                    {moved}
                </div>
            }
        })
    };
    let chosen = Chosen {
        known: Callback::new(move |id| capture.taken.set(Some(id))),
        fresh: Some(Callback::new(move |()| capture.add_new(None))),
    };
    let pressed = derived(move || capture.taken.get().into_iter().collect::<Vec<_>>());
    markup! {
        <p class="ask" role="status">{live(last)}{live(ask)}</p>
        {live(keys)}
        <Chooser chosen=chosen pressed=pressed />
    }
}

/// The number, and what else is to be said of it.
#[component]
fn Number(draft: Draft) -> impl IntoView {
    let capture = Capture::here();
    let now = move |read: &dyn Fn(&Booking) -> String| {
        draft.booking.with(|b| b.as_ref().map(read).unwrap_or_default())
    };
    let label = move || {
        let fold = capture.site.fold.get();
        now(&|b| b.point.as_ref().map(|id| fold.record.label(id).to_owned()).unwrap_or_default())
    };
    let overhead = memo(move || draft.booking.with(|b| b.as_ref().is_some_and(|b| b.overhead)));
    let stood = memo(move || {
        let fold = capture.site.fold.get();
        draft.booking.with(|b| b.as_ref().map_or(Stood::Ground, |b| b.stands(&fold.record)))
    });
    let other = move |_| {
        draft.change(|booking| {
            booking.point = None;
            booking.stood = None;
        });
        capture.taken.set(None);
    };
    let typed = derived(move || {
        draft
            .booking
            .with(|b| b.as_ref().map_or_else(|| Typed::new(capture.site.units()), |b| b.typed.clone()))
    });
    let spoken = derived(move || words::spoken(&label(), &typed.get().spoken()));
    let enter = derived(move || Enter { name: words::SAVE, ready: !capture.busy.get() });
    markup! {
        <div class="slots-row">
            <div class="slots" role="group" aria-label=words::SAID>
                <button type="button" class="slot" aria-label=move || words::on_point(&label()) on:click=other>
                    <span>{words::ON}</span>" "<strong>{live(label)}</strong>
                </button>
                <button type="button" class="slot" aria-label=move || words::rod_named(overhead.get())
                    on:click=move |_| draft.change(|booking| booking.overhead = !booking.overhead)>
                    <span>{words::ROD}</span>" "<strong>{move || words::rod(overhead.get())}</strong>
                </button>
                <button type="button" class="slot" aria-label=move || words::stands_named(stood.get())
                    on:click=move |_| {
                        let fold = capture.site.fold.get_untracked();
                        draft.change(|booking| booking.toggle_stood(&fold.record));
                    }>
                    <span>{words::STANDS}</span>" "<strong>{move || words::stands(stood.get())}</strong>
                </button>
            </div>
        </div>
        <Keypad typed=typed spoken=spoken on_typed=move |typed| {
                capture.trouble.set(None);
                draft.typed(typed);
            } signed=derived(|| false) enter=enter
            on_enter=move |()| draft.save(false, capture) on_units=move |units| draft.switch_units(units) />
    }
}

/// The reading looks like a slip: a question before saving.
#[component]
fn Doubtful(draft: Draft) -> impl IntoView {
    let capture = Capture::here();
    let why = draft.doubt.get_untracked().unwrap_or_default();
    let typed = draft.booking.with_untracked(|b| b.as_ref().map(|b| b.typed.text())).unwrap_or_default();
    let again = move |_| draft.change(|booking| booking.typed.clear());
    markup! {
        <div class="doubt" role="alertdialog" aria-label=words::EXPECTED>
            <p>{why}</p>
            <div class="pair">
                <button type="button" class="main" on:click=again>{words::TYPE_AGAIN}</button>
                <button type="button" on:click=move |_| draft.save(true, capture)>{words::keep(&typed)}</button>
            </div>
        </div>
    }
}
