//! Features and utility marks under way.

use crate::keypad::Typed;
use crate::words::capture as words;
use litemap::LiteMap;
use swingtie_core::record::{
    Attribute, Fate, Feature, Geometry, Kind, MarkColour, PointId, Statement, UtilityMark,
};

/// A length kept with a feature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// Its key in the book.
    pub key: &'static str,
    /// Its name on screen.
    pub name: &'static str,
}

const TRUNK: Size = Size { key: "trunk_diameter", name: "trunk diameter" };
const CANOPY: Size = Size { key: "canopy_spread", name: "canopy spread" };
const DIAMETER: Size = Size { key: "diameter", name: "diameter" };
const HEIGHT: Size = Size { key: "height", name: "height" };
const WIDTH: Size = Size { key: "clear_width", name: "clear width" };

/// The lengths worth asking for this kind.
#[must_use]
pub fn sizes(kind: &Kind) -> &'static [Size] {
    match kind.key {
        "tree" => &[TRUNK, CANOPY],
        "stump" => &[DIAMETER],
        "shrub" => &[CANOPY, HEIGHT],
        "gate" => &[WIDTH],
        "fence" | "wall" | "hedge" => &[HEIGHT],
        _ => &[],
    }
}

/// How many points a kind is drawn through, at least.
#[must_use]
pub const fn least_points(geometry: Geometry) -> usize {
    match geometry {
        Geometry::Point | Geometry::Circle => 1,
        Geometry::Line => 2,
        Geometry::Area => 3,
    }
}

/// A feature under way.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Thing {
    /// Its kind, once picked.
    pub kind: Option<&'static Kind>,
    /// Its points in order.
    pub points: Vec<PointId>,
    /// Its own name.
    pub name: String,
    /// What shall become of it.
    pub fate: Option<Fate>,
    /// Told, not seen.
    pub told: bool,
    /// Anything else.
    pub note: String,
    /// Its sizes.
    pub sizes: LiteMap<&'static str, Typed>,
}

impl Thing {
    /// Adds a point at the end, or takes out the last when it is tapped again.
    pub fn toggle(&mut self, id: PointId) {
        toggle(&mut self.points, id);
    }

    /// What it says.
    ///
    /// # Errors
    /// A sentence for the user.
    pub fn statement(&self) -> Result<Statement, String> {
        let kind = self.kind.ok_or("Pick what it is first.")?;
        let least = least_points(kind.geometry);
        if self.points.len() < least {
            return Err(match least {
                1 => "Tap the point it stands on.".to_owned(),
                n => format!("Tap at least {n} points, in order."),
            });
        }
        let mut attributes = LiteMap::new();
        for size in sizes(kind) {
            let Some(typed) = self.sizes.get(size.key).filter(|typed| !typed.is_empty()) else { continue };
            let reading = typed.reading().ok_or_else(|| format!("The {} is not complete.", size.name))?;
            attributes.insert(size.key.to_owned(), Attribute::Length(reading));
        }
        Ok(Statement::Feature(Feature {
            kind: kind.key.to_owned(),
            points: self.points.clone(),
            name: self.name.trim().to_owned(),
            fate: self.fate,
            attributes,
            told: self.told,
            note: self.note.trim().to_owned(),
        }))
    }
}

/// A utility mark under way.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mark {
    /// Its colour, once picked.
    pub colour: Option<MarkColour>,
    /// The letters on it.
    pub letters: String,
    /// The points along it.
    pub points: Vec<PointId>,
    /// Told, not marked.
    pub told: bool,
    /// Anything else.
    pub note: String,
}

impl Mark {
    /// As [`Thing::toggle`].
    pub fn toggle(&mut self, id: PointId) {
        toggle(&mut self.points, id);
    }

    /// What it says.
    ///
    /// # Errors
    /// A sentence for the user.
    pub fn statement(&self) -> Result<Statement, String> {
        let colour = self.colour.ok_or("Pick the colour you see first.")?;
        if self.points.is_empty() {
            return Err("Tap the points along the mark.".to_owned());
        }
        Ok(Statement::Mark(UtilityMark {
            colour,
            points: self.points.clone(),
            letters: self.letters.trim().to_owned(),
            told: self.told,
            note: self.note.trim().to_owned(),
        }))
    }
}

fn toggle(points: &mut Vec<PointId>, id: PointId) {
    if points.last() == Some(&id) {
        points.pop();
    } else {
        points.push(id);
    }
}

/// The letters new points along a mark start with: its usual letter and its colour's.
#[must_use]
pub fn mark_prefix(colour: MarkColour) -> String {
    let (name, _, letter) = words::mark(colour);
    let first = name.chars().next().map(|c| c.to_ascii_uppercase()).unwrap_or('M');
    if letter == "?" { format!("{first}M") } else { format!("{first}{letter}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keypad::Key;
    use swingtie_core::record::{UnitSystem, kind};

    #[test]
    fn a_tree_with_its_trunk() {
        let mut typed = Typed::new(UnitSystem::FeetInches);
        typed.press(Key::Digit(9)).unwrap();
        typed.press(Key::Inches).unwrap();
        let mut thing = Thing { kind: kind("tree"), ..Thing::default() };
        assert!(thing.statement().is_err());
        thing.toggle("t1".into());
        thing.sizes.insert("trunk_diameter", typed);
        let Statement::Feature(feature) = thing.statement().unwrap() else { panic!("no feature") };
        assert!(
            matches!(feature.attributes.get("trunk_diameter").unwrap(), Attribute::Length(r) if r.text == "9\"")
        );
    }

    #[test]
    fn a_half_typed_size_is_not_dropped_in_silence() {
        let mut typed = Typed::new(UnitSystem::FeetInches);
        typed.press(Key::Digit(9)).unwrap();
        let mut thing = Thing { kind: kind("tree"), ..Thing::default() };
        thing.toggle("t1".into());
        thing.sizes.insert("trunk_diameter", typed);
        assert!(thing.statement().unwrap_err().contains("trunk"));
    }

    #[test]
    fn an_area_needs_three_points_and_the_last_tapped_again_goes() {
        let mut thing = Thing { kind: kind("patio"), ..Thing::default() };
        for id in ["a", "b", "c", "c"] {
            thing.toggle(id.into());
        }
        assert!(thing.statement().is_err());
        thing.toggle("d".into());
        assert!(thing.statement().is_ok());
    }
}
