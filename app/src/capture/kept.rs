//! A measurement under way as a text, and from it: a line each for what is said so far. Written out by
//! hand, since readers and writers of numbers in general weigh more than all of it.

use super::draft::{Choice, Draft, InHand, Kind, Lay, Meant, Slot};
use super::hand::hand_of;
use crate::keypad::Typed;
use std::fmt::Write as _;
use std::str::FromStr;
use swingtie_core::book::Entry;
use swingtie_core::record::{AngleReading, Measurement, NorthKind, Reading, Side, Statement};
use swingtie_core::units::{Angle, Length, PlanPoint};

/// A measurement under way, and what the screen needs to take it up again.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// The measurement.
    pub draft: Draft,
    /// What is in the hand.
    pub hand: InHand,
    /// Whether its slip was open.
    pub open: bool,
    /// Whether it was advised.
    pub advised: bool,
}

/// By their places here slots are named: new ones go to the end.
const SLOTS: [Slot; 17] = [
    Slot::First,
    Slot::Second,
    Slot::Third,
    Slot::Fourth,
    Slot::Interval,
    Slot::Turn,
    Slot::Target,
    Slot::TapedTo,
    Slot::Rotation,
    Slot::North,
    Slot::Angle,
    Slot::Station,
    Slot::Length,
    Slot::Rise,
    Slot::Incline,
    Slot::Side,
    Slot::Many,
];
/// Slots that hold one of a few things.
const CHOSEN: [Slot; 4] = [Slot::Turn, Slot::TapedTo, Slot::Rotation, Slot::North];
const MILLIMETRES: f64 = 1000.0;

fn kinds() -> impl Iterator<Item = Kind> {
    Kind::OFTEN.into_iter().chain(Kind::SELDOM)
}

fn number_of(slot: Slot) -> usize {
    SLOTS.iter().position(|one| *one == slot).unwrap_or_default()
}

impl Kept {
    /// The text.
    #[must_use]
    pub fn text(&self) -> String {
        let Self { draft, hand, open, advised } = self;
        let mut lines = Lines(String::new());
        lines.say("kind", &kinds().position(|kind| kind == draft.kind).unwrap_or_default().to_string());
        for (slot, meant) in draft.points() {
            let slot = number_of(*slot);
            match meant {
                Meant::Known(id) => lines.say("known", &format!("{slot} {id}")),
                Meant::New { label, at: None } => lines.say("new", &format!("{slot} {label}")),
                Meant::New { label, at: Some(at) } => {
                    // The sketch is rough: to the millimetre.
                    let [x, y] = [at.x, at.y].map(|along| (along.metres() * MILLIMETRES).round());
                    lines.say("drawn", &format!("{slot} {x} {y} {label}"));
                }
            }
        }
        for (slot, typed) in draft.numbers() {
            lines.say("typed", &format!("{} {}", number_of(*slot), typed.kept()));
        }
        for id in &draft.many {
            lines.say("many", id.as_str());
        }
        for id in draft.line.iter().flatten() {
            lines.say("line", id.as_str());
        }
        for slot in CHOSEN {
            let place = |choice: Choice| slot.choices().iter().position(|one| *one == choice);
            if let Some(place) = draft.chosen(slot).and_then(place) {
                lines.say("choice", &format!("{} {place}", number_of(slot)));
            }
        }
        if let Some(side) = draft.side {
            lines.say("side", if side == Side::Left { "left" } else { "right" });
        }
        if let Some(slope) = draft.slope {
            lines.say("slope", slope.key());
        }
        for (name, on) in [
            ("round", draft.round()),
            ("hooked", draft.zero_unknown),
            ("ask", draft.ask_side),
            ("left-open", draft.side_open),
            ("open", *open),
            ("advised", *advised),
        ] {
            if on {
                lines.say(name, "");
            }
        }
        lines.say("ordinate", &draft.ordinate.to_string());
        lines.say("part", &draft.part.to_string());
        for (name, entry) in [("into", &draft.into), ("correcting", &draft.correcting)] {
            if let Some(entry) = entry {
                lines.say(name, entry.as_str());
            }
        }
        lines.say("focus", &number_of(draft.focus).to_string());
        for held in held(hand) {
            lines.say("hand", &held);
        }
        lines.0
    }

    /// What the text says; none where another version wrote it.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let mut lines = text.lines().filter_map(|line| line.split_once('\t'));
        let kind =
            lines.next().filter(|(name, _)| *name == "kind").and_then(|(_, n)| kinds().nth(whole(n)?))?;
        let mut kept = Self { draft: Draft::new(kind), hand: InHand::default(), open: false, advised: false };
        let mut line = Vec::new();
        for (name, said) in lines {
            let draft = &mut kept.draft;
            match name {
                "known" => {
                    let (slot, id) = slotted(said)?;
                    draft.set_point(slot, Meant::Known(id.into()));
                }
                "new" => {
                    let (slot, label) = slotted(said)?;
                    draft.set_point(slot, Meant::New { label: label.to_owned(), at: None });
                }
                "drawn" => {
                    let (slot, rest) = slotted(said)?;
                    let (x, rest) = rest.split_once(' ')?;
                    let (y, label) = rest.split_once(' ')?;
                    let at = Some(PlanPoint::from_metres(metres(x)?, metres(y)?));
                    draft.set_point(slot, Meant::New { label: label.to_owned(), at });
                }
                "typed" => {
                    let (slot, keys) = slotted(said)?;
                    draft.set_typed(slot, Typed::from_kept(keys)?);
                }
                "many" => draft.many.push(said.into()),
                "line" => line.push(said.into()),
                "choice" => {
                    let (slot, place) = slotted(said)?;
                    draft.put(*slot.choices().get(whole::<usize>(place)?)?);
                }
                "side" => draft.side = Some(if said == "left" { Side::Left } else { Side::Right }),
                "slope" => draft.slope = Some(Lay::of(said)?),
                "round" => draft.see_round(true),
                "hooked" => draft.zero_unknown = true,
                "ask" => draft.ask_side = true,
                "left-open" => draft.side_open = true,
                "open" => kept.open = true,
                "advised" => kept.advised = true,
                "ordinate" => draft.ordinate = whole(said)?,
                "part" => draft.part = whole(said)?,
                "into" => draft.into = Some(said.into()),
                "correcting" => draft.correcting = Some(said.into()),
                "focus" => draft.focus = *SLOTS.get(whole::<usize>(said)?)?,
                "hand" => take(&mut kept.hand, said),
                _ => return None,
            }
        }
        kept.draft.line = <[_; 2]>::try_from(line).ok();
        Some(kept)
    }
}

