//! A measurement under way: which slots its kind has, what stands in them, what comes next.
//!
//! Pure: no browser, no signals. The panel shows the slot in focus and hands in what was tapped.

pub use super::kind::{Kind, Meant, Slot};
use super::rewrite::{measured, parts};
use crate::keypad::Typed;
use litemap::LiteMap;
use swingtie_core::record::{EntryId, PointId, Reading, Record, Side, TapedTo, Turn};

/// A measurement under way.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// What kind.
    pub kind: Kind,
    /// The slot the panel asks for.
    pub focus: Slot,
    points: LiteMap<Slot, Meant>,
    lengths: LiteMap<Slot, Typed>,
    /// The side said, if any.
    pub side: Option<Side>,
    /// The line that side is said of, where an entry written anew names one.
    pub line: Option<[PointId; 2]>,
    /// What of a round thing is taped to.
    pub taped_to: TapedTo,
    /// The turn said, if any.
    pub turn: Option<Turn>,
    /// The points of a line.
    pub many: Vec<PointId>,
    /// Whether which side must be asked for this tie (two mirror places).
    pub ask_side: bool,
    /// The user left the side open.
    pub side_open: bool,
    /// Which ordinate comes next, from 1.
    pub ordinate: u32,
    /// The walk's entry once its first wall is saved.
    pub walk: Option<EntryId>,
    /// Which wall of the walk this is, or which reading of the entry written anew, from 0.
    pub part: usize,
    /// The entry this writes anew, if any.
    pub correcting: Option<EntryId>,
}

impl Draft {
    /// Starts a measurement of this kind.
    #[must_use]
    pub fn new(kind: Kind) -> Self {
        let mut draft = Self {
            kind,
            focus: Slot::First,
            points: LiteMap::new(),
            lengths: LiteMap::new(),
            side: None,
            line: None,
            taped_to: TapedTo::Middle,
            turn: None,
            many: Vec::new(),
            ask_side: false,
            side_open: false,
            ordinate: 1,
            walk: None,
            part: 0,
            correcting: None,
        };
        draft.advance();
        draft
    }

    /// Its slots, in the order asked.
    #[must_use]
    pub fn slots(&self) -> Vec<Slot> {
        let mut slots = match self.kind {
            Kind::Tie => vec![Slot::First, Slot::Target, Slot::Length],
            Kind::Run => vec![Slot::First, Slot::Second, Slot::Target, Slot::Length],
            Kind::Offsets => {
                vec![Slot::First, Slot::Second, Slot::Target, Slot::Station, Slot::Length, Slot::Side]
            }
            Kind::Ordinates => {
                vec![Slot::First, Slot::Second, Slot::Interval, Slot::Side, Slot::Target, Slot::Length]
            }
            // Where a later wall starts is said by the wall before it.
            Kind::Walk if self.part > 0 && self.correcting.is_some() => {
                vec![Slot::Turn, Slot::Target, Slot::Length]
            }
            Kind::Walk if self.part > 0 => vec![Slot::First, Slot::Turn, Slot::Target, Slot::Length],
            Kind::Walk => vec![Slot::First, Slot::Target, Slot::Length],
            Kind::Square => vec![Slot::First, Slot::Second, Slot::Third],
            Kind::InLine => vec![Slot::Many],
            Kind::SideOnly => vec![Slot::Target, Slot::First, Slot::Second, Slot::Side],
        };
        if self.kind == Kind::Tie && self.ask_side {
            slots.push(Slot::Side);
        }
        slots
    }

    /// The point in this slot.
    #[must_use]
    pub fn point(&self, slot: Slot) -> Option<&Meant> {
        self.points.get(&slot)
    }

    /// The known point in this slot.
    #[must_use]
    pub fn known(&self, slot: Slot) -> Option<&PointId> {
        self.point(slot).and_then(Meant::known)
    }

    /// What is typed in this slot.
    #[must_use]
    pub fn typed(&self, slot: Slot) -> Option<&Typed> {
        self.lengths.get(&slot)
    }

    /// Whether a number is typed anywhere.
    #[must_use]
    pub fn has_number(&self) -> bool {
        self.lengths.values().any(|typed| !typed.text().is_empty())
    }

    /// The reading in this slot, when what is typed is one.
    #[must_use]
    pub fn reading(&self, slot: Slot) -> Option<Reading> {
        self.typed(slot).and_then(Typed::reading)
    }

    /// Puts what is typed into a slot; the focus stays.
    pub fn set_typed(&mut self, slot: Slot, typed: Typed) {
        self.lengths.insert(slot, typed);
    }

