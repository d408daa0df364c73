//! What every sheet of a plan is drawn from, worked out once.

use super::Options;
use super::contours::Contours;
use super::furniture::{Number, Subject};
use super::questions::{self, Question};
use super::view::Extent;
use crate::checks::{Concern, Line, concerns, lines_on};
use crate::network::{Adjustment, Freedom};
use crate::plan::{Ground, Outline, PlacedPhoto, Plan, placed_photos, with_sketch};
use crate::record::{PointId, Record};
use crate::units::{Angle, Length};
use std::collections::{BTreeMap, BTreeSet};

/// All that sheets show, whatever their scale.
pub(super) struct Prepared<'a> {
    pub record: &'a Record,
    adjustment: &'a Adjustment,
    /// With what is only sketched, without what has no place.
    pub plan: Plan,
    pub photos: Vec<PlacedPhoto>,
    ground: Ground,
    contours: Contours,
    questions: Vec<Question>,
    sketched: BTreeSet<PointId>,
    labels: BTreeMap<&'a PointId, &'a str>,
    worth: Vec<Concern>,
    left: Vec<Line>,
    /// How far the plan is turned on the paper.
    pub turn: Angle,
    /// The box around everything drawn.
    pub extent: Option<Extent>,
}

impl<'a> Prepared<'a> {
    pub fn of(record: &'a Record, adjustment: &'a Adjustment, plan: &Plan, options: &Options) -> Self {
        let sketched = only_sketched(plan);
        // Looking everything over takes a while; without an answer there is nothing to list.
        let answered = record.notes().iter().any(|note| !note.what.settles.is_empty());
        let ground = Ground::of(record, &finite(plan));
        let contours =
            if options.layers.contours { Contours::of(&ground, plan) } else { Contours::default() };
        let mut left = if answered { lines_on(record, adjustment, plan, &ground) } else { Vec::new() };
        left.retain(|line| !line.is_open());
        let worth = if options.layers.worth { concerns(record, plan, &ground) } else { Vec::new() };
        let plan = sketched_in(plan, record);
        let turn = options.turn.of(&plan);
        let photos = if options.layers.photos { placed_photos(record, &plan) } else { Vec::new() };
        // A number on the plan without its list says nothing.
        let listed = options.layers.lists && !options.without_lists;
        let questions = if listed { questions::of(record, &plan, &photos) } else { Vec::new() };
        let labels = record.points.iter().map(|p| (&p.id, p.label.as_str())).collect();
        let extent = Extent::of(&plan, &photos, turn);
        Self {
            record,
            adjustment,
            plan,
            photos,
            ground,
            contours,
            questions,
            sketched,
            labels,
            worth,
            left,
            turn,
            extent,
        }
    }

    /// The same for one sheet: how it shall be, and which of how many it is.
    pub fn subject<'s>(&'s self, options: &'s Options, number: Option<Number>) -> Subject<'s> {
        Subject {
            record: self.record,
            adjustment: self.adjustment,
            plan: &self.plan,
            photos: &self.photos,
            ground: &self.ground,
            contours: &self.contours,
            questions: &self.questions,
            sketched: &self.sketched,
            labels: &self.labels,
            concerns: &self.worth,
            left: &self.left,
            options,
            number,
        }
    }
}

/// The points that only the sketch places.
pub(super) fn only_sketched(plan: &Plan) -> BTreeSet<PointId> {
    let unread = plan.points.iter().filter(|p| p.freedom == Some(Freedom::Unmeasured)).map(|p| &p.id);
    unread.chain(plan.unplaced.iter().map(|(id, _)| id)).cloned().collect()
}

/// The plan as sheets show it: what is only sketched is drawn beside what is measured, and says so; alone it would be
/// no plan.
pub(super) fn sketched_in(plan: &Plan, record: &Record) -> Plan {
    finite(&if plan.points.is_empty() { plan.clone() } else { with_sketch(plan, record) })
}

/// The plan without anything whose place is no number, which no reading can cause but a damaged
/// file could.
fn finite(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    plan.points.retain(|p| p.at.is_finite());
    plan.shapes.retain(|shape| is_finite(&shape.outline));
    plan.taped.retain(|t| t.from_at.is_finite() && t.to_at.is_finite());
    for problem in &mut plan.problems {
        problem.at = problem.at.filter(|at| at.is_finite());
        problem.outline = problem.outline.take().filter(is_finite);
    }
    plan.north = plan.north.filter(|north| north.direction.radians().is_finite());
    plan
}

fn is_finite(outline: &Outline) -> bool {
    match outline {
        Outline::Spot(at) => at.is_finite(),
        Outline::Line(all) | Outline::Area(all) => all.iter().all(|at| at.is_finite()),
        Outline::Circle { centre, inner, outer } => {
            centre.is_finite() && inner.is_none_or(Length::is_finite) && outer.is_none_or(Length::is_finite)
        }
    }
}
