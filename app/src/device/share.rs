//! Files handed on: to another app of the phone, to the printer, as a picture.

use super::wake::call;
use super::{FileError, read_bytes, revoke_url, text_url};
use js_sys::{Array, Function, Object, Promise, Reflect};
use leptos::prelude::{document, window};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, CanvasRenderingContext2d, File, FilePropertyBag, HtmlCanvasElement, HtmlIFrameElement,
    HtmlImageElement,
};

/// A file of these parts: texts, bytes or blobs.
///
/// # Errors
/// When the browser refuses.
pub fn file(name: &str, media_type: &str, content: &JsValue) -> Result<File, FileError> {
    let options = FilePropertyBag::new();
    options.set_type(media_type);
    Ok(File::new_with_buffer_source_sequence_and_options(&Array::of1(content), name, &options)?)
}

/// Whether this browser shares files at all.
#[must_use]
pub fn shares_files() -> bool {
    shares("plan.svg", "image/svg+xml")
}

/// Whether this browser shares files so named and of this kind.
#[must_use]
pub fn shares(name: &str, media_type: &str) -> bool {
    file(name, media_type, &"".into()).is_ok_and(|probe| takes(&[probe]))
}

/// Whether this browser lets the user choose a folder to save into.
#[must_use]
pub fn asks_where() -> bool {
    Reflect::has(&window(), &ASK.into()).unwrap_or(false)
}

const ASK: &str = "showSaveFilePicker";

/// A place the user chose, to be written to.
pub struct Place(JsValue);

/// Asks the user where to save a file; none when the window was closed.
///
/// # Errors
/// When the browser does not ask, in its words.
pub async fn ask_where(name: &str) -> Result<Option<Place>, FileError> {
    let options = Object::new();
    // A plain object takes any field.
    let _ = Reflect::set(&options, &"suggestedName".into(), &name.into());
    let asked = call(&window(), ASK, &[options.into()])?;
    match JsFuture::from(Promise::resolve(&asked)).await {
        Ok(place) => Ok(Some(Place(place))),
        Err(error) if is_abort(&error) => Ok(None),
        Err(error) => Err(error.into()),
    }
}

/// Writes a file to a place, piece by piece; what stood there is replaced when all is written.
///
/// # Errors
/// When it could not be written, in the browser's words.
pub async fn write(place: &Place, file: &File) -> Result<(), FileError> {
    let to = JsFuture::from(Promise::resolve(&call(&place.0, "createWritable", &[])?)).await?;
    JsFuture::from(Promise::resolve(&call(&file.stream(), "pipeTo", &[to])?)).await?;
    Ok(())
}

fn is_abort(error: &JsValue) -> bool {
    name_of(error).as_deref() == Some("AbortError")
}

fn name_of(error: &JsValue) -> Option<String> {
    Reflect::get(error, &"name".into()).ok().and_then(|name| name.as_string())
}

fn bag(files: &[File]) -> Object {
    let bag = Object::new();
    // A plain object takes any field.
    let _ = Reflect::set(&bag, &"files".into(), &files.iter().collect::<Array>());
    bag
}

fn takes(files: &[File]) -> bool {
    call(&window().navigator(), "canShare", &[bag(files).into()]).is_ok_and(|said| said.is_truthy())
}

/// Kinds that every browser which shares files passes on: a short list in those built on Chromium
/// (its documentation of `navigator.share`), anything elsewhere.
const PASSED_ON: [&str; 6] = [".pdf", ".svg", ".png", ".csv", ".html", ".txt"];

/// The same file as one that this browser passes on: where its kind is not among those it knows, as a
/// text, with `.txt` after its name.
///
/// # Errors
/// When the browser refuses.
pub fn passable(file: File) -> Result<File, FileError> {
    let choosy = Reflect::has(&window().navigator(), &"userAgentData".into()).unwrap_or(false);
    let known = PASSED_ON.iter().any(|ending| file.name().ends_with(ending));
    if known || (!choosy && takes(std::slice::from_ref(&file))) {
        return Ok(file);
    }
    self::file(&format!("{}.txt", file.name()), "text/plain", &file)
}

/// How sharing went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shared {
    /// Another app has the files, or the user closed the phone's window.
    Done,
    /// The browser wants another tap first.
    TapAgain,
}

