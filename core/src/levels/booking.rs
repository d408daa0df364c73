//! The level book as a surveyor keeps it: back, intermediate and fore sights, rise and fall, height of instrument,
//! and the arithmetic check that proves the sums, not the readings.

use super::setups::{Rod, SetUp};
use crate::record::{BenchMark, EntryId, PointId};
use crate::units::Length;
use crate::units::float::sqrt;
use litemap::LiteMap;

/// A closing beyond this many of its standard deviations is more than chance.
const CHANCE: f64 = 3.0;

/// One line of the book.
#[derive(Clone, Debug, PartialEq)]
pub struct Booked {
    /// The entry; of a change point the foresight's.
    pub entry: EntryId,
    /// The point.
    pub point: PointId,
    /// Backsight, where the level was set up to look back at this point.
    pub back: Option<Length>,
    /// Intermediate sight.
    pub between: Option<Length>,
    /// Foresight, where the level was moved after it.
    pub fore: Option<Length>,
    /// How much higher it lies than the point read before it from the same set-up.
    pub rise: Option<Length>,
    /// How much lower; a step of nothing is a rise.
    pub fall: Option<Length>,
    /// Height of the level line from here on.
    pub line: Option<Length>,
    /// Its reduced level.
    pub height: Length,
}

/// The sums that must agree: Σ backsights − Σ foresights = Σ rises − Σ falls = last − first reduced level.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sums {
    /// Σ backsights.
    pub back: Length,
    /// Σ foresights.
    pub fore: Length,
    /// Σ rises.
    pub rise: Length,
    /// Σ falls.
    pub fall: Length,
    /// Last minus first reduced level.
    pub height: Length,
}

impl Sums {
    /// Whether the three differences agree, within the tenth of a millimetre that sums of decimals need.
    #[must_use]
    pub fn agree(&self) -> bool {
        let (sights, steps) = (self.back - self.fore, self.rise - self.fall);
        let near = |a: Length, b: Length| (a - b).abs().metres() < 1e-4;
        near(sights, steps) && near(steps, self.height)
    }
}

/// A run of set-ups, each beginning on the point where the one before ended.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Its lines.
    pub lines: Vec<Booked>,
    /// Its sums.
    pub sums: Sums,
    /// Whether the first height is known: from the bench mark, or from an earlier page. Otherwise it counts as zero.
    pub tied: bool,
}

/// Where a point was reached a second time, from another set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Closing {
    /// The point.
    pub point: PointId,
    /// The entry that reached it again.
    pub entry: EntryId,
    /// The height found now less the one booked before.
    pub by: Length,
    /// What chance explains: three standard deviations of the readings in between.
    pub allowed: Length,
    /// Set-ups from the first reading of it to this one.
    pub setups: usize,
}

impl Closing {
    /// Whether chance explains it.
    #[must_use]
    pub fn closes(&self) -> bool {
        self.by.abs() <= self.allowed
    }
}

/// A booked height, and after how much reading: the variance gathered from the start of the book.
#[derive(Clone, Copy)]
struct Known {
    height: Length,
    variance: f64,
    setup: usize,
}

/// The book's pages, and every point reached again. Nothing is adjusted here.
#[must_use]
pub fn book_pages(setups: &[SetUp], bench_mark: Option<&BenchMark>) -> (Vec<Page>, Vec<Closing>) {
    let mut booking = Booking::default();
    if let Some(mark) = bench_mark.filter(|mark| mark.height.metres().is_finite()) {
        let known = Known { height: mark.height, variance: 0.0, setup: 0 };
        booking.known.insert(mark.point.clone(), known);
    }
    for (number, setup) in setups.iter().enumerate() {
        booking.enter(number, setup);
    }
    (booking.pages, booking.closings)
}

#[derive(Default)]
struct Booking {
    known: LiteMap<PointId, Known>,
    pages: Vec<Page>,
    closings: Vec<Closing>,
}

impl Booking {
    fn enter(&mut self, number: usize, setup: &SetUp) {
        let Some((back, others)) = setup.rods.split_first() else { return };
        let goes_on = self.pages.last().and_then(|page| page.lines.last()).filter(|l| l.point == back.point);
        let start = goes_on.map(|line| line.height).or(self.known.get(&back.point).map(|k| k.height));
        let begins = Known { height: start.unwrap_or(Length::ZERO), variance: 0.0, setup: number };
        let from = self.known.get(&back.point).copied().unwrap_or(begins);
        let height = start.unwrap_or(Length::ZERO);
        let line = height + back.below_line;
        if goes_on.is_none() {
            let first = Booked { fore: None, height, ..blank(back) };
            self.pages.push(Page { lines: vec![first], sums: Sums::default(), tied: start.is_some() });
            if start.is_none() {
                self.known.insert(back.point.clone(), begins);
            }
        }
        let Some(page) = self.pages.last_mut() else { return };
        if let Some(last) = page.lines.last_mut() {
            (last.back, last.line) = (Some(back.below_line), Some(line));
        }
        page.sums.back += back.below_line;
        let mut before = back.below_line;
        for (n, rod) in others.iter().enumerate() {
            let (step, height) = (before - rod.below_line, line - rod.below_line);
            before = rod.below_line;
            let rises = step >= Length::ZERO;
            let last = n + 1 == others.len();
            page.lines.push(Booked {
                between: (!last).then_some(rod.below_line),
                fore: last.then_some(rod.below_line),
                rise: rises.then_some(step),
                fall: (!rises).then_some(-step),
                height,
                ..blank(rod)
            });
            *(if rises { &mut page.sums.rise } else { &mut page.sums.fall }) += step.abs();
            if last {
                page.sums.fore += rod.below_line;
            }
            let square = |sd: Length| sd.metres() * sd.metres();
            let variance = from.variance + square(back.sd) + square(rod.sd);
            match self.known.get(&rod.point) {
                None => {
                    self.known.insert(rod.point.clone(), Known { height, variance, setup: number });
                }
                Some(known) if rod.point != back.point => self.closings.push(Closing {
                    point: rod.point.clone(),
                    entry: rod.entry.clone(),
                    by: height - known.height,
                    allowed: Length::from_metres(CHANCE * sqrt(variance + known.variance)),
                    setups: number + 1 - known.setup.min(number),
                }),
                Some(_) => {}
            }
        }
        if let Some((first, last)) = page.lines.first().zip(page.lines.last()) {
            page.sums.height = last.height - first.height;
        }
    }
}

fn blank(rod: &Rod) -> Booked {
    Booked {
        entry: rod.entry.clone(),
        point: rod.point.clone(),
        back: None,
        between: None,
        fore: None,
        rise: None,
        fall: None,
        line: None,
        height: Length::ZERO,
    }
}
