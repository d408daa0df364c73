//! The slip on which readings that contradict each other are settled: taped again, corrected, kept or
//! struck. Nothing is settled without the user's word.

use super::advised::Advised;
use super::idle::SlipHead;
use super::state::{Capture, Panel};
use crate::keypad::Typed;
use crate::markup::{derived, effect, live, memo, shown};
use crate::screens::exact;
use crate::words::{self, Contradiction, Doubted, Together};
use leptos::prelude::*;
use swingtie_core::network::Purpose;
use swingtie_core::record::Statement;

/// Everything that contradicts, the likeliest misread first.
#[component]
pub fn DoubtsSlip() -> impl IntoView {
    let capture = Capture::here();
    let found = capture.site.doubts;
    // What was settled leaves the list; with the last one the slip closes.
    effect(move || {
        if found.with(|doubts| doubts.found.is_empty()) {
            capture.open(Panel::Idle);
        }
    });
    let title = derived(move || match found.with(|doubts| doubts.found.len()) {
        1 => say!("A reading does not agree"),
        n => say!("{n} readings do not agree"),
    });
    markup! {
        <SlipHead title=title />
        <div class="doubts">{move || found.get().found.iter().map(contradiction).collect_view()}</div>
    }
}

fn contradiction(found: &Contradiction) -> AnyView {
    let several = found.readings.len() > 1;
    let told = found.told.clone();
    let cards = found.together().into_iter().enumerate().map(|(n, group)| card(group, n == 0, several));
    markup! {
        <section class="contradiction">
            {several.then(|| markup! { <p>{told}</p> })}
            {several.then(tells)}
            {cards.collect_view()}
        </section>
    }
}

/// What is read between two points, once or several times; the likeliest one's key stands out. Of `several` that
/// contradict each other another reading tells which is wrong.
fn card(group: Together, likeliest: bool, several: bool) -> AnyView {
    let Together { reads, readings } = group;
    let repeated = readings.len() > 1;
    let each = readings.into_iter().enumerate().map(|(n, one)| {
        let main = likeliest && n == 0;
        if !repeated {
            return doubted(one, main, several);
        }
        let (name, value) = (one.reads.clone(), one.value.clone());
        markup! {
            <div class="repeat" role="group" aria-label=name><p>{value}</p>{doubted(one, main, several)}</div>
        }
    });
    markup! {
        <div class="doubt" role="group" aria-label=reads.clone()>
            <p>{reads}</p>
            {each.collect_view()}
        </div>
    }
}

/// The tape that would tell which reading is wrong, where there is one.
fn tells() -> AnyView {
    let capture = Capture::here();
    capture.advising.show();
    live(move || {
        let best = capture.advising.all().into_iter().find(|a| a.purpose == Purpose::Tell);
        best.map(|advice| markup! { <Advised advice /> })
    })
    .into_any()
}

/// What is said against one reading, and what can be done with it.
fn doubted(doubted: Doubted, likeliest: bool, several: bool) -> AnyView {
    let capture = Capture::here();
    let Doubted { entry, part, others, why, correction, figures, .. } = doubted;
    let again = {
        let entry = entry.clone();
        move |_| {
            // Where it is not known which is wrong, one more is asked for: none is replaced.
            if (several && capture.retake(&entry, part)) || capture.correct(&entry, Some(part)) {
                // Whoever tapes again reads the tape, not the screen.
                let empty = Typed::new(capture.units());
                capture.draft.update(|draft| draft.set_typed(draft.focus, empty));
            }
        }
    };
    let keep = {
        let entry = entry.clone();
        move |_| capture.say_one(Statement::Keep { entry: entry.clone(), part, why: String::new() })
    };
    let strike = move |_| capture.say_one(Statement::Strike { entry: entry.clone(), why: String::new() });
    let correct = correction.map(|(name, corrections)| {
        let correct = move |_| {
            let now = corrections.iter().map(|c| Statement::Correct {
                entry: c.entry.clone(),
                now: Box::new(Statement::Measure(c.now.clone())),
            });
            capture.save_all(now.collect(), |_| {});
        };
        markup! { <button type="button" on:click=correct>{name}</button> }
    });
    markup! {
            <p>{others}". "{why}</p>
            <div class="pair">
                <button type="button" class:main=likeliest on:click=again>"Tape it again"</button>
                {correct}
            </div>
            <div class="pair">
                <button type="button" on:click=keep>"Keep it"</button>
                <button type="button" on:click=strike>"Strike it"</button>
            </div>
            {exact(move || markup! { <p>{figures.clone()}</p> })}
    }
}

/// What contradicts, in a line with the way to the slip; nothing while all agrees.
#[component]
pub fn DoubtLine() -> impl IntoView {
    let capture = Capture::here();
    let short = memo(move || capture.site.doubts.with(|doubts| doubts.short.clone()));
    shown(
        move || short.with(Option::is_some),
        move || {
            markup! {
                <div class="doubt doubt-line" role="alert">
                    <p><span aria-hidden="true">"▲ "</span>{move || short.get()}</p>
                    <button type="button" on:click=move |_| capture.open(Panel::Doubts)>{words::LOOK_AT_IT}</button>
                </div>
            }
        },
    )
}
