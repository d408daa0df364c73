//! What is wrong with a cell, as a sentence with a suggestion.

use crate::units::{ReadAngleError, ReadLengthError};

/// Something about one cell: an error that stops the import, or a remark that does not.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", say!("line {line}, column {column}: {}", trouble.to_string()))]
pub struct CellError {
    /// The line of the file, from 1.
    pub line: u64,
    /// The column's name.
    pub column: String,
    /// What is wrong.
    pub trouble: Trouble,
}

/// What is wrong with a cell.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Trouble {
    /// No row at all.
    #[error("{}", say!("there is nothing here: the first row names the columns, each further row is one reading"))]
    Empty,
    /// The text is no CSV.
    #[error("{}", say!("this is no CSV text: {why}"))]
    NotCsv {
        /// The reader's words.
        why: String,
    },
    /// The first row does not name the columns.
    #[error("{}", say!("the first row must name the columns, and one of them must be \"kind\"; try: kind,from,to,points,reading,offset,side"))]
    NoHeader,
    /// A remark: a column nobody reads.
    #[error("{}", say!("this column is not one of those read, so it was passed over"))]
    ColumnPassedOver,
    /// A remark: a cell that this kind of row has no use for.
    #[error("{}", say!("\"{text}\" was passed over: a {kind} row has no {column}"))]
    CellPassedOver {
        /// What stands there.
        text: String,
        /// The row's kind.
        kind: String,
        /// The column.
        column: String,
    },
    /// A word that is none of those known here.
    #[error("{}", say!("\"{word}\" is not known here: {}", suggestion(word, known)))]
    UnknownWord {
        /// As written.
        word: String,
        /// The words known.
        known: Vec<&'static str>,
    },
    /// A cell that must not be empty.
    #[error("{}", say!("this is missing: {wanted}"))]
    Missing {
        /// What belongs there.
        wanted: &'static str,
    },
    /// A reading that cannot be read.
    #[error("{0}")]
    Length(#[from] ReadLengthError),
    /// An angle that cannot be read.
    #[error("{0}")]
    Angle(#[from] ReadAngleError),
    /// A reading the spreadsheet turned into a date.
    #[error("{}", say!("\"{text}\" looks like a date your spreadsheet made of the reading: format the column as text and type it again, such as 12' 6\""))]
    Date {
        /// As written.
        text: String,
    },
    /// A length that must be above nothing.
    #[error("{}", say!("{text} is not more than nothing: a length between two points is"))]
    NotPositive {
        /// As written.
        text: String,
    },
    /// A negative offset.
    #[error("{}", say!("{text} is negative: write the offset without the minus and the other side"))]
    NegativeOffset {
        /// As written.
        text: String,
    },
    /// A plain number was wanted.
    #[error("{}", say!("\"{text}\" is no plain number, such as 3.25 or -97.002"))]
    NotNumber {
        /// As written.
        text: String,
    },
    /// A number out of its range.
    #[error("{}", say!("{text} is out of range: {range}"))]
    OutOfRange {
        /// As written.
        text: String,
        /// What is possible.
        range: &'static str,
    },
    /// Reading and metres say different lengths.
    #[error("{}", say!("the reading says {reading} m, this says {metres} m: correct the reading and empty this cell, or the other way round"))]
    Disagree {
        /// What the reading means in metres.
        reading: String,
        /// What the metres column says.
        metres: String,
    },
    /// Points that must differ are the same.
    #[error("{}", say!("{label} stands here twice: {wanted}"))]
    SamePoint {
        /// The label.
        label: String,
        /// What is wanted.
        wanted: &'static str,
    },
    /// Another number of points was wanted.
    #[error("{}", say!("{count} points are named, but {wanted}"))]
    PointCount {
        /// How many.
        count: usize,
        /// What is wanted.
        wanted: &'static str,
    },
    /// The row cannot be written into a book.
    #[error("{}", say!("this row cannot be kept: {why}"))]
    NotKept {
        /// Why.
        why: String,
    },
}

/// The nearest known word, else all of them.
fn suggestion(word: &str, known: &[&str]) -> String {
    let nearest = known.iter().map(|k| (distance(word, k), *k)).min();
    match nearest {
        Some((steps, nearest)) if steps <= 2 && steps < nearest.chars().count() => {
            say!("did you mean {nearest}?")
        }
        _ => say!("write one of {}", known.join(", ")),
    }
}

/// How many letters must change to make one word of the other (Levenshtein's distance).
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut before: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut now = vec![i + 1];
        let mut diagonal_and_up = before.windows(2);
        for y in &b {
            let (diagonal, up) = match diagonal_and_up.next() {
                Some([diagonal, up]) => (*diagonal, *up),
                _ => (0, 0),
            };
            let left = now.last().copied().unwrap_or(0);
            now.push((diagonal + usize::from(x != *y)).min(up + 1).min(left + 1));
        }
        before = now;
    }
    before.last().copied().unwrap_or(0)
}
