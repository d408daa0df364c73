//! Every thing of the yard in a list, to look at, to edit and to strike.

use super::fill::Fill;
use crate::capture::Capture;
use crate::markup::{live, shown};
use crate::routes::{Route, Router, Tab};
use crate::screens::parts::back_to_problems;
use crate::screens::problems::StrikeThis;
use crate::state::OpenSite;
use crate::words::{self, Names, amounts, asked as said};
use leptos::prelude::*;
use swingtie_core::network::Joint;
use swingtie_core::plan::quantities::{Extent, extent};
use swingtie_core::record::{EntryId, Feature, Recorded, Statement, kind};

/// Kinds that are filled, covered or dug.
const FILLED: &[&str] = &[
    "patio", "drive", "path", "pad", "bed", "lawn", "wet_spot", "eroded", "play", "dog_run", "bins", "pool",
];

/// The list of things.
#[component]
pub fn ThingsScreen() -> impl IntoView {
    let (site, router, capture) = (OpenSite::here(), Router::here(), Capture::here());
    // Of one thing at a time is asked how much fills it.
    let filled = RwSignal::new(None::<EntryId>);
    let row = move |thing: Recorded<Feature>, joint: Option<&Joint>| {
        let names = Names::new(&site.book.get(), &site.fold.get().record);
        let name = title(&thing.what, &names);
        let (edited, own) = (thing.entry.clone(), thing.entry.clone());
        let extent = capture.plan.with(|plan| {
            let shape = plan.shapes.iter().find(|shape| shape.entry == thing.entry);
            shape
                .map_or_else(Extent::default, |shape| extent(plan, &thing.what.points, &shape.outline, joint))
        });
        let called = name.clone();
        let fills = FILLED.contains(&thing.what.kind.as_str());
        let fill = extent.area.filter(|_| fills).map(|area| markup! { <Fill area name=called own filled /> });
        let edit = move |_| {
            if capture.edit_thing(&edited) {
                router.go(&Route::Site(site.id(), Tab::Plan));
            }
        };
        markup! {
            <li class="item">
                <div class="item-text">
                    <strong>{name.clone()}</strong>
                    <span>{words::statement(&Statement::Feature(thing.what), &names)}</span>
                    {amounts::extent(&extent, names.units()).map(|extent| markup! { <span>{extent}</span> })}
                    <div class="buttons">
                        <button type="button" class="button" aria-label=said::edit_named(&name) on:click=edit>{said::EDIT}</button>
                        <StrikeThis entry=thing.entry name=name />
                    </div>
                    {fill}
                </div>
            </li>
        }
    };
    let list = move || {
        let features = site.fold.with(|fold| fold.record.features.clone());
        let adjustment = site.adjustment.get();
        let joint = site.fold.with(|fold| Joint::new(&fold.record, &adjustment));
        features.into_iter().map(|thing| row(thing, joint.as_ref())).collect_view()
    };
    let none = move || site.fold.with(|fold| fold.record.features.is_empty());
    markup! {
        <div class="page problems">
            {back_to_problems()}
            <h1>{said::THINGS}</h1>
            {shown(none, || markup! { <p class="quiet">{said::NO_THINGS}</p> })}
            <ul class="items">{live(list)}</ul>
        </div>
    }
}

/// What it is and where: `Tree T1`.
fn title(thing: &Feature, names: &Names) -> String {
    let name = kind(&thing.kind).map_or(thing.kind.as_str(), |kind| kind.name);
    let first = thing.points.first().map_or("", |point| names.of(point));
    say!("{name} {first}").trim_end().to_owned()
}
