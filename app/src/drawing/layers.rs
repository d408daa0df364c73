//! The layers of the drawing, from the ground up.

use super::labels::along;
use super::symbols;
use super::{InDoubt, Overlay, Sheet, View, place, room};
use crate::device::prefs::text_scale;
use crate::markup::{effect, live, memo, rows};
use crate::state::Shared;
use crate::words::capture as words;
use leptos::prelude::*;
use std::fmt::Write as _;
use std::hash::{Hash, Hasher};
use swingtie_core::plan::{Outline, Plan, Shape, Taped, What};
use swingtie_core::record::{Fate, PointId, Severity};
use swingtie_core::units::{Length, PlanPoint, float};

pub type PlanMemo = Memo<Shared<Plan>>;

/// Moves to this place.
pub fn at(place: PlanPoint) -> String {
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
        <g class="shapes">{rows(move || plan.get().shapes.iter().cloned().map(Drawn).collect(), |one| shape(&one.0))}</g>
        <g class="shape-names">{live(names)}</g>
    }
}

/// Whole powers of the zoom step.
pub trait Steps {
    /// To this whole power.
    fn powi_of(self, n: i32) -> f64;
}
impl Steps for f64 {
    fn powi_of(self, n: i32) -> f64 {
        let whole = (0..n.unsigned_abs()).fold(1.0, |power, _| power * self);
        if n < 0 { 1.0 / whole } else { whole }
    }
}

/// The zoom in steps of a quarter, for what is arranged anew only now and then.
pub fn zoom_step(sheet: Sheet) -> Memo<i32> {
    #[allow(clippy::cast_possible_truncation, reason = "a logarithm of a bounded scale")]
    memo(move || (float::ln(sheet.drawn().scale) / float::ln(1.25)).floor() as i32)
}

/// A shape as it is drawn: another drawing only where it looks another, to a tenth of a millimetre.
struct Drawn(Shape);

impl Hash for Drawn {
    fn hash<H: Hasher>(&self, hash: &mut H) {
        let Self(shape) = self;
        class(shape).hash(hash);
        letters(shape).hash(hash);
        fine(shape.zone.map_or(0.0, Length::metres)).hash(hash);
        let places = match &shape.outline {
            Outline::Spot(place) => std::slice::from_ref(place),
            Outline::Line(places) => places,
            Outline::Area(places) => {
                "area".hash(hash);
                places
            }
            Outline::Circle { centre, inner, outer } => {
                for radius in [inner, outer] {
                    radius.map(|radius| fine(radius.metres())).hash(hash);
                }
                std::slice::from_ref(centre)
            }
        };
        for (x, y) in places.iter().map(|place| place.metres()) {
            (fine(x), fine(y)).hash(hash);
        }
    }
}

/// In tenths of a millimetre, as places are written into the drawing.
#[allow(clippy::cast_possible_truncation, reason = "a yard is no larger than a planet")]
fn fine(metres: f64) -> i64 {
    (metres * 1e4).round() as i64
}

fn class(shape: &Shape) -> String {
    let mut class = match &shape.what {
        What::Feature(kind) => format!("shape kind-{kind}"),
        What::Mark { colour, .. } => format!("shape mark mark-{}", words::mark(*colour).0),
    };
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
    class
}

fn shape(shape: &Shape) -> AnyView {
    let (letters, class) = (letters(shape), class(shape));
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
        markup! { <g transform=at(lettered(&shape.outline))><g class="upright"><text class="mark-letters" y="5" text-anchor="middle">{letters}</text></g></g> }
    });
    markup! { <g class=class>{shape.zone.map(|reach| zone(&shape.outline, reach))}{drawn}{letters}</g> }
}

/// The letters of a utility mark; the usual ones where nobody read others.
fn letters(shape: &Shape) -> Option<String> {
    let What::Mark { colour, letters } = &shape.what else { return None };
    Some(if letters.is_empty() { colour.usual_letters().to_owned() } else { letters.clone() })
}

/// Where they stand: half way along the first side.
fn lettered(outline: &Outline) -> PlanPoint {
    let places = match outline {
        Outline::Line(places) | Outline::Area(places) => places.as_slice(),
        Outline::Spot(spot) => std::slice::from_ref(spot),
        Outline::Circle { centre, .. } => std::slice::from_ref(centre),
    };
    places.get(..2).map_or_else(|| middle(places), middle)
}

