//! Photos, from camera or gallery into the book: what is kept of them, what is said of them, and that
//! sixty at once neither hold up the page nor fill the memory.

use base64::{Engine, prelude::BASE64_STANDARD};
use sha2::{Digest, Sha256};
use std::{fs, path::PathBuf, time::Instant};
use swingtie_browser::{AUDIT, Look, Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};
use swingtie_core::{
    book::{Book, fold},
    record::{At, Facing, Photo, PhotoMark, Record},
};

/// What the tests ask of the page: pictures made by canvas, and what lies in the store.
const HELP: &str = "window.base64 = blob => new Promise(done => { const reader = new FileReader(); \
    reader.onload = () => done(reader.result.split(',')[1]); reader.readAsDataURL(blob); }); \
    window.drawn = (width, height, draw) => new Promise(done => { \
    const canvas = Object.assign(document.createElement('canvas'), { width, height }); \
    draw(canvas.getContext('2d')); canvas.toBlob(done, 'image/jpeg', 0.9); }); \
    window.stored = name => new Promise(done => { const opening = indexedDB.open('swingtie'); \
    opening.onsuccess = () => { const store = opening.result.transaction(name).objectStore(name); \
    const all = store.getAll(), keys = store.getAllKeys(); \
    keys.onsuccess = () => done(keys.result.map((key, at) => [key, all.result[at]])); }; }); 0";

/// A JPEG of this size, its left half red and its right half blue, as bytes.
async fn red_and_blue(phone: &Phone, width: u32, height: u32, seed: u32) -> Outcome<Vec<u8>> {
    phone.evaluate(HELP).await?;
    let script = format!(
        "drawn({width}, {height}, pen => {{ pen.fillStyle = '#ff0000'; pen.fillRect(0, 0, {width} / 2, {height}); \
         pen.fillStyle = '#0000ff'; pen.fillRect({width} / 2, 0, {width}, {height}); \
         pen.fillStyle = '#ffffff'; pen.fillRect({seed}, {height} / 2, 40, 40); }}).then(base64)"
    );
    let text = phone.evaluate(&script).await?;
    Ok(BASE64_STANDARD.decode(text.as_str().ok_or("no picture")?)?)
}

/// What a camera writes into a picture: that it was held on its side (orientation 6: the first column is
/// the upper edge), and where it was taken, 44° 30' north. Laid out by CIPA DC-008 (Exif 2.32), 4.6, and
/// TIFF 6.0, section 2; the tag numbers are from there.
fn with_exif(jpeg: &[u8]) -> Vec<u8> {
    let entry = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        [&tag.to_be_bytes()[..], &kind.to_be_bytes(), &count.to_be_bytes(), &value].concat()
    };
    let mut tiff = b"MM\0\x2A\0\0\0\x08".to_vec();
    // At 8: the first directory, two entries; it ends at 8 + 2 + 24 + 4 = 38.
    tiff.extend([0, 2]);
    tiff.extend(entry(0x0112, 3, 1, [0, 6, 0, 0]));
    tiff.extend(entry(0x8825, 4, 1, 38_u32.to_be_bytes()));
    tiff.extend([0; 4]);
    // At 38: where; its figures begin at 38 + 2 + 24 + 4 = 68.
    tiff.extend([0, 2]);
    tiff.extend(entry(1, 2, 2, *b"N\0\0\0"));
    tiff.extend(entry(2, 5, 3, 68_u32.to_be_bytes()));
    tiff.extend([0; 4]);
    tiff.extend(LATITUDE.iter().flat_map(|number| number.to_be_bytes()));
    let body = [b"Exif\0\0".as_slice(), &tiff].concat();
    let length = u16::try_from(body.len() + 2).unwrap_or_default().to_be_bytes();
    // Behind the start of the picture, its first two bytes.
    let (start, rest) = jpeg.split_at(2);
    [start, &[0xFF, 0xE1], &length, &body, rest].concat()
}

