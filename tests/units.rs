//! Reading and writing lengths.
//!
//! The inch is 0.0254 m and the foot 0.3048 m exactly (international yard and pound agreement of
//! 1959). Expected metres are worked from that in decimal and parsed by the standard library, which
//! rounds correctly: an oracle that shares nothing with the reader's own fractions.

use proptest::prelude::*;
use swingtie_core::units::{
    Angle, Area, BareUnit, Length, LengthStyle, UnitSystem, format_angle, format_area, format_bearing,
    format_length, read_angle, read_bearing, read_length,
};

fn metres(text: &str, bare: BareUnit) -> f64 {
    read_length(text, bare).unwrap_or_else(|error| panic!("{text}: {error}")).metres()
}

fn refusal(text: &str) -> String {
    match read_length(text, BareUnit::Feet) {
        Ok(length) => panic!("{text} was read as {length:?}"),
        Err(error) => error.to_string(),
    }
}

/// The double nearest to so many ten-millionths of a metre.
fn ten_millionths(n: i64) -> f64 {
    format!("{}.{:07}", n / 10_000_000, n % 10_000_000).parse().unwrap()
}

/// 150 1/2 in = 150.5 x 0.0254 = 3.8227 m, written in every way.
#[test]
fn every_way_of_writing_twelve_feet_six_and_a_half() {
    let ways = [
        "12' 6 1/2\"",
        "12'6.5",
        "12'6.5\"",
        "12-6-1/2",
        "12'-6-1/2\"",
        "12' - 6 1/2\"",
        "12 6 1/2",
        "12 6 1/2\"",
        "12-6.5",
        "12 6.5",
        "12 ft 6 1/2 in",
        "12ft. 6.5in.",
        "12 Feet 6 1/2 Inches",
        "12′ 6½″",
        "12’6½”",
        "12‘ 6 ½“",
        "12' 6 1/2''",
        "12´ 6 1⁄2``",
        "  12\u{a0}'\u{2009}6 1/2 \"  ",
        "12 – 6 – ½",
        "150 1/2\"",
        "150½ in",
        "150.5 in",
        "+12' 6 1/2\"",
        "12' 6 8/16\"",
        "12' 6,5\"",
        "3.8227 m",
        "3,8227 m",
        "382.27 cm",
        "3822.7 mm",
        "3 m 82.27 cm",
        "3m 82cm 2.7mm",
        "3.8227 METRES",
    ];
    for way in ways {
        assert_eq!(metres(way, BareUnit::Feet).to_bits(), 3.8227_f64.to_bits(), "{way}");
    }
}

/// The other readings of the field, each with the metres the definition gives.
#[test]
fn plain_numbers_and_single_units() {
    use BareUnit::{Feet, Inches, Metres, Millimetres};
    let cases = [
        ("12.54", Feet, 3.822_192),
        ("12.54 ft", Metres, 3.822_192),
        ("12.54'", Metres, 3.822_192),
        ("12", Feet, 3.6576),
        ("12'", Metres, 3.6576),
        ("12 1/2'", Metres, 3.81),
        ("14", Inches, 0.3556),
        ("14 1/2", Inches, 0.3683),
        ("5 2", Inches, 1.5748),
        ("3.81", Metres, 3.81),
        ("3.81 m", Feet, 3.81),
        ("381 cm", Feet, 3.81),
        ("3810 mm", Feet, 3.81),
        ("3810", Millimetres, 3.81),
        (".5'", Feet, 0.1524),
        ("1/2\"", Feet, 0.0127),
        ("½\"", Feet, 0.0127),
        ("12' 1/2\"", Feet, 3.6703),
        ("12-0-1/2", Feet, 3.6703),
        ("0", Feet, 0.0),
        ("0' 0\"", Feet, 0.0),
        ("-4' 6\"", Feet, -1.3716),
        ("−4' 6\"", Feet, -1.3716),
        ("- 4.5", Feet, -1.3716),
        ("-1.5 m", Feet, -1.5),
    ];
    for (text, bare, expected) in cases {
        assert_eq!(metres(text, bare).to_bits(), f64::to_bits(expected), "{text}");
    }
    assert!(metres("-0", Feet).is_sign_positive(), "minus nothing is nothing");
}

