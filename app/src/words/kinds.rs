//! Kinds of problems and the colours of utility marks.

use swingtie_core::language::tr;
use swingtie_core::record::{MarkColour, Severity, trouble};

/// A problem kind's name; for an unknown key the key in plain letters.
#[must_use]
pub fn problem_name(key: &str) -> String {
    trouble(key).map_or_else(|| key.replace('_', " "), |known| tr(known.name).to_owned())
}

/// Severities in the order offered.
pub const SEVERITIES: [Severity; 3] = [Severity::Note, Severity::Fix, Severity::Danger];

/// How bad.
#[must_use]
pub fn severity_name(severity: Severity) -> &'static str {
    severity.name()
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