const LATITUDE: [u32; 6] = [44, 1, 30, 1, 0, 1];

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

/// The pictures in a store of the device, by their names.
async fn stored(phone: &Phone, store: &str) -> Outcome<Vec<(String, Vec<u8>)>> {
    phone.evaluate(HELP).await?;
    let script = format!(
        "stored('{store}').then(all => Promise.all(all.map(async ([key, blob]) => [key, await base64(blob)])))"
    );
    let all: Vec<(String, String)> = serde_json::from_value(phone.evaluate(&script).await?)?;
    all.into_iter().map(|(key, text)| Ok((key, BASE64_STANDARD.decode(text)?))).collect()
}

/// A file with these bytes.
fn file(scratch: &Scratch, name: &str, bytes: &[u8]) -> Outcome<PathBuf> {
    let path = scratch.folder().join(name);
    fs::write(&path, bytes)?;
    Ok(path)
}

async fn to_photos(phone: &Phone) -> Outcome {
    Surveyor::with(phone).go("Problems").await?;
    phone.tap_containing("link", "Photos").await?;
    phone.find("heading", "Photos").await?;
    Ok(())
}

async fn record(surveyor: Surveyor<'_>) -> Outcome<Record> {
    surveyor.go("Sheet").await?;
    let text = surveyor.take("Field book (JSON Lines)", "book.jsonl").await?;
    let (book, damaged) = Book::from_json_lines(&text);
    check(damaged.is_empty(), "the book cannot be read")?;
    Ok(fold(&book).record)
}

async fn photos(surveyor: Surveyor<'_>) -> Outcome<Vec<Photo>> {
    Ok(record(surveyor).await?.photos.into_iter().map(|photo| photo.what).collect())
}

#[tokio::test]
async fn a_photo_is_upright_small_and_does_not_say_where_it_was_taken() -> Outcome {
    Phone::with("photo-kept", Size::Phone, Scheme::Light, async |phone| {
        let (scratch, surveyor) = (Scratch::new("photo-kept")?, Surveyor::with(phone));
        surveyor.new_site("Pictures").await?;
        let camera = with_exif(&red_and_blue(phone, 2400, 1200, 0).await?);
        let figures: Vec<u8> = LATITUDE.iter().flat_map(|number| number.to_be_bytes()).collect();
        check(holds(&camera, &figures), "the test's own picture does not say where it was taken")?;
        let first = file(&scratch, "first.jpg", &camera)?;
        to_photos(phone).await?;
        phone.hand_over("Choose photos", &first).await?;
        phone.sees("1 photo added.").await?;
        let kept = stored(phone, "photos").await?;
        let (name, bytes) = kept.first().filter(|_| kept.len() == 1).ok_or("not one picture is kept")?;
        check(!holds(bytes, b"Exif") && !holds(bytes, &figures), "the kept picture says where it was taken")?;
        let sum: String = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        check(*name == sum, "the picture is not named by its bytes")?;
        // The camera's first column, red, is up; 2400 by 1200 on its side fits 2048 as 1024 by 2048.
        let look = "stored('STORE').then(async ([[, blob]]) => { const p = await createImageBitmap(blob); \
            const c = new OffscreenCanvas(p.width, p.height).getContext('2d'); c.drawImage(p, 0, 0); \
            const at = y => [...c.getImageData(p.width / 4, y * p.height, 1, 1).data]; \
            return [p.width, p.height, at(0.1)[0] > 200 && at(0.1)[2] < 60, at(0.9)[2] > 200 && at(0.9)[0] < 60]; })";
        let large = phone.evaluate(&look.replace("STORE", "photos")).await?;
        check(large == serde_json::json!([1024, 2048, true, true]), &format!("large: {large}"))?;
        let small = phone.evaluate(&look.replace("STORE", "thumbnails")).await?;
        check(small == serde_json::json!([160, 320, true, true]), &format!("small: {small}"))?;

        // The same again is the same photo.
        phone.hand_over("Choose photos", &first).await?;
        phone.sees("1 was here already").await?;

        // Kept only when asked for, and then to the byte.
        phone.tap("checkbox", "Keep the original file too").await?;
        let camera = with_exif(&red_and_blue(phone, 800, 600, 9).await?);
        phone.hand_over("Choose photos", &file(&scratch, "second.jpg", &camera)?).await?;
        phone.wait("the second photo", |look| look.all("button", |name| name.starts_with("Photo 2")).count() == 1).await?;
        let kept = stored(phone, "photos").await?;
        check(kept.len() == 3 && kept.iter().any(|(_, bytes)| *bytes == camera), "the original is not kept")?;
        let said = photos(surveyor).await?;
        let originals: Vec<_> = said.iter().map(|photo| photo.original.as_ref().map(|o| o.name.as_str())).collect();
        check(originals == [None, Some("second.jpg")], &format!("{originals:?}"))
    })
    .await
}

