//! Every kind of the catalogue: added on the plan with one answer, seen there, edited from the list of
//! things, struck, and all of it read in the book. What problems and utility marks are asked, too.

use swingtie_browser::{Look, Outcome, Phone, Scheme, Size, Surveyor, check};
use swingtie_core::record::{CATALOGUE, Form, Geometry, Kind, Row, Sort, asked};
use swingtie_core::units::{Length, LengthStyle, format_length};

/// A number among the usual ones of a row, other each time, and its words in the book.
fn number(row: &Row, time: u32) -> Option<(String, String)> {
    let middle = |least: f64, most: f64| ((least + most) / 2.0).ceil() + f64::from(time);
    Some(match row.sort {
        Sort::Length { least, most } => {
            let inches = middle(least.inches(), most.inches());
            assert!(Length::from_inches(inches) <= most, "{}", row.key);
            // In the book a size is told as the site writes its lengths, whatever it was typed as.
            let told = format_length(Length::from_inches(inches), LengthStyle::SIXTEENTHS);
            (inches.to_string(), told)
        }
        Sort::Count { least, most } => {
            let n = (f64::from(least + most) / 2.0).floor() + f64::from(time);
            (n.to_string(), n.to_string())
        }
        Sort::Percent { most } => (format!("{}", most / 2 + time), format!("{} %", most / 2 + time)),
        Sort::Degrees { most } => (format!("{}", most / 2 + time), format!("{}°", most / 2 + time)),
        _ => return None,
    })
}

/// Answers a row, otherwise each time, and hands back what the book will say.
async fn answer(phone: &Phone, row: &Row, time: u32) -> Outcome<String> {
    let said = match (row.sort, number(row, time)) {
        (sort, Some((digits, said))) => {
            let start = format!("{}: ", row.name);
            let wish = format!("a button {start:?}");
            let look = phone
                .wait(&wish, |look| look.all("button", |n| n.starts_with(&start)).next().is_some())
                .await?;
            let button = look.all("button", |n| n.starts_with(&start)).next().ok_or("it went away")?.clone();
            phone.tap_node(&button).await?;
            // What an earlier answer typed.
            if matches!(sort, Sort::Length { .. }) {
                phone.tap("button", "clear").await?;
            } else if time > 0 {
                phone.tap("button", "delete").await?;
                phone.tap("button", "delete").await?;
                phone.tap("button", "delete").await?;
            }
            for digit in digits.chars() {
                phone.tap("button", &digit.to_string()).await?;
            }
            if matches!(sort, Sort::Length { .. }) {
                phone.tap("button", "inches").await?;
            }
            phone.tap("button", "Done").await?;
            said
        }
        (Sort::Choice(words), _) => choose(phone, words, time).await?,
        (Sort::YesNo, _) => choose(phone, &["yes", "no"], time).await?,
        _ => {
            let words = format!("so it is {time}");
            phone.fill(row.name, &words).await?;
            words
        }
    };
    Ok(format!("{} {said}", row.key.replace('_', " ")))
}

async fn choose(phone: &Phone, words: &[&str], time: u32) -> Outcome<String> {
    let word = words.get(time as usize).ok_or("too few words")?;
    phone.tap("button", word).await?;
    Ok((*word).to_owned())
}

/// The row that is answered: the first one, unless a day is asked.
fn row(form: Form) -> Option<&'static Row> {
    form.first.iter().find(|row| row.sort != Sort::Day).copied()
}

/// Answers a kind's first question; of one that is asked nothing at once, what shall become of it.
async fn say(phone: &Phone, kind: &Kind, time: u32) -> Outcome<String> {
    match row(asked(kind.key)) {
        Some(row) => answer(phone, row, time).await,
        None => {
            phone.tap_containing("DisclosureTriangle", "More: keep or remove").await?;
            phone.fill("Note", &format!("so it is {time}")).await?;
            Ok(format!("so it is {time}"))
        }
    }
}

