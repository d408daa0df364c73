//! Where one point is on earth: typed, or told by the phone.

use super::number;
use crate::device;
use crate::markup::live;
use crate::notices::Notices;
use crate::screens::parts::{PointSelect, TextField, Wrong};
use crate::state::{OpenSite, saving};
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::{Anchor, PointId, Statement};
use swingtie_core::units::Length;
use swingtie_core::units::format::fixed;

/// What is entered so far.
#[derive(Clone, Copy)]
struct Draft {
    point: RwSignal<Option<PointId>>,
    latitude: RwSignal<String>,
    longitude: RwSignal<String>,
    /// Where the numbers come from, and how good that source says they are.
    source: RwSignal<(String, Option<Length>)>,
}

impl Draft {
    fn of(anchor: Option<Anchor>) -> Self {
        let degrees = |value: Option<f64>| RwSignal::new(value.map(|v| fixed(v, 7)).unwrap_or_default());
        let source =
            anchor.as_ref().map_or((words::TYPED.to_owned(), None), |a| (a.source.clone(), a.accuracy));
        Self {
            latitude: degrees(anchor.as_ref().map(|a| a.latitude)),
            longitude: degrees(anchor.as_ref().map(|a| a.longitude)),
            point: RwSignal::new(anchor.map(|a| a.point)),
            source: RwSignal::new(source),
        }
    }

    fn told(self, position: &device::Averaged) {
        self.latitude.try_set(fixed(position.latitude, 7));
        self.longitude.try_set(fixed(position.longitude, 7));
        self.source.try_set((words::averaged(position.readings), Some(position.accuracy)));
    }
}

/// Checks what was typed.
fn check(
    point: Option<PointId>,
    latitude: &str,
    longitude: &str,
    source: (String, Option<Length>),
) -> Result<Anchor, &'static str> {
    let within = |text: &str, limit: f64| number(text).filter(|degrees| degrees.abs() <= limit);
    Ok(Anchor {
        point: point.ok_or(words::PICK_POINT)?,
        latitude: within(latitude, 90.0).ok_or(words::BAD_LATITUDE)?,
        longitude: within(longitude, 180.0).ok_or(words::BAD_LONGITUDE)?,
        source: source.0,
        accuracy: source.1,
    })
}

/// The form.
#[component]
pub fn PlaceForm() -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let draft = Draft::of(site.fold.with_untracked(|fold| fold.record.anchor.clone()));
    let wrong = RwSignal::new(None);
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let (latitude, longitude) = (draft.latitude.get_untracked(), draft.longitude.get_untracked());
        match check(draft.point.get_untracked(), &latitude, &longitude, draft.source.get_untracked()) {
            Err(why) => wrong.set(Some(why.to_owned())),
            Ok(anchor) => {
                wrong.set(None);
                saving(async move {
                    site.say(vec![Statement::Anchor(anchor)]).await?;
                    notices.say(words::SAVED);
                    Ok(())
                });
            }
        }
    };
    markup! {
        <section class="part">
            <h2>{words::PLACE}</h2>
            <p class="hint">{words::PLACE_HINT}</p>
            <form class="form" on:submit=save>
                <PointSelect label=words::AT_POINT picked=draft.point />
                <PhonePosition draft />
                <TextField label=words::LATITUDE value=draft.latitude />
                <TextField label=words::LONGITUDE value=draft.longitude />
                <Source draft />
                <Wrong what=wrong.into() />
                <button type="submit" class="button button-main button-wide">{words::SAVE_PLACE}</button>
            </form>
        </section>
    }
}

/// Where the numbers come from.
#[component]
fn Source(draft: Draft) -> impl IntoView {
    let site = OpenSite::here();
    let line =
        move || draft.source.with(|(source, accuracy)| words::source_line(source, *accuracy, site.units()));
    markup! { <p class="hint">{live(line)}</p> }
}

/// Asks the phone.
#[component]
fn PhonePosition(draft: Draft) -> impl IntoView {
    let notices = Notices::here();
    let listening = RwSignal::new(false);
    let ask = move |_| {
        listening.set(true);
        leptos::task::spawn_local(async move {
            match device::average_position().await {
                Ok(position) => draft.told(&position),
                Err(why) => notices.warn(words::no_position(&why)),
            }
            listening.try_set(false);
        });
    };
    markup! {
        <button type="button" class="button button-wide" disabled=move || listening.get() on:click=ask>
            {words::USE_POSITION}
        </button>
        <p role="status" class="hint">{move || listening.get().then_some(words::LISTENING)}</p>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_needs_a_point_and_two_sane_numbers() {
        let from = || ("typed".to_owned(), None);
        let at = || Some(PointId::from("h"));
        assert_eq!(check(None, "45", "-93", from()), Err(words::PICK_POINT));
        assert_eq!(check(at(), "95", "-93", from()), Err(words::BAD_LATITUDE));
        assert_eq!(check(at(), "45", "west", from()), Err(words::BAD_LONGITUDE));
        assert_eq!(check(at(), "45", "-93", from()).map(|a| a.longitude), Ok(-93.0));
    }
}
