//! An element of the page as data: one type for all, so that all are built and changed by the same code.

use leptos::ev::EventDescriptor;
use leptos::html::ElementType;
use leptos::prelude::*;
use leptos::tachys::html::attribute::Attribute;
use leptos::tachys::html::attribute::any_attribute::AnyAttribute;
use leptos::tachys::html::node_ref::NodeRefContainer;
use leptos::tachys::hydration::Cursor;
use leptos::tachys::renderer::{Rndr, types};
use leptos::tachys::view::add_attr::AddAnyAttr;
use leptos::tachys::view::any_view::AnyViewState;
use leptos::tachys::view::{Mountable, Position, PositionState};
use send_wrapper::SendWrapper;
use std::borrow::Cow;
use std::cell::RefCell;
use swingtie_core::language::tr;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, Event};

/// Attributes that are read by people.
const READ: [&str; 6] =
    ["aria-label", "aria-description", "aria-roledescription", "placeholder", "title", "alt"];

const SVG: &str = "http://www.w3.org/2000/svg";

/// What an attribute says; none when it is absent.
type Said = Option<Cow<'static, str>>;

/// Something done to the element once, or again with each change of what it reads.
enum Deed {
    Once(Box<dyn FnOnce(&Element)>),
    Followed(Box<dyn FnMut(&Element)>),
}

struct Parts {
    /// The element's name, then name and value of each attribute that is the same wherever these words stand.
    text: &'static str,
    space: Option<&'static str>,
    fixed: Vec<(&'static str, Cow<'static, str>)>,
    deeds: Vec<Deed>,
    listeners: Vec<(Cow<'static, str>, Heard)>,
    children: Vec<AnyView>,
}

type Heard = Box<dyn FnMut(Event)>;

/// An element with its attributes, listeners and children.
pub struct Tag {
    // One pointer: it is handed on with every attribute.
    parts: Box<SendWrapper<Parts>>,
}

impl Tag {
    /// An element of HTML: its name, then name and value of each attribute that never changes, parted
    /// by `|`.
    #[must_use]
    pub fn html(text: &'static str) -> Self {
        Self::new(text, None)
    }

    /// An element of SVG, in the same way.
    #[must_use]
    pub fn svg(text: &'static str) -> Self {
        Self::new(text, Some(SVG))
    }

    fn new(text: &'static str, space: Option<&'static str>) -> Self {
        let parts = Parts {
            text,
            space,
            fixed: Vec::new(),
            deeds: Vec::new(),
            listeners: Vec::new(),
            children: Vec::new(),
        };
        Self { parts: Box::new(SendWrapper::new(parts)) }
    }

    /// An attribute with a value, or a closure whose value is followed.
    #[must_use]
    pub fn attribute<How>(self, name: &'static str, value: impl Value<How>) -> Self {
        self.value(name, value.boxed())
    }

    fn value(mut self, name: &'static str, value: Boxed) -> Self {
        match value {
            Boxed::Fixed(Some(said)) => self.parts.fixed.push((name, said)),
            Boxed::Fixed(None) => {}
            Boxed::Followed(mut said) => {
                self.parts.deeds.push(Deed::Followed(Box::new(move |node| put(node, name, said()))));
            }
        }
        self
    }

    /// A class that is there while the condition holds.
    #[must_use]
    pub fn class<How>(self, class: &'static str, on: impl Value<How>) -> Self {
        self.toggled(class, on.boxed())
    }

    fn toggled(mut self, class: &'static str, on: Boxed) -> Self {
        let set = move |node: &Element, on: bool| {
            // Only a malformed class name is refused, and those here are literals.
            let _ = node.class_list().toggle_with_force(class, on);
        };
        self.parts.deeds.push(match on {
            Boxed::Fixed(on) => Deed::Once(Box::new(move |node| set(node, on.is_some()))),
            Boxed::Followed(mut on) => Deed::Followed(Box::new(move |node| set(node, on().is_some()))),
        });
        self
    }

    /// A property of the element, such as what stands in a field; a closure is followed.
    #[must_use]
    pub fn property<V: Into<JsValue>>(self, name: &'static str, value: impl Fn() -> V + 'static) -> Self {
        self.holds(name, Box::new(move || value().into()))
    }

    fn holds(mut self, name: &'static str, value: Box<dyn Fn() -> JsValue>) -> Self {
        self.parts.deeds.push(Deed::Followed(Box::new(move |node| {
            let value = value();
            // Setting what is there already would move the cursor to the end of the field.
            if js_sys::Reflect::get(node, &name.into()).as_ref() != Ok(&value) {
                let _ = js_sys::Reflect::set(node, &name.into(), &value);
            }
        })));
        self
    }

