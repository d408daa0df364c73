//! Before you leave: what is still missing.

use crate::capture::{Advised, Capture, LongestTape, Panel};
use crate::markup::{live, memo, rows, shown};
use crate::routes::{Route, Tab};
use crate::screens::exact;
use crate::state::OpenSite;
use crate::words::{self, Names, Standing, Todo};
use leptos::prelude::*;

/// The list.
#[component]
pub fn LeaveScreen() -> impl IntoView {
    let site = OpenSite::here();
    let list = memo(move || {
        let fold = site.fold.get();
        let names = Names::new(&site.book.get(), &fold.record);
        words::todo(&fold.record, &site.adjustment.get(), &names, &site.doubts.get().found)
    });
    let standing = move || Standing::of(&site.fold.get().record, &site.adjustment.get()).words();
    let of = move |must: bool| list.get().into_iter().filter(|todo| todo.must == must).collect::<Vec<_>>();
    let nothing = move || list.with(Vec::is_empty);
    markup! {
        <div class="page">
            <h1>{words::LEAVE}</h1>
            <p>{live(standing)}</p>
            {shown(nothing, || markup! { <p class="good">{words::LEAVE_DONE}</p> })}
            {part(words::LEAVE_MUST, move || of(true))}
            {tapes()}
            {part(words::LEAVE_BETTER, move || of(false))}
            {live(move || figures(site))}
        </div>
    }
}

/// How well the readings agree as a whole, for who wants the figures.
fn figures(site: OpenSite) -> AnyView {
    let (fold, adjustment) = (site.fold.get(), site.adjustment.get());
    let lines = words::survey_figures(&fold.record, &adjustment);
    let lines = lines.into_iter().map(|(name, value)| markup! { <div><dt>{name}</dt><dd>{value}</dd></div> });
    exact(markup! {
        <section class="figures" aria-label=words::EXACT>
            <p>{words::survey_told(&adjustment)}</p>
            <dl>{lines.collect_view()}</dl>
        </section>
    })
}

/// The next few tapes worth taking.
fn tapes() -> AnyView {
    let advising = Capture::here().advising;
    advising.show();
    let best = memo(move || advising.all());
    let list = move || {
        let each = best.get().into_iter().map(|advice| markup! { <li class="todo"><Advised advice /></li> });
        each.collect_view()
    };
    // Where the tape said is too short for anything, it can still be said otherwise.
    shown(
        move || advising.said().is_some() || best.with(|best| !best.is_empty()),
        move || {
            markup! {
                <h2>{words::LEAVE_TAPES}</h2>
                <LongestTape />
                <ol class="todos">{live(list)}</ol>
            }
        },
    )
}

/// One half of the list; nothing when it is empty.
fn part(title: &'static str, list: impl Fn() -> Vec<Todo> + Copy + Send + Sync + 'static) -> AnyView {
    let (id, capture) = (OpenSite::here().id(), Capture::here());
    let row = move |todo: Todo| {
        let href = Route::Site(id.clone(), todo.at).to_hash();
        let at = match todo.at {
            Tab::Book => words::BOOK,
            Tab::Details => words::DETAILS,
            Tab::Problems | Tab::AddProblem | Tab::AddMark | Tab::Photos | Tab::Photo => words::PROBLEMS,
            Tab::Plan | Tab::Sheet | Tab::Leave | Tab::Things => words::PLAN,
        };
        let class = if todo.must { "todo todo-must" } else { "todo" };
        let contradicts = todo.contradicts;
        let settle = move |_| {
            if contradicts {
                capture.open(Panel::Doubts);
            }
        };
        markup! {
            <li class=class>
                <span class="todo-what">{todo.what}</span>
                <span>{todo.how}</span>
                <a class="button" href=href on:click=settle>
                    {if contradicts { words::LOOK_AT_IT.to_owned() } else { words::go_to(at) }}
                </a>
            </li>
        }
    };
    let part = move || markup! { <h2>{title}</h2> <ul class="todos">{rows(list, row.clone())}</ul> };
    shown(move || !list().is_empty(), part)
}
