//! No text on the plan overlaps another, or a point's mark: read from the finished SVG, with boxes of our
//! own and with what a renderer inks, both apart from the code that places the texts.

use super::furnished::furnished;
use super::ownership::{Belonging, belonging, path};
use super::rendering::render_at;
use super::yards::{draw, sampler, yard};
use super::{attribute, by_id, parse};
use roxmltree::{Document, Node};
use std::time::Instant;
use swingtie_core::network::Adjustment;
use swingtie_core::plan::Plan;
use swingtie_core::record::{Record, UnitSystem};
use swingtie_core::sheet::{self, Drawing, Layers, Options, Paper, Scale};
use swingtie_core::units::float;

/// Advance widths of Helvetica from the space to the tilde, thousandths of the size: Adobe's font metrics
/// (AFM) for the 14 standard fonts of PDF, from memory. Arial has the same.
#[rustfmt::skip]
const HELVETICA: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
/// Heights of capitals and depth of descenders of the same, shares of the size (AFM: 718 and −207).
const UP: f64 = 0.718;
const DOWN: f64 = 0.207;

/// A text of the plan: its words and the corners of its box.
struct Text {
    words: String,
    corners: [(f64, f64); 4],
    /// Which label it is a line of.
    label: Option<usize>,
    /// Whether it stands in a sign of its own: a flag, a diamond, a circle.
    framed: bool,
}

impl Text {
    /// What an eye that goes on along the line meets next: the middle of its height, so much longer at both ends.
    fn reads_on(&self, by: f64) -> [(f64, f64); 4] {
        let [a, b, c, d] = self.corners;
        let long = float::hypot(b.0 - a.0, b.1 - a.1).max(1e-9);
        let (ux, uy) = ((b.0 - a.0) / long * by, (b.1 - a.1) / long * by);
        let between =
            |p: (f64, f64), q: (f64, f64), share: f64| (p.0 + (q.0 - p.0) * share, p.1 + (q.1 - p.1) * share);
        let back = |(x, y): (f64, f64)| (x - ux, y - uy);
        let on = |(x, y): (f64, f64)| (x + ux, y + uy);
        [back(between(a, d, 0.3)), on(between(b, c, 0.3)), on(between(b, c, 0.7)), back(between(a, d, 0.7))]
    }
    /// Whether both run the same way, to a few degrees.
    fn is_along(&self, other: &Self) -> bool {
        let way = |t: &Self| (t.corners[1].0 - t.corners[0].0, t.corners[1].1 - t.corners[0].1);
        let ((ax, ay), (bx, by)) = (way(self), way(other));
        (ax * by - ay * bx).abs() < 0.35 * (ax * bx + ay * by)
    }
}

/// Two spaces between words of the size most words have: what stands nearer in one line is read as one. Common
/// practice, no source.
const APART: f64 = 1.5;

fn text(node: Node<'_, '_>) -> Text {
    let words = node.text().unwrap_or_default().to_owned();
    let size = attribute(node, "font-size");
    let bold = node.attribute("font-weight") == Some("bold");
    let advance = |c: char| HELVETICA.get((c as usize).wrapping_sub(32)).map_or(1000.0, |w| f64::from(*w));
    let wide: f64 = words.chars().map(advance).sum::<f64>() / 1000.0 * size * if bold { 1.08 } else { 1.0 };
    let (x, y) = (attribute(node, "x"), attribute(node, "y"));
    let left = match node.attribute("text-anchor") {
        Some("middle") => x - wide / 2.0,
        None => x,
        other => panic!("{other:?}"),
    };
    let turn = node.attribute("transform").map_or(0.0, |turn| {
        let inner = turn.trim_start_matches("rotate(").trim_end_matches(')');
        inner.split(' ').next().and_then(|angle| angle.parse::<f64>().ok()).expect("an angle").to_radians()
    });
    let (s, c) = (swingtie_core::units::float::sin(turn), swingtie_core::units::float::cos(turn));
    let corner = |cx: f64, cy: f64| (x + (cx - x) * c - (cy - y) * s, y + (cx - x) * s + (cy - y) * c);
    let (up, down) = (y - UP * size, y + DOWN * size);
    let corners = [corner(left, up), corner(left + wide, up), corner(left + wide, down), corner(left, down)];
    let label = node.ancestors().find(|n| n.attribute("class") == Some("label")).map(|n| n.id().get_usize());
    let before = node.prev_sibling_element();
    let signs = ["layer-problems", "layer-photos", "layer-questions"];
    let framed = before.is_some_and(|n| n.has_tag_name("rect") || n.has_tag_name("circle"))
        || node.ancestors().any(|n| n.attribute("id").is_some_and(|id| signs.contains(&id)));
    Text { words, corners, label, framed }
}

