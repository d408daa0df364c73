//! How much fills an area to a depth, or comes out of a hole there.

use crate::markup::{live, shown};
use crate::screens::{Answers, Asked};
use crate::state::OpenSite;
use crate::words::{self, amounts};
use leptos::prelude::*;
use swingtie_core::plan::quantities::Amount;
use swingtie_core::record::{Attributes, EntryId};
use swingtie_core::units::Area;

/// A button that opens depth, waste and floor of this area, and what they come to. Nothing of it is kept in the book;
/// one area at a time is open.
#[component]
pub fn Fill(
    area: Amount<Area>,
    name: String,
    own: EntryId,
    filled: RwSignal<Option<EntryId>>,
) -> impl IntoView {
    let mine = own.clone();
    let toggle = move |_| {
        let own = own.clone();
        filled.update(|filled| *filled = (filled.as_ref() != Some(&own)).then_some(own));
    };
    let open = Signal::derive(move || filled.with(|filled| filled.as_ref() == Some(&mine)));
    let named = words::named(amounts::FILL, &name);
    markup! {
        <div class="fill">
            <button type="button" class="button" aria-expanded=move || open.get().to_string() aria-label=named on:click=toggle>
                {amounts::FILL}
            </button>
            {shown(move || open.get(), move || markup! { <Depth area /> })}
        </div>
    }
}

#[component]
fn Depth(area: Amount<Area>) -> impl IntoView {
    let units = OpenSite::here().units();
    let (typed, open) = (RwSignal::new(Attributes::new()), RwSignal::new(None));
    let told = move || {
        let told = typed.with(|typed| amounts::fill(area, typed, units));
        match told {
            Some(told) => markup! { <strong>{told}</strong> },
            None => markup! { <span class="hint">{amounts::FILL_HINT}</span> },
        }
    };
    markup! {
        <Asked form=amounts::FILL_FORM answers=Answers::of(typed) open=open />
        <p role="status">{live(told)}</p>
    }
}
