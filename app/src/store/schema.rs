//! The store's layout, version by version.

use super::{Access, StoreError};
use indexed_db_futures::database::Database;
use indexed_db_futures::error::{DomException, Error, OpenDbError};
use indexed_db_futures::prelude::*;

/// The version this code writes.
pub const VERSION: u8 = 1;
/// Sites: key id, value the schema version it was made with.
pub const SITES: &str = "sites";
/// Entries: key [site, id], value the entry's line.
pub const ENTRIES: &str = "entries";
/// Pictures: key the SHA-256 of the bytes, value a blob.
pub const PHOTOS: &str = "photos";
/// Small pictures under the same keys.
pub const THUMBNAILS: &str = "thumbnails";
/// Settings of this device: key a name, value a text.
pub const META: &str = "meta";

const NAME: &str = "swingtie";

/// Opens the database and brings it up to [`VERSION`]; one that is beyond that is left as it is, to be read.
pub async fn open(held: impl FnOnce() + 'static) -> Result<(Database, Access), StoreError> {
    let opening = Database::open(NAME)
        .with_version(VERSION)
        .with_on_blocked(|_| {
            held();
            Ok(())
        })
        .with_on_upgrade_needed(|event, db| {
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a small whole number"
            )]
            migrate(&db, event.old_version() as u8)
        });
    match opening.await {
        Ok(db) => Ok((db, Access::Whole)),
        Err(OpenDbError::Base(Error::DomException(DomException::Other(e)))) if e.name() == "VersionError" => {
            match Database::open(NAME).await {
                Ok(db) => Ok((db, Access::Reading)),
                Err(_) => Err(StoreError::Newer),
            }
        }
        Err(other) => Err(StoreError::Closed(other.to_string())),
    }
}

/// Steps from the version found, one version at a time, never skipping and never deleting.
fn migrate(db: &Database, found: u8) -> Result<(), Error> {
    if found < 1 {
        for name in [SITES, ENTRIES, PHOTOS, THUMBNAILS, META] {
            db.create_object_store(name).build()?;
        }
    }
    Ok(())
}
