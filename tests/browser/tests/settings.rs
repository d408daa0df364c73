//! Settings: kept on the device, at work at once, and there before anything is drawn.

use serde_json::json;
use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};

async fn settings(phone: &Phone) -> Outcome {
    phone.tap("link", "Settings").await?;
    phone.find("heading", "Settings").await?;
    Ok(())
}

/// A property of the whole page as the browser works it out.
async fn page(phone: &Phone, property: &str) -> Outcome<String> {
    let script = format!("getComputedStyle(document.body).{property}");
    Ok(phone.evaluate(&script).await?.as_str().unwrap_or_default().to_owned())
}

#[tokio::test]
async fn a_theme_holds_at_once_and_from_the_first_frame_on() -> Outcome {
    Phone::with("settings-theme", Size::Phone, Scheme::Dark, async |phone| {
        settings(phone).await?;
        let dark = page(phone, "backgroundColor").await?;
        check(dark == "rgb(22, 32, 43)", &format!("a dark device has a page of {dark}"))?;
        phone.tap("button", "Sunlight").await?;
        let sun = page(phone, "backgroundColor").await?;
        check(sun == "rgb(255, 255, 255)", &format!("sunlight is {sun}"))?;
        phone.tap("button", "Extra large").await?;
        let size = page(phone, "fontSize").await?;
        // 16 px × 1.0625, the usual size, × 1.6.
        check(size == "27.2px", &format!("extra large is {size}"))?;
        // What the very first frame after a reload has.
        let watch = "requestAnimationFrame(() => { \
            window.first = document.documentElement.dataset.theme + ' ' + document.documentElement.dataset.text; })";
        phone.command("Page.addScriptToEvaluateOnNewDocument", json!({ "source": watch })).await?;
        phone.reload().await?;
        phone.find("heading", "Settings").await?;
        let first = phone.evaluate("window.first").await?;
        check(first == "sun extra", &format!("the first frame has {first}"))?;
        let on = |look: &swingtie_browser::Look| look.find("button", "Sunlight").is_some_and(|node| node.on);
        check(on(&phone.look().await?), "after a reload the settings do not show the theme")?;
        phone.tap("button", "As the device").await?;
        let dark = page(phone, "backgroundColor").await?;
        check(dark == "rgb(22, 32, 43)", &format!("back to the device's theme is {dark}"))
    })
    .await
}

#[tokio::test]
async fn new_sites_start_as_the_settings_say_and_old_ones_keep_theirs() -> Outcome {
    Phone::with("settings-new", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Earlier").await?;
        phone.tap("link", "All sites").await?;
        settings(phone).await?;
        phone.tap("button", "Metres").await?;
        phone.fill("Your name", "Somebody").await?;
        phone.tap("button", "laser").await?;
        phone.fill("How close it reads, plus or minus", "2").await?;
        phone.tap("link", "All sites").await?;
        surveyor.new_site("After").await?;
        surveyor.start("Tape between two points").await?;
        phone.wait("the laser in the hand", |look| look.says("laser, how: ")).await?;
        for point in ["A", "B"] {
            surveyor.point(point).await?;
        }
        phone.find("button", "millimetres").await?;
        for key in ["4", "metres"] {
            surveyor.press(key).await?;
        }
        surveyor.save("4").await?;
        surveyor.go("Sheet").await?;
        let book = surveyor.take("Field book (JSON Lines)", "book.jsonl").await?;
        check(book.contains("\"surveyor\":\"Somebody\""), "the new site does not say who measures")?;
        check(book.contains("\"units\":\"metres\""), "the new site is not in metres")?;
        check(book.contains("\"sd_metres\":0.002"), "how close the laser reads is not in the book")?;
        phone.tap("link", "All sites").await?;
        phone.tap_containing("link", "Earlier").await?;
        surveyor.start("Tape between two points").await?;
        for point in ["A", "B"] {
            surveyor.point(point).await?;
        }
        phone.find("button", "feet").await?;
        Ok(())
    })
    .await
}

/// Notes down what the phone was asked to do, in place of doing it.
const LISTEN: &str = "window.buzzes = []; navigator.vibrate = pattern => buzzes.push([...pattern].join('-')); \
    window.tones = []; const start = OscillatorNode.prototype.start; \
    OscillatorNode.prototype.start = function (...at) { tones.push(this.frequency.value); start.apply(this, at); }; 0";

