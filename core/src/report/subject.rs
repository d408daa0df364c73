//! What every section looks things up in.

use super::Report;
use super::html::Html;
use crate::checks::{Concern, Line, answer_to, concerns, labels, lines_on};
use crate::network::Joint;
use crate::plan::{PlacedPhoto, placed_photos};
use crate::record::{At, EntryId, Note, Photo, PointId, Record, Recorded, UnitSystem};
use crate::sheet::{Told, told};
use crate::units::Length;

/// The report's input and what was worked out of it once.
pub(super) struct Subject<'a> {
    pub given: &'a Report<'a>,
    pub record: &'a Record,
    pub units: UnitSystem,
    pub notes: Vec<Recorded<Note>>,
    pub concerns: Vec<Concern>,
    pub lines: Vec<Line>,
    pub photos: Vec<(PlacedPhoto, &'a Photo)>,
    /// How well all points are known together.
    pub joint: Option<Joint>,
    /// What the sheet says of the survey.
    pub told: Told,
}

impl<'a> Subject<'a> {
    pub fn of(given: &'a Report<'a>) -> Self {
        let record = &given.fold.record;
        let placed = placed_photos(record, given.plan);
        Self {
            given,
            record,
            units: record.site.units,
            notes: record.notes(),
            concerns: concerns(record, given.plan, given.ground),
            lines: lines_on(record, given.adjustment, given.plan, given.ground),
            photos: placed.into_iter().zip(record.photos.iter().map(|photo| &photo.what)).collect(),
            joint: Joint::new(record, given.adjustment),
            told: told(record, given.adjustment, given.plan, given.ground, given.sheet),
        }
    }

    /// Where something is; nothing for the whole site.
    pub fn place(&self, at: &At) -> Html {
        match at {
            At::Points(points) if !points.is_empty() => self.points(points),
            At::Near(_) => Html::of("a place tapped on the plan, roughly"),
            At::Points(_) | At::Site => Html::default(),
        }
    }

    /// `H1, H2 and T3`.
    pub fn points(&self, points: &[PointId]) -> Html {
        if points.is_empty() { Html::default() } else { Html::of(&labels(self.record, points)) }
    }

    /// Photos that show this entry.
    pub fn shows(&self, entry: &EntryId) -> Vec<&(PlacedPhoto, &'a Photo)> {
        let problem = self.record.problems.iter().find(|p| p.entry == *entry);
        let held = |photo: &Photo| problem.is_some_and(|p| p.what.photos.contains(&photo.id));
        self.photos.iter().filter(|(_, photo)| photo.of.as_ref() == Some(entry) || held(photo)).collect()
    }

    /// Why a finding is left as it is, where somebody answered it.
    pub fn answer(&self, concern: &Concern) -> Option<String> {
        answer_to(&self.notes, &concern.key).map(|answer| answer.why)
    }

    /// The height of a point above the datum, its standard deviation and whether it is in doubt.
    pub fn height(&self, point: &PointId) -> Option<(Length, Length, bool)> {
        let height = self.given.ground.levels.points.get(point)?;
        Some((height.above, height.sd, height.in_doubt))
    }
}

/// Links to photos: `Photo 3, 5`.
pub(super) fn photo_links(photos: &[&(PlacedPhoto, &Photo)]) -> Html {
    let mut html = Html::default();
    for (n, (placed, _)) in photos.iter().enumerate() {
        html.raw(if n > 0 { ", <a href=\"#photo-" } else { "<a href=\"#photo-" }).number(placed.number);
        html.raw("\">photo ").number(placed.number).raw("</a>");
    }
    html
}
