//! The tables are sound.

use super::catalogue::rows as asked_rows;
use super::*;
use crate::units::{BareUnit, Length};
use std::collections::{BTreeMap, BTreeSet};

fn all_rows() -> Vec<&'static Row> {
    asked_rows().chain(troubles::rows()).chain(MARK_FORM.rows()).collect()
}

fn is_key(key: &str) -> bool {
    !key.is_empty() && key.chars().all(|c| c.is_ascii_lowercase() || c == '_')
}

#[test]
fn every_kind_has_a_key_and_letters_of_its_own() {
    let mut keys = BTreeSet::new();
    let mut letters = BTreeSet::new();
    for kind in CATALOGUE {
        assert!(is_key(kind.key), "{}", kind.key);
        assert!(keys.insert(kind.key), "{} stands twice", kind.key);
        assert!(letters.insert(kind.prefix), "{} of {} are taken", kind.prefix, kind.key);
        assert!(
            kind.prefix.chars().all(|c| c.is_ascii_uppercase()) && kind.prefix.len() <= 3,
            "{}",
            kind.prefix
        );
        assert!(!kind.name.is_empty() && kind.name.len() <= 30, "{}", kind.name);
        assert!(std::ptr::eq(super::kind(kind.key).unwrap(), kind) || super::kind(kind.key) == Some(kind));
    }
    let listed: Vec<_> = groups().flat_map(|(_, kinds)| kinds).map(|kind| kind.key).collect();
    assert_eq!(listed, CATALOGUE.iter().map(|kind| kind.key).collect::<Vec<_>>());
    let headings: Vec<_> = groups().map(|(name, _)| name).collect();
    assert_eq!(headings.len(), headings.iter().collect::<BTreeSet<_>>().len(), "a heading stands twice");
}

/// The first version's books hold these keys: they stay, with the geometry they had.
#[test]
fn the_first_books_keys_are_still_there() {
    use Geometry::{Area, Circle, Line, Point};
    let first = [
        (
            Area,
            "house outbuilding deck steps patio drive path bed lawn air_unit septic propane pool play dog_run",
        ),
        (Area, "wet_spot rock"),
        (Line, "door window wall fence gate hedge overhead_wire kerb lot_line"),
        (Point, "post hose_bib downspout drain valve electric_meter gas_meter water_meter vent light pole"),
        (Point, "well fire_pit low_point pin peg other"),
        (Circle, "tree stump shrub"),
    ];
    for (geometry, keys) in first {
        for key in keys.split(' ') {
            assert_eq!(kind(key).map(|kind| kind.geometry), Some(geometry), "{key}");
        }
    }
    let problems = "wet_spot stump undersized_post leaning rot settled trip steps water_to_house drain erosion tree \
        roots cable gas access view other";
    for key in problems.split_whitespace() {
        assert!(trouble(key).is_some(), "{key}");
    }
    for (thing, key) in [
        ("tree", "trunk_diameter"),
        ("tree", "canopy_spread"),
        ("stump", "diameter"),
        ("shrub", "height"),
        ("gate", "clear_width"),
        ("fence", "height"),
        ("hedge", "height"),
    ] {
        assert!(matches!(asked(thing).row(key).unwrap().sort, Sort::Length { .. }), "{key} of {thing}");
    }
}

#[test]
fn every_row_is_sound() {
    let mut sorts: BTreeMap<&str, std::mem::Discriminant<Sort>> = BTreeMap::new();
    for row in all_rows() {
        let Row { key, name, sort, help } = *row;
        assert!(is_key(key), "{key}");
        assert!(!name.is_empty() && name.len() <= 24, "{key}: {name}");
        assert!(!help.is_empty() && help.chars().count() <= 80, "{key}: {help}");
        assert!(!help.ends_with('.') && help.starts_with(|c: char| c.is_uppercase()), "{key}: {help}");
        let told = std::mem::discriminant(&sort);
        assert_eq!(*sorts.entry(key).or_insert(told), told, "{key} means two sorts of things");
        match sort {
            Sort::Length { least, most } => {
                assert!(least >= Length::ZERO && least < most && most.metres() <= 60.0, "{key}");
            }
            Sort::Count { least, most } => assert!(least < most, "{key}"),
            Sort::Percent { most } => assert!((1..=100).contains(&most), "{key}"),
            Sort::Degrees { most } => assert!((1..=360).contains(&most), "{key}"),
            Sort::Choice(words) => {
                assert!((2..=8).contains(&words.len()), "{key}");
                assert_eq!(words.len(), words.iter().collect::<BTreeSet<_>>().len(), "{key}");
                assert!(words.iter().all(|word| !word.is_empty() && word.len() <= 24), "{key}: {words:?}");
            }
            Sort::YesNo | Sort::Day | Sort::Text => {}
        }
        // What a table of things keeps under other names.
        assert!(!["fate", "told", "curved", "severity", "photos", "spread"].contains(&key), "{key}");
        assert_eq!(super::row(key).map(|row| std::mem::discriminant(&row.sort)), Some(told));
    }
}

