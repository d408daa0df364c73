//! What points are called, struck ones too.

use litemap::LiteMap;
use swingtie_core::book::Book;
use swingtie_core::language::tr;
use swingtie_core::record::{Geometry, PointId, Record, Statement, UnitSystem, kind};

/// The label of every point the book ever spoke of, and the units in which lengths are told.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Names(LiteMap<PointId, String>, UnitSystem);

impl Names {
    /// Labels as they stand; for a struck point the last label it had.
    #[must_use]
    pub fn new(book: &Book, record: &Record) -> Self {
        let mut names = LiteMap::new();
        for entry in book.entries() {
            if let Some(Statement::Point(point)) = entry.statement() {
                names.insert(point.id.clone(), point.label.clone());
            }
        }
        for point in &record.points {
            names.insert(point.id.clone(), point.label.clone());
        }
        Self(names, record.site.units)
    }

    /// The label; `?` for a point no entry names.
    #[must_use]
    pub fn of(&self, point: &PointId) -> &str {
        self.0.get(point).map_or("?", String::as_str)
    }

    /// How the site writes lengths.
    #[must_use]
    pub const fn units(&self) -> UnitSystem {
        self.1
    }

    /// The labels in order.
    #[must_use]
    pub fn all(&self, points: &[PointId]) -> Vec<String> {
        points.iter().map(|point| self.of(point).to_owned()).collect()
    }
}

/// A point with what it is or belongs to, for who does not know the labels: `H3 · corner of House`.
#[must_use]
pub fn described(record: &Record, point: &PointId) -> String {
    let label = record.label(point);
    let own = record.points.iter().find(|known| known.id == *point).map_or("", |known| known.note.trim());
    let thing = record.features.iter().map(|f| &f.what).find(|thing| thing.points.contains(point));
    let told = thing.map(|thing| {
        let known = kind(&thing.kind);
        let kind_name = known.map_or(thing.kind.as_str(), |kind| kind.name);
        let name = thing.name.trim();
        let called = if name.is_empty() { tr(kind_name).to_owned() } else { say!("{kind_name}, {name}") };
        match known.map(|kind| kind.geometry) {
            _ if !own.is_empty() => say!("{own} ({called})"),
            _ if thing.kind == "tree" => say!("{}, trunk", if name.is_empty() { kind_name } else { name }),
            Some(Geometry::Area) => say!("corner of {called}"),
            Some(Geometry::Line | Geometry::Curve) => say!("on {called}"),
            _ => called,
        }
    });
    match told.unwrap_or_else(|| own.to_owned()) {
        nothing if nothing.is_empty() => label.to_owned(),
        told => say!("{label} · {told}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::{Attributes, Feature, Point, Recorded};

    #[test]
    fn a_point_is_told_by_what_it_belongs_to() {
        let mut record = Record::default();
        for (label, note) in [("H1", ""), ("T1", ""), ("G1", "gate post"), ("P1", ""), ("F1", "")] {
            let (id, label, note) = (label.into(), label.to_owned(), note.to_owned());
            record.points.push(Point { id, label, note });
        }
        for (kind, point, name) in
            [("house", "H1", ""), ("tree", "T1", "old oak"), ("fence", "G1", ""), ("fence", "F1", "")]
        {
            let what = Feature {
                kind: kind.to_owned(),
                points: vec![point.into()],
                name: name.to_owned(),
                fate: None,
                attributes: Attributes::default(),
                curved: false,
                told: false,
                note: String::new(),
            };
            record.features.push(Recorded { entry: point.into(), author: "a".into(), at_ms: 0, what });
        }
        let told = ["H1", "T1", "G1", "P1", "F1"].map(|point| described(&record, &point.into()));
        let expected =
            ["H1 · corner of House", "T1 · old oak, trunk", "G1 · gate post (Fence)", "P1", "F1 · on Fence"];
        assert_eq!(told, expected);
    }
}
