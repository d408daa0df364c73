//! How many taps a whole yard costs: every reading of the first invented yard is taken as a practised user
//! would, every tap is counted, and the book that comes of it gives the plan of the yard's own book.

mod eyes;
mod notes;
mod thumb;

use eyes::Eyes;
use notes::{in_order, kind_of, letters, own_book, text, yard};
use serde_json::Value;
use std::{collections::BTreeMap, fs};
use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};
use swingtie_core::{
    book::{Book, fold},
    record::Side,
};
use thumb::Thumb;

/// The bar: so many taps a running reading or a tie may cost on the mean, figures included.
const MOST: f64 = 7.0;
/// Plans agree to the last figure of the table, a tenth of a millimetre, rounding aside.
const SAME: f64 = 0.000_15;

/// The taps of one sort of reading.
#[derive(Default)]
struct Count {
    readings: usize,
    taps: usize,
}

impl Count {
    #[allow(clippy::cast_precision_loss, reason = "some hundred taps")]
    fn mean(&self) -> f64 {
        self.taps as f64 / self.readings.max(1) as f64
    }
}

/// Somebody practised, at work in the first yard.
struct Hand<'a> {
    thumb: Thumb<'a>,
    eyes: Eyes,
    /// What the yard's file calls a point, and what the phone does.
    labels: BTreeMap<String, String>,
    /// What is under way.
    open: String,
    counts: BTreeMap<&'static str, Count>,
}

