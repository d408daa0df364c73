//! A new site: its name and units, nothing more.

use super::parts::{TextField, Wrong, chips};
use crate::device;
use crate::routes::{Route, Router, Tab};
use crate::state::{Home, saving};
use crate::words;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{Site, UnitSystem};

/// The ways lengths are written, in the order offered.
pub const UNITS: [UnitSystem; 3] = [UnitSystem::FeetInches, UnitSystem::DecimalFeet, UnitSystem::Metres];

/// Names for the units' chips.
pub fn unit_options() -> Vec<(UnitSystem, String)> {
    UNITS.map(|units| (units, tr(words::units_name(units)).to_owned())).to_vec()
}

/// The form for a new site.
#[component]
pub fn NewSiteScreen() -> impl IntoView {
    let (home, router) = (Home::here(), Router::here());
    let name = RwSignal::new(String::new());
    let units = RwSignal::new(device::prefs::usual_units());
    let wrong = RwSignal::new(None);
    let start = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let called = name.get_untracked().trim().to_owned();
        if called.is_empty() {
            wrong.set(Some(tr(words::NAME_MISSING).to_owned()));
            return;
        }
        let site = Site {
            name: called,
            surveyor: device::remembered(device::prefs::SURVEYOR).unwrap_or_default(),
            units: units.get_untracked(),
            date: device::today(),
            ..Site::default()
        };
        saving(async move {
            let id = home.start(site).await?;
            router.go_instead(Route::Site(id, Tab::Plan));
            Ok(())
        });
    };
    markup! {
        <main class="page">
            <a class="button back" href=Route::Sites.to_hash()>{words::BACK_TO_SITES}</a>
            <h1>{words::NEW_SITE}</h1>
            <form class="form" on:submit=start>
                <TextField label=words::SITE_NAME value=name />
                <p class="hint">{words::SITE_NAME_HINT}</p>
                <Wrong what=wrong.into() />
                {chips(words::UNITS, unit_options(), move || Some(units.get()), move |chosen| units.set(chosen))}
                <button type="submit" class="button button-main button-wide">{words::START}</button>
            </form>
        </main>
    }
}
