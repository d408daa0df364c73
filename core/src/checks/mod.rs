//! What is still missing before somebody leaves the yard, most pressing first: facts of the book, and what
//! people forget.
//!
//! A line is mended by recording what it asks for, or answered in words ([`crate::record::Note::settles`]):
//! it then stays in the list with those words, and the sheet says them.

mod anchored;
mod closing;
mod concerns;
mod forgotten;
pub mod grade;
mod heights;
mod house;
mod list;
pub mod post;
mod questions;
mod unlaid;
mod unmade;
mod words;

#[cfg(test)]
mod tests;
#[cfg(test)]
mod yard;

pub use closing::Closing;
pub use concerns::{Concern, Topic, concerns};
pub use house::undrawn as house_undrawn;
pub use list::{answer_to, lines, lines_on};
pub use questions::{Asked, open_questions, questions};
pub use words::{by_source, freedom, from_readings, labels, not_read, said, side};

use crate::record::{EntryId, PointId};

/// How pressing a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Nothing is measured yet: the first step.
    Start,
    /// Without it the plan is wrong, or somebody may be hurt.
    Wrong,
    /// Without it the plan is not whole: usual while the measuring goes on.
    Unfinished,
    /// Who draws with it will ask for it: it would cost a second visit.
    Visit,
    /// Nothing is missing: what the readings show is worth a note to who draws or builds ([`Concern`]).
    Note,
    /// It makes the plan surer.
    Better,
    /// People forget it; nothing of the sort is recorded.
    Look,
}

/// Where a line is mended.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Mend {
    /// On the plan: another reading, a side.
    Plan,
    /// On the rough sketch.
    Sketch,
    /// Where readings contradict each other.
    Doubts,
    /// In the book: a reading to look at again.
    Book,
    /// A walk round the walls.
    Walk,
    /// Readings along a wall.
    Run,
    /// The house, drawn through its corners.
    House,
    /// A new thing, mostly of this kind.
    Thing(&'static str),
    /// A new thing of this kind on these points.
    Points(&'static str, Vec<PointId>),
    /// The thing of this entry.
    EditThing(EntryId),
    /// A new utility mark.
    Mark,
    /// The utility mark of this entry.
    EditMark(EntryId),
    /// The list of problems, their photos among it.
    Problems,
    /// The heights.
    Levels,
    /// The photos.
    Photos,
    /// The notes.
    Notes,
    /// Name, day, place and north.
    Details,
}

/// The words that answer a line.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Answer {
    /// Their entry.
    pub entry: EntryId,
    /// Why it is left as it is.
    pub why: String,
}

/// One line of the list.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Line {
    /// What a note names to answer it, one for each thing the line speaks of. They hold labels, so that they
    /// outlive a table and a merge; a thing called otherwise later is asked about again.
    pub keys: Vec<String>,
    /// What is the matter.
    pub what: String,
    /// What to do about it.
    pub how: String,
    /// How pressing it is.
    pub weight: Weight,
    /// Where it is mended.
    pub mend: Mend,
    /// The words that answer it.
    pub answer: Option<Answer>,
}

impl Line {
    /// Whether it is still to do.
    #[must_use]
    pub const fn is_open(&self) -> bool {
        self.answer.is_none()
    }
}

impl std::hash::Hash for Weight {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        (*self as u8).hash(state);
    }
}