/// Whether two convex outlines share ground: no side of either parts them.
fn meet(a: &[(f64, f64)], b: &[(f64, f64)]) -> bool {
    let parts = |outline: &[(f64, f64)]| {
        (0..outline.len()).any(|n| {
            let (p, q) = (outline[n], outline[(n + 1) % outline.len()]);
            let off = |at: &(f64, f64)| (at.0 - p.0) * (q.1 - p.1) - (at.1 - p.1) * (q.0 - p.0);
            let range = |all: &[(f64, f64)]| {
                let offs: Vec<f64> = all.iter().map(off).collect();
                (
                    offs.iter().copied().fold(f64::INFINITY, f64::min),
                    offs.iter().copied().fold(f64::NEG_INFINITY, f64::max),
                )
            };
            let (a, b) = (range(a), range(b));
            a.1 <= b.0 + 1e-9 || b.1 <= a.0 + 1e-9
        })
    };
    !parts(a) && !parts(b)
}

/// The group of what is drawn in the window.
pub fn window<'a>(document: &'a Document<'_>) -> Node<'a, 'a> {
    document.descendants().find(|n| n.attribute("clip-path").is_some()).expect("the drawing")
}

#[derive(Clone, Copy, Debug, Default)]
struct Count {
    labels: usize,
    leaders: usize,
    left_out: usize,
    overlaps: usize,
    /// Words on a line of another's dimension.
    struck: usize,
    belonging: Belonging,
}

impl Count {
    fn add(&mut self, other: Self) {
        self.labels += other.labels;
        self.leaders += other.leaders;
        self.left_out += other.left_out;
        self.overlaps += other.overlaps;
        self.struck += other.struck;
        self.belonging.add(other.belonging);
    }
}

/// Words that stand over a line of a dimension that is not their own.
fn struck_by_dimensions(name: &str, document: &Document<'_>, texts: &[Text]) -> usize {
    let Some(layer) = by_id(document, "layer-dimensions") else { return 0 };
    let mut struck = 0;
    for label in layer.descendants().filter(|n| n.attribute("class") == Some("label")) {
        let own = Some(label.id().get_usize());
        for drawn in label.descendants().filter(|n| n.attribute("stroke").is_some()) {
            for ((ax, ay), (bx, by)) in strokes(drawn) {
                let thin = [(ax, ay), (bx, by), (bx + 1e-3, by + 1e-3), (ax + 1e-3, ay + 1e-3)];
                let over = |t: &&Text| t.label.is_some() && t.label != own && meet(&t.corners, &thin);
                for text in texts.iter().filter(over) {
                    println!(
                        "{name}: {:?} at {:?} stands on a line of a dimension, {ax} {ay} to {bx} {by}",
                        text.words, text.corners[3]
                    );
                    struck += 1;
                }
            }
        }
    }
    struck
}