/// Hands files to the phone's own way of sharing.
///
/// # Errors
/// When the phone does not share them, in its words.
pub async fn share(files: &[File]) -> Result<Shared, FileError> {
    let shared = match call(&window().navigator(), "share", &[bag(files).into()]) {
        Ok(promise) => JsFuture::from(Promise::resolve(&promise)).await,
        Err(error) => Err(error),
    };
    let Err(error) = shared else { return Ok(Shared::Done) };
    match name_of(&error).as_deref() {
        Some("AbortError") => Ok(Shared::Done),
        // The tap was too long ago: the files took their time.
        Some("NotAllowedError") if !is_active() => Ok(Shared::TapAgain),
        _ => Err(error.into()),
    }
}

/// Whether the browser still counts the last tap.
fn is_active() -> bool {
    let activation = Reflect::get(&window().navigator(), &"userActivation".into());
    let active = activation.and_then(|activation| Reflect::get(&activation, &"isActive".into()));
    active.is_ok_and(|active| active.is_truthy())
}

/// Draws an SVG text as a PNG of so many pixels.
///
/// # Errors
/// When the browser cannot, as with more pixels than it has room for.
pub async fn picture(svg: &JsValue, width: u32, height: u32) -> Result<Vec<u8>, FileError> {
    let url = text_url(svg, "image/svg+xml").ok_or_else(|| FileError::new("no room"))?;
    let drawn = drawn(&url, width, height).await;
    revoke_url(&url);
    read_bytes(&drawn?).await
}

async fn drawn(url: &str, width: u32, height: u32) -> Result<Blob, JsValue> {
    let image = HtmlImageElement::new_with_width_and_height(width, height)?;
    image.set_src(url);
    JsFuture::from(image.decode()).await?;
    let canvas: HtmlCanvasElement = document().create_element("canvas")?.unchecked_into();
    canvas.set_width(width);
    canvas.set_height(height);
    let context = canvas.get_context("2d")?.ok_or("no canvas")?.unchecked_into::<CanvasRenderingContext2d>();
    let (wide, high) = (f64::from(width), f64::from(height));
    context.draw_image_with_html_image_element_and_dw_and_dh(&image, 0.0, 0.0, wide, high)?;
    let blob = Promise::new(&mut |done: Function, _| {
        // Told of the blob, or of null where there is no room for one.
        let _ = canvas.to_blob(&done);
    });
    JsFuture::from(blob).await?.dyn_into().map_err(|_| say!("too many pixels for this browser").into())
}

/// Prints pages, each an SVG text on paper of its own size: width and height in millimetres.
///
/// # Errors
/// When the browser cannot.
pub fn print(pages: &[(JsValue, f64, f64)]) -> Result<(), FileError> {
    let mut html =
        "<!doctype html><title>Plan</title><style>body{margin:0}img{display:block}</style>".to_owned();
    let mut urls = Vec::new();
    for (n, (svg, wide, high)) in pages.iter().enumerate() {
        let url = text_url(svg, "image/svg+xml").ok_or_else(|| FileError::new("no room"))?;
        html.push_str(&format!(
            "<style>@page p{n}{{size:{wide}mm {high}mm;margin:0}}#p{n}{{page:p{n};width:{wide}mm;height:{high}mm}}</style>\
             <img id=\"p{n}\" src=\"{url}\" alt=\"\">"
        ));
        urls.push(url);
    }
    let old = document().get_element_by_id("printed");
    if let Some(old) = old {
        old.remove();
    }
    let frame: HtmlIFrameElement = document().create_element("iframe")?.unchecked_into();
    frame.set_id("printed");
    frame.set_class_name("unseen");
    frame.set_attribute("aria-hidden", "true")?;
    frame.set_tab_index(-1);
    // A page of its own and not this one's markup, which the page's policy would refuse (Trusted Types).
    let page = text_url(&html.into(), "text/html").ok_or_else(|| FileError::new("no room"))?;
    frame.set_src(&page);
    urls.push(page);
    let loaded = frame.clone();
    let ready = Closure::once_into_js(move || {
        if let Some(inner) = loaded.content_window() {
            let _ = inner.focus();
            let _ = inner.print();
        }
    });
    frame.set_onload(Some(ready.unchecked_ref()));
    document().body().ok_or_else(|| FileError::new("no page"))?.append_child(&frame)?;
    leptos::task::spawn_local(async move {
        // Long enough for the slowest print window; the pages are then given back.
        super::sleep(600_000).await;
        urls.iter().for_each(|url| revoke_url(url));
    });
    Ok(())
}