impl Hand<'_> {
    fn label(&self, point: &str) -> Outcome<String> {
        Ok(self.labels.get(point).ok_or_else(|| format!("{point} was not measured yet"))?.clone())
    }

    /// Counts the taps since last asked for this sort of reading.
    fn count(&mut self, sort: &'static str, readings: usize) {
        let count = self.counts.entry(sort).or_default();
        count.readings += readings;
        count.taps += self.thumb.taken();
    }

    async fn start(&mut self, kind: &str) -> Outcome {
        if self.open != kind {
            if !self.open.is_empty() {
                self.thumb.tap("Back").await?;
            }
            self.thumb.tap("Measure").await?;
            self.thumb.tap(kind).await?;
            kind.clone_into(&mut self.open);
        }
        Ok(())
    }

    /// The house, walked round without a tape: only which way its corners turn.
    async fn walk(&mut self) -> Outcome {
        self.start("Walk the walls").await?;
        self.thumb.tap("New point H1").await?;
        let turns =
            [("", "H2"), ("left", "H3"), ("left", "H4"), ("right", "H5"), ("left", "H6"), ("left", "H1")];
        for (turn, corner) in turns {
            if !turn.is_empty() {
                self.thumb.tap(&format!("{turn}, not square")).await?;
            }
            let back = corner == "H1";
            let key = if back { "Back at the start, H1".to_owned() } else { format!("New point {corner}") };
            self.thumb.tap(&key).await?;
            self.thumb.save("Save", &format!("to {corner}")).await?;
            self.labels.insert(corner.to_owned(), corner.to_owned());
        }
        self.open.clear();
        self.count("wall of a walk, not taped", turns.len());
        Ok(())
    }

    /// Picks a known point in the part of this name.
    async fn pick(&mut self, part: &str, point: &str) -> Outcome {
        let label = self.label(point)?;
        let parts = self.thumb.parts().await?;
        let (name, on) = parts
            .into_iter()
            .find(|(name, _)| name.starts_with(&format!("{part}: ")))
            .ok_or("no such part")?;
        if name == format!("{part}: {label}") {
            return Ok(());
        }
        let row = [format!("{part} {label}"), format!("at {label}")];
        for key in self.thumb.row().await? {
            if row.contains(&key) {
                return self.thumb.tap(&key).await;
            }
        }
        if !on {
            self.thumb.tap(&name).await?;
        }
        self.thumb.point(&label).await
    }

    /// Taps a key that names a new point and remembers its label. `lead` is what stands before the label.
    async fn new_point(&mut self, yard: &Value, point: &str, lead: &str) -> Outcome {
        let name = kind_of(yard, point)?.name;
        let fits = |key: &String| key.starts_with(lead) && key.ends_with(&format!(", {name}"));
        if let Some(key) = self.thumb.row().await?.into_iter().find(fits) {
            let label = key.trim_start_matches(lead).split(',').next().unwrap_or_default().to_owned();
            self.labels.insert(point.to_owned(), label);
            self.thumb.tap(&key).await
        } else {
            self.thumb.tap("another kind of thing").await?;
            self.thumb.tap(name).await
        }
    }

    async fn run(&mut self, yard: &Value, taken: &Value) -> Outcome {
        if self.open == "Tape along a wall" {
            // The reading before is said to be saved first; the row follows.
            self.thumb.tap("next wall").await?;
        }
        self.start("Tape along a wall").await?;
        self.pick("zero at", text(taken, "zero")?).await?;
        self.pick("toward", text(taken, "toward")?).await?;
        let readings = taken["readings"].as_array().ok_or("no readings")?;
        for read in readings {
            let (point, reading) = (text(read, "point")?, text(read, "reading")?);
            let known = self.labels.contains_key(point);
            if !self.thumb.on_pad().await? {
                if known {
                    self.pick("point", point).await?;
                } else {
                    self.new_point(yard, point, "at ").await?;
                }
                self.thumb.number(reading).await?;
                self.thumb.tap("Save").await?;
            } else {
                self.thumb.number(reading).await?;
                if known {
                    let key = format!("save at {}", self.label(point)?);
                    self.thumb.tap(&key).await?;
                } else {
                    self.new_point(yard, point, "save at ").await?;
                }
            }
            self.thumb.saved(" at ").await?;
            let label = self.thumb.last().await?;
            let label =
                label.split(" · ").nth(1).and_then(|read| read.split(" at ").next()).ok_or("nothing said")?;
            self.labels.insert(point.to_owned(), label.to_owned());
        }
        self.count("running reading", readings.len());
        Ok(())
    }

    /// Brings the next tie's two ends into the form, where they are not yet.
    async fn ends(&mut self, yard: &Value, tie: &Value) -> Outcome {
        let (from, to) = (text(tie, "frm")?, text(tie, "to")?);
        let there = self.thumb.part("to").await?;
        if self.labels.contains_key(to) {
            self.pick("to", to).await?;
        } else if there.ends_with(" new") && letters(&there) == kind_of(yard, to)?.prefix {
            // The key that saved the tie before said so.
        } else if let Some(next) = self.next_key(yard, to, "").await? {
            self.thumb.tap(&next).await?;
        } else {
            if there == "—" {
                self.pick("from", from).await?;
            }
            self.new_point(yard, to, "at ").await?;
        }
        self.pick("from", from).await
    }

    /// The key that goes on to this new point, if the phone means the same kind.
    async fn next_key(&mut self, yard: &Value, point: &str, lead: &str) -> Outcome<Option<String>> {
        let (kind, lead) = (kind_of(yard, point)?, format!("{lead}next point "));
        let same = |key: &String| key.strip_prefix(&lead).is_some_and(|label| letters(label) == kind.prefix);
        Ok(self.thumb.row().await?.into_iter().find(same))
    }

    /// A tie; `next` is the one after it, if it is one: the key that saves also says where it goes.
    async fn tie(&mut self, yard: &Value, taken: &Value, next: Option<&Value>) -> Outcome {
        self.start("Tape between two points").await?;
        self.ends(yard, taken).await?;
        let to = text(taken, "to")?;
        let label = self.thumb.part("to").await?.trim_end_matches(" new").to_owned();
        self.labels.insert(to.to_owned(), label.clone());
        self.thumb.number(text(taken, "reading")?).await?;
        let row = self.thumb.row().await?;
        let side = row.iter().find_map(|key| key.strip_prefix("save left, walking from "));
        let mut key = "Save".to_owned();
        if let Some((first, second)) = side.and_then(|line| line.split_once(" to ")) {
            let theirs = |label: &str| {
                self.labels
                    .iter()
                    .find(|(_, ours)| *ours == label)
                    .map(|(theirs, _)| theirs.clone())
                    .ok_or("unknown")
            };
            let side = self.eyes.side(to, &theirs(first)?, &theirs(second)?)?;
            let side = if side == Side::Left { "left" } else { "right" };
            key = format!("save {side}, walking from {first} to {second}");
        } else if let Some(next) = next {
            let (from, target) = (text(next, "frm")?, text(next, "to")?);
            if target == to {
                let onward = format!("save, then from {}", self.label(from)?);
                key = row.iter().find(|key| **key == onward).cloned().unwrap_or(key);
            } else if self.labels.contains_key(target) {
                let onward = format!("save, then to {}", self.label(target)?);
                key = row.iter().find(|key| **key == onward).cloned().unwrap_or(key);
            } else if let Some(onward) = self.next_key(yard, target, "save, then ").await? {
                key = onward;
            } else {
                self.thumb.tap("another kind of thing").await?;
                key = kind_of(yard, target)?.name.to_owned();
            }
        }
        self.thumb.save(&key, &format!("{label} from ")).await?;
        self.count("tie", 1);
        Ok(())
    }

    async fn offset(&mut self, yard: &Value, taken: &Value) -> Outcome {
        let base: [String; 2] = serde_json::from_value(taken["base"].clone())?;
        self.start("Baseline and offset").await?;
        for (part, end) in ["from", "to"].into_iter().zip(&base) {
            self.pick(part, end).await?;
        }
        let point = text(taken, "point")?;
        if self.labels.contains_key(point) {
            self.pick("point", point).await?;
        } else {
            let proposed = self.thumb.part("point").await?;
            let same = letters(&proposed) == kind_of(yard, point)?.prefix;
            if !same {
                self.new_point(yard, point, "at ").await?;
            }
        }
        let label = self.thumb.part("point").await?.trim_end_matches(" new").to_owned();
        self.labels.insert(point.to_owned(), label.clone());
        self.thumb.number(text(taken, "station_reading")?).await?;
        self.thumb.tap("Next").await?;
        self.thumb.number(text(taken, "offset_reading")?).await?;
        let [from, to] = [self.label(&base[0])?, self.label(&base[1])?];
        let key = format!("save {}, walking from {from} to {to}", text(taken, "side")?);
        self.thumb.save(&key, &format!("{label} · ")).await?;
        self.count("offset, two readings", 2);
        Ok(())
    }
}

