//! Everything of a site as one file: what goes along is said before it leaves.

use super::going_on;
use super::name::{NameField, my_name, sign, was_asked};
use super::sent::{Known, Marked, known};
use crate::device::share::{self, Shared as Told};
use crate::device::{self, FileError};
use crate::markup::{live, memo, shown};
use crate::notices::Notices;
use crate::office::{Ended, Left, Order, Packed, Pictures, Progress, file_name, pack, pictures_of};
use crate::routes::{Route, Tab};
use crate::screens::changes::{Since, link};
use crate::screens::parts::chips;
use crate::screens::sheet::sheet_options;
use crate::state::{Home, OpenSite};
use crate::words::changes::SINCE_THEN;
use crate::words::package as say;
use leptos::prelude::*;
use std::collections::BTreeSet;
use swingtie_core::language::tr;
use swingtie_core::record::AuthorId;
use web_sys::File;

/// What was chosen.
#[derive(Clone, Copy)]
struct Choice {
    pictures: RwSignal<Pictures>,
    originals: RwSignal<bool>,
    left: RwSignal<Left>,
    /// What others call who sends it.
    name: RwSignal<String>,
}

impl Choice {
    /// As chosen last for this site on this device: who keeps a name back once, does so the next time. The camera's own
    /// files are never remembered.
    fn kept(site: OpenSite) -> Self {
        let key = format!("send {}", site.id());
        let kept = device::remembered(&key).unwrap_or_default();
        let pictures = match () {
            () if kept.contains('s') => Pictures::Small,
            () if kept.contains('0') => Pictures::None,
            () => Pictures::All,
        };
        let left = Left { place: kept.contains('p'), names: kept.contains('n'), money: kept.contains('m') };
        let choice = Self {
            pictures: RwSignal::new(pictures),
            originals: RwSignal::new(false),
            left: RwSignal::new(left),
            name: RwSignal::new(my_name()),
        };
        crate::markup::effect(move || {
            let left = choice.left.get();
            let mut text = String::new();
            let pictures = choice.pictures.get();
            for (is_so, letter) in [
                (pictures == Pictures::Small, 's'),
                (pictures == Pictures::None, '0'),
                (left.place, 'p'),
                (left.names, 'n'),
                (left.money, 'm'),
            ] {
                if is_so {
                    text.push(letter);
                }
            }
            device::remember(&key, &text);
        });
        choice
    }

    /// What the package's file is called: after the site, unless its name stays here.
    fn file_name(self, site: OpenSite) -> String {
        let is_named = !self.left.with_untracked(|left| left.names);
        site.fold.with_untracked(|fold| {
            file_name(if is_named { &fold.record.site.name } else { "" }, &device::this_minute())
        })
    }
}

/// The screen.
#[component]
pub fn SendScreen() -> impl IntoView {
    let site = OpenSite::here();
    let choice = Choice::kept(site);
    let sent = known(site);
    let back = Route::Site(site.id(), Tab::Sheet).to_hash();
    let last = move || {
        sent.get().map(|sent| match sent {
            Some(sent) => {
                say::sent(&device::local_minute(sent.at_ms), site.book.with(|book| sent.since(book)))
            }
            None => tr(say::NEVER_SENT).to_owned(),
        })
    };
    markup! {
        <div class="page">
            <a class="button back" href=back>{say::BACK_TO_SHEET}</a>
            <h1>{say::SEND}</h1>
            <p>{say::SEND_HINT}</p>
            <p class="quiet" role="status">{live(last)}</p>
            {shown(move || matches!(sent.get(), Some(Some(_))), || link(SINCE_THEN, Some(Since::Sent)))}
            <ChoiceForm choice />
            {shown(move || !choice.left.get().names, move || markup! { <NameField name=choice.name /> })}
            <Goes choice />
            <Make choice sent />
            <p class="hint">{say::SEND_MORE}</p>
        </div>
    }
}

