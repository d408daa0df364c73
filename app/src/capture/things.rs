//! The slips of a feature and of a utility mark under way.

use super::chooser::{Chooser, Chosen};
use super::idle::SlipHead;
use super::state::Capture;
use super::thing::{Size, sizes};
use crate::keypad::{Enter, Keypad, Typed};
use crate::markup::{derived, live, memo};
use crate::words::capture as words;
use leptos::prelude::*;
use swingtie_core::record::{CATALOGUE, Fate, Kind, MarkColour};

/// A feature: what it is, its points, and the little a designer needs to know.
#[component]
pub fn ThingSlip() -> impl IntoView {
    let capture = Capture::here();
    let kind = memo(move || capture.thing.with(|thing| thing.kind.map(|k| k.key)));
    live(move || match kind.get().and_then(swingtie_core::record::kind) {
        None => markup! { <SlipHead title="What is it?".to_owned() /> <Catalogue /> },
        Some(kind) => markup! { <SlipHead title=kind.name.to_owned() /> <ThingBody kind=kind /> },
    })
}

#[component]
fn Catalogue() -> impl IntoView {
    let capture = Capture::here();
    let wanted = RwSignal::new(String::new());
    let chips = move || {
        let wanted = wanted.get().to_ascii_lowercase();
        CATALOGUE
            .iter()
            .filter(|kind| kind.name.to_ascii_lowercase().contains(wanted.trim()))
            .map(|kind| {
                markup! { <button type="button" class="chip" on:click=move |_| capture.pick_kind(kind)>{kind.name}</button> }
            })
            .collect_view()
    };
    markup! {
        <input type="search" class="search" aria-label="Find a kind" placeholder="find a kind" autocomplete="off"
            prop:value=move || wanted.get() on:input=move |e| wanted.set(event_target_value(&e)) />
        <div class="chips tall" role="group" aria-label="kinds">{live(chips)}</div>
    }
}

#[component]
fn ThingBody(kind: &'static Kind) -> impl IntoView {
    let capture = Capture::here();
    let size = RwSignal::new(None::<Size>);
    live(move || match size.get() {
        Some(asked) => markup! { <SizePad size=asked done=Callback::new(move |()| size.set(None)) /> },
        None => markup! {
            <Through count=move || capture.thing.with(|t| t.points.len()) least=super::thing::least_points(kind.geometry) />
            <Chooser chosen=into_thing(capture) pressed=derived(move || capture.thing.with(|t| t.points.clone())) />
            <div class="sizes">
                {sizes(kind).iter().map(|s| markup! { <SizeButton size=*s open=size /> }).collect_view()}
            </div>
            <details class="more">
            <summary>"More: keep or remove, name, note"</summary>
            <Fates />
            <div class="texts">
                <input type="text" aria-label="Name" placeholder="name, e.g. maple" autocomplete="off"
                    prop:value=move || capture.thing.with(|t| t.name.clone())
                    on:input=move |e| capture.thing.update(|t| t.name = event_target_value(&e)) />
                <input type="text" aria-label="Note" placeholder="note" autocomplete="off"
                    prop:value=move || capture.thing.with(|t| t.note.clone())
                    on:input=move |e| capture.thing.update(|t| t.note = event_target_value(&e)) />
            </div>
            </details>
            <div class="foot">
                <button type="button" on:click=move |_| capture.thing.update(|t| t.kind = None)>"Another kind"</button>
                <button type="button" class="main" on:click=move |_| capture.save_thing()>"Save thing"</button>
            </div>
        },
    })
}

/// The points so far and how many are needed, in words.
#[component]
fn Through(#[prop(into)] count: Signal<usize>, least: usize) -> impl IntoView {
    let capture = Capture::here();
    let labels = move || {
        let fold = capture.site.fold.get();
        let points = if capture.panel.get() == super::state::Panel::Mark {
            capture.mark.with(|m| m.points.clone())
        } else {
            capture.thing.with(|t| t.points.clone())
        };
        points.iter().map(|id| fold.record.label(id).to_owned()).collect::<Vec<_>>().join(" → ")
    };
    let ask = move || match (count.get(), least) {
        (0, 1) => "Tap the point it stands on.".to_owned(),
        (0, n) => format!("Tap its points in order, at least {n}."),
        _ => labels(),
    };
    markup! { <p class="read-back">{live(ask)}</p> }
}

fn into_thing(capture: Capture) -> Chosen {
    Chosen {
        known: Callback::new(move |id| capture.thing.update(|thing| thing.toggle(id))),
        fresh: Some(Callback::new(move |()| capture.add_new(None))),
    }
}

#[component]
fn SizeButton(size: Size, open: RwSignal<Option<Size>>) -> impl IntoView {
    let capture = Capture::here();
    let value = move || {
        let typed = capture.thing.with(|t| t.sizes.get(size.key).map(Typed::text));
        typed.filter(|text| !text.is_empty()).unwrap_or_else(|| "—".to_owned())
    };
    markup! {
        <button type="button" class="slot" aria-label=move || format!("{}: {}", size.name, value()) on:click=move |_| open.set(Some(size))>
            <span>{size.name}</span><strong>{live(value)}</strong>
        </button>
    }
}

