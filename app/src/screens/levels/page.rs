//! The level book as a surveyor keeps it, with its arithmetic check.

use super::bench::level_book;
use crate::capture::Capture;
use crate::markup::live;
use crate::screens::exact_named;
use crate::words::levels as words;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::levels::{Booked, Page};
use swingtie_core::record::Record;
use swingtie_core::units::Length;

/// Rise and fall and height of instrument, page by page.
#[component]
pub fn SurveyorsPage() -> impl IntoView {
    let site = Capture::here().site;
    let pages = move || {
        let fold = site.fold.get();
        let record = &fold.record;
        let (pages, closings) = level_book(record);
        let pages = pages.iter().map(|one| page(one, record)).collect_view();
        let mut errors: Vec<String> = closings.iter().map(|one| words::closing_error(one, record)).collect();
        if errors.is_empty() {
            errors.push(tr(words::NO_CLOSING_ERROR).to_owned());
        }
        let errors = errors.into_iter().map(|told| markup! { <li>{told}</li> }).collect_view();
        markup! { {pages} <ul class="closings">{errors}</ul> }
    };
    exact_named(
        words::FOR_SURVEYORS,
        move || markup! { <p class="hint">{words::BOOK_HINT}</p> {live(pages)} },
    )
}

fn page(page: &Page, record: &Record) -> AnyView {
    let units = record.site.units;
    let write = |value: Option<Length>| value.map(|value| words::figure(value, units)).unwrap_or_default();
    // Without a known height there are rises and falls only.
    let values = |line: &Booked| {
        let (level, height) = (line.line.filter(|_| page.tied), Some(line.height).filter(|_| page.tied));
        [line.back, line.between, line.fore, line.rise, line.fall, level, height]
    };
    // A column that nothing stands in takes room from the others.
    let kept = page.lines.iter().fold([false; 7], |mut kept, line| {
        for (kept, value) in kept.iter_mut().zip(values(line)) {
            *kept |= value.is_some();
        }
        kept
    });
    let cells = |values: [Option<Length>; 7]| {
        let kept = values.into_iter().zip(kept).filter(|(_, kept)| *kept);
        kept.map(|(value, _)| markup! { <td>{write(value)}</td> }).collect_view()
    };
    let row = |line: &Booked| {
        let label = record.label(&line.point).to_owned();
        let cells = cells(values(line));
        markup! { <tr><th scope="row">{label}</th>{cells}</tr> }
    };
    let sums = page.sums;
    let totals = [Some(sums.back), None, Some(sums.fore), Some(sums.rise), Some(sums.fall), None, None];
    let totals = cells(totals);
    let names = words::COLUMNS.into_iter().zip(std::iter::once(true).chain(kept)).filter(|(_, kept)| *kept);
    let head = names.map(|(name, _)| markup! { <th scope="col">{name}</th> }).collect_view();
    let not_tied = (!page.tied).then(|| markup! { <p class="wrong">{words::NOT_TIED}</p> });
    markup! {
        {not_tied}
        // It may be wider than a phone, and is then pushed on.
        <p class="hint">{words::PUSH}</p>
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
