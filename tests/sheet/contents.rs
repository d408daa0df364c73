//! What a base plan must carry.

use super::yards::{draw, sampler, yard};
use super::{attribute, by_id, parse, texts, written};
use swingtie_core::record::{At, CATALOGUE, Facing, Photo, PhotoId, Recorded, UnitSystem};
use swingtie_core::sheet::{Layers, Options, Turn};
use swingtie_core::units::{Angle, float};
use swingtie_core::{book, network};
use swingtie_tests::scenario;

#[test]
fn the_same_record_gives_the_same_bytes() {
    for number in [1, 2] {
        let first = draw(&yard(number), &Options::default());
        let again = draw(&yard(number), &Options::default());
        assert_eq!(first.svg, again.svg);
    }
}

#[test]
fn furniture_is_complete() {
    let drawing = draw(&yard(1), &Options { revision: "C".into(), ..Options::default() });
    let document = parse(&drawing.svg);
    let written = written(&document);
    for words in [
        "Demo yard 1",
        "The Averys",
        "R. Avery",
        "16 May 2026",
        "feet and inches",
        "Scale at sheet size",
        "18 × 24 in",
        "Revision C",
        "Magnetic north",
        "compass",
        "Legend",
        "Problems seen",
        "Standing water",
        "How well this is known",
        "83 points",
        "T4",
        "variance factor 0.58",
        "Not a boundary survey",
        "marked before any digging",
        "private lines",
        "licensed people",
        "Not for setting out",
    ] {
        assert!(written.contains(words), "{words:?} is not on the sheet");
    }
}

/// The call number is American; elsewhere the caution stands without it.
#[test]
fn cautions_do_not_assume_a_country() {
    let mut yard = yard(2);
    assert!(written(&parse(&draw(&yard, &Options::default()).svg)).contains("811"));
    yard.0.site.units = UnitSystem::Metres;
    let metric = written(&parse(&draw(&yard, &Options::default()).svg));
    assert!(!metric.contains("811"));
    assert!(metric.contains("marked before any digging"));
}

#[test]
fn the_legend_names_what_occurs_and_nothing_else() {
    let document = draw(&yard(1), &Options::default()).svg;
    let document = parse(&document);
    let written = written(&document);
    for (words, occurs) in [
        ("Gas meter", true),
        ("Overhead wire", true),
        ("Gate", true),
        ("Blue mark: drinking water", true),
        ("Anywhere on this circle", true),
        ("Place not fixed", true),
        ("Edge of a canopy", true),
        ("Place of a corner or end not fixed", false),
        ("Well", false),
        ("Green mark", false),
        ("As told, not seen", false),
        ("Point, readings disagree", false),
    ] {
        assert_eq!(written.contains(words), occurs, "{words}");
    }
}

#[test]
fn layers_are_named_and_can_be_left_out() {
    let yard = yard(1);
    let all = Layers { taped_lines: true, ..Layers::default() };
    let full = draw(&yard, &Options { layers: all, ..Options::default() });
    let document = parse(&full.svg);
    let layers = ["points", "labels", "dimensions", "taped", "utilities", "problems"];
    for layer in ["house", "plants", "fences", "hard", "sheet"].iter().chain(&layers) {
        assert!(by_id(&document, &format!("layer-{layer}")).is_some(), "no layer {layer}");
    }
    let none = Layers {
        labels: false,
        points: false,
        dimensions: false,
        taped_lines: false,
        utilities: false,
        problems: false,
        photos: false,
        worth: false,
        heights: false,
        contours: false,
        fall: false,
        hatching: false,
        lists: false,
    };
    let bare = draw(&yard, &Options { layers: none, ..Options::default() });
    let document = parse(&bare.svg);
    for layer in layers {
        assert!(by_id(&document, &format!("layer-{layer}")).is_none(), "layer {layer} is still there");
    }
    assert!(!written(&document).contains("Problems seen"));
}

