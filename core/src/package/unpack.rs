//! One file of a package, unpacked piece by piece and checked on its way.

use super::{Member, Trouble};
use miniz_oxide::inflate::stream::{InflateState, inflate};
use miniz_oxide::{DataFormat, MZError, MZFlush, MZStatus};
use sha2::{Digest, Sha256};

/// Unpacked so much at a time.
const ROOM: usize = 64 * 1024;

/// Unpacks one file: packed bytes in, as they stand in the zip file, its own bytes out.
pub struct Unpacking {
    name: String,
    crc: u32,
    size: u64,
    packed: Option<Box<InflateState>>,
    ended: bool,
    out: u64,
    sum: Sha256,
    check: crc32fast::Hasher,
}

impl Unpacking {
    /// Starts with a file.
    #[must_use]
    pub fn of(member: &Member) -> Self {
        Self {
            name: member.name.clone(),
            crc: member.crc,
            size: member.size,
            packed: (!member.is_stored).then(|| InflateState::new_boxed(DataFormat::Raw)),
            ended: member.is_stored,
            out: 0,
            sum: Sha256::new(),
            check: crc32fast::Hasher::new(),
        }
    }

    /// Takes the next packed bytes and gives what they hold.
    ///
    /// # Errors
    /// When they are damaged, or hold more than the zip file says.
    pub fn feed(&mut self, bytes: &[u8], give: &mut dyn FnMut(&[u8])) -> Result<(), Trouble> {
        let Some(mut state) = self.packed.take() else {
            return self.take(bytes, give);
        };
        let mut rest = bytes;
        let mut room = vec![0; ROOM];
        while !self.ended {
            let done = inflate(&mut state, rest, &mut room, MZFlush::None);
            self.take(room.get(..done.bytes_written).unwrap_or_default(), give)?;
            rest = rest.get(done.bytes_consumed..).unwrap_or_default();
            match done.status {
                Ok(MZStatus::StreamEnd) => self.ended = true,
                // No room left, or nothing more to take.
                Ok(_) | Err(MZError::Buf) => {
                    if rest.is_empty() && done.bytes_written < ROOM {
                        break;
                    }
                }
                Err(_) => return Err(Trouble::Damaged(self.name.clone())),
            }
        }
        self.packed = Some(state);
        Ok(())
    }

    fn take(&mut self, bytes: &[u8], give: &mut dyn FnMut(&[u8])) -> Result<(), Trouble> {
        self.out += bytes.len() as u64;
        if self.out > self.size {
            return Err(Trouble::Size(self.name.clone()));
        }
        self.sum.update(bytes);
        self.check.update(bytes);
        give(bytes);
        Ok(())
    }

    /// Checks that all of it was there; gives its SHA-256 in hexadecimal.
    ///
    /// # Errors
    /// When bytes are missing or are others than were packed.
    pub fn end(self) -> Result<String, Trouble> {
        if !self.ended || self.out != self.size {
            return Err(Trouble::Cut(self.name));
        }
        if self.check.finalize() != self.crc {
            return Err(Trouble::Sum(self.name));
        }
        Ok(hexadecimal(&self.sum.finalize()))
    }
}

/// A hash as it is written.
pub(super) fn hexadecimal(sum: &[u8]) -> String {
    sum.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The SHA-256 of bytes.
pub(super) fn sum_of(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}
