//! The drawing by keyboard: one stop of the Tab key, arrow keys from point to point (the WAI-ARIA
//! Authoring Practices' "roving tabindex").

use serde_json::json;
use std::collections::BTreeSet;
use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};

async fn key(phone: &Phone, key: &str) -> Outcome<String> {
    for kind in ["rawKeyDown", "keyUp"] {
        let number = match key {
            "Tab" => 9,
            "Enter" => 13,
            "PageDown" => 34,
            "Escape" => 27,
            _ => 39,
        };
        let event = json!({ "type": kind, "key": key, "code": key, "windowsVirtualKeyCode": number });
        phone.command("Input.dispatchKeyEvent", event).await?;
    }
    let name = "document.activeElement?.getAttribute('aria-label') ?? ''";
    Ok(phone.evaluate(name).await?.as_str().unwrap_or_default().to_owned())
}

#[tokio::test]
async fn the_points_are_one_stop_and_arrows_go_among_them() -> Outcome {
    Phone::with("keys", Size::Desk, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.press("Look at a demo yard").await?;
        phone.find("group", "points; arrow keys go from one to the next").await?;
        let stops = "document.querySelectorAll('.point[tabindex=\"0\"]').length";
        check(phone.evaluate(stops).await? == 1, "the points are not one stop of the Tab key")?;
        let mut name = String::new();
        for _ in 0..12 {
            name = key(phone, "Tab").await?;
            if name.starts_with("Point ") {
                break;
            }
        }
        check(name.starts_with("Point "), "Tab does not reach a point")?;
        let next = key(phone, "ArrowRight").await?;
        check(next.starts_with("Point ") && next != name, &format!("an arrow goes from {name} to {next}"))?;
        let after = key(phone, "Tab").await?;
        check(!after.starts_with("Point "), &format!("a second stop among the points: {after}"))?;
        // Every point is reached.
        phone.evaluate("document.querySelector('.point').focus()").await?;
        let mut seen = BTreeSet::new();
        let all = phone.evaluate("document.querySelectorAll('.point').length").await?.as_u64().unwrap_or(0);
        for _ in 0..all {
            seen.insert(key(phone, "PageDown").await?);
        }
        check(seen.len() as u64 + 1 >= all, &format!("{} of {all} points reached", seen.len()))?;
        key(phone, "Enter").await?;
        phone.wait("the card of the point", |look| look.says("Tape from ")).await?;
        key(phone, "Escape").await?;
        phone.wait("what can be done", |look| look.find("button", "Utility mark").is_some()).await?;
        Ok(())
    })
    .await
}
