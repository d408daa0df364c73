//! Every row that is asked about a thing, a problem or a mark. A key means the same sort of value
//! wherever it stands, and never changes: books hold it. Limits are common practice, no source: they
//! only decide what is asked about twice.

use super::attribute::{Row, Sort, choice, count, length, text, yes_no};

mod services;

pub(super) use services::*;

const MATERIALS: &[&str] = &["wood", "brick", "block", "stone", "concrete", "metal", "vinyl", "other"];
const SIDES: &[&str] = &["left", "right", "front", "back"];
const HEALTH: &[&str] = &["good", "fair", "poor", "dead"];

// Buildings and what is on their walls.
pub(super) static WALL_MATERIAL: Row =
    choice("material", "material", MATERIALS, "What its outside is made of");
pub(super) static TAPED_FACE: Row = choice(
    "taped_face",
    "taped to",
    &["siding", "trim", "foundation"],
    "Which face the tape was held to, the same for all walls",
);
pub(super) static BASE_HEIGHT: Row =
    length("base_height", "siding above ground", 0.0, 1500.0, "From the ground up to the lowest siding");
pub(super) static STOREYS: Row = count("storeys", "storeys", 1, 4, "Floors above the ground");
pub(super) static USED_FOR: Row = text("used_for", "used for", "What it is used for, as told or seen");
pub(super) static FLOOR_HEIGHT: Row =
    length("floor_height", "floor above ground", 0.0, 2500.0, "From the ground up to its floor, at the door");
pub(super) static POWER: Row =
    yes_no("power", "power in it", "Whether electricity runs to it, as seen or told");
pub(super) static FOUNDATION: Row = choice(
    "foundation",
    "stands on",
    &["slab", "footing", "blocks", "skids", "bare ground"],
    "What it stands on, as far as it shows",
);
pub(super) static DOOR_WIDTH: Row =
    length("door_width", "door width", 600.0, 6000.0, "Clear opening of its widest door");
pub(super) static OPENING_WIDTH: Row = length("width", "width", 300.0, 6000.0, "Between the jambs");
pub(super) static THRESHOLD: Row = length(
    "threshold_height",
    "threshold above ground",
    0.0,
    1500.0,
    "From the ground outside up to the top of the threshold",
);
pub(super) static DOOR_SWING: Row =
    choice("swing", "swing", &["in", "out", "slides", "up"], "Which way it opens, seen from outside");
pub(super) static MAIN_USE: Row =
    choice("main_use", "used", &["most", "often", "seldom", "never"], "How often people go through it");
pub(super) static HEAD: Row = length(
    "head_height",
    "head above ground",
    1000.0,
    6000.0,
    "From the ground up to the top of the opening",
);
pub(super) static SILL: Row = length(
    "sill_height",
    "sill above ground",
    0.0,
    5000.0,
    "From the ground up to the bottom of the opening",
);
pub(super) static ROOM: Row = text("room", "room behind", "Which room it belongs to");
pub(super) static EGRESS: Row =
    yes_no("egress", "a way out", "Whether it must stay free as a way out in a fire");
pub(super) static PROJECTION: Row =
    length("projection", "projection", 0.0, 3000.0, "From the wall out to its edge, plumbed down");
pub(super) static EAVES: Row =
    length("height", "height", 1800.0, 12_000.0, "From the ground up to it, estimated; do not climb");
pub(super) static GUTTER: Row =
    choice("gutter", "gutter", &["yes", "no", "part"], "Whether a gutter runs along it");
pub(super) static DECK_HEIGHT: Row =
    length("height", "height", 0.0, 5000.0, "From the ground up to its boards, at the highest place");
pub(super) static RAIL_HEIGHT: Row = length(
    "rail_height",
    "rail height",
    0.0,
    1500.0,
    "From the boards up to the top of the rail; 0 for none",
);
pub(super) static SECTION: Row = length(
    "section_width",
    "post thickness",
    40.0,
    400.0,
    "Its narrow side as taped; a nominal 4x4 measures 3 1/2 in",
);
pub(super) static POST_SPACING: Row =
    length("post_spacing", "post spacing", 600.0, 5000.0, "From middle to middle of two posts");
