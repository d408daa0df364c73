//! The panel of how a reading is taken: with what, to what, how the tape lay, and what is known of it.

use super::corrections::{fields, read, told, written};
use super::draft::Lay;
use super::state::Capture;
use crate::device::{reads_aloud, set_reads_aloud};
use crate::markup::{effect, live, shown};
use crate::screens::TextField;
use crate::words::capture as words;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{AngleHow, AngleInstrument, Instrument, Target, UnitSystem};

/// What lengths are taken with, in the order offered.
pub const INSTRUMENTS: [Instrument; 6] = [
    Instrument::SteelTape,
    Instrument::FibreglassTape,
    Instrument::Laser,
    Instrument::Wheel,
    Instrument::Pacing,
    Instrument::Guess,
];
const SIGHTS: [AngleInstrument; 5] = [
    AngleInstrument::Compass,
    AngleInstrument::Phone,
    AngleInstrument::Protractor,
    AngleInstrument::Theodolite,
    AngleInstrument::Guess,
];

impl Capture {
    /// How the reading under way is taken, in a word and in a line; none where nothing is read. Tracked.
    #[must_use]
    pub fn how_told(self) -> Option<(String, String)> {
        let (kind, lay) = self.draft.with(|draft| (draft.kind, draft.slope));
        if kind.sighted() {
            let name = words::sight(self.hand.with(|hand| hand.sight.instrument));
            return Some((tr(name).to_owned(), tr(name).to_owned()));
        }
        let how = self.hand.get().how;
        kind.taped().then(|| (words::how_short(&how), words::how(&how, lay)))
    }
}

/// What it is taken with, and what is measured to. `open` is set to false once something is asked elsewhere.
#[component]
pub fn Hows(open: RwSignal<bool>) -> impl IntoView {
    let capture = Capture::here();
    let kind = capture.draft.with_untracked(|draft| draft.kind);
    let chips = if kind.sighted() { sights(capture) } else { tapes(capture) };
    markup! {
        <div class="hows" role="group" aria-label="how it is taken">{chips}{voice()}</div>
        {kind.slopes().then(|| slopes(capture, open))}
        {(!kind.sighted()).then(|| markup! { <Corrections /> })}
        <button type="button" class="wide main" on:click=move |_| open.set(false)>{words::HOWS_DONE}</button>
    }
}

fn chip(name: &'static str, on: impl Fn() -> bool + Send + 'static, set: impl Fn() + 'static) -> AnyView {
    let set: Box<dyn Fn()> = Box::new(set);
    markup! {
        <button type="button" class="chip" aria-pressed=move || on().to_string() on:click=move |_| set()>{name}</button>
    }
}

/// Whether what is saved is read back aloud: for two people, one of whom holds the tape.
fn voice() -> AnyView {
    let on = RwSignal::new(reads_aloud());
    chip(
        words::READ_ALOUD,
        move || on.get(),
        move || {
            on.update(|on| *on = !*on);
            set_reads_aloud(on.get_untracked());
        },
    )
}

fn tapes(capture: Capture) -> Vec<AnyView> {
    let instrument = |what: Instrument| {
        // A recorder's own figure was of the instrument before.
        let set = move || capture.hand.update(|hand| (hand.how.instrument, hand.how.sd) = (what, None));
        chip(words::instrument(what), move || capture.hand.with(|hand| hand.how.instrument == what), set)
    };
    let target = |what: Target| {
        let set = move || capture.hand.update(|hand| hand.how.target = what);
        chip(words::target(what), move || capture.hand.with(|hand| hand.how.target == what), set)
    };
    let targets = [Target::Hard, Target::Soft].into_iter().map(target);
    INSTRUMENTS.into_iter().map(instrument).chain(targets).collect()
}

fn sights(capture: Capture) -> Vec<AnyView> {
    let sight = |instrument: AngleInstrument| {
        let set = move || capture.hand.update(|hand| hand.sight = AngleHow { instrument, sd: None });
        chip(
            words::sight(instrument),
            move || capture.hand.with(|hand| hand.sight.instrument == instrument),
            set,
        )
    };
    SIGHTS.into_iter().map(sight).collect()
}

/// How the tape lies for this reading.
fn slopes(capture: Capture, open: RwSignal<bool>) -> AnyView {
    let slope = |slope: Option<Lay>| {
        let set = move || {
            capture.draft.update(|draft| draft.put_slope(slope));
            open.set(slope.and_then(Lay::slot).is_none());
        };
        chip(words::slope(slope), move || capture.draft.with(|draft| draft.slope == slope), set)
    };
    let slopes = [None, Some(Lay::Rise), Some(Lay::Incline), Some(Lay::Heights)].map(slope);
    markup! { <div class="hows" role="group" aria-label="how the tape lies, this time">{slopes.into_iter().collect_view()}</div> }
}

/// What a surveyor knows of the tape.
#[component]
fn Corrections() -> impl IntoView {
    let capture = Capture::here();
    let metric = capture.units() == UnitSystem::Metres;
    let known = capture.hand.with_untracked(|hand| hand.how.tape.clone());
    let before = written(&known.as_deref().copied().unwrap_or_default(), metric);
    let texts = before.clone().map(RwSignal::new);
    let wrong = RwSignal::new(None::<String>);
    effect(move || {
        let now = texts.map(|text| text.get());
        // What is only looked at stays as exact as it was.
        if now == before {
            return;
        }
        let (tape, field) = read(&now, metric, known.as_deref());
        capture.hand.update(|hand| hand.how.tape = tape);
        wrong.set(field.map(|field| words::cannot_be(words::tape_field(field, metric))));
    });
    let field = move |(number, value): (usize, RwSignal<String>)| {
        markup! { <TextField label=words::tape_field(number, metric) value=value inputmode="decimal" /> }
    };
    let told = move || {
        let counts = || capture.hand.with(|hand| hand.how.tape.is_some().then(|| told(hand.clone(), metric)));
        let (class, told) = match wrong.get() {
            Some(why) => ("trouble", Some(why)),
            None => ("within", counts()),
        };
        told.map(|told| markup! { <p class=class role="status">{told}</p> })
    };
    shown(
        move || capture.hand.with(|hand| fields(hand.how.instrument) > 0),
        move || {
            markup! {
                <details class="more">
                    <summary>{words::CORRECTIONS}</summary>
                    <p class="hint">{words::CORRECTIONS_HINT}</p>
                    <div class="texts">{texts.into_iter().enumerate().map(field).collect_view()}</div>
                    {live(told)}
                </details>
            }
        },
    )
}
