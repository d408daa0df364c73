//! One question: answered by a reading, a photo or words.

use super::ask::photo_of;
use super::tape::ByTape;
use crate::capture::Capture;
use crate::device;
use crate::markup::shown;
use crate::notices::Notices;
use crate::routes::{Route, Router, Tab};
use crate::screens::drafts::Drafts;
use crate::screens::parts::{TextArea, Wrong};
use crate::screens::photos::{Goal, Pin, Thumbnail, add_photos};
use crate::state::{Home, OpenSite, saving, strike};
use crate::words::{self, Names, questions as say};
use leptos::prelude::*;
use swingtie_core::checks::Asked;
use swingtie_core::language::tr;
use swingtie_core::levels::heights;
use swingtie_core::record::{ANSWER, Answers, AskFor, AuthorId, EntryId, Note, Statement};

/// The statement that answers a question, by entries or by words.
pub fn answer(question: &EntryId, by: Vec<EntryId>, text: String) -> Statement {
    let answers = Some(Answers { question: question.clone(), by });
    let when = device::this_minute();
    Statement::Note(Note { topic: ANSWER.to_owned(), text, when, answers, ..Note::default() }.into())
}

/// What is asked, in one sentence.
pub fn sentence(site: OpenSite, asked: &Asked) -> String {
    let (book, fold) = (site.book.get_untracked(), site.fold.get_untracked());
    say::asked(asked, &fold.record, &Names::new(&book, &fold.record))
}

fn by_whom(site: OpenSite, author: &AuthorId) -> String {
    let (_, me) = Home::here().store();
    site.fold.with_untracked(|fold| words::package::by_whom(&fold.record, author, &me))
}

/// A question that waits.
#[component]
pub fn ToDo(asked: Asked) -> impl IntoView {
    let (site, router, capture) = (OpenSite::here(), Router::here(), Capture::here());
    let (_, me) = Home::here().store();
    let what = sentence(site, &asked);
    let is_mine = asked.question.author == me;
    let photo = asked.of.as_ref().and_then(|of| photo_of(site, of));
    let photo = photo.map(|(_, id)| markup! { <Thumbnail id alt=say::ITS_PHOTO /> });
    let writing = RwSignal::new(false);
    let points = asked.points().to_vec();
    let (entry, answering) = (asked.question.entry.clone(), Drafts::here().answering);
    let taping = RwSignal::new(false);
    let way = match (asked.wants, points.as_slice()) {
        (AskFor::Tape, [from, to]) => {
            let (from, to) = (from.clone(), to.clone());
            let question = entry.clone();
            let tape = move |_| {
                capture.tape_between(&from, &to);
                // One tape was asked for: no further point is wanted after it.
                capture.advised.set(true);
                answering.begin(question.clone());
                router.go(&Route::Site(site.id(), Tab::Plan));
            };
            markup! {
                <button type="button" class="button button-main" aria-label=say::named(say::TAPE_IT, &what) on:click=tape>
                    {say::TAPE_IT}
                </button>
            }
        }
        (AskFor::Height, _) => {
            let question = entry.clone();
            let read = move |_| {
                answering.begin(question.clone());
                router.go(&Route::Site(site.id(), Tab::Levels));
            };
            markup! {
                <button type="button" class="button button-main" aria-label=say::named(say::BY_TAPE, &what)
                    aria-expanded=move || taping.get().to_string() on:click=move |_| {
                        writing.set(false);
                        taping.update(|taping| *taping = !*taping);
                    }>{say::BY_TAPE}</button>
                <button type="button" class="button" aria-label=say::named(say::READ_IT, &what) on:click=read>{say::READ_IT}</button>
            }
        }
        (AskFor::Photo, _) => {
            let pin = Pin { at: asked.question.what.at.clone(), of: asked.of.clone() };
            add_photos(&what, move || Goal::Book(pin.clone()))
        }
        _ => ().into_any(),
    };
    let withdraw = is_mine.then(|| {
        let entry = entry.clone();
        let withdraw = move |_| {
            let entry = entry.clone();
            saving(async move { site.say_apart(strike(entry), None).await.map(drop) });
        };
        markup! {
            <button type="button" class="button button-plain" aria-label=say::named(say::WITHDRAW, &what) on:click=withdraw>
                {say::WITHDRAW}
            </button>
        }
    });
    // What somebody else measured since may be it.
    let met = (!asked.met_by.is_empty()).then(|| {
        let (entry, by) = (entry.clone(), asked.met_by.clone());
        let told: Vec<AnyView> = asked.met_by.iter().map(|id| entry_line(site, id)).collect();
        let take = move |_| {
            let statement = answer(&entry, by.clone(), String::new());
            saving(async move { site.say_apart(statement, None).await.map(drop) });
        };
        markup! {
            {told}
            <button type="button" class="button" aria-label=say::named(say::IS_THE_ANSWER, &what) on:click=take>
                {say::IS_THE_ANSWER}
            </button>
        }
    });
    let by_tape = asked.points().first().cloned().map(|point| {
        let question = entry.clone();
        shown(
            move || taping.get(),
            move || {
                markup! { <ByTape question=question.clone() point=point.clone() /> }
            },
        )
    });
    let in_words = say::named(say::IN_WORDS, &what);
    markup! {
        <li class="todo">
            <span class="todo-what">{what.clone()}</span>
            {photo}
            <span class="quiet">{say::by(&device::local_minute(asked.question.at_ms), &by_whom(site, &asked.question.author))}</span>
            {met}
            <div class="buttons">
                {way}
                <button type="button" class="button" aria-label=in_words on:click=move |_| {
                    taping.set(false);
                    writing.update(|writing| *writing = !*writing);
                }>{say::IN_WORDS}</button>
                {withdraw}
            </div>
            {by_tape}
            {shown(move || writing.get(), move || markup! { <InWords question=entry.clone() /> })}
        </li>
    }
}

