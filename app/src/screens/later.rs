//! The screens beside the plan, and what of the plan is not needed at once: a part of the program of its
//! own, fetched right after the first screen. Measuring must not lean on it: it may not have come. `wasm_split` takes them, and all that nothing else uses, out of the first load.

use super::fetch_north_by_anchors;
use super::{
    arrows, book, changes, details, ground, guide, keys, leave, levels, notes, package, photos, problems,
    questions, settings, sheet,
};
use crate::capture::{Panel, fetch_ahead, fetch_step, later_hows, later_row, later_slip, next_tape};
use crate::device;
use crate::markup::live;
use crate::routes::Tab;
use crate::state::{Kept, Received};
use crate::state::{fetch_adjusted, fetch_doubts, fetch_heights};
use crate::store::SiteId;
use crate::words;
use leptos::prelude::*;
use std::pin::pin;
use std::task::{Context, Poll, Waker};
use swingtie_core::book::{Book, Entry};
use swingtie_core::checks::{Line, Mend, Weight, lines_on};
use swingtie_core::language::tr;
use swingtie_core::network::{Adjustment, Advice};
use swingtie_core::plan::Plan;
use swingtie_core::record::Record;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// How far that part is.
#[derive(Clone, Copy, PartialEq)]
enum Part {
    Coming,
    Here,
    Missing,
}

/// What is known of that part. Copied freely.
#[derive(Clone, Copy)]
pub struct Later {
    part: RwSignal<Part>,
    /// Whether misreads are looked for.
    searches: RwSignal<bool>,
}

impl Later {
    /// Provides it as context and has the part fetched.
    pub fn provide() {
        let later = Self { part: RwSignal::new(Part::Coming), searches: RwSignal::new(false) };
        provide_context(later);
        later.fetch();
    }

    /// What is known of it.
    #[must_use]
    pub fn here() -> Self {
        expect_context()
    }

    /// Whether it has come. Tracked.
    #[must_use]
    pub fn is_here(self) -> bool {
        self.part.get() == Part::Here
    }

    /// Whether it has come, and the hand has rested since: from then on readings that contradict each other are looked for.
    /// Tracked.
    #[must_use]
    pub fn may_search(self) -> bool {
        self.searches.get()
    }

    /// What a function of it makes, at once; none before it is here. Tracked.
    pub fn ask<T, F>(self, made: impl FnOnce() -> F) -> Option<T>
    where
        F: Future<Output = Result<T, SplitLoaderError>>,
    {
        if self.is_here() { at_once(made()) } else { None }
    }

    /// Whether it could not be fetched. Tracked.
    #[must_use]
    pub fn is_missing(self) -> bool {
        self.part.get() == Part::Missing
    }

    /// Has it fetched, once more where it could not be.
    pub fn fetch(self) {
        self.part.set(Part::Coming);
        leptos::task::spawn_local(async move {
            // Each function that is to answer at once is made ready by itself.
            let words = fetch_doubts().await.and(fetch_said().await).and(fetch_step().await);
            let words = words
                .and(fetch_heights().await)
                .and(fetch_north_by_anchors().await)
                .and(fetch_adjusted().await)
                .and(fetch_settle().await)
                .and(fetch_ahead().await);
            let fetched = fetch().await.and(words);
            // The first screen first; then what is to be seen of this part, and what takes long when nobody is kept waiting.
            device::shown().await;
            self.part.set(if fetched.is_ok() { Part::Here } else { Part::Missing });
            if fetched.is_ok() {
                device::shown().await;
                device::hand_rests().await;
                self.searches.set(true);
            }
        });
    }
}

/// What that part makes.
#[derive(Clone, Debug)]
pub enum Wanted {
    /// The screen of a tab.
    Tab(Tab),
    /// The book beside the plan.
    BookBeside,
    /// A slip under the plan.
    Slip(Panel),
    /// How a reading is taken, open or not.
    Hows(RwSignal<bool>),
    /// What makes measuring quicker.
    Row(crate::capture::Row),
    /// Which question is being answered.
    Answering,
    /// Where photos stand on the drawing.
    PhotoPins,
    /// The ground on the drawing.
    Ground,
    /// The way into the guided walk, and back to level readings under way.
    Guide,
    /// The arrows of views and winds on the drawing.
    Arrows,
    /// A file that was picked or handed in.
    Receive(Received),
    /// How much of a site in the list is on this device only; before it is removed, what would be lost.
    Copies(SiteId, Kept, bool),
    /// That the browser has not promised to keep what is here.
    Unpromised,
    /// What goes on while a site is open and shows nothing.
    Watch,
    /// A tape that is the next step.
    Tape(Box<Advice>),
}

/// A screen or slip of that part, or word that it is coming.
pub fn part(wanted: Wanted) -> AnyView {
    let later = Later::here();
    // Opening a tab is a try of its own.
    if later.part.get_untracked() == Part::Missing {
        later.fetch();
    }
    let part = move || match later.part.get() {
        Part::Coming => opening(),
        Part::Here => made(wanted.clone()),
        Part::Missing => markup! {
            <div class="page">
                <p class="wrong" role="alert">{words::NO_SCREENS}</p>
                <button type="button" class="button" on:click=move |_| later.fetch()>{words::TRY_AGAIN}</button>
            </div>
        },
    };
    live(part).into_any()
}

