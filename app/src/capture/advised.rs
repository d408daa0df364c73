//! A tape worth taking, as the screens show it, and how long the longest tape is. Later part.

use super::draft::{Draft, Kind, Meant, Slot};
use super::state::Capture;
use crate::markup::{live, shown};
use crate::routes::{Route, Router, Tab};
use crate::words::{LONGEST_TAPE, advice_does, advice_tape, tape_lengths};
use leptos::prelude::*;
use swingtie_core::network::Advice;
use swingtie_core::record::PointId;
use swingtie_core::units::{Length, read_number};

/// A tape worth taking: what it does, and the key that starts it.
#[component]
pub fn Advised(advice: Advice) -> impl IntoView {
    let capture = Capture::here();
    let fold = capture.site.fold.get_untracked();
    let (tape, does) = (advice_tape(&advice, &fold.record), advice_does(&advice, &fold.record));
    let router = Router::here();
    let take = move |_| {
        capture.take(&advice);
        router.go(&Route::Site(capture.site.id(), Tab::Plan));
    };
    markup! {
        <div class="advised">
            <p><strong>{tape}</strong>" "{does}</p>
            <button type="button" class="button button-main main" on:click=take>"Tape it"</button>
        </div>
    }
}

/// The tape that is the next step. How long the longest tape is, is asked beside it until it is said.
pub fn next_tape(advice: Advice) -> AnyView {
    let advising = Capture::here().advising;
    markup! {
        <Advised advice />
        {shown(move || advising.said().is_none(), || markup! { <LongestTape /> })}
    }
}

/// How long the longest tape is: no longer one is advised.
#[component]
pub fn LongestTape() -> impl IntoView {
    let capture = Capture::here();
    let advising = capture.advising;
    let options = move || {
        let now = advising.longest();
        let apart = |length: &Length| (*length - now).abs();
        let all = tape_lengths(capture.site.units());
        // Said in other units: the nearest stands for it.
        let nearest = all
            .iter()
            .map(|(length, _)| apart(length))
            .fold(now, |least, one| if one < least { one } else { least });
        let option = |(length, name): (Length, String)| {
            let selected = apart(&length) == nearest;
            markup! { <option value=length.metres().to_string() selected=selected>{name}</option> }
        };
        all.into_iter().map(option).collect_view()
    };
    let say = move |event| {
        if let Some(metres) = read_number(&event_target_value(&event)) {
            advising.say_longest(Length::from_metres(metres));
        }
    };
    markup! {
        <label class="longest">
            <span>{LONGEST_TAPE}</span>
            <select on:change=say>{live(options)}</select>
        </label>
    }
}

impl Capture {
    /// Starts the tape that was advised. Who takes it has a tape that long.
    pub fn take(self, advice: &Advice) {
        if untrack(|| self.advising.said()).is_none() {
            self.advising.say_longest(untrack(|| self.advising.longest()));
        }
        self.tape_between(&advice.from, &advice.to);
        self.advised.set(true);
    }

    /// Starts a tape from one point to another.
    pub fn tape_between(self, from: &PointId, to: &PointId) {
        self.start(Kind::Tie);
        // A number typed for another tape is none of this one's.
        let mut draft = Draft::new(Kind::Tie);
        draft.set_point(Slot::First, Meant::Known(from.clone()));
        draft.set_point(Slot::Target, Meant::Known(to.clone()));
        draft.advance();
        self.draft.set(draft);
    }
}
