//! The ground on the live drawing: heights in place of labels, contours, which way it falls, where water stands.

use super::arrows::shaft;
use super::kept::{Kept, kept};
use crate::capture::Capture;
use crate::device::prefs::text_scale;
use crate::drawing::{HeightLabel, Room, Spot, View, room, zoom_step};
use crate::markup::{effect, live, memo};
use crate::state::{OpenSite, Shared};
use crate::words;
use leptos::prelude::*;
use std::cell::RefCell;
use std::fmt::Write as _;
use swingtie_core::levels::{Contour, LowPoint, Surface};
use swingtie_core::plan::{Fall, Ground, SpotHeight};
use swingtie_core::record::{Record, Stood, UnitSystem};
use swingtie_core::units::float::{cos, powf, sin};
use swingtie_core::units::format::fixed;
use swingtie_core::units::{PlanPoint, format_height, sort_by};

/// Half the length of an arrow, and what it takes with its figure (CSS pixels).
const REACH: f64 = 17.0;
const ARROW: f64 = 20.0;
/// Where the words of a hollow may stand: so far from its sign (CSS pixels, downwards), and with which end toward it.
const BESIDE: [(f64, f64, f64); 4] =
    [(0.0, 36.0, 0.0), (16.0, 20.0, 1.0), (-16.0, 20.0, -1.0), (0.0, -34.0, 0.0)];
/// Half the width of one letter of them.
const HALF_LETTER: f64 = 4.75;

thread_local! {
    /// Of the site that is open.
    static KEPT: Kept<Shared<Ground>> = const { RefCell::new(None) };
}

/// The ground of the open site, worked out once for all screens that show it.
pub fn ground_here() -> Memo<Shared<Ground>> {
    let OpenSite { fold, plan, .. } = OpenSite::here();
    kept(&KEPT, move || Shared::new(Ground::of(&fold.get().record, &plan.get())))
}

/// The layer, in the drawing's own frame.
#[component]
pub fn GroundLayer() -> impl IntoView {
    let (capture, ground) = (Capture::here(), ground_here());
    let (sheet, plan) = (capture.sheet, capture.plan);
    let units = move || capture.site.units();
    let heights = memo(move || capture.site.fold.with(|fold| written(&ground.get(), &fold.record)));
    effect(move || sheet.heights.set(Some(heights.get())));
    on_cleanup(move || sheet.heights.set(None));
    // Anew in steps of the zoom, as labels are.
    let step = zoom_step(sheet);
    let drawn = move || {
        let ground = ground.get();
        let scale = powf(1.25, f64::from(step.get())) / text_scale();
        let room = room(&plan.get(), Some(&heights.get()), scale, &[]);
        let mut drawing = Layer { room, view: View { scale, left: 0.0, top: 0.0 }, units: units() };
        let guessed = ground.surface.as_ref().map(far).unwrap_or_default();
        // What matters most takes its room first; what is drawn last lies on top.
        let low: Vec<AnyView> = ground.low.iter().map(|low| drawing.hollow(low)).collect();
        let (index, others): (Vec<&Contour>, Vec<&Contour>) = ground.contours.iter().partition(|c| c.index);
        let contours: Vec<AnyView> = ground
            .surface
            .iter()
            .flat_map(|surface| {
                let all = index.iter().chain(&others);
                all.map(|c| drawing.contour(c, surface)).collect::<Vec<_>>()
            })
            .collect();
        let falls: Vec<AnyView> = ground.falls.iter().filter_map(|fall| drawing.arrow(fall)).collect();
        markup! { <path d=guessed class="guessed" /> {contours} {falls} {low} }
    };
    markup! { <g class="ground" aria-hidden="true">{live(drawn)}</g> }
}

/// The heights as they are written, most important first: what all count from, where water stands, then what stands over
/// the ground, since there is one sill for many corners.
fn written(ground: &Ground, record: &Record) -> Vec<HeightLabel> {
    let rank = |s: &SpotHeight| {
        let counts_from = record.bench_mark.as_ref().is_some_and(|mark| mark.point == s.point);
        let low = ground.low.iter().any(|low| low.at == s.at);
        (!counts_from, !low, s.stood != Stood::Above)
    };
    let mut spots: Vec<&SpotHeight> = ground.spots.iter().collect();
    sort_by(&mut spots, |a, b| rank(a).cmp(&rank(b)));
    let label = |s: &SpotHeight| HeightLabel {
        point: s.point.clone(),
        text: words::height(format_height(s.height, record.site.units), s.in_doubt),
        above: s.stood == Stood::Above,
    };
    spots.into_iter().map(label).collect()
}

