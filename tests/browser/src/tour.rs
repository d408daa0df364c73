//! Every screen, one after the other, for those who look at all of them.

use crate::{Look, Outcome, Phone, Scratch, Surveyor};
use base64::{Engine, prelude::BASE64_STANDARD};
use std::fs;
use swingtie_tests::scenario::{Options, Sketch, scenario};

/// A small picture, made by the browser, as base64.
const PICTURE: &str = "new Promise(done => { const canvas = Object.assign(document.createElement('canvas'), \
    { width: 480, height: 360 }); const pen = canvas.getContext('2d'); \
    pen.fillStyle = '#8fb3d9'; pen.fillRect(0, 0, 480, 200); pen.fillStyle = '#6d8f4e'; pen.fillRect(0, 200, 480, 160); \
    pen.fillStyle = '#7a5230'; pen.fillRect(220, 90, 40, 150); done(canvas.toDataURL('image/jpeg').split(',')[1]); })";

/// Goes to every screen and every slip of the plan, and has each visited under a name of its own.
///
/// # Errors
/// When something on the way is not there, and whatever the visitor says.
pub async fn tour(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    before(phone, visit).await?;
    measuring(phone, visit).await?;
    things(phone, visit).await?;
    lists(phone, visit).await?;
    heights(phone, visit).await?;
    photos(phone, visit).await?;
    sharing(phone, visit).await?;
    misread(phone, visit).await
}

/// No site yet.
async fn before(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    visit("sites-empty").await?;
    phone.tap("link", "New site").await?;
    phone.find("heading", "New site").await?;
    visit("new-site").await?;
    phone.tap("link", "All sites").await?;
    phone.tap("link", "Settings").await?;
    phone.find("heading", "Settings").await?;
    visit("settings").await?;
    phone.tap("link", "All sites").await?;
    Surveyor::with(phone).new_site("Empty").await?;
    visit("plan-empty").await?;
    phone.tap("button", "Measure").await?;
    phone.tap("button", "Heights by level").await?;
    phone.find("heading", "Heights").await?;
    visit("heights-empty").await?;
    phone.tap("link", "Plan").await?;
    phone.tap("button", "Back").await?;
    phone.tap("link", "First time? Guided walk").await?;
    phone.sees("Step 1 of").await?;
    phone.tap_containing("DisclosureTriangle", "Steps").await?;
    visit("guide").await?;
    phone.tap("button", "End the guided walk").await?;
    phone.find("button", "Measure").await?;
    phone.tap("link", "Book").await?;
    phone.find("heading", "Book").await?;
    visit("book-empty").await?;
    phone.tap("link", "All sites").await?;
    phone.find("link", "New site").await?;
    visit("sites").await
}

/// The slips of the plan under which something is measured.
async fn measuring(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    let surveyor = Surveyor::with(phone);
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
    surveyor.press("Back").await
}

/// The slips of things and marks, and a point's card.
async fn things(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    let surveyor = Surveyor::with(phone);
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
    // As a screen reader does: under the finger several points may lie.
    let card = "document.querySelector('[aria-label^=\"Point H3,\"]').dispatchEvent(new MouseEvent('click', { bubbles: true }))";
    phone.evaluate(card).await?;
    phone.sees("Tape from ").await?;
    visit("card").await?;
    phone.evaluate("document.querySelector('.to-entry').click()").await?;
    phone.sees("Exact figures").await?;
    visit("entry").await?;
    surveyor.press("Back").await?;
    phone.key("?").await?;
    phone.find("heading", "Keys at a desk").await?;
    visit("keys").await?;
    surveyor.press("Close").await
}

/// The screens beside the plan.
async fn lists(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Problems").await?;
    phone.find("heading", "Problems").await?;
    visit("problems").await?;
    surveyor.go("Add a problem").await?;
    surveyor.press("Undersized or leaning post").await?;
    surveyor.press("Pick on the plan").await?;
    phone.sees("Tap a point to pick it").await?;
    visit("add-problem").await?;
    surveyor.go("Problems").await?;
    surveyor.go("Add a utility mark").await?;
    phone.find("heading", "Add a utility mark").await?;
    visit("add-mark").await?;
    for (link, heading, name) in [
        ("Things ", "Things in the yard", "things"),
        ("Site details", "Site details", "details"),
        ("Notes", "Notes", "notes"),
        ("Settings", "Settings", "settings-of-site"),
    ] {
        surveyor.go("Problems").await?;
        beyond_problems(phone, link, heading).await?;
        visit(name).await?;
    }
    surveyor.go("Sheet").await?;
    // The sheet is a picture that takes a moment to draw.
    phone
        .wait("the sheet", |look| look.all("image", |name| name.contains("base plan")).next().is_some())
        .await?;
    visit("sheet").await?;
    phone.tap_containing("link", "Before you leave").await?;
    phone.find("heading", "Before you leave").await?;
    visit("before-you-leave").await?;
    surveyor.go("Book").await?;
    phone.find("heading", "Book").await?;
    visit("book").await?;
    surveyor.press("Points").await?;
    phone.tap_containing("button", "T1 ").await?;
    phone.find("heading", "Point T1").await?;
    surveyor.go("Book").await?;
    surveyor.press("Points").await?;
    phone.sees("x and y count from H1").await?;
    visit("book-points").await?;
    surveyor.press("All").await?;
    phone.tap_containing("button", "CO1 from H5").await?;
    phone.sees("Exact figures").await?;
    visit("book-entry").await
}

