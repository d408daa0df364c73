//! A site package that somebody sent, opened where it lies: its texts first, its pictures when it is taken in.

use super::{Doing, Ended, PIECE, Progress, piece};
use crate::device::{FileError, read_bytes};
use crate::store::{PictureFile, SiteId};
use js_sys::{Array, Uint8Array};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;
use std::rc::Rc;
use swingtie_core::book::{Book, Entry, Fold};
use swingtie_core::package::{
    Contents, Incoming, Member, Opening, Package, Picture, Pictures, Step, Text, Trouble, Unpacking,
    pictures_of, same_site,
};
use swingtie_core::record::{AuthorId, EntryId, PhotoId};
use wasm_split_helpers::wasm_split;
use web_sys::{Blob, BlobPropertyBag, File};

/// A package, opened, or a book by itself. Cloning shares it.
#[derive(Clone)]
pub struct Brought(Rc<Inside>);

struct Inside {
    /// The zip file; none where a book came by itself.
    zip: Option<(File, RefCell<Package>)>,
    contents: Contents,
    pictures: BTreeMap<PhotoId, Picture>,
}

impl Brought {
    /// A book that came by itself.
    #[must_use]
    pub fn of_book(book: Book) -> Self {
        Self(Rc::new(Inside { zip: None, contents: Contents::of_book(book), pictures: BTreeMap::new() }))
    }

    /// The book in it.
    #[must_use]
    pub fn book(&self) -> &Book {
        &self.0.contents.book
    }

    /// What the site is called in the store of who sent it; empty when not said.
    #[must_use]
    pub fn site(&self) -> SiteId {
        SiteId(self.0.contents.about.site.clone())
    }

    /// Who made it and when, milliseconds since 1970; 0 when not said.
    #[must_use]
    pub fn made(&self) -> (AuthorId, i64) {
        (self.0.contents.about.made_by.clone(), self.0.contents.about.made_at_ms)
    }

    /// Whether it holds the small pictures only.
    #[must_use]
    pub fn is_light(&self) -> bool {
        self.0.contents.about.pictures == Pictures::Small
    }

    /// How many photos its book names whose picture at full size is neither in it nor here.
    #[must_use]
    pub fn lacks(&self, (large, _): &(Vec<PhotoId>, Vec<PhotoId>)) -> usize {
        let is_there = |id: &PhotoId| self.0.pictures.get(id).is_some_and(|picture| picture.full.is_some());
        let named = pictures_of(self.book());
        let photos = named.iter().filter(|named| !named.is_original);
        photos.filter(|named| !is_there(&named.id) && !large.contains(&named.id)).count()
    }

    /// The names of the pictures in it of which the large or the small one is not among those here.
    #[must_use]
    pub fn pictures_beside(&self, (large, small): &(Vec<PhotoId>, Vec<PhotoId>)) -> Vec<PhotoId> {
        let is_new = |(id, picture): &(&PhotoId, &Picture)| {
            (picture.full.is_some() && !large.contains(id))
                || (picture.small.is_some() && !small.contains(id))
        };
        self.0.pictures.iter().filter(is_new).map(|(id, _)| id.clone()).collect()
    }
}

/// What a package brings to the book that is here.
#[derive(Clone, Debug)]
pub struct News {
    /// Both books as one.
    pub merged: Book,
    /// The book that was here, folded.
    pub before: Fold,
    /// Both as one, folded.
    pub after: Fold,
    /// What is new, in book order.
    pub new: Vec<Entry>,
    /// By whom, how many, and when the first and the last were written.
    pub by: Vec<(AuthorId, usize, (i64, i64))>,
    /// How many entries of one id say different things; those here are kept.
    pub clashes: usize,
    /// Entries that two people wrote anew or struck, each for himself.
    pub rivals: Vec<EntryId>,
    /// How many entries that stood here stand no more.
    pub struck: usize,
}

/// Opens a package.
///
/// # Errors
/// When the part of the program for it could not be fetched.
#[wasm_split(office, fallible)]
pub fn open(file: File) -> Result<Doing<Result<Brought, Ended>>, FileError> {
    Ok(Box::pin(opened(file)))
}

/// Whether a book is of this site too.
///
/// # Errors
/// When the part of the program for it could not be fetched.
#[wasm_split(office, fallible)]
pub fn is_of(brought: Brought, book: &Book) -> Result<bool, FileError> {
    Ok(same_site(brought.book(), book))
}

/// What a package brings to a book.
///
/// # Errors
/// When the part of the program for it could not be fetched.
#[wasm_split(office, fallible)]
pub fn news(brought: Brought, ours: &Book) -> Result<News, FileError> {
    let incoming = Incoming::of(ours, brought.book());
    Ok(News {
        new: incoming.new,
        by: incoming.shares.into_iter().map(|share| (share.author, share.entries, share.when)).collect(),
        clashes: incoming.clashes.len(),
        rivals: incoming.rivals,
        merged: incoming.merged,
        before: incoming.before,
        after: incoming.after,
        struck: incoming.struck.len(),
    })
}

/// What of the pictures is sound, ready to be stored, and the photos of which one is damaged.
pub type LookedOver = (Vec<PictureFile>, Vec<PhotoId>);

