//! What the client said and what was seen without being a thing: wishes, pets, ways, budget, sun, wind.

use super::{Answers, Asks, At, Record, Recorded, told};
use serde::{Deserialize, Serialize};
use swingtie_derive::Told;

/// Something told or observed, in words.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Told)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Note {
    /// What it is about, a key of [`TOPICS`]; unknown keys are kept and shown as they are.
    pub topic: String,
    /// Where.
    #[serde(default)]
    pub at: At,
    /// What was said or seen.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
    /// The day and hour it was said or seen, `YYYY-MM-DD HH:MM` by the recorder's clock; may be empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub when: String,
    /// The lines of the list before leaving that this answers, by their keys: they are settled by these
    /// words, not by a measurement.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub settles: Vec<String>,
    /// What is asked back by who draws; the note is a question then, its text what it says beside that.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub asks: Option<Asks>,
    /// What it answers; the note is an answer then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub answers: Option<Answers>,
}

/// A note as it stands in the book, kept as it was written: a phone that only measures need not be able to
/// read it, and what a newer version adds to it stays.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct WrittenNote(#[serde(deserialize_with = "told::kept")] serde_json::Value);

impl WrittenNote {
    /// What it says, as far as this version understands it.
    #[must_use]
    pub fn read(&self) -> Note {
        serde_json::from_value(self.0.clone()).unwrap_or_default()
    }
}

impl From<Note> for WrittenNote {
    fn from(note: Note) -> Self {
        Self(serde_json::to_value(note).unwrap_or_default())
    }
}

impl Record {
    /// What was told or observed, in book order; no questions and no answers.
    #[must_use]
    pub fn notes(&self) -> Vec<Recorded<Note>> {
        let mut all = self.notes_and_questions();
        all.retain(|note| note.what.asks.is_none() && note.what.answers.is_none());
        all
    }

    /// Notes, questions and answers, in book order.
    #[must_use]
    pub fn notes_and_questions(&self) -> Vec<Recorded<Note>> {
        let read = |note: &Recorded<WrittenNote>| Recorded {
            entry: note.entry.clone(),
            author: note.author.clone(),
            at_ms: note.at_ms,
            what: note.what.read(),
        };
        self.written_notes.iter().map(read).collect()
    }
}

/// One thing to ask about or look at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Topic {
    /// The stable key stored in books.
    pub key: &'static str,
    /// The plain name shown.
    pub name: &'static str,
    /// What to ask or to look at.
    pub ask: &'static str,
    /// A kind of thing that says the same with a place on the plan.
    pub thing: Option<&'static str>,
    /// Not for everybody who gets a sheet: it stands in the book and the data alone.
    pub confidential: bool,
}

const fn topic(key: &'static str, name: &'static str, ask: &'static str) -> Topic {
    Topic { key, name, ask, thing: None, confidential: false }
}

const fn seen(key: &'static str, name: &'static str, ask: &'static str, thing: &'static str) -> Topic {
    Topic { key, name, ask, thing: Some(thing), confidential: false }
}

/// The topic of a note that answers a line of the list before leaving.
pub const LEFT_OPEN: &str = "left_open";

/// What a designer asks for, in the order it is asked. Common practice, no source.
pub const TOPICS: &[Topic] = &[
    topic("wish", "Wishes", "What shall the yard be used for? What is missing, what disturbs?"),
    topic("stays", "What stays", "What must stay as it is, and why?"),
    topic("pets", "Pets and children", "Who plays, digs or runs here, and where?"),
    seen("ways", "Ways", "Which door is used most? Ways to bins, car, tap; worn tracks?", "pet_path"),
    Topic {
        confidential: true,
        ..topic("budget", "Budget as told", "What was said about money, and by when? Not on the sheet.")
    },
    topic("upkeep", "Upkeep", "Who mows and waters, and how much work may it be?"),
    seen("sun", "Sun and shade", "Where is sun, where shade, at this hour?", "sun"),
    seen("wind", "Wind", "Where does it come from, and when does it disturb?", "wind"),
    seen("view", "Views", "What shall be seen, what hidden, and from which seat or window?", "view"),
    seen("noise", "Noise", "What is heard, and when?", "noise"),
    topic("told", "Told about the site", "Water after rain, old tanks, buried lines, disputes, rules?"),
    topic("other", "Something else", "Anything a designer should know."),
];

/// The topic with this key.
#[must_use]
pub fn topic_of(key: &str) -> Option<&'static Topic> {
    TOPICS.iter().find(|topic| topic.key == key)
}
