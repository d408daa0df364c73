//! The features of a plan: what each is, where it lies in the plan's own frame, and what is known of it.

use super::super::decimals::{Degrees, Metres};
use super::super::words;
use crate::network::{Freedom, PointState};
use crate::place::Placement;
use crate::plan::{Ground, Outline, PlacedPoint, PlacedProblem, Plan, Shape, SpotHeight, What, place_of};
use crate::record::{
    Attribute, Attributes, EntryId, Fate, MarkColour, Note, Record, Recorded, Severity, Stood,
};
use crate::units::outline::twice_area;
use crate::units::{Length, PlanPoint};
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

/// A feature whose geometry is written later, in this frame or another.
pub(super) struct Feature<'a> {
    pub id: &'a str,
    pub geometry: Option<Geometry<PlanPoint>>,
    pub properties: Properties<'a>,
}

/// A geometry of places in some frame.
#[derive(Serialize)]
#[serde(tag = "type", content = "coordinates")]
pub(super) enum Geometry<P> {
    Point(P),
    LineString(Vec<P>),
    Polygon([Vec<P>; 1]),
}

impl<P> Geometry<P> {
    pub(super) fn places(&self) -> &[P] {
        match self {
            Self::Point(at) => std::slice::from_ref(at),
            Self::LineString(line) | Self::Polygon([line]) => line,
        }
    }

    /// The same in another frame.
    pub(super) fn map<Q>(&self, to: impl Fn(&P) -> Q) -> Geometry<Q> {
        let line = |line: &[P]| line.iter().map(&to).collect();
        match self {
            Self::Point(at) => Geometry::Point(to(at)),
            Self::LineString(all) => Geometry::LineString(line(all)),
            Self::Polygon([ring]) => Geometry::Polygon([line(ring)]),
        }
    }
}

#[derive(Serialize)]
#[serde(tag = "sort", rename_all = "snake_case")]
pub(super) enum Properties<'a> {
    Point(PointProperties<'a>),
    Feature(ShapeProperties<'a>),
    UtilityMark(ShapeProperties<'a>),
    Problem(ProblemProperties<'a>),
    Note(NoteProperties<'a>),
}

#[derive(Serialize)]
pub(super) struct PointProperties<'a> {
    label: &'a str,
    state: PointState,
    #[serde(skip_serializing_if = "Option::is_none")]
    x_m: Option<Metres>,
    #[serde(skip_serializing_if = "Option::is_none")]
    y_m: Option<Metres>,
    #[serde(skip_serializing_if = "Option::is_none")]
    semi_major_95_m: Option<Metres>,
    #[serde(skip_serializing_if = "Option::is_none")]
    semi_minor_95_m: Option<Metres>,
    /// Direction of the larger axis counter-clockwise from the plan's x, 0 … 180.
    #[serde(skip_serializing_if = "Option::is_none")]
    axis_95_deg: Option<Degrees>,
    /// The same as a true bearing, 0 … 180.
    #[serde(skip_serializing_if = "Option::is_none")]
    bearing_95_deg: Option<Degrees>,
    /// Above the datum, with its standard deviation and what the rod stood on.
    #[serde(skip_serializing_if = "Option::is_none")]
    height_m: Option<Metres>,
    #[serde(skip_serializing_if = "Option::is_none")]
    height_sd_m: Option<Metres>,
    #[serde(skip_serializing_if = "Option::is_none")]
    height_of: Option<Stood>,
    #[serde(skip_serializing_if = "Option::is_none")]
    free: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    circle_centre: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    circle_radius_m: Option<Metres>,
    #[serde(skip_serializing_if = "str::is_empty")]
    note: &'a str,
}

#[derive(Serialize)]
pub(super) struct ShapeProperties<'a> {
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
pub(super) struct ProblemProperties<'a> {
    number: usize,
    kind: &'a str,
    severity: Severity,
    #[serde(skip_serializing_if = "Known::is_empty")]
    attributes: Known<'a>,
    #[serde(skip_serializing_if = "str::is_empty")]
    note: &'a str,
}

#[derive(Serialize)]
pub(super) struct NoteProperties<'a> {
    topic: &'a str,
    text: &'a str,
    #[serde(skip_serializing_if = "str::is_empty")]
    when: &'a str,
}

/// What is known of a thing, as a JSON object.
#[derive(Default)]
pub(super) struct Known<'a>(Option<&'a Attributes>);

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

impl Properties<'_> {
    /// What kind of thing a feature is, in one word.
    pub(super) const fn sort(&self) -> &'static str {
        match self {
            Self::Point(_) => "point",
            Self::Feature(_) => "feature",
            Self::UtilityMark(_) => "utility_mark",
            Self::Problem(_) => "problem",
            Self::Note(_) => "note",
        }
    }
}

