//! A small yard for tests: a house of 40 by 30 feet, and what is put round it.

use super::{Concern, Line, concerns, lines};
use crate::book::{Book, Entry, fold};
use crate::levels::lay;
use crate::network::{Adjustment, adjust};
use crate::plan::{Ground, Plan};
use crate::record::{
    At, Attribute, Attributes, BenchMark, EntryId, Facing, Fate, Feature, How, Leg, LevelReading, LevelWith,
    MarkColour, Measurement, Note, OffsetRow, Photo, PhotoId, Point, Problem, Reading, Record, Side,
    Statement, Turn, UtilityMark,
};
use crate::units::{BareUnit, Length, UnitSystem};

/// A book being written.
#[derive(Default)]
pub(super) struct Yard(Book, u64);

impl Yard {
    pub(super) fn say(&mut self, id: &str, said: Statement) -> &mut Self {
        self.1 += 1;
        self.0.add(Entry::new(id.into(), self.1, 0, "a".into(), said).unwrap()).unwrap();
        self
    }

    pub(super) fn point(&mut self, label: &str) -> &mut Self {
        let point = Point { id: label.into(), label: label.to_owned(), note: String::new() };
        self.say(&format!("p{label}"), Statement::Point(point))
    }

    pub(super) fn thing(
        &mut self,
        id: &str,
        kind: &str,
        points: &[&str],
        known: &[(&str, &str)],
    ) -> &mut Self {
        self.known(id, kind, points, known, None)
    }

    /// A house of 40 by 30 feet, walked round and back to where it began, H1 to H2 along its front.
    pub(super) fn house(&mut self) -> &mut Self {
        for label in ["H1", "H2", "H3", "H4"] {
            self.point(label);
        }
        let leg = |(turn, to, length): (Option<Turn>, &str, &str)| Leg {
            turn,
            to: to.into(),
            length: Reading::read(length, BareUnit::from(UnitSystem::FeetInches)).ok(),
        };
        let left = Some(Turn::Left);
        let legs = [(None, "H2", "40'"), (left, "H3", "30'"), (left, "H4", "40'"), (left, "H1", "30'")];
        let legs = legs.map(leg).to_vec();
        let walk = Measurement::Walk { start: "H1".into(), legs, how: How::default() };
        self.say("walk", Statement::Measure(walk)).thing("house", "house", &["H1", "H2", "H3", "H4"], &[])
    }

    pub(super) fn answer(&mut self, id: &str, line: &Line, why: &str) -> &mut Self {
        let note = Note { text: why.to_owned(), settles: line.keys.clone(), ..Note::default() };
        self.say(id, Statement::Note(note.into()))
    }

    pub(super) fn photo(&mut self, id: &str, at: At, facing: Option<Facing>) -> &mut Self {
        let photo = Photo::new(PhotoId(id.to_owned()), "image/jpeg".to_owned(), 1);
        self.say(id, Statement::Photo(Photo { at, facing, ..photo }))
    }

    pub(super) fn list(&self) -> Vec<Line> {
        let (record, adjustment, plan) = self.plan();
        lines(&record, &adjustment, &plan)
    }

    fn plan(&self) -> (Record, Adjustment, Plan) {
        let mut record = fold(&self.0).record;
        lay(&mut record);
        let adjustment = adjust(&record);
        let plan = Plan::build(&record, &adjustment);
        (record, adjustment, plan)
    }

    /// Everything worth a look.
    pub(super) fn concerns(&self) -> Vec<Concern> {
        let (record, _, plan) = self.plan();
        concerns(&record, &plan, &Ground::of(&record, &plan))
    }

    /// What is worth a look and says these words.
    pub(super) fn concern(&self, words: &str) -> Option<Concern> {
        self.concerns().into_iter().find(|concern| concern.what.contains(words))
    }

    /// A thing whose points are `"station offset"` in feet along the front and off it to the house's side, its lengths
    /// and words as written: a length starts with a digit and ends with a unit's sign.
    pub(super) fn put(
        &mut self,
        id: &str,
        kind: &str,
        at: &[(f64, f64)],
        known: &[(&str, &str)],
    ) -> &mut Self {
        let labels: Vec<String> = (1..=at.len()).map(|n| format!("{}{n}", id.to_uppercase())).collect();
        for (label, (along, off)) in labels.iter().zip(at) {
            self.point(label).offset(label, *along, *off);
        }
        let labels: Vec<&str> = labels.iter().map(String::as_str).collect();
        self.known(id, kind, &labels, known, None)
    }

