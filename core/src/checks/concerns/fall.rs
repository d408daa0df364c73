//! How the ground falls away from the house, wall by wall, at its worst place ([`grade`]).

use super::look::{Look, concern};
use super::near::Body;
use super::{Concern, Topic};
use crate::checks::grade::{Grade, OVER, WallFall, asked, falls};
use crate::checks::list::few;
use crate::checks::{Mend, Weight};
use crate::levels::Slope;
use crate::record::{EntryId, PointId};
use crate::units::format::fixed;
use crate::units::{Length, PlanPoint, PlanVec};

const SOURCE: &str = "International Residential Code R401.3: 6 in within the first 10 ft; paved, 2 %";

/// Corners of a house, each with its place.
type Corners<'a> = Vec<(&'a PointId, PlanPoint)>;

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    let Ok(surface) = &look.ground.surface else { return };
    let paving: Vec<Body> = look.things("patio drive path pad").filter_map(|f| look.body(&f.entry)).collect();
    for house in look.things("house") {
        let corners: Option<Corners> = house
            .what
            .points
            .iter()
            .map(|id| Some((id, *look.places(std::slice::from_ref(id)).first()?)))
            .collect();
        let Some(corners) = corners.filter(|corners| corners.len() > 2) else { continue };
        let outline: Vec<PlanPoint> = corners.iter().map(|(_, at)| *at).collect();
        let all: Vec<WallFall> = falls(&outline, surface)
            .into_iter()
            .filter(|f| look.is_read(f.foot) && look.is_read(f.out))
            .collect();
        let mut bare = Vec::new();
        for (side, ((from, _), (to, _))) in corners.iter().zip(corners.iter().cycle().skip(1)).enumerate() {
            let wall = [*from, *to];
            let paved = |fall: &WallFall| {
                let middle = fall.foot + half(fall.out - fall.foot);
                let spot = Body::spot(middle, Length::ZERO);
                paving.iter().any(|body| body.gap(&spot) == Some(Length::ZERO))
            };
            // The worst is what lacks most of what is asked there.
            let lacks = |fall: &WallFall| asked(paved(fall)) - fall.slope().map_or(0.0, Slope::percent);
            let own = all.iter().filter(|fall| fall.side == side);
            match own.max_by(|a, b| lacks(a).total_cmp(&lacks(b))) {
                Some(worst) => found.extend(wall_falls(look, wall, *worst, paved(worst), &house.entry)),
                None => bare.push(wall),
            }
        }
        found.extend(unknown(look, &bare, &house.entry));
    }
}

fn half(way: PlanVec) -> PlanVec {
    PlanVec { x: way.x * 0.5, y: way.y * 0.5 }
}

fn wall_falls(
    look: &Look,
    wall: [&PointId; 2],
    worst: WallFall,
    paved: bool,
    house: &EntryId,
) -> Option<Concern> {
    let grade = worst.grade(paved);
    if grade == Grade::Enough {
        return None;
    }
    let [from, to] = wall.map(|id| look.record.label(id));
    let doubt = look.doubt_between(worst.foot, worst.out);
    // What is wanting may be no more than what the heights are off.
    if worst.run * (asked(paved) / 100.0) - worst.fall <= doubt {
        return None;
    }
    let (ground, run) = (if paved { "paving" } else { "ground" }, look.write(worst.run));
    let asks = if paved {
        "Codes ask paving to fall 2 % away from the house".to_owned()
    } else {
        format!(
            "Codes ask for {} within the first {}",
            look.write(Length::from_inches(6.0)),
            look.write(OVER)
        )
    };
    let fall = look.write(worst.fall.abs());
    let what = if worst.fall.abs() <= doubt {
        format!("Along the wall {from} to {to} the {ground} is about level over {run}")
    } else if grade == Grade::TowardHouse {
        format!("Along the wall {from} to {to} the {ground} falls toward the house: {fall} in {run}")
    } else {
        format!("Along the wall {from} to {to} the {ground} falls away by only {fall} in {run}")
    };
    let slope = worst.slope().map_or(0.0, Slope::percent);
    let how = format!("{asks}: worth a note to whoever grades, since water at a foundation does harm.");
    let mut c = concern(Topic::Water, look.key("fall", &wall.map(Clone::clone)), what, &how);
    c.numbers = vec![
        ("fall away from the wall", format!("{} ± {}", look.write(worst.fall), look.write(doubt))),
        ("over", run),
        ("slope", format!("{} %", fixed(slope, 1))),
        ("asked", format!("{} %", asked(paved))),
    ];
    c.used = look.heights_near(&[worst.foot, worst.out]);
    if worst.run < OVER * 0.9 {
        c.missing.push(format!("heights {} out from the wall", look.write(OVER)));
    }
    (c.source, c.at) = (SOURCE, Some(worst.foot));
    c.about = vec![house.clone()];
    Some(c.mended(Mend::Levels))
}

/// Walls at which no height was read.
fn unknown(look: &Look, bare: &[[&PointId; 2]], house: &EntryId) -> Option<Concern> {
    let first = bare.first()?;
    let name =
        |wall: &[&PointId; 2]| format!("{} to {}", look.record.label(wall[0]), look.record.label(wall[1]));
    let names: Vec<String> = bare.iter().map(name).collect();
    let what = format!("How the ground falls away is not known at {} of the house", walls(&names));
    let how = "Take a level at the foot of the wall and another 10 ft (3 m) out.";
    let mut c = concern(Topic::Water, look.key("unlevelled", &first.map(Clone::clone)), what, how);
    c.weight = Weight::Visit;
    c.missing = vec![format!("heights at {}", walls(&names))];
    c.source = SOURCE;
    c.about = vec![house.clone()];
    Some(c.mended(Mend::Levels))
}

fn walls(names: &[String]) -> String {
    let word = if names.len() == 1 { "the wall" } else { "the walls" };
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    format!("{word} {}", few(&names))
}
