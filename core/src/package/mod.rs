//! Site packages: everything of a site in one zip file.
//!
//! A package is a zip file as any program unpacks it (PKWARE's APPNOTE, methods 0 and 8):
//!
//! | name | what it is |
//! | --- | --- |
//! | `package.json` | which site, from whom, what was left out ([`About`]) |
//! | `book.jsonl` | the field book, one entry a line |
//! | `photos/SHA256.jpg`, `thumbnails/SHA256.jpg` | pictures, named by the photo's hash |
//! | `plan.svg`, `plan.pdf`, `plan.geojson`, `report.html`, tables | what was computed from the book, for reading |
//! | `README.txt`, `book.schema.json` | what all this is |
//! | `checksums.sha256` | the SHA-256 of every other file, as `sha256sum -c` reads it |
//!
//! Only the first three are read back; everything else follows from them. Reading and writing go piece by piece, so that
//! hundreds of photos need no memory: who has the file asks what to read next ([`Opening`], [`Package`]) or gives what
//! was written on ([`Writer`]).

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
    BOOK, CHECKSUMS, PACKAGE, PHOTOS, README, SCHEMA, SCHEMA_TEXT, THUMBNAILS, file_name, picture_name,
};
pub use opening::{Contents, Member, Opening, Package, Picture, ReadAt, Step, Text};
pub use redact::without;
pub use trouble::Trouble;
pub use unpack::Unpacking;
pub use whole::{Named, pictures_of, write_texts};
pub use write::{Streamed, WriteError, Writer};

/// The most files in a package that is read.
pub const MOST_FILES: usize = 20_000;
/// The largest book that is read, unpacked: some hundred thousand entries.
pub const LARGEST_BOOK: u64 = 64 * 1024 * 1024;
/// The largest picture that is read, unpacked.
pub const LARGEST_PICTURE: u64 = 64 * 1024 * 1024;
