//! Nothing is lost when the store itself gets into trouble: a newer version of the app in another window, an older window
//! that will not let go, a device that is really full, storage that is refused, a clock that is set back, the program's
//! copy cleared while the data stay.

use serde_json::json;
use std::time::Duration;
use swingtie_browser::{Outcome, PHOTOS_SHOWN, Phone, Scheme, Size, Surveyor, check};
use tokio::time::sleep;

const KEPT: &str = "B from A · 31' 6\"";

async fn one_tie(surveyor: Surveyor<'_>, site: &str) -> Outcome {
    surveyor.new_site(site).await?;
    surveyor.tie("A", "B", "31' 6\"").await
}

/// Begins a tape, and fails unless the screen says that it is not saved.
async fn cannot_save(phone: &Phone) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.start("Tape between two points").await?;
    surveyor.point("A").await?;
    surveyor.point("C").await?;
    surveyor.number("12' 0\"").await?;
    surveyor.press("Save").await?;
    phone.sees("Not saved: this window can no longer use the storage").await.map(drop)
}

#[tokio::test]
async fn an_older_version_gives_way_to_a_newer_one_and_then_only_reads() -> Outcome {
    // Indexed Database API 3.0: a connection of a higher version waits until the others have closed.
    const NEWER: &str = "new Promise((done, failed) => { \
        const opening = indexedDB.open('swingtie', 99); \
        opening.onupgradeneeded = () => opening.result.createObjectStore('of a later version'); \
        opening.onerror = () => failed(opening.error); \
        opening.onsuccess = () => { opening.result.close(); done(true); }; })";
    Phone::with("newer", Size::Phone, Scheme::Light, async |phone| {
        one_tie(Surveyor::with(phone), "Two versions").await?;
        check(phone.evaluate(NEWER).await? == true, "the newer version was kept waiting")?;
        phone.sees("A newer version of Swingtie goes on in another window").await?;
        phone.picture("taken-over-phone-light").await?;
        cannot_save(phone).await?;

        phone.reload().await?;
        phone.sees("This older one shows what it can and saves nothing").await?;
        phone.sees(KEPT).await?;
        // What was typed and not saved is still there as well.
        phone.sees("12' 0\"").await?;
        phone.picture("only-reading-phone-light").await?;
        phone.tap("button", "Save").await?;
        phone.sees("Not saved: this window can no longer use the storage").await?;
        let before = phone.stored("entries").await?;
        phone.reload().await?;
        check(before > 0 && phone.stored("entries").await? == before, "entries came or went")
    })
    .await
}

#[tokio::test]
async fn a_newer_version_waits_for_an_older_window_and_says_so() -> Outcome {
    // Stands in for the next version of the app, which will ask for a higher version of the store.
    const NEXT: &str = "{ const open = IDBFactory.prototype.open; \
        IDBFactory.prototype.open = function (name, version) { return open.call(this, name, version && version + 1); }; }";
    Phone::with("held", Size::Phone, Scheme::Light, async |phone| {
        one_tie(Surveyor::with(phone), "An old window").await?;
        // An old window that does not hear: a page put to sleep by the phone.
        phone
            .evaluate("window.letGo = []; IDBDatabase.prototype.close = function () { letGo.push(this); }; 0")
            .await?;
        phone
            .in_another_window(async || {
                phone.command("Page.enable", json!({})).await?;
                phone.command("Page.addScriptToEvaluateOnNewDocument", json!({ "source": NEXT })).await?;
                phone.evaluate("location.reload(); 0").await?;
                phone.sees("Swingtie is open in another window, in an older version").await?;
                phone.picture("held-phone-light").await.map(drop)
            })
            .await?;
        phone.sees("A newer version of Swingtie goes on in another window").await?;
        phone.evaluate("delete IDBDatabase.prototype.close; 0").await?;
        phone.reload().await?;
        phone.sees(KEPT).await.map(drop)
    })
    .await
}

