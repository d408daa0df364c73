//! The book's own promises.

use super::*;
use crate::record::{Note, Point, Statement};

fn entry(id: &str, clock: u64, author: &str, statement: Statement) -> Entry {
    Entry::new(id.into(), clock, 0, author.into(), statement).unwrap()
}

fn point(id: &str, label: &str) -> Statement {
    Statement::Point(Point { id: id.into(), label: label.into(), note: String::new() })
}

fn called(name: &str) -> Statement {
    Statement::Author { name: name.to_owned() }
}

fn strike(target: &str) -> Statement {
    Statement::Strike { entry: target.into(), why: String::new() }
}

fn labels(book: &Book) -> Vec<String> {
    fold(book).record.points.iter().map(|p| p.label.clone()).collect()
}

#[test]
fn a_strike_withdraws_and_a_struck_strike_brings_back() {
    let mut book = Book::new();
    book.add(entry("1", 1, "a", point("1", "H1"))).unwrap();
    book.add(entry("2", 2, "a", strike("1"))).unwrap();
    assert_eq!(labels(&book), Vec::<String>::new());
    assert_eq!(fold(&book).standing.get(&"1".into()), Some(&Standing::Struck { by: "2".into() }));
    book.add(entry("3", 3, "a", strike("2"))).unwrap();
    assert_eq!(labels(&book), ["H1"]);
}

#[test]
fn a_correction_counts_in_the_place_of_the_entry() {
    let mut book = Book::new();
    book.add(entry("1", 1, "a", point("1", "H1"))).unwrap();
    let now = Box::new(point("1", "H7"));
    book.add(entry("2", 2, "a", Statement::Correct { entry: "1".into(), now })).unwrap();
    assert_eq!(labels(&book), ["H7"]);
    book.add(entry("3", 3, "a", strike("2"))).unwrap();
    assert_eq!(labels(&book), ["H1"], "striking the correction brings the first words back");
}

/// A note keeps what a newer version adds to it.
#[test]
fn a_note_comes_back_and_keeps_what_this_version_cannot_read() {
    let note =
        Note { topic: "wish".into(), text: "shade".into(), settles: vec!["north".into()], ..Note::default() };
    let mut book = Book::new();
    book.add(entry("1", 1, "a", Statement::Note(note.clone().into()))).unwrap();
    let (again, errors) = Book::from_json_lines(&book.to_json_lines());
    assert_eq!((fold(&again).record.notes()[0].what.clone(), errors.len()), (note, 0));
    let line = r#"{"id":"9","clock":4,"at_ms":0,"author":"b","say":{"note":{"topic":"wish","text":"sun","mood":"high"}}}"#;
    let (book, errors) = Book::from_json_lines(line);
    assert_eq!(errors, []);
    assert_eq!(fold(&book).record.notes()[0].what.text, "sun");
    assert_eq!(book.to_json_lines(), format!("{line}\n"));
}

#[test]
fn a_correction_of_another_sort_is_left_out_and_said() {
    let mut book = Book::new();
    book.add(entry("1", 1, "a", point("1", "H1"))).unwrap();
    let now = Box::new(strike("1"));
    book.add(entry("2", 2, "a", Statement::Correct { entry: "1".into(), now })).unwrap();
    assert_eq!(labels(&book), ["H1"]);
    assert!(matches!(fold(&book).objections.as_slice(), [Objection::OtherSort { .. }]));
}

/// Who did not count, of whom; by what the target's standing says.
fn rivals(book: &Book) -> Vec<String> {
    let rival = |objection: &Objection| match objection {
        Objection::Rival { entry, .. } => entry.0.clone(),
        other => panic!("{other}"),
    };
    fold(book).objections.iter().map(rival).collect()
}

#[test]
fn what_another_author_said_of_an_entry_is_kept_and_named_where_it_does_not_count() {
    let correct = |label| Statement::Correct { entry: "1".into(), now: Box::new(point("1", label)) };
    let mut book = Book::new();
    book.add(entry("1", 1, "a", point("1", "H1"))).unwrap();
    book.add(entry("2", 2, "a", correct("H2"))).unwrap();
    book.add(entry("3", 3, "a", correct("H3"))).unwrap();
    assert_eq!(
        (labels(&book), rivals(&book)),
        (vec!["H3".to_owned()], vec![]),
        "who mends their own is no rival"
    );
    book.add(entry("4", 3, "b", correct("H4"))).unwrap();
    assert_eq!((labels(&book), rivals(&book)), (vec!["H4".to_owned()], vec!["2".to_owned(), "3".to_owned()]));
    // A strike against a correction, though that is later.
    book.add(entry("5", 2, "c", strike("1"))).unwrap();
    assert_eq!((labels(&book).len(), rivals(&book)), (0, vec!["2".into(), "3".into(), "4".into()]));
    book.add(entry("6", 4, "b", strike("1"))).unwrap();
    assert_eq!(fold(&book).standing.get(&"1".into()), Some(&Standing::Struck { by: "6".into() }));
    assert_eq!(rivals(&book), ["2", "5", "3"], "in book order; b corrected what b struck");
    // The strikes gone, the corrections are as before.
    book.add(entry("7", 5, "a", strike("5"))).unwrap();
    book.add(entry("8", 6, "a", strike("6"))).unwrap();
    assert_eq!((labels(&book), rivals(&book)), (vec!["H4".to_owned()], vec!["2".to_owned(), "3".to_owned()]));
}

