//! The level reading under way, as plain data.

use crate::keypad::Typed;
use swingtie_core::levels::written_in;
use swingtie_core::record::{
    EntryId, LevelReading, LevelWith, PointId, Record, Recorded, Statement, Stood, UnitSystem,
};

/// What is said so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Booking {
    /// What makes the level line.
    pub with: LevelWith,
    /// The entry that began the set-up; none while its first reading is not saved.
    pub setup: Option<EntryId>,
    /// What the rod stands on.
    pub point: Option<PointId>,
    /// What is typed.
    pub typed: Typed,
    /// The rod is upside down.
    pub overhead: bool,
    /// What the rod stands on, where the recorder says so.
    pub stood: Option<Stood>,
    /// The entry that is written anew.
    pub correcting: Option<EntryId>,
}

/// The letter of a level where a booking is kept.
const WITH: [(LevelWith, char); 5] = [
    (LevelWith::BuildersLevel, 'b'),
    (LevelWith::HandLevel, 'h'),
    (LevelWith::StringLevel, 's'),
    (LevelWith::WaterLevel, 'w'),
    (LevelWith::Tape, 't'),
];

/// A word for what the rod stands on, in the same place.
const STOOD: [(Option<Stood>, &str); 3] = [(None, ""), (Some(Stood::Ground), "g"), (Some(Stood::Above), "a")];

impl Booking {
    /// A set-up that has no reading yet.
    #[must_use]
    pub fn begun(with: LevelWith, units: UnitSystem) -> Self {
        Self {
            with,
            setup: None,
            point: None,
            typed: Typed::new(units),
            overhead: false,
            stood: None,
            correcting: None,
        }
    }

    /// The next reading of the same set-up, on the pad of this one: as the units key left it. What was typed in other
    /// units there, once, changes nothing.
    #[must_use]
    pub fn next(&self, setup: Option<EntryId>) -> Self {
        let typed = Typed::new(self.typed.pad());
        Self { setup, typed, ..Self::begun(self.with, UnitSystem::default()) }
    }

    /// A reading of the book, to be written anew.
    #[must_use]
    pub fn of(entry: &EntryId, said: &LevelReading, units: UnitSystem) -> Self {
        Self {
            setup: Some(said.setup.clone().unwrap_or_else(|| entry.clone())),
            point: Some(said.point.clone()),
            typed: Typed::from_reading(&said.reading, written_in(&said.reading.text).unwrap_or(units)),
            overhead: said.overhead,
            stood: said.stood,
            correcting: Some(entry.clone()),
            ..Self::begun(said.with, units)
        }
    }

    /// Whether two readings make a set-up: the two ends of a string, of a hose.
    #[must_use]
    pub const fn pairs(&self) -> bool {
        matches!(self.with, LevelWith::StringLevel | LevelWith::WaterLevel | LevelWith::Tape)
    }

