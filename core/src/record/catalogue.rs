//! The feature catalogue: every kind of thing in one table. Adding a kind is one line here.

use super::attribute::{Form, Row};
use super::rows::*;

/// How a kind of feature is drawn through its points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Geometry {
    /// One point with a symbol.
    Point,
    /// A line through two points or more.
    Line,
    /// A smooth line through two points or more.
    Curve,
    /// A closed outline through three points or more.
    Area,
    /// A circle about one point, its size an attribute.
    Circle,
}

impl Geometry {
    /// Through how many points it is drawn, at least.
    #[must_use]
    pub const fn least_points(self) -> usize {
        match self {
            Self::Point | Self::Circle => 1,
            Self::Line | Self::Curve => 2,
            Self::Area => 3,
        }
    }
}

/// One kind of feature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kind {
    /// The stable key stored in books.
    pub key: &'static str,
    /// The plain name shown.
    pub name: &'static str,
    /// How it is drawn.
    pub geometry: Geometry,
    /// The letters new point labels of this kind start with.
    pub prefix: &'static str,
}

/// What is asked about a kind, and where it stands in the list. Apart from [`Kind`], so that a phone
/// can draw and label before it has the questions.
struct Asked {
    key: &'static str,
    group: &'static str,
    form: Form,
}

/// Makes both lists of the one table: `group { "key" "name" Geometry "letters" [asked at once] [more]; }`.
macro_rules! catalogue {
    ($($group:literal { $($key:literal $name:literal $geometry:ident $prefix:literal
        [$($first:ident)*] [$($more:ident)*];)+ })+) => {
        /// Every kind, in the order offered. Letters and names are common practice, no source.
        pub const CATALOGUE: &[Kind] = &[$($(
            Kind { key: $key, name: $name, geometry: Geometry::$geometry, prefix: $prefix },
        )+)+];

        static ASKED: &[Asked] = &[$($(Asked {
            key: $key,
            group: $group,
            form: Form { first: &[$(&$first as &Row),*], more: &[$(&$more as &Row),*] },
        },)+)+];
    };
}

