//! What is worth a look: found and worded in core (`swingtie_core::checks`), here is what stands round it.

pub use swingtie_core::checks::{by_source, from_readings, not_read};

/// Heading.
pub const WORTH: &str = "Worth a look";
/// Under it.
pub const WORTH_HINT: &str = "Worked out from what was recorded, with its numbers and source a tap away. Nobody has \
    judged it: the local code and licensed people decide.";
/// Behind it stand the numbers.
pub const WORTH_MORE: &str = "Numbers, source, caution";

/// Behind it stands the rest.
#[must_use]
pub fn more_worth(number: usize) -> String {
    say!("{number} more worth a look")
}

/// A sentence with its full stop.
#[must_use]
pub fn full_stop(sentence: &str) -> String {
    say!("{sentence}.")
}

/// It was answered in the list before leaving.
#[must_use]
pub fn left_so(why: &str) -> String {
    say!("Left as it is. {}", super::because(why))
}
