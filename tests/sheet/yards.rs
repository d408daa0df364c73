//! Records to draw.

use std::collections::BTreeMap;
use swingtie_core::book::{self, Entry};
use swingtie_core::network::{Adjustment, Ellipse, Fix, Freedom, PointState};
use swingtie_core::plan::Plan;
use swingtie_core::record::{
    Attribute, AuthorId, CATALOGUE, EntryId, Fate, Feature, Geometry, MarkColour, Point, PointId, Reading,
    Record, Recorded, Site, UnitSystem, UtilityMark,
};
use swingtie_core::sheet::{self, Drawing, Options};
use swingtie_core::units::{Angle, Length, PlanPoint};
use swingtie_tests::scenario;

/// A scenario's record, with an adjustment made by hand from the true places, so that these tests
/// stand whatever the solver says. States are dealt out so that every mark occurs.
pub fn yard(number: u32) -> (Record, Adjustment) {
    let scenario = scenario::scenario(number);
    let options = scenario::Options { sketch: scenario::Sketch::Recorded, ..Default::default() };
    let mut book = scenario.book(&options);
    for (n, (id, said)) in (0..).zip(scenario.levels()) {
        let entry = Entry::new(EntryId(id), 1_000_000 + n, 0, AuthorId::from("surveyor"), said);
        book.add(entry.expect("finite numbers")).expect("ids of their own");
    }
    let mut record = book::fold(&book).record;
    record.site.client = "The Averys".into();
    record.site.surveyor = "R. Avery".into();
    record.site.date = "2026-05-16".into();
    let truth = scenario.truth();
    let mut points = BTreeMap::new();
    for (n, point) in record.points.iter().enumerate() {
        let at = truth.get(&point.id).copied();
        let loose = number == 1 && point.label == "T4";
        let state = match n % 7 {
            _ if loose => PointState::Loose,
            3 => PointState::Fixed,
            6 if number == 2 && point.label.starts_with('T') => PointState::Disputed,
            _ => PointState::Checked,
        };
        let spread = f64::from(u8::try_from(n % 9).expect("below nine"));
        let ellipse = Ellipse {
            semi_major: Length::from_inches(1.0 + spread / 4.0),
            semi_minor: Length::from_inches(0.7),
            direction: Angle::ZERO,
        };
        let h6 = PointId::from("H6");
        let radius = at.zip(truth.get(&h6)).map(|(at, h6)| at.distance(*h6)).filter(|_| loose);
        let fix = Fix {
            at: at.filter(|_| !loose),
            guess: at.filter(|_| loose),
            state,
            ellipse: (!loose).then_some(ellipse),
            freedom: radius.map(|radius| Freedom::OnCircle { centre: h6, radius }),
        };
        points.insert(point.id.clone(), fix);
    }
    let adjustment = Adjustment {
        points: points.into_iter().collect(),
        redundancy: 29,
        variance_factor: Some(0.58),
        ..Adjustment::default()
    };
    (record, adjustment)
}

/// Checked points at these places, metres, labelled P1, P2 …
pub fn points(units: UnitSystem, places: &[(f64, f64)]) -> (Record, Adjustment) {
    let mut record =
        Record { site: Site { name: "Pegs".into(), units, ..Site::default() }, ..Record::default() };
    let mut adjustment = Adjustment::default();
    for (n, (x, y)) in (1..).zip(places) {
        let id = PointId(format!("P{n}"));
        record.points.push(Point { id: id.clone(), label: id.0.clone(), note: String::new() });
        let fix = Fix {
            at: Some(PlanPoint::from_metres(*x, *y)),
            guess: None,
            state: PointState::Checked,
            ellipse: None,
            freedom: None,
        };
        adjustment.points.insert(id, fix);
    }
    (record, adjustment)
}

pub fn draw((record, adjustment): &(Record, Adjustment), options: &Options) -> Drawing {
    let plan = Plan::build(record, adjustment);
    sheet::draw(record, adjustment, &plan, options)
}

pub fn sheets((record, adjustment): &(Record, Adjustment), options: &Options) -> Vec<Drawing> {
    sheet::sheets(record, adjustment, &Plan::build(record, adjustment), options)
}

/// One feature of every kind of the catalogue and a mark of every colour, on a grid.
pub fn sampler() -> (Record, Adjustment) {
    let places: Vec<(f64, f64)> = (0..CATALOGUE.len() + 8)
        .flat_map(|n| {
            let n = f64::from(u32::try_from(n).expect("a few dozen"));
            let (x, y) = ((n % 8.0) * 6.0, (n / 8.0).floor() * 5.0);
            [(x, y), (x + 3.0, y), (x + 3.0, y + 2.0), (x, y + 2.0)]
        })
        .collect();
    let (mut record, adjustment) = points(UnitSystem::Metres, &places);
    let corners = |n: usize| (1..=4).map(|c| PointId(format!("P{}", 4 * n + c))).collect::<Vec<_>>();
    for (n, kind) in CATALOGUE.iter().enumerate() {
        let points = match kind.geometry {
            Geometry::Point | Geometry::Circle => corners(n)[..1].to_vec(),
            Geometry::Line | Geometry::Curve => corners(n)[..2].to_vec(),
            Geometry::Area => corners(n),
        };
        let taped =
            |metres| Attribute::Length(Reading { text: String::new(), value: Length::from_metres(metres) });
        let attributes = match kind.geometry {
            Geometry::Circle => BTreeMap::from([
                ("trunk_diameter".to_owned(), taped(0.4)),
                ("canopy_spread".to_owned(), taped(2.5)),
            ]),
            _ => BTreeMap::new(),
        };
        let feature = Feature {
            kind: kind.key.into(),
            points,
            name: String::new(),
            fate: (n % 9 == 4).then_some(Fate::Remove),
            attributes: attributes.into_iter().collect(),
            curved: false,
            told: n % 11 == 7,
            note: String::new(),
        };
        record.features.push(recorded(format!("F{n}"), feature));
    }
    let colours = [
        MarkColour::Red,
        MarkColour::Yellow,
        MarkColour::Orange,
        MarkColour::Blue,
        MarkColour::Purple,
        MarkColour::Green,
        MarkColour::Pink,
        MarkColour::White,
    ];
    for (n, colour) in colours.into_iter().enumerate() {
        let take = if n % 3 == 2 { 1 } else { 3 };
        let points = corners(CATALOGUE.len() + n)[..take].to_vec();
        let mark = UtilityMark {
            colour,
            points,
            letters: String::new(),
            attributes: Default::default(),
            told: n == 4,
            note: String::new(),
        };
        record.marks.push(recorded(format!("M{n}"), mark));
    }
    (record, adjustment)
}

fn recorded<T>(id: String, what: T) -> Recorded<T> {
    Recorded { entry: EntryId(id), author: AuthorId("a".into()), at_ms: 0, what }
}
