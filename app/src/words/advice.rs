//! What to tape next, in words.

use super::list;
use swingtie_core::network::{Advice, AdviceKind, PointState, Purpose};
use swingtie_core::record::{PointId, Record, UnitSystem};
use swingtie_core::units::Length;

/// `Tape H2 to T3, about 31'.`
#[must_use]
pub fn advice_tape(advice: &Advice, record: &Record) -> String {
    let (from, to) = (record.label(&advice.from), record.label(&advice.to));
    let across = match advice.kind {
        AdviceKind::Tie => "",
        AdviceKind::Diagonal => " across",
        AdviceKind::Again => {
            return say!(
                "Tape {from} to {to} once more, from the other end: about {}.",
                about(advice, record)
            );
        }
    };
    say!("Tape from {from}{across} to {to}, about {}.", about(advice, record))
}

/// A length nobody has taped yet, to the foot or to the decimetre.
fn about(advice: &Advice, record: &Record) -> String {
    match record.site.units {
        UnitSystem::Metres => say!("{:.1} m", advice.length.metres()),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => say!("{:.0} ft", advice.length.feet()),
    }
}

/// How long the longest tape is.
pub const LONGEST_TAPE: &str = "Longest tape";

/// The lengths tapes come in, as they are sold: common practice, no source.
#[must_use]
pub fn tape_lengths(units: UnitSystem) -> Vec<(Length, String)> {
    match units {
        UnitSystem::Metres => [5.0, 8.0, 10.0, 15.0, 20.0, 30.0, 50.0, 60.0, 100.0]
            .map(|long| (Length::from_metres(long), say!("{long} m")))
            .to_vec(),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => {
            [16.0, 25.0, 30.0, 50.0, 100.0, 150.0, 200.0, 300.0]
                .map(|long| (Length::from_feet(long), say!("{long} ft")))
                .to_vec()
        }
    }
}

/// What it is good for: `It checks T3 and T4.`
#[must_use]
pub fn advice_does(advice: &Advice, record: &Record) -> String {
    let turned = |to: PointState| -> Vec<&PointId> {
        advice.turns.iter().filter(|turn| turn.to == to).map(|turn| &turn.point).collect()
    };
    let to = record.label(&advice.to);
    match advice.purpose {
        Purpose::Tell => say!("It tells which reading is wrong."),
        Purpose::Fix => match turned(PointState::Fixed).iter().chain(&turned(PointState::Checked)).count() {
            0 => say!("{to} is then less free."),
            _ => {
                say!("It places {}.", named(&turned(PointState::Fixed), &turned(PointState::Checked), record))
            }
        },
        Purpose::Check => match turned(PointState::Checked).as_slice() {
            [] => say!("{to} is then surer, though not yet checked."),
            checked => say!("It checks {}.", named(checked, &[], record)),
        },
    }
}

/// At most three by name.
fn named(some: &[&PointId], more: &[&PointId], record: &Record) -> String {
    let all: Vec<String> = some.iter().chain(more).map(|p| record.label(p).to_owned()).collect();
    match all.as_slice() {
        [one, two, three, rest @ ..] if !rest.is_empty() => {
            say!("{one}, {two}, {three} and {} more", rest.len())
        }
        few => list(few),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::state::DEMO;
    use swingtie_core::book::{Book, fold};
    use swingtie_core::network::{Reach, adjust, advice};
    use swingtie_core::record::{How, Measurement, Reading, Recorded, TapedTo};

    /// The tape as somebody takes it who reads what the plan expects.
    fn taken(advice: &Advice, number: usize) -> Recorded<Measurement> {
        let reading = Reading { text: format!("{} m", advice.length.metres()), value: advice.length };
        let (from, to) = (advice.from.clone(), advice.to.clone());
        let (side, taped_to, how) = (None, TapedTo::Middle, How::default());
        let what = Measurement::Tie { from, to, reading, side, taped_to, how };
        Recorded { entry: format!("t{number}").as_str().into(), author: "a".into(), at_ms: 0, what }
    }

    // The adjustment itself says what became of the points, not the advice's own forecast.
    #[test]
    fn what_a_tape_is_said_to_do_is_so_once_it_is_taken() {
        let mut record = fold(&Book::from_json_lines(DEMO).0).record;
        let mut promised = 0;
        for number in 0..12 {
            let adjustment = adjust(&record);
            let Some(best) = advice(&record, &adjustment, &Reach::default()).into_iter().next() else {
                break;
            };
            let said = advice_does(&best, &record);
            record.measurements.push(taken(&best, number));
            let after = adjust(&record);
            for turn in &best.turns {
                let label = record.label(&turn.point);
                assert_eq!(after.points[&turn.point].state, turn.to, "{said} {label}");
                let told = match best.purpose {
                    Purpose::Check => turn.to == PointState::Checked,
                    Purpose::Fix => true,
                    Purpose::Tell => false,
                };
                assert!(!told || said.contains(label) || said.contains(" more"), "{said} leaves out {label}");
                promised += usize::from(told);
            }
        }
        assert!(promised > 3, "{promised}");
    }
}
