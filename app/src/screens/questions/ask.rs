//! Asking: by hand, or what would make the plan surer.

use crate::capture::Capture;
use crate::device;
use crate::markup::{live, memo, shown};
use crate::notices::Notices;
use crate::screens::drafts::Drafts;
use crate::screens::parts::{PointChips, TextArea, Wrong, chips};
use crate::screens::photos::{Pin, PinEditor, Thumbnail};
use crate::state::{OpenSite, saving};
use crate::store::SiteId;
use crate::words::{self, questions as say};
use leptos::prelude::*;
use swingtie_core::network::Advice;
use swingtie_core::record::{AskFor, Asks, At, EntryId, Note, PhotoId, PointId, QUESTION, Statement};

/// What is entered so far. It outlives the screen.
#[derive(Clone, Copy)]
pub struct Draft {
    wants: RwSignal<AskFor>,
    points: RwSignal<Vec<PointId>>,
    pin: RwSignal<Pin>,
    text: RwSignal<String>,
}

impl Draft {
    /// An empty one; its words are remembered over a reload.
    pub fn new(site: &SiteId) -> Self {
        let key = format!("question {site}");
        let text = RwSignal::new(device::remembered(&key).unwrap_or_default());
        crate::markup::effect(move || text.with(|text| device::remember(&key, text)));
        Self {
            wants: RwSignal::new(AskFor::Tape),
            points: RwSignal::new(Vec::new()),
            pin: RwSignal::new(Pin::default()),
            text,
        }
    }

    /// Begins one about an entry: a photo, a thing.
    pub fn about(self, entry: EntryId, at: At) {
        self.wants.set(AskFor::Words);
        self.pin.set(Pin { at, of: Some(entry) });
    }

    /// Begins one about a point, whatever is asked of it.
    pub fn at_point(self, point: PointId) {
        self.points.set(vec![point.clone()]);
        self.pin.set(Pin { at: At::Points(vec![point]), of: None });
    }

    /// The photo it is about, and its number. Tracked.
    fn photo(self) -> Option<(usize, PhotoId)> {
        let of = self.pin.get().of?;
        photo_of(OpenSite::here(), &of)
    }

    fn clear(self) {
        self.points.set(Vec::new());
        self.pin.set(Pin::default());
        self.text.set(String::new());
    }

    fn said(self) -> Result<Statement, &'static str> {
        let (wants, points) = (self.wants.get_untracked(), self.points.get_untracked());
        let text = self.text.get_untracked().trim().to_owned();
        let pin = self.pin.get_untracked();
        let (at, of) = match wants {
            AskFor::Tape if points.len() != 2 => return Err(say::TWO_POINTS),
            AskFor::Height if points.len() != 1 => return Err(say::ONE_POINT),
            AskFor::Words if text.is_empty() => return Err(say::TEXT_MISSING),
            AskFor::Tape | AskFor::Height => (At::Points(points), None),
            AskFor::Photo | AskFor::Words => (pin.at, pin.of),
        };
        Ok(question(wants, at, of, text))
    }
}

/// The photo this entry is, and its number. Tracked.
pub fn photo_of(site: OpenSite, entry: &EntryId) -> Option<(usize, PhotoId)> {
    site.fold.with(|fold| {
        let mut photos = (1..).zip(&fold.record.photos);
        photos.find(|(_, photo)| photo.entry == *entry).map(|(number, photo)| (number, photo.what.id.clone()))
    })
}

fn question(wants: AskFor, at: At, of: Option<EntryId>, text: String) -> Statement {
    let asks = Some(Asks { kind: wants.key().to_owned(), of });
    let (topic, when) = (QUESTION.to_owned(), device::this_minute());
    Statement::Note(Note { topic, at, text, when, asks, ..Note::default() }.into())
}

fn ask(statement: Statement, then: impl FnOnce() + 'static) {
    let (site, notices) = (OpenSite::here(), Notices::here());
    saving(async move {
        site.say_apart(statement, None).await?;
        then();
        notices.say(say::ASKED);
        Ok(())
    });
}

#[component]
pub fn AskForm() -> impl IntoView {
    let draft = Drafts::here().question;
    let wrong = RwSignal::new(None);
    let kinds = AskFor::ALL.into_iter().map(|ask| (ask, say::kind(ask).to_owned())).collect();
    let choose = move |wants| {
        draft.wants.set(wants);
        wrong.set(None);
    };
    let about = move || match draft.wants.get() {
        AskFor::Tape => markup! { <PointChips legend=say::FROM_TO picked=draft.points /> },
        AskFor::Height => markup! { <PointChips legend=say::WHICH_POINT picked=draft.points /> },
        AskFor::Photo | AskFor::Words => match draft.photo() {
            Some((number, id)) => markup! {
                <p><strong>{words::photo_number(number)}</strong></p>
                <Thumbnail id alt=say::ITS_PHOTO />
                <button type="button" class="button" on:click=move |_| draft.pin.set(Pin::default())>
                    {say::NOT_ABOUT_IT}
                </button>
            },
            None => markup! { <PinEditor pin=draft.pin /> },
        },
    };
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        match draft.said() {
            Ok(statement) => {
                wrong.set(None);
                ask(statement, move || draft.clear());
            }
            Err(why) => wrong.set(Some(why.to_owned())),
        }
    };
    markup! {
        <form class="form" on:submit=save>
            <p class="hint">{say::ASK_HINT}</p>
            {chips(say::KIND, kinds, move || Some(draft.wants.get()), choose)}
            {live(about)}
            <TextArea label=say::SAY_MORE value=draft.text />
            <Wrong what=wrong.into() />
            <button type="submit" class="button button-main button-wide">{say::SAVE}</button>
        </form>
    }
}

/// The tapes that would make the plan surer, each to be asked for with one tap.
#[component]
pub fn Proposed() -> impl IntoView {
    let site = OpenSite::here();
    let advising = Capture::here().advising;
    advising.show();
    let best = memo(move || advising.all());
    let asked = super::asked_here();
    let left = move || {
        let is_asked = |advice: &Advice| {
            asked.with(|asked| {
                asked.iter().filter(|one| one.is_open()).any(|one| {
                    let points = one.points();
                    points.contains(&advice.from) && points.contains(&advice.to)
                })
            })
        };
        best.get().into_iter().filter(|advice| !is_asked(advice)).collect::<Vec<_>>()
    };
    let row = move |advice: Advice| {
        let fold = site.fold.get_untracked();
        let (tape, does) =
            (words::advice_tape(&advice, &fold.record), words::advice_does(&advice, &fold.record));
        let name = say::named(say::ASK_THIS, &tape);
        let ask_it = move |_| {
            let at = At::Points(vec![advice.from.clone(), advice.to.clone()]);
            ask(question(AskFor::Tape, at, None, String::new()), || {});
        };
        markup! {
            <li class="todo">
                <p><strong>{tape}</strong>" "{does}</p>
                <button type="button" class="button" aria-label=name on:click=ask_it>{say::ASK_THIS}</button>
            </li>
        }
    };
    let list = move || left().into_iter().map(row).collect_view();
    shown(
        move || !left().is_empty(),
        move || {
            markup! {
                <h2>{say::PROPOSED}</h2>
                <p class="hint">{say::PROPOSED_HINT}</p>
                <ol class="todos">{live(list)}</ol>
            }
        },
    )
}
