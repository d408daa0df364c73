//! A whole first visit of an invented yard, out of signal: sketch, house, baseline, ties, things, problems,
//! utility marks, photos, notes, and the list before leaving down to empty, each line mended or answered. Then
//! the sheet must show all of it.

use base64::{Engine, prelude::BASE64_STANDARD};
use std::{
    fs,
    path::{Path, PathBuf},
};
use swingtie_browser::{AUDIT, Look, Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};
use swingtie_core::book::{Book, fold};
use swingtie_core::record::{Record, Side, Statement, kind, topic_of, trouble};

/// A screen as everybody must be able to use it, and a picture of it to look at.
async fn audited(phone: &Phone, name: &str) -> Outcome {
    phone.picture(name).await?;
    let found: Vec<String> = serde_json::from_value(phone.evaluate(AUDIT).await?)?;
    check(found.is_empty(), &format!("{name}: {found:#?}"))
}

/// Closes the notices, which may lie over what is tapped next.
async fn free(phone: &Phone) -> Outcome {
    while let Some(close) = phone.look().await?.find("button", "Close").cloned() {
        // It may go by itself meanwhile.
        let _ = phone.tap_node(&close).await;
    }
    Ok(())
}

/// A green picture as bytes; each seed gives another.
async fn picture(phone: &Phone, scratch: &Scratch, seed: u32) -> Outcome<PathBuf> {
    let script = format!(
        "new Promise(done => {{ const c = Object.assign(document.createElement('canvas'), \
         {{ width: 640, height: 480 }}); const pen = c.getContext('2d'); pen.fillStyle = '#2f6b3a'; \
         pen.fillRect(0, 0, 640, 480); pen.fillStyle = '#fff'; pen.fillRect({seed}, 40, 60, 60); \
         done(c.toDataURL('image/jpeg').split(',')[1]); }})"
    );
    let text = phone.evaluate(&script).await?;
    let path = scratch.folder().join(format!("photo-{seed}.jpg"));
    fs::write(&path, BASE64_STANDARD.decode(text.as_str().ok_or("no picture")?)?)?;
    Ok(path)
}

/// Taps the drawing at this share of its width and height.
async fn tap_drawing(phone: &Phone, across: f64, down: f64) -> Outcome {
    let script = "(() => { const b = document.querySelector('.drawing-glass').getBoundingClientRect(); \
        return [b.left, b.top, b.width, b.height]; })()";
    let [left, top, width, height]: [f64; 4] = serde_json::from_value(phone.evaluate(script).await?)?;
    phone.tap_at(left + width * across, top + height * down).await
}

/// Starts with the guided walk, which opens the sketch: four corners and a pot nobody will tape to.
async fn sketch(phone: &Phone, surveyor: Surveyor<'_>) -> Outcome {
    phone.tap("link", "First time? Guided walk").await?;
    phone.find("heading", "Where are the corners of the house?").await?;
    audited(phone, "guide-phone-light").await?;
    surveyor.press("Open the sketch").await?;
    phone.find("button", "Done").await?;
    let spots = [("H1", 0.3, 0.7), ("H2", 0.7, 0.7), ("H3", 0.7, 0.3), ("H4", 0.3, 0.3), ("PO1", 0.85, 0.5)];
    for (label, across, down) in spots {
        phone.fill("Label of the next point", label).await?;
        tap_drawing(phone, across, down).await?;
        phone.sees(&format!("point {label}")).await?;
    }
    surveyor.press("Done").await?;
    // It goes on where it was left, and the book has answered the question.
    phone.tap("link", "Guided walk: go on").await?;
    phone.sees("That is recorded. There may be more of it.").await?;
    surveyor.press("Next").await?;
    phone.find("heading", "How long is each wall?").await?;
    surveyor.press("Walk the walls").await?;
    phone.find("heading", "Walk the walls").await?;
    Ok(())
}

/// A house of 40 by 30 feet, round and back to where it began, H1 to H2 along its front.
async fn house(surveyor: Surveyor<'_>) -> Outcome {
    surveyor.point("H1").await?;
    for (corner, length) in [("H2", "40'"), ("H3", "30'"), ("H4", "40'"), ("H1", "30'")] {
        if corner != "H2" {
            surveyor.press("left, square").await?;
        }
        surveyor.point(corner).await?;
        surveyor.number(length).await?;
        surveyor.save(&format!("to {corner} · {length}")).await?;
    }
    surveyor.feature("House", &["H1", "H2", "H3", "H4"]).await
}

