//! What makes measuring quicker and surer, and comes with the later part: the row over the pad, the number
//! once more, the questions about a reading's order, and what is said at the end of a tape. Whoever measures
//! before that part is here does without.

use super::before;
use super::draft::{Draft, InHand, Slot};
use super::expect::{Known, unexpected_angle};
use super::meeting;
use crate::device::fetch_voice;
use crate::keypad::fetch_fractions;
use crate::screens::later::{Later, at_once};
use crate::words::capture as words;
use swingtie_core::record::{Measurement, Record};
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// Makes all of it ready to answer at once.
///
/// # Errors
/// When the part does not come.
pub async fn fetch_ahead() -> Result<(), SplitLoaderError> {
    fetch_question().await.and(fetch_newest().await).and(fetch_voice().await).and(fetch_fractions().await)
}

/// Why a reading looks like a slip beside what the plan expects of lengths: in which part, and in words.
pub fn questioned(draft: &Draft, known: Known, hand: &InHand) -> Option<(Slot, String)> {
    at_once(question(draft, known, hand)).flatten()
}

/// The line about the last thing measured. Tracked.
pub fn last_measured(what: &Measurement, record: &Record) -> String {
    let told = Later::here().ask(|| newest(what, record));
    told.unwrap_or_else(|| words::measurement(what, record))
}

#[wasm_split(screens, fallible, preload(fetch_question))]
fn question(
    draft: &Draft,
    known: Known<'_>,
    hand: &InHand,
) -> Result<Option<(Slot, String)>, SplitLoaderError> {
    let units = known.record.site.units;
    let angle = unexpected_angle(draft, known, hand).map(|doubt| words::angle_not_expected(&doubt, units));
    let before = || before::question(draft, known.record, hand);
    let why = angle.or_else(|| meeting::question(draft, known, hand)).or_else(before);
    Ok(why.map(|why| (draft.asked(), why)))
}

#[wasm_split(screens, fallible, preload(fetch_newest))]
fn newest(what: &Measurement, record: &Record) -> Result<String, SplitLoaderError> {
    Ok(words::newest(what, record))
}
