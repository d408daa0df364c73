//! The comparison on the live drawing, and its line under it.

use super::since::{Since, changes_here};
use crate::capture::Capture;
use crate::drawing::place;
use crate::markup::live;
use crate::routes::{Route, Tab};
use crate::screens::Drafts;
use crate::screens::arrows::shaft;
use crate::state::OpenSite;
use crate::words::changes as say;
use crate::words::length;
use leptos::prelude::*;
use swingtie_core::compare::Move;
use swingtie_core::record::UnitSystem;
use swingtie_core::units::{Angle, PlanPoint, float};

/// The arrow of a move ends so far from the point, and begins so far (CSS pixels): a few inches can be seen by it.
const TIP: f64 = 9.0;
const TAIL: f64 = 34.0;
/// How far the words stand from the point.
const WORDS: f64 = 44.0;

/// The layer, in the drawing's own frame: thin lines for how far points moved, arrows for which way, rings round new ones and
/// those that were loose.
#[component]
pub fn Moves() -> impl IntoView {
    let capture = Capture::here();
    let changes = changes_here();
    live(move || {
        let changes = changes.get()?;
        let plan = capture.plan.get();
        let units = capture.site.units();
        let new = changes.points.new.iter().map(|point| &point.id);
        // What had no place of its own is found now, rather than moved.
        let rings = new.chain(changes.points.found()).filter_map(|point| place(&plan, point)).map(ring);
        let arrows = changes.points.moved.iter().filter(|moved| moved.is_beyond());
        let arrows = arrows.map(|moved| arrow(moved, units));
        let all: Vec<AnyView> = rings.chain(arrows).collect();
        Some(markup! { <g class="changed-marks" aria-hidden="true">{all}</g> })
    })
}

fn at(place: PlanPoint) -> String {
    let (x, y) = place.metres();
    format!("translate({x:.4} {y:.4})")
}

fn ring(place: PlanPoint) -> AnyView {
    markup! { <g transform=at(place)><g class="upright"><circle r="15" class="new-ring" /></g></g> }
}

fn arrow(moved: &Move, units: UnitSystem) -> AnyView {
    let ((ax, ay), (bx, by)) = (moved.from.metres(), moved.to.metres());
    let way = Angle::from_radians(float::atan2(by - ay, bx - ax));
    // On the glass y counts downwards.
    let (x, y) = (-WORDS * float::cos(way.radians()), WORDS * float::sin(way.radians()) + 4.0);
    let anchor = match x {
        x if x > 12.0 => "start",
        x if x < -12.0 => "end",
        _ => "middle",
    };
    let (x, y) = (format!("{x:.1}"), format!("{y:.1}"));
    markup! {
        <path d=format!("M{ax:.4} {ay:.4}L{bx:.4} {by:.4}") class="moved-line" />
        <g transform=at(moved.from)><g class="upright"><circle r="3.5" class="moved-from" /></g></g>
        <g transform=at(moved.to)><g class="upright">
            <path d=shaft(way, -TAIL, -TIP) class="moved-arrow" />
            <text x=x y=y text-anchor=anchor class="moved-by">{length(moved.by, units)}</text>
        </g></g>
    }
}

/// What is compared, with the way to it and out of it; after a package came in, the way there.
#[component]
pub fn Compared() -> impl IntoView {
    let site = OpenSite::here();
    let comparing = Drafts::here().comparing;
    comparing.look(site);
    let changes = changes_here();
    let to = Route::Site(site.id(), Tab::Changes).to_hash();
    live(move || {
        let to = to.clone();
        if let Some(changes) = changes.get() {
            let end = move |_| comparing.since.set(None);
            return Some(markup! {
                <div class="compared" role="group" aria-label=say::COMPARISON>
                    <a class="button" href=to>{say::in_short(&changes)}</a>
                    <button type="button" class="small" aria-label=say::END on:click=end>{say::END_SHORT}</button>
                </div>
            });
        }
        comparing.came_just_now(site).then(|| {
            let choose = move |_| comparing.since.set(Some(Since::Came));
            markup! { <a class="button guide-link" href=to on:click=choose>{say::AFTER_PACKAGE}</a> }
        })
    })
}
