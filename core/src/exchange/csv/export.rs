//! From the record to rows that read back to an equal record.

use super::cells::{guard, word, write_list, write_more};
use super::table::Column;
use super::taken::More;
use super::{attribute, reading};
use crate::record::{
    At, EntryId, Facing, Feature, How, Instrument, Measurement, Photo, PointId, Problem, Reading, Record,
    Severity, SideOf, Target,
};
use crate::units::{Angle, BareUnit, Length, read_length};
use litemap::LiteMap;
use std::collections::{BTreeMap, BTreeSet};

/// Writes everything in the record as a table; columns nobody needs are left out.
///
/// Read back it gives an equal record: the same words, lengths to the bit, the same order. Not
/// written are who said it and when, what was struck, and which feature or problem a photo shows: those
/// hang on entries and are the book's, which is exported as it stands.
#[must_use]
pub fn write(record: &Record) -> String {
    let mut writer =
        Writer { bare: record.site.units.into(), labels: labels(record), rows: Vec::new(), group: 0 };
    writer.site(record);
    writer.points(record);
    for measurement in &record.measurements {
        let first = writer.rows.len();
        writer.measurement(&measurement.what);
        writer.keep(first, &record.kept, &measurement.entry);
    }
    for feature in &record.features {
        writer.feature(&feature.what);
    }
    for mark in &record.marks {
        let m = &mark.what;
        let points = writer.list(&m.points);
        let mut more = attribute::write_all(&m.attributes, writer.bare);
        more.extend(yes("told", m.told));
        writer.row(
            "mark",
            [
                (Column::What, word(&m.colour)),
                (Column::Points, points),
                (Column::Name, m.letters.clone()),
                (Column::More, write_more(&more)),
                (Column::Note, m.note.clone()),
            ],
        );
    }
    for problem in &record.problems {
        writer.problem(&problem.what);
    }
    for photo in &record.photos {
        let p = &photo.what;
        let mut cells = writer.at(&p.at);
        cells.push((Column::Name, p.id.0.clone()));
        cells.push((Column::What, p.media_type.clone()));
        cells.push((Column::More, write_more(&photo_more(p))));
        cells.push((Column::Note, p.note.clone()));
        writer.row("photo", cells);
    }
    for note in record.notes() {
        let n = &note.what;
        let mut more = Vec::new();
        if !n.when.is_empty() {
            more.push(("when".to_owned(), n.when.clone()));
        }
        if !n.settles.is_empty() {
            more.push(("settles".to_owned(), write_list(n.settles.iter().map(String::as_str))));
        }
        let mut cells = writer.at(&n.at);
        cells.push((Column::What, n.topic.clone()));
        cells.push((Column::More, write_more(&more)));
        cells.push((Column::Note, n.text.clone()));
        writer.row("note", cells);
    }
    writer.levels(record);
    writer.place(record);
    writer.text()
}

/// What is known of a photo besides its place and words.
fn photo_more(p: &Photo) -> Vec<(String, String)> {
    let mut more = vec![("bytes".to_owned(), p.bytes.to_string())];
    more.extend(p.facing.map(|facing| match facing {
        Facing::Plan(angle) => ("facing_radians".to_owned(), angle.radians().to_string()),
        Facing::Compass(bearing) => ("compass_radians".to_owned(), bearing.radians().to_string()),
    }));
    // What is drawn on it, and the file it was made from, have no columns: they stand as in the book.
    if !p.marks.is_empty() {
        more.extend(serde_json::to_string(&p.marks).ok().map(|marks| ("marks".to_owned(), marks)));
    }
    let original = p.original.as_ref().and_then(|original| serde_json::to_string(original).ok());
    more.extend(original.map(|original| ("original".to_owned(), original)));
    more
}

/// A label for every point, each used once: of two points of one label the later gets a mark.
fn labels(record: &Record) -> BTreeMap<PointId, String> {
    let mut used = BTreeSet::new();
    let mut labels = BTreeMap::new();
    for point in &record.points {
        let plain = point.label.trim();
        let plain = if plain.is_empty() { point.id.as_str() } else { plain };
        let mut label = plain.to_owned();
        let mut n = 2;
        while !used.insert(label.to_ascii_lowercase()) {
            label = format!("{plain}~{n}");
            n += 1;
        }
        labels.insert(point.id.clone(), label);
    }
    labels
}

