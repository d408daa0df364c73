//! Views of one type.
//!
//! What a phone downloads before it shows anything is mostly views, and every distinct type of view,
//! of a changing part or of a list is compiled anew, with everything that builds, changes and removes
//! it. Here they are all made of one type each, so that it is compiled once.

mod tag;

pub use tag::Tag;

use leptos::prelude::*;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Arc, Mutex};

/// Any view in the one type. What is of that type already stays as it is.
pub fn any(view: impl IntoRender<Output: RenderHtml + 'static>) -> AnyView {
    view.into_render().into_any()
}

/// A part that changes with what it reads.
pub fn live<T: 'static>(part: impl FnMut() -> T + Send + 'static) -> Arc<Mutex<dyn FnMut() -> T + Send>> {
    Arc::new(Mutex::new(part))
}

/// A part that is only there while `when` holds.
pub fn shown(
    when: impl Fn() -> bool + Send + Sync + 'static,
    part: impl Fn() -> AnyView + Send + 'static,
) -> AnyView {
    // Only a change of the answer makes the part anew.
    let when = Memo::new(move |_| when());
    live(move || when.get().then(&part)).into_any()
}

/// A list whose rows stay as they are while others come and go. A row is made anew when its content changes.
pub fn rows<T: Hash + Send + 'static>(
    contents: impl Fn() -> Vec<T> + Send + 'static,
    row: impl Fn(T) -> AnyView + Send + Sync + 'static,
) -> AnyView {
    let row = Arc::new(row);
    keyed(Box::new(move || {
        let keyed_row = |content: T| {
            let mut key = DefaultHasher::new();
            content.hash(&mut key);
            let row = Arc::clone(&row);
            KeyedRow { key: key.finish(), view: Box::new(move || row(content)) }
        };
        contents().into_iter().map(keyed_row).collect()
    }))
}

struct KeyedRow {
    key: u64,
    view: Box<dyn FnOnce() -> AnyView + Send>,
}

fn keyed(rows: Box<dyn Fn() -> Vec<KeyedRow> + Send>) -> AnyView {
    view! { <For each=rows key=|row| row.key children=|row: KeyedRow| (row.view)() /> }.into_any()
}
