//! The plan as GeoJSON (RFC 7946): WGS 84 longitude and latitude.
//!
//! Circles have no geometry in RFC 7946: a tree is a point with its radii as properties. Points
//! that are still loose are written where they are drawn, with `state` saying so. What is known of a
//! thing stands in `attributes`: the words by their key, a length also in metres (`height_m`).

use super::decimals::{Degrees, Geographic, Metres};
use super::words;
use crate::network::PointState;
use crate::place::{Placement, Position, Stated, Unplaced};
use crate::plan::{Outline, PlacedPoint, PlacedProblem, Plan, Shape, What, place_of};
use crate::record::{Attribute, Attributes, EntryId, Fate, MarkColour, Note, Record, Recorded, Severity};
use crate::units::outline::twice_area;
use crate::units::{Length, PlanPoint};
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

/// Writes the plan as a feature collection, one feature a line.
///
/// # Errors
/// [`Unplaced`] with the reason when it is not known where on earth the plan lies.
pub fn write(record: &Record, plan: &Plan, stated: &Stated) -> Result<String, Unplaced> {
    let placement = Placement::find(record, plan, stated)?;
    let points = plan.points.iter().filter(|point| point.at.is_finite());
    let mut features: Vec<Feature> = points.map(|point| placement.point(record, point)).collect();
    features.extend(plan.shapes.iter().filter_map(|shape| placement.shape(record, shape)));
    features.extend(plan.problems.iter().map(|problem| placement.problem(record, problem)));
    let notes = record.notes();
    features.extend(notes.iter().map(|note| placement.note(plan, note)));
    let bbox = bbox(features.iter().filter_map(|feature| feature.geometry.as_ref()));
    if bbox.is_some_and(|[west, _, east, _]| east.rounded() - west.rounded() > 180.0) {
        return Err(Unplaced::AcrossAntimeridian);
    }
    let head = Head { kind: "FeatureCollection", bbox, title: &record.site.name, caution: words::CAUTION };
    // Numbers and texts only: JSON can hold them all, so writing does not fail.
    let head = serde_json::to_string(&head).unwrap_or_default();
    let lines: Vec<String> = features.iter().filter_map(|f| serde_json::to_string(f).ok()).collect();
    let head = head.trim_end_matches('}');
    Ok(format!("{head},\"features\":[\n{}\n]}}\n", lines.join(",\n")))
}

type Place = [Geographic; 2];

#[derive(Serialize)]
struct Head<'a> {
    #[serde(rename = "type")]
    kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    bbox: Option<[Geographic; 4]>,
    #[serde(skip_serializing_if = "str::is_empty")]
    title: &'a str,
    caution: &'static str,
}

#[derive(Serialize)]
struct Feature<'a> {
    #[serde(rename = "type")]
    kind: &'static str,
    id: &'a str,
    geometry: Option<Geometry>,
    properties: Properties<'a>,
}

#[derive(Serialize)]
#[serde(tag = "type", content = "coordinates")]
enum Geometry {
    Point(Place),
    LineString(Vec<Place>),
    Polygon([Vec<Place>; 1]),
}

impl Geometry {
    fn places(&self) -> &[Place] {
        match self {
            Self::Point(at) => std::slice::from_ref(at),
            Self::LineString(line) | Self::Polygon([line]) => line,
        }
    }
}

