//! The one open site: its book as a signal, and everything core computes from it as memos.
//!
//! Data flows one way: entries are said, stored, and only then added to `book`; fold, adjustment
//! and plan follow from the book alone. What is stored is acknowledged first; the work it makes comes after the screen
//! has said so.

mod history;
mod home;
mod received;
mod shared;

#[cfg(test)]
pub use home::DEMO;
pub use home::{Home, Kept, SiteCard, open_store};
pub use received::Received;
pub use shared::Shared;

use crate::device::{self, Windows};
use crate::markup::memo;
use crate::notices::Notices;
use crate::screens::later::Later;
use crate::screens::north_by_anchors;
use crate::store::{PhotoFile, SiteId, Store, StoreError};
use crate::words::Doubts;
use history::History;
use leptos::prelude::*;
use litemap::LiteMap;
use std::cell::Cell;
use std::pin::Pin;
use std::rc::Rc;
use swingtie_core::book::{Book, Entry, Fold, Grown, LineError, fold, fold_on};
use swingtie_core::levels::above;
use swingtie_core::network::{Adjustment, adjust, adjust_unsuspecting};
use swingtie_core::plan::Plan;
use swingtie_core::record::{AuthorId, EntryId, PointId, Record, Statement, UnitSystem};
use swingtie_core::units::Length;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// Why something said was not saved. Nothing of it is in the book then.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SaveError {
    /// The statement cannot be written down, for instance because a number is not finite.
    #[error("{}", say!("this cannot be written in the book: {}", _0.to_string()))]
    Unwritable(String),
    /// The device refused to keep it.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// What was read from the store when the site was opened.
#[derive(Clone)]
pub struct Opening {
    /// The site.
    pub site: SiteId,
    /// Its book.
    pub book: Shared<Book>,
    /// Stored lines that could not be read; they stay stored.
    pub damaged: Vec<LineError>,
}

/// The open site. Copied freely; get it with [`OpenSite::here`] below a site's screen.
#[derive(Clone, Copy)]
pub struct OpenSite {
    /// Everything said, as stored. Grows only after a write has completed.
    pub book: RwSignal<Shared<Book>>,
    /// What is stored and shall be in the book with the next frame: the screen says so before the plan is made anew.
    pub stored: RwSignal<Shared<Book>>,
    /// The record as it stands.
    pub fold: Memo<Shared<Fold>>,
    /// The adjusted network.
    pub adjustment: Memo<Shared<Adjustment>>,
    /// The resolved geometry.
    pub plan: Memo<Shared<Plan>>,
    /// Readings that contradict each other; none until the part of the program that words them is here.
    pub doubts: Memo<Shared<Doubts>>,
    history: RwSignal<History>,
    within: StoredValue<Within, LocalStorage>,
    windows: StoredValue<Option<Windows>, LocalStorage>,
}

/// On this channel windows tell each other into which site they wrote.
const WRITTEN: &str = "swingtie-written";

/// Tells windows in which a site is open that entries of it were stored from elsewhere.
pub fn tell_written(site: &SiteId) {
    if let Some(windows) = Windows::listen(WRITTEN, |_| {}) {
        windows.tell(&site.0);
    }
}

/// What writing needs besides the book.
#[derive(Clone)]
struct Within {
    store: Store,
    site: SiteId,
    author: AuthorId,
    /// The next free logical time: reserved before a write starts, so that two writes under way never share one.
    clock: Rc<Cell<u64>>,
}

