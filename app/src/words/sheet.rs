//! What the Sheet tab says.

use swingtie_core::language::tr;

pub const CHOICES: &str = "Paper, scale, what is drawn";
pub const PAPER: &str = "Paper";
pub const SCALE: &str = "Scale";
pub const CHOSEN_FOR_ME: &str = "Chosen for me";
pub const LIES: &str = "The paper lies";
pub const EITHER_WAY: &str = "Either way";
pub const UPRIGHT: &str = "Upright";
pub const ACROSS: &str = "Across";
pub const UP: &str = "Which way up";
pub const SQUARED: &str = "House square to the paper";
pub const NORTH_UP: &str = "North up";
pub const COLOURS: &str = "Printed in";
pub const COLOUR: &str = "Colour";
pub const GREY: &str = "Grey";
pub const DRAWN: &str = "Drawn";
pub const AS_USUAL: &str = "Everything as usual";

/// In the order of the layers.
pub const LAYERS: [&str; 13] = [
    "Names",
    "How well each point is known",
    "Lengths of walls",
    "Every tape",
    "Heights",
    "Contours",
    "Falls and hollows",
    "Utility marks on the plan",
    "Problems on the plan",
    "Photos on the plan",
    "Lists",
    "What is worth a look",
    "Hatching",
];

/// Paper, scales in the sheets' order, and how many sheets there are.
pub fn facts(paper: &str, size: &str, scales: &[String], sheets: usize) -> String {
    let sheet = say!("{paper}, {size}. Scale {}", scales.join(", then "));
    if sheets == 1 { sheet } else { say!("{sheets} sheets. {sheet}") }
}

/// What opens the sheets after the first.
pub fn other_sheets(of: usize) -> String {
    if of == 2 { say!("Show sheet 2") } else { say!("Show sheets 2 to {of}") }
}

/// One of several sheets, as its picture is called.
pub fn open_sheet(number: usize, of: usize) -> String {
    if of == 1 { say!("Open large") } else { say!("Open sheet {number} large") }
}

/// What the picture of a sheet shows.
pub fn alt(number: usize, of: usize) -> String {
    let plan = "The base plan as it will be printed";
    if of == 1 { tr(plan).to_owned() } else { say!("{plan}, sheet {number} of {of}") }
}

/// A paper as one of a list.
pub fn paper(name: &str, size: &str) -> String {
    say!("{name}, {size}")
}

pub const SHARE: &str = "Share the plan";
pub const SAVE_ALL: &str = "Save the plan";
pub const SHARES: &str = "What goes along";
pub const PRINT: &str = "Print";
pub const PRINT_HINT: &str = "In the print window choose 100 % or actual size, else it is not to scale. Check the scale bar with a ruler.";
pub const PREPARING: &str = "Making the files…";
pub const READY: &str = "The files are ready. Tap once more to share them.";

/// What goes along, in one line.
pub fn going(names: &[&str]) -> String {
    if names.is_empty() { say!("Nothing is chosen") } else { say!("Goes along: {}", names.join(", ")) }
}

/// A file that could not be made.
pub fn not_made(title: &str, why: &str) -> String {
    say!("{title} could not be made ({why}).")
}

/// The phone would not share.
pub fn not_shared(why: &str) -> String {
    say!("Sharing did not work ({why}). Save the files below instead.")
}

pub const NAMED_TXT: &str = "This browser shares only kinds of files it knows: the others have .txt after their name. Take it off to use them.";
pub const NO_PRINT: &str = "This browser could not print. Save the PDF and print that.";

pub const REPORT: &str = "report";
pub const POINTS: &str = "points";
pub const MEASUREMENTS: &str = "measurements";
pub const BOOK: &str = "book";
pub const GET_PDF: &str = "Plan to print, to scale (PDF)";
pub const GET_SVG: &str = "Plan, to scale (SVG)";
pub const GET_PNG: &str = "Picture of the plan (PNG)";
pub const GET_REPORT: &str = "Report with everything recorded (web page)";
pub const GET_GEOJSON: &str = "Map layer (GeoJSON)";
pub const GET_LOCAL: &str = "Plan in metres (JSON-FG)";
pub const GET_POINTS: &str = "Points (CSV)";
pub const GET_MEASUREMENTS: &str = "Measurements (CSV)";
pub const GET_BOOK: &str = "Field book (JSON Lines)";
pub const FINENESS: &str = "How fine the picture is";

/// Dots to the inch.
pub fn dots(dots: u32) -> String {
    say!("{dots} dots to the inch")
}
