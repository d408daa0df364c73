//! What the screens say, screen by screen.

use super::Names;
use swingtie_core::record::{At, MarkColour, Severity, Site, UnitSystem, UtilityMark};
use swingtie_core::units::{Length, format_depth};

pub use super::entries::units_name;

// Sites.
pub const WHAT_IT_IS: &str =
    "Measure a yard with tape and phone, without signal, and get a base plan that is true to scale.";
pub const SITES: &str = "Sites";
pub const NEW_SITE: &str = "New site";
pub const DEMO: &str = "Look at a demo yard";
pub const IMPORT: &str = "Open a file";
pub const IMPORT_HINT: &str =
    "A site package (.zip), a field book (.jsonl) or a table of measurements (.csv).";
pub const NO_SUCH_FILE: &str =
    "It is no site package (.zip), no field book (.jsonl) and no table (.csv), whatever its name says";
pub const REMOVE_SITE: &str = "Remove from this device";
pub const REMOVE_SURE: &str =
    "Remove it for good? Its book and photos are on this device only, unless you saved a copy.";
pub const REMOVE_YES: &str = "Remove for good";
pub const NOT_BOUNDARY: &str = "This is not a boundary survey. Have utilities marked before any digging. \
     Structure, gas and electricity are for licensed people and the local code.";

// New site and site details.
pub const SITE_NAME: &str = "Site name";
pub const SITE_NAME_HINT: &str = "A street or a family name, as you would say it.";
pub const CLIENT: &str = "Client";
pub const SURVEYOR: &str = "Who measures";
pub const DATE: &str = "Date of the visit";
pub const SITE_NOTE: &str = "Note";
pub const UNITS: &str = "Lengths are read in";
pub const START: &str = "Start measuring";
pub const NAME_MISSING: &str = "Give the site a name.";
pub const DETAILS: &str = "Site details";
pub const SAVE_DETAILS: &str = "Save details";
pub const SAVED: &str = "Saved";

// Book.
pub const EMPTY_BOOK: &str = "Nothing written yet. Everything you say on the plan is written here.";
pub const SHOW: &str = "Show";
pub const SHOW_ALL: &str = "All";
pub const SHOW_READINGS: &str = "Measurements";
pub const SHOW_DOUBTS: &str = "In doubt";
pub const SHOW_UNCHECKED: &str = "Not checked";
pub const SHOW_POINTS: &str = "Points";
pub const NEWEST_FIRST: &str = "Newest first";
pub const POINTS_IN_WORDS: &str = "Tap a point to see it on the plan.";

/// Shows rows of the book that are not shown yet, so many.
pub fn older(left: usize) -> String {
    say!("Show older entries ({left} more)")
}
pub const NOTHING_HERE: &str = "Nothing of this sort.";
pub const STRIKE: &str = "Strike";
pub const BRING_BACK: &str = "Bring back";
pub const BRING_BACK_FIRST: &str = "Bring back the first words";
pub const CORRECT: &str = "Correct";
pub const STRUCK: &str = "struck";
pub const CORRECTED: &str = "written anew";
pub const ON_THIS_DEVICE: &str = "on this device";
pub const ON_ANOTHER: &str = "on another device";
pub const EXACT: &str = "Exact figures";
pub const ROW_READ: &str = "Read";
pub const ROW_PLAN: &str = "In the plan";
pub const ROW_RESIDUAL: &str = "Plan minus reading";
pub const ROW_SD: &str = "Standard deviation, assumed";
pub const ROW_STANDARDISED: &str = "Standardised difference";
pub const ROW_DETECTABLE: &str = "Smallest error that would show (power 80 %)";
pub const ROW_TOLD_APART: &str = "Smallest error that could be told from one in another reading";

/// Where no error is large enough for that.
#[must_use]
pub fn looks_like(other: &str) -> String {
    say!("none: {other} would look the same")
}
pub const ROW_REDUNDANCY: &str = "Checked by others, 0 to 1 (redundancy number)";

// Problems and marks.
pub const ADD_PROBLEM: &str = "Add a problem";
pub const NO_PROBLEMS: &str = "No problems recorded.";
pub const PROBLEM_KIND: &str = "What is it";
pub const PROBLEM_SEVERITY: &str = "How bad";
pub const PROBLEM_WHERE: &str = "Where";
pub const NOTE: &str = "Note";
pub const TOLD: &str = "I was told, I did not see it";
pub const SAVE_PROBLEM: &str = "Save problem";
pub const PROBLEM_SAVED: &str = "Problem saved";
pub const PICK_KIND: &str = "Say what it is.";
pub const MARKS: &str = "Utility marks";
pub const NO_MARKS: &str = "No utility marks recorded.";
pub const ADD_MARK: &str = "Add a utility mark";
pub const MARK_COLOUR: &str = "Colour of the paint or flag";
pub const MARK_LETTERS: &str = "Letters on it";
pub const MARK_POINTS: &str = "Points along it, in order";
pub const SAVE_MARK: &str = "Save mark";
pub const MARK_SAVED: &str = "Mark saved";
pub const PICK_COLOUR: &str = "Pick the colour you see.";
pub const MARK_NEEDS_POINTS: &str = "Pick at least one point. Put one on the plan first where the mark is.";
pub const DIG_TITLE: &str = "Before any digging";
pub const DIG_CAUTION: &str = "Have the utilities marked: call the one-call centre (811 in the United States) some days before. \
     Marks expire and wash away. Private lines are not marked: lights, pools, sheds, \
     irrigation. No mark does not mean no line. Dig by hand near a mark. Local law decides.";