    /// A listener.
    #[must_use]
    pub fn on<E: EventDescriptor>(self, event: E, mut heard: impl FnMut(E::EventType) + 'static) -> Self
    where
        E::EventType: JsCast,
    {
        self.listens(event.name(), Box::new(move |event| heard(event.unchecked_into())))
    }

    fn listens(mut self, event: Cow<'static, str>, mut heard: Heard) -> Self {
        // What the listener looks up by context is that of the place it was written in.
        let owner = Owner::current().unwrap_or_default();
        self.parts.listeners.push((event, Box::new(move |event| owner.with(|| heard(event)))));
        self
    }

    /// Lets others reach the element.
    #[must_use]
    pub fn reference<E: ElementType>(mut self, container: NodeRef<E>) -> Self
    where
        NodeRef<E>: NodeRefContainer<E>,
    {
        self.parts.deeds.push(Deed::Once(Box::new(move |node| container.load(node))));
        self
    }

    /// One more child.
    #[must_use]
    pub fn child(mut self, child: impl IntoRender<Output: RenderHtml + 'static> + 'static) -> Self {
        self.parts.children.push(super::any(child));
        self
    }
}

/// A value for an attribute: fixed, or followed. `How` only tells the two apart.
pub trait Value<How> {
    /// In the one form the builder takes.
    fn boxed(self) -> Boxed;
}

/// A value in the one form the builder takes.
pub enum Boxed {
    /// Now and for ever.
    Fixed(Said),
    /// Again with each change of what it reads.
    Followed(Box<dyn FnMut() -> Said>),
}

/// Marks what is said once.
pub struct Fixed;
/// Marks what is followed.
pub struct Followed;

/// What can be said by an attribute.
pub trait Say {
    /// The text; none when the attribute is absent.
    fn said(self) -> Said;
}

impl Say for &'static str {
    fn said(self) -> Said {
        Some(Cow::Borrowed(self))
    }
}

impl Say for String {
    fn said(self) -> Said {
        Some(Cow::Owned(self))
    }
}

/// Present without a text, or absent.
impl Say for bool {
    fn said(self) -> Said {
        self.then_some(Cow::Borrowed(""))
    }
}

impl<T: Say> Say for Option<T> {
    fn said(self) -> Said {
        self.and_then(Say::said)
    }
}

impl<T: Say> Value<Fixed> for T {
    fn boxed(self) -> Boxed {
        Boxed::Fixed(self.said())
    }
}

impl<T: Say, F: FnMut() -> T + 'static> Value<Followed> for F {
    fn boxed(mut self) -> Boxed {
        Boxed::Followed(Box::new(move || self().said()))
    }
}

