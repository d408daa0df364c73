//! What points are called, struck ones too.

use litemap::LiteMap;
use swingtie_core::book::Book;
use swingtie_core::record::{PointId, Record, Statement, UnitSystem};

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
