//! What the sheet says of the survey in sentences, for the report to say in the same words.

use super::contours::Contours;
use super::furniture::Subject;
use super::prepared::{only_sketched, sketched_in};
use super::{Options, accuracy, levelled};
use crate::network::Adjustment;
use crate::plan::{Ground, Plan};
use crate::record::Record;
use std::collections::BTreeMap;

/// Plain sentences.
pub(crate) struct Told {
    /// How well the points are known.
    pub accuracy: Vec<String>,
    /// Of the heights; nothing where none were read.
    pub heights: Vec<String>,
}

/// As [`super::draw`] would say it.
pub(crate) fn told(
    record: &Record,
    adjustment: &Adjustment,
    plan: &Plan,
    ground: &Ground,
    options: &Options,
) -> Told {
    let sketched = only_sketched(plan);
    let plan = &sketched_in(plan, record);
    let subject = Subject {
        record,
        adjustment,
        plan,
        photos: &[],
        ground,
        contours: &Contours::of(ground, plan),
        questions: &[],
        sketched: &sketched,
        labels: &BTreeMap::new(),
        concerns: &[],
        left: &[],
        options,
        number: None,
    };
    Told { accuracy: accuracy::sentences(&subject), heights: levelled::sentences(&subject) }
}
