//! Lists too long for the sheet with the plan, on sheets of their own.

use super::furniture::{self, Block, Number, Subject};
use super::layout::{self, Layout};
use super::paper::{Orientation, Paper};
use super::pen::{self, Pen};
use super::picture::Picture;
use super::prepared::Prepared;
use super::view::View;
use super::{Drawing, Options, lists, whole};

/// The lists that are not beside the plan, cut into sheets.
pub(super) struct Listing {
    layout: Layout,
    pages: Vec<Vec<Block>>,
}

impl Listing {
    /// As many sheets as they take, beside a sheet with the plan: one of the smallest paper that has room for all, or
    /// several of the plan's. Whoever wants a certain paper, or a way it lies, gets all sheets so.
    pub fn of(subject: &Subject<'_>, beside: &Layout) -> Self {
        let (options, units) = (subject.options, subject.record.site.units);
        let smaller = Paper::of(units).take_while(|paper| *paper != beside.paper);
        let papers = smaller.filter(|_| options.paper.is_none()).chain([beside.paper]);
        let other = match beside.orientation {
            Orientation::Portrait => Orientation::Landscape,
            Orientation::Landscape => Orientation::Portrait,
        };
        let ways =
            [beside.orientation, other].into_iter().take(if options.orientation.is_none() { 2 } else { 1 });
        let all = papers.flat_map(|paper| ways.clone().map(move |way| (paper, way)));
        let mut one = all.map(|(paper, way)| Self::on(subject, beside, (paper, way)));
        one.find(|listing| listing.sheets() == 1)
            .unwrap_or_else(|| Self::on(subject, beside, (beside.paper, beside.orientation)))
    }

    fn on(subject: &Subject<'_>, beside: &Layout, (paper, way): (Paper, Orientation)) -> Self {
        let layout = layout::columns(paper, way, beside.scale);
        let (wide, high) = layout.column();
        let title = furniture::title(subject, wide, None, Some(&layout));
        let mut rest = lists::others(subject, wide, beside.listed);
        let mut pages = Vec::new();
        while !rest.is_empty() {
            let fits = |taken: &usize| {
                let mut page: Vec<Block> = rest.iter().take(*taken).cloned().collect();
                page.push(title.clone());
                layout::flow(&page, layout.columns.len(), high).is_some()
            };
            // Nothing is taller than a sheet; should it be, it stands alone, cut off.
            let mut taken = (1..=rest.len()).take_while(fits).last().unwrap_or(1);
            // A heading goes with what it heads.
            while taken > 1 && rest.get(taken - 1).is_some_and(|last| last.keep) {
                taken -= 1;
            }
            let next = rest.split_off(taken.min(rest.len()));
            pages.push(std::mem::replace(&mut rest, next));
        }
        Self { layout, pages }
    }

    /// How many sheets that is.
    pub fn sheets(&self) -> usize {
        self.pages.len()
    }

    /// Draws them, the first of them being sheet `number.sheet`.
    pub fn draw(&self, prepared: &Prepared<'_>, options: &Options, number: Number) -> Vec<Drawing> {
        let draw = |(n, page): (usize, &Vec<Block>)| {
            let subject = prepared.subject(options, Some(Number { sheet: number.sheet + n, ..number }));
            let mut body = Picture::default();
            body.rect(&self.layout.sheet, Pen::fill(pen::PAPER));
            body.named("layer-sheet", self.page(&subject, page));
            let view = View::new(self.layout.scale, prepared.turn, None, self.layout.window.centre());
            whole::finished((prepared.record, options.colours), &self.layout, view, body, Vec::new())
        };
        self.pages.iter().enumerate().map(draw).collect()
    }

    fn page(&self, subject: &Subject<'_>, page: &[Block]) -> Picture {
        let mut picture = Picture::default();
        picture.rect(&self.layout.frame, Pen::line(0.7));
        let mut blocks = page.to_vec();
        blocks.push(furniture::title(subject, self.layout.column().0, None, Some(&self.layout)));
        self.layout.set(&mut picture, blocks);
        picture
    }
}
