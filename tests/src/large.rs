//! Large invented sites, to see what an app makes of a long survey: a yard of known truth with things, problems, marks,
//! heights, notes and photos, and its readings written anew as rows of readings are.

use crate::dice::Dice;
use crate::yard::{Yard, id};
use swingtie_core::book::{Book, Entry};
use swingtie_core::record::{
    At, Attribute, Attributes, EntryId, Feature, LevelReading, LevelWith, MarkColour, Note, Photo, PhotoId,
    PointId, Problem, Reading, Severity, Site, Statement, UnitSystem, UtilityMark,
};
use swingtie_core::units::Length;

/// How large a site is. What the points, readings and things leave of the entries are readings written anew.
#[derive(Clone, Debug)]
pub struct Large {
    /// Points, at least 20.
    pub points: usize,
    /// Things drawn through them.
    pub things: usize,
    /// Pictures, spread over the points.
    pub photos: Vec<PhotoId>,
    /// Entries in all.
    pub entries: usize,
}

impl Large {
    /// So many entries, a fifth of them points, but no more than a thousand; about as many things as points.
    #[must_use]
    pub fn of(entries: usize) -> Self {
        let points = (entries / 5).clamp(20, 1000);
        Self { points, things: points, photos: Vec::new(), entries }
    }

    /// Its statements in the order they were said.
    #[must_use]
    pub fn statements(&self) -> Vec<(EntryId, Statement)> {
        let yard = Yard::new(self.points, 1);
        let mut dice = Dice::new(0x1A46, self.entries as u64);
        let mut said = Vec::new();
        let site = Site { name: "Long Survey".to_owned(), units: UnitSystem::Metres, ..Site::default() };
        said.push(Statement::Site(site));
        let label = |p| swingtie_core::record::Point {
            id: id(p),
            label: id(p).as_str().to_owned(),
            note: String::new(),
        };
        said.extend((0..yard.truth.len()).map(|p| Statement::Point(label(p))));
        let first_reading = said.len();
        said.extend(yard.measurements.iter().cloned().map(Statement::Measure));
        let readings = first_reading..said.len();
        for n in 0..self.things {
            said.push(Statement::Feature(thing(n, &yard, &mut dice)));
        }
        let setup = said.len();
        for n in 0..self.points / 3 {
            let point = id(dice.below(self.points));
            said.push(Statement::Level(level((n > 0).then(|| name(setup)), point, dice.between(0.2, 2.2))));
        }
        for n in 0..self.points / 10 {
            let at = At::Points(vec![id(dice.below(self.points))]);
            said.push(Statement::Problem(problem(at.clone(), n)));
            let text = format!("seen on the way, number {n}");
            said.push(Statement::Note(Note { topic: "stays".into(), at, text, ..Note::default() }.into()));
            if n % 3 == 0 {
                said.push(Statement::Mark(mark(n, &yard, &mut dice)));
            }
        }
        for photo in &self.photos {
            let at = At::Points(vec![id(dice.below(self.points))]);
            said.push(Statement::Photo(Photo {
                at,
                ..Photo::new(photo.clone(), "image/jpeg".into(), 60_000)
            }));
        }
        let mut again = readings.clone().cycle();
        while said.len() < self.entries
            && let Some(number) = again.next()
        {
            said.push(Statement::Correct { entry: name(number), now: Box::new(said[number].clone()) });
        }
        (0..).map(name).zip(said).collect()
    }

    /// Its book, by one author.
    ///
    /// # Panics
    /// When a statement cannot be written, which would be a fault of this generator.
    #[must_use]
    #[expect(clippy::expect_used, reason = "test support: a damaged site ends the test")]
    pub fn book(&self) -> Book {
        let mut book = Book::new();
        for (clock, (id, statement)) in (1..).zip(self.statements()) {
            let entry = Entry::new(id, clock, 1_780_000_000_000, "surveyor".into(), statement);
            book.add(entry.expect("finite numbers")).expect("ids of their own");
        }
        book
    }
}

/// Ids in no order, as a phone's are. The factor is odd, so no two are the same.
fn name(number: usize) -> EntryId {
    EntryId(format!("{:016x}", (number as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15)))
}

fn metres(value: f64) -> Reading {
    let text = format!("{value:.2}");
    let value = Length::from_metres(text.parse().unwrap_or(f64::NAN));
    Reading { text: text + " m", value }
}

/// Houses first, then patios, fences and trees in turn.
fn thing(n: usize, yard: &Yard, dice: &mut Dice) -> Feature {
    let houses: Vec<&[usize; 6]> = yard.houses().collect();
    let house = houses[n % houses.len()];
    let mut attributes = Attributes::default();
    let (kind, points): (&str, Vec<usize>) = match n / houses.len() {
        0 => ("house", house.to_vec()),
        1 => ("patio", vec![house[2], house[3], house[5] + 3]),
        turn if turn % 3 == 0 => ("fence", (0..3).map(|_| dice.below(yard.truth.len())).collect()),
        _ => {
            let size = Attribute::Length(metres(dice.between(2.0, 9.0)));
            attributes.insert("canopy_spread".to_owned(), size);
            ("tree", vec![dice.below(yard.truth.len())])
        }
    };
    Feature {
        kind: kind.into(),
        points: points.into_iter().map(id).collect(),
        name: String::new(),
        fate: None,
        attributes,
        curved: false,
        told: false,
        note: String::new(),
    }
}

fn level(setup: Option<EntryId>, point: PointId, reading: f64) -> LevelReading {
    let (with, reading) = (LevelWith::BuildersLevel, metres(reading));
    LevelReading { setup, point, reading, overhead: false, stood: None, with, sd: None }
}

fn problem(at: At, n: usize) -> Problem {
    Problem {
        kind: "wet_spot".into(),
        severity: if n.is_multiple_of(3) { Severity::Danger } else { Severity::Fix },
        at,
        spread: None,
        attributes: Attributes::default(),
        note: String::new(),
        photos: Vec::new(),
        told: false,
    }
}

fn mark(n: usize, yard: &Yard, dice: &mut Dice) -> UtilityMark {
    let colours = [MarkColour::Red, MarkColour::Orange, MarkColour::Blue];
    UtilityMark {
        colour: colours[n % colours.len()],
        points: vec![id(dice.below(yard.truth.len())), id(dice.below(yard.truth.len()))],
        letters: String::new(),
        attributes: Attributes::default(),
        told: false,
        note: String::new(),
    }
}
