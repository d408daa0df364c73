//! The scenario books are real books: they fold without objections and lose nothing on paper.

use swingtie_core::book::{Book, Fold, Grown, fold, fold_on};
use swingtie_core::network::adjust;
use swingtie_core::record::PhotoId;
use swingtie_tests::large::Large;
use swingtie_tests::scenario::{Options, Sketch, scenario};

#[test]
fn books_fold_cleanly_and_come_back_from_text() {
    for number in [1, 2] {
        let yard = scenario(number);
        let options = Options { sketch: Sketch::Recorded, strike: vec!["M056".into()] };
        let book = yard.book(&options);
        let folded = fold(&book);
        assert_eq!(folded.objections, vec![], "scenario {number}");
        let (back, errors) = Book::from_json_lines(&book.to_json_lines());
        assert_eq!(errors, vec![]);
        assert_eq!(back, book);
        assert!(folded.record.measurements.iter().all(|m| m.entry.as_str() != "M056"));
        assert_eq!(folded.record.points.len(), yard.truth().len());
        assert_eq!(yard.measured_points().len(), folded.record.points.len());
        assert!(folded.record.features.len() > 20 && folded.record.marks.len() >= 3);
    }
}

#[test]
fn no_true_coordinate_is_in_a_book() {
    for number in [1, 2] {
        let yard = scenario(number);
        let text = yard.json_lines(&Options::default());
        assert!(!text.contains("\"say\":\"sketch\""));
        for place in yard.truth().values() {
            let (x, y) = place.metres();
            assert!(!(text.contains(&x.to_string()) && text.contains(&y.to_string())) || x == 0.0);
        }
    }
}

/// What an app leaves out when it solves anew only where the network reads what is new: nothing.
#[test]
fn what_the_network_does_not_read_moves_nothing() {
    let mut large = Large::of(400);
    large.photos = (0..5).map(|n| PhotoId(format!("photo-{n}"))).collect();
    let (mut book, mut before, mut still) = (Book::new(), Fold::default(), 0);
    for entry in large.book().entries() {
        book.add(entry.clone()).unwrap();
        let known = before.record.clone();
        let Grown { fold, moves } = fold_on(before, &book);
        if !moves {
            still += 1;
            assert_eq!(adjust(&fold.record), adjust(&known), "{}", entry.line());
        }
        before = fold;
    }
    // Heights, problems, notes, marks and photos.
    assert!(still > 40, "only {still} entries that move nothing");
}
