//! What is half typed outlives the page, and two windows on one site see each other's entries.

use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};

/// What is kept of the measurement under way, after its name.
const KEPT: &str = "Object.entries({ ...localStorage }).find(([name]) => name.startsWith('draft-'))";

#[tokio::test]
async fn a_measurement_under_way_survives_a_reload_until_it_is_saved_or_given_up() -> Outcome {
    Phone::with("draft", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Half typed").await?;
        surveyor.start("Tape between two points").await?;
        surveyor.point("A").await?;
        surveyor.point("B").await?;
        surveyor.number("31' 6\"").await?;
        phone.reload().await?;
        phone.find("heading", "Tape between two points").await?;
        phone.sees("31' 6\"").await?;
        phone.find("button", "to: B new").await?;
        phone.picture("draft-phone-light").await?;
        let kept = phone.evaluate(KEPT).await?;
        check(kept[1].as_str().is_some_and(|text| text.contains("31")), "nothing is kept")?;
        surveyor.save("B from A · 31' 6\"").await?;

        // What is saved is not offered again, nor where the phone died before it let go of what was typed.
        for left in ["0".to_owned(), format!("(localStorage.setItem({}, {}), 0)", kept[0], kept[1])] {
            phone.evaluate(&left).await?;
            phone.reload().await?;
            phone.sees("B from A · 31' 6\"").await?;
            let look = phone.find("button", "Measure").await.and(phone.look().await)?;
            check(
                look.find("heading", "Tape between two points").is_none(),
                "a saved reading is under way again",
            )?;
        }

        // Points alone are given up by going back.
        surveyor.start("Tape between two points").await?;
        surveyor.point("A").await?;
        surveyor.press("Back").await?;
        phone.reload().await?;
        phone.find("button", "Measure").await?;
        surveyor.start("Tape between two points").await?;
        phone.find("button", "from: —").await?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn two_windows_on_one_site_see_each_others_entries() -> Outcome {
    Phone::with("windows", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Two windows").await?;
        surveyor.start("Tape between two points").await?;
        surveyor.point("A").await?;
        surveyor.point("B").await?;
        surveyor.number("31' 6\"").await?;
        surveyor.save("B from A · 31' 6\"").await?;
        surveyor.press("Back").await?;
        phone
            .in_another_window(async || {
                phone.sees("B from A · 31' 6\"").await?;
                surveyor.start("Tape between two points").await?;
                surveyor.point("A").await?;
                surveyor.point("C").await?;
                surveyor.number("12' 0\"").await?;
                surveyor.save("C from A · 12' 0\"").await
            })
            .await?;
        phone.sees("C from A · 12' 0\"").await?;
        phone.sees("3 points").await?;
        // And goes on from there.
        surveyor.start("Tape between two points").await?;
        surveyor.point("C").await?;
        surveyor.point("D").await?;
        surveyor.number("30' 0\"").await?;
        surveyor.save("D from C · 30' 0\"").await?;
        Ok(())
    })
    .await
}
