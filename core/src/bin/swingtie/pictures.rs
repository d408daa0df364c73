//! The pictures of a site package, for the report.

use super::input::at;
use std::fs::File;
use swingtie_core::package::{Member, Package};
use swingtie_core::record::{PhotoId, Record};

/// The most bytes of pictures in one report, so that it can still be sent by mail and opened on a phone.
const MOST: u64 = 16 * 1024 * 1024;

/// By photo, small versions where the package has them. What a package lacks, what is damaged, and what would make the
/// report too large is left out: how many is the second answer.
pub type Pictures = (Vec<(PhotoId, Vec<u8>)>, usize);

/// Takes each photo's picture out of the package.
pub fn of(record: &Record, package: Option<(Package, File)>) -> Pictures {
    let mut found: Vec<(PhotoId, Vec<u8>)> = Vec::new();
    let mut missing = 0;
    let mut package = package;
    let mut left = MOST;
    for photo in &record.photos {
        let id = &photo.what.id;
        if found.iter().any(|(known, _)| known == id) {
            continue;
        }
        match package.as_mut().and_then(|(package, file)| picture(package, file, id, left)) {
            Some(bytes) => {
                left -= bytes.len() as u64;
                found.push((id.clone(), bytes));
            }
            None => missing += 1,
        }
    }
    (found, missing)
}

fn picture(package: &mut Package, file: &mut File, id: &PhotoId, most: u64) -> Option<Vec<u8>> {
    let picture = package.pictures().ok()?.get(id)?.clone();
    let member: Member = picture.small.or(picture.full).filter(|member| member.size <= most)?;
    let mut bytes = Vec::new();
    let mut read = |place| at(file, place);
    package.unpack(&member, &mut read, &mut |piece| bytes.extend_from_slice(piece)).ok()?;
    Some(bytes)
}
