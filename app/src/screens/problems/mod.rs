//! The Problems tab: what is wrong in the yard, what is buried in it, and the site's details.

mod mark;
mod place;
mod problem;
mod worth;

pub use mark::{AddMark, Draft as MarkDraft};
pub use problem::{AddProblem, Draft as ProblemDraft};

use crate::capture::{Capture, Panel};
use crate::markup::{live, shown};
use crate::notices::Notices;
use crate::routes::{Route, Router, Tab};
use crate::screens::drafts::Drafts;
use crate::screens::photos::{Goal, PhotoRun, Pin, Thumbnail, add_photos, photos_of};
use crate::screens::questions::{asked_here, open as open_questions};
use crate::state::{OpenSite, saving};
use crate::words::{self, Names, asked as said, levels as heights};
use leptos::prelude::*;
use swingtie_core::checks::Concern;
use swingtie_core::language::tr;
use swingtie_core::record::{
    Attributes, EntryId, Problem, Record, Recorded, UtilityMark, caution, what_next,
};

use worth::{Worth, explained, worth};

/// The Problems tab.
#[component]
pub fn ProblemsScreen() -> impl IntoView {
    let id = OpenSite::here().id();
    let to = |tab| Route::Site(id.clone(), tab).to_hash();
    let found = worth();
    markup! {
        <div class="page problems">
            <h1>{words::PROBLEMS}</h1>
            <Contradicted />
            <Ways />
            <PhotoRun />
            <ProblemList found />
            <a class="button button-main button-wide" href=to(Tab::AddProblem)>{words::ADD_PROBLEM}</a>
            <Worth found />
            <h2>{words::MARKS}</h2>
            <DigCaution />
            <MarkList />
            <a class="button button-wide" href=to(Tab::AddMark)>{words::ADD_MARK}</a>
            <a class="button button-wide" href=to(Tab::Settings)>{words::settings::SETTINGS}</a>
        </div>
    }
}

/// Readings that contradict each other are no problem of the yard, yet here is where one looks for what is wrong.
#[component]
fn Contradicted() -> impl IntoView {
    let (site, capture) = (OpenSite::here(), Capture::here());
    let short = move || site.doubts.with(|doubts| doubts.short.clone());
    let plan = Route::Site(site.id(), Tab::Plan).to_hash();
    live(move || {
        short().map(|short| markup! {
            <div class="doubt doubt-line">
                <p><span aria-hidden="true">"▲ "</span>{short}</p>
                <a class="button" href=plan.clone() on:click=move |_| capture.open(Panel::Doubts)>{words::LOOK_AT_IT}</a>
            </div>
        })
    })
}

/// The ways to what else is kept of the site, each with how much of it there is.
#[component]
fn Ways() -> impl IntoView {
    let site = OpenSite::here();
    let (id, asked) = (site.id(), asked_here());
    let counted = move |count: fn(&Record) -> usize| {
        move || site.fold.with(|fold| words::how_many(count(&fold.record)))
    };
    let questions = move || asked.with(|all| words::questions::ways(open_questions(asked), all.len()));
    let notes = |record: &Record| record.notes().iter().filter(|n| n.what.settles.is_empty()).count();
    let way = |name: &'static str, tab: Tab, much: AnyView| {
        markup! {
            <li>
                <a class="button way" href=Route::Site(id.clone(), tab).to_hash()>
                    <strong>{name}</strong>" "<span>{much}</span>
                </a>
            </li>
        }
    };
    markup! {
        <nav aria-label=words::WAYS>
            <ul class="ways">
                {way(words::questions::QUESTIONS, Tab::Questions, live(questions).into_any())}
                {way(words::PHOTOS, Tab::Photos, live(counted(|record| record.photos.len())).into_any())}
                {way(heights::HEIGHTS, Tab::Levels, live(counted(|record| record.levels.len())).into_any())}
                {way(words::NOTES, Tab::Notes, live(counted(notes)).into_any())}
                {way(words::THINGS_WAY, Tab::Things, live(counted(|record| record.features.len())).into_any())}
                {way(words::DETAILS, Tab::Details, tr(words::DETAILS_WAY).into_any())}
            </ul>
        </nav>
    }
}

/// The caution that goes with every utility mark.
#[component]
pub fn DigCaution() -> impl IntoView {
    markup! { <div class="caution" role="note"><strong>{words::DIG_TITLE}</strong><p>{words::DIG_CAUTION}</p></div> }
}

