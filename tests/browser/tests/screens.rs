//! Every screen, at both sizes and in both colour schemes: a picture to look at, and what can be
//! measured of it. Targets of 48 px and a contrast of 7 to 1 are the project's own promise for wet
//! fingers and glare; the contrast's formula is that of WCAG 2.1.

use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};

const AUDIT: &str = include_str!("../src/audit.js");

/// Takes a picture and collects what is wrong with the screen.
async fn see(phone: &Phone, name: &str, findings: &mut Vec<String>) -> Outcome {
    phone.picture(name).await?;
    let found: Vec<String> = serde_json::from_value(phone.evaluate(AUDIT).await?)?;
    findings.extend(found.into_iter().map(|finding| format!("{name}: {finding}")));
    Ok(())
}

async fn tour(phone: &Phone, suffix: &str) -> Outcome {
    let surveyor = Surveyor::with(phone);
    let mut findings = Vec::new();
    let mut visit = async |name: &str| see(phone, &format!("{name}-{suffix}"), &mut findings).await;
    visit("sites-empty").await?;
    phone.tap("link", "New site").await?;
    phone.find("heading", "New site").await?;
    visit("new-site").await?;
    phone.tap("link", "All sites").await?;
    surveyor.press("Look at a demo yard").await?;
    phone.find("button", "Measure").await?;
    visit("plan").await?;
    surveyor.press("Measure").await?;
    phone.find("button", "Tape along a wall").await?;
    visit("measure-kinds").await?;
    surveyor.press("Tape between two points").await?;
    phone.find("heading", "Tape between two points").await?;
    visit("tie-points").await?;
    surveyor.point("H1").await?;
    surveyor.point("H2").await?;
    surveyor.number("38' 0 1/8\"").await?;
    visit("tie-keypad").await?;
    phone.tap_containing("button", "how: ").await?;
    phone.tap_containing("DisclosureTriangle", "Tape corrections").await?;
    visit("tie-how").await?;
    surveyor.start("Tape along a wall").await?;
    surveyor.press("The tape's zero is not at this point").await?;
    visit("run-hook").await?;
    surveyor.press("Back").await?;
    surveyor.press("Measure").await?;
    surveyor.press("More kinds").await?;
    phone.find("button", "Girth of a trunk").await?;
    visit("more-kinds").await?;
    surveyor.press("Turned angle").await?;
    for point in ["H1", "H2", "T1"] {
        surveyor.point(point).await?;
    }
    phone.find("button", "counter-clockwise").await?;
    visit("angle-way").await?;
    surveyor.press("counter-clockwise").await?;
    surveyor.angle("384°").await?;
    visit("angle-keypad").await?;
    surveyor.press("Back").await?;
    for panel in ["Sketch", "Thing", "Utility mark"] {
        surveyor.press(panel).await?;
        phone.find("button", if panel == "Sketch" { "Done" } else { "Back" }).await?;
        visit(&panel.to_lowercase().replace(' ', "-")).await?;
        surveyor.press(if panel == "Sketch" { "Done" } else { "Back" }).await?;
    }
    surveyor.press("Thing").await?;
    surveyor.press("Tree").await?;
    phone.tap_containing("DisclosureTriangle", "More: keep or remove").await?;
    phone.find("button", "good").await?;
    visit("thing-tree").await?;
    surveyor.press("trunk diameter: —").await?;
    surveyor.number("14'").await?;
    visit("thing-pad").await?;
    surveyor.press("Done").await?;
    phone.find("button", "Keep 14'").await?;
    visit("thing-unusual").await?;
    surveyor.press("Keep 14'").await?;
    surveyor.press("Another kind").await?;
    surveyor.press("Steps").await?;
    surveyor.press("risers: —").await?;
    phone.find("button", "delete").await?;
    visit("thing-figures").await?;
    surveyor.press("Done").await?;
    surveyor.press("Back").await?;
    surveyor.press("Utility mark").await?;
    surveyor.press("yellow, gas, oil").await?;
    phone.tap_containing("DisclosureTriangle", "More").await?;
    phone.find("button", "tolerance, each side: —").await?;
    visit("mark-asked").await?;
    surveyor.press("Back").await?;
    surveyor.go("Problems").await?;
    surveyor.go("Add a problem").await?;
    surveyor.press("Undersized or leaning post").await?;
    surveyor.press("Pick on the plan").await?;
    phone.sees("Tap a point to pick it").await?;
    visit("add-problem").await?;
    surveyor.go("Problems").await?;
    surveyor.go("Add a utility mark").await?;
    phone.find("heading", "Add a utility mark").await?;
    visit("add-mark").await?;
    surveyor.go("Problems").await?;
    phone.tap_containing("link", "Things in the yard").await?;
    phone.find("heading", "Things in the yard").await?;
    visit("things").await?;
    for (link, heading) in [("Book", "Book"), ("Problems", "Problems"), ("Sheet", "Plan to scale")] {
        surveyor.go(link).await?;
        phone.wait(&format!("the heading {heading}"), |look| look.says(heading)).await?;
        visit(&link.to_lowercase()).await?;
    }
    phone.tap_containing("link", "Before you leave").await?;
    phone.find("heading", "Before you leave").await?;
    visit("before-you-leave").await?;
    check(findings.is_empty(), &format!("{} findings:\n{}", findings.len(), findings.join("\n")))
}

#[tokio::test]
async fn on_a_phone_in_the_sun() -> Outcome {
    let (size, scheme) = (Size::Phone, Scheme::Light);
    Phone::with("screens-phone-light", size, scheme, async |phone| tour(phone, "phone-light").await).await
}

#[tokio::test]
async fn on_a_phone_in_the_dusk() -> Outcome {
    let (size, scheme) = (Size::Phone, Scheme::Dark);
    Phone::with("screens-phone-dark", size, scheme, async |phone| tour(phone, "phone-dark").await).await
}

#[tokio::test]
async fn at_a_desk() -> Outcome {
    let (size, scheme) = (Size::Desk, Scheme::Light);
    Phone::with("screens-desk-light", size, scheme, async |phone| tour(phone, "desk-light").await).await
}
