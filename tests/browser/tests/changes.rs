//! What changed since a site was sent: told in words, shown on the plan, and ended again.

use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};

/// How many of these signs the comparison has on the drawing.
async fn drawn(phone: &Phone, sign: &str) -> Outcome<u64> {
    let count = format!("document.querySelectorAll('.drawing-plan .changed-marks .{sign}').length");
    Ok(phone.evaluate(&count).await?.as_u64().unwrap_or_default())
}

#[tokio::test]
async fn what_changed_since_it_was_sent_is_told_and_drawn() -> Outcome {
    Phone::with("changes", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_house("Compared Yard").await?;
        surveyor.tie("H1", "T1", "21' 3\"").await?;
        surveyor.tie("H2", "T1", "28' 9\"").await?;

        // Nothing was sent, and all of it is of today.
        surveyor.go("Book").await?;
        surveyor.go("What changed").await?;
        phone.sees("There is no earlier state yet").await?;

        surveyor.send_everything().await?;
        // The strip of the site that is left names it too.
        phone.find("heading", "Sites").await?;
        phone.tap_containing("link", "Compared Yard").await?;
        surveyor.go("Book").await?;
        surveyor.go("What changed").await?;
        surveyor.press("When you last sent it").await?;
        phone.sees("Nothing changed since then.").await?;

        // A point more, and one tape struck and taken again.
        surveyor.go("Plan").await?;
        surveyor.tie("H3", "T2", "17' 0\"").await?;
        surveyor.tie("H4", "T2", "32' 6\"").await?;
        surveyor.go("Book").await?;
        phone.tap_containing("button", "T1 from H2: 28' 9\"").await?;
        surveyor.press("Strike").await?;
        phone.sees("Struck: T1 from H2: 28' 9\"").await?;
        surveyor.go("Plan").await?;
        surveyor.tie("H2", "T1", "29' 9\"").await?;

        surveyor.go("Book").await?;
        surveyor.go("What changed").await?;
        let look = phone.sees("Points that moved (1)").await?;
        for words in
            ["T1 moved ", "more than its ±", "New points (1)", "Readings (4)", "Struck: T1 from H2: 28' 9\""]
        {
            check(look.says(words), &format!("the screen does not say {words:?}"))?;
        }
        for words in ["T2 from H4: 32' 6\"", "T1 from H2: 29' 9\""] {
            check(look.says(words), &format!("{words:?} is not told as new"))?;
        }
        check(!look.says("Corrected:"), "a tape struck and taken anew is no correction")?;
        phone.picture("changes-phone-light").await?;

        // A tap on a point shows it on the plan, with what moved and what is new.
        phone.tap_containing("button", "T1 moved ").await?;
        phone.find("heading", "Point T1").await?;
        check(
            (drawn(phone, "moved-arrow").await?, drawn(phone, "new-ring").await?) == (1, 1),
            "not one arrow, one ring",
        )?;
        surveyor.press("Back").await?;
        phone.sees("What changed: 1 point moved (→), 1 new one (◌)").await?;
        phone.picture("changes-plan-phone-light").await?;
        surveyor.press("End the comparison").await?;
        phone.wait("no comparison", |look| !look.says("What changed: ")).await?;
        check(
            (drawn(phone, "moved-arrow").await?, drawn(phone, "new-ring").await?) == (0, 0),
            "the comparison goes on",
        )
    })
    .await
}
