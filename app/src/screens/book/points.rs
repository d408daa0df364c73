//! Every point in words: what the drawing shows, for whoever reads or hears it rather than sees it.

use crate::capture::Capture;
use crate::markup::rows as keyed_rows;
use crate::routes::Router;
use crate::screens::changes::show;
use crate::words::book::{PointLine, point_line};
use leptos::prelude::*;
use swingtie_core::record::PointId;

/// The points in the order they were named; a tap shows one on the plan, with its card.
#[component]
pub fn Points() -> impl IntoView {
    let capture = Capture::here();
    let lines = move || {
        let (plan, fold) = (capture.plan.get(), capture.site.fold.get());
        let line = |point: &swingtie_core::record::Point| {
            let placed = plan.points.iter().find(|placed| placed.id == point.id);
            (point.id.clone(), point_line(point, placed, &fold.record))
        };
        fold.record.points.iter().map(line).collect::<Vec<_>>()
    };
    markup! { <ul class="entries">{keyed_rows(lines, move |(id, line)| row(capture, id, line))}</ul> }
}

fn row(capture: Capture, id: PointId, line: PointLine) -> AnyView {
    let router = Router::here();
    markup! {
        <li class="entry">
            <button type="button" class="entry-head" on:click=move |_| show(capture, router, &id)>
                <span class="entry-number">{line.label}</span>
                <span class="entry-text">
                    <span class="entry-words">{line.told}</span>
                    {(!line.note.is_empty()).then(|| markup! { <span class="quiet">{line.note}</span> })}
                    <span class="entry-verdict">{line.place}</span>
                </span>
            </button>
        </li>
    }
}
