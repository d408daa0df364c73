//! Sites too large for one sheet.

use super::yards::{draw, points, sheets, yard};
use super::{attribute, by_id, mark, parse, scale_bar, texts, written};
use std::collections::BTreeMap;
use swingtie_core::network::Adjustment;
use swingtie_core::plan::Plan;
use swingtie_core::record::{Record, UnitSystem};
use swingtie_core::sheet::{Drawing, Options, Paper, Scale};
use swingtie_core::units::{PlanPoint, float};

fn on(paper: &str, scale: u32) -> Options {
    Options { paper: Paper::named(paper), scale: Scale::one_to(scale), ..Options::default() }
}

/// A field of pegs 400 m by 250 m.
fn field() -> (Record, Adjustment) {
    let places: Vec<(f64, f64)> = (0..=16)
        .flat_map(|column| (0..=10).map(move |row| (f64::from(column) * 25.0, f64::from(row) * 25.0)))
        .collect();
    points(UnitSystem::Metres, &places)
}

#[test]
fn what_fits_is_one_sheet() {
    for yard in [yard(1), yard(2)] {
        let options = Options { paper: Paper::named("ARCH D"), ..Options::default() };
        assert_eq!(sheets(&yard, &options), [draw(&yard, &options)]);
    }
}

/// Whether a sheet has lists and no plan.
fn is_list(drawing: &Drawing) -> bool {
    by_id(&parse(&drawing.svg), "layer-match-lines").is_none()
}

/// The points of all parts, where each lies on which sheet: sheet number, mm.
fn marks(all: &[Drawing], labels: &[String]) -> BTreeMap<String, Vec<(usize, f64, f64)>> {
    let mut found: BTreeMap<String, Vec<(usize, f64, f64)>> = BTreeMap::new();
    for (n, drawing) in all.iter().enumerate().skip(1).filter(|(_, drawing)| !is_list(drawing)) {
        let document = parse(&drawing.svg);
        let window = by_id(&document, "window").expect("a window");
        let rect = window.first_element_child().expect("its frame");
        let (x0, y0) = (attribute(rect, "x"), attribute(rect, "y"));
        let (x1, y1) = (x0 + attribute(rect, "width"), y0 + attribute(rect, "height"));
        for label in labels {
            if let Some((x, y)) =
                mark(&document, label).filter(|(x, y)| *x > x0 && *x < x1 && *y > y0 && *y < y1)
            {
                found.entry(label.clone()).or_default().push((n + 1, x, y));
            }
        }
    }
    found
}

#[test]
fn every_point_is_on_a_part_at_the_scale_that_was_asked_for() {
    for (yard, options) in [(field(), on("A4", 500)), (yard(1), on("Letter", 96)), (yard(2), on("A4", 50))] {
        let all = sheets(&yard, &options);
        assert!(all.len() > 2, "{}", all.len());
        let labels: Vec<String> = yard.0.points.iter().map(|p| p.label.clone()).collect();
        let placed = Plan::build(&yard.0, &yard.1);
        let of: BTreeMap<&str, PlanPoint> = placed.points.iter().map(|p| (p.label.as_str(), p.at)).collect();
        let found = marks(&all, &labels);
        for label in of.keys() {
            assert!(found.contains_key(*label), "{label} is on no sheet");
        }
        // Two points on one sheet are as far apart as the scale has it: plain arithmetic.
        let scale = f64::from(options.scale.expect("given").denominator());
        let on_one = |n: usize| {
            found.iter().filter_map(move |(label, at)| Some((label, at.iter().find(|at| at.0 == n)?)))
        };
        let mut compared = 0;
        for n in 2..=all.len() {
            let here: Vec<_> = on_one(n).collect();
            for pair in here.windows(2) {
                let [(a, at_a), (b, at_b)] = pair else { continue };
                let ground = of[a.as_str()].distance(of[b.as_str()]).millimetres();
                let paper = float::hypot(at_a.1 - at_b.1, at_a.2 - at_b.2);
                assert!((paper - ground / scale).abs() < 0.005, "{a} {b} on sheet {n}");
                compared += 1;
            }
        }
        assert!(compared > 5, "{compared}");
        for (n, drawing) in all.iter().enumerate() {
            let document = parse(&drawing.svg);
            assert!(written(&document).contains(&format!("Sheet {} of {}", n + 1, all.len())));
            if n > 0 && is_list(drawing) {
                continue;
            }
            assert_eq!(drawing.scale.denominator() == options.scale.expect("given").denominator(), n > 0);
            // The bar is as long as its figure says at the sheet's own scale.
            let (long, end, unit) = scale_bar(&document);
            let metres = if unit == "feet" { end * 0.3048 } else { end };
            assert!((long - metres * 1000.0 / f64::from(drawing.scale.denominator())).abs() < 0.01);
        }
    }
}

