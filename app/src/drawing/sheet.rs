//! Which part of the plan the drawing shows, and how it gets there: fitted, moved by fingers, following the slip.

use super::view::{self, View};
use super::{HeightLabel, Spot, place};
use leptos::prelude::*;
use swingtie_core::plan::{Bounds, Plan};
use swingtie_core::record::PointId;
use swingtie_core::units::PlanPoint;

/// A drawing of so many points takes longer to draw anew than a tap may.
const MANY: usize = 150;
/// How much nearer one press brings the plan.
const STEP: f64 = 1.5;

/// What the drawing keeps while other tabs are looked at.
#[derive(Clone, Copy)]
pub struct Sheet {
    /// The transform.
    pub view: RwSignal<View>,
    /// The view it is drawn in: while fingers move the drawing another one, and it lies there as a picture.
    drawn: RwSignal<View>,
    /// The view it was fitted to last.
    wanted: RwSignal<Option<View>>,
    /// Whether the view follows the plan until the user moves it.
    pub follows: RwSignal<bool>,
    /// Whether tape lines are drawn.
    pub tapes: RwSignal<bool>,
    /// Whether photos are drawn.
    pub photos: RwSignal<bool>,
    /// Whether the ground is drawn: heights, contours, falls, low points.
    pub ground: RwSignal<bool>,
    /// While the ground is drawn, the heights that are written in place of labels, most important first.
    pub heights: RwSignal<Option<Vec<HeightLabel>>>,
    pub(super) size: RwSignal<(f64, f64)>,
    /// Places offered, which must be in sight to be tapped.
    offered: RwSignal<Vec<PlanPoint>>,
    /// What fills the drawing instead of the whole plan.
    pub(super) close: RwSignal<Option<Bounds>>,
    /// Whether there are so many points that to draw them anew takes longer than a tap may.
    many: RwSignal<bool>,
}

impl Sheet {
    /// An empty sheet.
    #[must_use]
    pub fn new() -> Self {
        Self {
            view: RwSignal::new(View::blank(390.0, 420.0)),
            drawn: RwSignal::new(View::blank(390.0, 420.0)),
            wanted: RwSignal::new(None),
            follows: RwSignal::new(true),
            tapes: RwSignal::new(true),
            photos: RwSignal::new(false),
            ground: RwSignal::new(false),
            heights: RwSignal::new(None),
            size: RwSignal::new((0.0, 0.0)),
            offered: RwSignal::new(Vec::new()),
            close: RwSignal::new(None),
            many: RwSignal::new(false),
        }
    }

    /// The view it is drawn in. Tracked.
    #[must_use]
    pub fn drawn(self) -> View {
        self.drawn.get()
    }

    /// Draws it here.
    fn show(self, view: View) {
        self.view.set(view);
        self.rest();
    }

    /// Fingers move it: the picture follows, and is drawn anew only where it was stretched or moved too far.
    pub(super) fn glide(self, view: View) {
        self.follows.set(false);
        if !view.is_near(self.drawn.get_untracked()) {
            self.drawn.set(view);
        }
        self.view.set(view);
    }

    /// No finger is on the glass any more. Where nothing was moved nothing is drawn: all signs would be for nothing.
    pub(super) fn rest(self) {
        let view = self.view.get_untracked();
        if self.drawn.get_untracked() != view {
            self.drawn.set(view);
        }
    }

    /// How the picture lies over where it was drawn. Tracked.
    pub(super) fn laid(self) -> String {
        let (view, drawn) = (self.view.get(), self.drawn.get());
        if view == drawn {
            return String::new();
        }
        let (stretch, left, top) = view.over(drawn);
        format!("transform:translate({left:.2}px,{top:.2}px) scale({stretch:.5})")
    }

    pub(super) fn fit(self, plan: &Plan) {
        let (width, height) = self.size.get_untracked();
        if width < 1.0 {
            return;
        }
        let view = match self.close.get_untracked().or(plan.bounds) {
            Some(bounds) if plan.points.len() > 1 => {
                View::fit(self.offered.with_untracked(|places| view::around(bounds, places)), width, height)
            }
            _ => View::blank(width, height),
        };
        let first = self.wanted.get_untracked().is_none();
        self.wanted.set(Some(view));
        let many = plan.points.len() >= MANY;
        self.many.set(many);
        if first || !many {
            self.show(view);
        } else if !view.is_near(self.view.get_untracked()) {
            self.leap(view);
        } else if view != self.view.get_untracked() {
            self.slide(view);
        }
    }

    /// A large drawing shows something else, or closer: it is drawn once what was tapped has answered.
    fn leap(self, view: View) {
        leptos::task::spawn_local(async move {
            crate::device::shown().await;
            // Something else may be wanted since, or a finger moves it.
            let still = self.wanted.try_get_untracked() == Some(Some(view));
            if still && self.follows.get_untracked() {
                self.show(view);
            }
        });
    }

    /// The slip opened or closed, or all comes nearer: a large drawing follows as a picture, and is drawn anew once the
    /// hand rests.
    fn slide(self, view: View) {
        let follows = self.follows.get_untracked();
        self.glide(view);
        self.follows.set(follows);
        leptos::task::spawn_local(async move {
            crate::device::hand_rests().await;
            if self.view.try_get_untracked().is_some() {
                self.rest();
            }
        });
    }

    /// Shows this, however many points there are.
    pub(super) fn turn(self, view: View) {
        if self.many.get_untracked() {
            self.slide(view);
        } else {
            self.show(view);
        }
    }

    /// Whether a place lies in sight.
    pub(super) fn sees(self, place: PlanPoint) -> bool {
        let (width, height) = self.size.get_untracked();
        let Spot { x, y } = self.view.get_untracked().glass_from_plan(place);
        (0.0..width).contains(&x) && (0.0..height).contains(&y)
    }

    /// Places are offered to be tapped: when one lies out of sight, everything is shown.
    pub(super) fn offer(self, places: Vec<PlanPoint>, plan: &Plan) {
        let hidden = places.iter().any(|place| !self.sees(*place));
        self.offered.set(places);
        if hidden {
            self.show_all(plan);
        }
    }

    /// Shows the whole plan, and follows it again.
    pub fn show_all(self, plan: &Plan) {
        self.follows.set(true);
        self.fit(plan);
    }

    /// Brings a point into sight: where it lies outside, the whole plan is shown.
    pub fn bring(self, point: &PointId, plan: &Plan) {
        if place(plan, point).is_some_and(|at| !self.sees(at)) {
            self.show_all(plan);
        }
    }

    /// Nearer by one step, about the middle.
    pub fn nearer(self) {
        self.zoom(STEP);
    }

    /// Farther by one step.
    pub fn farther(self) {
        self.zoom(1.0 / STEP);
    }

    fn zoom(self, factor: f64) {
        let (width, height) = self.size.get_untracked();
        self.follows.set(false);
        self.turn(self.view.get_untracked().zoomed(Spot { x: width / 2.0, y: height / 2.0 }, factor));
    }

    /// The drawing's box changed: what was in its middle stays there.
    pub(super) fn resized(self, width: f64, height: f64, plan: &Plan) {
        let (was_wide, was_high) = self.size.get_untracked();
        self.size.set((width, height));
        if was_wide < 1.0 || self.follows.get_untracked() {
            self.fit(plan);
        } else {
            self.turn(self.view.get_untracked().panned((width - was_wide) / 2.0, (height - was_high) / 2.0));
        }
    }
}
