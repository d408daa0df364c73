//! The plan of a yard small enough to check by hand: a 3-4-5 triangle.

use super::{Outline, Plan, What, placed_photos};
use crate::network::{Adjustment, Fix, FoundNorth, Freedom, PointState};
use crate::record::{
    At, Attribute, AuthorId, EntryId, Facing, Feature, How, Leg, Measurement, North, NorthKind, Photo,
    PhotoId, Point, PointId, Problem, Reading, Record, Recorded, Severity, Side,
};
use crate::units::{Angle, Length, PlanPoint};
use litemap::LiteMap;

fn recorded<T>(id: &str, what: T) -> Recorded<T> {
    Recorded { entry: EntryId::from(id), author: AuthorId::from("a"), at_ms: 0, what }
}

fn reading(metres: f64) -> Reading {
    Reading { text: format!("{metres} m"), value: Length::from_metres(metres) }
}

fn feature(kind: &str, points: &[&str]) -> Feature {
    Feature {
        kind: kind.into(),
        points: points.iter().map(|p| PointId::from(*p)).collect(),
        name: String::new(),
        fate: None,
        attributes: LiteMap::new(),
        curved: false,
        told: false,
        note: String::new(),
    }
}

/// A (0, 0), B (4, 0), C (4, 3) determined; D loose at a guess; E nowhere.
fn triangle() -> (Record, Adjustment) {
    let (mut record, mut adjustment) = (Record::default(), Adjustment::default());
    let places =
        [("A", Some((0.0, 0.0))), ("B", Some((4.0, 0.0))), ("C", Some((4.0, 3.0))), ("D", None), ("E", None)];
    for (label, at) in places {
        let id = PointId::from(label);
        record.points.push(Point { id: id.clone(), label: label.into(), note: String::new() });
        let at = at.map(|(x, y)| PlanPoint::from_metres(x, y));
        let fix = Fix {
            at,
            guess: (label == "D").then(|| PlanPoint::from_metres(1.0, 5.0)),
            state: if at.is_some() { PointState::Checked } else { PointState::Loose },
            ellipse: None,
            freedom: at.is_none().then_some(Freedom::Unmeasured),
        };
        adjustment.points.insert(id, fix);
    }
    (record, adjustment)
}

/// What hangs on one tape is not drawn in the house, but as far from the tape's end as was read, and some 30
/// degrees clear of the wall that is nearest to the guess: plain arithmetic.
#[test]
fn what_may_stand_anywhere_on_a_circle_is_drawn_outdoors() {
    let (mut record, mut adjustment) = triangle();
    record.features.push(recorded("house", feature("house", &["A", "B", "C"])));
    let drawn = |record: &Record, adjustment: &mut Adjustment, guess: (f64, f64)| {
        let fix = adjustment.points.get_mut(&PointId::from("D")).unwrap();
        fix.guess = Some(PlanPoint::from_metres(guess.0, guess.1));
        fix.freedom =
            Some(Freedom::OnCircle { centre: PointId::from("B"), radius: Length::from_metres(1.0) });
        let plan = Plan::build(record, adjustment);
        plan.points.iter().find(|p| p.label == "D").unwrap().at.metres()
    };
    // 1 m left of B stands on the wall A–B; 45 degrees up from it is indoors.
    let half = std::f64::consts::FRAC_1_SQRT_2;
    let (x, y) = drawn(&record, &mut adjustment, (4.0 - half, half));
    assert!((crate::units::float::hypot(x - 4.0, y) - 1.0).abs() < 1e-9);
    assert!(!crate::units::outline::inside(
        &[(0.0, 0.0), (4.0, 0.0), (4.0, 3.0)].map(|(x, y)| PlanPoint::from_metres(x, y)),
        PlanPoint::from_metres(x, y)
    ));
    let off = (crate::units::float::atan2(y, x - 4.0).to_degrees() - 135.0).rem_euclid(360.0);
    // The wall is 45 degrees off; 30 degrees farther it stands in no door.
    assert!((70.0..90.0).contains(&off.min(360.0 - off)), "{off}");
    // Outdoors it stays where it is; so it does where there is no house.
    assert_eq!(drawn(&record, &mut adjustment, (5.0, 0.0)), (5.0, 0.0));
    record.features.clear();
    assert_eq!(drawn(&record, &mut adjustment, (4.0 - half, half)), (4.0 - half, half));
}