    /// The same on points there are.
    pub(super) fn known(
        &mut self,
        id: &str,
        kind: &str,
        points: &[&str],
        known: &[(&str, &str)],
        fate: Option<Fate>,
    ) -> &mut Self {
        let feature = Feature {
            kind: kind.to_owned(),
            points: points.iter().map(|p| (*p).into()).collect(),
            name: String::new(),
            fate,
            attributes: said(known),
            curved: false,
            told: false,
            note: String::new(),
        };
        self.say(id, Statement::Feature(feature))
    }

    /// A buried line.
    pub(super) fn mark(&mut self, id: &str, at: &[(f64, f64)], told: bool) -> &mut Self {
        let labels: Vec<String> = (1..=at.len()).map(|n| format!("{}{n}", id.to_uppercase())).collect();
        for (label, (along, off)) in labels.iter().zip(at) {
            self.point(label).offset(label, *along, *off);
        }
        let points = labels.iter().map(|label| label.as_str().into()).collect();
        let (colour, letters, note) = (MarkColour::Yellow, String::new(), String::new());
        let mark = UtilityMark { colour, points, letters, attributes: <_>::default(), told, note };
        self.say(id, Statement::Mark(mark))
    }

    /// A problem at a point.
    pub(super) fn problem(&mut self, id: &str, kind: &str, at: &str, known: &[(&str, &str)]) -> &mut Self {
        let problem = Problem {
            kind: kind.to_owned(),
            severity: <_>::default(),
            at: At::Points(vec![at.into()]),
            spread: None,
            attributes: said(known),
            note: String::new(),
            photos: Vec::new(),
            told: false,
        };
        self.say(id, Statement::Problem(problem))
    }

    fn offset(&mut self, label: &str, along: f64, off: f64) -> &mut Self {
        let row = OffsetRow {
            point: label.into(),
            station: reading(&format!("{along} ft")),
            offset: reading(&format!("{} ft", off.abs())),
            side: if off < 0.0 { Side::Right } else { Side::Left },
        };
        // As good as exact, so that nothing hangs on how well a place is known.
        let how = How { sd: Some(Length::from_metres(1e-4)), ..How::default() };
        let (from, to) = ("H1".into(), "H2".into());
        self.say(
            &format!("o{label}"),
            Statement::Measure(Measurement::Offsets { from, to, rows: vec![row], how }),
        )
    }

    /// One set-up of a level that reads exactly, on points of these heights in feet; the first is the bench mark.
    pub(super) fn levels(&mut self, heights: &[(&str, f64)]) -> &mut Self {
        if let Some((point, feet)) = heights.first() {
            let (point, height) = ((*point).into(), Length::from_feet(*feet));
            self.say("bench", Statement::BenchMark(BenchMark { point, height, source: String::new() }));
        }
        let rods: Vec<(&str, f64)> = heights.iter().map(|(point, feet)| (*point, 200.0 - feet)).collect();
        self.rods("rod", &rods, Length::from_metres(1e-5))
    }

    /// One set-up of a level: what was read on these points, in feet, and how well.
    pub(super) fn rods(&mut self, id: &str, rods: &[(&str, f64)], sd: Length) -> &mut Self {
        for (n, (point, feet)) in rods.iter().enumerate() {
            let level = LevelReading {
                setup: (n > 0).then(|| EntryId(format!("{id} 0"))),
                point: (*point).into(),
                reading: reading(&format!("{feet} ft")),
                overhead: false,
                stood: None,
                with: LevelWith::BuildersLevel,
                sd: Some(sd),
            };
            self.say(&format!("{id} {n}"), Statement::Level(level));
        }
        self
    }

    pub(super) fn line(&self, words: &str) -> Option<Line> {
        self.list().into_iter().find(|line| line.what.contains(words))
    }
}

/// A reading of feet and inches.
fn reading(text: &str) -> Reading {
    Reading::read(text, BareUnit::from(UnitSystem::FeetInches)).unwrap()
}

/// What was said: a length where it reads as one with a unit, else words.
fn said(known: &[(&str, &str)]) -> Attributes {
    let one = |(key, words): &(&str, &str)| {
        let length = words.ends_with(['"', '\'']) || words.ends_with(" ft") || words.ends_with(" in");
        let value =
            if length { Attribute::Length(reading(words)) } else { Attribute::Text((*words).to_owned()) };
        ((*key).to_owned(), value)
    };
    known.iter().map(one).collect()
}
