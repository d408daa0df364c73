//! The points of the drawing: signs, labels, and the way among them by keys.

use super::labels::{Corner, Room, arrange};
use super::layers::{PlanMemo, Steps, at, written_in, zoom_step};
use super::symbols;
use super::{HeightLabel, Overlay, Sheet, Spot, View, place};
use crate::device::prefs::text_scale;
use crate::markup::{effect, live, memo, rows};
use crate::words::capture as words;
use leptos::ev;
use leptos::prelude::*;
use std::hash::{Hash, Hasher};
use swingtie_core::language::Written;
use swingtie_core::network::{Freedom, PointState};
use swingtie_core::plan::{PlacedPoint, Plan};
use swingtie_core::record::PointId;
use swingtie_core::units::sort_by;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event};

/// Points with their labels; also buttons, for keyboards and screen readers. To the Tab key they are one:
/// arrow keys go from one to the next.
#[component]
pub fn Points(
    plan: PlanMemo,
    sheet: Sheet,
    overlay: Signal<Overlay>,
    by_name: Callback<PointId>,
    within: &'static str,
) -> impl IntoView {
    let chosen = memo(move || overlay.get().chosen);
    // One for all: that each of some hundred points listened took as long as all else a tap does.
    effect(move || mark(within, &chosen.get()));
    let asked: Memo<Vec<PointId>> =
        memo(move || overlay.get().doubts.into_iter().flat_map(|doubt| doubt.points).collect());
    let last = RwSignal::new(None::<PointId>);
    let stop = memo(move || {
        let plan = plan.get();
        let there = last.get().filter(|id| place(&plan, id).is_some());
        there.or_else(|| plan.points.first().map(|p| p.id.clone()))
    });
    let walk = move |(from, step): (PointId, Step)| {
        let plan = plan.get_untracked();
        let Some(next) = next(&plan, &from, step) else { return };
        if !sheet.sees(next.at) {
            sheet.follows.set(true);
            sheet.fit(&plan);
        }
        focus(&next.id);
    };
    // The group hears for all: a listener of its own for each would be made with each, three thousand on a large site.
    let pressed = move |event: ev::KeyboardEvent| {
        let (pressed, Some(id)) = (event.key(), named(&event)) else { return };
        if matches!(pressed.as_str(), "Enter" | " ") {
            event.prevent_default();
            by_name.run(id);
        } else if let Some(step) = Step::of(&pressed) {
            event.prevent_default();
            walk((id, step));
        }
    };
    // A finger or mouse is handled by the drawing as a whole; a click without either comes from a screen reader.
    let clicked = move |event: ev::MouseEvent| {
        if let Some(id) = named(&event).filter(|_| event.detail() == 0) {
            by_name.run(id);
        }
    };
    let focused = move |event: ev::FocusEvent| last.set(named(&event));
    effect(move || {
        let now = stop.get().and_then(|id| sign_of(within, &id));
        for (sign, stops) in [(find(within, "[tabindex=\"0\"]"), "-1"), (now, "0")] {
            // An element takes any attribute.
            let _ = sign.map(|sign| sign.set_attribute("tabindex", stops));
        }
    });
    let step = zoom_step(sheet);
    let texts = memo(move || texts(&plan.get(), sheet.heights.get().as_deref()));
    let corners = memo(move || {
        // Larger letters take the room that a smaller drawing leaves.
        let scale = 1.25_f64.powi_of(step.get()) / text_scale();
        label_corners(&plan.get(), &texts.get(), scale, &chosen.get())
    });
    let circles = move || {
        let plan = plan.get();
        plan.points.iter().filter_map(|p| possible(&plan, p)).collect_view()
    };
    // A sign or a label is made anew only where it looks another: a reading more moves few points so far.
    let signs = move || {
        let (plan, asked) = (plan.get(), asked.get());
        plan.points.iter().map(|p| Sign::of(p, &asked)).collect::<Vec<_>>()
    };
    let labels = move || {
        let written = corners.get().into_iter().zip(texts.get());
        let label = |(corner, Text { at, words, above, .. })| (at, corner, words, above);
        written.filter_map(|(corner, text)| Some(label((corner?, text?)))).collect::<Vec<_>>()
    };
    markup! {
        <g class="possible">{live(circles)}</g>
        <g class="points" role="group" aria-label=words::POINTS on:keydown=pressed on:click=clicked on:focusin=focused>
            {rows(signs, move |sign| point(sign, chosen, stop))}
        </g>
        <g class="labels" aria-hidden="true">{rows(labels, label)}</g>
    }
}

/// The circle a loose point may stand on.
fn possible(plan: &Plan, point: &PlacedPoint) -> Option<AnyView> {
    let Some(Freedom::OnCircle { centre, radius }) = &point.freedom else { return None };
    let (x, y) = place(plan, centre)?.metres();
    let radius = format!("{:.4}", radius.metres());
    Some(markup! { <circle cx=format!("{x:.4}") cy=format!("{y:.4}") r=radius /> })
}

