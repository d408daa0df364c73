//! The book beside the plan, and one entry of it.

pub const ITS_POINTS: &str = "Its points";
pub const PART_OF: &str = "What it belongs to";
pub const ASK_ABOUT: &str = "Ask about it";

/// An entry by its number.
pub fn entry(number: usize) -> String {
    say!("Entry {number}")
}

/// A point by its label.
pub fn point(label: &str) -> String {
    say!("Point {label}")
}
