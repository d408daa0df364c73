//! Adding a utility mark.

use super::DigCaution;
use super::problem::form_end;
use crate::notices::Notices;
use crate::routes::{Route, Router, Tab};
use crate::screens::drafts::Drafts;
use crate::screens::parts::{PointChips, TextArea, TextField, Wrong};
use crate::screens::{Answers, Asked, AskedMore, tidied};
use crate::state::{OpenSite, saving};
use crate::words::{self, asked as said};
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{Attributes, MARK_FORM, MarkColour, PointId, Statement, UtilityMark};

/// What is entered so far. It outlives the form, so that a look at the plan costs nothing.
#[derive(Clone, Copy)]
pub struct Draft {
    colour: RwSignal<Option<MarkColour>>,
    points: RwSignal<Vec<PointId>>,
    letters: RwSignal<String>,
    note: RwSignal<String>,
    told: RwSignal<bool>,
    attributes: RwSignal<Attributes>,
}

impl Draft {
    /// An empty draft.
    pub fn new() -> Self {
        Self {
            colour: RwSignal::new(None),
            points: RwSignal::new(Vec::new()),
            letters: RwSignal::new(String::new()),
            note: RwSignal::new(String::new()),
            told: RwSignal::new(false),
            attributes: RwSignal::new(Attributes::new()),
        }
    }

    /// What it says, or what is missing.
    fn said(self) -> Result<UtilityMark, &'static str> {
        let (colour, points) = check(self.colour.get_untracked(), self.points.get_untracked())?;
        let text = |signal: RwSignal<String>| signal.get_untracked().trim().to_owned();
        let told = self.told.get_untracked();
        Ok(UtilityMark {
            colour,
            points,
            letters: text(self.letters),
            attributes: self.attributes.with_untracked(tidied),
            told,
            note: text(self.note),
        })
    }

    /// Begins anew.
    fn clear(self) {
        self.colour.set(None);
        self.points.set(Vec::new());
        self.letters.set(String::new());
        self.note.set(String::new());
        self.told.set(false);
        self.attributes.set(Attributes::new());
    }
}

/// The form.
#[component]
pub fn AddMark() -> impl IntoView {
    let (site, router, notices) = (OpenSite::here(), Router::here(), Notices::here());
    let draft = Drafts::here().mark;
    let Draft { colour, points, letters, note, told, attributes } = draft;
    let (open, wide, answers) = (RwSignal::new(None), RwSignal::new(false), Answers::of(attributes));
    let wrong = RwSignal::new(None);
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let mark = match draft.said() {
            Ok(mark) => mark,
            Err(why) => return wrong.set(Some(tr(why).to_owned())),
        };
        saving(async move {
            site.say(vec![Statement::Mark(mark)]).await?;
            draft.clear();
            notices.say(words::MARK_SAVED);
            router.go_instead(Route::Site(site.id(), Tab::Problems));
            Ok(())
        });
    };
    markup! {
        <div class="page">
            <h1>{words::ADD_MARK}</h1>
            <DigCaution />
            <form class="form" on:submit=save>
                <Colours colour />
                <PointChips legend=words::MARK_POINTS picked=points />
                <p class="hint">{said::COLOUR_SOURCE}</p>
                <TextField label=words::MARK_LETTERS value=letters />
                <Asked form=MARK_FORM answers=answers open=open />
                <AskedMore form=MARK_FORM answers=answers open=open wide=wide />
                <p class="hint">{said::TOLERANCE_NOTE}</p>
                <TextArea label=words::MARK_NOTE value=note />
                <label class="tick">
                    <input type="checkbox" prop:checked=move || told.get() on:change=move |event| told.set(event_target_checked(&event)) />
                    <span>{words::TOLD}</span>
                </label>
                <Wrong what=wrong.into() />
                {form_end(words::SAVE_MARK, move || draft.clear())}
            </form>
        </div>
    }
}

/// A colour and a point at least, or what is missing.
fn check(
    colour: Option<MarkColour>,
    points: Vec<PointId>,
) -> Result<(MarkColour, Vec<PointId>), &'static str> {
    let colour = colour.ok_or(words::PICK_COLOUR)?;
    if points.is_empty() { Err(words::MARK_NEEDS_POINTS) } else { Ok((colour, points)) }
}

/// The colours, each with its name and what it usually means.
#[component]
fn Colours(colour: RwSignal<Option<MarkColour>>) -> impl IntoView {
    let chips = words::MARK_COLOURS.map(|c| {
        let name = words::colour_name(c);
        let pressed = move || (colour.get() == Some(c)).to_string();
        let meaning = words::colour_meaning(c);
        markup! {
            <button type="button" class="chip chip-colour" aria-pressed=pressed aria-label=say!("{name}, {meaning}")
                on:click=move |_| colour.set(Some(c))>
                <span class="swatch" data-colour=name.to_ascii_lowercase() data-face=words::capture::mark(c).2></span>
                <span>{name}" "<small>{meaning}</small></span>
            </button>
        }
    });
    markup! {
        <fieldset>
            <legend class="legend">{words::MARK_COLOUR}</legend>
            <div class="chips">{chips.collect_view()}</div>
        </fieldset>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_needs_a_colour_and_a_place() {
        assert_eq!(check(None, vec!["a".into()]), Err(words::PICK_COLOUR));
        assert_eq!(check(Some(MarkColour::Red), vec![]), Err(words::MARK_NEEDS_POINTS));
        assert!(check(Some(MarkColour::Red), vec!["a".into()]).is_ok());
    }
}
