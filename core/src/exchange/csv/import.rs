//! From rows to a book: which statement each row makes.

use super::cells::{normal, read_list, read_more};
use super::table::{Column, Row, rows};
use super::{CellError, Import, KINDS, Source, Trouble, used};
use crate::book::{Book, Entry};
use crate::record::{EntryId, Measurement, Point, PointId, SideOf, Site, Statement};
use crate::units::{BareUnit, Length, UnitSystem};
use std::collections::BTreeMap;

/// Reads a table of measurements into a book, one entry a measurement.
///
/// Ids follow from `source` and the line, logical times are the lines, so the same text gives the
/// same book everywhere. The columns are described in [`super::COLUMNS`].
///
/// # Errors
/// Every cell that cannot be understood, each with line, column and a suggestion; then no book is
/// made, because half a survey looks like a whole one.
pub fn read(text: &str, source: &Source) -> Result<Import, Vec<CellError>> {
    let (rows, remarks) = rows(text)?;
    let mut reader = Reader { source, remarks, ..Reader::new(source) };
    // The site's units hold for every row, wherever the site row stands.
    if let Some(site) = rows.iter().find(|row| normal(row.get(Column::Kind)) == "site") {
        reader.units = reader.site_units(site).unwrap_or_default();
    }
    for row in &rows {
        reader.row(row);
    }
    reader.close();
    if reader.errors.is_empty() {
        Ok(Import { book: reader.book, remarks: reader.remarks })
    } else {
        Err(reader.errors)
    }
}

pub(super) struct Reader<'a> {
    source: &'a Source,
    book: Book,
    pub(super) errors: Vec<CellError>,
    pub(super) remarks: Vec<CellError>,
    pub(super) units: UnitSystem,
    labels: BTreeMap<String, PointId>,
    /// How many points the present line brought in.
    fresh: (u64, usize),
    pub(super) open: Option<super::group::Group>,
    /// The first reading of each set-up, by the name of its group.
    setups: BTreeMap<String, EntryId>,
}

impl<'a> Reader<'a> {
    fn new(source: &'a Source) -> Self {
        Self {
            source,
            book: Book::new(),
            errors: Vec::new(),
            remarks: Vec::new(),
            units: UnitSystem::default(),
            labels: BTreeMap::new(),
            fresh: (0, 0),
            open: None,
            setups: BTreeMap::new(),
        }
    }

    fn row(&mut self, row: &Row) {
        let kind = match normal(row.get(Column::Kind)).as_str() {
            "" => {
                return self.fault(
                    row,
                    Column::Kind,
                    Trouble::Missing { wanted: "what the row says, such as tie" },
                );
            }
            "offsets" => "offset".to_owned(),
            "running" => "run".to_owned(),
            "inline" => "in_line".to_owned(),
            kind => kind.to_owned(),
        };
        if !KINDS.contains(&kind.as_str()) {
            return self.fault(row, Column::Kind, Trouble::UnknownWord { word: kind, known: KINDS.to_vec() });
        }
        self.remark_unused(row, &kind);
        if matches!(kind.as_str(), "run" | "offset" | "walk") {
            return self.grouped(row, &kind);
        }
        self.close();
        let statement = match kind.as_str() {
            "site" => self.site(row).map(Statement::Site),
            "point" => self.named_point(row),
            "feature" => self.feature(row).map(Statement::Feature),
            "problem" => self.problem(row).map(Statement::Problem),
            "mark" => self.mark(row).map(Statement::Mark),
            "photo" => self.photo(row).map(Statement::Photo),
            "level" => self.level(row).map(Statement::Level),
            "bench_mark" => self.bench_mark(row).map(Statement::BenchMark),
            "note" => self.note(row).map(|note| Statement::Note(note.into())),
            "sketch" => self.sketch(row),
            "anchor" => self.anchor(row).map(Statement::Anchor),
            "second_anchor" => self.anchor(row).map(Statement::SecondAnchor),
            "north" => self.north(row).map(Statement::North),
            kind => self.relation(row, kind).map(Statement::Measure),
        };
        if let Some(statement) = statement {
            let measured = matches!(statement, Statement::Measure(_));
            self.say(row.line, statement);
            if measured {
                self.keep(row, row.line, 0);
            }
        }
    }

