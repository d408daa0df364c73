//! Every kind of measurement that is seldom taken, and what is seldom said with the others, typed on a
//! phone: the book that is downloaded holds what was typed.

use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};
use swingtie_core::{
    book::{Book, fold},
    record::{Measurement, NorthKind, PointId, Record, Rotation, Side, Slope, TapedTo},
};

/// H1, H2, B, A: a house of 40 by 30 feet, walked round, which misses its start by two inches.
async fn house(phone: &Phone) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.start("Walk the walls").await?;
    surveyor.point("H1").await?;
    for (corner, length) in [("H2", "40'"), ("B", "30'"), ("A", "40'")] {
        if corner != "H2" {
            surveyor.press("left, square").await?;
        }
        surveyor.point(corner).await?;
        surveyor.number(length).await?;
        surveyor.save(&format!("to {corner} · {length}")).await?;
    }
    surveyor.press("left, square").await?;
    surveyor.press("Back at the start, H1").await?;
    surveyor.number("30' 2\"").await?;
    surveyor.save("A to H1 · 30' 2\" · closes within 2\"").await
}

async fn point_after_point(surveyor: Surveyor<'_>, kind: &str, points: &[&str]) -> Outcome {
    surveyor.start(kind).await?;
    for point in points {
        surveyor.point(point).await?;
    }
    Ok(())
}

/// The seven kinds behind `More kinds`.
async fn seldom(phone: &Phone) -> Outcome {
    let surveyor = Surveyor::with(phone);
    point_after_point(surveyor, "Turned angle", &["H1", "H2", "A"]).await?;
    surveyor.press("counter-clockwise").await?;
    // More than a turn is refused where it is typed; what is far from the square corner is asked about.
    surveyor.angle("512").await?;
    phone.sees("A full turn is 360°").await?;
    surveyor.angle("70.5°").await?;
    surveyor.press("Save").await?;
    phone.sees("The plan expects 89.8").await?;
    surveyor.press("Type again").await?;
    surveyor.angle("89° 30'").await?;
    surveyor.save("At H1 from H2 to A: 89° 30' counter-clockwise").await?;

    point_after_point(surveyor, "Compass bearing", &["H1", "H2"]).await?;
    surveyor.press("compass north").await?;
    surveyor.angle("102.5°").await?;
    phone.picture("bearing-phone-light").await?;
    surveyor.save("H2 from H1: 102.5° by the compass").await?;

    point_after_point(surveyor, "Parallel", &["H1", "H2", "A", "B"]).await?;
    surveyor.save("H1–H2 is parallel to A–B").await?;
    point_after_point(surveyor, "Same length", &["H1", "A", "H2", "B"]).await?;
    surveyor.save("H1–A is as long as H2–B").await?;

    point_after_point(surveyor, "Arc by its rise", &["A", "B"]).await?;
    surveyor.number("2' 6\"").await?;
    surveyor.press("Next").await?;
    surveyor.side(Side::Left).await?;
    surveyor.save("A to B bows 2' 6\" to the left").await?;
    point_after_point(surveyor, "Arc through three points", &["A", "C", "H1"]).await?;
    surveyor.save("A to H1 bows through C").await?;

    point_after_point(surveyor, "Girth of a trunk", &["T1"]).await?;
    surveyor.number("4' 2 1/2\"").await?;
    surveyor.save("Round T1: 4' 2 1/2\"").await
}

/// What is seldom said with a tape.
async fn seldom_said(phone: &Phone) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.start("Tape along a wall").await?;
    surveyor.press("The tape's zero is not at this point").await?;
    surveyor.point("H1").await?;
    surveyor.point("H2").await?;
    for (point, reading) in [("H1", "1' 6\""), ("D1", "13'")] {
        surveyor.point(point).await?;
        surveyor.number(reading).await?;
        surveyor.save(&format!("{point} at {reading}")).await?;
    }

    point_after_point(surveyor, "Tape between two points", &["H1", "T1"]).await?;
    surveyor.part("taped to its").await?;
    surveyor.press("near side").await?;
    surveyor.number("18'").await?;
    // What is said of the tape lies over the reading, which is kept under it.
    phone.tap_containing("button", "how: ").await?;
    surveyor.press("read back aloud").await?;
    surveyor.press("Back").await?;
    phone.find("button", "Save").await?;
    phone.sees("18'").await?;
    phone.tap_containing("button", "how: ").await?;
    phone.tap_containing("DisclosureTriangle", "Tape corrections").await?;
    phone.fill("Length by its marks, ft", "100").await?;
    phone.fill("Length found when compared, ft", "100.02").await?;
    phone.sees("100 ft read counts as 100.0200 ft.").await?;
    phone.picture("corrections-phone-light").await?;
    surveyor.press("one end higher").await?;
    surveyor.number("1' 6\"").await?;
    // A voice that writes down what it is given: each figure by itself.
    let voice = "Object.defineProperty(window, 'speechSynthesis', \
         { value: { cancel() {}, speak(said) { window.heard = said.text; } } }), true";
    phone.evaluate(voice).await?;
    surveyor.save("T1 from H1 · 18' to its near side, one end higher").await?;
    let heard = phone.evaluate("window.heard").await?;
    check(heard == "T one from H one: one eight feet", &format!("heard {heard}"))
}

