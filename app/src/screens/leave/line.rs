//! One line of the list: mended, or answered with a reason, or asked again.

use super::go;
use crate::device;
use crate::markup::shown;
use crate::notices::Notices;
use crate::screens::parts::{TextField, Wrong, chips};
use crate::state::{OpenSite, saving};
use crate::words;
use leptos::prelude::*;
use swingtie_core::checks::{Line, Weight};
use swingtie_core::language::tr;
use swingtie_core::record::{LEFT_OPEN, Note, Statement};

/// What is still to do. The keys of the line being answered are shared by all.
#[component]
pub fn OpenLine(line: Line, asked: RwSignal<Option<Vec<String>>>) -> impl IntoView {
    let Line { keys, what, how, weight, mend, .. } = line;
    let class = if weight == Weight::Wrong { "todo todo-must" } else { "todo" };
    let (name, mended) = (words::mend_name(&mend), words::named(words::mend_name(&mend), &what));
    let leaving = words::named(words::LEAVE_IT, &what);
    let (open, mine) = (keys.clone(), keys.clone());
    let toggle = move |_| {
        let open = open.clone();
        asked.update(|asked| *asked = (asked.as_ref() != Some(&open)).then_some(open));
    };
    let answering = move || asked.with(|asked| asked.as_ref() == Some(&mine));
    markup! {
        <li class=class>
            <span class="todo-what">{what.clone()}</span>
            <span>{how}</span>
            <div class="buttons">
                <button type="button" class="button" class:button-main=weight == Weight::Start aria-label=mended
                    on:click=move |_| go(&mend)>{name}</button>
                {(weight != Weight::Start).then(|| markup! {
                    <button type="button" class="button button-plain" aria-label=leaving on:click=toggle>{words::LEAVE_IT}</button>
                })}
            </div>
            {shown(answering, move || markup! { <Why keys=keys.clone() weight asked /> })}
        </li>
    }
}

/// Asks why a line is left as it is.
#[component]
fn Why(keys: Vec<String>, weight: Weight, asked: RwSignal<Option<Vec<String>>>) -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let (why, wrong) = (RwSignal::new(String::new()), RwSignal::new(None));
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let text = why.get_untracked().trim().to_owned();
        if text.is_empty() {
            return wrong.set(Some(tr(words::WHY_MISSING).to_owned()));
        }
        let (settles, when) = (keys.clone(), device::this_minute());
        let note = Note { topic: LEFT_OPEN.to_owned(), text, when, settles, ..Note::default() };
        saving(async move {
            site.say_apart(Statement::Note(note.into()), None).await?;
            asked.try_set(None);
            notices.say(words::LEFT_SO);
            Ok(())
        });
    };
    let usual = words::reasons(weight).iter().map(|reason| (*reason, (*reason).to_owned())).collect();
    let chosen = move || why.with(|why| words::reasons(weight).iter().copied().find(|reason| reason == why));
    markup! {
        <form class="form" on:submit=save>
            {chips(words::WHY, usual, chosen, move |reason: &'static str| why.set(reason.to_owned()))}
            <TextField label=words::WHY value=why />
            <Wrong what=wrong.into() />
            <button type="submit" class="button button-main">{words::LEAVE_SO}</button>
        </form>
    }
}

/// What was left as it is, with the reason.
#[component]
pub fn Left(line: Line) -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let name = words::named(words::ASK_AGAIN, &line.what);
    let answer = line.answer;
    let why = answer.as_ref().map(|answer| words::because(&answer.why));
    let again = move |_| {
        let Some(answer) = answer.clone() else { return };
        saving(async move {
            site.strike(answer.entry).await?;
            notices.say(words::ASKED_AGAIN);
            Ok(())
        });
    };
    markup! {
        <li class="todo">
            <span class="todo-what">{line.what}</span>
            <span>{why}</span>
            <div class="buttons">
                <button type="button" class="button" aria-label=name on:click=again>{words::ASK_AGAIN}</button>
            </div>
        </li>
    }
}
