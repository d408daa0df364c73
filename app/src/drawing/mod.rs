//! The live plan: points, outlines, tapes and problems as SVG, moved by one finger, two fingers,
//! buttons or a wheel.
//!
//! Zooming changes one transform and one rule of style (by which labels and symbols keep their size); the
//! drawing itself is only made anew when the plan is. While fingers move it, what is drawn is moved and stretched as a
//! picture, which costs no drawing at all; when they leave the glass it is drawn where it lies then.

mod furniture;
mod gesture;
mod labels;
mod layers;
mod pick;
mod points;
mod symbols;
mod view;

pub use labels::Room;
pub use layers::zoom_step;
pub use pick::Spot;
pub use points::room;
pub use view::{View, around};

use crate::markup::{effect, memo, shown};
use crate::screens::later::{self, Wanted};
use furniture::Furniture;
use gesture::{Did, Gesture};
use layers::{Doubts, Ghosts, Problems, Shapes, Tapes};
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use points::Points;
use swingtie_core::plan::{Bounds, Plan};
use swingtie_core::record::PointId;
use swingtie_core::units::PlanPoint;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;

use crate::state::Shared;

/// A place offered to be tapped: one of two where a point may stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Ghost {
    /// Where.
    pub at: PlanPoint,
    /// What is written beside it: "left".
    pub label: String,
    /// Whether it is the one said.
    pub chosen: bool,
}

/// A reading in question.
#[derive(Clone, Debug, PartialEq)]
pub struct InDoubt {
    /// Its points, in the order it goes through them.
    pub points: Vec<PointId>,
    /// What is written on its line.
    pub text: String,
}

/// What lies over the plan while something is under way.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Overlay {
    /// Readings in question.
    pub doubts: Vec<InDoubt>,
    /// Points chosen, in order; joined by a line.
    pub chosen: Vec<PointId>,
    /// Whether a line joins them.
    pub joined: bool,
    /// Places offered.
    pub ghosts: Vec<Ghost>,
    /// Whether the chosen points are what the eye is on: they fill the drawing while it follows.
    pub close: bool,
}

/// What a tap on the drawing means.
#[derive(Clone, Debug, PartialEq)]
pub struct Tap {
    /// Where, in the plan.
    pub at: PlanPoint,
    /// The points it may mean, nearest first.
    pub near: Vec<PointId>,
    /// CSS pixels for one metre, to judge what is near.
    pub scale: f64,
}

/// A height written in place of a point's label.
#[derive(Clone, Debug, PartialEq)]
pub struct HeightLabel {
    /// The point.
    pub point: PointId,
    /// The height.
    pub text: String,
    /// Whether it is that of something over the ground: underlined, as on the sheet.
    pub above: bool,
}

/// A drawing of so many points takes longer to draw anew than a tap may.
const MANY: usize = 150;
/// How much nearer one press brings the plan.
const STEP: f64 = 1.5;

/// What the drawing keeps while other tabs are looked at.
#[derive(Clone, Copy)]
pub struct Sheet {
    /// The transform.
    pub view: RwSignal<View>,
    /// Whether fingers move the drawing, and the view it was drawn in before.
    moving: RwSignal<bool>,
    before: RwSignal<View>,
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
    size: RwSignal<(f64, f64)>,
    /// Places offered, which must be in sight to be tapped.
    offered: RwSignal<Vec<PlanPoint>>,
    /// What fills the drawing instead of the whole plan.
    close: RwSignal<Option<Bounds>>,
}

impl Sheet {
    /// An empty sheet.
    #[must_use]
    pub fn new() -> Self {
        Self {
            view: RwSignal::new(View::blank(390.0, 420.0)),
            moving: RwSignal::new(false),
            before: RwSignal::new(View::blank(390.0, 420.0)),
            follows: RwSignal::new(true),
            tapes: RwSignal::new(true),
            photos: RwSignal::new(false),
            ground: RwSignal::new(false),
            heights: RwSignal::new(None),
            size: RwSignal::new((0.0, 0.0)),
            offered: RwSignal::new(Vec::new()),
            close: RwSignal::new(None),
        }
    }

