//! Where photos belong: the whole site, points, a place on the plan, a thing or a problem.

use super::desk::Pin;
use super::miniplan::MiniPlan;
use crate::markup::{derived, effect, live, memo};
use crate::screens::parts::{PointChips, chips};
use crate::state::OpenSite;
use crate::words;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::plan::place_of;
use swingtie_core::record::{At, EntryId, PointId, Record};
use swingtie_core::units::PlanPoint;

#[derive(Clone, Copy, Debug, PartialEq)]
enum Way {
    Site,
    Points,
    Place,
    Thing,
}

impl Way {
    fn of(pin: &Pin) -> Self {
        match (&pin.of, &pin.at) {
            (Some(_), _) => Self::Thing,
            (None, At::Points(_)) => Self::Points,
            (None, At::Near(_)) => Self::Place,
            (None, At::Site) => Self::Site,
        }
    }
}

/// Chooses it.
#[component]
pub fn PinEditor(pin: RwSignal<Pin>) -> impl IntoView {
    let way = RwSignal::new(pin.with_untracked(Way::of));
    let picked = RwSignal::new(pin.with_untracked(|pin| match &pin.at {
        At::Points(points) if pin.of.is_none() => points.clone(),
        _ => Vec::new(),
    }));
    effect(move || {
        let points = picked.get();
        if way.get_untracked() == Way::Points {
            pin.set(Pin { at: at_points(points), of: None });
        }
    });
    let choose = move |chosen| {
        way.set(chosen);
        let at = if chosen == Way::Points { at_points(picked.get_untracked()) } else { At::Site };
        pin.set(Pin { at, of: None });
    };
    let ways = vec![
        (Way::Site, tr(words::PIN_SITE).to_owned()),
        (Way::Points, tr(words::PIN_POINTS).to_owned()),
        (Way::Place, tr(words::PIN_PLACE).to_owned()),
        (Way::Thing, tr(words::PIN_THING).to_owned()),
    ];
    let more = move || match way.get() {
        Way::Site => ().into_any(),
        Way::Points => markup! { <PointChips legend=words::PIN_WHICH picked=picked /> },
        Way::Place => markup! { <PlaceField pin /> },
        Way::Thing => markup! { <ThingField pin /> },
    };
    markup! { {chips(words::PIN_LEGEND, ways, move || Some(way.get()), choose)} {live(more)} }
}

fn at_points(points: Vec<PointId>) -> At {
    if points.is_empty() { At::Site } else { At::Points(points) }
}

/// A place tapped on the plan, or moved there by keys.
#[component]
fn PlaceField(pin: RwSignal<Pin>) -> impl IntoView {
    let plan = OpenSite::here().plan;
    let at = memo(move || place_of(&pin.get().at, &plan.get()));
    let put = move |place| pin.set(Pin { at: At::Near(place), of: None });
    let key = move |(key, at, step): (String, PlanPoint, f64)| {
        let (x, y) = match key.as_str() {
            "ArrowLeft" => (-step, 0.0),
            "ArrowRight" => (step, 0.0),
            "ArrowUp" => (0.0, step),
            "ArrowDown" => (0.0, -step),
            "Enter" | " " => (0.0, 0.0),
            _ => return false,
        };
        let (x0, y0) = at.metres();
        put(PlanPoint::from_metres(x0 + x, y0 + y));
        true
    };
    markup! {
        <p class="hint">{words::PIN_PLACE_HINT}</p>
        <MiniPlan at=at facing=derived(|| None) role="application" label=words::PIN_PLACE_LABEL value=derived(|| None)
            on_point=move |(place, _)| put(place) on_key=key />
    }
}

/// One of the things and problems recorded.
#[component]
fn ThingField(pin: RwSignal<Pin>) -> impl IntoView {
    let site = OpenSite::here();
    let options = move || {
        let (chosen, record) = (pin.get().of, &site.fold.get().record);
        let option = |(entry, name): (EntryId, String)| {
            let selected = chosen.as_ref() == Some(&entry);
            markup! { <option value=entry.0 selected=selected>{name}</option> }
        };
        things(record).into_iter().map(option).collect_view()
    };
    let choose = move |event| {
        let of = EntryId(event_target_value(&event));
        let at = site.fold.with_untracked(|fold| place_of_thing(&fold.record, &of));
        pin.set(at.map_or_else(Pin::default, |at| Pin { at, of: Some(of) }));
    };
    markup! {
        <label class="field">
            <span>{words::PIN_THING_LABEL}</span>
            <select on:change=choose>
                <option value="">"–"</option>
                {live(options)}
            </select>
        </label>
    }
}

/// Every feature and problem with its name.
fn things(record: &Record) -> Vec<(EntryId, String)> {
    let entries = record.features.iter().map(|f| &f.entry).chain(record.problems.iter().map(|p| &p.entry));
    entries.filter_map(|entry| Some((entry.clone(), words::thing_named(entry, record)?))).collect()
}

/// Where a feature or problem is.
pub fn place_of_thing(record: &Record, entry: &EntryId) -> Option<At> {
    let feature = record.features.iter().find(|f| f.entry == *entry);
    let problem = record.problems.iter().find(|p| p.entry == *entry);
    feature.map(|f| at_points(f.what.points.clone())).or_else(|| problem.map(|p| p.what.at.clone()))
}
