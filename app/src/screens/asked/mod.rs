//! The one form for whatever is asked about a thing, a problem or a mark: drawn from the table of rows.
//!
//! Lengths and numbers are typed on our own pads, words chosen from a few are buttons, free words use
//! the phone's keyboard. A pad takes the form's place while it is open.
//!
//! # Accessible names
//! A number is a button `height: 6'`; a choice a group named by its row with a button for each word;
//! free words a text field named by its row. The pad ends with `Done`; an unusual value asks `Keep 44`
//! or `Type again`.

mod numbers;
mod pad;

use crate::markup::{derived, live};
use crate::words::asked as said;
use leptos::prelude::*;
use pad::Pad;
use swingtie_core::record::{Attribute, Attributes, Form, NO, Row, Sort, YES};

/// What was answered so far, and where an answer goes.
#[derive(Clone, Copy)]
pub struct Answers {
    /// All answers.
    pub all: Signal<Attributes>,
    /// Takes an answer, or takes it back.
    pub put: Callback<(&'static str, Option<Attribute>)>,
}

impl Answers {
    /// Answers that stand in a signal of their own.
    pub fn of(held: RwSignal<Attributes>) -> Self {
        let put = move |(key, answer)| held.update(|all| put(all, key, answer));
        Self { all: held.into(), put: Callback::new(put) }
    }

    fn get(self, row: &Row) -> Option<Attribute> {
        self.all.with(|all| all.get(row.key).cloned())
    }

    fn words(self, row: &Row) -> String {
        match self.get(row) {
            Some(Attribute::Text(text)) => text,
            Some(Attribute::Length(reading)) => reading.text,
            None => String::new(),
        }
    }

    fn say(self, row: &'static Row, words: &str) {
        let answer = (!words.trim().is_empty()).then(|| Attribute::Text(words.to_owned()));
        self.put.run((row.key, answer));
    }
}

/// Puts an answer in, or takes it out.
pub fn put(all: &mut Attributes, key: &str, answer: Option<Attribute>) {
    match answer {
        Some(answer) => all.insert(key.to_owned(), answer),
        None => all.remove(key),
    };
}

/// Answers as they are written: without spaces about their words, and without empty ones.
#[must_use]
pub fn tidied(all: &Attributes) -> Attributes {
    let mut tidied = Attributes::new();
    for (key, answer) in all {
        let answer = match answer {
            Attribute::Text(text) if text.trim().is_empty() => continue,
            Attribute::Text(text) => Attribute::Text(text.trim().to_owned()),
            Attribute::Length(_) => answer.clone(),
        };
        tidied.insert(key.clone(), answer);
    }
    tidied
}

/// The rows asked at once, or the pad of the row that is open. `open` lets the form around it make room.
#[component]
pub fn Asked(form: Form, answers: Answers, open: RwSignal<Option<&'static Row>>) -> impl IntoView {
    live(move || match open.get() {
        Some(row) => markup! { <Pad row=row answers=answers done=Callback::new(move |()| open.set(None)) /> },
        None => rows(form.first, answers, open),
    })
}

/// The rows asked seldom, behind their summary; nothing when there are none.
#[component]
pub fn AskedMore(
    form: Form,
    answers: Answers,
    open: RwSignal<Option<&'static Row>>,
    wide: RwSignal<bool>,
) -> impl IntoView {
    if form.more.is_empty() {
        return ().into_any();
    }
    more(said::MORE, wide, rows(form.more, answers, open))
}

/// What is asked seldom, behind its summary. `wide` outlives the pads, so that it stays open.
pub fn more(summary: &'static str, wide: RwSignal<bool>, body: AnyView) -> AnyView {
    // The signal alone decides.
    let toggle = move |event: leptos::ev::MouseEvent| {
        event.prevent_default();
        wide.update(|wide| *wide = !*wide);
    };
    markup! {
        <details class="more" prop:open=move || wide.get()>
            <summary on:click=toggle>{summary}</summary>
            {body}
        </details>
    }
}

/// These rows.
pub fn rows(
    rows: &'static [&'static Row],
    answers: Answers,
    open: RwSignal<Option<&'static Row>>,
) -> AnyView {
    let row = |row: &&'static Row| match row.sort {
        Sort::Length { .. } | Sort::Count { .. } | Sort::Percent { .. } | Sort::Degrees { .. } => {
            markup! { <Number row=*row answers=answers open=open /> }
        }
        Sort::Choice(words) => few(row, words, answers),
        Sort::YesNo => few(row, &[YES, NO], answers),
        Sort::Text => markup! { <Words row=*row answers=answers kind="text" /> },
        Sort::Day => markup! { <Words row=*row answers=answers kind="date" /> },
    };
    markup! { <div class="asked-rows">{rows.iter().map(row).collect_view()}</div> }
}

