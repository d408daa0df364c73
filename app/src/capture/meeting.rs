//! Two ties to one point that cannot both be true: however they are swung, they do not meet.

use super::draft::{Draft, InHand, Kind, Slot};
use super::expect::{ASKED_FROM, Known, PETTY, placed, sd};
use crate::words::capture as words;
use swingtie_core::record::Measurement;
use swingtie_core::units::{Length, float};

/// Why the tie under way and one before it to the same point, from another anchor, cannot both be right; none where
/// they can, or where the point has its place already, from which the plan expects a length of its own.
#[must_use]
pub fn question(draft: &Draft, known: Known, hand: &InHand) -> Option<String> {
    let Known { record, plan, .. } = known;
    let (from, point) = (draft.known(Slot::First)?, draft.known(Slot::Target)?);
    let settled = draft.correcting.is_some() || draft.deliberate || draft.slope.is_some();
    if draft.kind != Kind::Tie || settled || placed(plan, point).is_some() {
        return None;
    }
    let (here, typed) = (placed(plan, from)?, draft.reading(Slot::Length)?.value);
    let cannot = |what: &Measurement| {
        let Measurement::Tie { from: a, to: b, reading, how, .. } = what else { return None };
        let other = if a == point { b } else { a };
        let there = placed(plan, other).filter(|_| (a == point || b == point) && other != from)?;
        let apart = here.at.distance(there.at);
        let spread = float::hypot(sd(here), sd(there));
        let read = float::hypot(hand.how.sd_of(typed).metres(), how.sd_of(reading.value).metres());
        let within = Length::from_metres(ASKED_FROM * float::hypot(spread, read)) + PETTY;
        let short = apart > typed + reading.value + within;
        let long = apart + within < (typed - reading.value).abs();
        let labels = [from, other].map(|id| record.label(id));
        let apart = words::length(apart, record.site.units);
        (how.slope.is_none() && (short || long)).then(|| words::do_not_meet(&reading.text, labels, &apart))
    };
    record.measurements.iter().rev().find_map(|m| cannot(&m.what))
}

#[cfg(test)]
mod tests {
    use super::super::draft::Meant;
    use super::*;
    use crate::capture::placed as point;
    use crate::keypad::Typed;
    use swingtie_core::network::Adjustment;
    use swingtie_core::plan::Plan;
    use swingtie_core::record::{How, Reading, Record, Recorded, TapedTo, UnitSystem};

    // Anchors 5 m apart: with 3 m from one, 1.5 m from the other falls short, and from 8 m on it goes beyond.
    #[test]
    fn ties_that_do_not_meet_are_asked_about() {
        let reading =
            |metres: f64| Reading { text: format!("{metres} m"), value: Length::from_metres(metres) };
        let tie = Measurement::Tie {
            from: "a".into(),
            to: "t".into(),
            reading: reading(3.0),
            side: None,
            taped_to: TapedTo::Middle,
            how: How::default(),
        };
        let mut record = Record::default();
        record.measurements.push(Recorded { entry: "1".into(), author: "me".into(), at_ms: 0, what: tie });
        let points = vec![point("a", 0.0, 0.0), point("b", 5.0, 0.0)];
        let (plan, adjustment) = (Plan { points, ..Plan::default() }, Adjustment::default());
        let asked = |metres: f64| {
            let mut draft = Draft::new(Kind::Tie);
            draft.set_point(Slot::First, Meant::Known("b".into()));
            draft.set_point(Slot::Target, Meant::Known("t".into()));
            draft.set_typed(Slot::Length, Typed::from_reading(&reading(metres), UnitSystem::Metres));
            let known = Known { record: &record, plan: &plan, adjustment: &adjustment };
            question(&draft, known, &InHand::default()).is_some()
        };
        assert_eq!([1.5, 1.99, 4.0, 7.99, 8.5].map(asked), [true, false, false, false, true]);
    }
}