/// A wall's dimension is the reading as it was written, never a length worked out.
#[test]
fn dimensions_are_readings() {
    let yard = yard(1);
    let drawing = draw(&yard, &Options::default());
    let document = parse(&drawing.svg);
    let layer = by_id(&document, "layer-dimensions").expect("dimensions");
    let shown: Vec<&str> =
        layer.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
    let readings: Vec<String> = swingtie_core::plan::Plan::build(&yard.0, &yard.1)
        .taped
        .into_iter()
        .map(|taped| taped.text)
        .collect();
    assert!(shown.len() >= 6, "{shown:?}");
    for text in shown {
        assert!(readings.iter().any(|reading| reading == text), "{text} was never read");
    }
}

/// A fence's side that was taped from post to post carries its reading, as a wall does; beside it the same tape is not
/// written again as a tie.
#[test]
fn sides_of_a_fence_are_dimensioned_once() {
    use swingtie_core::plan::{Outline, Plan, What};
    let yard = yard(1);
    let plan = Plan::build(&yard.0, &yard.1);
    let fence = |what: &What| matches!(what, What::Feature(kind) if kind == "fence");
    let mut sides = Vec::new();
    for shape in plan.shapes.iter().filter(|shape| fence(&shape.what)) {
        let Outline::Line(places) = &shape.outline else { panic!("a fence is a line") };
        for ends in places.windows(2) {
            let tape = plan.taped.iter().find(|t| ends.contains(&t.from_at) && ends.contains(&t.to_at));
            sides.extend(tape.map(|tape| tape.text.clone()));
        }
    }
    assert!(sides.len() >= 3, "{sides:?}");
    for taped_lines in [false, true] {
        let layers = Layers { taped_lines, ..Layers::default() };
        let drawing = draw(&yard, &Options { layers, ..Options::default() });
        let document = parse(&drawing.svg);
        let all = texts(&document);
        for side in &sides {
            let tapes = plan.taped.iter().filter(|tape| tape.text == *side).count();
            let times = all.iter().filter(|text| *text == side).count();
            assert!((1..=tapes).contains(&times), "{side} stands there {times} times of {tapes}");
        }
    }
}

#[test]
fn every_problem_has_its_diamond_and_its_line_in_the_list() {
    let yard = yard(2);
    let drawing = draw(&yard, &Options::default());
    let document = parse(&drawing.svg);
    let layer = by_id(&document, "layer-problems").expect("problems");
    let numbers: Vec<&str> =
        layer.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
    let all = texts(&document);
    for n in 1..=yard.0.problems.len() {
        let n = n.to_string();
        assert!(numbers.contains(&n.as_str()), "no diamond {n}");
        assert!(all.iter().filter(|text| **text == n).count() >= 2, "{n} is not in the list");
    }
    let written = written(&document);
    assert!(written.contains("DANGER. Undersized or leaning post. Deck post"), "{written}");
}

#[test]
fn photos_are_numbered_and_an_arrow_looks_along_their_view() {
    let mut yard = yard(1);
    let corner = yard.0.by_label("H1").expect("a corner").id.clone();
    let photo = |at, facing| Recorded {
        entry: "photo".into(),
        author: "a".into(),
        at_ms: 0,
        what: Photo { at, facing, ..Photo::new(PhotoId("ab12".into()), "image/jpeg".into(), 1) },
    };
    let along_x = Some(Facing::Plan(Angle::ZERO));
    yard.0.photos = vec![photo(At::Site, along_x), photo(At::Points(vec![corner]), along_x)];
    let drawing = draw(&yard, &Options { turn: Turn::AsMeasured, ..Options::default() });
    let document = parse(&drawing.svg);
    let layer = by_id(&document, "layer-photos").expect("photos");
    let numbers: Vec<&str> =
        layer.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
    // The first has no place.
    assert_eq!(numbers, ["2"]);
    assert!(written(&document).contains("Photo and its view"));
    // As measured, the plan's x runs to the right of the sheet: so does the arrow.
    let number = |node: roxmltree::Node<'_, '_>, name: &str| node.attribute(name)?.parse::<f64>().ok();
    let ring = layer.descendants().find(|n| n.has_tag_name("circle")).expect("a circle");
    let (x, y) = (number(ring, "cx").unwrap(), number(ring, "cy").unwrap());
    let shaft = layer.descendants().filter(|n| n.has_tag_name("line")).find(|n| {
        let ends = ["x1", "y1", "x2", "y2"].map(|name| number(*n, name).unwrap());
        (ends[0] - x - 2.3).abs() < 0.1
            && (ends[1] - y).abs() < 0.1
            && ends[2] > x + 5.0
            && (ends[3] - y).abs() < 0.1
    });
    assert!(shaft.is_some(), "no arrow from {x}, {y} to the right");
}