/// A number: its button opens a pad.
#[component]
fn Number(row: &'static Row, answers: Answers, open: RwSignal<Option<&'static Row>>) -> impl IntoView {
    let site = crate::state::OpenSite::here();
    let value = move || {
        let answer = answers.get(row);
        let said = said::value(answer.as_ref());
        match said::girth_is(answer.as_ref().filter(|_| row.key == "girth"), site.units()) {
            Some(through) => say!("{said}, {through}"),
            None => said,
        }
    };
    let name = move || say!("{}: {}", row.name, value());
    markup! {
        <button type="button" class="button asked-number" aria-label=name on:click=move |_| open.set(Some(row))>
            <span>{row.name}</span><strong>{live(value)}</strong>
        </button>
    }
}

/// One of a few words; the chosen one tapped again takes it back.
fn few(row: &'static Row, words: &'static [&'static str], answers: Answers) -> AnyView {
    let chip = move |word: &&'static str| {
        let word = *word;
        let on = derived(move || answers.words(row) == word);
        let choose = move |_| answers.say(row, if on.get_untracked() { "" } else { word });
        markup! {
            <button type="button" class="chip" aria-pressed=move || on.get().to_string() on:click=choose>{word}</button>
        }
    };
    // What another program wrote in its own words stays in sight.
    let other = move || {
        let said = answers.words(row);
        (!said.is_empty() && !words.contains(&said.as_str()))
            .then(|| markup! { <span class="quiet">{said}</span> })
    };
    markup! {
        <div class="asked-row" role="group" aria-label=row.name>
            <p class="asked-name"><strong>{row.name}</strong>" "<span>{row.help}</span></p>
            <div class="chips">{words.iter().map(chip).collect_view()}{live(other)}</div>
        </div>
    }
}

/// Free words, or a day.
#[component]
fn Words(row: &'static Row, answers: Answers, kind: &'static str) -> impl IntoView {
    let class = if kind == "date" { "asked-row asked-half" } else { "asked-row" };
    markup! {
        <label class=class>
            <span class="asked-name"><strong>{row.name}</strong>" "<span>{row.help}</span></span>
            <input type=kind aria-label=row.name autocomplete="off" prop:value=move || answers.words(row)
                on:input=move |event| answers.say(row, &event_target_value(&event)) />
        </label>
    }
}

/// Who to ask, and what to beware of: sentences of the table, where there are any.
#[component]
pub fn Advice(kind: &'static str) -> impl IntoView {
    use swingtie_core::record::{caution, what_next};
    markup! {
        {caution(kind).map(|words| markup! { <div class="caution" role="note"><p>{words}</p></div> })}
        {what_next(kind).map(|next| markup! { <p class="hint">{said::what_next(next)}</p> })}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_come_and_go_and_are_written_tidy() {
        let mut all = Attributes::new();
        put(&mut all, "species", Some(Attribute::Text(" oak ".to_owned())));
        put(&mut all, "size", Some(Attribute::Text("  ".to_owned())));
        put(&mut all, "health", Some(Attribute::Text("good".to_owned())));
        put(&mut all, "health", None);
        let tidy = tidied(&all);
        assert_eq!(tidy.len(), 1);
        assert_eq!(tidy.get("species"), Some(&Attribute::Text("oak".to_owned())));
    }
}
