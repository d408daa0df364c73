//! A small drawing of the plan: where a photo is pinned and which way it looks.

use crate::markup::live;
use crate::state::OpenSite;
use leptos::ev;
use leptos::prelude::*;
use std::fmt::Write as _;
use swingtie_core::plan::{Outline, Plan};
use swingtie_core::units::{Angle, PlanPoint, float};
use wasm_bindgen::JsCast;
use web_sys::Element;

/// What part of the plan is shown, in metres; y counts downwards as on the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Window {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
}

/// About how many CSS pixels the drawing is wide: signs are sized by it.
const WIDE: f64 = 350.0;
/// What is shown of an empty plan, in metres each way.
const EMPTY: f64 = 20.0;

impl Window {
    /// Everything drawn and the place, with a margin around.
    fn around(plan: &Plan, place: Option<PlanPoint>) -> Self {
        let corners = plan.bounds.iter().flat_map(|bounds| [bounds.min, bounds.max]).chain(place);
        let (mut x0, mut y0, mut x1, mut y1) = (f64::MAX, f64::MAX, f64::MIN, f64::MIN);
        for (x, y) in corners.map(PlanPoint::metres) {
            (x0, y0, x1, y1) = (x0.min(x), y0.min(y), x1.max(x), y1.max(y));
        }
        if x0 > x1 {
            (x0, y0, x1, y1) = (0.0, 0.0, EMPTY, EMPTY);
        }
        let margin = (x1 - x0).max(y1 - y0).max(4.0) * 0.12;
        let (width, height) = (x1 - x0 + 2.0 * margin, y1 - y0 + 2.0 * margin);
        Self { left: x0 - margin, top: -y1 - margin, width, height }
    }

    /// Metres in a CSS pixel, about.
    fn pixel(self) -> f64 {
        self.width.max(self.height) / WIDE
    }

    fn middle(self) -> PlanPoint {
        PlanPoint::from_metres(self.left + self.width / 2.0, -self.top - self.height / 2.0)
    }

    /// From the glass to the plan: the drawing lies in the middle of its box, as large as it fits.
    fn plan_from_glass(self, x: f64, y: f64, wide: f64, high: f64) -> PlanPoint {
        let scale = (wide / self.width).min(high / self.height).max(1e-9);
        let (left, top) = ((wide - self.width * scale) / 2.0, (high - self.height * scale) / 2.0);
        PlanPoint::from_metres(self.left + (x - left) / scale, -(self.top + (y - top) / scale))
    }
}

/// The small drawing. A finger on it tells its place, from where it comes down to where it goes; keys are
/// told by name, with the metres of a step, and answered with whether they meant something.
#[component]
pub fn MiniPlan(
    /// Where the photo is pinned.
    #[prop(into)]
    at: Signal<Option<PlanPoint>>,
    /// Which way it looks, counter-clockwise from the plan's x.
    #[prop(into)]
    facing: Signal<Option<Angle>>,
    /// What it is to a screen reader: a slider, or a place to tap.
    role: &'static str,
    label: &'static str,
    /// The slider's value in degrees and in words.
    #[prop(into)]
    value: Signal<Option<(f64, String)>>,
    #[prop(into)] on_point: Callback<(PlanPoint, PlanPoint)>,
    #[prop(into)] on_key: Callback<(String, PlanPoint, f64), bool>,
) -> impl IntoView {
    let plan = OpenSite::here().plan;
    let window = Window::around(&plan.get_untracked(), at.get_untracked());
    let eye = move || at.get_untracked().unwrap_or_else(|| window.middle());
    let down = RwSignal::new(false);
    let tell = move |event: &ev::PointerEvent| {
        let element: Option<Element> = event.current_target().and_then(|target| target.dyn_into().ok());
        let Some(element) = element else { return };
        let r = element.get_bounding_client_rect();
        let (x, y) = (f64::from(event.client_x()) - r.left(), f64::from(event.client_y()) - r.top());
        on_point.run((window.plan_from_glass(x, y, r.width(), r.height()), eye()));
        // Without capture a finger that leaves the drawing is lost; nothing else depends on it.
        let _ = element.set_pointer_capture(event.pointer_id());
    };
    let pressed = move |event: ev::KeyboardEvent| {
        if on_key.run((event.key(), eye(), window.pixel() * 8.0)) {
            event.prevent_default();
        }
    };
    let drawn = move || outlines(&plan.get());
    let points = move || dots(&plan.get(), window.pixel() * 2.5);
    let view = move || {
        facing.get().map(|angle| {
            let d = wedge(at.get().unwrap_or_else(|| window.middle()), angle, window.pixel() * 80.0);
            markup! { <path d=d class="view-wedge" /> }
        })
    };
    let pin = move || {
        at.get().map(|at| {
            let (x, y) = at.metres();
            let r = format!("{:.3}", window.pixel() * 8.0);
            markup! { <circle cx=format!("{x:.3}") cy=format!("{y:.3}") r=r class="view-pin" /> }
        })
    };
    let slider = role == "slider";
    let frame = format!("{:.3} {:.3} {:.3} {:.3}", window.left, window.top, window.width, window.height);
    markup! {
        <svg class="miniplan" viewBox=frame role=role tabindex="0" aria-label=label
            aria-valuemin=slider.then_some("0") aria-valuemax=slider.then_some("360")
            aria-valuenow=move || slider.then(|| value.get().map_or_else(|| "0".to_owned(), |(degrees, _)| format!("{degrees:.0}")))
            aria-valuetext=move || value.get().map(|(_, words)| words)
            on:keydown=pressed
            on:pointerdown=move |event| { down.set(true); tell(&event); }
            on:pointermove=move |event| if down.get_untracked() { tell(&event) }
            on:pointerup=move |_| down.set(false) on:pointercancel=move |_| down.set(false)>
            <g transform="scale(1 -1)">
                <path d=drawn class="miniplan-lines" />
                <path d=points class="miniplan-points" />
                {live(view)}
                {live(pin)}
            </g>
        </svg>
    }
}