/// Where a key goes from a point.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Step {
    /// To the nearest that way: right and up on the plan.
    Toward(f64, f64),
    /// So many further in the order of the book.
    Along(isize),
}

impl Step {
    fn of(key: &str) -> Option<Self> {
        Some(match key {
            "ArrowRight" => Self::Toward(1.0, 0.0),
            "ArrowLeft" => Self::Toward(-1.0, 0.0),
            "ArrowUp" => Self::Toward(0.0, 1.0),
            "ArrowDown" => Self::Toward(0.0, -1.0),
            "PageDown" => Self::Along(1),
            "PageUp" => Self::Along(-1),
            _ => return None,
        })
    }
}

/// The point a key goes to; none where there is none that way.
fn next<'a>(plan: &'a Plan, from: &PointId, step: Step) -> Option<&'a PlacedPoint> {
    let here = plan.points.iter().position(|p| p.id == *from)?;
    let (dx, dy) = match step {
        Step::Along(by) => return plan.points.get(here.checked_add_signed(by)?),
        Step::Toward(dx, dy) => (dx, dy),
    };
    let at = plan.points.get(here)?.at;
    // What lies aside counts threefold: it is not that way.
    let far = |p: &&PlacedPoint| {
        let (x, y) = (p.at - at).metres();
        let along = x * dx + y * dy;
        (along > 0.0).then_some(along + 3.0 * (x * dy - y * dx).abs())
    };
    let near = plan.points.iter().filter_map(|p| Some((far(&p)?, p)));
    near.reduce(|best, one| if one.0 < best.0 { one } else { best }).map(|(_, p)| p)
}

/// The element of a point.
fn element_id(id: &PointId) -> String {
    format!("point-{id}")
}

fn focus(id: &PointId) {
    let element = document().get_element_by_id(&element_id(id));
    if let Some(element) = element.and_then(|e| e.dyn_into::<web_sys::SvgElement>().ok()) {
        // A point drawn takes the focus.
        let _ = element.focus();
    }
}

/// The first of the points drawn in this part of the page that a selector picks.
fn find(within: &str, what: &str) -> Option<Element> {
    document().query_selector(&format!("{within} .points {what}")).ok().flatten()
}

/// A point as it is drawn in this part of the page.
fn sign_of(within: &str, id: &PointId) -> Option<Element> {
    let quoted = element_id(id).replace('\\', "\\\\").replace('"', "\\\"");
    find(within, &format!("[id=\"{quoted}\"]"))
}

/// Marks what is chosen among the points drawn in this part of the page.
fn mark(within: &str, chosen: &[PointId]) {
    while let Some(before) = find(within, ".chosen") {
        // An element has a list of classes, from which one can be taken.
        let _ = before.class_list().remove_1("chosen");
    }
    for sign in chosen.iter().filter_map(|id| sign_of(within, id)) {
        let _ = sign.class_list().add_1("chosen");
    }
}

/// Which point something happened at.
fn named(event: &Event) -> Option<PointId> {
    let at = event.target()?.dyn_into::<Element>().ok()?.closest(".point").ok()??;
    Some(at.id().strip_prefix("point-")?.into())
}

/// A point as it is drawn.
struct Sign {
    id: PointId,
    /// Where.
    at: String,
    /// What it is called aloud.
    name: String,
    state: PointState,
    in_question: bool,
    /// It is disputed, but another point is asked about.
    waits: bool,
}

impl Hash for Sign {
    fn hash<H: Hasher>(&self, hash: &mut H) {
        // The name says the state.
        (&self.id, &self.at, &self.name, self.in_question).hash(hash);
    }
}

impl Sign {
    fn of(p: &PlacedPoint, asked: &[PointId]) -> Self {
        let in_question = asked.contains(&p.id);
        let waits = p.state == PointState::Disputed && !asked.is_empty() && !in_question;
        let state = if waits { words::WAITING } else { p.state.word() };
        let name = say!("Point {}, {state}", Written(&p.label));
        Self { id: p.id.clone(), at: at(p.at), name, state: p.state, in_question, waits }
    }
}

fn point(sign: Sign, chosen: Memo<Vec<PointId>>, stop: Memo<Option<PointId>>) -> AnyView {
    let Sign { id, at, name, state, in_question, waits } = sign;
    let element = element_id(&id);
    let stops = stop.with_untracked(|stop| stop.as_ref() == Some(&id));
    let id = chosen.with_untracked(|chosen| chosen.contains(&id));
    markup! {
        <g transform=at>
            <g class="upright point" class:chosen=id class:asked=in_question id=element role="button"
                tabindex=if stops { "0" } else { "-1" } aria-label=name>
                <circle r="16" class="halo" />
                {if waits { symbols::waiting() } else { symbols::point(state) }}
            </g>
        </g>
    }
}

fn label((place, corner, words, above): (String, Corner, String, bool)) -> AnyView {
    let (dx, dy, anchor) = corner.place();
    markup! {
        <g transform=place><g class="upright">
            <text class="label" class:label-above=above x=dx.to_string() y=dy.to_string() text-anchor=anchor>{words}</text>
        </g></g>
    }
}

