//! How steep paths, drives and patios are, along and across.
//!
//! 2010 ADA Standards 403.3 (a walk no steeper than 1:20 along and 1:48 across) and 405.2, 405.3 (a ramp no steeper than
//! 1:12 along and 1:48 across). They seldom bind a private yard; they say what is hard on wheels and feet.

use super::look::{Look, concern};
use super::{Concern, Topic};
use crate::checks::Mend;
use crate::checks::list::few;
use crate::levels::Slope;
use crate::record::{Feature, PointId, Recorded};
use crate::units::format::format_number;
use crate::units::{Length, PlanPoint, float};

/// Per cent: a walk along, a ramp along, either across.
const WALK: f64 = 100.0 / 20.0;
const RAMP: f64 = 100.0 / 12.0;
const ACROSS: f64 = 100.0 / 48.0;
/// An edge shorter than this (metres) says nothing of a slope: 1 ft, our choice.
const SHORTEST: f64 = 0.3048;
/// What a slope may miss by, per cent: no more than a rounding.
const ROUND: f64 = 1e-6;

const SOURCE: &str = "2010 ADA Standards 403.3, 405.2 and 405.3; they seldom bind a private yard, and are worth a note all the same";

/// An edge between two corners with heights.
#[derive(Clone, Copy)]
struct Edge<'a> {
    ends: [&'a PointId; 2],
    run: Length,
    rise: Length,
    /// Two standard deviations of the rise.
    doubt: Length,
    /// How far it runs along the long side, against across it.
    along: bool,
    percent: f64,
}

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    for thing in look.things("path drive patio") {
        let edges = edges(look, &thing.what);
        let steepest = |along: bool| {
            let own = edges.iter().filter(|edge| edge.along == along || thing.what.kind == "patio");
            own.max_by(|a, b| a.percent.total_cmp(&b.percent)).copied()
        };
        let name = look.name(&thing.what);
        if thing.what.kind != "patio"
            && let Some(edge) = steepest(true)
        {
            let limit = if edge.percent > RAMP + ROUND { RAMP } else { WALK };
            // A drive may be as steep as a ramp.
            let over = edge.percent > limit + ROUND && (thing.what.kind == "path" || limit > WALK);
            let as_what = if limit > WALK { "steeper than a ramp may be" } else { "as steep as a ramp" };
            let what =
                say!("The {name} rises {} in a hundred along its length: {as_what}", percent(edge.percent));
            found.extend(over.then(|| slope(look, thing, "steep", what, edge, limit)));
        }
        // Across a drive nobody walks.
        if thing.what.kind != "drive"
            && let Some(edge) = steepest(false)
        {
            let over = edge.percent > ACROSS + ROUND;
            let way = if thing.what.kind == "patio" { "tips" } else { "tips sideways" };
            let what = say!(
                "The {name} {way} by {} in a hundred: chairs and wheels feel more than 2",
                percent(edge.percent)
            );
            found.extend(over.then(|| slope(look, thing, "tips", what, edge, ACROSS)));
        }
    }
}

fn percent(percent: f64) -> String {
    format_number(percent, 1)
}

/// Its edges between neighbouring corners that have both a height.
fn edges<'a>(look: &Look, thing: &'a Feature) -> Vec<Edge<'a>> {
    let place = |id: &PointId| look.plan.points.iter().find(|p| p.id == *id).map(|p| p.at);
    let after = thing.points.iter().cycle().skip(1);
    // Two points are one edge, there and not back.
    let sides = if thing.points.len() > 2 { thing.points.len() } else { 1 };
    let all: Vec<(&PointId, &PointId, PlanPoint, PlanPoint)> = thing
        .points
        .iter()
        .zip(after)
        .take(sides)
        .filter_map(|(a, b)| Some((a, b, place(a)?, place(b)?)))
        .filter(|(_, _, a, b)| a.distance(*b).metres() >= SHORTEST)
        .collect();
    let longest = all.iter().max_by(|a, b| a.2.distance(a.3).metres().total_cmp(&b.2.distance(b.3).metres()));
    let Some((lx, ly)) = longest.map(|(_, _, a, b)| (*b - *a).metres()) else { return Vec::new() };
    let edge = |(a, b, from, to): &(&'a PointId, &'a PointId, PlanPoint, PlanPoint)| {
        let (rise, sd) = look.ground.levels.rise(a, b)?;
        let (x, y) = (*to - *from).metres();
        // Nearer to the long side's direction than to square of it.
        let along = (x * lx + y * ly).abs() >= (x * ly - y * lx).abs();
        let run = Length::from_metres(float::hypot(x, y));
        let percent = Slope::of(rise.abs(), run)?.percent();
        Some(Edge { ends: [a, b], run, rise, doubt: sd * 2.0, along, percent })
    };
    all.iter().filter_map(edge).collect()
}

fn slope(
    look: &Look,
    thing: &Recorded<Feature>,
    word: &str,
    what: String,
    edge: Edge,
    limit: f64,
) -> Concern {
    let how = "Worth a note, the more so where somebody uses a wheelchair, a walker or a barrow.";
    let mut c = concern(Topic::Slopes, look.key(word, &thing.what.points), what, how);
    let [from, to] = edge.ends.map(|id| look.record.label(id));
    let doubt = Slope::of(edge.doubt, edge.run).map_or(0.0, Slope::percent);
    c.numbers = vec![
        ("slope", say!("{} % ± {} %", percent(edge.percent), percent(doubt))),
        ("named limit", say!("{} % (1 in {})", percent(limit), format_number(100.0 / limit, 0))),
        (
            "steepest between",
            say!("{from} and {to}: {} in {}", look.write(edge.rise.abs()), look.write(edge.run)),
        ),
    ];
    c.used = vec![say!("heights of {from} and {to}")];
    let bare = thing.what.points.iter().filter(|p| !look.ground.levels.points.contains_key(*p));
    let bare: Vec<&str> = bare.map(|p| look.record.label(p)).collect();
    if !bare.is_empty() {
        c.missing.push(say!("heights of {}", few(&bare)));
    }
    (c.source, c.at) = (SOURCE, look.places(&[edge.ends[0].clone()]).first().copied());
    c.about = vec![thing.entry.clone()];
    c.mended(Mend::Levels)
}
