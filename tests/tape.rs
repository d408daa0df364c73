//! Tape corrections and girths against published examples.
//!
//! "Slides" is a published set of lecture slides, "Taping Corrections" (slideplayer 13085605); its printed
//! results are rounded to the hundredth, the further digits are computed from its inputs. "Mahun" is J. Mahun,
//! Open Access Surveying Library (jerrymahun.com), "Taping", chapter E, section 4: inputs as printed there, the
//! results computed from them with numpy.

use swingtie_core::record::{How, Slope, Tape, TapedTo, diameter_of};
use swingtie_core::units::tape::{self, Celsius, Newtons, STEEL_ELASTICITY, STEEL_EXPANSION};
use swingtie_core::units::{Angle, Length};

const POUND: f64 = 0.453_592_37 * 9.806_65;
const FOOT: f64 = 0.3048;

fn feet(feet: f64) -> Length {
    Length::from_feet(feet)
}

fn close(what: &str, got: Length, want_feet: f64) {
    assert!((got.feet() - want_feet).abs() < 2e-9, "{what}: {} ft, not {want_feet} ft", got.feet());
}

/// A tape of so many pounds in so many feet.
fn weight(pounds: f64, of_feet: f64) -> Option<f64> {
    Some(pounds * POUND / (of_feet * FOOT))
}

/// Slides: the tape is really 100.02 ft, 500.00 measured is 500.10; to lay out 500 it must read 499.90.
#[test]
fn standard_length() {
    let long = Tape { marked: Some(feet(100.0)), true_length: Some(feet(100.02)), ..Tape::default() };
    close("measured", feet(500.0) + long.correction(feet(500.0)), 500.10);
    let set = feet(499.900_019_996_001);
    close("laid out", set + long.correction(set), 500.0);
}

/// Slides: 368.50 ft at 22 °F, 6.5e-6 in a degree Fahrenheit: −0.11 (−0.1101815). Own: 100 ft at 98 °F with
/// 6.45e-6, the usual American figure (from memory): +0.01935.
#[test]
fn temperature() {
    let at = |fahrenheit, per_fahrenheit: f64, read: f64| {
        let how = Tape {
            temperature: Some(Celsius::from_fahrenheit(fahrenheit)),
            expansion: Some(per_fahrenheit * 1.8),
            ..Tape::default()
        };
        how.correction(feet(read))
    };
    close("cold", at(22.0, 6.5e-6, 368.50), -0.110_181_5);
    close("warm", at(98.0, 6.45e-6, 100.0), 0.019_35);
    // The figure used when none is said is the same steel, to the third digit (6.45e-6 × 1.8).
    assert!((STEEL_EXPANSION / 1.8 - 6.45e-6).abs() < 0.01e-6);
}

/// Slides: 2.8 lb in 100 ft, 348.75 ft hung by the ends in spans of 100 ft: −0.71 at 12 lb, −0.31 at 18 lb;
/// in spans of 50 ft −0.20 at 12 lb.
#[test]
fn sag() {
    let hung = |span, pounds| {
        let weight = weight(2.8, 100.0);
        let (span, pull) = (Some(feet(span)), Some(Newtons::from_pounds(pounds)));
        Tape { weight, span, pull, ..Tape::default() }.correction(feet(348.75))
    };
    close("12 lb", hung(100.0, 12.0), -0.706_838_026);
    close("18 lb", hung(100.0, 18.0), -0.314_150_234);
    close("short spans", hung(50.0, 12.0), -0.196_421_360);
}

/// Slides: 18 lb instead of 12 on 0.015 sq in of steel, 29e6 psi, 100 ft: 0.0014 (0.001379310).
#[test]
fn pull() {
    let square_inch = 0.0254 * 0.0254;
    let (hard, usual) = (Newtons::from_pounds(18.0), Newtons::from_pounds(12.0));
    let pulled = tape::pull(feet(100.0), hard, usual, 0.015 * square_inch, STEEL_ELASTICITY);
    close("pull", pulled, 0.001_379_310_345);
}

