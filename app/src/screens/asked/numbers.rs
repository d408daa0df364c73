//! Plain figures, for what is no length: counts, percentages, degrees.

use crate::keypad::desk_text;
use crate::markup::live;
use crate::words::asked as said;
use leptos::ev;
use leptos::prelude::*;
use swingtie_core::record::{Attribute, Row, Sort};

/// More figures than this in a row are a stuck key.
const FIGURES: usize = 5;

/// One key more.
fn pressed(text: &mut String, key: char, whole: bool) {
    let fits = match key {
        '.' => !whole && !text.is_empty() && !text.contains('.'),
        _ => key.is_ascii_digit() && text.chars().filter(char::is_ascii_digit).count() < FIGURES,
    };
    if fits {
        text.push(key);
    }
}

/// What stands behind the number.
fn unit(sort: Sort) -> &'static str {
    match sort {
        Sort::Percent { .. } => " %",
        Sort::Degrees { .. } => "°",
        _ => "",
    }
}

/// The figures alone of what was said before; nothing where it was said in other words.
fn figures(said: &str, sort: Sort) -> String {
    let figures = said.trim_end_matches(unit(sort)).trim();
    let plain = figures.chars().all(|c| c.is_ascii_digit() || c == '.');
    if plain { figures.to_owned() } else { String::new() }
}

/// A pad of ten figures.
#[component]
pub fn Figures(
    row: &'static Row,
    now: String,
    typed: Callback<Option<Attribute>>,
    cancel: Callback<()>,
) -> impl IntoView {
    let whole = matches!(row.sort, Sort::Count { .. });
    let touched = RwSignal::new(false);
    let text = RwSignal::new(figures(&now, row.sort));
    let press = move |key: char| {
        touched.set(true);
        text.update(|text| pressed(text, key, whole));
    };
    let delete = move || {
        touched.set(true);
        text.update(|text| {
            text.pop();
        });
    };
    let enter = move || {
        if !touched.get_untracked() {
            return cancel.run(());
        }
        let figures = text.get_untracked().trim_end_matches('.').to_owned();
        let answer = (!figures.is_empty()).then(|| Attribute::Text(format!("{figures}{}", unit(row.sort))));
        typed.run(answer);
    };
    let keys = window_event_listener(ev::keydown, move |event| {
        let Some(key) = desk_text(&event) else { return };
        match key.as_str() {
            "Backspace" => delete(),
            "Enter" => enter(),
            "," | "." => press('.'),
            key => match key.chars().next() {
                Some(digit) if key.len() == 1 && digit.is_ascii_digit() => press(digit),
                _ => return,
            },
        }
        event.prevent_default();
    });
    on_cleanup(move || keys.remove());
    let digit = move |key: char| {
        markup! { <button type="button" class="key" aria-label=key.to_string() on:click=move |_| press(key)>{key.to_string()}</button> }
    };
    let shown = move || {
        let text = text.get();
        format!("{}{}", if text.is_empty() { "0" } else { &text }, unit(row.sort))
    };
    markup! {
        <div class="figures-pad" role="group" aria-label="figures">
            <output class="pad-number" aria-live="polite"><span class="pad-figures">{live(shown)}</span></output>
            <div class="figures-keys">
                {"123456789".chars().map(digit).collect_view()}
                <button type="button" class="key" aria-label="point" disabled=whole on:click=move |_| press('.')>"."</button>
                {digit('0')}
                <button type="button" class="key" aria-label="delete" on:click=move |_| delete()>"⌫"</button>
            </div>
            <button type="button" class="key k-enter" on:click=move |_| enter()>{said::DONE}</button>
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(keys: &str, whole: bool) -> String {
        let mut text = String::new();
        keys.chars().for_each(|key| pressed(&mut text, key, whole));
        text
    }

    #[test]
    fn only_what_makes_a_number_is_taken() {
        assert_eq!(typed("12", true), "12");
        assert_eq!(typed("1.5", true), "15");
        assert_eq!(typed(".2.5.", false), "2.5");
        assert_eq!(typed("1234567", true), "12345");
    }

    #[test]
    fn what_was_said_before_is_typed_over() {
        assert_eq!(figures("2.5 %", Sort::Percent { most: 30 }), "2.5");
        assert_eq!(figures("90°", Sort::Degrees { most: 360 }), "90");
        assert_eq!(figures("about four", Sort::Count { least: 1, most: 9 }), "");
    }
}
