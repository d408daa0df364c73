//! What a package says of itself.

use super::{ABOUT, BOOK, CHECKSUMS, PHOTOS, SCHEMA, THUMBNAILS};
use crate::record::{AuthorId, Record};
use serde::{Deserialize, Serialize};

/// The form of packages this version writes and reads. A greater one asks for a newer version.
pub const FORMAT: u32 = 1;

/// What a package says of itself, `about.json`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct About {
    /// [`FORMAT`].
    pub swingtie_package: u32,
    /// Names the site on every device that has it.
    #[serde(default)]
    pub site: String,
    /// Who made the package.
    #[serde(default = "nobody")]
    pub made_by: AuthorId,
    /// When, milliseconds since 1970.
    #[serde(default)]
    pub made_at_ms: i64,
    /// Which pictures are in it.
    #[serde(default)]
    pub pictures: Pictures,
    /// What was left out of the book.
    #[serde(default)]
    pub left_out: Left,
}

fn nobody() -> AuthorId {
    AuthorId(String::new())
}

/// Which pictures a package holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pictures {
    /// All, with their small versions.
    #[default]
    All,
    /// The small versions only: for mail.
    Small,
    /// None.
    None,
}

/// What of a book does not leave the device.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Left {
    /// Where on earth the site is.
    #[serde(default)]
    pub place: bool,
    /// What the site is called, for whom it is and who measured.
    #[serde(default)]
    pub names: bool,
    /// What was said about money.
    #[serde(default)]
    pub money: bool,
}

impl Left {
    /// Whether everything goes along.
    #[must_use]
    pub fn is_nothing(self) -> bool {
        self == Self::default()
    }
}

/// What all this is, in words, for who unpacks it by hand: `README.txt`.
#[must_use]
pub fn readme(record: &Record, about: &About) -> String {
    let name = if record.site.name.is_empty() || about.left_out.names {
        String::new()
    } else {
        say!(" of {}", record.site.name)
    };
    let mut left = Vec::new();
    for (is_left, what) in [
        (about.left_out.place, "where on earth the site is"),
        (about.left_out.names, "what the site is called, for whom it is and who measured"),
        (about.left_out.money, "what was said about money"),
        (about.pictures == Pictures::Small, "the pictures at full size"),
        (about.pictures == Pictures::None, "the pictures"),
    ] {
        if is_left {
            left.push(what);
        }
    }
    let left =
        if left.is_empty() { String::new() } else { say!("\nLeft out on purpose: {}.\n", left.join("; ")) };
    format!(
        "A SITE PACKAGE{name}, by Swingtie\n\
         \n\
         To read: open report.html, plan.pdf or plan.svg. The sheets are true to scale when printed at 100 %.\n\
         plan.geojson is the plan for a map program, plan.fg.json the same in metres on the ground (there is no\n\
         plan.geojson where nobody said where on earth the site is). points.csv, measurements.csv and\n\
         adjustment.json hold the numbers.\n\
         To go on with it: open this zip file in Swingtie, on a phone or at a desk.\n\
         {left}\n\
         FOR PROGRAMS\n\
         \n\
         {ABOUT}: the form of this package (swingtie_package, {FORMAT}), the site's id, who made it and when.\n\
         {BOOK}: the field book as JSON Lines: UTF-8, one entry a line, in order. An entry is never changed; a\n\
         correction or a strike is an entry of its own. Two books of one site are joined by taking every entry of\n\
         both once, by its id; the order is by clock, then author, then id. {SCHEMA} describes one line (JSON\n\
         Schema 2020-12). Lengths are metres, angles radians. Kinds of entries you do not know: keep them.\n\
         {PHOTOS}/, {THUMBNAILS}/: pictures, and small ones, named by the SHA-256 of the picture as the book says\n\
         it. Nothing the camera wrote into them is left, unless the original was kept on purpose.\n\
         {CHECKSUMS}: `sha256sum -c {CHECKSUMS}` checks every file.\n\
         Everything else is computed from the book, and computed again when it is opened.\n\
         \n\
         This is no boundary survey. Have the utilities marked before any digging, and dig by hand near the marks.\n\
         What concerns structure, gas, electricity or fire is for licensed people and the local code.\n"
    )
}
