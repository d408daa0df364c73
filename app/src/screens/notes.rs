//! Notes: what the client said and what was seen without being a thing.

use super::drafts::Drafts;
use super::parts::{PointChips, TextArea, TextField, Wrong, back_to_problems, chips};
use super::problems::StrikeThis;
use crate::capture::{Capture, Panel};
use crate::device;
use crate::markup::{live, shown};
use crate::notices::Notices;
use crate::routes::{Route, Router, Tab};
use crate::state::{OpenSite, saving};
use crate::store::SiteId;
use crate::words::{self, Names, asked as said};
use leptos::html;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{At, EntryId, Note, PointId, Recorded, Statement, TOPICS, Topic, kind, topic_of};
use swingtie_core::units::PlanPoint;

/// What is entered so far. It outlives the screen.
#[derive(Clone, Copy)]
pub struct Draft {
    topic: RwSignal<Option<&'static str>>,
    points: RwSignal<Vec<PointId>>,
    /// A place that is no point; kept when an older note is edited.
    near: RwSignal<Option<PlanPoint>>,
    text: RwSignal<String>,
    when: RwSignal<String>,
    correcting: RwSignal<Option<EntryId>>,
}

impl Draft {
    /// An empty one; its words are remembered over a reload.
    pub fn new(site: &SiteId) -> Self {
        let key = format!("note {site}");
        let text = RwSignal::new(device::remembered(&key).unwrap_or_default());
        crate::markup::effect(move || text.with(|text| device::remember(&key, text)));
        Self {
            topic: RwSignal::new(None),
            points: RwSignal::new(Vec::new()),
            near: RwSignal::new(None),
            text,
            when: RwSignal::new(String::new()),
            correcting: RwSignal::new(None),
        }
    }

    fn clear(self) {
        self.topic.set(None);
        self.points.set(Vec::new());
        self.near.set(None);
        self.text.set(String::new());
        self.when.set(String::new());
        self.correcting.set(None);
    }

    /// Takes up a note of the book, to be written anew.
    pub fn edit(self, entry: &EntryId, note: &Note) {
        self.clear();
        self.topic.set(Some(topic_of(&note.topic).map_or("other", |topic| topic.key)));
        match &note.at {
            At::Points(points) => self.points.set(points.clone()),
            At::Near(at) => self.near.set(Some(*at)),
            At::Site => {}
        }
        self.text.set(note.text.clone());
        self.when.set(note.when.clone());
        self.correcting.set(Some(entry.clone()));
    }

    fn topic(self) -> Option<&'static Topic> {
        self.topic.get().and_then(topic_of)
    }

    fn said(self) -> Result<Statement, &'static str> {
        let topic = self.topic.get_untracked().ok_or(words::NOTE_TOPIC_MISSING)?;
        let text = self.text.get_untracked().trim().to_owned();
        if text.is_empty() {
            return Err(words::NOTE_TEXT_MISSING);
        }
        let points = self.points.get_untracked();
        let at = match self.near.get_untracked() {
            _ if !points.is_empty() => At::Points(points),
            Some(near) => At::Near(near),
            None => At::Site,
        };
        let when = self.when.get_untracked().trim().to_owned();
        let note = Note { topic: topic.to_owned(), at, text, when, ..Note::default() };
        let note = Statement::Note(note.into());
        Ok(match self.correcting.get_untracked() {
            Some(entry) => Statement::Correct { entry, now: Box::new(note) },
            None => note,
        })
    }
}

/// The form, and what was written.
#[component]
pub fn NotesScreen() -> impl IntoView {
    let draft = Drafts::here().note;
    let top = NodeRef::<html::H1>::new();
    let edit = move |entry: &EntryId, note: &Note| {
        draft.edit(entry, note);
        if let Some(top) = top.get_untracked() {
            top.scroll_into_view();
        }
    };
    markup! {
        <div class="page">
            {back_to_problems()}
            <h1 node_ref=top>{words::NOTES}</h1>
            <p class="hint">{words::NOTES_HINT}</p>
            <NoteForm draft />
            <Written edit />
        </div>
    }
}