fn yes(key: &str, holds: bool) -> Option<(String, String)> {
    holds.then(|| (key.to_owned(), "yes".to_owned()))
}

pub(super) type Cells = Vec<(Column, String)>;

pub(super) struct Writer {
    bare: BareUnit,
    labels: BTreeMap<PointId, String>,
    rows: Vec<Cells>,
    group: usize,
}

impl Writer {
    pub(super) fn row(&mut self, kind: &str, cells: impl IntoIterator<Item = (Column, String)>) {
        let kind = (Column::Kind, kind.to_owned());
        self.rows.push(std::iter::once(kind).chain(cells).filter(|(_, cell)| !cell.is_empty()).collect());
    }

    pub(super) fn label(&self, point: &PointId) -> String {
        self.labels.get(point).map_or_else(|| point.as_str().to_owned(), Clone::clone)
    }

    pub(super) fn list(&self, points: &[PointId]) -> String {
        let labels: Vec<String> = points.iter().map(|point| self.label(point)).collect();
        write_list(labels.iter().map(String::as_str))
    }

    /// Marks readings that stand as written, in the rows of their measurement.
    fn keep(&mut self, first: usize, kept: &LiteMap<(EntryId, usize), ()>, entry: &EntryId) {
        let rows = self.rows.len() - first;
        for ((_, part), ()) in kept.iter().filter(|((kept, _), ())| kept == entry) {
            // A row a reading; what stands in one row with others goes by its number.
            let (row, word) = match part {
                part if *part < rows => (*part, "yes".to_owned()),
                _ if rows == 1 => (0, part.to_string()),
                _ => continue,
            };
            let Some(cells) = self.rows.get_mut(first + row) else { continue };
            match cells.iter_mut().find(|(column, _)| *column == Column::Kept) {
                Some((_, cell)) => *cell = format!("{cell} {word}"),
                None => cells.push((Column::Kept, word)),
            }
        }
    }

    fn site(&mut self, record: &Record) {
        let site = &record.site;
        let more = [("client", &site.client), ("surveyor", &site.surveyor), ("date", &site.date)];
        let more = more.into_iter().filter(|(_, text)| !text.is_empty());
        let more: Vec<_> = more.map(|(key, text)| (key.to_owned(), text.clone())).collect();
        self.row(
            "site",
            [
                (Column::Name, site.name.clone()),
                (Column::Units, word(&site.units)),
                (Column::More, write_more(&more)),
                (Column::Note, site.note.clone()),
            ],
        );
    }

    fn points(&mut self, record: &Record) {
        for point in &record.points {
            let label = self.label(&point.id);
            self.row("point", [(Column::Points, label), (Column::Note, point.note.clone())]);
        }
        for (point, at) in &record.sketch {
            let (x, y) = at.metres();
            let label = self.label(point);
            self.row(
                "sketch",
                [(Column::Points, label), (Column::X, x.to_string()), (Column::Y, y.to_string())],
            );
        }
    }

    fn place(&mut self, record: &Record) {
        let anchors = record.anchor.iter().map(|anchor| ("anchor", anchor));
        let second = record.second_anchor().map(|anchor| ("second_anchor", anchor));
        for (kind, anchor) in anchors.chain(second) {
            let mut more = vec![
                ("latitude".to_owned(), anchor.latitude.to_string()),
                ("longitude".to_owned(), anchor.longitude.to_string()),
            ];
            more.extend(anchor.accuracy.map(|a| ("accuracy".to_owned(), format!("{} m", a.metres()))));
            let label = self.label(&anchor.point);
            self.row(
                kind,
                [
                    (Column::Points, label),
                    (Column::More, write_more(&more)),
                    (Column::Note, anchor.source.clone()),
                ],
            );
        }
        if let Some(north) = &record.north {
            let degrees = north.bearing.degrees();
            // Degrees and back may miss the last bit.
            let exact = Angle::from_degrees(degrees) == north.bearing;
            let radians = ("bearing_radians".to_owned(), north.bearing.radians().to_string());
            let mut more = if exact { Vec::new() } else { vec![radians] };
            more.extend(
                north.declination.map(|d| ("declination_radians".to_owned(), d.radians().to_string())),
            );
            more.extend(north.sd.map(|sd| ("sd_radians".to_owned(), sd.radians().to_string())));
            let (from, to) = (self.label(&north.from), self.label(&north.to));
            self.row(
                "north",
                [
                    (Column::From, from),
                    (Column::To, to),
                    (Column::Reading, degrees.to_string()),
                    (Column::What, word(&north.kind)),
                    (Column::More, write_more(&more)),
                    (Column::Note, north.source.clone()),
                ],
            );
        }
    }

