//! How the ground falls away from the house, wall by wall, at its worst place ([`grade`]).

use super::look::{Look, concern};
use super::near::Body;
use super::{Concern, Topic};
use crate::checks::grade::{Grade, OVER, WallFall, asked, falls};
use crate::checks::list::few;
use crate::checks::{Mend, Weight};
use crate::levels::Slope;
use crate::record::{EntryId, PointId};
use crate::units::format::format_number;
use crate::units::{Length, PlanPoint, PlanVec};

const SOURCE: &str = "International Residential Code R401.3: 6 in within the first 10 ft; paved, 2 %";

/// Where the next height out lies farther (metres) from the wall than this, the ground between was not read: 12 ft 6 in,
/// a quarter more than codes ask a fall over. Our choice.
const BETWEEN: f64 = 3.81;
/// No more than this (metres) is a rounding.
const ROUND: f64 = 1e-6;

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
        for (side, (from, to)) in corners.iter().zip(corners.iter().cycle().skip(1)).enumerate() {
            let wall = Wall { from: *from, to: *to };
            let paved = |fall: &WallFall| {
                let middle = fall.foot + half(fall.out - fall.foot);
                let spot = Body::spot(middle, Length::ZERO);
                paving.iter().any(|body| body.gap(&spot) == Some(Length::ZERO))
            };
            // The worst is what lacks most of what is asked there.
            let lacks = |fall: &WallFall| asked(paved(fall)) - fall.slope().map_or(0.0, Slope::percent);
            let own: Vec<&WallFall> = all.iter().filter(|fall| fall.side == side).collect();
            match own.iter().max_by(|a, b| lacks(a).total_cmp(&lacks(b))) {
                Some(worst) => {
                    let seen = wall.seen(look, &own);
                    found.extend(wall_falls(look, &wall, seen, **worst, paved(worst), &house.entry));
                }
                None => bare.push([wall.from.0, wall.to.0]),
            }
        }
        found.extend(unknown(look, &bare, &house.entry));
    }
}

/// A wall, from corner to corner.
struct Wall<'a> {
    from: (&'a PointId, PlanPoint),
    to: (&'a PointId, PlanPoint),
}

impl Wall<'_> {
    /// Whether each end's fall is known: a height at its corner, and a fall seen no farther off than walls are looked at.
    fn seen(&self, look: &Look, own: &[&WallFall]) -> [bool; 2] {
        [self.from.1, self.to.1].map(|end| {
            let near = |fall: &&WallFall| fall.wall.distance(end).metres() <= OVER.metres() + ROUND;
            look.is_corner_read(end) && own.iter().any(near)
        })
    }

    /// Of which part of it a fall speaks when so much was seen, and what would have to be read for the rest.
    fn part(&self, look: &Look, seen: [bool; 2], worst: &WallFall) -> (String, Vec<String>) {
        let [from, to] = [self.from.0, self.to.0].map(|id| look.record.label(id));
        let nearer = |end: PlanPoint, other: PlanPoint| {
            worst.wall.distance(end).metres() <= worst.wall.distance(other).metres() + ROUND
        };
        let place = match seen {
            [true, true] => say!("Along the wall {from} to {to}"),
            [true, false] if nearer(self.from.1, self.to.1) => {
                say!("At the {from} end of the wall {from} to {to}")
            }
            [false, true] if nearer(self.to.1, self.from.1) => {
                say!("At the {to} end of the wall {from} to {to}")
            }
            _ => say!("At the wall {from} to {to}, near {},", look.spot_at(worst.foot)),
        };
        let ends = [from, to].into_iter().zip(seen).filter(|(_, seen)| !seen);
        (place, ends.map(|(end, _)| say!("heights along the wall toward {end}")).collect())
    }
}

fn half(way: PlanVec) -> PlanVec {
    PlanVec { x: way.x * 0.5, y: way.y * 0.5 }
}

fn wall_falls(
    look: &Look,
    wall: &Wall,
    seen: [bool; 2],
    worst: WallFall,
    paved: bool,
    house: &EntryId,
) -> Option<Concern> {
    let grade = worst.grade(paved);
    if grade == Grade::Enough {
        return None;
    }
    let doubt = look.doubt_between(worst.foot, worst.out);
    // What is wanting may be no more than what the heights are off.
    if worst.run * (asked(paved) / 100.0) - worst.fall <= doubt {
        return None;
    }
    let (ground, run) = (if paved { "paving" } else { "ground" }, look.write(worst.run));
    let asks = if paved {
        say!("Codes ask paving to fall 2 % away from the house")
    } else {
        say!("Codes ask for {} within the first {}", look.write(Length::from_inches(6.0)), look.write(OVER))
    };
    let fall = look.write(worst.fall.abs());
    let (place, lacking) = wall.part(look, seen, &worst);
    let mut what = if worst.fall.abs() <= doubt {
        say!("{place} the {ground} is about level over {run}")
    } else if grade == Grade::TowardHouse {
        say!("{place} the {ground} falls toward the house: {fall} in {run}")
    } else {
        say!("{place} the {ground} falls away by only {fall} in {run}")
    };
    let far = look.runs_to(worst.foot, worst.out).filter(|(_, out)| out.metres() > BETWEEN);
    if let Some((spot, out)) = far {
        let out = look.about(out);
        what = say!(
            "{what}, if it runs evenly between the heights read: the nearest out there, {}, is {out} out",
            spot.label
        );
    }
    let slope = worst.slope().map_or(0.0, Slope::percent);
    let how = say!("{asks}: worth a note to whoever grades, since water at a foundation does harm.");
    let mut c =
        concern(Topic::Water, look.key("fall", &[wall.from.0.clone(), wall.to.0.clone()]), what, &how);
    c.numbers = vec![
        ("fall away from the wall", say!("{} ± {}", look.write(worst.fall), look.write(doubt))),
        ("over", run),
        ("slope", say!("{} %", format_number(slope, 1))),
        ("asked", say!("{} %", asked(paved))),
    ];
    c.used = look.heights_near(&[worst.foot, worst.out]);
    c.missing = lacking;
    c.missing.extend(
        far.map(|(spot, _)| say!("heights between the wall and {}: the ± counts only the rod", spot.label)),
    );
    if worst.run < OVER * 0.9 {
        c.missing.push(say!("heights {} out from the wall", look.write(OVER)));
    }
    (c.source, c.at) = (SOURCE, Some(worst.foot));
    c.about = vec![house.clone()];
    Some(c.mended(Mend::Levels))
}

/// Walls at which no height was read.
fn unknown(look: &Look, bare: &[[&PointId; 2]], house: &EntryId) -> Option<Concern> {
    let first = bare.first()?;
    let name =
        |wall: &[&PointId; 2]| say!("{} to {}", look.record.label(wall[0]), look.record.label(wall[1]));
    let names: Vec<String> = bare.iter().map(name).collect();
    let what = say!("How the ground falls away is not known at {} of the house", walls(&names));
    let how = "Take a level at the foot of the wall and another 10 ft (3 m) out.";
    let mut c = concern(Topic::Water, look.key("unlevelled", &first.map(Clone::clone)), what, how);
    c.weight = Weight::Visit;
    c.missing = vec![say!("heights at {}", walls(&names))];
    c.source = SOURCE;
    c.about = vec![house.clone()];
    Some(c.mended(Mend::Levels))
}

fn walls(names: &[String]) -> String {
    let word = if names.len() == 1 { "the wall" } else { "the walls" };
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    say!("{word} {}", few(&names))
}