    /// Whether the slot holds what it needs.
    #[must_use]
    pub fn filled(&self, slot: Slot) -> bool {
        match slot {
            Slot::Many => self.many.len() > 2,
            Slot::Side => self.side.is_some(),
            Slot::Turn => self.turn.is_some(),
            slot if slot.takes_point() => self.points.contains_key(&slot),
            slot => self.reading(slot).is_some(),
        }
    }

    /// Whether the slot can stay empty: a wall's length may be taken otherwise.
    #[must_use]
    pub fn optional(&self, slot: Slot) -> bool {
        self.kind == Kind::Walk && slot == Slot::Length && self.typed(slot).is_none_or(Typed::is_empty)
    }

    /// The first slot that still needs something; none when all is there.
    #[must_use]
    pub fn wanting(&self) -> Option<Slot> {
        self.slots().into_iter().find(|slot| !self.filled(*slot) && !self.optional(*slot))
    }

    /// Moves the focus on to the next slot that needs something (an optional one included).
    pub fn advance(&mut self) {
        let slots = self.slots();
        let next = slots.iter().find(|slot| !self.filled(**slot)).or(slots.last());
        if let Some(next) = next {
            self.focus = *next;
        }
    }

    /// Puts a point where one is wanted: in the slot in focus, or, while a number is asked, in
    /// place of the point the number is for.
    pub fn put_point(&mut self, meant: Meant) {
        if self.focus == Slot::Many || self.kind == Kind::InLine {
            if let Meant::Known(id) = meant {
                match self.many.iter().position(|known| *known == id) {
                    Some(there) => {
                        self.many.remove(there);
                    }
                    None => self.many.push(id),
                }
            }
            return;
        }
        let slot = if self.focus.takes_point() { self.focus } else { self.row_point() };
        self.points.insert(slot, meant);
        self.advance();
    }

    /// The slot of the point this row is about.
    fn row_point(&self) -> Slot {
        if self.slots().contains(&Slot::Target) { Slot::Target } else { Slot::Third }
    }

    /// Puts a point into a given slot without moving the focus.
    pub fn set_point(&mut self, slot: Slot, meant: Meant) {
        self.points.insert(slot, meant);
    }

    /// Says the side and moves on.
    pub fn put_side(&mut self, side: Side) {
        self.side = Some(side);
        self.advance();
    }

    /// Says the turn and moves on.
    pub fn put_turn(&mut self, turn: Turn) {
        self.turn = Some(turn);
        self.advance();
    }

    /// After a save: keeps what the next reading shares with this one and empties the rest.
    pub fn next_row(&mut self, target: Option<PointId>) {
        let target = target.map(Meant::Known);
        self.correcting = None;
        self.lengths.remove(&Slot::Length);
        self.lengths.remove(&Slot::Station);
        (self.ask_side, self.side_open) = (false, false);
        match self.kind {
            // The point stays: the next tape usually goes to the same point from another anchor.
            Kind::Tie => {
                self.points.remove(&Slot::First);
                if let Some(target) = target {
                    self.points.insert(Slot::Target, target);
                }
                self.side = None;
            }
            Kind::Walk => {
                self.part += 1;
                self.turn = None;
                self.points.remove(&Slot::Target);
            }
            Kind::Ordinates => {
                self.ordinate += 1;
                self.points.remove(&Slot::Target);
            }
            Kind::Run | Kind::Offsets => {
                self.points.remove(&Slot::Target);
            }
            Kind::Square | Kind::InLine | Kind::SideOnly => {}
        }
        self.advance();
    }

    /// Points that were new have been made: they are known from now on.
    pub fn known_now(&mut self, record: &Record) {
        for (_, meant) in &mut self.points {
            if let Meant::New { label, .. } = meant
                && let Some(point) = record.by_label(label)
            {
                *meant = Meant::Known(point.id.clone());
            }
        }
    }

    /// Lets go of points and entries that are no longer in the record.
    pub fn forget_missing(&mut self, record: &Record) {
        let count = |entry: &EntryId| measured(record, entry).map_or(0, parts);
        match (&self.correcting, &self.walk) {
            (Some(entry), _) if count(entry) <= self.part => *self = Self::new(self.kind),
            (None, Some(walk)) => {
                self.part = count(walk);
                self.walk = self.walk.take().filter(|_| self.part > 0);
            }
            _ => {}
        }
        let known = |id: &PointId| record.points.iter().any(|p| p.id == *id);
        self.points.retain(|_, meant| meant.known().is_none_or(known));
        self.many.retain(known);
        self.advance();
    }