#[tokio::test]
async fn what_is_no_picture_is_named_and_the_rest_is_kept() -> Outcome {
    Phone::with("photo-bad", Size::Phone, Scheme::Light, async |phone| {
        let scratch = Scratch::new("photo-bad")?;
        Surveyor::with(phone).new_site("Pictures").await?;
        let good = red_and_blue(phone, 400, 300, 0).await?;
        // A PNG that says it is 20 000 by 20 000 (PNG Specification, 11.2.1), and nothing behind it.
        let huge =
            [b"\x89PNG\r\n\x1A\n\0\0\0\x0DIHDR".as_slice(), &[0, 0, 0x4E, 0x20, 0, 0, 0x4E, 0x20]].concat();
        // Larger than 100 megabytes, though it takes no room on this disk.
        let heavy = file(&scratch, "heavy.jpg", &good)?;
        fs::OpenOptions::new().write(true).open(&heavy)?.set_len(100_000_001)?;
        let files = [
            file(&scratch, "shopping.jpg", b"milk and eggs")?,
            file(&scratch, "huge.png", &huge)?,
            heavy,
            file(&scratch, "good.jpg", &good)?,
        ];
        // In a yard without signal, as everything.
        phone.kept_offline().await?;
        phone.walk_out_of_signal().await?;
        to_photos(phone).await?;
        phone.hand_over_all("Choose photos", &files.each_ref().map(PathBuf::as_path)).await?;
        let look = phone.sees("1 photo added. Left out: ").await?;
        for words in [
            "shopping.jpg (this browser cannot read it as a picture)",
            "huge.png (it has more than 100 megapixels)",
            "heavy.jpg (it is larger than 100 megabytes)",
        ] {
            check(look.says(words), &format!("it does not say {words:?}"))?;
        }
        phone.picture("photos-left-out-phone-light").await?;
        check(photos(Surveyor::with(phone)).await?.len() == 1, "the good one is not kept")
    })
    .await
}

/// Puts the focus there, for keys.
async fn focus(phone: &Phone, selector: &str) -> Outcome {
    check(
        phone.evaluate(&format!("(document.querySelector('{selector}').focus(), 1)")).await? == 1,
        "no focus",
    )
}

