//! Between the freehand sketch and the plan: the sketch keeps its own frame, the plan turns as
//! readings come in, and a finger on the plan must be written into the sketch.

use super::build::{bounds, shapes};
use super::{PlacedPoint, Plan};
use crate::network::{Freedom, PointState};
use crate::record::{At, PointId, Record};
use crate::units::PlanPoint;

/// plan = a · sketch + t, as complex numbers: a turns and stretches, t shifts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    a: (f64, f64),
    t: (f64, f64),
}

/// The two frames are one while nothing is measured.
const SAME: Frame = Frame { a: (1.0, 0.0), t: (0.0, 0.0) };

const fn times(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    (a.0 * b.0 - a.1 * b.1, a.0 * b.1 + a.1 * b.0)
}

fn mean(values: impl Iterator<Item = (f64, f64)>, n: f64) -> (f64, f64) {
    let (x, y) = values.fold((0.0, 0.0), |sum, v| (sum.0 + v.0, sum.1 + v.1));
    (x / n, y / n)
}

impl Frame {
    /// The turn, stretch and shift that bring the sketch nearest to the plan (least squares over
    /// the points that have a place in both; a two-dimensional similarity in closed form).
    #[must_use]
    pub fn fit(record: &Record, plan: &Plan) -> Self {
        let pairs: Vec<((f64, f64), (f64, f64))> = plan
            .points
            .iter()
            .filter_map(|p| Some((record.sketch.get(&p.id)?.metres(), p.at.metres())))
            .collect();
        #[allow(clippy::cast_precision_loss, reason = "a few dozen points")]
        let n = pairs.len() as f64;
        if pairs.is_empty() {
            return SAME;
        }
        let (from, to) = (mean(pairs.iter().map(|p| p.0), n), mean(pairs.iter().map(|p| p.1), n));
        let mut above = (0.0, 0.0);
        let mut below = 0.0;
        for (s, p) in &pairs {
            // conjugate(s − mean) · (p − mean)
            let (s, p) = ((s.0 - from.0, from.1 - s.1), (p.0 - to.0, p.1 - to.1));
            let product = times(s, p);
            above = (above.0 + product.0, above.1 + product.1);
            below += s.0 * s.0 + s.1 * s.1;
        }
        let a = (above.0 / below, above.1 / below);
        let size = a.0 * a.0 + a.1 * a.1;
        // One point, or all on one spot: only the shift can be told.
        let a = if size.is_finite() && size > 1e-6 { a } else { (1.0, 0.0) };
        let turned = times(a, from);
        Self { a, t: (to.0 - turned.0, to.1 - turned.1) }
    }

    /// From the sketch's frame to the plan's.
    #[must_use]
    pub fn plan_from_sketch(self, at: PlanPoint) -> PlanPoint {
        let turned = times(self.a, at.metres());
        PlanPoint::from_metres(turned.0 + self.t.0, turned.1 + self.t.1)
    }

    /// From the plan's frame to the sketch's.
    #[must_use]
    pub fn sketch_from_plan(self, at: PlanPoint) -> PlanPoint {
        let (x, y) = at.metres();
        let (x, y) = times((self.a.0, -self.a.1), (x - self.t.0, y - self.t.1));
        let size = self.a.0 * self.a.0 + self.a.1 * self.a.1;
        PlanPoint::from_metres(x / size, y / size)
    }
}