catalogue! {
    "House" {
        "house" "House" Area "H" [WALL_MATERIAL TAPED_FACE] [BASE_HEIGHT STOREYS];
        "outbuilding" "Shed, garage, outbuilding" Area "SH"
            [USED_FOR FLOOR_HEIGHT POWER] [WALL_MATERIAL FOUNDATION DOOR_WIDTH CONDITION];
        "door" "Door" Line "D" [OPENING_WIDTH THRESHOLD DOOR_SWING] [MAIN_USE HEAD ROOM];
        "window" "Window" Line "W" [SILL OPENING_WIDTH HEAD] [ROOM EGRESS];
        "roof_edge" "Roof edge, overhang" Line "RE" [PROJECTION GUTTER] [EAVES];
        "deck" "Deck, porch" Area "DK"
            [DECK_HEIGHT RAIL_HEIGHT SECTION] [POST_SPACING FOOTING LEDGER CONDITION];
        "steps" "Steps" Area "SP" [RISERS RISE STEPS_WIDTH] [TALLEST_RISE LOWEST_RISE TREAD RAIL PAVING CONDITION];
    }
    "Paving" {
        "patio" "Patio" Area "PA" [PAVING FALL FALLS_TO] [JOINTS EDGE SLAB CONDITION];
        "drive" "Drive" Area "DW" [PAVING FALL FALLS_TO] [PATH_WIDTH JOINTS EDGE SLAB CONDITION];
        "path" "Path" Area "PT" [PAVING PATH_WIDTH] [FALL JOINTS EDGE SLAB CONDITION];
        "pad" "Slab, pad" Area "PD" [PAVING BEARS SLAB] [FALL CONDITION];
    }
    "Walls and fences" {
        "wall" "Wall" Line "RW" [WALL_MATERIAL EXPOSED WALL_THICKNESS] [WEEPS LEAN CONDITION];
        "fence" "Fence" Line "F"
            [FENCE_HEIGHT FENCE_MATERIAL CONDITION] [POST_SPACING SECTION STYLE FOOTING SET_DEPTH LEAN OWNER];
        "gate" "Gate" Line "G" [CLEAR_WIDTH HINGE GATE_SWING]
            [FENCE_HEIGHT SECTION LEAF_WIDTH LEAF_WEIGHT FOOTING SET_DEPTH LATCH CONDITION];
        "post" "Post" Point "P" [SECTION POST_MATERIAL LEAN]
            [POST_HEIGHT FOOTING SET_DEPTH SOIL CARRIES LEAF_WIDTH LEAF_WEIGHT];
    }
    "Plants" {
        "tree" "Tree" Circle "T"
            [SPECIES TRUNK CANOPY] [GIRTH TREE_HEIGHT LOWEST_LIMB HEALTH_OF];
        "neighbour_tree" "Neighbour's tree" Circle "NT"
            [SPECIES OVERHANG CANOPY] [TRUNK GIRTH TREE_HEIGHT HEALTH_OF OWNER];
        "stump" "Stump" Circle "ST" [DIAMETER LOW_HEIGHT ROOTS GRIND] [SPECIES SUCKERS];
        "shrub" "Shrub" Circle "S" [CANOPY PLANT_HEIGHT] [SPECIES HEALTH_OF];
        "hedge" "Hedge" Line "HG" [PLANT_HEIGHT HEDGE_WIDTH] [SPECIES HEALTH_OF];
        "bed" "Planting bed" Area "B" [EDGE PLANTS] [RAISED MULCH SOIL];
        "lawn" "Lawn" Area "L" [CONDITION GRASS] [SOIL];
        "pot" "Pot, planter" Circle "PO" [DIAMETER LOW_HEIGHT MOVABLE] [PLANTS];
    }
    "Water" {
        "hose_bib" "Hose tap" Point "HB" [TAP_HEIGHT DRIPS] [SHUT_OFF];
        "downspout" "Downspout" Point "DS" [EMPTIES BURIED] [OUTLET CLOGGED];
        "drain" "Drain, cleanout" Point "CO" [DRAIN_SORT PIPE OUTLET] [DEPTH CLOGGED];
        "swale" "Swale, ditch" Curve "SL" [DEPTH FALLS_TO] [BOTTOM FALL];
        "tank" "Tank, rain barrel" Circle "TK" [HOLDS DIAMETER BIG_HEIGHT] [IN_GROUND SIZE];
        "valve" "Irrigation valve" Point "VB" [ZONE LID_LEVEL] [LID BACKFLOW];
        "irrigation_head" "Irrigation head" Point "IH" [ZONE HEAD_SORT] [ARC SPRAYS];
        "irrigation_timer" "Irrigation timer" Point "IT" [ZONES TAP_HEIGHT] [SWITCHED];
    }
    "Utilities" {
        "electric_meter" "Electric meter, panel" Point "EM"
            [PANEL_SORT CLEAR_FRONT EYE_HEIGHT] [OPENS_TO];
        "gas_meter" "Gas meter" Point "GM" [CLEAR_FRONT OPENINGS] [TAP_HEIGHT];
        "water_meter" "Water meter" Point "WM" [LID_LEVEL LID] [SHUT_OFF];
        "vent" "Vent" Point "V" [VENTS TAP_HEIGHT] [PIPE];
        "air_unit" "Air conditioner, heat pump" Area "AC"
            [UNIT_HEIGHT SERVICE CLEARANCE] [LOUD SIZE];
        "light" "Light, outlet" Point "LT" [LIGHT_SORT VOLTAGE EYE_HEIGHT] [GFCI SWITCHED];
        "conduit" "Conduit, cable" Line "CD" [VOLTAGE EYE_HEIGHT] [SOURCE];
        "transformer" "Transformer box" Area "TF" [OPENS_TO CLEAR_FRONT] [BOX_HEIGHT OPERATOR];
        "pedestal" "Phone, cable box" Point "PB" [OPENS_TO UNIT_HEIGHT] [OPERATOR];
        "pole" "Utility pole" Point "UP" [OPERATOR] [POLE_HEIGHT];
        "overhead_wire" "Overhead wire" Line "OW" [WIRE_SORT WIRE_HEIGHT] [OPERATOR];
        "well" "Well" Point "WL" [WELL_SORT CASING CAP] [USED_FOR];
        "septic" "Septic tank, lid" Area "SE" [SEPTIC_SORT LID SOURCE] [TOLD_DEPTH SOURCE_DAY];
        "drain_field" "Drain field as told" Area "DF" [SOURCE SOURCE_DAY] [DRIVEN];
        "propane" "Propane tank" Area "PR" [IN_GROUND FILL_SIDE] [SIZE SUPPLIER];
    }
    "Living" {
        "pool" "Pool, pond" Area "PL" [POOL_DEPTH BARRIER] [COVER];
        "pool_equipment" "Pool equipment" Point "PE" [POOL_PART CLEARANCE] [LOUD UNIT_HEIGHT];
        "play" "Play equipment" Area "PY" [SURFACE FALL_ZONE] [BIG_HEIGHT CONDITION];
        "dog_run" "Dog run" Area "DR" [SURFACE SHADE] [FENCE_HEIGHT CLEAR_WIDTH];
        "pet_path" "Path of pets or people" Curve "PP" [WHO] [PATH_WIDTH SURFACE];
        "fire_pit" "Fire pit, grill" Point "FP" [FUEL TO_WOOD] [GAS_LINE];
        "bins" "Bin store" Area "BN" [BINS ROUTE] [CLEAR_WIDTH];
        "compost" "Compost, storage" Area "CM" [MOVABLE] [BIG_HEIGHT];
        "mailbox" "Mailbox, sign" Point "MB" [TAP_HEIGHT ROUTE] [];
    }
    "Ground" {
        "wet_spot" "Wet spot" Area "WS" [WHEN_WET DRY_DAYS SMELL] [DEPTH];
        "low_point" "Low point" Point "LP" [WHEN_WET] [DEPTH];
        "high_point" "High point" Point "HP" [] [];
        "eroded" "Eroded spot, gully" Area "ER" [DEPTH CAUSE] [WIDE];
        "soil" "Hole dug, soil" Point "SO" [SOIL HOURS] [TOPSOIL DEPTH];
        "curved_edge" "Curved edge" Curve "CE" [EDGE_OF] [EDGE];
        "kerb" "Kerb, sidewalk edge" Line "SW" [STEP] [PAVING];
    }
    "Light, wind, view" {
        "view" "View" Point "VW" [WANTED SEEN_FROM TOWARD] [SEASON];
        "sun" "Sun, shade, frost" Area "SN" [LIGHT AT_TIME] [SEASON];
        "wind" "Wind" Point "WN" [FROM_SIDE STRONG] [SEASON];
        "noise" "Noise" Point "NO" [COMES_OF STRONG] [AT_TIME FROM_SIDE];
    }
    "Lot and way in" {
        "access" "Way in" Line "AW" [CLEAR_WIDTH HEADROOM ON_WAY] [TURN_ROOM SURFACE];
        "lot_line" "Lot line as told" Line "LOT" [SOURCE SOURCE_DAY] [];
        "easement" "Easement as told" Area "EA" [SOURCE STRIP] [SOURCE_DAY OWNER];
        "setback" "Setback as told" Line "SB" [SOURCE SETBACK] [SOURCE_DAY];
        "pin" "Pin found" Point "PN" [PIN_SORT CAP_TEXT] [DISTURBED];
        "peg" "Peg, chalk mark" Point "PK" [] [];
    }
    "Other" {
        "rock" "Rock, boulder" Area "RK" [ROCK_HEIGHT MOVABLE] [];
        "other" "Something else" Point "X" [] [SIZE];
    }
}

/// The kind with this key.
#[must_use]
pub fn kind(key: &str) -> Option<&'static Kind> {
    CATALOGUE.iter().find(|kind| kind.key == key)
}

/// What is asked about the kind with this key; nothing about one that is not known.
#[must_use]
pub fn asked(key: &str) -> Form {
    ASKED.iter().find(|asked| asked.key == key).map_or(Form::EMPTY, |asked| asked.form)
}

/// The list's headings, each with its kinds, in the order offered.
pub fn groups() -> impl Iterator<Item = (&'static str, Vec<&'static Kind>)> {
    let kinds = |group: &[Asked]| group.iter().filter_map(|asked| kind(asked.key)).collect();
    let name = |group: &[Asked]| group.first().map_or("", |asked| asked.group);
    ASKED.chunk_by(|a, b| a.group == b.group).map(move |group| (name(group), kinds(group)))
}

/// Every row asked about any kind.
pub(super) fn rows() -> impl Iterator<Item = &'static Row> {
    ASKED.iter().flat_map(|asked| asked.form.rows())
}

/// Whether a kind is usually told by somebody or by a paper, not seen.
#[must_use]
pub fn usually_told(key: &str) -> bool {
    matches!(key, "lot_line" | "easement" | "setback" | "drain_field")
}
