//! Rods and tapes written in different units: 5.6 ft is not 5' 6".

use crate::record::{Measurement, Reading, Record, UnitSystem};

/// In which units words are written, where they say so.
#[must_use]
pub fn written_in(text: &str) -> Option<UnitSystem> {
    if text.contains(['\'', '"', '′', '″']) || text.contains("in") {
        Some(UnitSystem::FeetInches)
    } else if text.contains("ft") || text.contains("feet") || text.contains("foot") {
        Some(UnitSystem::DecimalFeet)
    } else if text.ends_with('m') || text.contains("met") {
        Some(UnitSystem::Metres)
    } else {
        None
    }
}

/// What most rods and most tapes of a record are written in, where both say so and differ.
#[must_use]
pub fn mixed_units(record: &Record) -> Option<(UnitSystem, UnitSystem)> {
    let own = record.site.units;
    let most = |counts: [usize; 3]| {
        let all = [UnitSystem::FeetInches, UnitSystem::DecimalFeet, UnitSystem::Metres];
        let (n, units) = counts.into_iter().zip(all).max_by_key(|(n, _)| *n)?;
        (n > 0).then_some(units)
    };
    let count = |readings: &mut dyn Iterator<Item = &Reading>| {
        let mut counts = [0usize; 3];
        for reading in readings {
            let [feet_inches, feet, metres] = &mut counts;
            *match written_in(&reading.text).unwrap_or(own) {
                UnitSystem::FeetInches => feet_inches,
                UnitSystem::DecimalFeet => feet,
                UnitSystem::Metres => metres,
            } += 1;
        }
        most(counts)
    };
    let rods = count(&mut record.levels.iter().map(|l| &l.what.reading))?;
    let tapes = count(&mut record.measurements.iter().filter_map(|m| taped(&m.what)))?;
    (rods != tapes).then_some((rods, tapes))
}

/// The first length of a measurement.
fn taped(measurement: &Measurement) -> Option<&Reading> {
    match measurement {
        Measurement::Tie { reading, .. } => Some(reading),
        Measurement::Run { readings, .. } => readings.first().map(|r| &r.reading),
        Measurement::Offsets { rows, .. } => rows.first().map(|row| &row.station),
        Measurement::Walk { legs, .. } => legs.iter().find_map(|leg| leg.length.as_ref()),
        _ => None,
    }
}
