//! Fence posts that stand shallow.
//!
//! Common practice, no source: about a third as deep as they stand high. What wind asks for is reckoned by the local code
//! (International Building Code 1807.3.2.1 has the formula, [`crate::checks::post`]); the wind there is not known here.

use super::look::{Look, STRUCTURE, concern, exceeds, length};
use super::{Concern, Topic};
use crate::checks::Mend;
use crate::language::tr;
use crate::record::asked;

/// So many times its depth a post may stand high.
const HIGH: f64 = 3.0;

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    for thing in look.things("fence post") {
        let known = &thing.what.attributes;
        let (Some(high), Some(deep)) = (length(known, "height"), length(known, "set_depth")) else {
            continue;
        };
        if !exceeds(high, deep * HIGH) {
            continue;
        }
        let name = look.name(&thing.what);
        let (high, deep) = (look.fine(high), look.fine(deep));
        let posts = if thing.what.kind == "fence" { "The posts of the " } else { "The " };
        let verb = if thing.what.kind == "fence" { "stand" } else { "stands" };
        let what = say!("{posts}{name} {verb} {deep} in the ground and {high} above it, which looks shallow");
        let how = "Have it looked at: wind and frost ask for more the higher and the closer the fence is.";
        let mut c = concern(Topic::Posts, look.key("shallow", &thing.what.points), what, how);
        c.numbers = vec![("in the ground", deep), ("above it", high)];
        c.numbers.extend(length(known, "lean").map(|lean| ("it leans", look.fine(lean))));
        c.used = vec![say!("height and depth of the {name}")];
        for (key, name) in [("section_width", "post thickness"), ("post_spacing", "post spacing")] {
            if asked(&thing.what.kind).row(key).is_some() && !known.contains_key(key) {
                c.missing.push(tr(name).to_owned());
            }
        }
        c.source = "Common practice, no source: about a third of the height above the ground";
        c.caution = STRUCTURE;
        c.at = look.places(&thing.what.points).first().copied();
        c.about = vec![thing.entry.clone()];
        found.push(c.mended(Mend::EditThing(thing.entry.clone())));
    }
}
