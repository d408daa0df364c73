//! Checks by heights: falls at the house, hollows, doors, slopes.

use super::super::look::deep;
use crate::checks::yard::Yard;
use crate::checks::{Concern, Mend, Topic, Weight};
use crate::units::{Length, UnitSystem};

/// A house on ground that falls away from its front by so much in a hundred; the front's corners are 100 ft high.
/// Heights are read 20 ft before it, and on these points besides.
fn front(percent: f64, more: &[(&str, f64)]) -> Yard {
    let mut yard = Yard::default();
    yard.house().put("a", "peg", &[(-5.0, -20.0)], &[]).put("b", "peg", &[(45.0, -20.0)], &[]);
    let low = 100.0 - 0.2 * percent;
    yard.levels(&[&[("H1", 100.0), ("H2", 100.0), ("A1", low), ("B1", low)], more].concat());
    yard
}

fn number(concern: &Concern, name: &str) -> String {
    concern.numbers.iter().find(|(own, _)| *own == name).map(|(_, value)| value.clone()).unwrap_or_default()
}

/// 6 in in 10 ft are 5 %; paved, 2 % are asked.
#[test]
fn the_fall_at_a_wall_on_either_side_of_what_is_asked() {
    let found = front(4.9, &[]).concern("Along the wall H1 to H2 the ground falls away by only").unwrap();
    assert_eq!((found.topic, number(&found, "slope")), (Topic::Water, "4.9 %".to_owned()));
    assert!(found.source.contains("R401.3") && found.caution.contains("local code"));
    assert!(front(5.1, &[]).concern("Along the wall").is_none());
    let found = front(-1.0, &[]).concern("falls toward the house").unwrap();
    assert!(found.what.contains("1 1/4\" in 10' 0\""), "{}", found.what);
    // The pegs stand 20 ft before the wall, from whose face the fall is taken 2 in out.
    assert!(
        found.what.ends_with("evenly between the heights read: the nearest out there, A1, is 19' 10\" out"),
        "{}",
        found.what
    );
    assert!(found.missing.iter().any(|m| m.contains("± counts only the rod")), "{found:?}");
    assert!(front(0.0, &[]).concern("about level").is_some());
    let paved = |percent| {
        let mut yard = front(percent, &[]);
        yard.put("pa", "patio", &[(-4.0, -0.1), (44.0, -0.1), (44.0, -15.0), (-4.0, -15.0)], &[]);
        yard.concern("Along the wall").map(|c| c.what)
    };
    assert!(paved(1.9).unwrap().contains("the paving falls away by only"));
    assert_eq!(paved(2.1), None);
    // The other walls were not levelled.
    let bare = front(5.1, &[]).concern("is not known at the walls H2 to H3, H3 to H4 and H4 to H1").unwrap();
    assert_eq!((bare.weight, bare.mend), (Weight::Visit, Mend::Levels));
}

/// Heights at the far end of the front alone: H2 and, at this distance before it, B1; A1 only opens the triangle.
fn one_end(out: f64, more: &[(&str, f64)]) -> Concern {
    let mut yard = Yard::default();
    yard.house().put("a", "peg", &[(20.0, -15.0)], &[]).put("b", "peg", &[(42.0, -out)], &[]);
    yard.levels(&[&[("H2", 100.0), ("A1", 99.9), ("B1", 99.9)], more].concat());
    yard.concern("wall H1 to H2").unwrap()
}

#[test]
fn a_fall_read_at_one_end_is_told_of_that_end() {
    let found = one_end(20.0, &[]);
    assert!(
        found.what.starts_with("At the H2 end of the wall H1 to H2 the ground falls away"),
        "{}",
        found.what
    );
    assert!(found.what.contains("the nearest out there, B1, is"), "{}", found.what);
    assert_eq!(found.missing[0], "heights along the wall toward H1");
    // Nothing to say of the ground between where the next height is 10 ft out.
    let near = one_end(10.5, &[]);
    assert!(
        !near.what.contains("evenly") && near.missing == ["heights along the wall toward H1"],
        "{near:?}"
    );
    // With a height at the other corner too it is the whole wall, as far as the surface reaches along it.
    let whole = one_end(20.0, &[("H1", 100.0)]);
    assert!(whole.what.starts_with("Along the wall H1 to H2"), "{}", whole.what);
    assert!(!whole.missing.iter().any(|m| m.contains("along the wall")), "{whole:?}");
}