    /// The view it is drawn in. Tracked.
    #[must_use]
    pub fn drawn(self) -> View {
        if self.moving.get() { self.before.get() } else { self.view.get() }
    }

    /// Fingers move it: the picture follows, and is drawn anew only where it was stretched or moved too far.
    fn glide(self, view: View) {
        self.follows.set(false);
        if !self.moving.get_untracked() {
            self.before.set(self.view.get_untracked());
            self.moving.set(true);
        }
        if !view.is_near(self.before.get_untracked()) {
            self.before.set(view);
        }
        self.view.set(view);
    }

    /// No finger is on the glass any more.
    fn rest(self) {
        if self.moving.get_untracked() {
            self.moving.set(false);
        }
    }

    /// How the picture lies over where it was drawn. Tracked.
    fn laid(self) -> String {
        if !self.moving.get() {
            return String::new();
        }
        let (stretch, left, top) = self.view.get().over(self.before.get());
        format!("transform:translate({left:.2}px,{top:.2}px) scale({stretch:.5})")
    }

    fn fit(self, plan: &Plan) {
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
        if plan.points.len() < MANY || !view.is_near(self.view.get_untracked()) {
            self.rest();
            self.view.set(view);
        } else if view != self.view.get_untracked() {
            self.slide(view);
        }
    }

    /// The slip opened or closed: a large drawing follows as a picture, and is drawn anew once the hand rests.
    fn slide(self, view: View) {
        let follows = self.follows.get_untracked();
        self.glide(view);
        self.follows.set(follows);
        leptos::task::spawn_local(async move {
            crate::device::hand_rests().await;
            if self.moving.try_get_untracked() == Some(true) {
                self.rest();
            }
        });
    }

    /// Whether a place lies in sight.
    fn sees(self, place: PlanPoint) -> bool {
        let (width, height) = self.size.get_untracked();
        let Spot { x, y } = self.view.get_untracked().glass_from_plan(place);
        (0.0..width).contains(&x) && (0.0..height).contains(&y)
    }

    /// Places are offered to be tapped: when one lies out of sight, everything is shown.
    fn offer(self, places: Vec<PlanPoint>, plan: &Plan) {
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
        self.rest();
        self.view.update(|view| *view = view.zoomed(Spot { x: width / 2.0, y: height / 2.0 }, factor));
    }

    /// The drawing's box changed: what was in its middle stays there.
    fn resized(self, width: f64, height: f64, plan: &Plan) {
        let (was_wide, was_high) = self.size.get_untracked();
        self.size.set((width, height));
        if was_wide < 1.0 || self.follows.get_untracked() {
            self.fit(plan);
        } else {
            self.view.update(|view| {
                *view = view.panned((width - was_wide) / 2.0, (height - was_high) / 2.0);
            });
        }
    }
}

