//! A book that grows entry by entry, or by another that is merged, has the fold of the whole: over random histories of
//! two authors, in which entries also come in late and strike, rewrite and keep what stands anywhere.

use super::*;
use crate::record::{How, Measurement, Note, Photo, PhotoId, Point, Reading, Statement, TapedTo};
use crate::units::Length;
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use std::cell::Cell;

const HISTORIES: u32 = 3_000;

/// One entry: who writes it, how many entries of the book were not seen, what it does to which.
type Step = (bool, u64, Act, usize);

#[derive(Clone, Copy, Debug)]
enum Act {
    Point,
    Tie,
    Photo,
    Note,
    Author,
    Rewrite,
    Strike,
    Keep,
    Newer,
}

fn step() -> impl Strategy<Value = Step> {
    let act = prop_oneof![
        3 => Just(Act::Point),
        6 => Just(Act::Tie),
        2 => Just(Act::Photo),
        1 => Just(Act::Note),
        1 => Just(Act::Author),
        6 => Just(Act::Rewrite),
        2 => Just(Act::Strike),
        2 => Just(Act::Keep),
        1 => Just(Act::Newer),
    ];
    // Mostly the last entry is seen.
    let late = prop_oneof![6 => Just(0), 1 => 1..4_u64];
    (prop::bool::weighted(0.2), late, act, any::<usize>())
}

fn tie(n: usize) -> Statement {
    let text = n.to_string();
    #[expect(clippy::cast_precision_loss, reason = "a few dozen")]
    let value = Length::from_metres(n as f64);
    Statement::Measure(Measurement::Tie {
        from: "A".into(),
        to: "B".into(),
        reading: Reading { text, value },
        side: None,
        taped_to: TapedTo::Middle,
        how: How::default(),
    })
}

fn point(n: usize) -> Statement {
    // Some points are said twice.
    Statement::Point(Point {
        id: format!("p{}", n % 5).as_str().into(),
        label: format!("P{n}"),
        note: String::new(),
    })
}

fn written(steps: &[Step]) -> Vec<Entry> {
    let mut book = Book::new();
    let mut all = Vec::new();
    for (n, (other, late, act, pick)) in steps.iter().enumerate() {
        let known: Vec<&Entry> = book.entries().collect();
        let target =
            |count: usize| known.get(pick % count.max(1)).map(|entry| (entry.id.clone(), entry.statement()));
        let any = target(known.len());
        let said = match (act, any) {
            (Act::Rewrite, Some((entry, Some(old)))) => {
                // Sometimes of another sort, which is objected to.
                let same = matches!(old, Statement::Measure(_)) || n.is_multiple_of(3);
                Statement::Correct { entry, now: Box::new(if same { tie(n) } else { point(n) }) }
            }
            (Act::Strike, Some((entry, _))) => Statement::Strike { entry, why: String::new() },
            (Act::Keep, Some((entry, _))) => Statement::Keep { entry, part: n % 2, why: String::new() },
            (Act::Point, _) => point(n),
            (Act::Photo, _) => {
                Statement::Photo(Photo::new(PhotoId(format!("f{n}")), "image/jpeg".to_owned(), 1))
            }
            (Act::Note, _) => Statement::Note(Note::default().into()),
            (Act::Author, _) => Statement::Author { name: format!("N{n}") },
            _ => tie(n),
        };
        let clock = book.next_clock().saturating_sub(*late).max(1);
        let author = if *other { "b" } else { "a" };
        // Ids in another order than time.
        let id = format!("{}-{n}", (n * 7) % 10);
        let entry = if matches!(act, Act::Newer) {
            let line = format!(
                r#"{{"id":"{id}","clock":{clock},"at_ms":0,"author":"{author}","say":{{"smell":{n}}}}}"#
            );
            Entry::from_line(&line).unwrap()
        } else {
            Entry::new(id.as_str().into(), clock, 0, author.into(), said).unwrap()
        };
        book.add(entry.clone()).unwrap();
        all.push(entry);
    }
    all
}

fn of(entries: &[Entry]) -> Book {
    let mut book = Book::new();
    for entry in entries {
        book.add(entry.clone()).unwrap();
    }
    book
}

#[test]
fn a_book_that_grows_has_the_fold_of_the_whole() {
    let mut runner = TestRunner::new(ProptestConfig {
        cases: HISTORIES,
        failure_persistence: None,
        ..ProptestConfig::default()
    });
    let (still, quick) = (Cell::new(0), Cell::new(0));
    let outcome = runner.run(&(prop::collection::vec(step(), 1..30), any::<usize>()), |(steps, cut)| {
        let all = written(&steps);
        let (mut book, mut before) = (Book::new(), Fold::default());
        for entry in &all {
            book.add(entry.clone()).unwrap();
            // Worked out by others, and no part of what a book says.
            before.record.heights.insert("A".into(), Length::from_metres(1.0));
            let quickly = super::grow::is_taken_last(&before, &book);
            let grown = fold_on(before, &book);
            assert_eq!(grown.fold, fold(&book), "after {}", entry.line());
            quick.set(quick.get() + usize::from(quickly));
            still.set(still.get() + usize::from(!grown.moves));
            before = grown.fold;
        }
        // Several at once, and a book that is merged.
        let (first, rest) = all.split_at(cut % (all.len() + 1));
        assert_eq!(fold_on(fold(&of(first)), &book).fold, before);
        assert_eq!(fold_on(fold(&of(rest)), &book).fold, before);
        Ok(())
    });
    outcome.unwrap_or_else(|failed| panic!("{failed}"));
    // Else it would have compared the whole fold with itself.
    assert!(quick.get() > 10_000 && still.get() > 3_000, "{} quickly, {} still", quick.get(), still.get());
}

#[test]
fn a_reading_written_anew_is_kept_no_longer() {
    let mut book = Book::new();
    let say = |id: &str, clock, said| Entry::new(id.into(), clock, 0, "a".into(), said).unwrap();
    book.add(say("t", 1, tie(4))).unwrap();
    book.add(say("k", 2, Statement::Keep { entry: "t".into(), part: 0, why: String::new() })).unwrap();
    let before = fold(&book);
    assert!(before.record.kept.contains_key(&("t".into(), 0)));
    book.add(say("c", 3, Statement::Correct { entry: "t".into(), now: Box::new(tie(5)) })).unwrap();
    let grown = fold_on(before, &book);
    assert!(grown.moves && grown.fold.record.kept.is_empty());
    assert_eq!(grown.fold.standing.get(&"t".into()), Some(&Standing::Corrected { by: "c".into() }));
}
