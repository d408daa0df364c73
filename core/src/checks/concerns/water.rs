//! Wet ground and the hollows that explain it.
//!
//! Hollows, their depth and their catchments are those of the ground between the heights read
//! ([`crate::levels::Surface::low_points`]).

use super::look::{Look, concern, deep};
use super::near::Body;
use super::{Concern, Topic};
use crate::checks::list::few;
use crate::checks::{Mend, Weight};
use crate::levels::{LowPoint, Surface};
use crate::record::EntryId;
use crate::units::{Length, PlanPoint, format_area};

/// What lies so near a hollow's bottom stands in it: 6 ft, our choice.
const NEAR: Length = Length::from_inches(72.0);
/// A hollow shallower than this (metres) is told only where somebody saw water: 1 in, our choice.
const DEEP: f64 = 0.0254;
/// A pipe at a wall may end outside of what is known: heights this far about it count (metres). Our choice.
const BESIDE: f64 = 1.5;

/// A catchment of this share of all ground that was read ends where the readings do. Our choice.
const NEARLY_ALL: f64 = 0.9;

const CAUTION: &str = "Worked out from the heights read: soil, pipes and what lies beyond them are not in it. Local code \
    and licensed people decide how water is led.";
const SOURCE: &str = "The ground is taken as even between the heights read; where water leaves is found by filling from \
    the rim (Wang and Liu 2006)";

/// A wet place somebody saw.
struct Wet<'a> {
    name: String,
    key: String,
    entry: &'a EntryId,
    body: Body,
    middle: PlanPoint,
    /// To which spot its water drains.
    into: Option<usize>,
}

/// A downspout, and to which spot its water drains.
struct Spout<'a> {
    label: &'a str,
    entry: &'a EntryId,
    into: Option<usize>,
}

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    let mut wet = seen(look);
    let Ok(surface) = &look.ground.surface else {
        return together(wet.iter().collect(), |own, _| found.push(unknown(look, own)));
    };
    let middles: Vec<PlanPoint> = wet.iter().map(|wet| wet.middle).collect();
    wet.iter_mut().zip(surface.drains_from(&middles)).for_each(|(wet, into)| wet.into = into);
    let spouts = spouts(look, surface);
    let mut open: Vec<&Wet> = wet.iter().collect();
    for low in &look.ground.low {
        let own: Vec<&Wet> = wet.iter().filter(|wet| stands(surface, low, wet)).collect();
        open.retain(|wet| !own.iter().any(|one| one.entry == wet.entry));
        if !own.is_empty() || low.depth().metres() >= DEEP {
            let drain = spouts.iter().filter(|spout| spout.into == Some(low.spot));
            found.push(hollow(look, low, &own, &drain.collect::<Vec<_>>()));
        }
    }
    together(open, |own, first| {
        let to = first.into.and_then(|to| surface.spots.get(to)).filter(|_| look.is_read(first.middle));
        found.push(match to {
            Some(to) if first.body.gap(&Body::spot(to.at, NEAR)) == Some(Length::ZERO) => {
                at_edge(look, own, to.at)
            }
            Some(to) => no_hollow(look, own, to.at),
            None => unknown(look, own),
        });
    });
}

/// Wet places that lie together, told together: each lot with its first.
fn together<'a, 'b>(mut open: Vec<&'b Wet<'a>>, mut tell: impl FnMut(&[&'b Wet<'a>], &'b Wet<'a>)) {
    while let Some(first) = open.first().copied() {
        let near = |wet: &Wet| first.body.gap(&wet.body).is_none_or(|gap| gap <= NEAR);
        let own: Vec<&Wet> = open.iter().copied().filter(|wet| near(wet)).collect();
        open.retain(|wet| !near(wet));
        tell(&own, first);
    }
}

/// Wet places, low points and problems with water that have a place.
fn seen<'a>(look: &Look<'a>) -> Vec<Wet<'a>> {
    let things = look.things("wet_spot low_point").filter_map(|f| {
        let (name, key, body) = (look.name(&f.what), look.key("wet", &f.what.points), look.body(&f.entry)?);
        Some(Wet { name, key, entry: &f.entry, middle: body.middle()?, body, into: None })
    });
    let problems = look.plan.problems.iter().filter(|p| p.kind == "wet_spot").filter_map(|p| {
        let body = match &p.outline {
            Some(outline) => Body::of(outline),
            None => Body::spot(p.at?, Length::ZERO),
        };
        let (name, key) = (say!("problem {}", p.number), format!("wet problem {}", p.number));
        Some(Wet { name, key, entry: &p.entry, middle: body.middle()?, body, into: None })
    });
    things.chain(problems).collect()
}

fn spouts<'a>(look: &Look<'a>, surface: &Surface) -> Vec<Spout<'a>> {
    let known = |at: PlanPoint| look.around(at, BESIDE).find(|at| surface.height_at(*at).is_some());
    let things = look.things("downspout").filter_map(|f| {
        let point = f.what.points.first()?;
        Some((look.record.label(point), &f.entry, known(*look.places(&f.what.points).first()?)?))
    });
    let things: Vec<_> = things.collect();
    let places: Vec<PlanPoint> = things.iter().map(|(.., at)| *at).collect();
    let into = surface.drains_from(&places).into_iter();
    things.into_iter().zip(into).map(|((label, entry, _), into)| Spout { label, entry, into }).collect()
}

