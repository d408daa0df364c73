//! The report says what the yard's notes say: judged by the invented yards' own files (`tests/scenarios`) and arithmetic.

use scraper::{ElementRef, Html, Selector};
use std::collections::BTreeMap;
use swingtie_core::book::{Book, Entry, fold};
use swingtie_core::levels::lay;
use swingtie_core::network::adjust;
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::record::{ANSWER, Answers, Asks, At, Note, QUESTION, Statement};
use swingtie_core::report::{Report, write};
use swingtie_core::sheet;
use swingtie_core::units::PlanPoint;
use swingtie_core::units::float::powf;
use swingtie_tests::scenario::{Options, scenario};

fn page(book: &Book) -> Html {
    let mut fold = fold(book);
    lay(&mut fold.record);
    let adjustment = adjust(&fold.record);
    let plan = Plan::build(&fold.record, &adjustment);
    let ground = Ground::of(&fold.record, &plan);
    let (sheet, pictures) = (sheet::Options::default(), Default::default());
    let report = Report {
        book,
        fold: &fold,
        adjustment: &adjustment,
        plan: &plan,
        ground: &ground,
        sheet: &sheet,
        pictures: &pictures,
    };
    let page = Html::parse_document(&write(&report));
    assert_eq!(page.errors, Vec::<&str>::new());
    page
}

fn all<'a>(page: &'a Html, what: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(what).expect("a selector")).collect()
}

fn text(element: ElementRef<'_>) -> String {
    element.text().collect()
}

/// The rows of a section's tables, cell by cell.
fn rows(page: &Html, section: &str) -> Vec<Vec<String>> {
    let cells = |row: ElementRef<'_>| row.child_elements().map(text).collect();
    all(page, &format!("#{section} tbody tr")).into_iter().map(cells).collect()
}

/// Feet of `98.31`, `-0.5`.
fn feet(cell: &str) -> f64 {
    cell.replace('−', "-").parse().unwrap_or_else(|_| panic!("{cell} is no number"))
}

#[test]
fn heights_are_those_the_yard_was_made_with() {
    for number in [1, 2] {
        let yard = scenario(number);
        let page = page(&yard.levelled(&Options::default()));
        let truth = yard.true_heights();
        let heads: Vec<String> = all(&page, "#points thead th").into_iter().map(text).collect();
        let column = heads.iter().position(|head| head == "Height").expect("heights");
        let rows = rows(&page, "points");
        let mut seen = 0;
        for (point, height) in &truth {
            let Some(row) = rows.iter().find(|row| row[0] == point.as_str() && !row[column].is_empty())
            else {
                continue;
            };
            seen += 1;
            // Rods are read to a hundredth of a foot or so, over a dozen set-ups.
            assert!(
                (feet(&row[column]) - height.feet()).abs() < 0.1,
                "{number}: {row:?}, true {}",
                height.feet()
            );
        }
        assert!(seen > 10, "{number}: {seen} heights");
    }
}

/// Σ back − Σ fore = Σ rise − Σ fall = last − first height (any textbook of levelling), added up anew from the cells.
#[test]
fn the_level_book_proves_its_sums() {
    let page = page(&scenario(1).levelled(&Options::default()));
    let books: Vec<ElementRef<'_>> = all(&page, "#levels table")
        .into_iter()
        .filter(|table| text(*table).contains("by rise and fall"))
        .collect();
    assert!(!books.is_empty());
    for table in books {
        let find = |what: &str| table.select(&Selector::parse(what).unwrap()).collect::<Vec<_>>();
        let heads: Vec<String> = find("thead th").into_iter().map(text).collect();
        let at =
            |name: &str| heads.iter().position(|head| head == name).unwrap_or_else(|| panic!("no {name}"));
        let lines: Vec<Vec<String>> =
            find("tbody tr").into_iter().map(|row| row.child_elements().map(text).collect()).collect();
        let sum = |name: &str| {
            lines.iter().filter(|l| !l[at(name)].is_empty()).map(|l| feet(&l[at(name)])).sum::<f64>()
        };
        let ends = [lines.first(), lines.last()].map(|line| feet(&line.unwrap()[at("Height")]));
        let differences = [sum("Back") - sum("Fore"), sum("Rise") - sum("Fall"), ends[1] - ends[0]];
        // Each of so many lines is rounded to a thousandth.
        let rounding = 0.0005 * lines.len() as f64;
        for difference in differences {
            assert!((difference - differences[0]).abs() <= rounding, "{differences:?}");
        }
    }
}

