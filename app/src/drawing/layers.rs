//! The layers of the drawing, from the ground up.

use super::labels::{Corner, arrange};
use super::symbols;
use super::{Overlay, Sheet, View, place};
use crate::markup::{live, memo};
use crate::state::Shared;
use crate::words::capture as words;
use leptos::ev;
use leptos::prelude::*;
use std::fmt::Write as _;
use swingtie_core::network::{Freedom, PointState};
use swingtie_core::plan::{Outline, PlacedPoint, Plan, Shape, What};
use swingtie_core::record::{Fate, PointId, Severity};
use swingtie_core::units::{PlanPoint, float, sort_by};

type PlanMemo = Memo<Shared<Plan>>;

fn at(place: PlanPoint) -> String {
    let (x, y) = place.metres();
    format!("translate({x:.4} {y:.4})")
}

fn path(places: &[PlanPoint], closed: bool) -> String {
    let mut d = String::new();
    for (i, place) in places.iter().enumerate() {
        let (x, y) = place.metres();
        // Writing to a String cannot fail.
        let _ = write!(d, "{}{x:.4} {y:.4}", if i == 0 { "M" } else { "L" });
    }
    if closed {
        d.push('Z');
    }
    d
}

fn middle(places: &[PlanPoint]) -> PlanPoint {
    #[allow(clippy::cast_precision_loss, reason = "a few dozen points")]
    let n = places.len().max(1) as f64;
    let (x, y) = places.iter().map(|p| p.metres()).fold((0.0, 0.0), |(a, b), (x, y)| (a + x, b + y));
    PlanPoint::from_metres(x / n, y / n)
}

/// Feature outlines and utility marks.
#[component]
pub fn Shapes(plan: PlanMemo, sheet: Sheet) -> impl IntoView {
    // Names come and go with zoom in steps, not with every move of a finger.
    let step = zoom_step(sheet);
    let names = move || {
        let scale = 1.25_f64.powi_of(step.get());
        plan.get().shapes.iter().filter_map(|shape| name(shape, scale)).collect_view()
    };
    markup! {
        <g class="shapes">{move || plan.get().shapes.iter().map(shape).collect_view()}</g>
        <g class="shape-names">{live(names)}</g>
    }
}

/// Whole powers of the zoom step.
trait Steps {
    fn powi_of(self, n: i32) -> f64;
}
impl Steps for f64 {
    fn powi_of(self, n: i32) -> f64 {
        float::powf(self, f64::from(n))
    }
}

/// The zoom in steps of a quarter, for what is arranged anew only now and then.
fn zoom_step(sheet: Sheet) -> Memo<i32> {
    #[allow(clippy::cast_possible_truncation, reason = "a logarithm of a bounded scale")]
    memo(move || (float::ln(sheet.view.get().scale) / float::ln(1.25)).floor() as i32)
}

fn shape(shape: &Shape) -> AnyView {
    let (kind, letters) = match &shape.what {
        What::Feature(kind) => (format!("shape kind-{kind}"), None),
        What::Mark { colour, letters } => {
            let (name, _, usual) = words::mark(*colour);
            let letters = if letters.is_empty() { usual.to_owned() } else { letters.clone() };
            (format!("shape mark mark-{name}"), Some(letters))
        }
    };
    let mut class = kind;
    for (holds, name) in [
        (shape.told, " told"),
        (!shape.certain, " uncertain"),
        (shape.fate == Some(Fate::Remove), " fate-remove"),
        (shape.fate == Some(Fate::Move), " fate-move"),
    ] {
        if holds {
            class.push_str(name);
        }
    }
    let drawn = match &shape.outline {
        Outline::Spot(spot) => {
            let square = "M-5 -5 H5 V5 H-5 Z";
            markup! { <g transform=at(*spot)><g class="upright"><path d=square class="spot" /></g></g> }
        }
        Outline::Line(places) => {
            let casing = letters.is_some().then(|| markup! { <path d=path(places, false) class="casing" /> });
            markup! { {casing} <path d=path(places, false) class="line" /> }
        }
        Outline::Area(places) => markup! { <path d=path(places, true) class="area" /> },
        Outline::Circle { centre, inner, outer } => {
            let (x, y) = centre.metres();
            let ring = |r: swingtie_core::units::Length, class: &'static str| {
                markup! { <circle cx=format!("{x:.4}") cy=format!("{y:.4}") r=format!("{:.4}", r.metres()) class=class /> }
            };
            // Nobody said how wide it is: a sign that keeps its size.
            let sign = (outer.is_none() && inner.is_none()).then(|| {
                markup! { <g transform=at(*centre)><g class="upright"><circle r="8" class="trunk unsized" /></g></g> }
            });
            markup! { {outer.map(|r| ring(r, "canopy"))} {inner.map(|r| ring(r, "trunk"))} {sign} }
        }
    };
    let letters = letters.map(|letters| {
        let places = match &shape.outline {
            Outline::Line(places) | Outline::Area(places) => places.as_slice(),
            Outline::Spot(spot) => std::slice::from_ref(spot),
            Outline::Circle { centre, .. } => std::slice::from_ref(centre),
        };
        let half = places.get(..2).map_or_else(|| middle(places), middle);
        markup! { <g transform=at(half)><g class="upright"><text class="mark-letters" y="5" text-anchor="middle">{letters}</text></g></g> }
    });
    markup! { <g class=class>{shape.zone.map(|reach| zone(&shape.outline, reach))}{drawn}{letters}</g> }
}