impl OpenSite {
    /// Opens a book that was read from `store`, to be written to by `author`.
    pub fn new(opening: &Opening, store: Store, author: AuthorId) -> Self {
        let book = RwSignal::new(opening.book.clone());
        let later = Later::here();
        // Counts how often places may have become others.
        let turn = StoredValue::new(0_u32);
        type Folded = Box<dyn Fn(Option<Shared<Fold>>) -> (Shared<Fold>, bool) + Send + Sync>;
        let folded: Folded = Box::new(move |before| {
            let Grown { mut fold, moves } = match before {
                Some(before) => fold_on(before.own(), &book.get()),
                None => Grown { fold: fold(&book.get()), moves: true },
            };
            if moves {
                turn.update_value(|turn| *turn += 1);
            }
            if fold.record.slopes_by_heights() {
                fold.record.heights = later.ask(|| heights(&fold.record)).unwrap_or_default();
            }
            if !fold.record.second_anchors.is_empty() {
                fold.record.north_by_anchors = later.ask(|| north_by_anchors(&fold.record)).flatten();
            }
            (Shared::new(fold), true)
        });
        let fold = Memo::new_owning(folded);
        let solved = StoredValue::new(None::<(u32, bool, Shared<Adjustment>)>);
        let adjustment = memo(move || {
            let fold = fold.get();
            let (turn, whole) = (turn.get_value(), later.may_search());
            let known = solved.with_value(|solved| {
                let same = solved.as_ref().filter(|(then, so, _)| (*then, *so) == (turn, whole));
                same.map(|(.., adjustment)| adjustment.clone())
            });
            // Heights may be others though no reading of the network is.
            if let Some(known) = known.filter(|_| !fold.record.slopes_by_heights()) {
                return known;
            }
            let before = solved.with_value(|solved| solved.as_ref().map(|(.., before)| before.clone()));
            let found = if whole { later.ask(|| adjusted(&fold.record, before.as_deref())) } else { None };
            // Where the search found nothing all is as it was, and nothing is drawn anew.
            let found = match (found, before) {
                (Some(None), Some(before)) => before,
                (found, _) => {
                    Shared::new(found.flatten().unwrap_or_else(|| adjust_unsuspecting(&fold.record)))
                }
            };
            solved.set_value(Some((turn, whole, found.clone())));
            found
        });
        let plan = memo(move || Shared::new(Plan::build(&fold.get().record, &adjustment.get())));
        let doubts = memo(move || {
            let (fold, adjustment) = (fold.get(), adjustment.get());
            Shared::new(later.ask(|| doubts(&fold, &adjustment)).unwrap_or_default())
        });
        let history = RwSignal::new(History::of(&opening.book, &fold.get_untracked(), &author));
        let clock = Rc::new(Cell::new(opening.book.next_clock()));
        let within = Within { store, site: opening.site.clone(), author, clock };
        Self {
            book,
            stored: RwSignal::new(Shared::default()),
            fold,
            adjustment,
            plan,
            doubts,
            history,
            within: StoredValue::new_local(within),
            windows: StoredValue::new_local(None),
        }
    }

    /// The site whose screen this is.
    #[must_use]
    pub fn here() -> Self {
        expect_context()
    }

    /// From now on reads what another window writes into this site, and tells others of what is written
    /// here.
    pub fn hear(self) {
        let heard = move |site: String| {
            if self.within.try_with_value(|w| w.site.0 == site) == Some(true) {
                leptos::task::spawn_local(self.catch_up());
            }
        };
        self.windows.set_value(Windows::listen(WRITTEN, heard));
    }

    /// Adds what the store holds and this window does not know. What cannot be read now is read with the
    /// next such message, or when the site is opened again.
    async fn catch_up(self) {
        let Some(within) = self.within.try_get_value() else { return };
        let Ok((stored, _)) = within.store.book(&within.site).await else { return };
        within.clock.set(within.clock.get().max(stored.next_clock()));
        // Two of one id that differ stay as this window read them.
        let new = self.book.try_with_untracked(|book| {
            stored.entries().filter(|entry| book.get(&entry.id).is_none()).cloned().collect::<Vec<_>>()
        });
        self.grow(new.unwrap_or_default());
    }

    /// Adds entries to the book that are not in it.
    fn grow(self, entries: Vec<Entry>) {
        if entries.is_empty() {
            return;
        }
        // The screen may be gone by now; what was said is stored all the same.
        self.book.try_update(|book| {
            let mut grown = std::mem::take(book).own();
            add(&mut grown, entries);
            *book = Shared::new(grown);
        });
    }

