//! Doors and siding above the ground outside.
//!
//! International Residential Code R311.3.1 and R311.3.2: an outside landing lies no more than 7 3/4 in below the top of
//! a threshold, 1 1/2 in at the required way out; R317.1 and R404.1.6: about 6 in from the ground to siding and wood
//! (all from memory). How high a threshold should stand over ground: common practice, no source.

use super::look::{Look, concern, exceeds, length};
use super::near::Body;
use super::{Concern, Topic};
use crate::checks::Mend;
use crate::record::{Feature, Recorded, Stood};
use crate::units::{Length, PlanPoint};

/// More than this is a step too high for one.
const STEP: Length = Length::from_inches(7.75);
/// Less than this lets water in: 2 in, common practice, no source.
const LOW: Length = Length::from_inches(2.0);
/// Siding nearer to the ground than this rots.
const SIDING: Length = Length::from_inches(6.0);
/// Steps so near a door lead up to it: 4 ft, our choice.
const AT_DOOR: Length = Length::from_inches(48.0);
/// Ground so far from a door is the ground outside it (metres). Our choice.
const OUTSIDE: f64 = 0.9;

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    for door in look.things("door") {
        found.extend(at_door(look, door));
    }
    for house in look.things("house") {
        let clear = length(&house.what.attributes, "base_height");
        let Some(clear) = clear.filter(|clear| exceeds(SIDING, *clear)) else { continue };
        let what = say!("Siding begins {} above the ground", look.fine(clear));
        let how = "Worth a note: codes ask for about 6 in (150 mm), and for soil and mulch to stay below it.";
        let mut c = concern(Topic::Doors, look.key("siding", &house.what.points), what, how);
        c.numbers = vec![("siding above ground", look.fine(clear))];
        c.used = vec![say!("siding above ground of the house")];
        c.source = "International Residential Code R317.1 and R404.1.6 (from memory)";
        c.about = vec![house.entry.clone()];
        found.push(c);
    }
}

/// The top of a threshold over the ground outside: as taped, else by heights; and what it was taken from.
fn clearance(look: &Look, door: &Feature) -> Option<(Length, String)> {
    let name = look.name(door);
    if let Some(taped) = length(&door.attributes, "threshold_height") {
        return Some((taped, say!("threshold height of the {name}")));
    }
    let sill =
        look.ground.spots.iter().find(|s| s.stood == Stood::Above && door.points.contains(&s.point))?;
    let ground = look.around(middle(look, door)?, OUTSIDE).find_map(|at| look.ground.height_at(at))?;
    Some((sill.height - ground, say!("height of {} and of the ground outside", sill.label)))
}

fn middle(look: &Look, door: &Feature) -> Option<PlanPoint> {
    match look.places(&door.points).as_slice() {
        [a, b] => Some(a.midway(*b)),
        all => all.first().copied(),
    }
}

fn at_door(look: &Look, door: &Recorded<Feature>) -> Option<Concern> {
    let (clear, from) = clearance(look, &door.what)?;
    let at = middle(look, &door.what);
    let spot = at.map(|at| Body::spot(at, Length::ZERO));
    let beside = |kinds: &'static str, reach: Length| {
        let gap = |f: &Recorded<Feature>| look.body(&f.entry)?.gap(spot.as_ref()?);
        look.things(kinds).any(|f| gap(f).is_some_and(|gap| gap <= reach))
    };
    let (name, written) = (look.name(&door.what), look.fine(clear));
    let (what, how, source) = if exceeds(clear, STEP) {
        if beside("steps deck", AT_DOOR) {
            return None;
        }
        (
            say!("One steps down {written} at the {name}, and no steps or landing are recorded there"),
            "Worth a note: codes let a landing lie 7 3/4 in (197 mm) below the threshold at most, 1 1/2 in (38 mm) at the \
             required way out.",
            "International Residential Code R311.3.1 and R311.3.2 (from memory)",
        )
    } else if exceeds(LOW, clear) && !beside("deck", Length::from_inches(12.0)) {
        let words = if clear < Length::ZERO {
            say!("The ground outside the {name} lies {} above its threshold", look.fine(clear.abs()))
        } else {
            say!("The threshold of the {name} is only {written} above the ground outside")
        };
        (
            words,
            "Worth a note: rain and snow get in; see which way the ground falls there.",
            "Common practice, no source: about 2 in (50 mm) at least, more over open soil",
        )
    } else {
        return None;
    };
    let mut c = concern(Topic::Doors, look.key("threshold", &door.what.points), what, how);
    c.numbers = vec![("threshold above ground", written)];
    (c.used, c.source, c.at) = (vec![from], source, at);
    c.about = vec![door.entry.clone()];
    Some(c.mended(Mend::EditThing(door.entry.clone())))
}
