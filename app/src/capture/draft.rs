//! A measurement under way: which slots its kind has, what stands in them, what comes next.
//!
//! Pure: no browser, no signals. The panel shows the slot in focus and hands in what was tapped.

pub use super::kind::{Choice, InHand, Kind, Lay, Meant, Slot};
use super::rewrite::{measured, parts};
use crate::keypad::Typed;
use litemap::LiteMap;
use swingtie_core::record::{
    AngleReading, EntryId, NorthKind, PointId, Reading, Record, Rotation, Side, Slope, TapedTo, Turn,
};

/// A measurement under way.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// What kind.
    pub kind: Kind,
    /// The slot the panel asks for.
    pub focus: Slot,
    points: LiteMap<Slot, Meant>,
    numbers: LiteMap<Slot, Typed>,
    /// The side said, if any.
    pub side: Option<Side>,
    /// The line that side is said of, where an entry written anew names one.
    pub line: Option<[PointId; 2]>,
    /// Whether the tape goes to something round.
    round: bool,
    /// What of a round thing is taped to.
    pub taped_to: TapedTo,
    /// The turn said, if any.
    pub turn: Option<Turn>,
    /// Which way the angle is turned, if said.
    pub rotation: Option<Rotation>,
    /// Which north the bearing counts from, if said.
    pub north: Option<NorthKind>,
    /// How the slope of the tape is said, when it was not level.
    pub slope: Option<Lay>,
    /// The tape's zero is hooked somewhere else on the run's line: only differences count.
    pub zero_unknown: bool,
    /// The points of a line.
    pub many: Vec<PointId>,
    /// Whether which side must be asked for this tie (two mirror places).
    pub ask_side: bool,
    /// The user left the side open.
    pub side_open: bool,
    /// The number was taken over from the last reading on purpose.
    pub deliberate: bool,
    /// Nobody picked the point the reading is at: it is the next label, and a key may say another.
    pub proposed: bool,
    /// Which ordinate comes next, from 1.
    pub ordinate: u32,
    /// The entry that further walls or readings go into, once its first is saved.
    pub into: Option<EntryId>,
    /// Which wall or reading of that entry this is, or which reading of the entry written anew, from 0.
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
            numbers: LiteMap::new(),
            side: None,
            line: None,
            round: false,
            taped_to: TapedTo::Middle,
            turn: None,
            rotation: None,
            north: None,
            slope: None,
            zero_unknown: false,
            many: Vec::new(),
            ask_side: false,
            side_open: false,
            deliberate: false,
            proposed: false,
            ordinate: 1,
            into: None,
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
            Kind::Tie if self.round => vec![Slot::First, Slot::Target, Slot::TapedTo, Slot::Length],
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
            Kind::Angle => vec![Slot::First, Slot::Second, Slot::Target, Slot::Rotation, Slot::Angle],
            Kind::Bearing => vec![Slot::First, Slot::Target, Slot::North, Slot::Angle],
            Kind::Parallel | Kind::SameLength => {
                vec![Slot::First, Slot::Second, Slot::Third, Slot::Fourth]
            }
            Kind::Arc => vec![Slot::First, Slot::Second, Slot::Length, Slot::Side],
            Kind::ArcThrough => vec![Slot::First, Slot::Second, Slot::Third],
            Kind::Girth => vec![Slot::Target, Slot::Length],
        };
        slots.extend(self.slope.and_then(Lay::slot));
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

    /// All points said.
    pub fn points(&self) -> impl Iterator<Item = (&Slot, &Meant)> {
        self.points.iter()
    }

    /// All numbers typed.
    pub fn numbers(&self) -> impl Iterator<Item = (&Slot, &Typed)> {
        self.numbers.iter()
    }

    /// What is typed in this slot.
    #[must_use]
    pub fn typed(&self, slot: Slot) -> Option<&Typed> {
        self.numbers.get(&slot)
    }

    /// Whether neither a point nor a number stands in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.points.is_empty() && self.many.is_empty() && !self.has_number()
    }

    /// Whether a number is typed anywhere.
    #[must_use]
    pub fn has_number(&self) -> bool {
        self.numbers.values().any(|typed| !typed.text().is_empty())
    }

    /// The reading in this slot, when what is typed is one.
    #[must_use]
    pub fn reading(&self, slot: Slot) -> Option<Reading> {
        self.typed(slot).and_then(Typed::reading)
    }

    /// The angle in this slot, when what is typed is one.
    #[must_use]
    pub fn angle(&self, slot: Slot) -> Option<AngleReading> {
        self.typed(slot).and_then(Typed::angle)
    }

    /// How the tape lay; none when level, or when what is typed of it is not complete.
    #[must_use]
    pub fn lay(&self) -> Option<Slope> {
        match self.slope? {
            Lay::Heights => Some(Slope::Heights),
            Lay::Rise => self.reading(Slot::Rise).map(|rise| Slope::RiseMetres(rise.value)),
            Lay::Incline => self.angle(Slot::Incline).map(|angle| Slope::AngleRadians(angle.value)),
        }
    }

    /// The slot whose number the plan may expect otherwise.
    #[must_use]
    pub const fn asked(&self) -> Slot {
        match self.kind {
            Kind::Offsets => Slot::Station,
            Kind::Angle | Kind::Bearing => Slot::Angle,
            _ => Slot::Length,
        }
    }

    /// Whether further readings go into the entry of the first: walls of one walk, and readings of one
    /// tape whose zero is unknown, since only among them it is the same.
    #[must_use]
    pub const fn gathers(&self) -> bool {
        matches!(self.kind, Kind::Walk) || (matches!(self.kind, Kind::Run) && self.zero_unknown)
    }

    /// Puts what is typed into a slot; the focus stays.
    pub fn set_typed(&mut self, slot: Slot, typed: Typed) {
        self.deliberate = false;
        self.numbers.insert(slot, typed);
    }

    /// Whether the slot holds what it needs.
    #[must_use]
    pub fn filled(&self, slot: Slot) -> bool {
        match slot {
            Slot::Many => self.many.len() > 2,
            Slot::Side => self.side.is_some(),
            slot if slot.takes_point() => self.points.contains_key(&slot),
            slot if slot.takes_number() => self.typed(slot).is_some_and(Typed::is_read),
            slot => self.chosen(slot).is_some(),
        }
    }

    /// Which of the few things a slot can hold was said.
    #[must_use]
    pub fn chosen(&self, slot: Slot) -> Option<Choice> {
        match slot {
            Slot::Turn => self.turn.map(Choice::Turn),
            Slot::TapedTo => Some(Choice::TapedTo(self.taped_to)),
            Slot::Rotation => self.rotation.map(Choice::Rotation),
            Slot::North => self.north.map(Choice::North),
            _ => None,
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
        self.proposed = false;
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
        // Another line is another tape.
        if self.kind == Kind::Run && slot != Slot::Target {
            (self.into, self.part) = (None, 0);
        }
        self.advance();
    }

    /// The slot of the point this row is about.
    fn row_point(&self) -> Slot {
        let slots = self.slots();
        let last = slots.iter().rfind(|slot| slot.takes_point()).copied();
        if slots.contains(&Slot::Target) { Slot::Target } else { last.unwrap_or(Slot::First) }
    }

    /// Puts a point into a given slot without moving the focus.
    pub fn set_point(&mut self, slot: Slot, meant: Meant) {
        self.proposed = false;
        self.points.insert(slot, meant);
    }

    /// Takes the point out of a slot.
    pub fn take_point(&mut self, slot: Slot) {
        self.points.remove(&slot);
    }

    /// Says the side and moves on.
    pub fn put_side(&mut self, side: Side) {
        self.side = Some(side);
        self.advance();
    }

    /// Says one of a few things and moves on.
    pub fn put(&mut self, choice: Choice) {
        match choice {
            Choice::Turn(turn) => self.turn = Some(turn),
            Choice::TapedTo(what) => self.taped_to = what,
            Choice::Rotation(way) => self.rotation = Some(way),
            Choice::North(kind) => self.north = Some(kind),
        }
        self.advance();
    }

    /// Says how the tape lay; what then has to be typed is in focus.
    pub fn put_slope(&mut self, slope: Option<Lay>) {
        self.slope = slope;
        match slope.and_then(Lay::slot) {
            Some(slot) => self.focus = slot,
            None => self.advance(),
        }
    }

    /// Says that the tape's zero is hooked elsewhere, or that it is not. Either is another tape.
    pub fn toggle_zero(&mut self) {
        self.zero_unknown = !self.zero_unknown;
        if self.correcting.is_none() {
            (self.into, self.part) = (None, 0);
        }
    }

    /// Whether what is taped to is round: only then it has a near and a far side.
    pub fn see_round(&mut self, round: bool) {
        self.round = round;
        if !self.round {
            self.taped_to = TapedTo::Middle;
        }
    }

    /// Whether what is taped to is round.
    #[must_use]
    pub const fn round(&self) -> bool {
        self.round
    }

    /// After a save: keeps what the next reading shares with this one and empties the rest.
    pub fn next_row(&mut self, target: Option<PointId>) {
        let target = target.map(Meant::Known);
        self.correcting = None;
        for slot in [Slot::Length, Slot::Station, Slot::Angle, Slot::Rise, Slot::Incline] {
            self.numbers.remove(&slot);
        }
        self.slope = None;
        (self.ask_side, self.side_open, self.deliberate) = (false, false, false);
        self.proposed = false;
        self.part += usize::from(self.gathers());
        match self.kind {
            // The point stays: the next tape usually goes to the same point from another anchor.
            Kind::Tie => {
                self.points.remove(&Slot::First);
                if let Some(target) = target {
                    self.points.insert(Slot::Target, target);
                }
                self.side = None;
            }
            Kind::Walk => self.turn = None,
            Kind::Ordinates => self.ordinate += 1,
            _ => {}
        }
        if self.kind != Kind::Tie {
            self.points.remove(&Slot::Target);
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
        match (&self.correcting, &self.into) {
            (Some(entry), _) if count(entry) <= self.part => *self = Self::new(self.kind),
            (None, Some(into)) => {
                self.part = count(into);
                self.into = self.into.take().filter(|_| self.part > 0);
            }
            _ => {}
        }
        let known = |id: &PointId| record.points.iter().any(|p| p.id == *id);
        self.points.retain(|_, meant| meant.known().is_none_or(known));
        self.many.retain(known);
        self.advance();
    }

    /// The point in which two lines called parallel meet: then they are one line, which `In line` says.
    #[must_use]
    pub fn meets(&self) -> Option<&Meant> {
        let point = |slot| self.point(slot);
        let [one, two] = [point(Slot::First), point(Slot::Second)];
        let [three, four] = [point(Slot::Third), point(Slot::Fourth)];
        let shared = |p: Option<&Meant>| p.is_some() && (p == three || p == four);
        let met = [one, two].into_iter().find(|p| shared(*p)).flatten();
        met.filter(|_| self.kind == Kind::Parallel)
    }

    /// Whether the points named are all different where they must be.
    #[must_use]
    pub fn same_twice(&self) -> bool {
        let name = |slot: &Slot| match self.point(*slot)? {
            Meant::Known(id) => Some(id.as_str()),
            Meant::New { label, .. } => Some(label.as_str()),
        };
        let twice = |slots: &[Slot]| {
            let named: Vec<&str> = slots.iter().filter_map(name).collect();
            named.iter().enumerate().any(|(number, one)| named.iter().skip(number + 1).any(|two| one == two))
        };
        let (one, other) = ([Slot::First, Slot::Second], [Slot::Third, Slot::Fourth]);
        match self.kind {
            // A walk may come back to its start, and to any corner.
            Kind::Walk => false,
            // A run may read the very point it points toward, and a baseline's ends may get an offset
            // (zero) of their own.
            Kind::Run | Kind::Offsets | Kind::Ordinates => twice(&one),
            // Two lines may meet in a point, but are not the same.
            Kind::Parallel | Kind::SameLength => {
                let same = |slot| other.iter().any(|other| name(other) == name(&slot));
                twice(&one) || twice(&other) || one.into_iter().all(same)
            }
            _ => twice(&self.slots()),
        }
    }
}

#[cfg(test)]
mod tests;
