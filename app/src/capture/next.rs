//! What to do next, in one plain sentence: the way through a first visit. House first, then what is
//! loose, then what nothing checks, then what is not on the plan yet.

use swingtie_core::checks::house_undrawn;
use swingtie_core::network::{Adjustment, Finding, Freedom, PointState};
use swingtie_core::record::{Measurement, Record, kind};

/// The next step.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Next {
    /// In words.
    pub say: String,
    /// Whether a particular tape is better advice, where one is worked out.
    pub tape: bool,
    /// The key beside it.
    pub key: Option<Key>,
}

/// What a key beside the next step opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// A walk round the walls.
    Walk,
    /// The house as a thing, its corners filled in.
    House,
}

impl Key {
    /// Its words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Walk => "Walk the walls",
            Self::House => "Draw the house",
        }
    }
}

/// What most yards have, in the order in which it is best recorded: a surveyor works from the whole to
/// the part. Common practice, no source.
const ROUND: [(&str, &str); 6] = [
    ("fence", "fences"),
    ("gate", "gates"),
    ("path", "paths"),
    ("tree", "trees"),
    ("bed", "beds"),
    ("hose_bib", "taps"),
];

/// The most useful next step.
#[must_use]
pub fn next(record: &Record, adjustment: &Adjustment) -> Next {
    let say = |say: String| Next { say, tape: false, key: None };
    let key = |say: &str, key| Next { say: say.to_owned(), tape: false, key: Some(key) };
    if record.points.is_empty() {
        return say(say!("Start with a rough sketch: walk once round and tap where the corners are."));
    }
    if record.measurements.is_empty() {
        return key("Next: walk round the house and tape each wall.", Key::Walk);
    }
    let labels = |wanted: &dyn Fn(PointState, Option<&Freedom>) -> bool| -> Vec<&str> {
        record
            .points
            .iter()
            .filter(|p| adjustment.points.get(&p.id).is_some_and(|f| wanted(f.state, f.freedom.as_ref())))
            .map(|p| p.label.as_str())
            .collect()
    };
    let disputed = labels(&|state, _| state == PointState::Disputed);
    let loose = labels(&|state, free| state == PointState::Loose && free != Some(&Freedom::Unmeasured));
    let bare = labels(&|state, free| state == PointState::Loose && free == Some(&Freedom::Unmeasured));
    let fixed = labels(&|state, _| state == PointState::Fixed);
    let apart = adjustment.findings.iter().find_map(|finding| match finding {
        Finding::Impossible { point, .. } => Some(record.label(point)),
        _ => None,
    });
    let house = kind("house").map_or("H", |k| k.prefix);
    let of_house = |label: &&str| {
        label.strip_prefix(house).is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
    };
    let tape = |say: String| Next { say, tape: true, key: None };
    let walked = record.measurements.iter().any(|m| matches!(m.what, Measurement::Walk { .. }));
    let hanging = loose.iter().chain(&bare).filter(|label| of_house(label)).count();
    if let Some(label) = apart {
        say(say!("Next: the tapes to {label} do not meet. Take them again."))
    } else if !disputed.is_empty() {
        tape(say!("Next: readings at {} contradict each other. Tape one again.", few(&disputed)))
    } else if hanging > 1 && !walked && house_undrawn(record) {
        // Nobody tapes through the rooms.
        key("Next: walk round the house and tape each wall.", Key::Walk)
    } else if hanging == 0 && house_undrawn(record) {
        // What lies across the house cannot be taped: it is drawn before anything is advised.
        key("Next: draw the house, so that no tape is advised through it.", Key::House)
    } else if !loose.is_empty() {
        tape(say!("Next: one more tape to {}.", few(&loose)))
    } else if !bare.is_empty() {
        tape(say!("Next: tape to {}; only sketched so far.", few(&bare)))
    } else if !fixed.is_empty() {
        let them = if fixed.len() == 1 { "it" } else { "them" };
        tape(say!("Next: a further tape to {} would check {them}.", few(&fixed)))
    } else {
        say(round(record))
    }
}

/// Every point is checked: what else a yard usually has.
fn round(record: &Record) -> String {
    let there = |key: &str| record.features.iter().any(|f| f.what.kind == key);
    let not_yet: Vec<&str> = ROUND.iter().filter(|(key, _)| !there(key)).map(|(_, name)| *name).collect();
    if not_yet.is_empty() {
        say!("Every point is checked.")
    } else {
        say!("Every point is checked. Not on the plan yet, if there are any: {}.", not_yet.join(", "))
    }
}

/// Names at most three.
fn few(labels: &[&str]) -> String {
    match labels {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [one, two] => say!("{one} and {two}"),
        [one, two, three] => say!("{one}, {two} and {three}"),
        [one, two, rest @ ..] => say!("{one}, {two} and {} more", rest.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_yard_starts_with_the_sketch() {
        assert!(next(&Record::default(), &Adjustment::default()).say.contains("sketch"));
    }

    #[test]
    fn many_points_are_not_all_named() {
        assert_eq!(few(&["A", "B", "C", "D", "E"]), "A, B and 3 more");
        assert_eq!(few(&["A", "B", "C"]), "A, B and C");
    }

    #[test]
    fn what_a_yard_usually_has_is_asked_for_once_all_is_checked() {
        let said = round(&Record::default());
        assert!(said.contains("fences") && said.contains("trees"), "{said}");
    }
}
