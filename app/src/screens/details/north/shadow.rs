//! North by the sun: a shadow lies along the line at a minute.

use crate::device;
use crate::markup::live;
use crate::screens::details::known::in_plan;
use crate::screens::parts::TextField;
use crate::state::OpenSite;
use crate::words;
use leptos::prelude::*;
use swingtie_core::place::sun::{Shadow, shadow};
use swingtie_core::record::{Anchor, North, NorthKind, PointId};
use swingtie_core::units::Length;

/// When the shadow lay there, as typed.
#[derive(Clone, Copy)]
pub(super) struct Moment {
    day: RwSignal<String>,
    time: RwSignal<String>,
}

impl Moment {
    pub fn new() -> Self {
        Self { day: RwSignal::new(String::new()), time: RwSignal::new(String::new()) }
    }

    /// Makes whoever calls run again with every edit.
    pub fn track(self) {
        self.day.track();
        self.time.track();
    }

    /// The minute that was typed, in the phone's zone, and how many minutes that zone is east of Greenwich then. Tracked.
    fn read(self) -> Option<(i64, i32)> {
        self.day.with(|day| self.time.with(|time| device::instant(day, time)))
    }
}

/// What a shadow along a line tells, at a known place.
///
/// # Errors
/// What is missing or wrong, in words.
fn told(anchor: Option<&Anchor>, at_ms: Option<i64>, length: Option<Length>) -> Result<Shadow, String> {
    let anchor = anchor.ok_or(words::SHADOW_NEEDS_PLACE)?;
    let at_ms = at_ms.ok_or(words::BAD_TIME)?;
    shadow(anchor.latitude, anchor.longitude, at_ms, length).map_err(|why| ended(&capital(&why.to_string())))
}

/// A sentence with its end.
pub(super) fn ended(words: &str) -> String {
    if words.ends_with('?') { words.to_owned() } else { say!("{words}.") }
}

/// How far a zone may lie from the sun's time of its place: China's west is three hours off (from memory).
const ZONE_HOURS: f64 = 3.0;

/// Whether the zone is hardly that of a place so many degrees east.
fn far_off(minutes_east: i32, longitude: f64) -> bool {
    let hours = f64::from(minutes_east) / 60.0 - longitude / 15.0;
    ((hours + 12.0).rem_euclid(24.0) - 12.0).abs() > ZONE_HOURS
}

/// With a capital letter.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// True north by a shadow from `from`, its foot, to `to`, its tip.
fn north(from: PointId, to: PointId, shadow: &Shadow, when: &str) -> North {
    North {
        from,
        to,
        bearing: shadow.bearing,
        kind: NorthKind::True,
        declination: None,
        source: words::shadow_source(when, shadow.sun.bearing),
        sd: Some(shadow.sd),
    }
}

/// What is known of the shadow along this line. Tracked.
fn along(
    site: OpenSite,
    moment: Moment,
    from: Option<&PointId>,
    to: Option<&PointId>,
) -> Result<Shadow, String> {
    let at_ms = moment.read().map(|(at_ms, _)| at_ms);
    let length = site.plan.with(|plan| in_plan(plan, from?, to?));
    site.fold.with(|fold| told(fold.record.anchor.as_ref(), at_ms, length.filter(|l| *l > Length::ZERO)))
}

/// The statement to save.
///
/// # Errors
/// What is missing or wrong, in words.
pub(super) fn check(
    site: OpenSite,
    moment: Moment,
    from: Option<PointId>,
    to: Option<PointId>,
) -> Result<North, String> {
    let shadow = untrack(|| along(site, moment, from.as_ref(), to.as_ref()))?;
    let (from, to) = from.zip(to).filter(|(from, to)| from != to).ok_or(words::TWO_POINTS)?;
    let (_, east) = untrack(|| moment.read()).ok_or(words::BAD_TIME)?;
    let when = words::moment(&moment.day.get_untracked(), &moment.time.get_untracked(), east);
    Ok(north(from, to, &shadow, &when))
}

