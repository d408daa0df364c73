//! A file of which only parts are in memory.

use rawzip::ReaderAt;
use std::cell::Cell;
use std::io::{Error, ErrorKind};
use std::ops::Range;

/// The parts of a file that were read so far. Reading elsewhere fails, and says what is wanted.
#[derive(Debug)]
pub(super) struct Windows {
    length: u64,
    parts: Vec<(u64, Vec<u8>)>,
    wanted: Cell<Option<(u64, u64)>>,
}

/// So much is read at least, so that small pieces beside each other are read at once.
const PIECE: u64 = 64 * 1024;
/// And no more than this at once.
const LARGEST_PIECE: u64 = 1024 * 1024;

impl Windows {
    pub fn new(length: u64) -> Self {
        Self { length, parts: Vec::new(), wanted: Cell::new(None) }
    }

    /// Takes a part of the file in.
    pub fn give(&mut self, at: u64, bytes: Vec<u8>) {
        self.parts.push((at, bytes));
    }

    /// How many bytes are in memory.
    pub fn held(&self) -> u64 {
        self.parts.iter().map(|(_, bytes)| bytes.len() as u64).sum()
    }

    /// Forgets the parts.
    pub fn clear(&mut self) {
        self.parts.clear();
    }

    /// What was asked for and not there.
    pub fn wanted(&self) -> Option<Range<u64>> {
        self.wanted.take().map(|(from, to)| from..to)
    }

    pub fn length(&self) -> u64 {
        self.length
    }

    /// Bytes from `at` on, as far as they lie in one part.
    fn from(&self, at: u64) -> Option<&[u8]> {
        self.parts.iter().find_map(|(start, bytes)| {
            let skip = usize::try_from(at.checked_sub(*start)?).ok()?;
            bytes.get(skip..).filter(|rest| !rest.is_empty())
        })
    }
}

impl ReaderAt for Windows {
    fn read_at(&self, to: &mut [u8], at: u64) -> Result<usize, Error> {
        if at >= self.length || to.is_empty() {
            return Ok(0);
        }
        let Some(bytes) = self.from(at) else {
            // Who reads starts anew after each piece: the pieces grow, so that a long directory takes few of them.
            let long = self.held().clamp(PIECE, LARGEST_PIECE).max(to.len() as u64);
            // As far as it is not here already.
            let next = self.parts.iter().map(|(start, _)| *start).filter(|start| *start > at).min();
            let end = at.saturating_add(long).min(next.unwrap_or(self.length));
            self.wanted.set(Some((at, end)));
            return Err(ErrorKind::WouldBlock.into());
        };
        let read = to.len().min(bytes.len());
        if let (Some(to), Some(from)) = (to.get_mut(..read), bytes.get(..read)) {
            to.copy_from_slice(from);
        }
        Ok(read)
    }
}