#[component]
fn SizePad(size: Size, done: Callback<()>) -> impl IntoView {
    let capture = Capture::here();
    let typed = derived(move || {
        let units = capture.units();
        capture.thing.with(|t| t.sizes.get(size.key).cloned()).unwrap_or_else(|| Typed::new(units))
    });
    let put = move |typed: Typed| {
        capture.thing.update(|t| {
            t.sizes.insert(size.key, typed);
        })
    };
    let units = move |units| {
        capture.pad.set(Some(units));
        put(Typed::new(units));
    };
    markup! {
        <p class="ask">{format!("Type the {}.", size.name)}</p>
        <Keypad typed=typed spoken=derived(move || typed.get().spoken()) on_typed=put signed=false enter=Enter { name: "Done", ready: true }
            on_enter=move |()| done.run(()) on_units=units />
    }
}

#[component]
fn Fates() -> impl IntoView {
    let capture = Capture::here();
    let chip = move |(fate, name): (Fate, &'static str)| {
        let on = move || capture.thing.with(|t| t.fate == Some(fate)).to_string();
        let toggle =
            move |_| capture.thing.update(|t| t.fate = if t.fate == Some(fate) { None } else { Some(fate) });
        markup! { <button type="button" class="chip" aria-pressed=on on:click=toggle>{name}</button> }
    };
    let fates = [(Fate::Keep, "keep"), (Fate::Move, "move"), (Fate::Remove, "remove"), (Fate::Ask, "ask")];
    let told = move || capture.thing.with(|t| t.told).to_string();
    markup! {
        <div class="hows" role="group" aria-label="what shall become of it">
            {fates.into_iter().map(chip).collect_view()}
            <button type="button" class="chip" aria-pressed=told
                on:click=move |_| capture.thing.update(|t| t.told = !t.told)>"told, not seen"</button>
        </div>
    }
}

const COLOURS: [MarkColour; 8] = [
    MarkColour::Red,
    MarkColour::Yellow,
    MarkColour::Orange,
    MarkColour::Blue,
    MarkColour::Purple,
    MarkColour::Green,
    MarkColour::Pink,
    MarkColour::White,
];

/// A utility mark: its colour as seen, what is written on it, its points.
#[component]
pub fn MarkSlip() -> impl IntoView {
    let capture = Capture::here();
    let chosen = memo(move || capture.mark.with(|m| m.colour));
    live(move || match chosen.get() {
        None => markup! {
            <SlipHead title="Which colour do you see?".to_owned() />
            <div class="colours">
                {COLOURS.into_iter().map(|c| markup! { <ColourButton colour=c /> }).collect_view()}
            </div>
            <p class="caution">{words::MARK_CAUTION}</p>
        },
        Some(colour) => markup! { <MarkBody colour=colour /> },
    })
}

#[component]
fn ColourButton(colour: MarkColour) -> impl IntoView {
    let capture = Capture::here();
    let (name, usual, letter) = words::mark(colour);
    markup! {
        <button type="button" class="colour" aria-label=format!("{name}, {usual}")
            on:click=move |_| capture.mark.update(|m| m.colour = Some(colour))>
            <i class=format!("swatch mark-{name}") aria-hidden="true">{letter}</i>
            <span><strong>{name}</strong> {usual}</span>
        </button>
    }
}

#[component]
fn MarkBody(colour: MarkColour) -> impl IntoView {
    let capture = Capture::here();
    let (name, usual, _) = words::mark(colour);
    let chosen = Chosen {
        known: Callback::new(move |id| capture.mark.update(|mark| mark.toggle(id))),
        fresh: Some(Callback::new(move |()| capture.add_new(None))),
    };
    markup! {
        <SlipHead title=format!("{name} mark, usually {usual}") />
        <Through count=move || capture.mark.with(|m| m.points.len()) least=2 />
        <Chooser chosen=chosen pressed=derived(move || capture.mark.with(|m| m.points.clone())) />
        <div class="texts">
            <input type="text" aria-label="Letters on it" placeholder="letters on it" autocomplete="off"
                prop:value=move || capture.mark.with(|m| m.letters.clone())
                on:input=move |e| capture.mark.update(|m| m.letters = event_target_value(&e)) />
            <input type="text" aria-label="Note" placeholder="operator, date painted" autocomplete="off"
                prop:value=move || capture.mark.with(|m| m.note.clone())
                on:input=move |e| capture.mark.update(|m| m.note = event_target_value(&e)) />
        </div>
        <p class="caution">{words::MARK_CAUTION}</p>
        <div class="foot">
            <button type="button" aria-pressed=move || capture.mark.with(|m| m.told).to_string()
                on:click=move |_| capture.mark.update(|m| m.told = !m.told)>"told, not marked"</button>
            <button type="button" on:click=move |_| capture.mark.update(|m| m.colour = None)>"Another colour"</button>
            <button type="button" class="main" on:click=move |_| capture.save_mark()>"Save mark"</button>
        </div>
    }
}