/// A tour of the screens of photos in the demo yard, with what can be measured of each.
async fn tour(phone: &Phone, suffix: &str) -> Outcome {
    let (scratch, surveyor) = (Scratch::new(&format!("photo-tour-{suffix}"))?, Surveyor::with(phone));
    let mut findings = Vec::new();
    let mut visit = async |name: &str| -> Outcome {
        phone.picture(&format!("{name}-{suffix}")).await?;
        let found: Vec<String> = serde_json::from_value(phone.evaluate(AUDIT).await?)?;
        findings.extend(found.into_iter().map(|finding| format!("{name}: {finding}")));
        Ok(())
    };
    surveyor.press("Look at a demo yard").await?;
    phone.find("button", "Measure").await?;
    let yard = file(&scratch, "yard.jpg", &red_and_blue(phone, 1600, 1200, 700).await?)?;
    let other = file(&scratch, "other.jpg", &red_and_blue(phone, 1600, 1200, 100).await?)?;

    // On a point's card, by one button.
    phone.tap_containing("button", "Point H1, ").await?;
    phone.hand_over("Take photos: H1", &yard).await?;
    phone.sees("1 photo added.").await?;
    phone.find("button", "Photo 1, at H1").await?;
    let shut = phone.evaluate("!document.querySelector('details.exact').open").await?;
    check(shut == true, "the tap that opened the card opened something on it, too")?;
    visit("point-card-photos").await?;

    to_photos(phone).await?;
    phone.hand_over("Choose photos", &other).await?;
    phone
        .wait("two photos", |look| look.all("button", |name| name.starts_with("Photo ")).count() == 2)
        .await?;
    visit("photos").await?;
    phone.tap("button", "Photo 1, at H1").await?;
    phone.find("image", "Photo 1, not described yet").await?;
    visit("photo").await?;

    phone.fill("What it shows", "Rotten corner board").await?;
    surveyor.press("Arrow").await?;
    let board = phone.find("application", "Marks on the picture: 0").await?;
    phone.tap_node(&board).await?;
    phone.find("application", "Marks on the picture: 1").await?;
    surveyor.press("Words").await?;
    phone.fill("Words to put there", "soft here").await?;
    focus(phone, ".board-marks").await?;
    phone.key("Enter").await?;
    phone.key("ArrowDown").await?;
    phone.find("application", "Marks on the picture: 2").await?;
    surveyor.press("Circle").await?;
    focus(phone, ".board-marks").await?;
    phone.key("Enter").await?;
    phone.find("application", "Marks on the picture: 3").await?;
    visit("photo-marks").await?;
    surveyor.press("Undo the last mark").await?;
    phone.find("application", "Marks on the picture: 2").await?;
    surveyor.press("Turn left").await?;
    focus(phone, "svg[role=slider]").await?;
    phone.key("+").await?;
    phone.key("-").await?;
    phone.key("-").await?;
    let view = phone.find("slider", "Which way it looks").await?;
    phone.bounds(&view).await?;
    visit("photo-view").await?;
    surveyor.press("Save changes").await?;
    phone.find("button", "Photo 1: Rotten corner board, at H1").await?;

    surveyor.go("Plan").await?;
    phone.wait("a free view", |look| look.find("button", "Close").is_none()).await?;
    surveyor.press("Back").await?;
    // The panel grows when advice comes, and what was aimed at moves.
    phone.find("button", "Tape it").await?;
    surveyor.press("photos").await?;
    phone.wait_for("document.querySelectorAll('.photo-pin .view-wedge').length === 1").await?;
    visit("plan-photos").await?;

    // Everything is there when the page comes back, and in the book.
    phone.reload().await?;
    to_photos(phone).await?;
    phone.tap("button", "Photo 1: Rotten corner board, at H1").await?;
    phone.find("image", "Rotten corner board").await?;
    phone.find("image", "Marks on the picture: 2").await?;
    let record = record(surveyor).await?;
    let h1 = record.by_label("H1").ok_or("no H1")?.id.clone();
    let first = record.photos.first().map(|photo| photo.what.clone()).ok_or("no photo")?;
    check(first.at == At::Points(vec![h1]), "it is not pinned to H1")?;
    let marks = first.marks.read();
    let as_drawn = matches!(marks.as_slice(), [PhotoMark::Arrow { .. }, PhotoMark::Text { text, .. }] if text == "soft here");
    check(as_drawn, &format!("{marks:?}"))?;
    // The first press puts it up the drawing; then three keys, in sum one of 5° back.
    let degrees = match first.facing {
        Some(Facing::Plan(angle)) => angle.degrees(),
        other => return Err(format!("it looks {other:?}").into()),
    };
    check((degrees - 85.0).abs() < 1e-9, &format!("it looks to {degrees}°"))?;
    check(findings.is_empty(), &format!("{} findings:\n{}", findings.len(), findings.join("\n")))
}