/// Whether water of this hollow reaches the wet place.
fn stands(surface: &Surface, low: &LowPoint, wet: &Wet) -> bool {
    let near = wet.body.gap(&Body::spot(low.at, NEAR)) == Some(Length::ZERO);
    let under = || surface.height_at(wet.middle).is_some_and(|height| height <= low.spills);
    near || (wet.into == Some(low.spot) && under())
}

/// `Wet spot WS1 and problem 1 lie`.
fn names(wet: &[&Wet]) -> String {
    let names: Vec<&str> = wet.iter().map(|wet| wet.name.as_str()).collect();
    let (all, lie) = (few(&names), if names.len() == 1 { "lies" } else { "lie" });
    let mut letters = all.chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase());
    say!("{}{} {lie}", first.map(String::from).unwrap_or_default(), letters.as_str())
}

fn hollow(look: &Look, low: &LowPoint, wet: &[&Wet], spouts: &[&Spout]) -> Concern {
    let (bottom, over) = (look.spot_at(low.at), look.spot_at(low.over));
    let depth = deep(low.depth(), look.record.site.units);
    // Beyond the rim the ground may lie higher, or lower: the water may stand deeper, or less deep.
    let surface = look.ground.surface.as_ref().ok();
    let at_edge = surface.is_some_and(|surface| surface.on_rim(low.over));
    let mut what = match wet {
        [] => say!("Water can stand at {bottom}: from these readings, up to {depth}"),
        wet => {
            say!("{} in a hollow round {bottom}: from these readings, up to {depth} could stand", names(wet))
        }
    };
    if !at_edge {
        what = say!("{what} before it runs over toward {over}");
    }
    let labels: Vec<&str> = spouts.iter().map(|spout| spout.label).collect();
    let led = match labels.as_slice() {
        [] => "its water",
        [one] => {
            what = say!("{what}; downspout {one} drains toward it");
            "the downspout and the hollow's water"
        }
        many => {
            what = say!("{what}; downspouts {} drain toward it", few(many));
            "the downspouts and the hollow's water"
        }
    };
    if at_edge {
        what = say!("{what}; the rim is at {over}, at the edge of what was read");
    }
    let how = say!("Note where {led} could be led: a place that lies lower.");
    let mut c = concern(Topic::Water, format!("hollow {bottom}"), what, &how);
    let doubt = look.doubt_between(low.at, low.over);
    let whole =
        surface.is_some_and(|all| low.catchment.square_metres() >= NEARLY_ALL * all.area().square_metres());
    let ground = if whole {
        say!("all the ground that was read")
    } else {
        say!("about {}", format_area(low.catchment, look.record.site.units))
    };
    c.numbers = vec![
        ("deep at most", say!("{depth} ± {}: the ± counts only the rod", look.write(doubt))),
        ("runs over at", over.clone()),
        ("ground that drains there", ground),
    ];
    if at_edge {
        c.missing.push(say!("heights beyond {over}"));
    }
    c.used = look.heights_near(&[low.at, low.over]);
    c.about = spouts.iter().map(|spout| spout.entry.clone()).collect();
    finished(c, wet, Some(low.at))
}

/// A wet place on ground that falls.
fn no_hollow(look: &Look, wet: &[&Wet], to: PlanPoint) -> Concern {
    let to = look.spot_at(to);
    let what = say!("{} in no hollow: by the heights read the water could run off toward {to}", names(wet));
    let how = "Look for a spring, a leaking pipe or hard soil, and take heights in its middle and round it.";
    let mut c = concern(Topic::Water, key(wet), what, how);
    c.used = wet.first().map(|wet| look.heights_near(&[wet.middle])).unwrap_or_default();
    c.missing.push(say!("heights in its middle and on its rim"));
    finished(c, wet, None)
}

/// A wet place where the heights read end.
fn at_edge(look: &Look, wet: &[&Wet], edge: PlanPoint) -> Concern {
    let edge = look.spot_at(edge);
    let what = say!("{} at the edge of the heights read: where its water could go is not known", names(wet));
    let mut c =
        concern(Topic::Water, key(wet), what, &say!("Take heights beyond {edge}, away from the rest."));
    c.weight = Weight::Visit;
    c.used = wet.first().map(|wet| look.heights_near(&[wet.middle])).unwrap_or_default();
    c.missing.push(say!("heights beyond {edge}"));
    finished(c, wet, None)
}

/// A wet place of which no heights are known.
fn unknown(look: &Look, wet: &[&Wet]) -> Concern {
    let what = say!("{} where no heights were read: what holds the water is not known", names(wet));
    let how = "Take a level in its middle, round its rim and where its water could run off.";
    let mut c = concern(Topic::Water, key(wet), what, how);
    c.weight = Weight::Visit;
    c.missing.push(if look.ground.is_empty() { "any height" } else { "heights round it" }.to_owned());
    finished(c, wet, None)
}

fn key(wet: &[&Wet]) -> String {
    wet.first().map_or_else(String::new, |wet| wet.key.clone())
}

fn finished(mut c: Concern, wet: &[&Wet], at: Option<PlanPoint>) -> Concern {
    (c.caution, c.source) = (CAUTION, SOURCE);
    c.at = at.or_else(|| wet.first().map(|wet| wet.middle));
    c.about.splice(..0, wet.iter().map(|wet| wet.entry.clone()));
    c.mended(Mend::Levels)
}