#[test]
fn an_entry_of_a_newer_version_is_kept_to_the_letter() {
    let line = r#"{"id":"9","clock":4,"at_ms":0,"author":"b","say":{"smell":{"of":"mint"}},"later":true}"#;
    let (book, errors) = Book::from_json_lines(line);
    assert_eq!(errors, []);
    assert_eq!(book.to_json_lines(), format!("{line}\n"));
    assert!(matches!(fold(&book).objections.as_slice(), [Objection::NotUnderstood { .. }]));
}

#[test]
fn a_torn_line_is_named_and_the_rest_kept() {
    let mut whole = Book::new();
    whole.add(entry("1", 1, "a", point("1", "H1"))).unwrap();
    let text = format!("{}{}", whole.to_json_lines(), r#"{"id":"2","clo"#);
    let (book, errors) = Book::from_json_lines(&text);
    assert_eq!(labels(&book), ["H1"]);
    assert_eq!(errors.first().map(|e| e.line), Some(2));
}

#[test]
fn merge_is_a_union_whatever_the_order() {
    let (mut a, mut b) = (Book::new(), Book::new());
    a.add(entry("1", 1, "a", point("1", "H1"))).unwrap();
    a.add(entry("2", 2, "a", strike("1"))).unwrap();
    b.add(entry("3", 2, "b", point("3", "T1"))).unwrap();
    let (mut ab, mut ba) = (a.clone(), b.clone());
    assert_eq!(ab.merge(&b).0, 1);
    assert_eq!(ba.merge(&a).0, 2);
    assert_eq!(ab.to_json_lines(), ba.to_json_lines());
    assert_eq!(ab.merge(&b).0, 0, "merging again changes nothing");
}

#[test]
fn two_entries_with_one_id_and_other_words_clash() {
    let mut book = Book::new();
    book.add(entry("1", 1, "a", point("1", "H1"))).unwrap();
    assert!(book.add(entry("1", 1, "a", point("1", "H1"))).is_ok());
    assert!(book.add(entry("1", 1, "a", point("1", "H2"))).is_err());
    assert_eq!(labels(&book), ["H1"]);
}

#[test]
fn a_number_that_is_none_never_enters_the_book() {
    let at = crate::units::PlanPoint::from_metres(f64::NAN, 0.0);
    let statement = Statement::Sketch { point: "1".into(), at };
    assert!(Entry::new("1".into(), 1, 0, "a".into(), statement).is_err());
}

#[test]
fn a_reading_is_kept_until_the_keeping_is_struck_or_the_reading_corrected() {
    let keep = |part| Statement::Keep { entry: "1".into(), part, why: String::new() };
    let mut book = Book::new();
    book.add(entry("1", 1, "a", point("1", "H1"))).unwrap();
    book.add(entry("2", 2, "a", keep(1))).unwrap();
    book.add(entry("3", 3, "b", keep(0))).unwrap();
    let line = r#""say":{"keep":{"entry":"1","part":1}}"#;
    assert!(book.to_json_lines().contains(line), "{}", book.to_json_lines());
    let kept =
        |book: &Book| fold(book).record.kept.into_iter().map(|((_, part), ())| part).collect::<Vec<_>>();
    assert_eq!(kept(&book), [0, 1]);
    book.add(entry("4", 4, "a", strike("2"))).unwrap();
    assert_eq!(kept(&book), [0]);
    let now = Box::new(point("1", "H7"));
    book.add(entry("5", 5, "a", Statement::Correct { entry: "1".into(), now })).unwrap();
    assert_eq!(kept(&book), Vec::<usize>::new());
    book.add(entry("6", 6, "a", keep(0))).unwrap();
    assert_eq!(kept(&book), [0], "what was kept after the correction is kept");
}

/// What books hold of each kind, to the letter: keys and words are for ever.
const KINDS: &[&str] = &[
    r#"{"tie":{"from":"A","to":"B","reading":{"text":"5 m","metres":5.0},"how":{"instrument":"steel_tape","target":"hard"}}}"#,
    r#"{"tie":{"from":"A","to":"T","reading":{"text":"5 m","metres":5.0},"taped_to":"near_side","how":{"instrument":"steel_tape","target":"soft","slope":{"rise_metres":0.5}}}}"#,
    r#"{"run":{"zero":"A","toward":"B","readings":[{"point":"C","reading":{"text":"5 m","metres":5.0}}],"how":{"instrument":"steel_tape","target":"hard"}}}"#,
    r#"{"run":{"zero":"A","toward":"B","readings":[],"zero_unknown":true,"how":{"instrument":"steel_tape","target":"hard","tape":{"marked_metres":30.0,"true_metres":30.01,"celsius":31.0,"standard_celsius":20.0,"expansion":0.0000116,"pull_newtons":50.0,"standard_pull_newtons":100.0,"section_square_metres":0.0000025,"elasticity_pascals":200000000000.0,"newtons_per_metre":0.3,"span_metres":10.0,"supported_metres":5.0},"slope":{"angle_radians":0.1}}}}"#,
    r#"{"angle":{"at":"A","from":"B","to":"C","reading":{"text":"90","radians":1.5707963267948966},"turn":"counter_clockwise","how":{"instrument":"theodolite"}}}"#,
    r#"{"bearing":{"from":"A","to":"B","reading":{"text":"N 90 E","radians":1.5707963267948966},"north":"magnetic","how":{"instrument":"compass","sd_radians":0.02}}}"#,
    r#"{"parallel":{"one":["A","B"],"other":["C","D"]}}"#,
    r#"{"parallel":{"one":["A","B"],"other":["C","D"],"tolerance_radians":0.01}}"#,
    r#"{"same_length":{"one":["A","B"],"other":["B","C"],"tolerance_metres":0.02}}"#,
    r#"{"arc":{"from":"A","to":"B","rise":{"text":"5 m","metres":5.0},"side":"left"}}"#,
    r#"{"arc_through":{"from":"A","through":"B","to":"C"}}"#,
    r#"{"girth":{"point":"T","reading":{"text":"1.2 m","metres":1.2},"how":{"instrument":"steel_tape","target":"hard"}}}"#,
];

#[test]
fn every_kind_goes_round_the_book_to_the_letter() {
    for (n, kind) in KINDS.iter().enumerate() {
        let line = format!(r#"{{"id":"{n}","clock":1,"at_ms":0,"author":"a","say":{{"measure":{kind}}}}}"#);
        let read = Entry::from_line(&line).unwrap();
        let statement = read.statement().unwrap_or_else(|| panic!("not understood: {line}"));
        let written = Entry::new(n.to_string().as_str().into(), 1, 0, "a".into(), statement.clone()).unwrap();
        assert_eq!(written.line(), line);
    }
    let north = r#"{"id":"n","clock":1,"at_ms":0,"author":"a","say":{"north":{"from":"A","to":"B","bearing_radians":1.5,"kind":"magnetic","declination_radians":-0.1}}}"#;
    let read = Entry::from_line(north).unwrap();
    let written = Entry::new("n".into(), 1, 0, "a".into(), read.statement().unwrap().clone()).unwrap();
    assert_eq!(written.line(), north);
}

#[test]
fn photos_go_round_the_book_to_the_letter() {
    let drawn = [
        // As the first version wrote them.
        r#"{"id":"ab12","media_type":"image/jpeg","bytes":7,"at":"site"}"#,
        r#"{"id":"ab12","media_type":"image/jpeg","bytes":7,"at":{"points":["A"]},"of":"e1","facing":{"plan":1.5},"note":"rot","marks":[{"arrow":{"from":{"across":0.1,"down":0.2},"to":{"across":0.3,"down":0.4}}},{"circle":{"centre":{"across":0.5,"down":0.5},"rim":{"across":0.5,"down":0.75}}},{"text":{"at":{"across":0.5,"down":0.5},"text":"here"}}],"original":{"id":"cd34","media_type":"image/png","bytes":9,"name":"1.png"}}"#,
        r#"{"id":"ab12","media_type":"image/jpeg","bytes":7,"at":"site","facing":{"compass":0.25}}"#,
    ];
    for photo in drawn {
        let line = format!(r#"{{"id":"p","clock":1,"at_ms":0,"author":"a","say":{{"photo":{photo}}}}}"#);
        let read = Entry::from_line(&line).unwrap();
        let statement = read.statement().unwrap_or_else(|| panic!("not understood: {line}"));
        let written = Entry::new("p".into(), 1, 0, "a".into(), statement.clone()).unwrap();
        assert_eq!(written.line(), line);
    }
}

/// As merged from two phones: each author's last name counts, whoever's book it came with.
#[test]
fn who_wrote_is_called_as_he_said_last() {
    let line = r#"{"id":"1","clock":1,"at_ms":0,"author":"a","say":{"author":{"name":"Odalys"}}}"#;
    assert_eq!(entry("1", 1, "a", called("Odalys")).line(), line);
    let mut one = Book::new();
    one.add(Entry::from_line(line).unwrap()).unwrap();
    one.add(entry("3", 3, "a", called("Ode "))).unwrap();
    let mut other = Book::new();
    other.add(entry("2", 2, "b", called("Bram"))).unwrap();
    other.merge(&one);
    let record = fold(&other).record;
    assert_eq!((record.called(&"a".into()), record.called(&"b".into())), (Some("Ode"), Some("Bram")));
    other.add(entry("4", 4, "b", called(""))).unwrap();
    assert_eq!(fold(&other).record.called(&"b".into()), None, "taken back");
}