struct Lines(String);

impl Lines {
    fn say(&mut self, name: &str, what: &str) {
        // Writing to a String cannot fail.
        let _ = writeln!(self.0, "{name}\t{what}");
    }
}

fn whole<T: FromStr>(text: &str) -> Option<T> {
    text.parse().ok()
}

fn metres(text: &str) -> Option<f64> {
    whole::<i32>(text).map(|millimetres| f64::from(millimetres) / MILLIMETRES)
}

/// A slot's number, and what follows it.
fn slotted(said: &str) -> Option<(Slot, &str)> {
    let (slot, rest) = said.split_once(' ')?;
    Some((*SLOTS.get(whole::<usize>(slot)?)?, rest))
}

/// What is in the hand, as entries of a book that nobody keeps: those can be written and read already.
fn held(hand: &InHand) -> Vec<String> {
    let reading = Reading { text: String::new(), value: Length::ZERO };
    let length = Measurement::Girth { point: "".into(), reading, how: hand.how.clone() };
    let reading = AngleReading { text: String::new(), value: Angle::from_radians(0.0) };
    let (from, to, north, how) = ("".into(), "".into(), NorthKind::True, hand.sight);
    let angle = Measurement::Bearing { from, to, reading, north, how };
    let line = |what| Entry::new("".into(), 1, 0, "".into(), Statement::Measure(what)).ok();
    [length, angle].into_iter().filter_map(line).map(|entry| entry.line().to_owned()).collect()
}

fn take(hand: &mut InHand, line: &str) {
    let entry = Entry::from_line(line).ok();
    match entry.as_ref().and_then(Entry::statement) {
        Some(Statement::Measure(what @ Measurement::Girth { .. })) => hand.how = hand_of(what).how,
        Some(Statement::Measure(what)) => hand.sight = hand_of(what).sight,
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keypad::{Key, Pad};
    use swingtie_core::record::{Instrument, TapedTo, Turn, UnitSystem};

    fn typed(pad: Pad, keys: &[Key]) -> Typed {
        let mut typed = Typed::new(pad);
        for key in keys {
            typed.press(*key).unwrap();
        }
        typed
    }

    #[test]
    fn what_is_under_way_comes_back_as_it_was() {
        let feet = [Key::Sign, Key::Digit(1), Key::Digit(9), Key::Feet, Key::Digit(5), Key::Sixteenths(15)];
        for (kind, open) in kinds().zip([true, false].into_iter().cycle()) {
            let mut draft = Draft::new(kind);
            draft.set_point(Slot::First, Meant::Known("a".into()));
            let at = Some(PlanPoint::from_metres(1.5, -2.25));
            draft.set_point(Slot::Target, Meant::New { label: "T 1".to_owned(), at });
            draft.set_point(Slot::Second, Meant::New { label: "B".to_owned(), at: None });
            draft.set_typed(Slot::Length, typed(UnitSystem::FeetInches.into(), &feet));
            draft.set_typed(Slot::Angle, typed(Pad::Turn, &[Key::Digit(8), Key::Degrees, Key::Digit(3)]));
            let metres = [Key::Digit(3), Key::Point, Key::Digit(2), Key::Metres];
            draft.set_typed(Slot::Rise, typed(UnitSystem::Metres.into(), &metres));
            draft.many = vec!["a".into(), "b".into()];
            draft.line = Some(["a".into(), "b".into()]);
            draft.turn = Some(Turn::RightNotSquare);
            draft.taped_to = TapedTo::FarSide;
            draft.see_round(true);
            draft.north = Some(NorthKind::True);
            draft.side = Some(Side::Right);
            draft.slope = Some(Lay::Incline);
            (draft.zero_unknown, draft.ask_side, draft.side_open) = (open, !open, open);
            (draft.ordinate, draft.part) = (4, 2);
            draft.into = Some("e".into());
            draft.correcting = Some("f".into());
            draft.focus = Slot::Length;
            let mut hand = InHand::default();
            hand.how.instrument = Instrument::Laser;
            hand.how.sd = Some(Length::from_metres(0.0125));
            hand.sight.sd = Some(Angle::from_degrees(0.3));
            let kept = Kept { draft, hand, open, advised: !open };
            assert_eq!(Kept::read(&kept.text()).as_ref(), Some(&kept), "{}", kept.text());
        }
    }

    #[test]
    fn what_another_version_wrote_is_let_go() {
        let kept = Kept { draft: Draft::new(Kind::Run), hand: InHand::default(), open: true, advised: false };
        assert_eq!(Kept::read(&kept.text()), Some(kept.clone()));
        for text in ["", "kind\t99\n", "{}", &format!("{}mood\tbad\n", kept.text()), "focus\t1\n"] {
            assert_eq!(Kept::read(text), None, "{text}");
        }
    }
}
