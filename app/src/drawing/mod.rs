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
mod sheet;
mod symbols;
mod view;

pub use labels::Room;
pub use layers::zoom_step;
pub use pick::Spot;
pub use points::room;
pub use sheet::Sheet;
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
    /// A selector of what it lies in: no two drawings on the page lie in one.
    within: &'static str,
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
        sheet.turn(sheet.view.get_untracked().zoomed(about, factor));
    };
    effect(move || crate::device::scale_signs(1.0 / sheet.drawn().scale, within));
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
                    <Points plan=plan sheet=sheet overlay=overlay by_name=by_name within=within />
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
