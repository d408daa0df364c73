use super::*;

const PAD: [(char, Key); 7] = [
    ('f', Key::Feet),
    ('i', Key::Inches),
    ('.', Key::Point),
    ('-', Key::Sign),
    ('m', Key::Metres),
    ('c', Key::Centimetres),
    ('k', Key::Millimetres),
];

/// Digits as they are, `f` feet, `i` inches, `h` a half, `q` a quarter, `s` five sixteenths.
fn typed(units: UnitSystem, keys: &str) -> Typed {
    let mut typed = Typed::new(units);
    for c in keys.chars() {
        let key = match c {
            'h' => Key::Sixteenths(8),
            'q' => Key::Sixteenths(4),
            's' => Key::Sixteenths(5),
            c => PAD
                .iter()
                .find(|(name, _)| *name == c)
                .map_or_else(|| Key::Digit(c.to_digit(10).unwrap() as u8), |(_, key)| *key),
        };
        typed.press(key).unwrap();
    }
    typed
}

// Expected metres: the foot is 0.3048 m and the inch 0.0254 m exactly (international agreement of 1959).
#[test]
fn a_number_takes_no_more_taps_than_it_has_parts() {
    for (keys, text, inches) in [
        ("12f6h", "12' 6 1/2\"", 150.5),
        ("26f", "26'", 312.0),
        ("42f7h", "42' 7 1/2\"", 511.5),
        ("150h", "150 1/2\"", 150.5),
        ("9i", "9\"", 9.0),
        ("3f0s", "3' 0 5/16\"", 36.3125),
        ("12fq", "12' 1/4\"", 144.25),
        ("q", "1/4\"", 0.25),
        ("6ih", "6 1/2\"", 6.5),
        ("12f6.5", "12' 6.5\"", 150.5),
        ("12.5f", "12.5 ft", 150.0),
    ] {
        let reading = typed(UnitSystem::FeetInches, keys).reading().unwrap();
        assert_eq!(reading.text, text);
        assert!((reading.value.metres() - inches * 0.0254).abs() < 1e-12, "{keys}: {reading:?}");
    }
}

#[test]
fn metric_and_decimal_feet() {
    for (units, keys, text, metres) in [
        (UnitSystem::Metres, "3.81", "3.81 m", 3.81),
        (UnitSystem::Metres, "381c", "381 cm", 3.81),
        (UnitSystem::Metres, "3810k", "3810 mm", 3.81),
        (UnitSystem::DecimalFeet, "12.54", "12.54 ft", 3.822_192),
        (UnitSystem::DecimalFeet, "12.54f", "12.54 ft", 3.822_192),
    ] {
        let reading = typed(units, keys).reading().unwrap();
        assert_eq!(reading.text, text);
        assert!((reading.value.metres() - metres).abs() < 1e-9);
    }
}

#[test]
fn a_bare_number_on_a_feet_pad_is_not_guessed() {
    let bare = typed(UnitSystem::FeetInches, "42");
    assert_eq!(bare.doubt(), Some(Doubt::NeedsUnit));
    assert_eq!(bare.reading(), None);
}

#[test]
fn fourteen_inches_beside_feet_are_questioned() {
    let Some(Doubt::OverAFoot(better)) = typed(UnitSystem::FeetInches, "12f14h").doubt() else {
        panic!("not questioned")
    };
    assert_eq!(better.text(), "13' 2 1/2\"");
    assert_eq!(better.doubt(), None);
    // Inches alone may be as many as they like: tapes are marked so.
    assert_eq!(typed(UnitSystem::FeetInches, "150i").doubt(), None);
}

#[test]
fn a_station_may_lie_behind_the_zero() {
    let behind = typed(UnitSystem::FeetInches, "3f6-");
    let reading = behind.reading().unwrap();
    assert_eq!(reading.text, "-3' 6\"");
    assert!((reading.value.feet() + 3.5).abs() < 1e-12);
}

#[test]
fn keys_that_make_no_sense_change_nothing() {
    let mut pad = typed(UnitSystem::FeetInches, "12f6h");
    let before = pad.clone();
    for key in [Key::Feet, Key::Digit(3), Key::Point] {
        assert!(pad.press(key).is_err());
        assert_eq!(pad, before);
    }
    pad.press(Key::Sixteenths(12)).unwrap();
    assert_eq!(pad.text(), "12' 6 3/4\"");
    pad.delete();
    assert_eq!(pad.text(), "12' 6\"");
    pad.delete();
    pad.delete();
    pad.delete();
    assert_eq!(pad.text(), "1");
}

#[test]
fn a_reading_of_the_book_comes_back_on_the_pad() {
    for (units, keys) in [
        (UnitSystem::FeetInches, "12f6h"),
        (UnitSystem::FeetInches, "12fq"),
        (UnitSystem::FeetInches, "26f"),
        (UnitSystem::FeetInches, "9i"),
        (UnitSystem::FeetInches, "12.5f"),
        (UnitSystem::FeetInches, "3f0s-"),
        (UnitSystem::Metres, "381c"),
        (UnitSystem::DecimalFeet, "12.54"),
    ] {
        let reading = typed(units, keys).reading().unwrap();
        assert_eq!(Typed::from_reading(&reading, units).reading(), Some(reading), "{keys}");
    }
    let metric = typed(UnitSystem::Metres, "3.81").reading().unwrap();
    assert!(Typed::from_reading(&metric, UnitSystem::FeetInches).is_empty(), "typed anew in feet");
}

#[test]
fn longer_than_any_tape_is_questioned_but_can_be_kept() {
    let long = typed(UnitSystem::FeetInches, "426f");
    assert_eq!(long.doubt(), Some(Doubt::Long));
    assert!(long.reading().is_some());
}

#[test]
fn read_back_as_people_say_it() {
    for (units, keys, words) in [
        (UnitSystem::FeetInches, "42f7h", "42 feet 7 and a half"),
        (UnitSystem::FeetInches, "1f", "1 foot"),
        (UnitSystem::FeetInches, "9i", "9 inches"),
        (UnitSystem::FeetInches, "12fq", "12 feet and a quarter inch"),
        (UnitSystem::FeetInches, "3f0s", "3 feet 0 and five sixteenths"),
        (UnitSystem::DecimalFeet, "12.54", "12.54 feet"),
        (UnitSystem::Metres, "3.81", "3.81 metres"),
        (UnitSystem::FeetInches, "3f6-", "minus 3 feet 6"),
    ] {
        assert_eq!(typed(units, keys).spoken(), words);
    }
}

/// By hand: 5 feet 9 inches are 69 inches.
#[test]
fn a_figure_after_whole_feet_begins_inches_on_a_pad_of_tenths_too() {
    let reading = typed(UnitSystem::DecimalFeet, "5f9").reading().unwrap();
    assert_eq!(reading.text, "5' 9\"");
    assert!((reading.value.inches() - 69.0).abs() < 1e-9);
    let mut tenths = typed(UnitSystem::DecimalFeet, "5.6f");
    assert!(tenths.press(Key::Digit(9)).is_err());
    assert_eq!(tenths.text(), "5.6 ft");
}