/// All outlines as one path.
fn outlines(plan: &Plan) -> String {
    let mut d = String::new();
    for shape in &plan.shapes {
        let (places, closed) = match &shape.outline {
            Outline::Line(places) => (places.as_slice(), false),
            Outline::Area(places) => (places.as_slice(), true),
            Outline::Circle { centre, inner, outer } => {
                let radius = outer.or(*inner).map_or(0.3, |r| r.metres());
                d.push_str(&ring(*centre, radius));
                continue;
            }
            Outline::Spot(_) => continue,
        };
        for (place, sign) in places.iter().zip(std::iter::once('M').chain(std::iter::repeat('L'))) {
            let (x, y) = place.metres();
            // Writing to a String cannot fail.
            let _ = write!(d, "{sign}{x:.3} {y:.3}");
        }
        if closed {
            d.push('Z');
        }
    }
    d
}

fn dots(plan: &Plan, radius: f64) -> String {
    plan.points.iter().map(|point| ring(point.at, radius)).collect()
}

fn ring(centre: PlanPoint, r: f64) -> String {
    let (x, y) = centre.metres();
    format!("M{:.3} {y:.3}a{r:.3} {r:.3} 0 1 0 {:.3} 0a{r:.3} {r:.3} 0 1 0 {:.3} 0", x - r, 2.0 * r, -2.0 * r)
}

/// The field of view: some 50°, as a phone's camera sees held upright (common practice, no source).
pub fn wedge(at: PlanPoint, facing: Angle, reach: f64) -> String {
    let (x, y) = at.metres();
    let side = |degrees: f64| {
        let angle = facing.radians() + Angle::from_degrees(degrees).radians();
        (x + reach * float::cos(angle), y + reach * float::sin(angle))
    };
    let ((x0, y0), (x1, y1)) = (side(-25.0), side(25.0));
    format!("M{x:.3} {y:.3}L{x0:.3} {y0:.3}A{reach:.3} {reach:.3} 0 0 1 {x1:.3} {y1:.3}Z")
}

/// The direction from one place to another, counter-clockwise from the plan's x, in whole degrees; none
/// where they are the same.
pub fn toward(from: PlanPoint, to: PlanPoint) -> Option<f64> {
    let ((x0, y0), (x1, y1)) = (from.metres(), to.metres());
    let far = (x1 - x0).abs().max((y1 - y0).abs()) > 1e-9;
    far.then(|| Angle::from_radians(float::atan2(y1 - y0, x1 - x0)).degrees().rem_euclid(360.0).round())
}

#[cfg(test)]
mod tests {
    use super::*;

    const WINDOW: Window = Window { left: -2.0, top: -10.0, width: 20.0, height: 10.0 };

    #[test]
    fn a_tap_is_found_on_the_plan_however_the_box_is_shaped() {
        // 20 m on 200 px: 10 px a metre, in a box that is 100 px too high.
        let place = WINDOW.plan_from_glass(100.0, 100.0, 200.0, 200.0).metres();
        assert_eq!(place, (8.0, 5.0));
        assert_eq!(WINDOW.middle().metres(), (8.0, 5.0));
        let place = WINDOW.plan_from_glass(0.0, 50.0, 200.0, 200.0).metres();
        assert_eq!(place, (-2.0, 10.0), "the upper left corner");
    }

    #[test]
    fn an_empty_plan_shows_something_and_a_pin_outside_is_shown_too() {
        let empty = Window::around(&Plan::default(), None);
        assert!(empty.width > 20.0 && empty.height > 20.0);
        let far = Window::around(&Plan::default(), Some(PlanPoint::from_metres(100.0, 100.0)));
        assert!(far.left < 100.0 && far.left + far.width > 100.0);
    }

    #[test]
    fn directions_count_counter_clockwise_from_x() {
        let from = PlanPoint::from_metres(1.0, 1.0);
        assert_eq!(toward(from, PlanPoint::from_metres(1.0, 5.0)), Some(90.0));
        assert_eq!(toward(from, PlanPoint::from_metres(1.0, -5.0)), Some(270.0));
        assert_eq!(toward(from, from), None);
    }
}