/// What is impossible or could be two things is refused with a suggestion.
#[test]
fn refusals_say_what_could_be_meant() {
    let cases = [
        ("12' 14\"", "13' 2\""),
        ("12' 12\"", "13' 0\""),
        ("12 14 1/2", "13' 2 1/2\""),
        ("6 13/12\"", "6 13/16"),
        ("12' 6 5/4\"", "6 5/8"),
        ("12' 6 1/0", "1/16"),
        ("12' 6 3/7\"", "3/8"),
        ("1.2.5", "1.25"),
        ("12.5' 6\"", "12.5 ft"),
        ("12 1/2", "12' 6\""),
        ("12-1/2", "12' 6\""),
        ("1/2", "1/2\""),
        ("6.5 1/2\"", "6 1/2"),
        ("1,234", "1.234 or 1234"),
        ("3 1/2 m", "3.81 m"),
        ("12 6 3", "12' 6 1/2\""),
        ("6\" 12'", "feet before inches"),
        ("12' 3.81 m", "mixes units"),
        ("12' 6\" or so", "\"or\""),
        ("about 12", "\"about\""),
        ("12 yd", "\"yd\""),
        ("12' 6\" 3", "12' 6 1/2\""),
        ("12--6", "\"-\""),
        ("12-", "\"-\""),
        ("12' +6\"", "\"+\""),
        ("/2", "\"/\""),
        ("1/2/3", "\"/\""),
        ("ft", "no number"),
        ("'", "no number"),
        ("-", "no number"),
        ("", "no number"),
        ("   ", "no number"),
        (".", "\".\""),
        ("12 km", "\"km\""),
        ("99999 ft", "decimal point"),
        ("123456789012 mm", "digits"),
        ("NaN", "\"nan\""),
        ("1e5", "\"e\""),
        ("12°", "\"°\""),
    ];
    for (text, expected) in cases {
        let sentence = refusal(text);
        assert!(sentence.to_lowercase().contains(&expected.to_lowercase()), "{text}: {sentence}");
    }
    let metric = read_length("12 6", BareUnit::Metres).unwrap_err().to_string();
    assert!(metric.contains("12.6 m") && metric.contains("12' 6\""), "{metric}");
}

/// Every sixteenth of an inch up to 400 ft: the double nearest to its true metres, and back to the
/// same words. A sixteenth of an inch is 0.0015875 m.
#[test]
fn every_sixteenth_round_trips() {
    for sixteenths in 0..=400 * 12 * 16_i64 {
        let (feet, rest) = (sixteenths / 192, sixteenths % 192);
        let (inches, over) = (rest / 16, rest % 16);
        let expected = ten_millionths(sixteenths * 15_875);
        let ways = [
            format!("{feet}' {inches} {over}/16\""),
            format!("{feet}-{inches}-{over}/16"),
            format!("{}\"", f64::from(i32::try_from(sixteenths).unwrap()) / 16.0),
        ];
        for way in &ways {
            assert_eq!(metres(way, BareUnit::Feet).to_bits(), expected.to_bits(), "{way}");
        }
        let written = format_length(Length::from_metres(expected), LengthStyle::SIXTEENTHS);
        assert_eq!(metres(&written, BareUnit::Metres).to_bits(), expected.to_bits(), "{written}");
        let behind = format_length(Length::from_metres(-expected), LengthStyle::SIXTEENTHS);
        assert_eq!(metres(&behind, BareUnit::Metres), -expected, "{behind}");
    }
}

#[test]
fn feet_and_inches_are_written_as_people_write_them() {
    let cases = [
        (0.0, "0\""),
        (-0.0, "0\""),
        (0.01, "0\""),
        (-0.01, "0\""),
        (0.5, "1/2\""),
        (6.0, "6\""),
        (-6.25, "-6 1/4\""),
        (12.0, "1' 0\""),
        (12.5, "1' 0 1/2\""),
        (11.99, "1' 0\""),
        (143.97, "12' 0\""),
        (150.5, "12' 6 1/2\""),
        (150.8125, "12' 6 13/16\""),
        (f64::NAN, "?"),
        (f64::INFINITY, "?"),
    ];
    for (inches, expected) in cases {
        assert_eq!(format_length(Length::from_inches(inches), LengthStyle::SIXTEENTHS), expected);
    }
    let whole = LengthStyle::FeetInches { finest: 1 };
    assert_eq!(format_length(Length::from_inches(11.6), whole), "1' 0\"");
    let half = LengthStyle::FeetInches { finest: 2 };
    assert_eq!(format_length(Length::from_inches(11.6), half), "11 1/2\"");
}

