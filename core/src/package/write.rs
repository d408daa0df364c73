//! Packages out: a zip file, written as it is made.

use super::{CHECKSUMS, unpack::sum_of};
use crate::record::PhotoId;
use rawzip::time::UtcDateTime;
use rawzip::{CompressionMethod, DataDescriptorOutput, ZipArchiveWriter, ZipEntryWriter};
use std::io::Write;

/// A package could not be written, in the words of who took the bytes.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct WriteError(String);

impl From<rawzip::Error> for WriteError {
    fn from(error: rawzip::Error) -> Self {
        Self(error.to_string())
    }
}

impl From<std::io::Error> for WriteError {
    fn from(error: std::io::Error) -> Self {
        Self(error.to_string())
    }
}

/// How hard texts are packed: zlib's usual.
const EFFORT: u8 = 6;

/// Writes a package file by file; what is written goes to the sink at once and is never looked at again.
pub struct Writer<W> {
    zip: ZipArchiveWriter<W>,
    sums: String,
    made: UtcDateTime,
}

impl<W: Write> Writer<W> {
    /// Starts a package made at this time, milliseconds since 1970.
    pub fn new(sink: W, made_at_ms: i64) -> Self {
        let made = UtcDateTime::from_unix(made_at_ms.div_euclid(1000).max(0));
        Self { zip: ZipArchiveWriter::new(sink), sums: String::new(), made }
    }

    /// Adds a file whose bytes are here, packed.
    ///
    /// # Errors
    /// When the sink does not take them.
    pub fn add(&mut self, name: &str, bytes: &[u8]) -> Result<(), WriteError> {
        self.remember(name, &sum_of(bytes));
        let packed = miniz_oxide::deflate::compress_to_vec(bytes, EFFORT);
        let file = self.zip.new_file(name).last_modified(self.made);
        let (mut file, _) = file.compression_method(CompressionMethod::DEFLATE).start()?;
        file.write_all(&packed)?;
        file.finish(DataDescriptorOutput::new(crc32fast::hash(bytes), bytes.len() as u64))?;
        Ok(())
    }

    /// Adds a small picture whose bytes are here, as it is.
    ///
    /// # Errors
    /// When the sink does not take it.
    pub fn add_as_is(&mut self, name: &str, bytes: &[u8]) -> Result<(), WriteError> {
        let id = PhotoId(sum_of(bytes));
        let mut picture = self.stream(name, &id)?;
        picture.write(bytes)?;
        picture.end()
    }

    /// Starts a picture that comes in pieces and is written as it is; its id is its SHA-256.
    ///
    /// # Errors
    /// When the sink does not take it.
    pub fn stream(&mut self, name: &str, id: &PhotoId) -> Result<Streamed<'_, W>, WriteError> {
        self.remember(name, &id.0);
        let file = self.zip.new_file(name).last_modified(self.made);
        let (file, _) = file.compression_method(CompressionMethod::STORE).start()?;
        Ok(Streamed { file, sum: crc32fast::Hasher::new(), length: 0 })
    }

    /// Writes the sums and the directory; gives the sink back.
    ///
    /// # Errors
    /// When the sink does not take them.
    pub fn finish(mut self) -> Result<W, WriteError> {
        let sums = std::mem::take(&mut self.sums);
        self.add(CHECKSUMS, sums.as_bytes())?;
        Ok(self.zip.finish()?)
    }

    /// A line as `sha256sum` writes it.
    fn remember(&mut self, name: &str, sum: &str) {
        self.sums.push_str(&format!("{sum}  {name}\n"));
    }
}

/// A picture on its way into a package.
pub struct Streamed<'a, W> {
    file: ZipEntryWriter<'a, W>,
    sum: crc32fast::Hasher,
    length: u64,
}

impl<W: Write> Streamed<'_, W> {
    /// Takes the next piece.
    ///
    /// # Errors
    /// When the sink does not take it.
    pub fn write(&mut self, piece: &[u8]) -> Result<(), WriteError> {
        self.sum.update(piece);
        self.length += piece.len() as u64;
        Ok(self.file.write_all(piece)?)
    }

    /// Ends it.
    ///
    /// # Errors
    /// When the sink does not take it.
    pub fn end(self) -> Result<(), WriteError> {
        self.file.finish(DataDescriptorOutput::new(self.sum.finalize(), self.length))?;
        Ok(())
    }
}
