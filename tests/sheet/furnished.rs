//! Invented yards full of things, for the sheet: houses, fences, trees, fittings, problems, photos, lines.

use std::collections::BTreeMap;
use swingtie_core::network::{Adjustment, Fix, PointState};
use swingtie_core::record::{
    At, Attribute, Facing, Feature, MarkColour, Photo, PhotoId, PointId, Problem, Reading, Record, Recorded,
    Severity, UnitSystem, UtilityMark,
};
use swingtie_core::units::{Angle, Length, PlanPoint};
use swingtie_tests::dice::Dice;
use swingtie_tests::yard::{self, Yard};

fn recorded<T>(id: String, what: T) -> Recorded<T> {
    Recorded { entry: id.as_str().into(), author: "a".into(), at_ms: 0, what }
}

fn taped(metres: f64) -> Attribute {
    Attribute::Length(Reading { text: String::new(), value: Length::from_metres(metres) })
}

/// The words a surveyor writes, some of them long.
const NAMES: [&str; 6] =
    ["", "", "old pear", "front bed corner", "air conditioner pad corner", "reading shed of the neighbours"];

/// A yard of so many points with about as many things, all points at their true places.
pub fn furnished(points: usize, seed: u64) -> (Record, Adjustment) {
    let yard = Yard::new(points, seed);
    let mut dice = Dice::new(0x5EE7, seed);
    let mut record = yard.record(BTreeMap::new());
    record.site.name = format!("Yard {seed}");
    record.site.units = if seed.is_multiple_of(2) { UnitSystem::FeetInches } else { UnitSystem::Metres };
    let mut add = |kind: &str, points: Vec<PointId>, name: &str, attributes: BTreeMap<String, Attribute>| {
        let feature = Feature {
            kind: kind.into(),
            points,
            name: name.into(),
            fate: None,
            attributes: attributes.into_iter().collect(),
            curved: false,
            told: false,
            note: String::new(),
        };
        let id = format!("F{}", record.features.len());
        record.features.push(recorded(id, feature));
    };
    let lots = yard.houses().count();
    for (n, house) in yard.houses().enumerate() {
        add("house", house.iter().map(|p| yard::id(*p)).collect(), "", BTreeMap::new());
        let [jamb, front, back] = [house[5] + 1, house[5] + 2, house[5] + 3].map(yard::id);
        let door = vec![yard::id(house[0]), jamb.clone()];
        add("window", door, "", BTreeMap::new());
        add(if n % 2 == 0 { "hose_bib" } else { "gas_meter" }, vec![jamb], "", BTreeMap::new());
        for at in [&front, &back] {
            let size = dice.between(0.1, 0.8);
            let crown = taped(dice.between(2.0, 11.0));
            let tree = BTreeMap::from([
                ("trunk_diameter".to_owned(), taped(size)),
                ("canopy_spread".to_owned(), crown),
            ]);
            let name = NAMES[dice.below(NAMES.len())];
            if dice.below(3) > 0 {
                add("tree", vec![at.clone()], name, tree);
            } else {
                add("other", vec![at.clone()], name, BTreeMap::new());
            }
        }
        let patio = vec![yard::id(house[2]), yard::id(house[3]), back.clone()];
        add("patio", patio, NAMES[dice.below(NAMES.len())], BTreeMap::new());
    }
    for post in 0..lots {
        add("post", vec![yard::id(post)], "", BTreeMap::new());
        if post > 0 {
            add("fence", vec![yard::id(post - 1), yard::id(post)], "", BTreeMap::new());
        }
    }
    for number in 0..lots.div_ceil(2) {
        let at = yard::id(dice.below(yard.truth.len()));
        let photo = Photo {
            at: At::Points(vec![at.clone()]),
            facing: Some(Facing::Plan(Angle::from_radians(dice.between(0.0, 6.0)))),
            ..Photo::new(PhotoId(format!("p{number}")), "image/jpeg".into(), 1)
        };
        record.photos.push(recorded(format!("H{number}"), photo));
        let severity = if number % 3 == 0 { Severity::Danger } else { Severity::Fix };
        let problem = Problem {
            kind: "wet_spot".into(),
            severity,
            at: At::Points(vec![at]),
            spread: None,
            attributes: Default::default(),
            note: String::new(),
            photos: Vec::new(),
            told: false,
        };
        record.problems.push(recorded(format!("Q{number}"), problem));
        let (a, b) = (dice.below(yard.truth.len()), dice.below(yard.truth.len()));
        if a != b && number % 3 == 0 {
            let mark = UtilityMark {
                colour: [MarkColour::Red, MarkColour::Orange, MarkColour::Blue][number % 9 / 3],
                points: vec![yard::id(a), yard::id(b)],
                letters: String::new(),
                attributes: Default::default(),
                told: false,
                note: String::new(),
            };
            record.marks.push(recorded(format!("U{number}"), mark));
        }
    }
    let fix = |at: &[f64; 2]| Fix {
        at: Some(PlanPoint::from_metres(at[0], at[1])),
        guess: None,
        state: PointState::Checked,
        ellipse: None,
        freedom: None,
    };
    let points: BTreeMap<PointId, Fix> =
        yard.truth.iter().enumerate().map(|(p, at)| (yard::id(p), fix(at))).collect();
    let adjustment = Adjustment { points: points.into_iter().collect(), ..Adjustment::default() };
    (record, adjustment)
}
