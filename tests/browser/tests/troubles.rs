//! What is wrong in a yard and what is buried in it: measured, placed, edited, struck, and carried into
//! the files.

use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};
use swingtie_core::book::{Book, fold};
use swingtie_core::exchange::csv;
use swingtie_core::record::{At, Attribute, MarkColour, Record, Severity, Spread};

/// Opens the pad of a row.
async fn open(phone: &Phone, name: &str) -> Outcome {
    let start = format!("{name}: ");
    let wish = format!("a button {start:?}");
    let look =
        phone.wait(&wish, |look| look.all("button", |n| n.starts_with(&start)).next().is_some()).await?;
    let button = look.all("button", |n| n.starts_with(&start)).next().ok_or("it went away")?.clone();
    phone.tap_node(&button).await
}

async fn length(phone: &Phone, row: &str, text: &str) -> Outcome {
    open(phone, row).await?;
    let surveyor = Surveyor::with(phone);
    surveyor.number(text).await?;
    surveyor.press("Done").await
}

/// The book as it can be downloaded, folded, and the table of it, read back.
async fn records(phone: &Phone) -> Outcome<(Record, Record)> {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Sheet").await?;
    // The sheet moves what stands below it when it comes.
    phone.find("image", "The base plan as it will be printed").await?;
    phone.wait("the map layer's state", |look| look.says("Not yet: ")).await?;
    let book = surveyor.take("Field book (JSON Lines)", "book.jsonl").await?;
    let table = surveyor.take("Measurements (CSV)", "measurements.csv").await?;
    let (read, errors) = Book::from_json_lines(&book);
    check(errors.is_empty(), &format!("the book has errors: {errors:?}"))?;
    let source = csv::Source { id_prefix: "row".to_owned(), author: "csv".into(), at_ms: 0 };
    let import = csv::read(&table, &source).map_err(|errors| format!("the table has errors: {errors:?}"))?;
    Ok((fold(&read).record, fold(&import.book).record))
}

/// Taps the small plan of the form, a third of the way into it.
async fn tap_picker(phone: &Phone) -> Outcome {
    let script = "(async () => { const plan = document.querySelector('.picker .drawing-glass'); \
        plan.scrollIntoView({ block: 'center', behavior: 'instant' }); \
        await new Promise(requestAnimationFrame); await new Promise(requestAnimationFrame); \
        const b = plan.getBoundingClientRect(); return [b.left + b.width * 0.4, b.top + b.height * 0.45]; })()";
    let at: [f64; 2] = serde_json::from_value(phone.evaluate(script).await?)?;
    phone.tap_at(at[0], at[1]).await
}

