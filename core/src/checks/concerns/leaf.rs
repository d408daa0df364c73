//! How hard a leaf bends its post, and how deep the post would have to stand.
//!
//! Statics, and IBC 1807.3.2.1 for the depth ([`crate::checks::post`]). What nobody measured is assumed, and said so: a
//! leaf's weight by its size, soil as the weakest of the table.

use super::look::{Look, STRUCTURE, concern, length, word};
use super::{Concern, Topic};
use crate::checks::post::{Force, Leaf, Moment, Soil, bending_stress, depth_for};
use crate::checks::{Mend, Weight};
use crate::record::{Attributes, EntryId};
use crate::units::{Length, PlanPoint, UnitSystem, format::format_number, read_number};

/// Weight of a wooden leaf: 4 lb a square foot. Common practice, no source.
const POUNDS_PER_SQUARE_FOOT: f64 = 4.0;
/// A leaf nobody measured the height of is taken to be so high: 6 ft, our choice.
const USUAL_HEIGHT: Length = Length::from_inches(72.0);
const NOTHING: Force = Force::from_pounds(0.0);
/// Somebody hanging on the latch: 200 lb, the load guards are made for (ASCE 7, 4.5.1, from memory).
const AT_LATCH: Force = Force::from_pounds(200.0);
/// What common softwood posts bear outdoors in bending, pounds to the square inch: about 1000 (National Design
/// Specification's supplement, from memory; kind and grade decide).
const LASTING: f64 = 1000.0;
/// The same for a load of minutes: 1.6 times that (the same, load duration, from memory).
const SHORT: f64 = 1600.0;
/// Pascals in a pound to the square inch.
const PSI: f64 = 6894.757;
/// Kilograms in a pound (exact).
const KILOGRAMS: f64 = 0.453_592_37;
/// A leaf so wide is asked about where its post was not measured: 4 ft, our choice.
const WIDE: Length = Length::from_inches(48.0);

const SOURCE: &str = "Statics; depth by International Building Code 1807.3.2.1 with the soils of its Table 1806.2, \
    doubled as in 1806.3.4 (from memory); 200 lb (91 kg) at the latch; bending limit of common \
    softwood 1000 psi (6.9 MPa), 1600 psi (11 MPa) for minutes (from memory)";

/// A leaf and the post it hangs on, as far as somebody said.
pub(super) struct Hung<'a> {
    /// What it is called: `gate G1–G2`.
    pub(super) name: String,
    /// By it a note answers the concern.
    pub(super) key: String,
    /// Whether a gate is recorded, not its post alone.
    pub(super) gate: bool,
    pub(super) mend: Mend,
    /// What was said of it, the nearest first.
    pub(super) said: Vec<&'a Attributes>,
    pub(super) about: Vec<EntryId>,
    /// Between its ends, where both have a place.
    pub(super) span: Option<Length>,
    pub(super) at: Option<PlanPoint>,
}

impl Hung<'_> {
    fn length(&self, key: &str) -> Option<Length> {
        self.said.iter().find_map(|known| length(known, key)).filter(|length| *length > Length::ZERO)
    }

    fn word(&self, key: &str) -> Option<&str> {
        self.said.iter().find_map(|known| word(known, key))
    }
}

/// The weight in somebody's words; a bare number is in the site's units.
fn weight(words: &str, units: UnitSystem) -> Option<Force> {
    let number = words.trim_end_matches(|c: char| c.is_alphabetic() || c == '.').trim_end();
    let unit = words.get(number.len()..)?.trim().to_ascii_lowercase();
    let kilograms = unit.starts_with('k') || (unit.is_empty() && units == UnitSystem::Metres);
    let number = read_number(number).filter(|n| *n > 0.0)?;
    // A kilogram weighs 9.80665 N (standard gravity).
    Some(if kilograms { Force::from_newtons(number * 9.806_65) } else { Force::from_pounds(number) })
}

/// What the soil is taken for; none where nothing may be presumed of it.
fn soil(words: Option<&str>) -> Option<(Soil, &'static str)> {
    match words {
        None => Some((Soil::Clay, "clay, the weakest of the table")),
        Some("sand") => Some((Soil::Sand, "sand")),
        Some("stony") => Some((Soil::Gravel, "gravel")),
        Some("fill") => None,
        Some(_) => Some((Soil::Clay, "clay or silt")),
    }
}

/// What is worth a look at a leaf and its post.
pub(super) fn check(look: &Look, hung: &Hung) -> Option<Concern> {
    // Two leaves share an opening.
    let share = if hung.word("hinge_side") == Some("both") { 0.5 } else { 1.0 };
    let opening = || hung.length("clear_width").or(hung.span);
    let width = hung.length("leaf_width").or_else(|| Some(opening()? * share))?;
    let Some(thick) = hung.length("section_width") else { return unmeasured(look, hung, width) };
    let mut c =
        concern(Topic::Posts, hung.key.clone(), String::new(), "Have it looked at by a licensed builder.");
    c.numbers = vec![("post", look.fine(thick)), ("leaf", look.fine(width))];
    c.used = vec![say!("post thickness of the {}", hung.name), say!("width of the {}", hung.name)];
    let leaf = leaf(look, hung, width, &mut c);
    let bends = bends(look, hung, leaf, thick, &mut c);
    let asked = depth(look, hung, leaf, thick, &mut c);
    let stands = hung.length("set_depth");
    let shallow = asked.zip(stands).filter(|(asked, stands)| stands < asked);
    if !bends && shallow.is_none() {
        return None;
    }
    if stands.is_none() {
        c.missing.push(say!("how deep the post stands"));
    }
    let (name, thick, width) = (&hung.name, look.fine(thick), look.fine(width));
    c.what = say!("The post of the {name} looks undersized: {thick} thick, it carries a leaf of {width}");
    if let Some((asked, stands)) = shallow {
        let (stands, asked) = (look.fine(stands), look.write(asked));
        c.what = say!("{} and stands {stands} deep, where about {asked} is asked for the leaf alone", c.what);
    }
    c.numbers.extend(hung.length("lean").map(|lean| ("it leans", look.fine(lean))));
    Some(placed(c, hung))
}

