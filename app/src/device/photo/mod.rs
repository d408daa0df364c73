//! Pictures from camera or gallery: made small, named, and ready to be stored.
//!
//! The work on the pixels is `public/photos.js`, which does it in a worker where there is one.

mod compass;
mod pixels;

pub use compass::look_through_compass;

use super::FileError;
use crate::store::{OriginalFile, PhotoFile};
use js_sys::{Array, Function, Promise};
use pixels::pixels;
use swingtie_core::record::PhotoId;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, Event, File, HtmlInputElement};

/// Larger files are left out: reading one could cost the page its memory. In bytes.
const MOST_BYTES: f64 = 100e6;
/// Pictures of more pixels are left out for the same reason.
const MOST_PIXELS: u64 = 100_000_000;
/// A picture tells its size in its first bytes, though a camera may write much before it.
const HEAD_BYTES: f64 = 1e6;

#[wasm_bindgen]
extern "C" {
    /// In `public/start.js`: the function that prepares pictures.
    #[wasm_bindgen(catch, js_namespace = swingtie)]
    async fn photos() -> Result<JsValue, JsValue>;
}

/// Where pictures are made small, one after the other. Everything it took is given back when it is dropped.
pub struct Studio(Function);

impl Studio {
    /// Opens it.
    ///
    /// # Errors
    /// When this part of the program cannot be fetched.
    pub async fn open() -> Result<Self, FileError> {
        Ok(Self(photos().await?.unchecked_into()))
    }

    /// Makes of a picked file what is kept of it; its bytes as they are, too, when asked for.
    ///
    /// # Errors
    /// When it is too large or no picture this browser can read.
    pub async fn prepare(&self, file: &File, keep_original: bool) -> Result<PhotoFile, FileError> {
        if file.size() > MOST_BYTES {
            return Err(FileError::new("it is larger than 100 megabytes"));
        }
        let head = JsFuture::from(file.slice_with_f64_and_f64(0.0, HEAD_BYTES)?.array_buffer()).await?;
        let size = pixels(&js_sys::Uint8Array::new(&head).to_vec());
        if size.is_some_and(|(across, down)| u64::from(across) * u64::from(down) > MOST_PIXELS) {
            return Err(FileError::new("it has more than 100 megapixels"));
        }
        let promise: Promise = self.0.call2(&JsValue::NULL, file, &keep_original.into())?.unchecked_into();
        let made: Array = JsFuture::from(promise).await?.unchecked_into();
        let name = |at| made.get(at).as_string().map(PhotoId);
        let blob = |at| made.get(at).dyn_into::<Blob>().ok();
        let original =
            name(3).zip(blob(4)).map(|(id, bytes)| OriginalFile { id, file: bytes, name: file.name() });
        let (Some(id), Some(picture), Some(thumbnail)) = (name(0), blob(1), blob(2)) else {
            return Err(FileError::new("it could not be made small"));
        };
        Ok(PhotoFile { id, picture, thumbnail, original })
    }
}

impl Drop for Studio {
    fn drop(&mut self) {
        // Nothing more can be done about a worker that will not go.
        let _ = self.0.call0(&JsValue::NULL);
    }
}

/// The files just picked in a file input, which is then ready for the same files again.
#[must_use]
pub fn picked_files(event: &Event) -> Vec<File> {
    let input = event.target().and_then(|target| target.dyn_into::<HtmlInputElement>().ok());
    let Some(input) = input else { return Vec::new() };
    let list = input.files();
    let files = list.iter().flat_map(|list| (0..list.length()).filter_map(|n| list.get(n))).collect();
    input.set_value("");
    files
}
