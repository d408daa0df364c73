//! Rows that are no measurements: features, problems, marks, photos, sketch, anchor and north.

use super::cells::{normal, read_list};
use super::import::Reader;
use super::table::{Column, Row};
use super::{Trouble, attribute};
use crate::record::{
    Anchor, At, Facing, Feature, MarkColour, North, NorthKind, Note, Photo, PhotoId, PhotoMarks, Problem,
    Severity, Statement, UtilityMark,
};
use crate::units::{Angle, BareUnit, PlanPoint};
use std::collections::BTreeMap;

impl Reader<'_> {
    pub(super) fn feature(&mut self, row: &Row) -> Option<Feature> {
        let kind = self.what(row, "the kind of thing, such as house, fence or tree");
        let points = self.points(row, 1, "the points it is drawn through");
        let mut more = Self::more(row);
        let fate = more.remove("fate").filter(|fate| !fate.is_empty());
        let fate = fate.map(|word| self.word(row, Column::More, &word, &["keep", "move", "remove", "ask"]));
        let told = self.yes(row, &mut more, "told");
        let curved = self.yes(row, &mut more, "curved");
        Some(Feature {
            attributes: attribute::read_all(more, self.bare_of_site()),
            kind: kind?,
            points: points?,
            name: row.get(Column::Name).to_owned(),
            fate: match fate {
                Some(fate) => Some(fate?),
                None => None,
            },
            curved: curved?,
            told: told?,
            note: row.get(Column::Note).to_owned(),
        })
    }

    fn what(&mut self, row: &Row, wanted: &'static str) -> Option<String> {
        let what = row.get(Column::What);
        if what.is_empty() {
            self.fault(row, Column::What, Trouble::Missing { wanted });
            return None;
        }
        Some(what.to_owned())
    }

    /// Whether this is said to be so.
    fn yes(&mut self, row: &Row, more: &mut BTreeMap<String, String>, key: &str) -> Option<bool> {
        let Some(word) = more.remove(key) else { return Some(false) };
        match normal(&word).as_str() {
            "yes" | "true" | "1" | "" => Some(true),
            "no" | "false" | "0" => Some(false),
            _ => {
                self.fault(row, Column::More, Trouble::UnknownWord { word, known: vec!["yes", "no"] });
                None
            }
        }
    }

    pub(super) fn problem(&mut self, row: &Row) -> Option<Problem> {
        let kind = self.what(row, "the kind of problem, such as wet_spot, or other");
        let at = self.at(row);
        let mut more = Self::more(row);
        let told = self.yes(row, &mut more, "told");
        let severity = more.remove("severity").filter(|word| !word.is_empty());
        let severity = match severity {
            Some(word) => self.word(row, Column::More, &word, &["note", "fix", "danger"]),
            None => Some(Severity::default()),
        };
        let photos = more.remove("photos").map(|list| read_list(&list)).unwrap_or_default();
        let spread = more.remove("spread").filter(|word| !word.is_empty());
        let spread = spread.map(|word| self.word(row, Column::More, &word, &["line", "area"]));
        Some(Problem {
            kind: kind?,
            severity: severity?,
            at: at?,
            spread: match spread {
                Some(spread) => Some(spread?),
                None => None,
            },
            attributes: attribute::read_all(more, self.bare_of_site()),
            note: row.get(Column::Note).to_owned(),
            photos: photos.into_iter().map(PhotoId).collect(),
            told: told?,
        })
    }

    pub(super) fn note(&mut self, row: &Row) -> Option<Note> {
        let (topic, at) = (self.what(row, "what the note is about, such as wish, or other"), self.at(row));
        let mut more = Self::more(row);
        let settles = more.remove("settles").map(|list| read_list(&list)).unwrap_or_default();
        let when = more.remove("when").unwrap_or_default();
        Some(Note {
            topic: topic?,
            at: at?,
            text: row.get(Column::Note).to_owned(),
            when,
            settles,
            ..Note::default()
        })
    }

    fn at(&mut self, row: &Row) -> Option<At> {
        if !row.get(Column::Points).is_empty() {
            return self.points(row, 1, "where it is").map(At::Points);
        }
        if row.get(Column::X).is_empty() && row.get(Column::Y).is_empty() {
            return Some(At::Site);
        }
        self.place(row).map(At::Near)
    }

    fn place(&mut self, row: &Row) -> Option<PlanPoint> {
        let (x, y) = (self.number(row, Column::X), self.number(row, Column::Y));
        Some(PlanPoint::from_metres(x?, y?))
    }

    pub(super) fn mark(&mut self, row: &Row) -> Option<UtilityMark> {
        let known = &["red", "yellow", "orange", "blue", "purple", "green", "pink", "white"];
        let colour = self.what(row, "the mark's colour, such as yellow");
        let colour = colour.and_then(|word| self.word::<MarkColour>(row, Column::What, &word, known));
        let points = self.points(row, 1, "the points along it");
        let mut more = Self::more(row);
        let told = self.yes(row, &mut more, "told");
        Some(UtilityMark {
            colour: colour?,
            points: points?,
            letters: row.get(Column::Name).to_owned(),
            attributes: attribute::read_all(more, self.bare_of_site()),
            told: told?,
            note: row.get(Column::Note).to_owned(),
        })
    }

    pub(super) fn photo(&mut self, row: &Row) -> Option<Photo> {
        let id = row.get(Column::Name).trim();
        if id.is_empty() {
            self.fault(row, Column::Name, Trouble::Missing { wanted: "the SHA-256 of the picture's file" });
        }
        let (media_type, at) = (self.what(row, "the file's type, such as image/jpeg"), self.at(row));
        let more = Self::more(row);
        let bytes = more.get("bytes").cloned().unwrap_or_else(|| "0".to_owned());
        let Ok(bytes) = bytes.parse() else {
            self.fault(row, Column::More, Trouble::NotNumber { text: bytes });
            return None;
        };
        let facing = match (more.get("facing_radians"), more.get("compass_radians")) {
            (Some(text), _) => Some(Facing::Plan(self.radians(row, text)?)),
            (None, Some(text)) => Some(Facing::Compass(self.radians(row, text)?)),
            (None, None) => None,
        };
        let marks = match more.get("marks") {
            Some(text) => self.as_in_the_book(row, text, "what is drawn on a photo")?,
            None => PhotoMarks::default(),
        };
        let original = match more.get("original") {
            Some(text) => Some(self.as_in_the_book(row, text, "the file a photo was made from")?),
            None => None,
        };
        (!id.is_empty()).then_some(())?;
        let photo = Photo::new(PhotoId(id.to_owned()), media_type?, bytes);
        let note = row.get(Column::Note).to_owned();
        Some(Photo { at: at?, note, facing, marks, original, ..photo })
    }

    fn radians(&mut self, row: &Row, text: &str) -> Option<Angle> {
        self.parse(row, Column::More, text).map(Angle::from_radians)
    }

    /// What has no columns of its own and stands in the table as in the book.
    fn as_in_the_book<T: serde::de::DeserializeOwned>(
        &mut self,
        row: &Row,
        text: &str,
        wanted: &'static str,
    ) -> Option<T> {
        let read = serde_json::from_str(text).ok();
        if read.is_none() {
            self.fault(row, Column::More, Trouble::Missing { wanted });
        }
        read
    }

    pub(super) fn sketch(&mut self, row: &Row) -> Option<Statement> {
        let (point, at) = (self.point(row, Column::Points), self.place(row));
        Some(Statement::Sketch { point: point?, at: at? })
    }

    pub(super) fn anchor(&mut self, row: &Row) -> Option<Anchor> {
        let point = self.point(row, Column::Points);
        let more = Self::more(row);
        let mut degrees = |key: &str, limit: f64, range| {
            let text = more.get(key).map_or("", String::as_str);
            let number = self.parse(row, Column::More, text)?;
            if number.abs() > limit {
                self.fault(row, Column::More, Trouble::OutOfRange { text: text.to_owned(), range });
                return None;
            }
            Some(number)
        };
        let latitude = degrees("latitude", 90.0, "a latitude lies between -90 and 90 degrees");
        let longitude = degrees("longitude", 180.0, "a longitude lies between -180 and 180 degrees");
        let accuracy = match more.get("accuracy") {
            Some(text) => Some(self.length(row, Column::More, text, BareUnit::Metres)?),
            None => None,
        };
        let source = row.get(Column::Note).to_owned();
        Some(Anchor { point: point?, latitude: latitude?, longitude: longitude?, source, accuracy })
    }

    pub(super) fn north(&mut self, row: &Row) -> Option<North> {
        let line = self.two(row, Column::From, Column::To);
        let kind = self.what(row, "true, or magnetic for a compass");
        let kind =
            kind.and_then(|word| self.word::<NorthKind>(row, Column::What, &word, &["true", "magnetic"]));
        let bearing = match Self::more(row).get("bearing_radians") {
            Some(exact) => self.parse(row, Column::More, exact).map(Angle::from_radians),
            None => self.number(row, Column::Reading).map(Angle::from_degrees),
        };
        let declination =
            match (Self::more(row).get("declination_radians"), Self::more(row).get("declination")) {
                (Some(exact), _) => Some(self.parse(row, Column::More, exact).map(Angle::from_radians)?),
                (None, Some(east)) => Some(self.parse(row, Column::More, east).map(Angle::from_degrees)?),
                (None, None) => None,
            };
        let sd = match Self::more(row).get("sd_radians") {
            Some(sd) => Some(self.parse(row, Column::More, sd).map(Angle::from_radians)?),
            None => None,
        };
        let (from, to) = line?;
        let source = row.get(Column::Note).to_owned();
        Some(North { from, to, bearing: bearing?, kind: kind?, declination, source, sd })
    }
}