#[test]
fn a_form_asks_nothing_twice_and_little_at_once() {
    let forms = CATALOGUE.iter().map(|kind| (kind.key, asked(kind.key)));
    let problems = TROUBLES.iter().map(|trouble| (trouble.key, evidence(trouble.key)));
    for (key, form) in forms.chain(problems).chain([("mark", MARK_FORM)]) {
        let keys: Vec<_> = form.rows().map(|row| row.key).collect();
        assert_eq!(keys.len(), keys.iter().collect::<BTreeSet<_>>().len(), "{key} asks twice: {keys:?}");
        assert!(form.first.len() <= 7, "{key} asks {} at once", form.first.len());
    }
    assert_eq!(asked("an older word"), Form::EMPTY);
}

#[test]
fn every_problem_has_a_name_and_dangers_have_a_caution() {
    let keys: BTreeSet<_> = TROUBLES.iter().map(|trouble| trouble.key).collect();
    assert_eq!(keys.len(), TROUBLES.len());
    for trouble in TROUBLES {
        assert!(is_key(trouble.key) && !trouble.name.is_empty(), "{}", trouble.key);
        assert!(what_next(trouble.key).is_none_or(|next| next.ends_with('.')), "{}", trouble.key);
    }
    for key in ["gas", "cable", "tree", "failing_wall", "leaning", "undersized_post", "steps"] {
        assert!(caution(key).is_some(), "{key}");
    }
    assert_eq!(caution("noise"), None);
}

#[test]
fn what_is_unusual_is_questioned() {
    let length = |text: &str| Attribute::Length(Reading::read(text, BareUnit::Feet).unwrap());
    let text = |text: &str| Attribute::Text(text.to_owned());
    let tree = asked("tree");
    let trunk = tree.row("trunk_diameter").unwrap();
    assert!(!trunk.unusual(&length("14\"")) && trunk.unusual(&length("14'")));
    let risers = asked("steps").row("risers").unwrap();
    assert!(!risers.unusual(&text("4")) && risers.unusual(&text("44")) && risers.unusual(&text("3.5")));
    let fall = asked("patio").row("fall_percent").unwrap();
    assert!(!fall.unusual(&text("2.5 %")) && fall.unusual(&text("60")) && fall.unusual(&text("steep")));
    assert!(!asked("tree").row("health").unwrap().unusual(&text("blooming")));
}

#[test]
fn a_girth_gives_a_trunk_its_diameter() {
    let girth = Attribute::Length(Reading::read("3.1415926535 m", BareUnit::Metres).unwrap());
    let tree = Feature {
        kind: "tree".to_owned(),
        points: vec!["t".into()],
        name: String::new(),
        fate: None,
        attributes: [("girth".to_owned(), girth)].into_iter().collect(),
        curved: false,
        told: false,
        note: String::new(),
    };
    let recorded = Recorded { entry: "f".into(), author: "a".into(), at_ms: 0, what: tree };
    let record = Record { features: vec![recorded], ..Record::default() };
    let diameter = record.diameters().get(&PointId::from("t")).unwrap().metres();
    assert!((diameter - 1.0).abs() < 1e-9, "{diameter}");
}

// 24 in are 0.6096 m (an inch is 25.4 mm by definition).
#[test]
fn only_what_was_located_has_a_zone_unless_one_is_said() {
    let mut mark = UtilityMark {
        colour: MarkColour::Yellow,
        points: vec!["g".into()],
        letters: String::new(),
        attributes: Attributes::new(),
        told: false,
        note: String::new(),
    };
    let zone = |mark: &UtilityMark| mark.zone().map(|zone| (zone.millimetres() * 10.0).round() / 10.0);
    assert_eq!(zone(&mark), Some(609.6));
    let length = |text: &str| Attribute::Length(Reading::read(text, BareUnit::Metres).unwrap());
    mark.attributes.insert("marked_width".to_owned(), length("100 mm"));
    assert_eq!(zone(&mark), Some(659.6));
    mark.told = true;
    assert_eq!(zone(&mark), None);
    mark.attributes.insert("tolerance_width".to_owned(), length("0.45 m"));
    assert_eq!(zone(&mark), Some(500.0));
    mark.told = false;
    assert!(mark.located());
    mark.attributes.insert("line".to_owned(), Attribute::Text("suspected".to_owned()));
    assert!(!mark.located());
}
