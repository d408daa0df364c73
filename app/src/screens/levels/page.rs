//! The level book as a surveyor keeps it, with its arithmetic check.

use super::bench::stated;
use crate::capture::Capture;
use crate::markup::live;
use crate::screens::exact_named;
use crate::words::levels as words;
use leptos::prelude::*;
use swingtie_core::levels::{Booked, Page, book_pages, setups};
use swingtie_core::record::Record;
use swingtie_core::units::Length;

/// Rise and fall and height of instrument, page by page.
#[component]
pub fn SurveyorsPage() -> impl IntoView {
    let site = Capture::here().site;
    let pages = move || {
        let fold = site.fold.get();
        let record = &fold.record;
        let (pages, _) = book_pages(&setups(record), stated(record).as_ref());
        pages.iter().map(|one| page(one, record)).collect_view()
    };
    exact_named(words::FOR_SURVEYORS, markup! { <p class="hint">{words::BOOK_HINT}</p> {live(pages)} })
}

fn page(page: &Page, record: &Record) -> AnyView {
    let units = record.site.units;
    let write = |value: Option<Length>| value.map(|value| words::figure(value, units)).unwrap_or_default();
    let row = |line: &Booked| {
        let label = record.label(&line.point).to_owned();
        let cells = [line.back, line.between, line.fore, line.rise, line.fall, line.line, Some(line.height)];
        let cells = cells.map(|value| markup! { <td>{write(value)}</td> }).collect_view();
        markup! { <tr><th scope="row">{label}</th>{cells}</tr> }
    };
    let sums = page.sums;
    let totals = [Some(sums.back), None, Some(sums.fore), Some(sums.rise), Some(sums.fall), None, None];
    let totals = totals.map(|value| markup! { <td>{write(value)}</td> }).collect_view();
    let head = words::COLUMNS.map(|name| markup! { <th scope="col">{name}</th> }).collect_view();
    let not_tied = (!page.tied).then(|| markup! { <p class="wrong">{words::NOT_TIED}</p> });
    markup! {
        {not_tied}
        // It may be wider than a phone, and is then pushed on.
        <div class="level-book" tabindex="0" role="region" aria-label=words::FOR_SURVEYORS>
            <table>
                <thead><tr>{head}</tr></thead>
                <tbody>{page.lines.iter().map(row).collect_view()}</tbody>
                <tfoot><tr><th scope="row">{words::SUMS}</th>{totals}</tr></tfoot>
            </table>
        </div>
        <p role="status">{words::sums(&sums, units)}</p>
    }
}