/// How many shapes of this kind the plan shows with a size, once it is as many as wished.
async fn drawn(phone: &Phone, kind: &Kind, wished: usize) -> Outcome {
    let script = format!(
        "(async () => {{ const count = () => [...document.querySelectorAll('.shape.kind-{}')]\
         .filter(g => [...g.querySelectorAll('path,circle')].some(e => {{ const b = e.getBoundingClientRect(); \
         return b.width + b.height > 1; }})).length; \
         for (let n = 0; n < 300 && count() !== {wished}; n++) await new Promise(requestAnimationFrame); \
         return count(); }})()",
        kind.key
    );
    let seen = phone.evaluate(&script).await?;
    check(seen == wished, &format!("{seen} of {} on the plan, not {wished}", kind.key))
}

/// Saves what the slip holds and waits for the plan's own keys.
async fn saved(phone: &Phone) -> Outcome {
    phone.tap("button", "Save thing").await?;
    phone.find("button", "Utility mark").await?;
    Ok(())
}

async fn things(phone: &Phone) -> Outcome {
    phone.tap("link", "Problems").await?;
    phone.tap_containing("link", "Things ").await
}

/// What the book must say in the end: of each kind, first, then, and that it was struck.
async fn through(phone: &Phone, kind: &'static Kind) -> Outcome<[String; 3]> {
    let surveyor = Surveyor::with(phone);
    surveyor.press("Thing").await?;
    surveyor.press(kind.name).await?;
    let labels: &[&str] = match kind.geometry {
        Geometry::Point | Geometry::Circle => &["H1"],
        Geometry::Line => &["H1", "H2"],
        Geometry::Curve | Geometry::Area => &["H1", "H2", "H3"],
    };
    for label in labels {
        surveyor.press(label).await?;
    }
    let first = say(phone, kind, 0).await?;
    saved(phone).await?;
    drawn(phone, kind, 1).await?;
    things(phone).await?;
    surveyor.press(&format!("Edit {} H1", kind.name)).await?;
    let then = say(phone, kind, 1).await?;
    saved(phone).await?;
    drawn(phone, kind, 1).await?;
    things(phone).await?;
    phone.sees(&then).await?;
    surveyor.press(&format!("Strike {} H1", kind.name)).await?;
    phone.sees("Nothing recorded yet").await?;
    surveyor.go("Plan").await?;
    drawn(phone, kind, 0).await?;
    Ok([first, format!("Corrected to: {}", kind.name), then])
}

/// Whether a line of the book names a kind and says this of it.
fn says_both(look: &Look, kind: &str, words: &str) -> bool {
    look.nodes.iter().any(|node| node.name.contains(kind) && node.name.contains(words))
}

async fn share(name: &str, part: usize, parts: usize) -> Outcome {
    Phone::with(name, Size::Phone, Scheme::Light, async |phone| {
        Surveyor::with(phone).new_house("Yard of all things").await?;
        let mut all = Vec::new();
        for kind in CATALOGUE.iter().skip(part).step_by(parts) {
            let told = through(phone, kind).await.map_err(|error| format!("{}: {error}", kind.key))?;
            all.push((kind, told));
        }
        Surveyor::with(phone).go("Book").await?;
        let look = phone.sees("Newest first").await?;
        for (kind, [first, corrected, then]) in all {
            check(
                says_both(&look, kind.name, &first),
                &format!("the book has no {} with {first}", kind.key),
            )?;
            check(says_both(&look, &corrected, &then), &format!("{} was not corrected to {then}", kind.key))?;
            check(look.says(&format!("Struck: {}", kind.name)), &format!("{} was not struck", kind.key))?;
        }
        Ok(())
    })
    .await
}

#[tokio::test]
async fn every_other_kind_from_the_first() -> Outcome {
    share("catalogue-1", 0, 2).await
}

#[tokio::test]
async fn every_other_kind_from_the_second() -> Outcome {
    share("catalogue-2", 1, 2).await
}
