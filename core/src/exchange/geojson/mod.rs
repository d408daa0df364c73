//! The plan as GeoJSON (RFC 7946: WGS 84 longitude and latitude) and as JSON-FG (OGC 21-045r1, version 1.0: the plan's own
//! frame in metres).
//!
//! Circles have no geometry in RFC 7946: a tree is a point with its radii as properties. Points that are still loose have
//! no geometry (null) and no `x_m` and `y_m`, since the plan only guesses where they are; nor has a thing that stands on
//! one alone (`certain` is false). Their `state` is `loose`, and `free` says what is known: of a circle also
//! `circle_centre` (a label) and `circle_radius_m`. What is known of a thing stands in `attributes`: the words by their key, a length also in metres (`height_m`).
//!
//! How good the place on the map is stands in the head of the map layer, as foreign members (RFC 7946 §6.1):
//! `anchor_point` (the label of the point whose place is known; null where the place was stated beside the book),
//! `anchor_source`, `anchor_accuracy_m` (a radius that holds the true place in 95 of 100 cases; null where nobody said),
//! `north_source`, `north_95_deg` (95 of 100 lie within ± that; null where it is not known) and `north_from_compass` (true
//! where a compass's bearing was turned by the declination).

mod features;
mod standing;

use super::decimals::{Degrees, Geographic, Metres};
use super::words;
use crate::place::{Placement, Position, Stated, Unplaced};
use crate::plan::{Ground, Plan};
use crate::record::{NorthKind, Record};
use crate::units::PlanPoint;
use features::{Geometry, Maker, Properties};
use serde::Serialize;
use standing::Standing;

/// The conformance class every JSON-FG document declares (OGC 21-045r1).
const JSON_FG_CORE: &str = "http://www.opengis.net/spec/json-fg-1/1.0/conf/core";

/// Writes the plan as a feature collection on the map, one feature a line.
///
/// # Errors
/// [`Unplaced`] with the reason when it is not known where on earth the plan lies.
pub fn write(record: &Record, plan: &Plan, ground: &Ground, stated: &Stated) -> Result<String, Unplaced> {
    let placement = Placement::find(record, plan, stated)?;
    let notes = record.notes();
    let maker = Maker { record, plan, ground, placement: Some(placement) };
    let features: Vec<OnMap> = maker
        .features(&notes)
        .into_iter()
        .map(|f| {
            let geometry = f.geometry.map(|geometry| geometry.map(|at| on_map(&placement, *at)));
            OnMap { kind: "Feature", id: f.id, geometry, properties: f.properties }
        })
        .collect();
    let bbox = bbox(features.iter().filter_map(|feature| feature.geometry.as_ref()));
    if bbox.is_some_and(|[west, _, east, _]| east.rounded() - west.rounded() > 180.0) {
        return Err(Unplaced::AcrossAntimeridian);
    }
    let head = Head {
        kind: "FeatureCollection",
        bbox,
        title: &record.site.name,
        caution: words::CAUTION,
        standing: Standing::of(record, plan, stated),
    };
    Ok(collection(&head, &features))
}

/// Writes the plan in its own frame, in metres, one feature a line: what a site without a place on earth is handed on as.
/// Where the place is known each feature also has its geometry on the map.
#[must_use]
pub fn write_local(record: &Record, plan: &Plan, ground: &Ground, stated: &Stated) -> String {
    let placement = Placement::find(record, plan, stated).ok();
    let notes = record.notes();
    let maker = Maker { record, plan, ground, placement };
    let features: Vec<InPlan> = maker
        .features(&notes)
        .into_iter()
        .map(|f| {
            let geometry = f.geometry.as_ref().zip(placement.as_ref());
            InPlan {
                kind: "Feature",
                id: f.id,
                feature_type: f.properties.sort(),
                geometry: geometry.map(|(geometry, placement)| geometry.map(|at| on_map(placement, *at))),
                place: f.geometry.map(|geometry| geometry.map(|at| in_plan(*at))),
                properties: f.properties,
            }
        })
        .collect();
    let head = LocalHead {
        kind: "FeatureCollection",
        conforms_to: [JSON_FG_CORE],
        // A frame of the yard's own: no register knows it, so the reference goes to the words below.
        coord_ref_sys: Reference { kind: "Reference", href: "#frame" },
        frame: Frame::of(plan),
        title: &record.site.name,
        caution: words::CAUTION,
    };
    collection(&head, &features)
}

