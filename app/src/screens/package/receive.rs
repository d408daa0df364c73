//! A file that came in: what it brings is shown before anything of it is stored.

use super::name::{NameField, my_name, was_asked};
use super::{Marked, going_on};
use crate::device;
use crate::importing::{self, Came};
use crate::markup::{live, shown};
use crate::notices::Notices;
use crate::office::{Brought, Ended, LookedOver, News, Progress, is_of, news, open, pictures};
use crate::routes::{Route, Router, Tab};
use crate::screens::later::sentence;
use crate::state::{Home, Received, tell_written};
use crate::store::{PictureFile, SiteId};
use crate::words::{self, package as say};
use leptos::prelude::*;
use std::rc::Rc;
use swingtie_core::book::Book;
use swingtie_core::checks::{Asked, questions};
use swingtie_core::language::tr;
use swingtie_core::record::{EntryId, PhotoId, Record, Site};
use web_sys::File;

/// What a file turned out to be.
#[derive(Clone)]
enum Seen {
    /// Not looked into yet.
    Reading,
    /// Nothing that can be used, and why.
    Refused(String),
    /// A site.
    Site(Rc<Coming>),
}

/// A site that came in, beside what is here.
struct Coming {
    name: String,
    brought: Brought,
    /// The site here that it is of.
    here: Option<SiteId>,
    news: News,
    /// Pictures that are not here.
    photos: Vec<PhotoId>,
    /// Questions that are new, and those that were open here and are answered in it.
    questions: (usize, usize),
    /// What the site is called otherwise in it: what, before, now.
    renamed: Vec<(&'static str, String, String)>,
    /// Photos it names whose picture is neither in it nor here.
    missing: usize,
    left_out: Vec<String>,
}

/// The screen: in place of the list of sites while a file waits.
#[component]
pub fn ReceiveScreen(received: Received) -> impl IntoView {
    let (home, router) = (Home::here(), Router::here());
    let seen: RwSignal<Seen, LocalStorage> = RwSignal::new_local(Seen::Reading);
    let Some(file) = received.waiting() else { return markup! { <p></p> } };
    leptos::task::spawn_local(async move {
        let name = file.name();
        let looked = match look(home, file).await {
            Ok(coming) => Seen::Site(Rc::new(coming)),
            Err(why) => Seen::Refused(say::not_opened(&name, &why)),
        };
        seen.try_set(looked);
    });
    live(move || match seen.get() {
        Seen::Reading => markup! { <p class="quiet" role="status">{say::READING}</p> },
        Seen::Refused(why) => markup! {
            <p class="wrong" role="alert">{why}</p>
            <button type="button" class="button" on:click=move |_| received.leave(router)>{words::CLOSE}</button>
        },
        Seen::Site(coming) => {
            let coming = StoredValue::new_local(coming);
            markup! { <ComingCard coming received /> }
        }
    })
    .into_any()
}

async fn look(home: Home, file: File) -> Result<Coming, String> {
    let name = file.name();
    let failed = |ended: Ended| ended.to_string();
    let (brought, left_out) = match importing::look(&file, &home.brought()).await {
        Err(why) => return Err(words::first_few(&why)),
        Ok(Came::Zip) => {
            let opening = open(file).await.map_err(|error| words::no_office(&error.to_string()))?;
            (opening.await.map_err(failed)?, Vec::new())
        }
        Ok(Came::Book(book, left_out)) => (Brought::of_book(book), left_out),
    };
    let (store, _) = home.store();
    let said = |error: crate::store::StoreError| format!("{error}.");
    let mut ours = (None, Book::new());
    let mut sites = store.sites().await.map_err(said)?;
    // The demo yard may be here twice: the one it was sent from counts.
    swingtie_core::units::sort_by(&mut sites, |a, b| (*b == brought.site()).cmp(&(*a == brought.site())));
    for id in sites {
        let (book, _) = store.book(&id).await.map_err(said)?;
        if is_of(brought.clone(), &book).await.map_err(|error| error.to_string())? {
            ours = (Some(id), book);
            break;
        }
    }
    let (here, book) = ours;
    let news = news(brought.clone(), &book).await.map_err(|error| error.to_string())?;
    let ids = store.picture_ids().await.map_err(said)?;
    let photos = brought.pictures_beside(&ids);
    let News { before, after, .. } = &news;
    let (asked, now) = (questions(&book, before), questions(&news.merged, after));
    let open = |all: &[Asked], id: &EntryId| all.iter().any(|one| one.question.entry == *id && one.is_open());
    let is_new = |one: &&Asked| asked.iter().all(|old| old.question.entry != one.question.entry);
    let answered = |one: &&Asked| !one.is_open() && open(&asked, &one.question.entry);
    let questions =
        (now.iter().filter(|one| one.is_open()).filter(is_new).count(), now.iter().filter(answered).count());
    let renamed = if here.is_some() { renamed(&before.record.site, &after.record.site) } else { Vec::new() };
    let missing = brought.lacks(&ids);
    Ok(Coming { name, brought, here, news, photos, questions, renamed, missing, left_out })
}

/// What of the site's details is written otherwise.
fn renamed(before: &Site, now: &Site) -> Vec<(&'static str, String, String)> {
    let fields = [
        (words::SITE_NAME, &before.name, &now.name),
        (words::CLIENT, &before.client, &now.client),
        (words::SURVEYOR, &before.surveyor, &now.surveyor),
        (words::DATE, &before.date, &now.date),
        (words::SITE_NOTE, &before.note, &now.note),
    ];
    let changed = fields.into_iter().filter(|(_, before, now)| before != now);
    changed.map(|(what, before, now)| (what, before.clone(), now.clone())).collect()
}

#[component]
fn ComingCard(coming: StoredValue<Rc<Coming>, LocalStorage>, received: Received) -> impl IntoView {
    let (home, router, notices) = (Home::here(), Router::here(), Notices::here());
    let progress = Progress::new();
    let busy = RwSignal::new(false);
    let Coming { brought, here, news, photos, left_out, questions, renamed, missing, .. } =
        &*coming.get_value();
    let nothing = news.new.is_empty() && photos.is_empty();
    // As it is called here, where its names were held back.
    let merged = &news.after.record;
    let name = tr(words::site_title(&merged.site)).to_owned();
    let (by, at_ms) = brought.made();
    let (_, me) = home.store();
    let by = say::by_whom(merged, &by, &me);
    let made =
        (at_ms > 0).then(|| markup! { <p class="quiet">{say::made(&device::local_minute(at_ms), &by)}</p> });
    let of = if here.is_some() { say::IS_HERE } else { say::IS_NEW };
    let line = |line: String| markup! { <li>{line}</li> };
    let mut lines: Vec<AnyView> = Vec::new();
    for (author, entries, (first, last)) in &news.by {
        let (first, last) = (device::local_minute(*first), device::local_minute(*last));
        lines.push(line(say::brings(*entries, &first, &last, &say::by_whom(merged, author, &me))));
    }
    if !photos.is_empty() {
        lines.push(line(say::photos_come(photos.len())));
    }
    for (what, before, now) in renamed {
        lines.push(line(say::renamed(what, before, now)));
    }
    if questions.0 > 0 {
        lines.push(line(say::asks(questions.0)));
    }
    if questions.1 > 0 {
        lines.push(line(say::answers(questions.1)));
    }
    if *missing > 0 {
        lines.push(markup! { <li class="wrong">{say::lacks(*missing)}</li> });
    }
    if news.struck > 0 {
        lines.push(line(say::struck(news.struck)));
    }
    if news.clashes > 0 {
        lines.push(markup! { <li class="wrong">{say::clashes(news.clashes)}</li> });
    }
    if brought.is_light() {
        lines.push(line(tr(say::LIGHT).to_owned()));
    }
    if !left_out.is_empty() {
        lines.push(markup! { <li class="wrong">{words::partly_read(left_out)}</li> });
    }
    let rivals = (!news.rivals.is_empty()).then(|| {
        let book = &news.merged;
        let each =
            news.rivals.iter().filter_map(|id| book.get(id)).map(|entry| sentence(entry, book, merged));
        let each: Vec<AnyView> = each.map(line).collect();
        markup! { <p>{say::RIVALS}</p><ul class="plain-list">{each}</ul> }
    });
    let stopped = RwSignal::new(false);
    // Looked over already, where a photo is damaged: what is sound, and which are not.
    let sound: RwSignal<Option<Rc<LookedOver>>, LocalStorage> = RwSignal::new_local(None);
    let take = move |_| {
        let coming = coming.get_value();
        progress.begin();
        busy.set(true);
        stopped.set(false);
        // The screen may be gone when the photos were looked over.
        let known = sound.get_untracked();
        let is_first = known.is_none();
        leptos::task::spawn_local(async move {
            let looked = match known {
                Some(looked) => Ok(looked),
                None => looked_over(&coming, progress).await,
            };
            let taken = match looked {
                Ok(looked) if is_first && !looked.1.is_empty() => {
                    sound.try_set(Some(looked));
                    busy.try_set(false);
                    return;
                }
                Ok(looked) => stored(home, &coming, &looked.0).await,
                Err(why) => Err(why),
            };
            match taken {
                Ok((id, photos)) => {
                    was_asked();
                    notices.say(say::taken(coming.news.new.len(), photos));
                    received.done();
                    // Answers are what was waited for, and questions wait.
                    let tab = if coming.questions != (0, 0) { Tab::Questions } else { Tab::Plan };
                    router.go(&Route::Site(id, tab));
                }
                Err(Ended::Stopped) => drop(stopped.try_set(true)),
                Err(Ended::Failed(why)) => notices.warn(say::not_opened(&coming.name, &why)),
            }
            busy.try_set(false);
        });
    };
    let damaged = move || {
        sound.get().map(|looked| {
            let photos = coming.with_value(|coming| damaged_photos(&coming.news.after.record, &looked.1));
            markup! { <p class="wrong" role="alert">{say::damaged(&photos)}</p> }
        })
    };
    let take_it = move || if sound.with(Option::is_some) { say::TAKE_REST } else { say::TAKE };
    let go = here.clone().map(|id| {
        let of = id.clone();
        let go = move |_| {
            received.done();
            router.go(&Route::Site(id.clone(), Tab::Plan));
        };
        let changes = move |_| {
            received.done();
            router.go(&Route::Site(of.clone(), Tab::Changes));
        };
        markup! {
            <button type="button" class="button button-main button-wide" on:click=go>{say::GO_TO_IT}</button>
            <button type="button" class="button button-wide" on:click=changes>{words::changes::CHANGES}</button>
        }
    });
    let buttons = if nothing {
        markup! { <p class="good">{say::NOTHING_NEW}</p>{go} }
    } else {
        markup! {
            <button type="button" class="button button-main button-wide" on:click=take>{live(take_it)}</button>
        }
    };
    let name_field = (!nothing).then(|| markup! { <NameField name=RwSignal::new(my_name()) /> });
    markup! {
        <section class="coming" aria-label=say::CAME>
            <h2>{say::CAME}</h2>
            <p class="lead">{name}</p>
            {made}
            <p>{of}</p>
            <ul class="plain-list">{lines}</ul>
            {rivals}
            {name_field}
            {live(damaged)}
            <div class="big-buttons" class:unseen=move || busy.get()>
                {buttons}
                <button type="button" class="button button-wide" on:click=move |_| received.leave(router)>{say::LEAVE_IT}</button>
            </div>
            {shown(move || busy.get(), move || going_on(say::TAKING, progress))}
            {shown(move || stopped.get(), || markup! { <p class="quiet" role="status">{say::STOPPED}</p> })}
        </section>
    }
}

/// The damaged photos, as one finds them in the book.
fn damaged_photos(record: &Record, ids: &[PhotoId]) -> Vec<String> {
    let told = |id: &PhotoId| {
        let found = (1..).zip(&record.photos).find(|(_, photo)| photo.what.id == *id);
        let note = found.map_or("", |(_, photo)| photo.what.note.as_str());
        say::damaged_photo(found.map(|(number, _)| number), note)
    };
    ids.iter().map(told).collect()
}

/// Looks the photos over; nothing is stored yet.
async fn looked_over(coming: &Coming, progress: Progress) -> Result<Rc<LookedOver>, Ended> {
    let looked_over = pictures(coming.brought.clone(), coming.photos.clone(), progress).await?;
    looked_over.await.map(Rc::new)
}

/// Stores all of it at once or nothing; gives the site and how many photos came.
async fn stored(home: Home, coming: &Coming, files: &[PictureFile]) -> Result<(SiteId, usize), Ended> {
    let (store, _) = home.store();
    let failed = |error: crate::store::StoreError| Ended::Failed(format!("{error}."));
    let id = match &coming.here {
        Some(id) => id.clone(),
        None => {
            let theirs = coming.brought.site();
            let is_free = !store.sites().await.map_err(failed)?.contains(&theirs);
            if theirs.is_plain() && is_free { theirs } else { SiteId(device::random_id()) }
        }
    };
    store.take_in(&id, &coming.news.new, files).await.map_err(failed)?;
    Marked::takes(&store, &id, &coming.news.new, coming.brought.book()).await;
    device::ask_to_keep_once();
    tell_written(&id);
    Ok((id, files.len()))
}
