//! Views of one type.
//!
//! What a phone downloads before it shows anything is mostly views, and every distinct type of view,
//! of a changing part or of a list is compiled anew, with everything that builds, changes and removes
//! it. Here they are all made of one type each, so that it is compiled once.

mod tag;

pub use tag::Tag;

use leptos::prelude::*;
use std::any::Any;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Arc, Mutex};
use swingtie_core::language::tr;

/// Any view in the one type. What is of that type already, as a component's view is, is not boxed again.
pub fn any<V: IntoRender<Output: RenderHtml + 'static> + 'static>(view: V) -> AnyView {
    let mut view = Some(view);
    let text: &mut dyn Any = &mut view;
    if let Some(text) = text.downcast_mut::<Option<&'static str>>() {
        // The program's own words; what somebody wrote comes as a String.
        return said(*text);
    }
    let text: &mut dyn Any = &mut view;
    if let Some(text) = text.downcast_mut::<Option<Option<&'static str>>>() {
        return said(text.flatten());
    }
    let mut view = view.map(IntoRender::into_render);
    let same: &mut dyn Any = &mut view;
    if let Some(same) = same.downcast_mut::<Option<AnyView>>()
        && let Some(same) = same.take()
    {
        return same;
    }
    let same: &mut dyn Any = &mut view;
    if let Some(same) = same.downcast_mut::<Option<View<AnyView>>>()
        && let Some(same) = same.take()
    {
        return same.into_inner();
    }
    // It was not taken: it is of another type.
    view.map_or_else(|| ().into_any(), IntoAny::into_any)
}

fn said(text: Option<&'static str>) -> AnyView {
    text.map_or_else(|| ().into_any(), |text| tr(text).into_any())
}

/// A part that changes with what it reads.
pub fn live<V: IntoRender<Output: RenderHtml + 'static> + 'static>(
    mut part: impl FnMut() -> V + Send + 'static,
) -> Live {
    Arc::new(Mutex::new(move || any(part())))
}

/// A part that changes.
pub type Live = Arc<Mutex<dyn FnMut() -> AnyView + Send>>;

/// A value that follows what it reads, and tells of a change only when it is another.
pub fn memo<T: PartialEq + Send + Sync + 'static>(value: impl Fn() -> T + Send + Sync + 'static) -> Memo<T> {
    type Boxed<T> = Box<dyn Fn(Option<&T>) -> T + Send + Sync>;
    let value: Boxed<T> = Box::new(move |_| value());
    Memo::new(value)
}

/// A value that follows what it reads, worked out each time it is looked at.
pub fn derived<T: Send + Sync + 'static>(value: impl Fn() -> T + Send + Sync + 'static) -> Signal<T> {
    let value: Box<dyn Fn() -> T + Send + Sync> = Box::new(value);
    Signal::derive(value)
}

/// Done now, and again with each change of what it reads.
pub fn effect(deed: impl FnMut() + 'static) {
    let deed: Box<dyn FnMut()> = Box::new(deed);
    Effect::new(deed);
}

/// A part that is only there while `when` holds.
pub fn shown(
    when: impl Fn() -> bool + Send + Sync + 'static,
    part: impl Fn() -> AnyView + Send + 'static,
) -> AnyView {
    // Only a change of the answer makes the part anew.
    let when = memo(when);
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
