//! Site packages: everything of a site in one zip file.
//!
//! A package is a zip file as any program unpacks it (PKWARE's APPNOTE, methods 0 and 8):
//!
//! | name | what it is |
//! | --- | --- |
//! | `about.json` | which site, from whom, what was left out ([`About`]) |
//! | `book.jsonl` | the field book, one entry a line |
//! | `photos/SHA256.jpg`, `thumbnails/SHA256.jpg` | pictures, named by the photo's hash |
//! | `plan.svg`, `plan.pdf`, `plan.geojson`, `report.html`, tables | what was computed from the book, for reading |
//! | `README.txt`, `book.schema.json` | what all this is |
//! | `checksums.sha256` | the SHA-256 of every other file, as `sha256sum -c` reads it |
//!
//! Only the first three are read back; everything else follows from them. Reading and writing go piece by piece, so that
//! hundreds of photos need no memory: who has the file asks what to read next ([`Opening`], [`Package`]) or gives what
//! was written on ([`Writer`]).
//!
//! # What a file that comes in may cost
//!
//! Anybody may send a file. What it claims is looked at before it is believed, and what it unpacks to is counted:
//!
//! | limit | how much | why so much | beyond it |
//! | --- | --- | --- | --- |
//! | [`SEARCHED`] | 1 MiB from the end | where the directory is named: 64 KiB of comment, and air | [`Trouble::NoDirectory`] |
//! | [`MOST_FILES`] | 20 000 files and folders | a few photos a point | [`Trouble::TooMany`] |
//! | [`LARGEST_DIRECTORY`] | 8 MiB in memory | 20 000 names of this program take 3 MB | [`Trouble::Damaged`] |
//! | [`LARGEST_BOOK`] | 64 MiB, and each other text | a kilobyte a line | [`Trouble::TooLarge`] |
//! | [`MOST_LINES`] | 100 000 lines of the book | twenty times a long survey; 0.1 GB in memory | [`Trouble::TooLong`] |
//! | [`LARGEST_PICTURE`] | 64 MiB | ten times a phone's photo | [`Trouble::TooLarge`] |
//! | [`SWELLS`] | all pictures: 8 times the zip file, and 64 MiB | photos do not pack to less | [`Trouble::Swells`] |
//! | what all files take in the zip file | the zip file's length | else they lie over each other | [`Trouble::Damaged`] |
//! | what a file unpacks to | no more than its directory says | else it is a trap | [`Trouble::Size`] |
//!
//! A file is refused as a whole, and then changes nothing, where its structure, its book or what it says of itself is
//! damaged, or where something in it is a trap. A picture that alone is damaged, cut or changed on its way
//! ([`Contents::spoilt`]) is named, and everything but it can be taken in; a later package brings it.
//!
//! Nothing is searched for a directory in a directory: a zip file in a zip file is a file like others.

mod about;
mod incoming;
mod names;
mod opening;
mod redact;
mod trouble;
mod unpack;
mod whole;
mod windows;
mod write;

#[cfg(test)]
mod tests;

pub use about::{About, FORMAT, Left, Pictures, readme};
pub use incoming::{Incoming, Share, same_site};
pub use names::{
    ABOUT, ABOUT_BEFORE, BOOK, CHECKSUMS, PHOTOS, README, SCHEMA, SCHEMA_TEXT, THUMBNAILS, file_name,
    picture_name,
};
pub use opening::{Contents, Member, Opening, Package, Picture, ReadAt, Step, Text};
pub use redact::without;
pub use trouble::Trouble;
pub use unpack::Unpacking;
pub use whole::{Named, pictures_of, write_texts};
pub use write::{Streamed, WriteError, Writer};

/// So far from a zip file's end its directory is looked for.
pub const SEARCHED: u64 = 1024 * 1024;
/// The most files and folders in a package that is read.
pub const MOST_FILES: usize = 20_000;
/// The most bytes of a zip file that are in memory while its directory is read.
pub const LARGEST_DIRECTORY: u64 = 8 * 1024 * 1024;
/// The largest book that is read, unpacked.
pub const LARGEST_BOOK: u64 = 64 * 1024 * 1024;
/// The most lines of a book that is read.
pub const MOST_LINES: usize = 100_000;
/// The largest picture that is read, unpacked.
pub const LARGEST_PICTURE: u64 = 64 * 1024 * 1024;
/// So many times the zip file's own size all its pictures may unpack to, beside [`LARGEST_PICTURE`].
pub const SWELLS: u64 = 8;