#[tokio::test]
async fn refused_storage_is_said() -> Outcome {
    // What a browser does where site data is blocked (HTML, `SecurityError` of a storage getter), and where there is no
    // such thing at all.
    for refusal in ["throw new DOMException('denied', 'SecurityError')", "return undefined"] {
        Phone::with("refused", Size::Phone, Scheme::Light, async |phone| {
            let source = format!(
                "for (const name of ['indexedDB', 'localStorage']) \
                    Object.defineProperty(window, name, {{ configurable: true, get() {{ {refusal} }} }});"
            );
            phone.command("Page.enable", json!({})).await?;
            phone.command("Page.addScriptToEvaluateOnNewDocument", json!({ "source": source })).await?;
            phone.evaluate("location.reload(); 0").await?;
            phone.sees("Swingtie keeps everything on this device, and cannot").await?;
            phone.picture("refused-phone-light").await.map(drop)
        })
        .await
        .map_err(|error| format!("{refusal}: {error}"))?;
    }
    Ok(())
}

/// Adds photos of noise, which no compression makes small, by the screen's own field.
const PHOTOS: &str = r"
    globalThis.addPhotos = async (count) => {
      location.hash = location.hash.replace(/[^/]*$/, 'photos');
      const until = async (fits) => { while (!fits()) await new Promise((done) => setTimeout(done, 20)); return fits(); };
      const input = await until(() => document.querySelector(`input[aria-label='Choose photos']`));
      const canvas = Object.assign(document.createElement('canvas'), { width: 1200, height: 900 });
      const pen = canvas.getContext('2d');
      const all = new DataTransfer();
      for (let n = 0; n < count; n++) {
        const dots = pen.createImageData(1200, 900);
        let state = (globalThis.seed = (globalThis.seed ?? 1) + 1) * 2654435761 >>> 0;
        for (let i = 0; i < dots.data.length; i++) {
          state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
          dots.data[i] = i % 4 === 3 ? 255 : state >>> 24;
        }
        pen.putImageData(dots, 0, 0);
        const blob = await new Promise((done) => canvas.toBlob(done, 'image/jpeg', 0.9));
        all.items.add(new File([blob], `yard-${seed}.jpg`, { type: 'image/jpeg' }));
      }
      input.files = all.files;
      input.dispatchEvent(new Event('change', { bubbles: true }));
      return true;
    };
    0";

const FULL: &str = "the device has no room left for it";

/// From now on there is room for 100 kB more.
async fn no_room(phone: &Phone) -> Outcome {
    let used = phone.evaluate("navigator.storage.estimate().then(e => e.usage)").await?;
    let used = used.as_f64().ok_or("no usage")?;
    let origin = phone.evaluate("location.origin").await?;
    let quota = json!({ "origin": origin, "quotaSize": used + 100_000.0 });
    phone.command("Storage.overrideQuotaForOrigin", quota).await
}

#[tokio::test]
async fn a_full_device_refuses_keeps_what_was_there_and_gets_room_again() -> Outcome {
    Phone::with("quota", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        one_tie(surveyor, "To be removed").await?;
        phone.evaluate(PHOTOS).await?;
        phone.evaluate("addPhotos(3)").await?;
        phone.wait_for(&format!("{PHOTOS_SHOWN} === 3")).await?;
        phone.tap("link", "All sites").await?;
        one_tie(surveyor, "Full yard").await?;
        phone.evaluate("addPhotos(1)").await?;
        phone.wait_for(&format!("{PHOTOS_SHOWN} === 1")).await?;

        // Room for less than one more (Chrome DevTools protocol, Storage.overrideQuotaForOrigin). The browser believes for
        // half a minute what it last knew of it.
        no_room(phone).await?;
        let mut there = 1;
        while !phone.look().await?.says(FULL) {
            check(there < 20, "twenty photos found room where there is none")?;
            phone.evaluate("addPhotos(1)").await?;
            phone
                .wait_for(&format!("{PHOTOS_SHOWN} > {there} || document.body.innerText.includes('{FULL}')"))
                .await?;
            there = phone.evaluate(PHOTOS_SHOWN).await?.as_u64().ok_or("no number")?;
            sleep(Duration::from_secs(3)).await;
        }
        phone.picture("full-phone-light").await?;
        check(phone.stored("photos").await? == there + 3, "a photo that was refused is in the store")?;

        // All that was there is there.
        phone.reload().await?;
        phone.evaluate(PHOTOS).await?;
        phone.wait_for(&format!("{PHOTOS_SHOWN} === {there}")).await?;
        no_room(phone).await?;
        surveyor.go("Plan").await?;
        phone.sees(KEPT).await?;

        // A site goes, its pictures go with it, and there is room.
        phone.tap("link", "All sites").await?;
        phone.sees("To be removed").await?;
        phone.tap("DisclosureTriangle", "More about To be removed").await?;
        surveyor.press("Remove from this device").await?;
        surveyor.press("Remove for good").await?;
        phone.wait_for("document.querySelectorAll('.card').length === 1").await?;
        check(phone.stored("photos").await? == there, "pictures of a site that is gone take up room")?;
        phone.tap_containing("link", "Full yard").await?;
        phone.evaluate("addPhotos(1)").await?;
        phone.wait_for(&format!("{PHOTOS_SHOWN} === {}", there + 1)).await?;
        check(phone.stored("photos").await? == there + 1, "not all are in the store")
    })
    .await
}