/// Relative luminance and contrast ratio as WCAG 2.2 defines them.
fn contrast_on_white(colour: &str) -> f64 {
    let channel = |at: usize| {
        let value = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).expect("hexadecimal")) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { float::powf((value + 0.055) / 1.055, 2.4) }
    };
    let luminance = 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
    1.05 / (luminance + 0.05)
}

#[test]
fn coloured_lines_read_on_white_and_in_grey() {
    for number in [1, 2] {
        let drawing = draw(&yard(number), &Options::default());
        let document = parse(&drawing.svg);
        let layer = by_id(&document, "layer-utilities").expect("utilities");
        let mut letters = 0;
        for node in layer.descendants() {
            if let Some(stroke) = node.attribute("stroke") {
                assert!(contrast_on_white(stroke) >= 7.0, "{stroke}: {}", contrast_on_white(stroke));
            }
            letters += usize::from(node.has_tag_name("text"));
        }
        assert!(letters >= 3, "lines without letters");
    }
}

/// Estimated with half the font size for each character, not with the sheet's own table: no two
/// labels lie on each other by more than a fifth of the smaller.
#[test]
fn labels_keep_clear_of_each_other() {
    for number in [1, 2] {
        let drawing = draw(&yard(number), &Options::default());
        let document = parse(&drawing.svg);
        let layer = by_id(&document, "layer-labels").expect("labels");
        let upright = layer
            .descendants()
            .filter(|node| node.has_tag_name("text") && node.attribute("transform").is_none());
        let boxes: Vec<(String, [f64; 4])> = upright.map(label_box).collect();
        for (n, (a, box_a)) in boxes.iter().enumerate() {
            for (b, box_b) in boxes.iter().skip(n + 1) {
                let shared = overlap(box_a, box_b);
                let smaller = area(box_a).min(area(box_b));
                assert!(shared <= 0.2 * smaller, "{a} lies on {b}: {shared:.2} of {smaller:.2} mm²");
            }
        }
    }
}

fn label_box(node: roxmltree::Node<'_, '_>) -> (String, [f64; 4]) {
    let words = node.text().unwrap_or_default().to_owned();
    let size = attribute(node, "font-size");
    let (x, y) = (attribute(node, "x"), attribute(node, "y"));
    let letters = f64::from(u32::try_from(words.chars().count()).expect("short"));
    let half = letters * size * 0.5 / 2.0;
    (words, [x - half, y - 0.72 * size, x + half, y])
}

fn area(b: &[f64; 4]) -> f64 {
    (b[2] - b[0]) * (b[3] - b[1])
}

fn overlap(a: &[f64; 4], b: &[f64; 4]) -> f64 {
    let w = a[2].min(b[2]) - a[0].max(b[0]);
    let h = a[3].min(b[3]) - a[1].max(b[1]);
    if w > 0.0 && h > 0.0 { w * h } else { 0.0 }
}

