//! Everything stands where it should, to scale.

use super::yards::{draw, points, yard};
use super::{attribute, by_id, mark, parse, scale_bar};
use swingtie_core::network::PointState;
use swingtie_core::record::{NorthKind, UnitSystem};
use swingtie_core::sheet::{Options, Turn};
use swingtie_core::units::{Angle, float};
use swingtie_tests::scenario::scenario;

/// Coordinates are written to a thousandth of a millimetre.
const ROUNDING: f64 = 0.0006;

fn close(actual: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((actual - expected).abs() <= tolerance, "{what}: {actual}, expected {expected} ± {tolerance}");
}

/// The bar's length on paper times the scale is the number written at its end. The foot is 0.3048 m
/// exactly (1959 agreement); the rest is arithmetic.
#[test]
fn the_scale_bar_is_exact() {
    for units in [UnitSystem::FeetInches, UnitSystem::DecimalFeet, UnitSystem::Metres] {
        for size in [2.0, 9.0, 22.0, 41.0, 77.0, 150.0, 420.0] {
            let drawing = draw(&points(units, &[(0.0, 0.0), (size, size * 0.6)]), &Options::default());
            let document = parse(&drawing.svg);
            let (on_paper, end, unit) = scale_bar(&document);
            let foot_or_metre = match (units, unit.as_str()) {
                (UnitSystem::Metres, "metres") => 1000.0,
                (_, "feet") => 304.8,
                other => panic!("unit {other:?}"),
            };
            let expected = end * foot_or_metre / f64::from(drawing.scale.denominator());
            close(on_paper, expected, ROUNDING, &format!("bar of {end} {unit} at {:?}", drawing.scale));
            assert!(on_paper > 15.0, "a bar of {on_paper} mm is too short to measure with");
        }
    }
}

/// Every mark against the true coordinates and the scale alone: nothing of the sheet's own
/// arithmetic is used but its denominator.
#[test]
fn marks_stand_to_scale_as_measured() {
    for number in [1, 2] {
        let options = Options { turn: Turn::AsMeasured, ..Options::default() };
        let drawing = draw(&yard(number), &options);
        let document = parse(&drawing.svg);
        let truth = scenario(number).truth();
        let per_metre = 1000.0 / f64::from(drawing.scale.denominator());
        let first = mark(&document, "H1").expect("H1 is drawn");
        let (x1, y1) = truth[&"H1".into()].metres();
        let mut seen = 0;
        for (id, at) in &truth {
            let Some((x, y)) = mark(&document, id.as_str()) else { continue };
            let (tx, ty) = at.metres();
            close(x - first.0, (tx - x1) * per_metre, 2.0 * ROUNDING, id.as_str());
            close(first.1 - y, (ty - y1) * per_metre, 2.0 * ROUNDING, id.as_str());
            seen += 1;
        }
        assert!(seen > 75, "only {seen} marks");
    }
}

/// Turning keeps every distance, and puts north where the bearing of its line says.
#[test]
fn north_up_turns_the_recorded_bearing() {
    for number in [1, 2] {
        let yard = yard(number);
        let north = yard.0.north.clone().expect("the scenario has a compass bearing");
        let drawing = draw(&yard, &Options { turn: Turn::NorthUp, ..Options::default() });
        let document = parse(&drawing.svg);
        let (x1, y1) = mark(&document, north.from.as_str()).expect("start of the north line");
        let (x2, y2) = mark(&document, north.to.as_str()).expect("end of the north line");
        let clockwise_from_up = float::atan2(x2 - x1, y1 - y2);
        let expected = north.bearing.radians();
        let off = (clockwise_from_up - expected).rem_euclid(std::f64::consts::TAU);
        assert!(off.min(std::f64::consts::TAU - off) < 1e-4, "{clockwise_from_up} for {expected}");
    }
}

