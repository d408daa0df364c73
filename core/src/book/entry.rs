//! One thing said by somebody at some time, immutable.

use crate::record::told::Told;
use crate::record::{AuthorId, EntryId, Statement};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use serde_json::ser::Formatter;

/// What an entry says: a statement this version knows, or one it keeps without understanding.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    /// Understood.
    Known(Statement),
    /// Written by a newer version, or damaged: kept, shown as such, passed on.
    Unknown {
        /// The kind it names.
        say: String,
        /// Why it was not understood, in words.
        why: String,
    },
}

/// One entry of a field book.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Unique over all books.
    pub id: EntryId,
    /// Logical time: greater than that of every entry its author had seen.
    pub clock: u64,
    /// The author's wall clock, milliseconds since 1970. For reading, never for ordering.
    pub at_ms: i64,
    /// Who wrote it.
    pub author: AuthorId,
    /// What it says.
    pub said: Said,
    line: String,
}

/// An entry is its line: the fields above are read from it.
impl PartialEq for Entry {
    fn eq(&self, other: &Self) -> bool {
        self.line == other.line
    }
}

/// An entry as JSON. What is said stands apart, so that it can be read on its own, and kept when it
/// is not understood. Statements are tagged from outside (`"say":{"site":{…}}`): tags inside would
/// make the reader buffer everything, which costs a phone 100 kB of code to download.
#[derive(Serialize, Deserialize)]
#[cfg_attr(
    feature = "schema",
    derive(schemars::JsonSchema),
    schemars(
        title = "One line of a field book",
        description = "An entry: one thing said by somebody at some time."
    )
)]
pub(super) struct Whole<S> {
    /// Unique over all books.
    id: EntryId,
    /// Logical time: greater than that of every entry its author had seen.
    clock: u64,
    /// The author's wall clock, milliseconds since 1970. For reading, never for ordering.
    at_ms: i64,
    /// Who wrote it.
    author: AuthorId,
    /// What it says.
    say: S,
}

/// One line of JSON. Numbers are written by the standard library, which the phone has anyway; those
/// serde_json brings for it are 10 kB of tables that no compression helps. Both write the shortest
/// digits that give the same double when read.
fn written(whole: &impl Serialize) -> Result<String, serde_json::Error> {
    let mut line = Vec::new();
    whole.serialize(&mut serde_json::Serializer::with_formatter(&mut line, Plain))?;
    String::from_utf8(line).map_err(serde::ser::Error::custom)
}

struct Plain;

impl Formatter for Plain {
    fn write_f64<W: ?Sized + std::io::Write>(&mut self, line: &mut W, value: f64) -> std::io::Result<()> {
        let digits = value.to_string();
        let point = if digits.contains('.') { "" } else { ".0" };
        write!(line, "{digits}{point}")
    }
}

impl Entry {
    /// Writes a new entry.
    ///
    /// # Errors
    /// When the statement cannot be written as JSON, for instance because a number is not finite.
    pub fn new(
        id: EntryId,
        clock: u64,
        at_ms: i64,
        author: AuthorId,
        statement: Statement,
    ) -> Result<Self, serde_json::Error> {
        let line = written(&Whole { id, clock, at_ms, author, say: statement })?;
        // JSON has no infinity: serde_json writes null, which would not come back. Read it to be sure.
        let entry = Self::from_line(&line)?;
        match entry.said {
            Said::Known(_) => Ok(entry),
            Said::Unknown { why, .. } => Err(serde::de::Error::custom(why)),
        }
    }

    /// Reads an entry from one line of a book.
    ///
    /// # Errors
    /// When the line is not JSON or lacks id, clock, time or author. A statement that is not
    /// understood is no error: see [`Said::Unknown`].
    pub fn from_line(line: &str) -> Result<Self, serde_json::Error> {
        let line = line.trim();
        let Whole { id, clock, at_ms, author, say } = serde_json::from_str::<Whole<Value>>(line)?;
        let kind = say.as_object().and_then(|say| say.keys().next()).cloned();
        let said = match Statement::deserialize(Told(say)) {
            Ok(statement) => Said::Known(statement),
            Err(error) => Said::Unknown { say: kind.unwrap_or_default(), why: error.to_string() },
        };
        Ok(Self { id, clock, at_ms, author, said, line: line.to_owned() })
    }

    /// The entry as it stands on disk, to the letter, without the line end.
    #[must_use]
    pub fn line(&self) -> &str {
        &self.line
    }

    /// The statement, when it is understood.
    #[must_use]
    pub fn statement(&self) -> Option<&Statement> {
        match &self.said {
            Said::Known(statement) => Some(statement),
            Said::Unknown { .. } => None,
        }
    }
}
