//! What the readings show that is worth a look, each with its numbers, its source and its caution one tap away.

use super::super::{
    ground::ground_here,
    kept::{Kept, kept},
    leave::go,
};
use crate::capture::Capture;
use crate::markup::{live, shown};
use crate::state::OpenSite;
use crate::words;
use leptos::prelude::*;
use std::cell::RefCell;
use swingtie_core::checks::{Concern, Mend, Weight, answer_to, concerns};
use swingtie_core::record::{EntryId, Note, Recorded};

/// So many stand open; the rest is folded.
const OPEN: usize = 4;

thread_local! {
    /// Of the site that is open.
    static KEPT: Kept<Vec<Concern>> = const { RefCell::new(None) };
}

/// Everything worth a look, as it stands.
pub fn worth() -> Memo<Vec<Concern>> {
    let (site, capture, ground) = (OpenSite::here(), Capture::here(), ground_here());
    kept(&KEPT, move || concerns(&site.fold.get().record, &capture.plan.get(), &ground.get()))
}

/// What explains a problem, beside its own row. Tracked.
pub fn explained(found: Memo<Vec<Concern>>, problem: &EntryId) -> Vec<AnyView> {
    let own =
        found.with(|found| found.iter().filter(|c| c.about.contains(problem)).cloned().collect::<Vec<_>>());
    let row = |c: Concern| markup! { <span class="item-why">{words::full_stop(&c.what)}</span> };
    own.into_iter().map(row).collect()
}

/// The section; nothing while there is nothing to look at.
#[component]
pub fn Worth(found: Memo<Vec<Concern>>) -> impl IntoView {
    let site = OpenSite::here();
    // What is only missing stands in the list before leaving.
    let seen = move || {
        found.with(|found| found.iter().filter(|c| c.weight == Weight::Note).cloned().collect::<Vec<_>>())
    };
    let list = move |from: usize, to: usize| {
        let notes = site.fold.with(|fold| fold.record.notes());
        let few = seen().into_iter().skip(from).take(to - from);
        few.map(|concern| row(concern, &notes)).collect_view()
    };
    shown(
        move || !seen().is_empty(),
        move || {
            markup! {
                <section class="worth" aria-label=words::WORTH>
                    <h2>{words::WORTH}</h2>
                    <p class="hint">{words::WORTH_HINT}</p>
                    <ul class="items">{live(move || list(0, OPEN))}</ul>
                    {shown(move || seen().len() > OPEN, move || markup! {
                        <details class="left">
                            <summary>{move || words::more_worth(seen().len() - OPEN)}</summary>
                            <ul class="items">{live(move || list(OPEN, usize::MAX))}</ul>
                        </details>
                    })}
                </section>
            }
        },
    )
}

fn row(concern: Concern, notes: &[Recorded<Note>]) -> AnyView {
    let left = answer_to(notes, &concern.key).map(|answer| words::left_so(&answer.why));
    let Concern { what, how, numbers, used, missing, caution, source, mend, .. } = concern;
    let numbers =
        numbers.into_iter().map(|(name, value)| markup! { <div><dt>{name}</dt><dd>{value}</dd></div> });
    let name = words::mend_name(&mend);
    let named = words::named(name, &what);
    let add = (mend != Mend::Problems).then(|| {
        markup! {
            <div class="buttons">
                <button type="button" class="button" aria-label=named on:click=move |_| go(&mend)>{name}</button>
            </div>
        }
    });
    markup! {
        <li class="item">
            <div class="item-text">
                <strong>{words::full_stop(&what)}</strong>
                <span>{how}</span>
                {left.map(|left| markup! { <span class="quiet">{left}</span> })}
                <details class="more">
                    <summary>{words::WORTH_MORE}</summary>
                    <div class="figures">
                        <dl>{numbers.collect_view()}</dl>
                        {words::from_readings(&used).map(|used| markup! { <p>{used}</p> })}
                        {words::not_read(&missing).map(|missing| markup! { <p>{missing}</p> })}
                        <p class="item-caution">{caution}</p>
                        <p class="hint">{words::by_source(source)}</p>
                    </div>
                    {add}
                </details>
            </div>
        </li>
    }
}
