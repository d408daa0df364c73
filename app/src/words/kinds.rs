//! Kinds of problems and the colours of utility marks.

use swingtie_core::record::{MarkColour, Severity};

/// Problem kinds in the order offered: key, name, and a caution where it can hurt someone.
/// Common practice, no source.
pub const PROBLEM_KINDS: &[(&str, &str, Option<&str>)] = &[
    ("wet_spot", "Wet spot", None),
    ("stump", "Stump", None),
    ("undersized_post", "Undersized post", Some(STRUCTURE)),
    ("leaning", "Leaning fence or wall", Some(STRUCTURE)),
    ("rot", "Rot", None),
    ("settled", "Settled or cracked paving", None),
    ("trip", "Trip edge", None),
    ("steps", "Uneven or loose steps", Some(STRUCTURE)),
    ("water_to_house", "Water runs to the house", None),
    ("drain", "Blocked drain or downspout", None),
    ("erosion", "Washed-out ground", None),
    (
        "tree",
        "Sick or leaning tree",
        Some("Keep away from under it. A tree that may fall is for a trained tree worker."),
    ),
    ("roots", "Roots lifting something", None),
    (
        "cable",
        "Exposed cable",
        Some("Do not touch it. Electricity is for a licensed electrician or the power company."),
    ),
    (
        "gas",
        "Gas smell or damaged gas part",
        Some("Leave now, make no spark, and call the gas company's emergency number from outside."),
    ),
    ("access", "Too narrow to get through", None),
    ("view", "Seen into, or a bad view", None),
    ("other", "Something else", None),
];

const STRUCTURE: &str =
    "Stay clear of what may fall. Structure is for licensed people; the local code decides.";

/// A problem kind's name; for an unknown key the key in plain letters.
#[must_use]
pub fn problem_name(key: &str) -> String {
    PROBLEM_KINDS
        .iter()
        .find(|(k, ..)| *k == key)
        .map_or_else(|| key.replace('_', " "), |(_, name, _)| (*name).to_owned())
}

/// The caution that belongs to a problem kind.
#[must_use]
pub fn problem_caution(key: &str) -> Option<&'static str> {
    PROBLEM_KINDS.iter().find(|(k, ..)| *k == key).and_then(|(.., caution)| *caution)
}

/// Severities in the order offered.
pub const SEVERITIES: [Severity; 3] = [Severity::Note, Severity::Fix, Severity::Danger];

/// How bad.
#[must_use]
pub fn severity_name(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => "Worth a note",
        Severity::Fix => "Needs work",
        Severity::Danger => "Danger, or getting worse",
    }
}

/// Colours in the order offered.
pub const MARK_COLOURS: [MarkColour; 8] = [
    MarkColour::Red,
    MarkColour::Yellow,
    MarkColour::Orange,
    MarkColour::Blue,
    MarkColour::Purple,
    MarkColour::Green,
    MarkColour::Pink,
    MarkColour::White,
];

/// The colour's name.
#[must_use]
pub fn colour_name(colour: MarkColour) -> &'static str {
    match colour {
        MarkColour::Red => "Red",
        MarkColour::Yellow => "Yellow",
        MarkColour::Orange => "Orange",
        MarkColour::Blue => "Blue",
        MarkColour::Purple => "Purple",
        MarkColour::Green => "Green",
        MarkColour::Pink => "Pink",
        MarkColour::White => "White",
    }
}

/// What the colour usually means: the uniform colour code of American locators, as one-call
/// centres publish it. Elsewhere it may mean something else.
#[must_use]
pub fn colour_meaning(colour: MarkColour) -> &'static str {
    match colour {
        MarkColour::Red => "usually electric",
        MarkColour::Yellow => "usually gas, oil or steam",
        MarkColour::Orange => "usually phone, cable or alarm",
        MarkColour::Blue => "usually drinking water",
        MarkColour::Purple => "usually reclaimed water or irrigation",
        MarkColour::Green => "usually sewer or drain",
        MarkColour::Pink => "usually a survey mark, or unknown",
        MarkColour::White => "usually where someone plans to dig",
    }
}
