//! What the first invented yard's heights show on the phone: the standing water explained, what is worth a look with its
//! numbers, source and caution, a line left as it is, and how much fills the patio.

use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};
use swingtie_tests::scenario::{Options, Sketch, scenario};

#[tokio::test]
async fn standing_water_is_explained_and_what_is_worth_a_look_says_why() -> Outcome {
    Phone::with("worth", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        let scratch = Scratch::new("worth")?;
        let options = Options { sketch: Sketch::Recorded, ..Options::default() };
        let file = scratch.file("yard.jsonl", scenario(1).levelled(&options).to_json_lines())?;
        surveyor.bring_in(&file).await?;
        surveyor.go("Problems").await?;
        // Beside the problem, and once more among what is worth a look. The file says of it: "downspout DS3 empties
        // toward it".
        let look = phone.sees("Wet spot WS1, low point LP1 and problem 1 lie in a hollow round LP1").await?;
        check(look.says("downspouts DS2, DS3 and DS6 drain toward it"), "no downspout is named")?;
        phone.find("heading", "Worth a look").await?;
        check(!look.says("ground that drains there"), "the numbers are not folded")?;
        phone.tap_containing("DisclosureTriangle", "Numbers, source, caution").await?;
        let open = phone.sees("ground that drains there").await?;
        for words in ["deep at most", "Source: ", "From: heights of LP1 and FR3", "licensed people decide"] {
            check(open.says(words), &format!("{words:?} is missing"))?;
        }
        phone.picture("worth-phone-light").await?;
        // The same is a line of the list before leaving, and can be answered there.
        phone.tap_containing("link", "Before you leave").await?;
        phone.find("heading", "Worth a look").await?;
        phone.tap_containing("button", "Leave it: Wet spot WS1, low point LP1 and problem 1 lie in").await?;
        surveyor.press("Told to the owner").await?;
        surveyor.press("Leave it so").await?;
        let gone = |look: &swingtie_browser::Look| {
            look.all("button", |name| name.starts_with("Leave it: Wet spot WS1")).next().is_none()
        };
        phone.wait("the line to be left", gone).await?;
        surveyor.go("Problems").await?;
        phone.sees("Left as it is. Reason: Told to the owner").await?;
        fill(phone, surveyor).await
    })
    .await
}

/// The patio is 148 sq ft (by the file's true corners 148.05): at 4 in that is 1.83 cu yd, with a tenth more 2.01.
async fn fill(phone: &Phone, surveyor: Surveyor<'_>) -> Outcome {
    phone.tap_containing("link", "Things ").await?;
    phone.find("heading", "Things in the yard").await?;
    phone.sees("148 sq ft ± 1 sq ft").await?;
    surveyor.press("How much at a depth: Patio H4").await?;
    surveyor.press("depth: —").await?;
    for key in ["4", "inches", "Done"] {
        surveyor.press(key).await?;
    }
    phone.sees("1.83 cu yd ± 0.0").await?;
    surveyor.press("waste: —").await?;
    for key in ["1", "0", "Done"] {
        surveyor.press(key).await?;
    }
    phone.sees("10 % waste in it").await?;
    phone.picture("worth-fill-phone-light").await?;
    Ok(())
}
