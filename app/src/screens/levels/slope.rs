//! The slope between two points.

use crate::capture::Capture;
use crate::drawing::place;
use crate::markup::live;
use crate::screens::drafts::Drafts;
use crate::screens::parts::PointSelect;
use crate::words::levels as words;
use leptos::prelude::*;
use swingtie_core::levels::{Levels, Slope};
use swingtie_core::network::relative;
use swingtie_core::record::PointId;
use swingtie_core::units::{Length, SURE};

/// Two points, and how the ground falls between them.
#[component]
pub fn SlopeBetween(levels: Memo<Levels>) -> impl IntoView {
    let [from, to] = Drafts::here().level.slope;
    let told = move || {
        let ends = [from.get()?, to.get()?];
        let figures = levels.with(|levels| figures(levels, &ends));
        Some(figures.unwrap_or_else(|| markup! { <p role="status">{words::NO_SLOPE}</p> }))
    };
    markup! {
        <section class="part">
            <h2>{words::SLOPE}</h2>
            <div class="two-fields">
                <PointSelect label=words::SLOPE_FROM picked=from />
                <PointSelect label=words::SLOPE_TO picked=to />
            </div>
            {live(told)}
        </section>
    }
}

/// The figures; none where one of the two has no height or no place, or both stand above each other. Tracked.
fn figures(levels: &Levels, ends: &[PointId; 2]) -> Option<AnyView> {
    let capture = Capture::here();
    let (fold, adjustment, plan) =
        (capture.site.fold.get(), capture.site.adjustment.get(), capture.plan.get());
    let [from, to] = ends;
    let (rise, rise_sd) = levels.rise(from, to)?;
    // Of points on the sketch alone nobody knows how far they are off.
    let known = relative(&fold.record, &adjustment, from, to).map(|r| (r.distance, r.distance_sd));
    let (run, run_sd) = match known {
        Some(known) => known,
        None => (place(&plan, from)?.distance(place(&plan, to)?), Length::ZERO),
    };
    let slope = Slope::of(rise, run)?;
    let certain = rise.abs() > rise_sd * SURE;
    let record = &fold.record;
    let row = |(name, value)| markup! { <div><dt>{name}</dt><dd>{value}</dd></div> };
    let in_doubt = ends.iter().any(|end| levels.points.get(end).is_some_and(|h| h.in_doubt));
    let rows = words::slope_figures(slope, [rise, rise_sd], [run, run_sd], in_doubt, record.site.units);
    Some(markup! {
        <div class="figures" role="status">
            <p>{words::falls(slope, [record.label(from), record.label(to)], certain)}</p>
            <dl>{rows.into_iter().map(row).collect_view()}</dl>
            {known.is_none().then(|| markup! { <p>{words::ON_SKETCH}</p> })}
        </div>
    })
}
