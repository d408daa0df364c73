//! Readings that contradict each other are settled on the spot, and the next tape is advised.

use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};
use swingtie_tests::scenario::{Options, Sketch, scenario};

/// What the yard's author wrote wrong: 19 ft 5 in for 16 ft 5 in.
const MISREAD: &str = "T3 from B reads 19' 5\"";
const RIGHT: &str = "Correct to 16' 5\"";

async fn second_yard(phone: &Phone, name: &str) -> Outcome {
    let scratch = Scratch::new(name)?;
    let options = Options { sketch: Sketch::Recorded, ..Options::default() };
    let book = scratch.file("yard.jsonl", &scenario(2).json_lines(&options))?;
    phone.hand_over("Open a file", &book).await?;
    phone.wait("the misread on the plan", |look| look.says(MISREAD)).await?;
    Ok(())
}

async fn settled(phone: &Phone) -> Outcome {
    phone.wait("no contradiction", |look| !look.says("in dispute") && !look.says(MISREAD)).await?;
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
        surveyor.press("Tape it").await?;
        // Both ends are there: only the number is asked.
        let look =
            phone.wait("the keypad", |look| look.all("button", |n| n == "feet").next().is_some()).await?;
        let open = look.all("button", |n| n.ends_with(": —")).map(|n| n.name.clone()).collect::<Vec<_>>();
        check(open == ["reading: —"], &format!("still open: {open:?}"))?;
        surveyor.press("Back").await?;

        phone.tap("link", "Before you leave").await?;
        phone.wait("tapes on the list", |look| look.says("Tapes worth taking")).await?;
        phone.picture("leave-phone-light").await?;
        Ok(())
    })
    .await
}