#[derive(Serialize)]
#[serde(tag = "sort", rename_all = "snake_case")]
enum Properties<'a> {
    Point(PointProperties<'a>),
    Feature(ShapeProperties<'a>),
    UtilityMark(ShapeProperties<'a>),
    Problem(ProblemProperties<'a>),
    Note(NoteProperties<'a>),
}

#[derive(Serialize)]
struct PointProperties<'a> {
    label: &'a str,
    state: PointState,
    x_m: Metres,
    y_m: Metres,
    #[serde(skip_serializing_if = "Option::is_none")]
    semi_major_95_m: Option<Metres>,
    #[serde(skip_serializing_if = "Option::is_none")]
    semi_minor_95_m: Option<Metres>,
    /// True bearing of the larger axis, 0 … 180.
    #[serde(skip_serializing_if = "Option::is_none")]
    bearing_95_deg: Option<Degrees>,
    #[serde(skip_serializing_if = "Option::is_none")]
    free: Option<String>,
    #[serde(skip_serializing_if = "str::is_empty")]
    note: &'a str,
}

#[derive(Serialize)]
struct ShapeProperties<'a> {
    label: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    kind: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    colour: Option<MarkColour>,
    #[serde(skip_serializing_if = "Option::is_none")]
    letters: Option<&'a str>,
    certain: bool,
    told: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    fate: Option<Fate>,
    #[serde(skip_serializing_if = "Option::is_none")]
    inner_radius_m: Option<Metres>,
    #[serde(skip_serializing_if = "Option::is_none")]
    outer_radius_m: Option<Metres>,
    /// How far to each side of a utility mark its tolerance zone reaches.
    #[serde(skip_serializing_if = "Option::is_none")]
    zone_m: Option<Metres>,
    #[serde(skip_serializing_if = "Known::is_empty")]
    attributes: Known<'a>,
    #[serde(skip_serializing_if = "str::is_empty")]
    note: &'a str,
}

#[derive(Serialize)]
struct ProblemProperties<'a> {
    number: usize,
    kind: &'a str,
    severity: Severity,
    #[serde(skip_serializing_if = "Known::is_empty")]
    attributes: Known<'a>,
    #[serde(skip_serializing_if = "str::is_empty")]
    note: &'a str,
}

#[derive(Serialize)]
struct NoteProperties<'a> {
    topic: &'a str,
    text: &'a str,
    #[serde(skip_serializing_if = "str::is_empty")]
    when: &'a str,
}

/// What is known of a thing, as a JSON object.
#[derive(Default)]
struct Known<'a>(Option<&'a Attributes>);

impl<'a> Known<'a> {
    fn of<T>(
        all: &'a [Recorded<T>],
        entry: &EntryId,
        attributes: impl Fn(&'a T) -> &'a Attributes,
    ) -> Option<Self> {
        let found = all.iter().find(|recorded| recorded.entry == *entry)?;
        Some(Self(Some(attributes(&found.what))))
    }

    fn is_empty(&self) -> bool {
        self.0.is_none_or(|known| known.is_empty())
    }
}

impl Serialize for Known<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut known = to.serialize_map(None)?;
        for (key, attribute) in self.0.into_iter().flatten() {
            match attribute {
                Attribute::Text(text) => known.serialize_entry(key, text)?,
                Attribute::Length(reading) => {
                    known.serialize_entry(key, &reading.text)?;
                    if reading.value.is_finite() {
                        known.serialize_entry(&format!("{key}_m"), &metres(reading.value))?;
                    }
                }
            }
        }
        known.end()
    }
}

impl Placement {
    fn place(&self, at: PlanPoint) -> Place {
        let Position { latitude, longitude, .. } = self.position(at);
        [Geographic::new(longitude), Geographic::new(latitude)]
    }

    fn places(&self, line: &[PlanPoint]) -> Vec<Place> {
        line.iter().map(|at| self.place(*at)).collect()
    }

