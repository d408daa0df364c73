//! The sheet against outside measures: an XML parser, an SVG renderer, published sheet sizes and
//! scales, and plain arithmetic.

mod contents;
mod font;
mod furnished;
mod geometry;
mod hostile;
mod lists;
mod overlaps;
mod ownership;
mod papers;
mod pdf;
mod rendering;
mod snapshots;
mod tiles;
mod yards;

use roxmltree::{Document, Node};

/// Parses a sheet, which must be well-formed XML.
fn parse(svg: &str) -> Document<'_> {
    Document::parse(svg).unwrap_or_else(|error| panic!("the sheet is not well-formed XML: {error}"))
}

/// The element with an id.
fn by_id<'a>(document: &'a Document<'_>, id: &str) -> Option<Node<'a, 'a>> {
    document.descendants().find(|node| node.attribute("id") == Some(id))
}

/// A number attribute.
fn attribute(node: Node<'_, '_>, name: &str) -> f64 {
    let text = node.attribute(name).unwrap_or_else(|| panic!("no {name} on {node:?}"));
    text.trim_end_matches("mm").parse().unwrap_or_else(|_| panic!("{name}={text} is no number"))
}

/// All text of the sheet, one string a text element.
fn texts(document: &Document<'_>) -> Vec<String> {
    let all = document.descendants().filter(|node| node.has_tag_name("text"));
    all.map(|node| node.text().unwrap_or_default().to_owned()).collect()
}

/// Everything written on the sheet, joined: wrapped sentences can be looked for.
fn written(document: &Document<'_>) -> String {
    texts(document).join(" ")
}

/// The mark of a point: the centre of its first circle, mm from the sheet's upper left corner.
fn mark(document: &Document<'_>, label: &str) -> Option<(f64, f64)> {
    let group = document.descendants().find(|node| node.attribute("data-label") == Some(label))?;
    let circle = group.children().find(|node| node.has_tag_name("circle"))?;
    Some((attribute(circle, "cx"), attribute(circle, "cy")))
}

/// Length of the scale bar on paper (mm) and the number at its end, as written.
fn scale_bar(document: &Document<'_>) -> (f64, f64, String) {
    let bar = by_id(document, "scale-bar").expect("a scale bar");
    let whole = bar.children().rfind(|node| node.has_tag_name("rect")).expect("the bar's border");
    let notes: Vec<String> = bar
        .parent()
        .into_iter()
        .flat_map(|block| block.children())
        .filter(|node| node.has_tag_name("text"))
        .filter_map(|node| node.text().map(str::to_owned))
        .collect();
    let (unit, numbers) = notes.split_last().expect("a unit");
    let end = numbers.last().expect("numbers").parse().expect("a number");
    (attribute(whole, "width"), end, unit.clone())
}
