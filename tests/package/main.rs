//! Site packages as other programs see them, and what other programs make of them, good and bad, as this one sees it.

mod bad;
mod mutated;
mod outside;
mod scripts;

use peak_alloc::PeakAlloc;
use std::sync::{Mutex, MutexGuard, PoisonError};

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// Memory is counted for the whole program: one test at a time.
fn alone() -> MutexGuard<'static, ()> {
    static ALONE: Mutex<()> = Mutex::new(());
    ALONE.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The most memory that was in use at once while something was done, beyond what was in use before, in bytes.
fn memory<T>(does: impl FnOnce() -> T) -> (T, usize) {
    let before = MEMORY.current_usage();
    MEMORY.reset_peak_usage();
    let done = does();
    (done, MEMORY.peak_usage().saturating_sub(before))
}
