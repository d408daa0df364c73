//! What to do next, in one plain sentence.

use crate::words::capture::newest;
use crate::words::house_undrawn;
use swingtie_core::network::{Adjustment, Finding, Freedom, PointState};
use swingtie_core::record::Record;

/// The most useful next step as far as states alone tell.
#[must_use]
pub fn next(record: &Record, adjustment: &Adjustment) -> String {
    if record.points.is_empty() {
        return "Start with a rough sketch: walk once round and tap where the corners are.".to_owned();
    }
    if record.measurements.is_empty() {
        return "Next: hook the tape at a house corner and read along the wall.".to_owned();
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
    let suspect = adjustment.findings.iter().find_map(|finding| match finding {
        Finding::Suspect { entry, .. } => record.measurements.iter().find(|m| m.entry == *entry),
        _ => None,
    });
    if let Some(suspect) = suspect {
        format!("Next: look at {}. It does not agree; tape it again.", newest(&suspect.what, record))
    } else if let Some(label) = apart {
        format!("Next: the tapes to {label} do not meet. Take them again.")
    } else if !disputed.is_empty() {
        format!("Next: readings at {} contradict each other. Tape one again.", few(&disputed))
    } else if !loose.is_empty() {
        format!("Next: one more tape to {}.", few(&loose))
    } else if !bare.is_empty() {
        format!("Next: tape to {}; only sketched so far.", few(&bare))
    } else if !fixed.is_empty() {
        format!("Next: a further tape to {} would check it.", few(&fixed))
    } else if !adjustment.questions.is_empty() {
        "Next: say on which side it stands.".to_owned()
    } else if house_undrawn(record) {
        "Next: draw the house. Thing, House, then its corners in order.".to_owned()
    } else {
        "Every point is checked.".to_owned()
    }
}

/// Names at most three.
fn few(labels: &[&str]) -> String {
    match labels {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [one, two] => format!("{one} and {two}"),
        [one, two, three] => format!("{one}, {two} and {three}"),
        [one, two, rest @ ..] => format!("{one}, {two} and {} more", rest.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_yard_starts_with_the_sketch() {
        assert!(next(&Record::default(), &Adjustment::default()).contains("sketch"));
    }

    #[test]
    fn many_points_are_not_all_named() {
        assert_eq!(few(&["A", "B", "C", "D", "E"]), "A, B and 3 more");
        assert_eq!(few(&["A", "B", "C"]), "A, B and C");
    }
}