#[test]
fn where_neither_end_was_read_the_nearest_height_says_where() {
    let mut yard = Yard::default();
    yard.house();
    for (id, along, off) in [("a", 20.0, -0.5), ("b", 10.0, -15.0), ("c", 30.0, -15.0)] {
        yard.put(id, "peg", &[(along, off)], &[]);
    }
    yard.levels(&[("A1", 100.0), ("B1", 99.9), ("C1", 99.9)]);
    let found = yard.concern("wall H1 to H2").unwrap();
    assert!(found.what.starts_with("At the wall H1 to H2, near A1, the ground falls away"), "{}", found.what);
    assert_eq!(found.missing[..2], ["heights along the wall toward H1", "heights along the wall toward H2"]);
}

/// Arithmetic: halves go up, as with whoever rounds by hand.
#[test]
fn a_depth_is_told_in_whole_inches_and_centimetres() {
    let inches = |inches| deep(Length::from_inches(inches), UnitSystem::FeetInches);
    assert_eq!(
        [3.49, 3.5, 3.75, 3.996, 12.4].map(inches),
        ["3\"", "4\"", "4\"", "4\"", "1' 0\""].map(|d| format!("about {d}"))
    );
    let metres = |metres| deep(Length::from_metres(metres), UnitSystem::Metres);
    assert_eq!(
        [0.124, 0.125, 0.135].map(metres),
        ["0.12 m", "0.13 m", "0.14 m"].map(|d| format!("about {d}"))
    );
    assert_eq!(deep(Length::from_feet(0.25), UnitSystem::DecimalFeet), "about 0.3 ft");
}

/// Ground with a hollow of half a foot, 30 ft before the front: its rim runs over at R1, 4 in above the bottom.
fn bowl(bottom: f64) -> Yard {
    bowl_in(bottom, &[])
}

/// The same with heights beyond it: name, along the front, off it, height.
fn bowl_in(bottom: f64, beyond: &[(&str, f64, f64, f64)]) -> Yard {
    let mut yard = Yard::default();
    yard.house();
    let rim = [
        ("q", -10.0, -20.0, 101.0),
        ("r", 50.0, -20.0, 100.333),
        ("s", 50.0, -60.0, 101.0),
        ("t", -10.0, -60.0, 101.0),
    ];
    let rim = [&rim[..], beyond].concat();
    for (id, along, off, _) in &rim {
        yard.put(id, "peg", &[(*along, *off)], &[]);
    }
    yard.put("lp", "peg", &[(20.0, -40.0)], &[]);
    let labels: Vec<String> = rim.iter().map(|(id, ..)| format!("{}1", id.to_uppercase())).collect();
    let mut heights: Vec<(&str, f64)> =
        labels.iter().zip(&rim).map(|(label, (.., z))| (label.as_str(), *z)).collect();
    heights.push(("LP1", bottom));
    yard.levels(&heights);
    yard
}

#[test]
fn a_wet_spot_is_explained_by_the_hollow_it_lies_in() {
    let mut yard = bowl(100.0);
    yard.put("ds", "downspout", &[(20.0, -21.0)], &[]).put("w", "peg", &[(22.0, -41.0)], &[]);
    yard.problem("wet", "wet_spot", "W1", &[]);
    let found = yard.concern("Problem 1 lies in a hollow round LP1").unwrap();
    assert!(
        found.what.ends_with(
            "from these readings, up to about 4\" could stand; downspout DS1 drains toward it; \
             the rim is at R1, at the edge of what was read"
        ),
        "{}",
        found.what
    );
    assert_eq!(found.about, ["wet".into(), "ds".into()]);
    assert!(number(&found, "deep at most").starts_with("about 4\" ±"), "{found:?}");
    assert_eq!(found.missing, ["heights beyond R1"]);
    // From each corner of the rim the way down is to the bottom: all there is drains in.
    assert_eq!(number(&found, "ground that drains there"), "all the ground that was read");
    assert!(yard.line("lies in a hollow round LP1").is_some_and(|line| line.weight == Weight::Note));
    // The same place on ground that falls steadily: no hollow.
    let mut plane = bowl(100.5);
    plane.put("w", "peg", &[(22.0, -41.0)], &[]).problem("wet", "wet_spot", "W1", &[]);
    assert!(plane.concern("in a hollow").is_none());
    assert!(plane.concern("Problem 1 lies in no hollow").unwrap().what.contains("toward R1"));
}

