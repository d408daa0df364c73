//! What is known about one entry, and what can be done with it.

use crate::capture::Capture;
use crate::routes::{Route, Router, Tab};
use crate::screens::{Drafts, exact};
use crate::state::{Home, OpenSite, saving};
use crate::words::{self, Names};
use leptos::prelude::*;
use swingtie_core::book::Standing;
use swingtie_core::network::{AdjustedReading, Adjustment, Discern, Quantity, discern};
use swingtie_core::record::{EntryId, Statement, UnitSystem};
use swingtie_core::units::format::fixed;

/// Who, when, the exact figures, and strike, bring back, correct.
#[component]
pub fn EntryDetails(id: EntryId) -> impl IntoView {
    let site = OpenSite::here();
    let (book, fold) = (site.book.get_untracked(), site.fold.get_untracked());
    let head = book.get(&id).map(|entry| {
        let (_, me) = Home::here().store();
        let by = words::package::by_whom(&fold.record, &entry.author, &me);
        words::written(&crate::device::local_time(entry.at_ms), &by)
    });
    let read = site.adjustment.with_untracked(|a| a.readings.iter().any(|reading| reading.entry == id));
    let of = id.clone();
    let figures = read.then(|| exact(move || all_figures(site, &of)));
    let standing = fold.standing.get(&id).cloned();
    let said = match book.get(&id).and_then(|e| e.statement()) {
        // What was corrected is corrected again where it was first said.
        Some(Statement::Correct { entry, now }) => Some((entry.clone(), now.as_ref().clone())),
        said => said.map(|said| (id.clone(), said.clone())),
    };
    let has_form = |said: &Statement| {
        matches!(
            said,
            Statement::Measure(_)
                | Statement::Feature(_)
                | Statement::Mark(_)
                | Statement::Problem(_)
                | Statement::Photo(_)
                | Statement::Note(_)
                | Statement::Level(_)
                | Statement::BenchMark(_)
        )
    };
    // An answer to the list before leaving is taken back, not written anew.
    let answers = |said: &Statement| matches!(said, Statement::Note(note) if !note.read().settles.is_empty());
    let said = said.filter(|(_, said)| has_form(said) && !answers(said));
    markup! {
        <div class="entry-more">
            <p class="quiet">{head}</p>
            {figures}
            <Actions id standing said />
        </div>
    }
}

/// The exact figures of an entry's readings.
fn all_figures(site: OpenSite, id: &EntryId) -> AnyView {
    let (book, fold) = (site.book.get_untracked(), site.fold.get_untracked());
    let (names, units) = (Names::new(&book, &fold.record), fold.record.site.units);
    let lines = site.adjustment.with_untracked(|adjustment| {
        let all = adjustment.readings.iter().enumerate().filter(|(_, reading)| reading.entry == *id);
        let (numbers, mine): (Vec<usize>, Vec<&AdjustedReading>) = all.unzip();
        let told = discern(&fold.record, adjustment, &numbers).into_iter();
        let told = told.map(|told| told_apart(told, adjustment, &names, units));
        let all = mine.into_iter().zip(told);
        all.map(|(reading, told)| figures(reading, told, &names, units)).collect::<Vec<_>>()
    });
    lines.into_any()
}

/// One reading's exact figures.
fn figures(reading: &AdjustedReading, told: String, names: &Names, units: UnitSystem) -> AnyView {
    let write = |value: Option<Quantity>| value.map_or_else(|| "–".to_owned(), |v| words::quantity(v, units));
    let number = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |v| fixed(v, 2));
    let lines = [
        (words::ROW_READ, write(Some(reading.observed))),
        (words::ROW_PLAN, write(reading.adjusted)),
        (words::ROW_RESIDUAL, write(reading.residual)),
        (words::ROW_SD, write(Some(reading.sd))),
        (words::ROW_STANDARDISED, number(reading.standardised)),
        (words::ROW_REDUNDANCY, number(reading.redundancy)),
        (words::ROW_DETECTABLE, write(reading.smallest_detectable)),
        (words::ROW_TOLD_APART, told),
    ];
    let lines =
        lines.map(|(name, value)| markup! { <div><dt>{name}</dt><dd>{value}</dd></div> }).collect_view();
    let title = title(reading, names);
    markup! {
        <section class="figures" aria-label=words::EXACT>
            <h2>{title}</h2>
            <dl>{lines}</dl>
        </section>
    }
}

