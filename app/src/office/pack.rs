//! A site package, made on the device: texts first, then the pictures one after the other.
//!
//! The file is a list of parts for the browser. Of a picture only its sum is worked out here, piece by piece; the part is
//! the stored blob itself, so hundreds of photos lie on the disk once and in memory never.

use super::{Doing, Ended, Progress, thumbnails};
use crate::device::{self, FileError, read_bytes};
use crate::state::Shared;
use crate::store::{SiteId, Store};
use js_sys::{Array, Uint8Array};
use std::cell::RefCell;
use std::io::{Result as IoResult, Write};
use std::rc::Rc;
use swingtie_core::book::{Book, Fold};
use swingtie_core::compare::Worked;
use swingtie_core::network::Adjustment;
use swingtie_core::package::{
    About, FORMAT, Left, PHOTOS, Pictures, THUMBNAILS, Writer, picture_name, pictures_of, without,
    write_texts,
};
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::record::{AuthorId, PhotoId};
use swingtie_core::report::Report;
use swingtie_core::sheet::Options as SheetOptions;
use wasm_split_helpers::wasm_split;
use web_sys::{Blob, BlobPropertyBag};

/// What shall go into a package.
#[derive(Clone)]
pub struct Order {
    /// The book as it stands.
    pub book: Shared<Book>,
    /// What follows from it, which counts where nothing is left out.
    pub worked_out: (Shared<Fold>, Shared<Adjustment>, Shared<Plan>),
    /// The site.
    pub site: SiteId,
    /// Where the pictures lie.
    pub store: Store,
    /// How the sheet shall be.
    pub sheet: SheetOptions,
    /// Who makes it.
    pub by: AuthorId,
    /// When.
    pub at_ms: i64,
    /// Which pictures go along.
    pub pictures: Pictures,
    /// Whether the camera's own files do.
    pub originals: bool,
    /// What is left out.
    pub left_out: Left,
    /// Told as it goes on; asked whether to.
    pub progress: Progress,
}

/// A package made.
#[derive(Clone, Debug)]
pub struct Packed {
    /// The zip file.
    pub file: Blob,
    /// How many pictures are named in the book and not on this device.
    pub missing: usize,
}

/// Makes a package.
///
/// # Errors
/// When the part of the program for it could not be fetched.
#[wasm_split(office, fallible)]
pub fn pack(order: Order) -> Result<Doing<Result<Packed, Ended>>, FileError> {
    Ok(Box::pin(packed(order)))
}

/// Takes what the zip file's writer writes, unless it is known to stand in a blob already.
#[derive(Clone, Default)]
struct Sink(Rc<RefCell<Taken>>);

#[derive(Default)]
struct Taken {
    bytes: Vec<u8>,
    is_elsewhere: bool,
}

impl Write for Sink {
    fn write(&mut self, bytes: &[u8]) -> IoResult<usize> {
        let mut taken = self.0.borrow_mut();
        if !taken.is_elsewhere {
            taken.bytes.extend_from_slice(bytes);
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> IoResult<()> {
        Ok(())
    }
}

/// The parts of the file so far.
struct Parts {
    sink: Sink,
    parts: Array,
}

impl Parts {
    /// Makes what was written a part.
    fn cut(&self) {
        let bytes = std::mem::take(&mut self.sink.0.borrow_mut().bytes);
        if !bytes.is_empty() {
            self.parts.push(&Uint8Array::from(bytes.as_slice()));
        }
    }

    /// What is written from now on stands in this blob, or does not.
    fn elsewhere(&self, blob: Option<&Blob>) {
        if let Some(blob) = blob {
            self.cut();
            self.parts.push(blob);
        }
        self.sink.0.borrow_mut().is_elsewhere = blob.is_some();
    }
}

async fn packed(order: Order) -> Result<Packed, Ended> {
    let (book, (fold, adjustment, plan)) = if order.left_out.is_nothing() {
        (order.book.clone(), order.worked_out.clone())
    } else {
        let Worked { book, fold, adjustment } = Worked::of(without(&order.book, order.left_out));
        let plan = Plan::build(&fold.record, &adjustment);
        (Shared::new(book), (Shared::new(fold), Shared::new(adjustment), Shared::new(plan)))
    };
    let ground = Ground::of(&fold.record, &plan);
    let wanted: Vec<_> = match order.pictures {
        Pictures::None => Vec::new(),
        Pictures::All | Pictures::Small => {
            let wanted = pictures_of(&book).into_iter();
            wanted
                .filter(|named| !named.is_original || (order.originals && order.pictures == Pictures::All))
                .collect()
        }
    };
    let of_report = match order.pictures {
        Pictures::None => Vec::new(),
        _ => thumbnails(&order.store, &fold.record).await,
    };
    let report = Report {
        book: &book,
        fold: &fold,
        adjustment: &adjustment,
        plan: &plan,
        ground: &ground,
        sheet: &order.sheet,
        pictures: &of_report.into_iter().collect(),
    };
    let about = About {
        swingtie_package: FORMAT,
        site: order.site.0.clone(),
        made_by: order.by.clone(),
        made_at_ms: order.at_ms,
        pictures: order.pictures,
        left_out: order.left_out,
    };
    let total = wanted.iter().map(|named| named.bytes).sum();
    order.progress.starts(total).await?;
    let parts = Parts { sink: Sink::default(), parts: Array::new() };
    let mut writer = Writer::new(parts.sink.clone(), order.at_ms);
    // The sheets say what they lack where they are looked at.
    let _ = write_texts(&mut writer, &report, &about)?;
    device::sleep(0).await;
    order.progress.goes_on(0).await?;
    let mut missing = 0;
    for named in &wanted {
        let name = picture_name(THUMBNAILS, &named.id, "image/jpeg");
        // The report has those of photos that stand.
        if let Some(small) = report.pictures.get(&named.id) {
            writer.add_as_is(&name, small)?;
        } else if let Some(small) = small(&order.store, &named.id).await? {
            writer.add_as_is(&name, &small)?;
        }
        if order.pictures == Pictures::Small {
            order.progress.goes_on(named.bytes).await?;
            continue;
        }
        let Some(blob) = order.store.photo(&named.id).await.map_err(|why| Ended::Failed(why.to_string()))?
        else {
            missing += 1;
            continue;
        };
        let mut picture = writer.stream(&picture_name(PHOTOS, &named.id, &named.media_type), &named.id)?;
        parts.elsewhere(Some(&blob));
        let mut at = 0.0;
        while at < blob.size() {
            let piece = super::piece(&blob, at).await?;
            picture.write(&piece)?;
            at += super::PIECE;
            order.progress.goes_on(piece.len() as u64).await?;
        }
        parts.elsewhere(None);
        picture.end()?;
    }
    writer.finish()?;
    parts.cut();
    let options = BlobPropertyBag::new();
    options.set_type("application/zip");
    let file = Blob::new_with_blob_sequence_and_options(&parts.parts, &options)?;
    Ok(Packed { file, missing })
}

async fn small(store: &Store, id: &PhotoId) -> Result<Option<Vec<u8>>, Ended> {
    match store.thumbnail(id).await {
        Ok(Some(blob)) => Ok(Some(read_bytes(&blob).await?)),
        Ok(None) => Ok(None),
        Err(why) => Err(Ended::Failed(why.to_string())),
    }
}
