//! Kinds of problems in one table: what is seen in a yard, what to note of it, and who to ask.
//! Common practice, no source.

use super::attribute::{Form, Row};
use super::rows::*;

/// One kind of problem.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// The stable key stored in books.
    pub key: &'static str,
    /// The plain name shown.
    pub name: &'static str,
}

/// What is said and asked about a kind of problem. Apart from [`Trouble`], as with the catalogue.
struct Known {
    key: &'static str,
    caution: &'static str,
    next: &'static str,
    form: Form,
}

const STRUCTURE: &str =
    "Stay clear of what may fall. Structure is for licensed people; the local code decides.";
const NONE: &str = "";

/// `"key" "name" caution "what next" [measured];`
macro_rules! troubles {
    ($($key:literal $name:literal $caution:ident $next:literal [$($row:ident)*];)+) => {
        /// Every kind of problem, in the order offered.
        pub const TROUBLES: &[Trouble] = &[$(Trouble { key: $key, name: $name },)+];
        static KNOWN: &[Known] = &[$(Known {
            key: $key,
            caution: $caution,
            next: $next,
            form: Form { first: &[$(&$row as &Row),*], more: &[] },
        },)+];
    };
}

const TREE: &str = "Keep away from under it. A tree that may fall is for a trained tree worker.";
const CABLE: &str = "Do not touch it. Electricity is for a licensed electrician or the power company.";
const GAS: &str = "Leave now, make no spark, and call the gas company's emergency number from outside.";
const SEWAGE: &str = "Smells of sewage? Keep off and tell the owner.";

troubles! {
    "wet_spot" "Wet spot" SEWAGE
        "Look where the water comes from after the next rain." [EXTENT WIDE DEPTH WHEN_WET DRY_DAYS SMELL];
    "erosion" "Washed-out ground" NONE
        "Note where the water comes from and where the soil went." [EXTENT WIDE DEPTH CAUSE];
    "downspout" "Downspout empties at the foundation" NONE
        "Note where it could be led, with fall away from the house." [TO_WALL BURIED OUTLET];
    "water_to_house" "Ground falls to the house" NONE
        "Take levels at the wall and 10 ft (3 m) out; the local code says how much fall is wanted."
        [DROP EXTENT FALLS_TO];
    "drain" "Blocked drain or downspout" NONE "Ask the owner where it leads." [OUTLET BURIED PIPE];
    "stump" "Stump" NONE "Have buried lines located before anyone grinds or digs." [DIAMETER LOW_HEIGHT ROOTS GRIND];
    "roots" "Roots lifting something" NONE
        "Ask a certified tree worker before a root is cut." [LIP EXTENT DIAMETER];
    "undersized_post" "Undersized or leaning post" STRUCTURE
        "Ask a licensed builder; the local code decides." [SECTION POST_HEIGHT LEAN CARRIES LEAF_WIDTH LEAF_WEIGHT];
    "sagging_gate" "Sagging gate" NONE
        "Note which post gives way." [SAG CLEAR_WIDTH SECTION HINGE LEAF_WIDTH LEAF_WEIGHT];
    "leaning" "Leaning fence or wall" STRUCTURE
        "Ask a licensed builder; a tall wall may need an engineer." [LEAN EXPOSED EXTENT];
    "failing_wall" "Bulging or cracked wall" STRUCTURE
        "Ask a licensed engineer; the local code decides." [BULGE LEAN EXPOSED GAP WEEPS];
    "rot" "Rot" STRUCTURE
        "Ask a licensed builder what it carries." [EXTENT SECTION CARRIES];
    "settled" "Settled or cracked paving" NONE "Note which way it tips." [LIP GAP EXTENT FALLS_TO];
    "trip" "Trip edge" NONE "Mark it for whoever walks there." [LIP EXTENT];
    "steps" "Uneven or loose steps" STRUCTURE
        "Measure each rise; the local code says what may differ." [RISERS UNEVEN RAIL];
    "dead_plant" "Dead or sick plant" NONE "Ask a plant expert for the cause." [SPECIES PLANT_HEIGHT EXTENT];
    "tree" "Sick or leaning tree" TREE "Ask a certified tree worker." [SPECIES TRUNK TREE_HEIGHT LEAN];
    "pests" "Pests" NONE
        "Ask a licensed pest controller; some animals are protected by law." [WHICH_PEST EXTENT];
    "cable" "Exposed cable" CABLE "Ask a licensed electrician or the power company." [EXTENT VOLTAGE];
    "gas" "Gas smell or damaged gas part" GAS "Only the gas company may judge it." [];
    "access" "Too narrow to get through" NONE
        "Compare with what must get through." [CLEAR_WIDTH HEADROOM ON_WAY];
    "view" "Seen into, or a bad view" NONE "Note eye heights on both sides." [SEEN_FROM TOWARD SEASON];
    "glare" "Glare" NONE "Note the hour and the season." [AT_TIME SEASON SEEN_FROM];
    "noise" "Noise" NONE "Note the hour; the town may have rules." [COMES_OF AT_TIME STRONG];
    "crossing" "Pets or people cross" NONE "Follow the worn line and note where it enters." [WHO WIDE];
    "other" "Something else" NONE "" [EXTENT DEPTH];
}

/// The kind of problem with this key.
#[must_use]
pub fn trouble(key: &str) -> Option<&'static Trouble> {
    TROUBLES.iter().find(|trouble| trouble.key == key)
}

fn known(key: &str) -> Option<&'static Known> {
    KNOWN.iter().find(|known| known.key == key)
}

/// What to measure of it.
#[must_use]
pub fn evidence(key: &str) -> Form {
    known(key).map_or(Form::EMPTY, |known| known.form)
}

/// The caution that belongs to it.
#[must_use]
pub fn caution(key: &str) -> Option<&'static str> {
    known(key).map(|known| known.caution).filter(|caution| !caution.is_empty())
}

/// Whom to ask or what to look at next.
#[must_use]
pub fn what_next(key: &str) -> Option<&'static str> {
    known(key).map(|known| known.next).filter(|next| !next.is_empty())
}

/// Every row asked about any problem.
pub(super) fn rows() -> impl Iterator<Item = &'static Row> {
    KNOWN.iter().flat_map(|known| known.form.rows())
}