#[tokio::test]
async fn a_leaning_post_is_measured_placed_by_a_tap_edited_and_struck() -> Outcome {
    Phone::with("troubles-post", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        Surveyor::with(phone).new_house("Yard with a post").await?;
        surveyor.go("Problems").await?;
        surveyor.go("Add a problem").await?;
        surveyor.press("Undersized or leaning post").await?;
        phone.sees("Structure is for licensed people").await?;
        phone.sees("Ask a licensed builder").await?;
        length(phone, "post thickness", "3 1/2\"").await?;
        // Twelve feet out of plumb is asked about, and kept when meant.
        open(phone, "lean").await?;
        surveyor.number("12'").await?;
        surveyor.press("Done").await?;
        phone.sees("12'? Mostly it is between").await?;
        surveyor.press("Type again").await?;
        surveyor.number("1 1/2\"").await?;
        surveyor.press("Done").await?;
        surveyor.press("Pick on the plan").await?;
        tap_picker(phone).await?;
        phone
            .wait("the new point to be picked", |look| look.all("button", |n| n == "H5").any(|n| n.on))
            .await?;
        phone.picture("problem-form-phone-light").await?;
        surveyor.press("Save problem").await?;
        phone.sees("lean 1 1/2\", section width 3 1/2\"").await?;

        surveyor.press("Edit Undersized or leaning post").await?;
        phone.find("heading", "Edit a problem").await?;
        surveyor.press("Danger, or getting worse").await?;
        surveyor.press("H1").await?;
        surveyor.press("along the line").await?;
        surveyor.press("Save problem").await?;
        phone.sees("Danger, or getting worse, at H5 and H1").await?;
        // It lies over what is tapped next.
        phone.wait("the notice to go", |look| !look.says("Problem saved")).await?;
        let (book, table) = records(phone).await?;
        for record in [&book, &table] {
            let [problem] = record.problems.as_slice() else { return Err("not one problem".into()) };
            let p = &problem.what;
            check(p.severity == Severity::Danger && p.spread == Some(Spread::Line), &format!("{p:?}"))?;
            check(matches!(&p.at, At::Points(points) if points.len() == 2), &format!("{p:?}"))?;
            let lean = p.attributes.get("lean");
            check(matches!(lean, Some(Attribute::Length(r)) if r.text == "1 1/2\""), &format!("{lean:?}"))?;
        }
        surveyor.go("Problems").await?;
        surveyor.press("Strike Undersized or leaning post").await?;
        phone.sees("No problems recorded").await?;
        surveyor.go("Book").await?;
        phone.sees("Struck: Problem: Undersized or leaning post").await?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn a_gas_mark_keeps_its_ticket_and_its_zone() -> Outcome {
    Phone::with("troubles-mark", Size::Phone, Scheme::Dark, async |phone| {
        let surveyor = Surveyor::with(phone);
        Surveyor::with(phone).new_house("Yard with a gas line").await?;
        surveyor.press("Utility mark").await?;
        phone.sees("local law decides").await?;
        phone.sees("APWA Uniform Color Code").await?;
        surveyor.press("yellow, gas, oil").await?;
        phone.sees("Marks are approximate, expire").await?;
        surveyor.press("H1").await?;
        surveyor.press("H3").await?;
        phone.fill("Letters on it", "GAS").await?;
        surveyor.press("operator's mark").await?;
        phone.fill("ticket", "26-0117").await?;
        phone.tap_containing("DisclosureTriangle", "More").await?;
        length(phone, "tolerance, each side", "1' 6\"").await?;
        phone.sees("Local law decides").await?;
        surveyor.press("Save mark").await?;
        phone.find("button", "Utility mark").await?;
        // 18 in each side are 0.9144 m (an inch is 25.4 mm).
        let width = phone.evaluate("document.querySelector('.mark-yellow .zone').style.strokeWidth").await?;
        check(width == "0.9144px", &format!("the zone is {width} wide"))?;
        phone.picture("mark-zone-phone-dark").await?;

        surveyor.go("Problems").await?;
        surveyor.press("Edit Yellow mark").await?;
        surveyor.press("suspected").await?;
        surveyor.press("Save mark").await?;
        phone.find("button", "Utility mark").await?;
        let (book, table) = records(phone).await?;
        for record in [&book, &table] {
            let [mark] = record.marks.as_slice() else { return Err("not one mark".into()) };
            let m = &mark.what;
            check(m.colour == MarkColour::Yellow && m.letters == "GAS" && !m.located(), &format!("{m:?}"))?;
            check(m.attributes.get("ticket") == Some(&Attribute::Text("26-0117".into())), &format!("{m:?}"))?;
            let zone = m.attributes.get("tolerance_width");
            check(matches!(zone, Some(Attribute::Length(r)) if r.text == "1' 6\""), &format!("{m:?}"))?;
        }
        surveyor.go("Problems").await?;
        surveyor.press("Strike Yellow mark").await?;
        phone.sees("No utility marks recorded").await?;
        surveyor.go("Plan").await?;
        phone.sees("last: Struck: Yellow mark").await?;
        Ok(())
    })
    .await
}

async fn key(phone: &Phone, key: &str) -> Outcome {
    for kind in ["keyDown", "keyUp"] {
        let text = if key.len() == 1 { key } else { "" };
        let event = serde_json::json!({ "type": kind, "key": key, "code": key, "text": text });
        phone.command("Input.dispatchKeyEvent", event).await?;
    }
    Ok(())
}

#[tokio::test]
async fn at_a_desk_the_numbers_are_typed_on_the_keyboard() -> Outcome {
    Phone::with("troubles-keys", Size::Desk, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        Surveyor::with(phone).new_house("Yard with steps").await?;
        surveyor.press("Thing").await?;
        surveyor.press("Steps").await?;
        for label in ["H1", "H2", "H3"] {
            surveyor.press(label).await?;
        }
        open(phone, "risers").await?;
        phone.find("button", "Done").await?;
        for pressed in ["9", "Backspace", "4", "Enter"] {
            key(phone, pressed).await?;
        }
        phone.find("button", "risers: 4").await?;
        open(phone, "rise").await?;
        phone.find("button", "inches").await?;
        for pressed in ["7", "i", "Enter"] {
            key(phone, pressed).await?;
        }
        phone.find("button", "rise: 7\"").await?;
        surveyor.press("Save thing").await?;
        phone.find("button", "Utility mark").await?;
        surveyor.go("Book").await?;
        phone.sees("rise 7\", risers 4").await?;
        Ok(())
    })
    .await
}
