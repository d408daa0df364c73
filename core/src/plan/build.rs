//! From record and adjustment to the plan.

use super::arc::Arc;
use super::outside::out_of_buildings;
use super::smooth::Smooth;
use super::{Bounds, NorthArrow, Outline, PlacedPoint, PlacedProblem, Plan, Shape, Taped, What};
use crate::language::tr;
use crate::network::{Adjustment, PointState};
use crate::record::{
    At, Attribute, EntryId, Feature, Geometry, Measurement, North, NorthKind, PointId, Problem, Reading,
    Record, Recorded, Side, Spread, UtilityMark, kind,
};
use crate::units::{Angle, Length, PlanPoint, float};
use litemap::LiteMap;

impl Plan {
    /// Resolves the geometry of everything in the record.
    #[must_use]
    pub fn build(record: &Record, adjustment: &Adjustment) -> Self {
        let mut plan = Self::default();
        for point in &record.points {
            let fix = adjustment.points.get(&point.id);
            match fix.and_then(|fix| Some((fix, fix.at.or(fix.guess)?))) {
                Some((fix, at)) => plan.points.push(PlacedPoint {
                    id: point.id.clone(),
                    label: point.label.clone(),
                    note: point.note.clone(),
                    at,
                    state: fix.state,
                    ellipse: fix.ellipse,
                    freedom: fix.freedom.clone(),
                }),
                None => plan.unplaced.push((point.id.clone(), point.label.clone())),
            }
        }
        out_of_buildings(record, &mut plan.points);
        let places = Places::new(record, &plan.points);
        let shapes = places.shapes(record);
        let taped = record.measurements.iter().flat_map(|m| places.taped(&m.entry, &m.what)).collect();
        let problems = record
            .problems
            .iter()
            .zip(1..)
            .map(|(p, number)| PlacedProblem {
                entry: p.entry.clone(),
                number,
                at: places.of(&p.what.at),
                outline: places.spread(&p.what),
                kind: p.what.kind.clone(),
                severity: p.what.severity,
                note: p.what.note.clone(),
            })
            .collect();
        let north = north_said(record, &plan.points).and_then(|north| places.north(north));
        let north = north.or_else(|| found_north(adjustment));
        plan.shapes = shapes;
        plan.taped = taped;
        plan.problems = problems;
        plan.north = north;
        plan.bounds = bounds(&plan);
        plan
    }
}

/// The north that counts in a plan with these points: the first whose line is no loose one, else the first.
pub(crate) fn north_said<'a>(record: &'a Record, points: &[PlacedPoint]) -> Option<&'a North> {
    let certain = |id: &PointId| points.iter().any(|p| p.id == *id && p.state != PointState::Loose);
    let fast = |north: &&North| certain(&north.from) && certain(&north.to);
    record.norths().find(fast).or_else(|| record.north_that_counts())
}

/// Half of a diameter attribute.
fn radius(feature: &Feature, key: &str) -> Option<Length> {
    match feature.attributes.get(key) {
        Some(Attribute::Length(reading)) => Some(reading.value / 2.0),
        _ => None,
    }
}

/// An edge that bows: its ends, and places between them.
type Bow<'a> = (&'a PointId, &'a PointId, Vec<PlanPoint>);

struct Places<'a> {
    at: LiteMap<&'a PointId, (PlanPoint, PointState)>,
    bowed: Vec<Bow<'a>>,
    thick: LiteMap<&'a PointId, Length>,
}

/// Features and utility marks at these points.
pub(super) fn shapes(record: &Record, points: &[PlacedPoint]) -> Vec<Shape> {
    Places::new(record, points).shapes(record)
}

impl<'a> Places<'a> {
    fn new(record: &'a Record, points: &'a [PlacedPoint]) -> Self {
        let mut places = Self { at: LiteMap::new(), bowed: Vec::new(), thick: record.diameters() };
        // One by one: sorting them all at once is a sort of its own to download.
        for point in points {
            places.at.insert(&point.id, (point.at, point.state));
        }
        places.bowed = record.measurements.iter().flat_map(|m| places.bows(&m.what)).collect();
        places
    }

    fn shapes(&self, record: &Record) -> Vec<Shape> {
        let features = record.features.iter().filter_map(|f| self.feature(f));
        features.chain(record.marks.iter().filter_map(|m| self.mark(m))).collect()
    }

    fn at(&self, id: &PointId) -> Option<PlanPoint> {
        self.at.get(id).map(|(at, _)| *at)
    }

