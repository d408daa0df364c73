//! Roof water that reaches the ground beside the foundation.
//!
//! International Residential Code R801.3 (from memory): where the soil swells or gives way, roof water is let out no
//! nearer than 5 ft to the foundation, or into a drain.

use super::look::{Look, concern, word};
use super::{Concern, Topic};
use crate::checks::Mend;
use crate::units::Length;

/// Water let out nearer than this is worth a note.
const FAR: Length = Length::from_inches(60.0);

const SOURCE: &str = "International Residential Code R801.3, for soils that swell or give way (from memory)";
const HOW: &str = "Worth a note: where could it be led, with fall away from the house?";

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    for spout in look.things("downspout") {
        let known = &spout.what.attributes;
        let empties = word(known, "empties_to");
        // A pipe leads on; where it ends is another question.
        if empties == Some("buried pipe") || word(known, "pipe_buried") == Some("yes") {
            continue;
        }
        let Some(body) = look.body(&spout.entry) else { continue };
        let walls = look.things("house").filter_map(|house| look.body(&house.entry)?.gap(&body));
        let gap =
            walls.fold(None, |least: Option<Length>, gap| Some(least.filter(|l| *l < gap).unwrap_or(gap)));
        let at_wall = empties == Some("at the wall");
        let Some(gap) = gap.filter(|gap| at_wall || *gap < FAR) else { continue };
        let name = look.name(&spout.what);
        let what = match empties {
            Some("at the wall") => say!("The {name} empties at the foundation"),
            Some(words) => say!("The {name} stands at the house and empties on the {}", onto(words)),
            // Asked about in a line of its own.
            None => continue,
        };
        let mut c = concern(Topic::Water, look.key("spout", &spout.what.points), what, HOW);
        c.numbers = vec![("from the wall", look.write(gap))];
        c.used = vec![say!("where the {name} empties")];
        if !at_wall && word(known, "outlet").is_none() {
            c.missing.push(say!("how far from the wall the {name}'s water reaches the ground"));
        }
        (c.source, c.at) = (SOURCE, body.middle());
        c.about = vec![spout.entry.clone()];
        found.push(c.mended(Mend::EditThing(spout.entry.clone())));
    }
    for eave in look.things("roof_edge").filter(|f| word(&f.what.attributes, "gutter") == Some("no")) {
        let name = look.name(&eave.what);
        let what = say!("The {name} has no gutter: its water drips along the foundation");
        let mut c = concern(Topic::Water, look.key("eave", &eave.what.points), what, HOW);
        c.used = vec![say!("gutter of the {name}")];
        if !eave.what.attributes.contains_key("projection") {
            c.missing.push(say!("how far the {name} reaches out"));
        }
        (c.source, c.at) = (SOURCE, look.body(&eave.entry).and_then(|body| body.middle()));
        c.about = vec![eave.entry.clone()];
        found.push(c.mended(Mend::EditThing(eave.entry.clone())));
    }
}

/// As said in a sentence.
fn onto(words: &str) -> &str {
    words.strip_prefix("on ").unwrap_or(words)
}
