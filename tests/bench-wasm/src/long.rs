//! What one entry more costs in a long survey, part by part.

use swingtie_core::{
    book::{Book, Entry, Fold, fold, fold_on},
    checks::lines_on,
    network::{Adjustment, Reach, adjust, advice},
    plan::{Ground, Plan},
    record::{EntryId, Note, Statement},
    units::Length,
};
use swingtie_tests::large::Large;
use wasm_bindgen::prelude::wasm_bindgen;

/// A long survey, open.
#[wasm_bindgen]
pub struct Long {
    book: Book,
    fold: Option<Fold>,
    adjustment: Adjustment,
    plan: Plan,
    added: u32,
}

#[wasm_bindgen]
impl Long {
    /// Of so many entries.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new(entries: usize) -> Self {
        let book = Large::of(entries).book();
        let fold = fold(&book);
        let adjustment = adjust(&fold.record);
        let plan = Plan::build(&fold.record, &adjustment);
        Self { book, fold: Some(fold), adjustment, plan, added: 0 }
    }

    fn record(&self) -> Option<&swingtie_core::record::Record> {
        self.fold.as_ref().map(|fold| &fold.record)
    }

    /// A copy of the book. Like all of these it returns how much it made, so that the work cannot be left out.
    #[must_use]
    pub fn copy(&self) -> usize {
        self.book.clone().len()
    }

    /// The fold of the whole.
    #[must_use]
    pub fn whole_fold(&self) -> usize {
        fold(&self.book).standing.len()
    }

    /// One entry more in the book and in its fold.
    pub fn grow(&mut self) -> usize {
        self.added += 1;
        let note = Note { topic: "stays".into(), text: format!("{}", self.added), ..Note::default() };
        let (id, clock) = (EntryId(format!("new-{}", self.added)), self.book.next_clock());
        let Ok(entry) = Entry::new(id, clock, 0, "surveyor".into(), Statement::Note(note.into())) else {
            return 0;
        };
        let _ = self.book.add(entry);
        let grown = fold_on(self.fold.take().unwrap_or_default(), &self.book);
        let count = grown.fold.standing.len();
        self.fold = Some(grown.fold);
        count
    }

    /// The adjustment.
    #[must_use]
    pub fn adjust(&self) -> usize {
        self.record().map_or(0, |record| adjust(record).readings.len())
    }

    /// The plan, and whether it is the one it was.
    #[must_use]
    pub fn plan(&self) -> usize {
        self.record().map_or(0, |record| {
            let plan = Plan::build(record, &self.adjustment);
            plan.points.len() + usize::from(plan == self.plan)
        })
    }

    /// The list before leaving, with the ground it looks at.
    #[must_use]
    pub fn checks(&self) -> usize {
        self.record().map_or(0, |record| {
            let ground = Ground::of(record, &self.plan);
            1 + lines_on(record, &self.adjustment, &self.plan, &ground).len()
        })
    }

    /// What to tape next.
    #[must_use]
    pub fn advice(&self) -> usize {
        let reach = Reach { tape: Length::from_metres(30.0), ..Reach::default() };
        self.record().map_or(0, |record| 1 + advice(record, &self.adjustment, &reach).len())
    }
}