#[tokio::test]
async fn a_clock_set_back_changes_no_order() -> Outcome {
    Phone::with("clock", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        one_tie(surveyor, "A dead battery").await?;
        // A phone that has lost its time begins with its first day.
        phone.evaluate("{ const now = Date.now; Date.now = () => now() - 40 * 365 * 86400e3; } 0").await?;
        surveyor.tie("A", "C", "12' 0\"").await?;
        surveyor.press("Undo").await?;
        phone.wait("that it is taken back", |look| !look.says("C from A")).await?;
        surveyor.tie("A", "D", "14' 0\"").await?;
        phone.reload().await?;
        phone.sees("D from A · 14' 0\"").await?;
        surveyor.go("Book").await?;
        // The plan says the last reading too: it may still show when the book is asked for.
        let wish = "a book of what was done";
        let done = ["14' 0\"", "31' 6\"", "struck"];
        phone.wait(wish, |look| look.says("What changed") && done.iter().all(|said| look.says(said))).await?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn a_cleared_program_comes_again_and_finds_the_data() -> Outcome {
    Phone::with("cleared", Size::Phone, Scheme::Light, async |phone| {
        one_tie(Surveyor::with(phone), "Cleared").await?;
        phone.kept_offline().await?;
        let origin = phone.evaluate("location.origin").await?;
        let what = json!({ "origin": origin, "storageTypes": "cache_storage,service_workers" });
        phone.command("Storage.clearDataForOrigin", what).await?;
        check(phone.evaluate("caches.keys().then(keys => keys.length)").await? == 0, "nothing was cleared")?;
        phone.reload().await?;
        phone.sees(KEPT).await?;
        // And is there without a signal again.
        phone.kept_offline().await?;
        phone.walk_out_of_signal().await?;
        phone.reload().await?;
        phone.sees(KEPT).await.map(drop)
    })
    .await
}

/// Spoils everything that the program keeps in its memory; hands back how much that is.
const SPOIL: &str = "(async () => { const name = document.querySelector('link[rel=modulepreload]').href; \
    const all = new Uint8Array((await (await import(name)).default()).memory.buffer); return all.fill(0xff).length; })()";

#[tokio::test]
async fn a_program_that_falls_over_is_started_anew_with_all_that_was_typed() -> Outcome {
    Phone::with("fell", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        one_tie(surveyor, "Fallen").await?;
        surveyor.start("Tape between two points").await?;
        surveyor.point("A").await?;
        surveyor.point("C").await?;
        surveyor.number("12' 0\"").await?;
        phone.evaluate("window.beforeFall = true").await?;
        check(phone.evaluate(SPOIL).await?.as_f64().is_some_and(|all| all > 1e6), "nothing was spoilt")?;
        phone.tap("button", "Save").await?;
        phone.reloaded("beforeFall").await?;
        phone.sees("Swingtie stopped and was started again").await?;
        phone.picture("fell-phone-light").await?;
        phone.tap("button", "Close").await?;
        phone.sees("12' 0\"").await?;
        surveyor.press("Save").await?;
        phone.sees("C from A · 12' 0\"").await?;

        // Soon again: not for ever by itself, and not in the place where it fell.
        phone.evaluate(SPOIL).await?;
        phone.evaluate("document.querySelector('button:not(.banner button)').click(); 0").await?;
        phone.sees("Swingtie stopped again").await?;
        phone.picture("fell-again-phone-light").await?;
        phone.evaluate("window.beforeFall = true").await?;
        phone.tap("button", "Load again").await?;
        phone.reloaded("beforeFall").await?;
        phone.tap_containing("link", "Fallen").await?;
        phone.sees("C from A · 12' 0\"").await?;
        phone.complained_of("RuntimeError").await
    })
    .await
}
