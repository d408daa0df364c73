//! What who draws asks back, and what is answered in the yard.

use super::EntryId;
use serde::Serialize;
use swingtie_derive::Told;

/// The topic of a note that is a question.
pub const QUESTION: &str = "question";
/// The topic of a note that is an answer.
pub const ANSWER: &str = "answer";

/// What a question asks for.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Asks {
    /// What would answer it, a key of [`AskFor`]; unknown keys are answered in words.
    pub kind: String,
    /// The entry it is about: a thing, a problem, a mark, a photo. Where it is about points, the note says them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<EntryId>,
}

/// What a note answers.
#[derive(Clone, Debug, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Answers {
    /// The question's entry.
    pub question: EntryId,
    /// The entries that answer it: a reading, a photo. None where the note's words do.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub by: Vec<EntryId>,
}

/// What would answer a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AskFor {
    /// A tape between two points.
    Tape,
    /// The height of a point.
    Height,
    /// A photo.
    Photo,
    /// A sentence.
    Words,
}

impl AskFor {
    /// All, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Tape, Self::Height, Self::Photo, Self::Words];

    /// The stable key stored in books.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Tape => "tape",
            Self::Height => "height",
            Self::Photo => "photo",
            Self::Words => "words",
        }
    }

    /// What a question's key stands for.
    #[must_use]
    pub fn of(key: &str) -> Self {
        Self::ALL.into_iter().find(|ask| ask.key() == key).unwrap_or(Self::Words)
    }
}