    /// Keeps what the row says was kept: the reading it holds, the given part of the measurement that
    /// begins on this line, or other parts by their number.
    pub(super) fn keep(&mut self, row: &Row, line: u64, part: usize) {
        for word in row.get(Column::Kept).split_whitespace() {
            let part = match normal(word).as_str() {
                "yes" => Some(part),
                number => number.parse().ok(),
            };
            let Some(part) = part else {
                let trouble = Trouble::UnknownWord { word: word.to_owned(), known: vec!["yes"] };
                self.fault(row, Column::Kept, trouble);
                continue;
            };
            let id = format!("{}{:05}-kept-{part:03}", self.source.id_prefix, row.line);
            let entry = self.entry_of(line);
            self.enter(row.line, id, Statement::Keep { entry, part, why: String::new() });
        }
    }

    /// The set-up of this name; none for its first row, which starts it.
    pub(super) fn setup_of(&mut self, group: String, line: u64) -> Option<EntryId> {
        let first = self.entry_of(line);
        let known = self.setups.get(&group).cloned();
        if known.is_none() {
            self.setups.insert(group, first);
        }
        known
    }

    /// What the measurement that begins on this line is called in the book.
    fn entry_of(&self, line: u64) -> EntryId {
        EntryId(format!("{}{line:05}", self.source.id_prefix))
    }

    fn remark_unused(&mut self, row: &Row, kind: &str) {
        for column in Column::ALL {
            let text = row.get(*column);
            if !text.is_empty() && *column != Column::Kind && !used(kind).contains(column) {
                let (text, kind, column_name) = (text.to_owned(), kind.to_owned(), column.name().to_owned());
                let trouble = Trouble::CellPassedOver { text, kind, column: column_name };
                self.remarks.push(row.error(*column, trouble));
            }
        }
    }

    pub(super) fn fault(&mut self, row: &Row, column: Column, trouble: Trouble) {
        self.errors.push(row.error(column, trouble));
    }

    /// Puts a statement into the book.
    pub(super) fn say(&mut self, line: u64, statement: Statement) {
        self.enter(line, self.entry_of(line).0, statement);
    }

    fn enter(&mut self, line: u64, id: String, statement: Statement) {
        let author = self.source.author.clone();
        let kept = Entry::new(EntryId(id), line, self.source.at_ms, author, statement)
            .map_err(|error| error.to_string())
            .and_then(|entry| self.book.add(entry).map_err(|clash| clash.to_string()));
        if let Err(why) = kept {
            let column = Column::Kind.name().to_owned();
            self.errors.push(CellError { line, column, trouble: Trouble::NotKept { why } });
        }
    }

    pub(super) fn known_point(&self, label: &str) -> Option<PointId> {
        self.labels.get(&label.to_ascii_lowercase()).cloned()
    }

    /// The point of this label, made when it is new.
    fn point_of(&mut self, row: &Row, label: &str, note: &str) -> PointId {
        if let Some(known) = self.known_point(label) {
            return known;
        }
        self.fresh = if self.fresh.0 == row.line { (row.line, self.fresh.1 + 1) } else { (row.line, 1) };
        let id = format!("{}{:05}-{:03}", self.source.id_prefix, row.line, self.fresh.1);
        let point = PointId(id.clone());
        let said = Point { id: point.clone(), label: label.to_owned(), note: note.to_owned() };
        self.enter(row.line, id, Statement::Point(said));
        self.labels.insert(label.to_ascii_lowercase(), point.clone());
        point
    }

    /// The point a cell names.
    pub(super) fn point(&mut self, row: &Row, column: Column) -> Option<PointId> {
        let label = row.get(column);
        if label.is_empty() {
            self.fault(row, column, Trouble::Missing { wanted: "the label of a point" });
            return None;
        }
        Some(self.point_of(row, label, ""))
    }

    /// Two points that must differ.
    pub(super) fn two(&mut self, row: &Row, a: Column, b: Column) -> Option<(PointId, PointId)> {
        let (first, second) = (self.point(row, a), self.point(row, b));
        let (first, second) = (first?, second?);
        if first == second {
            let label = row.get(b).to_owned();
            self.fault(row, b, Trouble::SamePoint { label, wanted: "two different points make a line" });
            return None;
        }
        Some((first, second))
    }

    pub(super) fn points(&mut self, row: &Row, least: usize, wanted: &'static str) -> Option<Vec<PointId>> {
        let labels = read_list(row.get(Column::Points));
        if labels.len() < least {
            let trouble = match labels.len() {
                0 => Trouble::Missing { wanted },
                count => Trouble::PointCount { count, wanted },
            };
            self.fault(row, Column::Points, trouble);
            return None;
        }
        Some(labels.iter().map(|label| self.point_of(row, label, "")).collect())
    }

    pub(super) fn more(row: &Row) -> BTreeMap<String, String> {
        read_more(row.get(Column::More)).into_iter().collect()
    }