    fn measurement(&mut self, measurement: &Measurement) {
        match measurement {
            Measurement::Tie { from, to, reading, side, taped_to, how } => {
                let mut cells = vec![(Column::From, self.label(from)), (Column::To, self.label(to))];
                cells.extend(self.reading(reading));
                cells.extend(side.iter().flat_map(|side| self.side(side)));
                cells.extend(taken(how, &More { taped_to: *taped_to, ..More::of(how) }));
                self.row("tie", cells);
            }
            Measurement::Square { at, from, to } => {
                let cells = [
                    (Column::Points, self.label(at)),
                    (Column::From, self.label(from)),
                    (Column::To, self.label(to)),
                ];
                self.row("square", cells);
            }
            Measurement::InLine { points } => {
                let points = self.list(points);
                self.row("in_line", [(Column::Points, points)]);
            }
            Measurement::SideIs { point, side } => {
                let mut cells = vec![(Column::Points, self.label(point))];
                cells.extend(self.side(side));
                self.row("side", cells);
            }
            Measurement::Run { .. } | Measurement::Offsets { .. } | Measurement::Walk { .. } => {
                self.grouped(measurement);
            }
            _ => self.turned(measurement),
        }
    }

    fn grouped(&mut self, measurement: &Measurement) {
        self.group += 1;
        match measurement {
            Measurement::Run { zero, toward, readings, zero_unknown, how } => {
                for r in readings {
                    let more = More { zero_unknown: *zero_unknown, ..More::of(how) };
                    let mut cells = self.line(zero, toward, taken(how, &more));
                    cells.push((Column::Points, self.label(&r.point)));
                    cells.extend(self.reading(&r.reading));
                    self.row("run", cells);
                }
            }
            Measurement::Offsets { from, to, rows, how } => {
                for r in rows {
                    let mut cells = self.line(from, to, taken(how, &More::of(how)));
                    cells.push((Column::Points, self.label(&r.point)));
                    cells.extend(self.pair(&r.station, &r.offset));
                    cells.push((Column::Side, word(&r.side)));
                    self.row("offset", cells);
                }
            }
            Measurement::Walk { start, legs, how } => {
                let mut from = start;
                for leg in legs {
                    let mut cells = self.line(from, &leg.to, taken(how, &More::of(how)));
                    cells.extend(leg.length.iter().flat_map(|length| self.reading(length)));
                    cells.extend(leg.turn.map(|turn| (Column::Turn, word(&turn))));
                    self.row("walk", cells);
                    from = &leg.to;
                }
            }
            _ => {}
        }
    }

    fn line(&self, from: &PointId, to: &PointId, taken: Cells) -> Cells {
        let mut cells = vec![
            (Column::Group, self.group.to_string()),
            (Column::From, self.label(from)),
            (Column::To, self.label(to)),
        ];
        cells.extend(taken);
        cells
    }

    fn side(&self, side: &SideOf) -> Cells {
        vec![
            (Column::Side, word(&side.side)),
            (Column::SideFrom, self.label(&side.from)),
            (Column::SideTo, self.label(&side.to)),
        ]
    }

    pub(super) fn reading(&self, reading: &Reading) -> Cells {
        let telling = self.telling(reading);
        let mut cells = self.told_by(reading, telling, Column::Reading, Column::Metres);
        cells.extend(telling.filter(|bare| *bare != self.bare).map(|unit| (Column::Units, unit_word(unit))));
        cells
    }

    fn pair(&self, station: &Reading, offset: &Reading) -> Cells {
        let mut cells = self.reading(station);
        let row = self.telling(station).unwrap_or(self.bare);
        let telling = self.telling(offset);
        cells.extend(self.told_by(offset, telling, Column::Offset, Column::OffsetMetres));
        let own = telling.unwrap_or(self.bare);
        cells.extend((own != row).then(|| (Column::OffsetUnits, unit_word(own))));
        cells
    }