/// From readings to sheet with the solver in between: the loose tree and the bad reading are named.
#[test]
fn a_solved_survey_says_what_is_wrong_with_it() {
    for (number, words) in
        [(1, "drawn only about where they are: T4"), (2, "Most likely misread: B to T3, read 19' 5\"")]
    {
        let book = scenario::scenario(number).book(&scenario::Options::default());
        let record = book::fold(&book).record;
        let adjustment = network::adjust(&record);
        let drawing = draw(&(record, adjustment), &Options::default());
        let written = written(&parse(&drawing.svg));
        assert!(written.contains(words), "{words:?} is not on sheet {number}: {written}");
        // Across the top, and in the title block, where nobody overlooks it.
        let wrong: Vec<&String> =
            drawing.notices.iter().filter(|n| n.contains("Readings contradict")).collect();
        assert_eq!((wrong.len(), drawing.notices.len()), if number == 2 { (1, 1) } else { (0, 0) });
        assert_eq!(written.contains("NOT TO BUILD BY"), number == 2);
    }
}

/// Every kind of the catalogue has a line in the legend, every colour its letters there and on the drawing.
#[test]
fn every_kind_has_a_sign_and_a_legend() {
    let layers = Layers { labels: false, points: false, ..Layers::default() };
    let drawing = draw(&sampler(), &Options { layers, ..Options::default() });
    let document = parse(&drawing.svg);
    let all: String = written(&document).split_whitespace().collect();
    for kind in CATALOGUE {
        // What is none of these is called as people call it.
        let name = if kind.key == "other" { "Other thing, as named" } else { kind.name };
        let name: String = name.split_whitespace().collect();
        assert!(all.contains(&name), "{} is not in the legend", kind.name);
    }
    for letters in ["E", "G", "T/C", "W", "I/RW", "S/D", "SV", "DIG"] {
        assert!(texts(&document).iter().filter(|text| *text == letters).count() >= 2, "no {letters} line");
    }
}

/// Heights, contours, falls and where water stands, each in a layer of its own that can be left out.
#[test]
fn levels_are_drawn_and_explained() {
    let drawing = draw(&yard(1), &Options::default());
    let document = parse(&drawing.svg);
    let words = written(&document);
    for said in [
        "D1a (front door left jamb) taken as 100.00 (assumed)",
        "Contours every 0.2 ft",
        "Height of the ground",
        "Contour, every fifth heavier",
        "Downhill, with its fall",
        "Where it runs over",
        "of water could stand (from these readings)",
        "in decimal feet; D1a",
        "heights by hand level, 5 set-ups; closed on DW1, D1a within",
        "checked by a second reading",
        "(95 %)",
    ] {
        assert!(words.contains(said), "{said:?} is not on the sheet: {words}");
    }
    let layer = by_id(&document, "layer-heights").expect("heights");
    let text = |node: &roxmltree::Node<'_, '_>| node.text().unwrap_or_default().to_owned();
    let figures: Vec<_> = layer.descendants().filter(|n| n.has_tag_name("text")).collect();
    // The threshold, which the level notes take as 100.00 and stands over the ground, is underlined.
    let threshold = figures.iter().find(|n| text(n) == "100.00").expect("the threshold");
    assert_eq!(threshold.attribute("text-decoration"), Some("underline"));
    // Every figure is within three standard deviations (0.04 ft each, as the notes say) of a true height.
    let truth = swingtie_tests::scenario::scenario(1).true_heights();
    let true_feet: Vec<f64> = truth.values().map(|height| height.feet()).collect();
    assert!(figures.len() >= 25, "{} heights", figures.len());
    for figure in figures {
        let feet: f64 = text(&figure).parse().expect("a figure");
        assert!(true_feet.iter().any(|z| (z - feet).abs() < 0.13), "{feet} is nobody's height");
    }
    for (layer, off) in [
        ("heights", Layers { heights: false, ..Layers::default() }),
        ("contours", Layers { contours: false, ..Layers::default() }),
        ("fall", Layers { fall: false, ..Layers::default() }),
    ] {
        assert!(by_id(&document, &format!("layer-{layer}")).is_some(), "no layer {layer}");
        let bare = draw(&yard(1), &Options { layers: off, ..Options::default() });
        assert!(
            by_id(&parse(&bare.svg), &format!("layer-{layer}")).is_none(),
            "layer {layer} is still there"
        );
    }
}

