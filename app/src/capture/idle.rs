//! The slip while nothing is under way.

use super::ahead::last_measured;
use super::doubts::DoubtLine;
use super::draft::Kind;
use super::next::Key;
use super::state::{Capture, Panel};
use crate::drawing::place;
use crate::markup::{effect, live, memo, shown};
use crate::screens::later::{self, Later, Wanted};
use crate::state::OpenSite;
use crate::words::capture as words;
use leptos::html;
use leptos::prelude::*;
use std::borrow::Cow;
use swingtie_core::book::{Book, Entry};
use swingtie_core::language::tr;
use swingtie_core::network::SideQuestion;
use swingtie_core::record::{Leg, Measurement, PointId, Record, Side, SideOf, Statement, kind};
use swingtie_core::units::sort_by;

/// The last thing saved, and undo beside it.
#[component]
pub fn LastLine() -> impl IntoView {
    markup! { <div class="last-line"><Last /><Undo /></div> }
}

/// The last thing saved: the words that acknowledge a save.
#[component]
fn Last() -> impl IntoView {
    let capture = Capture::here();
    let last = move || {
        let fold = capture.site.fold.get();
        last_said(capture.site, &fold.record)
            .map_or_else(|| say!("nothing measured yet"), |last| say!("last: {last}"))
    };
    markup! { <p class="last" role="status">{live(last)}</p> }
}

#[component]
fn Undo() -> impl IntoView {
    let capture = Capture::here();
    let can = move || capture.site.can();
    markup! {
        {shown(move || can().1, move || markup! {
            <button type="button" class="small" aria-label="Redo" on:click=move |_| capture.redo()>"Redo"</button>
        })}
        <button type="button" class="small" aria-label="Undo" aria-disabled=move || (!can().0).to_string()
            on:click=move |_| capture.undo()>"Undo"</button>
    }
}

/// What was said last, also where it took something back: on this device, so that it is what Undo takes back; else by
/// anybody. What is stored is said before it is in the book.
fn last_said(site: OpenSite, record: &Record) -> Option<String> {
    let book = &*site.book.get();
    let stored = site.stored.get();
    let named = naming(record, &stored);
    let news = stored.entries().rev().find_map(|entry| said(entry, book, &named));
    let mine = || {
        book.entries().rev().filter(|entry| site.is_mine(&entry.author)).find_map(|e| said(e, book, record))
    };
    news.or_else(mine).or_else(|| book.entries().rev().find_map(|entry| said(entry, book, record)))
}

/// An entry in a few words; none where it is no news.
fn said(entry: &Entry, book: &Book, record: &Record) -> Option<String> {
    Some(match entry.statement()? {
        Statement::Measure(what) => last_measured(what, record),
        Statement::Correct { now, .. } => match now.as_ref() {
            Statement::Measure(what) => last_measured(what, record),
            _ => later::sentence(entry, book, record),
        },
        Statement::Feature(feature) if !feature.name.is_empty() => feature.name.clone(),
        Statement::Feature(feature) => kind(&feature.kind).map_or("thing", |k| k.name).to_owned(),
        Statement::Mark(mark) => say!("{} mark", words::mark(mark.colour).0),
        Statement::Point(point) => say!("point {}", point.label),
        Statement::Strike { .. }
        | Statement::Keep { .. }
        | Statement::Problem(_)
        | Statement::Level(_)
        | Statement::BenchMark(_) => later::sentence(entry, book, record),
        _ => return None,
    })
}

/// The record with the points of entries that are not in the book yet.
fn naming<'a>(record: &'a Record, stored: &Book) -> Cow<'a, Record> {
    let new = stored.entries().filter_map(|entry| match entry.statement() {
        Some(Statement::Point(point)) => Some(point.clone()),
        _ => None,
    });
    let mut named = Cow::Borrowed(record);
    for point in new {
        named.to_mut().points.push(point);
    }
    named
}

