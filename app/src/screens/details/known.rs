//! Two known points: what they say of north and of the plan's size.

use crate::markup::live;
use crate::state::OpenSite;
use crate::words;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::place;
use swingtie_core::plan::Plan;
use swingtie_core::record::{North, NorthKind, PointId, Record};
use swingtie_core::units::Length;
use swingtie_core::units::float::hypot;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// North by two known points, in the part of the program that comes after the first screen; until it has come only what
/// somebody said counts. Answers at once after `fetch_north_by_anchors`.
///
/// # Errors
/// When that part could not be fetched.
#[wasm_split(screens, fallible, preload(fetch_north_by_anchors))]
pub fn north_by_anchors(record: &Record) -> Result<Option<North>, SplitLoaderError> {
    Ok(place::north_by_anchors(record))
}

/// How far apart two points of the plan are drawn.
pub(super) fn in_plan(plan: &Plan, from: &PointId, to: &PointId) -> Option<Length> {
    let at = |id: &PointId| plan.points.iter().find(|point| point.id == *id).map(|point| point.at);
    let (x, y) = (at(to)? - at(from)?).metres();
    Some(Length::from_metres(hypot(x, y)))
}

/// Distances known worse than this are not told to the inch (common practice, no source).
const ROUGH: Length = Length::from_metres(0.1);

/// What both points say, as sentences; empty before both are known.
pub(super) fn told(record: &Record, plan: &Plan) -> Vec<String> {
    let (Some(first), Some(second)) = (&record.anchor, record.second_anchor()) else { return Vec::new() };
    let Some(between) = place::between(record) else { return vec![tr(words::ONE_PLACE).to_owned()] };
    let units = record.site.units;
    // Nobody said how good the places are, or they are no better than a stride.
    let rough = between.distance_sd.is_none_or(|sd| sd > ROUGH);
    let apart = words::apart(between.distance, rough, in_plan(plan, &first.point, &second.point), units);
    let north = match between.bearing_sd {
        None => tr(words::NOT_KNOWN_HOW_GOOD).to_owned(),
        Some(sd) => {
            let need = between.far_enough().filter(|_| !between.gives_north());
            let said = record.north.as_ref().is_some_and(|north| north.kind == NorthKind::True);
            words::north_of_two(between.bearing, sd, need, said, units)
        }
    };
    vec![apart, north]
}

/// The sentences on the screen.
#[component]
pub(super) fn KnownPoints() -> impl IntoView {
    let site = OpenSite::here();
    let lines = move || {
        let told = site.fold.with(|fold| site.plan.with(|plan| told(&fold.record, plan)));
        told.into_iter().map(|line| markup! { <p>{line}</p> }).collect_view()
    };
    markup! { <div role="status">{live(lines)}</div> }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::{Anchor, Recorded};
    use swingtie_core::units::{Angle, UnitSystem};

    fn record(reach: Option<f64>, said: Option<NorthKind>) -> Record {
        let place = |point: &str, latitude, longitude| Anchor {
            point: point.into(),
            latitude,
            longitude,
            source: String::new(),
            accuracy: reach.map(Length::from_metres),
        };
        let mut record = Record { anchor: Some(place("A", 40.7, -74.0)), ..Record::default() };
        record.site.units = UnitSystem::Metres;
        let what = place("B", 40.7009, -73.9988);
        record.second_anchors.push(Recorded { entry: "2".into(), author: "a".into(), at_ms: 0, what });
        record.north = said.map(|kind| North {
            from: "A".into(),
            to: "B".into(),
            bearing: Angle::ZERO,
            kind,
            declination: None,
            source: String::new(),
            sd: None,
        });
        record
    }

    /// 142.388 m at 45.42° (geographiclib 2.1).
    #[test]
    fn two_known_points_say_how_far_apart_they_are_and_what_north_they_give() {
        let found = "From the first to the second it bears 45.4°";
        for (reach, said, north) in [
            (None, None, words::NOT_KNOWN_HOW_GOOD.to_owned()),
            (Some(5.0), None, format!("{found}, ±2.3° (95 of 100): north is taken from it.")),
            (
                Some(5.0),
                Some(NorthKind::Magnetic),
                format!("{found}, ±2.3° (95 of 100): north is taken from it."),
            ),
            (
                Some(5.0),
                Some(NorthKind::True),
                format!("{found}, ±2.3° (95 of 100). The true north that was said counts for more."),
            ),
            (
                Some(20.0),
                None,
                format!(
                    "{found}, ±9.1° (95 of 100): no better than a compass. North is taken from points 259.530 m apart, \
                     or better known."
                ),
            ),
        ] {
            let told = told(&record(reach, said), &Plan::default());
            let far = "About 142 m apart on the map.";
            assert_eq!(told, [far.to_owned(), north], "{reach:?}");
        }
        // Two places surveyed to five centimetres.
        let surveyed = told(&record(Some(0.05), None), &Plan::default());
        assert_eq!(surveyed[0], "142.388 m apart on the map.");
        let mut alone = record(Some(5.0), None);
        alone.second_anchors.clear();
        assert_eq!(told(&alone, &Plan::default()), Vec::<String>::new());
    }
}