/// What can be done without: nothing until that part is here.
pub fn when_here(wanted: Wanted) -> AnyView {
    let later = Later::here();
    live(move || later.is_here().then(|| made(wanted.clone()))).into_any()
}

fn opening() -> AnyView {
    markup! { <p class="page quiet" role="status">{words::OPENING}</p> }
}

fn made(wanted: Wanted) -> AnyView {
    at_once(build(wanted)).unwrap_or_else(opening)
}

/// What a function of that part makes, at once: once it is here nothing is waited for. None while it is not.
pub fn at_once<T>(made: impl Future<Output = Result<T, SplitLoaderError>>) -> Option<T> {
    match pin!(made).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(made) => made.ok(),
        Poll::Pending => None,
    }
}

/// What an entry says, as the book writes it; before that part is here only that it is written. Tracked.
pub fn sentence(entry: &Entry, book: &Book, record: &Record) -> String {
    let said = Later::here().ask(|| said(entry, book, record));
    said.unwrap_or_else(|| tr(words::WRITTEN).to_owned())
}

#[wasm_split(screens, fallible, preload(fetch_said))]
fn said(entry: &Entry, book: &Book, record: &Record) -> Result<String, SplitLoaderError> {
    Ok(words::sentence(entry, book, &words::Names::new(book, record)))
}

/// How many things there are without which the plan is wrong; 0 before that part is here.
pub fn to_settle(record: &Record, adjustment: &Adjustment, plan: &Plan, contradictions: usize) -> usize {
    Later::here().ask(|| settle(record, adjustment, plan, contradictions)).unwrap_or_default()
}

#[wasm_split(screens, fallible, preload(fetch_settle))]
fn settle(
    record: &Record,
    adjustment: &Adjustment,
    plan: &Plan,
    contradictions: usize,
) -> Result<usize, SplitLoaderError> {
    let lines = lines_on(record, adjustment, plan, &ground::ground_here().get());
    let counts = |line: &&Line| line.weight == Weight::Wrong && line.mend != Mend::Doubts && line.is_open();
    Ok(contradictions + lines.iter().filter(counts).count())
}

#[wasm_split(screens, fallible, preload(fetch))]
fn build(wanted: Wanted) -> Result<AnyView, SplitLoaderError> {
    let tab = match wanted {
        Wanted::Slip(panel) => return Ok(later_slip(panel)),
        Wanted::Hows(open) => return Ok(later_hows(open)),
        Wanted::Row(row) => return Ok(later_row(row)),
        Wanted::BookBeside => return Ok(markup! { <book::BookScreen beside=true /> }),
        Wanted::Answering => return Ok(markup! { <questions::AnsweringStrip /> }),
        Wanted::PhotoPins => return Ok(markup! { <photos::Pins /> }),
        Wanted::Ground => return Ok(markup! { <ground::GroundLayer /> }),
        Wanted::Arrows => return Ok(markup! { <arrows::Arrows /><questions::Marks /><changes::Moves /> }),
        Wanted::Guide => {
            return Ok(
                markup! { <guide::GuideLink /><questions::Waiting /><levels::GoOn /><changes::Compared /> },
            );
        }
        Wanted::Receive(received) => return Ok(markup! { <package::ReceiveScreen received /> }),
        Wanted::Copies(id, kept, removing) => {
            return Ok(markup! { <package::Copies id kept removing /> });
        }
        Wanted::Unpromised => return Ok(markup! { <settings::Unpromised /> }),
        Wanted::Watch => return Ok(markup! { <settings::Watch /><questions::Watch /><keys::Keys /> }),
        Wanted::Tape(advice) => return Ok(next_tape(*advice)),
        Wanted::Tab(tab) => tab,
    };
    Ok(match tab {
        // The plan is in the first load, and not asked for here.
        Tab::Plan => opening(),
        Tab::Book => markup! { <book::BookScreen /> },
        Tab::Problems => markup! { <problems::ProblemsScreen /> },
        Tab::AddProblem => markup! { <problems::AddProblem /> },
        Tab::AddMark => markup! { <problems::AddMark /> },
        Tab::Photos => markup! { <photos::PhotosScreen /> },
        Tab::Photo => markup! { <photos::PhotoScreen /> },
        Tab::Sheet => markup! { <sheet::SheetScreen /> },
        Tab::Leave => markup! { <leave::LeaveScreen /> },
        Tab::Details => markup! { <details::DetailsScreen /> },
        Tab::Levels => markup! { <levels::LevelsScreen /> },
        Tab::Notes => markup! { <notes::NotesScreen /> },
        Tab::Guide => markup! { <guide::GuideScreen /> },
        Tab::Things => markup! { <details::ThingsScreen /> },
        Tab::Settings => markup! { <settings::SettingsScreen /> },
        Tab::Package => markup! { <package::SendScreen /> },
        Tab::Questions => markup! { <questions::QuestionsScreen /> },
        Tab::Changes => markup! { <changes::ChangesScreen /> },
    })
}
