//! Papers and scales against the published series.

use super::yards::{draw, points, sheets, yard};
use super::{attribute, parse};
use swingtie_core::record::UnitSystem;
use swingtie_core::sheet::{Options, Orientation, Paper, Scale};

/// Trimmed sizes in mm: ISO 216:2007 / ISO 5457:1999; ANSI/ASME Y14.1 and the architectural series
/// in inches × 25.4 exactly.
const SIZES: [(&str, f64, f64); 10] = [
    ("Letter", 8.5 * 25.4, 11.0 * 25.4),
    ("Tabloid", 11.0 * 25.4, 17.0 * 25.4),
    ("ARCH C", 18.0 * 25.4, 24.0 * 25.4),
    ("ARCH D", 24.0 * 25.4, 36.0 * 25.4),
    ("ARCH E", 36.0 * 25.4, 48.0 * 25.4),
    ("a4", 210.0, 297.0),
    ("A3", 297.0, 420.0),
    ("A2", 420.0, 594.0),
    ("A1", 594.0, 841.0),
    ("A0", 841.0, 1189.0),
];

/// ISO 5455:1979 with its powers of ten; architect's and engineer's scales of the United States.
const ISO: [u32; 13] = [10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000];
const UNITED_STATES: [u32; 17] =
    [12, 24, 48, 96, 120, 192, 240, 360, 480, 600, 720, 1200, 2400, 6000, 12_000, 24_000, 60_000];

#[test]
fn every_paper_has_its_published_size() {
    assert_eq!(Paper::ALL.len(), SIZES.len());
    for (name, short, long) in SIZES {
        let paper = Paper::named(name).unwrap_or_else(|| panic!("no paper {name}"));
        assert!((paper.short.millimetres() - short).abs() < 1e-9, "{name}");
        assert!((paper.long.millimetres() - long).abs() < 1e-9, "{name}");
        for orientation in [Orientation::Portrait, Orientation::Landscape] {
            let options =
                Options { paper: Some(paper), orientation: Some(orientation), ..Options::default() };
            let drawing = draw(&yard(1), &options);
            let document = parse(&drawing.svg);
            let root = document.root_element();
            let (w, h) = match orientation {
                Orientation::Portrait => (short, long),
                Orientation::Landscape => (long, short),
            };
            assert!(root.attribute("width").is_some_and(|w| w.ends_with("mm")));
            assert!((attribute(root, "width") - w).abs() < 1e-9, "{name} {orientation:?}");
            assert!((attribute(root, "height") - h).abs() < 1e-9, "{name} {orientation:?}");
            let view_box = root.attribute("viewBox").expect("a viewBox");
            let view_box: Vec<f64> = view_box.split(' ').map(|n| n.parse().expect("a number")).collect();
            let off = view_box.iter().zip([0.0, 0.0, w, h]).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            assert!(view_box.len() == 4 && off < 1e-9, "one unit is not one millimetre: {view_box:?}");
        }
    }
}

#[test]
fn scales_are_those_of_the_standards() {
    let of = |units| Scale::series(units).iter().map(|s| s.denominator()).collect::<Vec<_>>();
    assert_eq!(of(UnitSystem::Metres), ISO);
    assert_eq!(of(UnitSystem::FeetInches), UNITED_STATES);
    assert_eq!(of(UnitSystem::DecimalFeet), UNITED_STATES);
}

/// The words against arithmetic: so many inches on paper for so many feet on the ground.
#[test]
fn scale_words_say_what_the_numbers_do() {
    let fraction = |text: &str| match text.split_once('/') {
        Some((over, under)) => over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap(),
        None => text.parse::<f64>().unwrap(),
    };
    for scale in Scale::series(UnitSystem::FeetInches) {
        let words = scale.words(UnitSystem::FeetInches);
        let (inches, ground) = words.split_once("\" = ").expect("inches = feet");
        let feet = ground.split_once('\'').expect("feet").0;
        let denominator = feet.parse::<f64>().unwrap() * 12.0 / fraction(inches);
        assert_eq!(denominator, f64::from(scale.denominator()), "{words}");
        assert!(words.contains(&format!("(1:{})", scale.denominator())), "{words}");
    }
    assert_eq!(Scale::one_to(200).unwrap().words(UnitSystem::Metres), "1:200");
}

