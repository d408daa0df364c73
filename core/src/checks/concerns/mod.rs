//! What the readings show that is worth a look: falls, water, steps, posts, buried lines, roots, ways in.
//!
//! One file a check. Each says in a plain sentence what was found, with its numbers, the readings it used and those
//! it lacks, where its limit is published, and that others decide. No check ever says that something is safe.

mod deck;
mod dig;
mod fall;
mod fence;
mod gate;
mod leaf;
mod look;
mod near;
mod root;
mod slope;
mod spout;
mod stair;
mod threshold;
mod water;
mod way;

#[cfg(test)]
mod tests;

use super::list::List;
use super::{Mend, Weight, heights};
use crate::plan::{Ground, Plan};
use crate::record::{EntryId, Record};
use crate::units::PlanPoint;
use look::{Look, concern};

/// What a concern is about, in the order in which they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// A buried line where somebody will dig.
    Digging,
    /// Where water runs and stands.
    Water,
    /// Posts and gates.
    Posts,
    /// Decks, their posts and guards.
    Decks,
    /// Steps.
    Steps,
    /// Doors and siding above the ground.
    Doors,
    /// How steep paving is.
    Slopes,
    /// Roots and branches.
    Trees,
    /// What gets through to the yard.
    WayIn,
}

/// Something worth a look.
#[derive(Clone, Debug, PartialEq)]
pub struct Concern {
    /// By it a note answers the line in the list before leaving: a word and labels.
    pub key: String,
    /// What it is about.
    pub topic: Topic,
    /// How pressing it is in the list before leaving.
    pub weight: Weight,
    /// What was found, without the full stop.
    pub what: String,
    /// What to do about it.
    pub how: String,
    /// Its numbers, each with its name.
    pub numbers: Vec<(&'static str, String)>,
    /// The readings it rests on.
    pub used: Vec<String>,
    /// What was not read: with it the check would say more.
    pub missing: Vec<String>,
    /// Who decides.
    pub caution: &'static str,
    /// Where the limit is published, or that it is not.
    pub source: &'static str,
    /// Where.
    pub at: Option<PlanPoint>,
    /// Entries of the things, marks and problems it speaks of.
    pub about: Vec<EntryId>,
    /// Where a missing reading is added; the list of problems where none is.
    pub mend: Mend,
}

const HELD: &str =
    "Nothing is said of how water runs here. Local code and licensed people decide how it is led.";

/// Everything worth a look, by topic.
#[must_use]
pub fn concerns(record: &Record, plan: &Plan, ground: &Ground) -> Vec<Concern> {
    let look = Look { record, plan, ground };
    let mut found = Vec::new();
    dig::find(&look, &mut found);
    spout::find(&look, &mut found);
    gate::find(&look, &mut found);
    fence::find(&look, &mut found);
    deck::find(&look, &mut found);
    stair::find(&look, &mut found);
    threshold::find(&look, &mut found);
    root::find(&look, &mut found);
    way::find(&look, &mut found);
    found.extend(by_heights(&look));
    found.sort_by_key(|concern| concern.topic);
    found
}

/// Hollows, falls and slopes. Those that rest on heights are held back while a level reading is in doubt.
fn by_heights(look: &Look) -> Vec<Concern> {
    let mut found = Vec::new();
    water::find(look, &mut found);
    fall::find(look, &mut found);
    slope::find(look, &mut found);
    let rests = |concern: &Concern| !concern.used.is_empty();
    if found.iter().any(rests) && heights::doubtful(look.record, look.ground) {
        let (held_back, rest): (Vec<Concern>, Vec<Concern>) = found.into_iter().partition(rests);
        found = rest;
        let what = say!("Falls, hollows and slopes are not told while a level reading is in doubt");
        let how = "Read the point in doubt again, or say why it stays: they are told then.";
        let mut held = concern(Topic::Water, "heights in doubt".to_owned(), what, how);
        held.missing = vec![say!("a level reading that settles which one is wrong")];
        (held.caution, held.source) = (HELD, "Our choice: what rests on a doubtful height is no finding");
        for entry in held_back.into_iter().flat_map(|concern| concern.about) {
            if !held.about.contains(&entry) {
                held.about.push(entry);
            }
        }
        found.push(held.mended(Mend::Levels));
    }
    found
}

/// Each as a line of the list before leaving.
pub(super) fn add(list: &mut List, found: Vec<Concern>) {
    for Concern { key, weight, what, how, missing, mend, .. } in found {
        // What is not known says itself what is missing.
        let how = if missing.is_empty() || weight == Weight::Visit {
            how
        } else {
            say!("{how} Missing: {}.", missing.join("; "))
        };
        list.one(key, weight, what, &how, mend);
    }
}
