//! What is said of the site as a whole.

use crate::record::{Anchor, BenchMark, North, Record};
use crate::units::UnitSystem;

/// A line of words about the site.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SiteWords {
    /// What it is called.
    Name,
    /// For whom.
    Client,
    /// Who measures.
    Surveyor,
    /// The day of the visit.
    Date,
    /// Anything else.
    Note,
}

/// Something of the site that is another than before.
#[derive(Clone, Debug, PartialEq)]
pub enum SiteChange {
    /// A line of words.
    Words {
        /// Which.
        what: SiteWords,
        /// Before.
        before: String,
        /// Now.
        now: String,
    },
    /// How lengths are written.
    Units {
        /// Before.
        before: UnitSystem,
        /// Now.
        now: UnitSystem,
    },
    /// Where it is on earth.
    Place {
        /// Before.
        before: Option<Anchor>,
        /// Now.
        now: Option<Anchor>,
    },
    /// The second known place that counts.
    SecondPlace {
        /// Before.
        before: Option<Anchor>,
        /// Now.
        now: Option<Anchor>,
    },
    /// Where north is, as it was said.
    North {
        /// Before.
        before: Option<North>,
        /// Now.
        now: Option<North>,
    },
    /// From which point heights count.
    BenchMark {
        /// Before.
        before: Option<BenchMark>,
        /// Now.
        now: Option<BenchMark>,
    },
}

/// What is another, in the order above.
pub(super) fn changed(before: &Record, now: &Record) -> Vec<SiteChange> {
    let (was, is) = (&before.site, &now.site);
    let words = [
        (SiteWords::Name, &was.name, &is.name),
        (SiteWords::Client, &was.client, &is.client),
        (SiteWords::Surveyor, &was.surveyor, &is.surveyor),
        (SiteWords::Date, &was.date, &is.date),
        (SiteWords::Note, &was.note, &is.note),
    ];
    let other = words.into_iter().filter(|(_, before, now)| before != now);
    let mut all: Vec<SiteChange> = other
        .map(|(what, before, now)| SiteChange::Words { what, before: before.clone(), now: now.clone() })
        .collect();
    let (was, is) = (before.site.units, now.site.units);
    if was != is {
        all.push(SiteChange::Units { before: was, now: is });
    }
    if before.anchor != now.anchor {
        all.push(SiteChange::Place { before: before.anchor.clone(), now: now.anchor.clone() });
    }
    let (was, is) = (before.second_anchor().cloned(), now.second_anchor().cloned());
    if was != is {
        all.push(SiteChange::SecondPlace { before: was, now: is });
    }
    if before.north != now.north {
        all.push(SiteChange::North { before: before.north.clone(), now: now.north.clone() });
    }
    if before.bench_mark != now.bench_mark {
        let (before, now) = (before.bench_mark.clone(), now.bench_mark.clone());
        all.push(SiteChange::BenchMark { before, now });
    }
    all
}