#[test]
fn other_quantities() {
    let length = Length::from_metres(-0.0004);
    assert_eq!(format_length(length, UnitSystem::Metres.into()), "0.000 m");
    assert_eq!(format_length(length, UnitSystem::DecimalFeet.into()), "0.00 ft");
    // 1 sq ft = 0.09290304 m² exactly (0.3048²).
    assert_eq!(format_area(Area::from_square_metres(92.903_04), UnitSystem::FeetInches), "1000 sq ft");
    assert_eq!(format_area(Area::from_square_metres(92.903_04), UnitSystem::Metres), "92.9 m²");
    assert_eq!(format_angle(Angle::from_degrees(-82.44), 1), "-82.4°");
    for (degrees, expected) in [(348.0, "348.0°"), (-12.0, "348.0°"), (359.96, "0.0°"), (720.0, "0.0°")] {
        assert_eq!(format_bearing(Angle::from_degrees(degrees), 1), expected);
    }
}

proptest! {
    #[test]
    fn no_text_panics(text in "\\PC{0,24}") {
        for bare in [BareUnit::Feet, BareUnit::Inches, BareUnit::Metres, BareUnit::Millimetres] {
            if let Ok(length) = read_length(&text, bare) {
                prop_assert!(length.is_finite());
            }
        }
    }

    #[test]
    fn no_text_of_lengths_panics(text in "[0-9]{0,12}[-' .,/\"½′″−ftincm]{0,3}[0-9]{0,12}[-' .,/\"½ftincm]{0,3}[0-9/]{0,30}[\"m]?") {
        for bare in [BareUnit::Feet, BareUnit::Metres] {
            match read_length(&text, bare) {
                Ok(length) => prop_assert!(length.is_finite()),
                Err(error) => prop_assert!(!error.to_string().is_empty()),
            }
        }
    }

    /// A double in metres, written out shortest by the standard library, is read to the same bits.
    #[test]
    fn metres_written_by_a_program_come_back(value in -9999.0..9999.0_f64) {
        let back = metres(&format!("{value} m"), BareUnit::Feet);
        prop_assert_eq!(back, value);
    }
}

/// Degrees, minutes and seconds are sixtieths; quadrants as in the traverses of surveying textbooks (S 68°05'35" W
/// is 248.093055…°, J. Mahun, Open Access Surveying Library, "Traverse computations").
#[test]
fn angles_are_read_as_people_write_them() {
    let degrees = |text: &str| read_angle(text).unwrap_or_else(|e| panic!("{text}: {e}")).degrees();
    for text in
        ["84.5", "84.5°", " 84° 30' ", "84-30", "84-30-00", "84° 30′ 00″", "84 deg 30 min", "84d30m", "84,5"]
    {
        assert!((degrees(text) - 84.5).abs() < 1e-12, "{text}");
    }
    let bearing = |text: &str| read_bearing(text).unwrap_or_else(|e| panic!("{text}: {e}")).degrees();
    for text in ["S 68° 05' 35\" W", "s68-05-35w", "248-05-35"] {
        assert!((bearing(text) - 248.093_055_555_555_56).abs() < 1e-9, "{text}");
    }
    for (text, want) in
        [("N 45 E", 45.0), ("S45E", 135.0), ("S 0 W", 180.0), ("N 90 W", 270.0), ("360", 360.0)]
    {
        assert!((bearing(text) - want).abs() < 1e-12, "{text}");
    }
    for text in [
        "", "°", "N", "NE", "N 91 E", "N 20", "20 E", "361", "-5", "12' 6\"x", "84-60", "84.5-30", "1-2-3-4",
        "é", "Né", "1e3", "nan",
    ] {
        assert!(read_bearing(text).is_err(), "{text}");
    }
}

/// By hand. 4.125 lies on a half exactly, 98.625 after its way through metres only nearly: both go up, as one rounds on
/// paper.
#[test]
fn heights_are_rounded_half_up() {
    use swingtie_core::units::format::half_up;
    for (feet, written) in
        [(4.125, "4.13"), (98.625, "98.63"), (98.6249, "98.62"), (-0.125, "-0.13"), (-0.001, "0.00")]
    {
        assert_eq!(half_up(Length::from_feet(feet).feet(), 2), written);
        assert_eq!(
            swingtie_core::units::format_height(Length::from_feet(feet), UnitSystem::FeetInches),
            written
        );
    }
}