/// What a reading is: `Tie: H6, T3`.
fn title(reading: &AdjustedReading, names: &Names) -> String {
    say!("{}: {}", words::role_name(reading.role), words::list(&names.all(&reading.points)))
}

/// From which size on an error could be told from one in the reading most like it.
fn told_apart(told: Option<Discern>, adjustment: &Adjustment, names: &Names, units: UnitSystem) -> String {
    let like = |number| adjustment.readings.get(number).map(|r| title(r, names)).unwrap_or_default();
    match told {
        None => "–".to_owned(),
        Some(Discern { smallest: Some(size), .. }) => words::quantity(size, units),
        Some(Discern { smallest: None, like: number, .. }) => words::looks_like(&like(number)),
    }
}

/// What can be done with an entry, as it stands.
#[component]
fn Actions(id: EntryId, standing: Option<Standing>, said: Option<(EntryId, Statement)>) -> impl IntoView {
    let (site, router, capture) = (OpenSite::here(), Router::here(), Capture::here());
    let strike = move |target: EntryId| {
        move |_| {
            let target = target.clone();
            saving(async move { site.strike(target).await });
        }
    };
    let drafts = Drafts::here();
    let correct = said.map(|(entry, said)| {
        let correct = move |_| {
            let opened = match &said {
                Statement::Feature(_) => capture.edit_thing(&entry),
                Statement::Mark(_) => capture.edit_mark(&entry),
                Statement::Note(note) => {
                    drafts.note.edit(&entry, &note.read());
                    return router.go(&Route::Site(site.id(), Tab::Notes));
                }
                Statement::Level(_) => {
                    let now = site.fold.with_untracked(|fold| {
                        fold.record.levels.iter().find(|l| l.entry == entry).map(|l| l.what.clone())
                    });
                    if let Some(now) = now {
                        drafts.level.edit(&entry, &now, router, capture);
                    }
                    return;
                }
                Statement::BenchMark(_) => return router.go(&Route::Site(site.id(), Tab::Levels)),
                Statement::Problem(_) => false,
                Statement::Photo(_) => {
                    drafts.photos.open.set(Some(entry.clone()));
                    return router.go(&Route::Site(site.id(), Tab::Photo));
                }
                _ => capture.correct(&entry, None),
            };
            if opened {
                router.go(&Route::Site(site.id(), Tab::Plan));
            }
            // As it stands now, which may be another correction's words.
            let problem = site.fold.with_untracked(|fold| {
                fold.record.problems.iter().find(|p| p.entry == entry).map(|p| p.what.clone())
            });
            if let Some(problem) = problem {
                drafts.problem.edit(&entry, &problem);
                router.go(&Route::Site(site.id(), Tab::AddProblem));
            }
        };
        markup! { <button type="button" class="button" on:click=correct>{words::CORRECT}</button> }
    });
    match standing {
        Some(Standing::Struck { by }) => markup! {
            <div class="buttons"><button type="button" class="button" on:click=strike(by)>{words::BRING_BACK}</button></div>
        },
        Some(Standing::Corrected { by }) => markup! {
            <div class="buttons">
                <button type="button" class="button" on:click=strike(by)>{words::BRING_BACK_FIRST}</button>
                {correct}
            </div>
        },
        Some(Standing::Stands | Standing::NotUnderstood) | None => markup! {
            <div class="buttons">
                <button type="button" class="button button-danger" on:click=strike(id)>{words::STRIKE}</button>
                {correct}
            </div>
        },
    }
}
