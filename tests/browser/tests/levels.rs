//! The level notes of the first invented yard, booked on the phone by key: heights against the yard's true ones, what
//! it costs in taps, and the standing water explained by the ground.

#[allow(dead_code, reason = "a thumb of other tests, which do more with it")]
mod thumb;

use std::collections::BTreeMap;
use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};
use swingtie_core::book::{Book, fold};
use swingtie_core::levels::heights;
use swingtie_core::record::{EntryId, LevelReading, Record, Statement};
use swingtie_core::units::{BareUnit, read_length};
use swingtie_tests::scenario::{Options, Scenario, Sketch, scenario};
use thumb::Thumb;

/// The bar: so many taps a level reading may cost on the mean, its figures, its point and moving the level included.
const MOST: f64 = 7.0;

/// The yard's level notes, set-up by set-up, each reading with its label as the notes have it.
fn notes(yard: &Scenario) -> Vec<Vec<LevelReading>> {
    let mut setups: Vec<(EntryId, Vec<LevelReading>)> = Vec::new();
    for (entry, said) in yard.levels() {
        let Statement::Level(reading) = said else { continue };
        let id = reading.setup.clone().unwrap_or_else(|| entry.as_str().into());
        match setups.iter_mut().find(|(known, _)| *known == id) {
            Some((_, readings)) => readings.push(reading),
            None => setups.push((id, vec![reading])),
        }
    }
    setups.into_iter().map(|(_, readings)| readings).collect()
}

/// As the thumb reads it: `4'-1"`.
fn written(text: &str) -> String {
    text.replacen("' ", "'-", 1)
}

/// Books all set-ups; how many readings, how many taps.
async fn book(thumb: &Thumb<'_>, setups: &[Vec<LevelReading>]) -> Outcome<(usize, usize)> {
    thumb.taken();
    let mut count = 0;
    for (number, readings) in setups.iter().enumerate() {
        if number > 0 {
            thumb.tap("Move the level").await?;
        }
        for reading in readings {
            let label = reading.point.as_str();
            // A turning point stands there already.
            if thumb.on_pad().await? {
                check(thumb.part("on").await? == label, &format!("{label} was not proposed"))?;
            } else {
                let key = format!("on {label}");
                if thumb.row().await?.contains(&key) {
                    thumb.tap(&key).await?;
                } else {
                    thumb.point(label).await?;
                }
            }
            check(thumb.part("on").await? == label, &format!("the rod does not stand on {label}"))?;
            thumb.number(&written(&reading.reading.text)).await?;
            thumb.save("Save", &format!("{label}: ")).await?;
            count += 1;
        }
    }
    Ok((count, thumb.taken()))
}

/// Says that the threshold's height is assumed.
async fn bench_mark(phone: &Phone, surveyor: Surveyor<'_>) -> Outcome {
    surveyor.go("Problems").await?;
    phone.tap_containing("link", "Heights").await?;
    phone.find("heading", "Heights").await?;
    phone.sees("D1a, 100.00 ft, assumed").await?;
    surveyor.press("Leave it so").await?;
    phone.wait("the question to be gone", |look| look.find("button", "Leave it so").is_none()).await?;
    Ok(())
}

/// Problem 1, water that stands for two days, is explained by the ground: it lies in a hollow, which says how deep
/// water gets in it, and the downspout that drains there is named.
async fn explained(phone: &Phone, surveyor: Surveyor<'_>) -> Outcome {
    surveyor.go("Problems").await?;
    let look = phone.sees("in a hollow round LP1: from these readings, up to ").await?;
    let told = look.nodes.iter().find(|node| node.name.contains("in a hollow round LP1"));
    let told = told.map(|node| node.name.clone()).unwrap_or_default();
    println!("{told}");
    check(told.contains("problem 1") && told.contains("LP1"), &told)?;
    check(told.contains(" could stand") && told.contains("the rim is at FR3"), &told)?;
    check(told.contains("DS3") && told.contains("drain toward it"), &told)?;
    // How deep it gets, by the true heights of bottom and outlet; three standard deviations of two rods of 0.02 ft, and half
    // an inch of rounding.
    let truth = scenario(1).true_heights();
    let [bottom, outlet] = ["LP1", "FR3"].map(|label| truth.get(&label.into()).copied().unwrap_or_default());
    let deep = told
        .split("up to about ")
        .nth(1)
        .and_then(|rest| rest.split(" could stand").next())
        .unwrap_or_default();
    let deep = read_length(deep, BareUnit::Feet)?;
    let off = (deep - (outlet - bottom)).abs().feet();
    check(off <= 3.0 * 0.02 * std::f64::consts::SQRT_2 + 0.5 / 12.0, &format!("{off} ft off: {told}"))?;
    phone.picture("levels-problems-phone-light").await?;
    Ok(())
}

/// What the phone's book gives, against the yard's true heights.
fn judge(record: &Record, yard: &Scenario) -> Outcome {
    let levels = heights(record);
    let truth = yard.true_heights();
    let read: BTreeMap<&str, ()> = record.levels.iter().map(|l| (l.what.point.as_str(), ())).collect();
    check(
        levels.points.len() == read.len(),
        &format!("{} of {} have a height", levels.points.len(), read.len()),
    )?;
    // A pocket tape is read to a quarter of an inch.
    let graduation = 0.25 * 0.0254;
    let mut worst: f64 = 0.0;
    for (point, found) in &levels.points {
        let truth = truth.get(point).ok_or_else(|| format!("{point} has no true height"))?;
        let off = (found.above - *truth).abs().metres();
        worst = worst.max(off);
        let most = 3.0 * found.sd.metres() + graduation;
        check(off <= most, &format!("{} is {off} m off, {most} allowed", point.as_str()))?;
    }
    println!("{} heights, the worst {:.1} mm off", levels.points.len(), worst * 1000.0);
    Ok(())
}