async fn run(surveyor: Surveyor<'_>, from: &str, to: &str, read: &[(&str, &str)]) -> Outcome {
    surveyor.start("Tape along a wall").await?;
    surveyor.point(from).await?;
    surveyor.point(to).await?;
    for (point, reading) in read {
        surveyor.part("point").await?;
        surveyor.point(point).await?;
        surveyor.number(reading).await?;
        surveyor.save(&format!("{point} at {reading}")).await?;
    }
    Ok(())
}

async fn tie(surveyor: Surveyor<'_>, from: &str, to: &str, reading: &str) -> Outcome {
    surveyor.start("Tape between two points").await?;
    surveyor.point(from).await?;
    surveyor.point(to).await?;
    surveyor.number(reading).await?;
    if surveyor.asked_for_a_side().await?.is_some() {
        // All that is tied stands before the house, to the right from H1 to H2.
        surveyor.side(Side::Right).await?;
    }
    surveyor.save(&format!("{to} from {from} · {reading}")).await
}

/// A point off the baseline along the front, on the street's side.
async fn offset(surveyor: Surveyor<'_>, point: &str, station: &str, off: &str) -> Outcome {
    surveyor.start("Baseline and offset").await?;
    surveyor.point("H1").await?;
    surveyor.point("H2").await?;
    surveyor.point(point).await?;
    surveyor.number(station).await?;
    surveyor.part("offset").await?;
    surveyor.number(off).await?;
    surveyor.part("side").await?;
    surveyor.side(Side::Right).await?;
    surveyor.save(&format!("{point} · {station} along")).await
}

/// Opens a row's pad and types a length.
async fn length(phone: &Phone, row: &str, text: &str) -> Outcome {
    let start = format!("{row}: ");
    let wish = format!("a button {start:?}");
    let look =
        phone.wait(&wish, |look| look.all("button", |n| n.starts_with(&start)).next().is_some()).await?;
    let button = look.all("button", |n| n.starts_with(&start)).next().ok_or("it went away")?.clone();
    phone.tap_node(&button).await?;
    let surveyor = Surveyor::with(phone);
    surveyor.number(text).await?;
    surveyor.press("Done").await
}

/// What is said of a thing besides its points.
enum Say {
    Length(&'static str, &'static str),
    Word(&'static str),
    Text(&'static str, &'static str),
    Fate(&'static str),
}

async fn thing(phone: &Phone, kind: &str, points: &[&str], all: &[Say]) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.press("Thing").await?;
    surveyor.press(kind).await?;
    for point in points {
        surveyor.press(point).await?;
    }
    for one in all {
        match one {
            Say::Length(row, text) => length(phone, row, text).await?,
            Say::Word(word) => surveyor.press(word).await?,
            Say::Text(row, text) => phone.fill(row, text).await?,
            Say::Fate(word) => {
                phone.tap_containing("DisclosureTriangle", "More: keep or remove").await?;
                surveyor.press(word).await?;
            }
        }
    }
    surveyor.press("Save thing").await?;
    phone.find("button", "Utility mark").await?;
    Ok(())
}

async fn things(phone: &Phone) -> Outcome {
    use Say::{Fate, Length, Text, Word};
    thing(
        phone,
        "Door",
        &["D1", "D2"],
        &[Length("width", "3'"), Length("threshold above ground", "0' 7 1/2\"")],
    )
    .await?;
    thing(phone, "Window", &["W1", "W2"], &[Length("sill above ground", "2' 6\"")]).await?;
    thing(phone, "Hose tap", &["HB1"], &[Length("height", "1' 6\""), Word("no")]).await?;
    thing(phone, "Downspout", &["DS1"], &[Word("splash block")]).await?;
    thing(phone, "Electric meter, panel", &["EM1"], &[Word("meter")]).await?;
    let tree = [Text("species", "sugar maple"), Length("canopy spread", "18' 0\""), Fate("keep")];
    thing(phone, "Tree", &["T1"], &tree).await?;
    // The gate's clear width is forgotten; the list before leaving will ask for it.
    thing(phone, "Gate", &["G1", "G2"], &[Word("left")]).await?;
    thing(phone, "Fence", &["F1", "G1"], &[Length("height", "4' 0\"")]).await?;
    thing(phone, "View", &["G2"], &[Word("screen"), Text("toward", "S, the street")]).await?;
    thing(phone, "Wind", &["F1"], &[Text("comes from", "NW")]).await?;
    thing(phone, "Pot, planter", &["PO1"], &[Length("diameter", "1' 6\"")]).await
}

async fn problems(phone: &Phone, photo: &Path) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Problems").await?;
    surveyor.go("Add a problem").await?;
    surveyor.press("Undersized or leaning post").await?;
    surveyor.press("Danger, or getting worse").await?;
    length(phone, "lean", "1 1/2\"").await?;
    surveyor.press("G1").await?;
    phone.fill("Note", "the gate hangs on it").await?;
    phone.hand_over("Choose photos", photo).await?;
    phone.sees("1 photo ready").await?;
    surveyor.press("Save problem").await?;
    phone.sees("lean 1 1/2\"").await?;
    surveyor.go("Add a problem").await?;
    surveyor.press("Wet spot").await?;
    surveyor.press("DS1").await?;
    surveyor.press("after rain").await?;
    surveyor.press("Save problem").await?;
    phone.sees("when wet after rain").await?;
    Ok(())
}

