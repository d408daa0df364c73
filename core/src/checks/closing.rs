//! How well a walk closes that comes back to its start.

use crate::record::{How, Leg, Measurement, Turn};
use crate::units::{Length, float};

/// By how much a walk misses its start, reckoned as if all its corners were as said: the linear
/// misclosure of a traverse, √(ΣΔx² + ΣΔy²) (every surveying textbook, for instance Ghilani and Wolf,
/// *Adjustment Computations*).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closing {
    /// The miss.
    pub off: Length,
    /// How far was walked.
    pub walked: Length,
}

/// A miss of more than this share of the way is no matter of care: a wall or a turn is wrong. Common
/// practice, no source; taped traverses are closed within 1 in 1000 and better, corners built square by
/// eye within 1 in 100.
const GROSS: f64 = 0.01;

impl Closing {
    /// Of a walk that is back at its start, with all walls taped and all corners square or straight; none
    /// of others, since where their walls go is not said.
    #[must_use]
    pub fn of(walk: &Measurement) -> Option<Self> {
        let Measurement::Walk { start, legs, how } = walk else { return None };
        legs.last().filter(|last| last.to == *start && legs.len() > 2)?;
        let mut heading = (1.0, 0.0);
        let (mut at, mut walked) = ((0.0, 0.0), 0.0);
        for (number, leg) in legs.iter().enumerate() {
            if number > 0 {
                heading = turned(heading, leg.turn?)?;
            }
            let length = level(how, leg, legs)?.metres();
            at = (at.0 + heading.0 * length, at.1 + heading.1 * length);
            walked += length;
        }
        let off = Length::from_metres(float::hypot(at.0, at.1));
        Some(Self { off, walked: Length::from_metres(walked) })
    }

    /// Whether something is wrong.
    #[must_use]
    pub fn is_gross(self) -> bool {
        self.off > self.walked * GROSS
    }
}

fn level(how: &How, leg: &Leg, legs: &[Leg]) -> Option<Length> {
    let lengths = legs.iter().filter_map(|leg| leg.length.as_ref());
    let longest = lengths.fold(Length::ZERO, |most, one| if one.value > most { one.value } else { most });
    how.level(leg.length.as_ref()?.value, longest)
}

/// Where one goes on after a turn; none where the angle is not said.
const fn turned((x, y): (f64, f64), turn: Turn) -> Option<(f64, f64)> {
    match turn {
        Turn::Left => Some((-y, x)),
        Turn::Right => Some((y, -x)),
        Turn::Straight => Some((x, y)),
        Turn::LeftNotSquare | Turn::RightNotSquare => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{Reading, UnitSystem};
    use crate::units::BareUnit;

    fn walk(legs: &[(Option<Turn>, &str, &str)]) -> Measurement {
        let bare = BareUnit::from(UnitSystem::FeetInches);
        let leg = |(turn, to, length): &(Option<Turn>, &str, &str)| Leg {
            turn: *turn,
            to: (*to).into(),
            length: Reading::read(length, bare).ok(),
        };
        Measurement::Walk { start: "a".into(), legs: legs.iter().map(leg).collect(), how: How::default() }
    }

    // By hand: 40 ft out and 39 ft 9 in back leave 3 in, 20 ft and 20 ft 4 in leave 4 in across; the miss
    // is their hypotenuse, 5 in, on 120 ft 1 in.
    #[test]
    fn a_walk_round_a_house_misses_its_start() {
        let left = Some(Turn::Left);
        let round = [(None, "b", "40'"), (left, "c", "20'"), (left, "d", "39' 9\""), (left, "a", "20' 4\"")];
        let closing = Closing::of(&walk(&round)).unwrap();
        assert!((closing.off.inches() - 5.0).abs() < 1e-9, "{closing:?}");
        assert!((closing.walked.inches() - 1441.0).abs() < 1e-9);
        assert!(!closing.is_gross());
        let mut wrong = round;
        wrong[1].2 = "23'";
        assert!(Closing::of(&walk(&wrong)).unwrap().is_gross(), "two feet eight on 123 feet");
    }

    #[test]
    fn an_l_of_both_turns_closes() {
        let (left, right) = (Some(Turn::Left), Some(Turn::Right));
        let round = [
            (None, "b", "30'"),
            (left, "c", "10'"),
            (left, "d", "12'"),
            (right, "e", "8'"),
            (left, "f", "18'"),
            (left, "a", "18'"),
        ];
        let closing = Closing::of(&walk(&round)).unwrap();
        assert!(closing.off.metres() < 1e-12, "{closing:?}");
    }

    #[test]
    fn nothing_is_said_of_a_walk_that_does_not_tell() {
        let left = Some(Turn::Left);
        let three = [(None, "b", "40'"), (left, "c", "20'"), (left, "d", "40'")];
        assert_eq!(Closing::of(&walk(&three)), None, "not back yet");
        let aslant = [(None, "b", "40'"), (Some(Turn::LeftNotSquare), "c", "20'"), (left, "a", "40'")];
        assert_eq!(Closing::of(&walk(&aslant)), None, "an angle is not known");
        let untaped = [(None, "b", "40'"), (left, "c", ""), (left, "a", "40'")];
        assert_eq!(Closing::of(&walk(&untaped)), None, "a wall is not taped");
    }
}
