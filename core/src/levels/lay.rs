//! Heights for tapes that lay on a slope.

use super::heights;
use crate::record::{PointId, Record};
use crate::units::Length;
use litemap::LiteMap;

/// Puts the levelled heights into the record, where some tape's slope is known by them: its reading is reduced to the
/// horizontal with the rise between its ends (`units::tape::level_by_rise`). Heights never follow from tapes, so
/// levels first and places then is all it takes: there is nothing to go round in turns.
pub fn lay(record: &mut Record) {
    if record.slopes_by_heights() {
        record.heights = above(record);
    }
}

/// The levelled heights above the datum.
#[must_use]
pub fn above(record: &Record) -> LiteMap<PointId, Length> {
    let mut above = LiteMap::new();
    // One by one: sorting them all at once is a sort of its own to download.
    for (point, height) in heights(record).points.iter() {
        above.insert(point.clone(), height.above);
    }
    above
}
