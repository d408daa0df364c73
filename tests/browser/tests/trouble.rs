//! What goes wrong in a yard: a full phone, a wrong file, a new version in the middle of the work; and
//! what a person asks of the device: the other hand, the position.

use serde_json::json;
use std::fs;
use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};
use swingtie_xtask::dist;

async fn tie_under_way(surveyor: Surveyor<'_>) -> Outcome {
    surveyor.start("Tape between two points").await?;
    surveyor.point("A").await?;
    surveyor.point("B").await?;
    surveyor.number("31' 6\"").await
}

#[tokio::test]
async fn a_full_phone_is_told_and_the_reading_stays_on_the_screen() -> Outcome {
    // What a browser does when its storage is full: the request is refused with this name (Indexed
    // Database API 3.0, QuotaExceededError).
    const FULL: &str = "window.wholePut = IDBObjectStore.prototype.put; \
        IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError') }; 0";
    Phone::with("full", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Full phone").await?;
        tie_under_way(surveyor).await?;
        phone.evaluate(FULL).await?;
        surveyor.press("Save").await?;
        phone.wait("what went wrong", |look| look.says("Not saved")).await?;
        phone.picture("not-saved-phone-light").await?;
        let look = phone.look().await?;
        check(look.says("31' 6\""), "the reading is gone from the screen")?;
        surveyor.go("Book").await?;
        let book = phone.find("heading", "Book").await.and(phone.look().await)?;
        check(!book.says("31' 6\""), "a reading that was not saved is in the book")?;
        surveyor.go("Plan").await?;

        phone.evaluate("IDBObjectStore.prototype.put = window.wholePut; 0").await?;
        surveyor.press("Save").await?;
        phone.sees("B from A · 31' 6\"").await?;
        phone.reload().await?;
        phone.sees("B from A · 31' 6\"").await?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn books_and_tables_come_in_and_what_is_neither_is_refused() -> Outcome {
    Phone::with("files-in", Size::Phone, Scheme::Light, async |phone| {
        let scratch = Scratch::new("files-in")?;
        let surveyor = Surveyor::with(phone);
        let neither = scratch.file("shopping.csv", "milk;eggs\n2;12\n")?;
        phone.hand_over("Open a file", &neither).await?;
        phone.wait("why it is refused", |look| look.says("shopping.csv was not taken in")).await?;
        surveyor.press("Close").await?;

        surveyor.new_site("Written at home").await?;
        tie_under_way(surveyor).await?;
        surveyor.save("B from A · 31' 6\"").await?;
        surveyor.go("Sheet").await?;
        let book = surveyor.take("Field book (JSON Lines)", "book.jsonl").await?;
        let table = surveyor.take("Measurements (CSV)", "measurements.csv").await?;
        phone.tap("link", "All sites").await?;

        let book = scratch.file("from-a-friend.jsonl", &book)?;
        // Its entries are those of the site it was saved from.
        phone.hand_over("Open a file", &book).await?;
        phone.sees("Everything in it is here already").await?;
        surveyor.press("Open the site").await?;
        surveyor.go("Book").await?;
        phone.sees("31' 6\"").await?;
        phone.tap("link", "All sites").await?;
        let table = scratch.file("typed-up.csv", &table)?;
        surveyor.bring_in(&table).await?;
        surveyor.go("Book").await?;
        phone.sees("31' 6\"").await?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn the_hand_that_holds_the_phone_is_remembered() -> Outcome {
    /// Where the drawing's buttons are: left or right of the drawing's middle.
    async fn buttons_left(phone: &Phone) -> Outcome<bool> {
        let button = phone.find("button", "show all").await?;
        Ok(phone.middle(&button).await?.0 < 195.0)
    }
    Phone::with("left-hand", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        phone.tap("link", "Settings").await?;
        surveyor.press("Left hand").await?;
        phone.tap("link", "All sites").await?;
        surveyor.new_site("Left").await?;
        check(buttons_left(phone).await?, "the buttons are at the wrong hand")?;
        phone.reload().await?;
        phone.find("button", "Measure").await?;
        check(buttons_left(phone).await?, "the hand was forgotten")?;
        phone.picture("left-hand-phone-light").await?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn a_new_version_waits_until_it_is_wanted() -> Outcome {
    let scratch = Scratch::build("version")?;
    Phone::open_folder(scratch.folder(), "version", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("In the middle").await?;
        phone.kept_offline().await?;
        tie_under_way(surveyor).await?;
        let worker = fs::read_to_string(scratch.folder().join("sw.js"))?;
        let (before, id) = worker.split_once("id: \"").ok_or("the worker names no build")?;
        scratch.file("sw.js", format!("{before}id: \"f{id}"))?;
        phone.evaluate("navigator.serviceWorker.ready.then(r => r.update()).then(() => 0)").await?;
        phone.sees("A new version is ready. Nothing you recorded changes.").await?;
        phone.picture("new-version-phone-light").await?;
        // Not forced: the work goes on.
        surveyor.save("B from A · 31' 6\"").await?;
        phone.evaluate("window.beforeUpdate = true").await?;
        surveyor.press("Use it now").await?;
        phone.reloaded("beforeUpdate").await?;
        phone.sees("B from A · 31' 6\"").await?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn a_part_that_could_not_be_fetched_is_fetched_again() -> Outcome {
    let scratch = Scratch::build("part")?;
    let part = dist::paths(scratch.folder())?.into_iter().find(|path| path.starts_with("part-screens"));
    let part = part.ok_or("the build has no later part")?;
    fs::remove_file(scratch.folder().join(&part))?;
    Phone::open_folder(scratch.folder(), "part", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Bad signal").await?;
        // The plan needs nothing more.
        tie_under_way(surveyor).await?;
        surveyor.save("B from A · 31' 6\"").await?;
        surveyor.press("Back").await?;
        phone.wait("that no misread is looked for", |look| look.says("misreads are not looked for")).await?;
        phone.tap("link", "Book").await?;
        phone.wait("what is missing", |look| look.says("could not be fetched")).await?;
        phone.picture("no-part-phone-light").await?;
        fs::copy(dist::folder().join(&part), scratch.folder().join(&part))?;
        surveyor.press("Try again").await?;
        phone.sees("31' 6\"").await?;
        phone.find("heading", "Book").await?;
        phone.complained_of("part-screens").await
    })
    .await
}

#[tokio::test]
async fn the_phones_position_is_averaged_and_kept() -> Outcome {
    Phone::with("position", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Somewhere").await?;
        tie_under_way(surveyor).await?;
        surveyor.save("B from A · 31' 6\"").await?;
        phone.allow("geolocation").await?;
        let here = json!({ "latitude": 44.5, "longitude": -93.25, "accuracy": 6.0 });
        phone.command("Emulation.setGeolocationOverride", here).await?;
        surveyor.go("Problems").await?;
        phone.tap_containing("link", "Site details").await?;
        phone.choose("Line from", "A").await?;
        phone.choose("Line to", "B").await?;
        phone.fill("Bearing, degrees", "90").await?;
        surveyor.press("True north").await?;
        surveyor.press("Save north").await?;
        surveyor.press("Use this phone's position").await?;
        phone.wait("an averaged position", |look| look.says("phone, average of")).await?;
        phone.picture("position-phone-light").await?;
        phone.choose("At which point", "A").await?;
        surveyor.press("Save place").await?;
        surveyor.go("Sheet").await?;
        let layer = surveyor.take("Map layer (GeoJSON)", "plan.geojson").await?;
        check(layer.contains("-93.25"), "the map layer does not lie where the phone stood")?;
        Ok(())
    })
    .await
}
