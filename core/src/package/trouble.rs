//! Why a file is not taken in.

use super::{ABOUT, FORMAT, LARGEST_BOOK, MOST_FILES, MOST_LINES};

const fn mebibytes(bytes: u64) -> u64 {
    bytes / (1024 * 1024)
}

/// Why a file is not taken in, one plain sentence. Nothing was changed then.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Trouble {
    /// Its directory is missing: no zip file, or one cut short.
    #[error("{}", say!("This is no zip file, or its end is missing. If it was sent or copied, do that once more."))]
    NoDirectory,
    /// Something in it does not fit together.
    #[error("{}", say!("The zip file is damaged ({_0}). If it was sent or copied, do that once more."))]
    Damaged(String),
    /// A zip file of something else.
    #[error("{}", say!("This zip file is no site package: there is no book.jsonl in it."))]
    NoBook,
    /// More files than any site has.
    #[error("{}", say!("There are more than {MOST_FILES} files in it; a site package has fewer."))]
    TooMany,
    /// A name that leads out of the folder it is unpacked into.
    #[error("{}", say!("The name of a file in it leads elsewhere ({_0}). Who made it may mean harm; nothing was read."))]
    LeadsOut(String),
    /// A name that is no text.
    #[error("{}", say!("The name of a file in it is no text (UTF-8)."))]
    NoName,
    /// A link instead of a file.
    #[error("{}", say!("{_0} in it is a link to another file. Who made it may mean harm; nothing was read."))]
    Link(String),
    /// Two files of one name.
    #[error("{}", say!("There are two files named {_0} in it; which counts is not known, so nothing was read."))]
    Twice(String),
    /// Packed in a way this version does not unpack.
    #[error("{}", say!("{_0} is packed in a way that cannot be read here (with a password, or by a rare method)."))]
    Method(String),
    /// Larger than it may be, or than it says.
    #[error("{}", say!("{name} is larger than the {} MB it may have.", mebibytes(*.most)))]
    TooLarge {
        /// The file.
        name: String,
        /// The limit in bytes.
        most: u64,
    },
    /// Small here and large when unpacked, as no picture is.
    #[error("{}", say!("The pictures in it would unpack to far more than pictures do. Who made it may mean harm; nothing was read."))]
    Swells,
    /// It holds more or less than it says.
    #[error("{}", say!("{_0} does not hold what the zip file says it holds: it was damaged on its way, or made to do harm."))]
    Size(String),
    /// A part of it is missing.
    #[error("{}", say!("{_0} ends too early: a part of it is missing. Have it sent once more."))]
    Cut(String),
    /// Its bytes are others than were written.
    #[error("{}", say!("{_0} is not as it was written: its checksum is another. Have it sent once more."))]
    Sum(String),
    /// No text.
    #[error("{}", say!("{_0} is no text (UTF-8)."))]
    NoText(String),
    /// The package was made by a newer version.
    #[error("{}", say!("This package was made by a newer version of Swingtie (form {_0}; this one reads {FORMAT}). Update the app, then open it again."))]
    Newer(u32),
    /// What it says of itself cannot be read.
    #[error("{}", say!("{ABOUT} cannot be read ({_0})."))]
    About(String),
    /// Lines of the book cannot be read.
    #[error("{}", say!("The book in it cannot be read: {_0}"))]
    Lines(String),
    /// More lines than any survey has.
    #[error("{}", say!("The book in it has more than {MOST_LINES} lines; that of a survey has fewer."))]
    TooLong,
    /// Nothing was said in it.
    #[error("{}", say!("The book in it is empty."))]
    Empty,
}

const _: () = assert!(mebibytes(LARGEST_BOOK) == 64);
