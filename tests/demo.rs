//! The demo yard's book: every reading means what it says.
//!
//! The inch is 0.0254 m exactly (international yard and pound agreement of 1959); the words are read
//! here by other code than the product's.

use serde_json::Value;
use swingtie_core::book::{Book, fold};
use swingtie_core::network::{Joint, adjust, relative};
use swingtie_core::plan::Plan;
use swingtie_core::plan::quantities::extent;
use swingtie_core::units::{Area, Length};

/// `12' 6 1/2"` in metres.
fn metres(text: &str) -> f64 {
    let (sign, text) = text.strip_prefix('-').map_or((1.0, text), |rest| (-1.0, rest));
    let (feet, inches) = text.split_once('\'').unwrap_or(("0", text));
    let part = |part: &str| match part.split_once('/') {
        Some((over, under)) => over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap(),
        None => part.parse().unwrap(),
    };
    let inches: f64 = inches.trim_matches(['"', ' ']).split_whitespace().map(part).sum();
    sign * (feet.trim().parse::<f64>().unwrap() * 12.0 + inches) * 0.0254
}

fn readings(value: &Value, found: &mut Vec<(String, f64)>) {
    if let (Some(text), Some(metres)) = (value["text"].as_str(), value["metres"].as_f64()) {
        found.push((text.to_owned(), metres));
    }
    let parts: Vec<&Value> = match value {
        Value::Array(parts) => parts.iter().collect(),
        Value::Object(parts) => parts.values().collect(),
        _ => Vec::new(),
    };
    parts.into_iter().for_each(|part| readings(part, found));
}

#[test]
fn every_reading_means_what_it_says() {
    let book = include_str!("../public/demo.jsonl");
    let mut found = Vec::new();
    book.lines().for_each(|line| readings(&serde_json::from_str(line).unwrap(), &mut found));
    assert!(found.len() > 100, "{} readings", found.len());
    for (text, value) in found {
        assert!((metres(&text) - value).abs() < 1e-9, "{text} is not {value} m");
    }
}

/// What `tests/reference/scipy/spread.py` prints: the thing, its first point, standard deviations of its length
/// (metres) and area (square metres). It takes the adjusted places, to a tenth of a millimetre, and the readings.
const SPREAD: [(&str, &str, f64, Option<f64>); 6] = [
    ("house", "H1", 0.016161, Some(0.101246)),
    ("outbuilding", "SH1", 0.013611, Some(0.013863)),
    ("door", "D1", 0.005844, None),
    ("fence", "F1", 0.029238, None),
    ("gate", "G1", 0.009145, None),
    ("wet_spot", "W1", 0.099633, Some(0.091598)),
];

/// Lengths and areas are as sure as the readings make their points together, not each by itself.
#[test]
fn sizes_are_as_sure_as_the_tapes_make_them() {
    let (book, errors) = Book::from_json_lines(include_str!("../public/demo.jsonl"));
    assert_eq!(errors, vec![]);
    let mut fold = fold(&book);
    swingtie_core::levels::lay(&mut fold.record);
    let (record, adjustment) = (&fold.record, adjust(&fold.record));
    let plan = Plan::build(record, &adjustment);
    let joint = Joint::new(record, &adjustment);
    // A hundredth: what places to a tenth of a millimetre and deviations to as much leave.
    let near =
        |name, found: f64, want: f64| assert!((found / want - 1.0).abs() < 0.01, "{name}: {found} {want}");
    for (kind, first, long, inside) in SPREAD {
        let feature = record.features.iter().find(|f| f.what.kind == kind).expect(kind);
        let points = &feature.what.points;
        assert_eq!(record.label(&points[0]), first);
        let shape = plan.shapes.iter().find(|shape| shape.entry == feature.entry).expect(kind);
        let found = extent(&plan, points, &shape.outline, joint.as_ref());
        let sd = found.length.and_then(|long| long.sd).map_or(0.0, Length::metres);
        near(kind, sd, long);
        let area = found.area.and_then(|inside| inside.sd).map(Area::square_metres);
        assert_eq!(area.is_some(), inside.is_some(), "{kind}");
        area.zip(inside).into_iter().for_each(|(found, want)| near(kind, found, want));
        // Between two points it is the adjustment's own.
        if let [a, b] = points.as_slice() {
            let between = relative(record, &adjustment, a, b).expect(kind).distance_sd.metres();
            assert!((sd - between).abs() < 1e-12, "{kind}: {sd} {between}");
        }
        // Without the points' covariance it stays open.
        assert_eq!(extent(&plan, points, &shape.outline, None).length.and_then(|long| long.sd), None);
    }
}
