//! The scenarios' level notes.

use super::{Scenario, fail, id, inches};
use serde::Deserialize;
use std::collections::BTreeMap;
use swingtie_core::book::Book;
use swingtie_core::record::{BenchMark, EntryId, LevelReading, LevelWith, PointId, Reading, Statement};
use swingtie_core::units::Length;

#[derive(Clone, Debug, Deserialize)]
pub(super) struct SetUp {
    setup: String,
    sigma: f64,
    rows: Vec<Row>,
}

#[derive(Clone, Debug, Deserialize)]
struct Row {
    point: String,
    reading: String,
    value: f64,
}

impl Scenario {
    /// The level notes as entries: the bench mark, then rod by rod.
    #[must_use]
    pub fn levels(&self) -> Vec<(String, Statement)> {
        let mark = self.bench_mark();
        let mut said = vec![("bench".to_owned(), Statement::BenchMark(mark))];
        for setup in &self.levels {
            let name = |n: usize| format!("L{}-{n}", setup.setup);
            for (n, row) in setup.rows.iter().enumerate() {
                let level = LevelReading {
                    setup: (n > 0).then(|| EntryId(name(0))),
                    point: id(&row.point),
                    reading: rod(&row.reading, row.value),
                    overhead: false,
                    stood: None,
                    with: LevelWith::HandLevel,
                    sd: Some(Length::from_feet(setup.sigma)),
                };
                said.push((name(n), Statement::Level(level)));
            }
        }
        said
    }

    /// The book of this scenario with its level notes at the end.
    #[must_use]
    pub fn levelled(&self, options: &super::Options) -> Book {
        let mut book = self.book(options);
        for (id, statement) in self.levels() {
            super::add(&mut book, id, statement);
        }
        book
    }

    /// `front door threshold = 100.00 ft (assumed)`.
    fn bench_mark(&self) -> BenchMark {
        let words = &self.benchmark_value;
        let height = words.split("= ").nth(1).and_then(|rest| rest.split(' ').next()?.parse().ok());
        let height = height.unwrap_or_else(|| fail(&format!("no height in {words}")));
        BenchMark { point: id(&self.benchmark), height: Length::from_feet(height), source: "assumed".into() }
    }

    /// True heights of all points: for judging results only.
    #[must_use]
    pub fn true_heights(&self) -> BTreeMap<PointId, Length> {
        let height = |(label, point): (&String, &super::TruePoint)| {
            let z = point.rest.get("z")?.as_f64()?;
            Some((id(label), Length::from_feet(z)))
        };
        self.true_points.iter().filter_map(height).collect()
    }
}

/// `4'-1"` or `3.86 (decimal ft)`, as a keypad would hold it.
fn rod(text: &str, rounded_feet: f64) -> Reading {
    match text.strip_suffix(" (decimal ft)") {
        Some(feet) => Reading { text: format!("{feet} ft"), value: Length::from_feet(rounded_feet) },
        None => {
            let inches = inches(text).unwrap_or_else(|| fail(&format!("cannot read {text}")));
            Reading { text: text.replacen("'-", "' ", 1), value: Length::from_inches(inches) }
        }
    }
}
