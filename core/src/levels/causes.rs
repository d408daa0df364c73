//! What may have happened to a level reading: usual slips of eye and pen, each undone in the words it was made in.

use crate::record::Reading;
use crate::slips::{Off, Slip, Written};
use crate::units::float::sqrt;
use crate::units::{BareUnit, Length, sort_by};

/// Undone, a reading agrees when it is no further from what the others expect (standard deviations).
const AGREES: f64 = 2.5;
/// Causes offered for one reading.
const MOST: usize = 3;

/// A reading as it may have been meant.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelCause {
    /// What happened.
    pub slip: Slip,
    /// What the rod showed then.
    pub meant: Reading,
}

/// The slips that would make a reading agree with what the others expect, the nearest first. `sd` is the reading's
/// own, `redundancy` its share in the check: what the others expect spreads by sd·√(1/r − 1), so that the difference
/// spreads by sd/√r.
pub(super) fn causes(
    read: &Reading,
    expected: Length,
    (sd, redundancy): (Length, f64),
    bare: BareUnit,
) -> Vec<LevelCause> {
    let within = sd * (AGREES / sqrt(redundancy));
    let mut found: Vec<(Length, LevelCause)> = Vec::new();
    for (slip, meant) in Written::of(read, bare).without_slips(Off::Rod) {
        let off = (meant.value - expected).abs();
        let known = found.iter().any(|(_, cause)| (cause.meant.value - meant.value).abs().metres() < 1e-6);
        if off < within && !known {
            found.push((off, LevelCause { slip, meant }));
        }
    }
    sort_by(&mut found, |a, b| a.0.metres().total_cmp(&b.0.metres()));
    found.into_iter().take(MOST).map(|(_, cause)| cause).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str, expected: &str, bare: BareUnit) -> Vec<(Slip, String)> {
        let read = Reading::read(text, bare).unwrap();
        let expected = Reading::read(expected, bare).unwrap().value;
        let all = causes(&read, expected, (Length::from_metres(0.002), 0.5), bare);
        all.into_iter().map(|cause| (cause.slip, cause.meant.text)).collect()
    }

    /// Each written wrong by hand, the expected value a little off what was meant.
    #[test]
    fn the_slip_that_explains_a_reading_is_named() {
        let nine = Slip::LookAlike { written: '9', meant: '6' };
        for (text, expected, bare, slip, meant) in [
            ("5' 9\"", "5' 6 1/16\"", BareUnit::Feet, nine, "5' 6\""),
            ("5.6 ft", "5' 6\"", BareUnit::Feet, Slip::InchesAsTenths, "5' 6\""),
            ("4.73 ft", "5.73 ft", BareUnit::Feet, Slip::OneFoot, "5.73 ft"),
            ("5' 4\"", "5' 5\"", BareUnit::Feet, Slip::OneInch, "5' 5\""),
            ("1.423 m", "1.522 m", BareUnit::Metres, Slip::TenCentimetres, "1.523 m"),
            ("1.432 m", "1.343 m", BareUnit::Metres, Slip::Transposed, "1.342 m"),
        ] {
            let all = found(text, expected, bare);
            assert_eq!(all.first(), Some(&(slip, meant.to_owned())), "{text}: {all:?}");
        }
    }

    #[test]
    fn what_no_slip_explains_has_no_cause() {
        assert!(found("5' 5\"", "5' 0 1/2\"", BareUnit::Feet).is_empty());
    }
}
