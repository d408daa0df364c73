//! Solver, ground and sheet as a wasm module, built with the phone's own profile and timed in a browser.

#[path = "../../sheet/furnished.rs"]
#[expect(clippy::indexing_slicing, reason = "indices below the lengths of these very arrays")]
mod furnished;
mod long;

use swingtie_core::{
    book::{Book, fold},
    levels::{Spot, Surface},
    network::{Adjustment, adjust},
    plan::Plan,
    record::Record,
    sheet::{self, Options},
    units::{Length, PlanPoint, float::sin},
};
use wasm_bindgen::prelude::wasm_bindgen;

/// A yard's record, read once.
#[wasm_bindgen]
pub struct Yard(Record);

#[wasm_bindgen]
impl Yard {
    /// Reads a book's text.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new(book: &str) -> Self {
        let (book, _) = Book::from_json_lines(book);
        Self(fold(&book).record)
    }

    /// Solves the whole yard anew and resolves its plan, as after every reading. Returns how many
    /// readings went in, so that the work cannot be left out.
    #[must_use]
    pub fn solve(&self) -> usize {
        let adjustment = adjust(&self.0);
        Plan::build(&self.0, &adjustment).points.len() + adjustment.readings.len()
    }
}

/// Spot heights of an invented hill.
#[wasm_bindgen]
pub struct Hill {
    spots: Vec<Spot>,
    breaks: Vec<[usize; 2]>,
}

#[wasm_bindgen]
impl Hill {
    /// So many spots on 60 × 60 m in no order, on waves of a metre that leave hollows, a tenth of them joined in pairs
    /// by break lines.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new(count: u32) -> Self {
        let mut seed = 1_u32;
        // D. Knuth's constants of a linear congruence, The Art of Computer Programming, volume 2.
        let mut next = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            60.0 * f64::from(seed >> 8) / f64::from(1_u32 << 24)
        };
        let spot = |_| {
            let (x, y) = (next(), next());
            let height = Length::from_metres(0.02 * x + sin(0.3 * x) * sin(0.3 * y));
            Spot { at: PlanPoint::from_metres(x, y), height }
        };
        let spots: Vec<Spot> = (0..count).map(spot).collect();
        let breaks = (0..spots.len() / 20).map(|n| [2 * n, 2 * n + 1]).collect();
        Self { spots, breaks }
    }

    /// The surface, its contours and its hollows, as after a reading. Returns how much there is of all, so that the
    /// work cannot be left out; nothing when there is no surface.
    #[must_use]
    pub fn survey(&self) -> usize {
        let Ok(surface) = Surface::new(&self.spots, &self.breaks, &[]) else { return 0 };
        let contours = surface.contours(Length::from_metres(0.1));
        let lines: usize = contours.iter().map(|contour| contour.lines.len()).sum();
        surface.triangles.len() + lines + surface.low_points().len()
    }
}

/// A yard full of things, solved.
#[wasm_bindgen]
pub struct Full {
    record: Record,
    adjustment: Adjustment,
    plan: Plan,
}

#[wasm_bindgen]
impl Full {
    /// An invented yard of so many points and about as many things.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new(points: usize) -> Self {
        let (record, adjustment) = furnished::furnished(points, 2);
        let plan = Plan::build(&record, &adjustment);
        Self { record, adjustment, plan }
    }

    /// How many things there are.
    #[must_use]
    pub fn things(&self) -> usize {
        let record = &self.record;
        record.features.len() + record.marks.len() + record.problems.len() + record.photos.len()
    }

    /// Draws its sheets. Returns how long their text is, so that the work cannot be left out.
    #[must_use]
    pub fn draw(&self) -> usize {
        let sheets = sheet::sheets(&self.record, &self.adjustment, &self.plan, &Options::default());
        sheets.iter().map(|drawing| drawing.svg.len()).sum()
    }
}
