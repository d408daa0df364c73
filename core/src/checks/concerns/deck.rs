//! Decks: thin posts under high ones, and guards.
//!
//! Guards: International Residential Code R312.1 (from memory): where a floor lies more than 30 in above what is below
//! it, a guard of at least 36 in. Posts: common practice, no source; published guides for decks name 6x6.

use super::look::{Look, STRUCTURE, concern, exceeds, length, word};
use super::{Concern, Topic};
use crate::checks::Mend;
use crate::language::tr;
use crate::record::{Feature, Stood};
use crate::units::Length;

/// Higher than this a guard is asked for.
const DROP: Length = Length::from_inches(30.0);
/// So high a guard is at least.
const GUARD: Length = Length::from_inches(36.0);
/// Higher than this a thin post is worth a look: 4 ft, our choice.
const HIGH: Length = Length::from_inches(48.0);
/// Thinner than this is no nominal 6x6, which measures 5 1/2 in.
const THIN: Length = Length::from_inches(5.0);

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    for deck in look.things("deck") {
        let known = &deck.what.attributes;
        let (name, mend) = (look.name(&deck.what), Mend::EditThing(deck.entry.clone()));
        let Some((high, doubt)) = height(look, &deck.what) else { continue };
        let (by, written) = match doubt {
            Some(doubt) => ("heights at", say!("{} ± {}", look.write(high), look.write(doubt))),
            None => ("height of", look.fine(high)),
        };
        // By heights read beside it, it must be more by more than they are off.
        let over = |limit: Length| exceeds(high - doubt.unwrap_or(Length::ZERO), limit);
        let at = look.body(&deck.entry).and_then(|body| body.middle());
        if let Some(thick) = length(known, "section_width").filter(|thick| *thick < THIN && over(HIGH)) {
            let what = say!(
                "The posts of the {name} look thin: {} thick under boards {} above the ground",
                look.fine(thick),
                written
            );
            let key = look.key("deck posts", &deck.what.points);
            let mut c = concern(Topic::Decks, key, what, "Have it looked at by a licensed builder.");
            c.numbers = vec![("post", look.fine(thick)), ("height", written.clone())];
            c.used = vec![say!("post thickness of the {name}"), say!("{by} the {name}")];
            for (key, name) in [("post_spacing", "post spacing"), ("footing", "what the posts stand in")] {
                if !known.contains_key(key) {
                    c.missing.push(tr(name).to_owned());
                }
            }
            if word(known, "footing") == Some("bare ground") {
                c.numbers.push(("posts stand", say!("on bare ground")));
            }
            c.source =
                "Common practice, no source: nominal 6x6 posts under decks higher than about 4 ft (1.2 m)";
            (c.caution, c.at) = (STRUCTURE, at);
            c.about = vec![deck.entry.clone()];
            found.push(c.mended(mend.clone()));
        }
        let rail = length(known, "rail_height");
        if over(DROP) && rail.is_none_or(|rail| exceeds(GUARD, rail)) {
            let has = match rail {
                Some(rail) if rail > Length::ZERO => say!("its rail is {} high", look.fine(rail)),
                Some(_) => say!("it has no rail"),
                None => say!("nothing is said of a rail"),
            };
            let what = say!("The {name} lies {written} above the ground, and {has}");
            let how = "Worth a note: where a floor lies more than 30 in (0.76 m) up, codes ask for a guard of 36 in \
                       (0.91 m) or more.";
            let mut c = concern(Topic::Decks, look.key("guard", &deck.what.points), what, how);
            c.numbers = vec![("height", written.clone())];
            c.numbers.extend(rail.map(|rail| ("rail", look.fine(rail))));
            c.used = vec![say!("{by} the {name}")];
            match rail {
                Some(_) => c.used.push(say!("rail height of the {name}")),
                None => c.missing.push(say!("rail height of the {name}")),
            }
            c.source = "International Residential Code R312.1 (from memory)";
            c.at = at;
            c.about = vec![deck.entry.clone()];
            found.push(c.mended(mend));
        }
    }
}

/// How high its boards lie, as taped; else by the highest of its corners over the ground, and what that may be off by.
fn height(look: &Look, deck: &Feature) -> Option<(Length, Option<Length>)> {
    if let Some(taped) = length(&deck.attributes, "height") {
        return Some((taped, None));
    }
    let boards =
        look.ground.spots.iter().filter(|s| s.stood == Stood::Above && deck.points.contains(&s.point));
    let high = boards
        .filter_map(|s| Some((s.height - look.ground.height_at(s.at)?, look.doubt_between(s.at, s.at))));
    high.reduce(|a, b| if b.0 > a.0 { b } else { a }).map(|(high, doubt)| (high, Some(doubt)))
}