    /// The edges that a measurement makes bow.
    fn bows(&self, measurement: &'a Measurement) -> Vec<Bow<'a>> {
        let bows = || match measurement {
            Measurement::Arc { from, to, rise, side } => {
                let left = if *side == Side::Left { 1.0 } else { -1.0 };
                let arc = Arc::by_rise(self.at(from)?, self.at(to)?, rise.value * left)?;
                Some(vec![(from, to, arc.part(0.0, 1.0))])
            }
            Measurement::ArcThrough { from, through, to } => {
                let middle = self.at(through)?;
                let arc = Arc::through(self.at(from)?, middle, self.at(to)?)?;
                let share = arc.share_of(middle);
                let (first, second) = (arc.part(0.0, share), arc.part(share, 1.0));
                let whole = first.iter().chain([&middle]).chain(&second).copied().collect();
                Some(vec![(from, through, first), (through, to, second), (from, to, whole)])
            }
            _ => None,
        };
        bows().unwrap_or_default()
    }

    /// The places of those ids that have one, with the arcs between neighbours; of an area also
    /// from the last to the first. Where it is smooth, legs without an arc of their own bend, too.
    fn outline(&self, ids: &[PointId], closed: bool, smooth: bool) -> Vec<PlanPoint> {
        let placed: Vec<(&PointId, PlanPoint)> =
            ids.iter().filter_map(|id| Some((id, self.at(id)?))).collect();
        let at: Vec<PlanPoint> = placed.iter().map(|(_, at)| *at).collect();
        let smooth = smooth.then(|| Smooth::through(&at, closed));
        let mut all = Vec::new();
        for (i, (id, at)) in placed.iter().enumerate() {
            all.push(*at);
            let after = if i + 1 < placed.len() { i + 1 } else { 0 };
            let Some((next, _)) = placed.get(after).filter(|_| after > 0 || closed) else { continue };
            let smooth = || smooth.as_ref().map(|smooth| smooth.between(i, after));
            all.extend(self.bow(id, next).or_else(smooth).into_iter().flatten());
        }
        all
    }

    /// The places on the arc between two points, when one was measured.
    fn bow(&self, from: &PointId, to: &PointId) -> Option<Vec<PlanPoint>> {
        let there = |(a, b, _): &&Bow| (*a == from && *b == to) || (*a == to && *b == from);
        // The last one said counts.
        let (a, _, between) = self.bowed.iter().rev().find(there)?;
        let mut between = between.clone();
        if *a != from {
            between.reverse();
        }
        Some(between)
    }

    /// Places of those ids that have one, and whether all of them are determined.
    fn all(&self, ids: &[PointId]) -> (Vec<PlanPoint>, bool) {
        let found: Vec<_> = ids.iter().filter_map(|id| self.at.get(id)).collect();
        let certain = found.len() == ids.len() && found.iter().all(|(_, state)| *state != PointState::Loose);
        (found.into_iter().map(|(at, _)| *at).collect(), certain)
    }

    fn of(&self, at: &At) -> Option<PlanPoint> {
        match at {
            At::Near(at) => Some(*at),
            At::Site => None,
            At::Points(ids) => middle(&self.all(ids).0),
        }
    }

    /// The line or area a problem lies along or over.
    fn spread(&self, problem: &Problem) -> Option<Outline> {
        let At::Points(ids) = &problem.at else { return None };
        let places = self.all(ids).0;
        match problem.spread? {
            Spread::Area if places.len() > 2 => Some(Outline::Area(places)),
            _ if places.len() > 1 => Some(Outline::Line(places)),
            _ => None,
        }
    }

    fn feature(&self, feature: &Recorded<Feature>) -> Option<Shape> {
        let f = &feature.what;
        let (at, certain) = self.all(&f.points);
        let known = kind(&f.kind);
        let smooth = f.curved || known.is_some_and(|kind| kind.geometry == Geometry::Curve);
        let first = *at.first()?;
        let outline = match known.map(|kind| kind.geometry) {
            Some(Geometry::Circle) => Outline::Circle {
                centre: first,
                inner: f.points.first().and_then(|p| self.thick.get(p)).map(|d| *d / 2.0),
                outer: radius(f, "canopy_spread"),
            },
            Some(Geometry::Area) if at.len() > 2 => Outline::Area(self.outline(&f.points, true, smooth)),
            Some(Geometry::Point) | None if at.len() == 1 => Outline::Spot(first),
            _ if at.len() > 1 => Outline::Line(self.outline(&f.points, false, smooth)),
            _ => Outline::Spot(first),
        };
        let title = if f.name.is_empty() { known.map_or(f.kind.as_str(), |k| tr(k.name)) } else { &f.name };
        Some(Shape {
            entry: feature.entry.clone(),
            what: What::Feature(f.kind.clone()),
            title: title.to_owned(),
            outline,
            certain,
            told: f.told,
            zone: None,
            fate: f.fate,
            note: f.note.clone(),
        })
    }

    fn mark(&self, mark: &Recorded<UtilityMark>) -> Option<Shape> {
        let m = &mark.what;
        let (at, certain) = self.all(&m.points);
        let first = *at.first()?;
        let outline = if at.len() > 1 { Outline::Line(at) } else { Outline::Spot(first) };
        Some(Shape {
            entry: mark.entry.clone(),
            what: What::Mark { colour: m.colour, letters: m.letters.clone() },
            title: if m.letters.is_empty() { say!("Utility mark") } else { m.letters.clone() },
            outline,
            certain,
            told: !m.located(),
            zone: m.zone(),
            fate: None,
            note: m.note.clone(),
        })
    }

    fn taped(&self, entry: &EntryId, measurement: &Measurement) -> Vec<Taped> {
        let line = |part, from: &PointId, to: &PointId, reading: &Reading, along| {
            Some(Taped {
                entry: entry.clone(),
                part,
                from: from.clone(),
                to: to.clone(),
                from_at: self.at(from)?,
                to_at: self.at(to)?,
                text: reading.text.clone(),
                length: reading.value,
                along,
            })
        };
        match measurement {
            Measurement::Tie { from, to, reading, .. } => {
                line(0, from, to, reading, false).into_iter().collect()
            }
            Measurement::Run { zero, readings, .. } => readings
                .iter()
                .enumerate()
                .filter_map(|(part, r)| line(part, zero, &r.point, &r.reading, true))
                .collect(),
            Measurement::Walk { start, legs, .. } => {
                let froms = std::iter::once(start).chain(legs.iter().map(|leg| &leg.to));
                froms
                    .zip(legs)
                    .enumerate()
                    .filter_map(|(part, (from, leg))| line(part, from, &leg.to, leg.length.as_ref()?, true))
                    .collect()
            }
            _ => Vec::new(),
        }
    }

    fn north(&self, north: &North) -> Option<NorthArrow> {
        let (x, y) = (self.at(&north.to)? - self.at(&north.from)?).metres();
        // A bearing counts clockwise, the plan's angles counter-clockwise: north lies to the left
        // of the line by the bearing.
        let direction = Angle::from_radians(float::atan2(y, x) + north.bearing.radians());
        Some(NorthArrow { direction, kind: north.kind, source: north.source.clone(), sd: north.sd })
    }
}

/// North by the bearings, true before magnetic, where the book does not say it.
fn found_north(adjustment: &Adjustment) -> Option<NorthArrow> {
    let found = adjustment.norths.iter().max_by_key(|found| found.kind == NorthKind::True)?;
    let source = "bearings".to_owned();
    Some(NorthArrow { direction: found.direction, kind: found.kind, source, sd: Some(found.sd) })
}

fn middle(places: &[PlanPoint]) -> Option<PlanPoint> {
    if places.is_empty() {
        return None;
    }
    #[allow(clippy::cast_precision_loss, reason = "a few dozen points")]
    let n = places.len() as f64;
    let (x, y) = places.iter().map(|p| p.metres()).fold((0.0, 0.0), |(a, b), (x, y)| (a + x, b + y));
    Some(PlanPoint::from_metres(x / n, y / n))
}

pub(super) fn bounds(plan: &Plan) -> Option<Bounds> {
    let mut reach: Vec<(PlanPoint, f64)> = plan.points.iter().map(|p| (p.at, 0.0)).collect();
    for shape in &plan.shapes {
        match &shape.outline {
            Outline::Circle { centre, inner, outer } => {
                reach.push((*centre, outer.or(*inner).map_or(0.0, Length::metres)));
            }
            // An edge may bow beyond its ends.
            Outline::Line(all) | Outline::Area(all) => reach.extend(all.iter().map(|at| (*at, 0.0))),
            Outline::Spot(_) => {}
        }
    }
    let mut all = reach.into_iter().map(|(at, r)| {
        let (x, y) = at.metres();
        (x - r, y - r, x + r, y + r)
    });
    let first = all.next()?;
    let (x0, y0, x1, y1) = all.fold(first, |a, b| (a.0.min(b.0), a.1.min(b.1), a.2.max(b.2), a.3.max(b.3)));
    Some(Bounds { min: PlanPoint::from_metres(x0, y0), max: PlanPoint::from_metres(x1, y1) })
}