/// Lower ground beyond R1 was read: water runs over there, and part of the ground drains away.
#[test]
fn a_hollow_within_what_was_read_runs_over_into_lower_ground() {
    let found = bowl_in(100.0, &[("u", 100.0, 0.0, 98.0), ("v", 100.0, -80.0, 98.0)]).concern("LP1").unwrap();
    assert_eq!(
        found.what,
        "Water can stand at LP1: from these readings, up to about 4\" before it runs over toward R1"
    );
    assert!(
        found.missing.is_empty() && number(&found, "ground that drains there").starts_with("about "),
        "{found:?}"
    );
}

#[test]
fn a_hollow_nobody_saw_water_in_is_told_from_an_inch_on() {
    assert!(bowl(100.24).concern("Water can stand at LP1").is_some());
    assert!(bowl(100.26).concern("Water can stand").is_none());
}

#[test]
fn wet_ground_without_heights_asks_for_them() {
    let mut yard = Yard::default();
    yard.house().put("w", "wet_spot", &[(0.0, -20.0), (5.0, -20.0), (0.0, -25.0)], &[]);
    let found = yard.concern("lies where no heights were read").unwrap();
    assert_eq!((found.weight, &found.mend), (Weight::Visit, &Mend::Levels));
    let mut edge = bowl(100.5);
    edge.put("w", "peg", &[(48.0, -22.0)], &[]).problem("wet", "wet_spot", "W1", &[]);
    assert!(edge.concern("at the edge of the heights read").unwrap().missing[0].contains("beyond R1"));
}

#[test]
fn roof_water_at_the_foundation() {
    let spout = |off: f64, known: &[(&str, &str)]| {
        let mut yard = Yard::default();
        yard.house().put("ds", "downspout", &[(10.0, off)], known);
        yard.concern("downspout DS1")
    };
    assert!(
        spout(-0.2, &[("empties_to", "at the wall")]).unwrap().what.ends_with("empties at the foundation")
    );
    let found = spout(-0.2, &[("empties_to", "splash block")]).unwrap();
    assert!(found.missing[0].contains("how far from the wall"), "{:?}", found.missing);
    assert!(spout(-4.9, &[("empties_to", "on paving")]).unwrap().what.ends_with("empties on the paving"));
    assert!(spout(-5.1, &[("empties_to", "lawn")]).is_none());
    assert!(spout(-0.2, &[("empties_to", "buried pipe")]).is_none());
    let mut eave = Yard::default();
    eave.house().put("re", "roof_edge", &[(0.0, -1.0), (40.0, -1.0)], &[("gutter", "no")]);
    assert!(eave.concern("has no gutter").is_some());
}

#[test]
fn a_threshold_high_over_the_ground_or_hardly_over_it() {
    let door = |known: &[(&str, &str)], steps: bool| {
        let mut yard = Yard::default();
        yard.house().put("d", "door", &[(10.0, 0.0), (13.0, 0.0)], known);
        if steps {
            yard.put("sp", "steps", &[(10.0, -1.0), (13.0, -1.0), (13.0, -4.0), (10.0, -4.0)], &[]);
        }
        yard.concern("door D1–D2").map(|c| c.what)
    };
    assert!(door(&[("threshold_height", "7 13/16\"")], false).unwrap().starts_with("One steps down"));
    assert_eq!(door(&[("threshold_height", "7 3/4\"")], false), None);
    assert_eq!(door(&[("threshold_height", "16\"")], true), None);
    assert!(
        door(&[("threshold_height", "1 15/16\"")], false)
            .unwrap()
            .contains("only 1 15/16\" above the ground")
    );
    assert_eq!(door(&[("threshold_height", "2\"")], false), None);
    // By heights: the sill 16 in over ground that is level before the front.
    let mut yard = front(0.0, &[("E1", 100.0 + 16.0 / 12.0)]);
    yard.put("e", "door", &[(10.0, 0.0), (13.0, 0.0)], &[]);
    let found = yard.concern("door E1–E2").unwrap();
    assert!(found.what.contains("1' 4\"") && found.used[0].contains("height of E1"), "{found:?}");
}

