//! Where a problem is: points from the list, tapped on the drawing, or taped first.

use crate::capture::Capture;
use crate::drawing::{Drawing, Overlay, Sheet, Tap};
use crate::markup::{derived, live, shown};
use crate::routes::{Route, Router, Tab};
use crate::screens::parts::{PointChips, chips, toggle};
use crate::state::{OpenSite, saving};
use crate::words::{self, asked as said};
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{PointId, Spread};
use swingtie_core::units::PlanPoint;

/// The points, how the problem lies at them, and the ways to come by a new one.
#[component]
pub fn Where(points: RwSignal<Vec<PointId>>, spread: RwSignal<Option<Spread>>) -> impl IntoView {
    let (site, router, capture) = (OpenSite::here(), Router::here(), Capture::here());
    let drawn = RwSignal::new(false);
    let spreads = move || {
        let all = [
            (None, said::SPREAD_POINTS),
            (Some(Spread::Line), said::SPREAD_LINE),
            (Some(Spread::Area), said::SPREAD_AREA),
        ];
        // Two points go round nothing.
        let few = points.with(|points| points.len() < 3);
        let fits = |(one, _): &(Option<Spread>, &str)| !(few && *one == Some(Spread::Area));
        let options = all.into_iter().filter(fits).map(|(one, name)| (one, tr(name).to_owned())).collect();
        chips(said::SPREAD, options, move || Some(spread.get()), move |one| spread.set(one))
    };
    let tape = move |_| {
        capture.tape_new();
        router.go(&Route::Site(site.id(), Tab::Plan));
    };
    let name = move || if drawn.get() { said::HIDE_PLAN } else { said::SHOW_PLAN };
    markup! {
        <PointChips legend=words::PROBLEM_WHERE picked=points />
        <p class="hint">{words::WHERE_HINT}</p>
        <div class="buttons">
            <button type="button" class="button" on:click=move |_| drawn.update(|drawn| *drawn = !*drawn)>{live(name)}</button>
            <button type="button" class="button" on:click=tape>{said::TAPE_POINT}</button>
        </div>
        <p class="hint">{said::TAPE_POINT_HINT}</p>
        {shown(move || drawn.get(), move || markup! { <Picker points=points /> })}
        {shown(move || points.with(|points| points.len() > 1), spreads)}
    }
}

/// The plan, small: a tap picks a point, or makes one where there is none.
#[component]
fn Picker(points: RwSignal<Vec<PointId>>) -> impl IntoView {
    let capture = Capture::here();
    let overlay =
        move || Overlay { chosen: points.get(), joined: points.with(|p| p.len() > 1), ..Overlay::default() };
    let tapped = move |tap: Tap| match tap.near.first() {
        Some(known) => points.update(|points| toggle(points, known)),
        None => saving(async move {
            let id = capture.new_point_at(tap.at).await?;
            points.try_update(|points| points.push(id));
            Ok(())
        }),
    };
    markup! {
        <p class="hint">{said::TAP_WHERE}</p>
        <div class="picker">
            <Drawing sheet=Sheet::new() plan=capture.plan overlay=derived(overlay) on_tap=tapped
                draggable=derived(|| false) on_drop=|_: (PointId, PlanPoint)| {} within=".picker" />
        </div>
    }
}