/// What is written in a shape at this scale, and where.
pub fn written_in(shape: &Shape, scale: f64) -> Option<(PlanPoint, String)> {
    let mark = letters(shape).map(|letters| (lettered(&shape.outline), letters));
    mark.or_else(|| named(shape, scale).map(|at| (at, shape.title.clone())))
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

/// Where an area's name stands, when there is room for it.
fn named(shape: &Shape, scale: f64) -> Option<PlanPoint> {
    let Outline::Area(places) = &shape.outline else { return None };
    let xs = places.iter().map(|p| p.x.metres());
    let width = xs.clone().fold(f64::MIN, f64::max) - xs.fold(f64::MAX, f64::min);
    #[allow(clippy::cast_precision_loss, reason = "a short name")]
    let needed = shape.title.chars().count() as f64 * 8.0 + 8.0;
    (width * scale > needed).then(|| middle(places))
}

fn name(shape: &Shape, scale: f64) -> Option<AnyView> {
    let (place, title) = (named(shape, scale)?, shape.title.clone());
    Some(
        markup! { <g transform=at(place)><g class="upright"><text class="shape-name" y="5" text-anchor="middle">{title}</text></g></g> },
    )
}

/// Taped lengths: thin lines; the readings of the chosen point's tapes are written out.
#[component]
pub fn Tapes(plan: PlanMemo, sheet: Sheet, overlay: Signal<Overlay>) -> impl IntoView {
    let lines = move || {
        // Lines of the ground and lines of tapes cannot be told apart.
        if !sheet.tapes.get() || sheet.ground.get() {
            return String::new();
        }
        let plan = plan.get();
        plan.taped.iter().filter(|t| !t.along).map(|t| path(&[t.from_at, t.to_at], false)).collect()
    };
    let step = zoom_step(sheet);
    // The slip comes first: writing on the drawing takes the browser as long as all else that a tap asks for.
    let late = RwSignal::new(overlay.get_untracked());
    effect(move || {
        let now = overlay.get();
        leptos::task::spawn_local(async move {
            crate::device::shown().await;
            late.try_set(now);
        });
    });
    let written = move || {
        let (overlay, plan) = (late.get(), plan.get());
        let [chosen] = overlay.chosen.as_slice() else { return Vec::new() };
        let tapes = plan.taped.iter().filter(|t| sheet.tapes.get() && (t.from == *chosen || t.to == *chosen));
        // What is in question is written on a line of its own.
        let asked = |t: &&Taped| {
            overlay
                .doubts
                .iter()
                .any(|d| d.points.len() == 2 && d.points.contains(&t.from) && d.points.contains(&t.to))
        };
        let lines = once_each(tapes.filter(|t| !asked(t)));
        let out = |t: &Taped| if t.from == *chosen { [t.from_at, t.to_at] } else { [t.to_at, t.from_at] };
        let view = View { scale: 1.25_f64.powi_of(step.get()) / text_scale(), left: 0.0, top: 0.0 };
        let mut room = room(&plan, sheet.heights.get().as_deref(), view.scale, &overlay.chosen);
        let spots: Vec<_> = lines
            .iter()
            .map(|(t, text)| {
                let [near, far] = out(t).map(|end| view.glass_from_plan(end));
                (near, far, text.chars().count())
            })
            .collect();
        lines
            .into_iter()
            .zip(along(&spots, &mut room))
            .map(|((t, text), share)| written_on(&out(t), share, "tape-chosen", "tape-text", text))
            .collect()
    };
    markup! {
        <path d=lines class="tapes" />
        <g class="tapes-chosen">{live(written)}</g>
    }
}

/// A line with a text on it at this share of its way, or just above; without one where there is none.
fn written_on(
    places: &[PlanPoint],
    share: Option<f64>,
    line: &'static str,
    class: &'static str,
    text: String,
) -> AnyView {
    let y = if class == "doubt-text" { "-8" } else { "4" };
    let (near, far) =
        (places.first().copied().unwrap_or_default(), places.last().copied().unwrap_or_default());
    let text = share.map(|share| {
        let (from, way) = (near.metres(), (far - near).metres());
        let place = PlanPoint::from_metres(from.0 + way.0 * share, from.1 + way.1 * share);
        markup! { <g transform=at(place)><g class="upright"><text class=class y=y text-anchor="middle">{text}</text></g></g> }
    });
    markup! { <path d=path(places, false) class=line /> {text} }
}

/// Each taped line once, with all that was read on it: the same length twice is written once.
fn once_each<'a>(tapes: impl Iterator<Item = &'a Taped>) -> Vec<(&'a Taped, String)> {
    const SAME: Length = Length::from_millimetres(0.01);
    let mut lines: Vec<(&Taped, Vec<&Taped>)> = Vec::new();
    for tape in tapes {
        let same_line = |(one, _): &&mut (&Taped, Vec<&Taped>)| {
            (&one.from, &one.to) == (&tape.from, &tape.to) || (&one.from, &one.to) == (&tape.to, &tape.from)
        };
        match lines.iter_mut().find(same_line) {
            Some((_, read)) if read.iter().any(|one| (one.length - tape.length).abs() < SAME) => {}
            Some((_, read)) => read.push(tape),
            None => lines.push((tape, vec![tape])),
        }
    }
    let text = |read: Vec<&Taped>| read.iter().map(|t| t.text.as_str()).collect::<Vec<_>>().join(" · ");
    lines.into_iter().map(|(tape, read)| (tape, text(read))).collect()
}

/// Readings in question: their lines, with what was read.
#[component]
pub fn Doubts(plan: PlanMemo, overlay: Signal<Overlay>) -> impl IntoView {
    let doubts = memo(move || overlay.get().doubts);
    let one = |plan: &Plan, doubt: InDoubt| {
        let places: Vec<PlanPoint> = doubt.points.iter().filter_map(|id| place(plan, id)).collect();
        written_on(&places, Some(0.5), "in-doubt", "doubt-text", doubt.text)
    };
    live(move || {
        let plan = plan.get();
        let drawn: Vec<AnyView> = doubts.get().into_iter().map(|doubt| one(&plan, doubt)).collect();
        markup! { <g class="doubts-drawn" aria-hidden="true">{drawn}</g> }
    })
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_taped_twice_is_written_once_with_what_differs() {
        let tape = |from: &str, to: &str, text: &str, inches: f64| Taped {
            entry: "e".into(),
            part: 0,
            from: from.into(),
            to: to.into(),
            from_at: PlanPoint::default(),
            to_at: PlanPoint::default(),
            text: text.to_owned(),
            length: Length::from_inches(inches),
            along: false,
        };
        let all = [
            tape("a", "b", "40'", 480.0),
            tape("b", "a", "40' 0\"", 480.0),
            tape("a", "b", "40' 1\"", 481.0),
            tape("a", "c", "3'", 36.0),
        ];
        let lines: Vec<String> = once_each(all.iter()).into_iter().map(|(_, text)| text).collect();
        assert_eq!(lines, ["40' · 40' 1\"", "3'"]);
    }
}