/// Automatic choice: a standard scale, nothing cut off, and on that paper no larger standard scale
/// would have fitted either way round.
#[test]
fn the_largest_standard_scale_is_chosen() {
    for units in [UnitSystem::FeetInches, UnitSystem::Metres] {
        let series = Scale::series(units);
        for (w, h) in [(3.0, 2.0), (12.0, 30.0), (18.0, 33.5), (54.0, 75.0), (300.0, 40.0)] {
            let places = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
            let yard = points(units, &places);
            let drawing = draw(&yard, &Options::default());
            assert!(series.contains(&drawing.scale), "{:?}", drawing.scale);
            assert!(drawing.notices.is_empty(), "{:?}", drawing.notices);
            let larger = series.iter().copied().filter(|s| *s < drawing.scale).max();
            if let Some(larger) = larger {
                let forced =
                    Options { paper: Some(drawing.paper), scale: Some(larger), ..Options::default() };
                let notices = draw(&yard, &forced).notices;
                assert!(notices.iter().any(|n| n.contains("cut off")), "{larger:?} would fit {w} × {h} m");
            }
        }
    }
}

/// What is legible on the paper everybody can print goes on that; a yard of 60 by 100 ft gets 1/8" or 1/10" to the foot
/// (1:100 in metres) on the next: common practice, no source.
#[test]
fn small_yards_get_small_paper_and_ordinary_ones_a_legible_scale() {
    for (units, legible, small, next) in [
        (UnitSystem::FeetInches, 120, "Letter (ANSI A)", "Tabloid (ANSI B)"),
        (UnitSystem::Metres, 100, "A4", "A3"),
    ] {
        let drawing = draw(&points(units, &[(0.0, 0.0), (9.0, 0.0), (9.0, 15.0)]), &Options::default());
        assert_eq!((drawing.paper.name, drawing.scale.denominator() <= legible), (small, true));
        let drawing = draw(&points(units, &[(0.0, 0.0), (18.0, 0.0), (18.0, 28.0)]), &Options::default());
        assert_eq!((drawing.paper.name, drawing.scale.denominator() <= legible), (next, true));
    }
}

/// Lists never make the plan smaller: on the same paper it has the scale that it has with no list at all. Nor is
/// anything lost by it: a row is beside the plan or on a sheet of lists.
#[test]
fn the_plan_is_as_large_as_without_its_lists() {
    let mut apart = 0;
    for number in [1, 2] {
        let yard = yard(number);
        for paper in [None, Some("Letter"), Some("Tabloid"), Some("ARCH D"), Some("A3")] {
            let options = Options { paper: paper.and_then(Paper::named), ..Options::default() };
            let all = sheets(&yard, &options);
            let first = all.first().expect("a sheet");
            let bare = Options { paper: Some(first.paper), without_lists: true, ..Options::default() };
            assert!(
                first.scale <= draw(&yard, &bare).scale,
                "{number} on {}: 1:{:?}",
                first.paper.name,
                first.scale
            );
            assert!(paper.is_some() || first.scale.denominator() <= 120, "{number}: {:?}", first.scale);
            apart += all.len() - 1;
        }
    }
    assert!(apart > 3, "lists had room everywhere");
}

/// The paper's size stands in the file for browsers' printing too: the page rule of CSS Paged Media, which Chromium
/// heeds in an SVG file opened by itself.
#[test]
fn a_browser_prints_on_the_sheets_own_paper() {
    for paper in Paper::ALL {
        let drawing = draw(&yard(1), &Options { paper: Some(*paper), ..Options::default() });
        let document = super::parse(&drawing.svg);
        let root = document.root_element();
        let (w, h) = (root.attribute("width").expect("a width"), root.attribute("height").expect("a height"));
        let style = document.descendants().find(|n| n.has_tag_name("style")).and_then(|n| n.text());
        let rule = style.and_then(|style| style.lines().next());
        assert_eq!(rule, Some(format!("@page {{ size: {w} {h}; margin: 0 }}").as_str()), "{}", paper.name);
    }
}
