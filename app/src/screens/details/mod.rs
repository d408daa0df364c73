//! The site's details: name and units, its place on the map, north.

mod fill;
mod known;
mod north;
mod place;
mod things;

use super::new_site::unit_options;
use super::parts::{TextArea, TextField, Wrong, chips};
pub use known::{fetch_north_by_anchors, north_by_anchors};
use swingtie_core::language::tr;

use crate::notices::Notices;
use crate::state::{OpenSite, saving};
use crate::words;
use leptos::prelude::*;
use north::NorthForm;
use place::{PlaceForm, SecondPlace};
use swingtie_core::record::{Site, Statement};
use swingtie_core::units::read_number;
pub use things::ThingsScreen;

/// The details screen.
#[component]
pub fn DetailsScreen() -> impl IntoView {
    let site = OpenSite::here();
    let second = RwSignal::new(site.fold.with_untracked(|fold| fold.record.second_anchor().is_some()));
    markup! {
        <div class="page details">
            <h1>{words::DETAILS}</h1>
            <SiteForm />
            <PlaceForm second />
            <SecondPlace open=second />
            <NorthForm />
        </div>
    }
}

/// Name, client, surveyor, date, units, note.
#[component]
fn SiteForm() -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let now = site.fold.with_untracked(|fold| fold.record.site.clone());
    let [name, client, surveyor, date, note] =
        [now.name, now.client, now.surveyor, now.date, now.note].map(RwSignal::new);
    let units = RwSignal::new(now.units);
    let wrong = RwSignal::new(None);
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let text = |signal: RwSignal<String>| signal.get_untracked().trim().to_owned();
        if text(name).is_empty() {
            return wrong.set(Some(tr(words::NAME_MISSING).to_owned()));
        }
        wrong.set(None);
        let details = Site {
            name: text(name),
            client: text(client),
            surveyor: text(surveyor),
            date: text(date),
            note: text(note),
            units: units.get_untracked(),
        };
        saving(async move {
            site.say(vec![Statement::Site(details)]).await?;
            notices.say(words::SAVED);
            Ok(())
        });
    };
    markup! {
        <form class="form" on:submit=save>
            <TextField label=words::SITE_NAME value=name />
            <Wrong what=wrong.into() />
            <TextField label=words::CLIENT value=client />
            <TextField label=words::SURVEYOR value=surveyor />
            <TextField label=words::DATE value=date kind="date" />
            {chips(words::UNITS, unit_options(), move || Some(units.get()), move |chosen| units.set(chosen))}
            <TextArea label=words::SITE_NOTE value=note />
            <button type="submit" class="button button-main button-wide">{words::SAVE_DETAILS}</button>
        </form>
    }
}

/// Reads a number a person typed; a degree sign does not matter.
fn number(text: &str) -> Option<f64> {
    read_number(&text.replace('°', ""))
}

#[cfg(test)]
mod tests {
    use super::number;

    #[test]
    fn numbers_are_read_as_people_type_them() {
        assert_eq!(number(" 45.0123 "), Some(45.0123));
        assert_eq!(number("−93,4567°"), Some(-93.4567));
        assert_eq!(number("north"), None);
        assert_eq!(number("inf"), None);
        assert_eq!(number(""), None);
    }
}