/// Slides: 300.00 ft at 5° lies over 298.86 (298.858409428) and rises 26.15 (26.146722824); by that rise the
/// correction is 1.14 (1.141877306 for 26.15 exactly). Own: 2.5 ft in 100: 0.031254884; versines of 100 ft.
#[test]
fn slope() {
    let by_angle = |read, degrees| tape::level_by_angle(feet(read), Angle::from_degrees(degrees)).unwrap();
    let by_rise = |read, rise| tape::level_by_rise(feet(read), feet(rise)).unwrap();
    close("5°", by_angle(300.0, 5.0), 298.858_409_428);
    close("rise", feet(300.0) - by_rise(300.0, 26.15), 1.141_877_306);
    close("little rise", feet(100.0) - by_rise(100.0, 2.5), 0.031_254_884);
    close("as by angle", by_rise(300.0, 26.146_722_824), 298.858_409_428);
    for (degrees, versine) in
        [(1.0, 0.015_230_484), (2.0, 0.060_917_298), (3.0, 0.137_046_525), (10.0, 1.519_224_699)]
    {
        close("versine", feet(100.0) - by_angle(100.0, degrees), versine);
    }
    assert_eq!(tape::level_by_rise(feet(10.0), feet(10.0)), None);
    assert_eq!(tape::level_by_angle(feet(10.0), Angle::RIGHT), None);
}

/// Mahun: a tape of 100.004 ft at 70 °F and 23 lb, 2.2 lb in 102 ft of ribbon, 0.004 sq in; 436.48 ft read at
/// 50 °F and 15 lb, 200 ft of it on the ground, the rest hung by the ends in spans of 100, 100 and 36.48 ft.
#[test]
fn all_at_once() {
    let square_inch = 0.0254 * 0.0254;
    let tape = Tape {
        marked: Some(feet(100.0)),
        true_length: Some(feet(100.004)),
        temperature: Some(Celsius::from_fahrenheit(50.0)),
        standard_temperature: Some(Celsius::from_fahrenheit(70.0)),
        expansion: Some(6.5e-6 * 1.8),
        pull: Some(Newtons::from_pounds(15.0)),
        standard_pull: Some(Newtons::from_pounds(23.0)),
        section: Some(0.004 * square_inch),
        elasticity: None,
        weight: weight(2.2, 102.0),
        span: Some(feet(100.0)),
        supported: Some(feet(200.0)),
    };
    let read = feet(436.48);
    close("length", tape.standard_length(read).unwrap(), 0.017_459_2);
    close("temperature", tape.warmth(read).unwrap(), -0.056_742_4);
    close("pull", tape.stretch(read).unwrap(), -0.030_102_069_0);
    close("sag", tape.sag(read).unwrap(), -(2.0 * 0.086_149_201_9 + 0.004_182_305_4));
    let how = How { tape: Some(Box::new(tape)), ..How::default() };
    close("all", how.level(read, read).unwrap(), 436.234_134_022);
}

/// Shorter readings of one measurement lie on the same even slope; a tape's correction comes before it.
#[test]
fn a_run_on_a_slope_is_reduced_evenly() {
    let how = How { slope: Some(Slope::RiseMetres(feet(2.5))), ..How::default() };
    let level = how.level(feet(40.0), feet(100.0)).unwrap();
    close("share", level, 40.0 * (1.0 - 0.000_312_548_84));
    assert_eq!(how.level(feet(1.0), feet(2.0)), None, "a tape of 2 ft rises no 2.5 ft");
}

/// What cannot be adds nothing: no pull, no length, no number.
#[test]
fn figures_that_cannot_be_add_nothing() {
    let tape = Tape {
        marked: Some(Length::ZERO),
        true_length: Some(feet(3.0)),
        weight: Some(0.3),
        pull: Some(Newtons(0.0)),
        temperature: Some(Celsius(f64::NAN)),
        ..Tape::default()
    };
    assert_eq!(tape.correction(feet(50.0)), Length::ZERO);
}

/// 47.1, 62.8 and 75 in round are 14.992396, 19.989861 and 23.873241 in through (over π, computed with numpy).
#[test]
fn girth() {
    for (round, through) in [(47.1, 14.992_396), (62.8, 19.989_861), (75.0, 23.873_241)] {
        let diameter = diameter_of(Length::from_inches(round));
        assert!((diameter.inches() - through).abs() < 1e-6);
        let read = Length::from_inches(100.0);
        let near = TapedTo::NearSide.to_middle(read, diameter).inches();
        let far = TapedTo::FarSide.to_middle(read, diameter).inches();
        assert!((near - 100.0 - 0.5 * through).abs() < 1e-6 && (far - 100.0 + 0.5 * through).abs() < 1e-6);
        assert_eq!(TapedTo::Middle.to_middle(read, diameter), read);
    }
}