#[component]
fn ProblemList(found: Memo<Vec<Concern>>) -> impl IntoView {
    let (site, router, draft) = (OpenSite::here(), Router::here(), Drafts::here().problem);
    let row = move |(number, problem): (usize, Recorded<Problem>)| {
        let names = Names::new(&site.book.get(), &site.fold.get().record);
        let (name, what, edited) =
            (words::problem_name(&problem.what.kind), problem.what.clone(), problem.entry.clone());
        let p = problem.what;
        let edit = move |_| {
            draft.edit(&edited, &what);
            router.go(&Route::Site(site.id(), Tab::AddProblem));
        };
        let photos = photos_of(site, &problem.entry, &p.photos).into_iter();
        let photos = photos.map(|id| markup! { <Thumbnail id alt=words::PHOTO_OF_PROBLEM /> }).collect_view();
        let pin = Pin { at: p.at.clone(), of: Some(problem.entry.clone()) };
        let (whose, why) = (name.to_owned(), problem.entry.clone());
        markup! {
            <li class="item">
                <span class="item-number" aria-hidden="true">{number}</span>
                <div class="item-text">
                    <strong>{words::problem_name(&p.kind)}</strong>
                    <span>{words::problem_line(p.severity, &p.at, p.told, &names)}</span>
                    <span>{p.note}</span>
                    <span>{known(&p.attributes, &names)}</span>
                    {live(move || explained(found, &why))}
                    {caution(&p.kind).map(|caution| markup! { <span class="item-caution">{caution}</span> })}
                    {what_next(&p.kind).map(|next| markup! { <span>{said::what_next(next)}</span> })}
                    <div class="buttons">{photos}</div>
                    {add_photos(&whose, move || Goal::Book(pin.clone()))}
                    <div class="buttons">
                        <button type="button" class="button" aria-label=said::edit_named(&name) on:click=edit>{said::EDIT}</button>
                        <StrikeThis entry=problem.entry name=name />
                    </div>
                </div>
            </li>
        }
    };
    let list = move || {
        let problems = site.fold.with(|fold| fold.record.problems.clone());
        (1..).zip(problems).map(row).collect_view()
    };
    let none = move || site.fold.with(|fold| fold.record.problems.is_empty());
    markup! {
        {shown(none, || markup! { <p class="quiet">{words::NO_PROBLEMS}</p> })}
        <ol class="items">{live(list)}</ol>
    }
}

#[component]
fn MarkList() -> impl IntoView {
    let (site, router, capture) = (OpenSite::here(), Router::here(), Capture::here());
    let row = move |mark: Recorded<UtilityMark>| {
        let names = Names::new(&site.book.get(), &site.fold.get().record);
        let (m, edited) = (mark.what, mark.entry.clone());
        let edit = move |_| {
            if capture.edit_mark(&edited) {
                router.go(&Route::Site(site.id(), Tab::Plan));
            }
        };
        let name = words::colour_name(m.colour);
        markup! {
            <li class="item">
                <span class="swatch" data-colour=name.to_ascii_lowercase() data-face=words::capture::mark(m.colour).2></span>
                <div class="item-text">
                    <strong>{words::mark_title(m.colour)}</strong>
                    <span>{words::mark_line(&m, &names)}</span>
                    <span>{known(&m.attributes, &names)}</span>
                    <span>{m.note}</span>
                    <div class="buttons">
                        <button type="button" class="button" aria-label=said::edit_named(&words::mark_title(m.colour))
                            on:click=edit>{said::EDIT}</button>
                        <StrikeThis entry=mark.entry name=words::mark_title(m.colour) />
                    </div>
                </div>
            </li>
        }
    };
    let list = move || site.fold.with(|fold| fold.record.marks.clone()).into_iter().map(row).collect_view();
    let none = move || site.fold.with(|fold| fold.record.marks.is_empty());
    markup! {
        {shown(none, || markup! { <p class="quiet">{words::NO_MARKS}</p> })}
        <ul class="items">{live(list)}</ul>
    }
}

/// What is known of it, as the book writes it.
fn known(attributes: &Attributes, names: &Names) -> String {
    words::known(attributes, names.units()).trim_start_matches(", ").to_owned()
}

/// Withdraws what the row shows; the book keeps it with a line through it.
#[component]
pub fn StrikeThis(entry: EntryId, name: String) -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let strike = move |_| {
        let entry = entry.clone();
        saving(async move {
            site.strike(entry).await?;
            notices.say(words::STRUCK_ITEM);
            Ok(())
        });
    };
    markup! {
        <button type="button" class="button button-plain item-strike" aria-label=words::strike_named(&name) on:click=strike>
            {words::STRIKE}
        </button>
    }
}