/// Makes the features.
pub(super) struct Maker<'a> {
    pub record: &'a Record,
    pub plan: &'a Plan,
    pub ground: &'a Ground,
    /// Where on earth, when that is known.
    pub placement: Option<Placement>,
}

impl<'a> Maker<'a> {
    /// Every feature: points, things and marks, problems. Notes are the caller's, who reads them.
    pub(super) fn features(&self, notes: &'a [Recorded<Note>]) -> Vec<Feature<'a>> {
        let points = self.plan.points.iter().filter(|point| point.at.is_finite());
        let mut features: Vec<Feature> = points.map(|point| self.point(point)).collect();
        features.extend(self.plan.shapes.iter().map(|shape| self.shape(shape)));
        features.extend(self.plan.problems.iter().map(|problem| self.problem(problem)));
        features.extend(notes.iter().map(|note| self.note(note)));
        features
    }

    fn point(&self, point: &'a PlacedPoint) -> Feature<'a> {
        // A loose point's place is the plan's guess: not to be taken for a place.
        let at = (point.state != PointState::Loose).then_some(point.at);
        let record: &'a Record = self.record;
        let circle = match &point.freedom {
            Some(Freedom::OnCircle { centre, radius }) => Some((record.label(centre), metres(*radius))),
            _ => None,
        };
        let ellipse = point.ellipse.as_ref();
        let half_turn = |degrees: f64| Degrees::new(degrees.rem_euclid(180.0));
        let bearing = |placement: &Placement| Some(placement.bearing(ellipse?.direction).degrees());
        let height: Option<&SpotHeight> = self.ground.spots.iter().find(|spot| spot.point == point.id);
        let properties = PointProperties {
            label: &point.label,
            state: point.state,
            x_m: at.map(|at| Metres::new(at.metres().0)),
            y_m: at.map(|at| Metres::new(at.metres().1)),
            semi_major_95_m: ellipse.map(|e| metres(e.semi_major)),
            semi_minor_95_m: ellipse.map(|e| metres(e.semi_minor)),
            axis_95_deg: ellipse.map(|e| half_turn(e.direction.degrees())),
            bearing_95_deg: self.placement.as_ref().and_then(bearing).map(half_turn),
            height_m: height.map(|h| metres(h.height)),
            height_sd_m: height.map(|h| metres(h.sd)),
            height_of: height.map(|h| h.stood),
            free: point.freedom.as_ref().map(|freedom| words::freedom(self.record, freedom)),
            circle_centre: circle.map(|(centre, _)| centre),
            circle_radius_m: circle.map(|(_, radius)| radius),
            note: &point.note,
        };
        let geometry = at.map(Geometry::Point);
        Feature { id: point.id.as_str(), geometry, properties: Properties::Point(properties) }
    }

    fn shape(&self, shape: &'a Shape) -> Feature<'a> {
        let record = self.record;
        let (mut inner_radius, mut outer_radius) = (None, None);
        let geometry = match &shape.outline {
            Outline::Spot(at) => Geometry::Point(*at),
            Outline::Circle { centre, inner, outer } => {
                (inner_radius, outer_radius) = (*inner, *outer);
                Geometry::Point(*centre)
            }
            Outline::Line(line) => Geometry::LineString(line.clone()),
            Outline::Area(ring) => Geometry::Polygon([exterior(ring)]),
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
        // What stands on a loose point alone is no better placed than that.
        let guessed = !shape.certain && matches!(geometry, Geometry::Point(_));
        Feature { id: shape.entry.as_str(), geometry: (!guessed).then_some(geometry), properties }
    }

    fn problem(&self, problem: &'a PlacedProblem) -> Feature<'a> {
        let known = Known::of(&self.record.problems, &problem.entry, |p| &p.attributes);
        let properties = Properties::Problem(ProblemProperties {
            number: problem.number,
            kind: &problem.kind,
            severity: problem.severity,
            attributes: known.unwrap_or_default(),
            note: &problem.note,
        });
        // A problem of the whole site has no place: RFC 7946 §3.2 writes null.
        let geometry = match &problem.outline {
            Some(Outline::Line(line)) => Some(Geometry::LineString(line.clone())),
            Some(Outline::Area(ring)) => Some(Geometry::Polygon([exterior(ring)])),
            _ => problem.at.map(Geometry::Point),
        };
        Feature { id: problem.entry.as_str(), geometry, properties }
    }

    /// A note of the whole site has no place either.
    fn note(&self, note: &'a Recorded<Note>) -> Feature<'a> {
        let Note { topic, text, when, at, .. } = &note.what;
        let geometry = place_of(at, self.plan).filter(|at| at.is_finite()).map(Geometry::Point);
        let properties = Properties::Note(NoteProperties { topic, text, when });
        Feature { id: note.entry.as_str(), geometry, properties }
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
