//! Features and utility marks under way.

use crate::screens::tidied;
use crate::words::capture as words;
use swingtie_core::record::{
    Attributes, EntryId, Fate, Feature, Geometry, Kind, MarkColour, PointId, Statement, UtilityMark, kind,
};

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
    /// Its line or outline is smooth.
    pub curved: bool,
    /// What is known of it.
    pub attributes: Attributes,
    /// The entry that is written anew.
    pub correcting: Option<EntryId>,
    /// The key of a kind this version does not know; kept as it is.
    unknown: Option<String>,
}

impl Thing {
    /// What stands in the book, to be written anew.
    #[must_use]
    pub fn of(entry: EntryId, feature: &Feature) -> Self {
        let known = kind(&feature.kind);
        Self {
            kind: known.or_else(|| kind("other")),
            points: feature.points.clone(),
            name: feature.name.clone(),
            fate: feature.fate,
            told: feature.told,
            note: feature.note.clone(),
            curved: feature.curved,
            attributes: feature.attributes.clone(),
            correcting: Some(entry),
            unknown: known.is_none().then(|| feature.kind.clone()),
        }
    }

    /// Picks another kind.
    pub fn of_kind(&mut self, kind: &'static Kind, told: bool) {
        self.kind = Some(kind);
        self.told |= told;
        self.unknown = None;
    }

    /// Adds a point at the end, or takes out the last when it is tapped again. An outline closes by itself and
    /// passes no corner twice: its first corner tapped at the end changes nothing, another is taken out.
    pub fn toggle(&mut self, id: PointId) {
        let outline = self.kind.is_some_and(|kind| kind.geometry == Geometry::Area);
        match self.points.iter().position(|point| *point == id) {
            Some(0) if outline && self.points.len() > 2 => {}
            Some(at) if outline => {
                self.points.remove(at);
            }
            _ => toggle(&mut self.points, id),
        }
    }

    /// What it says.
    ///
    /// # Errors
    /// A sentence for the user.
    pub fn statement(&self) -> Result<Statement, String> {
        let kind = self.kind.ok_or("Pick what it is first.")?;
        let least = kind.geometry.least_points();
        if self.points.len() < least {
            return Err(match least {
                1 => say!("Tap the point it stands on."),
                n => say!("Tap at least {n} points, in order."),
            });
        }
        let feature = Feature {
            kind: self.unknown.clone().unwrap_or_else(|| kind.key.to_owned()),
            points: self.points.clone(),
            name: self.name.trim().to_owned(),
            fate: self.fate,
            attributes: tidied(&self.attributes),
            curved: self.curved,
            told: self.told,
            note: self.note.trim().to_owned(),
        };
        Ok(said(Statement::Feature(feature), self.correcting.as_ref()))
    }
}

/// The statement, or the correction that writes an entry anew with it.
fn said(now: Statement, correcting: Option<&EntryId>) -> Statement {
    match correcting {
        Some(entry) => Statement::Correct { entry: entry.clone(), now: Box::new(now) },
        None => now,
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
    /// Ticket, days, widths.
    pub attributes: Attributes,
    /// The entry that is written anew.
    pub correcting: Option<EntryId>,
}

impl Mark {
    /// What stands in the book, to be written anew.
    #[must_use]
    pub fn of(entry: EntryId, mark: &UtilityMark) -> Self {
        Self {
            colour: Some(mark.colour),
            letters: mark.letters.clone(),
            points: mark.points.clone(),
            told: mark.told,
            note: mark.note.clone(),
            attributes: mark.attributes.clone(),
            correcting: Some(entry),
        }
    }

    /// Adds a point at the end, or takes out the last when it is tapped again.
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
            return Err(say!("Tap the points along the mark."));
        }
        let mark = UtilityMark {
            colour,
            points: self.points.clone(),
            letters: self.letters.trim().to_owned(),
            attributes: tidied(&self.attributes),
            told: self.told,
            note: self.note.trim().to_owned(),
        };
        Ok(said(Statement::Mark(mark), self.correcting.as_ref()))
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
    use swingtie_core::record::{Attribute, Reading, UnitSystem};

    #[test]
    fn a_tree_with_its_trunk() {
        let trunk = Reading::read("9\"", UnitSystem::FeetInches.into()).unwrap();
        let mut thing = Thing { kind: kind("tree"), ..Thing::default() };
        assert!(thing.statement().is_err());
        thing.toggle("t1".into());
        thing.attributes.insert("trunk_diameter".to_owned(), Attribute::Length(trunk.clone()));
        thing.attributes.insert("species".to_owned(), Attribute::Text(" ".to_owned()));
        let Statement::Feature(feature) = thing.statement().unwrap() else { panic!("no feature") };
        assert_eq!(feature.attributes.get("trunk_diameter"), Some(&Attribute::Length(trunk)));
        assert_eq!(feature.attributes.len(), 1);
    }

    #[test]
    fn an_outline_passes_no_corner_twice_a_line_may() {
        let tapped = |key, taps: &[&str]| {
            let mut thing = Thing { kind: kind(key), ..Thing::default() };
            taps.iter().for_each(|tap| thing.toggle((*tap).into()));
            thing.points.iter().map(|p| p.as_str().to_owned()).collect::<Vec<_>>()
        };
        assert_eq!(tapped("house", &["a", "b", "c", "a"]), ["a", "b", "c"]);
        assert_eq!(tapped("house", &["a", "b", "c", "d", "b"]), ["a", "c", "d"]);
        assert_eq!(tapped("house", &["a", "b", "b"]), ["a"]);
        assert_eq!(tapped("fence", &["a", "b", "c", "a"]), ["a", "b", "c", "a"]);
    }

    #[test]
    fn a_thing_written_anew_keeps_what_no_form_shows() {
        let mut feature = Feature {
            kind: "sundial".to_owned(),
            points: vec!["x".into()],
            name: "old".to_owned(),
            fate: Some(Fate::Keep),
            attributes: Attributes::new(),
            curved: false,
            told: true,
            note: String::new(),
        };
        feature.attributes.insert("gnomon".to_owned(), Attribute::Text("brass".to_owned()));
        let thing = Thing::of("e1".into(), &feature);
        let now = Statement::Feature(feature);
        let Statement::Correct { entry, now: written } = thing.statement().unwrap() else {
            panic!("no correction")
        };
        assert_eq!((entry.as_str(), *written), ("e1", now));
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
