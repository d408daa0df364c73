//! Nothing that was acknowledged is lost, at whichever moment the browser is killed.
//!
//! Notes and photos are saved one after the other, as fast as the screen acknowledges them; at a moment chosen by a
//! seeded generator all processes of the browser get SIGKILL; a new one is started on the same data, and everything that
//! a screen had acknowledged before must be there: each note in the book, each photo with a picture that opens.
//!
//! `KILLS=200 cargo test -p swingtie-browser --test killed` kills that often; a short run stands in the usual tests.
//! What is tried is the order of writes and acknowledgements. A power cut, which also takes what the system has not
//! written to the disk yet, is not tried here; for that every write asks for strict durability.

use std::{env, time::Duration};
use swingtie_browser::{Outcome, PHOTOS_SHOWN, Phone, Scheme, Size, Surveyor, check, kill};
use swingtie_tests::dice::Dice;
use tokio::time::sleep;

/// What the page can do: save a note or a photo and answer once the screen acknowledges it; tell what it shows.
const HANDS: &str = r#"
globalThis.hands = {
  async until(fits) {
    for (;;) { const found = fits(); if (found) return found; await new Promise(done => setTimeout(done, 8)); }
  },
  button(text) {
    return [...document.querySelectorAll('button')].find(b => b.textContent.trim() === text && b.getClientRects().length);
  },
  async note(text) {
    location.hash = location.hash.replace(/[^/]*$/, 'notes');
    const field = await this.until(() => document.querySelector('form textarea'));
    [...document.querySelectorAll('.chip')].find(chip => chip.textContent.trim() === 'What stays').click();
    field.value = text;
    field.dispatchEvent(new Event('input', { bubbles: true }));
    (await this.until(() => this.button('Save note'))).click();
    await this.until(() => [...document.querySelectorAll('.items .item-text > span')].some(s => s.textContent === text));
    return text;
  },
  async photo(number) {
    location.hash = location.hash.replace(/[^/]*$/, 'photos');
    const input = await this.until(() => document.querySelector("input[aria-label='Choose photos']"));
    const canvas = Object.assign(document.createElement('canvas'), { width: 640, height: 480 });
    const pen = canvas.getContext('2d');
    for (let i = 0; i < 400; i++) {
      pen.fillStyle = `hsl(${(number * 37 + i * 11) % 360} 60% 50%)`;
      pen.fillRect((i * 97 + number * 13) % 640, (i * 61) % 480, 40, 30);
    }
    const blob = await new Promise(done => canvas.toBlob(done, 'image/jpeg', 0.9));
    const before = this.photos();
    const all = new DataTransfer();
    all.items.add(new File([blob], `yard-${number}.jpg`, { type: 'image/jpeg' }));
    input.files = all.files;
    input.dispatchEvent(new Event('change', { bubbles: true }));
    return await this.until(() => this.photos() > before && this.photos());
  },
  photos() { return document.querySelectorAll('.photo-grid img').length; },
};
0"#;

/// The purpose of this test's dice.
const KILLED: u64 = 0x6B69_6C6C;

/// What a screen has acknowledged.
#[derive(Default)]
struct Acknowledged {
    notes: Vec<String>,
    photos: u64,
}

#[tokio::test]
async fn what_was_acknowledged_is_there_after_a_kill() -> Outcome {
    let kills: u64 = env::var("KILLS").ok().and_then(|text| text.parse().ok()).unwrap_or(8);
    let seed = env::var("SEED").ok().and_then(|text| text.parse().ok()).unwrap_or(20_261_126);
    Phone::with("killed", Size::Phone, Scheme::Light, async |phone| {
        Surveyor::with(phone).new_site("Elm corner").await?;
        let site = phone.evaluate("location.hash.split('/')[2]").await?;
        let site = site.as_str().ok_or("no site in the address")?.to_owned();
        let (mut chance, mut known, mut said) = (Dice::new(KILLED, seed), Acknowledged::default(), 0_u64);
        let mut under_way = 0;
        for round in 0..kills {
            phone.evaluate(HANDS).await?;
            let processes = phone.browser_processes()?;
            let wait = Duration::from_millis(20 + chance.below(900) as u64);
            let before = said;
            tokio::select! {
                () = sleep(wait) => {}
                outcome = save_on(phone, &mut chance, &mut known, &mut said) => outcome?,
            }
            kill(&processes)?;
            under_way += u64::from(said > before);
            phone.start_again().await?;
            look(phone, &site, &known)
                .await
                .map_err(|error| format!("seed {seed}, kill {round}: {error}"))?;
        }
        println!(
            "{kills} kills: {} notes and {} photos acknowledged, all there",
            known.notes.len(),
            known.photos
        );
        // Else it would have proved nothing.
        check(
            under_way * 2 > kills && !known.notes.is_empty(),
            "hardly anything was under way when the browser was killed",
        )
    })
    .await
}

/// Saves until it is stopped.
async fn save_on(phone: &Phone, chance: &mut Dice, known: &mut Acknowledged, said: &mut u64) -> Outcome {
    loop {
        *said += 1;
        if chance.below(3) == 0 {
            let seen = phone.evaluate(&format!("hands.photo({said})")).await;
            // The browser was killed, or the page said no; which of them, the next look tells.
            let Ok(seen) = seen else { return std::future::pending().await };
            known.photos = known.photos.max(seen.as_u64().unwrap_or_default());
        } else {
            let text = format!("wet spot {said}");
            let Ok(_) = phone.evaluate(&format!("hands.note('{text}')")).await else {
                return std::future::pending().await;
            };
            known.notes.push(text);
        }
    }
}

/// Everything acknowledged is there, and what is there opens.
async fn look(phone: &Phone, site: &str, known: &Acknowledged) -> Outcome {
    phone.evaluate(&format!("location.hash = '#/site/{site}/notes'")).await?;
    phone.find("heading", "Notes").await?;
    let shown = "[...document.querySelectorAll('.items .item-text > span')].map(s => s.textContent)";
    let shown: Vec<String> = serde_json::from_value(phone.evaluate(shown).await?)?;
    let lost: Vec<&String> = known.notes.iter().filter(|note| !shown.contains(note)).collect();
    check(lost.is_empty(), &format!("lost: {lost:?}"))?;
    phone.evaluate(&format!("location.hash = '#/site/{site}/photos'")).await?;
    phone.find("heading", "Photos").await?;
    if known.photos > 0 {
        phone
            .wait_for(&format!("({PHOTOS_SHOWN}) >= {}", known.photos))
            .await
            .map_err(|_| format!("of {} photos acknowledged not all open", known.photos))?;
    }
    let told = phone.look().await?;
    check(!told.says("could not be read"), "lines of the book cannot be read")
}
