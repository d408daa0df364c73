//! Before you leave: what is still missing, most pressing first, and what was left as it is.

mod line;
mod mend;

pub use mend::go;

use crate::capture::{Advised, Capture, LongestTape, Panel};
use crate::markup::{live, memo, rows, shown};
use crate::routes::{Route, Router, Tab};
use crate::screens::exact;
use crate::screens::ground::ground_here;
use crate::screens::package::Unsent;
use crate::screens::questions::Waiting;
use crate::state::OpenSite;
use crate::words::{self, Standing};
use leptos::prelude::*;
use line::{Left, OpenLine};
use swingtie_core::checks::{Line, Mend, Weight, lines_on};

/// Everything the book leaves open or answered, as it stands. Tracked.
pub fn missing(site: OpenSite, capture: Capture) -> Vec<Line> {
    let (fold, adjustment, plan) = (site.fold.get(), site.adjustment.get(), capture.plan.get());
    let mut lines = lines_on(&fold.record, &adjustment, &plan, &ground_here().get());
    // Contradictions have words of their own, with what may have been misread.
    if site.doubts.with(|doubts| !doubts.found.is_empty()) {
        lines.retain(|line| line.mend != Mend::Doubts);
    }
    lines
}

/// The list.
#[component]
pub fn LeaveScreen() -> impl IntoView {
    let (site, capture) = (OpenSite::here(), Capture::here());
    let list = memo(move || missing(site, capture));
    let standing = move || Standing::of(&site.fold.get().record, &site.adjustment.get()).words();
    let of = move |weight: Weight| {
        let fits = |line: &&Line| line.weight == weight && line.is_open();
        list.with(|list| list.iter().filter(fits).cloned().collect::<Vec<_>>())
    };
    let left = move || list.with(|list| list.iter().filter(|l| !l.is_open()).cloned().collect::<Vec<_>>());
    let starts = move || !of(Weight::Start).is_empty();
    let nothing = move || {
        list.with(|list| list.iter().all(|line| !line.is_open()))
            && site.doubts.with(|doubts| doubts.found.is_empty())
    };
    // Who left every point as it is wants no more tapes.
    let wants_tapes = memo(move || {
        let tape = |line: &Line| line.is_open() && matches!(line.mend, Mend::Plan | Mend::Doubts);
        list.with(|list| list.iter().any(tape)) || site.doubts.with(|doubts| !doubts.found.is_empty())
    });
    // One line at a time is being answered.
    let asked = RwSignal::new(None);
    let part = move |weight: Weight| {
        let part = move || {
            markup! {
                <h2>{words::weight_name(weight)}</h2>
                {(weight == Weight::Look).then(|| markup! { <p class="hint">{words::LOOK_HINT}</p> })}
                <ul class="todos">{rows(move || of(weight), move |line| markup! { <OpenLine line asked /> })}</ul>
            }
        };
        shown(move || !of(weight).is_empty(), part)
    };
    let guide = Route::Site(site.id(), Tab::Guide).to_hash();
    markup! {
        <div class="page">
            <h1>{words::LEAVE}</h1>
            <p>{live(standing)}</p>
            {shown(nothing, || markup! { <p class="good">{words::LEAVE_DONE}</p> })}
            {part(Weight::Start)}
            <Waiting />
            {contradictions(site)}
            {part(Weight::Wrong)}
            {part(Weight::Unfinished)}
            {part(Weight::Visit)}
            {part(Weight::Note)}
            {tapes(wants_tapes)}
            {part(Weight::Better)}
            {part(Weight::Look)}
            {shown(move || !left().is_empty(), move || markup! {
                <details class="left">
                    <summary>{move || words::left(left().len())}</summary>
                    <ul class="todos">{rows(left, |line| markup! { <Left line /> })}</ul>
                </details>
            })}
            <Unsent />
            <a class="button button-wide" href=guide.clone()>{words::GUIDE}</a>
            {shown(move || !starts(), move || exact(move || figures(site)))}
        </div>
    }
}

/// Readings that contradict each other.
fn contradictions(site: OpenSite) -> AnyView {
    let (router, capture) = (Router::here(), Capture::here());
    let list =
        move || site.doubts.with(|doubts| doubts.found.iter().filter_map(words::contradiction).collect());
    let row = move |(what, how): (String, String)| {
        let settle = move |_| {
            capture.open(Panel::Doubts);
            router.go(&Route::Site(site.id(), Tab::Plan));
        };
        markup! {
            <li class="todo todo-must">
                <span class="todo-what">{what}</span>
                <span>{how}</span>
                <button type="button" class="button" on:click=settle>{words::LOOK_AT_IT}</button>
            </li>
        }
    };
    let any = move || site.doubts.with(|doubts| !doubts.found.is_empty());
    shown(any, move || markup! { <ul class="todos">{rows(list, row)}</ul> })
}

/// How well the readings agree as a whole, for who wants the figures. Tracked.
fn figures(site: OpenSite) -> AnyView {
    let (fold, adjustment) = (site.fold.get(), site.adjustment.get());
    let lines = words::survey_figures(&fold.record, &adjustment);
    let lines = lines.into_iter().map(|(name, value)| markup! { <div><dt>{name}</dt><dd>{value}</dd></div> });
    markup! {
        <section class="figures" aria-label=words::EXACT>
            <p>{words::survey_told(&adjustment)}</p>
            <dl>{lines.collect_view()}</dl>
        </section>
    }
}

/// The next few tapes worth taking.
fn tapes(wanted: Memo<bool>) -> AnyView {
    let advising = Capture::here().advising;
    advising.show();
    let best = memo(move || advising.all());
    let list = move || {
        let each = best.get().into_iter().map(|advice| markup! { <li class="todo"><Advised advice /></li> });
        each.collect_view()
    };
    // Where the tape said is too short for anything, it can still be said otherwise.
    shown(
        move || wanted.get() && (advising.said().is_some() || best.with(|best| !best.is_empty())),
        move || {
            markup! {
                <h2>{words::LEAVE_TAPES}</h2>
                <LongestTape />
                <ol class="todos">{live(list)}</ol>
            }
        },
    )
}
