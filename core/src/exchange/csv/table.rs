//! From text to rows with named columns.

use super::cells::unguard;
use super::{CellError, Trouble};

macro_rules! columns {
    ($($name:ident = $text:literal),* $(,)?) => {
        /// A column that is read and written.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub(super) enum Column { $($name),* }
        impl Column {
            /// In the order they are written.
            pub(super) const ALL: &[Self] = &[$(Self::$name),*];
            pub(super) const fn name(self) -> &'static str {
                match self { $(Self::$name => $text),* }
            }
        }
    };
}
columns! {
    Kind = "kind", Group = "group", From = "from", To = "to", Points = "points", Reading = "reading",
    Offset = "offset", Side = "side", SideFrom = "side_from", SideTo = "side_to", Turn = "turn",
    How = "how", Target = "target", Sd = "sd", What = "what", Name = "name", X = "x_m", Y = "y_m",
    Kept = "kept", More = "more", Note = "note", Units = "units", OffsetUnits = "offset_units", Metres = "metres", OffsetMetres = "offset_metres",
}

impl Column {
    fn named(text: &str) -> Option<Self> {
        let text = super::cells::normal(text);
        match text.as_str() {
            "point" | "label" => Some(Self::Points),
            "length" | "distance" | "station" => Some(Self::Reading),
            "notes" => Some(Self::Note),
            text => Self::ALL.iter().copied().find(|column| column.name() == text),
        }
    }
}

/// One row.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// The line it begins on, from 1.
    pub(super) line: u64,
    cells: Vec<(Column, String)>,
}

impl Row {
    /// A cell; empty when the column is missing. Names and notes are as written, the rest trimmed.
    pub(super) fn get(&self, column: Column) -> &str {
        let cell = self.cells.iter().find(|(c, _)| *c == column).map_or("", |(_, cell)| cell);
        match column {
            Column::Name | Column::Note => cell,
            _ => cell.trim(),
        }
    }
    pub(super) fn error(&self, column: Column, trouble: Trouble) -> CellError {
        CellError { line: self.line, column: column.name().to_owned(), trouble }
    }
}

/// Splits the text into rows. The first row that is not empty names the columns.
pub(super) fn rows(text: &str) -> Result<(Vec<Row>, Vec<CellError>), Vec<CellError>> {
    let text = text.trim_start_matches('\u{feff}');
    let fault = |line, column: &str, trouble| CellError { line, column: column.to_owned(), trouble };
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter(text))
        .from_reader(text.as_bytes());
    let (mut header, mut rows, mut remarks) = (None::<Vec<Option<Column>>>, Vec::new(), Vec::new());
    let mut lines = Lines { text: text.as_bytes(), byte: 0, line: 1 };
    for record in reader.records() {
        let record = record.map_err(|error| {
            let line = lines.at(error.position().map_or(0, csv::Position::byte));
            vec![fault(line, "kind", Trouble::NotCsv { why: error.to_string() })]
        })?;
        let line = lines.at(record.position().map_or(0, csv::Position::byte));
        let blank = record.iter().all(|cell| cell.trim().is_empty());
        // A spreadsheet's own hint about the delimiter.
        let hint = record.get(0).is_some_and(|cell| cell.trim().to_ascii_lowercase().starts_with("sep="));
        if blank || (hint && header.is_none()) {
            continue;
        }
        let Some(columns) = &header else {
            let columns: Vec<_> = record.iter().map(Column::named).collect();
            if !columns.contains(&Some(Column::Kind)) {
                return Err(vec![fault(line, "kind", Trouble::NoHeader)]);
            }
            for (name, column) in record.iter().zip(&columns) {
                if column.is_none() && !name.trim().is_empty() {
                    remarks.push(fault(line, name.trim(), Trouble::ColumnPassedOver));
                }
            }
            header = Some(columns);
            continue;
        };
        let cells = columns.iter().zip(record.iter());
        let cells = cells.filter_map(|(column, cell)| Some(((*column)?, unguard(cell).to_owned())));
        let mut row = Row { line, cells: cells.collect() };
        // Of two columns of one name the first that holds something counts.
        row.cells.retain(|(_, cell)| !cell.is_empty());
        if !row.get(Column::Kind).starts_with('#') {
            rows.push(row);
        }
    }
    if header.is_none() {
        return Err(vec![fault(1, "kind", Trouble::Empty)]);
    }
    Ok((rows, remarks))
}

/// The delimiter: whichever the line that names the columns has most of.
fn delimiter(text: &str) -> u8 {
    let header = text.lines().find(|line| line.to_ascii_lowercase().contains("kind")).unwrap_or("");
    let count = |delimiter: char| header.matches(delimiter).count();
    [(',', b','), (';', b';'), ('\t', b'\t')]
        .into_iter()
        .rev()
        .max_by_key(|(c, _)| count(*c))
        .map_or(b',', |(_, byte)| byte)
}

/// Counts lines. The CSV reader's own count is one short after a carriage return and blind to the
/// empty lines it skips.
struct Lines<'a> {
    text: &'a [u8],
    byte: usize,
    line: u64,
}

impl Lines<'_> {
    /// The line of the first character of a record that is said to begin here, or after the line
    /// ends that stand here. Asked in rising order.
    fn at(&mut self, byte: u64) -> u64 {
        let from = usize::try_from(byte).unwrap_or(usize::MAX);
        while let Some(c) = self.text.get(self.byte) {
            let line_end = matches!(c, b'\n' | b'\r');
            if self.byte >= from && !line_end {
                break;
            }
            let pair = *c == b'\r' && self.text.get(self.byte + 1) == Some(&b'\n');
            self.line += u64::from(line_end && !pair);
            self.byte += 1;
        }
        self.line
    }
}