async fn mark(phone: &Phone) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Plan").await?;
    surveyor.press("Utility mark").await?;
    surveyor.press("yellow, gas, oil").await?;
    phone.sees("Marks are approximate, expire").await?;
    surveyor.press("EM1").await?;
    surveyor.press("G2").await?;
    phone.fill("Letters on it", "GAS").await?;
    surveyor.press("operator's mark").await?;
    phone.fill("ticket", "26-0117").await?;
    surveyor.press("Save mark").await?;
    phone.find("button", "Utility mark").await?;
    Ok(())
}

/// One photo at each of two corners: each shows the two sides that meet there.
async fn photos(phone: &Phone, files: &[(&str, &Path)]) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Plan").await?;
    for (corner, file) in files {
        phone.tap_containing("button", &format!("Point {corner}, ")).await?;
        phone.hand_over(&format!("Take photos: {corner}"), file).await?;
        phone.sees("1 photo added.").await?;
        surveyor.press("Back").await?;
        free(phone).await?;
    }
    Ok(())
}

async fn note(phone: &Phone, topic: &str, words: &str, at: Option<&str>) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.press(topic).await?;
    phone.fill("In a few words", words).await?;
    if let Some(at) = at {
        surveyor.press(at).await?;
    }
    surveyor.press("Save note").await?;
    phone.sees("Note saved").await?;
    phone.find("button", &format!("Edit {topic}")).await?;
    free(phone).await
}

async fn notes(phone: &Phone) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Problems").await?;
    phone.tap_containing("link", "Notes").await?;
    note(phone, "Wishes", "a table for six out of the wind", None).await?;
    note(phone, "Budget as told", "about twenty thousand, by May", None).await?;
    note(phone, "Sun and shade", "full sun here now", Some("T1")).await?;
    audited(phone, "notes-phone-light").await?;
    Ok(())
}

/// The first line still open, by the name of its button.
fn open_line(look: &Look) -> Option<swingtie_browser::Node> {
    look.all("button", |name| name.starts_with("Leave it: ")).next().cloned()
}

/// Mends one line for real, answers the others, and hands back how many.
async fn leave(phone: &Phone) -> Outcome<usize> {
    let surveyor = Surveyor::with(phone);
    phone.tap_containing("link", "Before you leave").await?;
    phone.find("heading", "Would cost a second visit").await?;
    audited(phone, "leave-visit-phone-light").await?;
    // The gate's width is mended where it belongs.
    surveyor.press("Add it: No clear width of the gate G1–G2").await?;
    length(phone, "clear width", "3' 10\"").await?;
    surveyor.press("Save thing").await?;
    phone.find("button", "Utility mark").await?;
    phone.tap_containing("link", "Before you leave").await?;
    phone.find("heading", "Before you leave").await?;
    check(!phone.look().await?.says("No clear width of the gate"), "the gate is still asked for")?;
    let mut left = 0;
    while let Some(line) = open_line(&phone.look().await?) {
        let what = line.name.trim_start_matches("Leave it: ").to_owned();
        phone.tap_node(&line).await?;
        let reason = if phone.look().await?.find("button", "None here").is_some() {
            "None here"
        } else {
            "Not needed for this job"
        };
        surveyor.press(reason).await?;
        surveyor.press("Leave it so").await?;
        free(phone).await?;
        phone.wait(&format!("{what:?} to be left"), |look| look.find("button", &line.name).is_none()).await?;
        left += 1;
        check(left < 60, "the list has no end")?;
    }
    phone.sees("Nothing is open any more.").await?;
    // What was left stays there, folded, and can be asked again.
    phone.tap_containing("DisclosureTriangle", "Left as it is: ").await?;
    surveyor.press("Ask again: Overhead wires").await?;
    phone.find("button", "Leave it: Overhead wires").await?;
    free(phone).await?;
    surveyor.press("Leave it: Overhead wires").await?;
    phone.fill("Why it can stay as it is", "all lines are buried here").await?;
    surveyor.press("Leave it so").await?;
    phone.sees("Nothing is open any more.").await?;
    audited(phone, "leave-empty-phone-light").await?;
    Ok(left)
}