/// What can be done, and the one thing to settle or to do next.
#[component]
pub fn IdleSlip() -> impl IntoView {
    let capture = Capture::here();
    let bare = memo(move || capture.site.fold.with(|fold| fold.record.points.len() < 2));
    let advising = capture.advising;
    advising.show();
    let best = memo(move || advising.best());
    let later = Later::here();
    let open = move || {
        if later.is_missing() {
            return markup! {
                <div class="advised">
                    <p class="next">{words::NOT_LOOKED_FOR}</p>
                    <button type="button" class="main" on:click=move |_| later.fetch()>"Try again"</button>
                </div>
            };
        }
        if capture.site.doubts.with(|doubts| !doubts.found.is_empty()) {
            return markup! { <DoubtLine /> };
        }
        if let Some(question) = capture.site.adjustment.get().questions.first() {
            return markup! { <SideAsked question=question.clone() /> };
        }
        let next = advising.step.get();
        match best.get() {
            Some(advice) => later::part(Wanted::Tape(Box::new(advice))),
            None => match next.key {
                None => markup! { <p class="next">{next.say}</p> },
                Some(key) => markup! {
                    <div class="advised">
                        <p class="next">{next.say}</p>
                        <button type="button" class="main" on:click=move |_| capture.go_on(key)>{key.name()}</button>
                    </div>
                },
            },
        }
    };
    markup! {
        <LastLine />
        {live(open)}
        {later::when_here(Wanted::Guide)}
        <div class="doings">
            <button type="button" class="doing" class:main=move || bare.get()
                on:click=move |_| capture.open(Panel::Sketch)>"Sketch"</button>
            <button type="button" class="doing" class:main=move || !bare.get()
                on:click=move |_| capture.open(Panel::Kinds)>"Measure"</button>
            <button type="button" class="doing" on:click=move |_| capture.open(Panel::Thing)>"Thing"</button>
            <button type="button" class="doing" on:click=move |_| capture.open(Panel::Mark)>"Utility mark"</button>
        </div>
    }
}

impl Capture {
    /// What the key beside the next step opens.
    pub fn go_on(self, key: Key) {
        match key {
            Key::Walk => self.start(Kind::Walk),
            Key::House => {
                self.open(Panel::Thing);
                if let Some(house) = kind("house") {
                    self.pick_kind(house);
                }
                let corners = house_corners(&self.record().record);
                self.thing.update(|thing| thing.points = corners);
            }
        }
    }
}

/// The corners of the house in order: as they were walked, or by their labels.
fn house_corners(record: &Record) -> Vec<PointId> {
    let walk = record.measurements.iter().find_map(|m| match &m.what {
        Measurement::Walk { start, legs, .. } if legs.len() > 2 => Some((start, legs)),
        _ => None,
    });
    if let Some((start, legs)) = walk {
        let back = |leg: &&Leg| leg.to != *start;
        return std::iter::once(start).chain(legs.iter().filter(back).map(|leg| &leg.to)).cloned().collect();
    }
    let number = |label: &str| label.strip_prefix('H')?.parse::<u32>().ok();
    let mut corners: Vec<_> =
        record.points.iter().filter_map(|p| Some((number(&p.label)?, p.id.clone()))).collect();
    sort_by(&mut corners, |a, b| a.0.cmp(&b.0));
    corners.into_iter().map(|(_, id)| id).collect()
}

/// A point on two ties can stand on either side: one tap settles it. Both places are on the drawing.
#[component]
fn SideAsked(question: SideQuestion) -> impl IntoView {
    let capture = Capture::here();
    let fold = capture.site.fold.get_untracked();
    let record = &fold.record;
    let (from, to) = (question.assumed.from.clone(), question.assumed.to.clone());
    let answer = |side: Side| {
        let name =
            say!("{}, walking from {} to {}", words::side(side), record.label(&from), record.label(&to));
        let (point, side) = (question.point.clone(), SideOf { from: from.clone(), to: to.clone(), side });
        markup! { <button type="button" on:click=move |_| capture.answer(point.clone(), side.clone())>{name}</button> }
    };
    // As they lie on the drawing.
    let here = place(&capture.plan.get_untracked(), &question.point).unwrap_or_default();
    let (left, right) = match question.assumed.side {
        Side::Left => (here, question.other),
        Side::Right => (question.other, here),
    };
    let turned = right.x < left.x;
    let ask = |point: &str| match question.contradicted {
        true => say!("{point} was said to stand on both sides. Which is it?"),
        false => say!("Which side does {point} stand on?"),
    };
    markup! {
        <div class="asked" role="group" aria-label="open side">
            <p>{ask(record.label(&question.point))}</p>
            <div class="pair" class:turned=turned>{answer(Side::Left)}{answer(Side::Right)}</div>
        </div>
    }
}

/// A panel's head: the way back, its title above the last thing saved, and undo.
#[component]
pub fn SlipHead(#[prop(into)] title: Signal<String>) -> impl IntoView {
    let capture = Capture::here();
    let heading = NodeRef::<html::H2>::new();
    // Whoever works by keyboard or by ear goes on here, not at the top of the page.
    effect(move || {
        if let Some(heading) = heading.get() {
            // Once it is seen: to give it the focus at once the browser would lay everything out twice.
            leptos::task::spawn_local(async move {
                let before = document().active_element();
                crate::device::shown().await;
                // An element on the page takes the focus; one that has left it does not. What took it since keeps it.
                let now = document().active_element();
                if now == before || now == document().body().map(Into::into) {
                    let _ = heading.focus();
                }
            });
        }
    });
    markup! {
        <header class="slip-head">
            <button type="button" class="small" on:click=move |_| capture.back()>"Back"</button>
            <div class="slip-title"><h2 tabindex="-1" node_ref=heading>{move || tr(&title.get()).to_owned()}</h2><Last /></div>
            <Undo />
        </header>
    }
}
