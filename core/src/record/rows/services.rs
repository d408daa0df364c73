//! Rows about water, gas, electricity and what else is led to a house.

use super::SIDES;
use crate::record::attribute::{Row, Sort, choice, count, length, text, yes_no};

// Water.
pub(in crate::record) static TAP_HEIGHT: Row =
    length("height", "height", 50.0, 2500.0, "From the ground up to it");
pub(in crate::record) static EYE_HEIGHT: Row = length(
    "height",
    "height",
    50.0,
    2500.0,
    "By eye, from the ground up to it: no tape against anything electric",
);
pub(in crate::record) static DRIPS: Row = yes_no("drips", "drips", "Whether it leaks");
pub(in crate::record) static SHUT_OFF: Row =
    text("shut_off", "shut off", "Where its water is shut off, as told");
pub(in crate::record) static EMPTIES: Row = choice(
    "empties_to",
    "empties",
    &["at the wall", "splash block", "on paving", "lawn", "bed", "buried pipe"],
    "Where its water goes",
);
pub(in crate::record) static BURIED: Row =
    choice("pipe_buried", "pipe buried", &["yes", "no", "not known"], "Whether a pipe leads on underground");
pub(in crate::record) static OUTLET: Row = text("outlet", "comes out at", "Where its pipe ends, if known");
pub(in crate::record) static DRAIN_SORT: Row =
    choice("which", "which", &["grate", "cleanout", "catch basin", "pipe end"], "What it is");
pub(in crate::record) static PIPE: Row =
    length("pipe_diameter", "pipe across", 20.0, 1500.0, "Across the pipe or lid");
pub(in crate::record) static CLOGGED: Row = yes_no("clogged", "clogged", "Whether it holds leaves or mud");
pub(in crate::record) static DEPTH: Row =
    length("depth", "depth", 0.0, 3000.0, "Down from the ground; of a line never measured");
pub(in crate::record) static TOLD_DEPTH: Row = length(
    "depth",
    "depth",
    0.0,
    3000.0,
    "Down to its lid, as told or on paper; never open it or lean over it",
);
pub(in crate::record) static BOTTOM: Row =
    length("bottom_width", "width of bottom", 0.0, 5000.0, "Across its flat bottom");
pub(in crate::record) static HOLDS: Row = choice(
    "holds",
    "holds",
    &["rain", "water", "oil", "soil", "not known"],
    "What is in it; an old oil tank: tell the owner",
);
pub(in crate::record) static IN_GROUND: Row =
    yes_no("in_ground", "in the ground", "Whether it is buried, as seen or told");
pub(in crate::record) static BIG_HEIGHT: Row =
    length("height", "height", 50.0, 6000.0, "From the ground up to its top");
pub(in crate::record) static ZONE: Row = text("zone", "zone", "Its number at the timer");
pub(in crate::record) static BACKFLOW: Row = choice(
    "backflow",
    "backflow device",
    &["yes", "no", "not seen"],
    "Keeps water from running back to the house",
);
pub(in crate::record) static HEAD_SORT: Row =
    choice("which", "which", &["spray", "rotor", "drip", "bubbler"], "What sort of head");
pub(in crate::record) static ARC: Row = Row {
    key: "arc_degrees",
    name: "arc",
    sort: Sort::Degrees { most: 360 },
    help: "How far round it sprays",
};
pub(in crate::record) static SPRAYS: Row = text("sprays", "sprays", "What it wets that should stay dry");
pub(in crate::record) static ZONES: Row = count("zones", "zones", 1, 48, "How many zones it runs");

// Utilities.
pub(in crate::record) static PANEL_SORT: Row =
    choice("which", "which", &["meter", "panel", "meter and panel", "shut off"], "What it is");
pub(in crate::record) static CLEAR_FRONT: Row = length(
    "clear_front",
    "clear in front",
    0.0,
    5000.0,
    "Free space before it; the utility and the code say how much",
);
pub(in crate::record) static OPENS_TO: Row =
    choice("opens_to", "opens to", SIDES, "Where its door opens, facing it");
