//! Which of an entry's readings shall be written anew.

use super::idle::SlipHead;
use super::rewrite::measured;
use super::state::Capture;
use crate::words::capture as words;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::EntryId;

/// A button for each reading, row or wall of this entry.
#[component]
pub fn PartsSlip(entry: EntryId) -> impl IntoView {
    let capture = Capture::here();
    let fold = capture.site.fold.get_untracked();
    let said = measured(&fold.record, &entry).map(|what| words::parts(what, &fold.record));
    let button = |(part, said): (usize, String)| {
        let entry = entry.clone();
        let open = move |_| {
            capture.correct(&entry, Some(part));
        };
        markup! { <button type="button" class="wide" on:click=open>{said}</button> }
    };
    markup! {
        <SlipHead title=tr(words::CORRECT_PART).to_owned() />
        <p class="ask">{words::WHICH_PART}</p>
        <div class="chips tall">{said.unwrap_or_default().into_iter().enumerate().map(button).collect_view()}</div>
    }
}