/// Nothing is written smaller than capitals of 1.8 mm, the smallest nominal height of ISO 3098-1: a font size of
/// 2.5 mm, whose capitals are 0.72 of it.
#[test]
fn no_text_is_too_small_to_read() {
    for yard in [yard(1), yard(2), sampler()] {
        let layers = Layers { taped_lines: true, ..Layers::default() };
        let drawing = draw(&yard, &Options { layers, ..Options::default() });
        let document = parse(&drawing.svg);
        for node in document.descendants().filter(|n| n.has_tag_name("text")) {
            let scaled = node
                .ancestors()
                .find_map(|n| n.attribute("transform")?.split("scale(").nth(1).map(str::to_owned));
            let scale: f64 = scaled.map_or(1.0, |s| s.trim_end_matches(')').parse().expect("a scale"));
            let size = attribute(node, "font-size") * scale;
            assert!(size >= 2.5, "{:?} is {size} mm", node.text());
        }
    }
}

/// A yard taped in feet and drawn in metres mixes no units on the plan: each length there is the reading's,
/// at 0.3048 m the foot (exactly, by the international yard and pound agreement of 1959).
#[test]
fn lengths_on_the_plan_are_in_the_sheets_units() {
    let mut yard = yard(2);
    yard.0.site.units = UnitSystem::Metres;
    let layers = Layers { taped_lines: true, ..Layers::default() };
    let drawing = draw(&yard, &Options { layers, ..Options::default() });
    let document = parse(&drawing.svg);
    let plan = swingtie_core::plan::Plan::build(&yard.0, &yard.1);
    let mut seen = 0;
    for layer in ["layer-dimensions", "layer-taped"] {
        let layer = by_id(&document, layer).expect("lengths");
        for text in layer.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()) {
            let metres: f64 =
                text.strip_suffix(" m").and_then(|m| m.parse().ok()).unwrap_or_else(|| panic!("{text}"));
            assert!(
                plan.taped.iter().any(|t| (t.length.feet() * 0.3048 - metres).abs() < 0.0006),
                "{text} was never read"
            );
            seen += 1;
        }
    }
    assert!(seen > 20, "only {seen} lengths");
    assert!(written(&document).contains("put in these units"));
}

/// What the checks found worth a look stands on the sheet, with who decides.
#[test]
fn what_is_worth_a_look_is_listed() {
    let yard = yard(1);
    let plan = swingtie_core::plan::Plan::build(&yard.0, &yard.1);
    let ground = swingtie_core::plan::Ground::of(&yard.0, &plan);
    let found = swingtie_core::checks::concerns(&yard.0, &plan, &ground);
    let layers = Layers { worth: true, ..Layers::default() };
    let all = written(&parse(&draw(&yard, &Options { layers, ..Options::default() }).svg));
    assert!(!found.is_empty() && all.contains("Worth a look") && all.contains("licensed people decide"));
    for concern in found {
        let first: String = concern.what.chars().take(20).collect();
        assert!(all.contains(first.trim()), "{} is not on the sheet", concern.what);
    }
}

/// A sheet without the marks says that there are some: nobody shall dig by it thinking that there are none.
#[test]
fn what_was_left_off_by_choice_is_named() {
    let yard = yard(1);
    assert!(!written(&parse(&draw(&yard, &Options::default()).svg)).contains("Left off"));
    let layers = Layers { utilities: false, problems: false, ..Layers::default() };
    let said = written(&parse(&draw(&yard, &Options { layers, ..Options::default() }).svg));
    let (marks, problems) = (yard.0.marks.len(), yard.0.problems.len());
    let words = format!("by choice: {marks} × utility mark, {problems} × problem.");
    assert!(marks > 0 && problems > 0 && said.replace('\n', " ").contains(&words), "{said}");
}