#[test]
fn siding_near_the_ground() {
    let siding = |clear| {
        let mut yard = Yard::default();
        yard.house().known("h", "house", &["H1", "H2", "H3", "H4"], &[("base_height", clear)], None);
        yard.concern("Siding begins")
    };
    assert!(siding("5 15/16\"").is_some() && siding("6\"").is_none());
}

/// A path of 20 by 5 ft, its far end and its left side higher by so much, in feet.
fn path(kind: &str, along: f64, across: f64) -> Yard {
    let mut yard = Yard::default();
    yard.house().put("pt", kind, &[(0.0, -30.0), (20.0, -30.0), (20.0, -35.0), (0.0, -35.0)], &[]);
    let z = 100.0;
    yard.levels(&[("PT1", z), ("PT2", z + along), ("PT3", z + along + across), ("PT4", z + across)]);
    yard
}

/// 1:20 of 20 ft is 1 ft, 1:12 is 1 ft 8 in; 1:48 of 5 ft is 1 1/4 in (0.104 ft).
#[test]
fn walks_along_and_across() {
    let steep = |kind, along| path(kind, along, 0.0).concern("along its length").map(|c| c.what);
    assert_eq!(steep("path", 0.99), None);
    assert!(steep("path", 1.01).unwrap().contains("as steep as a ramp"));
    assert!(steep("path", 1.66).unwrap().contains("as steep as a ramp"));
    assert!(steep("path", 1.68).unwrap().contains("steeper than a ramp may be"));
    assert!(steep("drive", 1.66).is_none() && steep("drive", 1.68).is_some());
    let tips = |kind, across| path(kind, 0.0, across).concern("tips").map(|c| c.topic);
    assert_eq!((tips("path", 0.1), tips("path", 0.11)), (None, Some(Topic::Slopes)));
    assert_eq!((tips("patio", 0.1), tips("patio", 0.11)), (None, Some(Topic::Slopes)));
    assert_eq!(tips("drive", 0.5), None);
    let found = path("path", 0.0, 0.11).concern("tips sideways").unwrap();
    assert_eq!(number(&found, "named limit"), "2.1 % (1 in 48)");
}

/// Four risers over 31 in are 7 3/4 in each.
#[test]
fn steps_by_their_heights() {
    let steps = |inches: f64| {
        let mut yard = Yard::default();
        let corners = [(0.0, -12.0), (4.0, -12.0), (4.0, -8.0), (0.0, -8.0)];
        yard.house().put("sp", "steps", &corners, &[("risers", "4")]);
        yard.levels(&[("SP1", 100.0), ("SP3", 100.0 + inches / 12.0)]);
        yard.concern("A rise of the steps SP1")
    };
    assert!(steps(30.9).is_none());
    assert!(steps(31.2).is_some_and(|c| c.used[0].starts_with("heights and risers")));
}

/// A deck over ground read round it: a guard is worth a note from 30 in (2.5 ft) on.
#[test]
fn a_deck_by_its_heights() {
    let deck = |feet: f64| {
        let mut yard = front(0.0, &[("DK1", 100.0 + feet)]);
        yard.put("dk", "deck", &[(10.0, -10.0), (20.0, -10.0), (20.0, -2.0), (10.0, -2.0)], &[]);
        yard.concern("nothing is said of a rail")
    };
    assert!(deck(2.45).is_none());
    let found = deck(2.6).unwrap();
    assert!(number(&found, "height").starts_with("2' 7 1/4\" ±") && found.used[0].starts_with("heights at"));
}