#[component]
fn ChoiceForm(choice: Choice) -> impl IntoView {
    let site = OpenSite::here();
    let all = site.book.with_untracked(|book| pictures_of(book));
    let photos = all.iter().filter(|named| !named.is_original);
    let (number, bytes) = photos.fold((0, 0), |(number, bytes), named| (number + 1, bytes + named.bytes));
    let photos = (number > 0).then(|| {
        let options = vec![
            (Pictures::All, say::all_photos(number, bytes)),
            (Pictures::Small, tr(say::SMALL).to_owned()),
            (Pictures::None, tr(say::NONE).to_owned()),
        ];
        chips(
            say::PHOTOS,
            options,
            move || Some(choice.pictures.get()),
            move |picked| choice.pictures.set(picked),
        )
    });
    let originals = all.iter().any(|named| named.is_original).then(|| {
        tick(say::ORIGINALS, move || choice.originals.get(), move || choice.originals.update(|on| *on = !*on))
    });
    let left = choice.left;
    markup! {
        {photos}
        {originals}
        <fieldset>
            <legend class="legend">{say::LEFT_OUT}</legend>
            {tick(say::PLACE, move || left.get().place, move || left.update(|left| left.place = !left.place))}
            {tick(say::NAMES, move || left.get().names, move || left.update(|left| left.names = !left.names))}
            {tick(say::MONEY, move || left.get().money, move || left.update(|left| left.money = !left.money))}
        </fieldset>
    }
}

fn tick(
    name: &'static str,
    is_on: impl Fn() -> bool + Send + 'static,
    toggle: impl Fn() + Send + Sync + 'static,
) -> AnyView {
    markup! {
        <label class="tick">
            <input type="checkbox" prop:checked=is_on on:change=move |_| toggle() />
            <span>{name}</span>
        </label>
    }
}

/// What leaves the device, line by line.
#[component]
fn Goes(choice: Choice) -> impl IntoView {
    let site = OpenSite::here();
    let lines = move || {
        let (left, pictures) = (choice.left.get(), choice.pictures.get());
        let (book, fold) = (site.book.get(), site.fold.get());
        let record = &fold.record;
        let authors: BTreeSet<&AuthorId> = book.entries().map(|entry| &entry.author).collect();
        let mut lines = vec![say::entries_go(book.len(), authors.len())];
        let all = pictures_of(&book);
        let (originals, photos): (Vec<_>, Vec<_>) = all.iter().partition(|named| named.is_original);
        if pictures != Pictures::None && !photos.is_empty() {
            lines.push(say::photos_go(photos.len(), pictures == Pictures::Small));
        }
        if pictures == Pictures::All && choice.originals.get() && !originals.is_empty() {
            lines.push(say::originals_go(originals.len()));
        }
        let (_, me) = Home::here().store();
        let others = record.authors.iter().filter(|(author, _)| **author != me);
        let mine = choice.name.get();
        let all = [&record.site.name, &record.site.client, &record.site.surveyor, &mine].into_iter();
        let mut names: Vec<&str> = Vec::new();
        for name in all.chain(others.map(|(_, name)| name)).map(|name| name.trim()) {
            if !name.is_empty() && !names.contains(&name) {
                names.push(name);
            }
        }
        if !left.names && !names.is_empty() {
            lines.push(say::names_go(&names.join(", ")));
        }
        if let Some(anchor) = record.anchor.as_ref().filter(|_| !left.place) {
            lines.push(say::place_goes(anchor.latitude, anchor.longitude));
        }
        let about_money =
            |topic: &str| swingtie_core::record::topic_of(topic).is_some_and(|topic| topic.confidential);
        if !left.money && record.notes().iter().any(|note| about_money(&note.what.topic)) {
            lines.push(tr(say::MONEY_GOES).to_owned());
        }
        lines.into_iter().map(|line| markup! { <li>{line}</li> }).collect_view()
    };
    markup! {
        <h2>{say::GOES}</h2>
        <ul class="plain-list">{live(lines)}</ul>
        <p class="hint">{say::FREE_WORDS}" "{say::YOU_CHOOSE}</p>
    }
}

/// Where a package goes.
#[derive(Clone, Copy, PartialEq)]
enum To {
    Share,
    Downloads,
    Folder,
}

