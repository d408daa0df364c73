//! What people forget and come back for. Common practice, no source.

use super::list::List;
use super::unmade::{Unmade, waits};
use super::{Mend, Weight};
use crate::language::tr;
use crate::record::Record;

/// One thing to look for.
struct Forgotten {
    key: &'static str,
    /// What is not recorded.
    what: &'static str,
    /// What to note of it.
    how: &'static str,
    /// Recorded when there is a thing of any of these kinds; the first is offered.
    kinds: &'static [&'static str],
}

const fn look(
    key: &'static str,
    what: &'static str,
    how: &'static str,
    kinds: &'static [&'static str],
) -> Forgotten {
    Forgotten { key, what, how, kinds }
}

/// In the order in which one walks: out of the house, along its walls, round the lot.
const FORGOTTEN: &[Forgotten] = &[
    look("look steps", "Steps", "How many, how high, how wide; what they lead down to.", &["steps"]),
    look("look downspouts", "Downspouts", "Where each stands and where its water goes.", &["downspout"]),
    look("look taps", "Hose taps", "Place and height; outlets and lights as well.", &["hose_bib", "light"]),
    look(
        "look meters",
        "Meters and panels",
        "Electric, gas, water: where, and the free space before them. Do not open them.",
        &["electric_meter", "gas_meter", "water_meter"],
    ),
    look(
        "look units",
        "Air conditioner, heat pump",
        "Its size and the side it is served from.",
        &["air_unit"],
    ),
    look(
        "look roof",
        "Roof overhang",
        "How far out it reaches, and whether it has a gutter.",
        &["roof_edge"],
    ),
    look("look vents", "Vents and window wells", "What must not be planted or paved over.", &["vent"]),
    look(
        "look drains",
        "Drains, cleanouts, septic lids",
        "Where they are; how their lids lie. Stay off soft ground and old lids.",
        &["drain", "septic"],
    ),
    look("look access", "The way in", "The narrowest clear width, steps, height.", &["access", "gate"]),
    look(
        "look fences",
        "Fences, hedges, lot lines",
        "As they stand; they are not the legal line.",
        &["fence", "hedge", "wall", "lot_line"],
    ),
    look(
        "look trees",
        "Trees, the neighbour's too",
        "Trunk, how far the leaves reach, keep or remove.",
        &["tree", "neighbour_tree"],
    ),
    look(
        "look wires",
        "Overhead wires",
        "Estimate the lowest height; never touch or tape.",
        &["overhead_wire", "pole"],
    ),
    look(
        "look kerb",
        "Kerb, sidewalk, street",
        "Where the street begins and how high its edge is.",
        &["kerb", "drive"],
    ),
    look(
        "look views",
        "Views and wind",
        "What shall be seen, what hidden, where the wind comes from.",
        &["view", "wind"],
    ),
];

/// Things that say which way the ground falls.
const FALL: &[&str] = &["fall", "falls_to", "drop_height"];

pub(super) fn add(list: &mut List, record: &Record, unmade: &[Unmade]) {
    // What was read for such a thing is no longer forgotten: it has a line of its own.
    let there = |kind: &&str| record.features.iter().any(|f| f.what.kind == **kind) || waits(unmade, kind);
    for look in FORGOTTEN.iter().filter(|look| !look.kinds.iter().any(there)) {
        let mend = look.kinds.first().map_or(Mend::Plan, |kind| Mend::Thing(kind));
        list.one(look.key.to_owned(), Weight::Look, tr(look.what).to_owned(), look.how, mend);
    }
    let features = record.features.iter().map(|f| &f.what.attributes);
    let mut known = features.chain(record.problems.iter().map(|p| &p.what.attributes));
    if record.levels.is_empty() && !known.any(|known| FALL.iter().any(|key| known.contains_key(*key))) {
        let how = "Which way the ground falls: at the house, on paving, where water stands or leaves.";
        list.one("look fall".to_owned(), Weight::Look, say!("Fall of the ground"), how, Mend::Levels);
    }
    if !record.notes().iter().any(|note| note.what.settles.is_empty()) {
        let how = "What is wished for, pets, ways, money as told, sun at this hour.";
        list.one("look notes".to_owned(), Weight::Look, say!("What the client says"), how, Mend::Notes);
    }
}
