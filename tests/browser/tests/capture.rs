//! A yard's readings are typed as a person would, and what the phone draws is what the desk draws.

mod eyes;

use eyes::Eyes;
use serde_json::Value;
use std::fs;
use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};
use swingtie_core::{
    book::{Book, fold},
    record::Side,
};

/// The invented yard's own file: readings as they were written down.
const YARD: &str = include_str!("../../scenarios/scenario_1.json");

/// Which of the yard's measurements are typed: all runs along the house, then ties and offsets that
/// fix the pegs, the patio, the air unit, a fence and the gate.
const TYPED: std::ops::RangeInclusive<usize> = 1..=26;

fn text<'a>(value: &'a Value, key: &str) -> Outcome<&'a str> {
    Ok(value[key].as_str().ok_or_else(|| format!("no {key} in {value}"))?)
}

/// As the keypad writes it: `14'-5 3/4"` is typed and kept as `14' 5 3/4"`.
fn as_typed(reading: &str) -> String {
    reading.replacen("'-", "' ", 1)
}

async fn house(surveyor: Surveyor<'_>) -> Outcome {
    surveyor.start("Walk the walls").await?;
    surveyor.point("H1").await?;
    surveyor.point("H2").await?;
    surveyor.save("to H2").await?;
    for (turn, corner) in [("left", "H3"), ("left", "H4"), ("right", "H5"), ("left", "H6"), ("left", "H1")] {
        surveyor.press(&format!("{turn}, not square")).await?;
        surveyor.point(corner).await?;
        surveyor.save(&format!("to {corner}")).await?;
    }
    Ok(())
}

async fn run(surveyor: Surveyor<'_>, taken: &Value) -> Outcome<usize> {
    surveyor.start("Tape along a wall").await?;
    surveyor.point(text(taken, "zero")?).await?;
    surveyor.point(text(taken, "toward")?).await?;
    let readings = taken["readings"].as_array().ok_or("no readings")?;
    for read in readings {
        surveyor.part("point").await?;
        surveyor.point(text(read, "point")?).await?;
        let reading = as_typed(text(read, "reading")?);
        surveyor.number(&reading).await?;
        surveyor.save(&format!("{} at {reading}", text(read, "point")?)).await?;
    }
    Ok(readings.len())
}

async fn tie(surveyor: Surveyor<'_>, eyes: &Eyes, taken: &Value) -> Outcome<usize> {
    let (from, to, reading) = (text(taken, "frm")?, text(taken, "to")?, as_typed(text(taken, "reading")?));
    surveyor.start("Tape between two points").await?;
    surveyor.point(from).await?;
    surveyor.point(to).await?;
    surveyor.number(&reading).await?;
    if let Some((first, second)) = surveyor.asked_for_a_side().await? {
        surveyor.side(eyes.side(to, &first, &second)?).await?;
    }
    surveyor.save(&format!("{to} from {from} · {reading}")).await?;
    Ok(1)
}

async fn offset(surveyor: Surveyor<'_>, taken: &Value) -> Outcome<usize> {
    let base: [String; 2] = serde_json::from_value(taken["base"].clone())?;
    surveyor.start("Baseline and offset").await?;
    for end in &base {
        surveyor.point(end).await?;
    }
    let point = text(taken, "point")?;
    surveyor.point(point).await?;
    let station = as_typed(text(taken, "station_reading")?);
    surveyor.number(&station).await?;
    surveyor.part("offset").await?;
    let offset = as_typed(text(taken, "offset_reading")?);
    surveyor.number(&offset).await?;
    surveyor.part("side").await?;
    surveyor.side(if text(taken, "side")? == "left" { Side::Left } else { Side::Right }).await?;
    surveyor.save(&format!("{point} · {station} along")).await?;
    Ok(2)
}

/// The desk's files for a book.
fn at_the_desk(book: &str) -> Outcome<[String; 2]> {
    let folder = swingtie_browser::at_the_desk("desk", book)?;
    Ok([fs::read_to_string(folder.join("plan.svg"))?, fs::read_to_string(folder.join("plan.geojson"))?])
}

#[tokio::test]
async fn forty_readings_typed_on_a_phone_give_the_desks_plan() -> Outcome {
    let yard: Value = serde_json::from_str(YARD)?;
    let taken = yard["measurements"].as_array().ok_or("no measurements")?.clone();
    let eyes = Eyes::open();
    Phone::with("capture", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Yard with the L-shaped house").await?;
        house(surveyor).await?;
        let mut typed = 0;
        for (number, taken) in (1..).zip(&taken).filter(|(number, _)| TYPED.contains(number)) {
            let done = match text(taken, "type")? {
                "running" => run(surveyor, taken).await,
                "tie" => tie(surveyor, &eyes, taken).await,
                _ => offset(surveyor, taken).await,
            };
            typed += done.map_err(|error| format!("measurement {number}: {error}"))?;
        }
        surveyor.feature("House", &["H1", "H2", "H3", "H4", "H5", "H6"]).await?;
        check(typed >= 40, &format!("only {typed} readings typed"))?;
        phone.picture("capture-plan-phone-light").await?;

        surveyor.say_where("H1", "45.000000", "-93.000000", "H1", "H2", "102").await?;
        surveyor.go("Sheet").await?;
        let svg = surveyor.take("Plan, to scale (SVG)", "plan.svg").await?;
        let geojson = surveyor.take("Map layer (GeoJSON)", "plan.geojson").await?;
        let book = surveyor.take("Field book (JSON Lines)", "book.jsonl").await?;

        let (read, errors) = Book::from_json_lines(&book);
        check(errors.is_empty(), &format!("the book has errors: {errors:?}"))?;
        let folded = fold(&read);
        check(folded.record.measurements.len() >= 40, "readings are missing in the book")?;
        let [desk_svg, desk_geojson] = at_the_desk(&book)?;
        check(svg == desk_svg, "the phone's plan.svg is not the desk's, byte for byte")?;
        check(geojson == desk_geojson, "the phone's plan.geojson is not the desk's, byte for byte")
    })
    .await
}