#[tokio::test]
async fn a_photo_is_pinned_drawn_on_and_comes_back_on_a_phone() -> Outcome {
    let (size, scheme) = (Size::Phone, Scheme::Light);
    Phone::with("photo-phone-light", size, scheme, async |phone| tour(phone, "phone-light").await).await
}

#[tokio::test]
async fn a_photo_is_pinned_drawn_on_and_comes_back_on_a_small_phone_at_dusk() -> Outcome {
    Phone::with("photo-small-dark", Size::Phone, Scheme::Dark, async |phone| {
        let small =
            serde_json::json!({ "width": 360, "height": 640, "deviceScaleFactor": 2, "mobile": true });
        phone.command("Emulation.setDeviceMetricsOverride", small).await?;
        tour(phone, "small-dark").await
    })
    .await
}

#[tokio::test]
async fn a_photo_is_pinned_drawn_on_and_comes_back_at_a_desk() -> Outcome {
    let (size, scheme) = (Size::Desk, Scheme::Light);
    Phone::with("photo-desk-light", size, scheme, async |phone| tour(phone, "desk-light").await).await
}

#[tokio::test]
async fn problems_have_photos_and_the_compass_tells_which_way_one_looks() -> Outcome {
    Phone::with("photo-problem", Size::Phone, Scheme::Light, async |phone| {
        let (scratch, surveyor) = (Scratch::new("photo-problem")?, Surveyor::with(phone));
        surveyor.new_site("Pictures").await?;
        let mut files = Vec::new();
        for seed in [0, 80, 160] {
            let name = format!("{seed}.jpg");
            files.push(file(&scratch, &name, &red_and_blue(phone, 400, 300, seed).await?)?);
        }
        surveyor.go("Problems").await?;
        surveyor.go("Add a problem").await?;
        phone.tap_containing("button", "Wet spot").await?;
        phone.hand_over_all("Take photos", &[&files[0], &files[1]]).await?;
        phone.sees("2 photos ready").await?;
        surveyor.press("Save problem").await?;
        phone.hand_over("Take photos: Wet spot", &files[2]).await?;
        phone.sees("1 photo added.").await?;
        phone
            .wait("three photos", |look| {
                look.all("image", |name| name == "Photo of the problem").count() == 3
            })
            .await?;
        phone.picture("problem-photos-phone-light").await?;

        phone.tap_containing("link", "Photos 3").await?;
        phone.tap_containing("button", "Photo 3, problem 1: Wet spot").await?;
        // A phone held upright that looks east: alpha 270°, beta 90° (W3C Device Orientation, worked
        // example: it faces 360° less alpha).
        let needle = "window.needle = setInterval(() => dispatchEvent(new DeviceOrientationEvent( \
            'deviceorientationabsolute', { absolute: true, alpha: 270, beta: 90, gamma: 0 })), 50); 0";
        phone.evaluate(needle).await?;
        surveyor.press("By the phone's compass, now").await?;
        phone.sees("It looks 90° from magnetic north, by compass, roughly").await?;
        surveyor.press("Save changes").await?;
        phone.evaluate("clearInterval(window.needle)").await?;
        phone.tap_containing("button", "Photo 2, whole site").await?;
        surveyor.press("Strike this photo").await?;
        phone
            .wait("two photos", |look| look.all("button", |name| name.starts_with("Photo ")).count() == 2)
            .await?;
        let record = record(surveyor).await?;
        let problem = record.problems.first().ok_or("no problem")?;
        check(problem.what.photos.len() == 2, "the problem does not name its two photos")?;
        let last = &record.photos.last().ok_or("no photo")?.what;
        check(last.of.as_ref() == Some(&problem.entry), "the third photo does not name the problem")?;
        let bearing = match last.facing {
            Some(Facing::Compass(angle)) => angle.degrees(),
            other => return Err(format!("it looks {other:?}").into()),
        };
        check((bearing - 90.0).abs() < 1e-9, &format!("{bearing}"))
    })
    .await
}