/// Numbers and texts only: JSON can hold them all, so writing does not fail.
fn collection<F: Serialize>(head: &impl Serialize, features: &[F]) -> String {
    let head = serde_json::to_string(head).unwrap_or_default();
    let lines: Vec<String> = features.iter().filter_map(|f| serde_json::to_string(f).ok()).collect();
    let head = head.trim_end_matches('}');
    format!("{head},\"features\":[\n{}\n]}}\n", lines.join(",\n"))
}

type MapPlace = [Geographic; 2];
type PlanPlace = [Metres; 2];

fn on_map(placement: &Placement, at: PlanPoint) -> MapPlace {
    let Position { latitude, longitude, .. } = placement.position(at);
    [Geographic::new(longitude), Geographic::new(latitude)]
}

const fn in_plan(at: PlanPoint) -> PlanPlace {
    let (x, y) = at.metres();
    [Metres::new(x), Metres::new(y)]
}

#[derive(Serialize)]
struct Head<'a> {
    #[serde(rename = "type")]
    kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    bbox: Option<[Geographic; 4]>,
    #[serde(skip_serializing_if = "str::is_empty")]
    title: &'a str,
    caution: &'static str,
    #[serde(flatten)]
    standing: Standing<'a>,
}

#[derive(Serialize)]
struct OnMap<'a> {
    #[serde(rename = "type")]
    kind: &'static str,
    id: &'a str,
    geometry: Option<Geometry<MapPlace>>,
    properties: Properties<'a>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct LocalHead<'a> {
    #[serde(rename = "type")]
    kind: &'static str,
    conforms_to: [&'static str; 1],
    coord_ref_sys: Reference,
    frame: Frame,
    #[serde(skip_serializing_if = "str::is_empty")]
    title: &'a str,
    caution: &'static str,
}

#[derive(Serialize)]
struct Reference {
    #[serde(rename = "type")]
    kind: &'static str,
    href: &'static str,
}

/// What the coordinates mean.
#[derive(Serialize)]
struct Frame {
    unit: &'static str,
    axes: &'static str,
    /// Direction of north counter-clockwise from x, when it is known, and which north.
    #[serde(skip_serializing_if = "Option::is_none")]
    north_deg: Option<Degrees>,
    #[serde(skip_serializing_if = "Option::is_none")]
    north: Option<NorthKind>,
}

impl Frame {
    fn of(plan: &Plan) -> Self {
        let north = plan.north.as_ref().filter(|north| north.direction.radians().is_finite());
        Self {
            unit: "metre",
            axes: "x along the line the plan is held by, y a quarter turn counter-clockwise from it",
            north_deg: north.map(|north| Degrees::new(north.direction.degrees())),
            north: north.map(|north| north.kind),
        }
    }
}

#[derive(Serialize)]
struct InPlan<'a> {
    #[serde(rename = "type")]
    kind: &'static str,
    id: &'a str,
    #[serde(rename = "featureType")]
    feature_type: &'static str,
    geometry: Option<Geometry<MapPlace>>,
    place: Option<Geometry<PlanPlace>>,
    properties: Properties<'a>,
}

/// West, south, east, north (RFC 7946 §5).
fn bbox<'a>(geometries: impl Iterator<Item = &'a Geometry<MapPlace>>) -> Option<[Geographic; 4]> {
    let mut places = geometries.flat_map(Geometry::places).map(|[lon, lat]| (lon.rounded(), lat.rounded()));
    let (lon, lat) = places.next()?;
    let [w, s, e, n] = places.fold([lon, lat, lon, lat], |[w, s, e, n], (lon, lat)| {
        [w.min(lon), s.min(lat), e.max(lon), n.max(lat)]
    });
    Some([w, s, e, n].map(Geographic::new))
}
