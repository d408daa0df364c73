//! The scenario books are real books: they fold without objections and lose nothing on paper.

use swingtie_core::book::{Book, fold};
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
