//! One thing said by somebody at some time, immutable.

use crate::record::{AuthorId, EntryId, Statement};
use serde::{Deserialize, Serialize};

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

#[derive(Serialize, Deserialize)]
struct Head {
    id: EntryId,
    clock: u64,
    at_ms: i64,
    author: AuthorId,
}

#[derive(Serialize)]
struct Whole<'a> {
    #[serde(flatten)]
    head: Head,
    #[serde(flatten)]
    statement: &'a Statement,
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
        let head = Head { id: id.clone(), clock, at_ms, author: author.clone() };
        let line = serde_json::to_string(&Whole { head, statement: &statement })?;
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
        let value: serde_json::Value = serde_json::from_str(line)?;
        let Head { id, clock, at_ms, author } = Head::deserialize(&value)?;
        let said = match Statement::deserialize(&value) {
            Ok(statement) => Said::Known(statement),
            Err(error) => Said::Unknown {
                say: value.get("say").and_then(|say| say.as_str()).unwrap_or("").to_owned(),
                why: error.to_string(),
            },
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
