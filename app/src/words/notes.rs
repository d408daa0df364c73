//! Notes: what the client said, what was seen.

use super::Names;
use swingtie_core::record::{At, Note};

/// The screen, and the link to it.
pub const NOTES: &str = "Notes";
/// What belongs here.
pub const NOTES_HINT: &str =
    "What the client says and what you see: it stands on the sheet, in short; money does not.";
/// Which topic.
pub const NOTE_TOPIC: &str = "About";
/// Its words.
pub const NOTE_TEXT: &str = "In a few words";
/// When it was said or seen.
pub const NOTE_WHEN: &str = "When";
/// Where it belongs.
pub const NOTE_AT: &str = "At which points, if any";
/// Keeps it.
pub const SAVE_NOTE: &str = "Save note";
/// After that.
pub const NOTE_SAVED: &str = "Note saved";
/// None yet.
pub const NO_NOTES: &str = "No notes yet.";
/// No topic picked.
pub const NOTE_TOPIC_MISSING: &str = "Say what it is about.";
/// Nothing written.
pub const NOTE_TEXT_MISSING: &str = "Write a word or two.";

/// A button that draws it in place of writing it.
#[must_use]
pub fn draw_instead(kind: &str) -> String {
    say!("Or draw it on the plan: {kind}")
}

/// When and where, in one line.
#[must_use]
pub fn note_line(note: &Note, names: &Names) -> String {
    let at = match &note.at {
        At::Site => String::new(),
        place => super::entries::at(place, names),
    };
    match (note.when.is_empty(), at.is_empty()) {
        (true, _) => at,
        (false, true) => note.when.clone(),
        (false, false) => say!("{}, {at}", note.when),
    }
}