// Sheet.
pub const SHEET_TITLE: &str = "Plan to scale";
pub const SHEET_WAITS: &str = "Nothing to draw yet. The sheet fills as soon as points are placed.";
pub const FILES: &str = "Files";
pub const BOOK_HINT: &str = "The field book holds everything but the photos. Save a copy of it often.";
pub const SHEET_CAUTION: &str =
    "Not a boundary survey. Lines under ground are shown only where marks were seen or told.";

pub const DRAWING_SHEET: &str = "Drawing the sheet…";
pub const BACK_TO_PROBLEMS: &str = "Back to Problems";
pub const TRY_AGAIN: &str = "Try again";

/// The part of the program for sheets and tables could not be opened, or failed.
pub fn no_office(why: &str) -> String {
    say!(
        "The part of Swingtie that draws sheets and reads tables could not be used. What you recorded is safe. \
         Once you have a signal, try again ({why})"
    )
}

/// The demo yard could not be had.
pub fn no_demo(why: &str) -> String {
    say!("The demo yard could not be loaded. Try again when you have a signal ({why}).")
}

/// Why there is no map layer.
pub fn no_map(why: &str) -> String {
    say!("Not yet: {why}. See Site details.")
}

/// A file went to the downloads.
pub fn file_saved(name: &str) -> String {
    say!("{name} is in your downloads")
}

/// A file did not.
pub fn file_not_saved(name: &str, why: &str) -> String {
    say!("{name} could not be saved: {why}")
}

/// How many things must be settled, on the strip.
pub fn to_settle(number: usize) -> String {
    say!("{number} to settle")
}

/// A file was read but for some of it.
pub fn partly_read(left_out: &[String]) -> String {
    say!("Some of the file was left out. {}", first_few(left_out))
}

/// The first of several reasons, and how many more there are.
pub fn first_few(why: &[String]) -> String {
    let shown: Vec<&str> = why.iter().take(3).map(String::as_str).collect();
    let rest = why.len().saturating_sub(3);
    let more = if rest > 0 { say!(" And {rest} more.") } else { String::new() };
    say!("{}.{more}", shown.join(". "))
}

/// When and where an entry was written.
pub fn written(when: &str, place: &str) -> String {
    say!("Written {when}, {place}")
}

/// What else is kept of a site.
pub const WAYS: &str = "More of this site";
/// What stands in the site's details.
pub const DETAILS_WAY: &str = "name, north";
/// Things in the yard, in a word.
pub const THINGS_WAY: &str = "Things";

/// How much of something there is.
#[must_use]
pub fn how_many(number: usize) -> String {
    if number == 0 { say!("none yet") } else { number.to_string() }
}

/// Under the points of a problem.
pub const WHERE_HINT: &str = "Pick the points it is at. None picked means the whole site.";
/// Note of a utility mark.
pub const MARK_NOTE: &str = "Note";

/// After a strike.
pub const STRUCK_ITEM: &str = "Struck. The Book brings it back.";

/// The name of a strike button.
pub fn strike_named(name: &str) -> String {
    say!("Strike {name}")
}

/// The second line of a problem.
pub fn problem_line(severity: Severity, at: &At, told: bool, names: &Names) -> String {
    let told = if told { ", told" } else { "" };
    say!("{}, {}{told}", super::severity_name(severity), super::entries::at(at, names))
}

/// The name of a mark in the list.
pub fn mark_title(colour: MarkColour) -> String {
    say!("{} mark", super::colour_name(colour))
}

/// The second line of a mark.
pub fn mark_line(mark: &UtilityMark, names: &Names) -> String {
    let letters = if mark.letters.is_empty() { String::new() } else { say!(", letters {}", mark.letters) };
    let told = if mark.told { ", told" } else { "" };
    let at = super::list(&names.all(&mark.points));
    say!("{}, along {at}{letters}{told}", super::colour_meaning(mark.colour))
}

/// What a site is called; one without a name, as from a table, is called so too.
pub fn site_title(site: &Site) -> &str {
    if site.name.is_empty() { "Unnamed site" } else { &site.name }
}

/// A height on the drawing; readings may contradict each other on which it rests.
pub fn height(figure: String, in_doubt: bool) -> String {
    if in_doubt { figure + "?" } else { figure }
}

/// How deep water could stand in a hollow before it runs over, as coarse as levels are read.
pub fn deep(depth: Length, units: UnitSystem) -> String {
    say!("up to {}", format_depth(depth, units))
}

#[cfg(test)]
mod tests {
    /// What stands in the page before the program has come is what the program then says.
    #[test]
    fn the_page_says_what_the_program_opens_with() {
        let page = include_str!("../../../public/index.html");
        for words in [super::WHAT_IT_IS, crate::words::OPENING] {
            assert!(page.contains(&format!(">{words}</p>")), "index.html does not say {words:?}");
        }
    }
}