/// The ground on both sides of a utility mark that is taken for the line's own, to scale.
fn zone(outline: &Outline, reach: swingtie_core::units::Length) -> AnyView {
    let reach = reach.metres();
    match outline {
        Outline::Line(places) | Outline::Area(places) => {
            let style = format!("stroke-width:{:.4}px", 2.0 * reach);
            markup! { <path d=path(places, false) class="zone" style=style /> }
        }
        Outline::Spot(spot) | Outline::Circle { centre: spot, .. } => {
            let (x, y) = spot.metres();
            markup! { <circle cx=format!("{x:.4}") cy=format!("{y:.4}") r=format!("{reach:.4}") class="zone-round" /> }
        }
    }
}

/// An area's name in its middle, when there is room for it.
fn name(shape: &Shape, scale: f64) -> Option<AnyView> {
    let Outline::Area(places) = &shape.outline else { return None };
    let xs = places.iter().map(|p| p.x.metres());
    let width = xs.clone().fold(f64::MIN, f64::max) - xs.fold(f64::MAX, f64::min);
    #[allow(clippy::cast_precision_loss, reason = "a short name")]
    let needed = shape.title.chars().count() as f64 * 8.0 + 8.0;
    let title = shape.title.clone();
    (width * scale > needed).then(|| {
        markup! { <g transform=at(middle(places))><g class="upright"><text class="shape-name" y="5" text-anchor="middle">{title}</text></g></g> }
    })
}

/// Taped lengths: thin lines; the readings of the chosen point's tapes are written out.
#[component]
pub fn Tapes(plan: PlanMemo, sheet: Sheet, overlay: Signal<Overlay>) -> impl IntoView {
    let lines = move || {
        if !sheet.tapes.get() {
            return String::new();
        }
        let plan = plan.get();
        plan.taped.iter().filter(|t| !t.along).map(|t| path(&[t.from_at, t.to_at], false)).collect()
    };
    let chosen = memo(move || overlay.get().chosen);
    let written = move || {
        let chosen = chosen.get();
        let plan = plan.get();
        let touches = |id: &PointId| chosen.contains(id);
        plan.taped
            .iter()
            .filter(|t| sheet.tapes.get() && chosen.len() == 1 && (touches(&t.from) || touches(&t.to)))
            .map(|t| {
                let d = path(&[t.from_at, t.to_at], false);
                let half = at(middle(&[t.from_at, t.to_at]));
                markup! {
                    <path d=d class="tape-chosen" />
                    <g transform=half><g class="upright"><text class="tape-text" y="4" text-anchor="middle">{t.text.clone()}</text></g></g>
                }
            })
            .collect_view()
    };
    markup! {
        <path d=lines class="tapes" />
        <g class="tapes-chosen">{live(written)}</g>
    }
}

/// What is under way: the line between chosen points, places offered, a point in the hand.
#[component]
pub fn Ghosts(
    plan: PlanMemo,
    overlay: Signal<Overlay>,
    held: RwSignal<Option<(PointId, PlanPoint)>>,
) -> impl IntoView {
    let line = move || {
        let overlay = overlay.get();
        let places: Vec<PlanPoint> = if overlay.joined {
            overlay.chosen.iter().filter_map(|id| place(&plan.get(), id)).collect()
        } else {
            Vec::new()
        };
        path(&places, false)
    };
    let ghosts = move || {
        let ghosts = overlay.get().ghosts;
        ghosts
            .into_iter()
            .map(|ghost| {
                markup! {
                    <g transform=at(ghost.at)><g class="upright ghost" class:ghost-chosen=ghost.chosen>
                        <circle r="13" /><path d="M-5 0 H5 M0 -5 V5" />
                        <text y="29" text-anchor="middle">{ghost.label}</text>
                    </g></g>
                }
            })
            .collect_view()
    };
    let hand = move || {
        held.get().map(|(_, place)| {
            markup! { <g transform=at(place)><g class="upright hand"><circle r="16" /><circle r="3" /></g></g> }
        })
    };
    markup! { <path d=line class="under-way" /> {live(ghosts)} {live(hand)} }
}

