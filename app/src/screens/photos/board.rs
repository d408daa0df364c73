//! A picture with what is drawn over it.

use super::marks::{Tool, arrow, drawn, pushed, radius, spot};
use crate::device;
use crate::markup::{live, shown};
use crate::screens::parts::{TextField, chips};
use crate::words;
use leptos::ev;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{PhotoMark, PictureSpot};
use wasm_bindgen::JsCast;
use web_sys::{Blob, Element};

/// Drawing over a picture: what with, and the stroke under way.
#[derive(Clone, Copy)]
struct Pen {
    tool: RwSignal<Option<Tool>>,
    words: RwSignal<String>,
    stroke: RwSignal<Option<(PictureSpot, PictureSpot)>>,
    marks: RwSignal<Vec<PhotoMark>>,
}

impl Pen {
    fn mark(self) -> Option<PhotoMark> {
        let (from, to) = self.stroke.get()?;
        drawn(self.tool.get()?, from, to, &self.words.get())
    }

    fn down(self, event: &ev::PointerEvent) {
        if let Some((element, at)) = under(event) {
            // Without capture a finger that leaves the picture ends the stroke at its edge.
            let _ = element.set_pointer_capture(event.pointer_id());
            self.stroke.set(Some((at, at)));
        }
    }

    fn moved(self, event: &ev::PointerEvent) {
        if let Some((_, at)) = under(event) {
            self.stroke.update(|stroke| {
                if let Some((_, to)) = stroke {
                    *to = at;
                }
            });
        }
    }

    fn up(self) {
        let mark = untrack(|| self.mark());
        self.stroke.set(None);
        self.marks.update(|marks| marks.extend(mark));
    }

    fn key(self, event: &ev::KeyboardEvent) {
        let middle = PictureSpot { across: 0.5, down: 0.5 };
        let done = match (event.key().as_str(), self.tool.get_untracked()) {
            ("Enter" | " ", Some(tool)) => {
                let words = self.words.get_untracked();
                self.marks.update(|marks| marks.extend(drawn(tool, middle, middle, &words)));
                true
            }
            (key, Some(_)) => {
                let push = |marks: &mut Vec<PhotoMark>| {
                    marks.last_mut().is_some_and(|mark| pushed(mark, key, event.shift_key()))
                };
                self.marks.try_update(push).unwrap_or_default()
            }
            _ => false,
        };
        if done {
            event.prevent_default();
        }
    }
}

/// The element and the place on it that a pointer is at.
fn under(event: &ev::PointerEvent) -> Option<(Element, PictureSpot)> {
    let element: Element = event.current_target()?.dyn_into().ok()?;
    let r = element.get_bounding_client_rect();
    let (x, y) = (f64::from(event.client_x()), f64::from(event.client_y()));
    Some((element, spot(x, y, r.left(), r.top(), r.width(), r.height())))
}

/// The picture, its marks, and what to draw with.
#[component]
pub fn Board(blob: Blob, alt: String, marks: RwSignal<Vec<PhotoMark>>) -> impl IntoView {
    let pen = Pen {
        tool: RwSignal::new(None),
        words: RwSignal::new(String::new()),
        stroke: RwSignal::new(None),
        marks,
    };
    let url = device::object_url(&blob).unwrap_or_default();
    let held = url.clone();
    on_cleanup(move || device::revoke_url(&held));
    let size = RwSignal::new((4.0, 3.0));
    let loaded = move |event: ev::Event| {
        let Some(image) = event.target() else { return };
        let side = |name: &str| js_sys::Reflect::get(&image, &name.into()).ok()?.as_f64();
        if let (Some(width), Some(height)) = (side("naturalWidth"), side("naturalHeight")) {
            size.set((width, height));
        }
    };
    let over = move || {
        let (width, height) = size.get();
        let all = marks.get().into_iter().chain(pen.mark());
        all.map(|mark| sign(&mark, width, height)).collect_view()
    };
    let frame = move || format!("0 0 {} {}", size.get().0, size.get().1);
    let on = move || pen.tool.get().is_some();
    markup! {
        <div class="board">
            <img src=url alt=alt on:load=loaded />
            <svg viewBox=frame class="board-marks" class:drawing-on=on role=move || if on() { "application" } else { "img" }
                tabindex=move || on().then_some("0") aria-label=move || words::marks_told(marks.with(Vec::len))
                aria-describedby="marks-hint" on:keydown=move |event| pen.key(&event)
                on:pointerdown=move |event| pen.down(&event) on:pointermove=move |event| pen.moved(&event)
                on:pointerup=move |_| pen.up() on:pointercancel=move |_| pen.stroke.set(None)>{live(over)}</svg>
        </div>
        <Tools pen />
    }
}

#[component]
fn Tools(pen: Pen) -> impl IntoView {
    let tools = [
        (Tool::Arrow, words::MARK_ARROW),
        (Tool::Circle, words::MARK_CIRCLE),
        (Tool::Words, words::MARK_WORDS),
    ];
    let tools = tools.map(|(tool, name)| (tool, tr(name).to_owned())).to_vec();
    // Tapped again, it is laid down, and the finger moves the page again.
    let take =
        move |tool| pen.tool.update(|held| *held = if *held == Some(tool) { None } else { Some(tool) });
    let hint = move || match pen.tool.get() {
        None => words::MARKS_HINT,
        Some(Tool::Words) => words::MARK_WORDS_HINT,
        Some(_) => words::MARK_STROKE_HINT,
    };
    let undo = move |_| {
        pen.marks.update(|marks| {
            marks.pop();
        });
    };
    markup! {
        {chips(words::DRAW_ON_IT, tools, move || pen.tool.get(), take)}
        <p class="hint" id="marks-hint">{live(hint)}</p>
        {shown(move || pen.tool.get() == Some(Tool::Words), move || markup! { <TextField label=words::MARK_TEXT value=pen.words /> })}
        {shown(move || pen.marks.with(|marks| !marks.is_empty()), move || markup! {
            <button type="button" class="button" on:click=undo>{words::UNDO_MARK}</button>
        })}
    }
}

/// One mark in a picture of this size: drawn twice, so that it stands out on light and dark.
fn sign(mark: &PhotoMark, width: f64, height: f64) -> AnyView {
    let thick = width.max(height) / 90.0;
    let twice = |d: String| {
        let width = format!("stroke-width:{:.1}", thick * 2.2);
        let inner = format!("stroke-width:{thick:.1}");
        markup! { <path d=d.clone() class="mark-casing" style=width /><path d=d class="mark-core" style=inner /> }
    };
    match mark {
        PhotoMark::Arrow { from, to } => twice(arrow(*from, *to, width, height)),
        PhotoMark::Circle { centre, rim } => {
            let r = radius(*centre, *rim, width, height);
            let (x, y) = (centre.across * width, centre.down * height);
            twice(format!(
                "M{:.1} {y:.1}a{r:.1} {r:.1} 0 1 0 {:.1} 0a{r:.1} {r:.1} 0 1 0 {:.1} 0",
                x - r,
                2.0 * r,
                -2.0 * r
            ))
        }
        PhotoMark::Text { at, text } => {
            let style = format!("font-size:{:.1}px;stroke-width:{thick:.1}", thick * 5.0);
            let (x, y) =
                (format!("{:.1}", at.across * width), format!("{:.1}", at.down * height + thick * 1.7));
            markup! { <text x=x y=y text-anchor="middle" class="mark-text" style=style>{text.clone()}</text> }
        }
    }
}