    fn site_units(&mut self, row: &Row) -> Option<UnitSystem> {
        Some(match normal(row.get(Column::Units)).as_str() {
            "" | "feet_inches" | "ft_in" | "ft" | "feet" => UnitSystem::FeetInches,
            "decimal_feet" => UnitSystem::DecimalFeet,
            "metres" | "meters" | "m" | "metric" => UnitSystem::Metres,
            _ => return None,
        })
    }

    fn site(&mut self, row: &Row) -> Option<Site> {
        let Some(units) = self.site_units(row) else {
            let word = row.get(Column::Units).to_owned();
            let known = vec!["feet_inches", "decimal_feet", "metres"];
            self.fault(row, Column::Units, Trouble::UnknownWord { word, known });
            return None;
        };
        let mut more = Self::more(row);
        let mut take = |key| more.remove(key).unwrap_or_default();
        Some(Site {
            name: row.get(Column::Name).to_owned(),
            client: take("client"),
            surveyor: take("surveyor"),
            units,
            date: take("date"),
            note: row.get(Column::Note).to_owned(),
        })
    }

    fn named_point(&mut self, row: &Row) -> Option<Statement> {
        let label = row.get(Column::Points);
        if label.is_empty() {
            self.point(row, Column::Points)?;
        }
        let note = row.get(Column::Note);
        match self.known_point(label) {
            // Already named by a row above: said again, with its note.
            Some(id) => Some(Statement::Point(Point { id, label: label.to_owned(), note: note.to_owned() })),
            None => {
                self.point_of(row, label, note);
                None
            }
        }
    }

    /// Ties, sides, squares and lines.
    fn relation(&mut self, row: &Row, kind: &str) -> Option<Measurement> {
        match kind {
            "tie" => {
                let (ends, how, side) =
                    (self.two(row, Column::From, Column::To), self.how(row), self.side_of(row, false));
                let (reading, how) = (self.distance(row), how?);
                let (taped_to, (from, to)) = (self.taken(row)?.taped_to, ends?);
                Some(Measurement::Tie { from, to, reading: reading?, side: side?, taped_to, how })
            }
            "square" => {
                let (at, ends) = (self.point(row, Column::Points), self.two(row, Column::From, Column::To));
                let (at, (from, to)) = (at?, ends?);
                if at == from || at == to {
                    let label = row.get(Column::Points).to_owned();
                    let wanted = "the corner and the ends of its two legs are three points";
                    self.fault(row, Column::Points, Trouble::SamePoint { label, wanted });
                    return None;
                }
                Some(Measurement::Square { at, from, to })
            }
            "in_line" => {
                let points = self.points(row, 3, "three points or more make a statement about a line")?;
                Some(Measurement::InLine { points })
            }
            "side" => {
                let (point, side) = (self.point(row, Column::Points), self.side_of(row, true));
                Some(Measurement::SideIs { point: point?, side: side?? })
            }
            kind => self.turned(row, kind),
        }
    }

    /// The side, with its line; all three cells or none.
    fn side_of(&mut self, row: &Row, needed: bool) -> Option<Option<SideOf>> {
        let given = [Column::Side, Column::SideFrom, Column::SideTo].iter().any(|c| !row.get(*c).is_empty());
        if !given && !needed {
            return Some(None);
        }
        let (side, line) = (self.side(row), self.two(row, Column::SideFrom, Column::SideTo));
        let (from, to) = line?;
        Some(Some(SideOf { from, to, side: side? }))
    }

    pub(super) fn number(&mut self, row: &Row, column: Column) -> Option<f64> {
        self.parse(row, column, row.get(column))
    }

    pub(super) fn parse(&mut self, row: &Row, column: Column, text: &str) -> Option<f64> {
        let number = text.trim().trim_end_matches('°').parse().ok().filter(|n: &f64| n.is_finite());
        if number.is_none() {
            self.fault(row, column, Trouble::NotNumber { text: text.to_owned() });
        }
        number
    }

    pub(super) const fn bare_of_site(&self) -> BareUnit {
        match self.units {
            UnitSystem::FeetInches | UnitSystem::DecimalFeet => BareUnit::Feet,
            UnitSystem::Metres => BareUnit::Metres,
        }
    }

    pub(super) fn length(&mut self, row: &Row, column: Column, text: &str, bare: BareUnit) -> Option<Length> {
        match crate::units::read_length(text, bare) {
            Ok(length) => Some(length),
            Err(error) => {
                let trouble = super::reading::trouble(text, error);
                self.fault(row, column, trouble);
                None
            }
        }
    }
}
