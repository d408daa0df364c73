//! The keypad on which readings are typed: as few taps as the number has parts, one thumb, unit
//! always in sight, and what was typed read back large.

mod angle;
mod half;
mod text;
mod typed;

pub use text::{fraction_name, fraction_text};
pub use typed::{Doubt, Key, Pad, Typed};

use crate::markup::{live, memo, shown};
use crate::words::capture as words;
pub use half::fetch_fractions;
use half::{Half, written};
use leptos::ev;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::UnitSystem;
use wasm_bindgen::JsCast;

/// What stands on the pad's wide key at the thumb.
#[derive(Clone, Debug, PartialEq)]
pub struct Enter {
    /// Its name: "Save", "Next".
    pub name: &'static str,
    /// Whether it can be pressed.
    pub ready: bool,
}

/// The pad. `typed` is what stands on it, `on_typed` takes what stands on it after a key.
#[component]
pub fn Keypad(
    /// What is typed.
    #[prop(into)]
    typed: Signal<Typed>,
    /// How it is said aloud, with what it is the length of.
    #[prop(into)]
    spoken: Signal<String>,
    /// Takes what is typed after a key.
    #[prop(into)]
    on_typed: Callback<Typed>,
    /// Whether lengths behind the zero make sense here.
    #[prop(into)]
    signed: Signal<bool>,
    /// The wide key.
    #[prop(into)]
    enter: Signal<Enter>,
    /// The wide key was pressed.
    #[prop(into)]
    on_enter: Callback<()>,
    /// The units switch was pressed.
    #[prop(into)]
    on_units: Callback<UnitSystem>,
    /// A key more, in the place of the sign where there is none.
    #[prop(optional)]
    extra: Option<AnyView>,
) -> impl IntoView {
    let refused = RwSignal::new(None::<&'static str>);
    let fine = RwSignal::new(false);
    let put = move |now: Typed, said: Result<(), &'static str>| {
        refused.set(said.err());
        on_typed.run(now);
    };
    let change = move |edit: &dyn Fn(&mut Typed) -> Result<(), &'static str>| {
        let mut now = typed.get_untracked();
        let said = edit(&mut now);
        put(now, said);
    };
    let half = RwSignal::new(Half::default());
    let forget = move || {
        let begun = half.with_untracked(Half::is_begun);
        if begun {
            half.set(Half::default());
        }
        begun
    };
    let press = Callback::new(move |key: Key| {
        forget();
        if key == Key::Sign && !signed.get_untracked() {
            return;
        }
        change(&|typed| typed.press(key));
        fine.set(false);
    });
    let delete = move || {
        change(&|typed| {
            if !forget() {
                typed.delete();
            }
            Ok(())
        });
    };
    let clear = move || {
        forget();
        change(&|typed| {
            typed.clear();
            Ok(())
        });
    };
    // What is half written is no reading yet.
    let go = move || {
        if half.with_untracked(Half::is_begun) { refused.set(Some(half::NONE)) } else { on_enter.run(()) }
    };
    let keys = window_event_listener(ev::keydown, move |event| {
        let mut now = typed.get_untracked();
        let pad = now.pad();
        let sign = desk_text(&event).filter(|_| pad == Pad::Length(UnitSystem::FeetInches));
        let taken = sign.and_then(|sign| half.try_update(|half| written(half, &sign, &mut now)).flatten());
        match (taken, desk_key(&event, pad)) {
            (Some(said), _) => put(now, said),
            (None, Some(DeskKey::Press(key))) => press.run(key),
            (None, Some(DeskKey::Delete)) => delete(),
            (None, Some(DeskKey::Enter)) if enter.get_untracked().ready => go(),
            _ => return,
        }
        event.prevent_default();
    });
    on_cleanup(move || keys.remove());
    let pad = memo(move || typed.get().pad());
    let units_key = move || {
        let Pad::Length(units) = pad.get() else { return ().into_any() };
        let (face, other) = match units {
            UnitSystem::FeetInches => ("ft in", UnitSystem::DecimalFeet),
            UnitSystem::DecimalFeet => ("0.0 ft", UnitSystem::Metres),
            UnitSystem::Metres => ("m", UnitSystem::FeetInches),
        };
        markup! {
            <button type="button" class="pad-units" data-face=face aria-label=say!("units: {}", words::units(units))
                on:click=move |_| on_units.run(other)></button>
        }
    };
    markup! {
        <div class="pad" role="group" aria-label="keypad">
            <div class="pad-display">
                <Display typed=typed half=half spoken=spoken />
                {units_key}
                <button type="button" class="pad-clear" aria-label="clear" on:click=move |_| clear()>"×"</button>
            </div>
            <Trouble typed=typed refused=refused on_typed=on_typed />
            <div class="pad-keys" class:pad-metric=move || pad.get() != Pad::Length(UnitSystem::FeetInches)>
                <Digits press=press signed=signed fine=fine />
                {extra}
                {move || match pad.get() {
                    Pad::Length(UnitSystem::FeetInches) => markup! { <Fractions press=press fine=fine /> },
                    Pad::Turn | Pad::Slope => markup! { <KeyCap key=Key::Degrees face="°" name="degrees" class="k-wide k-unit" area="u1" press=press /> },
                    Pad::Length(UnitSystem::DecimalFeet) => markup! { <KeyCap key=Key::Feet face="ft" name="feet" class="k-wide k-unit" area="u1" press=press /> },
                    Pad::Length(UnitSystem::Metres) => markup! {
                        <KeyCap key=Key::Metres face="m" name="metres" class="k-wide k-unit" area="u1" press=press />
                        <KeyCap key=Key::Centimetres face="cm" name="centimetres" class="k-wide k-unit" area="u2" press=press />
                        <KeyCap key=Key::Millimetres face="mm" name="millimetres" class="k-wide k-unit" area="u3" press=press />
                    },
                }}
                <button type="button" class="key k-delete" style="grid-area:del" aria-label="delete" on:click=move |_| delete()>"⌫"</button>
                <button type="button" class="key k-enter" style="grid-area:enter"
                    aria-disabled=move || (!enter.get().ready).to_string()
                    on:click=move |_| go()>
                    {move || enter.get().name}
                </button>
            </div>
        </div>
    }
}