#[test]
fn a_loose_point_is_drawn_at_its_guess_and_one_without_is_named() {
    let (record, adjustment) = triangle();
    let plan = Plan::build(&record, &adjustment);
    let labels: Vec<&str> = plan.points.iter().map(|p| p.label.as_str()).collect();
    assert_eq!(labels, ["A", "B", "C", "D"]);
    assert_eq!(plan.unplaced, [(PointId::from("E"), "E".to_owned())]);
}

#[test]
fn a_shape_is_certain_only_when_all_its_points_are() {
    let (mut record, adjustment) = triangle();
    for (id, points) in [("1", ["A", "B", "C"]), ("2", ["A", "B", "D"]), ("3", ["A", "B", "E"])] {
        record.features.push(recorded(id, feature("patio", &points)));
    }
    let plan = Plan::build(&record, &adjustment);
    let certain: Vec<bool> = plan.shapes.iter().map(|s| s.certain).collect();
    assert_eq!(certain, [true, false, false]);
    // Two of three corners have a place: a line, not an area through a corner made up.
    assert!(matches!(plan.shapes.last().map(|s| &s.outline), Some(Outline::Line(at)) if at.len() == 2));
}

#[test]
fn attributes_are_diameters_and_outlines_have_radii() {
    let (mut record, adjustment) = triangle();
    let mut tree = feature("tree", &["C"]);
    tree.attributes.insert("trunk_diameter".into(), Attribute::Length(reading(0.4)));
    tree.attributes.insert("canopy_spread".into(), Attribute::Length(reading(6.0)));
    record.features.push(recorded("1", tree));
    let plan = Plan::build(&record, &adjustment);
    let Some(Outline::Circle { inner, outer, .. }) = plan.shapes.first().map(|s| &s.outline) else {
        panic!("a tree is a circle")
    };
    assert_eq!(inner.map(Length::metres), Some(0.2));
    assert_eq!(outer.map(Length::metres), Some(3.0));
    // The canopy belongs to the bounds: 4 + 3 to the right, 3 − 3 below.
    let bounds = plan.bounds.unwrap();
    assert_eq!(bounds.max.metres(), (7.0, 6.0));
    assert_eq!(bounds.min.metres(), (0.0, 0.0));
}

#[test]
fn north_lies_to_the_left_of_its_line_by_the_bearing() {
    // B to C runs along the plan's y. Bearing 90°: it runs east, so north is 90° to its left: along −x.
    let (mut record, adjustment) = triangle();
    record.north = Some(North {
        from: "B".into(),
        to: "C".into(),
        bearing: Angle::RIGHT,
        kind: NorthKind::True,
        declination: None,
        source: "typed".into(),
        sd: None,
    });
    let north = Plan::build(&record, &adjustment).north.unwrap();
    assert!((north.direction.degrees() - 180.0).abs() < 1e-12, "{:?}", north.direction);
}

#[test]
fn a_walk_gives_its_taped_walls() {
    let (mut record, adjustment) = triangle();
    let legs = vec![
        Leg { turn: None, to: "B".into(), length: Some(reading(4.0)) },
        Leg { turn: None, to: "C".into(), length: None },
        Leg { turn: None, to: "A".into(), length: Some(reading(5.0)) },
    ];
    let walk = Measurement::Walk { start: "A".into(), legs, how: How::default() };
    record.measurements.push(recorded("w", walk));
    let plan = Plan::build(&record, &adjustment);
    let taped: Vec<_> =
        plan.taped.iter().map(|t| (t.from.as_str(), t.to.as_str(), t.part, t.along)).collect();
    assert_eq!(taped, [("A", "B", 0, true), ("C", "A", 2, true)]);
}

