//! The computed points as a table: `points.csv`.

use super::csv::guard;
use super::words;
use crate::levels::heights;
use crate::network::{Adjustment, PointState};
use crate::plan::stood;
use crate::record::{Record, Stood};
use crate::units::SURE;
use crate::units::format::fixed;

/// Points as CSV: label, x and y in metres (empty while loose), state, the ellipse that covers the true place in 95 of 100
/// cases (half axes in metres, direction of the larger in degrees counter-clockwise from x), in which way it is
/// free, the note, and the levelled height above the datum with the ± that covers it in 95 of 100 cases (metres; empty where
/// nothing was levelled), and what the rod stood on: `ground`, or something `above` it that no terrain goes through. The
/// heads say units and level as the map's properties do. Points stand in the order they were first spoken of.
#[must_use]
pub fn write(record: &Record, adjustment: &Adjustment) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing into memory does not fail, and all rows have as many cells as the first.
    let mut put = |cells: [&str; 12]| writer.write_record(cells).is_ok();
    put([
        "label",
        "x_m",
        "y_m",
        "state",
        "semi_major_95_m",
        "semi_minor_95_m",
        "axis_95_deg",
        "free",
        "note",
        "height_m",
        "height_within_95_m",
        "height_of",
    ]);
    let levels = heights(record);
    for point in &record.points {
        let height = levels.points.get(&point.id);
        let [z, within] =
            height.map_or(Default::default(), |h| [h.above, h.sd * SURE].map(|z| fixed(z.metres(), 4)));
        let stood = height.map_or("", |_| match stood(record, &point.id) {
            Stood::Ground => "ground",
            Stood::Above => "above",
        });
        let fix = adjustment.points.get(&point.id);
        let [x, y] = fix.and_then(|fix| fix.at).map_or([String::new(), String::new()], |at| {
            let (x, y) = at.metres();
            [fixed(x, 4), fixed(y, 4)]
        });
        let [major, minor, direction] = fix.and_then(|fix| fix.ellipse).map_or(Default::default(), |e| {
            let direction = e.direction.degrees().rem_euclid(180.0);
            [fixed(e.semi_major.metres(), 4), fixed(e.semi_minor.metres(), 4), fixed(direction, 1)]
        });
        let free = fix.and_then(|fix| fix.freedom.as_ref()).map(|f| words::freedom(record, f));
        let state = fix.map_or(PointState::Loose, |fix| fix.state).word();
        let (label, note) = (guard(&point.label), guard(&point.note));
        put([
            &label,
            &x,
            &y,
            state,
            &major,
            &minor,
            &direction,
            &free.unwrap_or_default(),
            &note,
            &z,
            &within,
            stood,
        ]);
    }
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}