#[tokio::test]
async fn saved_and_asked_feel_and_sound_different_and_can_be_turned_off() -> Outcome {
    Phone::with("settings-signals", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_house("Signals").await?;
        phone.evaluate(LISTEN).await?;
        surveyor.go("Problems").await?;
        settings(phone).await?;
        let beep = phone.look().await?;
        let on = beep.all("button", |name| name == "On").nth(1).cloned().ok_or("no switch for sound")?;
        phone.tap_node(&on).await?;
        surveyor.go("Plan").await?;
        // H1 to H3 is the diagonal of 40 by 30 ft: 50 ft. What is typed is not that.
        surveyor.start("Tape between two points").await?;
        surveyor.point("H1").await?;
        surveyor.point("H3").await?;
        surveyor.number("45'").await?;
        surveyor.press("Save").await?;
        phone
            .wait("the question", |look| look.all("button", |n| n.starts_with("Keep ")).next().is_some())
            .await?;
        phone
            .wait_for("buzzes.at(-1) === '180-120-180' && tones.length === 2 && tones.every(t => t === 440)")
            .await?;
        phone.tap_containing("button", "Keep ").await?;
        phone.wait_for("buzzes.at(-1) === '40' && tones.length === 3 && tones.at(-1) === 1320").await?;
        surveyor.go("Problems").await?;
        settings(phone).await?;
        for number in [0, 1] {
            let look = phone.look().await?;
            let off = look.all("button", |name| name == "Off").nth(number).cloned().ok_or("no switch")?;
            phone.tap_node(&off).await?;
        }
        phone.evaluate("buzzes.length = tones.length = 0").await?;
        surveyor.press("Try: saved").await?;
        surveyor.press("Try: a question").await?;
        check(
            phone.evaluate("buzzes.length + tones.length").await? == 0,
            "what is off is still heard or felt",
        )
    })
    .await
}

/// A wake lock that only counts: how many are held.
const LOCKS: &str = "window.held = 0; Object.defineProperty(navigator, 'wakeLock', { configurable: true, value: { \
    request: async () => { held += 1; return { release: async () => { held -= 1; } }; } } }); 0";

#[tokio::test]
async fn the_screen_stays_on_while_a_site_is_open_unless_it_shall_not() -> Outcome {
    Phone::with("settings-awake", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        phone.evaluate(LOCKS).await?;
        surveyor.new_site("Awake").await?;
        phone.wait_for("held === 1").await?;
        surveyor.go("Problems").await?;
        settings(phone).await?;
        let last =
            |look: &swingtie_browser::Look, name: &str| look.all("button", |n| n == name).last().cloned();
        let off = last(&phone.look().await?, "Off").ok_or("no switch for the screen")?;
        phone.tap_node(&off).await?;
        phone.wait_for("held === 0").await?;
        let on = last(&phone.look().await?, "On").ok_or("no switch for the screen")?;
        phone.tap_node(&on).await?;
        phone.wait_for("held === 1").await?;
        phone.tap("link", "All sites").await?;
        phone.wait_for("held === 0").await
    })
    .await
}

#[tokio::test]
async fn worked_out_lengths_are_shown_as_fine_as_wanted() -> Outcome {
    Phone::with("settings-fine", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.press("Look at a demo yard").await?;
        phone.tap("link", "Book").await?;
        phone.wait("a difference to the sixteenth", |look| look.says("Agrees within 1/16\"")).await?;
        phone.tap("link", "Problems").await?;
        settings(phone).await?;
        phone.tap("button", "Rounded").await?;
        phone.tap("link", "Book").await?;
        phone.wait("the same, rounded away", |look| look.says("Agrees with the others")).await?;
        let fine = phone.look().await?.says("Agrees within 1/16\"");
        check(!fine, "a sixteenth is still shown")?;
        phone.reload().await?;
        phone.wait("the same after a reload", |look| look.says("Agrees with the others")).await?;
        check(!phone.look().await?.says("Agrees within 1/16\""), "a sixteenth is shown after a reload")
    })
    .await
}