/// Goes where this link of Problems leads: a heading of the same name stands on both screens.
async fn beyond_problems(phone: &Phone, link: &str, heading: &str) -> Outcome {
    phone.tap_containing("link", link).await?;
    let there =
        |look: &Look| look.find("heading", heading).is_some() && look.find("link", "Add a problem").is_none();
    phone.wait(&format!("the screen {heading:?}"), there).await?;
    Ok(())
}

/// Level readings, and the heights that come of them.
async fn heights(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Problems").await?;
    beyond_problems(phone, "Heights", "Heights").await?;
    phone.tap_containing("button", "Builder's level").await?;
    phone.sees("Read first a point read before").await?;
    visit("level-point").await?;
    surveyor.level("D1", "4' 1\"").await?;
    surveyor.level("F1", "5' 9\"").await?;
    visit("level-next").await?;
    surveyor.press("Move the level").await?;
    surveyor.number("4' 6\"").await?;
    visit("level-keypad").await?;
    surveyor.save("F1: 4' 6\"").await?;
    surveyor.press("on D1").await?;
    surveyor.number("2'").await?;
    surveyor.press("Save").await?;
    phone.find("button", "Keep 2'").await?;
    visit("level-doubt").await?;
    surveyor.press("Keep 2'").await?;
    phone.sees("D1: 2'").await?;
    surveyor.go("Problems").await?;
    beyond_problems(phone, "Heights", "Heights").await?;
    phone.choose("From", "D1").await?;
    phone.choose("To", "F1").await?;
    phone.sees("It falls from D1 to F1.").await?;
    phone.tap_containing("button", "3: Builder's level").await?;
    phone.tap_containing("DisclosureTriangle", "The level book").await?;
    phone.sees("The arithmetic agrees").await?;
    visit("heights").await
}

/// Photos, and one of them.
async fn photos(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Problems").await?;
    beyond_problems(phone, "Photos", "Photos").await?;
    visit("photos-empty").await?;
    let scratch = Scratch::new("tour")?;
    let file = scratch.folder().join("yard.jpg");
    let picture = phone.evaluate(PICTURE).await?;
    fs::write(&file, BASE64_STANDARD.decode(picture.as_str().ok_or("no picture")?)?)?;
    phone.hand_over("Choose photos", &file).await?;
    phone.tap_containing("button", "Photo 1,").await?;
    phone.find("heading", "Photo 1").await?;
    visit("photo").await?;
    surveyor.go("Problems").await?;
    beyond_problems(phone, "Photos", "Photos").await?;
    visit("photos").await
}

/// What leaves, what is asked, and what comes in.
async fn sharing(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Problems").await?;
    phone.tap_containing("link", "Questions").await?;
    phone.choose("From", "H1 · front left corner, siding face (House)").await?;
    phone.choose("To", "H3 · back right corner (House)").await?;
    visit("ask").await?;
    surveyor.press("Ask it").await?;
    phone.tap("button", "A height").await?;
    phone.choose("Of which point", "H2 · front right corner (House)").await?;
    surveyor.press("Ask it").await?;
    phone.tap("button", "Words").await?;
    phone.fill("What you want to know", "What is behind the fence?").await?;
    surveyor.press("Ask it").await?;
    phone.sees("3 open, 0 answered").await?;
    visit("questions").await?;
    phone.tap_containing("button", "Measure it with a tape").await?;
    phone.find("combobox", "Measured up from").await?;
    visit("answer-by-tape").await?;
    surveyor.press("Tape it: Tape from H1 to H3").await?;
    phone.find("group", "Answering").await?;
    visit("answering").await?;
    surveyor.press("Not now").await?;
    phone.find("heading", "Questions").await?;
    surveyor.go("Sheet").await?;
    phone.tap("link", "Send everything to the designer").await?;
    phone.sees("What leaves this device").await?;
    visit("send").await?;
    surveyor.press("Save the package").await?;
    let (_, package) = phone.download_ending(".zip").await?;
    changed(phone, visit).await?;
    phone.tap("link", "All sites").await?;
    let scratch = Scratch::new("tour-sharing")?;
    let package = scratch.file("yard.zip", package)?;
    phone.hand_over("Open a file", &package).await?;
    phone.sees("Everything in it is here already.").await?;
    visit("came-in").await?;
    surveyor.press("Leave it").await
}

/// What changed since it was sent: a tree on two tapes.
async fn changed(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Plan").await?;
    surveyor.press("Thing").await?;
    // The form stands as it was left.
    surveyor.press("Another kind").await?;
    surveyor.press("Tree").await?;
    surveyor.point("T99").await?;
    surveyor.press("Save thing").await?;
    phone.sees("last: Tree").await?;
    for (to, length) in [("H1", "31' 3\""), ("H2", "33' 9\"")] {
        surveyor.tie(to, "T99", length).await?;
    }
    surveyor.go("Book").await?;
    surveyor.go("What changed").await?;
    surveyor.press("When you last sent it").await?;
    phone.sees("New points (1)").await?;
    visit("changes").await?;
    surveyor.press("Show it on the plan").await?;
    phone.sees("What changed: ").await?;
    visit("plan-changes").await?;
    surveyor.press("End the comparison").await
}

/// A yard with a misread: what is asked about it.
async fn misread(phone: &Phone, visit: &mut impl AsyncFnMut(&str) -> Outcome) -> Outcome {
    let surveyor = Surveyor::with(phone);
    let scratch = Scratch::new("tour-misread")?;
    let options = Options { sketch: Sketch::Recorded, ..Options::default() };
    let book = scratch.file("yard.jsonl", scenario(2).json_lines(&options))?;
    surveyor.bring_in(&book).await?;
    phone.find("button", "Look at it").await?;
    visit("misread").await?;
    surveyor.press("Look at it").await?;
    phone.find("button", "Keep it").await?;
    visit("misread-slip").await
}
