//! A number of the form, typed: a length on the keypad, a count or percentage on plain figures.

use super::Answers;
use super::numbers::Figures;
use crate::keypad::{Enter, Keypad, Typed};
use crate::markup::{derived, effect, live};
use crate::state::OpenSite;
use crate::words::asked as said;
use leptos::html;
use leptos::prelude::*;
use swingtie_core::record::{Attribute, Row, Sort};

/// The pad of a row; what is unusual is asked about, then taken.
#[component]
pub fn Pad(row: &'static Row, answers: Answers, done: Callback<()>) -> impl IntoView {
    let doubt = RwSignal::new(None::<Attribute>);
    let take = move |answer: Option<Attribute>| {
        answers.put.run((row.key, answer));
        done.run(());
    };
    let typed = Callback::new(move |answer: Option<Attribute>| match answer {
        Some(answer) if row.unusual(&answer) => doubt.set(Some(answer)),
        answer => take(answer),
    });
    let body = move || match doubt.get() {
        Some(answer) => {
            let value = said::value(Some(&answer));
            let words = said::unusual(row, &value, untrack(|| OpenSite::here().units()));
            markup! {
                <div class="doubt" role="group" aria-label="an unusual value">
                    <p role="alert">{words}</p>
                    <div class="pair">
                        <button type="button" class="button" on:click=move |_| take(Some(answer.clone()))>{said::keep(&value)}</button>
                        <button type="button" class="button" on:click=move |_| doubt.set(None)>{said::TYPE_AGAIN}</button>
                    </div>
                </div>
            }
        }
        None => match row.sort {
            Sort::Length { .. } => markup! { <Length row=row answers=answers typed=typed cancel=done /> },
            _ => {
                let now = untrack(|| answers.words(row));
                markup! { <Figures row=row now=now typed=typed cancel=done /> }
            }
        },
    };
    let pad = NodeRef::<html::Div>::new();
    // Whoever works by keyboard or by ear goes on here.
    effect(move || {
        if let Some(pad) = pad.get() {
            // An element on the page takes the focus.
            let _ = pad.focus();
        }
    });
    markup! {
        <div class="asked-pad" role="group" aria-label=row.name tabindex="-1" node_ref=pad>
            <p class="asked-name"><strong>{row.name}</strong>" "<span>{row.help}</span></p>
            {live(body)}
        </div>
    }
}

/// A length: as it was typed before, until a key is pressed.
#[component]
fn Length(
    row: &'static Row,
    answers: Answers,
    typed: Callback<Option<Attribute>>,
    cancel: Callback<()>,
) -> impl IntoView {
    let site = OpenSite::here();
    let units = untrack(|| site.units());
    let before = match untrack(|| answers.get(row)) {
        Some(Attribute::Length(reading)) => Typed::from_reading(&reading, units),
        _ => Typed::new(units),
    };
    let touched = RwSignal::new(false);
    let pad = RwSignal::new(before);
    let ready = move || pad.with(|pad| pad.reading().is_some() || pad.is_empty());
    let enter = move |()| {
        if !touched.get_untracked() {
            return cancel.run(());
        }
        let reading = pad.with_untracked(Typed::reading);
        if reading.is_some() || pad.with_untracked(Typed::is_empty) {
            typed.run(reading.map(Attribute::Length));
        }
    };
    let put = move |now: Typed| {
        touched.set(true);
        pad.set(now);
    };
    markup! {
        <Keypad typed=pad spoken=derived(move || pad.with(Typed::spoken)) on_typed=put signed=false
            enter=derived(move || Enter { name: said::DONE, ready: ready() }) on_enter=enter
            on_units=move |units| put(Typed::new(units)) />
    }
}