    /// Its id in the store.
    #[must_use]
    pub fn id(self) -> SiteId {
        self.within.with_value(|w| w.site.clone())
    }

    /// The store it lies in.
    #[must_use]
    pub fn store(self) -> Store {
        self.within.with_value(|w| w.store.clone())
    }

    /// Whether this device wrote it.
    #[must_use]
    pub fn is_mine(self, author: &AuthorId) -> bool {
        self.within.with_value(|w| &w.author == author)
    }

    /// How lengths are written on this site. Tracked.
    #[must_use]
    pub fn units(self) -> UnitSystem {
        self.fold.with(|fold| fold.record.site.units)
    }

    /// Says the statements: stores them in one transaction and, when that has completed, adds them
    /// to the book. Returns the new entries' ids in the order of the statements.
    ///
    /// # Errors
    /// [`SaveError`]; then nothing of it was stored and the book is as it was.
    pub async fn say(self, statements: Vec<Statement>) -> Result<Vec<EntryId>, SaveError> {
        self.say_with(statements, Vec::new()).await
    }

    /// As [`say`](Self::say), with the pictures the statements speak of, in the same transaction.
    ///
    /// # Errors
    /// As [`say`](Self::say).
    pub async fn say_with(
        self,
        statements: Vec<Statement>,
        photos: Vec<PhotoFile>,
    ) -> Result<Vec<EntryId>, SaveError> {
        let ids = self.write(statements, photos).await?;
        self.history.try_update(|history| history.did(ids.clone()));
        Ok(ids)
    }

    /// As [`say_with`](Self::say_with), but undo leaves it alone: for what is struck where it is seen.
    ///
    /// # Errors
    /// As [`say`](Self::say).
    pub async fn say_apart(
        self,
        statement: Statement,
        photo: Option<PhotoFile>,
    ) -> Result<Vec<EntryId>, SaveError> {
        self.write(vec![statement], photo.into_iter().collect()).await
    }

    /// Whether it is still open: work that goes on behind the screen ends with it.
    #[must_use]
    pub fn is_open(self) -> bool {
        self.within.try_with_value(|_| ()).is_some()
    }

    /// Withdraws an entry; it stays readable with a line through it.
    ///
    /// # Errors
    /// As [`say`](Self::say).
    pub async fn strike(self, entry: EntryId) -> Result<(), SaveError> {
        self.say(vec![strike(entry)]).await.map(drop)
    }

    /// Whether there is something to undo, something to redo. Tracked.
    #[must_use]
    pub fn can(self) -> (bool, bool) {
        self.history.with(|history| (history.can_undo(), history.can_redo()))
    }

    /// Strikes the last thing said on this device that still stands. Does nothing when there is none.
    ///
    /// # Errors
    /// As [`say`](Self::say).
    pub async fn undo(self) -> Result<(), SaveError> {
        let Some(batch) = self.history.try_update(History::take_done).flatten() else { return Ok(()) };
        match self.write(batch.iter().rev().cloned().map(strike).collect(), Vec::new()).await {
            Ok(strikes) => self.history.try_update(|history| history.undid(batch, strikes)),
            Err(error) => {
                self.history.try_update(|history| history.put_back_done(batch));
                return Err(error);
            }
        };
        Ok(())
    }

    /// Strikes the strikes of the last undo. Does nothing when there is none.
    ///
    /// # Errors
    /// As [`say`](Self::say).
    pub async fn redo(self) -> Result<(), SaveError> {
        let Some(undone) = self.history.try_update(History::take_undone).flatten() else { return Ok(()) };
        match self.write(undone.strikes.iter().rev().cloned().map(strike).collect(), Vec::new()).await {
            Ok(_) => self.history.try_update(|history| history.redid(undone)),
            Err(error) => {
                self.history.try_update(|history| history.put_back_undone(undone));
                return Err(error);
            }
        };
        Ok(())
    }

