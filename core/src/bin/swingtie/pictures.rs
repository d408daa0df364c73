//! The pictures of a site package, for the report.

use std::io::{Cursor, Read, Seek};
use std::path::Path;
use swingtie_core::record::{PhotoId, Record};
use zip::ZipArchive;

/// The most bytes of pictures in one report, so that it can still be sent by mail and opened on a phone.
const MOST: u64 = 16 * 1024 * 1024;

/// By photo, small versions where the package has them. What a package lacks, and what would make the report too large,
/// is left out: how many is the second answer.
pub type Pictures = (Vec<(PhotoId, Vec<u8>)>, usize);

/// Looks for a file named by each photo's hash, whatever folder it lies in: of several the smallest.
pub fn of(record: &Record, package: Option<&[u8]>) -> Pictures {
    let mut found = Vec::new();
    let mut archive = package.and_then(|bytes| ZipArchive::new(Cursor::new(bytes)).ok());
    let mut left = MOST;
    for photo in &record.photos {
        let id = &photo.what.id;
        if found.iter().any(|(known, _)| known == id) {
            continue;
        }
        let Some(bytes) = archive.as_mut().and_then(|archive| read(archive, id, left)) else { continue };
        left -= bytes.len() as u64;
        found.push((id.clone(), bytes));
    }
    let shown = |id: &PhotoId| found.iter().any(|(known, _)| known == id);
    let missing = record.photos.iter().filter(|photo| !shown(&photo.what.id)).count();
    (found, missing)
}

fn read<R: Read + Seek>(archive: &mut ZipArchive<R>, id: &PhotoId, most: u64) -> Option<Vec<u8>> {
    let stem = |name: &str| Path::new(name).file_stem().and_then(|stem| stem.to_str()).map(str::to_owned);
    let names: Vec<String> = archive.file_names().filter_map(Result::ok).map(Into::into).collect();
    let mut sized = Vec::new();
    for name in names.iter().filter(|name| stem(name).as_deref() == Some(id.0.as_str())) {
        sized.push((archive.by_name(name).ok()?.size(), name));
    }
    let (_, name) = sized.into_iter().min()?;
    let mut bytes = Vec::new();
    // The size a package states may be a lie: no more is unpacked than there is room for.
    archive.by_name(name).ok()?.take(most + 1).read_to_end(&mut bytes).ok()?;
    (bytes.len() as u64 <= most).then_some(bytes)
}
