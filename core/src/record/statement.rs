//! One thing said, and everything said as it stands.

use super::{
    Anchor, AuthorId, BenchMark, EntryId, Feature, LevelReading, Measurement, North, NorthKind, Photo, Point,
    PointId, Problem, Site, UtilityMark, WrittenNote,
};
use crate::units::{Length, PlanPoint};
use litemap::LiteMap;
use serde::Serialize;
use swingtie_derive::Told;

/// One thing said.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(transform = super::schema::open))]
#[serde(rename_all = "snake_case")]
pub enum Statement {
    /// What the site is called, how lengths are written. The last one said counts.
    Site(Site),
    /// A point exists and is called so. Said again for the same point: a new label or note.
    Point(Point),
    /// Where the finger put a point; proposes sides and a first drawing, never a position.
    Sketch {
        /// The point.
        point: PointId,
        /// Where on the sketch, roughly in metres.
        at: PlanPoint,
    },
    /// A measurement.
    Measure(Measurement),
    /// A feature.
    Feature(Feature),
    /// A problem.
    Problem(Problem),
    /// A utility mark.
    Mark(UtilityMark),
    /// A photo note.
    Photo(Photo),
    /// What was told or observed, in words.
    Note(WrittenNote),
    /// Where on earth a point is. The last one said counts.
    Anchor(Anchor),
    /// Where on earth a second point is: a check on the plan's size, and north. The last one said counts; a sort of its
    /// own, since a version that knows one anchor only would take it for that.
    SecondAnchor(Anchor),
    /// Where north is. The last one said counts.
    North(North),
    /// A reading with a level.
    Level(LevelReading),
    /// The height of one point. The last one said counts.
    BenchMark(BenchMark),
    /// What the author of this entry wants to be called. The last one that author said counts.
    Author {
        /// A name; empty takes an earlier one back.
        name: String,
    },
    /// Withdraws an entry, which stays readable with a line through it. Striking a strike brings
    /// the entry back.
    Strike {
        /// The entry withdrawn.
        entry: EntryId,
        /// Why, if said.
        #[serde(default, skip_serializing_if = "String::is_empty")]
        why: String,
    },
    /// Writes an entry anew: the old words are struck, the new ones stand in their place.
    Correct {
        /// The entry corrected.
        entry: EntryId,
        /// What it says now; must be of the same sort.
        now: Box<Statement>,
    },
    /// A reading was looked at again and stands as written, whatever the others say: it is not
    /// accused any more. A later correction of the entry ends this.
    Keep {
        /// The entry the reading stands in.
        entry: EntryId,
        /// Which row, leg or reading of it, from 0.
        #[serde(default)]
        part: usize,
        /// Why, if said.
        #[serde(default, skip_serializing_if = "String::is_empty")]
        why: String,
    },
}

impl Statement {
    /// Every point it speaks of, in the order named, each once; none where it withdraws or keeps another entry, or
    /// speaks of the whole site. A correction speaks of what its new words name.
    #[must_use]
    pub fn points(&self) -> Vec<PointId> {
        let said: Vec<&PointId> = match self {
            Self::Point(point) => vec![&point.id],
            Self::Sketch { point, .. } => vec![point],
            Self::Measure(what) => what.points(),
            Self::Feature(what) => what.points.iter().collect(),
            Self::Mark(what) => what.points.iter().collect(),
            Self::Problem(what) => what.at.points().iter().collect(),
            Self::Photo(what) => what.at.points().iter().collect(),
            Self::Anchor(what) | Self::SecondAnchor(what) => vec![&what.point],
            Self::North(what) => vec![&what.from, &what.to],
            Self::Level(what) => vec![&what.point],
            Self::BenchMark(what) => vec![&what.point],
            Self::Note(what) => return once(what.read().at.points()),
            Self::Correct { now, .. } => return now.points(),
            Self::Site(_) | Self::Author { .. } | Self::Strike { .. } | Self::Keep { .. } => Vec::new(),
        };
        once(said)
    }
}

fn once<'a>(points: impl IntoIterator<Item = &'a PointId>) -> Vec<PointId> {
    let mut all = Vec::new();
    for point in points {
        if !all.contains(point) {
            all.push(point.clone());
        }
    }
    all
}

