//! Photos on their way into the book, and what is remembered between the screens of photos.

use crate::device::Studio;
use crate::notices::Notices;
use crate::screens::drafts::Drafts;
use crate::state::{OpenSite, SaveError};
use crate::store::PhotoFile;
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::{At, EntryId, Original, Photo, PhotoId, Statement};
use web_sys::{Blob, File};

/// Where photos belong.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pin {
    /// The place.
    pub at: At,
    /// The entry of the feature or problem they show.
    pub of: Option<EntryId>,
}

/// How far a run of photos is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Which one is being made small, from 1.
    pub now: usize,
    /// How many there are.
    pub all: usize,
}

/// Photos held until what they belong to is saved.
pub type Held = RwSignal<Vec<PhotoFile>, LocalStorage>;

/// Where photos go once they are small.
#[derive(Clone, Debug)]
pub enum Goal {
    /// Into the book, each at once, pinned there.
    Book(Pin),
    /// Into what is being entered.
    Held(Held),
}

/// What the screens of photos share while the site is open. Copied freely.
#[derive(Clone, Copy)]
pub struct Desk {
    /// The photo looked at.
    pub open: RwSignal<Option<EntryId>>,
    /// Where the next photos belong.
    pub pin: RwSignal<Pin>,
    /// Whether the original files are kept too. Never remembered: they can hold where they were taken.
    pub keep: RwSignal<bool>,
    /// The run under way.
    pub run: RwSignal<Option<Progress>>,
    stop: RwSignal<bool>,
}

impl Desk {
    /// The desk of the site that is open.
    pub fn here() -> Self {
        Drafts::here().photos
    }

    /// An empty one.
    pub fn new() -> Self {
        Self {
            open: RwSignal::new(None),
            pin: RwSignal::new(Pin::default()),
            keep: RwSignal::new(false),
            run: RwSignal::new(None),
            stop: RwSignal::new(false),
        }
    }

    /// The run ends after the photo under way.
    pub fn stop(self) {
        self.stop.set(true);
    }

    /// Makes the files small and brings them to their goal, one after the other, so that a phone that
    /// dies half way has lost only what was not yet counted.
    pub fn add(self, files: Vec<File>, goal: Goal) {
        let (site, notices) = (OpenSite::here(), Notices::here());
        if files.is_empty() {
            return;
        }
        if self.run.get_untracked().is_some() {
            return notices.say(words::PHOTOS_BUSY);
        }
        self.stop.set(false);
        self.run.set(Some(Progress { now: 1, all: files.len() }));
        leptos::task::spawn_local(async move {
            let done = self.work(site, &files, &goal).await;
            self.run.try_set(None);
            // What is held is seen where it is held.
            done.tell(notices, files.len(), matches!(goal, Goal::Book(_)));
        });
    }

    async fn work(self, site: OpenSite, files: &[File], goal: &Goal) -> Done {
        let mut done = Done::default();
        let studio = match Studio::open().await {
            Ok(studio) => studio,
            Err(error) => {
                done.ended = Some(words::no_studio(&error.to_string()));
                return done;
            }
        };
        let keep = self.keep.try_get_untracked().unwrap_or_default();
        for (now, file) in (1..).zip(files) {
            // A site that was left takes nothing more.
            if !site.is_open() || self.stop.try_get_untracked().unwrap_or(true) {
                break;
            }
            self.run.try_set(Some(Progress { now, all: files.len() }));
            done.tried = now;
            match studio.prepare(file, keep).await {
                Err(error) => done.left_out.push((file.name(), error.to_string())),
                Ok(photo) if site.is_open() => match bring(site, goal, photo).await {
                    Ok(new) => *if new { &mut done.saved } else { &mut done.there } += 1,
                    Err(error) => {
                        done.ended = Some(words::not_saved(&error));
                        break;
                    }
                },
                Ok(_) => {}
            }
        }
        done
    }
}

/// What became of a run.
#[derive(Default)]
struct Done {
    tried: usize,
    saved: usize,
    there: usize,
    left_out: Vec<(String, String)>,
    ended: Option<String>,
}

impl Done {
    fn tell(&self, notices: Notices, all: usize, in_book: bool) {
        let missing = all - self.tried.min(all);
        let said = words::photos_added(self.saved, self.there, &self.left_out, missing);
        if self.left_out.is_empty() && missing == 0 && self.ended.is_none() {
            if in_book {
                notices.say(said);
            }
        } else {
            notices.warn(said);
        }
        if let Some(why) = &self.ended {
            notices.warn(why.clone());
        }
    }
}

/// Whether it is new; the same picture at the same place is not taken twice.
async fn bring(site: OpenSite, goal: &Goal, photo: PhotoFile) -> Result<bool, SaveError> {
    match goal {
        Goal::Held(held) => {
            let new = held.with_untracked(|held| held.iter().all(|other| other.id != photo.id));
            if new {
                held.try_update(|held| held.push(photo));
            }
            Ok(new)
        }
        Goal::Book(pin) => {
            let there = site.fold.with_untracked(|fold| {
                let photos = fold.record.photos.iter().map(|photo| &photo.what);
                photos.into_iter().any(|p| p.id == photo.id && p.at == pin.at && p.of == pin.of)
            });
            if !there {
                site.say_apart(Statement::Photo(note(&photo, pin)), Some(photo)).await?;
            }
            Ok(!there)
        }
    }
}

/// What is said of a photo when it comes.
pub fn note(photo: &PhotoFile, pin: &Pin) -> Photo {
    let original = photo.original.as_ref().map(|original| Original {
        id: original.id.clone(),
        media_type: original.file.type_(),
        bytes: size(&original.file),
        name: original.name.clone(),
    });
    let said = Photo::new(photo.id.clone(), photo.picture.type_(), size(&photo.picture));
    Photo { at: pin.at.clone(), of: pin.of.clone(), original, ..said }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a blob's size is a whole number")]
fn size(blob: &Blob) -> u64 {
    blob.size() as u64
}

/// The photos that belong to an entry: those it names, and those that name it.
pub fn photos_of(site: OpenSite, entry: &EntryId, named: &[PhotoId]) -> Vec<PhotoId> {
    let mut all = named.to_vec();
    site.fold.with(|fold| {
        let naming = fold.record.photos.iter().filter(|photo| photo.what.of.as_ref() == Some(entry));
        for photo in naming {
            if !all.contains(&photo.what.id) {
                all.push(photo.what.id.clone());
            }
        }
    });
    all
}