pub(super) static FOOTING: Row = choice(
    "footing",
    "post stands in",
    &["concrete", "gravel", "bare ground", "bracket", "not seen"],
    "What the posts stand in, as far as it shows",
);
pub(super) static LEDGER: Row = choice(
    "ledger",
    "fixed to the house",
    &["yes", "no", "not seen"],
    "Whether its frame hangs on the house wall",
);
pub(super) static RISERS: Row = count("risers", "risers", 1, 30, "How many steps up, the top one too");
pub(super) static RISE: Row = length("rise", "rise", 80.0, 250.0, "Height of one step; note uneven ones");
pub(super) static TALLEST_RISE: Row = length(
    "tallest_rise",
    "tallest rise",
    80.0,
    300.0,
    "Height of the tallest step, ground to first one too",
);
pub(super) static LOWEST_RISE: Row =
    length("lowest_rise", "lowest rise", 20.0, 250.0, "Height of the lowest step, ground to first one too");
pub(super) static TREAD: Row = length("tread_depth", "tread", 200.0, 900.0, "From front to back of one step");
pub(super) static STEPS_WIDTH: Row = length("width", "width", 450.0, 6000.0, "From side to side");
pub(super) static RAIL: Row =
    choice("rail", "rail", &["none", "one side", "both sides"], "Handrails there are");

// Paving.
pub(super) static PAVING: Row = choice(
    "material",
    "material",
    &["concrete", "brick", "stone", "pavers", "asphalt", "gravel", "wood", "other"],
    "What its surface is made of",
);
pub(super) static FALL: Row = Row {
    key: "fall_percent",
    name: "fall",
    sort: Sort::Percent { most: 30 },
    help: "How much it drops in a hundred",
};
pub(super) static FALLS_TO: Row = text("falls_to", "falls to", "Which way water runs off it");
pub(super) static JOINTS: Row =
    choice("joints", "joints", &["tight", "sand", "mortar", "open", "weedy"], "How its joints look");
pub(super) static SLAB: Row = length("thickness", "thickness", 20.0, 400.0, "Only where an edge shows it");
pub(super) static EDGE: Row =
    choice("edge", "edge", &["none", "metal", "wood", "stone", "brick", "concrete"], "What holds its edge");
pub(super) static PATH_WIDTH: Row =
    length("width", "width", 300.0, 8000.0, "From edge to edge, at its narrowest");
pub(super) static BEARS: Row = text("bears", "what it carries", "What stands on it");

// Walls, fences, gates, posts.
pub(super) static EXPOSED: Row =
    length("exposed_height", "height that shows", 100.0, 4000.0, "From the lower ground up to its top");
pub(super) static WALL_THICKNESS: Row = length("thickness", "thickness", 50.0, 1000.0, "Through its top");
pub(super) static WEEPS: Row =
    choice("weep_holes", "weep holes", &["yes", "no", "clogged"], "Holes near its foot that let water out");
pub(super) static LEAN: Row =
    length("lean", "lean", 0.0, 600.0, "How far its top stands out of plumb; 0 for none");
pub(super) static FENCE_HEIGHT: Row =
    length("height", "height", 300.0, 3000.0, "From the ground up to its top");
pub(super) static FENCE_MATERIAL: Row = choice(
    "material",
    "material",
    &["wood", "chain link", "metal", "vinyl", "wire", "stone", "other"],
    "What it is made of",
);
pub(super) static STYLE: Row = text("style", "style", "Board on board, picket, rail");
pub(super) static CONDITION: Row =
    choice("condition", "condition", &["good", "fair", "poor"], "As it looks from here");
