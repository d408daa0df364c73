//! Tapes that lay on a slope to be known by heights, while a height is missing.

use super::list::List;
use super::{Mend, Weight};
use crate::record::{Measurement, Record};

/// One line for each such tape; heights must be in the record (`levels::lay`).
pub(super) fn add(list: &mut List, record: &Record) {
    for tape in record.unlaid() {
        let (from, to) = match &tape.what {
            Measurement::Tie { from, to, .. } => (from, to),
            Measurement::Run { zero, toward, .. } => (zero, toward),
            _ => continue,
        };
        let (from, to) = (record.label(from), record.label(to));
        let what = say!("The tape from {from} to {to} lay on a slope, and a height of its ends is missing");
        let how = "Level both ends, or say how much higher one was: until then it counts as level, and is too long.";
        list.one(format!("slope {from} {to}"), Weight::Unfinished, what, how, Mend::Levels);
    }
}