/// Where the desk's command puts each point of a book, metres, and its state.
fn at_the_desk(name: &str, book: &str) -> Outcome<BTreeMap<String, (f64, f64)>> {
    let folder = swingtie_browser::at_the_desk(name, book)?;
    let table = fs::read_to_string(folder.join("points.csv"))?;
    let mut places = BTreeMap::new();
    for line in table.lines().skip(1) {
        let mut cells = line.split(',');
        let [label, x, y] = [cells.next(), cells.next(), cells.next()].map(Option::unwrap_or_default);
        if let (Ok(x), Ok(y)) = (x.parse(), y.parse()) {
            places.insert(label.to_owned(), (x, y));
        }
    }
    Ok(places)
}

/// Prints the table and holds it against the bar.
fn judge(counts: &BTreeMap<&'static str, Count>) -> Outcome {
    println!("| reading | number | taps | mean |\n| --- | ---: | ---: | ---: |");
    for (sort, count) in counts {
        println!("| {sort} | {} | {} | {:.1} |", count.readings, count.taps, count.mean());
    }
    for (sort, readings) in [("running reading", 35), ("tie", 105), ("offset, two readings", 24)] {
        let count = counts.get(sort).ok_or("a sort of reading is missing")?;
        check(count.readings == readings, &format!("{} of {readings} {sort}s", count.readings))?;
    }
    for sort in ["running reading", "tie"] {
        let mean = counts.get(sort).map(Count::mean).unwrap_or(f64::MAX);
        check(mean <= MOST, &format!("a {sort} costs {mean:.2} taps"))?;
    }
    Ok(())
}

#[tokio::test]
async fn a_whole_yard_costs_seven_taps_a_reading_and_no_keyboard() -> Outcome {
    let yard = yard()?;
    let taken = in_order(&yard)?;
    Phone::with("taps", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_site("Yard with the L-shaped house").await?;
        let thumb = Thumb::on(phone).await?;
        let (labels, counts) = (BTreeMap::new(), BTreeMap::new());
        let mut hand = Hand { thumb, eyes: Eyes::open(), labels, open: String::new(), counts };
        hand.walk().await?;
        for (number, one) in taken.iter().enumerate() {
            let next = taken.get(number + 1).filter(|next| next["type"] == "tie");
            let done = match text(one, "type")? {
                "running" => hand.run(&yard, one).await,
                "tie" => hand.tie(&yard, one, next).await,
                _ => hand.offset(&yard, one).await,
            };
            done.map_err(|error| format!("{}: {error}", one["id"]))?;
        }
        hand.thumb.no_keyboard().await?;
        println!("questioned: {}", hand.thumb.questioned());
        phone.picture("taps-phone-light").await?;
        surveyor.press("Back").await?;
        surveyor.go("Sheet").await?;
        phone.find("button", "Plan, to scale (SVG)").await?;
        let book = surveyor.take("Field book (JSON Lines)", "book.jsonl").await?;
        let (read, errors) = Book::from_json_lines(&book);
        check(errors.is_empty(), &format!("the book has errors: {errors:?}"))?;
        let own = own_book(&fold(&read).record, &hand.labels)?;
        let (typed, own) = (at_the_desk("taps", &book)?, at_the_desk("taps-own", &own.to_json_lines())?);
        check(
            typed.len() > 80 && typed.len() == own.len(),
            &format!("{} and {} placed", typed.len(), own.len()),
        )?;
        for (label, (x, y)) in &typed {
            let (own_x, own_y) = own.get(label).ok_or_else(|| format!("{label} has no place"))?;
            let off = (x - own_x).abs().max((y - own_y).abs());
            check(off <= SAME, &format!("{label} is {off} m off"))?;
        }
        judge(&hand.counts)
    })
    .await
}
