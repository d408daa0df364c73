//! What this device remembers of its user: how things look, how they tell, and what new sites start with.
//! Every setting has a usual value, is kept at once and works at once.

mod browser;
mod tape;
mod watch;

pub use browser::Unpromised;
pub use watch::Watch;

use crate::device::able;
use crate::device::language::{self, LANGUAGES};
use crate::device::prefs::{self, Switch};
use crate::device::{self, Signal};
use crate::markup::effect;
use crate::screens::new_site::unit_options;
use crate::screens::parts::{TextField, chips};
use crate::words::settings as words;
use browser::ThisBrowser;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::UnitSystem;
use tape::TapeSetting;

/// The screen, the same from the list of sites and from a site.
#[component]
pub fn SettingsScreen() -> impl IntoView {
    use Kept::{Aloud, Look, Turned};
    // What a browser cannot is said where it would be switched on.
    let buzz = if able::shakes() { words::BUZZ_HINT } else { words::NO_BUZZ };
    let aloud = if able::speaks() { words::READ_ALOUD_HINT } else { words::NO_VOICE };
    let awake = if able::keeps_awake() { words::AWAKE_HINT } else { words::NO_AWAKE };
    markup! {
        <div class="page settings-page">
            <h1>{words::SETTINGS}</h1>
            <p class="quiet">{words::SETTINGS_KEPT}</p>
            {spoken()}
            <section class="part">
                <h2>{words::LOOKS}</h2>
                {setting(words::THEME, words::THEME_HINT, Look(prefs::THEME), &words::THEMES)}
                {setting(words::TEXT_SIZE, words::TEXT_SIZE_HINT, Look(prefs::TEXT), &words::TEXT_SIZES)}
                {setting(words::FINENESS, words::FINENESS_HINT, Turned(prefs::ROUNDED), &words::FINENESSES)}
                {setting(words::HAND, words::HAND_HINT, Look(prefs::HAND), &words::HANDS)}
            </section>
            <section class="part">
                <h2>{words::TELLS}</h2>
                {setting(words::BUZZ, buzz, Turned(prefs::BUZZ), &words::ON_OFF)}
                {setting(words::BEEP, words::BEEP_HINT, Turned(prefs::BEEP), &words::ON_OFF)}
                <div class="buttons">
                    <button type="button" class="button" on:click=|_| Signal::Saved.give()>{words::TRY_SAVED}</button>
                    <button type="button" class="button" on:click=|_| Signal::Asked.give()>{words::TRY_ASKED}</button>
                </div>
                {setting(words::READ_ALOUD, aloud, Aloud, &words::ON_OFF)}
                {setting(words::AWAKE, awake, Turned(prefs::AWAKE), &words::ON_OFF)}
            </section>
            <NewSites />
            <ThisBrowser />
        </div>
    }
}

/// Where a setting is kept.
#[derive(Clone, Copy)]
enum Kept {
    /// As one of a few texts, which the start-up script puts on the page.
    Look(&'static str),
    /// As on or off.
    Turned(Switch),
    /// As whether readings are read back aloud.
    Aloud,
}

impl Kept {
    fn now(self) -> String {
        let on = match self {
            Self::Look(key) => return device::remembered(key).unwrap_or_default(),
            Self::Turned(switch) => switch.is_on(),
            Self::Aloud => device::reads_aloud(),
        };
        if on { "yes" } else { "no" }.to_owned()
    }

    fn keep(self, value: &str) {
        match self {
            Self::Look(key) => prefs::choose(key, value),
            Self::Aloud => device::set_reads_aloud(value == "yes"),
            Self::Turned(switch) => {
                switch.set(value == "yes");
                if switch == prefs::AWAKE {
                    device::look_at_awake_again();
                } else if switch == prefs::ROUNDED {
                    crate::words::round_lengths(switch.is_on());
                }
            }
        }
    }
}

/// The language. Its name stands in both, for who cannot read the one that is spoken.
fn spoken() -> AnyView {
    let now = language::spoken();
    let options = LANGUAGES.iter().map(|(tag, name)| (*tag, (*name).to_owned())).collect();
    let chosen = LANGUAGES.iter().map(|(tag, _)| *tag).find(|tag| *tag == now);
    markup! {
        <div class="setting">
            {chips(words::LANGUAGE, options, move || chosen, language::choose_language)}
            <p class="hint">{words::LANGUAGE_HINT}</p>
        </div>
    }
}

/// One of a few, and what it does. What is kept and none of them, as by another version, is the usual one.
fn setting(
    legend: &'static str,
    hint: &'static str,
    kept: Kept,
    options: &'static [(&'static str, &'static str)],
) -> AnyView {
    let now = kept.now();
    let now = options.iter().map(|(value, _)| *value).find(|value| *value == now).unwrap_or_default();
    let chosen = RwSignal::new(now);
    let options = options.iter().map(|(value, name)| (*value, tr(name).to_owned())).collect();
    let choose = move |value: &'static str| {
        chosen.set(value);
        kept.keep(value);
    };
    markup! {
        <div class="setting">
            {chips(legend, options, move || Some(chosen.get()), choose)}
            <p class="hint">{hint}</p>
        </div>
    }
}

/// What a site starts with that is not there yet.
#[component]
fn NewSites() -> impl IntoView {
    let units = RwSignal::new(prefs::usual_units());
    let choose = move |chosen: UnitSystem| {
        units.set(chosen);
        prefs::set_usual_units(chosen);
    };
    let surveyor = RwSignal::new(device::remembered(prefs::SURVEYOR).unwrap_or_default());
    effect(move || device::remember(prefs::SURVEYOR, surveyor.with(|name| name.trim().to_owned()).as_str()));
    markup! {
        <section class="part">
            <h2>{words::NEW_SITES}</h2>
            <p class="hint">{words::NEW_SITES_HINT}</p>
            {chips(words::USUAL_UNITS, unit_options(), move || Some(units.get()), choose)}
            <div class="setting">
                <TextField label=words::USUAL_SURVEYOR value=surveyor />
                <p class="hint">{words::USUAL_SURVEYOR_HINT}</p>
            </div>
            <TapeSetting units />
        </section>
    }
}