/// A statement that stands, with who said it and when.
#[derive(Clone, Debug, PartialEq)]
pub struct Recorded<T> {
    /// The entry that first said it (a correction keeps the id).
    pub entry: EntryId,
    /// Who wrote it.
    pub author: AuthorId,
    /// When, milliseconds since 1970 by the author's clock; for reading, never for ordering.
    pub at_ms: i64,
    /// What was said.
    pub what: T,
}

/// Everything as it stands: the fold of a book.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// The site.
    pub site: Site,
    /// Points in the order they were first spoken of.
    pub points: Vec<Point>,
    /// Freehand positions.
    pub sketch: LiteMap<PointId, PlanPoint>,
    /// Measurements in book order.
    pub measurements: Vec<Recorded<Measurement>>,
    /// Features in book order.
    pub features: Vec<Recorded<Feature>>,
    /// Problems in book order.
    pub problems: Vec<Recorded<Problem>>,
    /// Utility marks in book order.
    pub marks: Vec<Recorded<UtilityMark>>,
    /// Photos in book order.
    pub photos: Vec<Recorded<Photo>>,
    /// What was told or observed, in book order; [`Record::notes`] reads it.
    pub written_notes: Vec<Recorded<WrittenNote>>,
    /// Readings with a level, in book order.
    pub levels: Vec<Recorded<LevelReading>>,
    /// Heights of points, for tapes whose slope is known by them ([`Record::laid`]). No entry says them: they are
    /// worked out from the level readings (`levels::lay`), and empty until then.
    pub heights: LiteMap<PointId, Length>,
    /// From which point heights count.
    pub bench_mark: Option<BenchMark>,
    /// Where on earth.
    pub anchor: Option<Anchor>,
    /// Where on earth a second point is, in book order; [`Record::second_anchor`] counts.
    pub second_anchors: Vec<Recorded<Anchor>>,
    /// North by the two. No entry says it: it is worked out from them (`place::lay`), and empty until then.
    pub north_by_anchors: Option<North>,
    /// Where north is.
    pub north: Option<North>,
    /// What those who wrote want to be called, as far as they said; [`Record::called`] reads it.
    pub authors: LiteMap<AuthorId, String>,
    /// Readings that stand as written, by entry and part.
    pub kept: LiteMap<(EntryId, usize), ()>,
}

impl Record {
    /// The second known place that counts: the last one said, of another point than the anchor's.
    #[must_use]
    pub fn second_anchor(&self) -> Option<&Anchor> {
        let first = &self.anchor.as_ref()?.point;
        self.second_anchors.last().map(|second| &second.what).filter(|second| second.point != *first)
    }

    /// The norths that are known, what counts for more first: a true one that somebody said, that by two known points, a
    /// compass.
    pub fn norths(&self) -> impl Iterator<Item = &North> {
        let said = self.north.as_ref();
        let truly = said.filter(|north| north.kind == NorthKind::True);
        let magnetic = said.filter(|north| north.kind == NorthKind::Magnetic);
        truly.into_iter().chain(self.north_by_anchors.as_ref()).chain(magnetic)
    }

    /// The north that counts where all points have their places.
    #[must_use]
    pub fn north_that_counts(&self) -> Option<&North> {
        self.norths().next()
    }

    /// What an author wants to be called; none where nothing was said.
    #[must_use]
    pub fn called(&self, author: &AuthorId) -> Option<&str> {
        self.authors.get(author).map(|name| name.trim()).filter(|name| !name.is_empty())
    }

    /// The label of a point; its id when no entry names it.
    #[must_use]
    pub fn label<'a>(&'a self, point: &'a PointId) -> &'a str {
        self.points.iter().find(|p| &p.id == point).map_or(point.as_str(), |p| p.label.as_str())
    }

    /// The point with this label, letter case ignored.
    #[must_use]
    pub fn by_label(&self, label: &str) -> Option<&Point> {
        let label = label.trim();
        self.points.iter().find(|p| p.label.eq_ignore_ascii_case(label))
    }
}