/// The yard's file says that M056, B to T3, was written 19 ft 5 in for 16 ft 5 in.
#[test]
fn a_misread_is_a_suspect_until_it_is_struck_with_its_reason() {
    let mut book = scenario(2).book(&Options::default());
    let of_m056 = |page: &Html| {
        rows(page, "measurements").into_iter().find(|row| row[0].contains("B to T3, 19' 5\"")).expect("M056")
    };
    assert!(of_m056(&page(&book)).iter().any(|cell| cell == "Suspect"));
    let strike = Statement::Strike { entry: "M056".into(), why: "tape read again".to_owned() };
    book.add(
        Entry::new("strike".into(), book.next_clock(), 1_778_320_889_823, "R. Avery".into(), strike).unwrap(),
    )
    .unwrap();
    let page = page(&book);
    assert!(of_m056(&page).iter().any(|cell| cell == "Struck: tape read again"));
    assert_eq!(
        all(&page, "#measurements s").len(),
        1,
        "what is struck has a line through it, and nothing else"
    );
    let authors: BTreeMap<String, Vec<String>> =
        rows(&page, "authors").into_iter().map(|row| (row[0].clone(), row)).collect();
    // `date -u -d @1778320889` of GNU coreutils.
    assert_eq!(authors["R. Avery"][1..], ["1", "2026-05-09 10:01 UTC", "2026-05-09 10:01 UTC"]);
}

#[test]
fn every_problem_thing_and_point_of_the_book_is_in_it() {
    for number in [1, 2] {
        let book = scenario(number).levelled(&Options::default());
        let record = fold(&book).record;
        let page = page(&book);
        assert_eq!(all(&page, "#problems article").len(), record.problems.len());
        // In capitals, since a note may stand as a heading.
        let problems: String = all(&page, "#problems dd, #problems h3").into_iter().map(text).collect();
        let problems = problems.to_uppercase();
        assert!(record.problems.iter().all(|p| problems.contains(&p.what.note.trim().to_uppercase())));
        assert!(!problems.contains("SOMETHING ELSE"));
        assert_eq!(rows(&page, "things").len(), record.features.len());
        assert_eq!(rows(&page, "marks").len(), record.marks.len());
        let points: Vec<String> = rows(&page, "points").into_iter().map(|row| row[0].clone()).collect();
        assert_eq!(points, record.points.iter().map(|p| p.label.clone()).collect::<Vec<_>>());
        assert!(rows(&page, "measurements").len() >= record.measurements.len());
        let cautions = text(all(&page, "#cautions")[0]);
        assert!(cautions.contains("marked before any digging") && cautions.contains("Not a boundary survey"));
    }
}

/// What is still to do comes first; the walls from which the ground does not fall stand in one table, and the report still
/// has each under the name that links lead to.
#[test]
fn what_is_open_comes_first_and_walls_stand_together() {
    let page = page(&scenario(1).levelled(&Options::default()));
    let sections: Vec<&str> = all(&page, "main > section").into_iter().filter_map(|s| s.attr("id")).collect();
    assert_eq!(sections[..3], ["open", "plan", "problems"]);
    let tables = all(&page, "#worth table");
    assert_eq!(tables.len(), 1);
    let walls = rows(&page, "worth");
    assert!(walls.len() > 1 && walls.iter().all(|row| row[0].contains("the wall")), "{walls:?}");
    let single: Vec<String> = all(&page, "#worth article > h3").into_iter().map(text).collect();
    assert!(
        !single.iter().any(|head| head.contains("along the wall") || head.contains("At the wall")),
        "{single:?}"
    );
    for link in all(&page, "a[href^='#']") {
        let id = link.attr("href").unwrap().trim_start_matches('#');
        assert_eq!(all(&page, &format!("[id='{id}']")).len(), 1, "{id}");
    }
}

/// Where readings contradict, what is still open names the one that was misread: by the scenario's own file M056, 16'-5"
/// read as 19'-5" from B to T3.
#[test]
fn a_misread_is_named_with_its_points() {
    let open = rows(&page(&scenario(2).levelled(&Options::default())), "open");
    let named: Vec<&Vec<String>> = open.iter().filter(|row| row[0].contains("Most likely misread")).collect();
    let [row] = named.as_slice() else { panic!("{named:?}") };
    assert!(row[0].contains("B to T3") && row[0].contains("19' 5\""), "{row:?}");
    assert!(row[1].contains("16' 5\"") && row[1].contains("Tape it again"), "{row:?}");
    // Right after the line it belongs to.
    let at = open.iter().position(|row| row[0].contains("contradict each other")).expect("the line");
    assert_eq!(&open[at + 1], *row);
}

