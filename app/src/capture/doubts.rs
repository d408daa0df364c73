//! The slip on which readings that contradict each other are settled: taped again, corrected, kept or
//! struck. Nothing is settled without the user's word.

use super::advise::{Advised, advised};
use super::idle::SlipHead;
use super::state::{Capture, Panel};
use crate::keypad::Typed;
use crate::markup::{derived, effect, live, memo, shown};
use crate::words::{self, Contradiction, Doubted, contradictions, contradictions_short};
use leptos::prelude::*;
use swingtie_core::network::Purpose;
use swingtie_core::record::{PointId, Statement};

/// Everything that contradicts, the likeliest misread first.
#[component]
pub fn DoubtsSlip() -> impl IntoView {
    let capture = Capture::here();
    let found = memo(move || {
        let fold = capture.site.fold.get();
        contradictions(&fold.record, &capture.site.adjustment.get())
    });
    // What was settled leaves the list; with the last one the slip closes.
    effect(move || {
        if found.with(Vec::is_empty) {
            capture.open(Panel::Idle);
        }
    });
    let title = derived(move || match found.with(Vec::len) {
        1 => "A reading does not agree".to_owned(),
        n => format!("{n} readings do not agree"),
    });
    markup! {
        <SlipHead title=title />
        <div class="doubts">{move || found.get().into_iter().map(contradiction).collect_view()}</div>
    }
}

/// The points in dispute: what the drawing shows while the slip is open.
pub fn disputed(capture: Capture) -> Vec<PointId> {
    let fold = capture.site.fold.get();
    let found = contradictions(&fold.record, &capture.site.adjustment.get());
    found.first().map(|c| c.readings.iter().flat_map(|r| r.points.clone()).collect()).unwrap_or_default()
}

fn contradiction(found: Contradiction) -> AnyView {
    let Contradiction { readings, told } = found;
    let several = readings.len() > 1;
    let tells = several.then(tells);
    markup! {
        <section class="contradiction">
            {several.then(|| markup! { <p>{told}</p> })}
            {tells}
            {readings.into_iter().enumerate().map(|(n, one)| doubted(one, n == 0)).collect_view()}
        </section>
    }
}

/// The tape that would tell which reading is wrong, where there is one.
fn tells() -> AnyView {
    let capture = Capture::here();
    let advice = advised(capture);
    live(move || {
        let best = advice.get().into_iter().find(|a| a.purpose == Purpose::Tell);
        best.map(|advice| markup! { <Advised advice /> })
    })
    .into_any()
}

/// One reading, and what can be done with it; the likeliest one's key stands out.
fn doubted(doubted: Doubted, likeliest: bool) -> AnyView {
    let capture = Capture::here();
    let Doubted { entry, part, reads, others, why, correction, figures, .. } = doubted;
    let again = {
        let entry = entry.clone();
        move |_| {
            if capture.correct(&entry, Some(part)) {
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
        <div class="doubt" role="group" aria-label=reads.clone()>
            <p>{reads}</p>
            <p>{others}". "{why}</p>
            <div class="pair">
                <button type="button" class:main=likeliest on:click=again>"Tape it again"</button>
                {correct}
            </div>
            <div class="pair">
                <button type="button" on:click=keep>"Keep it"</button>
                <button type="button" on:click=strike>"Strike it"</button>
            </div>
            <details class="exact"><summary>{words::EXACT}</summary><p>{figures}</p></details>
        </div>
    }
}

/// What contradicts, in a line with the way to the slip; nothing while all agrees.
#[component]
pub fn DoubtLine() -> impl IntoView {
    let capture = Capture::here();
    let short = memo(move || {
        let fold = capture.site.fold.get();
        contradictions_short(&fold.record, &capture.site.adjustment.get())
    });
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
