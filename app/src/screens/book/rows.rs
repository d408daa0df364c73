//! What the book shows of each entry, as plain data.

use crate::words::{self, Judge, Names, Verdict};
use swingtie_core::book::{Book, Fold, Standing};
use swingtie_core::levels::heights;
use swingtie_core::network::Adjustment;
use swingtie_core::record::{AuthorId, EntryId, PointId, Statement};

/// One entry as the list shows it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Row {
    /// The entry.
    pub id: EntryId,
    /// Its number in the book, from 1.
    pub number: usize,
    /// What it says.
    pub words: String,
    /// By whom, where it is somebody else and that was said.
    pub by: Option<String>,
    /// How it was withdrawn, in words; none when it counts.
    pub withdrawn: Option<&'static str>,
    /// What the other readings say, with its sign.
    pub verdict: Option<(&'static str, String)>,
    /// Whether it is a measurement.
    pub reading: bool,
    /// Whether it should be looked at.
    pub doubt: bool,
    /// Whether nothing proves it, or next to nothing.
    pub unchecked: bool,
    /// The points it speaks of.
    pub points: Vec<PointId>,
}

/// Which rows are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Show {
    /// All of them.
    All,
    /// Measurements.
    Readings,
    /// What does not agree, and what was not understood.
    Doubts,
    /// What nothing checks yet, or hardly.
    Unchecked,
    /// No entries: the points they speak of, in words.
    Points,
    /// What was written since the site was sent or saved last; which those are, the screen knows.
    Unsent,
    /// What the last package brought; likewise.
    Came,
}

impl Show {
    /// Whether it takes this row.
    pub fn takes(self, row: &Row) -> bool {
        match self {
            Self::All | Self::Unsent | Self::Came => true,
            Self::Readings => row.reading,
            Self::Doubts => row.doubt,
            Self::Unchecked => row.unchecked,
            Self::Points => false,
        }
    }
}

/// Every entry in book order, for who reads it on the device of `me`.
pub fn rows(book: &Book, fold: &Fold, adjustment: &Adjustment, me: &AuthorId) -> Vec<Row> {
    let names = Names::new(book, &fold.record);
    let units = fold.record.site.units;
    let levels = heights(&fold.record);
    let judge = Judge::of(adjustment);
    // Of a reading written anew, the height stands where its words stand now.
    let level_verdict = |entry: &swingtie_core::book::Entry| {
        let first = match entry.statement()? {
            Statement::Level(_) => &entry.id,
            Statement::Correct { entry: first, .. } => match fold.standing.get(first)? {
                Standing::Corrected { by } if *by == entry.id => first,
                _ => return None,
            },
            _ => return None,
        };
        let counts = fold.standing.get(&entry.id) == Some(&Standing::Stands);
        counts.then(|| words::levels::verdict(first, &levels, &fold.record)).flatten()
    };
    let row = |(number, entry): (usize, &swingtie_core::book::Entry)| {
        let standing = fold.standing.get(&entry.id);
        // What was written anew is judged where its words stand now.
        let verdict = match (standing, entry.statement()) {
            (Some(Standing::Stands), Some(Statement::Correct { entry: first, .. })) => {
                match fold.standing.get(first) {
                    Some(Standing::Corrected { by }) if *by == entry.id => judge.verdict(first),
                    _ => Verdict::NoReading,
                }
            }
            (Some(Standing::Stands), _) => judge.verdict(&entry.id),
            _ => Verdict::NoReading,
        };
        let doubt = verdict.in_doubt() || standing == Some(&Standing::NotUnderstood);
        Row {
            id: entry.id.clone(),
            number,
            words: words::sentence(entry, book, &names),
            by: (entry.author != *me && fold.record.called(&entry.author).is_some())
                .then(|| words::package::by_whom(&fold.record, &entry.author, me)),
            withdrawn: match standing {
                Some(Standing::Struck { .. }) => Some(words::STRUCK),
                Some(Standing::Corrected { .. }) => Some(words::CORRECTED),
                _ => None,
            },
            verdict: words::verdict_words(verdict, units).or_else(|| level_verdict(entry)),
            reading: matches!(entry.statement(), Some(Statement::Measure(_) | Statement::Level(_))),
            doubt,
            unchecked: verdict.unchecked(),
            points: entry.statement().map(Statement::points).unwrap_or_default(),
        }
    };
    (1..).zip(book.entries()).map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::book::{Entry, fold};
    use swingtie_core::network::adjust;
    use swingtie_core::record::{How, Measurement, Point, Reading, TapedTo, UnitSystem};

    #[test]
    fn a_struck_entry_stays_in_its_place_and_says_so() {
        let mut book = Book::new();
        let point = Point { id: "p".into(), label: "H1".to_owned(), note: String::new() };
        let strike = Statement::Strike { entry: "p".into(), why: String::new() };
        for (id, clock, said) in [("p", 1, Statement::Point(point)), ("s", 2, strike)] {
            book.add(Entry::new(id.into(), clock, 0, "a".into(), said).unwrap()).unwrap();
        }
        let rows = rows(&book, &fold(&book), &Adjustment::default(), &"a".into());
        let words: Vec<_> = rows.iter().map(|row| (row.words.as_str(), row.withdrawn)).collect();
        assert_eq!(words, [("Point H1", Some("struck")), ("Struck: Point H1", None)]);
    }
    #[test]
    fn the_words_in_force_are_judged_not_those_they_replaced() {
        let tie = |text| {
            let reading = Reading::read(text, UnitSystem::FeetInches.into()).unwrap();
            let (from, to, how) = ("A".into(), "B".into(), How::default());
            Statement::Measure(Measurement::Tie {
                from,
                to,
                reading,
                side: None,
                taped_to: TapedTo::Middle,
                how,
            })
        };
        let now = Box::new(tie("12'"));
        let mut book = Book::new();
        for (id, clock, said) in
            [("t", 1, tie("21'")), ("c", 2, Statement::Correct { entry: "t".into(), now })]
        {
            book.add(Entry::new(id.into(), clock, 0, "a".into(), said).unwrap()).unwrap();
        }
        let fold = fold(&book);
        let rows = rows(&book, &fold, &adjust(&fold.record), &"a".into());
        let judged: Vec<_> = rows.iter().map(|row| (row.verdict.is_some(), row.unchecked)).collect();
        assert_eq!(judged, [(false, false), (true, true)]);
    }
}
