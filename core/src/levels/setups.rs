//! Which level readings belong together.

use crate::record::{EntryId, LevelWith, PointId, Record};
use crate::units::Length;

/// One reading of a set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Rod {
    /// The entry that said it.
    pub entry: EntryId,
    /// What the rod stood on.
    pub point: PointId,
    /// Height of the level line above the point, negative where the point is overhead.
    pub below_line: Length,
    /// Standard deviation.
    pub sd: Length,
    /// As written.
    pub text: String,
}

/// Everything read without moving the level, in book order: the first is the backsight, the last the foresight.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUp {
    /// The entry that started it. It may have been struck: the others still belong together.
    pub id: EntryId,
    /// What made the level line.
    pub with: LevelWith,
    /// Its readings, at least one.
    pub rods: Vec<Rod>,
}

/// The set-ups in the order they were begun. A reading that is not a number counts in none.
#[must_use]
pub fn setups(record: &Record) -> Vec<SetUp> {
    let mut all: Vec<SetUp> = Vec::new();
    for recorded in &record.levels {
        let said = &recorded.what;
        let (below_line, sd) = (said.below_line(), said.spread());
        if !(below_line.metres().is_finite() && sd.metres().is_finite() && sd > Length::ZERO) {
            continue;
        }
        let id = said.setup.as_ref().unwrap_or(&recorded.entry);
        let rod = Rod {
            entry: recorded.entry.clone(),
            point: said.point.clone(),
            below_line,
            sd,
            text: said.reading.text.clone(),
        };
        match all.iter_mut().find(|s| &s.id == id) {
            Some(known) => known.rods.push(rod),
            None => all.push(SetUp { id: id.clone(), with: said.with, rods: vec![rod] }),
        }
    }
    all
}