/// The element's name in a tag's text.
fn name(text: &'static str) -> &'static str {
    text.split('|').next().unwrap_or_default()
}

/// The attributes in a tag's text.
fn attributes(text: &'static str) -> impl Iterator<Item = (&'static str, &'static str)> {
    let mut words = text.split('|').skip(1);
    std::iter::from_fn(move || words.next().zip(words.next()))
}

thread_local! {
    /// An element of each text, by where the text lies: the browser copies one sooner than it is told of its attributes
    /// one by one.
    static PATTERNS: RefCell<Vec<(Place, Element)>> = const { RefCell::new(Vec::new()) };
}

/// Where a text lies, and how long it is.
type Place = (usize, usize);

fn place(text: &'static str) -> Place {
    (text.as_ptr().addr(), text.len())
}

/// A fresh element with what its text says.
fn fresh(text: &'static str, space: Option<&'static str>) -> Element {
    let made = || {
        let made = Rndr::create_element(name(text), space);
        for (name, value) in attributes(text) {
            put(&made, name, Some(Cow::Borrowed(value)));
        }
        made
    };
    let copied = |pattern: &Element| pattern.clone_node().ok()?.dyn_into().ok();
    PATTERNS.with_borrow_mut(|patterns| {
        let at = patterns.binary_search_by_key(&place(text), |(place, _)| *place).unwrap_or_else(|at| {
            patterns.insert(at, (place(text), made()));
            at
        });
        patterns.get(at).and_then(|(_, pattern)| copied(pattern)).unwrap_or_else(made)
    })
}

fn put(node: &Element, name: &str, said: Said) {
    // Refused only for a malformed name, and those here are literals.
    let _ = match said {
        // The program's own words; what somebody wrote comes as a String.
        Some(Cow::Borrowed(own)) if READ.contains(&name) => node.set_attribute(name, tr(own)),
        Some(said) => node.set_attribute(name, &said),
        None => node.remove_attribute(name),
    };
}

/// What stands in the page.
pub struct Standing {
    node: Element,
    text: &'static str,
    furniture: Furniture,
    children: Vec<AnyViewState>,
}

/// What an element was given besides its children and its text.
struct Furniture {
    fixed: Vec<&'static str>,
    // Both work for as long as they are kept.
    _followers: Vec<RenderEffect<()>>,
    _listeners: Vec<Listener>,
}

impl Furniture {
    fn new(node: &Element, parts: Parts) -> Self {
        let fixed = parts.fixed.iter().map(|(name, _)| *name).collect();
        for (name, value) in parts.fixed {
            put(node, name, Some(value));
        }
        let mut followers = Vec::new();
        for deed in parts.deeds {
            match deed {
                Deed::Once(deed) => deed(node),
                Deed::Followed(mut deed) => {
                    let node = node.clone();
                    followers.push(RenderEffect::new(move |_| deed(&node)));
                }
            }
        }
        let listen = |(event, heard)| Listener::new(node, event, heard);
        let listeners = parts.listeners.into_iter().map(listen).collect();
        Self { fixed, _followers: followers, _listeners: listeners }
    }
}

/// Listens until it is dropped.
struct Listener {
    node: Element,
    event: Cow<'static, str>,
    heard: Closure<dyn FnMut(Event)>,
}

impl Listener {
    fn new(node: &Element, event: Cow<'static, str>, heard: Heard) -> Self {
        let heard = Closure::wrap(heard);
        // Refused by no element.
        let _ = node.add_event_listener_with_callback(&event, heard.as_ref().unchecked_ref());
        Self { node: node.clone(), event, heard }
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        // A listener whose closure is gone must not be called.
        let heard = self.heard.as_ref().unchecked_ref();
        let _ = self.node.remove_event_listener_with_callback(&self.event, heard);
    }
}

impl Render for Tag {
    type State = Standing;

    fn build(self) -> Standing {
        let mut parts = self.parts.take();
        let (text, node) = (parts.text, fresh(parts.text, parts.space));
        // Children first: what a select shows can only be set when its options are there.
        let mut children: Vec<AnyViewState> = parts.children.drain(..).map(Render::build).collect();
        for child in &mut children {
            child.mount(&node, None);
        }
        let furniture = Furniture::new(&node, parts);
        Standing { node, text, furniture, children }
    }

    fn rebuild(self, state: &mut Standing) {
        if name(self.parts.text) != name(state.text) || self.parts.children.len() != state.children.len() {
            let mut new = self.build();
            state.insert_before_this(&mut new);
            state.unmount();
            *state = new;
            return;
        }
        // The element stays, and with it the focus.
        let mut parts = self.parts.take();
        let said = |name: &str| {
            let fixed = parts.fixed.iter().map(|(name, _)| *name);
            attributes(parts.text).map(|(name, _)| name).chain(fixed).any(|one| one == name)
        };
        let before =
            attributes(state.text).map(|(name, _)| name).chain(state.furniture.fixed.iter().copied());
        for gone in before.filter(|name| !said(name)) {
            put(&state.node, gone, None);
        }
        for (name, value) in attributes(parts.text) {
            put(&state.node, name, Some(Cow::Borrowed(value)));
        }
        for (child, stands) in parts.children.drain(..).zip(&mut state.children) {
            child.rebuild(stands);
        }
        state.text = parts.text;
        state.furniture = Furniture::new(&state.node, parts);
    }
}

impl Mountable for Standing {
    fn unmount(&mut self) {
        self.node.remove();
    }

    fn mount(&mut self, parent: &types::Element, marker: Option<&types::Node>) {
        let _ = parent.insert_before(&self.node, marker);
    }

    fn insert_before_this(&self, child: &mut dyn Mountable) -> bool {
        let Some(parent) = self.node.parent_element() else { return false };
        child.mount(&parent, Some(&self.node));
        true
    }

    fn elements(&self) -> Vec<types::Element> {
        vec![self.node.clone()]
    }
}

impl AddAnyAttr for Tag {
    type Output<New: Attribute> = Self;

    /// Never called: only components are given attributes from outside, and none here is.
    fn add_any_attr<New: Attribute>(self, _: New) -> Self {
        self
    }
}

/// Pages are only made in the browser; what writes them as text or takes over written ones is never called.
impl RenderHtml for Tag {
    type AsyncOutput = Self;
    type Owned = Self;

    const MIN_LENGTH: usize = 0;

    fn dry_resolve(&mut self) {}

    async fn resolve(self) -> Self {
        self
    }

    fn to_html_with_buf(self, _: &mut String, _: &mut Position, _: bool, _: bool, _: Vec<AnyAttribute>) {}

    fn hydrate<const FROM_SERVER: bool>(self, _: &Cursor, _: &PositionState) -> Standing {
        self.build()
    }

    fn into_owned(self) -> Self {
        self
    }
}
