//! The house's walls: which are bare, and which sides no photo shows.

use super::list::List;
use super::words::listed;
use super::{Mend, Weight};
use crate::plan::{Plan, place_of, placed_photos};
use crate::record::{At, Measurement, PointId, Record, kind};
use crate::units::outline::outward;
use crate::units::{PlanPoint, float};

/// So near a wall a thing stands on it, in metres.
const ON_WALL: f64 = 0.3;

/// Whether there are corners of a house, by their letter, and no house made of them.
#[must_use]
pub fn undrawn(record: &Record) -> bool {
    let Some(house) = kind("house") else { return false };
    let corner = |label: &str| {
        label.strip_prefix(house.prefix).is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
    };
    let corners = record.points.iter().filter(|p| corner(&p.label)).count();
    corners >= 3 && !record.features.iter().any(|f| f.what.kind == house.key)
}

/// A wall of the house between two corners.
struct Wall<'a> {
    from: &'a PointId,
    to: &'a PointId,
    start: PlanPoint,
    end: PlanPoint,
    /// Out of the house, of length 1.
    out: (f64, f64),
}

impl Wall<'_> {
    fn length(&self) -> f64 {
        self.start.distance(self.end).metres()
    }

    /// How far along and how far out a place is, in metres.
    fn seen_from(&self, at: PlanPoint) -> (f64, f64) {
        let (dx, dy) = (at - self.start).metres();
        // The wall runs at right angles to what is out of it.
        let (x, y) = (self.end - self.start).metres();
        let long = float::hypot(x, y).max(f64::MIN_POSITIVE);
        ((dx * x + dy * y) / long, dx * self.out.0 + dy * self.out.1)
    }

    fn bears(&self, at: PlanPoint) -> bool {
        let (along, off) = self.seen_from(at);
        off.abs() < ON_WALL && along > ON_WALL / 3.0 && along < self.length() - ON_WALL / 3.0
    }

    fn touches(&self, point: &PointId) -> bool {
        self.from == point || self.to == point
    }
}

/// The walls of every house drawn, in order round each.
fn walls<'a>(record: &'a Record, plan: &Plan) -> Vec<Wall<'a>> {
    let at = |id: &PointId| plan.points.iter().find(|p| p.id == *id).map(|p| p.at);
    let mut all = Vec::new();
    for house in record.features.iter().filter(|f| f.what.kind == "house") {
        let corners: Option<Vec<(&PointId, PlanPoint)>> =
            house.what.points.iter().map(|id| Some((id, at(id)?))).collect();
        let Some(corners) = corners.filter(|corners| corners.len() > 2) else { continue };
        let pairs = corners.iter().zip(corners.iter().cycle().skip(1));
        let outline: Vec<PlanPoint> = corners.iter().map(|(_, at)| *at).collect();
        all.extend(pairs.zip(outward(&outline)).filter_map(|(((from, start), (to, end)), out)| {
            let wall = Wall { from, to, start: *start, end: *end, out: out? };
            (wall.length() > ON_WALL).then_some(wall)
        }));
    }
    all
}

/// Walls nothing was read on.
pub(super) fn bare(list: &mut List, record: &Record, plan: &Plan) {
    let things: Vec<PlanPoint> = record
        .features
        .iter()
        .filter(|f| f.what.kind != "house")
        .flat_map(|f| &f.what.points)
        .filter_map(|id| plan.points.iter().find(|p| p.id == *id))
        .map(|p| p.at)
        .collect();
    let read = |wall: &Wall| {
        record.measurements.iter().any(|m| match &m.what {
            Measurement::Run { zero, toward, readings, .. } => {
                wall.touches(zero)
                    && wall.touches(toward)
                    && readings.iter().any(|row| !wall.touches(&row.point))
            }
            _ => false,
        })
    };
    let bare = |wall: &&Wall| !read(wall) && !things.iter().any(|at| wall.bears(*at));
    let item = |wall: &Wall| {
        let (from, to) = (record.label(wall.from), record.label(wall.to));
        (format!("wall {from} {to}"), say!("{from} to {to}"))
    };
    let items = walls(record, plan).iter().filter(bare).map(item).collect();
    let how = "Hook the tape at a corner and read doors, windows, taps, pipes one after the other.";
    list.many(items, Weight::Visit, how, Mend::Run, |walls| match walls {
        [one] => say!("Nothing is on the wall {one} of the house"),
        walls => say!("Nothing is on the walls {} of the house", listed(walls)),
    });
}

/// Sides of the house that no photo shows. A side is what looks the same way, to half a right angle.
pub(super) fn unseen(list: &mut List, record: &Record, plan: &Plan) {
    let walls = walls(record, plan);
    let Some(longest) = walls.iter().max_by(|a, b| a.length().total_cmp(&b.length())) else { return };
    let (ox, oy) = longest.out;
    let quarter = |wall: &Wall| {
        let (x, y) = wall.out;
        let (along, left) = (x * ox + y * oy, ox * y - oy * x);
        match along.abs() >= left.abs() {
            true if along > 0.0 => 0_usize,
            true => 2,
            false if left > 0.0 => 1,
            false => 3,
        }
    };
    let photos = placed_photos(record, plan);
    let shows = |wall: &Wall| {
        photos.iter().zip(&record.photos).any(|(placed, photo)| {
            let toward = placed.facing.map(|facing| {
                let (x, y) = (float::cos(facing.radians()), float::sin(facing.radians()));
                -(x * wall.out.0 + y * wall.out.1)
            });
            let looks = toward.is_none_or(|toward| toward > 0.3);
            let beside = match &photo.what.at {
                At::Points(points) => {
                    points.iter().any(|p| wall.touches(p))
                        || place_of(&photo.what.at, plan).is_some_and(|at| wall.bears(at))
                }
                _ => false,
            };
            let before = placed.at.is_some_and(|at| {
                let (along, off) = wall.seen_from(at);
                off > ON_WALL && along > -off && along < wall.length() + off
            });
            looks && (beside || before)
        })
    };
    let mut items = Vec::new();
    let mut done = [false; 4];
    for first in &walls {
        let Some(done) = done.get_mut(quarter(first)).filter(|done| !**done) else { continue };
        *done = true;
        let own: Vec<&Wall> = walls.iter().filter(|wall| quarter(wall) == quarter(first)).collect();
        let longer = |a: &&Wall, b: &&Wall| a.length().total_cmp(&b.length());
        if let Some(widest) =
            own.iter().copied().max_by(longer).filter(|_| !own.iter().any(|wall| shows(wall)))
        {
            let (from, to) = (record.label(widest.from), record.label(widest.to));
            items.push((format!("photo {from} {to}"), say!("{from} to {to}")));
        }
    }
    let how = "Take one from further back, and pin it to where you stood.";
    list.many(items, Weight::Visit, how, Mend::Photos, |sides| match sides {
        [one] => say!("No photo shows the side {one} of the house"),
        sides => say!("No photo shows the sides {} of the house", listed(sides)),
    });
}