#[component]
fn NoteForm(draft: Draft) -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let wrong = RwSignal::new(None);
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        match draft.said() {
            Err(why) => wrong.set(Some(tr(why).to_owned())),
            Ok(note) => saving(async move {
                site.say_apart(note, None).await?;
                wrong.try_set(None);
                draft.clear();
                notices.say(words::NOTE_SAVED);
                Ok(())
            }),
        }
    };
    let topics = TOPICS.iter().map(|topic| (topic.key, tr(topic.name).to_owned())).collect();
    let choose = move |key: &'static str| {
        draft.topic.set(Some(key));
        if draft.when.with_untracked(String::is_empty) {
            draft.when.set(device::this_minute());
        }
    };
    let asked = move || {
        let topic = draft.topic()?;
        Some(markup! { <p class="hint">{topic.ask}</p> {topic.thing.map(on_plan)} })
    };
    let editing = move || draft.correcting.get().is_some();
    markup! {
        <form class="form" on:submit=save>
            {chips(words::NOTE_TOPIC, topics, move || draft.topic.get(), choose)}
            {live(asked)}
            <TextArea label=words::NOTE_TEXT value=draft.text />
            {shown(move || draft.topic.get().is_some(), move || markup! {
                <TextField label=words::NOTE_WHEN value=draft.when />
                <PointChips legend=words::NOTE_AT picked=draft.points />
            })}
            <Wrong what=wrong.into() />
            <div class="form-end">
                <button type="submit" class="button button-main">{words::SAVE_NOTE}</button>
                {shown(editing, move || markup! {
                    <button type="button" class="button" on:click=move |_| draft.clear()>{words::CANCEL}</button>
                })}
            </div>
        </form>
    }
}

/// What has a place and a direction is better drawn.
fn on_plan(key: &'static str) -> Option<AnyView> {
    let (site, router, capture) = (OpenSite::here(), Router::here(), Capture::here());
    let kind = kind(key)?;
    let draw = move |_| {
        capture.open(Panel::Thing);
        capture.pick_kind(kind);
        router.go(&Route::Site(site.id(), Tab::Plan));
    };
    Some(markup! {
        <button type="button" class="button" on:click=draw>{words::draw_instead(kind.name)}</button>
    })
}

/// The notes, in the order of the topics; answers to the list before leaving stand there.
#[component]
fn Written(edit: impl Fn(&EntryId, &Note) + Copy + Send + Sync + 'static) -> impl IntoView {
    let site = OpenSite::here();
    let row = move |note: Recorded<Note>| {
        let names = Names::new(&site.book.get(), &site.fold.get().record);
        let name = topic_of(&note.what.topic).map_or(words::NOTE, |topic| topic.name).to_owned();
        let (entry, what) = (note.entry.clone(), note.what.clone());
        markup! {
            <li class="item">
                <div class="item-text">
                    <strong>{name.clone()}</strong>
                    <span>{note.what.text.clone()}</span>
                    <span class="quiet">{words::note_line(&note.what, &names)}</span>
                    <div class="buttons">
                        <button type="button" class="button" aria-label=said::edit_named(&name)
                            on:click=move |_| edit(&entry, &what)>{said::EDIT}</button>
                        <StrikeThis entry=note.entry name=name />
                    </div>
                </div>
            </li>
        }
    };
    let of = |topic: &str| TOPICS.iter().position(|known| known.key == topic).unwrap_or(TOPICS.len());
    let list = move || {
        let notes = site.fold.with(|fold| fold.record.notes()).into_iter();
        let mut notes: Vec<_> = notes.filter(|note| note.what.settles.is_empty()).collect();
        swingtie_core::units::sort_by(&mut notes, |a, b| of(&a.what.topic).cmp(&of(&b.what.topic)));
        notes.into_iter().map(row).collect_view()
    };
    let none = move || site.fold.with(|fold| fold.record.notes().iter().all(|n| !n.what.settles.is_empty()));
    markup! {
        {shown(none, || markup! { <p class="quiet">{words::NO_NOTES}</p> })}
        <ul class="items">{live(list)}</ul>
    }
}