    /// Whether the points named are all different where they must be.
    #[must_use]
    pub fn same_twice(&self) -> bool {
        let known: Vec<&PointId> = self.slots().into_iter().filter_map(|slot| self.known(slot)).collect();
        // A run may read the very point it points toward, a walk may come back to its start,
        // and a baseline's ends may get an offset (zero) of their own.
        let may_repeat = matches!(self.kind, Kind::Run | Kind::Walk | Kind::Offsets | Kind::Ordinates);
        if may_repeat {
            let heads = [Slot::First, Slot::Second].map(|slot| self.known(slot));
            return self.kind != Kind::Walk && heads[0].is_some() && heads[0] == heads[1];
        }
        known.iter().enumerate().any(|(i, id)| known.iter().skip(i + 1).any(|other| other == id))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keypad::Key;
    use swingtie_core::record::UnitSystem;

    fn known(id: &str) -> Meant {
        Meant::Known(PointId::from(id))
    }

    fn typed(feet: u8) -> Typed {
        let mut typed = Typed::new(UnitSystem::FeetInches);
        typed.press(Key::Digit(feet)).unwrap();
        typed.press(Key::Feet).unwrap();
        typed
    }

    #[test]
    fn a_tie_asks_two_points_then_the_number() {
        let mut draft = Draft::new(Kind::Tie);
        assert_eq!(draft.focus, Slot::First);
        draft.put_point(known("h3"));
        assert_eq!(draft.focus, Slot::Target);
        draft.put_point(known("t1"));
        assert_eq!((draft.focus, draft.wanting()), (Slot::Length, Some(Slot::Length)));
        draft.set_typed(Slot::Length, typed(3));
        assert_eq!((draft.focus, draft.wanting()), (Slot::Length, None));
        draft.next_row(Some(PointId::from("t1")));
        assert_eq!(draft.focus, Slot::First, "the next tape to the same point asks from where");
        assert_eq!(draft.known(Slot::Target), Some(&PointId::from("t1")));
    }

    #[test]
    fn a_tap_on_the_drawing_while_the_number_is_asked_changes_the_point() {
        let mut draft = Draft::new(Kind::Tie);
        draft.put_point(known("h3"));
        draft.put_point(known("t1"));
        draft.put_point(known("t2"));
        assert_eq!(draft.known(Slot::Target), Some(&PointId::from("t2")));
        assert_eq!(draft.focus, Slot::Length);
    }

    #[test]
    fn a_run_keeps_its_zero_and_direction() {
        let mut draft = Draft::new(Kind::Run);
        for id in ["h1", "h2", "w1"] {
            draft.put_point(known(id));
        }
        draft.set_typed(Slot::Length, typed(4));
        assert_eq!(draft.wanting(), None);
        draft.next_row(None);
        assert_eq!(draft.focus, Slot::Target);
        assert_eq!(draft.known(Slot::Second), Some(&PointId::from("h2")));
        draft.put_point(known("h2"));
        assert!(!draft.same_twice(), "the far corner is read on the same tape");
    }

    #[test]
    fn a_walk_asks_the_turn_from_the_second_wall_on_and_lets_a_length_out() {
        let mut draft = Draft::new(Kind::Walk);
        draft.put_point(known("h1"));
        draft.put_point(known("h2"));
        assert_eq!(draft.wanting(), None, "the length may come from a run");
        draft.next_row(None);
        assert_eq!(draft.focus, Slot::Turn);
        draft.put_turn(Turn::Left);
        assert_eq!(draft.focus, Slot::Target);
    }

    #[test]
    fn ordinates_ask_interval_and_side_once() {
        let mut draft = Draft::new(Kind::Ordinates);
        draft.put_point(known("a"));
        draft.put_point(known("b"));
        assert_eq!(draft.focus, Slot::Interval);
        draft.set_typed(Slot::Interval, typed(3));
        draft.advance();
        assert_eq!(draft.focus, Slot::Side);
        draft.put_side(Side::Right);
        draft.put_point(Meant::New { label: "B1".into(), at: None });
        draft.set_typed(Slot::Length, typed(2));
        assert_eq!(draft.wanting(), None);
        draft.next_row(None);
        assert_eq!((draft.focus, draft.ordinate, draft.side), (Slot::Target, 2, Some(Side::Right)));
    }

    #[test]
    fn in_line_needs_three_and_a_second_tap_takes_a_point_out() {
        let mut draft = Draft::new(Kind::InLine);
        for id in ["a", "b", "c", "b"] {
            draft.put_point(known(id));
        }
        assert_eq!(draft.many.len(), 2);
        assert_eq!(draft.wanting(), Some(Slot::Many));
    }

    #[test]
    fn a_tape_from_a_point_to_itself_is_noticed() {
        let mut draft = Draft::new(Kind::Tie);
        draft.put_point(known("a"));
        draft.put_point(known("a"));
        assert!(draft.same_twice());
    }
}