/// The number so far, large, and how it is said.
#[component]
fn Display(typed: Signal<Typed>, half: RwSignal<Half>, spoken: Signal<String>) -> impl IntoView {
    let unitless = move || matches!(typed.get().doubt(), Some(Doubt::NeedsUnit));
    markup! {
        <output class="pad-number" aria-live="polite">
            <span class="pad-figures" class:pad-unitless=unitless>
                {move || {
                    let text = typed.get().text() + &half.get().text();
                    if text.is_empty() { "0".to_owned() } else { text }
                }}
            </span>
            <span class="pad-spoken">
                {move || spoken.get()}
            </span>
        </output>
    }
}

/// What is wrong or doubtful, and a better number one tap away.
#[component]
fn Trouble(
    typed: Signal<Typed>,
    refused: RwSignal<Option<&'static str>>,
    on_typed: Callback<Typed>,
) -> impl IntoView {
    live(move || {
        if let Some(why) = refused.get() {
            return markup! { <p class="pad-doubt" role="alert">{why}</p> };
        }
        match typed.get().doubt() {
            Some(Doubt::OverAFoot(better)) => {
                let text = better.text();
                markup! {
                    <p class="pad-doubt" role="alert">
                        "Twelve inches make a foot. "
                        <button type="button" on:click=move |_| on_typed.run((*better).clone())>{say!("Take {text}")}</button>
                    </p>
                }
            }
            Some(Doubt::Unreadable(why)) => markup! { <p class="pad-doubt" role="alert">{why}</p> },
            Some(Doubt::Long) => {
                markup! { <p class="pad-doubt" role="status">"That is longer than tapes are. Is it right?"</p> }
            }
            Some(Doubt::NeedsUnit | Doubt::Empty) | None => ().into_any(),
        }
    })
}

#[component]
fn KeyCap(
    key: Key,
    #[prop(into)] face: String,
    #[prop(into)] name: String,
    #[prop(default = "")] class: &'static str,
    #[prop(into)] area: String,
    press: Callback<Key>,
) -> impl IntoView {
    markup! {
        <button type="button" class=format!("key {class}") style=format!("grid-area:{area}") data-face=face aria-label=tr(&name).to_owned()
            on:click=move |_| press.run(key)></button>
    }
}

