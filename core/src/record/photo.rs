//! Photo notes: what a picture shows, from where, and what was drawn on it.

use super::{At, EntryId, told};
use crate::units::Angle;
use serde::{Deserialize, Serialize};
use swingtie_derive::Told;

/// Names a photo by the SHA-256 of its bytes, in hexadecimal.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(!transparent))]
#[serde(transparent)]
pub struct PhotoId(pub String);

/// A photo note; the picture itself lies beside the book.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Photo {
    /// The picture as it is kept: made smaller, upright, without what the camera wrote into it.
    pub id: PhotoId,
    /// Its media type, `image/jpeg`.
    pub media_type: String,
    /// Its size in bytes.
    pub bytes: u64,
    /// Where it was taken or what it shows.
    #[serde(default)]
    pub at: At,
    /// The entry of the feature or problem it shows; `at` then says where that was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<EntryId>,
    /// Which way the camera looked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facing: Option<Facing>,
    /// What it shows, in words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// What was drawn over it, in drawing order; the picture's own bytes never change.
    #[serde(default, skip_serializing_if = "PhotoMarks::is_empty")]
    pub marks: PhotoMarks,
    /// The file it was made from, where that is kept too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub original: Option<Original>,
}

impl Photo {
    /// A note of a picture and nothing more: the whole site, no words.
    #[must_use]
    pub fn new(id: PhotoId, media_type: String, bytes: u64) -> Self {
        let (note, marks) = (String::new(), PhotoMarks::default());
        Self { id, media_type, bytes, at: At::Site, of: None, facing: None, note, marks, original: None }
    }
}

/// Which way a camera looked.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Facing {
    /// As drawn: counter-clockwise from the plan's x, radians.
    Plan(Angle),
    /// As the phone's needle told: clockwise from magnetic north, radians. Good to some ten degrees.
    Compass(Angle),
}

/// A file as the camera wrote it. It may hold where it was taken.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Original {
    /// Its bytes' name.
    pub id: PhotoId,
    /// Its media type.
    pub media_type: String,
    /// Its size in bytes.
    pub bytes: u64,
    /// What the file was called.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
}

/// A place in a picture, in fractions of its width and height from its upper left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PictureSpot {
    /// From the left edge, 0 to 1.
    pub across: f64,
    /// From the upper edge, 0 to 1.
    pub down: f64,
}

/// What was drawn over a picture, kept as it was written: a kind of mark that a newer version knows stays,
/// and a phone that only measures need not be able to read any.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PhotoMarks(#[serde(deserialize_with = "told::kept_list")] Vec<serde_json::Value>);

impl PhotoMarks {
    /// Whether nothing was drawn.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What this version can draw of it, in drawing order.
    #[must_use]
    pub fn read(&self) -> Vec<PhotoMark> {
        self.0.iter().filter_map(|mark| serde_json::from_value(mark.clone()).ok()).collect()
    }

    /// These marks, with those of the ones before that this version cannot read.
    #[must_use]
    pub fn written(&self, marks: &[PhotoMark]) -> Self {
        let unread =
            self.0.iter().filter(|mark| serde_json::from_value::<PhotoMark>((*mark).clone()).is_err());
        let written = marks.iter().filter_map(|mark| serde_json::to_value(mark).ok());
        Self(unread.cloned().chain(written).collect())
    }
}

/// Something drawn over a picture.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(transform = super::schema::open))]
#[serde(rename_all = "snake_case")]
pub enum PhotoMark {
    /// An arrow.
    Arrow {
        /// Its tail.
        from: PictureSpot,
        /// Its point.
        to: PictureSpot,
    },
    /// A circle.
    Circle {
        /// Its middle.
        centre: PictureSpot,
        /// Any place on its rim.
        rim: PictureSpot,
    },
    /// Words.
    Text {
        /// Their middle.
        at: PictureSpot,
        /// What they say.
        text: String,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_of_a_newer_version_stays_when_others_are_drawn() {
        let text = r#"[{"star":{"at":1}},{"text":{"at":{"across":0.5,"down":0.5},"text":"here"}}]"#;
        let marks: PhotoMarks = serde_json::from_str(text).unwrap();
        let read = marks.read();
        assert!(matches!(read.as_slice(), [PhotoMark::Text { text, .. }] if text == "here"), "{read:?}");
        assert_eq!(marks.written(&read), marks);
        assert_eq!(serde_json::to_string(&marks.written(&[])).unwrap(), r#"[{"star":{"at":1}}]"#);
    }
}
