//! Angles, bearings, relations of two lines, arcs and girths, both ways.

use super::Trouble;
use super::cells::{normal, word, write_more};
use super::export::{Cells, Writer, taken};
use super::import::Reader;
use super::table::{Column, Row};
use super::taken::{More, differ, exact_angle};
use crate::record::{AngleHow, AngleInstrument, AngleReading, Measurement, NorthKind, PointId, Rotation};
use crate::units::{Angle, Length};

impl Reader<'_> {
    pub(super) fn turned(&mut self, row: &Row, kind: &str) -> Option<Measurement> {
        match kind {
            "angle" => {
                let (at, ends) = (self.point(row, Column::Points), self.two(row, Column::From, Column::To));
                let (reading, how) = (self.angle_reading(row, false), self.angle_how(row));
                let turn = match normal(row.get(Column::Turn)).as_str() {
                    "cw" => Some(Rotation::Clockwise),
                    "ccw" => Some(Rotation::CounterClockwise),
                    word => self.word(row, Column::Turn, word, &["clockwise", "counter_clockwise"]),
                };
                let (from, to) = ends?;
                let (at, reading, turn, how) = (at?, reading?, turn?, how?);
                Some(Measurement::Angle { at, from, to, reading, turn, how })
            }
            "bearing" => {
                let (ends, reading) =
                    (self.two(row, Column::From, Column::To), self.angle_reading(row, true));
                let north = match row.get(Column::What) {
                    "" => Some(NorthKind::Magnetic),
                    word => self.word(row, Column::What, word, &["magnetic", "true"]),
                };
                let (how, (from, to)) = (self.angle_how(row), ends?);
                Some(Measurement::Bearing { from, to, reading: reading?, north: north?, how: how? })
            }
            "parallel" => {
                let (lines, tolerance) = (self.lines(row), self.tolerance(row, Self::angle));
                let [one, other] = lines?;
                Some(Measurement::Parallel { one, other, tolerance: tolerance? })
            }
            "same_length" => {
                let length = |reader: &mut Self, row: &Row, column, text: &str| {
                    let bare = reader.row_bare(row)?;
                    reader.length(row, column, text, bare)
                };
                let (lines, tolerance) = (self.lines(row), self.tolerance(row, length));
                let [one, other] = lines?;
                Some(Measurement::SameLength { one, other, tolerance: tolerance? })
            }
            "arc" => {
                let (ends, side) = (self.two(row, Column::From, Column::To), self.side(row));
                let rise = self.distance(row);
                let (from, to) = ends?;
                Some(Measurement::Arc { from, to, rise: rise?, side: side? })
            }
            "arc_through" => {
                let (through, ends) =
                    (self.point(row, Column::Points), self.two(row, Column::From, Column::To));
                let (from, to) = ends?;
                Some(Measurement::ArcThrough { from, through: through?, to })
            }
            _ => {
                let (point, reading, how) =
                    (self.point(row, Column::Points), self.distance(row), self.how(row));
                Some(Measurement::Girth { point: point?, reading: reading?, how: how? })
            }
        }
    }

    fn lines(&mut self, row: &Row) -> Option<[[PointId; 2]; 2]> {
        let wanted = "the two ends of one line and the two ends of the other, four labels";
        let points = self.points(row, 4, wanted)?;
        let count = points.len();
        let Ok([a, b, c, d]) = <[PointId; 4]>::try_from(points) else {
            self.fault(row, Column::Points, Trouble::PointCount { count, wanted });
            return None;
        };
        Some([[a, b], [c, d]])
    }

    fn tolerance<T>(
        &mut self,
        row: &Row,
        read: impl Fn(&mut Self, &Row, Column, &str) -> Option<T>,
    ) -> Option<Option<T>> {
        match row.get(Column::Sd) {
            "" => Some(None),
            text => read(self, row, Column::Sd, text).map(Some),
        }
    }
}

impl Writer {
    pub(super) fn turned(&mut self, measurement: &Measurement) {
        match measurement {
            Measurement::Angle { at, from, to, reading, turn, how } => {
                let mut cells = self.ends(from, to);
                cells.extend([(Column::Points, self.label(at)), (Column::Turn, word(turn))]);
                cells.extend(angle(reading, AngleReading::read(&reading.text).ok()));
                cells.extend(angle_taken(how));
                self.row("angle", cells);
            }
            Measurement::Bearing { from, to, reading, north, how } => {
                let mut cells = self.ends(from, to);
                cells.push((Column::What, word(north)));
                cells.extend(angle(reading, AngleReading::bearing(&reading.text).ok()));
                cells.extend(angle_taken(how));
                self.row("bearing", cells);
            }
            Measurement::Parallel { one, other, tolerance } => {
                self.lines("parallel", one, other, tolerance.map(exact_angle));
            }
            Measurement::SameLength { one, other, tolerance } => {
                let metres = |t: Length| format!("{} m", t.metres());
                self.lines("same_length", one, other, tolerance.map(metres));
            }
            Measurement::Arc { from, to, rise, side } => {
                let mut cells = self.ends(from, to);
                cells.extend(self.reading(rise));
                cells.push((Column::Side, word(side)));
                self.row("arc", cells);
            }
            Measurement::ArcThrough { from, through, to } => {
                let mut cells = self.ends(from, to);
                cells.push((Column::Points, self.label(through)));
                self.row("arc_through", cells);
            }
            Measurement::Girth { point, reading, how } => {
                let mut cells = vec![(Column::Points, self.label(point))];
                cells.extend(self.reading(reading));
                cells.extend(taken(how, &More::of(how)));
                self.row("girth", cells);
            }
            _ => {}
        }
    }

    fn ends(&self, from: &PointId, to: &PointId) -> Cells {
        vec![(Column::From, self.label(from)), (Column::To, self.label(to))]
    }

    fn lines(&mut self, kind: &str, one: &[PointId; 2], other: &[PointId; 2], sd: Option<String>) {
        let all: Vec<PointId> = one.iter().chain(other).cloned().collect();
        let points = self.list(&all);
        self.row(kind, [(Column::Points, points), (Column::Sd, sd.unwrap_or_default())]);
    }
}

/// An angle's words, and its radians where the words do not tell them.
fn angle(reading: &AngleReading, said: Option<AngleReading>) -> Cells {
    let radians = |value: Angle| write_more(&[("radians".to_owned(), value.radians().to_string())]);
    match said {
        Some(said) if said.value == reading.value => vec![(Column::Reading, reading.text.clone())],
        // Words that say another angle than the book holds: the angle counts.
        Some(said) if differ(said.value, reading.value) => {
            vec![(Column::More, radians(reading.value))]
        }
        _ => vec![(Column::Reading, reading.text.clone()), (Column::More, radians(reading.value))],
    }
}

fn angle_taken(how: &AngleHow) -> Cells {
    let mut cells = Vec::new();
    if how.instrument != AngleInstrument::default() {
        cells.push((Column::How, word(&how.instrument)));
    }
    cells.extend(how.sd.map(|sd| (Column::Sd, exact_angle(sd))));
    cells
}