#[component]
fn Digits(press: Callback<Key>, signed: Signal<bool>, fine: RwSignal<bool>) -> impl IntoView {
    let digit = move |d: u8| {
        let name = d.to_string();
        markup! { <KeyCap key=Key::Digit(d) face=name.clone() name=name area=format!("d{d}") press=press /> }
    };
    markup! {
        {(0..10).map(digit).collect_view()}
        // A point and a fraction do not go together: its place is lent to the eighth odd sixteenth.
        {shown(move || !fine.get(), move || markup! {
            <KeyCap key=Key::Point face="." name="point" area="dot" press=press />
        })}
        {shown(move || signed.get(), move || markup! {
            <button type="button" class="key" style="grid-area:sign" aria-label="minus"
                on:click=move |_| press.run(Key::Sign)>"±"</button>
        })}
    }
}

/// Halves, quarters and eighths on the pad; its odd sixteenths one key away.
#[component]
fn Fractions(press: Callback<Key>, fine: RwSignal<bool>) -> impl IntoView {
    const COARSE: [u8; 7] = [8, 4, 12, 2, 6, 10, 14];
    const FINE: [u8; 8] = [1, 3, 5, 7, 9, 11, 13, 15];
    let cap = move |(i, n): (usize, u8)| {
        markup! {
            <KeyCap key=Key::Sixteenths(n) face=fraction_text(n) name=fraction_name(n) class="k-fraction"
                area=if i < 7 { format!("f{i}") } else { "dot".to_owned() } press=press />
        }
    };
    markup! {
        {move || {
            if fine.get() {
                FINE.into_iter().enumerate().map(cap).collect_view().into_any()
            } else {
                COARSE.into_iter().enumerate().map(cap).collect_view().into_any()
            }
        }}
        <KeyCap key=Key::Feet face="ft" name="feet" class="k-unit" area="u1" press=press />
        <KeyCap key=Key::Inches face="in" name="inches" class="k-unit" area="u2" press=press />
        <button type="button" class="key k-fine" style="grid-area:fine" data-face="⁄16" aria-label="sixteenths"
            aria-pressed=move || fine.get().to_string() on:click=move |_| fine.update(|f| *f = !*f)></button>
    }
}

/// What a key of a desk's keyboard means.
enum DeskKey {
    Press(Key),
    Delete,
    Enter,
}

/// The key pressed on a keyboard at the desk; none where it is typed into a text field or with a modifier.
pub fn desk_text(event: &ev::KeyboardEvent) -> Option<String> {
    let inside = event.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
    let elsewhere = inside.is_some_and(|e| {
        matches!(e.tag_name().as_str(), "INPUT" | "TEXTAREA" | "SELECT")
            || (e.tag_name() == "BUTTON" && matches!(event.key().as_str(), "Enter" | " "))
            || e.closest("dialog").is_ok_and(|dialog| dialog.is_some())
    });
    if elsewhere || event.ctrl_key() || event.meta_key() || event.alt_key() {
        return None;
    }
    Some(event.key())
}

/// The key of a pad that it stands for.
fn desk_key(event: &ev::KeyboardEvent, pad: Pad) -> Option<DeskKey> {
    let key = desk_text(event)?;
    Some(match (key.as_str(), pad) {
        ("Backspace", _) => DeskKey::Delete,
        ("Enter", _) => DeskKey::Enter,
        ("." | ",", _) => DeskKey::Press(Key::Point),
        ("-", _) => DeskKey::Press(Key::Sign),
        ("'" | "f", Pad::Length(UnitSystem::FeetInches)) => DeskKey::Press(Key::Feet),
        ("\"" | "i", Pad::Length(UnitSystem::FeetInches)) => DeskKey::Press(Key::Inches),
        ("°" | "d", Pad::Turn | Pad::Slope) => DeskKey::Press(Key::Degrees),
        ("m", Pad::Length(UnitSystem::Metres)) => DeskKey::Press(Key::Metres),
        (one, _) => DeskKey::Press(Key::Digit(one.parse().ok()?)),
    })
}