    /// The readings of the set-up, in the order they were taken; that which is written anew left out.
    pub fn readings<'a>(
        &'a self,
        record: &'a Record,
    ) -> impl DoubleEndedIterator<Item = &'a Recorded<LevelReading>> {
        let mine = |l: &&Recorded<LevelReading>| {
            let of = l.what.setup.as_ref().unwrap_or(&l.entry);
            self.setup.as_ref() == Some(of) && self.correcting.as_ref() != Some(&l.entry)
        };
        record.levels.iter().filter(mine)
    }

    /// What the rod stands on: as said, else as a rod on this point usually does.
    #[must_use]
    pub fn stands(&self, record: &Record) -> Stood {
        match (self.stood, &self.point) {
            (Some(stood), _) => stood,
            (None, Some(point)) if !self.overhead => record.usually_stood(point),
            (None, _) if self.overhead => Stood::Above,
            (None, _) => Stood::Ground,
        }
    }

    /// Says the other of the two.
    pub fn toggle_stood(&mut self, record: &Record) {
        self.stood = Some(match self.stands(record) {
            Stood::Ground => Stood::Above,
            Stood::Above => Stood::Ground,
        });
    }

    /// What it says; none while the point or the number is missing.
    #[must_use]
    pub fn statement(&self, record: &Record) -> Option<Statement> {
        let (point, reading) = (self.point.clone()?, self.typed.reading()?);
        let before = self.correcting.as_ref().and_then(|entry| {
            record.levels.iter().find(|l| l.entry == *entry).map(|l| (entry.clone(), l.what.clone()))
        });
        Some(match before {
            Some((entry, was)) => {
                let now = LevelReading { point, reading, overhead: self.overhead, stood: self.stood, ..was };
                Statement::Correct { entry, now: Box::new(Statement::Level(now)) }
            }
            None => Statement::Level(LevelReading {
                // What began the set-up may have been taken back: then this begins it.
                setup: self.setup.clone().filter(|_| self.readings(record).next().is_some()),
                point,
                reading,
                overhead: self.overhead,
                stood: self.stood,
                with: self.with,
                sd: None,
            }),
        })
    }

    /// Lets go of what was struck meanwhile.
    #[must_use]
    pub fn known(mut self, record: &Record) -> Self {
        self.point = self.point.filter(|id| record.points.iter().any(|p| p.id == *id));
        self.correcting = self.correcting.filter(|id| record.levels.iter().any(|l| l.entry == *id));
        self
    }

    /// As one line of text.
    #[must_use]
    pub fn kept(&self) -> String {
        let with = WITH.iter().find(|(with, _)| *with == self.with).map_or('b', |(_, sign)| *sign);
        let id = |id: Option<&str>| id.unwrap_or_default().to_owned();
        [
            with.to_string(),
            if self.overhead { "-" } else { "" }.to_owned(),
            STOOD.iter().find(|(stood, _)| *stood == self.stood).map_or("", |(_, word)| *word).to_owned(),
            id(self.setup.as_ref().map(EntryId::as_str)),
            id(self.point.as_ref().map(PointId::as_str)),
            id(self.correcting.as_ref().map(EntryId::as_str)),
            self.typed.kept(),
        ]
        .join("|")
    }

    /// As [`kept`](Self::kept) wrote it.
    #[must_use]
    pub fn from_kept(text: &str) -> Option<Self> {
        let mut parts = text.split('|');
        let sign = parts.next()?.chars().next()?;
        let with = WITH.iter().find(|(_, one)| *one == sign)?.0;
        let overhead = parts.next()? == "-";
        let word = parts.next()?;
        let stood = STOOD.iter().find(|(_, one)| *one == word)?.0;
        let mut id = || parts.next().map(|id| (!id.is_empty()).then(|| id.to_owned()));
        let (setup, point, correcting) = (id()?, id()?, id()?);
        Some(Self {
            with,
            setup: setup.map(EntryId),
            point: point.map(PointId),
            typed: Typed::from_kept(parts.next()?)?,
            overhead,
            stood,
            correcting: correcting.map(EntryId),
        })
    }
}

#[cfg(test)]
pub mod tests {
    use super::*;
    use crate::keypad::Key;
    use swingtie_core::record::{Point, Reading};

    /// A record in feet and inches with these level readings: set-up, point, what was read.
    pub fn levelled(readings: &[(u8, &str, &str)]) -> Record {
        let mut record = Record::default();
        for (n, (setup, point, text)) in readings.iter().enumerate() {
            let first = readings.iter().position(|(s, ..)| s == setup).filter(|first| *first < n);
            let what = LevelReading {
                setup: first.map(|n| n.to_string().as_str().into()),
                point: (*point).into(),
                reading: Reading::read(text, UnitSystem::FeetInches.into()).unwrap(),
                overhead: false,
                with: LevelWith::HandLevel,
                sd: None,
                stood: None,
            };
            let entry = n.to_string().as_str().into();
            record.levels.push(Recorded { entry, author: "a".into(), at_ms: 0, what });
            if record.by_label(point).is_none() {
                let (id, label) = ((*point).into(), (*point).to_owned());
                record.points.push(Point { id, label, note: String::new() });
            }
        }
        record
    }

