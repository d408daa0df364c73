//! The device's store: every entry of every site, the photos, and a few settings, in IndexedDB.
//!
//! One record an entry, its value the entry's line to the letter. A write is acknowledged only
//! after its transaction completed with strict durability.

mod schema;

use indexed_db_futures::KeyRange;
use indexed_db_futures::database::Database;
use indexed_db_futures::internals::SystemRepr;
use indexed_db_futures::prelude::*;
use indexed_db_futures::transaction::{
    Transaction, TransactionDurability, TransactionMode, TransactionOptions,
};
use schema::{ENTRIES, META, PHOTOS, SITES, THUMBNAILS};
use std::cell::Cell;
use std::fmt;
use std::rc::Rc;
use swingtie_core::book::{Book, Entry, LineError};
use swingtie_core::record::PhotoId;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, IdbDatabase};

#[wasm_bindgen]
extern "C" {
    /// In `public/start.js`: the library's own listener brings channels and a macro's code into the first load.
    #[wasm_bindgen(js_namespace = swingtie)]
    fn taken(connection: &IdbDatabase) -> js_sys::Promise;
}

/// Names a site on this device and in what it hands out.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SiteId(pub String);

impl SiteId {
    /// Whether it is of the letters and digits ids are made of, and no longer than one: others come from a file that
    /// somebody wrote by hand.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
        (1..=64).contains(&self.0.len()) && self.0.chars().all(plain)
    }
}

impl fmt::Display for SiteId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The device did not keep or find something.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StoreError {
    /// No storage at all: a private window, or storage blocked.
    #[error("{}", say!("this browser does not let the page keep anything ({})", _0.to_string()))]
    Closed(String),
    /// A newer version of the app has changed the storage, or this window had to give it up.
    #[error("{}", say!("this window can no longer use the storage; load the page again"))]
    Newer,
    /// The device is full.
    #[error("{}", say!("the device has no room left for it; remove a site that was sent, or files of other apps"))]
    Full,
    /// The browser gave the write up: none of it is stored. The usual reason is a full device.
    #[error("{}", say!("the browser gave it up, as it does when the device has no room left for it; remove a site that was sent, or files of \
         other apps"))]
    GivenUp,
    /// Anything else, in the browser's words.
    #[error("{}", say!("the browser's storage said: {}", _0.to_string()))]
    Other(String),
}

impl From<indexed_db_futures::error::Error> for StoreError {
    fn from(error: indexed_db_futures::error::Error) -> Self {
        use indexed_db_futures::error::{Error, UnexpectedDataError::TransactionAborted};
        // A write that finds no room is given up when it is finished, and the library does not hand on why.
        if matches!(error, Error::MissingData(TransactionAborted)) {
            return Self::GivenUp;
        }
        let said = error.to_string();
        if said.contains("QuotaExceeded") { Self::Full } else { Self::Other(said) }
    }
}

/// A picture and its small version, ready to be stored.
#[derive(Clone, Debug)]
pub struct PhotoFile {
    /// Names it by its bytes.
    pub id: PhotoId,
    /// The picture that is kept.
    pub picture: Blob,
    /// A small one for lists.
    pub thumbnail: Blob,
    /// The file it was made from, when that is kept too.
    pub original: Option<OriginalFile>,
}

/// A picture that came in a site package, ready to be stored: large, small or both.
#[derive(Clone, Debug)]
pub struct PictureFile {
    /// Names it by its bytes.
    pub id: PhotoId,
    /// The picture, or a file it was made from.
    pub full: Option<Blob>,
    /// A small one for lists.
    pub small: Option<Blob>,
}

/// A file as the camera wrote it, ready to be stored.
#[derive(Clone, Debug)]
pub struct OriginalFile {
    /// Names it by its bytes.
    pub id: PhotoId,
    /// Its bytes.
    pub file: Blob,
    /// What it was called.
    pub name: String,
}

/// The store. Cloning shares the one connection.
#[derive(Clone)]
pub struct Store(Rc<Connection>);

struct Connection {
    db: Database,
    access: Cell<Access>,
}

/// What may be done with the store. It only becomes less, and becomes whole again with the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Access {
    /// Everything.
    Whole,
    /// A newer version of the app has changed its layout: what this one finds can be read, and nothing written.
    Reading,
    /// It was given up to a newer version in another window, or taken away by the browser.
    None,
}

type Stored<T> = Result<T, StoreError>;

impl Store {
    /// Opens the store, bringing its schema up to date. As long as another window with an older version of the app holds
    /// it, this waits; `held` is called then.
    ///
    /// # Errors
    /// [`StoreError::Closed`] where the browser offers no storage.
    pub async fn open(held: impl FnOnce() + 'static) -> Stored<Self> {
        let (db, access) = schema::open(held).await?;
        Ok(Self(Rc::new(Connection { db, access: Cell::new(access) })))
    }

