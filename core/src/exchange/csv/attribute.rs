//! Attributes of features, problems and marks in the `more` cell: `key=14"`, and where the words alone would not come
//! back the same, `key[metres]=words` for a length and `key[]=words` for words.

use crate::record::{Attribute, Attributes, Reading, Sort, row};
use crate::units::{BareUnit, Length, read_length};
use std::collections::BTreeMap;

/// Endings of keys that name a length, where no row of the table has the key. Common practice, no
/// source.
const LENGTHS: &[&str] = &[
    "diameter",
    "spread",
    "height",
    "width",
    "depth",
    "length",
    "thickness",
    "spacing",
    "girth",
    "overhang",
    "clearance",
    "rise",
    "radius",
];
/// Keys of the `more` cell that are no attributes.
const RESERVED: &[&str] = &["fate", "told", "curved", "severity", "photos", "spread"];

/// What a bare number means: trunks are taped in inches where walls are taped in feet.
fn bare_of(key: &str, site: BareUnit) -> BareUnit {
    if site == BareUnit::Feet && key == "trunk_diameter" { BareUnit::Inches } else { site }
}

fn plain_length(key: &str, text: &str, site: BareUnit) -> Option<Length> {
    let is_length = match row(key) {
        Some(row) => matches!(row.sort, Sort::Length { .. }),
        None => LENGTHS.iter().any(|ending| key.ends_with(ending)),
    };
    if !is_length {
        return None;
    }
    read_length(text, bare_of(key, site)).ok()
}

/// The attributes of what is left of a `more` cell.
pub(super) fn read_all(more: BTreeMap<String, String>, site: BareUnit) -> Attributes {
    more.into_iter().map(|(key, text)| read(&key, text, site)).collect()
}

/// The attributes as pairs of a `more` cell.
pub(super) fn write_all(attributes: &Attributes, site: BareUnit) -> Vec<(String, String)> {
    attributes.iter().map(|(key, attribute)| write(key, attribute, site)).collect()
}

fn read(key: &str, text: String, site: BareUnit) -> (String, Attribute) {
    if let Some((name, inside)) = key.strip_suffix(']').and_then(|key| key.rsplit_once('[')) {
        if inside.is_empty() {
            return (name.to_owned(), Attribute::Text(text));
        }
        if let Some(metres) = inside.parse().ok().filter(|m: &f64| m.is_finite()) {
            let reading = Reading { text, value: Length::from_metres(metres) };
            return (name.to_owned(), Attribute::Length(reading));
        }
    }
    match plain_length(key, &text, site) {
        Some(value) => (key.to_owned(), Attribute::Length(Reading { text, value })),
        None => (key.to_owned(), Attribute::Text(text)),
    }
}

fn write(key: &str, attribute: &Attribute, site: BareUnit) -> (String, String) {
    let own = RESERVED.contains(&key) || key.ends_with(']');
    match attribute {
        Attribute::Length(Reading { text, value }) => {
            let plain = !own && plain_length(key, text, site) == Some(*value);
            let key = if plain { key.to_owned() } else { format!("{key}[{}]", value.metres()) };
            (key, text.clone())
        }
        Attribute::Text(text) => {
            let plain = !own && plain_length(key, text, site).is_none();
            (if plain { key.to_owned() } else { format!("{key}[]") }, text.clone())
        }
    }
}
