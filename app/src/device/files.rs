//! Files in and out: downloads, picked files.

use leptos::prelude::document;
use swingtie_core::language::tr;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, Event, File, HtmlAnchorElement, HtmlInputElement};

/// A file could not be read or made, in the browser's words.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{0}")]
pub struct FileError(String);

impl FileError {
    /// One in other words.
    pub fn new(words: &str) -> Self {
        Self(tr(words).to_owned())
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

/// A blob of text.
fn text_blob(text: &JsValue, media_type: &str) -> Result<Blob, JsValue> {
    let options = BlobPropertyBag::new();
    options.set_type(media_type);
    Blob::new_with_str_sequence_and_options(&js_sys::Array::of1(text), &options)
}

/// Hands a file to the browser's downloads, under its name.
///
/// # Errors
/// When the browser refuses.
pub fn download(file: &File) -> Result<(), FileError> {
    let url = web_sys::Url::create_object_url_with_blob(file)?;
    let link: HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    link.set_href(&url);
    link.set_download(&file.name());
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

/// Reads all bytes of a blob.
///
/// # Errors
/// When the browser cannot read it.
pub async fn read_bytes(blob: &Blob) -> Result<Vec<u8>, FileError> {
    let buffer = JsFuture::from(blob.array_buffer()).await?;
    Ok(js_sys::Uint8Array::new(&buffer).to_vec())
}