    /// What may be done with it now.
    #[must_use]
    pub fn access(&self) -> Access {
        self.0.access.get()
    }

    /// Ends when a newer version of the app, in another window, wants the store for itself, or the browser has closed or
    /// cleared it: what is being written is finished, and nothing more is read or written. Returns whether it was the
    /// newer version.
    pub async fn until_taken(&self) -> bool {
        let newer = JsFuture::from(taken(self.0.db.as_sys())).await;
        self.0.access.set(Access::None);
        self.0.db.clone().close();
        newer.is_ok_and(|newer| newer.is_truthy())
    }

    /// Every site on this device.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn sites(&self) -> Stored<Vec<SiteId>> {
        let tx = self.reading(SITES)?;
        let keys = tx.object_store(SITES)?.get_all_keys::<String>().primitive()?.await?;
        keys.map(|key| Ok(SiteId(key?))).collect()
    }

    /// Starts a site with its first entries, in one transaction.
    ///
    /// # Errors
    /// When nothing was stored.
    pub async fn create(&self, site: &SiteId, entries: &[Entry]) -> Stored<()> {
        let tx = self.writing(&[SITES, ENTRIES])?;
        put(&tx, SITES, &site.0, &JsValue::from_f64(f64::from(schema::VERSION)))?;
        put_entries(&tx, site, entries)?;
        Ok(tx.commit().await?)
    }

    /// Adds entries and pictures to a site, in one transaction.
    ///
    /// # Errors
    /// When nothing was stored.
    pub async fn append(&self, site: &SiteId, entries: &[Entry], photos: Vec<PhotoFile>) -> Stored<()> {
        let tx = self.writing(&[ENTRIES, PHOTOS, THUMBNAILS])?;
        put_entries(&tx, site, entries)?;
        for photo in &photos {
            put(&tx, PHOTOS, photo.id.0.as_str(), &photo.picture)?;
            put(&tx, THUMBNAILS, photo.id.0.as_str(), &photo.thumbnail)?;
            if let Some(original) = &photo.original {
                put(&tx, PHOTOS, original.id.0.as_str(), &original.file)?;
            }
        }
        Ok(tx.commit().await?)
    }

    /// Takes entries and pictures in that came from elsewhere, into a new site or one that is here, in one
    /// transaction.
    ///
    /// # Errors
    /// When nothing was stored.
    pub async fn take_in(&self, site: &SiteId, entries: &[Entry], pictures: &[PictureFile]) -> Stored<()> {
        let tx = self.writing(&[SITES, ENTRIES, PHOTOS, THUMBNAILS])?;
        put(&tx, SITES, &site.0, &JsValue::from_f64(f64::from(schema::VERSION)))?;
        put_entries(&tx, site, entries)?;
        for picture in pictures {
            for (store, blob) in [(PHOTOS, &picture.full), (THUMBNAILS, &picture.small)] {
                if let Some(blob) = blob {
                    put(&tx, store, picture.id.0.as_str(), blob)?;
                }
            }
        }
        Ok(tx.commit().await?)
    }

    /// The names of all pictures on this device, large and small.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn picture_ids(&self) -> Stored<(Vec<PhotoId>, Vec<PhotoId>)> {
        let mut all = [Vec::new(), Vec::new()];
        for (store, ids) in [PHOTOS, THUMBNAILS].into_iter().zip(&mut all) {
            let tx = self.reading(store)?;
            let keys = tx.object_store(store)?.get_all_keys::<String>().primitive()?.await?;
            *ids = keys.map(|key| Ok(PhotoId(key?))).collect::<Stored<Vec<_>>>()?;
        }
        let [large, small] = all;
        Ok((large, small))
    }

    /// Reads a site's book. A line that cannot be read is named and stays stored.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn book(&self, site: &SiteId) -> Stored<(Book, Vec<LineError>)> {
        let tx = self.reading(ENTRIES)?;
        let all = tx.object_store(ENTRIES)?;
        let lines = all.get_all::<String>().with_query::<JsValue, _>(of_site(site)).primitive()?.await?;
        let mut text = String::new();
        for line in lines {
            text.push_str(&line?);
            text.push('\n');
        }
        Ok(Book::from_json_lines(&text))
    }

    /// Takes a site, its entries and the pictures that no other site speaks of off this device.
    ///
    /// # Errors
    /// When nothing was removed.
    pub async fn forget(&self, site: &SiteId) -> Stored<()> {
        let tx = self.writing(&[SITES, ENTRIES, PHOTOS, THUMBNAILS])?;
        tx.object_store(SITES)?.delete::<&str, _>(site.0.as_str()).primitive()?;
        let entries = tx.object_store(ENTRIES)?;
        entries.delete::<JsValue, _>(of_site(site)).primitive()?;
        let mut kept: Vec<String> = Vec::new();
        for line in entries.get_all::<String>().primitive()?.await? {
            kept.extend(hashes(&line?).map(str::to_owned));
        }
        for store in [PHOTOS, THUMBNAILS] {
            let pictures = tx.object_store(store)?;
            for key in pictures.get_all_keys::<String>().primitive()?.await? {
                let key = key?;
                if !kept.contains(&key) {
                    pictures.delete::<&str, _>(key.as_str()).primitive()?;
                }
            }
        }
        Ok(tx.commit().await?)
    }

    /// A small picture.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn thumbnail(&self, id: &PhotoId) -> Stored<Option<Blob>> {
        self.blob(THUMBNAILS, id).await
    }

    /// A picture, or the file it was made from.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn photo(&self, id: &PhotoId) -> Stored<Option<Blob>> {
        self.blob(PHOTOS, id).await
    }

    async fn blob(&self, store: &str, id: &PhotoId) -> Stored<Option<Blob>> {
        let tx = self.reading(store)?;
        let found: Option<JsValue> =
            tx.object_store(store)?.get::<JsValue, _, _>(id.0.as_str()).primitive()?.await?;
        Ok(found.and_then(|value| value.dyn_into().ok()))
    }

    /// A setting of this device.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn meta(&self, key: &str) -> Stored<Option<String>> {
        let tx = self.reading(META)?;
        Ok(tx.object_store(META)?.get::<String, _, _>(key).primitive()?.await?)
    }

    /// Keeps a setting of this device.
    ///
    /// # Errors
    /// When it was not stored.
    pub async fn set_meta(&self, key: &str, value: &str) -> Stored<()> {
        let tx = self.writing(&[META])?;
        put(&tx, META, key, &JsValue::from_str(value))?;
        Ok(tx.commit().await?)
    }

    fn reading(&self, store: &str) -> Stored<Transaction<'_>> {
        if self.access() == Access::None {
            return Err(StoreError::Newer);
        }
        Ok(self.0.db.transaction(store).with_mode(TransactionMode::Readonly).build()?)
    }

    fn writing(&self, stores: &[&str]) -> Stored<Transaction<'_>> {
        if self.access() != Access::Whole {
            return Err(StoreError::Newer);
        }
        let durable = TransactionOptions::new().with_durability(TransactionDurability::Strict);
        let tx = self.0.db.transaction(stores.to_vec()).with_mode(TransactionMode::Readwrite);
        Ok(tx.with_options(durable).build()?)
    }
}

