//! The level book: every set-up with its readings, the book's pages with their sums, where it closes.

use super::Section;
use super::html::{Html, Sort, Table};
use super::struck::{earlier, through};
use super::subject::Subject;
use crate::levels::words::{closing_error, figure, figure_of, instrument, sums};
use crate::levels::{Booked, Page, Rod, book_pages, setups};
use crate::record::Statement;
use crate::units::Length;
use crate::units::format::format_number;

pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let struck = struck(subject);
    let all = setups(subject.record);
    if all.is_empty() && struck.is_empty() {
        return None;
    }
    let mut body = Html::default();
    for sentence in &subject.told.heights {
        body.paragraph(sentence);
    }
    let mut table = Table::new(
        "Set-ups and their readings, from the point up to the level line",
        &[
            ("Set-up", Sort::Words),
            ("Point", Sort::Words),
            ("Read", Sort::Figures),
            ("Residual", Sort::Figures),
            ("Standardised", Sort::Figures),
            ("State", Sort::Words),
        ],
    );
    for (number, setup) in (1..).zip(&all) {
        for rod in &setup.rods {
            table.row(reading(subject, &say!("{number}, {}", instrument(setup.with)), rod));
        }
    }
    struck.into_iter().for_each(|row| table.row(row));
    table.write(&mut body);
    let (pages, closings) = book_pages(&all, subject.record.bench_mark.as_ref());
    for (number, one) in (1..).zip(&pages) {
        page(subject, number, one, &mut body);
    }
    let mut closed: Vec<String> = closings.iter().map(|one| closing_error(one, subject.record)).collect();
    if closed.is_empty() {
        closed.push(say!("No point was reached twice: nothing checks the readings."));
    }
    body.list(closed.iter().map(String::as_str));
    Some(Section { id: "levels", title: "Level book", body })
}

fn reading(subject: &Subject<'_>, setup: &str, rod: &Rod) -> Vec<Html> {
    let levels = &subject.given.ground.levels;
    let adjusted = levels.readings.iter().find(|r| r.entry == rod.entry);
    let mut read = Html::by(&rod.text);
    if rod.below_line < Length::ZERO {
        read.raw(", rod upside down");
    }
    let residual = adjusted.map(|r| figure_of(r.residual, subject.units));
    let standardised = adjusted.and_then(|r| r.standardised).map(|w| format_number(w, 1).replace('-', "−"));
    let state = match adjusted {
        _ if levels.doubted.contains(&rod.entry) => "In doubt",
        None => "Joined to no known height",
        Some(r) if r.smallest_detectable.is_none() => "Nothing checks it",
        Some(_) => "Agrees",
    };
    vec![
        Html::of(setup),
        Html::by(subject.record.label(&rod.point)),
        read,
        Html::of(&residual.unwrap_or_default()),
        Html::of(&standardised.unwrap_or_default()),
        Html::of(state),
    ]
}

/// Level readings that count no more.
fn struck(subject: &Subject<'_>) -> Vec<Vec<Html>> {
    let mut rows = Vec::new();
    for entry in subject.given.book.entries() {
        for earlier in earlier(subject, entry) {
            let Statement::Level(said) = earlier.said else { continue };
            let point = through(subject.record.label(&said.point));
            let (none, read) = (Html::default(), through(&said.reading.text));
            rows.push(vec![Html::of("struck"), point, read, none.clone(), none, earlier.why]);
        }
    }
    rows
}

/// One page as surveyors keep it, with the arithmetic check below.
fn page(subject: &Subject<'_>, number: usize, page: &Page, html: &mut Html) {
    let write = |value: Option<Length>| {
        value.map_or_else(Html::default, |value| Html::of(&figure(value, subject.units).replace('-', "−")))
    };
    let mut table = Table::new(
        &say!("Page {number}, by rise and fall; as read, nothing adjusted"),
        &[
            ("Point", Sort::Words),
            ("Back", Sort::Figures),
            ("Inter.", Sort::Figures),
            ("Fore", Sort::Figures),
            ("Rise", Sort::Figures),
            ("Fall", Sort::Figures),
            ("Line", Sort::Figures),
            ("Height", Sort::Figures),
        ],
    );
    for line in &page.lines {
        let Booked { back, between, fore, rise, fall, .. } = line;
        // Without a known height there are rises and falls only.
        let (level, height) = (line.line.filter(|_| page.tied), Some(line.height).filter(|_| page.tied));
        let mut cells = vec![Html::by(subject.record.label(&line.point))];
        cells.extend([*back, *between, *fore, *rise, *fall, level, height].map(write));
        table.row(cells);
    }
    let s = page.sums;
    let mut foot = vec![Html::of("Sums")];
    foot.extend([Some(s.back), None, Some(s.fore), Some(s.rise), Some(s.fall), None, None].map(write));
    table.foot(foot);
    if !page.tied {
        html.paragraph("Nothing joins this page to a known height: it has rises and falls only.");
    }
    table.write(html);
    html.paragraph(&sums(&s, subject.units));
}