pub(super) static OWNER: Row = text("owner", "owner", "Whose it is, as told");
pub(super) static CLEAR_WIDTH: Row =
    length("clear_width", "clear width", 500.0, 6000.0, "What fits through, not post to post");
pub(super) static HINGE: Row = choice(
    "hinge_side",
    "hinges",
    &["left", "right", "both", "slides"],
    "Side of the hinges, seen from outside",
);
pub(super) static GATE_SWING: Row =
    choice("swing", "swing", &["in", "out", "both", "slides"], "Which way it opens, seen from outside");
pub(super) static LEAF_WIDTH: Row =
    length("leaf_width", "leaf width", 500.0, 6000.0, "Across the leaf that hangs on the hinge post");
pub(super) static LEAF_WEIGHT: Row =
    text("leaf_weight", "leaf weight", "With its unit: 60 lb, 27 kg; weighed or told");
pub(super) static SET_DEPTH: Row = length(
    "set_depth",
    "post in the ground",
    0.0,
    2500.0,
    "How deep it stands, as told; never dug to find out",
);
pub(super) static LATCH: Row = text("latch", "latch", "What holds it shut, and its lock");
pub(super) static POST_MATERIAL: Row =
    choice("material", "material", &["wood", "metal", "concrete", "vinyl", "other"], "What it is made of");
pub(super) static POST_HEIGHT: Row =
    length("height", "height", 200.0, 4000.0, "From the ground up to its top");

// Plants.
pub(super) static SPECIES: Row = text("species", "species", "As told or as far as you know it");
pub(super) static TRUNK: Row =
    length("trunk_diameter", "trunk diameter", 20.0, 2500.0, "Through the trunk, 4 1/2 ft (1.4 m) up");
pub(super) static GIRTH: Row =
    length("girth", "girth", 60.0, 8000.0, "Round the trunk, 4 1/2 ft (1.4 m) up; gives the diameter");
pub(super) static CANOPY: Row =
    length("canopy_spread", "canopy spread", 200.0, 40_000.0, "Across the leaves, edge to edge");
pub(super) static TREE_HEIGHT: Row = length("height", "height", 500.0, 50_000.0, "Estimated");
pub(super) static LOWEST_LIMB: Row =
    length("lowest_limb_height", "lowest limb", 0.0, 20_000.0, "From the ground up to the lowest branch");
pub(super) static HEALTH_OF: Row =
    choice("health", "health", HEALTH, "As it looks to you; no judgment of safety");
pub(super) static OVERHANG: Row =
    length("overhang", "overhang", 0.0, 15_000.0, "How far it reaches over the line or fence");
pub(super) static DIAMETER: Row = length("diameter", "diameter", 20.0, 5000.0, "Across its middle");
pub(super) static LOW_HEIGHT: Row = length("height", "height", 0.0, 2000.0, "From the ground up to its top");
pub(super) static ROOTS: Row =
    choice("roots", "roots seen", &["none", "one side", "all round"], "Roots that show beside it");
pub(super) static GRIND: Row =
    yes_no("grind", "grind out", "Whether it shall be ground out; have lines located first");
pub(super) static SUCKERS: Row = yes_no("suckers", "sprouts", "Whether it grows again");
pub(super) static PLANT_HEIGHT: Row =
    length("height", "height", 50.0, 8000.0, "From the ground up to its top");
pub(super) static HEDGE_WIDTH: Row = length("width", "width", 100.0, 5000.0, "From side to side");
pub(super) static PLANTS: Row = text("plants", "plants", "What grows in it");
pub(super) static MULCH: Row =
    choice("mulch", "mulch", &["none", "bark", "stone", "leaves"], "What covers its soil");
pub(super) static SOIL: Row =
    choice("soil", "soil", &["sand", "loam", "clay", "stony", "fill"], "As it feels between the fingers");
pub(super) static RAISED: Row =
    length("height", "raised by", 0.0, 1500.0, "From the ground up to its edge; 0 for level");
