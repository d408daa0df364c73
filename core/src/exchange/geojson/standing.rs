//! How good the plan's place on the map is.

use super::super::decimals::{Degrees, Metres};
use crate::place::Stated;
use crate::plan::Plan;
use crate::record::{NorthKind, Record};
use crate::units::SURE;
use serde::Serialize;

/// What was said at the desk, not in the book.
const BESIDE: &str = "stated beside the book";

/// Members of the map layer's head; what is not known is null.
#[derive(Serialize)]
pub(super) struct Standing<'a> {
    anchor_point: Option<&'a str>,
    anchor_source: &'a str,
    anchor_accuracy_m: Option<Metres>,
    north_source: &'a str,
    north_95_deg: Option<Degrees>,
    north_from_compass: bool,
}

impl<'a> Standing<'a> {
    pub(super) fn of(record: &'a Record, plan: &'a Plan, stated: &Stated) -> Self {
        let anchor = record.anchor.as_ref().filter(|_| stated.at.is_none());
        let north = plan.north.as_ref().filter(|_| stated.north.is_none());
        let accuracy = anchor.and_then(|anchor| anchor.accuracy).filter(|reach| reach.is_finite());
        let sd = north.and_then(|north| north.sd).filter(|sd| sd.radians().is_finite());
        Self {
            anchor_point: anchor.map(|anchor| record.label(&anchor.point)),
            anchor_source: anchor.map_or(BESIDE, |anchor| &anchor.source),
            anchor_accuracy_m: accuracy.map(|reach| Metres::new(reach.metres())),
            north_source: north.map_or(BESIDE, |north| &north.source),
            north_95_deg: sd.map(|sd| Degrees::new(SURE * sd.degrees())),
            north_from_compass: north.is_some_and(|north| north.kind == NorthKind::Magnetic),
        }
    }
}