/// No place is written finer than a tenth of what it may be off by, since such figures say nothing (common practice, no
/// source), nor so coarse that the figure alone is wrong by more than that.
#[test]
fn places_are_written_as_fine_as_they_are_known() {
    let inches = |cell: &str| {
        let (feet, rest) = cell.trim_start_matches(['-', '−']).split_once('\'').unwrap_or(("0", cell));
        let rest = rest.trim_start_matches(['-', '−']).trim().trim_end_matches('"');
        let whole = |part: &str| match part.split_once('/') {
            Some((over, under)) => (
                over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap(),
                1.0 / under.parse::<f64>().unwrap(),
            ),
            None => (part.parse::<f64>().unwrap(), 1.0),
        };
        let parts: Vec<(f64, f64)> = rest.split(' ').map(whole).collect();
        let step = parts.iter().map(|(_, step)| *step).fold(1.0, f64::min);
        (feet.parse::<f64>().unwrap() * 12.0 + parts.iter().map(|(value, _)| value).sum::<f64>(), step)
    };
    let page = page(&scenario(1).levelled(&Options::default()));
    let mut seen = 0;
    for row in rows(&page, "points").iter().filter(|row| row[3].ends_with('"')) {
        let (within, _) = inches(&row[3]);
        for cell in &row[1..3] {
            let (_, step) = inches(cell);
            assert!(step >= within / 10.0 && step / 2.0 <= within, "{row:?}");
            seen += 1;
        }
    }
    assert!(seen > 50, "{seen}");
}

#[test]
fn an_empty_book_is_a_page_that_says_so() {
    let page = page(&Book::new());
    let written = text(page.root_element());
    assert!(written.contains("Unnamed site") && written.contains("Nothing is measured yet"), "{written}");
    assert!(all(&page, "#points, #problems, #photos, #levels").is_empty());
}

/// WCAG 2.2, 1.4.6: 7 : 1 for text, by its own formula of relative luminance, on white and on nothing else.
#[test]
fn all_inks_read_on_white() {
    let css = include_str!("../core/src/report/style.css");
    let part = |hex: &str| {
        let c = f64::from(u8::from_str_radix(hex, 16).unwrap()) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { powf((c + 0.055) / 1.055, 2.4) }
    };
    let mut seen = 0;
    for ink in css.split("color: #").skip(1).map(|rest| rest.split(';').next().unwrap()) {
        let luminance = 0.2126 * part(&ink[..2]) + 0.7152 * part(&ink[2..4]) + 0.0722 * part(&ink[4..6]);
        assert!(1.05 / (luminance + 0.05) >= 7.0, "#{ink}");
        seen += 1;
    }
    assert!(seen > 4);
}

/// What was asked and what was answered, each question in a row of its own, those without an answer first.
#[test]
fn questions_stand_with_their_answers() {
    let mut book = scenario(1).levelled(&Options::default());
    let mut say = |id: &str, note: Note| {
        let statement = Statement::Note(note.into());
        book.add(Entry::new(id.into(), book.next_clock(), 60_000, "d".into(), statement).unwrap()).unwrap();
    };
    let asks = |kind: &str| Some(Asks { kind: kind.to_owned(), of: None });
    let question = |text: &str| Note { topic: QUESTION.to_owned(), text: text.to_owned(), ..Note::default() };
    say("q1", Note { asks: asks("words"), ..question("What is behind the fence?") });
    let at = At::Near(PlanPoint::default());
    say("q2", Note { asks: asks("photo"), at, ..question("The gate, please.") });
    let answers = Some(Answers { question: "q1".into(), by: Vec::new() });
    say(
        "a1",
        Note { topic: ANSWER.to_owned(), text: "A public path.".to_owned(), answers, ..Note::default() },
    );
    let page = page(&book);
    let rows = rows(&page, "questions");
    let said: Vec<(&str, &str)> = rows.iter().map(|row| (row[2].as_str(), row[4].trim())).collect();
    assert_eq!(said, [("The gate, please.", "still open"), ("What is behind the fence?", "A public path.")]);
    let notes = self::rows(&page, "notes");
    assert!(notes.iter().flatten().all(|cell| !cell.contains("fence?")), "a question stands among the notes");
}
