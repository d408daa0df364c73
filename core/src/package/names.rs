//! What the files in a package are called.

use crate::record::PhotoId;

/// Which site, from whom, what was left out.
pub const ABOUT: &str = "about.json";
/// What earlier versions called it.
pub const ABOUT_BEFORE: &str = "package.json";
/// The field book.
pub const BOOK: &str = "book.jsonl";
/// What all this is, in words.
pub const README: &str = "README.txt";
/// The book's JSON Schema.
pub const SCHEMA: &str = "book.schema.json";
/// Its text, made from the record's types.
pub const SCHEMA_TEXT: &str = include_str!("book.schema.json");
/// The sums of every other file.
pub const CHECKSUMS: &str = "checksums.sha256";
/// The folder of pictures.
pub const PHOTOS: &str = "photos";
/// The folder of small pictures.
pub const THUMBNAILS: &str = "thumbnails";

/// Media types of pictures, and the endings of their names.
const ENDINGS: [(&str, &str); 8] = [
    ("image/jpeg", "jpg"),
    ("image/png", "png"),
    ("image/webp", "webp"),
    ("image/heic", "heic"),
    ("image/heif", "heif"),
    ("image/avif", "avif"),
    ("image/gif", "gif"),
    ("image/tiff", "tiff"),
];

/// The name of a picture in a folder: `photos/SHA256.jpg`.
#[must_use]
pub fn picture_name(folder: &str, id: &PhotoId, media_type: &str) -> String {
    let known = ENDINGS.iter().find(|(known, _)| *known == media_type);
    // Named by its hash all the same.
    let ending = known.map_or("img", |(_, ending)| ending);
    format!("{folder}/{}.{ending}", id.0)
}

/// The media type a picture's ending stands for.
pub(super) fn media_type(name: &str) -> &'static str {
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    let known = ENDINGS.iter().find(|(_, known)| *known == ending);
    known.map_or("application/octet-stream", |(media_type, _)| media_type)
}

/// A name for the package's own file: what the site is called, as far as every system takes it, and the day and minute
/// it was made, `YYYY-MM-DD HH:MM`, so that two of one day differ: `Elm-corner-2026-11-24-1530.zip`.
#[must_use]
pub fn file_name(site: &str, minute: &str) -> String {
    let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
    let minute = minute.chars().filter(|c| *c != ':');
    let mut name = String::new();
    for c in site.chars().take(44).chain(std::iter::once('-')).chain(minute).map(plain) {
        if c != '-' || !(name.is_empty() || name.ends_with('-')) {
            name.push(c);
        }
    }
    let short: String = name.chars().take(60).collect();
    match short.trim_end_matches('-') {
        "" => "site.zip".to_owned(),
        short => format!("{short}.zip"),
    }
}

/// The hash a picture's name consists of: 64 hexadecimal digits before its ending.
pub(super) fn hash_of(name: &str) -> Option<PhotoId> {
    let file = name.rsplit('/').next()?;
    let stem = file.split_once('.').map_or(file, |(stem, _)| stem);
    let is_hash = stem.len() == 64 && stem.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b));
    is_hash.then(|| PhotoId(stem.to_owned()))
}
