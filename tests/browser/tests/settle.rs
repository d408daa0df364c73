//! Readings that contradict each other are settled on the spot, and the next tape is advised.

use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};
use swingtie_tests::scenario::{Options, Sketch, scenario};

/// What the yard's author wrote wrong: 19 ft 5 in for 16 ft 5 in.
const MISREAD: &str = "T3 from B reads 19' 5\"";
const RIGHT: &str = "Correct to 16' 5\"";

async fn second_yard(phone: &Phone, name: &str) -> Outcome {
    let scratch = Scratch::new(name)?;
    let options = Options { sketch: Sketch::Recorded, ..Options::default() };
    let book = scratch.file("yard.jsonl", scenario(2).json_lines(&options))?;
    Surveyor::with(phone).bring_in(&book).await?;
    phone.wait("the misread on the plan", |look| look.says(MISREAD)).await?;
    Ok(())
}

async fn settled(phone: &Phone) -> Outcome {
    phone.wait("no contradiction", |look| !look.says("in doubt") && !look.says(MISREAD)).await?;
    Ok(())
}

#[tokio::test]
async fn a_misread_is_named_with_its_cause_and_corrected_kept_or_struck() -> Outcome {
    Phone::with("settle", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        second_yard(phone, "settle").await?;
        surveyor.press("Look at it").await?;
        phone.find("group", MISREAD).await?;
        phone.wait("its cause", |look| look.says("A 9 for a 6?")).await?;
        phone.picture("doubt-phone-light").await?;
        // The drawing shows the two ends of it, and says of others that they wait.
        let look = phone.look().await?;
        let ends = look.all("button", |n| n == "Point T3, in doubt" || n.starts_with("Point B, ")).count();
        check(ends == 2, "the ends of the reading in question are not on the drawing")?;
        check(look.all("button", |n| n.ends_with(", waiting")).count() > 3, "nothing waits")?;
        check(look.says("1 reading in doubt"), "the strip does not say what is in doubt")?;

        surveyor.press(RIGHT).await?;
        settled(phone).await?;
        surveyor.press("Undo").await?;
        phone.wait("the misread again", |look| look.says(MISREAD)).await?;

        surveyor.press("Look at it").await?;
        surveyor.press("Keep it").await?;
        phone.wait("the way back", |look| !look.says("Keep it")).await?;
        surveyor.go("Book").await?;
        phone.wait("that it was kept", |look| look.says("looked at again and kept")).await?;
        surveyor.go("Plan").await?;
        surveyor.press("Undo").await?;

        surveyor.press("Look at it").await?;
        surveyor.press("Tape it again").await?;
        surveyor.number("16' 5\"").await?;
        surveyor.save("T3 from B · 16' 5\"").await?;
        settled(phone).await?;
        surveyor.press("Undo").await?;

        surveyor.press("Look at it").await?;
        surveyor.press("Strike it").await?;
        settled(phone).await?;
        surveyor.press("Undo").await?;
        surveyor.go("Book").await?;
        phone
            .wait("an undone correction in few words", |look| look.says("Correction taken back: T3"))
            .await?;
        check(!phone.look().await?.says("Struck: Corrected to"), "a strike tells the whole correction")?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn a_point_that_waits_names_the_reading_and_figures_come_into_sight() -> Outcome {
    Phone::with("waiting", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        second_yard(phone, "waiting").await?;
        phone.evaluate("document.querySelector('.point[aria-label$=waiting]').focus()").await?;
        phone.evaluate("document.activeElement.dispatchEvent(new MouseEvent('click', { bubbles: true }))").await?;
        phone.wait("what it waits for", |look| look.says("Waits for B–T3, 19' 5\"")).await?;
        phone.picture("waiting-phone-light").await?;
        phone.tap_containing("DisclosureTriangle", "Exact figures").await?;
        let seen = "(() => { const d = document.querySelector('details.exact[open]').getBoundingClientRect(), \
             s = document.querySelector('.slip').getBoundingClientRect(); return d.bottom <= s.bottom + 1 || d.top <= s.top + 1 })()";
        let figures = phone.wait("figures", |look| look.says("in the plan's frame")).await;
        figures.and(Ok(()))?;
        check(phone.evaluate(seen).await? == true, "the figures opened out of sight")?;
        surveyor.press("Back").await
    })
    .await
}

#[tokio::test]
async fn tapes_of_the_same_line_stand_together() -> Outcome {
    Phone::with("repeat", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Twice").await?;
        for number in ["31' 6\"", "28' 6\""] {
            surveyor.start("Tape between two points").await?;
            surveyor.part("from").await?;
            surveyor.point("A").await?;
            surveyor.part("to").await?;
            surveyor.point("B").await?;
            surveyor.number(number).await?;
            surveyor.save(&format!("B from A · {number}")).await?;
        }
        surveyor.press("Back").await?;
        // Who looks for it among the problems is led there.
        surveyor.go("Problems").await?;
        phone.wait("it among the problems", |look| look.find("link", "Look at it").is_some()).await?;
        phone.picture("contradicted-phone-light").await?;
        phone.tap("link", "Look at it").await?;
        phone.find("button", "Strike it").await?;
        surveyor.press("Back").await?;
        let both = "B from A reads 28' 6\" and 31' 6\"";
        let other = "B from A reads 31' 6\" and 28' 6\"";
        phone.wait("both in one line", |look| look.says(both) || look.says(other)).await?;
        surveyor.press("Look at it").await?;
        let look = phone.wait("one card", |look| look.says(both) || look.says(other)).await?;
        check(look.all("group", |n| n == both || n == other).count() == 1, "not one card for one line")?;
        phone.picture("repeat-phone-light").await?;
        // A third tape replaces none of the two: it tells which is wrong.
        surveyor.press("Tape it again").await?;
        surveyor.number("28' 6\"").await?;
        surveyor.save("B from A · 28' 6\"").await?;
        surveyor.press("Back").await?;
        phone.wait("one in question", |look| look.says("B from A reads 31' 6\"") && !look.says(both)).await?;
        surveyor.press("Look at it").await?;
        phone
            .wait("which one", |look| look.says("Correct to 28' 6\"") || look.says("The others say 28' 6\""))
            .await?;
        phone.picture("repeat-told-phone-light").await?;
        surveyor.go("Book").await?;
        let look = phone.wait("the book", |look| look.says("Newest first")).await?;
        check(!look.says("Corrected to"), "the third tape stands for one of the two")?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn the_advised_tape_is_one_tap_away() -> Outcome {
    Phone::with("advice", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        second_yard(phone, "advice").await?;
        surveyor.press("Look at it").await?;
        surveyor.press(RIGHT).await?;
        phone.wait("a tape to take", |look| look.says("Tape from ")).await?;
        phone.picture("advice-phone-light").await?;
        // Nothing longer than the tape at hand is advised; it is asked once.
        phone.choose("Longest tape", "25 ft").await?;
        let long = |name: &str| {
            let feet =
                name.rsplit_once("about ").and_then(|(_, rest)| rest.split_once(" ft")?.0.parse().ok());
            feet.is_some_and(|feet: u32| feet > 25)
        };
        phone
            .wait("a short tape to take", |look| {
                look.says("Tape from ") && !look.nodes.iter().any(|node| long(&node.name))
            })
            .await?;
        check(phone.look().await?.find("combobox", "Longest tape").is_none(), "asked again")?;
        surveyor.press("Tape it").await?;
        // Both ends are there: only the number is asked.
        let look =
            phone.wait("the keypad", |look| look.all("button", |n| n == "feet").next().is_some()).await?;
        let open = look.all("button", |n| n.ends_with(": —")).map(|n| n.name.clone()).collect::<Vec<_>>();
        check(open == ["reading: —"], &format!("still open: {open:?}"))?;
        surveyor.press("Back").await?;

        phone.tap_containing("link", "Before you leave").await?;
        phone.wait("tapes on the list", |look| look.says("Tapes worth taking, in this order")).await?;
        phone.choose("Longest tape", "100 ft").await?;
        phone.picture("leave-phone-light").await?;
        Ok(())
    })
    .await
}
