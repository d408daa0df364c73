//! A desk: plan, slip and book side by side, one choice shown by all three, and the keys of a keyboard.

use swingtie_browser::{Look, Outcome, Phone, Scheme, Size, Surveyor, check};

/// The sides of what stands on the page under these selectors: left and right, top and bottom.
const SIDES: &str = "['.drawing', '.slip', '.site-beside'].map(name => { \
    const box = document.querySelector(name)?.getBoundingClientRect(); \
    return box && [box.left, box.right, box.top, box.bottom].map(Math.round) })";

#[tokio::test]
async fn plan_slip_and_book_stand_side_by_side_from_1024_pixels_on() -> Outcome {
    Phone::with("wide", Size::Desk, Scheme::Light, async |phone| {
        Surveyor::with(phone).press("Look at a demo yard").await?;
        phone.find("complementary", "Book").await?;
        for (width, height) in [(1024, 768), (1280, 800), (1920, 1080)] {
            phone.resize(width, height).await?;
            let sides: [[i64; 4]; 3] = serde_json::from_value(phone.evaluate(SIDES).await?)?;
            let [plan, slip, book] = sides;
            let row = plan[1] <= slip[0] && slip[1] <= book[0] && book[1] <= i64::from(width);
            check(row, &format!("at {width} they are not side by side: {sides:?}"))?;
            check(plan[1] - plan[0] >= 320, &format!("at {width} the plan is {} wide", plan[1] - plan[0]))?;
            phone.picture(&format!("wide-{width}")).await?;
        }
        phone.resize(1023, 768).await?;
        phone.wait("no book beside the plan", |look| look.find("complementary", "Book").is_none()).await?;
        Ok(())
    })
    .await
}

/// A message lies on the strip, beside what is written there.
#[tokio::test]
async fn messages_cover_nothing_at_a_desk() -> Outcome {
    Phone::with("wide-message", Size::Desk, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.press("Look at a demo yard").await?;
        surveyor.go("Sheet").await?;
        surveyor.press("Plan, to scale (SVG)").await?;
        phone.sees("plan.svg is in your downloads").await?;
        let covered = "(() => { \
            const box = (one) => one.getBoundingClientRect(); \
            const message = box(document.querySelector('.notice')), strip = document.querySelector('.strip'); \
            const texts = document.createTreeWalker(strip, NodeFilter.SHOW_TEXT), covered = []; \
            for (let text; (text = texts.nextNode()); ) { \
                const range = document.createRange(); range.selectNodeContents(text); \
                const words = box(range); \
                if (words.left < message.right && message.left < words.right) covered.push(text.textContent); \
            } \
            return message.bottom > box(strip).bottom + 1 ? 'what lies below the strip' : covered.join(); \
        })()";
        let covered = phone.evaluate(covered).await?;
        phone.picture("wide-message").await?;
        check(covered == "", &format!("the message covers {covered}"))
    })
    .await
}

#[tokio::test]
async fn what_is_chosen_in_one_is_shown_by_the_others() -> Outcome {
    Phone::with("wide-choice", Size::Desk, Scheme::Dark, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.press("Look at a demo yard").await?;
        // From the book to the slip and to the drawing.
        phone.tap_containing("button", "CO1 from H5").await?;
        phone.find("group", "Its points").await?;
        phone.sees("Exact figures").await?;
        let chosen = "[...document.querySelectorAll('.point.chosen')].map(p => p.getAttribute('aria-label').split(',')[0]).sort().join()";
        check(phone.evaluate(chosen).await? == "Point CO1,Point H5", "the drawing shows other points")?;
        let marked = "document.querySelector('.entry-head[aria-current]')?.textContent ?? ''";
        let marked = phone.evaluate(marked).await?;
        check(marked.as_str().is_some_and(|row| row.contains("CO1 from H5")), &format!("marked: {marked}"))?;
        phone.picture("wide-entry").await?;
        // From there to a point, and to what it belongs to.
        surveyor.press("Point H5").await?;
        phone.find("button", "Tape from H5").await?;
        let about = "document.querySelectorAll('.entry-about').length";
        check(phone.evaluate(about).await?.as_u64().is_some_and(|rows| rows > 2), "the book marks no rows of H5")?;
        phone.picture("wide-point").await?;
        phone.tap_containing("button", "House H").await?;
        phone.find("group", "Its points").await?;
        // What is struck there is struck in the book.
        phone.tap_containing("button", "CO1 from H5").await?;
        phone.find("button", "Strike").await?;
        surveyor.press("Strike").await?;
        phone.find("button", "Bring back").await?;
        Ok(())
    })
    .await
}

/// The place in the app.
async fn place(phone: &Phone) -> Outcome<String> {
    let hash = phone.evaluate("location.hash.split('/').pop()").await?;
    Ok(hash.as_str().unwrap_or_default().to_owned())
}

#[tokio::test]
async fn keys_lead_everywhere_and_rest_while_something_is_typed() -> Outcome {
    Phone::with("wide-keys", Size::Desk, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.press("Look at a demo yard").await?;
        phone.find("button", "Keys").await?;
        phone.key("?").await?;
        phone.find("heading", "Keys at a desk").await?;
        phone.picture("wide-keys").await?;
        // Under the list nothing is reached.
        phone.key("2").await?;
        check(place(phone).await? == "plan", "a key went through the list of keys")?;
        surveyor.press("Close").await?;
        phone.wait("no list of keys", |look: &Look| look.find("heading", "Keys at a desk").is_none()).await?;
        for (key, screen) in [
            ("2", "book"),
            ("3", "problems"),
            ("4", "sheet"),
            ("5", "questions"),
            ("6", "before-you-leave"),
            ("1", "plan"),
        ] {
            phone.key(key).await?;
            check(place(phone).await? == screen, &format!("{key} leads to {}", place(phone).await?))?;
        }
        // A point that is not checked, and the next one.
        phone.find("button", "Measure").await?;
        let card = "document.querySelector('.slip h2')?.textContent ?? ''";
        phone.key("n").await?;
        phone.sees("Tape from ").await?;
        let first = phone.evaluate(card).await?;
        phone.key("n").await?;
        phone.wait_for(&format!("({card}) !== {first} && ({card}).startsWith('Point ')")).await?;
        // Asking, about the point that is looked at.
        phone.key("a").await?;
        phone.find("heading", "Questions").await?;
        surveyor.press("Words").await?;
        phone.find("button", "Points").await?;
        surveyor.press("A thing or problem").await?;
        phone.find("combobox", "Which thing or problem").await?;
        phone.key("1").await?;
        // Arrows go on in the book from the entry in the slip.
        phone.tap_containing("button", "CO1 from H5").await?;
        let title = phone.evaluate(card).await?;
        phone.key("ArrowDown").await?;
        phone.wait_for(&format!("({card}) !== {title} && ({card}).startsWith('Entry ')")).await?;
        surveyor.press("Back").await?;
        // While digits are typed they are digits.
        phone.key("m").await?;
        phone.find("button", "Tape between two points").await?;
        surveyor.press("Tape between two points").await?;
        surveyor.point("H1").await?;
        surveyor.point("H2").await?;
        phone.find("button", "delete").await?;
        phone.key("3").await?;
        phone.sees("reading: 3").await?;
        check(place(phone).await? == "plan", "a digit led away from the pad")?;
        surveyor.press("Back").await?;
        // Turned off, they rest.
        surveyor.press("Keys").await?;
        surveyor.press("Keys on").await?;
        surveyor.press("Close").await?;
        phone.key("2").await?;
        check(place(phone).await? == "plan", "keys that are turned off lead away")
    })
    .await
}
