//! Records to draw.

use std::collections::BTreeMap;
use swingtie_core::book;
use swingtie_core::network::{Adjustment, Ellipse, Fix, Freedom, PointState};
use swingtie_core::plan::Plan;
use swingtie_core::record::{Point, PointId, Record, Site, UnitSystem};
use swingtie_core::sheet::{self, Drawing, Options};
use swingtie_core::units::{Angle, Length, PlanPoint};
use swingtie_tests::scenario;

/// A scenario's record, with an adjustment made by hand from the true places, so that these tests
/// stand whatever the solver says. States are dealt out so that every mark occurs.
pub fn yard(number: u32) -> (Record, Adjustment) {
    let scenario = scenario::scenario(number);
    let options = scenario::Options { sketch: scenario::Sketch::Recorded, ..Default::default() };
    let mut record = book::fold(&scenario.book(&options)).record;
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
    let adjustment =
        Adjustment { points, redundancy: 29, variance_factor: Some(0.58), ..Adjustment::default() };
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
