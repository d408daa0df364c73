//! What the short row over the pad says, and what is said of readings in their order.

use super::capture::side;
use crate::capture::steps::Step;
use swingtie_core::language::tr;
use swingtie_core::record::Record;

/// What a key of the row shows: large, small below it, and its name for whoever does not see it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Face {
    /// Large.
    pub large: String,
    /// Small, beside it.
    pub small: String,
    /// Whether the small words are read before the large ones.
    pub small_first: bool,
    /// Its name.
    pub name: String,
}

/// What a tap on a key does with the number typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Saves {
    /// Nothing: it is not complete.
    Nothing,
    /// Saves it, as read where the key says.
    Here,
    /// Saves it, as read at the point picked before; the key says what comes next.
    Then,
}

/// What a key shows. `label` is the one a new point would get, `line` names the two points between which sides are
/// told. Its name holds what is seen, in the same order.
pub fn face(step: &Step, record: &Record, saves: Saves, label: &str, line: [&str; 2]) -> Face {
    let (large, small, name) = match step {
        Step::At(id) => (record.label(id).to_owned(), "end", say!("at {}, end", record.label(id))),
        Step::New(kind) => (label.to_owned(), kind.name, say!("at {label}, {}", kind.name)),
        Step::From(id) => (record.label(id).to_owned(), "from", say!("from {}", record.label(id))),
        Step::To(id) => (record.label(id).to_owned(), "to", say!("to {}", record.label(id))),
        Step::Next => (label.to_owned(), "next point", say!("next point {label}")),
        Step::Side(which) => {
            let [from, to] = line;
            let name = say!("{}, walking from {from} to {to}", side(*which));
            return Face {
                large: tr(side(*which)).to_owned(),
                small: say!("{from} → {to}"),
                small_first: false,
                name: if saves == Saves::Nothing { name } else { say!("{SAVES}{name}") },
            };
        }
        Step::Fresh => ("↷".to_owned(), "next wall", say!("next wall")),
        Step::Other => ("…".to_owned(), "another", tr(OTHER).to_owned()),
    };
    let small_first = matches!(step, Step::From(_) | Step::To(_) | Step::Next);
    let lead = match (step, saves) {
        (_, Saves::Nothing) | (Step::Fresh | Step::Other, _) => "",
        (Step::From(_) | Step::To(_) | Step::Next, _) | (_, Saves::Then) => THEN,
        (_, Saves::Here) => SAVES,
    };
    Face { large, small: tr(small).to_owned(), small_first, name: say!("{lead}{name}") }
}

/// A key that saves.
const SAVES: &str = "save ";
/// A key that saves and goes on.
const THEN: &str = "save, then ";
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
    say!("Less than {text} at {label}, the reading before. Along one tape readings grow.")
}

/// A reading that is the last one again.
pub fn reads_the_same(label: &str, text: &str) -> String {
    say!("{text} again, as at {label} before. Was the tape read anew?")
}

/// A reading far from one taken before of the same length.
pub fn reads_otherwise(other: &str) -> String {
    say!("The same length was read before as {other}.")
}

/// Whether the end of a run agrees with another reading of the same wall.
pub fn overall(other: &str, off: &str) -> String {
    say!("overall; {off} from the {other} read before")
}

/// Nothing to hold the end of a run against.
pub const OVERALL_ALONE: &str = "overall; nothing checks it yet";

/// The key that takes a number over.
pub fn again(text: &str) -> String {
    say!("the same again: {text}")
}