/// The drawing.
#[component]
pub fn Drawing(
    /// What it keeps.
    sheet: Sheet,
    /// What is drawn.
    plan: Memo<Shared<Plan>>,
    /// What lies over it.
    #[prop(into)]
    overlay: Signal<Overlay>,
    /// A tap.
    #[prop(into)]
    on_tap: Callback<Tap>,
    /// Whether points can be dragged (while sketching).
    #[prop(into)]
    draggable: Signal<bool>,
    /// A point was dragged here.
    #[prop(into)]
    on_drop: Callback<(PointId, PlanPoint)>,
) -> impl IntoView {
    let glass = NodeRef::<html::Div>::new();
    let board = NodeRef::<html::Div>::new();
    let held = RwSignal::new(None::<(PointId, PlanPoint)>);
    watch_size(board, sheet, plan);
    effect(move || {
        let plan = plan.get();
        if sheet.follows.get_untracked() {
            sheet.fit(&plan);
        }
    });
    let close = memo(move || overlay.with(|overlay| close_up(&plan.get(), overlay)));
    effect(move || {
        sheet.close.set(close.get());
        if sheet.follows.get_untracked() {
            sheet.fit(&plan.get_untracked());
        }
    });
    let offered = memo(move || overlay.get().ghosts.iter().map(|g| g.at).collect::<Vec<_>>());
    effect(move || sheet.offer(offered.get(), &plan.get_untracked()));
    let hands = Hands { sheet, plan, on_tap, draggable, on_drop, held };
    let gesture = StoredValue::new(Gesture::default());
    let spot = move |event: &ev::PointerEvent| {
        let corner = glass.get_untracked().map(|glass| glass.get_bounding_client_rect());
        let (left, top) = corner.map_or((0.0, 0.0), |r| (r.left(), r.top()));
        Spot { x: f64::from(event.client_x()) - left, y: f64::from(event.client_y()) - top }
    };
    let down = move |event: ev::PointerEvent| {
        if let Some(glass) = glass.get_untracked() {
            // Without capture a finger that leaves the drawing is lost; nothing else depends on it.
            let _ = glass.set_pointer_capture(event.pointer_id());
        }
        gesture.update_value(|hand| hand.down(event.pointer_id(), spot(&event)));
    };
    let moved = move |event: ev::PointerEvent| {
        let did = gesture.try_update_value(|hand| hand.moved(event.pointer_id(), spot(&event)));
        hands.act(did.unwrap_or(Did::Nothing));
    };
    let up = move |event: ev::PointerEvent| {
        let at = spot(&event);
        let did = gesture.try_update_value(|hand| hand.up(event.pointer_id(), at, event.time_stamp()));
        hands.act(did.unwrap_or(Did::Nothing));
        if gesture.with_value(Gesture::is_over) {
            sheet.rest();
        }
    };
    let lost = move |event: ev::PointerEvent| {
        gesture.update_value(|hand| hand.cancel(event.pointer_id()));
        held.set(None);
        if gesture.with_value(Gesture::is_over) {
            sheet.rest();
        }
    };
    // What a tap opens must not get the click that the browser makes of the same tap.
    let lifted = |event: ev::TouchEvent| {
        // After a drag the browser may not let it be refused; then no click follows either.
        if event.cancelable() {
            event.prevent_default();
        }
    };
    let wheel = move |event: ev::WheelEvent| {
        event.prevent_default();
        let corner = glass.get_untracked().map(|glass| glass.get_bounding_client_rect());
        let (left, top) = corner.map_or((0.0, 0.0), |r| (r.left(), r.top()));
        let about = Spot { x: f64::from(event.client_x()) - left, y: f64::from(event.client_y()) - top };
        sheet.follows.set(false);
        let factor = if event.delta_y() < 0.0 { 1.2 } else { 1.0 / 1.2 };
        sheet.view.update(|view| *view = view.zoomed(about, factor));
    };
    effect(move || crate::device::scale_signs(1.0 / sheet.drawn().scale));
    let transform = move || {
        let View { scale, left, top } = sheet.drawn();
        format!("translate({left:.2} {top:.2}) scale({scale:.4} {:.4})", -scale)
    };
    let by_name = Callback::new(move |id: PointId| {
        let at = place(&plan.get_untracked(), &id).unwrap_or_default();
        on_tap.run(Tap { at, near: vec![id], scale: sheet.view.get_untracked().scale });
    });
    markup! {
        <div class="drawing" node_ref=board>
            <div node_ref=glass class="drawing-glass"
                on:pointerdown=down on:pointermove=moved on:pointerup=up on:pointercancel=lost on:touchend=lifted on:wheel=wheel>
            <svg class="drawing-plan" aria-label="plan" style=move || sheet.laid()>
                <g transform=transform>
                    <Shapes plan=plan sheet=sheet />
                    {shown(move || sheet.ground.get(), || later::part(Wanted::Ground))}
                    <Tapes plan=plan sheet=sheet overlay=overlay />
                    <Problems plan=plan />
                    {later::when_here(Wanted::Arrows)}
                    {shown(move || sheet.photos.get(), || later::part(Wanted::PhotoPins))}
                    <Points plan=plan sheet=sheet overlay=overlay by_name=by_name />
                    <Doubts plan=plan overlay=overlay />
                    <Ghosts plan=plan overlay=overlay held=held />
                </g>
            </svg>
            </div>
            <Furniture sheet=sheet plan=plan />
        </div>
    }
}

