//! Site packages with made-up pictures, and a package taken in as the app takes it in.

use crate::dice::Dice;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::io::Error;
use std::ops::Range;
use swingtie_core::book::{Book, Entry};
use swingtie_core::compare::Worked;
use swingtie_core::package::{
    ABOUT, About, BOOK, FORMAT, Left, Named, PHOTOS, Package, Pictures, THUMBNAILS, Trouble, Writer,
    picture_name, pictures_of, write_texts,
};
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::record::{EntryId, Original, Photo, PhotoId, Statement};
use swingtie_core::report::Report;
use swingtie_core::sheet;

/// When the packages of the tests were made: 2026-07-04 09:30:24 UTC, in milliseconds since 1970.
pub const MADE_AT_MS: i64 = 1_783_157_424_000;

/// A book whose photos are here.
pub struct Sample {
    /// The book.
    pub book: Book,
    /// Its pictures' bytes: at full size, and the originals.
    pub photos: BTreeMap<PhotoId, Vec<u8>>,
    /// Small ones.
    pub thumbnails: BTreeMap<PhotoId, Vec<u8>>,
}

/// The SHA-256 of bytes, in hexadecimal.
#[must_use]
pub fn sum(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Bytes like a photo's: a start that says JPEG, then noise.
fn picture(seed: u64, length: usize) -> Vec<u8> {
    let mut dice = Dice::new(31, seed);
    let noise = std::iter::repeat_with(|| dice.below(256) as u8);
    [0xff, 0xd8, 0xff, 0xe0].into_iter().chain(noise).take(length).collect()
}

impl Sample {
    /// The book with pictures of these lengths in bytes; beside the first its original as the camera wrote it.
    ///
    /// # Panics
    /// When the book does not take them.
    #[must_use]
    pub fn of(mut book: Book, lengths: &[usize]) -> Self {
        let (mut photos, mut thumbnails) = (BTreeMap::new(), BTreeMap::new());
        for (seed, length) in lengths.iter().enumerate() {
            let bytes = picture(seed as u64, *length);
            let id = PhotoId(sum(&bytes));
            let mut photo = Photo::new(id.clone(), "image/jpeg".to_owned(), *length as u64);
            if seed == 0 {
                let bytes = picture(1000, length * 2);
                let id = PhotoId(sum(&bytes));
                let (media_type, length) = ("image/heic".to_owned(), bytes.len() as u64);
                photo.original =
                    Some(Original { id: id.clone(), media_type, bytes: length, name: String::new() });
                photos.insert(id, bytes);
            }
            thumbnails.insert(id.clone(), picture(2000 + seed as u64, length / 10));
            photos.insert(id, bytes);
            let id = EntryId(format!("photo{seed}"));
            let entry = Entry::new(id, book.next_clock(), MADE_AT_MS, "a".into(), Statement::Photo(photo));
            book.add(entry.expect("a photo can be written down")).expect("its id is new");
        }
        Self { book, photos, thumbnails }
    }

    /// The whole package, with everything computed from the book, as the app writes it.
    ///
    /// # Panics
    /// When it cannot be written.
    #[must_use]
    pub fn whole(&self) -> Vec<u8> {
        let Worked { book, fold, adjustment } = Worked::of(self.book.clone());
        let plan = Plan::build(&fold.record, &adjustment);
        let report = Report {
            book: &book,
            fold: &fold,
            adjustment: &adjustment,
            plan: &plan,
            ground: &Ground::of(&fold.record, &plan),
            sheet: &sheet::Options::default(),
            pictures: &Default::default(),
        };
        let mut writer = Writer::new(Vec::new(), MADE_AT_MS);
        write_texts(&mut writer, &report, &about()).expect("texts are written");
        self.rest(writer)
    }

    /// A package with what is read back only.
    ///
    /// # Panics
    /// When it cannot be written.
    #[must_use]
    pub fn small(&self) -> Vec<u8> {
        let mut writer = Writer::new(Vec::new(), MADE_AT_MS);
        let said = serde_json::to_string(&about()).expect("JSON");
        writer.add(ABOUT, said.as_bytes()).expect("it is written");
        writer.add(BOOK, self.book.to_json_lines().as_bytes()).expect("it is written");
        self.rest(writer)
    }

    fn rest(&self, mut writer: Writer<Vec<u8>>) -> Vec<u8> {
        for Named { id, media_type, .. } in pictures_of(&self.book) {
            if let Some(small) = self.thumbnails.get(&id) {
                let name = picture_name(THUMBNAILS, &id, "image/jpeg");
                writer.add_as_is(&name, small).expect("a small picture is written");
            }
            let Some(bytes) = self.photos.get(&id) else { continue };
            let name = picture_name(PHOTOS, &id, &media_type);
            let mut streamed = writer.stream(&name, &id).expect("a picture is started");
            for piece in bytes.chunks(10_000) {
                streamed.write(piece).expect("a picture is written");
            }
            streamed.end().expect("a picture is ended");
        }
        writer.finish().expect("a package is ended")
    }
}

/// What the packages of the tests say of themselves.
#[must_use]
pub fn about() -> About {
    About {
        swingtie_package: FORMAT,
        site: "yard".to_owned(),
        made_by: "a".into(),
        made_at_ms: MADE_AT_MS,
        pictures: Pictures::All,
        left_out: Left::default(),
    }
}

/// What came in: the book, the two lengths in bytes of each picture that was unpacked, full and small, and why others
/// are left out: they alone are damaged.
pub type TakenIn = (Book, BTreeMap<PhotoId, (u64, u64)>, Vec<Trouble>);

/// Takes a package in: reads it, unpacks and checks every picture. The pictures' bytes go to `give`.
///
/// # Errors
/// When something in it is not as it should be; then nothing of it may be used.
pub fn take_in(
    length: u64,
    read: &mut dyn FnMut(Range<u64>) -> Result<Vec<u8>, Error>,
    give: &mut dyn FnMut(&str, &[u8]),
) -> Result<TakenIn, Trouble> {
    let (mut package, contents) = Package::read(length, read)?;
    let (mut lengths, mut damaged) = (BTreeMap::new(), Vec::new());
    for (id, picture) in package.pictures()?.clone() {
        let mut found = [0, 0];
        for (member, found) in [picture.full, picture.small].iter().zip(&mut found) {
            let Some(member) = member else { continue };
            let sum = package.unpack(member, read, &mut |piece| {
                *found += piece.len() as u64;
                give(&member.name, piece);
            });
            if let Some(why) = contents.spoilt(&member.name, sum)? {
                *found = 0;
                damaged.push(why);
            }
        }
        lengths.insert(id, (found[0], found[1]));
    }
    Ok((contents.book, lengths, damaged))
}

/// [`take_in`] of bytes in memory.
///
/// # Errors
/// As there.
pub fn take_in_bytes(bytes: &[u8]) -> Result<TakenIn, Trouble> {
    let mut read = |place: Range<u64>| {
        let place = usize::try_from(place.start).unwrap_or(usize::MAX)
            ..usize::try_from(place.end).unwrap_or(usize::MAX);
        bytes.get(place).map(<[u8]>::to_vec).ok_or_else(|| Error::other("beyond the end of the file"))
    };
    take_in(bytes.len() as u64, &mut read, &mut |_, _| {})
}
