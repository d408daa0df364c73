//! What to tape next, in words.

use super::list;
use swingtie_core::network::{Advice, AdviceKind, PointState, Purpose};
use swingtie_core::record::{PointId, Record};

/// `Tape H2 to T3, about 31'.`
#[must_use]
pub fn advice_tape(advice: &Advice, record: &Record) -> String {
    let (from, to) = (record.label(&advice.from), record.label(&advice.to));
    let across = match advice.kind {
        AdviceKind::Tie => "",
        AdviceKind::Diagonal => " across",
        AdviceKind::Again => {
            return format!(
                "Tape {from} to {to} once more, from the other end: about {}.",
                about(advice, record)
            );
        }
    };
    format!("Tape from {from}{across} to {to}, about {}.", about(advice, record))
}

/// A length nobody has taped yet, to the foot or to the decimetre.
fn about(advice: &Advice, record: &Record) -> String {
    use swingtie_core::record::UnitSystem;
    match record.site.units {
        UnitSystem::Metres => format!("{:.1} m", advice.length.metres()),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => format!("{:.0} ft", advice.length.feet()),
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
        Purpose::Tell => "It tells which reading is wrong.".to_owned(),
        Purpose::Fix => match turned(PointState::Fixed).iter().chain(&turned(PointState::Checked)).count() {
            0 => format!("{to} is then less free."),
            _ => format!(
                "It fixes {}.",
                named(&turned(PointState::Fixed), &turned(PointState::Checked), record)
            ),
        },
        Purpose::Check => match turned(PointState::Checked).as_slice() {
            [] => format!("{to} is then surer, though not yet checked."),
            checked => format!("It checks {}.", named(checked, &[], record)),
        },
    }
}

/// At most three by name.
fn named(some: &[&PointId], more: &[&PointId], record: &Record) -> String {
    let all: Vec<String> = some.iter().chain(more).map(|p| record.label(p).to_owned()).collect();
    match all.as_slice() {
        [one, two, three, rest @ ..] if !rest.is_empty() => {
            format!("{one}, {two}, {three} and {} more", rest.len())
        }
        few => list(few),
    }
}
