//! A yard of three hundred photos leaves and comes in without lying in memory.

use serde_json::Value;
use std::{
    sync::atomic::{AtomicBool, AtomicU64, Ordering},
    time::{Duration, Instant},
};
use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};
use swingtie_core::{
    book::{Book, Entry},
    record::{EntryId, Photo, PhotoId, Site, Statement},
};
use tokio::time::sleep;

const PHOTOS: usize = 300;
const BYTES: u64 = 4 * 1024 * 1024;
/// How much more the page's own processes may hold.
const MOST_MORE: u64 = 250_000_000;
const PATIENCE: Duration = Duration::from_secs(240);

/// Puts pictures of noise into the store, so many at a time, and tells their names.
const NOISE: &str = "window.noise = async (count, size) => { const names = []; \
    const opening = indexedDB.open('swingtie'); \
    const store = await new Promise(done => { opening.onsuccess = () => done(opening.result); }); \
    for (let n = 0; n < count; n += 1) { const bytes = new Uint8Array(size); \
    for (let at = 0; at < size; at += 65536) crypto.getRandomValues(bytes.subarray(at, at + 65536)); \
    const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)); \
    const name = Array.from(sum, byte => byte.toString(16).padStart(2, '0')).join(''); \
    const writing = store.transaction(['photos', 'thumbnails'], 'readwrite'); \
    writing.objectStore('photos').put(new Blob([bytes], { type: 'image/jpeg' }), name); \
    writing.objectStore('thumbnails').put(new Blob([bytes.subarray(0, 20000)], { type: 'image/jpeg' }), name); \
    await new Promise((done, wrong) => { writing.oncomplete = done; writing.onabort = wrong; }); \
    names.push(name); } store.close(); return names; }; 0";

fn book(names: &[String]) -> Outcome<Book> {
    let mut book = Book::new();
    let site = Site { name: "Many Photos".to_owned(), ..Site::default() };
    let photo =
        |name: &String| Statement::Photo(Photo::new(PhotoId(name.clone()), "image/jpeg".to_owned(), BYTES));
    for (n, statement) in std::iter::once(Statement::Site(site)).chain(names.iter().map(photo)).enumerate() {
        let id = EntryId(format!("photo-{n}"));
        book.add(Entry::new(id, book.next_clock(), 1_780_000_000_000, "tester".into(), statement)?)?;
    }
    Ok(book)
}

/// Does something while looking at the memory; gives the most that the page held beyond what it held before.
async fn watched(phone: &Phone, what: impl Future<Output = Outcome>) -> Outcome<u64> {
    let before = phone.memory()?;
    let (most, ended) = (AtomicU64::new(before), AtomicBool::new(false));
    let looking = async {
        while !ended.load(Ordering::Relaxed) {
            most.fetch_max(phone.memory()?, Ordering::Relaxed);
            sleep(Duration::from_millis(100)).await;
        }
        Ok::<(), Box<dyn std::error::Error>>(())
    };
    let doing = async {
        let outcome = what.await;
        ended.store(true, Ordering::Relaxed);
        outcome
    };
    let (done, looked) = tokio::join!(doing, looking);
    done?;
    looked?;
    Ok(most.load(Ordering::Relaxed).saturating_sub(before))
}

async fn until(phone: &Phone, wish: &str, words: &str) -> Outcome {
    let start = Instant::now();
    while !phone.look().await?.says(words) {
        if start.elapsed() > PATIENCE {
            return Err(format!("waited {} s for {wish}", PATIENCE.as_secs()).into());
        }
        sleep(Duration::from_millis(300)).await;
    }
    Ok(())
}

#[tokio::test]
async fn three_hundred_photos_leave_and_come_in_without_lying_in_memory() -> Outcome {
    let scratch = Scratch::new("many-photos")?;
    let package = scratch.folder().join("package.zip");
    Phone::with("many-photos-out", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        phone.evaluate(NOISE).await?;
        let mut names: Vec<String> = Vec::new();
        while names.len() < PHOTOS {
            let Value::Array(more) = phone.evaluate(&format!("noise(20, {BYTES})")).await? else {
                return Err("no pictures were made".into());
            };
            names.extend(more.iter().filter_map(|name| name.as_str().map(str::to_owned)));
        }
        let file = scratch.file("many.jsonl", book(&names)?.to_json_lines())?;
        surveyor.bring_in(&file).await?;
        surveyor.go("Sheet").await?;
        phone.tap("link", "Send everything to the designer").await?;
        phone.sees("All: 300, 1258 MB").await?;

        // Stopped on the way, nothing is there.
        surveyor.press("Save the package").await?;
        phone.tap("button", "Stop").await?;
        phone.sees("Stopped. Nothing was changed.").await?;

        let more = watched(phone, async {
            surveyor.press("Save the package").await?;
            phone.picture("package-progress-phone-light").await?;
            until(phone, "the package", "was saved.").await
        })
        .await?;
        println!("out: the page's memory rose by {} MB", more / 1_000_000);
        check(more < MOST_MORE, &format!("sending held {more} bytes more"))?;
        phone.move_download_ending(".zip", &package).await
    })
    .await?;
    Phone::with("many-photos-in", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        // Stopped on the way, nothing is there.
        phone.hand_over("Open a file", &package).await?;
        surveyor.press("Take it in").await?;
        phone.tap("button", "Stop").await?;
        phone.sees("Stopped. Nothing was changed.").await?;
        check(phone.stored("photos").await? == 0, "pictures were stored though it was stopped")?;

        let more = watched(phone, async {
            surveyor.press("Take it in").await?;
            until(phone, "the site", "Taken in: 301 entries and 300 photos.").await
        })
        .await?;
        println!("in: the page's memory rose by {} MB", more / 1_000_000);
        check(more < MOST_MORE, &format!("taking in held {more} bytes more"))?;
        check(phone.stored("photos").await? == PHOTOS as u64, "not every picture is there")
    })
    .await
}