    fn point<'a>(&self, record: &Record, point: &'a PlacedPoint) -> Feature<'a> {
        let (x, y) = point.at.metres();
        let ellipse = point.ellipse.as_ref();
        let properties = PointProperties {
            label: &point.label,
            state: point.state,
            x_m: Metres::new(x),
            y_m: Metres::new(y),
            semi_major_95_m: ellipse.map(|e| metres(e.semi_major)),
            semi_minor_95_m: ellipse.map(|e| metres(e.semi_minor)),
            bearing_95_deg: ellipse
                .map(|e| Degrees::new(self.bearing(e.direction).degrees().rem_euclid(180.0))),
            free: point.freedom.as_ref().map(|freedom| words::freedom(record, freedom)),
            note: &point.note,
        };
        Feature {
            kind: "Feature",
            id: point.id.as_str(),
            geometry: Some(Geometry::Point(self.place(point.at))),
            properties: Properties::Point(properties),
        }
    }

    fn shape<'a>(&self, record: &'a Record, shape: &'a Shape) -> Option<Feature<'a>> {
        let (mut inner_radius, mut outer_radius) = (None, None);
        let geometry = match &shape.outline {
            Outline::Spot(at) => Geometry::Point(self.place(*at)),
            Outline::Circle { centre, inner, outer } => {
                (inner_radius, outer_radius) = (*inner, *outer);
                Geometry::Point(self.place(*centre))
            }
            Outline::Line(line) => Geometry::LineString(self.places(line)),
            Outline::Area(ring) => Geometry::Polygon([self.places(&exterior(ring))]),
        };
        let (kind, colour, letters) = match &shape.what {
            What::Feature(kind) => (Some(kind.as_str()), None, None),
            What::Mark { colour, letters } => (None, Some(*colour), Some(letters.as_str())),
        };
        let properties = ShapeProperties {
            label: &shape.title,
            kind,
            colour,
            letters,
            certain: shape.certain,
            told: shape.told,
            fate: shape.fate,
            inner_radius_m: inner_radius.map(metres),
            outer_radius_m: outer_radius.map(metres),
            zone_m: shape.zone.map(metres),
            attributes: Known::of(&record.features, &shape.entry, |f| &f.attributes)
                .or_else(|| Known::of(&record.marks, &shape.entry, |m| &m.attributes))
                .unwrap_or_default(),
            note: &shape.note,
        };
        let properties = match &shape.what {
            What::Feature(_) => Properties::Feature(properties),
            What::Mark { .. } => Properties::UtilityMark(properties),
        };
        Some(Feature { kind: "Feature", id: shape.entry.as_str(), geometry: Some(geometry), properties })
    }

    fn problem<'a>(&self, record: &'a Record, problem: &'a PlacedProblem) -> Feature<'a> {
        let properties = Properties::Problem(ProblemProperties {
            number: problem.number,
            kind: &problem.kind,
            severity: problem.severity,
            attributes: Known::of(&record.problems, &problem.entry, |p| &p.attributes).unwrap_or_default(),
            note: &problem.note,
        });
        // A problem of the whole site has no place: RFC 7946 §3.2 writes null.
        let geometry = match &problem.outline {
            Some(Outline::Line(line)) => Some(Geometry::LineString(self.places(line))),
            Some(Outline::Area(ring)) => Some(Geometry::Polygon([self.places(&exterior(ring))])),
            _ => problem.at.map(|at| Geometry::Point(self.place(at))),
        };
        Feature { kind: "Feature", id: problem.entry.as_str(), geometry, properties }
    }

    /// A note of the whole site has no place either.
    fn note<'a>(&self, plan: &Plan, note: &'a Recorded<Note>) -> Feature<'a> {
        let Note { topic, text, when, at, .. } = &note.what;
        let geometry = place_of(at, plan).filter(|at| at.is_finite());
        let geometry = geometry.map(|at| Geometry::Point(self.place(at)));
        let properties = Properties::Note(NoteProperties { topic, text, when });
        Feature { kind: "Feature", id: note.entry.as_str(), geometry, properties }
    }
}

const fn metres(length: Length) -> Metres {
    Metres::new(length.metres())
}

/// The ring closed and counter-clockwise (RFC 7946 §3.1.6). Turning the plan to north keeps its sense.
fn exterior(ring: &[PlanPoint]) -> Vec<PlanPoint> {
    let mut ring = ring.to_vec();
    if twice_area(&ring) < 0.0 {
        ring.reverse();
    }
    ring.extend(ring.first().copied());
    ring
}

/// West, south, east, north (RFC 7946 §5).
fn bbox<'a>(geometries: impl Iterator<Item = &'a Geometry>) -> Option<[Geographic; 4]> {
    let mut places = geometries.flat_map(Geometry::places).map(|[lon, lat]| (lon.rounded(), lat.rounded()));
    let (lon, lat) = places.next()?;
    let [w, s, e, n] = places.fold([lon, lat, lon, lat], |[w, s, e, n], (lon, lat)| {
        [w.min(lon), s.min(lat), e.max(lon), n.max(lat)]
    });
    Some([w, s, e, n].map(Geographic::new))
}