fn placed(mut c: Concern, hung: &Hung) -> Concern {
    (c.caution, c.source, c.at) = (STRUCTURE, SOURCE, hung.at);
    c.about.clone_from(&hung.about);
    c.mended(hung.mend.clone())
}

/// A wide gate whose post nobody measured.
fn unmeasured(look: &Look, hung: &Hung, width: Length) -> Option<Concern> {
    if width < WIDE || !hung.gate {
        return None;
    }
    let what = say!("The {} is {} wide, and its hinge post was not measured", hung.name, look.fine(width));
    let how = "Tape the post's narrow side: a wide leaf pulls hard at it.";
    let mut c = concern(Topic::Posts, hung.key.clone(), what, how);
    c.weight = Weight::Visit;
    c.used = vec![say!("width of the {}", hung.name)];
    c.missing = vec![say!("post thickness of the {}", hung.name)];
    Some(placed(c, hung))
}

/// The leaf, its weight as told or by its size.
fn leaf(look: &Look, hung: &Hung, width: Length, c: &mut Concern) -> Leaf {
    let said = hung.length("height");
    let high = said.unwrap_or(USUAL_HEIGHT);
    let told = hung.word("leaf_weight").and_then(|words| weight(words, look.record.site.units));
    let weight =
        told.unwrap_or_else(|| Force::from_pounds((width * high).square_feet() * POUNDS_PER_SQUARE_FOOT));
    match told {
        Some(_) => c.used.push(say!("leaf weight of the {}", hung.name)),
        None => {
            let height = if said.is_some() { "" } else { " at 6 ft (1.8 m) of height" };
            c.missing.push(say!("leaf weight: taken as 4 lb a square foot (20 kg a square metre){height}"));
        }
    }
    let written = match look.record.site.units {
        UnitSystem::Metres => say!("{} kg", format_number(weight.pounds() * KILOGRAMS, 0)),
        _ => say!("{} lb", format_number(weight.pounds(), 0)),
    };
    c.numbers.push(("leaf weighs", written));
    Leaf { weight, width, hinges: high }
}

/// Whether the leaf bends a wooden post beyond what common softwood bears.
fn bends(look: &Look, hung: &Hung, leaf: Leaf, thick: Length, c: &mut Concern) -> bool {
    if !matches!(hung.word("material"), None | Some("wood")) {
        return false;
    }
    let stress = |moment: Moment| bending_stress(moment, thick).map(|pascals| pascals / PSI);
    let Some((alone, hanging)) = stress(leaf.moment(NOTHING)).zip(stress(leaf.moment(AT_LATCH))) else {
        return false;
    };
    let written = |stress: f64, limit: f64| match look.record.site.units {
        UnitSystem::Metres => {
            let megapascals = |psi: f64| format_number(psi * PSI / 1e6, 1);
            say!("{} MPa, limit {} MPa", megapascals(stress), megapascals(limit))
        }
        _ => say!("{} psi, limit {limit} psi", format_number(stress, 0)),
    };
    c.numbers.push(("bending by the leaf", written(alone, LASTING)));
    c.numbers.push(("with a person at the latch", written(hanging, SHORT)));
    alone > LASTING || hanging > SHORT
}

/// How deep the leaf's weight alone asks the post to stand, in soil that may give by half an inch.
fn depth(look: &Look, hung: &Hung, leaf: Leaf, thick: Length, c: &mut Concern) -> Option<Length> {
    if hung.word("footing") == Some("concrete") {
        c.missing.push(say!("how wide and deep the post's concrete is"));
        return None;
    }
    let said = hung.word("soil");
    let Some((soil, taken)) = soil(said) else {
        c.missing.push(say!("what lies under the fill: loose fill bears nothing that may be presumed"));
        return None;
    };
    match said {
        Some(_) => c.used.push(say!("soil at the post")),
        None => c.missing.push(say!("soil: taken as {taken}")),
    }
    // Soil that may give by half an inch bears twice as much, as if the leaf weighed half.
    let half = Leaf { weight: Force::from_pounds(leaf.weight.pounds() / 2.0), ..leaf };
    let asked = depth_for(half.moment(NOTHING), thick * std::f64::consts::SQRT_2, soil)?;
    c.numbers.push(("depth asked, leaf alone", look.write(asked)));
    Some(asked)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_are_read_as_people_write_them() {
        let is = |words: &str, units, pounds: f64| {
            let read = weight(words, units).unwrap().pounds();
            assert!((read - pounds).abs() < 1e-9, "{words}: {read}");
        };
        is("120 lb", UnitSystem::FeetInches, 120.0);
        is("120lbs.", UnitSystem::Metres, 120.0);
        is("120", UnitSystem::FeetInches, 120.0);
        // The international pound is 0.45359237 kg.
        is("27 kg", UnitSystem::FeetInches, 27.0 / 0.453_592_37);
        is("27", UnitSystem::Metres, 27.0 / 0.453_592_37);
        assert!(weight("heavy", UnitSystem::Metres).is_none());
        assert!(weight("0 lb", UnitSystem::FeetInches).is_none());
    }
}