#[test]
fn problems_are_numbered_in_order_and_stand_amid_their_points() {
    let (mut record, adjustment) = triangle();
    for (id, at) in [("p", At::Points(vec!["A".into(), "B".into()])), ("q", At::Site)] {
        let problem = Problem {
            kind: "other".into(),
            severity: Severity::Fix,
            at,
            spread: None,
            attributes: Default::default(),
            note: String::new(),
            photos: Vec::new(),
            told: false,
        };
        record.problems.push(recorded(id, problem));
    }
    let plan = Plan::build(&record, &adjustment);
    let problems: Vec<_> = plan.problems.iter().map(|p| (p.number, p.at.map(PlanPoint::metres))).collect();
    assert_eq!(problems, [(1, Some((2.0, 0.0))), (2, None)]);
}

#[test]
fn unknown_kinds_are_kept() {
    let (mut record, adjustment) = triangle();
    record.features.push(recorded("1", feature("sundial", &["A"])));
    let plan = Plan::build(&record, &adjustment);
    let shape = plan.shapes.first().unwrap();
    assert_eq!(shape.what, What::Feature("sundial".into()));
    assert_eq!(shape.title, "sundial");
    assert!(matches!(shape.outline, Outline::Spot(_)));
}

#[test]
fn edges_follow_their_arcs_both_ways_round() {
    let (mut record, adjustment) = triangle();
    let rise = reading(1.0);
    record
        .measurements
        .push(recorded("a", Measurement::Arc { from: "B".into(), to: "A".into(), rise, side: Side::Left }));
    record.features.push(recorded("1", feature("path", &["A", "B", "C"])));
    record.features.push(recorded("2", feature("fence", &["B", "A"])));
    record.features.push(recorded("3", feature("fence", &["B", "C"])));
    let plan = Plan::build(&record, &adjustment);
    let lowest = |at: &[PlanPoint]| at.iter().map(|p| p.metres().1).fold(f64::INFINITY, f64::min);
    // From B to A along −x, left is below.
    let [Outline::Area(path), Outline::Line(bowed), Outline::Line(straight)] =
        [0, 1, 2].map(|i: usize| plan.shapes[i].outline.clone())
    else {
        panic!("{:?}", plan.shapes)
    };
    assert!((lowest(&path) + 1.0).abs() < 1e-9 && (lowest(&bowed) + 1.0).abs() < 1e-9);
    assert_eq!(straight.len(), 2);
    let mut back = bowed.clone();
    back.reverse();
    assert_eq!(path.iter().take(bowed.len()).copied().collect::<Vec<_>>(), back);
    assert!((plan.bounds.unwrap().min.metres().1 + 1.0).abs() < 1e-9);
}

#[test]
fn an_arc_through_three_points_bows_each_of_its_edges() {
    let (mut record, adjustment) = triangle();
    let arc = Measurement::ArcThrough { from: "A".into(), through: "B".into(), to: "C".into() };
    record.measurements.push(recorded("a", arc));
    for (id, points) in [("1", vec!["A", "B"]), ("2", vec!["C", "B", "A"]), ("3", vec!["A", "C"])] {
        record.features.push(recorded(id, feature("wall", &points)));
    }
    let plan = Plan::build(&record, &adjustment);
    for shape in &plan.shapes {
        let Outline::Line(at) = &shape.outline else { panic!("{shape:?}") };
        // Thales: the right angle at B makes A to C the diameter, 5.
        let centre = PlanPoint::from_metres(2.0, 1.5);
        assert!(at.len() > 10 && at.iter().all(|p| (p.distance(centre).metres() - 2.5).abs() < 1e-9));
    }
}

/// A girth of 62.8 in is a diameter of 19.989861 in (62.8 / π, computed elsewhere).
#[test]
fn a_trunk_is_as_thick_as_its_girth_says() {
    let (mut record, adjustment) = triangle();
    let girth = Reading::read("62.8 in", crate::units::BareUnit::Inches).unwrap();
    record
        .measurements
        .push(recorded("g", Measurement::Girth { point: "C".into(), reading: girth, how: How::default() }));
    record.features.push(recorded("1", feature("tree", &["C"])));
    let plan = Plan::build(&record, &adjustment);
    let Some(Outline::Circle { inner: Some(inner), .. }) = plan.shapes.first().map(|s| &s.outline) else {
        panic!("{:?}", plan.shapes)
    };
    assert!((inner.inches() - 19.989_861 / 2.0).abs() < 1e-6);
}