#[test]
fn squared_lays_the_longest_wall_along_the_paper() {
    let drawing = draw(&yard(1), &Options::default());
    let document = parse(&drawing.svg);
    // The left wall, 42' 8", is the longest of scenario 1.
    let (a, b) = (mark(&document, "H1").expect("H1"), mark(&document, "H6").expect("H6"));
    let across = (a.0 - b.0).abs().min((a.1 - b.1).abs());
    assert!(across < 0.01, "the wall is {across} mm off square");
    let truth = scenario(1).truth();
    let metres = truth[&"H1".into()].distance(truth[&"H6".into()]).metres();
    let on_paper = float::hypot(a.0 - b.0, a.1 - b.1);
    close(on_paper, metres * 1000.0 / f64::from(drawing.scale.denominator()), 0.002, "length of the wall");
}

#[test]
fn on_sheet_agrees_with_what_is_drawn() {
    let yard = yard(2);
    let drawing = draw(&yard, &Options { turn: Turn::By(Angle::from_degrees(33.0)), ..Options::default() });
    let document = parse(&drawing.svg);
    for (id, at) in scenario(2).truth() {
        if let Some((x, y)) = mark(&document, id.as_str()) {
            let (sx, sy) = drawing.on_sheet(at);
            close(x, sx.millimetres(), ROUNDING, id.as_str());
            close(y, sy.millimetres(), ROUNDING, id.as_str());
        }
    }
}

#[test]
fn everything_fits_the_window() {
    for number in [1, 2] {
        let drawing = draw(&yard(number), &Options::default());
        let document = parse(&drawing.svg);
        let window = by_id(&document, "window").expect("the window").first_element_child().expect("a rect");
        let (x0, y0) = (attribute(window, "x"), attribute(window, "y"));
        let (x1, y1) = (x0 + attribute(window, "width"), y0 + attribute(window, "height"));
        for node in document.descendants().filter(|node| node.attribute("data-label").is_some()) {
            let label = node.attribute("data-label").unwrap_or_default();
            let (x, y) = mark(&document, label).expect("a mark");
            assert!(x > x0 && x < x1 && y > y0 && y < y1, "{label} is outside the window");
        }
    }
}

/// A tree's canopy and trunk are circles to scale about its point.
#[test]
fn canopy_and_trunk_are_to_scale() {
    let yard = yard(1);
    let drawing = draw(&yard, &Options::default());
    let document = parse(&drawing.svg);
    let plants = by_id(&document, "layer-plants").expect("plants");
    let spread = yard.0.features.iter().find(|f| f.what.kind == "tree").expect("a tree");
    let point = spread.what.points.first().expect("its point");
    let label = yard.0.label(point).to_owned();
    let canopy = match spread.what.attributes.get("canopy_spread") {
        Some(swingtie_core::record::Attribute::Length(reading)) => reading.value,
        other => panic!("{other:?}"),
    };
    let expected = canopy.millimetres() / 2.0 / f64::from(drawing.scale.denominator());
    let (x, y) = mark(&document, &label).expect("the tree's point");
    let here = |node: &roxmltree::Node<'_, '_>| {
        (attribute(*node, "cx") - x).abs() < 0.002 && (attribute(*node, "cy") - y).abs() < 0.002
    };
    let mut radii: Vec<f64> = plants
        .children()
        .filter(|n| n.has_tag_name("circle"))
        .filter(here)
        .map(|n| attribute(n, "r"))
        .collect();
    radii.sort_by(f64::total_cmp);
    close(*radii.last().expect("a canopy"), expected, ROUNDING, "canopy radius");
}

#[test]
fn the_north_arrow_points_along_the_recorded_north() {
    let yard = yard(1);
    let kind = yard.0.north.as_ref().expect("north").kind;
    assert_eq!(kind, NorthKind::Magnetic);
    // North up: the needle's shaft is upright.
    let drawing = draw(&yard, &Options { turn: Turn::NorthUp, ..Options::default() });
    let document = parse(&drawing.svg);
    let arrow = by_id(&document, "north-arrow").expect("an arrow");
    let shaft = arrow.children().find(|node| node.has_tag_name("line")).expect("a shaft");
    close(attribute(shaft, "x1"), attribute(shaft, "x2"), ROUNDING, "shaft");
    assert!(attribute(shaft, "y2") < attribute(shaft, "y1"), "the arrow points down");
    // A half head says magnetic: one barb only.
    assert_eq!(arrow.children().filter(|node| node.has_tag_name("path")).count(), 1);
}