pub(super) static GRASS: Row = text("grass", "grass", "Sort of grass, weeds and moss in it");
pub(super) static MOVABLE: Row = yes_no("movable", "can be moved", "Whether two people can move it");

// Living.
pub(super) static POOL_DEPTH: Row = length("depth", "deepest", 300.0, 4000.0, "As told or marked");
pub(super) static BARRIER: Row =
    choice("barrier", "barrier", &["all round", "part", "none"], "A fence that keeps children out");
pub(super) static COVER: Row = text("cover", "cover", "What covers it, and how it opens");
pub(super) static POOL_PART: Row = choice(
    "which",
    "which",
    &["pump", "filter", "heater", "several"],
    "What it is; bonding is for an electrician",
);
pub(super) static SURFACE: Row = choice(
    "surface",
    "surface",
    &["grass", "soil", "bark", "sand", "gravel", "rubber", "paving"],
    "What is underfoot",
);
pub(super) static FALL_ZONE: Row =
    length("fall_zone_width", "free around", 0.0, 6000.0, "To the nearest hard thing");
pub(super) static SHADE: Row =
    choice("shade", "shade", &["all day", "part", "none"], "Shade it has in summer");
pub(super) static WHO: Row = choice("who", "who", &["people", "dog", "cat", "wildlife"], "Who goes there");
pub(super) static FUEL: Row =
    choice("fuel", "fuel", &["wood", "charcoal", "gas", "propane"], "What burns in it");
pub(super) static TO_WOOD: Row = length(
    "clearance",
    "to what burns",
    0.0,
    15_000.0,
    "To the nearest wood, leaves or siding, above it too",
);
pub(super) static GAS_LINE: Row =
    choice("gas_line", "gas line", &["yes", "no", "not known"], "Whether a pipe leads to it");
pub(super) static BINS: Row = count("bins", "bins", 1, 12, "How many stand there");
pub(super) static ROUTE: Row = text("route", "route", "The way to the street, steps on it");

// Ground and weather.
pub(super) static WHEN_WET: Row = choice(
    "when_wet",
    "wet",
    &["always", "after rain", "in spring", "when watered"],
    "When it is wet, as seen or told",
);
pub(super) static DRY_DAYS: Row =
    count("days_to_dry", "days to dry", 0, 30, "How long it stays wet after rain");
pub(super) static SMELL: Row = yes_no("smell", "smells of sewage", "If so: keep off and tell the owner");
pub(super) static CAUSE: Row = text("cause", "cause", "What does it, as far as it shows");
pub(super) static EXTENT: Row = length("extent_length", "how long", 50.0, 50_000.0, "Along its longest side");
pub(super) static WIDE: Row = length("extent_width", "how wide", 20.0, 50_000.0, "Across");
pub(super) static HOURS: Row = count(
    "hours_to_empty",
    "hours to empty",
    0,
    72,
    "Of a hole filled with water; buried lines are marked before it is dug",
);
pub(super) static TOPSOIL: Row =
    length("topsoil_depth", "topsoil", 0.0, 1000.0, "Depth of the dark soil on top");
pub(super) static STEP: Row = length("height", "height", 0.0, 400.0, "From the street up to its top");
pub(super) static STRIP: Row = length("width", "width", 300.0, 30_000.0, "As told; drawn is what you tap");
pub(super) static SETBACK: Row = length(
    "setback_width",
    "distance",
    300.0,
    60_000.0,
    "From the line, as told; the town decides. Drawn is the line you tap",
);
pub(super) static CAP_TEXT: Row = text("cap_text", "on its cap", "Letters and numbers, to the letter");
pub(super) static PIN_SORT: Row = choice(
    "which",
    "which",
    &["rod", "pipe", "nail", "stone", "other"],
    "What was found, and stays where it is; not called a corner",
);
pub(super) static DISTURBED: Row = yes_no("disturbed", "disturbed", "Whether it is bent, loose or moved");
pub(super) static HEADROOM: Row = length(
    "headroom_height",
    "headroom",
    1500.0,
    10_000.0,
    "Under branches or eaves, at its lowest; under wires only estimated, never taped",
);
pub(super) static TURN_ROOM: Row =
    length("turn_width", "room to turn", 300.0, 15_000.0, "At its tightest corner");