#[tokio::test]
async fn a_yard_is_levelled_by_key_and_the_standing_water_is_explained() -> Outcome {
    let yard = scenario(1);
    let setups = notes(&yard);
    Phone::with("levels", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        let scratch = Scratch::new("levels")?;
        let options = Options { sketch: Sketch::Recorded, ..Options::default() };
        let file = scratch.file("yard.jsonl", yard.json_lines(&options))?;
        surveyor.bring_in(&file).await?;
        surveyor.press("Measure").await?;
        surveyor.press("Heights by level").await?;
        phone.find("heading", "Heights").await?;
        let thumb = Thumb::on(phone).await?;
        phone.tap_containing("button", "Hand level").await?;
        phone.sees("What do you read first?").await?;
        let (readings, taps) = book(&thumb, &setups).await?;
        thumb.no_keyboard().await?;
        #[allow(clippy::cast_precision_loss, reason = "some hundred taps")]
        let mean = taps as f64 / readings as f64;
        println!("{readings} readings, {taps} taps, {mean:.2} a reading; questioned: {}", thumb.questioned());
        check(readings == setups.iter().map(Vec::len).sum::<usize>(), "not all was booked")?;
        check(mean <= MOST, &format!("a level reading costs {mean:.2} taps"))?;
        phone.picture("levels-booked-phone-light").await?;
        bench_mark(phone, surveyor).await?;
        // The notes close back on the threshold, and on the drive.
        phone.sees("Back on D1a after 5 set-ups").await?;
        phone.picture("levels-heights-phone-light").await?;
        explained(phone, surveyor).await?;
        surveyor.go("Sheet").await?;
        phone.find("button", "Plan, to scale (SVG)").await?;
        let book = surveyor.take("Field book (JSON Lines)", "book.jsonl").await?;
        let (read, errors) = Book::from_json_lines(&book);
        check(errors.is_empty(), &format!("the book has errors: {errors:?}"))?;
        let record = fold(&read).record;
        check(record.levels.len() == readings, "the book does not hold all readings")?;
        judge(&record, &yard)
    })
    .await
}

/// A house of 40 by 30 feet levelled with a string, two ends a set-up, and back to where it began.
async fn string_round_the_house(phone: &Phone, surveyor: Surveyor<'_>) -> Outcome {
    surveyor.press("Measure").await?;
    surveyor.press("Heights by level").await?;
    phone.tap_containing("button", "String with a line level").await?;
    surveyor.level("H1", "4'").await?;
    surveyor.level("H2", "4' 6\"").await?;
    // Two ends are a set-up: the next one begins on a point that has a height.
    phone.sees("One end: on a point read before.").await?;
    surveyor.press("on H2").await?;
    surveyor.number("5'").await?;
    // A half typed reading outlives the page.
    phone.reload().await?;
    surveyor.press("Go on reading: String, pair 2").await?;
    phone.find("button", "on: H2").await?;
    phone.wait("the number typed before", |look| look.says("5'")).await?;
    surveyor.save("H2: 5'").await?;
    surveyor.level("H3", "5' 3\"").await?;
    surveyor.level("H3", "4'").await?;
    // H1 lies 9 in above H3, so that 3' 3" is expected; one foot is lost.
    surveyor.press("on H1").await?;
    surveyor.number("2' 3\"").await?;
    surveyor.press("Save").await?;
    phone.sees("makes about 3' 3\" here, 1' 0\" from this").await?;
    surveyor.press("Keep 2' 3\"").await?;
    phone.sees("H1: 2' 3\"").await?;
    Ok(())
}

#[tokio::test]
async fn a_misread_is_asked_about_named_and_struck() -> Outcome {
    Phone::with("levels-misread", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_house("String round the house").await?;
        string_round_the_house(phone, surveyor).await?;
        // Tenths where tapes are in inches.
        surveyor.press("on H1").await?;
        phone.tap_containing("button", "units: feet and inches").await?;
        for key in ["5", "point", "6", "Save"] {
            surveyor.press(key).await?;
        }
        phone.sees("5.6 ft is feet and tenths").await?;
        surveyor.press("Type again").await?;
        surveyor.press("Back").await?;
        surveyor.go("Problems").await?;
        phone.tap_containing("link", "Heights").await?;
        phone.sees("Back on H1 after 3 set-ups: 1' 0\" off. Only up to").await?;
        // Of a single loop any reading may be the wrong one.
        phone.sees("5 other readings").await?;
        phone.tap_containing("button", "3: String").await?;
        phone.picture("levels-misread-phone-light").await?;
        let look = phone.look().await?;
        let strike =
            look.all("button", |name| name.contains("H1 2' 3\"")).last().cloned().ok_or("no such key")?;
        phone.tap_node(&strike).await?;
        phone.wait("the contradiction to be gone", |look| !look.says("Only up to")).await?;
        // By hand: 6 in fall in 40 ft.
        phone.choose("From", "H1").await?;
        phone.choose("To", "H2").await?;
        phone.sees("It falls from H1 to H2.").await?;
        phone.sees("1 in 80").await?;
        surveyor.go("Book").await?;
        phone.sees("Struck: H1: 2' 3\"").await?;
        phone.sees("H2 lies at 99.50 ft").await?;
        Ok(())
    })
    .await
}