/// So many pictures of 12 megapixels, no two alike, with the grain that a camera's have, as files of a
/// gallery; then what the page is held up by is noted. Gives their mean size in bytes.
async fn gallery(phone: &Phone, number: u32) -> Outcome<f64> {
    const MAKE: &str = "(async () => { const files = []; const grain = new ImageData(500, 500); \
        for (let i = 0; i < grain.data.length; i++) grain.data[i] = i % 4 === 3 ? 255 : 96 + (i * 7919 % 97); \
        for (let n = 0; n < NUMBER; n++) { const blob = await drawn(4000, 3000, pen => { \
        for (let x = 0; x < 4000; x += 500) for (let y = 0; y < 3000; y += 500) pen.putImageData(grain, x, y); \
        pen.fillStyle = `hsl(${n * 6} 80% 50% / 0.6)`; pen.fillRect(0, 0, 4000, 3000); \
        pen.font = '900px sans-serif'; pen.fillStyle = '#fff'; pen.fillText(n, 1200, 1900); }); \
        files.push(new File([blob], `${n}.jpg`, { type: 'image/jpeg' })); } \
        window.longest = 0; new PerformanceObserver(list => { for (const task of list.getEntries()) \
        window.longest = Math.max(window.longest, task.duration); }).observe({ type: 'longtask' }); \
        window.gallery = files; return files.reduce((sum, file) => sum + file.size, 0) / NUMBER; })()";
    phone.evaluate(HELP).await?;
    let mean = phone.evaluate(&MAKE.replace("NUMBER", &number.to_string())).await?;
    Ok(mean.as_f64().ok_or("no pictures")?)
}

/// Holds the page up for longer than a person bears, and tells whether that was noted.
async fn holding_up_is_noted(phone: &Phone) -> Outcome<bool> {
    let hold = "new Promise(done => setTimeout(() => { const start = performance.now(); \
        while (performance.now() - start < 250); setTimeout(() => done(longest), 500); }))";
    Ok(phone.evaluate(hold).await?.as_f64().is_some_and(|longest| longest > 200.0))
}

/// Chooses all of them, as a person does in a gallery.
const CHOOSE_ALL: &str = "(() => { const all = new DataTransfer(); for (const file of gallery) all.items.add(file); \
    const input = document.querySelector(\"input[aria-label='Choose photos']\"); input.files = all.files; \
    input.dispatchEvent(new Event('change', { bubbles: true })); return 0; })()";

#[tokio::test]
async fn a_phone_that_dies_half_way_has_what_was_counted() -> Outcome {
    Phone::with("photo-killed", Size::Phone, Scheme::Light, async |phone| {
        Surveyor::with(phone).new_site("Pictures").await?;
        to_photos(phone).await?;
        gallery(phone, 8).await?;
        phone.evaluate(CHOOSE_ALL).await?;
        phone.sees("Photo 4 of 8").await?;
        phone.reload().await?;
        to_photos(phone).await?;
        let kept = phone.stored("photos").await?;
        check((3..8).contains(&kept), &format!("{kept} are kept where three were counted"))?;
        check(photos(Surveyor::with(phone)).await?.len() as u64 == kept, "the book and the store differ")
    })
    .await
}