/// What the fingers act on.
#[derive(Clone, Copy)]
struct Hands {
    sheet: Sheet,
    plan: Memo<Shared<Plan>>,
    on_tap: Callback<Tap>,
    draggable: Signal<bool>,
    on_drop: Callback<(PointId, PlanPoint)>,
    held: RwSignal<Option<(PointId, PlanPoint)>>,
}

impl Hands {
    fn near(self, at: Spot) -> Vec<PointId> {
        let plan = self.plan.get_untracked();
        pick::pick(plan.points.iter().map(|p| (&p.id, p.at)), self.sheet.view.get_untracked(), at)
    }

    fn act(self, did: Did) {
        let view = self.sheet.view.get_untracked();
        match did {
            Did::Nothing => {}
            Did::Tap(at) => {
                self.on_tap.run(Tap { at: view.plan_from_glass(at), near: self.near(at), scale: view.scale })
            }
            Did::Drag { start, dx, dy, now } => {
                if self.draggable.get_untracked() && self.held.get_untracked().is_none() {
                    let taken = self.near(start).into_iter().next();
                    self.held.set(taken.map(|id| (id, view.plan_from_glass(now))));
                }
                if self.held.get_untracked().is_some() {
                    self.held.update(|held| {
                        if let Some((_, at)) = held {
                            *at = view.plan_from_glass(now);
                        }
                    });
                } else {
                    self.sheet.glide(view.panned(dx, dy));
                }
            }
            Did::Pinch { about, factor, dx, dy } => {
                self.held.set(None);
                self.sheet.glide(view.panned(dx, dy).zoomed(about, factor));
            }
            Did::Dropped { now, .. } => {
                if let Some((id, _)) = self.held.get_untracked() {
                    self.held.set(None);
                    self.on_drop.run((id, view.plan_from_glass(now)));
                }
            }
        }
    }
}

/// Where a point is drawn.
#[must_use]
pub fn place(plan: &Plan, id: &PointId) -> Option<PlanPoint> {
    plan.points.iter().find(|p| p.id == *id).map(|p| p.at)
}

/// The box around the chosen points and the places offered when the eye is on them: two or more, all placed.
fn close_up(plan: &Plan, overlay: &Overlay) -> Option<Bounds> {
    let chosen = overlay.chosen.iter().map(|id| place(plan, id));
    let places: Option<Vec<PlanPoint>> =
        chosen.chain(overlay.ghosts.iter().map(|ghost| Some(ghost.at))).collect();
    match places?.as_slice() {
        [first, rest @ ..] if overlay.close && !rest.is_empty() => {
            Some(around(Bounds { min: *first, max: *first }, rest))
        }
        _ => None,
    }
}

/// Watches the drawing's box: the panel below it opens and closes, the phone is turned.
fn watch_size(board: NodeRef<html::Div>, sheet: Sheet, plan: Memo<Shared<Plan>>) {
    let measure = move || {
        if let Some(board) = board.get_untracked() {
            let r = board.get_bounding_client_rect();
            sheet.resized(r.width(), r.height(), &plan.get_untracked());
        }
    };
    let watcher = StoredValue::new_local(None::<(web_sys::ResizeObserver, Closure<dyn FnMut()>)>);
    effect(move || {
        let Some(board) = board.get() else { return };
        measure();
        let told: Closure<dyn FnMut()> = Closure::new(measure);
        if let Ok(observer) = web_sys::ResizeObserver::new(told.as_ref().unchecked_ref()) {
            observer.observe(&board);
            watcher.set_value(Some((observer, told)));
        }
    });
    on_cleanup(move || {
        if let Some(Some((observer, _))) = watcher.try_update_value(Option::take) {
            observer.disconnect();
        }
    });
}