/// All that is written on a sheet, joined as one reads it.
fn written(svg: &str) -> String {
    let mut all = String::new();
    for text in svg.split("<text ").skip(1) {
        let words = text.split_once('>').and_then(|(_, rest)| rest.split_once('<')).map_or("", |(w, _)| w);
        all.push_str(&words.replace("&#39;", "'").replace("&quot;", "\"").replace("&amp;", "&"));
        all.push(' ');
    }
    all
}

/// Everything in the book must be on the sheet.
fn shows_all(record: &Record, all: &str) -> Outcome {
    let says = |words: &str| check(all.contains(words), &format!("{words:?} is not on the sheet: {all}"));
    for point in &record.points {
        says(&format!(" {} ", point.label))?;
    }
    for feature in &record.features {
        says(kind(&feature.what.kind).ok_or("an unknown kind")?.name)?;
    }
    for (problem, number) in record.problems.iter().zip(1..) {
        says(trouble(&problem.what.kind).ok_or("an unknown problem")?.name)?;
        says(&format!(" {number} "))?;
        says(problem.what.note.get(1..).unwrap_or_default())?;
    }
    for mark in &record.marks {
        says(&format!("Letters {}", mark.what.letters))?;
    }
    for note in record.notes() {
        // What was said of money is not for everybody who gets the sheet.
        if note.what.topic == "budget" {
            check(!all.contains(&note.what.text), "the budget is on the sheet")?;
            continue;
        }
        says(note.what.text.as_str())?;
        if note.what.settles.is_empty() {
            says(topic_of(&note.what.topic).ok_or("an unknown topic")?.name)?;
        }
    }
    for words in [
        "threshold above ground 7 1/2\"",
        "sill above ground 2' 6\"",
        "canopy spread 18' 0\"",
        "KEEP",
        "clear width 3' 10\"",
        "empties splash block",
        "Sketched, not measured",
        "lean 1 1/2\"",
        "wet after rain",
        "Structure is for licensed people",
        "Shows problem 1",
        "icket 26-0117",
        "Left as it is, with the reason",
        "Overhead wires: all lines are buried here",
        "Not a boundary survey",
    ] {
        says(words)?;
    }
    Ok(())
}