/// The straight pieces of a line or path.
fn strokes(node: Node<'_, '_>) -> Vec<((f64, f64), (f64, f64))> {
    match node.tag_name().name() {
        "line" => {
            let [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map(|name| attribute(node, name));
            vec![((x1, y1), (x2, y2))]
        }
        "path" => {
            let runs = path(node.attribute("d").unwrap_or_default());
            runs.iter().flat_map(|run| run.windows(2).map(|w| (w[0], w[1])).collect::<Vec<_>>()).collect()
        }
        _ => Vec::new(),
    }
}

/// Counts on a sheet; overlaps are printed.
fn count(name: &str, svg: &str) -> Count {
    let document = parse(svg);
    let window = window(&document);
    let texts: Vec<Text> = window.descendants().filter(|n| n.has_tag_name("text")).map(text).collect();
    let mut count = Count::default();
    let reach = |t: &Text| {
        let xs = t.corners.map(|c| c.0);
        (
            xs.iter().copied().fold(f64::INFINITY, f64::min),
            xs.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        )
    };
    let mut order: Vec<(f64, f64, &Text)> = texts.iter().map(|t| (reach(t).0, reach(t).1, t)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (n, (_, right, a)) in order.iter().enumerate() {
        for (left, _, b) in order.iter().skip(n + 1) {
            if left > right {
                break;
            }
            if meet(&a.corners, &b.corners) && (a.label.is_none() || a.label != b.label) {
                println!("{name}: {:?} and {:?} overlap near {:?}", a.words, b.words, a.corners[0]);
                count.overlaps += 1;
            }
        }
        // Words of two labels in one line.
        for (left, right_of, b) in order.iter().skip(n + 1) {
            if *left > right + 3.0 * APART {
                break;
            }
            let apart = a.label != b.label && !a.framed && !b.framed && *right_of > *left;
            if apart && a.is_along(b) && meet(&a.reads_on(APART), &b.corners) {
                println!("{name}: {:?} and {:?} are read as one near {:?}", a.words, b.words, a.corners[0]);
                count.overlaps += 1;
            }
        }
    }
    count.struck = struck_by_dimensions(name, &document, &texts);
    let points = window.descendants().filter(|n| n.attribute("class") == Some("point"));
    for mark in points.filter_map(|n| n.children().find(|n| n.has_tag_name("circle"))) {
        let (x, y, r) = (attribute(mark, "cx"), attribute(mark, "cy"), attribute(mark, "r") * 0.7);
        let square = [(x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)];
        for (.., text) in order.iter().take_while(|(left, ..)| *left <= x + r) {
            if text.label.is_some() && meet(&text.corners, &square) {
                println!("{name}: {:?} overlaps a mark at {x} {y}", text.words);
                count.overlaps += 1;
            }
        }
    }
    // Every text that may have a leader; the numbers of problems and photos are tied to their places by nature.
    for layer in ["layer-labels", "layer-dimensions", "layer-heights", "layer-fall"] {
        let Some(layer) = by_id(&document, layer) else { continue };
        count.labels += layer.descendants().filter(|n| n.attribute("class") == Some("label")).count();
        count.leaders += layer.descendants().filter(|n| n.attribute("class") == Some("leader")).count();
    }
    count
}

fn counted(name: &str, yard: &(Record, Adjustment), options: &Options) -> Count {
    let clock = Instant::now();
    let drawing = draw(yard, options);
    let took = clock.elapsed();
    let counts = counted_on(name, yard, &drawing);
    println!("{name}: {counts:?}, 1:{} on {}, {took:.0?}", drawing.scale.denominator(), drawing.paper.name);
    counts
}

fn counted_on(name: &str, yard: &(Record, Adjustment), drawing: &Drawing) -> Count {
    let mut counts = count(name, &drawing.svg);
    counts.belonging = belonging(name, drawing, yard);
    for notice in drawing.notices.iter().filter(|n| n.starts_with("No room")) {
        let numbers = notice.split(' ').filter_map(|word| word.parse::<usize>().ok());
        counts.left_out += numbers.sum::<usize>();
        println!("{name}: {notice}");
    }
    counts
}

/// The scenarios in feet and metres, with and without the tape lines, at the scale that is chosen and crowded at
/// half of it, and every sign there is.
#[test]
fn no_texts_overlap_on_the_scenarios() {
    let mut sum = Count::default();
    for number in [1, 2] {
        for (units, half) in [(UnitSystem::FeetInches, 192), (UnitSystem::Metres, 200)] {
            for (taped_lines, scale) in [(false, None), (true, None), (false, Some(half)), (true, Some(half))]
            {
                let mut yard = yard(number);
                yard.0.site.units = units;
                let layers = Layers { taped_lines, ..Layers::default() };
                let name = format!("scenario {number}, {units:?}, tapes {taped_lines}, {scale:?}");
                let scale = scale.and_then(Scale::one_to);
                let one = counted(&name, &yard, &Options { layers, scale, ..Options::default() });
                sum.add(one);
                assert!(taped_lines || one.left_out == 0, "{name}: {one:?}");
                assert!(scale.is_some() || one.struck == 0, "{name}: {one:?}");
            }
        }
    }
    println!("scenarios: {sum:?}");
    assert!(sum.leaders * 20 <= sum.labels, "more than one label in twenty on a leader: {sum:?}");
    assert!(
        sum.struck * 200 <= sum.labels,
        "more than one label in two hundred on a dimension's line: {sum:?}"
    );
    sum.add(counted("signs", &sampler(), &Options::default()));
    assert_eq!(sum.overlaps, 0);
    sum.belonging.judge(2000);
}

/// 20 generated yards, or as many as `SHEET_YARDS` says.
#[test]
fn no_texts_overlap_on_generated_yards() {
    let yards = std::env::var("SHEET_YARDS").ok().and_then(|n| n.parse().ok()).unwrap_or(20_u64);
    let mut sum = Count::default();
    for seed in 1..=yards {
        let points = [20, 40, 60, 100, 200][(seed % 5) as usize];
        let one = counted(&format!("yard {seed}"), &furnished(points, seed), &Options::default());
        sum.add(one);
    }
    println!("{yards} yards: {sum:?}");
    assert_eq!(sum.overlaps, 0);
    sum.belonging.judge(usize::try_from(yards).expect("a few") * 50);
    assert!(sum.leaders * 20 <= sum.labels, "more than one label in twenty on a leader: {sum:?}");
    assert!(
        sum.struck * 200 <= sum.labels,
        "more than one label in two hundred on a dimension's line: {sum:?}"
    );
}

/// Words struck out by a match line, each of which is a line across the whole window.
fn struck_out(name: &str, svg: &str) -> usize {
    let document = parse(svg);
    let Some(layer) = by_id(&document, "layer-match-lines") else { return 0 };
    let lines: Vec<[(f64, f64); 4]> = layer
        .children()
        .filter(|n| n.has_tag_name("line"))
        .map(|n| {
            let [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map(|name| attribute(n, name));
            let half = attribute(n, "stroke-width") / 2.0;
            let (x, y) = if x1 == x2 { (half, 0.0) } else { (0.0, half) };
            [(x1 - x, y1 - y), (x2 + x, y1 - y), (x2 + x, y2 + y), (x1 - x, y2 + y)]
        })
        .collect();
    let texts = window(&document).descendants().filter(|n| n.has_tag_name("text")).map(text);
    let struck = texts.filter(|text| text.label.is_some() && lines.iter().any(|l| meet(l, &text.corners)));
    struck.inspect(|text| println!("{name}: {:?} is on a match line", text.words)).count()
}

/// The scenarios at scales that need several sheets, and generated yards of 100 and more points.
#[test]
fn no_texts_overlap_on_sheets_of_parts() {
    let on = |paper: &str, scale: u32| Options {
        paper: Paper::named(paper),
        scale: Scale::one_to(scale),
        ..Options::default()
    };
    let mut all = vec![
        (yard(1), on("Letter", 96)),
        (yard(1), on("A4", 50)),
        (yard(2), on("Letter", 96)),
        (yard(2), on("A4", 50)),
    ];
    all.extend(
        [3, 4, 8, 9].map(|seed| (furnished([20, 40, 60, 100, 200][seed as usize % 5], seed), on("A4", 200))),
    );
    let (mut sum, mut sheets, mut cut) = (Count::default(), 0, 0);
    for (n, (yard, options)) in all.iter().enumerate() {
        let plan = Plan::build(&yard.0, &yard.1);
        for (sheet, drawing) in (1..).zip(sheet::sheets(&yard.0, &yard.1, &plan, options)) {
            if by_id(&parse(&drawing.svg), "layer-match-lines").is_none() {
                continue;
            }
            let name = format!("parts {n}, sheet {sheet}");
            sum.add(counted_on(&name, yard, &drawing));
            sum.overlaps += struck_out(&name, &drawing.svg);
            sheets += 1;
            cut += broken_off(&drawing.svg);
        }
    }
    println!("{sheets} sheets of parts, {cut} lengths broken off: {sum:?}");
    assert!(sheets > 30 && cut > 3, "{sheets} {cut}");
    assert_eq!(sum.overlaps, 0);
    assert!(sum.leaders * 20 <= sum.labels, "more than one label in twenty on a leader: {sum:?}");
    assert!(
        sum.struck * 200 <= sum.labels,
        "more than one label in two hundred on a dimension's line: {sum:?}"
    );
    sum.belonging.judge(500);
}

/// Dimensions that go on on another sheet, each of which says where.
fn broken_off(svg: &str) -> usize {
    let document = parse(svg);
    let layer = by_id(&document, "layer-dimensions");
    let texts = layer.into_iter().flat_map(|layer| layer.descendants()).filter(|n| n.has_tag_name("text"));
    texts
        .filter(|n| n.text().is_some_and(|words| words.contains(" to ") && words.contains(", sheet ")))
        .count()
}

/// What a renderer inks for each text, in the font it really uses: two texts differ in some bit of their
/// numbers, so some pair of pictures shows one without the other, and no pixel may be dark in both.
#[test]
fn no_ink_of_two_texts_meets() {
    for number in [1, 2] {
        let drawing = draw(&yard(number), &Options::default());
        let document = parse(&drawing.svg);
        let all: Vec<Node<'_, '_>> =
            window(&document).descendants().filter(|n| n.has_tag_name("text")).collect();
        assert!(all.len() > 60, "{} texts", all.len());
        let head = &drawing.svg[..drawing.svg.find("<title").expect("a title")];
        let picture = |chosen: &dyn Fn(usize) -> bool| {
            let mut svg = head.to_owned();
            for (_, node) in all.iter().enumerate().filter(|(n, _)| chosen(*n)) {
                svg.push_str(&drawing.svg[node.range()]);
            }
            svg.push_str("</svg>");
            render_at(&svg, 120.0)
        };
        let mut bit = 1;
        while bit < all.len() {
            let (with, without) = (picture(&|n| n & bit != 0), picture(&|n| n & bit == 0));
            let both = with.dark.iter().zip(&without.dark).filter(|(a, b)| a.min(**b) > 0.5).count();
            assert_eq!(both, 0, "pixels inked by two texts on sheet {number}, bit {bit}");
            bit *= 2;
        }
    }
}