pub(in crate::record) static OPENINGS: Row = text(
    "openings",
    "openings nearby",
    "Windows, vents or doors close to it. A smell of gas: leave, and call from away",
);
pub(in crate::record) static LID: Row = length("lid_width", "lid width", 100.0, 1500.0, "Across the lid");
pub(in crate::record) static LID_LEVEL: Row =
    choice("lid_level", "lid", &["level", "sunken", "raised", "buried"], "How its lid lies in the ground");
pub(in crate::record) static VENTS: Row = text("vents", "what it vents", "Dryer, boiler, crawl space");
pub(in crate::record) static UNIT_HEIGHT: Row =
    length("height", "height", 200.0, 2500.0, "From its pad up to its top");
pub(in crate::record) static BOX_HEIGHT: Row = length(
    "height",
    "height",
    200.0,
    2500.0,
    "By eye, from its pad up to its top: keep off it, and report an open door",
);
pub(in crate::record) static SERVICE: Row =
    choice("service_side", "service side", SIDES, "The side it is opened on, facing it");
pub(in crate::record) static CLEARANCE: Row =
    length("clearance", "clearance", 0.0, 10_000.0, "To the nearest thing beside it");
pub(in crate::record) static LOUD: Row = yes_no("loud", "loud", "Whether one hears it where people sit");
pub(in crate::record) static LIGHT_SORT: Row =
    choice("which", "which", &["light", "outlet", "switch", "camera"], "What it is");
pub(in crate::record) static VOLTAGE: Row =
    choice("voltage", "voltage", &["line", "low", "not known"], "Line voltage or low voltage, as told");
pub(in crate::record) static GFCI: Row =
    choice("gfci", "test button", &["yes", "no", "not seen"], "Whether it has a test and a reset button");
pub(in crate::record) static SWITCHED: Row = text("switched_at", "switched at", "Where it is switched");
pub(in crate::record) static POLE_HEIGHT: Row =
    length("height", "height", 3000.0, 30_000.0, "Estimated from the ground; never touched");
pub(in crate::record) static WIRE_HEIGHT: Row = length(
    "low_height",
    "lowest height",
    2000.0,
    15_000.0,
    "Estimated where it hangs lowest; never touched or taped",
);
pub(in crate::record) static WIRE_SORT: Row =
    choice("which", "which", &["power", "phone, cable", "both", "not known"], "What it carries, as told");
pub(in crate::record) static CASING: Row =
    length("casing_height", "casing height", 0.0, 1500.0, "From the ground up to its cap");
pub(in crate::record) static WELL_SORT: Row =
    choice("which", "which", &["drilled", "dug", "driven", "unused", "not known"], "As told");
pub(in crate::record) static CAP: Row =
    choice("cap", "cap", &["tight", "loose", "none"], "How it is closed; stay off old covers");
pub(in crate::record) static SEPTIC_SORT: Row = choice(
    "which",
    "which",
    &["tank", "lid", "cleanout", "pump"],
    "What it is; stay off lids and soft ground",
);
pub(in crate::record) static SOURCE: Row = text("source", "source", "Who said it, or which paper it is from");
pub(in crate::record) static SOURCE_DAY: Row =
    Row { key: "source_date", name: "dated", sort: Sort::Day, help: "The day of that word or paper" };
pub(in crate::record) static DRIVEN: Row =
    yes_no("driven_on", "driven on", "Whether cars or machines go over it");
pub(in crate::record) static FILL_SIDE: Row = choice(
    "fill_side",
    "fill side",
    SIDES,
    "Where it is filled, facing it. A smell of gas: leave, and call from away",
);
pub(in crate::record) static SIZE: Row = text("size", "size", "As its plate says");
pub(in crate::record) static SUPPLIER: Row =
    text("supplier", "supplier", "Who fills it, and who also knows the distances to keep");