#[test]
fn a_loose_point_shows_where_it_may_stand() {
    let yard = yard(1);
    let drawing = draw(&yard, &Options::default());
    let document = parse(&drawing.svg);
    let tied_to = mark(&document, "H6").expect("H6");
    let t4 = mark(&document, "T4").expect("T4");
    let radius = float::hypot(t4.0 - tied_to.0, t4.1 - tied_to.1);
    let layer = by_id(&document, "layer-loose").expect("where it may be");
    // Words have a white ground: what is drawn after them strikes them out.
    let starts = |layer: &str| drawing.svg.find(&format!("\"layer-{layer}\"")).expect("a layer");
    assert!(["dimensions", "heights", "labels"].iter().all(|words| starts("loose") < starts(words)));
    let ring = layer.children().filter(|node| node.has_tag_name("circle")).find(|node| {
        (attribute(*node, "cx") - tied_to.0).abs() < 0.002
            && (attribute(*node, "cy") - tied_to.1).abs() < 0.002
            && (attribute(*node, "r") - radius).abs() < 0.002
    });
    assert!(ring.is_some(), "no circle of possible places about H6 through T4");
    assert_eq!(yard.1.points[&"T4".into()].state, PointState::Loose);
}

/// A tree on such a point is drawn in dots, with a question mark and words; one that is fixed in none of them.
#[test]
fn a_thing_whose_place_is_not_fixed_looks_so() {
    let yard = yard(1);
    let drawing = draw(&yard, &Options::default());
    let document = parse(&drawing.svg);
    let plants = by_id(&document, "layer-plants").expect("plants");
    let rings = |label: &str| {
        let (x, y) = mark(&document, label).expect("its mark");
        let about = |node: &roxmltree::Node<'_, '_>| {
            node.has_tag_name("circle")
                && (attribute(*node, "cx") - x).abs() < 0.002
                && (attribute(*node, "cy") - y).abs() < 0.002
        };
        plants.descendants().filter(about).map(|node| node.attribute("stroke-dasharray")).collect::<Vec<_>>()
    };
    let (fixed, loose) = (rings("T1"), rings("T4"));
    assert_eq!((fixed.len(), loose.len()), (3, 3));
    assert!(loose.iter().all(Option::is_some), "{loose:?}");
    assert!(loose.iter().all(|dash| !fixed.contains(dash)), "{fixed:?} {loose:?}");
    let asked = plants.descendants().filter(|node| node.has_tag_name("text") && node.text() == Some("?"));
    assert_eq!(asked.count(), 1);
    assert_eq!(super::written(&document).matches("place not fixed").count(), 1);
}

/// A chosen scale is kept, even when the sheet is then too small; the sheet says so.
#[test]
fn a_chosen_scale_is_kept() {
    let yard = yard(1);
    let scale = swingtie_core::sheet::Scale::one_to(48);
    let paper = swingtie_core::sheet::Paper::named("letter");
    let drawing = draw(&yard, &Options { scale, paper, ..Options::default() });
    assert_eq!(drawing.scale.denominator(), 48);
    assert_eq!(drawing.paper.name, "Letter (ANSI A)");
    assert!(drawing.notices.iter().any(|n| n.contains("cut off")), "{:?}", drawing.notices);
    assert!(super::written(&parse(&drawing.svg)).contains("cut off"));
    let sides = [drawing.width.millimetres(), drawing.height.millimetres()];
    close(sides[0].max(sides[1]), 279.4, 1e-9, "long side");
    close(sides[0].min(sides[1]), 215.9, 1e-9, "short side");
}
