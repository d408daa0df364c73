//! Measurements of several rows: runs, offsets and walks.

use super::Trouble;
use super::cells::normal;
use super::import::Reader;
use super::table::{Column, Row};
use crate::record::{How, Leg, Measurement, OffsetRow, PointId, RunReading, Statement, Turn};
use crate::units::Length;

/// A measurement whose rows are still coming.
pub(super) struct Group {
    line: u64,
    name: String,
    how: How,
    rows: Rows,
}

enum Rows {
    Run { zero: PointId, toward: PointId, readings: Vec<RunReading>, zero_unknown: bool },
    Offsets { from: PointId, to: PointId, rows: Vec<OffsetRow> },
    Walk { start: PointId, legs: Vec<Leg> },
}

impl Rows {
    const fn kind(&self) -> &'static str {
        match self {
            Self::Run { .. } => "run",
            Self::Offsets { .. } => "offset",
            Self::Walk { .. } => "walk",
        }
    }

    const fn len(&self) -> usize {
        match self {
            Self::Run { readings, .. } => readings.len(),
            Self::Offsets { rows, .. } => rows.len(),
            Self::Walk { legs, .. } => legs.len(),
        }
    }
}

const TURNS: &[&str] = &["left", "right", "left_not_square", "right_not_square", "straight"];

impl Reader<'_> {
    /// Ends the measurement whose rows were coming.
    pub(super) fn close(&mut self) {
        let Some(Group { line, how, rows, .. }) = self.open.take() else { return };
        let measurement = match rows {
            Rows::Run { zero, toward, readings, zero_unknown } => {
                Measurement::Run { zero, toward, readings, zero_unknown, how }
            }
            Rows::Offsets { from, to, rows } => Measurement::Offsets { from, to, rows, how },
            Rows::Walk { start, legs } => Measurement::Walk { start, legs, how },
        };
        self.say(line, Statement::Measure(measurement));
    }

    pub(super) fn grouped(&mut self, row: &Row, kind: &str) {
        let Some(how) = self.how(row) else { return };
        let zero = Self::more(row).contains_key("zero");
        if !self.continues(row, kind, &how, zero) {
            self.close();
            match self.begin(row, kind, zero) {
                Some(rows) => {
                    let name = row.get(Column::Group).to_owned();
                    self.open = Some(Group { line: row.line, name, how, rows });
                }
                None => return,
            }
        }
        match kind {
            "run" => self.run_row(row),
            "offset" => self.offset_row(row),
            _ => self.walk_row(row),
        }
        if let Some(Group { line, rows, .. }) = &self.open {
            let (line, part) = (*line, rows.len().saturating_sub(1));
            self.keep(row, line, part);
        }
    }

    /// Whether the row goes on with the measurement of the row above.
    fn continues(&self, row: &Row, kind: &str, how: &How, zero: bool) -> bool {
        let Some(group) = &self.open else { return false };
        let same = |column, point: Option<&PointId>| {
            let label = row.get(column);
            label.is_empty() || (point.is_some() && self.known_point(label).as_ref() == point)
        };
        let same_line = match &group.rows {
            Rows::Run { zero: from, toward: to, .. } | Rows::Offsets { from, to, .. } => {
                same(Column::From, Some(from)) && same(Column::To, Some(to))
            }
            Rows::Walk { start, legs } => same(Column::From, legs.last().map(|leg| &leg.to).or(Some(start))),
        };
        let how_columns = [Column::How, Column::Target, Column::Sd, Column::More];
        let how_said = how_columns.iter().any(|c| !row.get(*c).is_empty());
        let same_zero = match &group.rows {
            Rows::Run { zero_unknown, .. } => *zero_unknown == zero,
            _ => true,
        };
        group.rows.kind() == kind
            && group.name == row.get(Column::Group)
            && same_line
            && (!how_said || (group.how == *how && same_zero))
    }

    fn begin(&mut self, row: &Row, kind: &str, zero_unknown: bool) -> Option<Rows> {
        if kind == "walk" {
            let start = self.point(row, Column::From)?;
            return Some(Rows::Walk { start, legs: Vec::new() });
        }
        let (from, to) = self.two(row, Column::From, Column::To)?;
        Some(match kind {
            "run" => Rows::Run { zero: from, toward: to, readings: Vec::new(), zero_unknown },
            _ => Rows::Offsets { from, to, rows: Vec::new() },
        })
    }

    fn run_row(&mut self, row: &Row) {
        let (point, reading) =
            (self.point(row, Column::Points), self.needed(row, Column::Reading, Column::Metres));
        if let (Some(point), Some(reading), Some(Group { rows: Rows::Run { readings, .. }, .. })) =
            (point, reading, &mut self.open)
        {
            readings.push(RunReading { point, reading });
        }
    }

    fn offset_row(&mut self, row: &Row) {
        let point = self.point(row, Column::Points);
        let station = self.needed(row, Column::Reading, Column::Metres);
        let offset = self.needed(row, Column::Offset, Column::OffsetMetres);
        // A point on the line is on no side; any will do.
        let on_line = offset.as_ref().is_some_and(|offset| offset.value == Length::ZERO);
        let side = if on_line && row.get(Column::Side).is_empty() {
            Some(crate::record::Side::Left)
        } else {
            self.side(row)
        };
        let (Some(point), Some(station), Some(offset), Some(side)) = (point, station, offset, side) else {
            return;
        };
        if offset.value < Length::ZERO {
            self.fault(row, Column::Offset, Trouble::NegativeOffset { text: offset.text });
        } else if let Some(Group { rows: Rows::Offsets { rows, .. }, .. }) = &mut self.open {
            rows.push(OffsetRow { point, station, offset, side });
        }
    }

    fn walk_row(&mut self, row: &Row) {
        let turn = match normal(row.get(Column::Turn)).as_str() {
            "" => Some(None),
            word => self.word::<Turn>(row, Column::Turn, word, TURNS).map(Some),
        };
        let (to, length) = (self.point(row, Column::To), self.reading(row, Column::Reading, Column::Metres));
        let (Some(turn), Some(to), Some(length)) = (turn, to, length) else { return };
        if length.as_ref().is_some_and(|length| !self.positive(row, length)) {
            return;
        }
        if let Some(Group { rows: Rows::Walk { legs, .. }, .. }) = &mut self.open {
            legs.push(Leg { turn, to, length });
        }
    }
}
