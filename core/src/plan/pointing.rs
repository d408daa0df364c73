//! Which way a view goes and where a wind blows to. Apart from the plan: it is only drawn when asked for.

use super::NorthArrow;
use crate::record::{Attribute, Feature};
use crate::units::{Angle, read_number};

/// Sixteen points of the compass, clockwise from north.
const WORDS: [[&str; 2]; 16] = [
    ["n", "north"],
    ["nne", "north northeast"],
    ["ne", "northeast"],
    ["ene", "east northeast"],
    ["e", "east"],
    ["ese", "east southeast"],
    ["se", "southeast"],
    ["sse", "south southeast"],
    ["s", "south"],
    ["ssw", "south southwest"],
    ["sw", "southwest"],
    ["wsw", "west southwest"],
    ["w", "west"],
    ["wnw", "west northwest"],
    ["nw", "northwest"],
    ["nnw", "north northwest"],
];

/// The bearing that words begin with, clockwise from north: `NW, the street`, `north-west`, `315°`. None for
/// words that name no direction.
#[must_use]
pub fn bearing_of(words: &str) -> Option<Angle> {
    let first = words.split([',', ';', '(']).next()?.trim().to_ascii_lowercase();
    let first = first.strip_prefix("from ").unwrap_or(&first);
    let first = first.strip_prefix("the ").unwrap_or(first);
    if let Some(degrees) = read_number(first.trim_end_matches('°').trim_end()) {
        return (0.0..=360.0).contains(&degrees).then(|| Angle::from_degrees(degrees));
    }
    let plain = |words: &str| words.replace(['-', ' '], "");
    let said = plain(first);
    let index = WORDS.iter().position(|[short, long]| said == *short || said == plain(long))?;
    #[expect(clippy::cast_precision_loss, reason = "below sixteen")]
    let bearing = index as f64 * 22.5;
    Some(Angle::from_degrees(bearing))
}

/// Which way the arrow of a view or a wind points on the plan, counter-clockwise from its x: a view to what is
/// seen, a wind to where it goes. None where the side was not said as a direction or north is not known.
/// Words are taken for true directions; a needle's north is near enough for them.
#[must_use]
pub fn pointing(feature: &Feature, north: Option<&NorthArrow>) -> Option<Angle> {
    let (key, turn) = match feature.kind.as_str() {
        "view" => ("toward", 0.0),
        "wind" | "noise" => ("from_side", 180.0),
        _ => return None,
    };
    let Some(Attribute::Text(words)) = feature.attributes.get(key) else { return None };
    let bearing = bearing_of(words)?.degrees() + turn;
    Some(Angle::from_degrees(north?.direction.degrees() - bearing))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::NorthKind;

    // The points of the compass are 22.5 degrees apart: common knowledge, no source.
    #[test]
    fn directions_are_read_as_people_write_them() {
        for (words, degrees) in [
            ("NW, the street", 315.0),
            ("north-west", 315.0),
            ("Northwest", 315.0),
            ("from the south west", 225.0),
            ("SSE", 157.5),
            ("north northeast", 22.5),
            ("315°", 315.0),
            ("E", 90.0),
        ] {
            let read = bearing_of(words).map(Angle::degrees);
            assert!(read.is_some_and(|read| (read - degrees).abs() < 1e-9), "{words}: {read:?}");
        }
        for words in ["the street", "", "nowhere", "400", "end of the garden"] {
            assert_eq!(bearing_of(words), None, "{words}");
        }
    }

    /// North up the plan's y: a view to the west points along -x, a wind from the west along +x.
    #[test]
    fn a_view_points_to_what_is_seen_and_a_wind_to_where_it_goes() {
        let north =
            NorthArrow { direction: Angle::RIGHT, kind: NorthKind::True, source: String::new(), sd: None };
        let of = |kind: &str, key: &str, words: &str| {
            let attributes = [(key.to_owned(), Attribute::Text(words.to_owned()))].into_iter().collect();
            let (points, name, note) = (Vec::new(), String::new(), String::new());
            let (fate, curved, told) = (None, false, false);
            let feature =
                Feature { kind: kind.to_owned(), points, name, fate, attributes, curved, told, note };
            pointing(&feature, Some(&north)).map(|angle| angle.degrees().rem_euclid(360.0).round())
        };
        assert_eq!(of("view", "toward", "W"), Some(180.0));
        assert_eq!(of("wind", "from_side", "W"), Some(0.0));
        assert_eq!(of("view", "toward", "the street"), None);
        assert_eq!(of("tree", "toward", "W"), None);
    }
}
