//! Tables by a strict reader, and what spreadsheets would compute.

use super::each;
use swingtie_core::book::fold;
use swingtie_core::exchange::csv::{Source, read, write};
use swingtie_core::levels::lay;
use swingtie_tests::hostile::{WORDS, book};

/// Rows and cells (RFC 4180) by the crate csv, which refuses rows of other lengths than the first.
fn rows(text: &str) -> Vec<Vec<String>> {
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(false).from_reader(text.as_bytes());
    let row = |row: Result<csv::StringRecord, _>| row.expect("a row").iter().map(str::to_owned).collect();
    reader.records().map(row).collect()
}

/// What OWASP (CSV Injection) lists as the beginnings of a formula, the full-width forms among them; a plain number
/// may begin with a sign.
#[test]
fn no_cell_begins_a_formula() {
    for name in ["points.csv", "measurements.csv"] {
        for text in each(name) {
            let rows = rows(text);
            let columns = rows[0].len();
            assert!(rows.len() > 9 && columns > 5, "{name}");
            for row in &rows {
                assert_eq!(row.len(), columns, "{name}: {row:?}");
                for cell in row.iter().filter(|cell| cell.parse::<f64>().is_err()) {
                    let risky = [
                        '=', '+', '-', '@', '\t', '\r', '\n', '\0', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}',
                        '\u{ff20}',
                    ];
                    assert!(!cell.starts_with(risky), "{name}: {cell:?} begins a formula");
                }
            }
        }
    }
}

/// What is written comes back whole: the guard is taken away again, and a table of the table is the same table.
#[test]
fn a_table_loses_no_word() {
    for first in 0..WORDS.len() {
        let mut fold = fold(&book(first));
        lay(&mut fold.record);
        let (text, record) = (write(&fold.record), &fold.record);
        let source = Source { id_prefix: "r".to_owned(), author: "a".into(), at_ms: 0 };
        let back = read(&text, &source).unwrap_or_else(|errors| panic!("{first}: {errors:?}"));
        let back = swingtie_core::book::fold(&back.book).record;
        let trimmed = |text: &str| text.trim().to_owned();
        assert_eq!((&back.site.name, &back.site.note), (&record.site.name, &record.site.note));
        assert_eq!(trimmed(&back.site.client), trimmed(&record.site.client));
        let notes =
            |r: &swingtie_core::record::Record| r.points.iter().map(|p| p.note.clone()).collect::<Vec<_>>();
        assert_eq!(notes(&back), notes(record));
        let features = |r: &swingtie_core::record::Record| {
            r.features
                .iter()
                .map(|f| {
                    (f.what.kind.clone(), f.what.name.clone(), f.what.note.clone(), f.what.attributes.clone())
                })
                .collect::<Vec<_>>()
        };
        assert_eq!(features(&back), features(record), "{first}");
        let problems = |r: &swingtie_core::record::Record| {
            r.problems
                .iter()
                .map(|p| {
                    (
                        p.what.kind.clone(),
                        p.what.note.clone(),
                        p.what.attributes.clone(),
                        p.what.photos.clone(),
                    )
                })
                .collect::<Vec<_>>()
        };
        assert_eq!(problems(&back), problems(record), "{first}");
        let marks = |r: &swingtie_core::record::Record| {
            r.marks
                .iter()
                .map(|m| (m.what.letters.clone(), m.what.note.clone(), m.what.attributes.clone()))
                .collect::<Vec<_>>()
        };
        assert_eq!(marks(&back), marks(record), "{first}");
        let told = |r: &swingtie_core::record::Record| {
            r.notes()
                .into_iter()
                .map(|n| (n.what.topic, n.what.text, n.what.when, n.what.settles))
                .collect::<Vec<_>>()
        };
        assert_eq!(told(&back), told(record), "{first}");
        assert_eq!(write(&back), text, "{first}: written again");
    }
}