/// Looks every picture over that is not here already. Nothing is stored yet.
///
/// # Errors
/// When the part of the program for it could not be fetched.
#[wasm_split(office, fallible)]
pub fn pictures(
    brought: Brought,
    wanted: Vec<PhotoId>,
    progress: Progress,
) -> Result<Doing<Result<LookedOver, Ended>>, FileError> {
    Ok(Box::pin(looked_over(brought, wanted, progress)))
}

async fn opened(file: File) -> Result<Brought, Ended> {
    let mut opening = Opening::of(length(&file));
    let package = loop {
        match opening.step()? {
            Step::Done(package) => break RefCell::new(package),
            Step::Read(place) => opening.give(place.start, bytes(&file, &place).await?),
        }
    };
    let mut texts = Vec::new();
    let members = package.borrow().texts()?;
    for member in members {
        let place = place(&package, &file, &member).await?;
        let mut unpacked = Vec::new();
        let sum =
            unpack(&file, &member, place, None, &mut |piece| unpacked.extend_from_slice(piece)).await??;
        texts.push(Text { name: member.name, bytes: unpacked, sum });
    }
    let contents = package.borrow().contents(&texts)?;
    let pictures = package.borrow().pictures()?.clone();
    Ok(Brought(Rc::new(Inside { zip: Some((file, package)), contents, pictures })))
}

async fn looked_over(
    brought: Brought,
    wanted: Vec<PhotoId>,
    progress: Progress,
) -> Result<LookedOver, Ended> {
    let Inside { zip, contents, pictures } = &*brought.0;
    let Some((file, package)) = zip else { return Ok((Vec::new(), Vec::new())) };
    let wanted: Vec<(PhotoId, &Picture)> =
        wanted.into_iter().filter_map(|id| pictures.get(&id).map(|picture| (id, picture))).collect();
    let sizes = wanted.iter().flat_map(|(_, picture)| [&picture.full, &picture.small]).flatten();
    progress.starts(sizes.map(|member| member.size).sum()).await?;
    let (mut files, mut damaged) = (Vec::new(), Vec::new());
    for (id, picture) in wanted {
        let mut found = [None, None];
        for (member, found) in [&picture.full, &picture.small].into_iter().zip(&mut found) {
            let Some(member) = member else { continue };
            let place = place(package, file, member).await?;
            let range = place.clone();
            let mut unpacked = Vec::new();
            let keep = !member.stands_as_it_is();
            let sum = unpack(file, member, place, Some(progress), &mut |piece| {
                if keep {
                    unpacked.extend_from_slice(piece);
                }
            })
            .await?;
            if contents.spoilt(&member.name, sum)?.is_some() {
                if !damaged.contains(&id) {
                    damaged.push(id.clone());
                }
                continue;
            }
            *found = Some(if keep {
                let options = BlobPropertyBag::new();
                options.set_type(picture.media_type());
                let parts = Array::of1(&Uint8Array::from(unpacked.as_slice()));
                Blob::new_with_u8_array_sequence_and_options(&parts, &options)?
            } else {
                slice(file, &range, picture.media_type())?
            });
        }
        let [full, small] = found;
        if full.is_some() || small.is_some() {
            files.push(PictureFile { id, full, small });
        }
    }
    Ok((files, damaged))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a file's length is a whole number"
)]
fn length(file: &File) -> u64 {
    file.size() as u64
}

#[expect(clippy::cast_precision_loss, reason = "no file has 2^53 bytes")]
fn slice(file: &File, place: &Range<u64>, media_type: &str) -> Result<Blob, Ended> {
    Ok(file.slice_with_f64_and_f64_and_content_type(place.start as f64, place.end as f64, media_type)?)
}

async fn bytes(file: &File, place: &Range<u64>) -> Result<Vec<u8>, Ended> {
    Ok(read_bytes(&slice(file, place, "")?).await?)
}

/// Where a member's packed bytes stand.
async fn place(package: &RefCell<Package>, file: &File, member: &Member) -> Result<Range<u64>, Ended> {
    loop {
        let step = package.borrow_mut().find(member)?;
        match step {
            Step::Done(place) => return Ok(place),
            Step::Read(place) => {
                let read = bytes(file, &place).await?;
                package.borrow_mut().give(place.start, read);
            }
        }
    }
}

/// The sum of what a member holds, or why it cannot be had; fails where the file cannot be read or it shall stop.
async fn unpack(
    file: &File,
    member: &Member,
    place: Range<u64>,
    progress: Option<Progress>,
    give: &mut dyn FnMut(&[u8]),
) -> Result<Result<String, Trouble>, Ended> {
    let packed = slice(file, &place, "")?;
    let mut unpacking = Unpacking::of(member);
    let mut at = 0.0;
    while at < packed.size() {
        let read = piece(&packed, at).await?;
        at += PIECE;
        let mut out = 0;
        let fed = unpacking.feed(&read, &mut |piece| {
            out += piece.len() as u64;
            give(piece);
        });
        if let Err(why) = fed {
            return Ok(Err(why));
        }
        if let Some(progress) = progress {
            progress.goes_on(out).await?;
        }
    }
    Ok(unpacking.end())
}
