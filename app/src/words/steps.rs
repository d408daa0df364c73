//! What the short row over the pad says, and what is said of readings in their order.

use super::capture::side;
use crate::capture::steps::Step;
use swingtie_core::record::Record;

/// What a key of the row shows: large, small below it, and its name for whoever does not see it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Face {
    /// Large.
    pub large: String,
    /// Small, below.
    pub small: String,
    /// Its name.
    pub name: String,
}

/// What a key shows. `saves` says that it saves what is typed, `label` is the one a new point would get,
/// `line` names the two points between which sides are told.
pub fn face(step: &Step, record: &Record, saves: bool, label: &str, line: [&str; 2]) -> Face {
    let (large, small, name) = match step {
        Step::At(id) => (record.label(id).to_owned(), "end", format!("at {}", record.label(id))),
        Step::New(kind) => (label.to_owned(), kind.name, format!("at {label}, {}", kind.name)),
        Step::From(id) => (record.label(id).to_owned(), "from", format!("from {}", record.label(id))),
        Step::To(id) => (record.label(id).to_owned(), "to", format!("to {}", record.label(id))),
        Step::Next => (label.to_owned(), "next", format!("next point {label}")),
        Step::Side(which) => {
            let [from, to] = line;
            let name = format!("{}, walking from {from} to {to}", side(*which));
            return Face {
                large: side(*which).to_owned(),
                small: format!("{from} → {to}"),
                name: saved(saves, SAVES, &name),
            };
        }
        Step::Fresh => ("↷".to_owned(), "next wall", "next wall".to_owned()),
        Step::Other => ("…".to_owned(), "other", OTHER.to_owned()),
    };
    let then = match step {
        Step::From(_) | Step::To(_) | Step::Next => "save, then ",
        Step::Fresh | Step::Other => "",
        Step::At(_) | Step::New(_) | Step::Side(_) => SAVES,
    };
    Face { large, small: small.to_owned(), name: saved(saves, then, &name) }
}

fn saved(saves: bool, then: &str, name: &str) -> String {
    if saves { format!("{then}{name}") } else { name.to_owned() }
}

/// A key that saves.
const SAVES: &str = "save ";
/// The row of keys.
pub const ROW: &str = "what it is, or where the tape goes next";
/// A number is typed and would be lost.
pub const SAVE_FIRST: &str = "A number is typed. Save it or clear it first.";
/// The key for any other kind.
pub const OTHER: &str = "another kind of thing";
/// The list it opens.
pub const WHAT_IS_THERE: &str = "What is there?";

/// A reading smaller than the one before on the same tape.
pub fn reads_less(label: &str, text: &str) -> String {
    format!("Less than {text} at {label}, the reading before. Along one tape readings grow.")
}

/// A reading that is the last one again.
pub fn reads_the_same(label: &str, text: &str) -> String {
    format!("{text} again, as at {label} before. Was the tape read anew?")
}

/// A reading far from one taken before of the same length.
pub fn reads_otherwise(other: &str) -> String {
    format!("The same length was read before as {other}.")
}

/// Whether the end of a run agrees with another reading of the same wall.
pub fn overall(other: &str, off: &str) -> String {
    format!("overall; {off} from the {other} read before")
}

/// Nothing to hold the end of a run against.
pub const OVERALL_ALONE: &str = "overall; nothing checks it yet";

/// The key that takes a number over.
pub fn again(text: &str) -> String {
    format!("the same again: {text}")
}
