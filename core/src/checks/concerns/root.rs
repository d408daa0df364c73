//! Roots and branches of trees that stay.
//!
//! Root zone: a radius of 1 ft for each inch of trunk (a city's tree code, Vancouver WA) to 1 1/2 ft (North Carolina
//! Urban Forest Council, which adds a least of 6 ft; 20 in give 30 ft there). Standards leave it to an arborist.

use super::look::{Dig, Look, concern, length};
use super::near::Body;
use super::{Concern, Topic};
use crate::checks::Mend;
use crate::checks::words::listed;
use crate::plan::Outline;
use crate::record::{Fate, Feature, Recorded};
use crate::units::Length;

/// Feet of radius for an inch of trunk, so lengths for a length: the narrow figure, for what lies there already.
const NARROW: f64 = 12.0;
/// The wide one, for what will be dug.
const WIDE: f64 = 18.0;
/// The least radius: 6 ft.
const LEAST: Length = Length::from_inches(72.0);

const CAUTION: &str = "A rule of thumb. How much a tree bears is for a certified tree worker to say.";
const SOURCE: &str = "1 ft of radius for each inch of trunk (city code, Vancouver WA) to 1 1/2 ft, at least 6 ft \
    (North Carolina Urban Forest Council)";

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    let (digs, trunks) = (look.digs(), look.record.diameters());
    let trees = look.things("tree neighbour_tree").filter(|t| !matches!(t.what.fate, Some(Fate::Remove)));
    for tree in trees {
        let Some(Outline::Circle { centre, outer, .. }) = look.shape(&tree.entry).map(|s| &s.outline) else {
            continue;
        };
        let trunk = tree.what.points.first().and_then(|p| trunks.get(p)).copied();
        let stem = Body::spot(*centre, Length::ZERO);
        found.extend(roots(look, tree, &stem, trunk, &digs));
        if let Some(reach) = outer {
            found.extend(branches(look, tree, &stem, *reach));
        }
    }
}

/// The root zone of this much for each inch of trunk.
fn zone(trunk: Length, factor: f64) -> Length {
    let zone = trunk * factor;
    if zone > LEAST { zone } else { LEAST }
}

fn roots(
    look: &Look,
    tree: &Recorded<Feature>,
    stem: &Body,
    trunk: Option<Length>,
    digs: &[Dig],
) -> Option<Concern> {
    let (narrow, wide) =
        (zone(trunk.unwrap_or(Length::ZERO), NARROW), zone(trunk.unwrap_or(Length::ZERO), WIDE));
    let within = |body: &Body, zone: Length| stem.gap(body).filter(|gap| *gap <= zone);
    let dug = digs.iter().filter(|dig| dig.points.first() != tree.what.points.first()).filter_map(|dig| {
        let gap = within(&dig.body, wide)?;
        Some((say!("the {} that {} ({})", dig.name, dig.why, look.about(gap)), dig.entry.clone()))
    });
    let goes = |entry| digs.iter().any(|dig| dig.entry == entry);
    let paved = look.things("patio drive path pad").filter(|f| !goes(&f.entry)).filter_map(|f| {
        let gap = within(&look.body(&f.entry)?, narrow)?;
        Some((say!("the {} ({})", look.name(&f.what), look.about(gap)), f.entry.clone()))
    });
    let inside: Vec<_> = dug.chain(paved).collect();
    if inside.is_empty() {
        return None;
    }
    let names: Vec<&str> = inside.iter().map(|(name, _)| name.as_str()).collect();
    let name = look.name(&tree.what);
    let lie = if names.len() == 1 { "lies" } else { "lie" };
    let what = say!("In the root zone of the {name} {lie} {}", listed(&names));
    let how = "Worth a note: no digging, filling, grinding or driving there before a tree worker has looked.";
    let mut c = concern(Topic::Trees, look.key("roots", &tree.what.points), what, how);
    c.numbers.push(("root zone, radius", say!("{} to {}", look.about(narrow), look.about(wide))));
    match trunk {
        Some(trunk) => c.numbers.push(("trunk across", look.fine(trunk))),
        None => c.missing.push(say!("trunk diameter of the {name}: 6 ft is the least radius for any tree")),
    }
    c.used = vec![say!("place of the {name}")];
    c.used.extend(trunk.map(|_| say!("trunk diameter of the {name}")));
    (c.caution, c.source, c.at) = (CAUTION, SOURCE, stem.middle());
    c.about = std::iter::once(tree.entry.clone()).chain(inside.into_iter().map(|(_, entry)| entry)).collect();
    Some(c.mended(Mend::EditThing(tree.entry.clone())))
}

fn branches(look: &Look, tree: &Recorded<Feature>, stem: &Body, reach: Length) -> Option<Concern> {
    let houses = look.things("house outbuilding");
    let mut over = houses.filter_map(|house| Some((reach - stem.gap(&look.body(&house.entry)?)?, house)));
    let (far, house) = over.find(|(far, _)| *far > Length::ZERO)?;
    let name = look.name(&tree.what);
    let what =
        say!("Branches of the {name} reach about {} over the {}", look.about(far), kind_of(&house.what));
    let how = "Note what falls on the roof and how high the lowest branch is; do not climb.";
    let mut c = concern(Topic::Trees, look.key("branches", &tree.what.points), what, how);
    c.numbers.push(("from the trunk to the leaves' edge", look.about(reach)));
    c.used = vec![say!("canopy spread of the {name}")];
    if length(&tree.what.attributes, "lowest_limb_height").is_none() {
        c.missing.push(say!("height of the lowest limb of the {name}"));
    }
    c.caution = "Leaves as measured across, taken as round. A certified tree worker decides what is cut.";
    c.source = "Common practice, no source";
    c.at = stem.middle();
    c.about = vec![tree.entry.clone(), house.entry.clone()];
    Some(c.mended(Mend::EditThing(tree.entry.clone())))
}

fn kind_of(thing: &Feature) -> &str {
    match thing.kind.as_str() {
        _ if !thing.name.is_empty() => &thing.name,
        "house" => "house",
        _ => "outbuilding",
    }
}