/// Problems, numbered as in the list. They lie under the points, which must stay in reach, and a
/// little above their place, so that both can be seen.
#[component]
pub fn Problems(plan: PlanMemo) -> impl IntoView {
    live(move || {
        let plan = plan.get();
        plan.problems
            .iter()
            .filter_map(|problem| {
                let sign = symbols::diamond(problem.number, problem.severity == Severity::Danger);
                let spread = match &problem.outline {
                    Some(Outline::Line(places)) => Some(path(places, false)),
                    Some(Outline::Area(places)) => Some(path(places, true)),
                    _ => None,
                };
                Some(markup! {
                    {spread.map(|d| markup! { <path d=d class="problem-spread" /> })}
                    <g transform=at(problem.at?)><g class="upright problem"><g transform="translate(0 -20)">{sign}</g></g></g>
                })
            })
            .collect_view()
    })
}

/// Points with their labels; also buttons, for keyboards and screen readers.
#[component]
pub fn Points(
    plan: PlanMemo,
    sheet: Sheet,
    overlay: Signal<Overlay>,
    by_name: Callback<PointId>,
) -> impl IntoView {
    let chosen = memo(move || overlay.get().chosen);
    let step = zoom_step(sheet);
    let corners = memo(move || {
        let scale = 1.25_f64.powi_of(step.get());
        label_corners(&plan.get(), scale, &chosen.get())
    });
    let circles = move || {
        let plan = plan.get();
        plan.points.iter().filter_map(|p| possible(&plan, p)).collect_view()
    };
    let symbols = move || plan.get().points.iter().map(|p| point(p, chosen, by_name)).collect_view();
    let labels = move || {
        let corners = corners.get();
        let plan = plan.get();
        plan.points.iter().zip(corners).filter_map(|(p, corner)| label(p, corner?)).collect_view()
    };
    markup! {
        <g class="possible">{live(circles)}</g>
        <g class="points">{live(symbols)}</g>
        <g class="labels" aria-hidden="true">{live(labels)}</g>
    }
}

/// The circle a loose point may stand on.
fn possible(plan: &Plan, point: &PlacedPoint) -> Option<AnyView> {
    let Some(Freedom::OnCircle { centre, radius }) = &point.freedom else { return None };
    let (x, y) = place(plan, centre)?.metres();
    let radius = format!("{:.4}", radius.metres());
    Some(markup! { <circle cx=format!("{x:.4}") cy=format!("{y:.4}") r=radius /> })
}

fn point(p: &PlacedPoint, chosen: Memo<Vec<PointId>>, by_name: Callback<PointId>) -> AnyView {
    let (id, key, click) = (p.id.clone(), p.id.clone(), p.id.clone());
    let name = format!("Point {}, {}", p.label, words::state(p.state));
    let pressed = move |event: ev::KeyboardEvent| {
        if matches!(event.key().as_str(), "Enter" | " ") {
            event.prevent_default();
            by_name.run(key.clone());
        }
    };
    // A finger or mouse is handled by the drawing as a whole; a click without either comes from a
    // screen reader.
    let clicked = move |event: ev::MouseEvent| {
        if event.detail() == 0 {
            by_name.run(click.clone());
        }
    };
    let id = move || chosen.with(|chosen| chosen.contains(&id));
    markup! {
        <g transform=at(p.at)>
            <g class="upright point" class:chosen=id role="button" tabindex="0" aria-label=name
                on:keydown=pressed on:click=clicked>
                <circle r="16" class="halo" />
                {symbols::point(p.state)}
            </g>
        </g>
    }
}

fn label(p: &PlacedPoint, corner: Corner) -> Option<AnyView> {
    let (dx, dy, anchor) = corner.place();
    let (transform, label) = (at(p.at), p.label.clone());
    Some(markup! {
        <g transform=transform><g class="upright">
            <text class="label" x=dx.to_string() y=dy.to_string() text-anchor=anchor>{label}</text>
        </g></g>
    })
}

/// Which label goes where at this zoom: chosen points first, then what needs attention, then the rest.
fn label_corners(plan: &Plan, scale: f64, chosen: &[PointId]) -> Vec<Option<Corner>> {
    let view = View { scale, left: 0.0, top: 0.0 };
    let mut order: Vec<usize> = (0..plan.points.len()).collect();
    let rank = |i: &usize| {
        plan.points.get(*i).map(|p| {
            (!chosen.contains(&p.id), p.state != PointState::Disputed, p.state != PointState::Loose, *i)
        })
    };
    sort_by(&mut order, |a, b| rank(a).cmp(&rank(b)));
    let spots: Vec<_> = order
        .iter()
        .filter_map(|i| plan.points.get(*i))
        .map(|p| (view.glass_from_plan(p.at), p.label.chars().count()))
        .collect();
    let mut corners = vec![None; plan.points.len()];
    for (i, corner) in order.into_iter().zip(arrange(&spots)) {
        if let Some(slot) = corners.get_mut(i) {
            *slot = corner;
        }
    }
    corners
}