/// An entry as the book writes it.
fn entry_line(site: OpenSite, id: &EntryId) -> AnyView {
    let (book, fold) = (site.book.get_untracked(), site.fold.get_untracked());
    let said = book.get(id).map(|entry| words::sentence(entry, &book, &Names::new(&book, &fold.record)));
    markup! { <span>{said}</span> }
}

#[component]
fn InWords(question: EntryId) -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    // What is half typed outlives the page.
    let key = format!("answer {}", question.0);
    let text = RwSignal::new(device::remembered(&key).unwrap_or_default());
    let kept = key.clone();
    crate::markup::effect(move || text.with(|text| device::remember(&kept, text)));
    let wrong = RwSignal::new(None);
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let said = text.get_untracked().trim().to_owned();
        if said.is_empty() {
            return wrong.set(Some(tr(say::ANSWER_MISSING).to_owned()));
        }
        let (statement, key) = (answer(&question, Vec::new(), said), key.clone());
        saving(async move {
            site.say_apart(statement, None).await?;
            device::forget(&key);
            notices.say(say::SAVED);
            Ok(())
        });
    };
    markup! {
        <form class="form" on:submit=save>
            <TextArea label=say::YOUR_ANSWER value=text />
            <Wrong what=wrong.into() />
            <button type="submit" class="button button-main">{say::SAVE_ANSWER}</button>
        </form>
    }
}

/// A question with its answers.
#[component]
pub fn Done(asked: Asked) -> impl IntoView {
    let site = OpenSite::here();
    let what = sentence(site, &asked);
    let mut lines: Vec<AnyView> = Vec::new();
    if let (AskFor::Height, [point]) = (asked.wants, asked.points()) {
        let fold = site.fold.get_untracked();
        let levels = heights(&fold.record);
        let height =
            levels.points.get(point).map(|height| words::levels::card(height, fold.record.site.units));
        lines.extend(height.map(|height| markup! { <strong>{height}</strong> }));
    }
    for given in &asked.answers {
        for id in given.what.answers.iter().flat_map(|answers| &answers.by) {
            lines.push(entry_line(site, id));
        }
        if !given.what.text.is_empty() {
            let text = given.what.text.clone();
            lines.push(markup! { <span>{text}</span> });
        }
        let by = say::answered_by(&device::local_minute(given.at_ms), &by_whom(site, &given.author));
        lines.push(markup! { <span class="quiet">{by}</span> });
    }
    markup! { <li class="todo"><span class="todo-what">{what}</span>{lines}</li> }
}