#[test]
fn bearings_show_north_where_the_book_does_not_say_it() {
    let (mut record, mut adjustment) = triangle();
    let found = |kind, degrees| FoundNorth { direction: Angle::from_degrees(degrees), sd: Angle::ZERO, kind };
    adjustment.norths = vec![found(NorthKind::Magnetic, 100.0), found(NorthKind::True, 90.0)];
    let north = Plan::build(&record, &adjustment).north.unwrap();
    assert_eq!((north.kind, north.direction), (NorthKind::True, Angle::from_degrees(90.0)));
    let bearing = Angle::ZERO;
    let (from, to) = ("A".into(), "B".into());
    record.north = Some(North {
        from,
        to,
        bearing,
        kind: NorthKind::Magnetic,
        declination: None,
        source: String::new(),
        sd: None,
    });
    assert_eq!(Plan::build(&record, &adjustment).north.unwrap().kind, NorthKind::Magnetic);
}

fn photo(at: At, of: Option<&str>, facing: Option<Facing>) -> Photo {
    Photo {
        at,
        of: of.map(EntryId::from),
        facing,
        ..Photo::new(PhotoId("ab12".into()), "image/jpeg".into(), 1)
    }
}

#[test]
fn photos_stand_where_they_are_pinned_or_where_the_thing_they_show_is() {
    let (mut record, adjustment) = triangle();
    record.features.push(recorded("patio", feature("patio", &["A", "B"])));
    let near = At::Near(PlanPoint::from_metres(1.0, 2.0));
    let cases = [
        (At::Points(vec!["C".into()]), None),
        (near.clone(), None),
        (At::Site, None),
        (At::Points(vec!["E".into()]), None),
        (near.clone(), Some("patio")),
        (near, Some("struck")),
    ];
    for (n, (at, of)) in (1..).zip(cases) {
        record.photos.push(recorded(&format!("p{n}"), photo(at, of, None)));
    }
    let plan = Plan::build(&record, &adjustment);
    let placed = placed_photos(&record, &plan);
    let at: Vec<_> = placed.iter().map(|p| p.at.map(PlanPoint::metres)).collect();
    let near = Some((1.0, 2.0));
    assert_eq!(at, [Some((4.0, 3.0)), near, None, None, Some((2.0, 0.0)), near]);
    assert_eq!(placed.iter().map(|p| p.number).collect::<Vec<_>>(), [1, 2, 3, 4, 5, 6]);
}

#[test]
fn a_needles_bearing_is_drawn_once_north_is_known() {
    let (mut record, adjustment) = triangle();
    let compass = |degrees| Some(Facing::Compass(Angle::from_degrees(degrees)));
    record.photos.push(recorded("needle", photo(At::Site, None, compass(90.0))));
    record
        .photos
        .push(recorded("drawn", photo(At::Site, None, Some(Facing::Plan(Angle::from_degrees(30.0))))));
    let facing = |record: &Record| {
        let plan = Plan::build(record, &adjustment);
        placed_photos(record, &plan).iter().map(|p| p.facing.map(Angle::degrees)).collect::<Vec<_>>()
    };
    let close = |found: Option<f64>, wanted: f64| found.is_some_and(|found| (found - wanted).abs() < 1e-9);
    let found = facing(&record);
    assert!(found.first() == Some(&None) && close(found[1], 30.0), "{found:?}");
    // B to C runs along the plan's y and bears 90° by the needle: so does the view.
    let mut north = North {
        from: "B".into(),
        to: "C".into(),
        bearing: Angle::RIGHT,
        kind: NorthKind::Magnetic,
        declination: None,
        source: String::new(),
        sd: None,
    };
    record.north = Some(north.clone());
    assert!(close(facing(&record)[0], 90.0), "{:?}", facing(&record));
    // Of true bearings, with a needle that points 10° east of true north, it looks to 100° true.
    north.kind = NorthKind::True;
    north.declination = Some(Angle::from_degrees(10.0));
    record.north = Some(north);
    assert!(close(facing(&record)[0], 80.0), "{:?}", facing(&record));
}