/// What is written beside a point.
#[derive(Clone, Debug, PartialEq)]
struct Text {
    /// Where, worked out once for every zoom.
    at: String,
    words: String,
    above: bool,
    /// What matters less comes later.
    rank: usize,
}

/// What is written beside each point: its label, or its height while heights are shown, if it has one.
fn texts(plan: &Plan, heights: Option<&[HeightLabel]>) -> Vec<Option<Text>> {
    let height = |p: &PlacedPoint, all: &[HeightLabel]| {
        let rank = all.iter().position(|height| height.point == p.id)?;
        all.get(rank).map(|height| Text {
            at: at(p.at),
            words: height.text.clone(),
            above: height.above,
            rank,
        })
    };
    let label = |p: &PlacedPoint| Text { at: at(p.at), words: p.label.clone(), above: false, rank: 0 };
    let one = |p: &PlacedPoint| heights.map_or_else(|| Some(label(p)), |all| height(p, all));
    plan.points.iter().map(one).collect()
}

/// What is left for other texts beside the points and their labels, or these heights, at this scale.
#[must_use]
pub fn room(plan: &Plan, heights: Option<&[HeightLabel]>, scale: f64, chosen: &[PointId]) -> Room {
    let texts = texts(plan, heights);
    let view = View { scale, left: 0.0, top: 0.0 };
    let letters = |text: &Option<Text>| text.as_ref().map_or(0, |text| text.words.chars().count());
    let spots = plan.points.iter().zip(&texts).map(|(p, text)| (view.glass_from_plan(p.at), letters(text)));
    let corners = label_corners(plan, &texts, scale, chosen);
    Room::beside(&spots.collect::<Vec<_>>(), &corners, &standing(plan, view))
}

/// What stands where it stands, whatever is written beside points: letters of utility marks, names of areas, numbers
/// of problems a little above their place. Each with its width in letters.
fn standing(plan: &Plan, view: View) -> Vec<(Spot, usize)> {
    let texts = plan.shapes.iter().filter_map(|shape| written_in(shape, view.scale));
    let texts = texts.map(|(at, text)| (view.glass_from_plan(at), text.chars().count()));
    let signs = plan.problems.iter().filter_map(|problem| Some(view.glass_from_plan(problem.at?)));
    texts.chain(signs.map(|Spot { x, y }| (Spot { x, y: y - 20.0 }, 3))).collect()
}

/// Which label goes where at this zoom: chosen points first, then what needs attention, then the rest.
fn label_corners(plan: &Plan, texts: &[Option<Text>], scale: f64, chosen: &[PointId]) -> Vec<Option<Corner>> {
    let view = View { scale, left: 0.0, top: 0.0 };
    let written = |i: &usize| texts.get(*i).and_then(Option::as_ref);
    let mut order: Vec<usize> = (0..plan.points.len()).filter(|i| written(i).is_some()).collect();
    let rank = |i: &usize| {
        plan.points.get(*i).map(|p| {
            let late = written(i).map_or(0, |text| text.rank);
            (!chosen.contains(&p.id), late, p.state != PointState::Disputed, p.state != PointState::Loose, *i)
        })
    };
    sort_by(&mut order, |a, b| rank(a).cmp(&rank(b)));
    let spots: Vec<_> = order
        .iter()
        .filter_map(|i| Some((plan.points.get(*i)?, written(i)?)))
        .map(|(p, text)| (view.glass_from_plan(p.at), text.words.chars().count()))
        .collect();
    let mut corners = vec![None; plan.points.len()];
    for (i, corner) in order.into_iter().zip(arrange(&spots, &standing(plan, view))) {
        if let Some(slot) = corners.get_mut(i) {
            *slot = corner;
        }
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::capture::placed;

    #[test]
    fn arrows_go_to_the_nearest_that_way_and_pages_through_all() {
        let points = vec![
            placed("a", 0.0, 0.0),
            placed("b", 4.0, 1.0),
            placed("c", 3.0, -6.0),
            placed("d", 9.0, 0.0),
            placed("e", -1.0, 8.0),
        ];
        let plan = Plan { points, ..Plan::default() };
        let to = |from: &str, key: &str| {
            next(&plan, &from.into(), Step::of(key).unwrap()).map(|p| p.id.as_str().to_owned())
        };
        assert_eq!(to("a", "ArrowRight").as_deref(), Some("b"));
        assert_eq!(to("b", "ArrowRight").as_deref(), Some("d"));
        assert_eq!(to("d", "ArrowRight"), None);
        assert_eq!(to("a", "ArrowUp").as_deref(), Some("e"));
        assert_eq!(to("b", "ArrowUp").as_deref(), Some("e"));
        assert_eq!(to("b", "ArrowDown").as_deref(), Some("c"));
        assert_eq!(to("a", "PageDown").as_deref(), Some("b"));
        assert_eq!(to("a", "PageUp"), None);
        assert_eq!(Step::of("Tab"), None);
    }
}
