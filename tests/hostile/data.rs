//! The drawing by an XML parser, maps and numbers by JSON parsers and the crates of their formats.

use super::each;
use serde_json::Value;

/// XML 1.0 by roxmltree; what SVG could run or fetch by the names of the SVG 1.1 recommendation.
#[test]
fn the_drawing_is_well_formed_and_runs_nothing() {
    for svg in each("plan.svg") {
        let document = roxmltree::Document::parse(svg).unwrap_or_else(|error| panic!("{error}"));
        for node in document.descendants().filter(roxmltree::Node::is_element) {
            let name = node.tag_name().name();
            assert!(
                !["script", "image", "use", "a", "foreignObject", "animate", "set"].contains(&name),
                "{name}"
            );
            for attribute in node.attributes() {
                let (name, value) = (attribute.name(), attribute.value());
                assert!(!name.starts_with("on") && name != "href" && name != "style", "{attribute:?}");
                assert!(
                    name.starts_with("data-") || !value.contains("url(") || value == "url(#window)",
                    "{attribute:?}"
                );
            }
        }
    }
}

/// Every text that stands in a JSON value.
fn texts(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::String(text) => found.push(text.clone()),
        Value::Array(all) => all.iter().for_each(|one| texts(one, found)),
        Value::Object(all) => {
            for (key, one) in all {
                found.push(key.clone());
                texts(one, found);
            }
        }
        _ => {}
    }
}

/// RFC 8259 by serde_json; RFC 7946 by the crate geojson; JSON-FG by the crate jsonfg. Words stand whole, since data is
/// not shown before somebody escapes it for where it is shown.
#[test]
fn maps_and_numbers_are_json_with_the_words_whole() {
    for name in ["plan.geojson", "plan.fg.json", "adjustment.json"] {
        let mut found = Vec::new();
        for text in each(name) {
            texts(&serde_json::from_str(text).unwrap_or_else(|error| panic!("{name}: {error}")), &mut found);
        }
        if name != "adjustment.json" {
            let whole = |word: &&str| found.iter().any(|text| text.contains(*word));
            let lost: Vec<_> = swingtie_tests::hostile::WORDS.iter().filter(|word| !whole(word)).collect();
            assert!(lost.is_empty(), "{name} lacks {lost:?}");
        }
    }
    for text in each("plan.geojson") {
        let read: geojson::GeoJson = text.parse().expect("GeoJSON");
        assert!(matches!(read, geojson::GeoJson::FeatureCollection(all) if !all.features.is_empty()));
    }
    for text in each("plan.fg.json") {
        let read: jsonfg::FeatureCollection = serde_json::from_str(text).expect("JSON-FG");
        assert!(!read.features.is_empty());
    }
}