/// Day and time, the phone's clock, and what the sun says.
#[component]
pub(super) fn ShadowFields(
    moment: Moment,
    from: RwSignal<Option<PointId>>,
    to: RwSignal<Option<PointId>>,
) -> impl IntoView {
    let site = OpenSite::here();
    let now = move |_| {
        let (day, time) = device::this_second();
        moment.day.set(day);
        moment.time.set(time);
    };
    let east = move || moment.read().map_or_else(device::minutes_east_now, |(_, east)| east);
    let zone = move || words::phone_zone(east());
    let doubt = move || {
        let longitude = site.fold.with(|fold| fold.record.anchor.as_ref().map(|anchor| anchor.longitude))?;
        let said = far_off(east(), longitude).then(|| words::zone_far_off(east(), longitude))?;
        Some(markup! { <p class="caution">{said}</p> })
    };
    let says = move || {
        let found = from.with(|from| to.with(|to| along(site, moment, from.as_ref(), to.as_ref())));
        match found {
            Ok(shadow) => {
                let Shadow { bearing, sun, sd, .. } = shadow;
                let told = words::shadow_told(sun.bearing, sun.height, bearing, sd);
                match shadow.question(site.units()) {
                    Some(question) => say!("{told} {question}"),
                    None => told,
                }
            }
            Err(why) => why,
        }
    };
    markup! {
        <p class="hint">{words::SHADOW_HINT}</p>
        <p class="caution">{words::SUN_CAUTION}</p>
        <button type="button" class="button button-wide" on:click=now>{words::SHADOW_NOW}</button>
        <TextField label=words::SHADOW_DAY value=moment.day kind="date" />
        <TextField label=words::SHADOW_TIME value=moment.time />
        <p class="hint">{live(zone)}</p>
        {live(doubt)}
        <p role="status">{live(says)}</p>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn anchor(latitude: f64, longitude: f64) -> Anchor {
        Anchor { point: "A".into(), latitude, longitude, source: String::new(), accuracy: None }
    }

    /// UTC−7 and 105° W belong together by the zones' rule of 15° an hour; UTC+8 is kept in Kashgar at 76° E, UTC+14 on
    /// Kiritimati at 157° W (from memory).
    #[test]
    fn a_zone_far_from_the_longitude_is_doubted() {
        for (east, longitude) in [(-420, -105.0), (-360, -105.0), (480, 76.0), (840, -157.4), (-720, 180.0)] {
            assert!(!far_off(east, longitude), "{east} {longitude}");
        }
        for (east, longitude) in [(0, -105.0), (60, -74.0), (480, 70.0), (-300, 10.0), (720, 0.0)] {
            assert!(far_off(east, longitude), "{east} {longitude}");
        }
    }

    /// 40° N, 105° W, 21 December 2026, 15:00 UTC−7: the sun bears 222.29° (pvlib 0.16.1); at 20:00 it is night. Sydney's noon
    /// of that day stands at 79°.
    #[test]
    fn a_shadow_needs_a_place_a_minute_and_a_sun_that_is_neither_low_nor_high() {
        let (here, sydney) = (anchor(40.0, -105.0), anchor(-33.868_8, 151.209_3));
        for (place, at, expected) in [
            (None, Some(0), words::SHADOW_NEEDS_PLACE),
            (Some(&here), None, words::BAD_TIME),
            (
                Some(&here),
                Some(1_797_908_400_000),
                "The sun was down at that time at this place: is the time zone right?",
            ),
            (Some(&here), Some(1_797_895_200_000), "The sun stood lower than 5°"),
            (Some(&sydney), Some(1_797_818_400_000), "The sun stood higher than 75°"),
        ] {
            let why = told(place, at, None).unwrap_err();
            assert!(why.starts_with(expected), "{why}");
        }
        let found = told(Some(&here), Some(1_797_890_400_000), None).unwrap();
        let north = north("A".into(), "B".into(), &found, "21 December 2026 15:00 (UTC-7)");
        assert!((north.bearing.degrees() - 42.29).abs() < 0.01, "{north:?}");
        assert_eq!(north.source, "sun's shadow, 21 December 2026 15:00 (UTC-7), sun bore 222.3°");
        assert_eq!((north.kind, north.sd.is_some()), (NorthKind::True, true));
    }
}