#[tokio::test]
async fn a_first_visit_without_signal_ends_with_an_empty_list_and_a_full_sheet() -> Outcome {
    Phone::with("visit", Size::Phone, Scheme::Light, async |phone| {
        let scratch = Scratch::new("visit")?;
        phone.kept_offline().await?;
        phone.walk_out_of_signal().await?;
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("First visit").await?;
        phone.find("link", "First time? Guided walk").await?;
        audited(phone, "plan-start-phone-light").await?;
        // Before anything is measured the list is one friendly line.
        phone.tap_containing("link", "Before you leave").await?;
        phone.sees("Nothing is measured yet, and that is where everybody starts").await?;
        check(open_line(&phone.look().await?).is_none(), "an empty yard is told its faults")?;
        audited(phone, "leave-start-phone-light").await?;
        surveyor.go("Plan").await?;

        sketch(phone, surveyor).await?;
        house(surveyor).await?;
        run(surveyor, "H1", "H2", &[("D1", "10'"), ("D2", "13'")]).await?;
        run(surveyor, "H2", "H3", &[("W1", "8'"), ("W2", "12'")]).await?;
        run(surveyor, "H3", "H4", &[("HB1", "5'"), ("DS1", "38'")]).await?;
        run(surveyor, "H4", "H1", &[("EM1", "12'")]).await?;
        // T1 is 16 ft along the front and 12 ft before it: 20 ft from H1 (3-4-5), 26.83 from H2, 13.42 from D1.
        tie(surveyor, "H1", "T1", "20'").await?;
        tie(surveyor, "H2", "T1", "26' 10\"").await?;
        tie(surveyor, "D1", "T1", "13' 5\"").await?;
        offset(surveyor, "F1", "4'", "20'").await?;
        offset(surveyor, "G1", "26'", "20'").await?;
        offset(surveyor, "G2", "30'", "20'").await?;
        surveyor.press("Back").await?;
        things(phone).await?;
        let files = [picture(phone, &scratch, 20).await?, picture(phone, &scratch, 120).await?];
        let post = picture(phone, &scratch, 220).await?;
        problems(phone, &post).await?;
        mark(phone).await?;
        photos(phone, &[("H1", &files[0]), ("H3", &files[1])]).await?;
        notes(phone).await?;
        surveyor.say_where("H1", "45.000000", "-93.000000", "H1", "H2", "90").await?;
        // Where north is known, the view and the wind have their arrows.
        surveyor.go("Plan").await?;
        phone.wait_for("document.querySelectorAll('.drawing-plan .arrow path').length === 2").await?;
        audited(phone, "visit-plan-phone-light").await?;
        // Saved again after a reload, still out of signal.
        phone.reload().await?;
        let left = leave(phone).await?;
        check(left > 5, &format!("only {left} lines were left"))?;

        surveyor.go("Sheet").await?;
        phone.find("image", "The base plan as it will be printed").await?;
        phone.picture("visit-sheet-phone-light").await?;
        let svg = surveyor.take("Plan, to scale (SVG)", "plan.svg").await?;
        fs::write(swingtie_xtask::run::workspace().join("target/screens/visit.svg"), &svg)?;
        let book = surveyor.take("Field book (JSON Lines)", "book.jsonl").await?;
        let (read, errors) = Book::from_json_lines(&book);
        check(errors.is_empty(), &format!("the book has errors: {errors:?}"))?;
        let said = |wanted: fn(&Statement) -> bool| {
            read.entries().filter_map(|entry| entry.statement()).filter(|said| wanted(said)).count()
        };
        // What was asked again is a strike, and nothing was lost.
        check(said(|s| matches!(s, Statement::Strike { .. })) == 1, "not one strike")?;
        check(said(|s| matches!(s, Statement::Note(_))) == 3 + left + 1, "notes are missing")?;
        let record = fold(&read).record;
        check(record.photos.len() == 3 && record.problems.len() == 2, "photos or problems are missing")?;
        let mut all = written(&svg);
        // Lists without room beside the plan stand on a sheet of their own.
        if phone.look().await?.says("2 sheets.") {
            all.push_str(&written(&phone.download("plan-2.svg").await?));
        }
        shows_all(&record, &all)
    })
    .await
}

#[tokio::test]
async fn the_guided_walk_asks_one_question_a_screen_and_goes_on_where_it_was_left() -> Outcome {
    Phone::with("guide", Size::Desk, Scheme::Dark, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Guided").await?;
        phone.tap("link", "First time? Guided walk").await?;
        for step in 1..=13 {
            phone.sees(&format!("Step {step} of 13")).await?;
            audited(phone, &format!("guide-{step}-desk-dark")).await?;
            if step == 5 {
                phone.reload().await?;
                phone.sees("Step 5 of 13").await?;
            }
            if step < 13 {
                surveyor.press("Skip this").await?;
            }
        }
        check(phone.look().await?.find("button", "Skip this").is_none(), "after the last there is no next")?;
        surveyor.press("Open the list").await?;
        phone.find("heading", "Before you leave").await?;
        surveyor.go("Plan").await?;
        phone.tap("link", "Guided walk: go on").await?;
        phone.tap("DisclosureTriangle", "Steps").await?;
        surveyor.press("Where is north? skipped").await?;
        phone.find("heading", "Where is north?").await?;
        surveyor.press("End the guided walk").await?;
        phone.find("link", "First time? Guided walk").await?;
        // It writes nothing by itself.
        surveyor.go("Book").await?;
        let look = phone.find("heading", "Book").await.and(phone.look().await)?;
        check(look.says("Site Guided"), "the book is not shown")?;
        check(!look.says("Note") && !look.says("Point "), "the walk wrote something")
    })
    .await
}
