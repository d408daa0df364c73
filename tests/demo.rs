//! The demo yard's book: every reading means what it says.
//!
//! The inch is 0.0254 m exactly (international yard and pound agreement of 1959); the words are read
//! here by other code than the product's.

use serde_json::Value;

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