    pub fn typed(units: UnitSystem, keys: &[Key]) -> Typed {
        let mut typed = Typed::new(units);
        for key in keys {
            typed.press(*key).unwrap();
        }
        typed
    }

    /// `5' 6"` read on this point.
    pub fn booking(setup: Option<&str>, point: &str) -> Booking {
        let keys = [Key::Digit(5), Key::Feet, Key::Digit(6)];
        Booking {
            setup: setup.map(EntryId::from),
            point: Some(point.into()),
            typed: typed(UnitSystem::FeetInches, &keys),
            ..Booking::begun(LevelWith::HandLevel, UnitSystem::FeetInches)
        }
    }

    #[test]
    fn what_is_kept_comes_back() {
        let plain = Booking::begun(LevelWith::WaterLevel, UnitSystem::Metres);
        let full = Booking {
            overhead: true,
            stood: Some(Stood::Ground),
            correcting: Some("e".into()),
            ..booking(Some("s"), "p")
        };
        for one in [plain, full] {
            assert_eq!(Booking::from_kept(&one.kept()).as_ref(), Some(&one), "{}", one.kept());
        }
        assert_eq!(Booking::from_kept("another version's"), None);
    }

    #[test]
    fn a_set_up_whose_readings_were_all_taken_back_begins_anew() {
        let record = levelled(&[(0, "A", "4'")]);
        let said = |setup| match booking(Some(setup), "A").statement(&record) {
            Some(Statement::Level(level)) => level.setup,
            other => panic!("{other:?}"),
        };
        assert_eq!(said("0"), Some("0".into()));
        assert_eq!(said("gone"), None);
    }

    #[test]
    fn a_rod_on_a_door_stands_above_the_ground_until_said_otherwise() {
        use swingtie_core::record::{Attributes, Feature};
        let mut record = levelled(&[(0, "D1a", "4'"), (0, "B", "5'")]);
        let what = Feature {
            kind: "door".to_owned(),
            points: vec!["D1a".into()],
            name: String::new(),
            fate: None,
            attributes: Attributes::default(),
            curved: false,
            told: false,
            note: String::new(),
        };
        record.features.push(Recorded { entry: "f".into(), author: "a".into(), at_ms: 0, what });
        assert_eq!(booking(Some("0"), "B").stands(&record), Stood::Ground);
        let mut door = booking(Some("0"), "D1a");
        assert_eq!((door.stands(&record), door.stood), (Stood::Above, None));
        door.toggle_stood(&record);
        let Some(Statement::Level(said)) = door.statement(&record) else { panic!() };
        assert_eq!(said.stood, Some(Stood::Ground));
        let overhead = Booking { overhead: true, ..booking(Some("0"), "B") };
        assert_eq!(overhead.stands(&record), Stood::Above);
    }

    #[test]
    fn a_correction_keeps_what_was_not_asked() {
        let mut record = levelled(&[(0, "A", "4'"), (0, "B", "5'")]);
        record.levels[1].what.sd = Some(swingtie_core::units::Length::from_metres(0.01));
        let mut anew = Booking::of(&"1".into(), &record.levels[1].what, UnitSystem::FeetInches);
        assert_eq!(anew.typed.text(), "5'");
        anew.typed = booking(None, "B").typed;
        let Some(Statement::Correct { entry, now }) = anew.statement(&record) else { panic!() };
        let Statement::Level(now) = *now else { panic!() };
        assert_eq!((entry.as_str(), now.reading.text.as_str()), ("1", "5' 6\""));
        assert_eq!((now.sd.is_some(), now.setup), (true, Some("0".into())));
    }
}