/// One wall of the walk is written anew, from the book.
async fn corrected(phone: &Phone) -> Outcome {
    let surveyor = Surveyor::with(phone);
    surveyor.go("Book").await?;
    phone
        .tap_containing("button", "Walls from H1: 40' to H2, square left 30' to B, square left 40' to A, sq")
        .await?;
    surveyor.press("Correct").await?;
    phone.find("heading", "Correct one reading").await?;
    surveyor.press("left, square · H2 to B · 30'").await?;
    surveyor.number("30' 1\"").await?;
    surveyor.press("Save").await?;
    phone.find("button", "Measure").await?;
    Ok(())
}

fn labels(record: &Record, points: &[&PointId]) -> Vec<String> {
    points.iter().map(|point| record.label(point).to_owned()).collect()
}

/// What the book says of each, in the order typed.
fn told(record: &Record) -> Vec<String> {
    let one = |what: &Measurement| {
        let points = labels(record, &what.points()).join(" ");
        match what {
            Measurement::Walk { legs, .. } => {
                let lengths =
                    legs.iter().filter_map(|leg| leg.length.as_ref()).map(|read| read.text.as_str());
                format!("walk {points} {}", lengths.collect::<Vec<_>>().join(", "))
            }
            Measurement::Angle { reading, turn: Rotation::CounterClockwise, .. } => {
                format!("angle {points} {} {:.4}", reading.text, reading.value.degrees())
            }
            Measurement::Bearing { reading, north: NorthKind::Magnetic, .. } => {
                format!("bearing {points} {} {:.4}", reading.text, reading.value.degrees())
            }
            Measurement::Parallel { .. } => format!("parallel {points}"),
            Measurement::SameLength { .. } => format!("same {points}"),
            Measurement::Arc { rise, side: Side::Left, .. } => format!("arc {points} {}", rise.text),
            Measurement::ArcThrough { .. } => format!("through {points}"),
            Measurement::Girth { reading, .. } => format!("girth {points} {}", reading.text),
            Measurement::Run { readings, zero_unknown: true, .. } => {
                let read = readings.iter().map(|read| read.reading.text.as_str());
                format!("run {points} {}", read.collect::<Vec<_>>().join(", "))
            }
            Measurement::Tie { reading, taped_to: TapedTo::NearSide, how, .. } => {
                let Some(Slope::RiseMetres(rise)) = how.slope else { return "level".to_owned() };
                let found = how.tape.as_ref().and_then(|tape| tape.true_length).map(|found| found.feet());
                format!("tie {points} {} {:.4} {:.4}", reading.text, rise.feet(), found.unwrap_or_default())
            }
            other => format!("{other:?}"),
        }
    };
    record.measurements.iter().map(|m| one(&m.what)).collect()
}

#[tokio::test]
async fn the_seldom_kinds_are_saved_as_typed() -> Outcome {
    Phone::with("kinds", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Yard with an oak").await?;
        house(phone).await?;
        seldom(phone).await?;
        seldom_said(phone).await?;
        corrected(phone).await?;
        surveyor.go("Sheet").await?;
        // Once the sheet is drawn, nothing moves down any more.
        phone.find("button", "Plan, to scale (SVG)").await?;
        let book = surveyor.take("Field book (JSON Lines)", "book.jsonl").await?;
        let (read, errors) = Book::from_json_lines(&book);
        check(errors.is_empty(), &format!("the book has errors: {errors:?}"))?;
        let told = told(&fold(&read).record);
        // 18 inches are 1.5 ft, half a degree is 30 minutes.
        let typed = [
            "walk H1 H2 B A H1 40', 30' 1\", 40', 30' 2\"",
            "angle H1 H2 A 89° 30' 89.5000",
            "bearing H1 H2 102.5° 102.5000",
            "parallel H1 H2 A B",
            "same H1 A H2 B",
            "arc A B 2' 6\"",
            "through A C H1",
            "girth T1 4' 2 1/2\"",
            "run H1 H2 H1 D1 1' 6\", 13'",
            "tie H1 T1 18' 1.5000 100.0200",
        ];
        check(told == typed, &format!("the book says {told:#?}"))
    })
    .await
}