/// The legend of a part explains what only parts have: where they end, and lengths that go on. Of one sheet alone it
/// says nothing of the kind.
#[test]
fn what_ends_a_part_is_in_its_legend() {
    let rows = ["Match line, where sheets join", "Length that goes on beyond"];
    let (mut parts, mut broken) = (0, 0);
    for drawing in [yard(1), yard(2)].iter().flat_map(|yard| sheets(yard, &on("Letter", 96))) {
        let document = parse(&drawing.svg);
        let words = written(&document);
        if !words.contains("Legend") {
            continue;
        }
        let [joins, goes_on] = rows.map(|row| words.contains(row));
        assert_eq!(joins, !is_list(&drawing));
        let cut = words.contains(", sheet ");
        assert!(goes_on || !cut || !joins, "{words}");
        parts += usize::from(joins);
        broken += usize::from(goes_on && cut);
    }
    assert!(parts > 2 && broken > 0, "{parts} {broken}");
    let whole = draw(&yard(1), &Options::default());
    assert!(rows.iter().all(|row| !written(&parse(&whole.svg)).contains(row)));
}

/// What a match line cuts lies on both sheets at the same place of the line.
#[test]
fn match_lines_of_neighbours_are_the_same_line() {
    let yard = field();
    let all = sheets(&yard, &on("A4", 500));
    let labels: Vec<String> = yard.0.points.iter().map(|p| p.label.clone()).collect();
    let found = marks(&all, &labels);
    let mut seams = 0;
    for (n, drawing) in all.iter().enumerate().skip(1) {
        let document = parse(&drawing.svg);
        let lines = by_id(&document, "layer-match-lines").expect("match lines");
        let drawn = lines.children().filter(|node| node.has_tag_name("line"));
        let words = lines.children().filter(|node| node.has_tag_name("text"));
        for (line, words) in drawn.zip(words) {
            let other: usize =
                words.text().and_then(|w| w.rsplit(' ').next()?.parse().ok()).expect("a number");
            let there = parse(&all[other - 1].svg);
            let back = by_id(&there, "layer-match-lines").expect("match lines");
            let own_number = format!(" {}", n + 1);
            let at = back
                .children()
                .filter(|node| node.has_tag_name("text"))
                .position(|node| node.text().is_some_and(|w| w.ends_with(&own_number)))
                .expect("the way back");
            let mirrored =
                back.children().filter(|node| node.has_tag_name("line")).nth(at).expect("its line");
            let upright = attribute(line, "x1") == attribute(line, "x2");
            // A point on both sheets is as far beyond the line on one as it is short of it on the other.
            for at in found.values() {
                let here = at.iter().find(|at| at.0 == n + 1);
                let over = at.iter().find(|at| at.0 == other);
                let (Some(here), Some(over)) = (here, over) else { continue };
                let (a, b) = if upright {
                    (here.1 - attribute(line, "x1"), over.1 - attribute(mirrored, "x1"))
                } else {
                    (here.2 - attribute(line, "y1"), over.2 - attribute(mirrored, "y1"))
                };
                assert!((a - b).abs() < 0.005, "{a} {b}");
                seams += 1;
            }
        }
    }
    assert!(seams > 4, "{seams}");
}

#[test]
fn the_first_sheet_names_the_others() {
    let all = sheets(&field(), &on("A4", 500));
    let document = parse(&all[0].svg);
    let words = texts(&document);
    for n in 2..=all.len() {
        assert!(words.contains(&n.to_string()), "sheet {n}");
    }
    assert!(written(&document).contains(&format!("on sheets 2 to {}, at 1:500", all.len())));
}

/// Every row is on the sheet of lists that a larger paper has room for beside the plan.
#[test]
fn lists_without_room_have_a_sheet_of_their_own() {
    for (yard, paper) in [(yard(1), "Letter"), (yard(2), "A4")] {
        let large = draw(&yard, &Options { paper: Paper::named("ARCH D"), ..Options::default() });
        let all = sheets(&yard, &Options { paper: Paper::named(paper), ..Options::default() });
        assert!(all.len() > 1, "{paper}: everything fits");
        let first = written(&parse(&all[0].svg));
        assert!(first.contains("On sheet 2: "), "{first}");
        let listed: Vec<String> = all.iter().skip(1).map(|drawing| written(&parse(&drawing.svg))).collect();
        let listed = listed.join(" ");
        let bare = |text: &str| text.split_whitespace().collect::<String>();
        // Each thing's label stands at the head of its row.
        for feature in &yard.0.features {
            let label = feature.what.points.first().map(|id| yard.0.label(id)).unwrap_or_default();
            assert!(bare(&listed).contains(&bare(label)), "{label} is in no list");
        }
        let on_large = written(&parse(&large.svg));
        for word in
            on_large.split_whitespace().filter(|word| word.ends_with("in.") || word.ends_with("leaf,"))
        {
            assert!(listed.contains(word) || first.contains(word), "{word}");
        }
        assert!(all.iter().all(|drawing| drawing.paper.name == all[0].paper.name));
    }
}

/// Beyond what anybody puts together the whole stays on one sheet, which says what is wrong.
#[test]
fn too_many_sheets_are_none() {
    let all = sheets(&field(), &on("A4", 20));
    assert_eq!(all.len(), 1);
    assert!(all[0].notices.iter().any(|notice| notice.contains("larger than this sheet")));
}