#[component]
fn Make(choice: Choice, sent: Known) -> impl IntoView {
    let (site, home, notices) = (OpenSite::here(), Home::here(), Notices::here());
    let progress = Progress::new();
    let busy = RwSignal::new(false);
    // Made before, where the browser wanted another tap.
    let waiting: StoredValue<Option<File>, LocalStorage> = StoredValue::new_local(None);
    crate::markup::effect(move || {
        choice.pictures.track();
        choice.originals.track();
        choice.left.track();
        site.book.track();
        waiting.set_value(None);
    });
    let shares = share::shares("package.zip", "application/zip");
    let file = move || async move {
        if let Some(file) = waiting.get_value() {
            return Ok(file);
        }
        let (_, by) = home.store();
        if !choice.left.with_untracked(|left| left.names) {
            sign(site, home).await.map_err(|why| Ended::Failed(why.to_string()))?;
        }
        was_asked();
        let worked_out =
            (site.fold.get_untracked(), site.adjustment.get_untracked(), site.plan.get_untracked());
        let order = Order {
            book: site.book.get_untracked(),
            worked_out,
            site: site.id(),
            store: site.store(),
            sheet: sheet_options(&site.id()),
            by,
            at_ms: device::now_ms(),
            pictures: choice.pictures.get_untracked(),
            originals: choice.originals.get_untracked(),
            left_out: choice.left.get_untracked(),
            progress,
        };
        let Packed { file, missing } = pack(order).await?.await?;
        if missing > 0 {
            notices.warn(say::without_pictures(missing));
        }
        Ok::<File, Ended>(share::file(&choice.file_name(site), "application/zip", &file)?)
    };
    let stopped = RwSignal::new(false);
    let go = move |to: To| {
        progress.begin();
        stopped.set(false);
        busy.set(true);
        leptos::task::spawn_local(async move {
            // The window for a folder opens by a tap alone, so it is asked for first.
            let folder = match to {
                To::Folder => match share::ask_where(&choice.file_name(site)).await {
                    Ok(Some(place)) => Some(place),
                    Ok(None) => {
                        busy.try_set(false);
                        return;
                    }
                    Err(why) => {
                        notices.warn(say::not_made(&why.to_string()));
                        busy.try_set(false);
                        return;
                    }
                },
                To::Share | To::Downloads => None,
            };
            let handed = match (file().await, to) {
                (Err(Ended::Stopped), _) => {
                    stopped.try_set(true);
                    false
                }
                (Err(Ended::Failed(why)), _) => {
                    notices.warn(say::not_made(&why));
                    false
                }
                (Ok(file), To::Share) => match share::share(std::slice::from_ref(&file)).await {
                    Ok(Told::Done) => true,
                    Ok(Told::TapAgain) => {
                        waiting.try_set_value(Some(file));
                        notices.say(say::READY);
                        false
                    }
                    Err(why) => {
                        notices.warn(say::not_shared(&why.to_string()));
                        false
                    }
                },
                (Ok(file), To::Downloads) => told(notices, &file.name(), device::download(&file)),
                (Ok(file), To::Folder) => match folder {
                    Some(place) => told(notices, &file.name(), share::write(&place, &file).await),
                    None => false,
                },
            };
            if handed {
                let now = Marked::sends(site).await;
                sent.try_set(Some(Some(now)));
            }
            busy.try_set(false);
        });
    };
    let idle = memo(move || !busy.get());
    let share_button = shares.then(|| {
        markup! {
            <button type="button" class="button button-main button-wide" on:click=move |_| go(To::Share)>{say::SHARE}</button>
        }
    });
    let main = if shares { "button button-wide" } else { "button button-main button-wide" };
    let folder = share::asks_where().then(|| {
        markup! {
            <button type="button" class="button button-wide" on:click=move |_| go(To::Folder)>{say::SAVE_AS}</button>
        }
    });
    markup! {
        <div class="big-buttons" class:unseen=move || !idle.get()>
            {share_button}
            <button type="button" class=main on:click=move |_| go(To::Downloads)>{say::SAVE}</button>
            {folder}
            {(!shares).then(|| markup! { <p class="hint">{say::NO_ZIP}</p> })}
        </div>
        {shown(move || busy.get(), move || going_on(say::MAKING, progress))}
        {shown(move || stopped.get(), || markup! { <p class="quiet" role="status">{say::STOPPED}</p> })}
    }
}

fn told(notices: Notices, name: &str, saved: Result<(), FileError>) -> bool {
    match saved {
        Ok(()) => {
            notices.say(say::saved(name));
            true
        }
        Err(why) => {
            notices.warn(say::not_made(&why.to_string()));
            false
        }
    }
}