    /// The unit under which the words alone tell the length: the site's, else another, else none.
    fn telling(&self, reading: &Reading) -> Option<BareUnit> {
        let units = [self.bare, BareUnit::Feet, BareUnit::Inches, BareUnit::Metres, BareUnit::Millimetres];
        units.into_iter().find(|bare| read_length(&reading.text, *bare) == Ok(reading.value))
    }

    /// A reading's words, and its metres where the words do not tell them.
    fn told_by(&self, reading: &Reading, telling: Option<BareUnit>, words: Column, exact: Column) -> Cells {
        if telling.is_some() {
            return vec![(words, reading.text.clone())];
        }
        let value = reading.value.metres().to_string();
        match read_length(&reading.text, self.bare) {
            // Words that say another length than the book holds: the length counts, see `reading`.
            Ok(said) if reading::contradicts(said, reading.value) => vec![(words, format!("{value} m"))],
            _ => vec![(words, reading.text.clone()), (exact, value)],
        }
    }

    fn feature(&mut self, f: &Feature) {
        let points = self.list(&f.points);
        let mut more = attribute::write_all(&f.attributes, self.bare);
        more.extend(f.fate.map(|fate| ("fate".to_owned(), word(&fate))));
        more.extend(yes("curved", f.curved));
        more.extend(yes("told", f.told));
        self.row(
            "feature",
            [
                (Column::What, f.kind.clone()),
                (Column::Points, points),
                (Column::Name, f.name.clone()),
                (Column::More, write_more(&more)),
                (Column::Note, f.note.clone()),
            ],
        );
    }

    fn problem(&mut self, p: &Problem) {
        let mut more = attribute::write_all(&p.attributes, self.bare);
        if p.severity != Severity::default() {
            more.push(("severity".to_owned(), word(&p.severity)));
        }
        if !p.photos.is_empty() {
            more.push(("photos".to_owned(), write_list(p.photos.iter().map(|photo| photo.0.as_str()))));
        }
        more.extend(p.spread.map(|spread| ("spread".to_owned(), word(&spread))));
        more.extend(yes("told", p.told));
        let mut cells = self.at(&p.at);
        cells.push((Column::What, p.kind.clone()));
        cells.push((Column::More, write_more(&more)));
        cells.push((Column::Note, p.note.clone()));
        self.row("problem", cells);
    }

    fn at(&self, at: &At) -> Cells {
        match at {
            At::Points(points) => vec![(Column::Points, self.list(points))],
            At::Near(at) => {
                let (x, y) = at.metres();
                vec![(Column::X, x.to_string()), (Column::Y, y.to_string())]
            }
            At::Site => Vec::new(),
        }
    }

    fn text(self) -> String {
        let used: BTreeSet<Column> = self.rows.iter().flatten().map(|(column, _)| *column).collect();
        let mut writer = csv::Writer::from_writer(Vec::new());
        // Writing into memory does not fail, and every row has as many cells as the first.
        let mut put = |cells: Vec<String>| writer.write_record(cells).is_ok();
        put(used.iter().map(|column| column.name().to_owned()).collect());
        for row in &self.rows {
            let cell = |column: &Column| {
                row.iter().find(|(c, _)| c == column).map_or(String::new(), |(_, cell)| guard(cell))
            };
            put(used.iter().map(cell).collect());
        }
        writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
    }
}

fn unit_word(bare: BareUnit) -> String {
    let word = match bare {
        BareUnit::Feet => "ft",
        BareUnit::Inches => "in",
        BareUnit::Metres => "m",
        BareUnit::Millimetres => "mm",
    };
    word.to_owned()
}

/// How it was taken, as far as it is not the usual way.
pub(super) fn taken(how: &How, more: &More) -> Cells {
    let mut cells = Vec::new();
    if how.instrument != Instrument::default() {
        cells.push((Column::How, word(&how.instrument)));
    }
    if how.target != Target::default() {
        cells.push((Column::Target, word(&how.target)));
    }
    cells.extend(how.sd.map(|sd: Length| (Column::Sd, format!("{} m", sd.metres()))));
    cells.extend(more.cell());
    cells
}