/// Sends one write on its way. Whether it succeeded is told by the transaction.
fn put(tx: &Transaction<'_>, store: &str, key: &str, value: &JsValue) -> Stored<()> {
    tx.object_store(store)?.put(value.clone()).with_key(key.to_owned()).primitive()?;
    Ok(())
}

fn put_entries(tx: &Transaction<'_>, site: &SiteId, entries: &[Entry]) -> Stored<()> {
    let store = tx.object_store(ENTRIES)?;
    for entry in entries {
        let key = vec![site.0.clone(), entry.id.0.clone()];
        store.put(entry.line().to_owned()).with_key(key).primitive()?;
    }
    Ok(())
}

/// All keys [site, id]: from [site] up to [site, []], an array being greater than any text.
fn of_site(site: &SiteId) -> KeyRange<JsValue> {
    let name = JsValue::from_str(&site.0);
    let (low, high) = (js_sys::Array::of1(&name), js_sys::Array::of2(&name, &js_sys::Array::new()));
    KeyRange::Bound(low.into(), false, high.into(), false)
}

/// The pictures a line speaks of, whatever it says of them: anything that looks like a SHA-256 in hexadecimal.
fn hashes(line: &str) -> impl Iterator<Item = &str> {
    line.split(|c: char| !c.is_ascii_hexdigit()).filter(|run| run.len() == 64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_names_its_pictures_though_it_is_not_understood() {
        let (one, other) = ("a1".repeat(32), "0f".repeat(32));
        let line = format!(
            r#"{{"say":{{"later":{{"id":"{one}","original":{{"id":"{other}"}},"more":"{one}0"}}}}}}"#
        );
        assert_eq!(hashes(&line).collect::<Vec<_>>(), [one.as_str(), other.as_str()]);
    }
}
