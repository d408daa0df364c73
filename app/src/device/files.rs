//! Files in and out: downloads, picked files, photos.

use crate::store::PhotoFile;
use leptos::prelude::{document, window};
use swingtie_core::record::PhotoId;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, BlobPropertyBag, CanvasRenderingContext2d, Event, File, HtmlAnchorElement, HtmlCanvasElement,
    HtmlInputElement, ImageBitmap,
};

/// A file could not be read or made, in the browser's words.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{0}")]
pub struct FileError(String);

impl FileError {
    /// One in other words.
    pub fn new(words: &str) -> Self {
        Self(words.to_owned())
    }
}

impl From<JsValue> for FileError {
    fn from(value: JsValue) -> Self {
        let text = value
            .dyn_ref::<js_sys::Error>()
            .map(|error| String::from(error.message()))
            .or_else(|| value.as_string())
            .unwrap_or_else(|| format!("{value:?}"));
        Self(text)
    }
}

/// Longest side of a small picture, in pixels.
const THUMBNAIL_SIDE: f64 = 320.0;

/// A blob of text.
fn text_blob(text: &JsValue, media_type: &str) -> Result<Blob, JsValue> {
    let options = BlobPropertyBag::new();
    options.set_type(media_type);
    Blob::new_with_str_sequence_and_options(&js_sys::Array::of1(text), &options)
}

/// Hands a file to the browser's downloads.
///
/// # Errors
/// When the browser refuses.
pub fn download(name: &str, media_type: &str, text: &JsValue) -> Result<(), FileError> {
    let url = web_sys::Url::create_object_url_with_blob(&text_blob(text, media_type)?)?;
    let link: HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    link.set_href(&url);
    link.set_download(name);
    link.click();
    // The click has started the download; the address may go once the browser has had a turn.
    leptos::task::spawn_local(async move {
        super::sleep(10_000).await;
        revoke_url(&url);
    });
    Ok(())
}

/// An address for a blob, to show it. Give it back with [`revoke_url`].
#[must_use]
pub fn object_url(blob: &Blob) -> Option<String> {
    web_sys::Url::create_object_url_with_blob(blob).ok()
}

/// An address for a text, to show it. Give it back with [`revoke_url`].
#[must_use]
pub fn text_url(text: &JsValue, media_type: &str) -> Option<String> {
    object_url(&text_blob(text, media_type).ok()?)
}

/// Gives an address back.
pub fn revoke_url(url: &str) {
    let _ = web_sys::Url::revoke_object_url(url);
}

/// The file just picked in a file input.
#[must_use]
pub fn picked_file(event: &Event) -> Option<File> {
    event.target()?.dyn_into::<HtmlInputElement>().ok()?.files()?.get(0)
}

/// Reads a file as text.
///
/// # Errors
/// When the browser cannot read it.
pub async fn read_text(file: &File) -> Result<String, FileError> {
    Ok(JsFuture::from(file.text()).await?.as_string().unwrap_or_default())
}

/// Names a picture by its bytes and makes its small version.
///
/// # Errors
/// When it is not a picture the browser can show.
pub async fn read_photo(file: &File) -> Result<PhotoFile, FileError> {
    let bytes = JsFuture::from(file.array_buffer()).await?;
    let digest = window()
        .crypto()?
        .subtle()
        .digest_with_str_and_buffer_source("SHA-256", bytes.unchecked_ref::<js_sys::Object>())?;
    let digest = js_sys::Uint8Array::new(&JsFuture::from(digest).await?).to_vec();
    let options = BlobPropertyBag::new();
    options.set_type(&file.type_());
    // A copy of the bytes: a picked file is only a pointer to a file that may change or go.
    let picture = Blob::new_with_u8_array_sequence_and_options(&js_sys::Array::of1(&bytes), &options)?;
    let thumbnail = thumbnail(&picture).await?;
    Ok(PhotoFile { id: PhotoId(hexadecimal(&digest)), picture, thumbnail })
}

async fn thumbnail(picture: &Blob) -> Result<Blob, FileError> {
    let bitmap: ImageBitmap =
        JsFuture::from(window().create_image_bitmap_with_blob(picture)?).await?.unchecked_into();
    let (width, height) = fit(f64::from(bitmap.width()), f64::from(bitmap.height()), THUMBNAIL_SIDE);
    let canvas: HtmlCanvasElement = document().create_element("canvas")?.unchecked_into();
    canvas.set_width(width);
    canvas.set_height(height);
    let pen: CanvasRenderingContext2d =
        canvas.get_context("2d")?.ok_or_else(|| FileError("no drawing surface".to_owned()))?.unchecked_into();
    pen.draw_image_with_image_bitmap_and_dw_and_dh(&bitmap, 0.0, 0.0, f64::from(width), f64::from(height))?;
    bitmap.close();
    let blob = js_sys::Promise::new(&mut |resolve, reject| {
        if let Err(error) = canvas.to_blob_with_type(&resolve, "image/jpeg") {
            let _ = reject.call1(&JsValue::NULL, &error);
        }
    });
    JsFuture::from(blob)
        .await?
        .dyn_into()
        .map_err(|_| FileError("the picture could not be made small".to_owned()))
}

/// Scales a picture down to the given longest side; never up, never to nothing.
fn fit(width: f64, height: f64, side: f64) -> (u32, u32) {
    let scale = (side / width.max(height).max(1.0)).min(1.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and the side")]
    let whole = |x: f64| (x * scale).round().max(1.0) as u32;
    (whole(width), whole(height))
}

fn hexadecimal(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing to a text cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pictures_shrink_but_never_grow() {
        assert_eq!(fit(4000.0, 3000.0, 320.0), (320, 240));
        assert_eq!(fit(3000.0, 4000.0, 320.0), (240, 320));
        assert_eq!(fit(100.0, 1.0, 320.0), (100, 1));
        assert_eq!(fit(10_000.0, 1.0, 320.0), (320, 1));
    }

    #[test]
    fn hexadecimal_has_two_digits_a_byte() {
        assert_eq!(hexadecimal(&[0, 10, 255]), "000aff");
    }
}