/// What is being drawn.
struct Layer {
    room: Room,
    view: View,
    units: UnitSystem,
}

impl Layer {
    /// A contour, with its height where there is room on it.
    fn contour(&mut self, contour: &Contour, surface: &Surface) -> AnyView {
        let (mut d, mut far) = (String::new(), String::new());
        for (run, guess) in contour.lines.iter().flat_map(|line| surface.near_and_far(line)) {
            put(if guess { &mut far } else { &mut d }, &run);
        }
        let text = format_height(contour.height, self.units);
        // The middle of a line first, then further out.
        let places = |line: &Vec<PlanPoint>| {
            let sides: Vec<PlanPoint> =
                line.iter().zip(line.iter().skip(1)).map(|(a, b)| a.midway(*b)).collect();
            let middle = sides.len() / 2;
            let near = |n: &usize| n.abs_diff(middle);
            let mut order: Vec<usize> = (0..sides.len()).collect();
            order.sort_by_key(near);
            order.into_iter().filter_map(|n| sides.get(n).copied()).collect::<Vec<_>>()
        };
        let mut places = contour.lines.iter().flat_map(places);
        let free = places.find(|at| self.room.take(self.view.glass_from_plan(*at), text.chars().count()));
        let text = free.map(|at| {
            markup! { <g transform=moved(at)><g class="upright"><text class="contour-text" y="4" text-anchor="middle">{text}</text></g></g> }
        });
        let class = if contour.index { "contour contour-index" } else { "contour" };
        markup! { <path d=d class=class /><path d=far class="contour contour-far" /> {text} }
    }

    /// An arrow downhill with how steep it is; none where there is no room.
    fn arrow(&mut self, fall: &Fall) -> Option<AnyView> {
        let mut places = std::iter::once(fall.at).chain(fall.others);
        let free =
            places.find(|at| self.room.take_around(self.view.glass_from_plan(*at), ARROW, ARROW * 0.8));
        free.map(|at| arrow(fall, at))
    }

    /// Where water stands, and how deep before it runs over.
    fn hollow(&mut self, low: &LowPoint) -> AnyView {
        let text = words::deep(low.depth(), self.units);
        let at = self.view.glass_from_plan(low.at);
        let letters = text.chars().count();
        #[allow(clippy::cast_precision_loss, reason = "a dozen letters")]
        let half = HALF_LETTER * letters as f64;
        let mut places = BESIDE.into_iter().map(|(x, y, end)| (x + end * half, y));
        let free = places.find(|(x, y)| self.room.take(Spot { x: at.x + x, y: at.y + y - 4.0 }, letters));
        let text = free.map(
            |(x, y)| markup! { <text x=x.to_string() y=y.to_string() text-anchor="middle">{text}</text> },
        );
        markup! {
            <g transform=moved(low.at)><g class="upright hollow">
                <path d="M-12 10 H12 M-7 15 H7 M-2 20 H2" />{text}
            </g></g>
        }
    }
}

fn put(d: &mut String, places: &[PlanPoint]) {
    for (i, place) in places.iter().enumerate() {
        let (x, y) = place.metres();
        // Writing to a String cannot fail.
        let _ = write!(d, "{}{x:.3} {y:.3}", if i == 0 { "M" } else { "L" });
    }
}

/// The triangles where the ground is a guess.
fn far(surface: &Surface) -> String {
    let mut d = String::new();
    for (number, corners) in surface.triangles.iter().enumerate() {
        if surface.is_far(number) {
            let spots = corners.iter().filter_map(|c| surface.spots.get(*c));
            put(&mut d, &spots.map(|s| s.at).collect::<Vec<_>>());
            d.push('Z');
        }
    }
    d
}

fn moved(at: PlanPoint) -> String {
    let (x, y) = at.metres();
    format!("translate({x:.3} {y:.3})")
}

fn arrow(fall: &Fall, at: PlanPoint) -> AnyView {
    let d = shaft(fall.toward, -REACH, REACH);
    let percent = fall.slope.percent();
    let text = format!("{} %", fixed(percent, u8::from(percent < 3.0)));
    // Above an arrow that lies, beside one that stands.
    let (across, along) = (sin(fall.toward.radians()).abs(), cos(fall.toward.radians()).abs());
    let (x, y, anchor) = if along > across { ("0", "-8", "middle") } else { ("9", "4", "start") };
    let class = if fall.far { "upright fall fall-far" } else { "upright fall" };
    markup! {
        <g transform=moved(at)><g class=class><path d=d /><text x=x y=y text-anchor=anchor>{text}</text></g></g>
    }
}