pub(super) static ON_WAY: Row = count("steps", "steps on the way", 0, 60, "How many steps up or down");
pub(super) static WANTED: Row =
    choice("wanted", "wanted", &["keep", "screen"], "Keep the view open, or screen it");
pub(super) static SEEN_FROM: Row = text("seen_from", "seen from", "Room or seat it is seen from");
pub(super) static TOWARD: Row = text("toward", "toward", "A direction: NW, the street, the neighbour");
pub(super) static SEASON: Row =
    choice("season", "season", &["all year", "spring", "summer", "autumn", "winter"], "When");
pub(super) static LIGHT: Row =
    choice("which", "which", &["sun", "half shade", "shade", "hot spot", "frost pocket"], "What it is here");
pub(super) static AT_TIME: Row =
    text("at_time", "at what time", "The hour it was seen, or morning, noon, evening");
pub(super) static FROM_SIDE: Row = text("from_side", "comes from", "Which side it comes from");
pub(super) static STRONG: Row =
    choice("strength", "strength", &["weak", "middling", "strong"], "As it seems to you");
pub(super) static COMES_OF: Row = text("comes_of", "made by", "What makes it: road, pump, school");
pub(super) static ROCK_HEIGHT: Row =
    length("height", "height", 0.0, 4000.0, "How far it stands out of the ground");
pub(super) static EDGE_OF: Row = text("edge_of", "edge of", "What it is the edge of");

// Problems.
pub(super) static CARRIES: Row = text("carries", "carries", "What hangs or stands on it");
pub(super) static SAG: Row = length("sag_depth", "sags by", 0.0, 500.0, "How far its free end hangs down");
pub(super) static LIP: Row = length("lip_height", "step up", 0.0, 300.0, "Height of the edge one trips over");
pub(super) static BULGE: Row =
    length("bulge_depth", "bulges by", 0.0, 600.0, "How far it stands out of its line");
pub(super) static GAP: Row = length("crack_width", "crack", 0.0, 200.0, "Width of the widest crack");
pub(super) static UNEVEN: Row =
    length("rise_difference_height", "rises differ by", 0.0, 200.0, "Tallest step less the shortest");
pub(super) static DROP: Row = length(
    "drop_height",
    "ground drops",
    0.0,
    600.0,
    "Over the first 10 ft (3 m) from the wall; 0 for level",
);
pub(super) static WHICH_PEST: Row = text("pest", "which", "What was seen, and on what");
pub(super) static TO_WALL: Row =
    length("wall_clearance", "from the wall", 0.0, 5000.0, "How far from the foundation");

// Utility marks.
pub(super) static LINE_SORT: Row = choice(
    "line",
    "whose line",
    &["operator's mark", "private line, as told", "suspected"],
    "Private lines are not marked by the one-call centre",
);
pub(super) static OPERATOR: Row = text("operator", "operator", "The company, as the flag or paint says");
pub(super) static TICKET: Row = text("ticket", "ticket", "The one-call ticket's number");
pub(super) static MARKED_DAY: Row =
    Row { key: "marked_date", name: "marked on", sort: Sort::Day, help: "The day it was painted or flagged" };
pub(super) static EXPIRES_DAY: Row = Row {
    key: "expires_date",
    name: "expires, as told",
    sort: Sort::Day,
    help: "As the ticket says; rules differ by state",
};
pub(super) static MARKED_WIDTH: Row =
    length("marked_width", "width marked", 10.0, 2000.0, "Across the line, where the paint shows or says it");
pub(super) static TOLERANCE: Row = length(
    "tolerance_width",
    "tolerance, each side",
    300.0,
    3000.0,
    "Hand tools only inside it; local law decides",
);
