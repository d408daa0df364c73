//! Level readings and the bench mark, both ways. Rows of one group were read without moving the level.

use super::Trouble;
use super::cells::{normal, word, write_more};
use super::export::Writer;
use super::import::Reader;
use super::table::{Column, Row};
use crate::record::{BenchMark, EntryId, LevelReading, LevelWith, Record};
use crate::units::Length;

const LEVELS: &[&str] = &["builders_level", "hand_level", "string_level", "water_level", "tape"];
const STOOD: &[&str] = &["ground", "above"];

impl Writer {
    pub(super) fn levels(&mut self, record: &Record) {
        if let Some(mark) = &record.bench_mark {
            let cells = [
                (Column::Points, self.list(std::slice::from_ref(&mark.point))),
                (Column::Metres, mark.height.metres().to_string()),
                (Column::Note, mark.source.clone()),
            ];
            self.row("bench_mark", cells);
        }
        let mut setups: Vec<&EntryId> = Vec::new();
        for recorded in &record.levels {
            let said = &recorded.what;
            let setup = said.setup.as_ref().unwrap_or(&recorded.entry);
            let group = setups.iter().position(|known| *known == setup).unwrap_or_else(|| {
                setups.push(setup);
                setups.len() - 1
            });
            let mut cells = vec![
                (Column::Group, (group + 1).to_string()),
                (Column::Points, self.list(std::slice::from_ref(&said.point))),
                (Column::How, word(&said.with)),
            ];
            cells.extend(self.reading(&said.reading));
            cells.extend(said.sd.map(|sd| (Column::Sd, format!("{} m", sd.metres()))));
            let overhead = said.overhead.then(|| ("overhead".to_owned(), "yes".to_owned()));
            let stood = said.stood.map(|stood| ("stood".to_owned(), word(&stood)));
            let more: Vec<_> = overhead.into_iter().chain(stood).collect();
            if !more.is_empty() {
                cells.push((Column::More, write_more(&more)));
            }
            self.row("level", cells);
        }
    }
}

impl Reader<'_> {
    pub(super) fn level(&mut self, row: &Row) -> Option<LevelReading> {
        let group = normal(row.get(Column::Group));
        if group.is_empty() {
            let wanted = "which rows were read without moving the level, such as 1";
            self.fault(row, Column::Group, Trouble::Missing { wanted });
            return None;
        }
        let point = self.points(row, 1, "what the rod stood on");
        let with = match row.get(Column::How) {
            "" => Some(LevelWith::default()),
            word => self.word(row, Column::How, word, LEVELS),
        };
        let reading = self.needed(row, Column::Reading, Column::Metres);
        let sd = self.sd(row)?;
        let more = Self::more(row);
        let overhead = more.get("overhead").is_some_and(|word| normal(word) == "yes");
        let stood = match more.get("stood") {
            None => None,
            Some(word) => Some(self.word(row, Column::More, word, STOOD)?),
        };
        let (point, with, reading) = (point?.into_iter().next()?, with?, reading?);
        let setup = self.setup_of(group, row.line);
        Some(LevelReading { setup, point, reading, overhead, stood, with, sd })
    }

    pub(super) fn bench_mark(&mut self, row: &Row) -> Option<BenchMark> {
        let point = self.points(row, 1, "which point the height is of");
        let height = match row.get(Column::Metres) {
            "" => self.needed(row, Column::Reading, Column::Metres).map(|reading| reading.value),
            _ => self.number(row, Column::Metres).map(Length::from_metres),
        };
        let source = row.get(Column::Note).to_owned();
        Some(BenchMark { point: point?.into_iter().next()?, height: height?, source })
    }
}
