//! How far something long has come, and whether it shall go on.

use crate::device::{self, FileError};
use leptos::prelude::*;
use std::future::Future;
use std::pin::Pin;
use swingtie_core::package::{Trouble, WriteError};
use wasm_bindgen::JsValue;

/// Something being done.
pub type Doing<T> = Pin<Box<dyn Future<Output = T>>>;

/// Why something long came to nothing. Nothing was changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Ended {
    /// The user thought better of it.
    #[error("{}", say!("stopped"))]
    Stopped,
    /// It could not be, for the reason said.
    #[error("{0}")]
    Failed(String),
}

impl From<WriteError> for Ended {
    fn from(error: WriteError) -> Self {
        Self::Failed(error.to_string())
    }
}

impl From<Trouble> for Ended {
    fn from(error: Trouble) -> Self {
        Self::Failed(error.to_string())
    }
}

impl From<FileError> for Ended {
    fn from(error: FileError) -> Self {
        Self::Failed(error.to_string())
    }
}

impl From<JsValue> for Ended {
    fn from(error: JsValue) -> Self {
        FileError::from(error).into()
    }
}

/// How far something long has come, in bytes, and whether it shall go on. Copied freely.
#[derive(Clone, Copy)]
pub struct Progress {
    done: RwSignal<(u64, u64)>,
    stop: RwSignal<bool>,
}

/// Bytes after which the page gets a turn.
const TURN: u64 = 2 * 1024 * 1024;

impl Progress {
    /// Of nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self { done: RwSignal::new((0, 0)), stop: RwSignal::new(false) }
    }

    /// Bytes done, and how many there are in all. Tracked.
    #[must_use]
    pub fn told(self) -> (u64, u64) {
        self.done.get()
    }

    /// Has it stop at the next piece.
    pub fn stop(self) {
        self.stop.try_set(true);
    }

    /// Before anything is done: who stopped the last one has not stopped this.
    pub fn begin(self) {
        self.stop.try_set(false);
        self.done.try_set((0, 0));
    }

    /// It is known how much there is to do.
    ///
    /// # Errors
    /// As [`goes_on`](Self::goes_on).
    pub(super) async fn starts(self, total: u64) -> Result<(), Ended> {
        self.done.try_set((0, total));
        // A tap that came meanwhile gets its turn.
        device::sleep(0).await;
        self.goes_on(0).await
    }

    /// So much more is done. The page gets a turn now and then.
    ///
    /// # Errors
    /// When it shall stop, or nobody waits for it any more.
    pub(super) async fn goes_on(self, bytes: u64) -> Result<(), Ended> {
        let turn = self.done.try_update(|(done, _)| {
            let before = *done / TURN;
            *done += bytes;
            *done / TURN != before
        });
        if turn == Some(true) {
            device::sleep(0).await;
        }
        if self.stop.try_get_untracked() == Some(false) { Ok(()) } else { Err(Ended::Stopped) }
    }
}
