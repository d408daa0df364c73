//! Words that would break a careless writer, and surveys with nothing or nonsense in them.

use super::font::font_of;
use super::yards::{draw, points, yard};
use super::{parse, written};
use swingtie_core::network::{Adjustment, Fix, PointState};
use swingtie_core::record::{
    At, AuthorId, EntryId, Feature, MarkColour, Point, PointId, Problem, Record, Recorded, Severity,
    UnitSystem, UtilityMark,
};
use swingtie_core::sheet::Options;
use swingtie_core::units::PlanPoint;

const WORDS: [&str; 12] = [
    "<script>alert(1)</script>",
    "]]> & <!-- -->",
    "\"quotes\" 'and' \"><image href=\"http://example.invalid/x.png\"/>",
    "emoji \u{1f333}\u{1f3fd} family \u{1f468}\u{200d}\u{1f469}",
    "right to left \u{202e}gnirts \u{2067}\u{05d0}\u{05d1}\u{05d2}",
    "nul \u{0}, bell \u{7}, escape \u{1b}, not a character \u{ffff}",
    "&amp;lt; &#x41; %s {{x}} ${y}",
    "line\nbreak\tand\rreturn",
    "",
    " \u{a0} ",
    "Ωμέγα żółć 漢字",
    "url(#window) javascript:alert(1)",
];

fn recorded<T>(n: usize, what: T) -> Recorded<T> {
    Recorded { entry: EntryId(format!("E{n}")), author: AuthorId("a".into()), at_ms: 0, what }
}

/// A yard where every text a person can give is hostile.
pub fn hostile() -> (Record, Adjustment) {
    let (mut record, mut adjustment) = points(UnitSystem::FeetInches, &[]);
    for (n, words) in WORDS.iter().enumerate() {
        let id = PointId((*words).to_owned());
        let step = f64::from(u8::try_from(n).expect("a few"));
        record.points.push(Point { id: id.clone(), label: (*words).to_owned(), note: (*words).to_owned() });
        let at = PlanPoint::from_metres(2.0 * step, (step * 1.7) % 9.0);
        let fix = Fix { at: Some(at), guess: None, state: PointState::Fixed, ellipse: None, freedom: None };
        adjustment.points.insert(id, fix);
    }
    let ids: Vec<PointId> = record.points.iter().map(|p| p.id.clone()).collect();
    record.site.name = WORDS.join(" ");
    record.site.client = WORDS[0].into();
    record.site.surveyor = WORDS[2].into();
    record.site.date = WORDS[5].into();
    for (n, words) in WORDS.iter().enumerate() {
        for (kind, points) in [("house", ids.clone()), ("tree", ids[n..=n].to_vec()), (*words, ids.clone())] {
            let feature = Feature {
                kind: kind.into(),
                points,
                name: (*words).into(),
                fate: None,
                attributes: Default::default(),
                curved: false,
                told: n % 2 == 0,
                note: (*words).into(),
            };
            record.features.push(recorded(record.features.len(), feature));
        }
        let problem = Problem {
            kind: (*words).into(),
            severity: Severity::Danger,
            at: At::Points(ids[n..=n].to_vec()),
            spread: None,
            attributes: Default::default(),
            note: (*words).into(),
            photos: Vec::new(),
            told: false,
        };
        record.problems.push(recorded(100 + n, problem));
        let mark = UtilityMark {
            colour: MarkColour::Yellow,
            points: ids.iter().rev().take(n + 1).cloned().collect(),
            letters: (*words).into(),
            attributes: Default::default(),
            told: true,
            note: String::new(),
        };
        record.marks.push(recorded(200 + n, mark));
    }
    (record, adjustment)
}