#[tokio::test]
async fn where_workers_cannot_draw_the_page_does_it_in_steps() -> Outcome {
    Phone::with("photo-page", Size::Phone, Scheme::Light, async |phone| {
        Surveyor::with(phone).new_site("Pictures").await?;
        to_photos(phone).await?;
        gallery(phone, 4).await?;
        phone.evaluate("delete window.OffscreenCanvas").await?;
        phone.evaluate(CHOOSE_ALL).await?;
        phone.sees("4 photos added.").await?;
        let longest = phone.evaluate("longest").await?.as_f64().ok_or("nothing was noted")?;
        println!("on the page: longest task {longest:.0} ms");
        check(longest < 200.0, &format!("the page was held up for {longest} ms"))?;
        let size = "stored('photos').then(async all => { const p = await createImageBitmap(all[0][1]); \
            return [all.length, p.width, p.height]; })";
        let size = phone.evaluate(size).await?;
        check(size == serde_json::json!([4, 2048, 1536]), &format!("kept: {size}"))
    })
    .await
}

#[tokio::test]
async fn sixty_photos_at_once_hold_nothing_up_and_fill_nothing() -> Outcome {
    /// What a person would call frozen, in milliseconds.
    const FROZEN: f64 = 200.0;
    /// Two unpacked pictures of 12 megapixels.
    const MOST_LEFT: i64 = 96_000_000;
    Phone::with("photo-sixty", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.press("Look at a demo yard").await?;
        to_photos(phone).await?;
        let each = gallery(phone, 60).await?;

        // Stopped half way, what was counted is kept.
        phone.evaluate(CHOOSE_ALL).await?;
        // Between two looks several may have been counted.
        let under_way = |look: &Look| (4..50).any(|n| look.says(&format!("Photo {n} of 60")));
        phone.wait("some of them counted", under_way).await?;
        surveyor.press("Stop").await?;
        phone.wait("what became of them", |look| look.says("photos added, stopped: ")).await?;
        let first = phone.stored("photos").await?;
        check((3..60).contains(&first), &format!("{first} are kept of those before the stop"))?;

        phone.command("HeapProfiler.collectGarbage", serde_json::json!({})).await?;
        // Half as fast as it is; a processor that others use too allows no sharper watch.
        phone.slow_down(2).await?;
        phone.evaluate("longest = 0").await?;
        let (before, start) = (phone.memory()?, Instant::now());
        let mut most = before;
        phone.evaluate(CHOOSE_ALL).await?;
        while phone.stored("photos").await? < 60 && start.elapsed().as_secs() < 240 {
            most = most.max(phone.memory()?);
            phone.evaluate("new Promise(turn => setTimeout(turn, 200))").await?;
        }
        phone.wait("the end of the run", |look| look.says("were here already") && !look.says("of 60…")).await?;
        let longest = phone.evaluate("longest").await?.as_f64().ok_or("nothing was noted")?;
        let took = start.elapsed().as_secs_f64();
        phone.command("HeapProfiler.collectGarbage", serde_json::json!({})).await?;
        let after = phone.memory()?;
        let mega = |bytes: u64| bytes / 1_000_000;
        println!(
            "{} photos of {each:.0} bytes in {took:.0} s, longest task {longest:.0} ms; MB before, most, after: {}, {}, {}",
            60 - first, mega(before), mega(most), mega(after)
        );
        check(longest < FROZEN, &format!("the page was held up for {longest} ms"))?;
        check(holding_up_is_noted(phone).await?, "the test would not have seen the page held up")?;
        let left = i64::try_from(after)? - i64::try_from(before)?;
        check(left < MOST_LEFT, &format!("{left} bytes more are held than before"))?;

        phone.reload().await?;
        to_photos(phone).await?;
        let sixty = |look: &swingtie_browser::Look| look.all("button", |name| name.starts_with("Photo ")).count() == 60;
        phone.wait("sixty photos", sixty).await?;
        phone.picture("photos-sixty-phone-light").await?;
        check(photos(surveyor).await?.len() == 60, "not all sixty are in the book")?;
        check(phone.stored("photos").await? == 60, "not all sixty are in the store")
    })
    .await
}