    async fn write(
        self,
        statements: Vec<Statement>,
        photos: Vec<PhotoFile>,
    ) -> Result<Vec<EntryId>, SaveError> {
        let within = self.within.get_value();
        let at_ms = device::now_ms();
        let mut entries = Vec::with_capacity(statements.len());
        for statement in statements {
            let clock = within.clock.replace(within.clock.get() + 1);
            let id = EntryId(device::random_id());
            let entry = Entry::new(id, clock, at_ms, within.author.clone(), statement)
                .map_err(|error| SaveError::Unwritable(error.to_string()))?;
            entries.push(entry);
        }
        within.store.append(&within.site, &entries, photos).await?;
        device::ask_to_keep_once();
        let ids = entries.iter().map(|entry| entry.id.clone()).collect();
        self.stored.try_set(Shared::new(book_of(entries.clone())));
        device::shown().await;
        self.grow(entries);
        self.stored.try_set(Shared::default());
        self.windows.try_with_value(|windows| windows.as_ref().inspect(|w| w.tell(&within.site.0)).is_some());
        Ok(ids)
    }
}

/// A book of fresh entries.
fn book_of(entries: Vec<Entry>) -> Book {
    let mut book = Book::new();
    add(&mut book, entries);
    book
}

fn add(book: &mut Book, entries: Vec<Entry>) {
    for entry in entries {
        // None is in it, so there is nothing to clash with.
        let _ = book.add(entry);
    }
}

/// The adjustment with its suspects, in the part of the program that comes after the first screen; the first
/// load works without; none where it is what it was before. Answers at once after `fetch_adjusted`.
///
/// # Errors
/// When that part could not be fetched.
#[wasm_split(screens, fallible, preload(fetch_adjusted))]
pub fn adjusted(
    record: &Record,
    before: Option<&Adjustment>,
) -> Result<Option<Adjustment>, SplitLoaderError> {
    Ok(Some(adjust(record)).filter(|found| before != Some(found)))
}

/// Heights for tapes that lay on a slope, in the same part; until it has come such tapes count as level. Answers at
/// once after `fetch_heights`.
#[wasm_split(screens, fallible, preload(fetch_heights))]
pub fn heights(record: &Record) -> Result<LiteMap<PointId, Length>, SplitLoaderError> {
    Ok(above(record))
}

/// In the part of the program that comes after the first screen, which answers at once after `fetch_doubts`.
#[wasm_split(screens, fallible, preload(fetch_doubts))]
pub fn doubts(fold: &Fold, adjustment: &Adjustment) -> Result<Doubts, SplitLoaderError> {
    Ok(Doubts::of(&fold.record, adjustment))
}

/// The statement that withdraws an entry.
#[must_use]
pub fn strike(entry: EntryId) -> Statement {
    Statement::Strike { entry, why: String::new() }
}

/// A fresh point id, unlike any other on any phone.
#[must_use]
pub fn new_point_id() -> PointId {
    PointId(device::random_id())
}

thread_local! {
    static SAVING: Cell<bool> = const { Cell::new(false) };
}

/// Runs something that saves, and tells the user when it did not: the one end of every save error.
/// A second tap while the first is still being stored is told, not obeyed, so that nothing is said twice.
pub fn saving(what: impl Future<Output = Result<(), SaveError>> + 'static) {
    save(Box::pin(what));
}

/// As [`saving`]; apart, so that it is compiled once.
fn save(what: Pin<Box<dyn Future<Output = Result<(), SaveError>>>>) {
    let notices = Notices::here();
    if SAVING.replace(true) {
        return notices.say(crate::words::STILL_SAVING);
    }
    leptos::task::spawn_local(async move {
        let done = what.await;
        SAVING.set(false);
        if let Err(error) = done {
            notices.warn(crate::words::not_saved(&error));
        }
    });
}