/// Nothing on the sheet runs, fetches, or points anywhere but into the sheet itself.
#[test]
fn hostile_words_stay_words() {
    let drawing = draw(&hostile(), &Options { revision: WORDS[1].into(), ..Options::default() });
    let document = parse(&drawing.svg);
    let allowed =
        ["svg", "style", "title", "desc", "defs", "clipPath", "g", "path", "line", "circle", "rect", "text"];
    for node in document.descendants().filter(|node| node.is_element()) {
        if node.has_tag_name("style") {
            // The paper's size, the font, and no more.
            let rules = node.text().unwrap_or_default().lines();
            for (n, rule) in rules.enumerate() {
                let rule = if n == 0 {
                    let size =
                        rule.strip_prefix("@page { size: ").and_then(|t| t.strip_suffix("; margin: 0 }"));
                    size.map(|size| size.chars().all(|c| c.is_ascii_digit() || " .m".contains(c)))
                } else {
                    font_of(rule)
                        .map(|font| font.chars().all(|c| c.is_ascii_alphanumeric() || "+/=".contains(c)))
                };
                assert_eq!(rule, Some(true), "rule {n}");
            }
        }
        assert!(allowed.contains(&node.tag_name().name()), "element {:?}", node.tag_name());
        for attribute in node.attributes() {
            assert!(!attribute.name().starts_with("on") && attribute.name() != "href", "{attribute:?}");
            let points_out = attribute.value().contains("url(") && attribute.name() != "data-label";
            assert!(!points_out || attribute.value() == "url(#window)", "{attribute:?}");
        }
    }
    let everything = document.root_element().descendants().filter_map(|n| n.text()).collect::<String>();
    for turning in ['\u{202e}', '\u{2067}', '\u{0}', '\u{7}', '\u{1b}', '\u{ffff}'] {
        assert!(!drawing.svg.contains(turning), "{turning:?} survived");
    }
    assert!(everything.contains("<script>"), "the words themselves are kept");
    assert!(everything.contains("漢字"));
}

#[test]
fn ids_are_unique() {
    for drawing in [draw(&hostile(), &Options::default()), draw(&yard(1), &Options::default())] {
        let document = parse(&drawing.svg);
        let mut ids: Vec<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
        let all = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), all);
    }
}

#[test]
fn an_empty_record_says_what_is_missing() {
    let drawing = draw(&(Record::default(), Adjustment::default()), &Options::default());
    let document = parse(&drawing.svg);
    let written = written(&document);
    for words in ["Unnamed site", "Nothing to draw yet", "North not recorded", "Not a boundary survey"] {
        assert!(written.contains(words), "{words} is not on the sheet: {written}");
    }
    assert_eq!(drawing.notices.len(), 1);
}

#[test]
fn one_point_is_drawn_in_the_middle() {
    let drawing = draw(&points(UnitSystem::Metres, &[(1234.0, -77.0)]), &Options::default());
    let document = parse(&drawing.svg);
    assert!(super::mark(&document, "P1").is_some());
    assert!(written(&document).contains("Only one point"));
}

/// Places no reading could give, all at once: the sheet stays a sheet.
#[test]
fn impossible_places_do_not_break_the_sheet() {
    for places in [
        vec![(f64::NAN, 0.0), (0.0, 0.0)],
        vec![(f64::INFINITY, 1.0), (f64::NEG_INFINITY, 2.0)],
        vec![(0.0, 0.0), (0.0, 0.0), (0.0, 0.0)],
        vec![(0.0, 0.0), (1e9, 1e9)],
        vec![(0.0, 0.0), (1e-12, 0.0)],
        vec![(f64::MAX, f64::MAX), (f64::MIN, f64::MIN)],
    ] {
        let drawing = draw(&points(UnitSystem::FeetInches, &places), &Options::default());
        parse(&drawing.svg);
        assert!(!drawing.svg.contains("NaN") && !drawing.svg.contains("inf"), "{places:?}");
    }
}

#[test]
fn hundreds_of_problems_are_counted_not_lost_in_silence() {
    let (mut record, adjustment) = points(UnitSystem::FeetInches, &[(0.0, 0.0), (9.0, 4.0)]);
    for n in 0..400 {
        let note = format!("Problem of the long list, number {n}, with enough words to need two lines");
        let problem = Problem {
            kind: "other".into(),
            severity: Severity::Fix,
            at: At::Site,
            spread: None,
            attributes: Default::default(),
            note,
            photos: Vec::new(),
            told: false,
        };
        record.problems.push(recorded(n, problem));
    }
    let letter = swingtie_core::sheet::Paper::named("letter");
    let drawing = draw(&(record, adjustment), &Options { paper: letter, ..Options::default() });
    let written = written(&parse(&drawing.svg));
    assert!(drawing.notices.iter().any(|n| n.contains("of 400 entries")), "{:?}", drawing.notices);
    assert!(written.contains(" more: see the book"), "{written}");
    assert!(written.contains("Not a boundary survey"), "cautions are never dropped");
}