/// The plan with the points that only the sketch places, drawn where the finger put them, and with what
/// stands on them.
#[must_use]
pub fn with_sketch(plan: &Plan, record: &Record) -> Plan {
    let mut shown = plan.clone();
    let frame = Frame::fit(record, plan);
    let note = |id: &PointId| record.points.iter().find(|p| p.id == *id).map(|p| p.note.clone());
    // A problem at a point that only the sketch places stands there, too.
    let sketched = |id: &PointId| record.sketch.get(id).map(|at| frame.plan_from_sketch(*at));
    for placed in shown.problems.iter_mut().filter(|p| p.at.is_none()) {
        let problem = record.problems.iter().find(|p| p.entry == placed.entry);
        placed.at = match problem.map(|p| &p.what.at) {
            Some(At::Points(ids)) => ids.iter().find_map(sketched),
            _ => None,
        };
    }
    shown.unplaced.retain(|(id, label)| {
        let Some(sketched) = record.sketch.get(id) else { return true };
        let at = frame.plan_from_sketch(*sketched);
        shown.points.push(PlacedPoint {
            id: id.clone(),
            label: label.clone(),
            note: note(id).unwrap_or_default(),
            at,
            state: PointState::Loose,
            ellipse: None,
            freedom: Some(Freedom::Unmeasured),
        });
        false
    });
    if shown.points.len() > plan.points.len() {
        shown.shapes = shapes(record, &shown.points);
        shown.bounds = bounds(&shown);
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Bounds;

    // A quarter turn to the left, twice the size, shifted by (10, 1): worked by hand.
    #[test]
    fn a_turned_and_stretched_sketch_is_found_and_undone() {
        let mut record = Record::default();
        let mut plan = Plan::default();
        for (id, (sx, sy), (px, py)) in
            [("a", (0.0, 0.0), (10.0, 1.0)), ("b", (3.0, 0.0), (10.0, 7.0)), ("c", (3.0, 2.0), (6.0, 7.0))]
        {
            record.sketch.insert(id.into(), PlanPoint::from_metres(sx, sy));
            plan.points.push(PlacedPoint {
                id: id.into(),
                label: id.to_uppercase(),
                note: String::new(),
                at: PlanPoint::from_metres(px, py),
                state: PointState::Fixed,
                ellipse: None,
                freedom: None,
            });
        }
        let frame = Frame::fit(&record, &plan);
        let (x, y) = frame.plan_from_sketch(PlanPoint::from_metres(0.0, 2.0)).metres();
        assert!((x - 6.0).abs() < 1e-9 && (y - 1.0).abs() < 1e-9, "{x} {y}");
        let (x, y) = frame.sketch_from_plan(PlanPoint::from_metres(6.0, 1.0)).metres();
        assert!(x.abs() < 1e-9 && (y - 2.0).abs() < 1e-9);
    }

    #[test]
    fn before_anything_is_measured_the_sketch_is_the_plan() {
        let mut record = Record::default();
        let at = PlanPoint::from_metres(4.0, 5.0);
        record.sketch.insert("a".into(), at);
        let plan = Plan { unplaced: vec![("a".into(), "A".into())], ..Plan::default() };
        let shown = with_sketch(&plan, &record);
        assert_eq!(shown.points[0].at, at);
        assert!(shown.unplaced.is_empty());
        assert_eq!(shown.bounds, Some(Bounds { min: at, max: at }));
    }

    #[test]
    fn what_stands_on_sketched_points_is_drawn_and_not_certain() {
        let mut record = Record::default();
        for (id, x) in [("a", 0.0), ("b", 4.0)] {
            record.sketch.insert(id.into(), PlanPoint::from_metres(x, 0.0));
        }
        let fence = crate::record::Feature {
            kind: "fence".to_owned(),
            points: vec!["a".into(), "b".into()],
            name: String::new(),
            fate: None,
            attributes: <_>::default(),
            curved: false,
            told: false,
            note: String::new(),
        };
        let (entry, author) = ("f".into(), "x".into());
        record.features.push(crate::record::Recorded { entry, author, at_ms: 0, what: fence });
        let unplaced = vec![("a".into(), "A".into()), ("b".into(), "B".into())];
        let shown = with_sketch(&Plan { unplaced, ..Plan::default() }, &record);
        assert!(matches!(shown.shapes.as_slice(), [fence] if !fence.certain), "{:?}", shown.shapes);
    }
}
