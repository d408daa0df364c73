//! One entry in the slip beside or below the plan, its points shown on the drawing.

use super::details::EntryDetails;
use super::rows::Row;
use super::{rows_here, said};
use crate::capture::{Capture, Panel, SlipHead};
use crate::markup::{derived, live, memo};
use crate::words::book as words;
use leptos::prelude::*;
use swingtie_core::record::{EntryId, PointId, Statement};

/// Opens an entry in the slip.
pub fn open_entry(capture: Capture, id: &EntryId) {
    let points = capture.site.book.with_untracked(|book| book.get(id)?.statement().map(Statement::points));
    capture.open(Panel::Entry { id: id.clone(), points: points.unwrap_or_default() });
}

/// What the book says of one entry, and the way to each of its points.
#[component]
pub fn EntrySlip(id: EntryId, points: Vec<PointId>) -> impl IntoView {
    let capture = Capture::here();
    let all = rows_here();
    let wanted = id.clone();
    let row = memo(move || all.with(|rows| rows.iter().find(|row| row.id == wanted).cloned()));
    // By whom, its details say.
    let words_of = move || row.get().map(|row| said(Row { by: None, ..row }));
    // Made anew when it is struck or brought back, here or elsewhere.
    let details = move || {
        row.track();
        markup! { <EntryDetails id=id.clone() /> }
    };
    let any = !points.is_empty();
    let chips = move || {
        let fold = capture.site.fold.get();
        let chip = |point: &PointId| {
            let (point, label) = (point.clone(), words::point(fold.record.label(point)));
            let open = move |_| capture.open(Panel::Card(point.clone()));
            markup! { <button type="button" class="chip" on:click=open>{label}</button> }
        };
        points.iter().map(chip).collect_view()
    };
    let title = derived(move || {
        row.with(|row| row.as_ref().map_or_else(String::new, |row| words::entry(row.number)))
    });
    markup! {
        <SlipHead title=title />
        {live(words_of)}
        {any.then(|| markup! { <div class="chips" role="group" aria-label=words::ITS_POINTS>{live(chips)}</div> })}
        {live(details)}
    }
}
